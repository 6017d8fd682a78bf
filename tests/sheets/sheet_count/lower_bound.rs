//! Whether so many sheets could do at all, by going through every way to share rows, with
//! tiles of any length that one of their number can have: written apart from the program.

/// Between two tiles of one row, in mm.
pub(crate) const GAP: i64 = 6;

/// A piece as so many tiles, all of one height, of some length in sum; in mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tiled {
    pub(crate) tiles: i64,
    pub(crate) sum: i64,
    /// No tile of it can be shorter.
    pub(crate) shortest: i64,
    pub(crate) height: i64,
}

/// Pieces in one row together with tiles of long pieces.
#[derive(Clone, Debug)]
struct Group {
    singles: Vec<Tiled>,
    with: &'static [usize],
}

impl Group {
    fn of(singles: Vec<Tiled>) -> Self {
        Self { singles, with: &[] }
    }

    /// What it takes of a row, with a gap to a tile beside it.
    fn length(&self) -> i64 {
        let gaps = self.singles.len() + self.with.len();
        let sum: i64 = self.singles.iter().map(|s| s.sum).sum();
        sum + GAP * (i64::try_from(gaps).unwrap() - 1).max(0)
    }
}

/// Which tiles of up to two long pieces may lie in one row beside others.
const WITH: [&[usize]; 6] = [&[], &[0], &[1], &[0, 1], &[0, 0], &[1, 1]];

/// Whether the pieces, at most two of them long, go on `sheets` sheets of this room. Where
/// three tiles of long pieces could share a row, or pairs of them several, the answer is
/// that they might.
pub(crate) fn could_do(pieces: &[Tiled], room: (i64, i64), sheets: i64) -> bool {
    let (long, singles): (Vec<Tiled>, Vec<Tiled>) =
        pieces.iter().partition(|p| p.tiles > 1);
    assert!(long.len() <= 2, "the ways to share a row are listed for two");
    let spare: i64 = long.iter().map(|p| p.tiles * room.0 - p.sum).sum();
    let shortest = long.iter().map(|p| p.shortest).min().unwrap_or(0);
    let trio = 3 * shortest + 2 * GAP <= room.0 && spare >= 2 * (room.0 + GAP);
    if trio || spare >= 3 * (room.0 + GAP) {
        return true;
    }
    let search = Search { long, room, sheets };
    // Pairs of tiles may share a row with nothing else.
    (0..=spare / (room.0 + GAP)).any(|pairs| {
        let mut groups: Vec<Group> = (0..pairs).map(|_| Group::of(vec![])).collect();
        search.singles(&singles, &mut groups)
    })
}

struct Search {
    long: Vec<Tiled>,
    room: (i64, i64),
    sheets: i64,
}

impl Search {
    /// Every partition of the singles into groups.
    fn singles(&self, left: &[Tiled], groups: &mut Vec<Group>) -> bool {
        let Some((first, rest)) = left.split_first() else {
            return self.partners(groups, 0);
        };
        for i in (0..groups.len())
            .filter(|&i| !groups[i].singles.is_empty())
            .collect::<Vec<_>>()
        {
            groups[i].singles.push(*first);
            if groups[i].length() <= self.room.0 && self.singles(rest, groups) {
                return true;
            }
            groups[i].singles.pop();
        }
        groups.push(Group::of(vec![*first]));
        let found = self.singles(rest, groups);
        groups.pop();
        found
    }

    /// Every choice of tiles of long pieces for each group.
    fn partners(&self, groups: &mut Vec<Group>, index: usize) -> bool {
        if index == groups.len() {
            return self.lengths_do(groups) && self.heights_do(groups);
        }
        for with in WITH {
            let is_there = with.iter().all(|&i| i < self.long.len());
            if !is_there || groups[index].singles.is_empty() && with.len() < 2 {
                continue;
            }
            groups[index].with = with;
            let short: i64 = with.iter().map(|&i| self.long[i].shortest).sum();
            let fits = groups[index].length() + short <= self.room.0;
            if fits && self.partners(groups, index + 1) {
                return true;
            }
            groups[index].with = &[];
        }
        false
    }

    /// Whether the tiles of the long pieces are long enough beside their groups.
    fn lengths_do(&self, groups: &[Group]) -> bool {
        let width = self.room.0;
        let mut spare: Vec<i64> =
            self.long.iter().map(|p| p.tiles * width - p.sum).collect();
        let mut shared = 0;
        for group in groups {
            let taken = group.length();
            match group.with {
                [] => {}
                [i] => spare[*i] -= taken,
                // The two tiles together are as long as what is left of the row.
                [i, j] if i == j => spare[*i] -= width + taken,
                _ => shared += width + taken,
            }
        }
        spare.iter().all(|s| *s >= 0)
            && (shared == 0 || spare.iter().sum::<i64>() >= shared)
            && self.left(groups).iter().all(|c| *c >= 0)
    }

    /// How many tiles of each long piece have a row alone.
    fn left(&self, groups: &[Group]) -> Vec<i64> {
        let mut left: Vec<i64> = self.long.iter().map(|p| p.tiles).collect();
        for i in groups.iter().flat_map(|g| g.with) {
            left[*i] -= 1;
        }
        left
    }

    fn heights_do(&self, groups: &[Group]) -> bool {
        let mut rows = Vec::new();
        for group in groups {
            let singles = group.singles.iter().map(|s| s.height);
            let tiles = group.with.iter().map(|&i| self.long[i].height);
            rows.push(singles.chain(tiles).max().unwrap());
        }
        for (piece, left) in self.long.iter().zip(self.left(groups)) {
            rows.extend((0..left).map(|_| piece.height));
        }
        rows.sort_unstable_by(|a, b| b.cmp(a));
        let mut free = vec![self.room.1; usize::try_from(self.sheets).unwrap()];
        fill(&rows, &mut free, 0)
    }
}

/// Whether rows, the highest first, go into what is free; equal rows in order of sheets.
fn fill(rows: &[i64], free: &mut [i64], from: usize) -> bool {
    let Some((first, rest)) = rows.split_first() else { return true };
    if rows.iter().sum::<i64>() > free.iter().sum::<i64>() {
        return false;
    }
    for sheet in from..free.len() {
        let seen = free[from..sheet].contains(&free[sheet]);
        if seen || free[sheet] < *first {
            continue;
        }
        free[sheet] -= first;
        let next = if rest.first() == Some(first) { sheet } else { 0 };
        let found = fill(rest, free, next);
        free[sheet] += first;
        if found {
            return true;
        }
    }
    false
}
