//! What the sheets show, held against the layout.

mod anchor;
mod fit;
mod marks;
mod outline;
mod printed;
mod says;
mod wanted;

use super::read::plane::{Matrix, Spot};
use super::report::FoundMark;
use super::sheet::Sheet;
use super::strap::{Strap, assemble};
use crate::diagnostic::Finding;
use crate::layout::Layout;
use crate::words::Wording;
use fit::Fit;
use marks::{Matched, Pair};
use std::collections::BTreeMap;
use wanted::WantedPiece;

/// What a mark may be off, in mm: far above what a file's numbers are rounded to, far
/// below what a hand sees.
pub(super) const TOLERANCE: f64 = 0.02;

/// What came of it.
#[derive(Debug)]
pub(super) struct Held {
    pub(super) findings: Vec<Finding>,
    pub(super) marks: Vec<FoundMark>,
    pub(super) strap: Strap,
}

/// Everything of one drawn piece.
struct Whole<'a> {
    fit: Fit,
    matched: Matched<'a>,
    /// What a tile is off as a whole.
    shifts: BTreeMap<usize, Spot>,
}

/// Holds `sheets` against `layout`. Sheets that their marks show to be stretched are put
/// to scale first. Unless `complete`, what no sheet shows is not missed.
pub(super) fn held(sheets: &mut [Sheet], layout: &Layout, complete: bool) -> Held {
    let pieces = wanted::pieces(layout);
    let strap = assemble(sheets);
    let stretched = stretched(&strap, sheets, &pieces);
    let strap = if stretched.is_empty() {
        strap
    } else {
        for (index, by) in stretched {
            let Spot { x, y } = sheets[index].scale;
            sheets[index].at_scale(Spot::new(x * by.x, y * by.y));
        }
        assemble(sheets)
    };
    let wholes: Vec<Whole<'_>> = fit::fits(&strap, sheets, &pieces, true)
        .into_iter()
        .map(|fit| whole(fit, &strap, sheets, &pieces))
        .collect();
    if let Some(other) = says::other_job(&wholes, &strap, sheets, &pieces, complete) {
        return Held { findings: vec![other], marks: Vec::new(), strap };
    }
    let mut findings = says::joins(&wholes, &strap, sheets);
    findings.extend(says::pieces(&wholes, &strap, sheets, &pieces, complete));
    let mut found = BTreeMap::new();
    for whole in &wholes {
        let target = &pieces[whole.fit.wanted];
        findings.extend(says::outline(whole, &strap, sheets, target, complete));
        findings.extend(says::marks(whole, &strap, sheets, target.layout));
        findings.extend(printed::held(whole, &strap, sheets, target));
        add_marks(&mut found, whole, &strap, sheets, target);
    }
    for (wanted, target) in pieces.iter().enumerate() {
        let own: Vec<&Whole<'_>> =
            wholes.iter().filter(|w| w.fit.wanted == wanted).collect();
        findings.extend(says::missing(&own, &strap, target, complete));
    }
    findings.extend(says::stray(&strap, sheets));
    Held { findings, marks: found.into_values().collect(), strap }
}

