//! Which line of the job a finding comes from, where it points at the template.
//!
//! A mark is asked for by one line and put where it is by others: a hole too near the edge
//! points at its diameter in the template, while the job gave the width. So each of the job's
//! own lines is left out in turn; that without which the finding is gone, or is made of fewer
//! marks, is the one to look at.

use super::{Prepared, staged};
use crate::diagnostic::{Finding, Severity, Span, and_others};
use crate::job::{self, JobText};

/// Most lines of a job that are tried one by one.
const MOST_LINES: usize = 80;

/// Turns what points at a template to the line of the job that makes it so, if one does.
pub(super) fn attribute(given: &JobText<'_>, prepared: &mut Prepared) {
    let is_own = |span: &Span| {
        let source = prepared.sources.get(span.source);
        source.is_some_and(|s| span.source == 0 || s.name == job::SET)
    };
    let strays: Vec<usize> = (0..prepared.findings.len())
        .filter(|i| prepared.findings[*i].span.as_ref().is_some_and(|p| !is_own(p)))
        .collect();
    let lines = if strays.is_empty() { Vec::new() } else { given.lines() };
    if lines.len() > MOST_LINES {
        return;
    }
    let mut better: Vec<(usize, bool, bool, &Span)> = Vec::new();
    for line in &lines {
        let other = staged(given.without(line));
        if other.laid.is_none() {
            continue;
        }
        let count =
            |all: &[Finding], f: &Finding| all.iter().filter(|o| same(o, f)).count();
        // A line whose absence does other harm is the second best to look at.
        let harms = other.findings.iter().any(|f| {
            f.severity == Severity::Error
                && f.rule != job::rule::UNKNOWN_KEY
                && !prepared.findings.iter().any(|o| o.rule == f.rule)
        });
        for &i in &strays {
            let finding = &prepared.findings[i];
            let left = count(&other.findings, finding);
            // Where two lines do the same harm, leaving out one of them leaves fewer.
            if left < count(&prepared.findings, finding) {
                better.push((i, left == 0, !harms, line));
            }
        }
    }
    // Of several lines that would do, the last: what is measured comes first in a job, what
    // is chosen after it.
    better.sort_by_key(|(i, clears, is_harmless, _)| (*i, *clears, *is_harmless));
    for (i, .., line) in better {
        prepared.findings[i].span = Some(line.clone());
    }
}

/// Whether two findings are of one mistake, whatever they measured.
fn same(a: &Finding, b: &Finding) -> bool {
    a.rule == b.rule && a.span == b.span && a.severity == b.severity
}

/// Leaves one finding of each rule at a place: several holes that one line puts too near the
/// edge are one mistake.
pub(super) fn gather(findings: &mut Vec<Finding>) {
    let mut kept: Vec<(Finding, Vec<String>)> = Vec::new();
    for finding in findings.drain(..) {
        let twin = finding.span.as_ref().and_then(|span| {
            kept.iter_mut()
                .find(|(f, _)| f.rule == finding.rule && f.span.as_ref() == Some(span))
        });
        match twin {
            Some((first, others)) => {
                if first.message != finding.message && !others.contains(&finding.message)
                {
                    others.push(finding.message);
                }
            }
            None => kept.push((finding, Vec::new())),
        }
    }
    findings.extend(kept.into_iter().map(|(finding, others)| {
        let message = and_others(&finding.message, &others);
        Finding { message, ..finding }
    }));
}
