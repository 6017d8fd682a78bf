//! A whole print: which page shows which sheet, and what is wrong with them together.

use super::align::{Alignment, Letters, Spelled};
use super::matching::find_sheet;
use super::sheet::{MeasuredMark, Subjects, judge};
use crate::diagnostic::{Finding, RuleId, Severity, forbids_print, numbered};
use crate::geom::{Length, Path, Sheet as OnSheet};
use crate::layout::{Layout, Mark, Piece};
use crate::paginate::{Item, Sheet, SheetSet};
use crate::verify::record;
use crate::verify::report::{ANEW, FoundMark, Report};
use crate::verify::setup::{page_setup, to_page};
use crate::verify::{Print, Shown, rule};
use crate::words::Wording;
use hayro::RenderCache;
use hayro::hayro_syntax::Pdf;
use std::collections::{BTreeMap, BTreeSet};

/// How far the scale of a page may be from 1: 0.03 mm over 200 mm.
const SCALE: f64 = 1.5e-4;
/// A page and the sheet that it shows.
struct Match<'p> {
    shown: Shown,
    letters: Letters,
    sheet: &'p Sheet,
    texts: Vec<Spelled>,
    alignment: Alignment,
}

/// Holds pages against a print; they are those of `pdfs`.
pub(in crate::verify) fn verify_print(
    pdfs: &[Pdf],
    pages: Vec<Shown>,
    print: &Print<'_>,
    asked: &[usize],
) -> Report {
    let caches: Vec<RenderCache<'_>> = pdfs.iter().map(|_| RenderCache::new()).collect();
    let (mut matches, mut others): (Vec<Match<'_>>, Vec<Shown>) =
        (Vec::new(), Vec::new());
    let mut findings = Vec::new();
    for (index, shown) in pages.into_iter().enumerate() {
        let taken: BTreeSet<usize> = matches.iter().map(|m| m.sheet.number).collect();
        let letters = Letters::new(&shown.page);
        match find_sheet(&letters, index, print.set, &taken) {
            Some((sheet, texts, alignment)) => {
                matches.push(Match { shown, letters, sheet, texts, alignment });
            }
            None => others.push(shown),
        }
    }
    let own: Vec<usize> =
        matches.iter().map(|m| m.sheet.number).filter(|n| *n > 0).collect();
    findings.extend(strangers(&others, print.set, own.is_empty()));
    let turned = others.iter().filter(|shown| shown.page.facts.is_turned).count();
    findings.extend(order(&own, print.set, asked, turned));
    let mut marks: Vec<FoundMark> = Vec::new();
    for found in &matches {
        let (file, _) = found.shown.place;
        let (own, measured) = judge_page(&pdfs[file], &caches[file], found, print);
        findings.extend(own);
        marks.extend(found_marks(found.sheet, &measured, print.layout));
    }
    // A mark in an overlap is on two tiles.
    let mut seen = BTreeSet::new();
    marks.retain(|m| {
        let place = m.expected_mm.map(f64::to_bits);
        seen.insert((m.piece.clone(), m.label.clone(), m.kind.clone(), place))
    });
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    Report {
        print: print.set.fingerprint.clone(),
        printer: print.set.settings.printer_words(),
        sheets: own.iter().collect::<BTreeSet<_>>().len(),
        ticket_pages: matches.len() - own.len(),
        other_pages: others.len(),
        marks,
        findings,
    }
}

/// What is said of pages that are no sheets of the print; `is_nothing` where no other page is.
fn strangers(others: &[Shown], set: &SheetSet, is_nothing: bool) -> Vec<Finding> {
    let wanted = format!("sheets of print {}", set.fingerprint);
    let list = |all: &[&Shown]| {
        all.iter().map(|shown| shown.name.as_str()).collect::<Vec<_>>().join(", ")
    };
    let (turned, others): (Vec<&Shown>, Vec<&Shown>) =
        others.iter().partition(|shown| shown.page.facts.is_turned);
    let mut all = Vec::new();
    if !turned.is_empty() {
        let message = format!("{} turned when shown", list(&turned));
        all.push(
            Finding::error(rule::PAGE_SETUP, message)
                .expected(
                    "a /Rotate that another program set",
                    "pages as they were drawn",
                )
                .remedy("turn the pages back, or print the file that draw wrote"),
        );
    }
    let name = |shown: &&Shown| shown.page.print_name().filter(|n| *n != set.fingerprint);
    let (foreign, nameless): (Vec<&Shown>, Vec<&Shown>) =
        others.into_iter().partition(|shown| name(shown).is_some());
    let prints: BTreeSet<String> = foreign.iter().filter_map(name).collect();
    let prints = Vec::from_iter(prints).join(", ");
    if is_nothing && turned.is_empty() {
        let found = if foreign.is_empty() {
            "no page that can be told to be one of its sheets".to_owned()
        } else {
            format!("sheets of {prints}")
        };
        all.push(
            Finding::error(rule::OTHER_JOB, "the pages do not show this job")
                .expected(found, wanted)
                .remedy("give the job, --size and each --set as when it was drawn"),
        );
        return all;
    }
    let mut stray = |rule: RuleId, message: &str, found: String| {
        all.push(Finding::warning(rule, message).expected(found, wanted.clone()).remedy(
            "take out the pages that are not of this print, or draw the job anew",
        ));
    };
    if !foreign.is_empty() {
        let found = format!("{} of {prints}", list(&foreign));
        stray(rule::PRINTS_MIXED, "sheets of different prints are mixed", found);
    }
    if !nameless.is_empty() {
        let found = list(&nameless);
        stray(rule::PAGE_STRAY, "there are pages that show none of its sheets", found);
    }
    all
}

/// Sheets that are missing, there twice, or out of order. So many sheets are among the pages
/// that are turned.
fn order(own: &[usize], set: &SheetSet, asked: &[usize], turned: usize) -> Vec<Finding> {
    let mut all = Vec::new();
    let mut there = BTreeSet::new();
    let twice: Vec<usize> = own.iter().copied().filter(|n| !there.insert(*n)).collect();
    let list = || own.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    if !twice.is_empty() {
        let message = format!("{} is there more than once", numbered("sheet", twice));
        all.push(
            Finding::error(rule::SHEET_TWICE, message)
                .expected(list(), "each sheet once")
                .remedy("take the copies out"),
        );
    }
    let wanted: BTreeSet<usize> = if asked.is_empty() {
        set.sheets.iter().map(|s| s.number).collect()
    } else {
        asked.iter().copied().collect()
    };
    let missing: Vec<usize> = wanted.difference(&there).copied().collect();
    if missing.len() > turned && !own.is_empty() {
        let message = format!("{} is not there", numbered("sheet", missing));
        all.push(
            Finding::error(rule::SHEET_MISSING, message)
                .expected(list(), "every sheet of the print")
                .remedy(
                    "give the files of all sheets, or --sheets for those that you have",
                ),
        );
    }
    if own.windows(2).any(|pair| pair[0] > pair[1]) {
        all.push(
            Finding::warning(rule::SHEET_ORDER, "the sheets are not in their order")
                .expected(list(), "rising numbers")
                .remedy("lay them in the order of their numbers"),
        );
    }
    all
}

/// Judges one page and says what else is wrong with it.
fn judge_page<'a>(
    pdf: &'a Pdf,
    cache: &RenderCache<'a>,
    found: &Match<'_>,
    print: &Print<'_>,
) -> (Vec<Finding>, Vec<MeasuredMark>) {
    let Match { shown, letters, sheet, texts, alignment } = found;
    let mut findings = facts(shown, sheet, alignment.by_lines);
    // The words of a ticket move with what they say, so they tell no scale.
    let is_scaled = alignment.scale.iter().any(|scale| (scale - 1.0).abs() > SCALE);
    if is_scaled && sheet.number > 0 {
        findings.push(scaled(shown, *alignment, print));
        return (findings, Vec::new());
    }
    let own = letters.print_name.as_ref();
    let any_head = own.is_some_and(|own| *own != print.set.fingerprint);
    let page = &pdf.pages()[shown.place.1];
    let to_mm = record::to_mm(page, &shown.page.facts);
    let subjects = Subjects {
        sheet,
        to_page: to_page(sheet, print.set),
        name: &shown.name,
        texts,
        letters,
        alignment: *alignment,
        any_head,
    };
    let judged = match shown.page.heavy {
        Some(what) => Err(format!("{what} on it")),
        None => judge(page, cache, to_mm, &subjects).ok_or_else(|| "an error".to_owned()),
    };
    match judged {
        // A sheet that was kept from another print is the same in all but its head.
        Ok((ink, _)) if any_head && forbids_print(&ink) => {
            let message = format!("{} is of another print", shown.name);
            let found = format!("a sheet of {}", own.map_or("", String::as_str));
            let wanted =
                format!("one of {}, or one that is the same", print.set.fingerprint);
            findings.push(Finding::error(rule::PRINTS_MIXED, message).expected(found, wanted).remedy(
                "take out the pages that are not of this print, or draw the job anew",
            ));
            (findings, Vec::new())
        }
        Ok((ink, marks)) => {
            findings.extend(ink.into_iter().map(|f| f.remedy(ANEW)));
            (findings, marks)
        }
        Err(found) => {
            let message = format!("{} cannot be drawn as a printer would", shown.name);
            let undrawn = Finding::error(rule::INK_EXTRA, message);
            findings.push(undrawn.expected(found, "lines, areas and words").remedy(ANEW));
            (findings, Vec::new())
        }
    }
}

