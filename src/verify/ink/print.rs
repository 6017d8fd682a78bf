//! A whole print: which page shows which sheet, and what is wrong with them together.

use super::align::{Alignment, Letters, Spelled};
use super::matching::{find_sheet, to_page};
use super::sheet::{MeasuredMark, Subjects, judge};
use crate::diagnostic::{Finding, Severity, numbered};
use crate::geom::{Length, Path, Sheet as OnSheet};
use crate::layout::{Layout, Mark, Piece};
use crate::paginate::{Item, Sheet, SheetSet};
use crate::verify::record::{self, MM_PER_POINT, Page};
use crate::verify::report::{ANEW, FoundMark, Report};
use crate::verify::{Print, rule};
use crate::words::Wording;
use hayro::RenderCache;
use hayro::hayro_syntax::Pdf;
use hayro_interpret::kurbo::Affine;
use std::collections::{BTreeMap, BTreeSet};

/// How far a page may be from its paper, in mm: some programs round to whole points.
const PAPER: f64 = 0.5;
/// How far the scale of a page may be from 1: 0.03 mm over 200 mm.
const SCALE: f64 = 1.5e-4;
/// One page of the files.
struct Shown<'a> {
    /// How messages call it: `page 3`, or `page 3 of belt.pdf`.
    name: String,
    page: Page,
    letters: Letters,
    /// The page that is drawn, and the cache of its file.
    source: (&'a Pdf, usize, &'a RenderCache<'a>),
}

/// A page and the sheet that it shows.
struct Match<'p> {
    page: usize,
    sheet: &'p Sheet,
    texts: Vec<Spelled>,
    alignment: Alignment,
}

