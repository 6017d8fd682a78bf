//! Divides one piece into tiles: along the strap and, where the piece is wider than a sheet,
//! across it too.

use super::joins::{self, JoinProblem, MatchLines, Obstacle, ObstacleKind};
use super::lane::Lane;
use super::page::Page;
use super::sheet::shows_whole;
use crate::geom::{Extent, Length, Segment, Step, Strap};
use crate::layout::{Mark, Piece};
use std::fmt;

/// The margin shown beyond the ends of the piece.
const BEYOND: Length = Length::from_mm(3);
/// An edge that rises by more than one in so many counts as a curve, and no join should lie
/// on it. The edges of a gentler one are joined like straight ones.
const GENTLE: i64 = 4;

/// A join at one edge of a tile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Join {
    /// The numbers of the strips that it joins: the earlier one lies above the other.
    pub(super) strips: [usize; 2],
    /// Its match line: along x at the ends of a tile, along y at its long edges.
    pub(super) line: Length,
}

impl fmt::Display for Join {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [earlier, later] = self.strips;
        write!(f, "{earlier} + {later}")
    }
}

/// What a strip of paper is called: a number where it is joined to others, a letter where its
/// piece is whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Strip {
    /// From 1.
    Number(usize),
    /// From 0.
    Letter(usize),
}

impl fmt::Display for Strip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Number(n) => write!(f, "{n}"),
            // After Z come AA and AB.
            Self::Letter(n) => {
                if n > 25 {
                    write!(f, "{}", Self::Letter(n / 26 - 1))?;
                }
                let letter = u8::try_from(n % 26).unwrap_or_default();
                write!(f, "{}", char::from(b'A' + letter))
            }
        }
    }
}

/// The part of a piece that one tile shows.
#[derive(Clone, Copy, Debug)]
pub(super) struct TileSpan<'a> {
    pub(super) piece: &'a Piece,
    /// Index of the piece in the layout.
    pub(super) index: usize,
    /// What the strip is called.
    pub(super) strip: Strip,
    /// Which stretch along the piece, counted from the buckle end.
    pub(super) column: usize,
    pub(super) stretch: Extent,
    pub(super) across: Extent,
    /// What stands beside the piece.
    pub(super) lane: Lane,
    /// The edges of the piece at the left and right end, the same on both tiles of a join.
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

impl<'a> TileSpan<'a> {
    /// The edges of the piece for all that stands beside them, such as rulers.
    pub(super) fn edges(&self) -> Extent {
        self.lane.within(self.across)
    }

    /// The joins at its two ends, each with the edges of the piece there.
    pub(super) fn end_joins(&self) -> impl Iterator<Item = (Join, Extent)> {
        let ends = [self.left, self.right].into_iter().zip(self.end_edges);
        ends.filter_map(|(join, edges)| Some((join?, edges)))
    }

    /// The joins at its long edges.
    pub(super) fn edge_joins(&self) -> impl Iterator<Item = Join> {
        self.above.into_iter().chain(self.below)
    }

    /// The stretch of the piece without the margin beyond its ends.
    pub(super) fn on_piece(&self) -> Extent {
        self.stretch.intersection(self.piece.extent)
    }

    /// The marks that it shows whole.
    pub(super) fn whole_marks(&self) -> Vec<&'a Mark> {
        let near = self.piece.marks_between(self.stretch).iter();
        near.filter(|m| shows_whole(self.stretch, self.across, m)).collect()
    }
}

/// One piece with its match lines.
#[derive(Clone, Debug)]
pub(super) struct PieceTiling<'a> {
    piece: &'a Piece,
    /// Index of the piece in the layout.
    index: usize,
    obstacles: Vec<Obstacle>,
    /// Ends that are folded back.
    folded: Vec<Extent>,
    lane: Lane,
    /// The page of its sheets.
    pub(super) page: Page,
    /// Places along x of the joins across the strap.
    pub(super) x_lines: MatchLines,
    /// Places along y of the joins along the strap.
    pub(super) y_lines: MatchLines,
    /// How many of the first `x_lines` are those of an earlier print.
    pub(super) reused: usize,
    /// A tile that is shorter than the others, to lie beside something else.
    pub(super) short: Option<usize>,
}

