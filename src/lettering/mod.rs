//! The typeface of the sheets: which characters it has and how wide they are.

use crate::geom::Length;
use std::sync::OnceLock;

/// The whole typeface as a TrueType file: Noto Sans Regular, SIL Open Font License 1.1.
pub fn face() -> &'static [u8] {
    notosans::REGULAR_TTF
}

/// The face as it is read; `None` for one that cannot be read.
pub(crate) fn parsed() -> Option<&'static ttf_parser::Face<'static>> {
    static FACE: OnceLock<Option<ttf_parser::Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| ttf_parser::Face::parse(face(), 0).ok()).as_ref()
}

/// Widths of characters below this code point, the Latin ones, are looked up only once.
const COMMON: u32 = 0x250;

fn look_up(c: char) -> Option<u16> {
    parsed().and_then(|f| f.glyph_hor_advance(f.glyph_index(c)?))
}

/// The widths of the common characters in font units; `None` where the typeface lacks one.
fn common() -> &'static [Option<u16>] {
    static TABLE: OnceLock<Vec<Option<u16>>> = OnceLock::new();
    TABLE.get_or_init(|| (0..COMMON).map(|n| look_up(char::from_u32(n)?)).collect())
}

/// The width of `c` in font units; `None` if the typeface lacks it.
fn advance(c: char, common: &[Option<u16>]) -> Option<u16> {
    match common.get(c as usize) {
        Some(width) => *width,
        None => look_up(c),
    }
}

/// How wide `text` is in type of `size` (the em), to the nearest nanometre. Characters that
/// the typeface lacks have no width.
pub fn width(text: &str, size: Length) -> Length {
    let Some(face) = parsed() else { return Length::ZERO };
    let common = common();
    let widths = text.chars().filter_map(|c| advance(c, common));
    let units: i64 = widths.map(i64::from).sum();
    size.times(units, i64::from(face.units_per_em()))
}

/// How far the letter after `c` stands from it, in em: zero for one that the typeface lacks.
pub(crate) fn em_advance(c: char) -> f64 {
    let units = parsed().map_or(1, ttf_parser::Face::units_per_em);
    advance(c, common()).map_or(0.0, |width| f64::from(width) / f64::from(units))
}

/// The characters of `text` that the typeface lacks, each once, in order.
pub fn missing(text: &str) -> Vec<char> {
    let (mut lacking, common) = (Vec::new(), common());
    for c in text.chars() {
        if advance(c, common).is_none() && !lacking.contains(&c) {
            lacking.push(c);
        }
    }
    lacking
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn latin_greek_and_cyrillic_are_there() {
        let names = "Łukasz Ångström-Müller Ωμέγα Жанна ½ ¼ ¾ × ± – ·";
        assert_eq!(missing(names), []);
        assert_eq!(missing("a漢b漢"), ['漢']);
    }

    #[test]
    fn width_grows_with_size_and_text() {
        let size = Length::from_mm(4);
        assert!(width("i", size) < width("W", size));
        assert_eq!(width("", size), Length::ZERO);
        // Digits of one width keep columns of numbers straight.
        assert_eq!(width("1", size), width("8", size));
    }
}
