//! Which stretch of which piece lies where on which sheet.

use super::arrange::{self, Arrangement, Kept, Part};
use super::canvas::Area;
use super::correction::{Correction, Scaling, margin};
use super::cut::{self, Cut};
use super::joins::{Harm, OVERLAP};
use super::pack::{GAP, Room};
use super::paper::{Form, LONGEST, MARGIN, Paper};
use super::{PaginateError, Request};
use crate::geom::{
    Extent, Length, Placement, Point, QuarterTurn, Sheet as OnSheet, Strap,
};
use crate::layout::Layout;

/// Height of the band of words at the top.
pub(super) const HEADER: Length = Length::from_mm(12);
/// Height of the band of the scale bar along the width.
pub(super) const BAR_BELOW: Length = Length::from_mm(8);
/// Width of the band of the scale bar along the height.
pub(super) const BAR_LEFT: Length = Length::from_mm(9);
/// What a lane has beyond the strap's edge, on both sides: rulers and crosses.
pub(super) const BESIDE: Length = Length::from_mm(8);
/// Least width of a page from a roll, for the header's sake.
const SHORTEST_CUT: Length = Length::from_mm(200);
/// More sheets than anybody tapes together.
const MOST_SHEETS: usize = 200;
/// More strap than anybody draws, 100 m: on a roll or a plotter's sheets they are few, but
/// every millimetre of them has its tick.
const MOST_LENGTH: Length = Length::from_mm(100_000);

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

    fn room(self) -> Room {
        let Area { x, y } = self.lanes();
        Room { width: x.length(), height: y.length() }
    }
}

/// A join at one edge of a lane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Join {
    /// From 1.
    pub(super) number: usize,
    /// Its match line: along x at the ends of a lane, along y at its long edges.
    pub(super) line: Length,
}

/// A stretch of a piece in its place.
#[derive(Clone, Debug)]
pub(super) struct Lane {
    pub(super) part: Part,
    pub(super) placement: Placement,
    /// The edges at its left and right end, as both tiles of the join have them.
    pub(super) end_edges: [Extent; 2],
    /// The join at its left end.
    pub(super) left: Option<Join>,
    /// The join at its right end.
    pub(super) right: Option<Join>,
    /// The join at its upper edge, where the piece is wider than a sheet.
    pub(super) above: Option<Join>,
    /// The join at its lower edge.
    pub(super) below: Option<Join>,
}

impl Lane {
    pub(super) fn at(&self, x: Length, y: Length) -> Point<OnSheet> {
        self.placement.apply(Point::<Strap>::new(x, y))
    }

    /// Where the edges of the piece count as being, for all that stands beside them.
    pub(super) fn edges(&self) -> Extent {
        self.part.edges()
    }

    /// The joins at its two ends, each with the edges of the piece there.
    pub(super) fn ends(&self) -> impl Iterator<Item = (Join, Extent)> {
        [self.left, self.right]
            .into_iter()
            .zip(self.end_edges)
            .filter_map(|(join, edges)| Some((join?, edges)))
    }
}

/// All lanes of all sheets.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) page: Page,
    /// Match lines across the strap: piece and x.
    pub(super) joins: Vec<(usize, Length)>,
    /// Match lines along the strap: piece and y.
    pub(super) across: Vec<(usize, Length)>,
    pub(super) sheets: Vec<Vec<Lane>>,
    harm: Harm,
    kept: usize,
}

/// Of the ways round that the paper can lie the best: the fewest marks and curves in joins,
/// then the fewest sheets, then what is to be kept, then the fewest joins, then the wide
/// way.
pub(super) fn plan(request: &Request<'_>) -> Result<Plan, PaginateError> {
    let &Request { layout, paper, correction, keep, like, .. } = request;
    let form = paper.form();
    let page = |width, height| Page::new(width, height, form, correction);
    let pages = match form {
        Form::Sheet { short, long } => vec![page(long, short), page(short, long)],
        Form::Roll { width } => vec![page(cut(layout, correction), width)],
    };
    if let Some(least) = pages.iter().map(|page| least_sheets(layout, page.room())).min()
        && least > MOST_SHEETS
    {
        return Err(too_many(paper, least));
    }
    let length: Length = layout.pieces.iter().map(|p| p.extent.length()).sum();
    if length > MOST_LENGTH {
        return Err(PaginateError::TooLong { length, most: MOST_LENGTH });
    }
    let lies = |p: Page| {
        let first = like.and_then(|set| set.sheets.first());
        first.is_some_and(|s| (s.width, s.height) == (p.width, p.height))
    };
    let kept = Kept { lines: keep, sheets: like };
    let plans = pages.into_iter().filter_map(|page| {
        arrange::arrange(layout, page.room(), kept).map(|a| Plan::of(page, &a))
    });
    let best = plans.min_by_key(|p| {
        let Harm { marks, curves, pricks, .. } = p.harm;
        let kept = usize::MAX - p.kept;
        let rest = (pricks, p.joins.len() + p.across.len());
        (marks, curves, pricks > 0, p.sheets.len(), kept, !lies(p.page), rest)
    });
    let best =
        best.ok_or_else(|| PaginateError::PaperTooSmall { paper: paper.name().into() })?;
    if best.sheets.len() > MOST_SHEETS {
        return Err(too_many(paper, best.sheets.len()));
    }
    Ok(best)
}

