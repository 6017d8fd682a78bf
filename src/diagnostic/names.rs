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

/// Whether a word is a name but for a slip or two.
pub fn is_near(word: &str, name: &str) -> bool {
    let is_short = word.len() <= LONGEST_WORD && name.len() <= LONGEST_WORD;
    is_short && strsim::damerau_levenshtein(word, name) * 3 <= name.chars().count().max(3)
}

/// Most other things that one finding names.
const MOST_OTHERS: usize = 10;

/// A message with what others of its kind are about: `` `a` is missing (and `b`, `c`) ``. Of
/// those it says what is quoted first, or what stands before the words that end both.
pub fn and_others(message: &str, others: &[String]) -> String {
    if others.is_empty() {
        return message.to_owned();
    }
    let subject = |other: &String| {
        let quoted = other.strip_prefix('`').and_then(|rest| rest.split_once('`'));
        if let Some((name, _)) = quoted {
            return format!("`{name}`");
        }
        let shared = message.split(' ').rev().zip(other.split(' ').rev());
        let shared = shared.take_while(|(a, b)| a == b).count();
        let words: Vec<&str> = other.split(' ').collect();
        words[..words.len() - shared].join(" ")
    };
    let mut names: Vec<String> = others.iter().take(MOST_OTHERS).map(subject).collect();
    if let Some(more @ 1..) = others.len().checked_sub(MOST_OTHERS) {
        names.push(format!("{more} more"));
    }
    format!("{message} (and {})", names.join(", "))
}

/// `did you mean ...` with the nearest of `names`, or a list of them.
pub fn nearest<'n>(word: &str, names: impl Iterator<Item = &'n str>) -> String {
    let all: Vec<&str> = names.collect();
    let near = all
        .iter()
        .filter(|n| word.len() <= LONGEST_WORD && n.len() <= LONGEST_WORD)
        .map(|n| (strsim::damerau_levenshtein(word, n), *n))
        .filter(|(d, n)| *d <= n.chars().count().max(3) / 2);
    // Of `hole`, `hole-row` is more likely meant than `fold`.
    let begins = |n: &&&str| word.len() > 2 && n.starts_with(word);
    let begun = all.iter().filter(begins).min_by_key(|n| n.len());
    match begun.copied().or(near.min().map(|(_, name)| name)) {
        Some(name) => format!("did you mean `{name}`?"),
        None if all.is_empty() => "take it out".to_owned(),
        None => format!("choose {}", one_of(&all)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_others_are_about_is_named() {
        let others = |texts: &[&str]| texts.iter().map(|t| (*t).to_owned()).collect();
        let all: Vec<String> = others(&["`a.by` is missing", "`a.count` is missing"]);
        assert_eq!(
            and_others("`a.from` is missing", &all),
            "`a.from` is missing (and `a.by`, `a.count`)"
        );
        let all: Vec<String> = others(&["`34 zoll` has an unknown unit `zoll`"]);
        assert_eq!(
            and_others("`32 zoll` has an unknown unit `zoll`", &all),
            "`32 zoll` has an unknown unit `zoll` (and `34 zoll`)"
        );
        let all: Vec<String> = others(&["hole 4 lies over the edge"]);
        assert_eq!(
            and_others("hole 3 lies over the edge", &all),
            "hole 3 lies over the edge (and hole 4)"
        );
        assert_eq!(and_others("one", &[]), "one");
        let many: Vec<String> = (0..14).map(|n| format!("{n} is short")).collect();
        assert!(and_others("x is short", &many).ends_with("8, 9, 4 more)"));
    }

    #[test]
    fn a_slip_or_two_is_near() {
        for (word, name) in
            [("straps", "strap"), ("messure", "measure"), ("tempalte", "template")]
        {
            assert!(is_near(word, name), "{word}");
        }
        for (word, name) in [("row", "strap"), ("title", "template"), ("rib", "tip")] {
            assert!(!is_near(word, name), "{word}");
        }
    }
}
