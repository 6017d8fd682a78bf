//! The fewest sheets, by going through all choices of tiles.

use super::{GAP, Packer, Row, Rows};
use crate::geom::Length;
use std::collections::BTreeMap;

/// So many steps are gone through for an exact answer.
pub(super) const STEPS: usize = 200_000;

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

impl Packer<'_> {
    /// The fewest sheets, by the least number of sheets and the least use of the last one
    /// for every choice of items: what packs less to begin with packs no more in the end.
    /// Items of one kind are as good as each other. `None` where there is too much to go
    /// through.
    pub(super) fn exact(&self) -> Option<Vec<Rows>> {
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
}
