//! The sizes that are kept in stock, and the one of them that is meant.

mod texts;

use super::reader::{Reader, nearest};
use super::section::Section;
use super::tree::{Entry, Leaf, Node, Table, Value};
use super::{MeasureMethod, Spanned};
use crate::diagnostic::{Finding, Severity, Span};
use crate::geom::Length;
use crate::stock::{self, Of};
use std::cell::Cell;
use texts::{sizes, unit, unquoted};

/// What `stock.sizes` takes.
const SIZES: &str =
    "a list of lengths, a span such as \"28 to 46 in by 2 in\", or the name of a range";
/// What one size is.
const SIZE: &str = "a length with its unit, a span, or the name of a range";
/// More sizes than anybody stocks.
const MOST: usize = 100;

/// One size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// What it is called: `34 in`, `M`.
    pub label: String,
    /// What takes the place of `measure.value`.
    pub value: Length,
    /// Where it stands.
    pub span: Option<Span>,
}

/// The sizes in stock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// From the smallest to the largest.
    pub sizes: Vec<Size>,
    /// The named range that they are, if they are one.
    pub range: Option<&'static str>,
    /// How the sizes of a named range are taken, whatever the job says of its measure.
    pub taken: Option<MeasureMethod>,
    /// Which of the sizes this job is for; none: for its own measure.
    pub chosen: Option<usize>,
}

impl Stock {
    /// The size that this job is for.
    pub fn size(&self) -> Option<&Size> {
        self.sizes.get(self.chosen?)
    }

    /// The sizes on either side of a length that is none of them.
    fn beside(&self, word: &str) -> Option<String> {
        let shared = self.sizes.first().map(|s| unit(&s.label))?;
        let full = if unit(word).is_empty() {
            format!("{word} {shared}")
        } else {
            word.to_owned()
        };
        let length = Length::parse(&full).ok()?;
        let (below, above): (Vec<&Size>, Vec<&Size>) =
            self.sizes.iter().partition(|s| s.value < length);
        let near = [below.last(), above.first()].into_iter().flatten();
        let near: Vec<&str> = near.map(|s| s.label.as_str()).collect();
        Some(format!("the nearest in stock: {}", near.join(" and ")))
    }

    /// All labels, the smallest first.
    pub fn labels(&self) -> impl Iterator<Item = &str> {
        self.sizes.iter().map(|s| s.label.as_str())
    }

    /// The size that a person calls `word`: by its label, its length, or the bare number
    /// of its label.
    pub fn find(&self, word: &str) -> Option<usize> {
        let word = words(word);
        let number = |label: &str| {
            let unit = label.find(char::is_alphabetic).unwrap_or(label.len());
            label[..unit].trim_end() == word
        };
        let by = |is: &dyn Fn(&Size) -> bool| self.sizes.iter().position(is);
        by(&|s| s.label.eq_ignore_ascii_case(&word))
            .or_else(|| {
                let length = Length::parse(&word).ok()?;
                by(&|s| s.value == length)
            })
            .or_else(|| by(&|s| !word.is_empty() && number(&s.label)))
    }
}

/// Text with single spaces.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Reads the table `stock`; `None` where there is none, or no size in it.
pub(super) fn read(reader: &Reader<'_>) -> Option<Stock> {
    let table = reader.section("stock")?;
    let size = table.text("size");
    let Some(leaf) = table.leaf("sizes") else {
        table.lacks("sizes", SIZES);
        return None;
    };
    let mut stock = Stock { sizes: Vec::new(), range: None, taken: None, chosen: None };
    let items = match &leaf.value {
        Value::Text(text) => vec![(text.clone(), leaf.span.clone())],
        Value::List(all) if !all.is_empty() => all.clone(),
        other => {
            let found = match other {
                Value::Number(n) => format!("the bare number {n}"),
                Value::List(_) => "an empty list".to_owned(),
                Value::Bool(_) | Value::Text(_) => "a truth value".to_owned(),
                Value::Other(kind) => format!("a TOML {kind}"),
            };
            reader.find(unquoted(found).at(Some(leaf.span.clone())));
            return None;
        }
    };
    let alone = items.len() == 1;
    let mut flawed: Vec<(String, Finding, usize)> = Vec::new();
    for (text, span) in items {
        let text = words(&text);
        match stock::find(&text) {
            Some(range) if alone => {
                let named = range.sizes().into_iter();
                let span = Some(span);
                stock.sizes = named
                    .map(|(label, value)| Size { label, value, span: span.clone() })
                    .collect();
                stock.range = Some(range.name);
                stock.taken = Some(match range.of {
                    Of::Body => MeasureMethod::Tape,
                    Of::Belt => MeasureMethod::BendToHole,
                });
            }
            Some(_) => flaw(
                &mut flawed,
                &text,
                bad("bad-value", "a named range stands alone", span)
                    .expected(
                        format!("`{text}` among other sizes"),
                        "one range, or lengths",
                    )
                    .remedy(format!("write stock.sizes = \"{text}\", or only lengths")),
            ),
            None => {
                match sizes(&text) {
                    Ok(found) if stock.sizes.len() + found.len() <= MOST => {
                        let span = Some(span);
                        stock.sizes.extend(found.into_iter().map(|(label, value)| {
                            Size { label, value, span: span.clone() }
                        }));
                    }
                    Ok(found) => {
                        let what = "these are more sizes than anybody stocks";
                        let count = stock.sizes.len() + found.len();
                        let finding = bad("bad-value", what, span)
                            .expected(format!("{count} sizes"), format!("at most {MOST}"))
                            .remedy("take larger steps, or fewer sizes");
                        flaw(&mut flawed, &text, finding);
                        break;
                    }
                    Err(finding) => flaw(&mut flawed, &text, (*finding).at(Some(span))),
                }
            }
        }
    }
    order(reader, &mut stock.sizes);
    // A size that is looked for may be the one that could not be read.
    if flawed.is_empty() {
        stock.chosen = chosen(reader, &stock, &size);
    }
    for (_, mut finding, more) in flawed {
        if more > 0 {
            finding.message = format!("{} (and {more} more)", finding.message);
        }
        reader.find(finding);
    }
    (!stock.sizes.is_empty()).then_some(stock)
}

