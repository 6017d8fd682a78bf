//! Every sample job as a file, and the file's numbers and words held against the layout:
//! what lopdf reads, not what this program meant to write.

use crate::common::pdf::{Closed, Page, Shown, pages};
use crate::common::strokes::{cross_at, end_at, upright_at};
use crate::common::{far, laid, mm, printed, samples};
use std::collections::BTreeMap;
use strapwright::export::pdf::pdf;
use strapwright::geom::{Extent, Point, Sheet as OnSheet};
use strapwright::layout::{Layout, Mark, Shape};
use strapwright::paginate::{Sheet, SheetSet, Tile};

/// What is asked of every number, in mm.
const WITHIN: f64 = 0.001;
/// From a match line to the name of its join, at most, in mm.
const BESIDE: f64 = 8.0;

/// A sample on a paper: what was asked for, and what the file says.
struct Guide {
    name: String,
    paper: &'static str,
    layout: Layout,
    set: SheetSet,
    pages: Vec<Page>,
}

fn samples() -> Vec<Guide> {
    let mut all = Vec::new();
    for (name, text) in samples::jobs() {
        for paper in ["a4", "letter"] {
            let laid = laid(&text, &[]);
            let set = printed(&laid, paper);
            let pages = pages(&pdf(&set).unwrap());
            assert_eq!(pages.len(), set.sheets.len(), "{name} on {paper}");
            all.push(Guide { name: name.clone(), paper, layout: laid.2, set, pages });
        }
    }
    all
}

/// What a mark must be in the file: middle and size in mm, and whether it is a ring.
#[derive(Debug)]
struct Wanted {
    centre: (f64, f64),
    size: (f64, f64),
    is_ring: bool,
}

/// The marks with a form that are whole on a tile of `sheet`.
fn wanted(layout: &Layout, sheet: &Sheet) -> Vec<Wanted> {
    let mut all = Vec::new();
    for tile in &sheet.tiles {
        let marks = &layout.pieces[tile.piece].marks;
        let whole = |m: &&Mark| tile.stretch.holds(m.x_extent());
        for mark in marks.iter().filter(whole) {
            let (size, is_ring) = match mark.shape {
                Shape::Round { diameter } => ((mm(diameter), mm(diameter)), true),
                Shape::Slot { length, width } => ((mm(length), mm(width)), false),
                Shape::Across | Shape::Point => continue,
            };
            let at = tile.placement.apply(mark.at);
            all.push(Wanted { centre: (mm(at.x), mm(at.y)), size, is_ring });
        }
    }
    all
}

#[test]
fn marks_are_where_the_layout_has_them() {
    let (mut all_rings, mut all_slots) = (0, 0);
    for drawn in samples() {
        let about = format!("{} on {}", drawn.name, drawn.paper);
        let (mut rings, mut slots) = (0, 0);
        for (sheet, page) in drawn.set.sheets.iter().zip(&drawn.pages) {
            let wanted = wanted(&drawn.layout, sheet);
            for is_ring in [true, false] {
                let asked = wanted.iter().filter(|w| w.is_ring == is_ring).count();
                let there = page.closed.iter().filter(|c| c.is_ring == is_ring).count();
                assert_eq!(there, asked, "{about}, sheet {}: {is_ring}", sheet.number);
                *if is_ring { &mut rings } else { &mut slots } += there;
            }
            let mut left: Vec<Closed> = page.closed.clone();
            for mark in &wanted {
                // Each outline of the file serves one mark only.
                let (nearest, _) = left
                    .iter()
                    .enumerate()
                    .filter(|(_, c)| c.is_ring == mark.is_ring)
                    .min_by(|(_, a), (_, b)| {
                        far(a.centre(), mark.centre)
                            .total_cmp(&far(b.centre(), mark.centre))
                    })
                    .expect("as many as are asked for");
                let found = left.swap_remove(nearest);
                let (centre, size) = (found.centre(), found.size());
                for (what, error) in [
                    ("x", centre.0 - mark.centre.0),
                    ("y", centre.1 - mark.centre.1),
                    ("length", size.0 - mark.size.0),
                    ("width", size.1 - mark.size.1),
                ] {
                    assert!(
                        error.abs() < WITHIN,
                        "{about}: {mark:?} is {error:.5} mm off in {what}: {found:?}"
                    );
                }
            }
        }
        let marks = drawn.layout.pieces.iter().flat_map(|p| &p.marks);
        let forms = marks.filter(|m| m.path().is_some()).count();
        assert!(rings + slots >= forms, "{about}: every mark is somewhere");
        assert!(rings > 0, "{about}: {rings} rings");
        all_rings += rings;
        all_slots += slots;
    }
    assert!(all_rings > 300 && all_slots > 50, "{all_rings} rings, {all_slots} slots");
}

