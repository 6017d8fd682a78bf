//! The hardware of a day: what all orders take together.

use crate::geom::Length;
use crate::ticket::{Hardware, Round, Through};
use crate::words::{Word, Wording};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// How many of each sort.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    counts: BTreeMap<Hardware, usize>,
}

const HEADER: [&str; 11] = [
    "kind",
    "hole_mm",
    "through_mm",
    "inside_mm",
    "bar_mm",
    "reach_mm",
    "width_mm",
    "length_mm",
    "rivet_post_mm",
    "screw_post_mm",
    "count",
];

impl Tally {
    /// Adds what a strap takes.
    pub fn add(&mut self, hardware: &BTreeMap<Hardware, usize>) {
        for (sort, count) in hardware {
            *self.counts.entry(*sort).or_default() += count;
        }
    }

    /// Every sort with its number.
    pub fn counts(&self) -> impl Iterator<Item = (Hardware, usize)> + '_ {
        self.counts.iter().map(|(sort, count)| (*sort, *count))
    }

    /// A line a sort, as the tickets say it, below a heading.
    pub fn text(&self, wording: Wording) -> String {
        let mut text = format!("{}\n", wording.say(Word::Hardware));
        for (sort, count) in self.counts() {
            let _ = writeln!(text, "  {}", sort.words(count, wording));
        }
        text
    }

    /// The same as CSV: a row a sort, lengths in mm, and nothing where a sort has none.
    ///
    /// # Errors
    /// Where the table cannot be put together; says why.
    pub fn csv(&self) -> Result<String, String> {
        let mut table = csv::Writer::from_writer(Vec::new());
        table.write_record(HEADER).map_err(|e| e.to_string())?;
        for (sort, count) in self.counts() {
            let mut row = [None; 9];
            match sort {
                Hardware::Buckle { inside, bar, reach } => {
                    (row[2], row[3], row[4]) = (Some(inside), Some(bar), Some(reach));
                }
                Hardware::TongueBuckle(Round { bar, width })
                | Hardware::Ring(Round { bar, width }) => {
                    (row[3], row[5]) = (Some(bar), Some(width));
                }
                Hardware::Fastener { through: Through { hole, stack }, posts } => {
                    (row[0], row[1]) = (Some(hole), Some(stack));
                    [row[7], row[8]] = posts;
                }
                Hardware::FastenerOn(Through { hole, stack })
                | Hardware::Fitting(Through { hole, stack })
                | Hardware::Eyelet(Through { hole, stack })
                | Hardware::Snap(Through { hole, stack }) => {
                    (row[0], row[1]) = (Some(hole), Some(stack));
                }
                Hardware::Keeper { width, length } => {
                    (row[5], row[6]) = (Some(width), Some(length));
                }
            }
            let lengths = row.map(|l| l.map_or_else(String::new, Length::plain_mm));
            let cells = std::iter::once(sort.kind().to_owned())
                .chain(lengths)
                .chain([count.to_string()]);
            table.write_record(cells).map_err(|e| e.to_string())?;
        }
        let bytes = table.into_inner().map_err(|e| e.to_string())?;
        String::from_utf8(bytes).map_err(|e| e.to_string())
    }
}
