//! Which stretch of which piece lies on which sheet.

use super::PaginateError;
use super::canvas::Area;
use super::correction::{Correction, Scaling, margin};
use super::joins::{self, Joins};
use super::paper::{Form, LONGEST, MARGIN, Paper};
use crate::geom::{
    Extent, Length, Placement, Point, QuarterTurn, Sheet as OnSheet, Step, Strap,
};
use crate::layout::{Layout, MarkKind, Piece};

/// Height of the band of words at the top.
pub(super) const HEADER: Length = Length::from_mm(12);
/// Height of the band of the scale bar along the width.
pub(super) const BAR_BELOW: Length = Length::from_mm(8);
/// Width of the band of the scale bar along the height.
pub(super) const BAR_LEFT: Length = Length::from_mm(9);
/// What a lane has beyond the strap's edge, on both sides: rulers and crosses.
pub(super) const BESIDE: Length = Length::from_mm(8);
/// What two neighbouring tiles both show.
const OVERLAP: Length = Length::from_mm(16);
/// What the first and last tile show beyond the ends of the piece.
const BEYOND: Length = Length::from_mm(3);
/// Least width of a page from a roll, for the header's sake.
const SHORTEST_CUT: Length = Length::from_mm(200);
/// More sheets than anybody tapes together.
const MOST_SHEETS: usize = 200;

/// A page as it is read; the strap lies along its width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Page {
    pub(super) width: Length,
    pub(super) height: Length,
    /// Kept free at the left and the right.
    side: Length,
    /// Kept free at the top and the bottom.
    top: Length,
}

impl Page {
    /// A page with the margins that a correction asks for.
    pub(super) fn new(
        width: Length,
        height: Length,
        form: Form,
        correction: Option<&Correction>,
    ) -> Self {
        let edge = correction.map_or(MARGIN, |c| c.margin);
        let scaling = correction.map(|c| c.on(form, width, height));
        let factor = |of: fn(&Scaling) -> _| scaling.as_ref().map(of);
        Self {
            width,
            height,
            side: margin(width, edge, factor(|s| s.width)),
            top: margin(height, edge, factor(|s| s.height)),
        }
    }

    /// What lies within the margins.
    pub(super) fn printable(self) -> Area {
        Area::new(
            Extent { from: self.side, to: self.width - self.side },
            Extent { from: self.top, to: self.height - self.top },
        )
    }

    /// What is left for lanes.
    pub(super) fn lanes(self) -> Area {
        let all = self.printable();
        Area::new(
            Extent { from: all.x.from + BAR_LEFT, to: all.x.to },
            Extent { from: all.y.from + BAR_BELOW, to: all.y.to - HEADER },
        )
    }
}

/// A join at one end of a lane: its number from 1 and its match line.
pub(super) type Join = (usize, Length);

/// A stretch of a piece in its place.
#[derive(Clone, Debug)]
pub(super) struct Lane {
    pub(super) piece: usize,
    pub(super) stretch: Extent,
    pub(super) placement: Placement,
    /// The join at its left end.
    pub(super) left: Option<Join>,
    /// The join at its right end.
    pub(super) right: Option<Join>,
}

impl Lane {
    pub(super) fn at(&self, x: Length, y: Length) -> Point<OnSheet> {
        self.placement.apply(Point::<Strap>::new(x, y))
    }

    pub(super) fn joins(&self) -> impl Iterator<Item = Join> {
        self.left.into_iter().chain(self.right)
    }
}

/// All lanes of all sheets.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) page: Page,
    pub(super) joins: Vec<(usize, Length)>,
    pub(super) sheets: Vec<Vec<Lane>>,
    clear: bool,
}

