//! The findings, in the words of the bench.

use super::super::read::plane::{Bounds, Spot};
use super::super::report::{ANEW, at, error};
use super::super::sheet::Sheet;
use super::super::strap::{Piece, Strap};
use super::wanted::WantedPiece;
use super::{Pair, TOLERANCE, Whole, outline as line};
use crate::diagnostic::{Finding, Severity, numbered};
use crate::layout::{Layout, Mark};
use crate::verify::rule;
use crate::words::Wording;
use std::collections::BTreeSet;

/// What the knife cuts and no piece has is reported from this size on, in mm.
const SCRAP: f64 = 5.0;
/// What would do, where the file may be sound and another one was asked for.
const AS_DRAWN: &str = "say --size SIZE or --nested if the file was drawn so; else draw the \
                        job anew, and do not cut or punch by this file";
/// A slot's direction may be off by this slope.
const SLOPE: f64 = 2e-3;

/// What a person calls a mark.
pub(super) fn name(layout: &Layout, mark: &Mark) -> String {
    let label = layout.label(mark, Wording::default());
    let said = if label.is_empty() { mark.kind.word() } else { &label };
    format!("`{said}` of {}", layout.feature(mark))
}

pub(super) fn number(strap: &Strap, sheets: &[Sheet], tile: usize) -> usize {
    sheets[strap.tiles[tile].sheet].title.number
}

