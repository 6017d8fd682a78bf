//! The sheets' face, cut down to the letters used.

use crate::export::ExportError;
use crate::lettering;
use printpdf::{FontId, FontMetrics, FontType, ParsedFont, PdfFont, PdfFontMetricsStub};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// The face's name among a page's resources. `F1` to `F14` would name built-in faces.
pub(super) fn id() -> FontId {
    FontId("Sans".to_owned())
}

/// The glyphs' ids by their letters.
pub(super) type GlyphIds = BTreeMap<u32, u16>;

/// The face with nothing but the glyphs of some letters.
pub(super) struct FontSubset {
    whole: &'static ttf_parser::Face<'static>,
    kept: GlyphRemapper,
    pub(super) glyph_ids: GlyphIds,
    widths: BTreeMap<u16, u16>,
    name: String,
}

impl FontSubset {
    /// For `letters`, each once.
    ///
    /// # Errors
    /// When the carried face cannot be read.
    pub(super) fn new(letters: &str) -> Result<Self, ExportError> {
        let whole =
            lettering::parsed().ok_or_else(|| ExportError::face("it cannot be read"))?;
        let mut subset = Self {
            whole,
            kept: GlyphRemapper::new(),
            glyph_ids: GlyphIds::new(),
            widths: BTreeMap::new(),
            name: format!("{}+NotoSans-Regular", tag(letters)),
        };
        for letter in letters.chars() {
            let Some(glyph) = whole.glyph_index(letter) else { continue };
            let id = subset.kept.remap(glyph.0);
            subset.glyph_ids.insert(u32::from(letter), id);
            subset.widths.insert(id, whole.glyph_hor_advance(glyph).unwrap_or(0));
        }
        Ok(subset)
    }

    /// As the crate embeds it.
    ///
    /// # Errors
    /// When the carried face cannot be cut down.
    pub(super) fn embed(&self) -> Result<(FontId, PdfFont), ExportError> {
        let whole = self.whole;
        let bytes = subsetter::subset(lettering::face(), 0, &self.kept)
            .map_err(ExportError::face)?;
        let bounds = whole.global_bounding_box();
        let parsed = ParsedFont {
            original_bytes: bytes,
            font_index: 0,
            font_name: Some(self.name.clone()),
            codepoint_to_glyph: self.glyph_ids.clone(),
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
        let (_, font) = FontSubset::new("kęŁ").unwrap().embed().unwrap();
        assert_eq!(font.parsed_font.codepoint_to_glyph.len(), 3);
        assert!(font.parsed_font.original_bytes.len() < 4_000);
        assert_ne!(tag("a"), tag("b"));
    }
}