/// The stretch of a piece that its tiles show.
pub(super) fn shown_along(piece: &Piece) -> Extent {
    piece.extent.grown(BEYOND)
}

/// The band of a piece that its tiles show, on pages of this width.
pub(super) fn shown_across(piece: &Piece, max_tile: Length) -> Extent {
    let is_whole = shown_along(piece).length() <= max_tile;
    Lane::of(piece, is_whole).around(Extent::at(Length::ZERO).grown(piece.width / 2))
}

impl<'a> PieceTiling<'a> {
    /// Places the joins. `None` when tiles are too short for a join or a mark.
    pub(super) fn new(index: usize, piece: &'a Piece, page: Page) -> Option<Self> {
        let area = page.usable();
        let mut across: Vec<Obstacle> = Vec::new();
        let mut obstacles = curves(piece);
        for mark in &piece.marks {
            let Some(kind) = ObstacleKind::from_mark(mark) else { continue };
            obstacles.push(Obstacle { extent: mark.x_extent(), kind });
            // A line across the strap crosses every join along it.
            if mark.path().is_some() {
                across.push(Obstacle { extent: mark.y_extent(), kind });
            }
        }
        // Words and boxes are drawn only where one tile shows them whole.
        for guide in &piece.guides {
            if let Some(along) = guide.whole() {
                let kind = ObstacleKind::Curve;
                obstacles.push(Obstacle { extent: along, kind });
                across.push(Obstacle { extent: guide.y_extent(), kind });
            }
        }
        let y_lines = joins::solve(&JoinProblem {
            whole: shown_across(piece, area.width),
            max_tile: area.height,
            short: None,
            obstacles: &across,
            folded: &[],
            fixed: &[],
        })?;
        let mut tiling = Self {
            piece,
            index,
            obstacles,
            folded: piece.folds.iter().map(|f| Extent::new(f.at, f.end)).collect(),
            lane: Lane::of(piece, shown_along(piece).length() <= area.width),
            page,
            x_lines: MatchLines::default(),
            y_lines,
            reused: 0,
            short: None,
        };
        tiling.x_lines = joins::solve(&tiling.problem(&[]))?;
        Some(tiling)
    }

    fn problem<'p>(&'p self, fixed: &'p [Length]) -> JoinProblem<'p> {
        JoinProblem {
            whole: shown_along(self.piece),
            max_tile: self.page.usable().width,
            short: None,
            obstacles: &self.obstacles,
            folded: &self.folded,
            fixed,
        }
    }

    /// How many joins it has.
    pub(super) fn joins(&self) -> usize {
        self.x_lines.places.len() + self.y_lines.places.len()
    }

    /// The same joins as far as they are reused.
    fn fixed(&self) -> &[Length] {
        &self.x_lines.places[..self.reused]
    }

    /// The same piece with `lines` as its first match lines. `None` when more marks or
    /// curves would lie in joins.
    pub(super) fn with_lines(&self, lines: &[Length]) -> Option<Self> {
        let x_lines = joins::solve(&self.problem(lines))?;
        let rank = |l: &MatchLines| (l.cost.marks, l.cost.curves);
        let is_as_clear = rank(&x_lines) <= rank(&self.x_lines);
        let reused = lines.len();
        is_as_clear.then(|| Self { x_lines, reused, short: None, ..self.clone() })
    }

    /// The same piece with one tile no longer than `length`. `None` when that takes more
    /// tiles or costlier joins.
    pub(super) fn with_short(&self, tile: usize, length: Length) -> Option<Self> {
        let short = Some((tile, length));
        let problem = JoinProblem { short, ..self.problem(self.fixed()) };
        let x_lines = joins::solve(&problem)?;
        let is_as_good = x_lines.places.len() == self.x_lines.places.len()
            && x_lines.cost <= self.x_lines.cost;
        is_as_good.then(|| Self { x_lines, short: Some(tile), ..self.clone() })
    }

    /// The same piece with one tile as short as possible. `None` for a single tile, and for a
    /// piece that is wider than a sheet.
    pub(super) fn with_shortest(&self) -> Option<Self> {
        if self.x_lines.places.is_empty() || !self.y_lines.places.is_empty() {
            return None;
        }
        let problem = self.problem(self.fixed());
        let (tile, length) = joins::shortest_tile(&problem, &self.x_lines)?;
        self.with_short(tile, length)
    }

