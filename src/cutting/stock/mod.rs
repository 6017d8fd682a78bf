//! The list of strips and blanks, read from TOML or CSV.

mod table;

use super::{LONGEST, MOST};
use crate::cutting::rule;
use crate::diagnostic::{Finding, Sources, Span, cap_findings};
use crate::geom::Length;
use crate::input::{
    self, Format, Leaf, Node, Reader, Rules, Section, Table, Value, parse_length,
};

/// A strip to cut pieces from, or a blank for one strap.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Plain, as it came from the hide.
    #[default]
    Strip,
    /// Ready-cut, with its buckle end punched.
    Blank,
    /// A blank with its tip cut too.
    CutBlank,
}

impl Kind {
    /// All there are.
    pub const ALL: [Self; 3] = [Self::Strip, Self::Blank, Self::CutBlank];

    /// The word for it in the list of strips.
    pub fn word(self) -> &'static str {
        match self {
            Self::Strip => "strip",
            Self::Blank => "blank",
            Self::CutBlank => "cut-blank",
        }
    }
}

/// Strips or blanks of one name and size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// What the bench calls it.
    pub name: String,
    /// Strip or blank.
    pub kind: Kind,
    /// Length from end to end.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// How many there are.
    pub count: u32,
    /// Where it stands in the list.
    pub span: Option<Span>,
}

/// A list of strips as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ParsedStock {
    /// The text, for showing findings.
    pub sources: Sources,
    /// What could be read; complete if no finding is an error.
    pub stock: Vec<Stock>,
    /// All mistakes.
    pub findings: Vec<Finding>,
}

/// Longest name of a strip, in letters.
const LONGEST_NAME: usize = 100;

/// The keys of an entry, and the columns of a table.
const KEYS: [&str; 6] = ["name", "length", "width", "thickness", "count", "kind"];

/// How a list of strips in TOML differs from other files.
static STRIPS: Format = Format {
    name: "list of strips",
    rules: Rules {
        syntax: rule::STOCK_SYNTAX,
        size: rule::STOCK_LIMIT,
        unknown_key: rule::STOCK_KEY,
        missing_key: rule::STOCK_KEY,
        bad_value: rule::STOCK_VALUE,
        bad_length: rule::STOCK_VALUE,
    },
    known_key: None,
    syntax_remedy: "head each strip with [[strip]] and write length = \"1.5 m\"",
    size_remedy: "give the file that lists the strips",
    add_to: ": a strip has name = \"natural 38\", length = \"1.5 m\", width = \"38 mm\" and \
             thickness = \"3.5 mm\"",
};

/// Reads a list of strips called `name`. The ending of the name, `.toml` or `.csv`, says
/// which format it has; without one, the first line does. Collects all mistakes.
pub fn read(name: &str, text: &str) -> ParsedStock {
    let mut parsed = ParsedStock::default();
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let source = parsed.sources.add(name, text);
    let is_toml = is_toml(name, text);
    let root = if is_toml {
        input::parse(&STRIPS, &parsed.sources, source, &mut parsed.findings)
    } else {
        table::parse(source, text, &mut parsed.findings)
    };
    let reader = Reader::new(&root, &STRIPS, ());
    let entries = entries(&reader);
    let is_empty = entries.is_empty();
    let mut strips = 0;
    for (heading, entry) in entries {
        let strip = strip(&entry, is_toml.then_some(heading));
        // An entry without strips counts as one, so that the list ends.
        strips += strip.as_ref().map_or(1, |s| s.count.max(1) as usize);
        parsed.stock.extend(strip);
        if strips > MOST {
            reader.find(
                Finding::error(rule::STOCK_LIMIT, "these are too many strips")
                    .at(entry.span)
                    .expected(
                        format!("{strips} up to here"),
                        format!("at most {MOST} in all"),
                    )
                    .remedy("leave out the strips that will not be used"),
            );
            break;
        }
    }
    parsed.findings.extend(reader.finish());
    cap_findings(rule::STOCK_LIMIT, &mut parsed.findings);
    if is_empty && parsed.findings.is_empty() {
        parsed.findings.push(
            Finding::error(rule::STOCK_EMPTY, "the list names no strip")
                .expected("no entry", "at least one strip or blank")
                .remedy(
                    "add a table with the columns name, length, width, thickness, count, \
                     or TOML entries headed [[strip]] or [[blank]]",
                ),
        );
    }
    parsed
}

