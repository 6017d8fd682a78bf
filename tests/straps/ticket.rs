//! The ticket: one page for a belt in every language, readings that a tape agrees with, and
//! a card's outline in true size.

use crate::common::samples;
use strapwright::geom::{Extent, Length, Path, Ratio, Sheet as OnSheet};
use strapwright::job::Job;
use strapwright::layout::{Layout, MarkKind};
use strapwright::paginate::{
    Anchor, Correction, Factor, Heading, Item, Paper, Request, Sheet, SheetSet, paginate,
};
use strapwright::ticket::{Body, Table, Ticket, TicketInput, text, ticket};
use strapwright::words::{Language, Units, Word, Wording};
use strapwright::{Prepared, lettering, prepare};

fn laid(name: &str, job: &str) -> (Job, Layout, Ticket) {
    worded(name, job, Wording::default())
}

fn worded(name: &str, job: &str, wording: Wording) -> (Job, Layout, Ticket) {
    let Prepared { laid, .. } = prepare(name, job, &[]);
    let (job, fit, layout) = laid.expect("a sound job");
    let input = TicketInput { job: &job, fit: fit.as_ref(), layout: &layout, wording };
    let ticket = ticket(&input);
    (job, layout, ticket)
}

fn printed(layout: &Layout, ticket: &Ticket, paper: &str) -> SheetSet {
    let (heading, paper) = (Heading::default(), Paper::parse(paper).expect("a paper"));
    let request = Request::new(layout, &heading, &paper);
    paginate(&Request { ticket: Some(ticket), ..request }).expect("room")
}

fn all_wordings() -> impl Iterator<Item = Wording> {
    Language::ALL.into_iter().flat_map(|language| {
        Units::NAMES.into_iter().map(move |(_, units)| Wording { language, units })
    })
}

/// The stretch along x that a line of text takes.
fn width_of(item: &Item) -> Option<(Extent, &str)> {
    let Item::Text { at, anchor, size, text, .. } = item else { return None };
    let wide = lettering::width(text, *size);
    let from = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - wide / 2,
        Anchor::End => at.x - wide,
    };
    Some((Extent { from, to: from + wide }, text))
}

/// Common practice of the bench, no source: a sheet to work from is one sheet.
#[test]
fn a_belt_has_one_page_or_two_in_every_language() {
    for (name, job) in samples::jobs() {
        for wording in all_wordings() {
            let (job, layout, ticket) = worded(&name, &job, wording);
            let is_plain = wording == Wording::default();
            if job.template != "belt" && !is_plain {
                continue;
            }
            for paper in ["a4", "letter"] {
                let set = printed(&layout, &ticket, paper);
                let what = format!("{name} on {paper}, {wording:?}");
                // With inches the tables are wider, and some words are longer than in English.
                let most = if is_plain { 1 } else { 2 };
                if job.template == "belt" {
                    assert!(set.ticket.len() <= most, "{what}");
                }
                for page in &set.ticket {
                    keeps_to_the_page(page, &what);
                }
            }
        }
    }
}

fn keeps_to_the_page(page: &Sheet, what: &str) {
    let within =
        Extent { from: Length::from_mm(10), to: page.width - Length::from_mm(10) };
    for (across, text) in page.items.iter().filter_map(width_of) {
        assert!(within.holds(across), "{what}: `{text}` runs off the page");
    }
}

fn tables(ticket: &Ticket) -> impl Iterator<Item = &Table> {
    ticket.parts.iter().filter_map(|part| match &part.body {
        Body::Table(table) | Body::Marks(table) => Some(table),
        _ => None,
    })
}

/// `−2 3/16 in` in thirty-seconds of an inch, read here and not by the program.
fn thirty_seconds(cell: &str) -> i64 {
    let (sign, rest) = match cell.strip_prefix('−') {
        Some(rest) => (-1, rest),
        None => (1, cell),
    };
    let words = rest.strip_suffix(" in").expect("inches").split(' ');
    let value = |word: &str| match word.split_once('/') {
        Some((n, d)) => {
            let number = |s: &str| s.parse::<i64>().expect("a number");
            number(n) * 32 / number(d)
        }
        None => word.parse::<i64>().expect("a number") * 32,
    };
    sign * words.map(value).sum::<i64>()
}

/// Millimetres, tenths, of a cell such as `−75.8` or `+0.3 mm`.
fn tenths(cell: &str) -> i64 {
    let plain = cell.replace('−', "-").replace(['+', '.'], "").replace(" mm", "");
    let number: i64 = plain.parse().expect("a number");
    if cell.contains('.') { number } else { number * 10 }
}

