//! What a font's codes mean and how far they advance (ISO 32000-1:2008, 9.6 to 9.10).

use super::tokens::{Token, Tokens};
use lopdf::{Dictionary, Document, Object};
use std::collections::BTreeMap;

/// Largest character map that is read, in bytes: the sheets' own take less than a hundredth.
const LARGEST_MAP: usize = 1 << 20;
/// No font has more codes.
const MOST_CODES: usize = 1 << 16;
/// In a thousandth of the type's size, where a font does not say.
const PLAIN_WIDTH: f64 = 500.0;

/// One font, as far as words need it.
#[derive(Debug, Default)]
pub(super) struct Font {
    /// Two bytes a code; else one.
    wide: bool,
    letters: BTreeMap<u32, String>,
    /// In thousandths of the type's size.
    widths: BTreeMap<u32, f64>,
    width: f64,
    /// The first codes once more, which most words are of.
    first: Vec<Glyph>,
}

/// What a code says, and how far it advances as a part of the type's size.
#[derive(Clone, Debug)]
struct Glyph {
    letters: String,
    advance: f64,
}

/// So many codes are the first.
const FIRST: u32 = 256;

impl Font {
    /// Reads what `font` says of its codes. What it does not say is taken as Latin letters,
    /// a byte each.
    pub(super) fn read(document: &Document, font: &Dictionary) -> Self {
        let get =
            |d: &Dictionary, key: &[u8]| resolved(document, d.get(key).ok()?).cloned();
        let is = |d: &Dictionary, key: &[u8], name: &[u8]| {
            d.get(key).and_then(Object::as_name).is_ok_and(|n| n == name)
        };
        let mut read = Self {
            wide: is(font, b"Subtype", b"Type0"),
            width: PLAIN_WIDTH,
            ..Self::default()
        };
        let map = get(font, b"ToUnicode");
        if let Some(Object::Stream(map)) = map
            && let Ok(bytes) = map.get_plain_content_with_limit(LARGEST_MAP)
        {
            read.letters = letters(&bytes);
        }
        if read.wide {
            let below = get(font, b"DescendantFonts");
            let below = match &below {
                Some(Object::Array(all)) => {
                    all.first().and_then(|o| resolved(document, o))
                }
                other => other.as_ref(),
            };
            if let Some(Object::Dictionary(below)) = below {
                read.width =
                    get(below, b"DW").as_ref().and_then(plain).unwrap_or(1_000.0);
                if let Some(Object::Array(runs)) = get(below, b"W") {
                    read.widths = wide_widths(document, &runs);
                }
            }
        } else if let Some(Object::Array(widths)) = get(font, b"Widths") {
            let first = get(font, b"FirstChar").as_ref().and_then(code).unwrap_or(0);
            let known = widths.iter().zip(first..).take(MOST_CODES);
            read.widths = known
                .filter_map(|(w, code)| Some((code, plain(resolved(document, w)?)?)))
                .collect();
        }
        let glyph = |code| {
            let (letters, advance) = read.glyph(code);
            Glyph { letters: letters.to_owned(), advance }
        };
        read.first = (0..FIRST).map(glyph).collect();
        read
    }

    /// The letters of a code, and its advance as a part of the type's size.
    fn glyph(&self, code: u32) -> (&str, f64) {
        let letters = match self.letters.get(&code) {
            Some(letters) => letters.as_str(),
            None if self.wide => "",
            None => LATIN.get(usize::try_from(code).unwrap_or(0)).copied().unwrap_or(""),
        };
        (letters, self.widths.get(&code).copied().unwrap_or(self.width) / 1_000.0)
    }

    /// Each code of `bytes`: its letters, its advance as a part of the type's size, and
    /// whether it is the one-byte space that word spacing widens.
    pub(super) fn codes<'a>(
        &'a self,
        bytes: &'a [u8],
    ) -> impl Iterator<Item = (&'a str, f64, bool)> + 'a {
        let step = if self.wide { 2 } else { 1 };
        bytes.chunks(step).map(move |chunk| {
            let code = chunk.iter().fold(0, |all, byte| all << 8 | u32::from(*byte));
            let known = usize::try_from(code).ok().and_then(|i| self.first.get(i));
            let (letters, width) = match known {
                Some(glyph) => (glyph.letters.as_str(), glyph.advance),
                None => self.glyph(code),
            };
            (letters, width, !self.wide && code == 32)
        })
    }
}

/// The letters of single bytes: ASCII and the upper half of Latin 1, which is what the
/// usual encodings have in common with the words of a sheet.
const LATIN: [&str; 256] = {
    let mut all = [""; 256];
    let mut i = 0;
    while i < ASCII.len() {
        all[0x20 + i] = ASCII.split_at(i).1.split_at(1).0;
        i += 1;
    }
    all[0xB7] = "·";
    all[0xD7] = "×";
    all
};

const ASCII: &str = " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`\
                     abcdefghijklmnopqrstuvwxyz{|}~";

