//! From the strap to the sheets.

mod sheet;

pub use sheet::{Anchor, Cross, Item, Layer, Pen, ScaleBar, Sheet, SheetSet, Tile, Tone};
