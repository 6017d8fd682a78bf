//! The sizes that are kept in stock, and which of them a job is for.

mod texts;

use super::section::{Reader, Section, reader};
use super::{MeasureMethod, Spanned};
use crate::diagnostic::{Finding, Span, and_others};
use crate::geom::Length;
use crate::input::{Entry, Leaf, Node, Table, Takes, Value};
use crate::job::rule;
use crate::stock::{self, SizeBasis};
use texts::{sizes, unit, unquoted};

/// What `stock.sizes` takes.
const SIZES: &str =
    "a list of lengths, a span such as \"28 to 46 in by 2 in\", or the name of a range";
/// What one size is.
const SIZE: &str = "a length with its unit, a span, or the name of a range";
/// Most sizes of one stock.
const MOST: usize = 100;

/// One size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// What it is called: `34 in`, `M`.
    pub label: String,
    /// The `measure.value` of a strap of this size.
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

    /// The sizes on either side of a length that is not a size.
    fn neighbours(&self, word: &str) -> Option<String> {
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

    /// The index of the size that `word` names by its label, its length, or the number of
    /// its label without the unit.
    pub fn find(&self, word: &str) -> Option<usize> {
        let word = with_single_spaces(word);
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

fn with_single_spaces(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Reads the table `stock`; `None` where there is none, or no size in it.
pub(super) fn read(reader: &Reader<'_>) -> Option<Stock> {
    let table = reader.section("stock")?;
    let size = table.text("size");
    table.takes("sizes", Takes::Names);
    let leaf = table.need("sizes", SIZES)?;
    let items = match &leaf.value {
        Value::Text(text) => vec![(text.clone(), leaf.span.clone())],
        Value::List(all) if !all.is_empty() => all.clone(),
        other => {
            let found = match other {
                Value::Number(n) => format!("the bare number {n}"),
                other => other.found(),
            };
            reader.find(unquoted(found).at(Some(leaf.span.clone())));
            return None;
        }
    };
    let is_alone = items.len() == 1;
    let mut stock = Stock { sizes: Vec::new(), range: None, taken: None, chosen: None };
    let mut mistakes = Mistakes::default();
    for (text, span) in items {
        let text = with_single_spaces(&text);
        let found = match stock::find(&text) {
            Some(range) if is_alone => {
                stock.range = Some(range.name);
                stock.taken = Some(match range.basis {
                    SizeBasis::Body => MeasureMethod::Tape,
                    SizeBasis::Belt => MeasureMethod::BendToHole,
                });
                Ok(range.sizes())
            }
            Some(_) => {
                let remedy = format!("write stock.sizes = \"{text}\", or only lengths");
                let wrong = Finding::error(rule::BAD_VALUE, "a named range stands alone")
                    .expected(
                        format!("`{text}` among other sizes"),
                        "one range, or lengths",
                    )
                    .remedy(remedy);
                Err(Box::new(wrong))
            }
            None => sizes(&text),
        };
        let found = match found {
            Ok(found) => found,
            Err(wrong) => {
                mistakes.add(&text, wrong.at(Some(span)));
                continue;
            }
        };
        let count = stock.sizes.len() + found.len();
        if count > MOST {
            let wrong = Finding::error(rule::BAD_VALUE, "these are too many sizes")
                .at(Some(span))
                .expected(format!("{count} sizes"), format!("at most {MOST}"))
                .remedy("take larger steps, or fewer sizes");
            mistakes.add(&text, wrong);
            break;
        }
        stock.sizes.extend(found.into_iter().map(|(label, value)| Size {
            label,
            value,
            span: Some(span.clone()),
        }));
    }
    put_in_order(reader, &mut stock.sizes);
    // A size that is looked for may be the one that could not be read.
    if mistakes.0.is_empty() {
        stock.chosen = find_chosen(reader, &stock, &size);
    }
    mistakes.0.into_iter().for_each(|mistake| reader.find(mistake.finding()));
    (!stock.sizes.is_empty()).then_some(stock)
}

/// A mistake in an entry, and the messages on other entries that have the same.
struct Mistake {
    finding: Finding,
    /// Its message without the text of the entry.
    kind: String,
    others: Vec<String>,
}

impl Mistake {
    fn finding(self) -> Finding {
        let Self { finding, others, .. } = self;
        let message = and_others(&finding.message, &others);
        Finding { message, ..finding }
    }
}

/// The mistakes in the entries, one of each kind: units that are left out of a whole list
/// are one mistake.
#[derive(Default)]
struct Mistakes(Vec<Mistake>);

impl Mistakes {
    fn add(&mut self, text: &str, finding: Finding) {
        let kind = finding.message.replace(text, "");
        let is_about_text = kind != finding.message;
        match self.0.iter_mut().find(|other| is_about_text && other.kind == kind) {
            Some(other) => other.others.push(finding.message),
            None => self.0.push(Mistake { finding, kind, others: Vec::new() }),
        }
    }
}

/// Sorts the sizes and removes doubles. A double is a finding, and so is, once, that the
/// sizes do not ascend.
fn put_in_order(reader: &Reader<'_>, sizes: &mut Vec<Size>) {
    let find = |message: &str, size: &Size, found: String, remedy: String| {
        reader.find(
            Finding::error(rule::STOCK_ORDER, message)
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
        // `28, 300, 32, 34`: all but one ascend.
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

/// The index of the size that `stock.size` names.
fn find_chosen(
    reader: &Reader<'_>,
    stock: &Stock,
    given: &Spanned<String>,
) -> Option<usize> {
    let word = &given.value;
    if word.trim().is_empty() {
        return None;
    }
    let found = stock.find(word);
    if found.is_none() {
        let unknown = Finding::unknown_name(
            rule::UNKNOWN_SIZE,
            "size of this stock",
            word,
            stock.labels(),
        )
        .at(given.span.clone());
        reader.find(match stock.neighbours(word) {
            Some(remedy) => unknown.remedy(remedy),
            None => unknown,
        });
    }
    found
}

/// What the chosen size sets in the job: `measure.value`, and `measure.taken` where the size
/// comes from a named range. Nothing for a strap without a measure.
pub(super) fn chosen_size(root: &Table) -> Table {
    let stock = read(&reader(root));
    let size = stock.as_ref().and_then(|s| Some((s, s.size()?)));
    let (Some((stock, size)), Some(measure)) = (size, root.get("measure")) else {
        return Table::default();
    };
    let Some(span) = size.span.clone() else { return Table::default() };
    let text = |key: &str, text: String| {
        let node = Node::Leaf(Leaf { value: Value::Text(text), span: span.clone() });
        Entry { key: key.to_owned(), key_span: span.clone(), node }
    };
    let taken = stock.taken.map(|method| text("taken", method.word().to_owned()));
    let value = text("value", size.value.to_string());
    let entries = [Some(value), taken].into_iter().flatten().collect();
    let (key, key_span) = (measure.key.clone(), measure.key_span.clone());
    let node = Node::Table(Table { entries });
    Table { entries: vec![Entry { key, key_span, node }] }
}

/// Finds that a strap with sizes has no measure.
pub(super) fn needs_measure(top: &Section<'_, '_>) {
    top.lacks("measure", "the measure that a size replaces: a strap around a body");
}
