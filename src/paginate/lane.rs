//! What a strip has beside the leather, and where its ruler stands: within the outline where
//! there is room, so that it is still there when the strip is trimmed.

use crate::geom::{Extent, Length, Step};
use crate::layout::{GuideShape, MarkKind, Piece};
use std::collections::BTreeMap;

/// The signs of joins and of the long check take this much along both edges, and a ruler
/// outside the outline so much more.
const SIGNS: Length = Length::from_mm(4);
const OUTSIDE_RULER: Length = Length::from_um(7_500);
/// What a ruler takes: its ticks, its numerals, and the air between them.
pub(super) const RULER: Length = Length::from_um(6_500);
/// How far the cross of a hole reaches beyond its rim.
pub(super) const ARM: Length = Length::from_um(1_300);
/// Between a line along the edge and a ruler that hangs from it.
const AIR: Length = Length::from_mm(1);
/// A line along the edge that is shorter is an end of a seam.
const LONG: Length = Length::from_mm(60);

/// Where the ruler of a piece stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RulerPlace {
    /// Nowhere: there is nothing to read.
    None,
    /// Within the outline: its foot is so far from the centre line.
    Inside(Length),
    /// Beside the outline.
    Outside,
}

/// What stands beside a piece, along both edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Lane {
    above: Length,
    pub(super) ruler: RulerPlace,
}

impl Lane {
    /// The lane of a piece; `is_whole` if it has no joins. It is the same for all of the
    /// piece, so that the ruler never jumps.
    pub(super) fn of(piece: &Piece, is_whole: bool) -> Self {
        let ruler = ruler_place(piece, is_whole);
        let above = if ruler == RulerPlace::Outside { OUTSIDE_RULER } else { SIGNS };
        Self { above, ruler }
    }

    /// The least that a piece has above and below it together.
    pub(super) const LEAST: Length = Length::from_nm(SIGNS.nm() * 2);

    /// A band of leather with what stands beside it.
    pub(super) fn around(self, leather: Extent) -> Extent {
        Extent { from: leather.from - SIGNS, to: leather.to + self.above }
    }

    /// The leather in a band with what stands beside it.
    pub(super) fn within(self, band: Extent) -> Extent {
        Extent { from: band.from + SIGNS, to: band.to - self.above }
    }
}

fn ruler_place(piece: &Piece, is_whole: bool) -> RulerPlace {
    let is_read = |kind| {
        !matches!(kind, MarkKind::End | MarkKind::Tip | MarkKind::Stitch | MarkKind::Slit)
    };
    if is_whole && !piece.marks.iter().any(|m| is_read(m.kind)) {
        return RulerPlace::None;
    }
    let half = piece.narrowest() / 2;
    let mut taken: Vec<Extent> = Vec::new();
    let mut hung = Length::ZERO;
    let mut along_edge = |y: Extent, long: bool| {
        // What lies nearer to the middle is a row of its own.
        if long && y.from > half / 2 {
            hung = hung.max(half - y.from + AIR);
        } else {
            taken.push(y);
        }
    };
    let mut seams: BTreeMap<Length, (Extent, Extent)> = BTreeMap::new();
    for mark in piece.marks.iter().filter(|m| m.path().is_some()) {
        if mark.kind == MarkKind::Stitch {
            let (x, y) = (mark.x_extent(), mark.y_extent());
            let row = seams.entry(mark.at.y).or_insert((x, y));
            *row = (row.0.union(x), row.1.union(y));
        } else {
            along_edge(mark.y_extent().grown(ARM), false);
        }
    }
    for (x, y) in seams.into_values().filter(|(_, y)| y.to > Length::ZERO) {
        along_edge(y, x.length() >= LONG);
    }
    for guide in &piece.guides {
        let GuideShape::Crease(path) = &guide.shape else {
            along_edge(guide.y_extent(), false);
            continue;
        };
        for segment in path.segments() {
            let (from, to) = (segment.from, segment.step.to());
            let is_line = matches!(segment.step, Step::Line { .. });
            if is_line && from.y == to.y && from.y > Length::ZERO {
                along_edge(Extent::at(from.y), (to.x - from.x).abs() >= LONG);
            }
        }
    }
    let foot = half - hung;
    let band = Extent { from: foot - RULER, to: foot };
    let is_free = taken.iter().all(|y| y.to <= band.from || band.to <= y.from);
    if band.from > Length::ZERO && is_free {
        RulerPlace::Inside(foot)
    } else {
        RulerPlace::Outside
    }
}
