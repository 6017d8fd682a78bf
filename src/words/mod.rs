//! The words on paper and of the bench page, in six languages, and how each writes numbers.
//!
//! The command line and its findings stay English; the page translates findings too.

mod language;
mod name;
mod phrase;

pub use language::Language;
pub use name::Name;
pub use phrase::Word;
#[cfg(feature = "page")]
pub(crate) use phrase::of_page;
#[cfg(all(test, feature = "page"))]
pub(crate) use phrase::slug;

use crate::geom::{Extent, Length, TapeFraction};
use serde::{Deserialize, Serialize};
use std::fmt;

/// The units that lengths are written in.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
)]
pub enum Units {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches: lengths to the nearest 1/32, what is thin or bored to the nearest 1/64.
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
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
)]
pub struct Wording {
    /// The language of the words and of the decimal sign.
    pub language: Language,
    /// The units of lengths.
    pub units: Units,
}

impl Wording {
    /// The phrase, which has no gaps.
    pub fn say(self, word: Word) -> &'static str {
        word.say(self.language)
    }

    /// The phrase with its gaps filled: each `$name` by the value beside the name.
    pub fn fill(self, word: Word, with: &[(&str, &dyn fmt::Display)]) -> String {
        word.fill(self.language, with)
    }

    /// Millimetres with so many decimals and the language's decimal sign, without a unit.
    pub fn number(self, length: Length, decimals: u32) -> String {
        self.decimal(&length.mm(decimals))
    }

    /// Millimetres to the hundredth without zeros at the end, without a unit.
    pub fn plain(self, length: Length) -> String {
        self.decimal(&length.plain_mm())
    }

    /// `label: text`, as the language sets a colon.
    pub fn labelled(self, label: &str, text: &str) -> String {
        let gap = if self.language == Language::French { "\u{a0}" } else { "" };
        format!("{label}{gap}: {text}")
    }

    /// A number with its unit, which French keeps together.
    fn unit(self, number: &str, unit: &str) -> String {
        let gap = if self.language == Language::French { '\u{a0}' } else { ' ' };
        format!("{number}{gap}{unit}")
    }

    fn mm(self, length: Length) -> String {
        self.unit(&self.plain(length), "mm")
    }

    /// A length in the chosen units, each with its unit: `863.6 mm`, `34 in`, or
    /// `863.6 mm (34 in)`; inches that are not whole 32nds carry a `~`.
    pub fn length(self, length: Length, decimals: u32) -> String {
        let mm = || self.unit(&self.number(length, decimals), "mm");
        let inches = || self.inches(length.tape_32());
        match self.units {
            Units::Millimetres => mm(),
            Units::Inches => inches(),
            Units::Both => format!("{} ({})", mm(), inches()),
        }
    }

    /// A girth or another length that a strap serves, as exact as a worn strap is: to the
    /// millimetre and to 1/16 in. `864 mm`, `34 in`, `864 mm (34 in)`.
    pub fn girth(self, length: Length) -> String {
        match self.units {
            Units::Millimetres => self.unit(&self.number(length, 0), "mm"),
            Units::Inches => self.inches(length.tape_16()),
            Units::Both => self.girth_in_both(length),
        }
    }

    /// The same in both units, those first that were chosen.
    pub fn girth_in_both(self, length: Length) -> String {
        let [mm, inches] = [Units::Millimetres, Units::Inches]
            .map(|units| Self { units, ..self }.girth(length));
        if self.units == Units::Inches {
            format!("{inches} ({mm})")
        } else {
            format!("{mm} ({inches})")
        }
    }

    /// `~34 1/2 in`; the `~` says that something is left over.
    fn inches(self, tape: TapeFraction) -> String {
        let about = if tape.is_whole() { "" } else { "~" };
        format!("{about}{}", self.unit(&bare(tape), "in"))
    }

    /// A size that hardware or a punch is bought by: `4.8 mm`; `3/16 in`, to the nearest
    /// 1/64, with millimetres where something is left over, `~3/16 in (4.8 mm)`; or
    /// `4.8 mm (~3/16 in)`.
    pub fn size(self, length: Length) -> String {
        let (mm, tape) = (self.mm(length), length.tape());
        match self.units {
            Units::Millimetres => mm,
            Units::Inches if tape.is_whole() => self.inches(tape),
            Units::Inches => format!("{} ({mm})", self.inches(tape)),
            Units::Both => format!("{mm} ({})", self.inches(tape)),
        }
    }

    /// A size in one unit, to be short: inches where they alone were chosen.
    pub fn near(self, length: Length) -> String {
        if self.units == Units::Inches {
            self.inches(length.tape())
        } else {
            self.mm(length)
        }
    }

    /// The size of what is long and wide without the unit that was not chosen, as
    /// [`near`](Self::near).
    pub fn near_oblong(self, length: Length, width: Length) -> String {
        if self.units == Units::Inches {
            self.oblong_inches(length, width)
        } else {
            Self { units: Units::Millimetres, ..self }.oblong(length, width)
        }
    }

    fn oblong_inches(self, length: Length, width: Length) -> String {
        let [long, wide] = [length, width].map(|l| {
            let tape = l.tape();
            let about = if tape.is_whole() { "" } else { "~" };
            format!("{about}{}", bare(tape))
        });
        format!("{long} × {}", self.unit(&wide, "in"))
    }

    /// The size of what is long and wide: `25.4 × 5 mm`, `1 × ~13/64 in (25.4 × 5 mm)`.
    pub fn oblong(self, length: Length, width: Length) -> String {
        let mm = format!("{} × {}", self.plain(length), self.mm(width));
        let inches = self.oblong_inches(length, width);
        let is_whole = [length, width].iter().all(|l| l.tape().is_whole());
        match self.units {
            Units::Millimetres => mm,
            Units::Inches if is_whole => inches,
            Units::Inches => format!("{inches} ({mm})"),
            Units::Both => format!("{mm} ({inches})"),
        }
    }

    /// How thick leather is: `3.5 mm`, `~9/64 in (9 oz)` or `3.5 mm (~9/64 in, 9 oz)`. An
    /// ounce is 1/64 in (common practice, no source).
    pub fn thickness(self, length: Length) -> String {
        let (mm, tape) = (self.mm(length), length.tape());
        let inches = self.inches(tape);
        let ounces = self.unit(&tape.sixty_fourths.to_string(), "oz");
        match self.units {
            Units::Millimetres => mm,
            Units::Inches => format!("{inches} ({ounces})"),
            Units::Both => format!("{mm} ({inches}, {ounces})"),
        }
    }

    /// What a ruler may read of `length`, the middle of `window`: `259.1 to 260.9`;
    /// `± 1/32 in`, rounded into the window to 1/64 in so that what is accepted is no more
    /// than in millimetres. A window that is narrower than that is in millimetres.
    pub fn accepted(self, length: Length, window: Extent) -> String {
        let within = (window.to - length).floor_to(Length::from_inch_64ths(1));
        if self.units == Units::Inches && within > Length::ZERO {
            return format!("± {}", self.unit(&bare(within.tape()), "in"));
        }
        let [least, most] = [window.from, window.to].map(|l| self.number(l, 1));
        let most = match self.units {
            Units::Inches => self.unit(&most, "mm"),
            Units::Millimetres | Units::Both => most,
        };
        self.fill(Word::FromTo, &[("from", &least), ("to", &most)])
    }

    /// How far off something may be, `±1.6 mm`, `±5/64 in (1.6 mm)`: inches are rounded up.
    pub fn within(self, length: Length) -> String {
        let mm = self.unit(&self.number(length, 1), "mm");
        let inches = self.inches(length.tape_64_up().tape());
        match self.units {
            Units::Millimetres => format!("±{mm}"),
            Units::Inches => format!("±{inches} ({mm})"),
            Units::Both => format!("±{mm} ({inches})"),
        }
    }

    /// Both units, those first that were chosen: `863.6 mm (34 in)`, `34 in (863.6 mm)`.
    pub fn both(self, length: Length) -> String {
        let (mm, inches) = (self.mm(length), self.inches(length.tape()));
        if self.units == Units::Inches {
            format!("{inches} ({mm})")
        } else {
            format!("{mm} ({inches})")
        }
    }

    /// A tape reading beside a mark, without a unit: millimetres, or inches to the nearest 1/32
    /// where they alone were chosen.
    pub fn reading(self, length: Length) -> String {
        match self.units {
            Units::Inches => bare(length.tape_32()),
            Units::Millimetres | Units::Both => self.number(length, 1),
        }
    }

    /// A size beside a mark, without a unit: millimetres, or inches to the nearest 1/64 where
    /// they alone were chosen.
    pub fn bare(self, length: Length) -> String {
        match self.units {
            Units::Inches => bare(length.tape()),
            Units::Millimetres | Units::Both => self.plain(length),
        }
    }

    /// A name in the language: one that a built-in template gave is translated.
    pub fn name(self, name: &Name) -> &str {
        let said = || phrase::translated(self.language, name.as_str());
        name.is_built_in().then(said).flatten().unwrap_or(name.as_str())
    }

    /// `text`, a number written with a point, with the language's decimal sign.
    pub fn decimal(self, text: &str) -> String {
        text.replace('.', self.language.decimal_sign())
    }
}

