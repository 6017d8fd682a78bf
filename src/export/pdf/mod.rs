//! The sheets as PDF: drawn, finished by what ISO 32000-1:2008 asks of a print at full
//! scale, and compressed. The same set gives the same bytes, whenever and wherever.

mod catalog;
mod compress;
mod content;
mod font;
mod merge;
mod metadata;
mod operators;
mod skeleton;

pub use merge::Merger;
pub use metadata::read;

use super::{ExportError, page};
use crate::geom::Length;
use crate::paginate::SheetSet;
use compress::Deflater;
use font::FontSubset;

/// The file of `set`: the ticket, then one page a sheet, at full scale, or multiplied by
/// what undoes the printer's error.
///
/// # Errors
/// For an empty set, when a text has letters that the face lacks, and when the file cannot be
/// put together.
///
/// ```
/// use strapwright::export::pdf::pdf;
/// use strapwright::paginate::{Heading, Paper, Request, paginate};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (job, fit, layout) = laid.expect("no mistakes");
/// let heading = Heading::new(&job, fit.as_ref(), &layout);
/// let paper = Paper::parse("letter")?;
/// let set = paginate(&Request::new(&layout, &heading, &paper))?;
/// assert!(pdf(&set)?.starts_with(b"%PDF-1.7"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pdf(set: &SheetSet) -> Result<Vec<u8>, ExportError> {
    let letters = page::letters(set)?;
    let face = FontSubset::new(&letters)?;
    let mut deflater = Deflater::new();
    let document = skeleton::build(set, &letters, &face)?;
    let document = catalog::finish(document, set, &mut deflater)?;
    let contents = compress::contents(set, &face.glyph_ids, &mut deflater)?;
    catalog::write(document, contents, set)
}

/// A length in points: 72 to the inch of 25.4 mm.
#[expect(
    clippy::cast_precision_loss,
    reason = "exact up to 9000 km of nanometres, and paper is shorter"
)]
fn points(length: Length) -> f64 {
    length.nm() as f64 * 72.0 / 25_400_000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letter_paper_is_whole_points() {
        let sides = [Length::from_inch_64ths(17 * 32), Length::from_inches(11)];
        let whole = [612.0_f64, 792.0];
        assert_eq!(sides.map(|l| points(l).to_bits()), whole.map(f64::to_bits));
    }
}
