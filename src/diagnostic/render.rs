//! Findings as text over the lines that they are about, and as JSON.

use super::shown::{shown, shown_source};
use super::{Finding, RuleId, Severity, Sources, counted};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use serde::Serialize;
use std::borrow::Cow;

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

/// A finding as a script reads it: one object of the JSON.
#[derive(Debug, Serialize)]
pub struct FindingRecord<'a> {
    rule: RuleId,
    severity: Severity,
    message: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    column: Option<usize>,
    found: &'a str,
    required: &'a str,
    remedy: Cow<'a, str>,
}

/// All findings as a JSON array: rule, severity, message, file, part of it, line and
/// column (from 1), found, required, remedy.
pub fn json(findings: &[Finding], sources: &Sources) -> String {
    serde_json::to_string_pretty(&records(findings, sources))
        .unwrap_or_else(|e| format!("\"{e}\""))
}

/// The records that [`json`] writes, for a part of a larger answer.
pub fn records<'a>(
    findings: &'a [Finding],
    sources: &'a Sources,
) -> Vec<FindingRecord<'a>> {
    findings
        .iter()
        .map(|f| {
            let span = f.span.as_ref();
            let source = span.and_then(|p| sources.get(p.source));
            let line_column = span.and_then(|p| sources.line_column(p));
            FindingRecord {
                rule: f.rule,
                severity: f.severity,
                message: &f.message,
                file: source.map(|s| s.name.as_str()),
                part: source.map(|s| s.part.as_str()).filter(|p| !p.is_empty()),
                line: line_column.map(|(line, _)| line),
                column: line_column.map(|(_, column)| column),
                found: &f.found,
                required: &f.required,
                remedy: f.remedy_by_flag(),
            }
        })
        .collect()
}
