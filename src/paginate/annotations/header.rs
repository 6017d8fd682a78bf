//! The head of a sheet, to be read at arm's length: how to print it, which sheet it is, and of
//! which print.

use super::super::Print;
use super::super::canvas::{Canvas, TextItem, points, shorten};
use super::super::checks::StripCheck;
use super::super::correction::token;
use super::super::item::{Anchor, Layer, Pen};
use super::super::run::Run;
use super::super::sheet::ReusedSheet;
use super::super::wrap::{add_words, unbroken_words};
use super::super::{Heading, PrintedSizes};
use super::{key_plan, line};
use crate::geom::{Extent, Length, Point, QuarterTurn};
use crate::lettering;
use crate::words::{Word, Wording};

/// From the margins at both sides to the words.
const INSET: Length = Length::from_mm(5);
const BETWEEN: Length = Length::from_mm(4);
/// Sizes of how to print, best first.
const FIRST: [Length; 4] = [points(240), points(220), points(200), points(180)];
const SHEET: Length = points(160);
/// Sizes of the sentence, with its most lines.
const SENTENCE: [(Length, usize); 3] =
    [(points(100), 2), (points(90), 2), (points(80), 3)];
/// Sizes of the title, best first.
const TITLES: [Length; 3] = [points(130), points(115), points(100)];
/// The narrowest that a title is cut off to.
const LEAST_TITLE: Length = Length::from_mm(15);
/// Sizes of the facts, and of the long check beside them.
const FACTS: [(Length, Length); 4] = [
    (points(100), points(110)),
    (points(90), points(100)),
    (points(85), points(90)),
    (points(80), points(80)),
];
/// Base lines below the margin: of the first row, and of the row below it on a high head.
const FIRST_BASE: Length = Length::from_um(8_500);
const SECOND_BASE: Length = Length::from_um(17_700);
/// Above the tiles: the base line of the title, and the line below it.
const TITLE_BASE: Length = Length::from_um(2_700);
const RULE: Length = Length::from_um(1_200);
/// The widest that a printer's name is written.
const PRINTER: Length = Length::from_mm(30);

/// Draws the head of the sheet of this index, counted from 0.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, index: usize) {
    let page = print.plan.sheets[index].page.of_head();
    let all = canvas.printable();
    let room = all.x.grown(-INSET);
    let wording = print.request.heading.wording;
    let is_fitted = print.request.correction.is_some_and(|c| c.fitted);
    let scale = if is_fitted { Word::PrintFitted } else { Word::PrintAtFull };
    let scale = wording.say(scale);
    let sheets = print.plan.sheets.len();
    let number =
        wording.fill(Word::SheetOf, &[("number", &(index + 1)), ("count", &sheets)]);
    let first = all.y.to - FIRST_BASE;
    let number_wide = lettering::width(&number, SHEET);
    // Where both have no room on one row, which sheet it is goes to the next.
    let both =
        |size| lettering::width(scale, size) + BETWEEN + number_wide <= room.length();
    let alone = |size| lettering::width(scale, size) <= room.length();
    let size = |fits: &dyn Fn(Length) -> bool| FIRST.into_iter().find(|size| fits(*size));
    let beside = size(&both);
    let size = beside.or_else(|| size(&alone)).unwrap_or(FIRST[FIRST.len() - 1]);
    let at = |x, y| Point::new(x, y);
    canvas.write(TextItem::new(at(room.from, first), Anchor::Start, size, scale).bold());
    let second = all.y.to - SECOND_BASE;
    let number_base = if beside.is_some() { first } else { second };
    let number = TextItem::new(at(room.to, number_base), Anchor::End, SHEET, &number);
    canvas.write(number.bold());
    let (row, base) = if page.has_low_head() {
        let from = room.from + lettering::width(scale, size) + BETWEEN;
        (Extent { from, to: room.to - number_wide - BETWEEN }, first)
    } else if beside.is_some() {
        (room, second)
    } else {
        (Extent { to: room.to - number_wide - BETWEEN, ..room }, second)
    };
    let mut facts = facts(print);
    if !page.has_low_head() && beside.is_some() {
        // Between how to print and which sheet it is, all but the code have room.
        let code = facts.pop();
        facts.reverse();
        let words = facts.join(" · ");
        let from = room.from + lettering::width(scale, size) + BETWEEN;
        let free = room.to - number_wide - BETWEEN - from;
        let fits = |size: &Length| lettering::width(&words, *size) <= free;
        let own = FACTS.into_iter().map(|(size, _)| size).find(fits);
        match own {
            Some(size) => {
                let text = TextItem::new(at(from, first), Anchor::Start, size, &words);
                canvas.write(text);
                facts.clear();
            }
            None => facts.reverse(),
        }
        facts.extend(code);
    }
    write_title(canvas, print, index, &facts);
    write_sentence(canvas, print, index, row, base);
}

