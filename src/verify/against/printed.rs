//! What is printed beside a piece, held against the layout: the numerals of its rulers and
//! the readings beside its marks.

use super::super::read::plane::{Matrix, Spot};
use super::super::report::{ANEW, error};
use super::super::sheet::{Label, Numeral, Sheet};
use super::super::strap::Strap;
use super::fit::Fit;
use super::wanted::{Wanted, WantedPiece, mm};
use super::{TOLERANCE, Whole, anchor, says};
use crate::diagnostic::Finding;
use crate::layout::{Guide, Mark};
use crate::verify::rule;
use crate::words::Wording;
use std::collections::BTreeMap;

/// From the rim of a mark to the words that are its own, at most, along and across.
const ALONG: f64 = 3.0;
const ACROSS: f64 = 13.0;
/// From a line across, or from the tip, to its words.
const TO_LINE: f64 = 80.0;

/// What each numeral of a tile's rulers is off along the strap.
pub(super) fn offs(
    fit: &Fit,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
    tile: usize,
) -> Vec<Spot> {
    let piece = &strap.pieces[fit.drawn];
    let own = piece.numerals(strap, sheets).filter(|(t, ..)| *t == tile);
    let off = |(_, way, numeral): (usize, Matrix, &Numeral)| {
        let x = way.then(fit.way).place(numeral.at).x;
        let more = anchor::reading(x, target) - numeral.says();
        Spot::new(if x < 0.0 { -more } else { more }, 0.0)
    };
    own.map(off).collect()
}

/// Everything printed that is not so.
pub(super) fn held(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
) -> Vec<Finding> {
    // Of a stretch that may lie anywhere nothing is known.
    if !whole.fit.is_proven {
        return Vec::new();
    }
    let mut all = rulers(whole, strap, sheets, target);
    all.extend(ticks(whole, strap, sheets, target));
    all.extend(labels(whole, strap, sheets, target));
    all
}

/// Ticks that are at no division of their ruler: the worst of each tile.
fn ticks(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
) -> Vec<Finding> {
    let mut wrong: BTreeMap<usize, &Numeral> = BTreeMap::new();
    for (tile, _, numeral) in strap.pieces[whole.fit.drawn].numerals(strap, sheets) {
        let worst = wrong.entry(tile).or_insert(numeral);
        if worst.worst.1 < numeral.worst.1 {
            *worst = numeral;
        }
    }
    let one = |(tile, numeral): (usize, &Numeral)| {
        let (at, off) = numeral.worst;
        let sheet = says::number(strap, sheets, tile);
        let message = format!(
            "a ruler of `{}` on sheet {sheet} has ticks that are not at its divisions",
            target.piece.key()
        );
        let found = format!(
            "a tick {off:.3} mm off, {:.1} mm from the left, {:.1} mm from below, near `{}` {}",
            at.x,
            at.y,
            numeral.number,
            numeral.unit.word()
        );
        (off > TOLERANCE).then(|| {
            error(rule::RULER_WRONG, message)
                .expected(found, format!("at most {TOLERANCE} mm"))
                .remedy(ANEW)
        })
    };
    wrong.into_iter().filter_map(one).collect()
}

/// One finding for the rulers of each tile.
fn rulers(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
) -> Vec<Finding> {
    let mut wrong: BTreeMap<usize, Vec<(&Numeral, f64)>> = BTreeMap::new();
    for (tile, way, numeral) in strap.pieces[whole.fit.drawn].numerals(strap, sheets) {
        let at = way.then(whole.fit.way).place(numeral.at) - whole.shift(tile);
        let reading = anchor::reading(at.x, target);
        if (reading - numeral.says()).abs() > TOLERANCE {
            wrong.entry(tile).or_default().push((numeral, reading));
        }
    }
    let one = |(tile, own): (usize, Vec<(&Numeral, f64)>)| {
        let sheet = says::number(strap, sheets, tile);
        let (numeral, reading) = own.first()?;
        let (number, unit) = (numeral.number, numeral.unit);
        let count = match own.len() {
            1 => "a numeral of a ruler".to_owned(),
            n => format!("{n} numerals of the rulers"),
        };
        let message = format!(
            "{count} of `{}` on sheet {sheet} {} not at the tick",
            target.piece.key(),
            if own.len() == 1 { "is" } else { "are" }
        );
        let found = format!(
            "`{number}` {} where a tape reads {:.3} {}",
            unit.word(),
            reading / unit.mm(),
            unit.word()
        );
        Some(
            error(rule::RULER_WRONG, message)
                .expected(found, "what a tape reads")
                .remedy(ANEW),
        )
    };
    wrong.into_iter().filter_map(one).collect()
}

