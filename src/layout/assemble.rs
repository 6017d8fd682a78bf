//! From what the features gave to the pieces: outlines, linings, copies.

use super::feature::{Bent, End, LONGEST, Placed, tip_at};
use super::mark::{FoldLine, Mark, MarkKind, Piece, Slope};
use super::outline::{mirrored, outline};
use crate::diagnostic::{Finding, Severity, Span};
use crate::fit;
use crate::geom::{Extent, Length, Point};
use crate::job::{Form, Job, Keeper, PieceSpec, STRAP, Side, Spanned, TipShape};

/// How long a keeper's strip is, its lap too.
pub(super) fn keeper_length(order: &PieceSpec, k: &Keeper) -> Length {
    let own = order.leather.thickness.value;
    fit::keeper_length(k.around.value, k.layers.value, k.layer.value, own, k.ease.value)
        + k.lap.value
}

/// The length that a piece has of itself, where no feature makes its ends.
pub(super) fn own_length(order: &PieceSpec) -> Option<Length> {
    match &order.form {
        Form::Strap(length) => length.as_ref().map(|l| l.value),
        Form::Keeper(k) => Some(keeper_length(order, k)),
        Form::Lining { .. } => None,
    }
}

/// Joins what its features gave into one piece.
pub(super) fn piece(
    job: &Job,
    order: &PieceSpec,
    placed: Vec<&mut Placed>,
) -> Result<Piece, Box<Finding>> {
    let (mut starts, mut ends, mut tapers) = (Vec::new(), Vec::new(), Vec::new());
    let (mut marks, mut drawn) = (Vec::new(), Vec::new());
    let (mut on_blank, mut folds) = (Vec::new(), Vec::new());
    for done in placed {
        starts.extend(done.start.take());
        ends.extend(done.end.take());
        tapers.extend(done.taper.take());
        folds.extend(done.fold);
        on_blank.extend(done.on_blank);
        marks.append(&mut done.marks);
        drawn.append(&mut done.drawn);
    }
    let width = order.leather.width.value;
    if let Some(length) = own_length(order) {
        let last = tapers.last().map_or(width, |t| t.half * 2);
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
        return Err(two_ends(order, starts.len(), ends.len()));
    };
    let length = end.x - start.x;
    let from = start.curve.end().x.max(start.curve.start.x);
    if end.curve.start.x <= from || length > LONGEST {
        let tip = marks.iter().find(|m| m.kind == MarkKind::Tip);
        let span = tip.and_then(|m| m.span.clone()).or(order.span.clone());
        return Err(no_length(length, span));
    }
    tapers.sort_by_key(|t| t.extent);
    let outline = outline(&order.name, width, start, end, &tapers)?;
    if order.name == STRAP {
        on_blank.extend(edges_on_blank(job, start, end));
        on_blank.sort();
    }
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    folds.sort_by_key(|f: &FoldLine| f.at);
    let widest = tapers.iter().map(|t| t.half * 2).max();
    Ok(Piece {
        name: order.name.clone(),
        width: widest.map_or(width, |w| w.max(width)),
        thickness: order.leather.thickness.value,
        extent: Extent { from: start.x, to: end.x },
        outline,
        marks,
        on_blank,
        bend: folds.iter().find(|f| f.at == Length::ZERO).map(|f| f.bend),
        folds,
        slopes: slopes(width, &tapers),
        drawn,
    })
}

/// The changes of width of a piece that is `width` wide before the first.
fn slopes(width: Length, tapers: &[Bent]) -> Vec<Slope> {
    let befores = std::iter::once(width).chain(tapers.iter().map(|t| t.half * 2));
    let slope = |(t, before): (&Bent, Length)| Slope {
        extent: t.extent,
        before,
        past: t.half * 2,
        smooth: t.smooth,
        span: t.span.clone(),
    };
    tapers.iter().zip(befores).map(slope).collect()
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
    order: &PieceSpec,
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
        let finding = Finding::new(
            "no-room",
            Severity::Error,
            format!("nothing is left of the lining `{}`", order.name),
        )
        .at(span.or(order.span.clone()))
        .expected(format!("an inset of {}", inset.both()), "less than half of the width")
        .remedy("give a smaller inset");
        return Err(Box::new(finding));
    };
    let (mut marks, mut drawn) = (Vec::new(), Vec::new());
    for done in placed {
        if done.start.is_some() || done.end.is_some() || done.taper.is_some() {
            return Err(two_ends(order, 1, 1));
        }
        marks.append(&mut done.marks);
        drawn.append(&mut done.drawn);
    }
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    let extent = outline.x_extent();
    Ok(Piece {
        name: order.name.clone(),
        width: base.width - inset * 2,
        thickness: order.leather.thickness.value,
        extent,
        outline,
        marks,
        on_blank: Vec::new(),
        bend: None,
        folds: Vec::new(),
        slopes: Vec::new(),
        drawn,
    })
}

/// As many copies as are ordered, every other one mirrored if that is asked.
pub(super) fn copies(order: &PieceSpec, piece: Piece) -> Vec<Piece> {
    let count = order.count.value;
    if count == 1 {
        return vec![piece];
    }
    let one = |n: u32| {
        let mut copy = piece.clone();
        copy.name = format!("{}-{n}", piece.name);
        if order.mirrored && n.is_multiple_of(2) {
            copy.name.push_str("-mirrored");
            copy.outline = super::outline::reversed(&mirrored(&piece.outline));
            let over = |m: &Mark| Mark { at: Point::new(m.at.x, -m.at.y), ..m.clone() };
            copy.marks = piece.marks.iter().map(over).collect();
            copy.marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
            copy.drawn = piece.drawn.iter().map(super::mark::Guide::mirrored).collect();
        }
        copy
    };
    (1..=count).map(one).collect()
}

fn two_ends(order: &PieceSpec, starts: usize, ends: usize) -> Box<Finding> {
    let message = if matches!(order.form, Form::Lining { .. }) {
        "a lining has the ends and widths of its piece"
    } else {
        "a strap has one buckle end, one tip"
    };
    let finding = Finding::new("two-ends", Severity::Error, message)
        .at(order.span.clone())
        .expected(
            format!("{starts} buckle ends, {ends} tips on `{}`", order.name),
            "one feature for the start, such as a turn-back, and one of kind tip",
        )
        .remedy("add the end that is missing, or take the one too many out");
    Box::new(finding)
}

fn no_length(length: Length, span: Option<Span>) -> Box<Finding> {
    let finding =
        Finding::new("no-length", Severity::Error, "the strap cannot be this long")
            .at(span)
            .expected(
                format!("{} from end to point", length.both()),
                "a tip past the buckle end, and at most 1 km",
            )
            .remedy("look at the measure, its unit, and where the tip is placed from");
    Box::new(finding)
}
