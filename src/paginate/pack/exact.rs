//! The fewest sheets, by dynamic programming over all choices of tiles.

use super::{GAP, Packer, SheetRows, TileRow};
use crate::geom::Length;
use std::collections::BTreeMap;

/// The steps that the exact search may take.
pub(super) const STEPS: usize = 200_000;

/// Tiles of one size, for packing.
#[derive(Clone, Debug)]
struct TileKind {
    tiles: Vec<usize>,
    /// The whole width where these tiles are too long to lie beside any other.
    length: Length,
    height: Length,
}

/// The kinds of the tiles in one row.
#[derive(Clone, Debug, Default)]
struct RowPattern {
    kinds: Vec<usize>,
    /// How many tiles of each kind, as digits of a mixed-radix number: the digit of a kind
    /// runs from 0 to the number of its tiles.
    code: usize,
    height: Length,
}

impl RowPattern {
    /// Whether enough tiles of each kind are left when those of `taken` are packed.
    fn is_left(&self, taken: usize, kinds: &[TileKind]) -> bool {
        let (mut taken, mut own) = (taken, self.code);
        kinds.iter().all(|kind| {
            let base = kind.tiles.len() + 1;
            let fits = taken % base + own % base < base;
            taken /= base;
            own /= base;
            fits
        })
    }
}

impl Packer<'_> {
    /// Finds a packing with the fewest sheets: for every choice of tiles, the fewest sheets
    /// and then the least height used on the last one. `None` when there are too many
    /// choices.
    pub(super) fn exact(&self) -> Option<Vec<SheetRows>> {
        let kinds = self.kinds();
        let all =
            kinds.iter().try_fold(1_usize, |n, k| n.checked_mul(k.tiles.len() + 1))? - 1;
        let patterns = self.row_patterns(&kinds);
        if all.checked_mul(patterns.len())? > STEPS {
            return None;
        }
        // By choice of tiles: sheets, height used on the last, the last row's pattern.
        let mut least: Vec<Option<(usize, Length, usize)>> = vec![None; all + 1];
        least[0] = Some((0, self.area.height, 0));
        for taken in 0..all {
            let Some((sheets, used, _)) = least[taken] else { continue };
            for (i, row) in patterns.iter().enumerate() {
                if !row.is_left(taken, &kinds) {
                    continue;
                }
                let (sheets, used) = if used + row.height <= self.area.height {
                    (sheets, used + row.height)
                } else {
                    (sheets + 1, row.height)
                };
                let then = &mut least[taken + row.code];
                if then.is_none_or(|(s, u, _)| (sheets, used) < (s, u)) {
                    *then = Some((sheets, used, i));
                }
            }
        }
        let mut found: Vec<Vec<&RowPattern>> = Vec::new();
        let mut taken = all;
        while taken != 0 {
            let (sheets, _, row) = least[taken]?;
            found.resize_with(found.len().max(sheets), Vec::new);
            found[sheets - 1].push(&patterns[row]);
            taken -= patterns[row].code;
        }
        Some(self.fill_patterns(&found, kinds))
    }

    fn kinds(&self) -> Vec<TileKind> {
        let mut lengths: Vec<Length> = self.sizes.iter().map(|s| s.length).collect();
        lengths.sort_unstable();
        let mut kinds: BTreeMap<(Length, Length), Vec<usize>> = BTreeMap::new();
        for (index, size) in self.sizes.iter().enumerate() {
            // The shortest of the other tiles.
            let own = usize::from(lengths.first() == Some(&size.length));
            let beside = lengths.get(own).map(|&l| size.length + GAP + l);
            let is_alone = beside.is_none_or(|together| together > self.area.width);
            let length = if is_alone { self.area.width } else { size.length };
            kinds.entry((size.height, length)).or_default().push(index);
        }
        let kinds = kinds.into_iter();
        kinds
            .map(|((height, length), tiles)| TileKind { tiles, length, height })
            .collect()
    }

    /// Every choice of kinds that fits in one row.
    fn row_patterns(&self, kinds: &[TileKind]) -> Vec<RowPattern> {
        let mut rows = vec![(RowPattern::default(), -GAP)];
        let mut place = 1;
        for (index, kind) in kinds.iter().enumerate() {
            let mut more = Vec::new();
            for (row, used) in &rows {
                let (mut row, mut used) = (row.clone(), *used);
                for _ in &kind.tiles {
                    used += GAP + kind.length;
                    if used > self.area.width || rows.len() + more.len() > STEPS {
                        break;
                    }
                    row.kinds.push(index);
                    row.code += place;
                    row.height = row.height.max(kind.height);
                    more.push((row.clone(), used));
                }
            }
            rows.extend(more);
            place *= kind.tiles.len() + 1;
        }
        rows.into_iter().skip(1).map(|(row, _)| row).collect()
    }

    /// The tiles of each row, the first ones of a kind on the first sheets.
    fn fill_patterns(
        &self,
        found: &[Vec<&RowPattern>],
        kinds: Vec<TileKind>,
    ) -> Vec<SheetRows> {
        let mut left: Vec<_> = kinds.into_iter().map(|k| k.tiles.into_iter()).collect();
        let mut fill = |row: &&RowPattern| {
            let tiles = row.kinds.iter().filter_map(|&kind| left[kind].next());
            TileRow::new(&tiles.collect::<Vec<_>>(), self.sizes)
        };
        found.iter().map(|rows| rows.iter().map(&mut fill).collect()).collect()
    }
}
