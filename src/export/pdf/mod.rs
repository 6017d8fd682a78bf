//! The sheets as PDF: drawn, finished by what ISO 32000-1:2008 asks of a print at full
//! scale, and packed. The same set gives the same bytes, whenever and wherever.

mod content;
mod curve;
mod draw;
mod finish;
mod font;
mod merge;
mod metadata;
mod pack;
mod pens;
mod scale;

pub use merge::Merger;
pub use metadata::PrintMetadata;

use super::ExportError;
use crate::lettering;
use crate::paginate::{Item, SheetSet};
use lopdf::Document;
use printpdf::{PageAnnotId, PageAnnotation, PdfDocument, PdfSaveOptions};

/// The file of `set`: the ticket, then one page a sheet, at full scale, or multiplied by
/// what undoes the printer's error. The correction is applied here and nowhere else, once,
/// before any number is rounded.
///
/// # Errors
/// [`ExportError::NoSheets`] for an empty set, [`ExportError::Letters`] when a text has
/// letters that the face lacks, and the others when the file cannot be put together.
pub fn pdf(set: &SheetSet) -> Result<Vec<u8>, ExportError> {
    if set.sheets.is_empty() {
        return Err(ExportError::NoSheets);
    }
    let texts = || {
        set.pages().flat_map(|sheet| &sheet.items).filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.as_str()),
            Item::Stroke { .. } | Item::TickRows { .. } | Item::Fill { .. } => None,
        })
    };
    let used = font::used(texts());
    let lacking = lettering::missing(&used);
    if !lacking.is_empty() {
        return Err(ExportError::Letters(lacking));
    }

    let face = font::Cut::of(&used)?;
    let (document, contents) = pack::contents(set, &face.codes, |packer| {
        finish::finished(structure(set, &used, &face)?, set, packer)
    })?;
    finish::written(document, contents, set)
}

/// All of the file but what its pages show.
fn structure(
    set: &SheetSet,
    used: &str,
    face: &font::Cut,
) -> Result<Document, ExportError> {
    let mut document = PdfDocument::new("");
    if !used.is_empty() {
        let (id, font) = face.embedded()?;
        document.resources.fonts.map.insert(id, font);
    }
    document.resources.layers.map = draw::layers();
    for (i, sheet) in set.pages().enumerate() {
        document.pages.push(draw::page(sheet, used));
        let name = match sheet.number {
            0 => "Ticket".to_owned(),
            number => format!("Sheet {number}"),
        };
        let bookmark = PageAnnotation { name, page: i + 1 };
        // The ids only have to differ; those of the crate count on through the process.
        document.bookmarks.map.insert(PageAnnotId(format!("{i:06}")), bookmark);
    }
    // What it could warn of, letters without a glyph and text outside a text section, is
    // ruled out above and in `draw`.
    Ok(document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new()))
}
