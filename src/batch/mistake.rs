//! What is wrong with the orders, a finding a row: the rows of `mistakes.csv`.

use super::{Order, Table};
use crate::diagnostic::{Finding, Severity};
use crate::export::cell;
use serde::Serialize;

/// A row of `mistakes.csv`. Texts of the user are written as a [`cell`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Mistake {
    /// The cell as a spreadsheet names it, `E5`; empty for a mistake of more than one.
    pub cell: String,
    /// The number of the row of the order.
    pub row: usize,
    /// The name of the order.
    pub order: String,
    /// The name of the column.
    pub column: String,
    /// What was found.
    pub found: String,
    /// What is required.
    pub required: String,
    /// What would do.
    pub remedy: String,
}

impl Mistake {
    /// The names of the columns.
    pub const HEADER: [&str; 7] =
        ["cell", "row", "order", "column", "found", "required", "remedy"];

    /// All that keeps an order from being drawn.
    pub fn all<'a>(
        order: &'a Order,
        findings: &'a [Finding],
        table: &'a Table,
    ) -> impl Iterator<Item = Self> + 'a {
        let errors = findings.iter().filter(|f| f.severity == Severity::Error);
        errors.map(|finding| {
            let (name, column) = order.cell(finding, table).unwrap_or_default();
            Self {
                cell: name,
                row: order.row,
                order: cell(&order.name).into_owned(),
                column: cell(column).into_owned(),
                found: cell(&format!("{}: {}", finding.message, finding.found))
                    .into_owned(),
                required: cell(&finding.required).into_owned(),
                remedy: cell(&finding.remedy_by_flag()).into_owned(),
            }
        })
    }
}
