//! From what the features gave to the pieces: outlines, linings, copies.

use super::feature::{End, LONGEST, Placed, tip_at};
use super::mark::{FoldLine, Mark, MarkKind, Piece, PieceCopy, WidthChange};
use super::outline::{mirrored, outline};
use super::role::number_through;
use crate::diagnostic::{Finding, Span};
use crate::fit;
use crate::geom::{Extent, Length, Point};
use crate::job::{Form, Job, Keeper, PieceId, PieceSpec, Side, Spanned, TipShape};
use crate::layout::rule;

/// How long a keeper's strip is, its lap too.
pub(super) fn keeper_length(job: &Job, spec: &PieceSpec, k: &Keeper) -> Length {
    let own = spec.leather.thickness.value;
    let layer = match &k.layer {
        Some(given) => given.value,
        None => job.made_up_thickness(PieceId::STRAP),
    };
    fit::keeper_length(k.around.value, k.layers.value, layer, own, k.ease.value)
        + k.lap.value
}

/// The length that a piece has of itself, where no feature makes its ends.
pub(super) fn own_length(job: &Job, spec: &PieceSpec) -> Option<Length> {
    match &spec.form {
        Form::Strap(length) => length.as_ref().map(|l| l.value),
        Form::Keeper(k) => Some(keeper_length(job, spec, k)),
        Form::Lining { .. } => None,
    }
}

/// Joins what its features gave into one piece.
pub(super) fn piece(
    job: &Job,
    spec: &PieceSpec,
    placed: Vec<&mut Placed>,
) -> Result<Piece, Box<Finding>> {
    let (mut starts, mut ends) = (Vec::new(), Vec::new());
    let mut tapers: Vec<WidthChange> = Vec::new();
    let (mut marks, mut guides) = (Vec::new(), Vec::new());
    let (mut on_blank, mut folds) = (Vec::new(), Vec::new());
    for done in placed {
        starts.extend(done.start.take());
        ends.extend(done.end.take());
        tapers.extend(done.taper.take());
        folds.extend(done.fold);
        on_blank.extend(done.on_blank);
        marks.append(&mut done.marks);
        guides.append(&mut done.guides);
    }
    let width = spec.leather.width.value;
    if let Some(length) = own_length(job, spec) {
        let last = tapers.last().map_or(width, |t| t.after);
        let straight =
            |x, side, width| End { x, curve: tip_at(TipShape::Straight, side, x, width) };
        if starts.is_empty() {
            starts.push(straight(Length::ZERO, Side::Start, width));
        }
        if ends.is_empty() {
            ends.push(straight(length, Side::End, last));
        }
    }
    let ([start], [end]) = (starts.as_slice(), ends.as_slice()) else {
        return Err(two_ends(spec, starts.len(), ends.len()));
    };
    let length = end.x - start.x;
    let from = start.curve.end().x.max(start.curve.start.x);
    if end.curve.start.x <= from || length > LONGEST {
        let tip = marks.iter().find(|m| m.kind == MarkKind::Tip);
        let span = tip.and_then(|m| m.span.clone()).or(spec.span.clone());
        return Err(no_length(length, span));
    }
    tapers.sort_by_key(|t| t.extent);
    let mut before = width;
    for taper in &mut tapers {
        taper.before = std::mem::replace(&mut before, taper.after);
    }
    let outline = outline(spec.name.as_str(), width, start, end, &tapers)?;
    if spec.id == PieceId::STRAP {
        on_blank.extend(edges_on_blank(job, start, end));
        on_blank.sort();
    }
    // What a blank has past the new end goes with the leather that is cut off.
    marks.retain(|m| m.kind != MarkKind::Target || m.x_extent().from < end.x);
    number_through(&mut marks);
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    folds.sort_by_key(|f: &FoldLine| f.at);
    let widest = tapers.iter().map(|t| t.after).max();
    let thickness = spec.leather.thickness.value;
    let width = widest.map_or(width, |w| w.max(width));
    Ok(Piece {
        extent: Extent { from: start.x, to: end.x },
        marks,
        on_blank,
        bend: folds.iter().find(|f| f.at == Length::ZERO).map(|f| f.bend),
        folds,
        width_changes: tapers,
        guides,
        ..Piece::plain(spec.id, spec.name.clone(), width, thickness, outline)
    })
}

