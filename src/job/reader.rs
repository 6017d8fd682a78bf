//! Typed reading of the laid-over tree. It never stops at a mistake: it keeps the finding
//! and goes on, so that one run shows all of them.

use super::tree::{Entry, Leaf, Node, Table, Value};
use super::{DatumRef, Said};
use crate::diagnostic::{Finding, Place, Severity};
use crate::geom::{Length, Ratio};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// Highest number that a count may have: far more than any strap has holes.
const MOST: u32 = 1_000;

/// Most keys that one length may go through to its number.
const DEEPEST: usize = 32;

/// Longest length that a key may have, 1 km.
const LONGEST: Length = Length::from_mm(1_000_000);

/// Reads the whole tree; hands out readers of its tables.
pub(super) struct Reader<'t> {
    root: &'t Table,
    findings: RefCell<Vec<Finding>>,
    /// The names that were asked for in each table, to name the nearest of them.
    asked: RefCell<BTreeMap<String, BTreeSet<String>>>,
    /// Sums already worked out, `None` where they had a mistake.
    sums: RefCell<BTreeMap<String, Option<Length>>>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(root: &'t Table) -> Self {
        Self {
            root,
            findings: RefCell::default(),
            asked: RefCell::default(),
            sums: RefCell::default(),
        }
    }

    pub(super) fn find(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    fn ask(&self, table: &str, key: &str) {
        let mut asked = self.asked.borrow_mut();
        asked.entry(table.to_owned()).or_default().insert(key.to_owned());
    }

    /// The table of that name, `None` where the job has none.
    pub(super) fn section<'r>(&'r self, name: &'r str) -> Option<Section<'r, 't>> {
        self.ask("", name);
        let table = self.root.table(name)?;
        let place = self.root.get(name).map(|e| e.key_place.clone());
        Some(Section { reader: self, name, table, place })
    }

    /// The keys that stand outside any table.
    pub(super) fn top(&self) -> Section<'_, 't> {
        Section { reader: self, name: "", table: self.root, place: None }
    }

    /// Whether the job has a table of that name with a `kind`: a feature.
    pub(super) fn has_kind(&self, name: &str) -> bool {
        let has = match self.root.get(name).map(|e| &e.node) {
            Some(Node::Table(table)) => table.get("kind").is_some(),
            _ => false,
        };
        if has {
            self.ask("", name);
        }
        has
    }

    /// All findings, unknown keys among them: every key that nobody asked for.
    pub(super) fn finish(self) -> Vec<Finding> {
        let mut findings = self.findings.into_inner();
        let asked = self.asked.into_inner();
        unknown(self.root, "", &asked, &mut findings);
        findings
    }

    /// Works out a sum of lengths and references: `buckle.reach + 3 in`,
    /// `2.5 x strap.width`. `path` are the keys that led here.
    fn sum(&self, text: &str, place: &Place, path: &mut Vec<String>) -> Option<Length> {
        let mut total = Length::ZERO;
        let mut rest = text;
        let mut sign = 1;
        loop {
            let plus = rest.find(" + ").map(|i| (i, 1));
            let minus = rest.find(" - ").map(|i| (i, -1));
            let cut = [plus, minus].into_iter().flatten().min();
            let term = cut.map_or(rest, |(i, _)| &rest[..i]);
            total +=
                self.bounded(self.term(term.trim(), text, place, path)?, place)? * sign;
            let Some((i, next)) = cut else { return self.bounded(total, place) };
            sign = next;
            rest = &rest[i + 3..];
        }
    }

    /// `length`, unless only a slip of the pen can be so long: sums and products of what
    /// is let through stay far inside 64 bits.
    fn bounded(&self, length: Length, place: &Place) -> Option<Length> {
        if length <= LONGEST && length >= -LONGEST {
            return Some(length);
        }
        self.find(
            Finding::new("bad-length", Severity::Error, "no strap has such a length")
                .at(Some(place.clone()))
                .held(length.both(), "at most 1 km")
                .remedy("look at the number and its unit"),
        );
        None
    }

    fn term(
        &self,
        term: &str,
        whole: &str,
        place: &Place,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let error = match Length::parse(term) {
            Ok(length) => return Some(length),
            Err(error) => error,
        };
        let (factor, key) = match term.split_once([' ', '\u{a0}']) {
            Some((n, key)) => match Ratio::parse(n) {
                Some(ratio) => (ratio, key.trim_start_matches(['x', '×']).trim()),
                None => (Ratio::ONE, term),
            },
            None => (Ratio::ONE, term),
        };
        if !is_key(key) {
            let named =
                if whole == term { String::new() } else { format!(" in `{whole}`") };
            let what = error.found();
            self.find(
                Finding::new("bad-length", Severity::Error, format!("{what}{named}"))
                    .at(Some(place.clone()))
                    .held(format!("`{term}`"), "a number with mm, cm, m or in")
                    .remedy(
                        "give the number and its unit in quotes: \"34 in\", \"865 mm\"",
                    ),
            );
            return None;
        }
        Some(factor.of(self.named_length(key, place, path)?))
    }

    /// The length that a dotted key holds.
    fn named_length(
        &self,
        key: &str,
        place: &Place,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        if path.len() > DEEPEST || path.iter().any(|k| k == key) {
            path.push(key.to_owned());
            self.find(
                Finding::new(
                    "reference-cycle",
                    Severity::Error,
                    if path.len() > DEEPEST + 1 {
                        "lengths go through too many keys"
                    } else {
                        "lengths go in a circle"
                    },
                )
                .at(Some(place.clone()))
                .held(path.join(" -> "), "a chain that ends in a number")
                .remedy("give one of these keys a length with a unit"),
            );
            return None;
        }
        if let Some(done) = self.sums.borrow().get(key) {
            return *done;
        }
        let leaf = key.split_once('.').and_then(|(table, name)| {
            let entry = self.root.table(table)?.get(name)?;
            entry.used.set(true);
            match &entry.node {
                Node::Leaf(leaf) => Some(leaf),
                Node::Table(_) => None,
            }
        });
        let Some(leaf) = leaf else {
            let all = self.all_keys();
            self.find(
                Finding::new(
                    "unknown-reference",
                    Severity::Error,
                    format!("no key is called `{key}`"),
                )
                .at(Some(place.clone()))
                .held(format!("`{key}`"), "the dotted name of a length in the job")
                .remedy(nearest(key, all.iter().map(String::as_str))),
            );
            return None;
        };
        path.push(key.to_owned());
        let value = match &leaf.value {
            Value::Text(text) => self.sum(text, &leaf.place, path),
            other => {
                self.wrong(leaf, other, "a length with its unit");
                None
            }
        };
        path.pop();
        self.sums.borrow_mut().insert(key.to_owned(), value);
        value
    }

    /// The leaf that gives a length: where one does nothing but name another key, the line
    /// to look at is that key's.
    fn giver(&self, leaf: &'t Leaf) -> &'t Leaf {
        let mut giver = leaf;
        // A circle is found elsewhere; here it only has to end.
        for _ in 0..8 {
            let Value::Text(text) = &giver.value else { break };
            let named = text.trim().split_once('.').filter(|_| is_key(text.trim()));
            let next =
                named.and_then(|(table, name)| match &self.root.get(table)?.node {
                    Node::Table(table) => table.get(name),
                    Node::Leaf(_) => None,
                });
            let Some(Entry { node: Node::Leaf(next), .. }) = next else { break };
            giver = next;
        }
        giver
    }

    fn all_keys(&self) -> Vec<String> {
        let mut all = Vec::new();
        for entry in &self.root.entries {
            if let Node::Table(table) = &entry.node {
                all.extend(
                    table.entries.iter().map(|e| format!("{}.{}", entry.key, e.key)),
                );
            }
        }
        all
    }

    fn wrong(&self, leaf: &Leaf, value: &Value, required: &str) {
        let (found, remedy) = match value {
            Value::Text(t) => (format!("`{t}`"), format!("write {required}")),
            Value::Number(n) => (
                format!("the bare number {n}"),
                format!("write it in quotes with its unit: \"{n} mm\" or \"{n} in\""),
            ),
            Value::Bool(b) => (b.to_string(), format!("write {required}")),
            Value::List(_) => ("a list".to_owned(), format!("write {required}")),
            Value::Other(kind) => (format!("a TOML {kind}"), format!("write {required}")),
        };
        let is_length = required.starts_with("a length");
        let rule = if is_length { "bad-length" } else { "bad-value" };
        let remedy = if is_length { remedy } else { format!("write {required}") };
        self.find(
            Finding::new(rule, Severity::Error, format!("this is not {required}"))
                .at(Some(leaf.place.clone()))
                .held(found, required)
                .remedy(remedy),
        );
    }
}

