//! The sheets' face, cut down to the letters used.

use super::draw::Codes;
use crate::export::ExportError;
use crate::lettering;
use printpdf::{FontId, FontMetrics, FontType, ParsedFont, PdfFont, PdfFontMetricsStub};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;
use subsetter::GlyphRemapper;

/// The face's name among a page's resources. `F1` to `F14` would name built-in faces.
pub(super) fn id() -> FontId {
    FontId("Sans".to_owned())
}

/// The letters of all `texts`, each once, in order.
pub(super) fn used<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let (mut plain, mut others) = ([false; 128], BTreeSet::new());
    for letter in texts.flat_map(str::chars) {
        match plain.get_mut(letter as usize) {
            Some(is_used) => *is_used = true,
            None => {
                others.insert(letter);
            }
        }
    }
    let plain = ('\0'..).zip(plain).filter(|(_, is_used)| *is_used);
    plain.map(|(letter, _)| letter).chain(others).collect()
}

fn face() -> Option<&'static ttf_parser::Face<'static>> {
    static FACE: OnceLock<Option<ttf_parser::Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| ttf_parser::Face::parse(lettering::face(), 0).ok()).as_ref()
}

/// The face with nothing but the glyphs of some letters.
pub(super) struct Cut {
    whole: &'static ttf_parser::Face<'static>,
    kept: GlyphRemapper,
    /// The glyphs' codes by their letters.
    pub(super) codes: Codes,
    widths: BTreeMap<u16, u16>,
    name: String,
}

impl Cut {
    /// For `letters`, which [`used`] gave.
    ///
    /// # Errors
    /// [`ExportError::Face`] when the carried face cannot be read.
    pub(super) fn of(letters: &str) -> Result<Self, ExportError> {
        let whole =
            face().ok_or_else(|| ExportError::Face("it cannot be read".to_owned()))?;
        let mut cut = Self {
            whole,
            kept: GlyphRemapper::new(),
            codes: Codes::new(),
            widths: BTreeMap::new(),
            name: format!("{}+NotoSans-Regular", tag(letters)),
        };
        for letter in letters.chars() {
            let Some(glyph) = whole.glyph_index(letter) else { continue };
            let code = cut.kept.remap(glyph.0);
            cut.codes.insert(u32::from(letter), code);
            cut.widths.insert(code, whole.glyph_hor_advance(glyph).unwrap_or(0));
        }
        Ok(cut)
    }

    /// As the crate embeds it.
    ///
    /// # Errors
    /// [`ExportError::Face`] when the carried face cannot be cut down.
    pub(super) fn embedded(&self) -> Result<(FontId, PdfFont), ExportError> {
        let whole = self.whole;
        let bytes = subsetter::subset(lettering::face(), 0, &self.kept)
            .map_err(|error| ExportError::Face(error.to_string()))?;
        let bounds = whole.global_bounding_box();
        let parsed = ParsedFont {
            original_bytes: bytes,
            font_index: 0,
            font_name: Some(self.name.clone()),
            codepoint_to_glyph: self.codes.clone(),
            glyph_widths: self.widths.clone(),
            units_per_em: whole.units_per_em(),
            font_metrics: FontMetrics {
                ascent: whole.ascender(),
                descent: whole.descender(),
            },
            font_type: FontType::TrueType,
            pdf_font_metrics: PdfFontMetricsStub {
                units_per_em: whole.units_per_em(),
                x_min: bounds.x_min,
                y_min: bounds.y_min,
                x_max: bounds.x_max,
                y_max: bounds.y_max,
                caret_slope_rise: 1,
                caret_slope_run: 0,
                us_weight_class: whole.weight().to_number(),
            },
        };
        Ok((id(), PdfFont::new(parsed)))
    }
}

/// Six capitals that tell this choice of letters from others (ISO 32000-1:2008, 9.6.4).
fn tag(letters: &str) -> String {
    let hash = Sha256::digest(letters.as_bytes());
    hash.iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_letters_used_are_embedded() {
        let letters = used(["Łęk", "kk", ""].into_iter());
        assert_eq!(letters, "kęŁ");
        let (_, font) = Cut::of(&letters).unwrap().embedded().unwrap();
        assert_eq!(font.parsed_font.codepoint_to_glyph.len(), 3);
        assert!(font.parsed_font.original_bytes.len() < 4_000);
        assert_ne!(tag("a"), tag("b"));
    }
}