    /// The stretches of the tiles along x.
    pub(super) fn stretches(&self) -> Vec<Extent> {
        self.x_lines.stretches(shown_along(self.piece))
    }

    /// The tiles: from the top, and in each band from the buckle end. The strips are numbered
    /// from `first`.
    fn spans(&self, first: usize) -> Vec<TileSpan<'a>> {
        let Self { piece, index, lane, .. } = *self;
        let shown = shown_across(piece, self.page.usable().width);
        let bands = self.y_lines.stretches(shown);
        let stretches = self.stretches();
        let columns = stretches.len();
        let join = |lines: &MatchLines, n: Option<usize>, strips| {
            Some(Join { line: *lines.places.get(n?)?, strips })
        };
        let mut spans = Vec::new();
        // Bands count from the top, match lines from the bottom.
        for (below, &whole) in bands.iter().enumerate().rev() {
            let across = |&stretch: &Extent| {
                if bands.len() > 1 {
                    return whole;
                }
                // A single band is no higher than the piece is wide on this stretch.
                lane.around(Extent::at(Length::ZERO).grown(piece.reach(stretch)))
            };
            let all: Vec<Extent> = stretches.iter().map(across).collect();
            for (column, (&stretch, &across)) in stretches.iter().zip(&all).enumerate() {
                let common = |next: Option<usize>| {
                    let next = next.and_then(|n| all.get(n)).unwrap_or(&across);
                    lane.within(across.intersection(*next))
                };
                let (left, n) = (column.checked_sub(1), first + spans.len());
                let [x_lines, y_lines] = [&self.x_lines, &self.y_lines];
                spans.push(TileSpan {
                    piece,
                    index,
                    strip: Strip::Number(n),
                    column,
                    stretch,
                    across,
                    lane,
                    end_edges: [left, Some(column + 1)].map(common),
                    left: join(x_lines, left, [n.saturating_sub(1), n]),
                    right: join(x_lines, Some(column), [n, n + 1]),
                    above: join(y_lines, Some(below), [n.saturating_sub(columns), n]),
                    below: join(y_lines, below.checked_sub(1), [n, n + columns]),
                });
            }
        }
        spans
    }
}

/// The tiles of all pieces.
pub(super) fn all_spans<'a>(tilings: &[PieceTiling<'a>]) -> Vec<TileSpan<'a>> {
    // A and B are the ends of the long check where anything is joined.
    let is_whole = |t: &PieceTiling<'_>| t.joins() == 0;
    let (mut number, mut letter) = (1, if tilings.iter().all(is_whole) { 0 } else { 2 });
    let mut spans = Vec::new();
    for tiling in tilings {
        let mut own = tiling.spans(number);
        if is_whole(tiling) {
            for span in &mut own {
                span.strip = Strip::Letter(letter);
                letter += 1;
            }
        } else {
            number += own.len();
        }
        spans.extend(own);
    }
    spans
}

/// The curves of the outline: steep edges whole, and the corners of gentle ones.
fn curves(piece: &Piece) -> Vec<Obstacle> {
    let mut all: Vec<Extent> = Vec::new();
    for segment in piece.outline.segments() {
        let (from, to) = (segment.from, segment.step.to());
        if is_curve(segment) {
            all.push(Extent::new(from.x, to.x));
        } else if !matches!(segment.step, Step::Line { .. } if from.y == to.y) {
            all.extend([from.x, to.x].map(Extent::at));
        }
    }
    all.sort_unstable();
    all.dedup();
    let kind = ObstacleKind::Curve;
    all.into_iter().map(|extent| Obstacle { extent, kind }).collect()
}

fn is_curve(segment: Segment<Strap>) -> bool {
    let chord = segment.step.to() - segment.from;
    let is_steep = chord.y.abs() * GENTLE > chord.x.abs();
    match segment.step {
        Step::Line { .. } => is_steep,
        // The slope of an arc against its chord, at the ends, is half the chord over the
        // radius.
        Step::Arc { centre, .. } => {
            is_steep || (segment.from - centre).norm() * 2 < chord.norm() * GENTLE
        }
    }
}