#[test]
fn pages_have_the_size_of_the_paper() {
    for drawn in samples() {
        let sides = if drawn.paper == "a4" { (297.0, 210.0) } else { (279.4, 215.9) };
        for page in &drawn.pages {
            let (long, short) =
                (page.size.0.max(page.size.1), page.size.0.min(page.size.1));
            let off = (long - sides.0).abs().max((short - sides.1).abs());
            assert!(off < WITHIN, "{} on {}: {:?}", drawn.name, drawn.paper, page.size);
        }
    }
}

/// The name of each join stands between its two crosses, on both of its tiles.
#[test]
fn each_join_is_named_between_its_crosses_on_both_tiles() {
    let mut joins = 0;
    for drawn in samples() {
        let about = format!("{} on {}", drawn.name, drawn.paper);
        joins += drawn.set.joins.len();
        let mut names: BTreeMap<String, usize> = BTreeMap::new();
        for (sheet, page) in drawn.set.sheets.iter().zip(&drawn.pages) {
            for cross in sheet.tiles.iter().flat_map(|t| &t.crosses) {
                let Some(name) = cross.label.strip_suffix(" a") else { continue };
                *names.entry(name.to_owned()).or_default() += 1;
                let at = (mm(cross.at.x), mm(cross.at.y));
                let is_named = |s: &&Shown| {
                    let is_name = s.text == name || s.text == format!("JOIN {name}");
                    is_name && (s.at.0 - at.0).abs() < BESIDE && s.at.1 < at.1
                };
                let near = page.shown.iter().filter(is_named).count();
                assert!(near >= 1, "{about}: {name} at {at:?}");
            }
        }
        assert_eq!(names.len(), drawn.set.joins.len(), "{about}: {names:?}");
        assert!(names.values().all(|tiles| *tiles == 2), "{about}: {names:?}");
    }
    assert!(joins > 0, "the samples have joins");
}

/// Crosses of joins, lines A and B, both bars and the corner marks.
#[test]
fn guides_are_where_the_set_has_them() {
    for drawn in samples() {
        let about = format!("{} on {}", drawn.name, drawn.paper);
        let hold = |what: &str, found: (f64, f64), at: Point<OnSheet>| {
            let off = far(found, (mm(at.x), mm(at.y)));
            assert!(off < WITHIN, "{about}: {what} is {off:.5} mm off {at:?}");
        };
        let mut ends = 0;
        for (sheet, page) in drawn.set.sheets.iter().zip(&drawn.pages) {
            let place = |at: Point<OnSheet>| (mm(at.x), mm(at.y));
            for cross in sheet.tiles.iter().flat_map(|t| &t.crosses) {
                hold(&cross.label, cross_at(page, place(cross.at)), cross.at);
            }
            let own = |t: &&Tile, x| t.stretch.holds(Extent { from: x, to: x });
            for check in &drawn.set.checks {
                let [a, b] = &check.labels;
                let of_piece = || sheet.tiles.iter().filter(|t| t.piece == check.piece);
                for (at, label) in [(check.from, a), (check.to, b)] {
                    for tile in of_piece().filter(|t| own(t, at.x)) {
                        let at = tile.placement.apply(at);
                        hold(label, upright_at(page, place(at)), at);
                        // The foot has an A of its own.
                        let near = |s: &&Shown| far(s.at, place(at)) < BESIDE;
                        let own = page.shown.iter().filter(|s| &s.text == label);
                        let label = own.filter(near).count();
                        assert_eq!(label, 1, "{about}");
                        ends += 1;
                    }
                }
            }
            let bars = sheet.bars.iter().flat_map(|b| [b.from, b.to]);
            for at in bars.chain(drawn.set.corners_on(sheet)) {
                hold("a bar or a corner", end_at(page, place(at)), at);
            }
        }
        let tiles = |piece| {
            let all = drawn.set.sheets.iter().flat_map(|s| &s.tiles);
            all.filter(|t| t.piece == piece).count()
        };
        let joined = (0..drawn.layout.pieces.len()).filter(|p| tiles(*p) > 1).count();
        assert_eq!(drawn.set.checks.len(), joined, "{about}: one check a joined piece");
        assert_eq!(ends, 2 * joined, "{about}: A and B once each");
    }
}

#[test]
fn every_sheet_says_what_it_is() {
    for drawn in samples() {
        let sheets = drawn.set.sheets.len();
        for (i, page) in drawn.pages.iter().enumerate() {
            let shown: Vec<&str> = page.shown.iter().map(|s| s.text.as_str()).collect();
            let number = format!("SHEET {} of {sheets}", i + 1);
            assert!(!drawn.set.wearer.is_empty() && !drawn.set.title.is_empty());
            for words in [
                drawn.set.title.as_str(),
                drawn.set.wearer.as_str(),
                number.as_str(),
                "100 %",
                drawn.set.fingerprint.as_str(),
            ] {
                assert!(
                    shown.iter().any(|s| s.contains(words)),
                    "{} on {}: no `{words}` in {shown:?}",
                    drawn.name,
                    drawn.paper
                );
            }
        }
    }
}
