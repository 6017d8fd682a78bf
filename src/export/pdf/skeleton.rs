//! What the drawing crate builds: pages without content, the embedded face, the layers and the
//! bookmarks.

use super::font::{self, FontSubset};
use super::points;
use crate::export::ExportError;
use crate::geom::Length;
use crate::paginate::{Item, Layer, Sheet, SheetSet};
use lopdf::Document;
use printpdf::{
    LayerIntent, LayerInternalId, LayerSubtype, Op, PageAnnotId, PageAnnotation,
    PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, Rect, TextItem,
};

/// All of the file but what its pages show; `letters` are those of its texts.
///
/// # Errors
/// When the face cannot be cut down.
pub(super) fn build(
    set: &SheetSet,
    letters: &str,
    face: &FontSubset,
) -> Result<Document, ExportError> {
    let mut document = PdfDocument::new("");
    if !letters.is_empty() {
        let (id, font) = face.embed()?;
        document.resources.fonts.map.insert(id, font);
    }
    document.resources.layers.map = Layer::ALL.map(|l| (layer_id(l), layer(l))).into();
    for (i, sheet) in set.pages().enumerate() {
        document.pages.push(page(sheet, letters));
        let name = match sheet.number {
            0 => "Ticket".to_owned(),
            number => format!("Sheet {number}"),
        };
        let bookmark = PageAnnotation { name, page: i + 1 };
        // The ids only have to differ; those of the crate count on through the process.
        document.bookmarks.map.insert(PageAnnotId(format!("{i:06}")), bookmark);
    }
    // What it could warn of is ruled out: letters without a glyph before, and text outside a
    // text section below.
    Ok(document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new()))
}

/// A layer's name among a page's resources.
fn layer_id(layer: Layer) -> LayerInternalId {
    LayerInternalId(layer.name().to_owned())
}

fn layer(layer: Layer) -> printpdf::Layer {
    printpdf::Layer {
        name: layer.name().to_owned(),
        creator: String::new(),
        intent: LayerIntent::View,
        usage: LayerSubtype::Artwork,
    }
}

/// The page of `sheet`, without its content.
///
/// The crate would write the content from operations, slowly. It is told no more of them
/// than which layers the page names and which letters it embeds.
fn page(sheet: &Sheet, letters: &str) -> PdfPage {
    let paper = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: pt(sheet.width),
        height: pt(sheet.height),
        mode: None,
        winding_order: None,
    };
    let mut named: Vec<Layer> = Vec::new();
    let is_drawn =
        |item: &&Item| !matches!(item, Item::Text { text, .. } if text.is_empty());
    for layer in sheet.items.iter().filter(is_drawn).map(Item::layer) {
        if !named.contains(&layer) {
            named.push(layer);
        }
    }
    let named = named.into_iter().map(layer_id);
    let mut ops: Vec<Op> =
        named.flat_map(|layer_id| [Op::BeginLayer { layer_id }, Op::EndLayer]).collect();
    let font = PdfFontHandle::External(font::id());
    ops.extend([
        Op::StartTextSection,
        Op::SetFont { font, size: Pt(1.0) },
        Op::ShowText { items: vec![TextItem::Text(letters.to_owned())] },
        Op::EndTextSection,
    ]);
    PdfPage { media_box: paper.clone(), trim_box: paper.clone(), crop_box: paper, ops }
}

/// A length as the crate has it.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the crate holds 32 bits; on a sheet that is off by less than 0.1 µm"
)]
fn pt(length: Length) -> Pt {
    Pt(points(length) as f32)
}
