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
use crate::layout::{Layout, Mark, Piece};
use std::cell::OnceCell;

/// Least length of a page from a roll: room for the header.
const MIN_ROLL_LENGTH: Length = Length::from_mm(200);
/// More sheets than anybody tapes together.
const MAX_SHEETS: usize = 200;
/// More pieces take their pages all the same way: each doubles the choices.
const MAX_CHOOSING: usize = 6;
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
    /// How many joins the pieces need on their pages, whatever is reused.
    least_joins: usize,
}

/// Chooses the pages: the fewest marks and curves in joins, then the fewest sheets, then the
/// most reused match lines, then the fewest joins, then landscape. All sheets lie alike, with
/// their heads at the top, unless another choice keeps a mark whole, or earns a sheet for a join
/// at most.
pub(super) fn make_plan<'a>(request: &Request<'a>) -> Result<Plan<'a>, PaginateError> {
    let &Request { layout, paper, reuse, .. } = request;
    let pieces = layout.pieces.as_slice();
    let usual = usual_pages(request);
    let mut pages = usual.clone();
    if let PaperForm::Sheet { .. } = paper.form() {
        pages.extend(usual.iter().map(|page| page.with_side_head()));
    }
    let bound = |choice: &[usize]| -> usize {
        let on = |(page, kind): (usize, &Page)| {
            let own = pieces.iter().zip(choice).filter(|(_, of)| **of == page);
            min_sheets(own.map(|(piece, _)| piece), kind.usable())
        };
        pages.iter().enumerate().map(on).sum()
    };
    let alike = |page: usize| vec![page; pieces.len()];
    let bounds = (0..usual.len()).map(|page| bound(&alike(page)));
    check_count(paper, bounds.min().unwrap_or_default())?;
    let length: Length = pieces.iter().map(|p| p.extent.length()).sum();
    if length > MAX_STRAP {
        return Err(PaginateError::TooLong { length, most: MAX_STRAP });
    }
    let tilings = vec![vec![OnceCell::new(); pieces.len()]; pages.len()];
    let plan = |choice: &[usize]| {
        let tile = |(piece, &page): (usize, &usize)| -> Option<PieceTiling<'a>> {
            let new = || PieceTiling::new(piece, &pieces[piece], pages[page]);
            tilings[page][piece].get_or_init(new).clone()
        };
        let own: Option<Vec<_>> = choice.iter().enumerate().map(tile).collect();
        own.map(|own| Plan::new(own, reuse))
    };
    let mut plans: Vec<Plan<'a>> =
        (0..usual.len()).filter_map(|page| plan(&alike(page))).collect();
    let best = plans.iter().map(|p| (p.in_joins(), p.sheets.len(), p.least_joins)).min();
    let (cut, sheets, joins) = best.unwrap_or(((usize::MAX, 0, false), 0, 0));
    let others = (usual.len()..pages.len()).map(alike);
    for choice in others.chain(mixed_choices(pieces.len(), &pages)) {
        if cut.0 > 0 || bound(&choice) < sheets {
            plans.extend(plan(&choice).filter(|p| {
                let is_worth = p.sheets.len() < sheets
                    && p.sheets.len() + p.least_joins <= sheets + joins;
                p.in_joins().0 < cut.0 || p.in_joins() <= cut && is_worth
            }));
        }
    }
    let best = plans.into_iter().min_by_key(|p| {
        let not_reused = usize::MAX - p.reused;
        let rest = (p.cost.pricks, p.joins.len() + p.lengthwise_joins.len());
        let turned = reuse.map_or(0, |set| p.turned_against(set));
        (p.in_joins(), p.sheets.len(), not_reused, turned, rest)
    });
    let best =
        best.ok_or_else(|| PaginateError::PaperTooSmall { paper: paper.name().into() })?;
    check_count(paper, best.sheets.len())?;
    Ok(best)
}

/// The pages on which a strap usually lies: landscape and portrait, or one from a roll.
fn usual_pages(request: &Request<'_>) -> Vec<Page> {
    let &Request { layout, paper, correction, .. } = request;
    let form = paper.form();
    let page = |width, height| Page::new(width, height, form, correction);
    let mut pages = match form {
        PaperForm::Sheet { short, long } => vec![page(long, short), page(short, long)],
        PaperForm::Roll { width } => vec![page(roll_length(layout, correction), width)],
    };
    pages.dedup();
    pages
}

/// Every choice of a page for each of so many pieces, so that some sheets lie and others stand;
/// none for more pieces than [`MAX_CHOOSING`].
fn mixed_choices(pieces: usize, pages: &[Page]) -> impl Iterator<Item = Vec<usize>> {
    let end = if pieces > MAX_CHOOSING { 0 } else { (1_usize << pieces) - 1 };
    let is_wide = |page: &usize| pages[*page].width > pages[*page].height;
    let (wide, tall): (Vec<usize>, Vec<usize>) = (0..pages.len()).partition(is_wide);
    let pairs = wide
        .into_iter()
        .flat_map(move |wide| tall.clone().into_iter().map(move |tall| [wide, tall]));
    pairs.flat_map(move |pair| {
        (1..end)
            .map(move |tall| (0..pieces).map(|piece| pair[(tall >> piece) & 1]).collect())
    })
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
fn min_sheets<'p>(pieces: impl Iterator<Item = &'p Piece>, area: UsableArea) -> usize {
    let with_overlaps = |whole: Length, max_tile: Length| {
        let step = (max_tile - OVERLAP).nm().max(1);
        let joins = ((whole - max_tile).nm() + step - 1).div_euclid(step).max(0);
        whole + OVERLAP * joins
    };
    area.min_sheets(pieces.map(|piece| {
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
    fn new(tilings: Vec<PieceTiling<'a>>, reuse: Option<&SheetSet>) -> Self {
        let least_joins = tilings.iter().map(PieceTiling::joins).sum();
        let Arrangement { tilings, spans, sheets } = &arrange::arrange(tilings, reuse);
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
            least_joins,
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

    /// The marks and the curves in joins, and whether a seam runs through one.
    fn in_joins(&self) -> (usize, usize, bool) {
        (self.cost.marks, self.cost.curves, self.cost.pricks > 0)
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
