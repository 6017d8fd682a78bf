//! The hardware that all orders of a batch take together.

use crate::export::csv;
use crate::geom::Length;
use crate::ticket::{Hardware, Round, Through};
use crate::words::{Word, Wording};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::iter;

/// The number of each kind of hardware.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HardwareTotals {
    counts: BTreeMap<Hardware, usize>,
}

const HEADER: [&str; 10] = [
    "kind",
    "hole_mm",
    "through_mm",
    "inside_mm",
    "bar_mm",
    "reach_mm",
    "width_mm",
    "length_mm",
    "post_mm",
    "count",
];

impl HardwareTotals {
    /// Adds the hardware of one strap.
    pub fn add(&mut self, hardware: &BTreeMap<Hardware, usize>) {
        for (kind, count) in hardware {
            *self.counts.entry(*kind).or_default() += count;
        }
    }

    /// Each kind with its number.
    pub fn iter(&self) -> impl Iterator<Item = (Hardware, usize)> + '_ {
        self.counts.iter().map(|(kind, count)| (*kind, *count))
    }

    /// A heading, then one line for each kind, worded as on the tickets.
    pub fn to_text(&self, wording: Wording) -> String {
        let mut text = format!("{}\n", wording.say(Word::Hardware));
        for (kind, count) in self.iter() {
            let _ = writeln!(text, "  {}", kind.words(count, wording));
        }
        text
    }

    /// A CSV table with a row for each kind. Lengths are in mm; what a kind does not have is
    /// empty.
    pub fn to_csv(&self) -> String {
        let rows = self.iter().map(|(kind, count)| {
            let mut row = [None; 8];
            match kind {
                Hardware::Buckle { inside, bar, reach } => {
                    (row[2], row[3], row[4]) = (Some(inside), Some(bar), Some(reach));
                }
                Hardware::TongueBuckle(Round { bar, width })
                | Hardware::Ring(Round { bar, width }) => {
                    (row[3], row[5]) = (Some(bar), Some(width));
                }
                Hardware::Fastener { through: Through { hole, stack }, post, .. } => {
                    (row[0], row[1], row[7]) = (Some(hole), Some(stack), post);
                }
                Hardware::Fitting { through: Through { hole, stack }, face } => {
                    (row[0], row[1], row[6]) = (Some(hole), Some(stack), Some(face));
                }
                Hardware::Lace { thickness, .. } => row[5] = Some(thickness),
                Hardware::FastenerOn(Through { hole, stack })
                | Hardware::Stud(Through { hole, stack })
                | Hardware::Eyelet(Through { hole, stack })
                | Hardware::Snap(Through { hole, stack }) => {
                    (row[0], row[1]) = (Some(hole), Some(stack));
                }
                Hardware::Keeper { width, length } => {
                    (row[5], row[6]) = (Some(width), Some(length));
                }
            }
            let lengths = row.map(|l| l.map_or_else(String::new, Length::plain_mm));
            let (first, last) = ([kind.kind().to_owned()], [count.to_string()]);
            [&first[..], &lengths, &last].concat()
        });
        csv(iter::once(HEADER.map(ToOwned::to_owned).to_vec()).chain(rows))
    }
}