/// Whether a word has the form of a dotted key.
fn is_key(word: &str) -> bool {
    word.contains('.')
        && word.starts_with(|c: char| c.is_ascii_alphabetic())
        && word.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_'))
}

/// `did you mean ...` with the nearest of `names`, or the list of them.
pub(crate) fn nearest<'n>(word: &str, names: impl Iterator<Item = &'n str>) -> String {
    let all: Vec<&str> = names.collect();
    let best = all
        .iter()
        .map(|n| (strsim::damerau_levenshtein(word, n), *n))
        .filter(|(d, n)| *d <= n.chars().count().max(3) / 2)
        .min();
    match best {
        Some((_, name)) => format!("did you mean `{name}`?"),
        None if all.is_empty() => "take it out".to_owned(),
        None => format!("choose one of: {}", all.join(", ")),
    }
}

fn unknown(
    table: &Table,
    path: &str,
    asked: &BTreeMap<String, BTreeSet<String>>,
    findings: &mut Vec<Finding>,
) {
    for entry in &table.entries {
        if entry.used.get() {
            if let Node::Table(inner) = &entry.node {
                unknown(inner, &entry.key, asked, findings);
            }
            continue;
        }
        let known = asked.get(path).into_iter().flatten().map(String::as_str);
        let shown = if path.is_empty() {
            entry.key.clone()
        } else {
            format!("{path}.{}", entry.key)
        };
        findings.push(
            Finding::new(
                "unknown-key",
                Severity::Error,
                format!("no key is called `{shown}`"),
            )
            .at(Some(entry.key_place.clone()))
            .held(format!("`{}`", entry.key), "a key of the job language")
            .remedy(nearest(&entry.key, known)),
        );
    }
}

