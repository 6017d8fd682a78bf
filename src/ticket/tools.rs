//! The tools: punches by size, then what every strap needs.

use super::{Body, Part, TicketInput};
use crate::geom::Length;
use crate::layout::MarkKind;
use crate::words::Word;
use std::collections::BTreeMap;

/// The punches, each with the number of its holes, and the other tools.
pub(super) fn part(input: &TicketInput<'_>) -> Part {
    let wording = input.wording;
    let mut counts: BTreeMap<(Length, Length), usize> = BTreeMap::new();
    let mut stitches = 0_usize;
    for mark in input.layout.pieces.iter().flat_map(|p| &p.marks) {
        let Some([length, width]) = mark.shape.size() else { continue };
        if mark.kind == MarkKind::Stitch {
            stitches += 1;
        } else if mark.is_punched() {
            let size = (length.max(width), length.min(width));
            *counts.entry(size).or_default() += 1;
        }
    }
    let punch = |(&(length, width), count): (&(Length, Length), &usize)| {
        if length == width {
            wording.fill(
                Word::PunchRound,
                &[("size", &wording.size(width)), ("count", count)],
            )
        } else {
            let (size, ends) = (wording.oblong(length, width), wording.near(width));
            wording.fill(
                Word::PunchSlot,
                &[("size", &size), ("count", count), ("ends", &ends)],
            )
        }
    };
    let mut lines: Vec<String> = counts.iter().map(punch).collect();
    if stitches > 0 {
        lines.push(wording.fill(Word::PrickStitches, &[("count", &stitches)]));
    }
    lines.push(wording.say(Word::CommonTools).to_owned());
    Part::new(input, Word::Tools, Body::Lines(lines))
}
