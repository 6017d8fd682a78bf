//! Which lines, crosses and marks of a sheet are one tile of a piece.
//!
//! The parts of an outline that touch are of one tile, and so are those that the straight
//! way between the two crosses of an end runs through, or the match line on that way: across
//! a strip it meets both edges, and where a piece is tiled both ways match lines meet at the
//! corners.

use super::super::read::plane::{Bounds, Spot};
use super::super::sheet::Sheet;
use super::joins::End;

/// Parts of an outline meet.
const MEET: f64 = 0.1;
/// From a lone cross to the outline, at most.
const LONE: f64 = 8.0;
/// From a mark in an overlap to the outlines and match lines of its tile, at most.
const BEYOND: f64 = 15.0;
/// From the foot of a ruler's tick to the outlines and match lines of its tile, at most.
const RULER: f64 = 3.0;
/// More parts of outlines than this are on no sheet.
pub(in crate::verify) const MOST_FRAMES: usize = 4_000;

/// One stretch of a piece on one sheet.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Tile {
    /// Index of its sheet.
    pub(in crate::verify) sheet: usize,
    /// Indices into the sheet's frames.
    pub(in crate::verify) frames: Vec<usize>,
    /// Indices of its ends.
    pub(in crate::verify) ends: Vec<usize>,
    /// Indices into the sheet's forms.
    pub(in crate::verify) forms: Vec<usize>,
    /// Indices into the numerals of the sheet's rulers.
    pub(in crate::verify) numerals: Vec<usize>,
    /// Indices into the sheet's labels.
    pub(in crate::verify) labels: Vec<usize>,
    /// Of its frames.
    pub(in crate::verify) bounds: Bounds,
    /// Of its frames and crosses.
    reach: Bounds,
}

/// The tiles of the sheet of this index, and the forms that lie on none.
pub(super) fn tiles(
    index: usize,
    sheet: &Sheet,
    ends: &[End],
) -> (Vec<Tile>, Vec<usize>) {
    let frames = sheet
        .frames
        .iter()
        .take(MOST_FRAMES)
        .map(|f| Bounds::of([0.0, 0.5, 1.0].map(|part| f.step.at(f.from, part))));
    let mut parts: Vec<Bounds> = frames.collect();
    let count = parts.len();
    let here = (0..ends.len()).filter(|e| ends[*e].sheet == index);
    let (own, lone): (Vec<usize>, Vec<usize>) =
        here.partition(|e| ends[*e].crosses.len() > 1);
    let across = |end: usize| Bounds::of(ends[end].crosses.values().copied());
    let match_lines = |end: usize| {
        let mut bounds = across(end);
        for (from, to) in on_way(&ends[end], sheet) {
            bounds.join(Bounds::of([from, to]));
        }
        bounds
    };
    parts.extend(own.iter().map(|end| match_lines(*end)));
    let groups = grouped(&parts);
    let mut tiles: Vec<Tile> = Vec::new();
    let mut tile_of: Vec<Option<usize>> = vec![None; parts.len()];
    for (part, group) in groups.iter().enumerate() {
        let tile = *tile_of[*group].get_or_insert_with(|| {
            tiles.push(Tile {
                sheet: index,
                frames: Vec::new(),
                ends: Vec::new(),
                forms: Vec::new(),
                numerals: Vec::new(),
                labels: Vec::new(),
                bounds: Bounds::NONE,
                reach: Bounds::NONE,
            });
            tiles.len() - 1
        });
        tiles[tile].reach.join(parts[part]);
        if part < count {
            tiles[tile].frames.push(part);
            tiles[tile].bounds.join(parts[part]);
        } else {
            tiles[tile].ends.push(own[part - count]);
        }
    }
    for tile in &mut tiles {
        if !tile.bounds.is_some() {
            tile.bounds = tile.reach;
        }
    }
    // A cross that has lost its other one is of the tile whose outline is near.
    for end in lone {
        let near = |t: &Tile| t.bounds.distance(across(end).low);
        let nearest = tiles.iter_mut().min_by(|a, b| near(a).total_cmp(&near(b)));
        if let Some(tile) = nearest.filter(|t| near(t) < LONE) {
            tile.ends.push(end);
        }
    }
    let mut tiles = merged(tiles);
    let mut stray = Vec::new();
    for (i, form) in sheet.forms.iter().enumerate() {
        let near = |t: &Tile| t.reach.distance(form.centre);
        let nearest = tiles
            .iter_mut()
            .min_by(|a, b| near(a).total_cmp(&near(b)).then(area(a).total_cmp(&area(b))));
        match nearest.filter(|t| near(t) < BEYOND) {
            Some(tile) => tile.forms.push(i),
            None => stray.push(i),
        }
    }
    read_beside(&mut tiles, sheet);
    (tiles, stray)
}

