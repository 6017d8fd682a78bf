//! Limits on the texts that are read and on the findings that are shown.

use super::{Finding, RuleId};

/// Most bytes of a text that a person writes: 1 MiB.
const MOST_BYTES: usize = 1 << 20;
/// Most bytes of one of its lines, blanks at its end aside: 4 KiB.
const LONGEST_LINE: usize = 4 << 10;
/// Most findings that are kept: nobody would read the rest.
const MOST_FINDINGS: usize = 100;
/// Most characters of one part of a finding.
const MOST_CHARS: usize = 1_000;

/// What makes a text too large to be read; `None` for one within the limits.
pub fn too_large(text: &str) -> Option<String> {
    if text.len() > MOST_BYTES {
        return Some("a text longer than 1 MiB".to_owned());
    }
    let long = text.lines().position(|l| l.trim_end().len() > LONGEST_LINE)?;
    Some(format!("line {} is longer than 4 KiB", long + 1))
}

/// Keeps the first hundred findings, the most severe ones first. If there are more, a
/// further finding of `rule` says how many, and points at the first that was dropped.
pub fn cap_findings(rule: RuleId, findings: &mut Vec<Finding>) {
    let Some(more) = findings.len().checked_sub(MOST_FINDINGS).filter(|n| *n > 0) else {
        return;
    };
    // The sort is stable: findings of one severity keep their order.
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    let rest = findings.split_off(MOST_FINDINGS);
    let Some(first) = rest.into_iter().next() else { return };
    findings.push(
        Finding::new(rule, first.severity, "there are more findings")
            .at(first.span)
            .expected(format!("{more} more, this is the next"), "few enough to read")
            .remedy("mend the first ones and try again"),
    );
}

/// The text, cut off with an ellipsis where it is longer than anyone reads.
pub(super) fn shortened(mut text: String) -> String {
    if text.len() > MOST_CHARS
        && let Some((end, _)) = text.char_indices().nth(MOST_CHARS)
    {
        text.truncate(end);
        text.push('…');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Severity, forbids_print};

    #[test]
    fn texts_that_are_too_large_are_refused() {
        assert_eq!(too_large(&"a = 1\n".repeat(1_000)), None);
        assert_eq!(
            too_large(&"a\n".repeat(600_000)).unwrap(),
            "a text longer than 1 MiB"
        );
        let line = format!("a\n{}\n", "b".repeat(5_000));
        assert_eq!(too_large(&line).unwrap(), "line 2 is longer than 4 KiB");
    }

    #[test]
    fn findings_are_capped_and_no_error_is_lost() {
        let note = || Finding::new(RuleId::new("a"), Severity::Note, "x".repeat(5_000));
        let mut all: Vec<Finding> = std::iter::repeat_with(note).take(250).collect();
        all.push(Finding::new(RuleId::new("b"), Severity::Error, "é".repeat(1_001)));
        cap_findings(RuleId::new("more"), &mut all);
        assert_eq!(all.len(), 101);
        assert!(forbids_print(&all) && all[0].rule == RuleId::new("b"));
        assert!(all[100].found.starts_with("151 more"), "{}", all[100].found);
        assert_eq!(all[0].message.chars().count(), 1_001);
        let mut hundred: Vec<Finding> = std::iter::repeat_with(note).take(100).collect();
        cap_findings(RuleId::new("more"), &mut hundred);
        assert_eq!(hundred.len(), 100);
    }
}
