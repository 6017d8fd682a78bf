//! The profile of a workshop, `strapwright.toml`: how prints are made, unless a flag says
//! otherwise. Of two files the nearer one wins, key by key. The keys outside any table are
//! [`WORKSHOP_KEYS`](crate::job::WORKSHOP_KEYS), each named as the flag that wins over it.

mod orders;
pub(crate) mod rule;

pub use rule::RULES;

use crate::batch::ColumnRules;
use crate::diagnostic::{Finding, Sources, Span, Spanned, cap_findings};
use crate::input::{self, Entry, Format, Node, Reader, Rules, Section, Table, Value};
use crate::job::find_in_entry;
use crate::paginate::Paper;
use crate::words::{Language, Units, Wording};

/// How a profile differs from other TOML files.
static FORMAT: Format = Format {
    name: "profile",
    rules: Rules {
        syntax: rule::PROFILE_SYNTAX,
        size: rule::PROFILE_SYNTAX,
        unknown_key: rule::PROFILE_KEY,
        missing_key: rule::PROFILE_KEY,
        bad_value: rule::PROFILE_VALUE,
        bad_length: rule::PROFILE_VALUE,
    },
    known_key: None,
    syntax_remedy: "texts and lengths stand in double quotes: paper = \"a4\"",
    size_remedy: "give the text of a profile: short lines of keys and values",
    add_to: " to the profile",
};

/// What a workshop sets once. Spans are in [`sources`](Self::sources).
#[derive(Clone, Debug, Default)]
pub struct Profile {
    /// The files, the nearest first.
    pub sources: Sources,
    /// All mistakes.
    pub findings: Vec<Finding>,
    /// The paper.
    pub paper: Option<Spanned<Paper>>,
    /// Which units come first.
    pub units: Option<Spanned<Units>>,
    /// The language on paper.
    pub language: Option<Spanned<Language>>,
    /// The path of the printer file, from the folder of the profile that names it.
    pub printer: Option<Spanned<String>>,
    /// Whether the ticket is printed.
    pub ticket: Option<Spanned<bool>>,
    /// The path of the folder of own templates, likewise.
    pub templates: Option<Spanned<String>>,
    /// The hardware and the leather that it names.
    pub things: Vec<Thing>,
    /// What the columns of orders mean, all from one file.
    pub orders: ColumnRules,
    /// What is wrong with its things: a mistake in what a job does not use is not in its way.
    pub flaws: Vec<Finding>,
}

/// Hardware or leather of the workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thing {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub span: Span,
    /// The word for the kind of hardware; `None` for leather.
    pub hardware: Option<String>,
    /// What is told to the workshop of it, and never printed.
    pub note: String,
    /// Its measures: keys, with the values as they stand there.
    pub measures: Vec<(String, String)>,
}

impl Thing {
    /// Its measures in words: `bar 4.5 mm, reach 29.5 mm`.
    pub fn measures(&self) -> String {
        let words = self.measures.iter().map(|(key, value)| format!("{key} {value}"));
        words.collect::<Vec<_>>().join(", ")
    }
}

/// The tables of things. What they mean is the language of jobs.
const SORTS: [&str; 2] = ["hardware", "leather"];

