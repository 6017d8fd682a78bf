//! The plan: which tile lies where on which sheet, and the joins between them.

use super::arrange::{self, Arrangement};
use super::correction::Correction;
use super::joins::{JoinCost, MatchLines, OVERLAP};
use super::lane::Lane;
use super::pack::{GAP, UsableArea};
use super::page::{LEFT_BAR, Page};
use super::paper::{LONGEST, MARGIN, Paper, PaperForm};
use super::tiling::{self, PieceTiling, TileSpan};
use super::{PaginateError, Request, SheetSet};
use crate::geom::clip::{clip, clip_across};
use crate::geom::{
    Extent, Length, Path, Placement, Point, QuarterTurn, Sheet as OnSheet, Strap,
};
use crate::layout::{Layout, Mark};

/// Least length of a page from a roll: room for the header.
const MIN_ROLL_LENGTH: Length = Length::from_mm(200);
/// More sheets than anybody tapes together.
const MAX_SHEETS: usize = 200;
/// More strap than anybody draws. Rolls take it on few sheets, but each millimetre has its
/// tick.
const MAX_STRAP: Length = Length::from_mm(100_000);

/// A tile in its place on a sheet.
#[derive(Clone, Debug)]
pub(super) struct PlacedTile<'a> {
    pub(super) span: TileSpan<'a>,
    pub(super) placement: Placement,
    /// The marks that it shows whole.
    pub(super) marks: Vec<&'a Mark>,
}

impl PlacedTile<'_> {
    /// The point on the sheet of a point on the strap.
    pub(super) fn at(&self, x: Length, y: Length) -> Point<OnSheet> {
        self.placement.apply(Point::<Strap>::new(x, y))
    }

    /// The line on the sheet between two points on the strap.
    pub(super) fn line(
        &self,
        from: (Length, Length),
        to: (Length, Length),
    ) -> Path<OnSheet> {
        Path::line(self.at(from.0, from.1), self.at(to.0, to.1))
    }

    /// The parts of a path on the strap that the tile shows within `stretch`.
    pub(super) fn clip(&self, path: &Path<Strap>, stretch: Extent) -> Vec<Path<Strap>> {
        let along = clip(path, stretch.intersection(self.span.stretch));
        along.iter().flat_map(|run| clip_across(run, self.span.across)).collect()
    }

    /// Paths on the strap as they lie on the sheet.
    pub(super) fn place(&self, paths: &[Path<Strap>]) -> Vec<Path<OnSheet>> {
        paths.iter().map(|path| path.placed(self.placement)).collect()
    }
}

/// A sheet with its page.
#[derive(Clone, Debug)]
pub(super) struct PlacedSheet<'a> {
    pub(super) page: Page,
    pub(super) tiles: Vec<PlacedTile<'a>>,
}

/// All tiles on all sheets.
#[derive(Clone, Debug)]
pub(super) struct Plan<'a> {
    /// Joins across the strap: piece and x.
    pub(super) joins: Vec<(usize, Length)>,
    /// Joins along the strap: piece and y.
    pub(super) lengthwise_joins: Vec<(usize, Length)>,
    pub(super) sheets: Vec<PlacedSheet<'a>>,
    cost: JoinCost,
    reused: usize,
}

/// Chooses the best orientation of the paper: the fewest marks and curves in joins, then the
/// fewest sheets, then the most reused match lines, then the fewest joins, then landscape.
pub(super) fn make_plan<'a>(request: &Request<'a>) -> Result<Plan<'a>, PaginateError> {
    let &Request { layout, paper, correction, reuse, .. } = request;
    let form = paper.form();
    let page = |width, height| Page::new(width, height, form, correction);
    let pages = match form {
        PaperForm::Sheet { short, long } => vec![page(long, short), page(short, long)],
        PaperForm::Roll { width } => vec![page(roll_length(layout, correction), width)],
    };
    let min_sheets = pages.iter().map(|page| min_sheets(layout, page.usable())).min();
    check_count(paper, min_sheets.unwrap_or_default())?;
    let length: Length = layout.pieces.iter().map(|p| p.extent.length()).sum();
    if length > MAX_STRAP {
        return Err(PaginateError::TooLong { length, most: MAX_STRAP });
    }
    let plans = pages.into_iter().filter_map(|page| {
        let pieces = layout.pieces.iter().enumerate();
        let tilings: Option<Vec<PieceTiling<'a>>> =
            pieces.map(|(i, piece)| PieceTiling::new(i, piece, page)).collect();
        Some(Plan::new(&arrange::arrange(tilings?, reuse)))
    });
    let best = plans.min_by_key(|p| {
        let JoinCost { marks, curves, pricks, .. } = p.cost;
        let not_reused = usize::MAX - p.reused;
        let rest = (pricks, p.joins.len() + p.lengthwise_joins.len());
        let turned = reuse.map_or(0, |set| p.turned_against(set));
        (marks, curves, pricks > 0, p.sheets.len(), not_reused, turned, rest)
    });
    let best =
        best.ok_or_else(|| PaginateError::PaperTooSmall { paper: paper.name().into() })?;
    check_count(paper, best.sheets.len())?;
    Ok(best)
}