/// Writes what to do, and draws the key plan beside it, as far as there is room.
fn write_sentence(
    canvas: &mut Canvas,
    print: &Print<'_>,
    index: usize,
    room: Extent,
    base: Length,
) {
    let heading = print.request.heading;
    let wording = heading.wording;
    let mut sentence = wording.say(Word::NoFitting).to_owned();
    let scaling = print.request.scaling(print.plan.sheets[index].page);
    if let Some((correction, scaling)) = print.request.correction.zip(scaling) {
        let printer = shorten(&correction.printer, FACTS[0].0, PRINTER);
        let named = wording.fill(Word::ForPrinter, &[("printer", &printer)]);
        let how = if correction.fitted { Word::FitAgain } else { Word::NoFittingShort };
        let named = wording.labelled(&named, &token(scaling));
        sentence = format!("{named}. {}", wording.say(how));
    }
    let set = |&(size, most): &(Length, usize)| {
        let lines = balanced(&sentence, size, room.length(), most)?;
        Some((size, lines))
    };
    let mut plan_from = room.from;
    if let Some((size, lines)) = SENTENCE.iter().find_map(set) {
        let widths = lines.iter().map(|line| lettering::width(line, size));
        plan_from += widths.max().unwrap_or_default() + BETWEEN;
        let leading = size.times(115, 100);
        let above = i64::try_from(lines.len()).unwrap_or(1) - 1;
        // Three lines begin as high as two, and end lower.
        let mut y = base + leading.times(above * 2, 3).min(leading * above);
        for line in lines {
            canvas.write(TextItem::new(
                Point::new(room.from, y),
                Anchor::Start,
                size,
                &line,
            ));
            y -= leading;
        }
    }
    // Sheets for several sizes have no one strap to show.
    if !matches!(heading.sizes, PrintedSizes::Common(_)) {
        let room = Extent { from: plan_from, to: room.to };
        key_plan::draw(canvas, print, index, room, base - Length::from_um(700));
    }
}

/// A text in at most so many lines, none much longer than the others; `None` where it takes
/// more.
fn balanced(text: &str, size: Length, room: Length, most: usize) -> Option<Vec<String>> {
    let set = |room| {
        let mut lines = Vec::new();
        add_words(&mut lines, words(text), " ", size, room);
        let fits = lines.iter().all(|line| lettering::width(line, size) <= room);
        (fits && lines.len() <= most).then_some(lines)
    };
    let step = Length::from_mm(2);
    let steps = room.nm() / step.nm();
    (0..=steps).map(|i| step * i).chain([room]).find_map(set)
}

