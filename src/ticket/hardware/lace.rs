//! Laces: how many a strap takes, and how long they are.

use super::{Hardware, Kind};
use crate::geom::Length;
use crate::job::{HardwareId, HardwareKind, Job, Target};
use crate::layout::Layout;

/// Both ends of a lace together, to tie it by (common practice, no source).
const ENDS: Length = Length::from_mm(400);
/// Laces are cut in steps of 5 cm (common practice, no source).
const STEP: Length = Length::from_mm(50);

/// The laces of a strap: one goes through all columns that close on it.
pub(super) fn laces(job: &Job, layout: &Layout) -> impl Iterator<Item = Hardware> {
    job.hardware.iter().enumerate().filter_map(|(id, spec)| {
        let HardwareKind::Lace(thickness) = &spec.kind else { return None };
        let target = Target::Hardware(HardwareId(id));
        let is_laced = job.features.iter().any(|f| f.kind.facts().meets == Some(&target));
        let length = length(job, layout, &target);
        is_laced.then_some(Hardware {
            width: Some(thickness.value),
            length,
            ..Hardware::of(Kind::Lace)
        })
    })
}

/// How long a lace is that crosses from column to column at every hole, with ends to tie. With
/// the gap g between the columns and the pitch p it takes g for its first hole, then
/// 2 √(p² + g²) from hole to hole (computed), rounded up to [`STEP`].
fn length(job: &Job, layout: &Layout, lace: &Target) -> Option<Length> {
    let gap = job.worn.as_ref()?.measure.rest.value;
    let column = job.features.iter().find(|f| f.kind.facts().meets == Some(lace))?;
    let marks = layout.pieces.iter().flat_map(|p| p.marks_of(column.id));
    let mut holes: Vec<Length> = marks.map(|m| m.at.y).collect();
    holes.sort();
    holes.dedup();
    let cross = |pair: &[Length]| {
        let pitch = pair[1] - pair[0];
        Length::from_square(pitch.square() + gap.square()) * 2
    };
    let crossed: Length = holes.windows(2).map(cross).sum();
    let steps = (gap + crossed + ENDS).nm().div_euclid(STEP.nm()) + 1;
    (crossed > Length::ZERO).then_some(STEP * steps)
}