/// Of the ways round that the paper can lie, the one with the fewest sheets, then the
/// fewest joins, then the wide one.
pub(super) fn plan(
    layout: &Layout,
    paper: &Paper,
    correction: Option<&Correction>,
) -> Result<Plan, PaginateError> {
    let form = paper.form();
    let page = |width, height| Page::new(width, height, form, correction);
    let pages = match form {
        Form::Sheet { short, long } => vec![page(long, short), page(short, long)],
        Form::Roll { width } => vec![page(cut(layout, correction), width)],
    };
    let mut best: Option<Plan> = None;
    let mut refused: Option<PaginateError> = None;
    for page in pages {
        match lay(layout, page, paper) {
            Ok(found) => {
                let key = |p: &Plan| (p.sheets.len(), !p.clear, p.joins.len());
                if best.as_ref().is_none_or(|b| key(&found) < key(b)) {
                    best = Some(found);
                }
            }
            // The tall way round has the more room: its refusal is the one to tell.
            Err(error) => refused = Some(error),
        }
    }
    match (best, refused) {
        (Some(plan), _) => Ok(plan),
        (None, Some(error)) => Err(error),
        (None, None) => Err(PaginateError::PaperTooSmall { paper: paper.name().into() }),
    }
}

/// As long as the longest piece needs, up to the longest that there is.
fn cut(layout: &Layout, correction: Option<&Correction>) -> Length {
    let longest = layout.pieces.iter().map(|p| shown(p).length()).max();
    let drawn = longest.unwrap_or(Length::ZERO) + BAR_LEFT;
    // A micrometre for what is rounded, lest it cost a join.
    let (edge, scaled) = correction.map_or((MARGIN, drawn), |c| {
        (c.margin, c.long.by.of(drawn) + Length::from_um(1))
    });
    let width = drawn.max(scaled) + edge * 2;
    width.clamp(SHORTEST_CUT, LONGEST)
}

fn shown(piece: &Piece) -> Extent {
    piece.extent.grown(BEYOND)
}

fn lay(layout: &Layout, page: Page, paper: &Paper) -> Result<Plan, PaginateError> {
    let room = page.lanes();
    let mut plan = Plan { page, joins: Vec::new(), sheets: Vec::new(), clear: true };
    let mut free = Length::ZERO;
    for (index, piece) in layout.pieces.iter().enumerate() {
        let height = piece.width + BESIDE * 2;
        if height > room.y.length() {
            return Err(PaginateError::PieceTooWide {
                piece: piece.name.clone(),
                width: piece.width,
                room: room.y.length() - BESIDE * 2,
            });
        }
        let joins = join(piece, room.x.length(), paper)?;
        plan.clear &= joins.clear;
        let first = plan.joins.len();
        for (i, stretch) in joins.stretches(shown(piece)).into_iter().enumerate() {
            if plan.sheets.is_empty() || free < height {
                plan.sheets.push(Vec::new());
                free = room.y.length();
            }
            let numbered = |i: usize| Some((first + i + 1, *joins.lines.get(i)?));
            let y = room.y.from + free - height / 2;
            let origin = Point::new(room.x.from - stretch.from, y);
            if let Some(sheet) = plan.sheets.last_mut() {
                sheet.push(Lane {
                    piece: index,
                    stretch,
                    placement: Placement::new(QuarterTurn::None, origin),
                    left: i.checked_sub(1).and_then(numbered),
                    right: numbered(i),
                });
            }
            free -= height;
        }
        plan.joins.extend(joins.lines.iter().map(|&x| (index, x)));
        if plan.sheets.len() > MOST_SHEETS {
            return Err(PaginateError::TooManySheets {
                paper: paper.name().into(),
                sheets: plan.sheets.len(),
                most: MOST_SHEETS,
            });
        }
    }
    Ok(plan)
}

fn join(piece: &Piece, window: Length, paper: &Paper) -> Result<Joins, PaginateError> {
    // The ends are kept clear by the outline's zones.
    let marks: Vec<Extent> = piece
        .marks
        .iter()
        .filter(|m| !matches!(m.kind, MarkKind::End | MarkKind::Tip))
        .map(crate::layout::Mark::x_extent)
        .collect();
    joins::solve(shown(piece), window, OVERLAP, &marks, &zones(piece))
        .ok_or_else(|| PaginateError::PaperTooSmall { paper: paper.name().into() })
}

/// Where the outline runs otherwise than along the strap.
fn zones(piece: &Piece) -> Vec<Extent> {
    let segments = piece.outline.segments();
    let bent = segments.iter().filter(|s| match s.step {
        Step::Line { to } => to.y != s.from.y,
        Step::Arc { .. } => true,
    });
    bent.map(|s| Extent::new(s.from.x, s.step.to().x)).collect()
}
