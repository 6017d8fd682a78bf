//! What has to lie on the bench: punches by diameter.

use super::{Body, Part, TicketInput};
use crate::geom::Length;
use crate::layout::{MarkKind, Shape};
use crate::words::Word;
use std::collections::BTreeMap;

/// Punches with how often each is used, then what every strap takes.
pub(super) fn tools(input: &TicketInput<'_>) -> Vec<Part> {
    let wording = input.wording;
    let mut counts: BTreeMap<(Length, Length), usize> = BTreeMap::new();
    let mut pricks = 0_usize;
    for mark in input.layout.pieces.iter().flat_map(|p| &p.marks) {
        let size = match mark.shape {
            Shape::Round { diameter } => (diameter, diameter),
            Shape::Slot { length, width } => (length, width),
            Shape::Across | Shape::Point => continue,
        };
        if mark.kind == MarkKind::Stitch {
            pricks += 1;
        } else if mark.is_punched() {
            *counts.entry(size).or_default() += 1;
        }
    }
    let mut lines: Vec<String> = counts
        .iter()
        .map(|((length, width), count)| {
            if length == width {
                wording.fill(Word::PunchRound, &[&wording.size(*width), count])
            } else {
                let size = wording.oblong(*length, *width);
                wording.fill(Word::PunchSlot, &[&size, count])
            }
        })
        .collect();
    if pricks > 0 {
        lines.push(wording.fill(Word::PrickStitches, &[&pricks]));
    }
    lines.push(wording.say(Word::CommonTools).to_owned());
    vec![Part { heading: wording.say(Word::Tools).to_owned(), body: Body::Lines(lines) }]
}
