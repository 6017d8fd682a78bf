//! What the drawing crate does not write, or writes wrongly: the catalog of a print at
//! full scale, the page labels, the layers' dictionaries, the document information, the id.

use super::compress::Deflater;
use super::metadata;
use crate::export::ExportError;
use crate::paginate::SheetSet;
use lopdf::{
    Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string,
};
use sha2::{Digest, Sha256};

const MAKER: &str = "strapwright";

/// Finishes all of `document` but the contents of its pages, which stay empty.
///
/// # Errors
/// When an object is missing that the drawing crate always writes,
/// or a stream cannot be compressed.
pub(super) fn finish(
    mut document: Document,
    set: &SheetSet,
    deflater: &mut Deflater,
) -> Result<Document, ExportError> {
    "1.7".clone_into(&mut document.version);
    finish_layers(&mut document)?;
    finish_pages(&mut document)?;
    let labels = page_labels(set);
    let catalog = document.catalog_mut().map_err(ExportError::write)?;
    catalog.set("PageLabels", labels);
    for (key, value) in viewing() {
        catalog.set(key, value);
    }
    describe(&mut document, set)?;
    drop_unreferenced(&mut document);
    compress(&mut document, deflater)?;
    Ok(document)
}

/// The bytes of a finished `document`, with the compressed `contents` on its pages.
///
/// # Errors
/// When a page has no content, or the bytes cannot be put together.
pub(super) fn write(
    mut document: Document,
    contents: Vec<Vec<u8>>,
    set: &SheetSet,
) -> Result<Vec<u8>, ExportError> {
    for (id, content) in document.get_pages().into_values().zip(contents) {
        content_of(&mut document, id)?.set_content(content);
    }
    identify(&mut document, set);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(ExportError::write)?;
    Ok(bytes)
}

