//! Which marks lie near a place, without asking all of them.

use crate::geom::{Extent, Length};
use crate::layout::Mark;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Marks by their number.
type Numbers = Vec<usize>;
/// Marks that lie in one bin, apart by their groups.
type Bin<G> = BTreeMap<G, Numbers>;

/// Marks in square bins, for each power of two those that are no larger and have their middle
/// there. A mark asks the bins within its reach, so that the time grows with what is near
/// and not with the length or the width of the strap.
#[derive(Debug)]
pub(super) struct Near<G> {
    /// By the power of two, then across the strap, then along it.
    levels: BTreeMap<u32, BTreeMap<i64, BTreeMap<i64, Bin<G>>>>,
}

/// What a mark takes of the strap: along x and along y.
pub(super) type Room = [Extent; 2];

/// The room of a mark with so much around it.
pub(super) fn room(mark: &Mark, around: Length) -> Room {
    [mark.x_extent(), mark.y_extent()].map(|extent| extent.grown(around))
}

impl<G: Ord> Near<G> {
    /// Takes in rooms with their groups; they are numbered from 0.
    pub(super) fn new(rooms: impl Iterator<Item = (G, Room)>) -> Self {
        let mut levels: BTreeMap<u32, BTreeMap<i64, BTreeMap<i64, Bin<G>>>> =
            BTreeMap::new();
        for (number, (group, [x, y])) in rooms.enumerate() {
            let size = x.length().max(y.length()).nm().unsigned_abs().max(1);
            let level = size.next_power_of_two().ilog2();
            let middle = |e: Extent| e.from + e.length() / 2;
            let rows = levels.entry(level).or_default();
            let row = rows.entry(middle(y).nm() >> level).or_default();
            let bin = row.entry(middle(x).nm() >> level).or_default();
            bin.entry(group).or_default().push(number);
        }
        Self { levels }
    }

    /// The numbers of all that may meet `room`, in lists by groups; each number is in one
    /// list. What does not meet it may be there, what does is.
    pub(super) fn around(&self, [x, y]: Room) -> impl Iterator<Item = (&G, &Numbers)> {
        let bins = |level: u32, e: Extent| -> RangeInclusive<i64> {
            // Half of what is there lies beyond its middle; one nanometre more for odd ones.
            let half = (1_i64 << level) / 2 + 1;
            let first = e.from.nm().saturating_sub(half) >> level;
            first..=(e.to.nm().saturating_add(half) >> level)
        };
        self.levels
            .iter()
            .flat_map(move |(level, rows)| {
                let along = bins(*level, x);
                let rows = rows.range(bins(*level, y));
                rows.flat_map(move |(_, row)| row.range(along.clone()))
            })
            .flat_map(|(_, bin)| bin)
    }

    /// The numbers after `first` that may meet `room`, in their order.
    pub(super) fn after(&self, first: usize, room: Room) -> Numbers {
        let lists = self.around(room).map(|(_, numbers)| {
            let from = numbers.partition_point(|n| *n <= first);
            &numbers[from..]
        });
        let mut all: Numbers = lists.flatten().copied().collect();
        all.sort_unstable();
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn extent(from: i64, to: i64) -> Extent {
        Extent { from: Length::from_nm(from), to: Length::from_nm(to) }
    }

    /// Rooms of many sizes, made by a fixed rule; every pair that meets is found.
    #[test]
    fn all_that_meet_are_found() {
        let rooms: Vec<Room> = (0..400_i64)
            .map(|i| {
                let (x, y) = ((i * 7_919) % 5_000 - 2_500, (i * 104_729) % 900 - 450);
                let (long, wide) = ((i * 31) % 97 * (1 + i % 9), (i * 17) % 93);
                [extent(x, x + long), extent(y, y + wide)]
            })
            .collect();
        let near = Near::new(rooms.iter().enumerate().map(|(i, r)| (i % 3, *r)));
        let meets = |a: &Room, b: &Room| {
            (0..2).all(|i| a[i].from <= b[i].to && b[i].from <= a[i].to)
        };
        let (mut met, mut asked) = (0, 0);
        for (i, room) in rooms.iter().enumerate() {
            let found = near.after(i, *room);
            asked += found.len();
            for (j, other) in rooms.iter().enumerate().skip(i + 1) {
                if meets(room, other) {
                    assert!(found.contains(&j), "{i} and {j}");
                    met += 1;
                }
            }
            let grouped = near.around(*room);
            assert!(grouped.into_iter().all(|(g, all)| all.iter().all(|j| j % 3 == *g)));
        }
        assert!(met > 300 && asked < 400 * 400 / 8, "{met} met, {asked} asked");
    }
}
