//! Which tile lies in which row of which sheet.
//!
//! Rows run along the page's width, from the top; short tiles may lie end to end in one.
//! The fewest sheets come first: exactly, by going through all choices of tiles, as long as
//! that takes at most [`STEPS`] steps, which it does for a dozen tiles that all differ and
//! for hundreds that are alike; otherwise by the better of two ways to fill. Among those
//! with the fewest, each tile in turn takes the first sheet that leaves the later ones their
//! room.

use crate::geom::Length;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Between two tiles in one row, for the scissors.
pub(super) const GAP: Length = Length::from_mm(6);
/// So many steps are gone through for an exact answer.
const STEPS: usize = 200_000;
/// How often a tile may be tried in a place before the search for a better order gives up.
const TRIES: usize = 5_000;

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
    // On a sheet and in a row the order is that of the tiles.
    for rows in &mut best {
        for row in &mut *rows {
            row.items.sort_unstable();
        }
        rows.sort_by_key(|r| r.items.first().copied());
    }
    best
}

/// Items that are as good as each other.
#[derive(Clone, Debug)]
struct Kind {
    items: Vec<usize>,
    /// A whole row where they are too long to lie beside any other.
    length: Length,
    height: Length,
}

/// Items that go into one row, by kind.
#[derive(Clone, Debug, Default)]
struct Choice {
    kinds: Vec<usize>,
    /// How many of each kind, as digits: each counts from zero to all of its kind.
    code: usize,
    height: Length,
}

impl Choice {
    /// Whether enough of each kind is left when `taken` are taken.
    fn is_left(&self, taken: usize, kinds: &[Kind]) -> bool {
        let (mut taken, mut own) = (taken, self.code);
        kinds.iter().all(|kind| {
            let base = kind.items.len() + 1;
            let fits = taken % base + own % base < base;
            taken /= base;
            own /= base;
            fits
        })
    }
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
    /// for every choice of items: what packs less to begin with packs no more in the end.
    /// Items of one kind are as good as each other. `None` where there is too much to go
    /// through.
    fn exact(&self) -> Option<Vec<Rows>> {
        let kinds = self.kinds();
        let all =
            kinds.iter().try_fold(1_usize, |n, k| n.checked_mul(k.items.len() + 1))? - 1;
        let rows = self.possible_rows(&kinds);
        if all.checked_mul(rows.len())? > STEPS {
            return None;
        }
        let mut least: Vec<Option<(usize, Length, usize)>> = vec![None; all + 1];
        least[0] = Some((0, self.room.height, 0));
        for taken in 0..all {
            let Some((sheets, used, _)) = least[taken] else { continue };
            for (i, row) in rows.iter().enumerate() {
                if !row.is_left(taken, &kinds) {
                    continue;
                }
                let now = if used + row.height <= self.room.height {
                    (sheets, used + row.height)
                } else {
                    (sheets + 1, row.height)
                };
                let then = &mut least[taken + row.code];
                if then.is_none_or(|(s, u, _)| now < (s, u)) {
                    *then = Some((now.0, now.1, i));
                }
            }
        }
        let mut found: Vec<Vec<&Choice>> = Vec::new();
        let mut taken = all;
        while taken != 0 {
            let (sheets, _, row) = least[taken]?;
            found.resize_with(found.len().max(sheets), Vec::new);
            found[sheets - 1].push(&rows[row]);
            taken -= rows[row].code;
        }
        Some(self.rows_of(&found, kinds))
    }

    fn kinds(&self) -> Vec<Kind> {
        let mut lengths: Vec<Length> = self.items.iter().map(|i| i.length).collect();
        lengths.sort_unstable();
        let mut kinds: BTreeMap<(Length, Length), Vec<usize>> = BTreeMap::new();
        for (index, item) in self.items.iter().enumerate() {
            // The shortest of the others.
            let own = usize::from(lengths.first() == Some(&item.length));
            let beside = lengths.get(own).map(|&l| item.length + GAP + l);
            let alone = beside.is_none_or(|together| together > self.room.width);
            let length = if alone { self.room.width } else { item.length };
            kinds.entry((item.height, length)).or_default().push(index);
        }
        let kinds = kinds.into_iter();
        kinds.map(|((height, length), items)| Kind { items, length, height }).collect()
    }

    /// Every choice of kinds that goes into one row.
    fn possible_rows(&self, kinds: &[Kind]) -> Vec<Choice> {
        let mut rows = vec![(Choice::default(), -GAP)];
        let mut place = 1;
        for (index, kind) in kinds.iter().enumerate() {
            let mut more = Vec::new();
            for (row, used) in &rows {
                let (mut row, mut used) = (row.clone(), *used);
                for _ in &kind.items {
                    used += GAP + kind.length;
                    if used > self.room.width || rows.len() + more.len() > STEPS {
                        break;
                    }
                    row.kinds.push(index);
                    row.code += place;
                    row.height = row.height.max(kind.height);
                    more.push((row.clone(), used));
                }
            }
            rows.extend(more);
            place *= kind.items.len() + 1;
        }
        rows.into_iter().skip(1).map(|(row, _)| row).collect()
    }

    /// The items of each row, the first ones of a kind on the first sheets.
    fn rows_of(&self, found: &[Vec<&Choice>], kinds: Vec<Kind>) -> Vec<Rows> {
        let mut left: Vec<_> = kinds.into_iter().map(|k| k.items.into_iter()).collect();
        let mut sheets = Vec::with_capacity(found.len());
        for rows in found {
            let mut sheet = Rows::new();
            for row in rows {
                let mut made = Row { used: -GAP, ..Row::default() };
                for index in row.kinds.iter().filter_map(|&kind| left[kind].next()) {
                    let item = self.items[index];
                    made.items.push(index);
                    made.used += GAP + item.length;
                    made.height = made.height.max(item.height);
                }
                sheet.push(made);
            }
            sheets.push(sheet);
        }
        sheets
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
                let height = place.checked_sub(1).map(|at| all[sheet][at].height);
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
                match place.checked_sub(1).zip(height) {
                    None => drop(all[sheet].pop()),
                    Some((at, height)) => {
                        let row = &mut all[sheet][at];
                        row.items.pop();
                        row.used -= GAP + item.length;
                        row.height = height;
                    }
                }
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