/// The stretch over which a blank's long edges are the strap's: nothing is cut along them.
fn edges_on_blank(job: &Job, start: &End, end: &End) -> Option<Extent> {
    let blank = &job.blank;
    let there = blank.length.is_some() || !blank.punched.is_empty();
    let width = job.strap.width.value;
    if !there || blank.width.as_ref().is_some_and(|w| w.value != width) {
        return None;
    }
    let from = start.x + Length::from_mm(1);
    Some(Extent { from, to: end.curve.start.x.max(from) })
}

/// A lining: the outline of `base`, smaller by an inset, with what is placed on it.
pub(super) fn lining(
    spec: &PieceSpec,
    base: &Piece,
    inset: &Spanned<Length>,
    placed: Vec<&mut Placed>,
) -> Result<Piece, Box<Finding>> {
    let (span, inset) = (inset.span.clone(), inset.value);
    let inner = if inset == Length::ZERO {
        Some(base.outline.clone())
    } else {
        base.outline.offset_inward(inset)
    };
    let Some(outline) = inner else {
        let finding = Finding::error(
            rule::NO_ROOM,
            format!("nothing is left of the lining `{}`", spec.name),
        )
        .at(span.or(spec.span.clone()))
        .expected(format!("an inset of {}", inset.both()), "less than half of the width")
        .remedy("give a smaller inset");
        return Err(Box::new(finding));
    };
    let (mut marks, mut guides) = (Vec::new(), Vec::new());
    for done in placed {
        if done.start.is_some() || done.end.is_some() || done.taper.is_some() {
            return Err(two_ends(spec, 1, 1));
        }
        marks.append(&mut done.marks);
        guides.append(&mut done.guides);
    }
    number_through(&mut marks);
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    let width = base.width - inset * 2;
    let thickness = spec.leather.thickness.value;
    let plain = Piece::plain(spec.id, spec.name.clone(), width, thickness, outline);
    Ok(Piece { marks, guides, ..plain })
}

/// As many copies as are ordered, every other one mirrored if that is asked.
pub(super) fn copies(spec: &PieceSpec, piece: &Piece) -> Vec<Piece> {
    let count = spec.count.value;
    let one = |n: u32| {
        let mut copy = piece.clone();
        let is_mirrored = spec.mirrored && n.is_multiple_of(2);
        copy.copy = PieceCopy { n, of: count, mirrored: is_mirrored };
        if is_mirrored {
            copy.outline = super::outline::reversed(&mirrored(&piece.outline));
            let over = |m: &Mark| Mark { at: Point::new(m.at.x, -m.at.y), ..m.clone() };
            copy.marks = piece.marks.iter().map(over).collect();
            copy.marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
            copy.guides =
                piece.guides.iter().map(super::guide::Guide::mirrored).collect();
        }
        copy
    };
    (1..=count).map(one).collect()
}

fn two_ends(spec: &PieceSpec, starts: usize, ends: usize) -> Box<Finding> {
    let message = if matches!(spec.form, Form::Lining { .. }) {
        "a lining has the ends and widths of its piece"
    } else {
        "a strap has one buckle end, one tip"
    };
    let finding = Finding::error(rule::TWO_ENDS, message)
        .at(spec.span.clone())
        .expected(
            format!("{starts} buckle ends, {ends} tips on `{}`", spec.name),
            "one feature for the start, such as a turn-back, and one of kind tip",
        )
        .remedy("add the end that is missing, or take the one too many out");
    Box::new(finding)
}

fn no_length(length: Length, span: Option<Span>) -> Box<Finding> {
    let finding = Finding::error(rule::NO_LENGTH, "the strap cannot be this long")
        .at(span)
        .expected(
            format!("{} from end to point", length.both()),
            "a tip past the buckle end, and at most 1 km",
        )
        .remedy("look at the measure, its unit, and where the tip is placed from");
    Box::new(finding)
}
