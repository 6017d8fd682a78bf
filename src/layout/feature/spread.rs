//! Fittings spaced equally between two datums.

use super::{Outcome, PlaceContext, PlaceError, Placed, offsets};
use crate::geom::{Extent, Length, Point};
use crate::job::{DatumRef, Fitting, Spacing, Spanned, Spread};
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// N fittings leave N + 1 equal ways: fitting i lies i / (N + 1) of the span from its
/// beginning (common practice, no source). Where the clear gaps are to be equal instead,
/// each is what the faces leave of the span, divided by N + 1. Each place is rounded to the
/// nanometre from the whole span, so that no error adds up along the strap.
///
/// Several fittings in a pattern follow each other again and again; each has its holes even
/// about its middle. In every other row the pattern begins one further. Fittings whose faces
/// would lie on the feature to skip are left out.
///
/// Datums: `first`, `last` (both at the beginning of the span when there are none).
pub(super) fn place(f: &Spread, context: &PlaceContext<'_>) -> Outcome {
    let (from, to) = (context.past(&f.from)?, context.past(&f.to)?);
    let fittings: Vec<&Fitting> =
        f.pattern.iter().cycle().take(f.count.value as usize).collect();
    let n = i64::from(f.count.value);
    let middles: Vec<Length> = match f.spacing {
        Spacing::Middles => (1..=n).map(|i| from + (to - from).times(i, n + 1)).collect(),
        Spacing::Gaps => {
            let faces: Length = fittings.iter().map(|t| t.face.value).sum();
            let clear = to - from - faces;
            let mut before = Length::ZERO;
            let places = (1..=n).zip(&fittings).map(|(i, fitting)| {
                let face = fitting.face.value;
                before += face;
                from + clear.times(i, n + 1) + before - face / 2
            });
            places.collect()
        }
    };
    let skipped = skipped(f, context)?;
    let mut marks = Vec::new();
    let mut n = 0;
    for (row, y) in offsets(&f.rows).into_iter().enumerate() {
        let turn = f.pattern.iter().enumerate().cycle().skip(row % 2);
        for (x, (of, fitting)) in middles.iter().zip(turn) {
            let face = Extent::at(*x).grown(fitting.face.value / 2);
            if skipped.is_some_and(|stamp| face.from < stamp.to && stamp.from < face.to) {
                continue;
            }
            n += 1;
            let shape = Shape::Round { diameter: fitting.diameter.value };
            for along in even(&fitting.along) {
                for across in even(&fitting.across) {
                    let at = Point::new(*x + along, y + across);
                    let (role, span) =
                        (MarkRole::Fitting { n, of }, f.count.span.as_ref());
                    let kind = MarkKind::Fitting;
                    marks.push(context.mark(kind, shape, at, role, span));
                }
            }
        }
    }
    let first = middles.first().copied().unwrap_or(from);
    let last = middles.last().copied().unwrap_or(from);
    Ok(Placed {
        marks,
        datums: vec![("first", first), ("last", last)],
        ..Placed::default()
    })
}

/// The stretch of the feature over which no fitting is to lie.
fn skipped(f: &Spread, context: &PlaceContext<'_>) -> Result<Option<Extent>, PlaceError> {
    let Some(skip) = &f.skip else { return Ok(None) };
    let end = |end: &str| {
        let name = format!("{}.{end}", skip.name);
        context.get(&DatumRef { name, span: skip.span.clone(), and: None })
    };
    Ok(Some(Extent::new(end("start")?, end("end")?)))
}

/// So many places, so far apart, even about zero.
fn even((count, apart): &(Spanned<u32>, Spanned<Length>)) -> Vec<Length> {
    let n = i64::from(count.value);
    (0..n).map(|i| apart.value.times(2 * i - (n - 1), 2)).collect()
}