/// Reads the keys of one table.
pub(super) struct Section<'r, 't> {
    reader: &'r Reader<'t>,
    pub(super) name: &'r str,
    table: &'t Table,
    pub(super) place: Option<Place>,
}

impl<'t> Section<'_, 't> {
    fn leaf(&self, key: &str) -> Option<&'t Leaf> {
        self.reader.ask(self.name, key);
        let entry: &Entry = self.table.get(key)?;
        entry.used.set(true);
        match &entry.node {
            Node::Leaf(leaf) => Some(leaf),
            Node::Table(_) => {
                self.reader.find(
                    Finding::new(
                        "bad-value",
                        Severity::Error,
                        format!("`{key}` is a table"),
                    )
                    .at(Some(entry.key_place.clone()))
                    .held("a table", "a single value")
                    .remedy(format!("write {key} = \"...\"")),
                );
                None
            }
        }
    }

    /// Passes over a key: its text is for people.
    pub(super) fn ignore(&self, key: &str) {
        let Some(entry) = self.table.get(key) else { return };
        entry.used.set(true);
        if let Node::Table(inner) = &entry.node {
            inner.entries.iter().for_each(|e| e.used.set(true));
        }
    }

    /// Passes over the whole table, whose kind is not known.
    pub(super) fn ignore_all(&self) {
        self.table.entries.iter().for_each(|e| e.used.set(true));
    }

    /// Says that a key is missing.
    pub(super) fn lacks(&self, key: &str, what: &str) {
        let full = self.full(key);
        self.reader.find(
            Finding::new("missing-key", Severity::Error, format!("`{full}` is missing"))
                .at(self.place.clone())
                .held("nothing", what)
                .remedy(format!("add {full} to the job or to its template")),
        );
    }

    fn full(&self, key: &str) -> String {
        if self.name.is_empty() { key.to_owned() } else { format!("{}.{key}", self.name) }
    }

    /// A length; `None` where there is none, or a wrong one, which is a finding.
    pub(super) fn length_if(&self, key: &str) -> Option<Said<Length>> {
        let leaf = self.leaf(key)?;
        let place = Some(self.reader.giver(leaf).place.clone());
        let value = match &leaf.value {
            Value::Text(_) => {
                let full = self.full(key);
                self.reader.named_length(&full, &leaf.place, &mut Vec::new())?
            }
            other => {
                self.reader.wrong(leaf, other, "a length with its unit");
                return None;
            }
        };
        Some(Said { value, place })
    }

    /// A length that must be there.
    pub(super) fn length(&self, key: &str) -> Said<Length> {
        if self.table.get(key).is_none() {
            self.lacks(key, "a length with its unit");
        }
        self.length_if(key).unwrap_or_default()
    }

    /// A length that must be there and be more than zero.
    pub(super) fn size(&self, key: &str) -> Said<Length> {
        if self.table.get(key).is_none() {
            self.lacks(key, "a length with its unit");
        }
        // A wrong length has its finding already.
        let Some(said) = self.length_if(key) else { return Said::default() };
        if said.value <= Length::ZERO {
            self.reader.find(
                Finding::new(
                    "bad-length",
                    Severity::Error,
                    format!("`{}` must be more than nothing", self.full(key)),
                )
                .at(said.place.clone())
                .held(said.value.both(), "more than 0 mm")
                .remedy("measure it and give a length above zero"),
            );
        }
        said
    }

    /// A length that must be there and may be nothing, but not less.
    pub(super) fn no_less_than_nothing(&self, key: &str) -> Said<Length> {
        let said = self.length(key);
        self.at_least(key, &said, Length::ZERO, "nothing");
        said
    }

    /// Says that a length is less than another that it must not be less than.
    pub(super) fn at_least(
        &self,
        key: &str,
        said: &Said<Length>,
        least: Length,
        what: &str,
    ) {
        if said.place.is_none() || said.value >= least {
            return;
        }
        let full = self.full(key);
        self.reader.find(
            Finding::new(
                "bad-length",
                Severity::Error,
                format!("`{full}` must not be less than {what}"),
            )
            .at(said.place.clone())
            .held(said.value.both(), format!("at least {}", least.both()))
            .remedy(format!("give {full} a larger length")),
        );
    }

    /// A whole number from 0 to 1 000.
    pub(super) fn count(&self, key: &str) -> Said<u32> {
        let Some(leaf) = self.leaf(key) else {
            self.lacks(key, "a whole number");
            return Said::default();
        };
        let digits = match &leaf.value {
            Value::Number(n) | Value::Text(n) => n.trim().replace('_', ""),
            _ => String::new(),
        };
        let number = digits.parse::<u32>().ok().filter(|n| *n <= MOST);
        if number.is_none() {
            let required = format!("a whole number from 0 to {MOST}");
            self.reader.wrong(leaf, &leaf.value, &required);
        }
        Said { value: number.unwrap_or(0), place: Some(leaf.place.clone()) }
    }

    /// A factor such as 0.5.
    pub(super) fn ratio(&self, key: &str) -> Said<Ratio> {
        let Some(leaf) = self.leaf(key) else {
            self.lacks(key, "a number from 0 to 1");
            return Said { value: Ratio::HALF, place: None };
        };
        let read = match &leaf.value {
            Value::Number(n) | Value::Text(n) => Ratio::parse(n),
            _ => None,
        };
        let ratio = read.filter(|r| *r <= Ratio::ONE);
        if ratio.is_none() {
            self.reader.wrong(leaf, &leaf.value, "a number from 0 to 1");
        }
        Said { value: ratio.unwrap_or(Ratio::HALF), place: Some(leaf.place.clone()) }
    }

    /// A text; empty where there is none.
    pub(super) fn text(&self, key: &str) -> Said<String> {
        let Some(leaf) = self.leaf(key) else { return Said::default() };
        let value = match &leaf.value {
            Value::Text(text) => text.clone(),
            Value::Number(n) => n.clone(),
            other => {
                self.reader.wrong(leaf, other, "a text in quotes");
                String::new()
            }
        };
        if value.chars().count() > 200 || value.chars().any(char::is_control) {
            self.reader.wrong(
                leaf,
                &leaf.value,
                "a text on one line of up to 200 letters",
            );
        }
        Said { value, place: Some(leaf.place.clone()) }
    }

    /// One of a few words.
    pub(super) fn choice<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
    ) -> Option<Said<T>> {
        let names = || words.iter().map(|(w, _)| *w);
        let all = || names().collect::<Vec<_>>().join(", ");
        let Some(leaf) = self.leaf(key) else {
            self.lacks(key, &format!("one of: {}", all()));
            return None;
        };
        let word = match &leaf.value {
            Value::Text(word) => word.as_str(),
            other => {
                self.reader.wrong(leaf, other, &format!("one of: {}", all()));
                return None;
            }
        };
        if let Some((_, value)) = words.iter().find(|(w, _)| *w == word) {
            return Some(Said { value: *value, place: Some(leaf.place.clone()) });
        }
        self.reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("`{}` cannot be `{word}`", self.full(key)),
            )
            .at(Some(leaf.place.clone()))
            .held(format!("`{word}`"), format!("one of: {}", all()))
            .remedy(nearest(word, names())),
        );
        None
    }

    /// A list of names: a list, one text, or nothing.
    pub(super) fn names(
        &self,
        key: &str,
        for_true: &[Said<String>],
    ) -> Vec<Said<String>> {
        let Some(leaf) = self.leaf(key) else { return Vec::new() };
        match &leaf.value {
            Value::Bool(false) => Vec::new(),
            Value::Bool(true) => for_true
                .iter()
                .map(|s| Said { value: s.value.clone(), place: Some(leaf.place.clone()) })
                .collect(),
            Value::Text(text) if text.is_empty() => Vec::new(),
            Value::Text(text) => {
                vec![Said { value: text.clone(), place: Some(leaf.place.clone()) }]
            }
            Value::List(all) => all
                .iter()
                .map(|(t, p)| Said { value: t.clone(), place: Some(p.clone()) })
                .collect(),
            other => {
                self.reader.wrong(leaf, other, "a list of feature names");
                Vec::new()
            }
        }
    }

    /// The name of a datum, such as `size-holes.last`.
    pub(super) fn datum(&self, key: &str) -> DatumRef {
        if self.table.get(key).is_none() {
            self.lacks(key, "the name of a datum, such as \"size-holes.last\"");
        }
        let Said { value, place } = self.text(key);
        DatumRef { name: value, place }
    }
}
