//! Findings about names that do not exist, with the nearest name that does.

use super::{Finding, RuleId, Severity};

/// Longest word for which a nearest name is looked for, in bytes.
const LONGEST_WORD: usize = 60;
/// Most names that one finding lists.
const MOST_NAMES: usize = 40;

impl Finding {
    /// An error: nothing of that kind, such as `piece`, has the name `word`.
    pub fn unknown_name<'n>(
        rule: RuleId,
        kind: &str,
        word: &str,
        names: impl IntoIterator<Item = &'n str>,
    ) -> Self {
        let names: Vec<&str> = names.into_iter().collect();
        Self::new(rule, Severity::Error, format!("no {kind} is called `{word}`"))
            .expected(format!("`{word}`"), one_of(&names))
            .remedy(nearest(word, names.into_iter()))
    }
}

/// `one of: a, b, c`.
pub fn one_of(names: &[&str]) -> String {
    match names.len().checked_sub(MOST_NAMES) {
        Some(more @ 1..) => {
            format!("one of: {} and {more} more", names[..MOST_NAMES].join(", "))
        }
        _ => format!("one of: {}", names.join(", ")),
    }
}

/// `did you mean ...` with the nearest of `names`, or a list of them.
pub fn nearest<'n>(word: &str, names: impl Iterator<Item = &'n str>) -> String {
    let all: Vec<&str> = names.collect();
    let best = all
        .iter()
        .filter(|n| word.len() <= LONGEST_WORD && n.len() <= LONGEST_WORD)
        .map(|n| (strsim::damerau_levenshtein(word, n), *n))
        .filter(|(d, n)| *d <= n.chars().count().max(3) / 2)
        .min();
    match best {
        Some((_, name)) => format!("did you mean `{name}`?"),
        None if all.is_empty() => "take it out".to_owned(),
        None => format!("choose {}", one_of(&all)),
    }
}