/// Sheets that are of another job, if most marks are: then each of them is no news.
pub(super) fn other_job(
    wholes: &[Whole<'_>],
    strap: &Strap,
    sheets: &[Sheet],
    targets: &[WantedPiece<'_>],
    complete: bool,
) -> Option<Finding> {
    let wanted: usize = targets.iter().map(|t| t.marks.len()).sum();
    let extra: usize = wholes.iter().map(|w| w.matched.extra.len()).sum();
    let fitting: BTreeSet<(usize, usize)> = wholes
        .iter()
        .flat_map(|w| w.matched.pairs.iter().map(|p| (w.fit.wanted, p.index)))
        .collect();
    // Where no mark is read at all, something else is wrong.
    if sheets.iter().all(|s| s.forms.is_empty()) {
        return None;
    }
    // Of a part of the sheets no more can be asked than that what they show is right.
    let lost = |(index, piece): (usize, &Piece)| {
        let is_lost = !wholes.iter().any(|w| w.fit.drawn == index);
        if is_lost { piece.forms(strap, sheets).count() } else { 0 }
    };
    let (wanted, extra) = if complete {
        (wanted, extra)
    } else {
        (fitting.len(), extra + strap.pieces.iter().enumerate().map(lost).sum::<usize>())
    };
    (fitting.len() * 2 < wanted + extra).then(|| {
        error(rule::OTHER_JOB, "the sheets are not those of this job".to_owned())
            .expected(
                format!(
                    "{} marks at their places, {extra} that are none of its",
                    fitting.len()
                ),
                if complete {
                    format!("the {wanted} marks of the job")
                } else {
                    "the marks of the job along the same stretches".to_owned()
                },
            )
            .remedy(
                "give the job that the file was drawn from, with the same --set, and with \
                 --size SIZE or --nested if it was drawn so",
            )
    })
}

/// Tiles that do not come to lie where they should.
pub(super) fn joins(
    wholes: &[Whole<'_>],
    strap: &Strap,
    sheets: &[Sheet],
) -> Vec<Finding> {
    let mut all = Vec::new();
    // Crosses that miss each other are told of already.
    if strap.misses.iter().any(|(.., miss)| *miss > TOLERANCE) {
        return all;
    }
    for whole in wholes {
        for (tile, shift) in &whole.shifts {
            let sheet = number(strap, sheets, *tile);
            let message = format!(
                "a strip of sheet {sheet} does not come to lie at its place when it is joined \
                 by its crosses"
            );
            all.push(
                error(rule::JOIN_OFF, message)
                    .expected(
                        format!("{:+.3} mm along, {:+.3} mm across", shift.x, shift.y),
                        format!("at most {TOLERANCE} mm"),
                    )
                    .remedy(ANEW),
            );
        }
    }
    all
}

/// Pieces that are not there, and some that should not be.
pub(super) fn pieces(
    wholes: &[Whole<'_>],
    strap: &Strap,
    sheets: &[Sheet],
    targets: &[WantedPiece<'_>],
    complete: bool,
) -> Vec<Finding> {
    let mut all = Vec::new();
    for (index, target) in targets.iter().enumerate() {
        if complete && !wholes.iter().any(|w| w.fit.wanted == index) {
            let size = target.bounds.size();
            let message =
                format!("piece `{}` is on none of the sheets", target.piece.key());
            let required = format!("an outline of {:.1} × {:.1} mm", size.x, size.y);
            all.push(
                error(rule::PIECE_MISSING, message).expected("nothing like it", required).remedy(
                    "look whether the file was drawn from this job, and with the same --set",
                ),
            );
        }
    }
    for (index, piece) in strap.pieces.iter().enumerate() {
        let size = piece.bounds.size();
        let cut = |(tile, _): &(usize, _)| {
            let tile = &strap.tiles[*tile];
            tile.frames.iter().any(|f| sheets[tile.sheet].frames[*f].is_cut)
        };
        let marks = piece.forms(strap, sheets).count();
        let cut = piece.tiles.iter().any(cut) && size.x.max(size.y) > SCRAP;
        // Of a part of the sheets, one may be a stretch of a piece that has no marks.
        let is_told = marks > 0 || cut && complete;
        let fit = wholes.iter().find(|w| w.fit.drawn == index).map(|w| &w.fit);
        let numbers = piece.tiles.iter().map(|(tile, _)| number(strap, sheets, *tile));
        let sheets = numbered("sheet", numbers);
        if !complete
            && cut
            && fit.is_none_or(|f| !f.is_proven)
            && (fit.is_some() || !is_told)
        {
            all.push(unproven(&sheets));
        }
        if fit.is_some() || !is_told {
            continue;
        }
        all.push(
            error(rule::PIECE_EXTRA, format!("a piece on {sheets} is none of the job's"))
                .expected(
                    format!("{:.1} × {:.1} mm with {marks} marks", size.x, size.y),
                    "the pieces of the job and no others",
                )
                .remedy("look whether the file was drawn from this job, and with the same --set"),
        );
    }
    all
}

/// A stretch of a piece that might lie anywhere along it.
fn unproven(sheets: &str) -> Finding {
    let message =
        format!("nothing on {sheets} tells where along its piece a stretch of it lies");
    Finding::new(rule::PLACE_UNPROVEN, Severity::Warning, message)
        .expected(
            "no numerals at the ticks of a ruler, no readings beside marks",
            "some that agree",
        )
        .remedy("give all sheets of the print in one file")
}

/// Where the knife would leave the outline.
pub(super) fn outline(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
    complete: bool,
) -> Vec<Finding> {
    let found = line::held(&whole.fit, strap, sheets, target, &|tile| whole.shift(tile));
    let name = target.piece.key();
    let mut all = Vec::new();
    if let Some((spot, off, sheet)) = found.off {
        let sheet = sheets[sheet].title.number;
        let message =
            format!("the outline of `{name}` on sheet {sheet} is not the job's");
        let found = format!("a stroke {off:.3} mm away from it at {}", at(spot));
        all.push(
            error(rule::OUTLINE_OFF, message)
                .expected(found, "strokes along the outline")
                .remedy(AS_DRAWN),
        );
    }
    if let Some((spot, long)) = found.missing.filter(|_| complete) {
        let message = format!("a part of the outline of `{name}` is not drawn");
        let found = format!("{long:.1} mm are missing about {}", at(spot));
        all.push(
            error(rule::OUTLINE_OFF, message)
                .expected(found, "the outline all round")
                .remedy(ANEW),
        );
    }
    all
}

/// Marks that are not where or what they should be, and marks too many.
pub(super) fn marks(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    layout: &Layout,
) -> Vec<Finding> {
    let mut all = Vec::new();
    for pair in &whole.matched.pairs {
        let mark = pair.wanted.mark;
        let sheet = number(strap, sheets, pair.tile);
        let off = whole.off(pair);
        if off.norm() > TOLERANCE {
            let message = format!(
                "{} is {:.3} mm off on sheet {sheet}",
                name(layout, mark),
                off.norm()
            );
            all.push(
                error(rule::MARK_MOVED, message)
                    .at(mark.span.clone())
                    .expected(at(pair.wanted.at + off), at(pair.wanted.at))
                    .remedy(ANEW),
            );
        }
        if let Some((found, required)) = form(pair) {
            let message =
                format!("{} has another form on sheet {sheet}", name(layout, mark));
            all.push(
                error(rule::MARK_FORM, message)
                    .at(mark.span.clone())
                    .expected(found, required)
                    .remedy(ANEW),
            );
        }
    }
    for (tile, spot, form) in &whole.matched.extra {
        all.push(extra(number(strap, sheets, *tile), form.size, &at(*spot)));
    }
    all
}

fn extra(sheet: usize, size: Spot, place: &str) -> Finding {
    error(rule::MARK_EXTRA, format!("a mark on sheet {sheet} is none of the job's"))
        .expected(
            format!("a form of {:.2} × {:.2} mm at {place}", size.x, size.y),
            "the marks of the job and no others",
        )
        .remedy(AS_DRAWN)
}

/// What a mark's form is and should be, if they differ.
fn form(pair: &Pair<'_>) -> Option<(String, String)> {
    let (wanted, size) = (pair.wanted.size, pair.size);
    let shown = |s: Spot, slot: bool| {
        if slot {
            format!("{:.3} × {:.3} mm", s.x, s.y)
        } else {
            format!("Ø {:.3} mm", s.x)
        }
    };
    let dashes =
        |dashed: bool| if dashed { "a dashed target" } else { "a hole to punch" };
    if pair.form.dashed != pair.wanted.is_target {
        return Some((
            dashes(pair.form.dashed).to_owned(),
            dashes(pair.wanted.is_target).to_owned(),
        ));
    }
    let off = size - wanted;
    let round = (size.x - size.y).abs() < TOLERANCE;
    if off.x.abs().max(off.y.abs()) > TOLERANCE {
        return Some((shown(size, !round), shown(wanted, pair.wanted.is_slot)));
    }
    // A cubic curve strays from its circle by 2.7e-4 of the radius.
    if pair.form.stray > TOLERANCE + 3e-4 * wanted.y {
        let found = format!("out of round by {:.3} mm", pair.form.stray);
        return Some((found, shown(wanted, pair.wanted.is_slot)));
    }
    let slant = pair.axis.map_or(0.0, |a| a.y.abs());
    (slant > SLOPE).then(|| {
        let degrees = libm::asin(slant.min(1.0)).to_degrees();
        (format!("turned by {degrees:.2}°"), "along the strap".to_owned())
    })
}

/// Marks that no sheet has; `own` are the drawn parts of the piece.
pub(super) fn missing(
    own: &[&Whole<'_>],
    strap: &Strap,
    target: &WantedPiece<'_>,
    complete: bool,
) -> Vec<Finding> {
    if own.is_empty() {
        return Vec::new();
    }
    let shown: Vec<Bounds> = own
        .iter()
        .flat_map(|&w| strap.pieces[w.fit.drawn].tiles.iter().map(move |t| (w, t)))
        .map(|(whole, (tile, way))| {
            let (way, Bounds { low, high }) =
                (way.then(whole.fit.way), strap.tiles[*tile].bounds);
            Bounds::of([way.place(low), way.place(high)])
        })
        .collect();
    let pairs = own.iter().flat_map(|w| &w.matched.pairs);
    let there: BTreeSet<usize> = pairs.map(|p| p.index).collect();
    let mut all = Vec::new();
    for (index, wanted) in target.marks.iter().enumerate() {
        if there.contains(&index) {
            continue;
        }
        let half = wanted.size * 0.5;
        let (low, high) = (wanted.at - half, wanted.at + half);
        let holds = |b: &Bounds| {
            b.low.x <= low.x
                && b.low.y <= low.y
                && b.high.x >= high.x
                && b.high.y >= high.y
        };
        if complete || shown.iter().any(holds) {
            all.push(
                error(
                    rule::MARK_MISSING,
                    format!(
                        "{} is on none of the sheets",
                        name(target.layout, wanted.mark)
                    ),
                )
                .at(wanted.mark.span.clone())
                .expected("nothing", at(wanted.at))
                .remedy(ANEW),
            );
        }
    }
    all
}

/// Marks that lie on no piece at all.
pub(super) fn stray(strap: &Strap, sheets: &[Sheet]) -> Vec<Finding> {
    let found = strap.stray.iter().map(|&(sheet, form)| {
        let form = &sheets[sheet].forms[form];
        let Spot { x, y } = form.centre;
        let place =
            format!("{x:.1} mm from the left, {y:.1} mm from below, beside every piece");
        extra(sheets[sheet].title.number, form.size, &place)
    });
    found.collect()
}
