//! The words at the head of a sheet, to be read at arm's length.

use super::super::canvas::{Canvas, Words, shortened};
use super::super::checks::StripCheck;
use super::super::sheet::{Anchor, Kept};
use super::super::{Heading, Stocked};
use super::Scene;
use crate::geom::{Length, Point};
use crate::job::FeatureId;
use crate::layout::{Copies, Layout, MarkKind, Piece};
use crate::lettering;
use crate::words::{Units, Word, Wording};

const TITLE: Length = Length::from_mm(4);
const WORDS: Length = Length::from_mm(3);
const SMALL: Length = Length::from_um(2_400);
const SMALLER: Length = Length::from_um(2_250);
/// Six points: nothing at the head is smaller.
const LEAST: Length = Length::from_um(2_117);
/// Lines of the least size.
const MOST: usize = 3;
const INSET: Length = Length::from_mm(4);
const BETWEEN: Length = Length::from_mm(4);
/// The widest that a printer's name is written.
const PRINTER: Length = Length::from_mm(30);
/// Of more pieces than this the lengths are not at the head.
const NAMED: usize = 3;
/// Base lines below the top margin, by the number of lines beneath the title: that of the
/// title, then theirs.
const BASES: [&[Length]; 3] = [
    &[Length::from_um(5_200), Length::from_um(10_000)],
    &[Length::from_um(4_600), Length::from_um(8_300), Length::from_um(11_100)],
    &[
        Length::from_um(3_500),
        Length::from_um(6_100),
        Length::from_um(8_600),
        Length::from_um(11_100),
    ],
];
/// Writes title and wearer, and below them which sheet of which print this is; all of it
/// left of `right`.
pub(super) fn draw(canvas: &mut Canvas, scene: &Scene<'_>, index: usize, right: Length) {
    let all = canvas.printable();
    let left = all.x.from + INSET;
    let room = right - BETWEEN - left;
    let lines = Lines::of(&which(scene, index), facts(scene, index), room);
    let bases = BASES[lines.lines.len().clamp(1, BASES.len()) - 1];
    let top = |down| Point::new(left, all.y.to - down);
    let first = bases[0];
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
        canvas.write(Words::new(top(first), Anchor::Start, TITLE, &title));
    }
    let wearer = shortened(&wearer, WORDS, room - gap);
    if !wearer.is_empty() {
        let at = Point::new(left + gap, all.y.to - first);
        canvas.write(Words::new(at, Anchor::Start, WORDS, &wearer));
    }
    for (text, base) in lines.lines.iter().zip(&bases[1..]) {
        canvas.write(Words::new(top(*base), Anchor::Start, lines.size, text));
    }
}

/// What stands at the head beneath the title, the most needful first: which sheet of which
/// print this is and how it is printed.
fn which(scene: &Scene<'_>, index: usize) -> Vec<String> {
    let wording = scene.heading.wording;
    let sheets = scene.plan.sheets.len();
    let is_fitted = scene.scaling.is_some_and(|s| s.fitted);
    let print = if is_fitted {
        wording.say(Word::PrintFitted)
    } else {
        wording.say(Word::PrintAtFull)
    };
    let mut which = vec![
        format!("{} {}/{sheets}", wording.say(Word::Sheet), index + 1),
        print.to_owned(),
        scene.fingerprint.to_owned(),
        scene.paper.to_owned(),
    ];
    if let Some(scaling) = scene.scaling {
        let printer = shortened(&scaling.printer, SMALL, PRINTER);
        let named = wording.fill(Word::ForPrinter, &[&printer]);
        which.push(wording.said(&named, &scaling.token()));
    }
    which.push(belongs(scene.heading));
    which.retain(|w| !w.is_empty());
    which
}

/// What the ticket says too, in reading order, each with its rank: where the head has no room,
/// the highest rank goes first.
fn facts(scene: &Scene<'_>, index: usize) -> Vec<(u8, String)> {
    let wording = scene.heading.wording;
    let mut facts = Vec::new();
    // What several sizes have in common cannot say what holds for one of them: neither the
    // number to hold the joined strip against, nor how far apart the crosses are.
    if !matches!(scene.heading.stocked, Stocked::Common(_)) {
        facts.extend(lengths(scene).map(|l| (2, l)));
        let is_here =
            |piece| scene.plan.sheets[index].iter().any(|l| l.part.piece == piece);
        let rank = |check: &StripCheck| if is_here(check.piece) { 0 } else { 4 };
        facts.extend(scene.checks.iter().map(|c| (rank(c), c.sentence(wording))));
    }
    facts.extend(scene.punches.map(|p| (1, p.to_owned())));
    if !scene.heading.serves.is_empty() {
        facts.push((3, scene.heading.serves.clone()));
    }
    facts
}

/// The lines below the title, and their size.
struct Lines {
    size: Length,
    lines: Vec<String>,
}

