//! Laws that hold for every belt on every paper: nothing is lost at a join, nothing is
//! off the page, and the same job is the same file.

use crate::common::ink::places;
use crate::common::{cases, laid, mm, printed};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::thread;
use strapwright::export::pdf::pdf;
use strapwright::geom::{Length, QuarterTurn};
use strapwright::layout::{Layout, Piece};
use strapwright::lettering;
use strapwright::paginate::{Anchor, Item, Sheet, SheetSet, TickRow, Tile};
use strapwright::template::DEMO_JOB;
use strapwright::verify::exact;

const PAPERS: [&str; 7] = ["a4", "a3", "letter", "legal", "tabloid", "roll", "250x400mm"];

const SHAPES: [&str; 4] = ["english-point", "round", "spear", "bridle-point"];

/// A belt as a person might ask for it, and some that nobody would. Lengths in tenths of
/// a millimetre.
fn job() -> impl Strategy<Value = String> {
    let shape = proptest::sample::select(&SHAPES[..]);
    let belt = (150..=600_u32, 5_000..=15_000_u32, 0..=6_u32, 0..=6_u32, 0..=12_u32);
    (belt, shape).prop_map(|((width, measure, inside, outside, fittings), shape)| {
        let mm = |tenths: u32| format!("{}.{} mm", tenths / 10, tenths % 10);
        format!(
            "template = \"belt\"\ntitle = \"Belt of the {shape}\"\nwearer = \"Ada\"\n\
                 [measure]\nvalue = \"{}\"\n[strap]\nwidth = \"{}\"\n\
                 [size-holes]\ninside = {inside}\noutside = {outside}\n\
                 [fittings]\ncount = {fittings}\n[tip]\nshape = \"{shape}\"\n",
            mm(measure),
            mm(width),
        )
    })
}

/// Tiles, marks and crosses.
fn nothing_is_lost(layout: &Layout, set: &SheetSet) -> Result<(), TestCaseError> {
    let mut ends: BTreeMap<&str, usize> = BTreeMap::new();
    for cross in set.sheets.iter().flat_map(|s| &s.tiles).flat_map(|t| &t.crosses) {
        *ends.entry(&cross.label).or_default() += 1;
    }
    prop_assert_eq!(ends.len(), 2 * set.joins.len());
    prop_assert!(ends.values().all(|n| *n == 2), "{ends:?}");
    for (index, piece) in layout.pieces.iter().enumerate() {
        nothing_of_it_is_lost(index, piece, set)?;
    }
    Ok(())
}

fn nothing_of_it_is_lost(
    index: usize,
    piece: &Piece,
    set: &SheetSet,
) -> Result<(), TestCaseError> {
    let all = set.sheets.iter().flat_map(|s| &s.tiles);
    let mut tiles: Vec<&Tile> = all.filter(|t| t.piece == index).collect();
    // A sheet may have any of them.
    tiles.sort_by_key(|t| t.stretch);
    let joins: Vec<(usize, Length)> = set
        .joins
        .iter()
        .enumerate()
        .filter(|(_, (piece, _))| *piece == index)
        .map(|(i, (_, line))| (i + 1, *line))
        .collect();
    for mark in piece.marks.iter().filter(|m| m.is_punched()) {
        let whole = tiles.iter().any(|t| t.stretch.holds(mark.x_extent()));
        prop_assert!(whole, "no tile has all of {mark:?}");
    }
    prop_assert!(tiles[0].stretch.from <= piece.extent.from);
    prop_assert!(tiles[tiles.len() - 1].stretch.to >= piece.extent.to);
    prop_assert_eq!(tiles.len(), joins.len() + 1);
    let is_joined = |p: &usize| set.joins.iter().any(|(piece, _)| piece == p);
    let before_it = (0..index).filter(is_joined).count();
    for (pair, (number, line)) in tiles.windows(2).zip(joins) {
        let (before, after) = (pair[0].stretch, pair[1].stretch);
        prop_assert!(after.from < line && line < before.to, "a gap at join {number}");
        let shared = before.to - after.from;
        prop_assert!(shared >= Length::from_mm(16), "{shared} at join {number}");
        for side in ["a", "b"] {
            // The strips of the pieces before it have the numbers before its own.
            let label =
                format!("{} + {} {side}", number + before_it, number + before_it + 1);
            let of = |t: &Tile| {
                let mut found = t.crosses.iter().filter(|c| c.label == label);
                found.next().map(|c| (c.on_strap, t.placement.invert(c.at)))
            };
            let (one, other) = (of(pair[0]), of(pair[1]));
            prop_assert!(one.is_some() && one == other, "{label}: {one:?} {other:?}");
            let (on_strap, back) = one.unwrap();
            prop_assert_eq!(on_strap, back);
            prop_assert_eq!(on_strap.x, line);
        }
    }
    Ok(())
}