/// Gives each tile the numerals of its rulers and the labels that stand on it.
fn read_beside(tiles: &mut [Tile], sheet: &Sheet) {
    for (i, numeral) in sheet.numerals.iter().enumerate() {
        // A ruler's numerals look away from its strip.
        let is_side =
            |t: &&mut Tile| (numeral.at.y > t.bounds.middle().y) == numeral.above;
        let near = |t: &Tile| t.reach.distance(numeral.at);
        let own = tiles.iter_mut().filter(is_side);
        let nearest = own.min_by(|a, b| near(a).total_cmp(&near(b)));
        if let Some(tile) = nearest.filter(|t| near(t) < RULER) {
            tile.numerals.push(i);
        }
    }
    for (i, label) in sheet.labels.iter().enumerate() {
        let near = |t: &Tile| t.bounds.distance(label.middle());
        let nearest = tiles
            .iter_mut()
            .min_by(|a, b| near(a).total_cmp(&near(b)).then(area(a).total_cmp(&area(b))));
        if let Some(tile) = nearest.filter(|t| near(t) < MEET) {
            tile.labels.push(i);
        }
    }
}

/// The lines that lie on the straight way between the crosses of an end, or that hold it.
fn on_way<'a>(end: &End, sheet: &'a Sheet) -> impl Iterator<Item = (Spot, Spot)> + 'a {
    let mut crosses = end.crosses.values().copied();
    let first = crosses.next().unwrap_or_default();
    let way = crosses.next_back().unwrap_or(first) - first;
    let (long, along) = (way.norm(), way.unit());
    sheet.straight.iter().copied().filter(move |(from, to)| {
        let Some(along) = along else { return false };
        let aside = |p: Spot| along.cross(p - first).abs();
        let (a, b) = ((*from - first).dot(along), (*to - first).dot(along));
        aside(*from).max(aside(*to)) < MEET && a.min(b) < long && a.max(b) > 0.0
    })
}

fn area(tile: &Tile) -> f64 {
    let Spot { x, y } = tile.reach.size();
    x * y
}

/// For each part the first part of its group.
fn grouped(parts: &[Bounds]) -> Vec<usize> {
    let mut up: Vec<usize> = (0..parts.len()).collect();
    let mut order = up.clone();
    order.sort_by(|a, b| parts[*a].low.x.total_cmp(&parts[*b].low.x));
    let root = |up: &[usize], mut i: usize| {
        while up[i] != i {
            i = up[i];
        }
        i
    };
    for (k, &i) in order.iter().enumerate() {
        for &j in &order[k + 1..] {
            if parts[j].low.x > parts[i].high.x + MEET {
                break;
            }
            if parts[i].touches(parts[j], MEET) {
                let (a, b) = (root(&up, i), root(&up, j));
                up[a.max(b)] = a.min(b);
            }
        }
    }
    (0..parts.len()).map(|i| root(&up, i)).collect()
}

/// What lies wholly within another tile is a part of it.
fn merged(mut tiles: Vec<Tile>) -> Vec<Tile> {
    tiles.sort_by(|a, b| area(b).total_cmp(&area(a)));
    let mut kept: Vec<Tile> = Vec::new();
    for tile in tiles {
        let around = kept.iter_mut().find(|k| {
            let (inner, outer) = (tile.bounds, k.bounds);
            inner.low.x >= outer.low.x - MEET
                && inner.low.y >= outer.low.y - MEET
                && inner.high.x <= outer.high.x + MEET
                && inner.high.y <= outer.high.y + MEET
        });
        match around {
            Some(outer) => {
                outer.frames.extend(tile.frames);
                outer.ends.extend(tile.ends);
            }
            None => kept.push(tile),
        }
    }
    kept
}
