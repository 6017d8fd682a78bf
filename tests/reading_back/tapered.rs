//! Straps that change their width have tiles of unequal height: what is off on any of them is
//! found there too.

use super::drawn::{drawn, exactly};
use super::planted::{Open, PT, middle, moved, places, real, runs, tick_rows};
use crate::common::mm;
use crate::common::samples;
use lopdf::content::Operation;
use strapwright::geom::Point;
use strapwright::paginate::Tile;

/// What of a tile is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    /// All but its crosses, by which it is joined.
    All,
    /// Its rulers, numerals and ticks, with all other words.
    Rulers,
}

/// Whether a place of a page, in points, lies on a tile.
fn is_on(tile: &Tile, (x, y): (f64, f64)) -> bool {
    let [low, high] = [
        Point::new(tile.stretch.from, tile.across.from),
        Point::new(tile.stretch.to, tile.across.to),
    ]
    .map(|p| tile.placement.apply(p));
    let between = |low, at, high| mm(low) * PT - 0.01 < at && at < mm(high) * PT + 0.01;
    between(low.x, x, high.x) && between(low.y, y, high.y)
}

fn is_cross(tile: &Tile, (x, y): (f64, f64)) -> bool {
    let off = |at: Point<_>| (mm(at.x) * PT - x).abs() + (mm(at.y) * PT - y).abs();
    tile.crosses.iter().any(|c| off(c.at) < 0.1)
}

/// Moves a part of a tile by so many mm.
fn shift(all: &mut [Operation], tile: &Tile, part: Part, (x, y): (f64, f64)) {
    let runs = if part == Part::All { runs(all) } else { tick_rows(all) };
    for run in runs {
        let own = &mut all[run.range];
        if !is_cross(tile, middle(own)) && places(own).iter().all(|p| is_on(tile, *p)) {
            moved(own, |px, py| (px + x * PT, py + y * PT));
        }
    }
    for words in all.iter_mut().filter(|o| o.operator == "Tm") {
        let [.., px, py] = words.operands.as_mut_slice() else { unreachable!() };
        let at = [&*px, &*py].map(|n| f64::from(n.as_float().unwrap()));
        if is_on(tile, at.into()) {
            (*px, *py) = (real(at[0] + x * PT), real(at[1] + y * PT));
        }
    }
}

#[test]
fn what_is_off_on_a_tile_of_any_height_is_found() {
    let jobs = samples::jobs();
    let (mut tried, mut missed) = (0, Vec::new());
    for name in
        ["minstrel-guitar-strap", "timekeeper-watch-strap", "reporter-camera-strap"]
    {
        let (_, text) = jobs.iter().find(|(n, _)| n == name).unwrap();
        let drawn = drawn(name, text, "a4");
        for (page, sheet) in drawn.set.sheets.iter().enumerate() {
            for tile in &sheet.tiles {
                let mut find = |part, by| {
                    let mut file = Open::file(&drawn.bytes);
                    let drawn_by = |file: &Open| format!("{:?}", file.operations(page));
                    let before = drawn_by(&file);
                    file.edit(page, |all| shift(all, tile, part, by));
                    // A keeper has no ruler.
                    if drawn_by(&file) == before {
                        return;
                    }
                    tried += 1;
                    if exactly(&drawn, &file.bytes()).is_empty() {
                        let sheet = page + 1;
                        missed.push(format!("{name}, sheet {sheet}: {part:?} by {by:?}"));
                    }
                };
                find(Part::Rulers, (0.1, 0.0));
                find(Part::All, (0.1, 0.0));
                find(Part::All, (0.0, -0.1));
            }
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
    assert!(tried > 40, "only {tried} were tried");
}