/// 1 in = 25.4 mm (NIST SP 811, App. B): inches and what is left over are the millimetres.
#[test]
fn inches_and_their_rest_are_the_millimetres() {
    let mut seen = 0;
    for (name, job) in samples::jobs() {
        let (_, layout, ticket) = laid(&name, &job);
        let marks = tables(&ticket).filter(|t| t.head.len() >= 5 && t.head[1] == "mm");
        for row in marks.flat_map(|t| &t.rows) {
            let (mm, inches, rest) = (tenths(&row[1]), &row[2], tenths(&row[3]));
            // 1/32 in is 0.79375 mm; each cell is rounded to a tenth of a millimetre.
            let nm = thirty_seconds(inches) * 793_750 + rest * 100_000;
            assert!((nm - mm * 100_000).abs() <= 100_000, "{name}: {row:?}");
            assert!(
                rest.abs() <= 4,
                "{name}: {inches} is not the nearest 1/32 in: {row:?}"
            );
            seen += 1;
        }
        // A row of many says how many: `13 × hole`.
        let many = |row: &Vec<String>| {
            let told = row[0].split_once(" × ").filter(|_| row.len() > 4);
            let count = |(n, what): (&str, &str)| {
                n.parse::<usize>().ok().map(|n| if what == "stitch" { 0 } else { n })
            };
            told.and_then(count).unwrap_or(usize::from(row[0] != "…"))
        };
        let told: usize = tables(&ticket).flat_map(|t| &t.rows).map(many).sum();
        // Copies are told once.
        let marks = layout.copies().into_iter().flat_map(|c| &c.pieces[0].marks);
        let single = marks
            .filter(|m| !matches!(m.kind, MarkKind::Bend | MarkKind::Stitch))
            .count();
        assert!(told >= single + layout.copies().len(), "{name}: every mark has a row");
    }
    assert!(seen > 100, "{seen} rows");
}

fn extents(path: &Path<OnSheet>) -> (Length, Length) {
    let ends = || std::iter::once(path.start).chain(path.steps.iter().map(|s| s.to()));
    let spread = |of: fn(strapwright::geom::Point<OnSheet>) -> Length| {
        let (low, high) = (ends().map(of).min(), ends().map(of).max());
        high.unwrap_or_default() - low.unwrap_or_default()
    };
    (spread(|p| p.x), spread(|p| p.y))
}

/// ISO/IEC 7810: a card of size ID-1 is 85.60 by 53.98 mm.
#[test]
fn the_card_has_its_true_size() {
    let card = (Length::from_um(85_600), Length::from_um(53_980));
    for (name, job) in samples::jobs() {
        let (_, layout, ticket) = laid(&name, &job);
        for paper in ["a4", "letter", "a3", "roll"] {
            let set = printed(&layout, &ticket, paper);
            let paths =
                set.ticket.iter().flat_map(|p| &p.items).filter_map(|item| match item {
                    Item::Stroke { paths, .. } => Some(paths),
                    _ => None,
                });
            let cards =
                paths.flatten().filter(|p| p.closed && extents(p) == card).count();
            // It stays where there is room for it.
            assert!(cards <= 1 && (cards == 1 || paper != "a3"), "{name} on {paper}");
        }
    }
}

/// However long a ticket is, no page of it is there for the card alone.
#[test]
fn no_page_is_for_the_card_alone() {
    let (name, job) = samples::jobs().into_iter().next().unwrap();
    let (_, layout, ticket) = laid(&name, &job);
    let (mut without, mut longest) = (0, 0);
    for more in 0..=160 {
        let mut longer = ticket.clone();
        let Body::Lines(lines) = &mut longer.parts.last_mut().unwrap().body else {
            unreachable!("cautions are lines")
        };
        lines.extend((0..more).map(|n| format!("line {n}")));
        let set = printed(&layout, &longer, "a4");
        let words = |page: &Sheet| -> Vec<String> {
            let texts = page.items.iter().filter_map(width_of);
            texts.map(|(_, text)| text.to_owned()).collect()
        };
        let pages: Vec<Vec<String>> = set.ticket.iter().map(words).collect();
        let has_card = pages.iter().flatten().any(|text| text.contains("7810"));
        without += usize::from(!has_card);
        longest = pages.len().max(longest);
        // The signs are the last that the ticket must have.
        let is_told =
            |text: &String| text.starts_with("line ") || text == "middle of the strap";
        let last = pages.last().unwrap();
        assert!(pages.len() == 1 || last.iter().any(is_told), "{more}: {last:?}");
    }
    assert!(without > 0 && longest > 1, "{without} without a card, {longest} pages");
}

