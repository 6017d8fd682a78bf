//! Numbers in sentences.

/// Most numbers that are listed one by one; of more, only the first three and the last are.
const MOST_LISTED: usize = 12;

/// `1 sheet`, `2 sheets`.
pub fn counted(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

/// `sheet 2`, `sheets 2 and 3`, `sheets 1, 2, 3 ... 40`, each number once and in order;
/// `no sheet` for none.
pub fn numbered(what: &str, numbers: impl IntoIterator<Item = usize>) -> String {
    let mut numbers: Vec<usize> = numbers.into_iter().collect();
    numbers.sort_unstable();
    numbers.dedup();
    let words: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => format!("no {what}"),
        [one] => format!("{what} {one}"),
        [a, b, c, .., last] if words.len() > MOST_LISTED => {
            format!("{what}s {a}, {b}, {c} ... {last}")
        }
        [first @ .., last] => format!("{what}s {} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_words_of_a_sentence() {
        assert_eq!([counted(1, "page"), counted(0, "page")], ["1 page", "0 pages"]);
        for (numbers, words) in [
            (vec![], "no sheet"),
            (vec![7, 7], "sheet 7"),
            (vec![3, 1], "sheets 1 and 3"),
            (vec![4, 2, 1], "sheets 1, 2 and 4"),
            ((5..40).collect(), "sheets 5, 6, 7 ... 39"),
        ] {
            assert_eq!(numbered("sheet", numbers), words);
        }
    }
}
