//! A day's orders: a table with a row for each, laid one after the other over a common job.
//!
//! A column is a key of the job language, and an empty cell says nothing. Whatever is wrong
//! with an order costs that order alone, and is shown at its cell.

mod encoding;
mod name;
mod order;
mod row;
pub(crate) mod rule;
mod summary;
mod table;
mod tally;

#[cfg(test)]
mod tests;

pub use name::Names;
pub use order::{Base, Key, Order, order};
pub use row::{Cell, Row, Rows};
pub use rule::RULES;
pub use summary::{COLUMNS, Status, Summary, said};
pub use table::{Column, ORDER, ParsedTable, Table, read};
pub use tally::Tally;
