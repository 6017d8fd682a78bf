//! The table of words: one entry a phrase, in the order English, German, French, Spanish,
//! Italian, Polish. `{0}`, `{1}` stand for what is filled in. Each file has the phrases of
//! one subject.

mod hardware;
mod marks;
mod names;
mod sheets;
mod ticket;
mod work;

/// A phrase of the sheets, in every language.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    name: &'static str,
    in_all: [&'static str; 6],
}

/// Phrases of one subject, `Name: "in English", "in German", ...;`, as constants of [`Word`]:
/// one that is forgotten in a language does not compile.
macro_rules! phrases {
    ($($(#[$about:meta])* $word:ident: $($text:literal),+;)+) => {
        #[expect(non_upper_case_globals, reason = "phrases are told apart like variants")]
        impl Word {
            $($(#[$about])* pub const $word: Self =
                Self { name: stringify!($word), in_all: [$($text),+] };)+
        }

        /// All of this subject.
        pub(super) const ALL: &[Word] = &[$(Word::$word),+];
    };
}
use phrases;

/// Every subject; one that is left out here is never used, which does not compile either.
const SUBJECTS: [&[Word]; 6] =
    [sheets::ALL, marks::ALL, ticket::ALL, hardware::ALL, work::ALL, names::ALL];

impl Word {
    /// Every phrase.
    pub fn all() -> impl Iterator<Item = Self> {
        SUBJECTS.into_iter().flatten().copied()
    }

    /// The name that the program's own templates give to something, if it is one.
    pub(super) fn named(english: &str) -> Option<Self> {
        names::ALL.iter().find(|w| w.in_all[0] == english).copied()
    }

    /// Its name in the table.
    pub fn name(self) -> &'static str {
        self.name
    }

    /// The phrase in every language, in the order of [`super::Language::ALL`].
    pub(super) fn in_all(&self) -> &[&'static str; 6] {
        &self.in_all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lettering;
    use crate::words::Language;

    /// What a phrase leaves to be filled in, in order of the numbers.
    fn gaps(text: &str) -> Vec<&str> {
        let mut all: Vec<&str> =
            text.split('{').skip(1).filter_map(|part| part.split('}').next()).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    #[test]
    fn every_phrase_is_there_in_every_language() {
        for word in Word::all() {
            let (name, english) = (word.name(), word.in_all()[0]);
            for (text, language) in word.in_all().iter().zip(Language::ALL) {
                let what = format!("{name} in {}", language.code());
                assert!(!text.trim().is_empty(), "{what}");
                assert_eq!(gaps(text), gaps(english), "{what}");
                assert_eq!(lettering::missing(text), Vec::<char>::new(), "{what}");
            }
        }
    }
}