impl Profile {
    /// Reads profiles by their names and texts, the nearest first. Collects all mistakes.
    pub fn read<'t>(texts: impl IntoIterator<Item = (&'t str, &'t str)>) -> Self {
        let mut profile = Self::default();
        for (name, text) in texts {
            profile.add(name, text);
        }
        cap_findings(rule::PROFILE_SYNTAX, &mut profile.findings);
        profile
    }

    /// The name of the file in which a value stands, and its line.
    pub fn place(&self, span: &Span) -> Option<(&str, usize)> {
        let (line, _) = self.sources.line_column(span)?;
        Some((self.sources.get(span.source)?.name.as_str(), line))
    }

    /// The units and the language, where nothing else says so.
    pub fn wording(&self) -> Wording {
        let language = self.language.as_ref().map(|given| given.value);
        let units = self.units.as_ref().map(|given| given.value);
        let (language, units) = (language.unwrap_or_default(), units.unwrap_or_default());
        Wording { language, units }
    }

    /// Whether the ticket is printed, where nothing else says so.
    pub fn has_ticket(&self) -> bool {
        self.ticket.as_ref().is_none_or(|given| given.value)
    }

    /// Adds a profile below those that are there.
    fn add(&mut self, name: &str, text: &str) {
        let source = self.sources.add(name, text);
        let mut root = input::parse(&FORMAT, &self.sources, source, &mut self.findings);
        root.entries.retain(|entry| match &entry.node {
            Node::Table(sort) if SORTS.contains(&entry.key.as_str()) => {
                self.add_things(&entry.key, sort);
                false
            }
            _ => true,
        });
        let reader = Reader::new(&root, &FORMAT, ());
        let top = reader.top();
        for sort in SORTS {
            reader.ask("", sort);
        }
        let languages = Language::ALL.map(|language| (language.code(), language));
        let path = |key: &str| {
            top.value_if(key, "a path in quotes", |value| {
                value.text().filter(|path| !path.is_empty()).map(ToOwned::to_owned)
            })
        };
        keep(&mut self.paper, paper(&top));
        keep(&mut self.units, top.choice_if("units", &Units::NAMES));
        keep(&mut self.language, top.choice_if("language", &languages));
        keep(&mut self.printer, path("printer"));
        keep(&mut self.ticket, top.value_if("ticket", "true or false", Value::truth));
        keep(&mut self.templates, path("templates"));
        if let Some(orders) = top.section("orders") {
            let rules = orders::read(&orders);
            if self.orders == ColumnRules::default() {
                self.orders = rules;
            }
        }
        self.findings.extend(reader.finish());
    }

    fn add_things(&mut self, sort: &str, all: &Table) {
        let mut own: Vec<&str> = Vec::new();
        for Entry { key, key_span, node } in &all.entries {
            let flaw = |what: String, found: &str, required: &str| {
                Finding::error(rule::PROFILE_VALUE, what)
                    .at(Some(key_span.clone()))
                    .expected(found, required)
            };
            let Node::Table(table) = node else {
                let what = format!("`{sort}.{key}` is not a table");
                self.flaws.push(flaw(what, "a value", "a table of measures").remedy(
                    format!("head it [{sort}.{key}], and give its measures below"),
                ));
                continue;
            };
            if let Some(twin) = own.iter().find(|name| alike(name) == alike(key)) {
                let what = format!("`{key}` and `{twin}` are too much alike");
                let found = "names that differ by case, blanks or hyphens";
                self.flaws.push(
                    flaw(what, found, "clear names").remedy("rename one of the two"),
                );
            }
            own.push(key);
            self.flaws.extend(find_in_entry(sort, key, table, key_span));
            let word = |key: &str| table.leaf(key).and_then(|l| l.value.word());
            let hardware = word("hardware").map(ToOwned::to_owned);
            let is_measure = |key: &&str| !["hardware", "note"].contains(key);
            let measures =
                table.entries.iter().map(|e| e.key.as_str()).filter(is_measure);
            let measures =
                measures.filter_map(|key| Some((key.to_owned(), word(key)?.to_owned())));
            let thing = Thing {
                name: key.clone(),
                span: key_span.clone(),
                hardware: hardware.filter(|_| sort == "hardware"),
                note: word("note").unwrap_or_default().to_owned(),
                measures: measures.collect(),
            };
            let is_there = self.things.iter().any(|other| {
                other.name == thing.name
                    && other.hardware.is_some() == thing.hardware.is_some()
            });
            if !is_there {
                self.things.push(thing);
            }
        }
    }
}

/// Keeps the value of the nearest file that has one.
fn keep<T>(own: &mut Option<T>, below: Option<T>) {
    *own = own.take().or(below);
}

/// A name as careless people write it.
fn alike(name: &str) -> String {
    name.to_lowercase().replace([' ', '-', '_'], "")
}

fn paper(top: &Section<'_, '_>) -> Option<Spanned<Paper>> {
    let leaf = top.leaf("paper")?;
    match Paper::parse(leaf.value.text().unwrap_or_default()) {
        Ok(value) => Some(Spanned { value, span: Some(leaf.span.clone()) }),
        Err(why) => {
            top.reader.find(top.wrong("paper", leaf, "a paper").remedy(why));
            None
        }
    }
}
