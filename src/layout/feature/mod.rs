//! How each kind of feature is placed: one file a kind, matched to its keys in
//! `job::FeatureKind`.

mod button_hole;
mod course;
mod crease;
mod fold;
mod hole_row;
mod row;
mod slot;
mod snap;
mod spread;
mod stamp;
mod stitch;
mod taper;
mod text;
mod tip;

pub(super) use tip::at_side as tip_at;

use super::datum::{Datums, PlaceError};
use super::guide::Guide;
use super::mark::{FoldLine, Mark, MarkKind, Shape, WidthChange};
use super::role::MarkRole;
use crate::diagnostic::{Finding, Span};
use crate::fit::Fit;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{
    Between, DatumRef, Feature, FeatureKind, Form, Hole, Job, PieceSpec, Place, Rows,
    Side,
};
use crate::layout::rule;

/// Most marks of one job, those of copies too.
pub(super) const MOST_MARKS: i64 = 100_000;
/// Longest piece that is laid out, 1 km: beyond it only a slip of the pen can lie.
pub(super) const LONGEST: Length = Length::from_mm(1_000_000);

/// What a feature adds to its piece.
#[derive(Debug, Default)]
pub(super) struct Placed {
    pub(super) marks: Vec<Mark>,
    /// Datums that the feature publishes, without its own name.
    pub(super) datums: Vec<(&'static str, Length)>,
    /// The stretch of outline that the blank has already, if it came with this feature.
    pub(super) on_blank: Option<Extent>,
    /// The end at which x is least, if this feature makes it.
    pub(super) start: Option<End>,
    /// The end at which x is greatest, if this feature makes it.
    pub(super) end: Option<End>,
    /// A change of width; what is before it follows from the others.
    pub(super) taper: Option<WidthChange>,
    /// Where the piece folds.
    pub(super) fold: Option<FoldLine>,
    /// What is drawn and neither cut nor punched.
    pub(super) guides: Vec<Guide>,
}

/// An end of a piece: where it is furthest out, and its curve, clockwise: from the lower
/// shoulder to the upper at the start, from the upper to the lower at the end.
#[derive(Clone, Debug)]
pub(super) struct End {
    pub(super) x: Length,
    pub(super) curve: Path<Strap>,
}

/// What a feature may look at while it is placed.
#[derive(Debug)]
pub(super) struct PlaceContext<'a> {
    pub(super) job: &'a Job,
    pub(super) fit: Option<&'a Fit>,
    pub(super) datums: &'a Datums,
    pub(super) feature: &'a Feature,
    /// The piece that it lies on.
    pub(super) piece: &'a PieceSpec,
    /// The piece's finished outline, for what follows it.
    pub(super) outline: Option<&'a Path<Strap>>,
}

/// What a feature adds, or why it cannot be placed.
type Outcome = Result<Placed, PlaceError>;

impl PlaceContext<'_> {
    /// A mark of the feature; a target where the blank came with it.
    fn mark(
        &self,
        kind: MarkKind,
        shape: Shape,
        at: Point<Strap>,
        role: MarkRole,
        span: Option<&Span>,
    ) -> Mark {
        let feature = self.feature;
        let kind = if feature.on_blank && shape.size().is_some() {
            MarkKind::Target
        } else {
            kind
        };
        Mark {
            feature: feature.id,
            role,
            size: None,
            kind,
            shape,
            at,
            span: span.or(feature.span.as_ref()).cloned(),
        }
    }

    /// Where a datum lies; on another piece it is of no use, since each has an x axis of
    /// its own, which a lining shares with the piece that it lines.
    fn get(&self, wanted: &DatumRef) -> Result<Length, PlaceError> {
        let datum = self.datums.get(wanted)?;
        let lined = match &self.piece.form {
            Form::Lining { of, .. } => of.value,
            Form::Strap(_) | Form::Keeper(_) => self.piece.id,
        };
        let on = datum.on.unwrap_or(lined);
        if on == lined || on == self.piece.id {
            return match &wanted.and {
                Some(other) => Ok((datum.x + self.get(other)?) / 2),
                None => Ok(datum.x),
            };
        }
        let finding = Finding::error(
            rule::OTHER_PIECE,
            format!("`{}` lies on another piece", wanted.name),
        )
        .at(wanted.span.clone())
        .expected(
            format!("a datum of `{}`", self.job.piece_name(on)),
            format!("a datum of `{}`", self.piece.name),
        )
        .remedy("place it from a datum of its own piece, or put it `on` the other one");
        Err(finding.into())
    }

    /// Where a place lies.
    fn past(&self, place: &Place) -> Result<Length, PlaceError> {
        Ok(self.get(&place.from)? + place.by.value)
    }

    /// Where a stretch begins and ends.
    fn ends(&self, between: &Between) -> Result<[Length; 2], PlaceError> {
        Ok([self.past(&between.from)?, self.past(&between.to)?])
    }

    /// The width of the piece at one of its ends: its own, or what its last taper leaves.
    fn width_at(&self, side: Side) -> Length {
        let own = self.piece.leather.width.value;
        let tapers = self.job.features.iter().rev();
        let last =
            tapers.filter(|f| f.on.value == self.piece.id).find_map(|f| match &f.kind {
                FeatureKind::Taper(t) => Some(t.width.value),
                _ => None,
            });
        match side {
            Side::Start => own,
            Side::End => last.unwrap_or(own),
        }
    }
}