fn too_many(paper: &Paper, sheets: usize) -> PaginateError {
    PaginateError::TooManySheets { paper: paper.name().into(), sheets, most: MOST_SHEETS }
}

/// As long as the longest piece needs, up to the longest that there is.
fn cut(layout: &Layout, correction: Option<&Correction>) -> Length {
    let longest = layout.pieces.iter().map(|p| cut::shown(p).length()).max();
    let drawn = longest.unwrap_or(Length::ZERO) + BAR_LEFT;
    // A micrometre for what is rounded, lest it cost a join.
    let (edge, scaled) = correction.map_or((MARGIN, drawn), |c| {
        (c.margin, c.long.by.times(drawn) + Length::from_um(1))
    });
    let width = drawn.max(scaled) + edge * 2;
    width.clamp(SHORTEST_CUT, LONGEST)
}

/// No way of laying has fewer sheets than the pieces have area, with their overlaps, but for
/// what their tips are narrower.
fn least_sheets(layout: &Layout, room: Room) -> usize {
    let area = |a: Length, b: Length| i128::from(a.nm()) * i128::from(b.nm());
    let with_overlaps = |whole: Length, window: Length| {
        let step = (window - OVERLAP).nm().max(1);
        let joins = ((whole - window).nm() + step - 1).div_euclid(step).max(0);
        whole + OVERLAP * joins
    };
    let pieces = layout.pieces.iter().map(|piece| {
        let x = with_overlaps(cut::shown(piece).length(), room.width);
        let whole = cut::shown_across(piece).length();
        // In one band a tile may be as narrow as the piece is on its stretch.
        let y = if whole > room.height {
            with_overlaps(whole, room.height)
        } else {
            BESIDE * 2 + piece.narrowest()
        };
        area(x, y)
    });
    let sheet = area(room.width, room.height).max(1);
    usize::try_from((pieces.sum::<i128>() + sheet - 1) / sheet).unwrap_or(usize::MAX)
}

impl Plan {
    fn of(page: Page, arrangement: &Arrangement) -> Self {
        let Arrangement { cuts, parts, sheets } = arrangement;
        let number = |lines: fn(&Cut) -> &[Length]| -> Vec<(usize, Length)> {
            let pieces = cuts.iter().enumerate();
            pieces.flat_map(|(i, c)| lines(c).iter().map(move |&x| (i, x))).collect()
        };
        let mut plan = Self {
            page,
            joins: number(|c| &c.along.lines),
            across: number(|c| &c.across.lines),
            sheets: Vec::new(),
            harm: cuts.iter().map(|c| c.along.harm + c.across.harm).sum(),
            kept: cuts.iter().map(|c| c.kept).sum(),
        };
        let room = page.lanes();
        for rows in sheets {
            let mut lanes = Vec::new();
            let mut top = room.y.to;
            for row in rows {
                let mut left = room.x.from;
                let mut height = Length::ZERO;
                for part in row.items.iter().map(|&i| parts[i]) {
                    let near = [part.column.checked_sub(1), Some(part.column + 1)];
                    let near = near.map(|column| {
                        let is_next = |p: &&Part| {
                            (p.piece, p.band) == (part.piece, part.band)
                                && Some(p.column) == column
                        };
                        parts.iter().find(is_next)
                    });
                    lanes.push(plan.lane(part, near, Point::new(left, top)));
                    left += part.stretch.length() + GAP;
                    height = height.max(part.across.length());
                }
                top -= height;
            }
            plan.sheets.push(lanes);
        }
        plan
    }

    /// A tile with its upper left corner at `corner`, and the tiles to its left and right.
    fn lane(&self, part: Part, near: [Option<&Part>; 2], corner: Point<OnSheet>) -> Lane {
        let edges = part.edges();
        let narrower = |other: &Part| {
            let own = other.edges();
            Extent { from: edges.from.max(own.from), to: edges.to.min(own.to) }
        };
        let origin = Point::new(corner.x - part.stretch.from, corner.y - part.across.to);
        let along = |n: usize| nth(&self.joins, part.piece, n, 0);
        // Bands count from the top, lines upward.
        let bands = self.across.iter().filter(|(p, _)| *p == part.piece).count();
        let across = |n: usize| nth(&self.across, part.piece, n, self.joins.len());
        Lane {
            part,
            placement: Placement::new(QuarterTurn::None, origin),
            end_edges: near.map(|other| other.map_or(edges, narrower)),
            left: part.column.checked_sub(1).and_then(along),
            right: along(part.column),
            above: part.band.checked_sub(1).and_then(|b| across(bands - 1 - b)),
            below: bands.checked_sub(part.band + 1).and_then(across),
        }
    }
}

/// The `n`th line of a piece, with its number among all that follow `before` others.
fn nth(lines: &[(usize, Length)], piece: usize, n: usize, before: usize) -> Option<Join> {
    let own = lines.iter().enumerate().filter(|(_, (p, _))| *p == piece);
    own.map(|(i, (_, line))| Join { number: before + i + 1, line: *line }).nth(n)
}
