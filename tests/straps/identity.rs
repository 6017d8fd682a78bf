//! Names are shown and never tell things apart: whatever pieces, features and input tables
//! are called, the strap, its findings and its sheets stay the same.

use crate::common::cases;
use proptest::prelude::*;
use std::collections::BTreeMap;
use strapwright::diagnostic::{Finding, Severity, Sources, forbids_print};
use strapwright::layout::{Layout, MarkRole};
use strapwright::paginate::{Heading, Item, Paper, Request, SheetSet, paginate};
use strapwright::template::{self, BuiltIn, Missing, TemplateLoader, Text};
use strapwright::ticket::{TicketInput, text, ticket};
use strapwright::words::{Language, Name, Units, Wording};
use strapwright::{Prepared, prepare, prepare_from};
use toml::{Table, Value};

/// The tables that the language itself names.
const SECTIONS: [&str; 8] =
    ["about", "measure", "strap", "buckle", "blank", "strip", "stock", "serves"];

/// Keys whose texts are names of tables, alone or in a list.
const NAMING: [&str; 9] = [
    "on",
    "of",
    "holes",
    "punched",
    "comes-punched",
    "pattern",
    "holds",
    "meets",
    "sets",
];

/// New names by the old ones.
type Renaming = BTreeMap<String, String>;

/// The tables of a template whose names are free.
fn names(template: &Table) -> Vec<String> {
    let tables = template.iter().filter(|(_, value)| value.is_table());
    let names = tables.map(|(name, _)| name.clone());
    names.filter(|name| !SECTIONS.contains(&name.as_str())).collect()
}

/// `table.key` in a sum, a datum or a key of `about`, with the new name of its table.
fn reference(text: &str, new: &Renaming) -> String {
    let word = |word: &str| match word.split_once('.') {
        Some((table, key)) if new.contains_key(table) => format!("{}.{key}", new[table]),
        _ => word.to_owned(),
    };
    text.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

fn renamed_value(key: &str, value: &Value, new: &Renaming) -> Value {
    match value {
        Value::String(text) if NAMING.contains(&key) && new.contains_key(text) => {
            Value::String(new[text].clone())
        }
        Value::String(text) if key != "text" && key != "what" => {
            Value::String(reference(text, new))
        }
        Value::Array(items) => {
            Value::Array(items.iter().map(|item| renamed_value(key, item, new)).collect())
        }
        Value::Table(table) => Value::Table(
            table
                .iter()
                .map(|(key, value)| (reference(key, new), renamed_value(key, value, new)))
                .collect(),
        ),
        other => other.clone(),
    }
}

fn renamed(template: &Table, new: &Renaming) -> String {
    let table = |(name, value): (&String, &Value)| {
        let name = new.get(name).unwrap_or(name).clone();
        let value = match value {
            Value::Table(_) => renamed_value("", value, new),
            other => other.clone(),
        };
        (name, value)
    };
    toml::to_string(&template.iter().map(table).collect::<Table>()).unwrap()
}

/// A template of the user's own.
struct Own(String);

impl TemplateLoader for Own {
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing> {
        if name != "own" {
            return BuiltIn.find(name, by);
        }
        let text = self.0.clone().into();
        Ok(Text { name: name.to_owned(), text, path: Some(name.into()) })
    }

    fn names(&self) -> Vec<String> {
        vec!["own".to_owned()]
    }
}

fn made(text: String, sets: &[String]) -> Prepared {
    prepare_from("job", "template = \"own\"", sets, &Own(text))
}

/// What a finding is about: its rule, how much it weighs, the line that it points at.
fn about(finding: &Finding, sources: &Sources) -> (String, Severity, Option<usize>) {
    let line = finding.span.as_ref().and_then(|span| sources.line_column(span));
    (finding.rule.to_string(), finding.severity, line.map(|(line, _)| line))
}

fn all_about(done: &Prepared) -> Vec<(String, Severity, Option<usize>)> {
    done.findings.iter().map(|f| about(f, &done.sources)).collect()
}

/// A layout without its names and the places in the text that asked for its marks.
fn nameless(layout: &Layout) -> Layout {
    let mut bare = layout.clone();
    bare.features.iter_mut().for_each(|name| *name = Name::default());
    for piece in &mut bare.pieces {
        piece.name = Name::default();
        piece.marks.iter_mut().for_each(|mark| mark.span = None);
        piece.width_changes.iter_mut().for_each(|change| change.span = None);
    }
    bare
}

fn printed(done: &Prepared) -> Option<SheetSet> {
    let (job, fit, layout) = done.laid.as_ref()?;
    let heading = Heading::new(job, fit.as_ref(), layout);
    let paper = Paper::parse("a4").unwrap();
    paginate(&Request::new(layout, &heading, &paper)).ok()
}

/// Values that break rules, so that there are findings to compare.
const SETS: [&[&str]; 5] = [
    &[],
    &["strap.width=7 mm"],
    &["strap.thickness=9 mm"],
    &["strap.k=1", "strap.thickness=6 mm"],
    &["strap.width=130 mm"],
];

fn sets(which: usize) -> Vec<String> {
    SETS[which].iter().map(|set| (*set).to_owned()).collect()
}

fn template() -> impl Strategy<Value = Table> {
    (0..template::REGISTER.len())
        .prop_map(|i| template::REGISTER[i].text.parse().unwrap())
}

/// Names that look like what the program itself writes: labels, copies, kinds, sections with
/// something before or after them, and each other's beginnings.
fn odd_name() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "size", "cap", "post", "end", "tip", "bend", "front", "tab", "keeper", "liner",
        "F1", "P1", "row", "fold", "slot",
    ]);
    let tails = ["", "-1", "-2", "-long", "-2-mirrored", "-mirrored", "-size"];
    (words, prop::sample::select(tails.to_vec()))
        .prop_map(|(word, tail)| format!("{word}{tail}"))
}