/// The form of a hole.
fn shape_of(hole: &Hole) -> Shape {
    let diameter = hole.diameter.value;
    let round = Shape::Round { diameter };
    let oval = hole.oval.as_ref();
    oval.map_or(round, |length| Shape::Slot { length: length.value, width: diameter })
}

/// How far each of some rows lies from the centre line: even about their line.
fn offsets(rows: &Rows) -> Vec<Length> {
    let n = i64::from(rows.count.value);
    let across = rows.across.value;
    (0..n).map(|i| across + rows.apart.value.times(2 * i - (n - 1), 2)).collect()
}

/// The number of the mark at an index, from 1.
fn nth(index: i64) -> u32 {
    u32::try_from(index + 1).unwrap_or(u32::MAX)
}

/// The finding that a feature makes more marks than anybody punches.
fn too_many(feature: &Feature, count: i64, span: Option<&Span>) -> Finding {
    Finding::error(
        rule::TOO_MANY_MARKS,
        format!("`{}` makes more holes than anybody punches", feature.name),
    )
    .at(span.or(feature.span.as_ref()).cloned())
    .expected(format!("{count} holes"), format!("at most {MOST_MARKS}"))
    .remedy("look at the pitch and its unit, or at the count")
}

/// The finding that a feature lies farther off than any strap is long.
fn too_far(feature: &Feature, placed: &Placed) -> Option<Finding> {
    let marks = placed.marks.iter().flat_map(|m| [m.at.x, m.at.y]);
    let datums = placed.datums.iter().map(|(_, x)| *x);
    let far = marks.chain(datums).find(|l| l.abs() > LONGEST)?;
    let finding = Finding::error(
        rule::NO_LENGTH,
        format!("`{}` lies farther off than any strap is long", feature.name),
    )
    .at(feature.span.clone())
    .expected(far.both(), "at most 1 km from the bend and the centre line");
    Some(finding.remedy("look at its places, pitches and counts, and at their units"))
}

/// Places one feature, or says why it cannot be.
pub(super) fn place(context: &PlaceContext<'_>) -> Outcome {
    let mut placed = match &context.feature.kind {
        FeatureKind::Fold(f) => fold::place(f, context),
        FeatureKind::Tip(f) => tip::place(f, context),
        FeatureKind::Taper(f) => taper::place(f, context),
        FeatureKind::HoleRow(f) => hole_row::place(f, context),
        FeatureKind::Row(f) => row::place(f, context),
        FeatureKind::Spread(f) => spread::place(f, context),
        FeatureKind::Slot(f) => slot::place(f, context),
        FeatureKind::ButtonHole(f) => button_hole::place(f, context),
        FeatureKind::Snap(f) => snap::place(f, context),
        FeatureKind::Text(f) => text::place(f, context),
        FeatureKind::Stamp(f) => stamp::place(f, context),
        FeatureKind::Stitch(f) => stitch::place(f, context),
        FeatureKind::Crease(f) => crease::place(f, context),
    }?;
    mirror(context, &mut placed)?;
    too_far(context.feature, &placed).map_or(Ok(placed), |finding| Err(finding.into()))
}

/// Marks that go through both layers of a fold are punched in each: layers above and below
/// mirror about the bend's middle.
fn mirror(context: &PlaceContext<'_>, placed: &mut Placed) -> Result<(), PlaceError> {
    let Some(about) = &context.feature.mirror else { return Ok(()) };
    let about = context.get(about)?;
    let others: Vec<Mark> = placed
        .marks
        .iter()
        .filter(|m| m.path().is_some() && m.at.x != about)
        .map(|m| Mark { at: Point::new(about * 2 - m.at.x, m.at.y), ..m.clone() })
        .collect();
    placed.marks.extend(others);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn kinds_and_files_agree() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/layout/feature");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().path())
            .map(|p| p.file_stem().unwrap().to_string_lossy().replace('_', "-"))
            .filter(|n| n != "mod" && n != "course")
            .collect();
        // A turn-back is a fold.
        let kinds = FeatureKind::names().filter(|kind| *kind != "turn-back");
        let kinds = kinds.map(ToOwned::to_owned).collect();
        assert_eq!(
            files, kinds,
            "a kind of feature is a file here and a line in FeatureKind::KINDS"
        );
    }
}
