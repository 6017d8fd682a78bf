//! The header of a sheet, to be read at arm's length.

use super::super::Print;
use super::super::canvas::{Canvas, TextItem, shorten};
use super::super::checks::StripCheck;
use super::super::item::Anchor;
use super::super::sheet::ReusedSheet;
use super::super::wrap::{add_words, unbroken_words};
use super::super::{Heading, PrintedSizes};
use crate::geom::{Length, Point};
use crate::job::FeatureId;
use crate::layout::{Copies, Layout, MarkKind, Piece};
use crate::lettering;
use crate::words::{Units, Word, Wording};

const TITLE: Length = Length::from_mm(4);
const TEXT: Length = Length::from_mm(3);
const SMALL: Length = Length::from_um(2_400);
const SMALLER: Length = Length::from_um(2_250);
/// Six points: nothing in the header is smaller.
const SMALLEST: Length = Length::from_um(2_117);
/// The most lines of the smallest size.
const MAX_LINES: usize = 3;
const INSET: Length = Length::from_mm(4);
const BETWEEN: Length = Length::from_mm(4);
/// The widest that a printer's name is written.
const PRINTER: Length = Length::from_mm(30);
/// The most pieces whose lengths are given.
const MAX_LENGTHS: usize = 3;
/// Base lines below the top margin, by the number of lines below the title: that of the
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
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, index: usize, right: Length) {
    let heading = print.request.heading;
    let all = canvas.printable();
    let left = all.x.from + INSET;
    let room = right - BETWEEN - left;
    let below =
        HeaderText::fit(&sheet_facts(print, index), job_facts(print, index), room);
    let bases = BASES[below.lines.len().clamp(1, BASES.len()) - 1];
    let text = |x, base: Length, size, text: &str| {
        TextItem::new(Point::new(x, all.y.to - base), Anchor::Start, size, text)
    };
    let mut wearer = heading.wearer.trim().to_owned();
    let mut title_room = room;
    if !wearer.is_empty() {
        wearer = heading.wording.fill(Word::For, &[&wearer]);
        // A long name may take half of the line, and more if the title leaves it.
        let wanted = lettering::width(&wearer, TEXT);
        title_room = room - BETWEEN - wanted.min((room - BETWEEN) / 2);
    }
    let title = shorten(heading.title.trim(), TITLE, title_room);
    let used = lettering::width(&title, TITLE);
    let gap = if used > Length::ZERO { used + BETWEEN } else { Length::ZERO };
    let wearer = shorten(&wearer, TEXT, room - gap);
    for (x, size, words) in [(left, TITLE, title), (left + gap, TEXT, wearer)] {
        if !words.is_empty() {
            canvas.write(text(x, bases[0], size, &words));
        }
    }
    for (words, base) in below.lines.iter().zip(&bases[1..]) {
        canvas.write(text(left, *base, below.size, words));
    }
}

/// Which sheet of which print this is and how to print it, most important first.
fn sheet_facts(print: &Print<'_>, index: usize) -> Vec<String> {
    let heading = print.request.heading;
    let wording = heading.wording;
    let number = format!("{}/{}", index + 1, print.plan.sheets.len());
    let is_fitted = print.scaling.as_ref().is_some_and(|s| s.fitted);
    let scale = if is_fitted { Word::PrintFitted } else { Word::PrintAtFull };
    let mut facts = vec![
        format!("{} {number}", wording.say(Word::Sheet)),
        wording.say(scale).to_owned(),
        print.fingerprint.clone(),
        print.request.paper.name().to_owned(),
    ];
    if let Some(scaling) = &print.scaling {
        let printer = shorten(&scaling.printer, SMALL, PRINTER);
        let named = wording.fill(Word::ForPrinter, &[&printer]);
        facts.push(wording.labelled(&named, &scaling.token()));
    }
    facts.push(sizes(heading));
    facts.retain(|fact| !fact.is_empty());
    facts
}

/// What the ticket says too, in reading order, each with its rank: where there is no room,
/// the highest rank is left out first.
fn job_facts(print: &Print<'_>, index: usize) -> Vec<(u8, String)> {
    let heading = print.request.heading;
    let mut facts = Vec::new();
    // Sheets that several sizes have in common cannot say what holds for one of them: its
    // length, and how far apart its crosses are.
    if !matches!(heading.sizes, PrintedSizes::Common(_)) {
        facts.extend(lengths(print).map(|l| (2, l)));
        let is_here =
            |piece| print.plan.sheets[index].iter().any(|t| t.span.index == piece);
        let rank = |check: &StripCheck| if is_here(check.piece) { 0 } else { 4 };
        let checks = print.checks.iter();
        facts.extend(checks.map(|c| (rank(c), c.sentence(heading.wording))));
    }
    facts.extend(print.punches.clone().map(|punches| (1, punches)));
    if !heading.serves.is_empty() {
        facts.push((3, heading.serves.clone()));
    }
    facts
}

/// The lines below the title.
struct HeaderText {
    size: Length,
    lines: Vec<String>,
}

impl HeaderText {
    /// Sizes of the type, best first; whether facts about the job begin a new line; and the
    /// most lines.
    const STYLES: [(Length, bool, usize); 5] = [
        (TEXT, false, 1),
        (SMALL, true, 2),
        (SMALLER, true, 2),
        (SMALLEST, true, MAX_LINES),
        (SMALLEST, false, MAX_LINES),
    ];

