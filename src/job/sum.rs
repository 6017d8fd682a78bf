//! Lengths that are sums of lengths and of other keys.

use super::STRAP;
use super::section::Reader;
use super::slip;
use crate::diagnostic::{Finding, Span};
use crate::geom::{Bend, Length, Ratio, circumference};
use crate::input::{Entry, Leaf, Node, parse_length};
use crate::job::rule;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Most keys that one length may lead through to its number.
const DEEPEST: usize = 32;
/// Longest length that a key may have, 1 km.
const LONGEST: Length = Length::from_mm(1_000_000);
/// Longest text of a sum, in bytes.
const LONGEST_TEXT: usize = 400;
/// Most parts that a length is divided into.
pub(super) const MOST_PARTS: i64 = 1_000;

/// The lengths of keys that were computed, by dotted name; `None` for one with a mistake.
#[derive(Debug, Default)]
pub(super) struct Sums(RefCell<BTreeMap<String, Option<Length>>>);

impl<'t> Reader<'t> {
    /// Computes a sum of lengths and references: `buckle.reach + 3 in`, `2.5 x strap.width`,
    /// `pi x strap.thickness / 2`. `path` has the keys that led here. `None` for a mistake,
    /// which is a finding.
    pub(super) fn sum(
        &self,
        text: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        if text.len() > LONGEST_TEXT {
            self.find(
                Finding::error(rule::BAD_LENGTH, "this is too long for a length")
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
            total += self.term(term.trim(), text, span, path)? * sign;
            let Some((i, next)) = cut else { return self.bounded(total, span) };
            sign = next;
            rest = &rest[i + 3..];
        }
    }

    /// `length`, or a finding if it is longer than any strap. So sums and products stay far
    /// inside 64 bits.
    fn bounded(&self, length: Length, span: &Span) -> Option<Length> {
        if length <= LONGEST && length >= -LONGEST {
            return Some(length);
        }
        self.find(
            Finding::error(rule::BAD_LENGTH, "no strap has such a length")
                .at(Some(span.clone()))
                .expected(length.both(), "at most 1 km")
                .remedy("look at the number and its unit"),
        );
        None
    }

    /// The length of one term of the sum `whole`, within bounds.
    fn term(
        &self,
        term: &str,
        whole: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let key = path.last().map_or("", String::as_str);
        let error = match parse_length(key, term) {
            Ok(length) => return self.bounded(length, span),
            Err(error) => error,
        };
        // A part of a term: `strap.width / 2`.
        let parts = term
            .rsplit_once(" / ")
            .and_then(|(all, n)| Some((all.trim(), slip::parts(n)?)));
        if let Some((all, n)) = parts {
            return Some(self.term(all, whole, span, path)? / n);
        }
        let factor = term.split_once([' ', '\u{a0}']).and_then(|(n, key)| {
            Some((n, key.trim_start().strip_prefix(['x', '×'])?.trim()))
        });
        let (first, key) = factor.unwrap_or(("", term));
        // The way around a bend: `pi x buckle.bar`.
        if first == "pi" {
            let diameter = self.term(key, whole, span, path)?;
            return self.bounded(circumference(diameter), span);
        }
        let (factor, key) = match Ratio::parse(first) {
            Some(ratio) => (ratio, key),
            None => (Ratio::ONE, term),
        };
        if is_key(key) {
            let length = factor.times(self.named_length(key, span, path)?);
            return self.bounded(length, span);
        }
        if let Some(slip) = slip::find(term, whole) {
            self.find(
                Finding::error(rule::BAD_LENGTH, slip.message)
                    .at(Some(span.clone()))
                    .expected(format!("`{whole}`"), slip.required)
                    .remedy(slip.remedy),
            );
            return None;
        }
        let has_key = |entry: &&Entry| match &entry.node {
            Node::Table(table) => table.get(term).is_some(),
            Node::Leaf(_) => false,
        };
        let tables = self.root.entries.iter().filter(has_key).take(3);
        let meant: Vec<String> =
            tables.map(|table| format!("`{}.{term}`", table.key)).collect();
        if !meant.is_empty() {
            self.find(
                Finding::error(
                    rule::BAD_LENGTH,
                    format!("`{term}` does not say of which table it is"),
                )
                .at(Some(span.clone()))
                .expected(format!("`{term}`"), "a length, or the dotted name of a key")
                .remedy(format!("did you mean {}?", meant.join(" or "))),
            );
            return None;
        }
        let within = if whole == term { String::new() } else { format!(" in `{whole}`") };
        self.find(
            Finding::error(rule::BAD_LENGTH, format!("{}{within}", error.found()))
                .at(Some(span.clone()))
                .expected(format!("`{term}`"), "a number with mm, cm, m or in")
                .remedy(error.remedy()),
        );
        None
    }

    /// The length that a dotted key holds.
    pub(super) fn named_length(
        &self,
        key: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let is_circle = path.iter().any(|k| k == key);
        if is_circle || path.len() > DEEPEST {
            let message = if is_circle {
                "lengths go in a circle"
            } else {
                "lengths go through too many keys"
            };
            path.push(key.to_owned());
            self.find(
                Finding::error(rule::REFERENCE_CYCLE, message)
                    .at(Some(span.clone()))
                    .expected(path.join(" -> "), "a chain that ends in a number")
                    .remedy("give one of these keys a length with a unit"),
            );
            return None;
        }
        if let Some(done) = self.context.0.borrow().get(key) {
            return *done;
        }
        if key == "measure.value"
            && self.word("measure.taken") == Some("sizing-strap")
            && self.word("stock.size").is_none()
        {
            return self.sized_girth(span, path);
        }
        if let Some((table, name)) = key.split_once('.') {
            self.ask("", table);
            self.ask(table, name);
        }
        let Some(leaf) = self.root.dotted_leaf(key) else {
            if let Some(fold) = key.strip_suffix(".take-up")
                && let Some(bar) = self.bar_of(fold)
            {
                return self.take_up(fold, &bar, span, path);
            }
            if let Some(piece) = key.strip_suffix(".made-up")
                && (piece == STRAP || self.word(&format!("{piece}.kind")).is_some())
            {
                return self.made_up(piece, span, path);
            }
            self.find(self.unknown_key(key).at(Some(span.clone())));
            return None;
        };
        path.push(key.to_owned());
        let value = if let Some(text) = leaf.value.text() {
            self.sum(text, &leaf.span, path)
        } else {
            self.find(self.wrong_length(key, leaf, "a length with its unit"));
            None
        };
        path.pop();
        self.context.0.borrow_mut().insert(key.to_owned(), value);
        value
    }

    /// The key that gives the bar of a fold: its own, or that of the hardware that it holds.
    fn bar_of(&self, fold: &str) -> Option<String> {
        let held = self.root.dotted_leaf(&format!("{fold}.holds"));
        let held = held.and_then(|l| l.value.word());
        let mut bars =
            [Some(fold), held].into_iter().flatten().map(|t| format!("{t}.bar"));
        bars.find(|bar| self.root.dotted_leaf(bar).is_some())
    }

    /// What the bend of a fold takes up: `hook.take-up`. The leather is that of its piece, with
    /// the linings on it.
    fn take_up(
        &self,
        fold: &str,
        bar: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let piece = self.word(&format!("{fold}.on")).unwrap_or(STRAP);
        let bar = self.named_length(bar, span, path)?;
        let thickness = self.made_up(piece, span, path)?;
        let k = self.word(&self.leather_key(piece, "k"));
        let k = k.and_then(Ratio::parse).unwrap_or(Ratio::HALF);
        Some(Bend::new(bar, thickness, k).take_up)
    }

    /// The leather of a piece with the linings on it: `strap.made-up`.
    fn made_up(
        &self,
        piece: &str,
        span: &Span,
        path: &mut Vec<String>,
    ) -> Option<Length> {
        let own = self.leather_key(piece, "thickness");
        let mut thickness = self.named_length(&own, span, path)?;
        for entry in &self.root.entries {
            let key = |key: &str| format!("{}.{key}", entry.key);
            let is_lining = self.word(&key("kind")) == Some("lining")
                && self.word(&key("of")).unwrap_or(STRAP) == piece
                && self.word(&key("count")) != Some("0");
            if is_lining {
                let own = self.leather_key(&entry.key, "thickness");
                thickness += self.named_length(&own, span, path)?;
            }
        }
        Some(thickness)
    }

    /// The key that gives a piece's leather: its own, or that of the strap.
    fn leather_key(&self, piece: &str, key: &str) -> String {
        let own = format!("{piece}.{key}");
        let has_own = self.root.dotted_leaf(&own).is_some();
        if has_own { own } else { format!("{STRAP}.{key}") }
    }

    /// The girth that the hole of a sizing strap serves.
    fn sized_girth(&self, span: &Span, path: &mut Vec<String>) -> Option<Length> {
        let hole: i64 = self.word("measure.hole")?.parse().ok()?;
        let first = self.named_length("measure.first-hole", span, path)?;
        let pitch = self.named_length("measure.hole-pitch", span, path)?;
        let further = hole.clamp(1, MOST_PARTS) - 1;
        Some(first + pitch * further)
    }

    /// A value in its own letters, without quotes.
    fn word(&self, key: &str) -> Option<&'t str> {
        self.root.dotted_leaf(key).and_then(|leaf| leaf.value.word())
    }

    /// An error: no key has the dotted name that a length or a limit refers to.
    pub(super) fn unknown_key(&self, key: &str) -> Finding {
        let keys = self.root.dotted_keys();
        let keys = keys.iter().map(String::as_str);
        Finding::unknown_name(rule::UNKNOWN_REFERENCE, "key", key, keys)
            .expected(format!("`{key}`"), "the dotted name of a key of the job")
    }

    /// The value that defines a length: for one that only names another key, the value of
    /// that key.
    pub(super) fn defining_leaf(&self, leaf: &'t Leaf) -> &'t Leaf {
        let mut defining = leaf;
        // A circle is found elsewhere; here it only has to end.
        for _ in 0..8 {
            let named = defining.value.text().map(str::trim).filter(|t| is_key(t));
            let Some(next) = named.and_then(|key| self.root.dotted_leaf(key)) else {
                break;
            };
            defining = next;
        }
        defining
    }
}

/// Whether a word has the form of a dotted key.
pub(super) fn is_key(word: &str) -> bool {
    word.contains('.')
        && word.starts_with(|c: char| c.is_ascii_alphabetic())
        && word.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_'))
}
