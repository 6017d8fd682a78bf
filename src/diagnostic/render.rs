//! Findings as text over the lines that they are about, and as JSON.

use super::shown::{shown, shown_source};
use super::{Finding, Severity, Sources, counted};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use serde_json::{Value, json};

/// How text for a terminal is styled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Characters only.
    Plain,
    /// With ANSI colours.
    Coloured,
}

/// All findings, one below the other, each over the line that asked for it.
pub fn text(findings: &[Finding], sources: &Sources, style: Style) -> String {
    let renderer = match style {
        Style::Plain => Renderer::plain(),
        Style::Coloured => Renderer::styled(),
    };
    findings.iter().map(|f| renderer.render(&[report(f, sources)]) + "\n\n").collect()
}

fn report<'a>(finding: &'a Finding, sources: &'a Sources) -> Group<'a> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(shown(&finding.message)).id(finding.rule.as_str());
    let note = |name, message: &'a str| {
        Level::NOTE.with_name(Some(name)).message(shown(message))
    };
    let required = note("required", &finding.required);
    let remedy = finding.remedy_by_flag();
    let remedy = Level::HELP.message(shown(&remedy).into_owned());
    let span = finding.span.as_ref();
    let group = match span.and_then(|s| Some((s, sources.get(s.source)?))) {
        Some((span, source)) => {
            let label = format!("found {}", shown(&finding.found));
            let (text, range) = shown_source(&source.text, span.range.clone());
            let found = AnnotationKind::Primary.span(range).label(label);
            let name = shown(&source.display_name()).into_owned();
            let snippet = Snippet::source(text).path(name);
            title.element(snippet.line_start(source.line).annotation(found))
        }
        None => title.element(note("found", &finding.found)),
    };
    group.element(required).element(remedy)
}

/// How many findings of each severity: `2 errors, 1 warning`.
pub fn summary(findings: &[Finding]) -> String {
    let words = [
        (Severity::Error, "error"),
        (Severity::Warning, "warning"),
        (Severity::Note, "note"),
    ];
    let counted: Vec<String> = words
        .iter()
        .map(|(s, w)| (findings.iter().filter(|f| f.severity == *s).count(), w))
        .filter(|(n, _)| *n > 0)
        .map(|(n, w)| counted(n, w))
        .collect();
    if counted.is_empty() { "no findings".to_owned() } else { counted.join(", ") }
}

/// All findings as a JSON array: rule, severity, message, file, part of it, line and
/// column (from 1), found, required, remedy.
pub fn json(findings: &[Finding], sources: &Sources) -> String {
    format!("{:#}", Value::from(records(findings, sources)))
}

/// The objects that [`json()`] writes, for a part of a larger answer.
pub fn records(findings: &[Finding], sources: &Sources) -> Vec<Value> {
    let record = |finding: &Finding| {
        let span = finding.span.as_ref();
        let source = span.and_then(|p| sources.get(p.source));
        let (line, column) = span.and_then(|p| sources.line_column(p)).unzip();
        without_nulls(json!({
            "rule": finding.rule,
            "severity": finding.severity,
            "message": finding.message,
            "file": source.map(|s| &s.name),
            "part": source.map(|s| &s.part).filter(|p| !p.is_empty()),
            "line": line,
            "column": column,
            "found": finding.found,
            "required": finding.required,
            "remedy": finding.remedy_by_flag(),
        }))
    };
    findings.iter().map(record).collect()
}

/// A JSON object without the keys that have no value.
pub fn without_nulls(mut object: Value) -> Value {
    if let Value::Object(keys) = &mut object {
        keys.retain(|_, value| !value.is_null());
    }
    object
}
