//! The texts that people write, TOML and CSV, read so that every value keeps its span.
//!
//! [`parse`] makes a tree of tables from a TOML text. A [`Reader`] reads that tree key by
//! key. It collects every mistake, and at the end it finds the keys that nothing asked for.
//! [`Format`] says how the kinds of file differ.

mod csv;
mod format;
mod parse;
mod reader;
mod section;
mod syntax;
mod takes;
mod tree;
mod worded;

pub(crate) use csv::{Record, Records, separator, split};
pub(crate) use format::{Format, Rules};
pub(crate) use parse::{
    find_oversize, parse, parse_length, parse_valid, parse_value, quoted, to_toml,
};
pub(crate) use reader::Reader;
pub(crate) use section::Section;
pub use takes::Takes;
pub(crate) use tree::{Entry, Leaf, Node, Table, Value};
pub(crate) use worded::worded;
