//! The words at the head of a sheet, to be read at arm's length.

use super::super::canvas::{Canvas, Words, shortened};
use super::super::sheet::{Anchor, Kept};
use super::super::{Heading, Stocked};
use super::Scene;
use crate::geom::{Length, Point};
use crate::layout::{Copies, Layout, MarkKind, Piece};
use crate::lettering;
use crate::words::{Units, Word, Wording};

const TITLE: Length = Length::from_mm(4);
const WORDS: Length = Length::from_mm(3);
const SMALL: Length = Length::from_um(2_400);
const INSET: Length = Length::from_mm(4);
const BETWEEN: Length = Length::from_mm(4);
/// The widest that a printer's name is written.
const PRINTER: Length = Length::from_mm(30);
/// Of more pieces than this the lengths are not at the head.
const NAMED: usize = 3;
/// Base lines below the top margin.
const FIRST: Length = Length::from_um(5_200);
const SECOND: Length = Length::from_um(10_000);
const UPPER: Length = Length::from_um(8_600);
const LOWER: Length = Length::from_um(11_400);

/// Writes title and wearer, and below them which sheet of which print this is; all of it
/// left of `right`.
pub(super) fn draw(canvas: &mut Canvas, scene: &Scene<'_>, index: usize, right: Length) {
    let all = canvas.printable();
    let left = all.x.from + INSET;
    let room = right - BETWEEN - left;
    let top = |down| Point::new(left, all.y.to - down);
    let wearer = scene.heading.wearer.trim();
    let wording = scene.heading.wording;
    let wearer = if wearer.is_empty() {
        String::new()
    } else {
        wording.fill(Word::For, &[&wearer])
    };
    // A long name may take half of the line, and more if the title leaves it.
    let asked = lettering::width(&wearer, WORDS);
    let title_room = if wearer.is_empty() {
        room
    } else {
        room - BETWEEN - asked.min((room - BETWEEN) / 2)
    };
    let title = shortened(scene.heading.title.trim(), TITLE, title_room);
    let used = lettering::width(&title, TITLE);
    let gap = if used > Length::ZERO { used + BETWEEN } else { Length::ZERO };
    if !title.is_empty() {
        canvas.write(Words::new(top(FIRST), Anchor::Start, TITLE, &title));
    }
    let wearer = shortened(&wearer, WORDS, room - gap);
    if !wearer.is_empty() {
        let at = Point::new(left + gap, all.y.to - FIRST);
        canvas.write(Words::new(at, Anchor::Start, WORDS, &wearer));
    }
    let sheets = scene.plan.sheets.len();
    // What several sizes have in common cannot say what holds for one of them.
    let common = matches!(scene.heading.stocked, Stocked::Common(_));
    let is_fitted = scene.scaling.is_some_and(|s| s.fitted);
    let print = if is_fitted {
        wording.say(Word::PrintFitted)
    } else {
        wording.say(Word::PrintAtFull)
    };
    let mut which = vec![
        format!("{} {}/{sheets}", wording.say(Word::Sheet), index + 1),
        belongs(scene.heading),
        print.to_owned(),
        scene.fingerprint.to_owned(),
        scene.paper.to_owned(),
    ];
    which.retain(|w| !w.is_empty());
    if let Some(scaling) = scene.scaling {
        let printer = shortened(&scaling.printer, SMALL, PRINTER);
        let named = wording.fill(Word::ForPrinter, &[&printer]);
        which.push(wording.said(&named, &scaling.token()));
    }
    let mut facts = Vec::new();
    // The number to hold the joined strip against.
    if !common {
        facts.extend(lengths(scene));
    }
    // How far apart the crosses are, each size says on its own sheets.
    if !common {
        facts.extend(scene.checks.iter().map(|c| c.sentence(wording)));
    }
    facts.extend(scene.punches.map(ToOwned::to_owned));
    if !scene.heading.serves.is_empty() {
        facts.push(scene.heading.serves.clone());
    }
    let one = [which.as_slice(), facts.as_slice()].concat().join(" · ");
    if lettering::width(&one, WORDS) <= room {
        canvas.write(Words::new(top(SECOND), Anchor::Start, WORDS, &one));
        return;
    }
    // A narrow page: two lines, each as large as it can be.
    for (base, words) in [(UPPER, which), (LOWER, facts)] {
        let words = words.join(" · ");
        let wide = lettering::width(&words, SMALL);
        let size = if wide > room { SMALL.times(room.nm(), wide.nm()) } else { SMALL };
        canvas.write(Words::new(top(base), Anchor::Start, size, &words));
    }
}

/// The size, and which sheets of other prints go with it.
fn belongs(heading: &Heading) -> String {
    let with = with(&heading.kept, heading.wording);
    let size = heading.stocked.words(heading.wording);
    match (size.as_str(), with.as_str()) {
        ("", _) => with,
        (_, "") => size,
        _ => heading.wording.said(&size, &with),
    }
}

/// `with sheet 1, 2 of print 7F3A-91C2`; nothing where there are none.
fn with(kept: &[Kept], wording: Wording) -> String {
    let mut prints: Vec<&str> = kept.iter().map(|k| k.print.as_str()).collect();
    prints.dedup();
    let named = prints.iter().map(|print| {
        let own = kept.iter().filter(|k| k.print == *print);
        let sheets: Vec<String> = own.map(|k| k.sheet.to_string()).collect();
        wording.fill(Word::WithSheet, &[&sheets.join(", "), print])
    });
    let named: Vec<String> = named.collect();
    named.join(", ")
}

/// How long the pieces are, end to end: the one, or the longest few by name.
fn lengths(scene: &Scene<'_>) -> Option<String> {
    let pieces = scene.layout.pieces.as_slice();
    let wording = scene.heading.wording;
    let flat = |p: &Piece| wording.length(p.extent.length(), 1);
    let fill = |lengths: String| Some(wording.fill(Word::FlatLength, &[&lengths]));
    match pieces {
        [] => None,
        [piece] => fill(flat(piece)),
        _ => {
            let name = |copies: &Copies<'_>| {
                let name = wording.piece(copies.name);
                let times = match copies.pieces.len() {
                    1 => String::new(),
                    n => format!("{n} × "),
                };
                format!("{times}{name} {}", flat(&copies.pieces[0]))
            };
            let mut named: Vec<String> = scene.layout.copies().iter().map(name).collect();
            named.truncate(NAMED);
            fill(named.join(", "))
        }
    }
}

/// What to punch with: each feature's diameters, `Ø turn-back 4, size-holes 4.8 mm`.
pub(in super::super) fn punches(layout: &Layout, wording: Wording) -> Option<String> {
    let mut used: Vec<(&str, Length)> = Vec::new();
    for mark in layout.pieces.iter().flat_map(|p| &p.marks) {
        let punch = (mark.feature.as_str(), mark.y_extent().length());
        let is_round = mark.is_punched() && mark.kind != MarkKind::Slot;
        if is_round && !used.contains(&punch) {
            used.push(punch);
        }
    }
    let size = |across| match wording.units {
        Units::Millimetres => wording.plain(across),
        Units::Inches | Units::Both => wording.size(across),
    };
    let named = used
        .iter()
        .map(|(name, across)| format!("{} {}", wording.named(name), size(*across)));
    let named: Vec<String> = named.collect();
    let unit = if wording.units == Units::Millimetres { " mm" } else { "" };
    (!named.is_empty()).then(|| format!("Ø {}{unit}", named.join(", ")))
}