/// The names of the tables of the template that one lies over.
fn below(template: &Table) -> Vec<String> {
    let name = template.get("template").and_then(Value::as_str);
    let other = template::REGISTER.iter().find(|other| Some(other.name) == name);
    other.map_or_else(Vec::new, |other| {
        other.text.parse::<Table>().unwrap().into_iter().map(|(name, _)| name).collect()
    })
}

proptest! {
    #![proptest_config(cases(64))]

    /// The names are chosen to be mistaken: `tab` and `tab-1`, `size`, `front-2-mirrored`.
    #[test]
    fn renaming_changes_no_number_and_no_finding(
        template in template(),
        which in 0..SETS.len(),
        odd in prop::collection::vec(odd_name(), 40),
    ) {
        let mut odd = odd.into_iter().enumerate();
        let mut new = Renaming::new();
        let below = below(&template);
        for name in names(&template) {
            let Some((i, mut other)) = odd.next() else { break };
            // A name of the template below would lay one table over the other.
            if new.values().chain(&below).any(|taken| *taken == other) {
                other = format!("{other}-{i}");
            }
            new.insert(name, other);
        }
        let plain = made(toml::to_string(&template).unwrap(), &sets(which));
        let other = made(renamed(&template, &new), &sets(which));
        prop_assert_eq!(all_about(&plain), all_about(&other));
        let laid = |done: &Prepared| done.laid.as_ref().map(|(_, fit, layout)| (*fit, nameless(layout)));
        prop_assert_eq!(laid(&plain), laid(&other));
        let tiles = |set: SheetSet| -> Vec<_> {
            let sheets = set.sheets.into_iter();
            sheets.map(|s| (s.width, s.height, s.tiles)).collect()
        };
        prop_assert_eq!(printed(&plain).map(tiles), printed(&other).map(tiles));
    }
}

/// A name written backwards is as wide as before, so that every word stays where it was.
#[test]
fn renaming_changes_nothing_on_the_sheets_but_the_name() {
    let mut shown = 0;
    for template in template::REGISTER {
        let table: Table = template.text.parse().unwrap();
        let backwards = |name: String| (name.clone(), name.chars().rev().collect());
        let new: Renaming = names(&table).into_iter().map(backwards).collect();
        let plain = made(toml::to_string(&table).unwrap(), &[]);
        let other = made(renamed(&table, &new), &[]);
        let (one, two) = (printed(&plain).unwrap(), printed(&other).unwrap());
        assert_eq!(one.sheets.len(), two.sheets.len(), "{}", template.name);
        let items = |set: &SheetSet| -> Vec<Item> {
            set.sheets.iter().flat_map(|sheet| sheet.items.clone()).collect()
        };
        let (mut old_items, mut new_items) = (items(&one), items(&two));
        let renamed = new_items.iter_mut().map(|item| restored(item, &two, &new));
        shown += renamed.filter(|is_new| *is_new).count();
        for item in &mut old_items {
            _ = restored(item, &one, &Renaming::new());
        }
        assert_eq!(old_items, new_items, "{}", template.name);
    }
    assert!(shown > 20, "{shown} new names stand on the sheets");
}

/// Puts the old names back into a text, and a word in place of the print's own name; whether
/// there was a new name in it.
fn restored(item: &mut Item, print: &SheetSet, new: &Renaming) -> bool {
    let Item::Text { text, .. } = item else { return false };
    *text = text.replace(&print.fingerprint, "NAME");
    // The longest first: a name may be a part of another.
    let mut names: Vec<_> = new.iter().collect();
    names.sort_by_key(|(old, _)| std::cmp::Reverse(old.len()));
    let old =
        names.into_iter().fold(text.clone(), |text, (old, new)| text.replace(new, old));
    let was_renamed = old != *text;
    *text = old;
    was_renamed
}

fn rules(job: &str) -> Vec<(&'static str, Severity)> {
    let done = prepare("job", job, &[]);
    done.findings.iter().map(|f| (f.rule.as_str(), f.severity)).collect()
}