    /// Sets all facts in the best style that has room for them. Where none has, facts about
    /// the job are left out, and the type is the smallest.
    fn fit(sheet: &[String], mut job: Vec<(u8, String)>, room: Length) -> Self {
        let mut styles = Self::STYLES.as_slice();
        loop {
            let set = |&(size, apart, most)| {
                let text = Self::set(sheet, &job, room, size, apart);
                (text.lines.len() <= most).then_some(text)
            };
            if let Some(text) = styles.iter().find_map(set) {
                return text;
            }
            let Some((last, _)) = job.iter().enumerate().max_by_key(|(_, fact)| fact.0)
            else {
                let mut text = Self::set(sheet, &job, room, SMALLEST, false);
                text.lines.truncate(MAX_LINES);
                return text;
            };
            job.remove(last);
            styles = &Self::STYLES[3..];
        }
    }

    /// Sets the facts in lines. With `apart`, those about the job begin a new line.
    fn set(
        sheet: &[String],
        job: &[(u8, String)],
        room: Length,
        size: Length,
        apart: bool,
    ) -> Self {
        let mut lines = Vec::new();
        for fact in sheet {
            // A fact about the sheet is broken only where it is wider than a line.
            let fits = lettering::width(fact, size) <= room;
            let words = if fits { vec![fact.clone()] } else { words(fact) };
            add_words(&mut lines, words, " · ", size, room);
        }
        let mut rest = if apart { Vec::new() } else { std::mem::take(&mut lines) };
        for (_, fact) in job {
            add_words(&mut rest, words(fact), " · ", size, room);
        }
        lines.extend(rest);
        Self { size, lines }
    }
}

fn words(fact: &str) -> Vec<String> {
    unbroken_words(fact.split_whitespace(), |word| {
        matches!(word.trim_end_matches([',', ';']), "mm" | "in" | "%")
    })
}

/// The size, and which sheets of other prints go with it.
fn sizes(heading: &Heading) -> String {
    let reused = reused_sheets(&heading.reused, heading.wording);
    let size = heading.sizes.words(heading.wording);
    match (size.as_str(), reused.as_str()) {
        ("", _) => reused,
        (_, "") => size,
        _ => heading.wording.labelled(&size, &reused),
    }
}

/// `with sheet 1, 2 of print 7F3A-91C2`; empty where there are none.
fn reused_sheets(reused: &[ReusedSheet], wording: Wording) -> String {
    let own = reused.chunk_by(|a, b| a.print == b.print).map(|own| {
        let sheets: Vec<String> = own.iter().map(|r| r.sheet.to_string()).collect();
        wording.fill(Word::WithSheet, &[&sheets.join(", "), &own[0].print])
    });
    own.collect::<Vec<_>>().join(", ")
}

/// The length of the only piece, or of the first few by name, end to end.
fn lengths(print: &Print<'_>) -> Option<String> {
    let layout = print.request.layout;
    let wording = print.request.heading.wording;
    let flat = |p: &Piece| wording.length(p.extent.length(), 1);
    let named = |copies: &Copies<'_>| {
        let name = wording.name(copies.name);
        let times = match copies.pieces.len() {
            1 => String::new(),
            n => format!("{n} × "),
        };
        format!("{times}{name} {}", flat(&copies.pieces[0]))
    };
    let lengths = match layout.pieces.as_slice() {
        [] => return None,
        [piece] => flat(piece),
        _ => {
            let all = layout.copies();
            all.iter().take(MAX_LENGTHS).map(named).collect::<Vec<_>>().join(", ")
        }
    };
    Some(wording.fill(Word::FlatLength, &[&lengths]))
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

    fn lines(room: i64) -> HeaderText {
        let text = |s: &str| s.to_owned();
        let sheet = ["sheet 1/2", "Print at 100 %", "54BF-F5FF", "A4"].map(text);
        let facts = [
            (2, "flat strap 1110 mm end to end"),
            (0, "cross A to cross B: 1100 mm"),
            (4, "cross A2 to cross B2: 300 mm"),
            (1, "Ø turn-back 4, size-holes 4.8 mm"),
            (3, "girth 800 mm to 900 mm"),
        ];
        let facts = facts.map(|(rank, fact)| (rank, text(fact))).to_vec();
        HeaderText::fit(&sheet, facts, Length::from_mm(room))
    }

    #[test]
    fn a_head_grows_lines_and_then_loses_what_the_ticket_says_too() {
        let wide = lines(300);
        assert_eq!((wide.size, wide.lines.len()), (TEXT, 1));
        let two = lines(180);
        assert_eq!((two.size, two.lines.len()), (SMALL, 2));
        assert_eq!(two.lines[0], "sheet 1/2 · Print at 100 % · 54BF-F5FF · A4");
        let three = lines(100);
        assert_eq!((three.size, three.lines.len()), (SMALLEST, 3));
        assert!(three.lines[2].ends_with("girth 800 mm to 900 mm"), "{:?}", three.lines);
        let narrow = lines(50);
        assert_eq!(narrow.size, SMALLEST);
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
