//! Where the joins go, along one axis.
//!
//! A tile shows its stretch from half an overlap before its left match line to half an
//! overlap after its right one, and is at most one window long. In order of weight:
//!
//! 1. every mark is whole on some tile;
//! 2. the fewest marks, then the fewest curves of the outline, lie in an overlap or within
//!    [`CLEAR`] of one;
//! 3. none of the pricks of a seam does, if that can be;
//! 4. the fewest joins;
//! 5. the fewest pricks;
//! 6. match lines nearest, in sum, to those of equal tiles.
//!
//! So a join more is taken rather than a mark cut, as a mark that is punched through two
//! papers is as good as their joining; but not for the sake of a few pricks where some must
//! be joined through anyway: those have their neighbours to be held against.

mod harm;
mod placement;
mod reach;
#[cfg(test)]
mod tests;

pub(super) use harm::{Class, Harm, Obstacle};

use crate::geom::{Extent, Length};
use harm::Bars;
use placement::Placing;

/// What two neighbouring tiles both show.
pub(super) const OVERLAP: Length = Length::from_mm(16);
/// Half of it lies on either side of the match line.
const HALF: Length = Length::from_mm(8);
/// What must stay clear on both sides of the overlap.
pub(super) const CLEAR: Length = Length::from_mm(2);
/// Least distance of two match lines, and of one from an end: the overlaps do not meet, and
/// a strip is never too short to be taped.
const LEAST: Length = Length::from_mm(24);

/// What is to be joined.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<'a> {
    /// From the one end to the other, with what is shown beyond the ends.
    pub(super) whole: Extent,
    /// How long a tile may be.
    pub(super) window: Length,
    /// A tile, counted from 0, that must be no longer than this.
    pub(super) short: Option<(usize, Length)>,
    /// What the overlaps should keep off.
    pub(super) obstacles: &'a [Obstacle],
    /// The first match lines, which are given.
    pub(super) kept: &'a [Length],
}

impl Run<'_> {
    /// How long the tile of this number may be, counted from 0.
    fn longest(&self, tile: usize) -> Length {
        let short = self.short.filter(|(t, _)| *t == tile);
        short.map_or(self.window, |(_, length)| length.min(self.window))
    }

    /// How far the line after this tile may be from the line before it.
    fn step(&self, tile: usize) -> Length {
        self.longest(tile) - OVERLAP
    }

    /// The furthest place of the first match line.
    fn first_reach(&self) -> Length {
        self.whole.from + self.longest(0) - HALF
    }

    /// The nearest place of the last of `n` match lines.
    fn last_reach(&self, n: usize) -> Length {
        self.whole.to - self.longest(n) + HALF
    }

    /// Where each of `n` lines can lie by the lengths of the tiles alone.
    fn windows(&self, n: usize) -> Vec<Extent> {
        let mut windows = Vec::with_capacity(n);
        let mut to = self.first_reach();
        for k in 0..n {
            windows.push(Extent { from: self.inner().from, to });
            to += self.step(k + 1);
        }
        let mut from = self.last_reach(n);
        for (k, window) in windows.iter_mut().enumerate().rev() {
            window.from = window.from.max(from);
            from -= self.step(k);
        }
        windows
    }

    /// Where match lines may lie at all.
    fn inner(&self) -> Extent {
        Extent { from: self.whole.from + LEAST, to: self.whole.to - LEAST }
    }

    /// How many joins there can be before one of them is of no use: two neighbouring gaps
    /// that are together no longer than a step need no line between them.
    fn most(&self) -> usize {
        let steps = self.whole.length().nm() / (self.window - OVERLAP).nm() + 1;
        usize::try_from(2 * steps + 1).unwrap_or(usize::MAX)
    }
}

/// The match lines of one piece along one axis.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Joins {
    /// In order.
    pub(super) lines: Vec<Length>,
    /// What lies in their overlaps.
    pub(super) harm: Harm,
}

impl Joins {
    /// The stretches of `whole` that the tiles show.
    pub(super) fn stretches(&self, whole: Extent) -> Vec<Extent> {
        let mut from = whole.from;
        let mut all = Vec::with_capacity(self.lines.len() + 1);
        for &line in &self.lines {
            all.push(Extent { from, to: line + HALF });
            from = line - HALF;
        }
        all.push(Extent { from, to: whole.to });
        all
    }
}

/// What a join at `line` should keep clear.
pub(super) fn about(line: Length) -> Extent {
    Extent { from: line, to: line }.grown(HALF + CLEAR)
}

/// Places the joins of a run. `None` when the window is too short for a join or a mark, or
/// the kept lines do not lead on.
pub(super) fn solve(run: &Run<'_>) -> Option<Joins> {
    if run.whole.length() <= run.longest(0) && run.kept.is_empty() {
        return Some(Joins::default());
    }
    if run.window - OVERLAP < LEAST {
        return None;
    }
    let hard = Bars::whole_marks(run.obstacles);
    for classes in [&Class::ALL[..], &[Class::Mark, Class::Curve]] {
        let bars = hard.with(run.obstacles, classes);
        if let Some(chain) = reach::fewest(run, &bars) {
            return Placing::new(run, bars).most_even(&chain);
        }
    }
    // A mark or a curve is in the way wherever one goes.
    let clear_of_pricks = hard.with(run.obstacles, &[Class::Prick]);
    let ways = [clear_of_pricks, hard].into_iter().filter_map(|bars| {
        let chain = reach::fewest(run, &bars)?;
        let placing = Placing::new(run, bars);
        placing.most_even(&placing.least_harm(&chain)?)
    });
    ways.min_by_key(|joins| (joins.harm.marks, joins.harm.curves))
}

/// Which tile can be the shortest, and how short to the micrometre, with as many joins as
/// `joins` has and nothing more in their overlaps; `None` where that is not to be known.
pub(super) fn shortest(run: &Run<'_>, joins: &Joins) -> Option<(usize, Length)> {
    let clear: &[Class] = match joins.harm {
        harm if harm == Harm::default() => &Class::ALL,
        harm if harm.is_clear() => &[Class::Mark, Class::Curve],
        _ => return None,
    };
    let bars = Bars::whole_marks(run.obstacles).with(run.obstacles, clear);
    let n = joins.lines.len();
    let does = |tile: usize, um: i64| {
        let run = Run { short: Some((tile, Length::from_um(um))), ..*run };
        reach::fewest(&run, &bars).is_some_and(|lines| lines.len() == n)
    };
    let mut best: Option<(usize, i64)> = None;
    for tile in (0..=n).rev() {
        let mut enough = best.map_or(run.window.nm() / 1_000, |(_, least)| least - 1);
        if !does(tile, enough) {
            continue;
        }
        let mut not_enough = 0;
        while enough - not_enough > 1 {
            let middle = i64::midpoint(not_enough, enough);
            if does(tile, middle) {
                enough = middle;
            } else {
                not_enough = middle;
            }
        }
        best = Some((tile, enough));
    }
    best.map(|(tile, um)| (tile, Length::from_um(um)))
}