impl Lines {
    /// Large while all fits, then smaller on more lines, but never too small to be read:
    /// then what the ticket says too is left out.
    fn of(which: &[String], mut facts: Vec<(u8, String)>, room: Length) -> Self {
        // Which sheet it is on lines of its own, or all in one go.
        let lines = |facts: &[(u8, String)], size, apart: bool| {
            let mut lines = Vec::new();
            for part in which {
                // A part is broken only where it is wider than a line.
                let fits = lettering::width(part, size) <= room;
                let words = if fits { vec![part.clone()] } else { words(part) };
                set(&mut lines, words, size, room);
            }
            let mut told = if apart { Vec::new() } else { std::mem::take(&mut lines) };
            for (_, part) in facts {
                set(&mut told, words(part), size, room);
            }
            lines.extend(told);
            lines
        };
        for (size, apart, most) in
            [(WORDS, false, 1), (SMALL, true, 2), (SMALLER, true, 2), (LEAST, true, 2)]
        {
            let lines = lines(&facts, size, apart);
            if lines.len() <= most {
                return Self { size, lines };
            }
        }
        let size = LEAST;
        loop {
            let ways = [true, false].map(|apart| lines(&facts, size, apart));
            if let Some(lines) = ways.into_iter().find(|lines| lines.len() <= MOST) {
                return Self { size, lines };
            }
            let last = facts.iter().map(|(rank, _)| *rank).max();
            let Some(at) = facts.iter().rposition(|(rank, _)| Some(*rank) == last) else {
                let mut lines = lines(&facts, size, false);
                lines.truncate(MOST);
                return Self { size, lines };
            };
            facts.remove(at);
        }
    }
}

/// Adds a part to lines no wider than `room`, set apart from what stands before it on its
/// line by a dot.
fn set(lines: &mut Vec<String>, words: Vec<String>, size: Length, room: Length) {
    for (nth, word) in words.into_iter().enumerate() {
        let between = if nth == 0 { " · " } else { " " };
        let longer = lines.last().map(|line| format!("{line}{between}{word}"));
        match (lines.last_mut(), longer) {
            (Some(line), Some(longer)) if lettering::width(&longer, size) <= room => {
                *line = longer;
            }
            _ => lines.push(word),
        }
    }
}

/// The words of a part, a unit with its number and a sign with what it is of.
fn words(part: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in part.split_whitespace() {
        match words.last_mut() {
            Some(last) if last == "Ø" || is_number(last) && is_unit(word) => {
                *last = format!("{last} {word}");
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

fn is_number(word: &str) -> bool {
    word.ends_with(|c: char| c.is_ascii_digit())
}

fn is_unit(word: &str) -> bool {
    ["mm", "in", "%"].contains(&word.trim_end_matches([',', ';']))
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
                let name = wording.name(copies.name);
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
    let mut used: Vec<(FeatureId, Length)> = Vec::new();
    for mark in layout.pieces.iter().flat_map(|p| &p.marks) {
        let punch = (mark.feature, mark.y_extent().length());
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
        .map(|(id, across)| (wording.name(&layout.features[id.0]), size(*across)))
        .map(|(name, size)| format!("{name} {size}"));
    let named: Vec<String> = named.collect();
    let unit = if wording.units == Units::Millimetres { " mm" } else { "" };
    (!named.is_empty()).then(|| format!("Ø {}{unit}", named.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(room: i64) -> Lines {
        let text = |s: &str| s.to_owned();
        let which = ["sheet 1/2", "Print at 100 %", "54BF-F5FF", "A4"].map(text);
        let facts = [
            (2, "flat strap 1110 mm end to end"),
            (0, "cross A to cross B: 1100 mm"),
            (4, "cross A2 to cross B2: 300 mm"),
            (1, "Ø turn-back 4, size-holes 4.8 mm"),
            (3, "girth 800 mm to 900 mm"),
        ];
        let facts = facts.map(|(rank, fact)| (rank, text(fact))).to_vec();
        Lines::of(&which, facts, Length::from_mm(room))
    }

    #[test]
    fn a_head_grows_lines_and_then_loses_what_the_ticket_says_too() {
        let wide = lines(300);
        assert_eq!((wide.size, wide.lines.len()), (WORDS, 1));
        let two = lines(180);
        assert_eq!((two.size, two.lines.len()), (SMALL, 2));
        assert_eq!(two.lines[0], "sheet 1/2 · Print at 100 % · 54BF-F5FF · A4");
        let three = lines(100);
        assert_eq!((three.size, three.lines.len()), (LEAST, 3));
        assert!(three.lines[2].ends_with("girth 800 mm to 900 mm"), "{:?}", three.lines);
        let narrow = lines(50);
        assert_eq!(narrow.size, LEAST);
        assert_eq!(
            narrow.lines,
            [
                "sheet 1/2 · Print at 100 % · 54BF-F5FF · A4",
                "flat strap 1110 mm end to end · cross A to cross B:",
                "1100 mm · Ø turn-back 4, size-holes 4.8 mm",
            ]
        );
        let least = lines(30).lines;
        assert_eq!(least[..2], ["sheet 1/2 · Print at 100 %", "54BF-F5FF · A4"]);
        assert_eq!(least[2..], ["cross A to cross B: 1100 mm"]);
    }
}