/// Places that an item reaches, in mm.
fn reach(item: &Item) -> Vec<(f64, f64)> {
    match item {
        Item::Stroke { paths, .. } | Item::Fill { paths, .. } => {
            paths.iter().flat_map(places).collect()
        }
        Item::TickRows { tick_rows, .. } => {
            let corners = tick_rows.iter().flat_map(TickRow::corners);
            corners.map(|p| (mm(p.x), mm(p.y))).collect()
        }
        Item::Text { at, anchor, turn, size, text, .. } => {
            let (long, high) = (mm(lettering::width(text, *size)), mm(*size));
            let from = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => -long / 2.0,
                Anchor::End => -long,
            };
            // Letters hang about a quarter of their size below the line.
            let corners = [(from, -high / 4.0), (from + long, high * 3.0 / 4.0)];
            let (x, y) = (mm(at.x), mm(at.y));
            corners
                .map(|(along, up)| match turn {
                    QuarterTurn::None => (x + along, y + up),
                    QuarterTurn::Left => (x - up, y + along),
                })
                .to_vec()
        }
    }
}

/// A common printer leaves 5 mm at the edges white.
fn nothing_is_off_the_page(sheet: &Sheet) -> Result<(), TestCaseError> {
    let edge = 5.0;
    let (wide, high) = (mm(sheet.width) - edge, mm(sheet.height) - edge);
    for item in &sheet.items {
        for (x, y) in reach(item) {
            let inside = (edge..=wide).contains(&x) && (edge..=high).contains(&y);
            prop_assert!(inside, "sheet {}: {item:?} at {x} {y}", sheet.number);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(48))]

    #[test]
    fn every_belt_is_all_there(
        text in job(),
        papers in proptest::sample::subsequence(&PAPERS[..], 3),
    ) {
        let belt = laid(&text, &[]);
        for paper in papers {
            let set = printed(&belt, paper);
            nothing_is_lost(&belt.2, &set)?;
            for sheet in &set.sheets {
                prop_assert!(!sheet.items.is_empty());
                nothing_is_off_the_page(sheet)?;
            }
        }
    }
}

proptest! {
    #![proptest_config(cases(96))]

    #[test]
    fn every_belt_reads_back(text in job(), paper in proptest::sample::select(&PAPERS[..])) {
        let belt = laid(&text, &[]);
        let set = printed(&belt, paper);
        let read = exact(&pdf(&set).unwrap(), &set, &belt.2, &[]).unwrap();
        prop_assert!(read.findings.is_empty(), "{paper}: {:?}", read.findings);
        prop_assert!(read.worst_mm < 0.001, "{paper}: {}", read.worst_mm);
    }
}

proptest! {
    #![proptest_config(cases(16))]

    #[test]
    fn different_jobs_have_different_fingerprints(one in job(), other in job()) {
        prop_assume!(one != other);
        let name = |text: &str| printed(&laid(text, &[]), "a4").fingerprint;
        prop_assert_ne!(name(&one), name(&other));
        prop_assert_eq!(name(&one), name(&one));
    }
}

#[test]
fn the_demo_is_the_same_bytes_every_time() {
    for paper in PAPERS {
        let bytes = move || pdf(&printed(&laid(DEMO_JOB, &[]), paper)).unwrap();
        let first = bytes();
        assert!(first.starts_with(b"%PDF-"), "{paper}");
        assert!(first == bytes(), "{paper}: two runs, two files");
        assert!(first == thread::spawn(bytes).join().unwrap(), "{paper}: by thread");
    }
}

#[test]
fn every_change_and_every_paper_has_its_own_fingerprint() {
    let mut names = BTreeSet::new();
    for paper in PAPERS {
        let set = printed(&laid(DEMO_JOB, &[]), paper);
        assert!(names.insert(set.fingerprint), "{paper}");
    }
    for change in [
        "title=Another",
        "wearer=Another",
        "strap.width=38.100001 mm",
        "strap.thickness=3.6 mm",
        "measure.value=34 1/64 in",
        "buckle.bar=4.1 mm",
        "measure.taken=tape",
        "size-holes.inside=2",
        "size-holes.diameter=4.9 mm",
        "size-holes.shape=oval",
        "fittings.count=5",
        "turn-back.slot-length=24 mm",
        "tip.shape=round",
    ] {
        let set = printed(&laid(DEMO_JOB, &[change]), "a4");
        assert!(names.insert(set.fingerprint), "{change}");
    }
}
