//! A table of orders: each row is a job that is laid over a common base job.
//!
//! A column is a key of the job language, or has a name for one; an empty cell sets nothing. A mistake in a row
//! stops that order alone, and is shown at its cell.

mod columns;
mod encoding;
mod file_name;
mod hardware_totals;
mod mistake;
mod order;
mod row;
pub(crate) mod rule;
mod summary;
mod table;
#[cfg(feature = "workbooks")]
mod workbook;

#[cfg(test)]
mod tests;

pub use columns::{COLUMNS, ColumnRules, NamedColumn, is_same_name};
pub use file_name::{FileNames, is_device};
pub use hardware_totals::HardwareTotals;
pub use mistake::Mistake;
pub use order::{Base, CacheKey, Order, lay_out_order};
pub use row::{Cell, Row, Rows};
pub use rule::RULES;
pub use summary::{Status, Summary, finding_line};
pub use table::{Column, Flaw, Flaws, ORDER, ParsedTable, Table, read};