/// What is to be said of a page before its ink is looked at.
fn facts(shown: &Shown, sheet: &Sheet, by_lines: bool) -> Vec<Finding> {
    let (facts, name) = (&shown.page.facts, &shown.name);
    let mut all = page_setup(name, &shown.page, sheet);
    if by_lines {
        all.push(
            Finding::new(
                rule::WORDS_UNREAD,
                Severity::Warning,
                format!("the words of {name} cannot be read as text"),
            )
            .expected("letters without a name", "text, as `strapwright draw` writes it")
            .remedy(
                "the sheet was known by its lines; read its numbers and labels yourself",
            ),
        );
    }
    if facts.print_scaling != "None" && shown.place.1 == 0 {
        all.push(
            Finding::warning(
                rule::PRINT_SCALING,
                "the file leaves it to the reader to scale it",
            )
            .expected(
                "no /PrintScaling of `None`",
                "one, as `strapwright draw` writes it",
            )
            .remedy("choose 100 % or actual size when you print"),
        );
    }
    all
}

/// A page that is not at full scale, and what may have done it.
fn scaled(shown: &Shown, alignment: Alignment, print: &Print<'_>) -> Finding {
    let [x, y] = alignment.scale.map(|s| s * 100.0);
    let is_even = (x - y).abs() < 0.02;
    let (what, remedy) = match (is_even, print.set.settings.printer.is_some()) {
        (true, _) if x < 100.0 && x > 99.0 => (
            "a program that saved it anew made it smaller",
            "print the file that `strapwright draw` wrote",
        ),
        (true, _) => ("it was fitted or zoomed", "print the file itself, at 100 %"),
        (false, false) => (
            "it is corrected for a printer, and the print it is held against is not",
            "draw the job for the printer that it is printed on",
        ),
        (false, true) => (
            "it has the factors of another printer",
            "draw the job for the printer that it is printed on",
        ),
    };
    Finding::error(rule::SHEET_SCALED, format!("{} is not at full scale", shown.name))
        .expected(
            format!("{x:.3} % along the width, {y:.3} % along the height: {what}"),
            "100 %",
        )
        .remedy(remedy)
}

