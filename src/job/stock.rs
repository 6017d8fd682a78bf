//! The sizes that are kept in stock, and the one of them that is meant.

use super::reader::{Reader, nearest};
use super::section::Section;
use super::tree::{Entry, Leaf, Node, Table, Value};
use super::{Said, Taken};
use crate::diagnostic::{Finding, Place, Severity};
use crate::geom::Length;
use crate::stock::{self, Of};
use std::cell::Cell;

/// What `stock.sizes` takes.
const SIZES: &str =
    "a list of lengths, a span such as \"28 to 46 in by 2 in\", or the name of a range";
/// What one size is.
const SIZE: &str = "a length with its unit, a span, or the name of a range";
/// More sizes than anybody stocks.
const MOST: usize = 100;
/// Largest size, 1 km: beyond it only a slip of the pen can lie.
const LARGEST: Length = Length::from_mm(1_000_000);

/// One size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// What it is called: `34 in`, `M`.
    pub label: String,
    /// What takes the place of `measure.value`.
    pub value: Length,
    /// Where it stands.
    pub place: Option<Place>,
}

/// The sizes in stock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// From the smallest to the largest.
    pub sizes: Vec<Size>,
    /// The named range that they are, if they are one.
    pub range: Option<&'static str>,
    /// How the sizes of a named range are taken, whatever the job says of its measure.
    pub taken: Option<Taken>,
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
        Value::Text(text) => vec![(text.clone(), leaf.place.clone())],
        Value::List(all) if !all.is_empty() => all.clone(),
        other => {
            let found = match other {
                Value::Number(n) => format!("the bare number {n}"),
                Value::List(_) => "an empty list".to_owned(),
                Value::Bool(_) | Value::Text(_) => "a truth value".to_owned(),
                Value::Other(kind) => format!("a TOML {kind}"),
            };
            reader.find(unquoted(found).at(Some(leaf.place.clone())));
            return None;
        }
    };
    let alone = items.len() == 1;
    for (text, place) in items {
        let text = words(&text);
        match stock::find(&text) {
            Some(range) if alone => {
                let named = range.sizes().into_iter();
                let place = Some(place);
                stock.sizes = named
                    .map(|(label, value)| Size { label, value, place: place.clone() })
                    .collect();
                stock.range = Some(range.name);
                stock.taken = Some(match range.of {
                    Of::Body => Taken::Tape,
                    Of::Belt => Taken::BendToHole,
                });
            }
            Some(_) => reader.find(
                bad("bad-value", "a named range stands alone", place)
                    .held(format!("`{text}` among other sizes"), "one range, or lengths")
                    .remedy(format!("write stock.sizes = \"{text}\", or only lengths")),
            ),
            None => match sizes(&text) {
                Ok(found) if stock.sizes.len() + found.len() <= MOST => {
                    for (label, value) in found {
                        add(reader, &mut stock, label, value, &place);
                    }
                }
                Ok(found) => reader.find(
                    bad("bad-value", "these are more sizes than anybody stocks", place)
                        .held(
                            format!("{} sizes", stock.sizes.len() + found.len()),
                            format!("at most {MOST}"),
                        )
                        .remedy("take larger steps, or fewer sizes"),
                ),
                Err(finding) => reader.find((*finding).at(Some(place))),
            },
        }
    }
    stock.chosen = chosen(reader, &stock, &size);
    (!stock.sizes.is_empty()).then_some(stock)
}

fn unquoted(found: String) -> Finding {
    let message = "each size stands in quotes, with its unit";
    Finding::new("bad-value", Severity::Error, message)
        .held(found, SIZES)
        .remedy("write each size as a text: [\"32 in\", \"34 in\"]")
}

fn bad(rule: &'static str, message: impl Into<String>, place: Place) -> Finding {
    Finding::new(rule, Severity::Error, message).at(Some(place))
}

/// Adds a size if it is larger than the one before.
fn add(
    reader: &Reader<'_>,
    stock: &mut Stock,
    label: String,
    value: Length,
    place: &Place,
) {
    let before = stock.sizes.last().filter(|before| before.value >= value);
    let Some(before) = before else {
        stock.sizes.push(Size { label, value, place: Some(place.clone()) });
        return;
    };
    let twin = stock.sizes.iter().find(|s| s.value == value);
    let (message, remedy) = match twin {
        Some(_) => ("a size stands in the list twice", "take one of the two out".into()),
        None => (
            "the sizes do not ascend",
            format!("put `{label}` before `{}`", before.label),
        ),
    };
    let after = twin.unwrap_or(before);
    reader.find(
        bad("stock-order", message, place.clone())
            .held(
                format!("`{label}` after `{}`", after.label),
                "each larger than the last",
            )
            .remedy(remedy),
    );
}

