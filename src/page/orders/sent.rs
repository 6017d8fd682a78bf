//! What a form of orders sends: a table, what its columns mean, corrected cells, strips.

use super::super::assets::hash;
use super::MOST_ORDERS;
use crate::batch::{
    ColumnRules, Flaw, Flaws, NamedColumn, ParsedTable, Table, is_same_name, read,
};
use crate::diagnostic::Finding;

/// A field of a form: its name, and the text or the file.
pub(in crate::page) type Part = (String, Vec<u8>);

/// The words of a form for what a spreadsheet made of a cell.
pub(super) const FLAWS: [(&str, Flaw); 2] =
    [("date", Flaw::Date), ("error", Flaw::Error)];

/// A cell by its row and column, from 0.
type Place = (usize, usize);

/// What a form sent.
#[derive(Default)]
pub(super) struct Sent {
    /// The table, as text or as a file.
    table: Vec<u8>,
    /// The hash of the table that the cells belong to.
    seen: String,
    /// Cells that were corrected.
    cells: Vec<(Place, String)>,
    /// Cells that a spreadsheet changed, until somebody types another value.
    flaws: Flaws,
    /// Columns with what they mean; one without a key is not used.
    pub(super) columns: Vec<NamedColumn>,
    pub(super) strips: String,
    pub(super) may_rip: bool,
    /// What is asked for.
    pub(super) deed: String,
}

/// Why there is no table.
pub(super) enum NoTable {
    Findings(Vec<Finding>),
    /// It has more than [`MOST_ORDERS`] rows.
    TooLong,
    /// It was changed as a whole and in single cells.
    Changed,
}

impl Sent {
    pub(super) fn read(parts: &[Part]) -> Self {
        let (mut all, mut file) = (Self::default(), &[][..]);
        for (name, bytes) in parts {
            // A browser sends the lines of a text with other ends than it was given.
            let text = || String::from_utf8_lossy(bytes).replace("\r\n", "\n");
            let place = |sort: &str| {
                let (row, column) = name.strip_prefix(sort)?.split_once('-')?;
                Some((row.parse().ok()?, column.parse().ok()?))
            };
            match name.as_str() {
                "file" => file = bytes,
                "table" => all.table = text().into_bytes(),
                "seen" => all.seen = text(),
                "strips" => all.strips = text(),
                "rip" => all.may_rip = true,
                "do" => all.deed = text(),
                "column" => all
                    .columns
                    .push(NamedColumn { name: text(), ..NamedColumn::default() }),
                "key" | "unit" => {
                    let said = Some(text()).filter(|said| !said.trim().is_empty());
                    match all.columns.last_mut() {
                        Some(last) if name == "key" => {
                            last.key = said.unwrap_or_default();
                        }
                        Some(last) => last.unit = said,
                        None => {}
                    }
                }
                _ => {
                    all.cells.extend(place("cell-").map(|at| (at, text())));
                    let flaw = FLAWS.iter().find(|(word, _)| text() == *word);
                    let flaw = flaw.and_then(|(_, flaw)| Some((place("flaw-")?, *flaw)));
                    all.flaws.extend(flaw);
                }
            }
        }
        if !file.is_empty() {
            // The cells are those of the table before.
            (all.table, all.cells, all.flaws) = (file.to_vec(), Vec::new(), Flaws::new());
        }
        all
    }

    /// The text of the table, as it was sent.
    pub(super) fn text(&self) -> String {
        String::from_utf8_lossy(&self.table).into_owned()
    }

    /// The table with its corrected cells. Columns that nothing is known of get the meaning
    /// that an office most likely has in mind; the others are left out.
    ///
    /// # Errors
    /// When the table cannot be read, or it cannot be told which cells are meant.
    pub(super) fn table(&mut self, house: &ColumnRules) -> Result<Table, NoTable> {
        let mut table = self.parsed(house, self.table.clone())?;
        if table.rows().nth(MOST_ORDERS).is_some() {
            return Err(NoTable::TooLong);
        }
        if self.cells.is_empty() && self.flaws.is_empty() {
            return Ok(table);
        }
        if hash(&table.to_text(&[])) == self.seen {
            let before = table;
            let text = before.to_text(&self.cells);
            table = self.parsed(house, text.into_bytes())?;
            let mut left = Flaws::new();
            for (old, new) in before.rows().zip(table.rows()) {
                let same =
                    old.cells.iter().zip(&new.cells).map(|(o, n)| o.value == n.value);
                let same = same.enumerate().filter(|(_, is_same)| *is_same);
                left.extend(same.filter_map(|(column, _)| {
                    let place = (new.number, column);
                    Some((place, *self.flaws.get(&place)?))
                }));
            }
            table.flaws = left;
        } else if !self.cells.is_empty() {
            return Err(NoTable::Changed);
        }
        Ok(table)
    }

    fn parsed(&mut self, house: &ColumnRules, bytes: Vec<u8>) -> Result<Table, NoTable> {
        let mut parsed = read("orders", bytes.clone(), &self.rules(house));
        if !parsed.unknown.is_empty() {
            let guessed = parsed.unknown.into_iter().map(|column| {
                let means = column.means.unwrap_or_default();
                NamedColumn { name: column.name, ..means }
            });
            self.columns.extend(guessed);
            parsed = read("orders", bytes, &self.rules(house));
        }
        let ParsedTable { table, findings, .. } = parsed;
        table.ok_or(NoTable::Findings(findings))
    }

    /// What the columns mean: the form comes before the profile.
    fn rules(&self, house: &ColumnRules) -> ColumnRules {
        let mut rules = house.clone();
        let (used, unused): (Vec<_>, Vec<_>) =
            self.columns.iter().partition(|column| !column.key.is_empty());
        let own = used.into_iter().map(|column| {
            let is_same = |other: &&NamedColumn| {
                other.key == column.key && is_same_name(&other.name, &column.name)
            };
            let words = house.named.iter().find(is_same).map(|same| same.words.clone());
            NamedColumn { words: words.unwrap_or_default(), ..column.clone() }
        });
        rules.named.splice(0..0, own);
        let is_unused = |name: &str| unused.iter().any(|u| is_same_name(&u.name, name));
        rules.named.retain(|column| !is_unused(&column.name));
        rules.ignored.extend(unused.iter().map(|column| column.name.clone()));
        rules
    }
}