/// A piece whose name begins as another's does is a piece of its own.
#[test]
fn a_piece_is_no_copy_of_what_its_name_begins_with() {
    let job = |name: &str| {
        format!(
            "template = \"braces\"\n[{name}]\nkind = \"piece\"\nlength = \"120 mm\"\n\
             [row-on-it]\nkind = \"row\"\non = \"{name}\"\nfrom = \"{name}.start\"\n\
             by = \"2 mm\"\ncount = 5\npitch = \"6 mm\"\ndiameter = \"5 mm\"\n"
        )
    };
    let found = rules(&job("tab-long"));
    assert!(found.contains(&("hole-to-edge", Severity::Error)), "{found:?}");
    assert!(found.contains(&("web-between-holes", Severity::Error)), "{found:?}");
    assert_eq!(found, rules(&job("longtab")));
}

/// Several linings of one name are held against what they line, as one is.
#[test]
fn every_copy_of_a_lining_is_checked() {
    let job = |name: &str, count: u32| {
        format!(
            "template = \"belt\"\nmeasure.value = \"34 in\"\n[{name}]\nkind = \"lining\"\n\
             of = \"strap\"\ninset = \"17 mm\"\ncount = {count}\n"
        )
    };
    for (name, count) in [("liner", 1), ("liner", 2), ("liner-1", 1), ("liner-1", 2)] {
        let found = rules(&job(name, count));
        let is_found = found.contains(&("lining-edge", Severity::Error));
        assert!(is_found, "{count} {name}: {found:?}");
    }
}

/// Two pieces called `tab-1` and `tab-2` are two pieces, not two of one.
#[test]
fn pieces_with_numbers_in_their_names_stand_apart() {
    let job = "template = \"plain-strap\"\n\
               [tab-1]\nkind = \"piece\"\nlength = \"80 mm\"\nwidth = \"20 mm\"\n\
               [tab-2]\nkind = \"piece\"\nlength = \"120 mm\"\nwidth = \"30 mm\"\n";
    let done = prepare("job", job, &[]);
    let (job, fit, layout) = done.laid.as_ref().unwrap();
    let (fit, wording) = (fit.as_ref(), Wording::default());
    let words = text(&ticket(&TicketInput { job, fit, layout, wording }));
    let row = |name: &str, length: &str, width: &str| {
        let is_row = |line: &&str| line.trim_start().starts_with(name);
        let line = words.lines().find(is_row).unwrap_or_else(|| panic!("{words}"));
        assert!(line.contains(length) && line.contains(width), "{line}");
    };
    row("tab-1", "80.0 mm", "20.0 mm");
    row("tab-2", "120.0 mm", "30.0 mm");
    let names: Vec<String> = layout.copies().iter().map(|c| c.name.to_string()).collect();
    assert_eq!(names, ["strap", "tab-1", "tab-2"]);
}

/// What a user writes is not translated, even if a template uses the same word.
#[test]
fn the_words_of_a_user_stay_as_they_are() {
    let german = Wording { language: Language::German, units: Units::Millimetres };
    let stamped = |lines: &str| {
        let job = format!("template = \"belt\"\nmeasure.value = \"34 in\"\n{lines}");
        let done = prepare("job", &job, &[]);
        assert!(!forbids_print(&done.findings), "{:?}", done.findings);
        let (job, fit, layout) = done.laid.unwrap();
        let heading = Heading::with_wording(&job, fit.as_ref(), &layout, german);
        let paper = Paper::parse("a4").unwrap();
        let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
        let items = set.sheets.into_iter().flat_map(|sheet| sheet.items);
        let texts: Vec<String> = items
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text),
                _ => None,
            })
            .collect();
        texts
    };
    let texts = stamped(
        "[mark]\nkind = \"stamp\"\nfrom = \"turn-back.end-over\"\nby = \"60 mm\"\n\
         length = \"30 mm\"\nwidth = \"20 mm\"\ntext = \"front\"\n",
    );
    assert!(texts.iter().any(|text| text == "front"), "{texts:?}");
    assert!(!texts.iter().any(|text| text.contains("Vorderteil")), "{texts:?}");
    // The piece is named by the template, and so is translated.
    assert!(texts.iter().any(|text| text == "Riemen"), "{texts:?}");
}

/// Marks of two rows on one piece have numbers of their own.
#[test]
fn two_rows_of_fittings_share_no_label() {
    let job = "template = \"belt\"\nmeasure.value = \"34 in\"\nfittings.count = 5\n\
               [more]\nkind = \"spread\"\nfrom = \"fittings.from\"\n"
        .replace("fittings.from", "turn-back.end-over")
        + "by = \"20 mm\"\nto = \"size-holes.first\"\nto-by = \"-60 mm\"\ncount = 5\n\
           diameter = \"3 mm\"\nface = \"8 mm\"\nholes-across = 2\nacross-apart = \"18 mm\"\n";
    let done = prepare("job", &job, &[]);
    let layout = &done.laid.as_ref().unwrap().2;
    let mut owners: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for mark in &layout.strap().unwrap().marks {
        if let MarkRole::Fitting { n, .. } = mark.role {
            owners.entry(n).or_default().push(layout.feature(mark).to_string());
        }
    }
    assert_eq!(owners.keys().copied().collect::<Vec<_>>(), (1..=10).collect::<Vec<_>>());
    for (n, owners) in owners {
        assert!(owners.iter().all(|owner| *owner == owners[0]), "F{n}: {owners:?}");
    }
}