/// Where the printer leaves 20 mm blank, two columns still stand beside each other on A4,
/// narrower than the card, which touches no words.
#[test]
fn wide_margins_leave_two_columns() {
    let one = Factor { by: Ratio::ONE, proven: Ratio::from_millionths(1_000) };
    let margin = Length::from_mm(20);
    let (long, short, fitted) = (one, one, false);
    let correction = Correction { printer: "attic".into(), long, short, margin, fitted };
    let (heading, paper) = (Heading::default(), Paper::parse("a4").unwrap());
    let belts = |job: &str| job.contains("template = \"belt\"");
    for (name, job) in samples::jobs().into_iter().filter(|(_, j)| belts(j)) {
        let (_, layout, ticket) = laid(&name, &job);
        let request = Request {
            ticket: Some(&ticket),
            correction: Some(&correction),
            ..Request::new(&layout, &heading, &paper)
        };
        let set = paginate(&request).unwrap();
        let page = &set.ticket[0];
        let inner = Extent { from: margin, to: page.width - margin };
        let middle = page.width / 2;
        let mut in_right = 0;
        let card = page.items.iter().find_map(|item| match item {
            Item::Stroke { paths, .. } => {
                paths.iter().find(|p| p.closed && p.steps.len() > 5)
            }
            _ => None,
        });
        let ends = card.into_iter().flat_map(|card| card.steps.iter().map(|s| s.to()));
        let (left, top) = (ends.clone().map(|p| p.x).min(), ends.map(|p| p.y).max());
        let left = left.unwrap_or(page.width);
        let items = set.ticket.iter().flat_map(|page| &page.items);
        for (item, (across, text)) in items.filter_map(|i| Some((i, width_of(i)?))) {
            assert!(inner.holds(across), "{name}: `{text}` runs off the page");
            in_right += usize::from(across.from > middle);
            let Item::Text { at, .. } = item else { continue };
            let is_beside = Some(at.y) < top && across.from < left;
            assert!(!is_beside || across.to < left, "{name}: `{text}` and the card");
        }
        assert!(in_right > 5, "{name}: {in_right} lines in the right column");
    }
}

/// What the demo belt asks for, as a person reads it.
#[test]
fn the_demo_ticket_says_what_to_do() {
    let (_, _, ticket) = laid("demo", strapwright::template::DEMO_JOB);
    let said = text(&ticket);
    for words in [
        "Ferryman's belt for Tobias Wren",
        "bend to hole: 863.6 mm",
        "strap    1111.6 mm  38.1 mm     3.5 mm",
        "hole 2 size   863.6        34 in        0  Ø 4.8 mm",
        "2 × rivet, hole Ø 4 mm, stack 7 mm: post 7 mm to 10 mm",
        "[ ] Both scale bars",
        "  1. Cut the pieces",
        "Not rated: not for lifting",
    ] {
        assert!(said.contains(words), "{words}:\n{said}");
    }
    // In this order: mark, punch, skive, dye, burnish, finish, and metal last (common
    // practice, no source).
    let order = [
        "Tape the paper",
        "Punch the slots",
        "Skive",
        "dye",
        "Burnish",
        "Apply the finish",
        "Fold round",
        "Try the strap on",
    ];
    let at: Vec<_> = order.iter().map(|w| said.find(w)).collect();
    assert!(at.is_sorted() && at.iter().all(Option::is_some), "{at:?}");
}

/// In another language nothing of the table of words is English.
#[test]
fn a_ticket_is_in_one_language() {
    let job = strapwright::template::DEMO_JOB;
    for language in Language::ALL.into_iter().skip(1) {
        let wording = Wording { language, units: Units::Both };
        let (.., ticket) = worded("demo", job, wording);
        let said = text(&ticket);
        for word in
            [Word::OrderOfWork, Word::MarksByTape, Word::Cautions, Word::StepSkive]
        {
            let english = Wording::default().say(word);
            assert!(!said.contains(english), "{language:?}: {english}");
        }
        // French keeps a number and its unit together.
        let gap = if language == Language::French { "\u{a0}" } else { " " };
        let length = format!("863,6{gap}mm (34{gap}in)");
        assert!(said.contains(&length), "{language:?}");
    }
}
