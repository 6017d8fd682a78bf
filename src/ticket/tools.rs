//! What has to lie on the bench: punches by diameter, and the hardware with its posts.

use super::{Body, Part, Subject};
use crate::geom::Length;
use crate::job::FeatureKind;
use crate::layout::Shape;
use crate::words::Word;
use std::collections::BTreeMap;

/// A cap rivet's post stands up to 3 mm above the stack that it goes through (common
/// practice, no source).
const RIVET_OVER: Length = Length::from_mm(3);

/// Punches with how often each is used, then what every strap takes.
pub(super) fn tools(subject: &Subject<'_>) -> Vec<Part> {
    let wording = subject.wording;
    let mut counts: BTreeMap<(Length, Length), usize> = BTreeMap::new();
    for mark in subject.layout.pieces.iter().flat_map(|p| &p.marks) {
        let size = match mark.shape {
            Shape::Round { diameter } => (diameter, diameter),
            Shape::Slot { length, width } => (length, width),
            Shape::Across | Shape::Point => continue,
        };
        if mark.is_punched() {
            *counts.entry(size).or_default() += 1;
        }
    }
    let mm = |l: Length| format!("{} mm", wording.plain(l));
    let mut lines: Vec<String> = counts
        .iter()
        .map(|((length, width), count)| {
            if length == width {
                wording.fill(Word::PunchRound, &[&mm(*width), count])
            } else {
                wording
                    .fill(Word::PunchSlot, &[&wording.plain(*length), &mm(*width), count])
            }
        })
        .collect();
    lines.push(wording.say(Word::CommonTools).to_owned());
    vec![Part { heading: wording.say(Word::Tools).to_owned(), body: Body::Lines(lines) }]
}

/// Hardware with counts, and posts for the stack that each goes through.
pub(super) fn hardware(subject: &Subject<'_>) -> Vec<Part> {
    let Subject { job, wording, .. } = *subject;
    let thickness = job.strap.thickness.value;
    let mm = |l: Length| format!("{} mm", wording.plain(l));
    let mut lines = Vec::new();
    for feature in &job.features {
        match &feature.kind {
            FeatureKind::TurnBack(f) => {
                let stack = thickness * 2;
                lines.push(wording.fill(
                    Word::Fasteners,
                    &[
                        &2,
                        &mm(f.fastener_diameter.value),
                        &mm(stack),
                        &mm(stack),
                        &mm(stack + RIVET_OVER),
                    ],
                ));
            }
            FeatureKind::Spread(f) if f.count.value > 0 => {
                let (hole, through) = (mm(f.diameter.value), mm(thickness));
                lines.push(
                    wording.fill(Word::Fittings, &[&f.count.value, &hole, &through]),
                );
            }
            _ => {}
        }
    }
    if lines.is_empty() {
        return Vec::new();
    }
    vec![Part {
        heading: wording.say(Word::Hardware).to_owned(),
        body: Body::Lines(lines),
    }]
}
