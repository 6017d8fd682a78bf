//! What is drawn on the pages of a file: lines, other paths and words, in mm of each page
//! as it is shown, from its left lower corner.
//!
//! The structure of the file is `lopdf`'s to read; the content is read here, since it is
//! what everything else rests on. A page may have gone through other tools: every operator
//! that moves, strokes or writes is followed, forms within forms too.

mod dash;
mod drawing;
mod file;
mod font;
mod groups;
mod guard;
mod paths;
pub(super) mod plane;
mod state;
mod tokens;
mod writing;

pub(super) use file::Layer;
pub(super) use paths::{Line, Path, Pen, Step};

use file::File;
use plane::Spot;

/// How much is read at most: far beyond any print of sheets, and little enough for any
/// machine.
#[derive(Clone, Copy, Debug)]
struct Limits {
    /// Bytes of the file.
    file: usize,
    /// Bytes that its objects take, streams as they are packed.
    memory: usize,
    /// Bytes of a stream that holds a part of the file's structure, unpacked.
    structure: usize,
    /// Bytes of one stream, unpacked.
    stream: usize,
    /// Bytes of all pages' content, unpacked.
    content: usize,
    pages: usize,
    /// Operators of all pages.
    operators: usize,
    /// Lines, other paths and words, of each.
    things: usize,
    /// Forms within forms, and states kept for later.
    depth: usize,
}

const LIMITS: Limits = Limits {
    file: 64 << 20,
    memory: 64 << 20,
    structure: 4 << 20,
    stream: 32 << 20,
    content: 128 << 20,
    pages: 1_000,
    operators: 8_000_000,
    things: 1_000_000,
    depth: 12,
};

/// Words as they are shown.
#[derive(Clone, Debug)]
pub(super) struct Words {
    pub(super) text: String,
    /// Where the base line starts.
    pub(super) from: Spot,
    /// Where it ends.
    pub(super) to: Spot,
    /// From the base line to the height of the type.
    pub(super) up: Spot,
}

/// One page.
#[derive(Clone, Debug, Default)]
pub(super) struct Page {
    /// Width and height as it is shown.
    pub(super) size: Spot,
    pub(super) lines: Vec<Line>,
    pub(super) paths: Vec<Path>,
    pub(super) words: Vec<Words>,
    /// Why the page could not be read to its end.
    pub(super) broken: Option<String>,
}

/// A whole file.
#[derive(Clone, Debug)]
pub(super) struct Print {
    /// The name after `/PrintScaling`.
    pub(super) scaling: Option<String>,
    pub(super) pages: Vec<Page>,
}

/// Whether a file can be opened without taking more than a print of sheets may.
///
/// # Errors
/// Says why not.
pub(super) fn opens(bytes: &[u8]) -> Result<(), String> {
    File::open(bytes, &LIMITS).map(drop)
}

/// Reads a file.
///
/// # Errors
/// Says why it cannot be read.
pub(super) fn read(bytes: &[u8]) -> Result<Print, String> {
    let file = File::open(bytes, &LIMITS)?;
    let mut budget = drawing::Budget::new(&LIMITS);
    let mut fonts = writing::Fonts::default();
    let pages = file.pages(&LIMITS)?;
    let pages = pages
        .iter()
        .map(|page| drawing::page(&file, page, &mut fonts, &mut budget))
        .collect();
    Ok(Print { scaling: file.print_scaling(), pages })
}
