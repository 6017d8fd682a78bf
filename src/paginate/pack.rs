//! Which tile lies in which row of which sheet.
//!
//! Rows run along the page's width, from the top; short tiles may lie end to end in one.
//! The fewest sheets come first: exactly for up to [`EXACT`] tiles, by going through all
//! sets of them, and otherwise the better of two ways to fill. Among those with the fewest,
//! each tile in turn takes the first sheet that leaves the later ones their room.

use crate::geom::Length;
use std::cmp::Reverse;

/// Between two tiles in one row, for the scissors.
pub(super) const GAP: Length = Length::from_mm(6);
/// So many tiles are packed exactly: at most 3^12 steps.
pub(super) const EXACT: usize = 12;
/// How often a tile may be tried in a place before the search for a better order gives up.
const TRIES: usize = 20_000;

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
        let other = if items.len() <= EXACT {
            packer.exact()
        } else {
            let mut tall_first = in_order;
            tall_first.sort_by_key(|&i| Reverse((items[i].height, items[i].length)));
            packer.first_fit(&tall_first)
        };
        if other.len() < best.len() {
            best = packer.in_good_order(other.len()).unwrap_or(other);
        }
    }
    let first = |rows: &Rows| rows.iter().flat_map(|r| &r.items).min().copied();
    best.sort_by_key(first);
    if items.iter().any(|i| i.wish.is_some()) {
        best = packer.in_good_order(best.len()).unwrap_or(best);
    }
    // On a sheet and in a row the order is that of the tiles.
    for rows in &mut best {
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

    /// The fewest sheets, by the least number of sheets and the least use of the last one
    /// for every set of items: what packs less to begin with packs no more in the end.
    fn exact(&self) -> Vec<Rows> {
        let all = (1_usize << self.items.len()) - 1;
        let rows = self.possible_rows(all);
        let mut least: Vec<Option<(usize, Length, usize)>> = vec![None; all + 1];
        least[0] = Some((0, self.room.height, 0));
        for set in 0..all {
            let Some((sheets, used, _)) = least[set] else { continue };
            for (row, height) in rows.iter().filter(|(r, _)| r & set == 0) {
                let (sheets, used) = if used + *height <= self.room.height {
                    (sheets, used + *height)
                } else {
                    (sheets + 1, *height)
                };
                let better =
                    least[set | row].is_none_or(|(s, u, _)| (sheets, used) < (s, u));
                if better {
                    least[set | row] = Some((sheets, used, *row));
                }
            }
        }
        let mut found: Vec<Rows> = Vec::new();
        let mut set = all;
        while let Some((sheets, _, row)) = least[set].filter(|_| set != 0) {
            found.resize_with(found.len().max(sheets), Vec::new);
            found[sheets - 1].push(self.row(row));
            set &= !row;
        }
        found
    }

    /// Every set of items that goes into one row, and how high that is.
    fn possible_rows(&self, all: usize) -> Vec<(usize, Length)> {
        let mut rows = Vec::new();
        for set in 1..=all {
            let row = self.row(set);
            if row.used <= self.room.width {
                rows.push((set, row.height));
            }
        }
        rows
    }

    fn row(&self, set: usize) -> Row {
        let mut row = Row { used: -GAP, ..Row::default() };
        for (index, item) in self.items.iter().enumerate() {
            if set >> index & 1 == 1 {
                row.items.push(index);
                row.used += GAP + item.length;
                row.height = row.height.max(item.height);
            }
        }
        row
    }

    /// All items on `sheets` sheets, each item where it is wished or else on the first
    /// sheet that does; `None` when there is none or the search takes too long.
    fn in_good_order(&self, sheets: usize) -> Option<Vec<Rows>> {
        let mut all: Vec<Rows> = vec![Vec::new(); sheets];
        let mut tries = TRIES;
        self.search(&mut all, 0, &mut tries).then_some(all)
    }

    fn search(&self, all: &mut Vec<Rows>, index: usize, tries: &mut usize) -> bool {
        let Some(item) = self.items.get(index) else { return true };
        let wish = item.wish.filter(|&w| w < all.len());
        let others = (0..all.len()).filter(|&s| Some(s) != wish);
        let order: Vec<usize> = wish.into_iter().chain(others).collect();
        for sheet in order {
            for place in 0..=all[sheet].len() {
                let before = all[sheet].clone();
                if !self.put_at(&mut all[sheet], index, place) {
                    continue;
                }
                if *tries == 0 {
                    return false;
                }
                *tries -= 1;
                if self.search(all, index + 1, tries) {
                    return true;
                }
                all[sheet] = before;
            }
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
