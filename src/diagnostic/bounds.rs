//! What a text may be, and how much is said of it: whatever is read ends, and so does what is
//! shown.

use super::Finding;

/// Most bytes of a text that a person writes, 1 MiB, and of one line of it, 4 KiB; blanks
/// at its end aside.
const MOST_BYTES: usize = 1 << 20;
const LONGEST_LINE: usize = 4 << 10;
/// Most findings that are kept: the rest would not be read by anyone.
const MOST_FINDINGS: usize = 100;
/// Most letters of one part of a finding.
const MOST_LETTERS: usize = 1_000;

/// Why a text is none that a person wrote; `None` for one that may be read.
pub fn too_large(text: &str) -> Option<String> {
    if text.len() > MOST_BYTES {
        return Some("a text longer than 1 MiB".to_owned());
    }
    let long = text.lines().position(|l| l.trim_end().len() > LONGEST_LINE)?;
    Some(format!("line {} is longer than 4 KiB", long + 1))
}

/// The first hundred of the findings, the weightiest kept; a further one by this rule tells
/// how many more there are.
pub fn few(rule: &'static str, findings: &mut Vec<Finding>) {
    let Some(more) = findings.len().checked_sub(MOST_FINDINGS).filter(|n| *n > 0) else {
        return;
    };
    // Stable: those of a weight stay in their order.
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

/// A text cut down to what can be read.
pub(super) fn brief(mut text: String) -> String {
    if text.len() > MOST_LETTERS
        && let Some((end, _)) = text.char_indices().nth(MOST_LETTERS)
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
    fn texts_that_nobody_wrote_are_told() {
        assert_eq!(too_large(&"a = 1\n".repeat(1_000)), None);
        assert_eq!(
            too_large(&"a\n".repeat(600_000)).unwrap(),
            "a text longer than 1 MiB"
        );
        let line = format!("a\n{}\n", "b".repeat(5_000));
        assert_eq!(too_large(&line).unwrap(), "line 2 is longer than 4 KiB");
    }

    #[test]
    fn findings_end_and_none_that_forbids_is_lost() {
        let note = || Finding::new("a", Severity::Note, "x".repeat(5_000));
        let mut all: Vec<Finding> = std::iter::repeat_with(note).take(250).collect();
        all.push(Finding::new("b", Severity::Error, "é".repeat(1_001)));
        few("more", &mut all);
        assert_eq!(all.len(), 101);
        assert!(forbids_print(&all) && all[0].rule == "b");
        assert!(all[100].found.starts_with("151 more"), "{}", all[100].found);
        assert_eq!(all[0].message.chars().count(), 1_001);
        let mut hundred: Vec<Finding> = std::iter::repeat_with(note).take(100).collect();
        few("more", &mut hundred);
        assert_eq!(hundred.len(), 100);
    }
}