/// The number of a tape reading, without its unit.
fn bare(tape: TapeFraction) -> String {
    let said = tape.to_string();
    said.strip_suffix(" in").unwrap_or(&said).to_owned()
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
        assert_eq!(of(Language::French, Units::Both), "863,7\u{a0}mm (~34\u{a0}in)");
    }

    /// Worked by hand: 863.6 mm are 34 in, and 1/16 in is 1.5875 mm, so 866.5 mm lie 1.8 of them
    /// further.
    #[test]
    fn girths_are_given_to_a_sixteenth() {
        let of = |units, um| {
            Wording { units, ..Wording::default() }.girth(Length::from_um(um))
        };
        assert_eq!(of(Units::Both, 863_600), "864 mm (34 in)");
        assert_eq!(of(Units::Inches, 864_000), "~34 in");
        assert_eq!(of(Units::Inches, 866_500), "~34 1/8 in");
        let inches = Wording { units: Units::Inches, ..Wording::default() };
        assert_eq!(
            inches.girth_in_both(Length::from_um(865_000)),
            "~34 1/16 in (865 mm)"
        );
    }

    /// Worked by hand: 1/64 in is 0.396875 mm, so 4.8 mm are 12.09 of them, 3.5 mm 8.82,
    /// 1.6 mm 4.03; 1098.8 mm are 43 in and 16.6 of them, 1101.2 mm 43 in and 22.7.
    #[test]
    fn inches_come_first_and_say_what_they_leave_over() {
        let of = |units| Wording { language: Language::English, units };
        let (mm, inches, both) =
            (of(Units::Millimetres), of(Units::Inches), of(Units::Both));
        let um = Length::from_um;
        for (wording, size, thickness, within) in [
            (mm, "4.8 mm", "3.5 mm", "±1.6 mm"),
            (inches, "~3/16 in (4.8 mm)", "~9/64 in (9 oz)", "±5/64 in (1.6 mm)"),
            (both, "4.8 mm (~3/16 in)", "3.5 mm (~9/64 in, 9 oz)", "±1.6 mm (5/64 in)"),
        ] {
            assert_eq!(wording.size(um(4_800)), size);
            assert_eq!(wording.thickness(um(3_500)), thickness);
            assert_eq!(wording.within(um(1_600)), within);
        }
        assert_eq!(inches.size(um(3_175)), "1/8 in");
        let slot = (um(25_400), um(5_000));
        assert_eq!(mm.oblong(slot.0, slot.1), "25.4 × 5 mm");
        assert_eq!(inches.oblong(slot.0, slot.1), "1 × ~13/64 in (25.4 × 5 mm)");
        assert_eq!(inches.oblong(slot.0, um(6_350)), "1 × 1/4 in");
        assert_eq!(inches.both(Length::from_inches(34)), "34 in (863.6 mm)");
        // Seven sevenths of a length are 1 nm less than it.
        let rounded = Length::from_inches(54) - Length::from_nm(1);
        assert_eq!(inches.both(rounded), "54 in (1371.6 mm)");
        assert_eq!(rounded.both(), "1371.6 mm (54 in)");
        let less = Length::from_inches(54) - Length::from_um(1);
        assert_eq!(less.both(), "1371.6 mm (~54 in)");
        // No nothing, and never a negative one.
        for (nm, shown) in [
            (0, "0 mm (0 in)"),
            (1, "0 mm (0 in)"),
            (-1, "0 mm (0 in)"),
            (-40_000, "-0.04 mm"),
            (-4_000, "-0.004 mm"),
            (200_000, "0.2 mm (~1/64 in)"),
        ] {
            assert_eq!(Length::from_nm(nm).both(), shown);
        }
        let window = Extent { from: um(1_098_800), to: um(1_101_200) };
        assert_eq!(mm.accepted(um(1_100_000), window), "1098.8 to 1101.2");
        assert_eq!(both.accepted(um(1_100_000), window), "1098.8 to 1101.2");
        // 1.2 mm are 3.02 of them, 0.9 mm 2.27, 0.3 mm none.
        assert_eq!(inches.accepted(um(1_100_000), window), "± 3/64 in");
        for (within, said) in [(900, "± 1/32 in"), (300, "253.7 to 254.3 mm")] {
            let window = Extent::at(um(254_000)).grown(um(within));
            assert_eq!(inches.accepted(um(254_000), window), said);
        }
    }

    #[test]
    fn only_names_of_built_in_templates_are_translated() {
        let german = Wording { language: Language::German, units: Units::Both };
        assert_eq!(german.name(&Name::built_in("front")), "Vorderteil");
        assert_eq!(german.name(&Name::given("front")), "front");
        assert_eq!(german.name(&Name::built_in("lantern-hooks")), "lantern-hooks");
    }

    #[test]
    fn phrases_are_filled_in_order() {
        let wording = Wording { language: Language::German, units: Units::Both };
        assert_eq!(wording.fill(Word::For, &[("wearer", &"Ines")]), "für Ines");
    }
}