fn labels(
    whole: &Whole<'_>,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
) -> Vec<Finding> {
    let mut all = Vec::new();
    for (tile, way, label) in strap.pieces[whole.fit.drawn].labels(strap, sheets) {
        if is_own_words(label, target) {
            continue;
        }
        let place = |p: Spot| way.then(whole.fit.way).place(p) - whole.shift(tile);
        let Err((mark, reading)) =
            told(label, place(label.from), place(label.to), target)
        else {
            continue;
        };
        let sheet = says::number(strap, sheets, tile);
        let message = format!("the words `{}` on sheet {sheet} are wrong", label.text);
        let required = match mark {
            Some(mark) => format!(
                "{reading:.1} mm (~{:.3} in) at {}",
                reading / 25.4,
                says::name(target.layout, mark)
            ),
            None => "the reading of a mark beside it".to_owned(),
        };
        let span = mark.and_then(|m| m.span.clone());
        all.push(
            error(rule::LABEL_WRONG, message)
                .at(span)
                .expected(format!("`{}`", label.text), required)
                .remedy(ANEW),
        );
    }
    all
}

/// Words that the job itself asks for say what they will.
fn is_own_words(label: &Label, target: &WantedPiece<'_>) -> bool {
    target.piece.guides.iter().any(|thing| match thing {
        Guide::Words { text, .. } => !text.is_empty() && text.trim() == label.text,
        Guide::Box { text, .. } => {
            !text.as_str().is_empty() && text.as_str() == label.text
        }
        Guide::Crease(_) => false,
    })
}

/// Whether the words between two places are what they should be of a mark beside them; else
/// the mark that they are nearest to, and what a tape reads there.
fn told<'a>(
    label: &Label,
    from: Spot,
    to: Spot,
    target: &WantedPiece<'a>,
) -> Result<(), (Option<&'a Mark>, f64)> {
    let (low, high) = (from.x.min(to.x), from.x.max(to.x));
    let along = |x: f64| (low - x).max(x - high).max(0.0);
    let reading = |mark: &Mark| mm(target.piece.from_bend(mark.at.x));
    let name = |mark: &Mark| {
        let label = target.layout.label(mark, Wording::default());
        label.split_whitespace().next().unwrap_or_default().to_owned()
    };
    let is_beside = |w: &&Wanted<'a>| {
        along(w.at.x) < w.size.x / 2.0 + ALONG
            && (f64::midpoint(from.y, to.y) - w.at.y).abs() < w.size.y / 2.0 + ACROSS
    };
    let beside: Vec<&'a Mark> =
        target.marks.iter().filter(is_beside).map(|w| w.mark).collect();
    let own: Vec<&'a Mark> =
        beside.iter().copied().filter(|m| name(m) == label.first).collect();
    let right = |all: &[&Mark]| all.iter().any(|m| label.agrees(reading(m)));
    let nearest = |all: &[&'a Mark]| {
        let near = |m: &&&Mark| along(mm(m.at.x));
        let mark = all.iter().min_by(|a, b| near(a).total_cmp(&near(b))).copied();
        (mark, mark.map_or(0.0, reading))
    };
    if !own.is_empty() {
        return if right(&own) { Ok(()) } else { Err(nearest(&own)) };
    }
    if label.first.is_empty() {
        return if beside.is_empty() || right(&beside) {
            Ok(())
        } else {
            Err(nearest(&beside))
        };
    }
    // The name of a mark that is elsewhere.
    if target.marks.iter().any(|w| name(w.mark) == label.first) {
        return Err(nearest(&beside));
    }
    // Some names are translated; a line across has its words anywhere near it.
    let lines = target.piece.marks.iter().filter(|m| m.path().is_none());
    let lines = lines.filter(|m| along(mm(m.at.x)) < TO_LINE);
    let all: Vec<&Mark> = beside.into_iter().chain(lines).collect();
    if right(&all) { Ok(()) } else { Err(nearest(&all)) }
}