/// Every form of a sheet that is a mark, as it was found.
fn found_marks(
    sheet: &Sheet,
    measured: &[MeasuredMark],
    layout: &Layout,
) -> Vec<FoundMark> {
    let mut known: BTreeMap<Path<OnSheet>, (&Piece, &Mark)> = BTreeMap::new();
    for tile in &sheet.tiles {
        let Some(piece) = layout.pieces.get(tile.piece) else { continue };
        for mark in piece.marks.iter().filter(|m| tile.holds(m)) {
            if let Some(path) = mark.path() {
                known.insert(path.placed(tile.placement), (piece, mark));
            }
        }
    }
    let mark = |one: &MeasuredMark| {
        let Item::Stroke { paths, .. } = &sheet.items[one.item] else { return None };
        let (piece, mark) = known.get(&paths[one.path])?;
        let expected = [mark.at.x, mark.at.y].map(Length::as_mm_f64);
        let size = [mark.x_extent(), mark.y_extent()].map(|e| e.length().as_mm_f64());
        Some(FoundMark {
            sheet: sheet.number,
            piece: piece.key(),
            feature: layout.feature(mark).to_string(),
            label: layout.label(mark, Wording::default()),
            kind: mark.kind.word().to_owned(),
            found_mm: [expected[0] + one.off.x, expected[1] + one.off.y],
            size_mm: size.map(|side| side + one.wider * 2.0),
            expected_mm: expected,
            error_mm: one.off.hypot(),
        })
    };
    measured.iter().filter_map(mark).collect()
}
