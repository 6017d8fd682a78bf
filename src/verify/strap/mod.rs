//! The sheets put together by their crosses: which tiles there are, and which of them make
//! one piece.

mod joins;
mod tiles;

pub(super) use joins::{End, Odd};
pub(super) use tiles::{MOST_FRAMES, Tile};

use super::read::plane::{Bounds, Matrix};
use super::sheet::{Form, Label, Numeral, Sheet};
use std::collections::{BTreeMap, VecDeque};

/// Tiles that crosses hold together, each with its way to the first of them.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Indices of tiles.
    pub(super) tiles: Vec<(usize, Matrix)>,
    /// Of all its tiles, as the first lies.
    pub(super) bounds: Bounds,
}

/// Two tiles whose crosses miss each other: the join, the sheets' indices, the miss in mm.
pub(super) type Miss = (u32, usize, usize, f64);

/// All sheets, put together.
#[derive(Clone, Debug)]
pub(super) struct Strap {
    pub(super) tiles: Vec<Tile>,
    pub(super) pieces: Vec<Piece>,
    /// Crosses that do not come in twos.
    pub(super) odd: Vec<Odd>,
    pub(super) misses: Vec<Miss>,
    /// Forms that lie on no tile: index of the sheet and of the form.
    pub(super) stray: Vec<(usize, usize)>,
}

/// Puts the sheets together.
pub(super) fn assemble(sheets: &[Sheet]) -> Strap {
    let (ends, odd) = joins::ends(sheets);
    let (mut all, mut stray) = (Vec::new(), Vec::new());
    for (index, sheet) in sheets.iter().enumerate() {
        let (own, lost) = tiles::tiles(index, sheet, &ends);
        all.extend(own);
        stray.extend(lost.into_iter().map(|form| (index, form)));
    }
    let links = links(&all, &ends);
    let mut misses: Vec<Miss> = Vec::new();
    let mut pieces = Vec::new();
    let mut ways: Vec<Option<Matrix>> = vec![None; all.len()];
    for first in 0..all.len() {
        if ways[first].is_some() {
            continue;
        }
        ways[first] = Some(Matrix::IDENTITY);
        let mut next = VecDeque::from([(first, Matrix::IDENTITY)]);
        let mut tiles = Vec::new();
        let mut bounds = Bounds::NONE;
        while let Some((tile, way)) = next.pop_front() {
            tiles.push((tile, way));
            let Bounds { low, high } = all[tile].bounds;
            bounds.join(Bounds::of([way.place(low), way.place(high)]));
            for (link, other, there) in links.get(&tile).into_iter().flatten() {
                let way = there.then(way);
                match ways[*other] {
                    None => {
                        ways[*other] = Some(way);
                        next.push_back((*other, way));
                    }
                    // Tiles that can be reached two ways must lie where both have them.
                    Some(known) => {
                        let middle = all[*other].bounds.middle();
                        let off = known.place(middle).far(way.place(middle));
                        if off > 1e-9 && tile < *other {
                            misses.push((*link, all[tile].sheet, all[*other].sheet, off));
                        }
                    }
                }
            }
        }
        pieces.push(Piece { tiles, bounds });
    }
    misses.extend(by_pairs(&ends));
    Strap { tiles: all, pieces, odd, misses, stray }
}

/// From each tile: the join, the tile that it leads to, and the way back from there.
type Links = BTreeMap<usize, Vec<(u32, usize, Matrix)>>;

fn links(tiles: &[Tile], ends: &[End]) -> Links {
    let mut tile_of: BTreeMap<usize, usize> = BTreeMap::new();
    for (i, tile) in tiles.iter().enumerate() {
        tile_of.extend(tile.ends.iter().map(|end| (*end, i)));
    }
    let mut links = Links::new();
    for (one, two) in pairs(ends) {
        let (Some(&a), Some(&b)) = (tile_of.get(&one), tile_of.get(&two)) else {
            continue;
        };
        let Some((way, _)) = joins::way(&ends[one], &ends[two]) else { continue };
        let Some(back) = way.inverse().filter(|_| a != b) else { continue };
        links.entry(a).or_default().push((ends[one].join, b, way));
        links.entry(b).or_default().push((ends[one].join, a, back));
    }
    links
}

/// Indices of the two ends of each join.
fn pairs(ends: &[End]) -> impl Iterator<Item = (usize, usize)> + '_ {
    let next = ends.iter().skip(1).enumerate();
    let same = |one: &End, two: &End| (one.join, one.pair) == (two.join, two.pair);
    next.filter(move |(i, two)| same(&ends[*i], two)).map(|(i, _)| (i, i + 1))
}

/// Joins whose two crosses do not meet at once.
fn by_pairs(ends: &[End]) -> impl Iterator<Item = Miss> + '_ {
    pairs(ends).filter_map(|(one, two)| {
        let (one, two) = (&ends[one], &ends[two]);
        let (_, miss) = joins::way(one, two)?;
        Some((one.join, one.sheet, two.sheet, miss))
    })
}

impl Piece {
    /// Every mark with its tile's index and its way to the first tile.
    pub(super) fn forms<'a>(
        &'a self,
        strap: &'a Strap,
        sheets: &'a [Sheet],
    ) -> impl Iterator<Item = (usize, Matrix, &'a Form)> + 'a {
        self.tiles.iter().flat_map(move |&(index, way)| {
            let tile = &strap.tiles[index];
            let forms = tile.forms.iter().map(|f| &sheets[tile.sheet].forms[*f]);
            forms.map(move |form| (index, way, form))
        })
    }

    /// Every numeral of its rulers, in the same way.
    pub(super) fn numerals<'a>(
        &'a self,
        strap: &'a Strap,
        sheets: &'a [Sheet],
    ) -> impl Iterator<Item = (usize, Matrix, &'a Numeral)> + 'a {
        self.tiles.iter().flat_map(move |&(index, way)| {
            let tile = &strap.tiles[index];
            let own = tile.numerals.iter().map(|n| &sheets[tile.sheet].numerals[*n]);
            own.map(move |numeral| (index, way, numeral))
        })
    }

    /// Every label on it, in the same way.
    pub(super) fn labels<'a>(
        &'a self,
        strap: &'a Strap,
        sheets: &'a [Sheet],
    ) -> impl Iterator<Item = (usize, Matrix, &'a Label)> + 'a {
        self.tiles.iter().flat_map(move |&(index, way)| {
            let tile = &strap.tiles[index];
            let own = tile.labels.iter().map(|l| &sheets[tile.sheet].labels[*l]);
            own.map(move |label| (index, way, label))
        })
    }
}