/// How a reader is to show and print the file.
pub(super) fn viewing() -> [(&'static str, Object); 4] {
    // ISO 32000-1:2008, 12.2, table 150. A hint, which a printer's driver may ignore.
    let preferences = dictionary! {
        "PrintScaling" => name("None"),
        "Duplex" => name("Simplex"),
        "PickTrayByPDFSize" => true,
        "NumCopies" => 1,
        "DisplayDocTitle" => true,
    };
    [
        ("ViewerPreferences", preferences.into()),
        ("PageLayout", name("SinglePage")),
        ("PageMode", name("UseOutlines")),
        ("Lang", Object::string_literal("en")),
    ]
}

/// The layers' own dictionary: all are seen unless the reader hides them.
pub(super) fn layers(groups: Vec<Object>) -> Dictionary {
    dictionary! {
        "Name" => Object::string_literal("Layers"),
        "BaseState" => name("ON"),
        "Order" => groups.clone(),
        "ON" => groups,
    }
}

pub(super) fn name(name: &str) -> Object {
    Object::Name(name.as_bytes().to_vec())
}

/// Plain groups that are seen unless the reader hides them. The usage dictionaries name
/// another program and say nothing.
fn finish_layers(document: &mut Document) -> Result<(), ExportError> {
    let properties = document
        .catalog_mut()
        .and_then(|catalog| catalog.get_mut(b"OCProperties"))
        .and_then(Object::as_dict_mut)
        .map_err(ExportError::write)?;
    let groups =
        properties.get(b"OCGs").and_then(Object::as_array).map_err(ExportError::write)?;
    let groups = groups.clone();
    properties.set("D", layers(groups.clone()));
    for group in groups {
        let id = group.as_reference().map_err(ExportError::write)?;
        let group = document.get_dictionary_mut(id).map_err(ExportError::write)?;
        group.remove(b"Usage");
        group.set("Intent", name("View"));
    }
    Ok(())
}

/// The stream that a page draws.
fn content_of(
    document: &mut Document,
    page: ObjectId,
) -> Result<&mut Stream, ExportError> {
    let id = document
        .get_dictionary(page)
        .and_then(|page| page.get(b"Contents"))
        .and_then(Object::as_reference)
        .map_err(ExportError::write)?;
    document
        .get_object_mut(id)
        .and_then(Object::as_stream_mut)
        .map_err(ExportError::write)
}

/// Makes room for the compressed contents. Takes out empty entries and all boxes but the
/// media box, which the others fall back to.
fn finish_pages(document: &mut Document) -> Result<(), ExportError> {
    for id in document.get_pages().into_values() {
        let page = document.get_dictionary_mut(id).map_err(ExportError::write)?;
        for key in ["TrimBox", "CropBox", "Annots"] {
            page.remove(key.as_bytes());
        }
        let resources = page
            .get(b"Resources")
            .and_then(Object::as_reference)
            .map_err(ExportError::write)?;
        let resources =
            document.get_dictionary_mut(resources).map_err(ExportError::write)?;
        for key in ["XObject", "ExtGState", "Shading"] {
            resources.remove(key.as_bytes());
        }
        let content = content_of(document, id)?;
        content.set_content(Vec::new());
        content.dict.set("Filter", name("FlateDecode"));
    }
    Ok(())
}

/// The sheets' own numbers; a reprint of some sheets leaves gaps. Pages of the ticket have
/// none.
fn page_labels(set: &SheetSet) -> Dictionary {
    let mut ranges = Vec::new();
    let mut expected = None;
    for (sheet, index) in set.pages().zip(0_i64..) {
        if sheet.number == 0 {
            if index == 0 {
                ranges.extend([
                    index.into(),
                    dictionary! { "P" => text_string("T") }.into(),
                ]);
            }
        } else if expected != Some(sheet.number) {
            let first = i64::try_from(sheet.number).unwrap_or(i64::MAX);
            ranges.push(index.into());
            ranges.push(dictionary! { "S" => name("D"), "St" => first }.into());
        }
        // A sheet after the ticket begins a range of its own.
        expected = (sheet.number > 0).then_some(sheet.number + 1);
    }
    dictionary! { "Nums" => ranges }
}

/// The document information, without dates: they would make two prints of one job differ.
fn describe(document: &mut Document, set: &SheetSet) -> Result<(), ExportError> {
    let mut info = info(&format!("{} ({})", set.title, set.fingerprint));
    metadata::write(set, &mut info).map_err(ExportError::write)?;
    if let Ok(id) = document.trailer.get(b"Info").and_then(Object::as_reference) {
        document.set_object(id, info);
    } else {
        let id = document.add_object(info);
        document.trailer.set("Info", id);
    }
    Ok(())
}

/// Compresses every stream but the pages' contents, which are compressed already.
fn compress(document: &mut Document, deflater: &mut Deflater) -> Result<(), ExportError> {
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        if stream.dict.has(b"Filter") {
            continue;
        }
        let content = deflater.compress(&stream.content)?;
        stream.set_content(content);
        stream.dict.set("Filter", name("FlateDecode"));
    }
    Ok(())
}

/// An id from the content, so that the same sheets are the same file. Compressed, there is a
/// quarter as much to hash.
fn identify(document: &mut Document, set: &SheetSet) {
    let mut hash = Sha256::new();
    let mut part = |bytes: &[u8]| {
        hash.update(bytes.len().to_le_bytes());
        hash.update(bytes);
    };
    part(set.title.as_bytes());
    part(set.fingerprint.as_bytes());
    for sheet in set.pages() {
        part(&sheet.number.to_le_bytes());
        part(&sheet.width.nm().to_le_bytes());
        part(&sheet.height.nm().to_le_bytes());
    }
    for object in document.objects.values() {
        if let Object::Stream(stream) = object {
            part(&stream.content);
        }
    }
    document.trailer.set("ID", id(hash));
}

/// What a file says of itself.
pub(super) fn info(title: &str) -> Dictionary {
    dictionary! {
        "Title" => text_string(title),
        "Creator" => Object::string_literal(MAKER),
        "Producer" => Object::string_literal(MAKER),
    }
}

/// The id of a file, from a hash of its content.
pub(super) fn id(hash: Sha256) -> Vec<Object> {
    let id = hash.finalize().iter().take(16).copied().collect();
    vec![Object::String(id, StringFormat::Hexadecimal); 2]
}

/// Takes out the objects that nothing refers to any more, and closes the gaps.
fn drop_unreferenced(document: &mut Document) {
    document.prune_objects();
    document.renumber_objects();
}
