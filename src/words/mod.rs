//! The words on paper: one table of six languages, and how each writes numbers.
//!
//! Findings and the command line stay English; what a bench lays on leather does not.

mod language;
mod table;

pub use language::Language;
pub use table::Word;

use crate::geom::Length;
use std::fmt;

/// The units that lengths are written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Units {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches, to the nearest 1/32.
    Inches,
    /// Millimetres, then inches.
    Both,
}

impl Units {
    /// Every choice with the word for it on the command line.
    pub const NAMES: [(&'static str, Self); 3] =
        [("mm", Self::Millimetres), ("in", Self::Inches), ("both", Self::Both)];
}

/// How words and numbers are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Wording {
    /// The language of the words and of the decimal sign.
    pub language: Language,
    /// The units of lengths.
    pub units: Units,
}

impl Wording {
    /// The phrase as it stands in the table.
    pub fn say(self, word: Word) -> &'static str {
        word.in_all()[self.language.column()]
    }

    /// The phrase with `{0}`, `{1}` and so on replaced by `with`.
    pub fn fill(self, word: Word, with: &[&dyn fmt::Display]) -> String {
        let mut text = self.say(word).to_owned();
        for (i, value) in with.iter().enumerate() {
            text = text.replace(&format!("{{{i}}}"), &value.to_string());
        }
        text
    }

    /// Millimetres with so many decimals and the language's decimal sign, without a unit.
    pub fn number(self, length: Length, decimals: u32) -> String {
        self.decimal(&length.mm(decimals))
    }

    /// Millimetres to the hundredth without zeros at the end, without a unit.
    pub fn plain(self, length: Length) -> String {
        self.decimal(&length.plain_mm())
    }

    /// A length in the chosen units, each with its unit: `863.6 mm`, `34 in`, or
    /// `863.6 mm (34 in)`; inches that are not whole 32nds carry a `~`.
    pub fn length(self, length: Length, decimals: u32) -> String {
        let mm = || format!("{} mm", self.number(length, decimals));
        let tape = length.tape_32();
        let about = if tape.rest == Length::ZERO { "" } else { "~" };
        match self.units {
            Units::Millimetres => mm(),
            Units::Inches => format!("{about}{tape}"),
            Units::Both => format!("{} ({about}{tape})", mm()),
        }
    }

    /// A tape reading beside a mark: millimetres without a unit, inches with theirs.
    pub fn reading(self, length: Length) -> String {
        match self.units {
            Units::Millimetres => self.number(length, 1),
            Units::Inches | Units::Both => self.length(length, 1),
        }
    }

    /// A mark's label, with the word in it that has a translation: `3 size`, `tip`.
    pub fn label(self, label: &str) -> String {
        let words = [
            ("size", Word::Size),
            ("slot", Word::Slot),
            ("bend", Word::Bend),
            ("end", Word::End),
            ("tip", Word::Tip),
        ];
        let (before, last) = match label.rsplit_once(' ') {
            Some((before, last)) => (format!("{before} "), last),
            None => (String::new(), label),
        };
        let word = words.into_iter().find(|(english, _)| *english == last);
        word.map_or_else(|| label.to_owned(), |(_, word)| before + self.say(word))
    }

    /// The name of a piece: those that every job has are translated, others are the job's.
    pub fn piece(self, name: &str) -> String {
        let words = [
            ("strap", Word::PieceStrap),
            ("keeper", Word::PieceKeeper),
            ("lining", Word::PieceLining),
        ];
        let mirrored = name.strip_suffix("-mirrored");
        let plain = mirrored.unwrap_or(name);
        let (stem, number) = match plain.rsplit_once('-') {
            Some((stem, n)) if n.parse::<u32>().is_ok() => (stem, Some(n)),
            _ => (plain, None),
        };
        let word = words.into_iter().find(|(english, _)| *english == stem);
        let mut said = word.map_or(stem, |(_, word)| self.say(word)).to_owned();
        if let Some(n) = number {
            said = format!("{said}-{n}");
        }
        if mirrored.is_some() {
            said = format!("{said}, {}", self.say(Word::Mirrored));
        }
        said
    }

    /// `text`, a number written with a point, with the language's decimal sign.
    pub fn decimal(self, text: &str) -> String {
        text.replace('.', self.language.decimal_sign())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_follow_the_language_and_lengths_the_units() {
        let length = Length::from_inches(34) + Length::from_um(100);
        let of = |language, units| Wording { language, units }.length(length, 1);
        assert_eq!(of(Language::English, Units::Millimetres), "863.7 mm");
        assert_eq!(of(Language::German, Units::Millimetres), "863,7 mm");
        assert_eq!(of(Language::Polish, Units::Inches), "~34 in");
        assert_eq!(of(Language::French, Units::Both), "863,7 mm (~34 in)");
    }

    #[test]
    fn pieces_are_called_as_the_language_calls_them() {
        let german = Wording { language: Language::German, units: Units::Both };
        for (name, said) in [
            ("strap", "Riemen"),
            ("keeper-2", "Schlaufe-2"),
            ("waist-strap-2-mirrored", "waist-strap-2, gespiegelt"),
            ("hole-part", "hole-part"),
        ] {
            assert_eq!(german.piece(name), said);
        }
    }

    #[test]
    fn phrases_are_filled_in_order() {
        let wording = Wording { language: Language::German, units: Units::Both };
        assert_eq!(wording.fill(Word::For, &[&"Ines"]), "für Ines");
    }
}