fn whole<'a>(
    fit: Fit,
    strap: &'a Strap,
    sheets: &'a [Sheet],
    pieces: &[WantedPiece<'a>],
) -> Whole<'a> {
    let matched = marks::matched(&fit, strap, sheets, &pieces[fit.wanted]);
    let tiles = &strap.pieces[fit.drawn].tiles;
    let mut shifts = BTreeMap::new();
    if tiles.len() > 1 {
        let mut offs: BTreeMap<usize, Vec<Spot>> = BTreeMap::new();
        for pair in &matched.pairs {
            offs.entry(pair.tile).or_default().push(pair.off());
        }
        for (tile, offs) in &offs {
            shifts.extend(marks::shift_of_tile(offs).map(|shift| (*tile, shift)));
        }
        // Where one tile is off, so are those joined to it; a lone mark cannot say so, but
        // with the rulers it can.
        let known: Vec<Spot> = shifts.values().copied().collect();
        let target = &pieces[fit.wanted];
        for (tile, _) in tiles {
            let own = offs.get(tile).map_or(&[][..], Vec::as_slice);
            let along = || {
                marks::shift_of_tile(&printed::offs(&fit, strap, sheets, target, *tile))
            };
            let shift = match own {
                [] => along(),
                [off] => {
                    let same = known.iter().copied().find(|s| s.far(*off) <= TOLERANCE);
                    let alike = |s: &Spot| (s.x - off.x).abs() <= TOLERANCE;
                    same.or_else(|| along().filter(alike).map(|s| Spot::new(s.x, off.y)))
                }
                _ => None,
            };
            shifts.extend(shift.map(|shift| (*tile, shift)));
        }
    }
    Whole { fit, matched, shifts }
}

impl Whole<'_> {
    /// How far a mark is from its place, once its tile is where it should be.
    fn off(&self, pair: &Pair<'_>) -> Spot {
        pair.off() - self.shift(pair.tile)
    }

    fn shift(&self, tile: usize) -> Spot {
        self.shifts.get(&tile).copied().unwrap_or_default()
    }
}

/// The sheets whose marks show a stretch, and by what.
fn stretched(
    strap: &Strap,
    sheets: &[Sheet],
    pieces: &[WantedPiece<'_>],
) -> Vec<(usize, Spot)> {
    let fits = fit::fits(strap, sheets, pieces, false);
    let matched: Vec<(Fit, Matched<'_>)> = fits
        .into_iter()
        .map(|fit| (fit, marks::matched(&fit, strap, sheets, &pieces[fit.wanted])))
        .collect();
    // Tile by tile: the next tile of a stretched sheet may already lie elsewhere.
    let mut best: Vec<Vec<(&Pair<'_>, Matrix)>> = vec![Vec::new(); sheets.len()];
    for (fit, matched) in &matched {
        let mut own: BTreeMap<usize, Vec<&Pair<'_>>> = BTreeMap::new();
        for pair in &matched.pairs {
            own.entry(pair.tile).or_default().push(pair);
        }
        for (tile, way) in &strap.pieces[fit.drawn].tiles {
            let own = own.remove(tile).unwrap_or_default();
            let best = &mut best[strap.tiles[*tile].sheet];
            if own.len() > best.len() {
                *best = own.into_iter().map(|p| (p, way.then(fit.way))).collect();
            }
        }
    }
    let stretch = |best: &Vec<_>| marks::stretch(best);
    let all = best.iter().map(stretch).enumerate();
    all.filter(|(_, by)| by.far(Spot::new(1.0, 1.0)) > 0.0).collect()
}

/// Adds the marks of a drawn piece as they were found, each once, where it is off most: by
/// the layout's piece, then along it.
fn add_marks(
    all: &mut BTreeMap<(usize, usize), FoundMark>,
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
) {
    for pair in &whole.matched.pairs {
        let off = whole.off(pair);
        let sheet = sheets[strap.tiles[pair.tile].sheet].title.number;
        let at = pair.wanted.at + off;
        let mark = pair.wanted.mark;
        let found = FoundMark {
            sheet,
            piece: target.piece.key(),
            feature: target.layout.feature(mark).to_string(),
            label: target.layout.label(mark, Wording::default()),
            kind: mark.kind.word().to_owned(),
            found_mm: [at.x, at.y],
            size_mm: [pair.size.x, pair.size.y],
            expected_mm: Some([pair.wanted.at.x, pair.wanted.at.y]),
            error_mm: Some(off.norm()),
        };
        let key = (whole.fit.wanted, pair.index);
        let known = all.entry(key).or_insert_with(|| found.clone());
        if known.error_mm < found.error_mm {
            *known = found;
        }
    }
}
