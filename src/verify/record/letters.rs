//! Which letter a glyph draws. A file says so itself, and may say what is not so: the glyph's
//! outline is held against that of the letter in the face of the sheets.

use crate::lettering;
use hayro_interpret::font::{Glyph, GlyphId, GlyphIdentifier, OutlineGlyph};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::kurbo::{Affine, BezPath, ParamCurveMoments, Shape};
use std::collections::BTreeMap;
use ttf_parser::OutlineBuilder;

/// How far two outlines of one letter may differ, in thousandths of an em: programs that save
/// a file anew round to whole ones.
const ALIKE: f64 = 2.0;

/// The letters of the glyphs that a file has drawn so far, each looked at once: by the number of
/// a glyph, those of each font.
#[derive(Default)]
pub(super) struct Letters(BTreeMap<GlyphId, Vec<(GlyphIdentifier, char)>>);

impl Letters {
    /// The letter that a glyph draws; the replacement character where it is not the one that
    /// the file says.
    pub(super) fn letter(&mut self, glyph: &Glyph<'_>) -> char {
        let Glyph::Outline(glyph) = glyph else { return char::REPLACEMENT_CHARACTER };
        let fonts = self.0.entry(glyph.glyph_id()).or_default();
        let own = glyph.identifier();
        if let Some((_, letter)) = fonts.iter().find(|(known, _)| *known == own) {
            return *letter;
        }
        let letter = proven_letter(glyph).unwrap_or(char::REPLACEMENT_CHARACTER);
        fonts.push((own, letter));
        letter
    }
}

/// The letter that the file says a glyph to be, if its outline is that letter's.
fn proven_letter(glyph: &OutlineGlyph) -> Option<char> {
    let Some(BfString::Char(letter)) = glyph.as_unicode() else { return None };
    let thousandths = Affine::scale(1_000.0);
    let own = form(&(thousandths * outline(letter)?));
    let found = form(&glyph.outline());
    own.iter().zip(found).all(|(a, b)| (a - b).abs() < ALIKE).then_some(letter)
}

/// What tells one outline from another, whatever curves it is made of: its area, where its
/// middle lies and how far it spreads about it, each as a length.
fn form(path: &BezPath) -> [f64; 6] {
    let area = path.area();
    if area.abs() < 1.0 {
        return [0.0; 6];
    }
    let all = path.moments();
    let (x, y) = (all.moment_x / area, all.moment_y / area);
    let (wide, high) = (all.moment_xx / area - x * x, all.moment_yy / area - y * y);
    let slant = (all.moment_xy / area - x * y) / (wide + high).sqrt();
    [area.abs().sqrt(), x, y, wide.sqrt(), high.sqrt(), slant]
}

/// The outline of a letter in the face of the sheets, one em long; `None` if the face lacks it.
pub(in crate::verify) fn outline(letter: char) -> Option<BezPath> {
    let face = lettering::parsed()?;
    let glyph = face.glyph_index(letter)?;
    let mut path = Outline(BezPath::new());
    // A space has none.
    face.outline_glyph(glyph, &mut path);
    Some(Affine::scale(1.0 / f64::from(face.units_per_em())) * path.0)
}

/// An outline as the reader of the face tells it.
struct Outline(BezPath);

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.quad_to((x1, y1), (x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.curve_to((x1, y1), (x2, y2), (x, y));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters that look alike are one outline in the face.
    #[test]
    fn no_letter_passes_for_another() {
        let all: Vec<(char, BezPath)> =
            ('!'..='ž').filter_map(|c| Some((c, outline(c)?))).collect();
        assert!(all.len() > 250, "{}", all.len());
        let large = |path: &BezPath| form(&(Affine::scale(1_000.0) * path.clone()));
        let forms: Vec<[f64; 6]> = all.iter().map(|(_, path)| large(path)).collect();
        for (i, a) in forms.iter().enumerate() {
            for (j, b) in forms.iter().enumerate().skip(i + 1) {
                let is_alike = a.iter().zip(b).all(|(a, b)| (a - b).abs() < ALIKE);
                assert!(
                    !is_alike || all[i].1 == all[j].1,
                    "{} passes for {}",
                    all[i].0,
                    all[j].0
                );
            }
        }
    }
}
