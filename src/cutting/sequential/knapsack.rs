//! The pieces that are worth most on one lane.

use super::Search;
use crate::cutting::problem::Counts;

/// Items that the pieces of one lane are chosen from, one below the other; what room is left
/// then is filled as it comes.
const DEEPEST: usize = 32;

/// The search for the pieces that are worth most on one lane.
pub(super) struct Knapsack<'a> {
    search: &'a Search<'a>,
    strip: usize,
    /// The place of the lane's width in [`Search::widths`].
    width: usize,
    /// Items by falling worth for their length.
    active: &'a [usize],
    left: &'a [usize],
    steps: u64,
    now: Counts,
    most: i64,
    best: Counts,
}

impl<'a> Knapsack<'a> {
    pub(super) fn new(
        search: &'a Search<'a>,
        [strip, width]: [usize; 2],
        active: &'a [usize],
        left: &'a [usize],
    ) -> Self {
        let (now, best) = (Vec::new(), Vec::new());
        Self {
            search,
            strip,
            width,
            active,
            left,
            steps: search.steps,
            now,
            most: 0,
            best,
        }
    }

    /// What is worth most among the active items from the place `from` on, what it is worth,
    /// and the steps that were taken.
    pub(super) fn solve(mut self, from: usize) -> (i64, Counts, u64) {
        let room = self.search.problem.room(self.strip);
        self.descend(from, room, 0);
        if self.most == 0 {
            // The steps were too few to come to what fits.
            self.finish(from, room, 0);
        }
        (self.most, self.best, self.search.steps - self.steps)
    }

    fn descend(&mut self, from: usize, room: i64, worth: i64) {
        self.keep(worth);
        if self.now.len() == DEEPEST {
            self.finish(from, room, worth);
            return;
        }
        for at in from..self.active.len() {
            if self.steps == 0 {
                return;
            }
            self.steps -= 1;
            let item = self.active[at];
            let (size, value) =
                (self.search.problem.size(item), self.search.values[item]);
            // What comes after is worth no more for its length.
            let lacking = i128::from(self.most - worth) * i128::from(size);
            if i128::from(room) * i128::from(value) <= lacking {
                return;
            }
            for count in (1..=self.fit(item, room)).rev() {
                let (room, worth) = less(room, worth, size, value, count);
                self.now.push((item, count));
                self.descend(at + 1, room, worth);
                self.now.pop();
            }
        }
    }

    /// How many pieces of the item there is room for.
    fn fit(&self, item: usize, room: i64) -> usize {
        let Search { problem, width_of, .. } = self.search;
        let fit = usize::try_from(room / problem.size(item)).unwrap_or(0);
        let fit = fit.min(self.left[item]);
        let suits =
            fit > 0 && width_of[item] <= self.width && problem.fits(item, self.strip);
        if suits { fit } else { 0 }
    }

    /// Fills what is left as it comes.
    fn finish(&mut self, from: usize, mut room: i64, mut worth: i64) {
        let chosen = self.now.len();
        for &item in self.active.iter().skip(from) {
            self.steps = self.steps.saturating_sub(1);
            let fit = self.fit(item, room);
            if fit > 0 {
                let (size, value) =
                    (self.search.problem.size(item), self.search.values[item]);
                (room, worth) = less(room, worth, size, value, fit);
                self.now.push((item, fit));
            }
        }
        self.keep(worth);
        self.now.truncate(chosen);
    }

    fn keep(&mut self, worth: i64) {
        if worth > self.most {
            self.most = worth;
            self.best.clone_from(&self.now);
        }
    }
}

/// The room that is left by `count` more pieces, and what all are worth then.
fn less(room: i64, worth: i64, size: i64, value: i64, count: usize) -> (i64, i64) {
    let n = i64::try_from(count).unwrap_or(0);
    (room - size * n, worth.saturating_add(value.saturating_mul(n)))
}
