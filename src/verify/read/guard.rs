//! What keeps a file that is made to do harm from taking all memory while it is opened.
//!
//! `lopdf` bounds how deep it reads and what one stream unpacks to, and not how often it
//! keeps the same bytes: a table may list one object a million times, and a packed run may
//! say that all its objects lie at one place.

use super::Limits;
use lopdf::{Document, LoadOptions, Object, ObjectId, Stream};
use std::cell::Cell;

thread_local! {
    /// What may still be kept, in bytes: all that reaches a filter, which is a bare function,
    /// is what its thread knows.
    static LEFT: Cell<usize> = const { Cell::new(0) };
    /// What a part of the structure may unpack to.
    static STRUCTURE: Cell<usize> = const { Cell::new(0) };
}

/// About what an object takes beside its text.
const OBJECT: usize = 128;

/// Opens a file.
///
/// # Errors
/// Says why it cannot be read, or that it would take too much.
pub(super) fn open(bytes: &[u8], limits: &Limits) -> Result<Document, String> {
    LEFT.set(limits.memory);
    STRUCTURE.set(limits.structure);
    let options = LoadOptions {
        filter: Some(kept),
        max_decompressed_size: Some(limits.structure),
        ..LoadOptions::default()
    };
    let document = Document::load_mem_with_options(bytes, options)
        .map_err(|error| format!("it is no PDF that can be read ({error})"))?;
    if LEFT.get() == 0 {
        return Err("it holds far more than any print of strap sheets".to_owned());
    }
    Ok(document)
}

/// An object as long as there is room for it; once there is none, no other is kept.
fn kept(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    let harmful = object.as_stream().is_ok_and(|s| !is_in_order(s, STRUCTURE.get()));
    let left = if harmful { 0 } else { LEFT.get().saturating_sub(weight(object)) };
    LEFT.set(left);
    (left > 0).then(|| (id, object.clone()))
}

/// What an object takes, in bytes. `lopdf` nests none deeper than 100.
fn weight(object: &Object) -> usize {
    let entries = |dict: &lopdf::Dictionary| -> usize {
        dict.iter().map(|(key, value)| key.len() + weight(value)).sum()
    };
    OBJECT
        + match object {
            Object::Array(all) => all.iter().map(weight).sum(),
            Object::Dictionary(dict) => entries(dict),
            Object::Stream(stream) => stream.content.len() + entries(&stream.dict),
            Object::String(text, _) | Object::Name(text) => text.len(),
            _ => 0,
        }
}

/// Whether the objects of a packed run lie one after the other, as they must to be each read
/// once (ISO 32000-1:2008, 7.5.7, asks for pairs of numbers and offsets before `/First`). Any
/// other stream is in order.
fn is_in_order(stream: &Stream, most: usize) -> bool {
    if !stream.dict.has_type(b"ObjStm") {
        return true;
    }
    let first = stream.dict.get(b"First").and_then(Object::as_i64);
    let first = first.ok().and_then(|n| usize::try_from(n).ok());
    // What cannot be unpacked, or has no index, is passed over by `lopdf` too.
    let Ok(content) = stream.get_plain_content_with_limit(most) else { return true };
    let index = first.and_then(|first| content.get(..first));
    let Some(index) = index.and_then(|i| std::str::from_utf8(i).ok()) else {
        return true;
    };
    let offsets: Vec<Option<u32>> =
        index.split_whitespace().skip(1).step_by(2).map(|n| n.parse().ok()).collect();
    let known: Vec<u32> = offsets.into_iter().flatten().collect();
    known.windows(2).all(|pair| pair[0] < pair[1])
}
