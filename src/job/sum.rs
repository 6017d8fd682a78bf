//! Lengths that are sums of lengths and of other keys.

use super::reader::{Reader, nearest};
use super::tree::{Entry, Leaf, Node, Value};
use crate::diagnostic::{Finding, Severity, Span};
use crate::geom::{Length, Ratio, circumference};

/// Most keys that one length may go through to its number.
const DEEPEST: usize = 32;

/// Longest length that a key may have, 1 km.
const LONGEST: Length = Length::from_mm(1_000_000);

/// Longest text of a sum, in bytes: room for any that a person reads.
const LONGEST_TEXT: usize = 400;

/// Most parts that a length is divided into.
const MOST_PARTS: i64 = 1_000;

impl<'t> Reader<'t> {
    /// Works out a sum of lengths and references: `buckle.reach + 3 in`,
    /// `2.5 x strap.width`, `pi x strap.thickness / 2`. `path` are the keys that led here.
    pub(super) fn sum(
        &self,
        text: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        if text.len() > LONGEST_TEXT {
            self.find(
                Finding::new(
                    "bad-length",
                    Severity::Error,
                    "this is too long for a length",
                )
                .at(Some(span.clone()))
                .expected(
                    format!("{} bytes", text.len()),
                    format!("a sum of at most {LONGEST_TEXT} bytes"),
                )
                .remedy("give parts of it a key of their own, and add up those"),
            );
            return None;
        }
        let mut total = Length::ZERO;
        let mut rest = text;
        let mut sign = 1;
        loop {
            let plus = rest.find(" + ").map(|i| (i, 1));
            let minus = rest.find(" - ").map(|i| (i, -1));
            let cut = [plus, minus].into_iter().flatten().min();
            let term = cut.map_or(rest, |(i, _)| &rest[..i]);
            total +=
                self.bounded(self.term(term.trim(), text, span, path)?, span)? * sign;
            let Some((i, next)) = cut else { return self.bounded(total, span) };
            sign = next;
            rest = &rest[i + 3..];
        }
    }

    /// `length`, unless only a slip of the pen can be so long: sums and products of what
    /// is let through stay far inside 64 bits.
    fn bounded(&self, length: Length, span: &Span) -> Option<Length> {
        if length <= LONGEST && length >= -LONGEST {
            return Some(length);
        }
        self.find(
            Finding::new("bad-length", Severity::Error, "no strap has such a length")
                .at(Some(span.clone()))
                .expected(length.both(), "at most 1 km")
                .remedy("look at the number and its unit"),
        );
        None
    }

    fn term(
        &self,
        term: &str,
        whole: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let error = match Length::parse(term) {
            Ok(length) => return Some(length),
            Err(error) => error,
        };
        // A part of a term: `strap.width / 2`.
        let parts = term.rsplit_once(" / ").and_then(|(all, n)| {
            let n = n.trim().parse::<i64>().ok()?;
            (1..=MOST_PARTS).contains(&n).then_some((all.trim(), n))
        });
        if let Some((all, n)) = parts {
            return Some(self.bounded(self.term(all, whole, span, path)?, span)? / n);
        }
        let (first, key) = match term.split_once([' ', '\u{a0}']) {
            Some((n, key)) => (n, key.trim_start_matches(['x', '×']).trim()),
            None => ("", term),
        };
        // Round a bend: `pi x buckle.bar`.
        if first == "pi" {
            let diameter = self.bounded(self.term(key, whole, span, path)?, span)?;
            return Some(circumference(diameter));
        }
        let (factor, key) = match Ratio::parse(first) {
            Some(ratio) => (ratio, key),
            None => (Ratio::ONE, term),
        };
        if !is_key(key) {
            let named =
                if whole == term { String::new() } else { format!(" in `{whole}`") };
            let what = error.found();
            self.find(
                Finding::new("bad-length", Severity::Error, format!("{what}{named}"))
                    .at(Some(span.clone()))
                    .expected(format!("`{term}`"), "a number with mm, cm, m or in")
                    .remedy(
                        "give the number and its unit in quotes: \"34 1/2 in\", \"865 mm\"",
                    ),
            );
            return None;
        }
        Some(factor.times(self.named_length(key, span, path)?))
    }

    /// The length that a dotted key holds.
    pub(super) fn named_length(
        &self,
        key: &str,
        span: &Span,
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
                .at(Some(span.clone()))
                .expected(path.join(" -> "), "a chain that ends in a number")
                .remedy("give one of these keys a length with a unit"),
            );
            return None;
        }
        if let Some(done) = self.sums.borrow().get(key) {
            return *done;
        }
        let leaf = key.split_once('.').and_then(|(table, name)| {
            self.ask(table, name);
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
                .at(Some(span.clone()))
                .expected(format!("`{key}`"), "the dotted name of a length in the job")
                .remedy(nearest(key, all.iter().map(String::as_str))),
            );
            return None;
        };
        path.push(key.to_owned());
        let value = match &leaf.value {
            Value::Text(text) => self.sum(text, &leaf.span, path),
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
    pub(super) fn giver(&self, leaf: &'t Leaf) -> &'t Leaf {
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

    pub(super) fn all_keys(&self) -> Vec<String> {
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
}

/// Whether a word has the form of a dotted key.
fn is_key(word: &str) -> bool {
    word.contains('.')
        && word.starts_with(|c: char| c.is_ascii_alphabetic())
        && word.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_'))
}
