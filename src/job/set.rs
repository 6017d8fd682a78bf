//! The values of `--set KEY=VALUE`, as trees that are merged into the job.

use crate::diagnostic::{Finding, Sources, Span};
use crate::geom::Ratio;
use crate::input::{Entry, Leaf, Node, Table, Value, parse_value, to_toml};
use crate::job::rule;

/// The name that a `--set` has among the sources.
pub const SET: &str = "--set";

/// Most dots in a key. A job has one; more are a mistake.
const MOST_DOTS: usize = 7;

/// Reads one `--set KEY=VALUE`. A number, a truth value, a list or a quoted text is read as
/// TOML and anything else as plain text, so that `--set strap.width="38 mm"` works from a
/// shell that removes the quotes.
pub(super) fn parse_set(
    sources: &mut Sources,
    word: &str,
    findings: &mut Vec<Finding>,
) -> Table {
    let source = sources.add(SET, word);
    let is_key =
        |key: &str| !key.trim().is_empty() && key.matches('.').count() <= MOST_DOTS;
    let Some((key, text)) = word.split_once('=').filter(|(key, _)| is_key(key)) else {
        let shown: String = word.chars().take(40).collect();
        findings.push(
            Finding::error(rule::JOB_SYNTAX, "`--set` takes KEY=VALUE")
                .at(Some(Span { source, range: 0..word.len() }))
                .expected(format!("`{shown}`"), "a dotted key, an equals sign, a value")
                .remedy("write it like --set strap.width=\"38 mm\""),
        );
        return Table::default();
    };
    let key_span = Span { source, range: 0..key.len() };
    let start = key.len() + 1;
    let value = parse_value(text, source, start).unwrap_or_else(|| {
        let span = Span { source, range: start..word.len() };
        // A spreadsheet has numbers that TOML has not: `04` and `0,5`.
        let is_number = Ratio::parse(text).is_some();
        let value = if is_number { Value::Number } else { Value::Text };
        Node::Leaf(Leaf { value: value(text.to_owned()), span })
    });
    let table = |part: &str, node| {
        let (key, key_span) = (part.trim().to_owned(), key_span.clone());
        Table { entries: vec![Entry { key, key_span, node }] }
    };
    let mut parts = key.trim().rsplit('.');
    let innermost = table(parts.next().unwrap_or_default(), value);
    parts.fold(innermost, |inner, part| table(part, Node::Table(inner)))
}

/// What `--set` words give: dotted keys with their values in TOML, and the mistakes in them.
pub fn set_values(words: &[String]) -> (Vec<(String, String)>, Sources, Vec<Finding>) {
    let (mut sources, mut findings) = (Sources::default(), Vec::new());
    let mut all = Table::default();
    for word in words {
        all.merge(parse_set(&mut sources, word, &mut findings));
    }
    let value = |span: &Span| {
        let text = sources.get(span.source)?.text.get(span.range.clone())?;
        Some((all.key_at(span)?, to_toml(text)))
    };
    let values = all.spans().iter().filter_map(value).collect();
    (values, sources, findings)
}