/// Label and length of each size that a text gives.
fn sizes(text: &str) -> Result<Vec<(String, Length)>, Box<Finding>> {
    if text.contains(" to ") {
        return span(text);
    }
    if text.starts_with('[') {
        return Err(Box::new(unquoted(format!("`{text}`"))));
    }
    let starts = |c: char| c.is_ascii_digit() || "-−+.,½¼¾⅛⅜⅝⅞⅓⅔".contains(c);
    if !text.starts_with(starts) {
        let names = stock::REGISTER.iter().map(|r| r.name);
        let message = format!("no range of sizes is called `{text}`");
        return Err(Box::new(
            Finding::new("unknown-range", Severity::Error, message)
                .held(format!("`{text}`"), SIZE)
                .remedy(nearest(text, names)),
        ));
    }
    let length = length(text)?;
    Ok(vec![(label(length, unit(text)), length)])
}

/// `28 to 46 in by 2 in`: the unit of the end serves where another has none.
fn span(text: &str) -> Result<Vec<(String, Length)>, Box<Finding>> {
    let wrong = |what: &str, remedy: &str| {
        let finding = Finding::new("bad-value", Severity::Error, what)
            .held(format!("`{text}`"), "a span such as \"28 to 46 in by 2 in\"");
        Box::new(finding.remedy(remedy))
    };
    let parts = text.split_once(" to ").and_then(|(first, rest)| {
        let (last, step) = rest.split_once(" by ")?;
        Some((first, last, step))
    });
    let Some((first, last, step)) = parts else {
        return Err(wrong(
            "a span of sizes has a step",
            "write first, last and step: \"28 to 46 in by 2 in\"",
        ));
    };
    let shared = unit(last);
    let with_unit = |text: &str| {
        if unit(text).is_empty() { format!("{text} {shared}") } else { text.to_owned() }
    };
    let (first, last) = (length(&with_unit(first))?, length(last)?);
    let step = length(&with_unit(step))?;
    if last <= first {
        return Err(wrong("a span of sizes ascends", "put the smallest size first"));
    }
    let (whole, left) =
        ((last - first).nm() / step.nm(), (last - first).nm() % step.nm());
    if left != 0 {
        let end = |n: i64| label(first + step * n, shared);
        return Err(wrong(
            "this span is no whole number of steps",
            &format!(
                "end it at {} or {}, or take another step",
                end(whole),
                end(whole + 1)
            ),
        ));
    }
    // Beyond `MOST` only how many there are matters.
    let sizes = (0..=whole).take(10 * MOST).map(|n| first + step * n);
    Ok(sizes.map(|length| (label(length, shared), length)).collect())
}

/// A size's length: more than nothing.
fn length(text: &str) -> Result<Length, Box<Finding>> {
    let bad = |message: &str, found: String, remedy: &str| {
        let finding = Finding::new("bad-length", Severity::Error, message);
        Box::new(finding.held(found, SIZE).remedy(remedy))
    };
    let remedy = "give the number and its unit in quotes: \"34 1/2 in\", \"865 mm\"";
    match Length::parse(text) {
        Ok(length) if length <= Length::ZERO || length > LARGEST => {
            let message = "no strap has such a size";
            Err(bad(message, length.both(), "look at the number and its unit"))
        }
        Ok(length) => Ok(length),
        Err(error) => Err(bad(error.found(), format!("`{text}`"), remedy)),
    }
}

/// The letters or signs that a length ends in.
fn unit(text: &str) -> &str {
    let is_unit =
        |c: char| c.is_alphabetic() || matches!(c, '"' | '″' | '”' | '\'' | '′');
    text.find(is_unit).map_or("", |at| text[at..].trim())
}

/// A length as it is called in `unit`: an inch in fractions, the metre's parts in decimals.
fn label(length: Length, unit: &str) -> String {
    let tape = length.tape();
    match unit.to_lowercase().as_str() {
        "mm" => length.to_string(),
        // The digits of a tenth, a thousandth, in mm are those of the whole in cm, m.
        "cm" => Length::from_nm(length.nm() / 10).to_string().replace("mm", "cm"),
        "m" => Length::from_nm(length.nm() / 1_000).to_string().replace("mm", "m"),
        _ if tape.rest == Length::ZERO => tape.to_string(),
        _ => length.to_string(),
    }
}

/// Which size `stock.size` names.
fn chosen(reader: &Reader<'_>, stock: &Stock, said: &Said<String>) -> Option<usize> {
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
            .at(said.place.clone())
            .held(format!("`{word}`"), format!("one of: {}", labels.join(", ")))
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
    let Some(place) = size.place.clone() else { return Table::default() };
    let entry = |key: &str, node: Node, key_place: &Place| Entry {
        key: key.to_owned(),
        key_place: key_place.clone(),
        node,
        used: Cell::new(false),
    };
    let text = |text: String| {
        Node::Leaf(Leaf { value: Value::Text(text), place: place.clone() })
    };
    let mut entries = vec![entry("value", text(size.value.to_string()), &place)];
    let taken = stock.taken.map(|t| entry("taken", text(t.word().to_owned()), &place));
    entries.extend(taken);
    let table = Node::Table(Table { entries });
    Table { entries: vec![entry("measure", table, &measure.key_place)] }
}

/// Says that sizes are of no use to a strap without a measure.
pub(super) fn needs_measure(top: &Section<'_, '_>) {
    top.lacks(
        "measure",
        "what a size takes the place of: a strap that closes round a body",
    );
}
