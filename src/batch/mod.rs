//! A day's orders: a table with a row for each, laid one after the other over a common job.
//!
//! A column is a key of the job language, and an empty cell says nothing. Whatever is wrong
//! with an order costs that order alone, and is shown at its cell.

mod encoding;
mod name;
mod order;
mod row;
mod summary;
mod table;
mod tally;

#[cfg(test)]
mod tests;

pub use name::Names;
pub use order::{Base, Key, Order, order};
pub use row::{Cell, Row, Rows};
pub use summary::{COLUMNS, Status, Summary, said};
pub use table::{Column, ORDER, ParsedTable, Table, read};
pub use tally::Tally;

/// The rules that this stage can find broken, each with what it means.
pub const RULES: &[(&str, &str)] = &[
    ("orders-text", "the table of orders is not UTF-8 text, or longer than any day's"),
    ("orders-column", "a column of the orders that is missing, nameless or twice"),
    (
        "orders-row",
        "a row that is no order: nameless, too long, or longer than the header",
    ),
    ("order-twice", "two orders have the same name"),
    ("file-in-the-way", "a file is where an order's belongs, and was not made from it"),
    (
        "order-failed",
        "the program could not draw an order that it found nothing wrong with",
    ),
];
