//! Rules over all sheets of a print: every point of every piece is on one, and the tiles can be
//! joined.

use super::{ROUNDING, error};
use crate::diagnostic::Finding;
use crate::geom::{Extent, Length, Point, Strap};
use crate::layout::{Layout, Mark};
use crate::paginate::{Sheet, SheetSet, Tile};
use crate::verify::rule;
use std::collections::BTreeMap;

/// A cross: its sheet, its tile and its place on the strap.
type PlacedCross<'a> = (&'a Sheet, &'a Tile, Point<Strap>);

/// Every point of every piece lies on a tile; every mark lies whole on one.
pub(super) fn coverage(set: &SheetSet, layout: &Layout) -> Vec<Finding> {
    let mut findings = Vec::new();
    let tiles = || set.sheets.iter().chain(&set.left_out).flat_map(|s| &s.tiles);
    for (index, piece) in layout.pieces.iter().enumerate() {
        let own: Vec<&Tile> = tiles().filter(|t| t.piece == index).collect();
        let mut ends: Vec<Length> = own.iter().map(|t| t.stretch.from).collect();
        ends.push(piece.extent.from);
        ends.extend(own.iter().map(|t| t.stretch.to));
        ends.retain(|x| piece.extent.has(*x));
        ends.push(piece.extent.to);
        ends.sort_unstable();
        ends.dedup();
        let is_covered = |pair: &[Length]| {
            let part = Extent { from: pair[0], to: pair[1] };
            let Some(edges) = piece.edges(part) else { return false };
            let beside = own.iter().filter(|t| t.stretch.holds(part));
            let mut bands: Vec<Extent> = beside.map(|t| t.across).collect();
            bands.sort_unstable();
            let reached = bands.iter().fold(edges.from, |reached, band| {
                if band.from <= reached { reached.max(band.to) } else { reached }
            });
            reached >= edges.to
        };
        let gap = ends.windows(2).find(|pair| !is_covered(pair));
        if let Some([from, to]) = gap {
            findings.push(
                Finding::error(
                    rule::PIECE_MISSING,
                    format!("a part of `{}` is on no sheet", piece.name),
                )
                .expected(format!("no tile from {from} to {to}"), "tiles over all of it"),
            );
        }
        let is_lost = |mark: &&Mark| {
            mark.path().is_some() && !own.iter().any(|tile| tile.holds(mark))
        };
        if let Some(mark) = piece.marks.iter().find(is_lost) {
            let found = format!("none at x {} of `{}`", mark.at.x, piece.name);
            findings.push(
                Finding::error(rule::MARK_MISSING, "a mark lies whole on no sheet")
                    .at(mark.span.clone())
                    .expected(found, "all of it on one tile"),
            );
        }
    }
    findings
}

/// The lines of a long check are as far apart as it says, and each stands on a tile.
pub(super) fn checks(set: &SheetSet) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in &set.checks {
        let [a, b] = &check.labels;
        let apart = (check.to - check.from).norm();
        if (apart - check.length).abs() > ROUNDING {
            let message = format!("lines {a} and {b} are not as far apart as is said");
            findings.push(
                Finding::error(rule::CROSS_ODD, message)
                    .expected(apart.both(), check.length.both()),
            );
        }
        let sheets = set.sheets.iter().chain(&set.left_out);
        let own: Vec<&Tile> =
            sheets.flat_map(|s| &s.tiles).filter(|t| t.piece == check.piece).collect();
        for (label, at) in check.labels.iter().zip([check.from, check.to]) {
            let shows = |t: &&Tile| t.shows(at);
            if !own.iter().any(shows) {
                let message = format!("line {label} is on no sheet");
                let found = format!("none at x {}, y {}", at.x, at.y);
                findings.push(
                    Finding::error(rule::CROSS_ODD, message)
                        .expected(found, "a line near each end of the piece"),
                );
            }
        }
    }
    findings
}

/// Crosses of one name are one place on the strap, and stand on the two tiles of a join.
pub(super) fn crosses(set: &SheetSet, layout: &Layout) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut named: BTreeMap<&str, Vec<PlacedCross<'_>>> = BTreeMap::new();
    for sheet in &set.sheets {
        for tile in &sheet.tiles {
            for cross in &tile.crosses {
                let entry = named.entry(&cross.label).or_default();
                entry.push((sheet, tile, cross.on_strap));
            }
        }
    }
    let is_whole = set.left_out.is_empty() && set.reused.is_empty();
    for (label, all) in &named {
        let first = all[0];
        let same =
            all.iter().all(|(_, t, at)| t.piece == first.1.piece && *at == first.2);
        if !same || all.len() > 2 || is_whole && all.len() < 2 {
            findings.push(error(
                rule::CROSS_ODD,
                first.0.number,
                &format!("cross {label} does not stand on two tiles at one place"),
                format!("{} of that name", all.len()),
                "2, at the same place of one piece".to_owned(),
            ));
        }
    }
    if !is_whole {
        return findings;
    }
    // Tiles that share an edge of a piece share two crosses.
    for (index, piece) in layout.pieces.iter().enumerate() {
        let tiles = set.sheets.iter().flat_map(|s| s.tiles.iter().map(move |t| (s, t)));
        let own: Vec<(&Sheet, &Tile)> = tiles.filter(|(_, t)| t.piece == index).collect();
        for (sheet, tile) in &own {
            let before = piece.extent.from < tile.stretch.from;
            let after = tile.stretch.to < piece.extent.to;
            let joins = usize::from(before) + usize::from(after);
            if tile.crosses.len() < joins * 2 {
                findings.push(error(
                    rule::CROSS_ODD,
                    sheet.number,
                    &format!("a tile of `{}` cannot be joined", piece.name),
                    format!("{} crosses", tile.crosses.len()),
                    format!("{}, two a join", joins * 2),
                ));
            }
        }
    }
    findings
}
