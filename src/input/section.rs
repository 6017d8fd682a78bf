//! Typed reading of one table's keys.

use super::reader::{Reader, full_name};
use super::{Leaf, Node, Table, Takes, Value};
use crate::diagnostic::{Finding, Span, Spanned, nearest, one_of};
use crate::geom::Ratio;
use std::ops::RangeInclusive;

/// Longest text, in letters.
const LONGEST_TEXT: usize = 200;
/// Highest count where a file does not say otherwise: far more than any strap has holes.
const MOST: usize = 1_000;

/// Reads the keys of one table. Every method that takes a key notes that it is asked for.
#[derive(Debug)]
pub(crate) struct Section<'r, 't, C = ()> {
    pub(crate) reader: &'r Reader<'t, C>,
    /// The name of the table; empty for the keys outside any.
    pub(crate) name: &'r str,
    pub(crate) table: &'t Table,
    /// Where a missing key is reported.
    pub(crate) span: Option<Span>,
}

impl<'r, 't, C> Section<'r, 't, C> {
    /// Whether the table has the key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.reader.ask(self.name, key);
        self.table.get(key).is_some()
    }

    /// Notes what a key takes, before it is read.
    pub(crate) fn takes(&self, key: &str, takes: Takes) {
        self.reader.ask_for(self.name, key, || takes);
    }

    /// The value of a key; `None` where there is none. A table is a finding.
    pub(crate) fn leaf(&self, key: &str) -> Option<&'t Leaf> {
        self.reader.ask(self.name, key);
        let entry = self.table.get(key)?;
        match &entry.node {
            Node::Leaf(leaf) => Some(leaf),
            Node::Table(_) => {
                let rule = self.reader.format.rules.bad_value;
                self.reader.find(
                    Finding::error(rule, format!("`{key}` is a table"))
                        .at(Some(entry.key_span.clone()))
                        .expected("a table", "a single value")
                        .remedy(format!("write {key} = \"...\"")),
                );
                None
            }
        }
    }

    /// The same; a missing key is a finding too.
    pub(crate) fn need(&self, key: &str, required: &str) -> Option<&'t Leaf> {
        self.lacks(key, required);
        self.leaf(key)
    }

    /// Finds that a key is missing, if the table does not have it.
    pub(crate) fn lacks(&self, key: &str, required: &str) {
        if self.has(key) {
            return;
        }
        let full = self.full_name(key);
        let format = self.reader.format;
        self.reader.find(
            Finding::error(format.rules.missing_key, format!("`{full}` is missing"))
                .at(self.span.clone())
                .expected("nothing", required)
                .remedy(format!("add {full}{}", format.add_to)),
        );
    }

    /// The inner table of a key; `None` where there is none. A value is a finding.
    pub(crate) fn section<'s>(&self, key: &'s str) -> Option<Section<'s, 't, C>>
    where
        'r: 's,
    {
        self.takes(key, Takes::Table);
        let entry = self.table.get(key)?;
        match &entry.node {
            Node::Table(table) => {
                let span = Some(entry.key_span.clone());
                Some(Section { reader: self.reader, name: key, table, span })
            }
            Node::Leaf(leaf) => {
                self.reader.find(self.wrong(key, leaf, "a table of keys and values"));
                None
            }
        }
    }

    /// What `parse` makes of a value, which is `required`; `None` where there is none.
    /// A value that `parse` refuses is a finding.
    pub(crate) fn value_if<T>(
        &self,
        key: &str,
        required: &str,
        parse: impl FnOnce(&Value) -> Option<T>,
    ) -> Option<Spanned<T>> {
        let leaf = self.leaf(key)?;
        let value = parse(&leaf.value);
        if value.is_none() {
            self.reader.find(self.wrong(key, leaf, required));
        }
        Some(Spanned { value: value?, span: Some(leaf.span.clone()) })
    }

    /// The same; a missing key is a finding too.
    pub(crate) fn value<T>(
        &self,
        key: &str,
        required: &str,
        parse: impl FnOnce(&Value) -> Option<T>,
    ) -> Option<Spanned<T>> {
        self.lacks(key, required);
        self.value_if(key, required, parse)
    }

    /// A text; empty where there is none.
    pub(crate) fn text(&self, key: &str) -> Spanned<String> {
        self.text_or(key, "")
    }

    /// A text.
    pub(crate) fn text_or(&self, key: &str, default: &str) -> Spanned<String> {
        self.takes(key, Takes::Text);
        let required = "a text in quotes, on one line of up to 200 letters";
        let text = self.value_if(key, required, |value| {
            let text = value.word()?;
            let is_short = text.chars().count() <= LONGEST_TEXT;
            (is_short && !text.chars().any(char::is_control)).then(|| text.to_owned())
        });
        text.unwrap_or_else(|| Spanned::without_span(default.to_owned()))
    }

    /// `true` or `false`.
    pub(crate) fn truth_or(&self, key: &str, default: bool) -> bool {
        self.takes(key, Takes::Truth);
        let truth = self.value_if(key, "true or false", Value::truth);
        truth.map_or(default, |given| given.value)
    }

    /// What `parse` makes of the digits of a number. One in quotes is a finding.
    fn number_if<T>(
        &self,
        key: &str,
        required: &str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Option<Spanned<T>> {
        let leaf = self.leaf(key)?;
        if let Some(text) = leaf.value.text().map(str::trim).filter(|t| is_number(t)) {
            let remedy =
                format!("a number has no quotes: {} = {text}", self.full_name(key));
            self.reader.find(self.wrong(key, leaf, required).remedy(remedy));
            return None;
        }
        self.value_if(key, required, |value| parse(value.digits()?))
    }

    /// A number from 0 to 1, such as 0.5.
    pub(crate) fn ratio(&self, key: &str) -> Spanned<Ratio> {
        self.takes(key, Takes::Ratio);
        let required = "a number from 0 to 1";
        self.lacks(key, required);
        let ratio = self.number_if(key, required, |digits| {
            Ratio::parse(digits).filter(|r| *r <= Ratio::ONE)
        });
        ratio.unwrap_or(Spanned::without_span(Ratio::HALF))
    }

    /// The same; one that is left out is `default`.
    pub(crate) fn ratio_or(&self, key: &str, default: &Spanned<Ratio>) -> Spanned<Ratio> {
        self.takes(key, Takes::Ratio);
        if self.has(key) { self.ratio(key) } else { default.clone() }
    }

    /// A whole number from 0 to 1 000 that must be there.
    pub(crate) fn count(&self, key: &str) -> Spanned<u32> {
        self.lacks(key, "a whole number");
        self.count_or(key, 0)
    }

    /// A whole number from 0 to 1 000.
    pub(crate) fn count_or(&self, key: &str, default: u32) -> Spanned<u32> {
        self.count_within(key, 0..=MOST).unwrap_or(Spanned::without_span(default))
    }

    /// A whole number from 1 to `most`, or 1.
    pub(crate) fn count_up_to(&self, key: &str, most: usize) -> Spanned<u32> {
        self.count_within(key, 1..=most).unwrap_or(Spanned::without_span(1))
    }

    /// A whole number from 1 to 1 000; `None` where there is none.
    pub(crate) fn positive_count_if(&self, key: &str) -> Option<Spanned<u32>> {
        self.count_within(key, 1..=MOST)
    }

    /// A whole number within a range; `None` where there is none.
    pub(crate) fn count_within(
        &self,
        key: &str,
        range: RangeInclusive<usize>,
    ) -> Option<Spanned<u32>> {
        self.takes(key, Takes::Count(range.clone()));
        let required =
            format!("a whole number from {} to {}", range.start(), range.end());
        self.number_if(key, &required, |digits| {
            let digits = digits.trim().replace('_', "");
            digits.parse().ok().filter(|n| range.contains(&(*n as usize)))
        })
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
    ) -> Option<Spanned<T>> {
        self.takes_words(key, words);
        let names: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
        let required = one_of(&names);
        let leaf = self.need(key, &required)?;
        let Some(word) = leaf.value.text() else {
            self.reader.find(self.wrong(key, leaf, &required));
            return None;
        };
        let span = Some(leaf.span.clone());
        if let Some((_, value)) = words.iter().find(|(w, _)| *w == word) {
            return Some(Spanned { value: *value, span });
        }
        let message = format!("`{}` cannot be `{word}`", self.full_name(key));
        self.reader.find(
            Finding::error(self.reader.format.rules.bad_value, message)
                .at(span)
                .expected(leaf.value.found(), required)
                .remedy(nearest(word, names.into_iter())),
        );
        None
    }

    /// One of a few words.
    pub(crate) fn choice_or<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
        default: T,
    ) -> T {
        self.choice_if(key, words).map_or(default, |given| given.value)
    }

    /// One of a few words; `None` where there is none.
    pub(crate) fn choice_if<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
    ) -> Option<Spanned<T>> {
        self.takes_words(key, words);
        self.has(key).then(|| self.choice(key, words)).flatten()
    }

    fn takes_words<T>(&self, key: &str, words: &[(&str, T)]) {
        let all = || words.iter().map(|(word, _)| (*word).to_owned()).collect();
        self.reader.ask_for(self.name, key, || Takes::Words(all()));
    }

    /// An error: the value of a key is not what is required.
    pub(crate) fn wrong(&self, key: &str, leaf: &Leaf, required: &str) -> Finding {
        self.reader.wrong(&self.full_name(key), leaf, required)
    }

    /// The dotted name of a key.
    pub(crate) fn full_name(&self, key: &str) -> String {
        full_name(self.name, key)
    }
}

/// Whether a text is a number as TOML has it, so that the quotes alone are wrong.
fn is_number(text: &str) -> bool {
    let is_digit = |c: char| c.is_ascii_digit() || c == '.';
    let has_zeros = text.len() > 1 && text.starts_with('0') && !text.starts_with("0.");
    text.chars().all(is_digit) && Ratio::parse(text).is_some() && !has_zeros
}