/// Holds the pages of `files`, each with its name, against a print.
///
/// # Errors
/// Says why a file cannot be read.
pub(in crate::verify) fn verify_print(
    files: &[(&str, &[u8])],
    print: &Print<'_>,
    asked: &[usize],
) -> Result<Report, String> {
    let pdfs: Vec<Pdf> = files
        .iter()
        .map(|(name, bytes)| {
            Pdf::new(bytes.to_vec())
                .map_err(|_| format!("{name} is no PDF that can be read"))
        })
        .collect::<Result<_, _>>()?;
    let caches: Vec<RenderCache<'_>> = pdfs.iter().map(|_| RenderCache::new()).collect();
    let mut shown = Vec::new();
    for (((name, bytes), pdf), cache) in files.iter().zip(&pdfs).zip(&caches) {
        for (index, page) in record::record(bytes)?.into_iter().enumerate() {
            let of = if files.len() > 1 { format!(" of {name}") } else { String::new() };
            let letters = Letters::new(&page);
            let name = format!("page {}{of}", index + 1);
            shown.push(Shown { name, page, letters, source: (pdf, index, cache) });
        }
    }
    let mut matches: Vec<Match<'_>> = Vec::new();
    let mut findings = Vec::new();
    let mut others = Vec::new();
    for (index, one) in shown.iter().enumerate() {
        let taken: BTreeSet<usize> = matches.iter().map(|m| m.sheet.number).collect();
        match find_sheet(&one.letters, index, print.set, &taken) {
            Some((sheet, texts, alignment)) => {
                matches.push(Match { page: index, sheet, texts, alignment });
            }
            None => others.push(index),
        }
    }
    let own: Vec<usize> =
        matches.iter().map(|m| m.sheet.number).filter(|n| *n > 0).collect();
    findings.extend(strangers(&shown, &others, print.set, own.is_empty()));
    findings.extend(order(&own, print.set, asked));
    let mut marks: Vec<FoundMark> = Vec::new();
    for found in &matches {
        let (own, measured) = judge_page(&shown[found.page], found, print);
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
    Ok(Report {
        print: print.set.fingerprint.clone(),
        sheets: own.iter().collect::<BTreeSet<_>>().len(),
        other_pages: shown.len() - own.len(),
        marks,
        findings,
    })
}

/// What is said of pages that are no sheets of the print.
fn strangers(
    shown: &[Shown<'_>],
    others: &[usize],
    set: &SheetSet,
    is_nothing: bool,
) -> Option<Finding> {
    let names = others.iter().filter_map(|i| shown[*i].letters.print_name.clone());
    let prints: BTreeSet<String> =
        names.filter(|name| *name != set.fingerprint).collect();
    let pages = || numbered("page", others.iter().map(|i| i + 1));
    if is_nothing {
        let found = if prints.is_empty() {
            "no page that can be told to be one of its sheets".to_owned()
        } else {
            format!("sheets of {}", Vec::from_iter(prints).join(", "))
        };
        return Some(
            Finding::error(rule::OTHER_JOB, "the pages do not show this job")
                .expected(found, format!("sheets of print {}", set.fingerprint))
                .remedy("give the job, --size and each --set as when it was drawn"),
        );
    }
    (!prints.is_empty()).then(|| {
        let found = format!("{} of {}", pages(), Vec::from_iter(prints).join(", "));
        Finding::warning(rule::PRINTS_MIXED, "sheets of different prints are mixed")
            .expected(found, format!("sheets of print {}", set.fingerprint))
            .remedy("take out the pages that are not of this print, or draw the job anew")
    })
}

/// Sheets that are missing, there twice, or out of order.
fn order(own: &[usize], set: &SheetSet, asked: &[usize]) -> Vec<Finding> {
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
    if !missing.is_empty() && !own.is_empty() {
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
fn judge_page(
    shown: &Shown<'_>,
    found: &Match<'_>,
    print: &Print<'_>,
) -> (Vec<Finding>, Vec<MeasuredMark>) {
    let Match { sheet, texts, alignment, .. } = found;
    let mut findings = page_setup(shown, sheet, alignment.by_lines);
    let [sx, sy] = alignment.scale;
    if (sx - 1.0).abs() > SCALE || (sy - 1.0).abs() > SCALE {
        findings.push(scaled(shown, *alignment, print));
        return (findings, Vec::new());
    }
    let own = shown.letters.print_name.as_ref();
    let any_head = own.is_some_and(|own| *own != print.set.fingerprint);
    let (pdf, index, cache) = shown.source;
    let page = &pdf.pages()[index];
    let unit = MM_PER_POINT * shown.page.facts.user_unit;
    let to_mm =
        Affine::scale(unit) * Affine::new(page.initial_transform(false).as_coeffs());
    let subjects = Subjects {
        sheet,
        name: &shown.name,
        texts,
        letters: &shown.letters,
        alignment: *alignment,
        any_head,
    };
    let way = to_page(sheet, print.set);
    let (ink, marks) = judge(page, cache, to_mm, &subjects, |p| way.point(p));
    findings.extend(ink.into_iter().map(|f| f.remedy(ANEW)));
    (findings, marks)
}

/// What the dictionaries say of a page.
fn page_setup(shown: &Shown<'_>, sheet: &Sheet, by_lines: bool) -> Vec<Finding> {
    let (facts, name) = (&shown.page.facts, &shown.name);
    let mut all = Vec::new();
    let sides = [sheet.width, sheet.height].map(Length::as_mm_f64);
    let [width, height] = shown.page.size;
    if (width - sides[0]).abs().max((height - sides[1]).abs()) > PAPER {
        all.push(
            Finding::error(
                rule::PAGE_SIZE,
                format!("{name} is not as large as its paper"),
            )
            .expected(
                format!("{width:.1} × {height:.1} mm"),
                format!("{:.1} × {:.1} mm", sides[0], sides[1]),
            )
            .remedy("draw the job anew for the paper that it is printed on"),
        );
    }
    if facts.hides_layers {
        all.push(
            Finding::error(
                rule::PAGE_SETUP,
                format!("{name} may not print all its layers"),
            )
            .expected("a layer that is hidden, or not printed", "layers that are all on")
            .remedy(ANEW),
        );
    }
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
    if facts.print_scaling != "None" && shown.source.1 == 0 {
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
fn scaled(shown: &Shown<'_>, alignment: Alignment, print: &Print<'_>) -> Finding {
    let [x, y] = alignment.scale.map(|s| s * 100.0);
    let is_even = (x - y).abs() < 0.02;
    let (what, remedy) = match (is_even, print.set.correction.is_some()) {
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