fn resolved<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Object> {
    document.dereference(object).ok().map(|(_, object)| object)
}

fn plain(object: &Object) -> Option<f64> {
    object.as_float().ok().map(f64::from).filter(|w| w.is_finite())
}

fn code(object: &Object) -> Option<u32> {
    u32::try_from(object.as_i64().ok()?).ok().filter(|c| *c < 1 << 16)
}

/// `first [w w w]` or `first last w`, in turn.
fn wide_widths(document: &Document, runs: &[Object]) -> BTreeMap<u32, f64> {
    let (mut widths, mut work) = (BTreeMap::new(), 0);
    let mut left = runs.iter().filter_map(|o| resolved(document, o));
    while let (Some(first), Some(second)) = (left.next().and_then(code), left.next()) {
        if let Object::Array(all) = second {
            let known = all.iter().zip(first..).take(MOST_CODES);
            widths.extend(
                known.filter_map(|(w, c)| Some((c, plain(resolved(document, w)?)?))),
            );
        } else if let (Some(last), Some(width)) =
            (code(second), left.next().and_then(plain))
        {
            widths.extend((first..=last).map(|c| (c, width)));
            work += last.saturating_sub(first);
        }
        if widths.len() > MOST_CODES || work > 4 << 16 {
            break;
        }
    }
    widths
}

/// The `bfchar` and `bfrange` sections of a character map.
fn letters(bytes: &[u8]) -> BTreeMap<u32, String> {
    #[derive(PartialEq)]
    enum Section {
        None,
        Char,
        Range,
        List,
    }
    let mut all = BTreeMap::new();
    let mut work = 0;
    let mut section = Section::None;
    let mut strings: Vec<Vec<u8>> = Vec::new();
    for token in Tokens::new(bytes) {
        match token {
            Token::Word(b"beginbfchar") => {
                (section, strings) = (Section::Char, Vec::new());
            }
            Token::Word(b"beginbfrange") => {
                (section, strings) = (Section::Range, Vec::new());
            }
            Token::Word(b"endbfchar" | b"endbfrange") => section = Section::None,
            Token::Open if section == Section::Range => section = Section::List,
            Token::Close if section == Section::List => {
                // `<first> <last> [<a> <b> ...]`
                if let [first, _, listed @ ..] = strings.as_slice() {
                    let codes = number(first)..=0xFFFF;
                    all.extend(codes.zip(listed.iter().map(|target| utf16(target, 0))));
                }
                (section, strings) = (Section::Range, Vec::new());
            }
            Token::Text(text) if section != Section::None => {
                strings.push(text.into_owned());
            }
            _ => {}
        }
        match (&section, strings.as_slice()) {
            (Section::Char, [code, target]) => {
                all.insert(number(code), utf16(target, 0));
                strings.clear();
            }
            // The target counts on with the code.
            (Section::Range, [first, last, target]) => {
                let (first, last) = (number(first), number(last).min(0xFFFF));
                all.extend(
                    (first..=last).map(|code| (code, utf16(target, code - first))),
                );
                work += last.saturating_sub(first);
                strings.clear();
            }
            _ => {}
        }
        // The same codes over and over are no more letters.
        if all.len() > MOST_CODES || work > 4 << 16 {
            break;
        }
    }
    all
}

fn number(bytes: &[u8]) -> u32 {
    bytes.iter().take(4).fold(0, |all, byte| all << 8 | u32::from(*byte))
}

/// The text of UTF-16 bytes whose last unit counts `on`.
fn utf16(bytes: &[u8], on: u32) -> String {
    let mut units: Vec<u16> = bytes
        .chunks_exact(2)
        .take(8)
        .map(|b| u16::from(b[0]) << 8 | u16::from(b[1]))
        .collect();
    if let Some(last) = units.last_mut() {
        *last = last.wrapping_add(u16::try_from(on).unwrap_or(0));
    }
    String::from_utf16_lossy(&units)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn maps_give_letters() {
        let map = b"1 begincodespacerange <0000> <FFFF> endcodespacerange\n\
            2 beginbfchar <0001> <0041> <0002> <00D70030> endbfchar\n\
            2 beginbfrange <0010> <0012> <0061> <0020> <0021> [<0078> <0079>] endbfrange";
        let letters = letters(map);
        let at = |code: u32| letters.get(&code).map(String::as_str);
        assert_eq!([at(1), at(2)], [Some("A"), Some("×0")]);
        assert_eq!([at(0x10), at(0x11), at(0x12)], [Some("a"), Some("b"), Some("c")]);
        assert_eq!([at(0x20), at(0x21), at(0x22)], [Some("x"), Some("y"), None]);
    }

    #[test]
    fn a_plain_font_is_latin() {
        let document = Document::new();
        let font = Font::read(&document, &Dictionary::new());
        let text: String =
            font.codes(b"W\xD71.0 ~").map(|(letters, ..)| letters).collect();
        assert_eq!(text, "W×1.0 ~");
    }
}
