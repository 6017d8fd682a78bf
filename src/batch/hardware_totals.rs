//! The hardware that all orders of a batch take together.

use crate::export::csv;
use crate::geom::Length;
use crate::ticket::Hardware;
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
            let lengths = kind
                .measures()
                .map(|(_, length)| length.map_or_else(String::new, Length::plain_mm));
            let (first, last) = ([kind.kind().to_owned()], [count.to_string()]);
            [&first[..], &lengths, &last].concat()
        });
        csv(iter::once(HEADER.map(ToOwned::to_owned).to_vec()).chain(rows))
    }
}
