//! What a key takes.

use std::ops::RangeInclusive;

/// What a key takes, as its reader asks for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Nothing is known of it.
    Any,
    /// A text, or the digits of a number as one.
    Text,
    /// `true` or `false`.
    Truth,
    /// A number from 0 to 1.
    Ratio,
    /// A whole number within a range.
    Count(RangeInclusive<usize>),
    /// One of a few words.
    Words(Vec<String>),
    /// A length with its unit.
    Length,
    /// A length from zero.
    FromZero,
    /// A length above zero.
    Size,
    /// A list of lengths, or one.
    Lengths,
    /// A list of names, or one.
    Names,
    /// The same, or `true` for all that are meant.
    NamesOrAll,
    /// A table.
    Table,
}