fn is_toml(name: &str, text: &str) -> bool {
    let ends_in = |end: &str| {
        std::path::Path::new(name)
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case(end))
    };
    let mut lines = text.lines().map(str::trim_start);
    let first = lines.find(|l| !l.is_empty() && !l.starts_with('#')).unwrap_or_default();
    ends_in("toml") || !ends_in("csv") && (first.starts_with('[') || first.contains('='))
}

/// The entries, each with the kind that its heading names.
fn entries<'r, 't>(reader: &'r Reader<'t>) -> Vec<(Kind, Section<'r, 't>)> {
    let mut entries = Vec::new();
    for kind in Kind::ALL {
        reader.ask("", kind.word());
    }
    for entry in &reader.root.entries {
        let Some(kind) = Kind::ALL.into_iter().find(|k| k.word() == entry.key) else {
            continue;
        };
        let mut add = |table: &'t Table, span: &Span| {
            let span = Some(span.clone());
            entries.push((kind, Section { reader, name: kind.word(), table, span }));
        };
        match &entry.node {
            Node::Table(table) => add(table, &entry.key_span),
            Node::Leaf(Leaf { value: Value::Tables(tables), .. }) => {
                for (table, span) in tables {
                    add(table, span);
                }
            }
            Node::Leaf(Leaf { value: Value::List(texts), .. }) if texts.is_empty() => {}
            Node::Leaf(leaf) => {
                let wrong = reader.wrong(kind.word(), leaf, "a table");
                let remedy = format!("head each with [[{}]]", kind.word());
                reader.find(Finding { rule: rule::STOCK_SYNTAX, ..wrong }.remedy(remedy));
            }
        }
    }
    entries
}

/// An entry as stock; `None` when a mistake keeps it from being one.
fn strip(entry: &Section<'_, '_>, heading: Option<Kind>) -> Option<Stock> {
    let kind = match heading {
        Some(kind) => Some(kind),
        None if entry.has("kind") => {
            let kinds = Kind::ALL.map(|kind| (kind.word(), kind));
            entry.choice("kind", &kinds).map(|given| given.value)
        }
        None => Some(Kind::Strip),
    };
    let name = "a short name on one line, of up to 100 letters";
    let name = entry.value("name", name, |value| {
        let name = value.word()?.trim();
        let fits = !name.is_empty()
            && name.chars().count() <= LONGEST_NAME
            && !name.chars().any(char::is_control);
        fits.then(|| name.to_owned())
    });
    let [length, width, thickness] =
        ["length", "width", "thickness"].map(|key| length(entry, key));
    // The cell of a table is a text.
    let number = format!("a whole number from 0 to {MOST}");
    let count = |value: &Value| {
        let number = value.word()?.replace('_', "").parse().ok();
        number.filter(|n| (0..=MOST).contains(&(*n as usize)))
    };
    let count = if entry.has("count") {
        entry.value_if("count", &number, count)?.value
    } else {
        1
    };
    Some(Stock {
        name: name?.value,
        kind: kind?,
        length: length?,
        width: width?,
        thickness: thickness?,
        count,
        span: entry.span.clone(),
    })
}

fn length(entry: &Section<'_, '_>, key: &str) -> Option<Length> {
    let leaf = entry.need(key, &format!("a {key} for each strip"))?;
    let length = leaf.value.text().and_then(|text| parse_length(key, text).ok());
    let length = length.filter(|l| *l > Length::ZERO && *l <= LONGEST);
    if length.is_none() {
        let required = "a length with its unit, above 0 mm and up to 1 km";
        entry.reader.find(entry.reader.wrong_length(
            &entry.full_name(key),
            leaf,
            required,
        ));
    }
    length
}