/// Keeps what is wrong with an entry, once for all that are wrong in the same way: units
/// that are left out of a whole list are one slip.
fn flaw(flawed: &mut Vec<(String, Finding, usize)>, text: &str, finding: Finding) {
    let what = finding.message.replace(text, "");
    let is_alike = what != finding.message;
    match flawed.iter_mut().find(|(other, ..)| is_alike && *other == what) {
        Some((.., more)) => *more += 1,
        None => flawed.push((what, finding, 0)),
    }
}

fn bad(rule: &'static str, message: impl Into<String>, span: Span) -> Finding {
    Finding::new(rule, Severity::Error, message).at(Some(span))
}

/// Puts the sizes in order, each once, and finds what stood twice and, once for all, that
/// they did not ascend.
fn order(reader: &Reader<'_>, sizes: &mut Vec<Size>) {
    let find = |message: &str, size: &Size, found: String, remedy: String| {
        reader.find(
            Finding::new("stock-order", Severity::Error, message)
                .at(size.span.clone())
                .expected(found, "each larger than the last")
                .remedy(remedy),
        );
    };
    let mut once: Vec<Size> = Vec::new();
    for size in sizes.drain(..) {
        match once.iter().find(|other| other.value == size.value) {
            Some(twin) => {
                let found = format!("`{}` after `{}`", size.label, twin.label);
                let remedy = "take one of the two out".to_owned();
                find("a size stands in the list twice", &size, found, remedy);
            }
            None => once.push(size),
        }
    }
    let falls = |at: &usize| once[*at].value < once[*at - 1].value;
    if let Some(at) = (1..once.len()).find(falls) {
        let (before, size) = (&once[at - 1], &once[at]);
        let descend = once.is_sorted_by(|a, b| a.value > b.value) && once.len() > 2;
        // `28, 300, 32, 34`: without the one before it all ascend.
        let peak = once.get(at + 1).is_some_and(|next| next.value < before.value)
            && (at < 2 || once[at - 2].value < size.value);
        let after = format!("`{}` after `{}`", size.label, before.label);
        if descend {
            let remedy = "begin with the smallest".to_owned();
            find("the sizes descend", size, after, remedy);
        } else if peak {
            let larger = once[at + 1..].iter().find(|s| s.value > before.value);
            let put = larger.map_or_else(
                || "put it last".to_owned(),
                |larger| format!("put it before `{}`", larger.label),
            );
            let found = format!("`{}` before `{}`", before.label, size.label);
            let remedy = format!("look at the number, or {put}");
            find("the sizes do not ascend", before, found, remedy);
        } else {
            let remedy = format!("put `{}` before `{}`", size.label, before.label);
            find("the sizes do not ascend", size, after, remedy);
        }
    }
    once.sort_by_key(|size| size.value);
    *sizes = once;
}

/// Which size `stock.size` names.
fn chosen(reader: &Reader<'_>, stock: &Stock, said: &Spanned<String>) -> Option<usize> {
    let word = &said.value;
    if word.trim().is_empty() {
        return None;
    }
    let found = stock.find(word);
    if found.is_none() {
        let labels: Vec<&str> = stock.labels().collect();
        reader.find(
            Finding::new(
                "unknown-size",
                Severity::Error,
                format!("`{word}` is no size of this stock"),
            )
            .at(said.span.clone())
            .expected(format!("`{word}`"), format!("one of: {}", labels.join(", ")))
            .remedy(
                stock
                    .beside(word)
                    .unwrap_or_else(|| nearest(&words(word), labels.iter().copied())),
            ),
        );
    }
    found
}

/// What the chosen size lays over the job: `measure.value`, and `measure.taken` where the
/// size comes from a named range. Nothing for a strap that has no measure.
pub(super) fn over(root: &Table) -> Table {
    let reader = Reader::new(root);
    let stock = read(&reader);
    let Some((stock, size)) = stock.as_ref().and_then(|s| Some((s, s.size()?))) else {
        return Table::default();
    };
    let Some(measure) = root.get("measure") else { return Table::default() };
    let Some(span) = size.span.clone() else { return Table::default() };
    let entry = |key: &str, node: Node, key_span: &Span| Entry {
        key: key.to_owned(),
        key_span: key_span.clone(),
        node,
        used: Cell::new(false),
    };
    let text =
        |text: String| Node::Leaf(Leaf { value: Value::Text(text), span: span.clone() });
    let mut entries = vec![entry("value", text(size.value.to_string()), &span)];
    let taken = stock.taken.map(|t| entry("taken", text(t.word().to_owned()), &span));
    entries.extend(taken);
    let table = Node::Table(Table { entries });
    Table { entries: vec![entry("measure", table, &measure.key_span)] }
}

/// Says that sizes are of no use to a strap without a measure.
pub(super) fn needs_measure(top: &Section<'_, '_>) {
    top.lacks(
        "measure",
        "what a size takes the place of: a strap that closes round a body",
    );
}
