//! Findings as words over the text that they are about, and as JSON.

use super::{Finding, Severity, Sources, counted};
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use serde::Serialize;

/// How text is dressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Looks {
    /// Letters only.
    Plain,
    /// With terminal colours.
    Colours,
}

/// All findings, one below the other, each over the line that asked for it.
pub fn text(findings: &[Finding], sources: &Sources, looks: Looks) -> String {
    let renderer = match looks {
        Looks::Plain => Renderer::plain(),
        Looks::Colours => Renderer::styled(),
    };
    let mut all = String::new();
    for finding in findings {
        let level = match finding.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
            Severity::Note => Level::NOTE,
        };
        let mut group = level.primary_title(finding.message.as_str()).id(finding.rule);
        let mut elements: Vec<annotate_snippets::Element<'_>> = Vec::new();
        let source =
            finding.span.as_ref().and_then(|p| Some((p, sources.get(p.source)?)));
        if let Some((span, source)) = source {
            let label = format!("found {}", finding.found);
            let snippet = Snippet::source(source.text.as_str())
                .path(source.called())
                .line_start(source.line)
                .annotation(
                    AnnotationKind::Primary.span(span.range.clone()).label(label),
                );
            elements.push(snippet.into());
        } else {
            elements.push(
                Level::NOTE.with_name(Some("found")).message(&finding.found).into(),
            );
        }
        let required = Level::NOTE.with_name(Some("required"));
        elements.push(required.message(finding.required.as_str()).into());
        elements.push(Level::HELP.message(finding.remedy.as_str()).into());
        group = group.clone();
        let report = [group.elements(elements)];
        all.push_str(&renderer.render(&report));
        all.push_str("\n\n");
    }
    all
}

/// How many findings of each weight: `2 errors, 1 warning`.
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

/// A finding as a script reads it.
#[derive(Debug, Serialize)]
pub struct Row<'a> {
    rule: &'a str,
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
    remedy: &'a str,
}

/// All findings as a JSON array: rule, severity, message, file, part of it, line and
/// column (from 1), found, required, remedy.
pub fn json(findings: &[Finding], sources: &Sources) -> String {
    let rows = rows(findings, sources);
    serde_json::to_string_pretty(&rows).unwrap_or_else(|e| format!("\"{e}\""))
}

/// The same, to be a part of a larger answer.
pub fn rows<'a>(findings: &'a [Finding], sources: &'a Sources) -> Vec<Row<'a>> {
    findings
        .iter()
        .map(|f| {
            let span = f.span.as_ref();
            let source = span.and_then(|p| sources.get(p.source));
            let line_column = span.and_then(|p| sources.line_column(p));
            Row {
                rule: f.rule,
                severity: f.severity,
                message: &f.message,
                file: source.map(|s| s.name.as_str()),
                part: source.map(|s| s.part.as_str()).filter(|p| !p.is_empty()),
                line: line_column.map(|(line, _)| line),
                column: line_column.map(|(_, column)| column),
                found: &f.found,
                required: &f.required,
                remedy: &f.remedy,
            }
        })
        .collect()
}
