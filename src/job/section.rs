//! Typed reading of one table's keys.

use super::reader::{Reader, nearest};
use super::tree::{Entry, Leaf, Node, Table, Value};
use super::{DatumRef, Spanned};
use crate::diagnostic::{Finding, Severity, Span};
use crate::geom::{Length, Ratio};

/// Highest number that a count may have: far more than any strap has holes.
const MOST: u32 = 1_000;

/// Reads the keys of one table.
pub(super) struct Section<'r, 't> {
    pub(super) reader: &'r Reader<'t>,
    pub(super) name: &'r str,
    pub(super) table: &'t Table,
    pub(super) span: Option<Span>,
}

impl<'t> Section<'_, 't> {
    pub(super) fn leaf(&self, key: &str) -> Option<&'t Leaf> {
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
                    .at(Some(entry.key_span.clone()))
                    .expected("a table", "a single value")
                    .remedy(format!("write {key} = \"...\"")),
                );
                None
            }
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
                .at(self.span.clone())
                .expected("nothing", what)
                .remedy(format!("add {full} to the job or to its template")),
        );
    }

    fn full(&self, key: &str) -> String {
        if self.name.is_empty() { key.to_owned() } else { format!("{}.{key}", self.name) }
    }

    /// A length; `None` where there is none, or a wrong one, which is a finding.
    pub(super) fn length_if(&self, key: &str) -> Option<Spanned<Length>> {
        let leaf = self.leaf(key)?;
        let span = Some(self.reader.giver(leaf).span.clone());
        let value = match &leaf.value {
            Value::Text(_) => {
                let full = self.full(key);
                self.reader.named_length(&full, &leaf.span, &mut Vec::new())?
            }
            other => {
                self.reader.wrong(leaf, other, "a length with its unit");
                return None;
            }
        };
        Some(Spanned { value, span })
    }

    /// A length that must be there.
    pub(super) fn length(&self, key: &str) -> Spanned<Length> {
        if self.table.get(key).is_none() {
            self.lacks(key, "a length with its unit");
        }
        self.length_if(key).unwrap_or_default()
    }

    /// A length that must be there and be more than zero.
    pub(super) fn size(&self, key: &str) -> Spanned<Length> {
        if self.table.get(key).is_none() {
            self.lacks(key, "a length with its unit");
        }
        // A wrong length has its finding already.
        let Some(said) = self.length_if(key) else { return Spanned::default() };
        if said.value <= Length::ZERO {
            self.reader.find(
                Finding::new(
                    "bad-length",
                    Severity::Error,
                    format!("`{}` must be more than nothing", self.full(key)),
                )
                .at(said.span.clone())
                .expected(said.value.both(), "more than 0 mm")
                .remedy("measure it and give a length above zero"),
            );
        }
        said
    }

    /// A length that must be there and may be nothing, but not less.
    pub(super) fn no_less_than_nothing(&self, key: &str) -> Spanned<Length> {
        let said = self.length(key);
        self.at_least(key, &said, Length::ZERO, "nothing");
        said
    }

    /// Says that a length is less than another that it must not be less than.
    pub(super) fn at_least(
        &self,
        key: &str,
        said: &Spanned<Length>,
        least: Length,
        what: &str,
    ) {
        if said.span.is_none() || said.value >= least {
            return;
        }
        let full = self.full(key);
        self.reader.find(
            Finding::new(
                "bad-length",
                Severity::Error,
                format!("`{full}` must not be less than {what}"),
            )
            .at(said.span.clone())
            .expected(said.value.both(), format!("at least {}", least.both()))
            .remedy(format!("give {full} a larger length")),
        );
    }

    /// A whole number from 0 to 1 000.
    pub(super) fn count(&self, key: &str) -> Spanned<u32> {
        let Some(leaf) = self.leaf(key) else {
            self.lacks(key, "a whole number");
            return Spanned::default();
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
        Spanned { value: number.unwrap_or(0), span: Some(leaf.span.clone()) }
    }

    /// A factor such as 0.5.
    pub(super) fn ratio(&self, key: &str) -> Spanned<Ratio> {
        let Some(leaf) = self.leaf(key) else {
            self.lacks(key, "a number from 0 to 1");
            return Spanned { value: Ratio::HALF, span: None };
        };
        let read = match &leaf.value {
            Value::Number(n) | Value::Text(n) => Ratio::parse(n),
            _ => None,
        };
        let ratio = read.filter(|r| *r <= Ratio::ONE);
        if ratio.is_none() {
            self.reader.wrong(leaf, &leaf.value, "a number from 0 to 1");
        }
        Spanned { value: ratio.unwrap_or(Ratio::HALF), span: Some(leaf.span.clone()) }
    }

    /// A text; empty where there is none.
    pub(super) fn text(&self, key: &str) -> Spanned<String> {
        let Some(leaf) = self.leaf(key) else { return Spanned::default() };
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
        Spanned { value, span: Some(leaf.span.clone()) }
    }

    /// One of a few words.
    pub(super) fn choice<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
    ) -> Option<Spanned<T>> {
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
            return Some(Spanned { value: *value, span: Some(leaf.span.clone()) });
        }
        self.reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("`{}` cannot be `{word}`", self.full(key)),
            )
            .at(Some(leaf.span.clone()))
            .expected(format!("`{word}`"), format!("one of: {}", all()))
            .remedy(nearest(word, names())),
        );
        None
    }

    /// A list of names: a list, one text, or nothing.
    pub(super) fn names(
        &self,
        key: &str,
        for_true: &[Spanned<String>],
    ) -> Vec<Spanned<String>> {
        let Some(leaf) = self.leaf(key) else { return Vec::new() };
        match &leaf.value {
            Value::Bool(false) => Vec::new(),
            Value::Bool(true) => for_true
                .iter()
                .map(|s| Spanned {
                    value: s.value.clone(),
                    span: Some(leaf.span.clone()),
                })
                .collect(),
            Value::Text(text) if text.is_empty() => Vec::new(),
            Value::Text(text) => {
                vec![Spanned { value: text.clone(), span: Some(leaf.span.clone()) }]
            }
            Value::List(all) => all
                .iter()
                .map(|(t, p)| Spanned { value: t.clone(), span: Some(p.clone()) })
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
        let Spanned { value, span } = self.text(key);
        DatumRef { name: value, span }
    }

    /// Whether the table has the key.
    pub(super) fn has(&self, key: &str) -> bool {
        self.reader.ask(self.name, key);
        self.table.get(key).is_some()
    }

    /// A length; `default` where nothing is said.
    pub(super) fn length_or(&self, key: &str, default: Length) -> Spanned<Length> {
        self.length_if(key).unwrap_or(Spanned { value: default, span: None })
    }

    /// A whole number from 0 to 1 000; `default` where nothing is said.
    pub(super) fn count_or(&self, key: &str, default: u32) -> Spanned<u32> {
        if self.has(key) {
            self.count(key)
        } else {
            Spanned { value: default, span: None }
        }
    }

    /// One of a few words; `default` where nothing is said.
    pub(super) fn choice_or<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
        default: T,
    ) -> T {
        if !self.has(key) {
            return default;
        }
        self.choice(key, words).map_or(default, |said| said.value)
    }

    /// A text; `default` where nothing is said.
    pub(super) fn text_or(&self, key: &str, default: &str) -> Spanned<String> {
        if self.has(key) {
            self.text(key)
        } else {
            Spanned { value: default.to_owned(), span: None }
        }
    }

    /// `true` or `false`; `default` where nothing is said.
    pub(super) fn truth_or(&self, key: &str, default: bool) -> bool {
        let Some(leaf) = self.leaf(key) else { return default };
        match &leaf.value {
            Value::Bool(truth) => *truth,
            other => {
                self.reader.wrong(leaf, other, "true or false");
                default
            }
        }
    }

    /// The name of a datum, where one is said.
    pub(super) fn datum_if(&self, key: &str) -> Option<DatumRef> {
        self.has(key).then(|| self.datum(key))
    }

    /// Says that a count is none where there must be some.
    pub(super) fn too_few(&self, key: &str, said: &Spanned<u32>) {
        self.count_is_wrong(key, said, "at least 1".to_owned());
    }

    /// Says that a count is more than there may be.
    pub(super) fn too_many(&self, key: &str, said: &Spanned<u32>, most: u32) {
        self.count_is_wrong(key, said, format!("at most {most}"));
    }

    fn count_is_wrong(&self, key: &str, said: &Spanned<u32>, required: String) {
        let full = self.full(key);
        self.reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("`{full}` cannot be {}", said.value),
            )
            .at(said.span.clone())
            .expected(said.value.to_string(), required)
            .remedy(format!("give {full} another number")),
        );
    }

    /// Says that the job has no table of that name.
    pub(super) fn no_such_table(&self, said: &Spanned<String>) {
        let names = self.reader.root.entries.iter().map(|e| e.key.as_str());
        self.reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("no table is called `{}`", said.value),
            )
            .at(said.span.clone())
            .expected(format!("`{}`", said.value), "the name of a table of the job")
            .remedy(nearest(&said.value, names)),
        );
    }
}