fn check_count(paper: &Paper, sheets: usize) -> Result<(), PaginateError> {
    let (paper, most) = (paper.name().to_owned(), MAX_SHEETS);
    let error = PaginateError::TooManySheets { paper, sheets, most };
    if sheets > MAX_SHEETS { Err(error) } else { Ok(()) }
}

/// The length of a page from a roll: as the longest piece needs, up to the longest page.
fn roll_length(layout: &Layout, correction: Option<&Correction>) -> Length {
    let longest = layout.pieces.iter().map(|p| tiling::shown_along(p).length()).max();
    let drawn = longest.unwrap_or(Length::ZERO) + LEFT_BAR;
    // A micrometre for rounding, so that it never costs a join.
    let (edge, scaled) = correction.map_or((MARGIN, drawn), |c| {
        (c.margin, c.long.by.times(drawn) + Length::from_um(1))
    });
    let length = drawn.max(scaled) + edge * 2;
    length.clamp(MIN_ROLL_LENGTH, LONGEST)
}

/// Lower bound on the sheet count: total tile area, overlaps included, divided by sheet
/// area. Each piece counts with its least width.
fn min_sheets(layout: &Layout, area: UsableArea) -> usize {
    let with_overlaps = |whole: Length, max_tile: Length| {
        let step = (max_tile - OVERLAP).nm().max(1);
        let joins = ((whole - max_tile).nm() + step - 1).div_euclid(step).max(0);
        whole + OVERLAP * joins
    };
    area.min_sheets(layout.pieces.iter().map(|piece| {
        let length = with_overlaps(tiling::shown_along(piece).length(), area.width);
        let whole = tiling::shown_across(piece, area.width).length();
        let height = if whole > area.height {
            with_overlaps(whole, area.height)
        } else {
            Lane::LEAST + piece.narrowest()
        };
        (length, height)
    }))
}

impl<'a> Plan<'a> {
    fn new(arrangement: &Arrangement<'a>) -> Self {
        let Arrangement { tilings, spans, sheets } = arrangement;
        let all = |lines: for<'t> fn(&'t PieceTiling<'a>) -> &'t MatchLines| {
            let places = tilings.iter().map(|t| lines(t).places.iter().copied());
            let numbered = places.enumerate();
            numbered.flat_map(|(i, own)| own.map(move |at| (i, at))).collect()
        };
        let mut plan = Self {
            joins: all(|t| &t.x_lines),
            lengthwise_joins: all(|t| &t.y_lines),
            sheets: Vec::new(),
            cost: tilings.iter().map(|t| t.x_lines.cost + t.y_lines.cost).sum(),
            reused: tilings.iter().map(|t| t.reused).sum(),
        };
        for (page, rows) in sheets {
            let area = page.tile_area();
            let mut tiles = Vec::new();
            let mut top = area.y.to;
            for row in rows {
                let mut left = area.x.from;
                for span in row.tiles.iter().map(|&i| spans[i]) {
                    let (x, y) = (left - span.stretch.from, top - span.across.to);
                    let placement = Placement::new(QuarterTurn::None, Point::new(x, y));
                    tiles.push(PlacedTile { span, placement, marks: span.whole_marks() });
                    left += span.stretch.length() + GAP;
                }
                top -= row.height;
            }
            plan.sheets.push(PlacedSheet { page: *page, tiles });
        }
        plan
    }

    /// All tiles, sheet by sheet.
    pub(super) fn tiles(&self) -> impl Iterator<Item = &PlacedTile<'a>> {
        self.sheets.iter().flat_map(|sheet| &sheet.tiles)
    }

    /// The page of the sheets on which a piece lies.
    pub(super) fn page_of(&self, piece: usize) -> Option<Page> {
        let has_it = |s: &&PlacedSheet<'_>| s.tiles.iter().any(|t| t.span.index == piece);
        self.sheets.iter().find(has_it).map(|sheet| sheet.page)
    }

    /// How many sheets lie otherwise than in an earlier print.
    fn turned_against(&self, set: &SheetSet) -> usize {
        let pairs = self.sheets.iter().zip(&set.sheets);
        pairs.filter(|(new, old)| !new.page.is_of(old)).count()
    }
}
