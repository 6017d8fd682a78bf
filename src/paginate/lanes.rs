//! Which stretch of which piece lies on which sheet.

use super::PaginateError;
use super::canvas::Area;
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
}

impl Page {
    /// What lies within the margins.
    pub(super) fn printable(self) -> Area {
        Area::new(
            Extent { from: MARGIN, to: self.width - MARGIN },
            Extent { from: MARGIN, to: self.height - MARGIN },
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
pub(super) fn plan(layout: &Layout, paper: &Paper) -> Result<Plan, PaginateError> {
    let pages = match paper.form() {
        Form::Sheet { short, long } => {
            vec![Page { width: long, height: short }, Page { width: short, height: long }]
        }
        Form::Roll { width } => vec![cut(layout, width)],
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

/// A page as long as the longest piece needs, up to the longest that there is.
fn cut(layout: &Layout, height: Length) -> Page {
    let longest = layout.pieces.iter().map(|p| shown(p).length()).max();
    let width = longest.unwrap_or(Length::ZERO) + MARGIN * 2 + BAR_LEFT;
    Page { width: width.clamp(SHORTEST_CUT, LONGEST), height }
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
        .chain(piece.drawn.iter().filter_map(crate::layout::Drawn::whole))
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
