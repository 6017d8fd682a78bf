//! Which tile lies in which row of which sheet.
//!
//! Rows run along the page's width, from the top; short tiles may lie end to end in one.
//! The fewest sheets come first: exactly, by going through all choices of tiles, as long as
//! that takes at most [`exact::STEPS`] steps, which it does for a dozen tiles that all differ and
//! for hundreds that are alike; otherwise by the better of two ways to fill. Among those
//! with the fewest, each tile in turn takes the first sheet that leaves the later ones their
//! room.

mod exact;
#[cfg(test)]
mod tests;

use crate::geom::Length;
use std::cmp::Reverse;

/// Between two tiles in one row, for the scissors.
pub(super) const GAP: Length = Length::from_mm(6);
/// How often a tile may be tried in a place before the search for a better order gives up.
const TRIES: usize = 5_000;
/// How often a tile may be tried in a row of one sheet before that sheet counts as full.
const ROW_TRIES: usize = 2_000;

/// A tile's room on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Item {
    pub(super) length: Length,
    pub(super) height: Length,
    /// A sheet that it should lie on.
    pub(super) wish: Option<usize>,
}

/// Tiles side by side along the page's width.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Row {
    /// Which tiles, from the left.
    pub(super) items: Vec<usize>,
    height: Length,
    used: Length,
}

impl Row {
    fn of(index: usize, item: Item) -> Self {
        Self { items: vec![index], height: item.height, used: item.length }
    }
}

/// Rows from the top.
pub(super) type Rows = Vec<Row>;

/// What a sheet has for its rows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub(super) width: Length,
    pub(super) height: Length,
}

/// Packs all items; each must fit on a sheet alone.
pub(super) fn pack(items: &[Item], room: Room) -> Vec<Rows> {
    let packer = Packer { items, room };
    let in_order: Vec<usize> = (0..items.len()).collect();
    let first_fit = packer.first_fit(&in_order);
    let mut best = first_fit;
    if best.len() > packer.bound() {
        let other = packer.exact().unwrap_or_else(|| {
            let mut tall_first = in_order;
            tall_first.sort_by_key(|&i| Reverse((items[i].height, items[i].length)));
            packer.first_fit(&tall_first)
        });
        if other.len() < best.len() {
            best = packer.in_good_order(other.len()).unwrap_or(other);
        }
    }
    let first = |rows: &Rows| rows.iter().flat_map(|r| &r.items).min().copied();
    best.sort_by_key(first);
    if items.iter().any(|i| i.wish.is_some()) {
        best = packer.in_good_order(best.len()).unwrap_or(best);
    }
    // What lies on a sheet decides alone how it lies there, so that the same tiles are laid
    // the same way again.
    for rows in &mut best {
        let mut own: Vec<usize> = rows.iter().flat_map(|r| r.items.clone()).collect();
        own.sort_unstable();
        if let Some(same) = packer.rows(&own) {
            *rows = same;
        }
        for row in &mut *rows {
            row.items.sort_unstable();
        }
        rows.sort_by_key(|r| r.items.first().copied());
    }
    best
}

struct Packer<'a> {
    items: &'a [Item],
    room: Room,
}

impl Packer<'_> {
    /// No packing has fewer sheets than the tiles have area.
    fn bound(&self) -> usize {
        let area = |a: Length, b: Length| i128::from(a.nm()) * i128::from(b.nm());
        let all: i128 = self.items.iter().map(|i| area(i.length, i.height)).sum();
        let sheet = area(self.room.width, self.room.height).max(1);
        usize::try_from((all + sheet - 1) / sheet).unwrap_or(usize::MAX)
    }

    fn height(rows: &Rows) -> Length {
        rows.iter().fold(Length::ZERO, |sum, r| sum + r.height)
    }

    /// Puts an item into a row of its own, or else beside others.
    fn put(&self, rows: &mut Rows, index: usize) -> bool {
        (0..=rows.len()).any(|place| self.put_at(rows, index, place))
    }

    fn first_fit(&self, order: &[usize]) -> Vec<Rows> {
        let mut sheets: Vec<Rows> = Vec::new();
        for &index in order {
            if !sheets.iter_mut().any(|rows| self.put(rows, index)) {
                sheets.push(vec![Row::of(index, self.items[index])]);
            }
        }
        sheets
    }

    /// One sheet with these items: in their order if that does, else the tall ones first,
    /// else as a search finds it; `None` when they have no room, or the search takes too
    /// long.
    fn rows(&self, items: &[usize]) -> Option<Rows> {
        let mut tall_first = items.to_vec();
        tall_first
            .sort_by_key(|&i| Reverse((self.items[i].height, self.items[i].length)));
        let in_order = |order: &[usize]| {
            let mut rows = Rows::new();
            order.iter().all(|&index| self.put(&mut rows, index)).then_some(rows)
        };
        in_order(items).or_else(|| in_order(&tall_first)).or_else(|| {
            let mut rows = Rows::new();
            self.fill(&mut rows, &tall_first, &mut { ROW_TRIES }).then_some(rows)
        })
    }

    /// Puts all of `left` on one sheet, each in every place in turn.
    fn fill(&self, rows: &mut Rows, left: &[usize], tries: &mut usize) -> bool {
        let Some((&index, left)) = left.split_first() else { return true };
        for place in 0..=rows.len() {
            if *tries == 0 {
                return false;
            }
            *tries -= 1;
            let before = rows.clone();
            if self.put_at(rows, index, place) && self.fill(rows, left, tries) {
                return true;
            }
            *rows = before;
        }
        false
    }

    /// All items on `sheets` sheets, each item where it is wished or else on the first
    /// sheet that does; `None` when there is none or the search takes too long.
    fn in_good_order(&self, sheets: usize) -> Option<Vec<Rows>> {
        let mut all: Vec<Vec<usize>> = vec![Vec::new(); sheets];
        let mut tries = TRIES;
        let mut order: Vec<usize> = (0..self.items.len()).collect();
        // Before another takes the room.
        order.sort_by_key(|&i| self.items[i].wish.is_none());
        let found = self.search(&mut all, &order, &mut tries);
        found.then(|| all.iter().filter_map(|items| self.rows(items)).collect())
    }

    fn search(
        &self,
        all: &mut Vec<Vec<usize>>,
        left: &[usize],
        tries: &mut usize,
    ) -> bool {
        let Some((&index, left)) = left.split_first() else { return true };
        let wish = self.items[index].wish.filter(|&w| w < all.len());
        let others = (0..all.len()).filter(|&s| Some(s) != wish);
        let order: Vec<usize> = wish.into_iter().chain(others).collect();
        for sheet in order {
            if *tries == 0 {
                return false;
            }
            *tries -= 1;
            let place = all[sheet].partition_point(|&i| i < index);
            all[sheet].insert(place, index);
            if self.rows(&all[sheet]).is_some() && self.search(all, left, tries) {
                return true;
            }
            all[sheet].remove(place);
        }
        false
    }

    /// Puts an item into a row of its own, which is place 0, or into one that is there.
    fn put_at(&self, rows: &mut Rows, index: usize, place: usize) -> bool {
        let item = self.items[index];
        let free = self.room.height - Self::height(rows);
        let Some(at) = place.checked_sub(1) else {
            let fits = item.height <= free;
            if fits {
                rows.push(Row::of(index, item));
            }
            return fits;
        };
        let row = &mut rows[at];
        let fits = row.used + GAP + item.length <= self.room.width
            && item.height - row.height <= free;
        if fits {
            row.items.push(index);
            row.used += GAP + item.length;
            row.height = row.height.max(item.height);
        }
        fits
    }
}