/// Writes title, wearer and print at the left, and the long check at the right.
fn write_title(canvas: &mut Canvas, print: &Print<'_>, index: usize, facts: &[String]) {
    let page = print.plan.sheets[index].page;
    let all = canvas.printable();
    let room = all.x.grown(-INSET);
    let floor = all.y.to - page.head();
    let rule =
        line(all.x.from + INSET - BETWEEN / 4, floor + RULE, room.to, floor + RULE);
    canvas.stroke(Layer::Guides, Pen::Thin, vec![rule]);
    let heading = print.request.heading;
    let checks = checks(print, index);
    let base = floor + TITLE_BASE;
    let (left, right) = (Point::new(room.from, base), Point::new(room.to, base));
    let title = heading.title.trim();
    // The facts that matter least come first, and leave first.
    let tries = (0..facts.len()).flat_map(|gone| FACTS.map(|sizes| (gone, sizes)));
    let wide = |size| lettering::width(title, size);
    let tries: Vec<_> = tries.collect();
    let smallest = TITLES[TITLES.len() - 1];
    let whole = TITLES.map(|size| (size, wide(size)));
    let cut = (smallest, wide(smallest).min(LEAST_TITLE));
    let titles = whole.into_iter().chain([cut]);
    let tries = titles.flat_map(|title| tries.iter().map(move |t| (*t, title)));
    let tries: Vec<_> = tries.collect();
    // Where there is no room for all long checks, the last are on the ticket alone.
    let counts = (1..=checks.len()).rev().chain([0]);
    let tries = counts.flat_map(|n| tries.iter().map(move |t| (n, *t)));
    let mut last = None;
    for (n, ((gone, (small, large)), (size, wanted))) in tries {
        let check = |(long, rest): &(String, String)| {
            let text = |words: &str| TextItem::new(right, Anchor::Start, large, words);
            [text(long).bold(), text(rest)]
        };
        let check = checks[..n].iter().flat_map(check).collect();
        let check = Run::new(right, Anchor::End, QuarterTurn::None, check);
        let mut facts: Vec<&str> = facts[gone..].iter().map(String::as_str).collect();
        facts.reverse();
        let facts = TextItem::new(left, Anchor::Start, small, &facts.join(" · "));
        let free = room.length() - check.width() - facts.width() - BETWEEN * 2;
        last = Some((facts, check, free, size));
        if free >= wanted {
            break;
        }
    }
    if let Some((facts, check, free, size)) = last {
        let title = shorten(title, size, free.max(Length::ZERO));
        let title = TextItem::new(left, Anchor::Start, size, &title).bold();
        let run = Run::new(left, Anchor::Start, QuarterTurn::None, vec![title, facts]);
        canvas.write_run(run);
        canvas.write_run(check);
    }
}

/// What print this is: what matters least first.
fn facts(print: &Print<'_>) -> Vec<String> {
    let heading = print.request.heading;
    let wording = heading.wording;
    let wearer = heading.wearer.trim();
    let wearer =
        (!wearer.is_empty()).then(|| wording.fill(Word::For, &[("wearer", &wearer)]));
    let paper = print.request.paper.name().to_owned();
    let sizes = sizes(heading);
    let code = wording.fill(Word::PrintCode, &[("code", &print.fingerprint)]);
    let all = wearer.into_iter().chain([paper, sizes, code]);
    all.filter(|fact| !fact.is_empty()).collect()
}

/// What to measure on the joined pieces of this sheet: what it must be, and what to accept.
/// Pieces that must be as long share an entry.
fn checks(print: &Print<'_>, index: usize) -> Vec<(String, String)> {
    let heading = print.request.heading;
    let wording = heading.wording;
    // Sheets that several sizes have in common cannot say what holds for one of them.
    if matches!(heading.sizes, PrintedSizes::Common(_)) {
        return Vec::new();
    }
    if print.checks.is_empty() {
        return vec![(wording.say(Word::NoJoins).to_owned(), String::new())];
    }
    let tiles = &print.plan.sheets[index].tiles;
    let is_here = |check: &&StripCheck| tiles.iter().any(|t| t.span.index == check.piece);
    let mut own: Vec<&StripCheck> = print.checks.iter().filter(is_here).collect();
    own.dedup_by(|b, a| (a.length, a.window) == (b.length, b.window));
    let words = own.iter().enumerate().map(|(nth, check)| {
        // One has said how it is meant.
        if nth == 0 { check.words(wording) } else { check.short_words(wording) }
    });
    words.collect()
}

fn words(text: &str) -> Vec<String> {
    unbroken_words(text.split_whitespace(), |word| {
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
        wording.fill(
            Word::WithSheet,
            &[("sheets", &sheets.join(", ")), ("code", &own[0].print)],
        )
    });
    own.collect::<Vec<_>>().join(", ")
}
