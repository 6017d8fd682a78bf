//! Stock sizes: read, drawn, reprinted and nested.

use crate::common::pdf::{Page, pages};
use crate::common::{belt, cases, mm, run};
use proptest::prelude::*;
use std::collections::BTreeSet;
use strapwright::export::pdf::{self, pdf};
use strapwright::geom::{Length, Point, Strap};
use strapwright::job::{self, Job, MeasureMethod};
use strapwright::layout::{Layout, Mark, MarkKind, Nest, Shape, lay_out, nest};
use strapwright::paginate::{
    Heading, Paper, PrintedSizes, Request, SheetSet, compare_sheets, paginate,
};
use strapwright::{fit, stock};

const RACK: &str = "template = \"belt\"\ntitle = \"Rack\"\nwearer = \"Ada\"\n\
                    measure.taken = \"bend-to-hole\"\n";

/// A sound job of these lines, with its layout.
fn laid(lines: &str) -> (Job, Layout) {
    let done = run(&format!("{RACK}{lines}"), &[]);
    let (job, _, layout) =
        done.laid.clone().unwrap_or_else(|| unreachable!("{}", done.text()));
    (job, layout)
}

fn sized(sizes: &str, size: &str) -> (Job, Layout) {
    laid(&format!("stock.sizes = {sizes}\nstock.size = \"{size}\"\n"))
}

fn labels(sizes: &str) -> Vec<String> {
    let (job, _) = laid(&format!("stock.sizes = {sizes}\n"));
    job.stock.unwrap().sizes.into_iter().map(|s| s.label).collect()
}

#[test]
fn sizes_are_a_list_a_span_or_a_range() {
    assert_eq!(
        labels("[\"32 in\", '34 1/2\"', \"90 cm\"]"),
        ["32 in", "34 1/2 in", "90 cm"]
    );
    assert_eq!(labels("\"30 in\""), ["30 in"]);
    assert_eq!(labels("\"28 to 31 in by 1 in\""), ["28 in", "29 in", "30 in", "31 in"]);
    assert_eq!(labels("\"28 in to 29 in by 1/2\""), ["28 in", "28 1/2 in", "29 in"]);
    assert_eq!(labels("\"70 to 75 cm by 2.5 cm\""), ["70 cm", "72.5 cm", "75 cm"]);
    assert_eq!(
        labels("[\"24 in\", \"28 to 32 in by 4 in\"]"),
        ["24 in", "28 in", "32 in"]
    );
    assert_eq!(labels("\"letters-men\""), ["XS", "S", "M", "L", "XL", "XXL"]);
    assert_eq!(labels("\"belts-28-46\"").len(), 19);
    assert_eq!(labels("\"belts-24-48\"").len(), 13);
}

#[test]
fn a_size_is_found_by_what_people_call_it() {
    let inches = laid("stock.sizes = \"belts-24-48\"").0.stock.unwrap();
    for word in ["34 in", "34in", "34\"", "34", " 34  in ", "863.6 mm", "34 IN"] {
        assert_eq!(inches.find(word), Some(5), "{word}");
    }
    let letters = laid("stock.sizes = \"letters-women\"").0.stock.unwrap();
    for word in ["L", "l", "86,5 cm"] {
        assert_eq!(letters.find(word), Some(3), "{word}");
    }
    for word in ["", "33", "in", "3XL"] {
        assert_eq!((inches.find(word), letters.find(word)), (None, None), "{word}");
    }
}

/// A size is `measure.value`, wherever the job refers to it; a named range says how it is
/// taken.
#[test]
fn a_size_takes_the_place_of_the_measure() {
    let tip = "tip.past-last-hole = \"measure.value - 31 in\"\n";
    let (job, by_size) = laid(&format!(
        "{tip}stock.sizes = \"30 to 40 in by 2 in\"\nstock.size = \"34\"\n"
    ));
    let (_, by_hand) = laid(&format!("{tip}measure.value = \"34 in\"\n"));
    assert_eq!(places(&by_size), places(&by_hand));
    let span = job.worn.unwrap().measure.value.span;
    assert_eq!(span, job.stock.unwrap().sizes[2].span, "findings point at the stock");

    for (range, size, taken, value) in [
        ("letters-men", "M", MeasureMethod::Tape, "86 cm"),
        ("belts-28-46", "34", MeasureMethod::BendToHole, "34 in"),
    ] {
        let ranged = |own: &str| {
            let text = format!("template = \"belt\"\n{own}");
            job::read("job", &text, &[]).job.unwrap()
        };
        let other = "measure.taken = \"bar-to-hole\"\n";
        let by_size = ranged(&format!(
            "{other}stock.sizes = \"{range}\"\nstock.size = \"{size}\"\n"
        ));
        let by_hand = ranged(&format!(
            "measure.taken = \"{}\"\nmeasure.value = \"{value}\"\n",
            taken.word()
        ));
        assert_eq!(by_size.worn.as_ref().unwrap().measure.taken.value, taken, "{range}");
        assert_eq!(fit::fit(&by_size), fit::fit(&by_hand), "{range}");
    }
}

#[test]
fn without_a_size_the_measure_stays() {
    let (job, with) = laid("stock.sizes = \"belts-28-46\"\n");
    assert_eq!(job.stock.unwrap().chosen, None);
    assert_eq!(places(&with), places(&laid("").1));
}

#[test]
fn every_range_is_sound_in_every_size() {
    for range in stock::REGISTER {
        for (label, _) in range.sizes() {
            let done = belt(&format!(
                "stock.sizes = \"{}\"\nstock.size = \"{label}\"",
                range.name
            ));
            let rules: Vec<&str> =
                done.findings.iter().map(|f| f.rule.as_str()).collect();
            assert_eq!(rules, ["stock-taken"], "{} {label}: {}", range.name, done.text());
        }
    }
}

#[test]
fn mistakes_are_found_each_at_its_place() {
    let wrong = |sizes: &str, rules: &[&str]| {
        let done = belt(&format!("stock.sizes = {sizes}"));
        let found: Vec<&str> = done.findings.iter().map(|f| f.rule.as_str()).collect();
        assert_eq!(found, rules, "{}", done.text());
        assert!(done.findings.iter().all(|f| f.span.is_some()), "{}", done.text());
    };
    wrong("[]", &["bad-value"]);
    wrong("34", &["bad-value"]);
    wrong("[\"belts-28-46\", \"50 in\"]", &["bad-value"]);
    wrong("\"28 to 46 in\"", &["bad-value"]);
    wrong("\"46 to 28 in by 2 in\"", &["bad-value"]);
    wrong("\"28 to 46 in by 0 in\"", &["bad-length"]);
    wrong("\"30 in to 40 in by 0.001 in\"", &["bad-value"]);
    wrong("[\"0 in\", \"-3 in\", \"32\"]", &["bad-length", "bad-length", "bad-length"]);
    wrong("[\"36 in\", \"914.4 mm\", \"34 in\"]", &["stock-order", "stock-order"]);
    wrong("[\"letters\", \"34 in\"]", &["unknown-range"]);
    let done = belt("stock.size = \"34 in\"");
    assert_eq!(done.findings[0].rule.as_str(), "missing-key", "{}", done.text());
}

fn places(layout: &Layout) -> Vec<(MarkKind, Shape, Point<Strap>)> {
    let marks = layout.pieces.iter().flat_map(|p| &p.marks);
    marks.map(|m| (m.kind, m.shape, m.at)).collect()
}

fn heading(job: &Job, layout: &Layout) -> Heading {
    Heading::new(job, fit::fit(job).as_ref(), layout)
}

/// What lopdf reads below the head of a page: outlines, rings and words.
fn below_the_head(page: &Page, high: f64) -> (Vec<String>, Vec<String>) {
    let mut closed: Vec<String> = page
        .closed
        .iter()
        .filter(|c| c.centre().1 < high)
        .map(|c| format!("{:?} {:?} {}", c.centre(), c.size(), c.is_ring))
        .collect();
    let mut words: Vec<String> = page
        .shown
        .iter()
        .filter(|s| s.at.1 < high)
        .map(|s| format!("{:?} {}", s.at, s.text))
        .collect();
    closed.sort();
    words.sort();
    (closed, words)
}

/// The punched marks that are whole on some tile of these sheets of a set.
fn punched(layout: &Layout, set: &SheetSet, sheets: &[usize]) -> BTreeSet<String> {
    let shown = set.sheets.iter().filter(|s| sheets.contains(&s.number));
    let tiles = shown.flat_map(|s| &s.tiles);
    let whole = |mark: &Mark, tile: &strapwright::paginate::Tile| {
        tile.stretch.holds(mark.x_extent())
    };
    tiles
        .flat_map(|t| layout.pieces[t.piece].marks.iter().filter(move |m| whole(m, t)))
        .filter(|m| m.is_punched())
        .map(|m| format!("{:?} {:?} {:?}", m.at, m.shape, m.role))
        .collect()
}

proptest! {
    #![proptest_config(cases(24))]

    /// A reprint keeps exactly the sheets that show the same, as the files have them; the
    /// kept sheets of the old print and the new sheets together have every mark of the new
    /// size, and no other.
    #[test]
    fn kept_and_new_sheets_are_the_new_size(
        old in 28..=46_u32,
        new in 28..=46_u32,
        fittings in prop::sample::select(vec![0_u32, 0, 3]),
        paper in prop::sample::select(vec!["a4", "letter", "a3", "roll", "150x200mm"]),
        width in prop::sample::select(vec!["20 mm", "38 mm"]),
    ) {
        let paper = Paper::parse(paper).unwrap();
        let lines = |size| {
            format!("strap.width = '{width}'\nfittings.count = {fittings}\nstock.sizes = \"belts-28-46\"\n\
                     stock.size = \"{size}\"\n")
        };
        let ((old_job, old), (new_job, new)) = (laid(&lines(old)), laid(&lines(new)));
        let (old_head, new_head) = (heading(&old_job, &old), heading(&new_job, &new));
        let old_set = paginate(&Request::new(&old, &old_head, &paper)).unwrap();
        let request = Request::new(&new, &new_head, &paper);
        let new_set = paginate(&request.reusing(&old_set)).unwrap();
        prop_assert_eq!(
            new_set.sheets.len(), paginate(&request).unwrap().sheets.len(),
            "keeping costs no sheet"
        );
        let diff = compare_sheets(&old_set, &new_set);

        let all: BTreeSet<usize> = new_set.sheets.iter().map(|s| s.number).collect();
        let told: BTreeSet<usize> = diff.keep.iter().chain(&diff.print).copied().collect();
        prop_assert_eq!(&told, &all);
        prop_assert_eq!(diff.keep.len() + diff.print.len(), all.len());
        let mut together = punched(&old, &old_set, &diff.keep);
        together.extend(punched(&new, &new_set, &diff.print));
        let whole: Vec<usize> = all.into_iter().collect();
        prop_assert_eq!(together, punched(&new, &new_set, &whole));

        // The file of the new sheets alone says where the whole print lies.
        let mut only = new_set.clone();
        only.leave_out_all_but(&diff.print);
        if !only.sheets.is_empty() {
            let said = pdf::read(&pdf(&only).unwrap()).unwrap();
            let again = paginate(&request.reusing(&said)).unwrap();
            prop_assert!(again == new_set, "drawn again, it is the same print");
        }

        let (old_pages, new_pages) =
            (pages(&pdf(&old_set).unwrap()), pages(&pdf(&new_set).unwrap()));
        for (sheet, page) in new_set.sheets.iter().zip(&new_pages) {
            // The head is 26.6 or 36 mm high below a margin of 10 mm.
            let is_low = sheet.width > sheet.height && mm(sheet.width) >= 140.0;
            let high = mm(sheet.height) - if is_low { 36.6 } else { 46.0 };
            let twin = old_pages.get(sheet.number - 1);
            let same = twin.is_some_and(|twin| {
                (twin.size, below_the_head(twin, high)) == (page.size, below_the_head(page, high))
            });
            prop_assert_eq!(same, diff.keep.contains(&sheet.number), "sheet {}", sheet.number);
        }
    }
}

fn nested(lines: &str, sizes: &[&str]) -> Result<Nest, String> {
    let list: Vec<String> = sizes.iter().map(|s| format!("\"{s}\"")).collect();
    let all: Vec<(&str, Layout)> = sizes
        .iter()
        .map(|size| {
            let text = format!(
                "{RACK}{lines}stock.sizes = [{}]\nstock.size = \"{size}\"\n",
                list.join(", ")
            );
            let job = job::read("job", &text, &[]).job.unwrap();
            (*size, lay_out(&job, fit::fit(&job).as_ref()).unwrap())
        })
        .collect();
    let borrowed: Vec<(&str, &Layout)> = all.iter().map(|(s, l)| (*s, l)).collect();
    nest(&borrowed).map_err(|findings| {
        assert!(
            findings
                .iter()
                .all(|f| strapwright::layout::RULES.iter().any(|(id, _)| *id == f.rule))
        );
        let first = &findings[0];
        assert!(!first.remedy.is_empty() && !first.found.is_empty());
        format!("{}: {} ({})", first.message, first.found, first.required)
    })
}

/// Holes of sizes 2 in apart with a pitch of 1 in coincide: 28 to 32 in with two holes on
/// either side lie at 26 to 34 in, nine holes in all, and each row has its five.
#[test]
fn nested_holes_that_coincide_are_one() {
    let nest = nested("", &["28 in", "30 in", "32 in"]).unwrap();
    let piece = &nest.layout.pieces[0];
    let holes: Vec<Length> = piece
        .marks
        .iter()
        .filter(|m| m.kind == MarkKind::Hole)
        .map(|m| piece.from_bend(m.at.x))
        .collect();
    let inches: Vec<Length> = (26..=34).map(Length::from_inches).collect();
    assert_eq!(holes, inches);
    let rows: Vec<(&str, Vec<String>)> = nest
        .rows
        .iter()
        .map(|row| {
            let at = |(x, tag): &(Length, String)| {
                format!("{tag} at {}", piece.from_bend(*x).tape())
            };
            (row.size.as_str(), row.holes.iter().map(at).collect())
        })
        .collect();
    let tags = |size: u32| -> Vec<String> {
        (0..5).map(|n| format!("{} at {} in", n + 1, size - 2 + n)).collect()
    };
    assert_eq!(rows, [("28 in", tags(28)), ("30 in", tags(30)), ("32 in", tags(32))]);
    let own: Vec<Length> =
        nest.rows.iter().map(|r| piece.from_bend(r.size_hole.unwrap())).collect();
    assert_eq!(own, [28, 30, 32].map(Length::from_inches), "the size's own hole");
    let levels: BTreeSet<Length> = nest.rows.iter().map(|r| r.level).collect();
    assert_eq!(levels.len(), 3, "rows that lie over each other have levels of their own");
    let tips: Vec<usize> = nest.rows.iter().map(|r| r.tip.len()).collect();
    assert_eq!(tips, [1, 1, 0], "the longest is the outline itself");
}

/// Every mark of every size is on the nested strap, and nothing else is.
#[test]
fn a_nested_strap_has_the_marks_of_all_sizes() {
    let sizes = ["28 in", "30 in", "32 in", "34 in"];
    let nest = nested("", &sizes).unwrap();
    let mut all: BTreeSet<String> = BTreeSet::new();
    for size in sizes {
        let layout = sized("\"28 to 34 in by 2 in\"", size).1;
        all.extend(places(&layout).iter().map(|p| format!("{p:?}")));
    }
    let there = places(&nest.layout);
    let set: BTreeSet<String> = there.iter().map(|p| format!("{p:?}")).collect();
    assert_eq!(set.len(), there.len(), "each mark once");
    assert_eq!(set, all);
    let (job, longest) = sized("\"28 to 34 in by 2 in\"", "34");
    assert_eq!(nest.layout.pieces[0].outline, longest.pieces[0].outline);

    // On paper every row has its numbers, and its name at its start and on its tip.
    let printed = PrintedSizes::Nested("28 in to 34 in".to_owned());
    let heading = Heading { sizes: printed, ..heading(&job, &longest) };
    for paper in ["a4", "letter", "roll"] {
        let paper = Paper::parse(paper).unwrap();
        let request = Request::new(&nest.layout, &heading, &paper);
        let set = paginate(&Request { rows: &nest.rows, ..request }).unwrap();
        let pages = pages(&pdf(&set).unwrap());
        let words: Vec<&str> =
            pages.iter().flat_map(|p| &p.shown).map(|s| s.text.as_str()).collect();
        for row in &nest.rows {
            for (_, tag) in &row.holes {
                assert!(words.contains(&tag.as_str()), "no {tag} in {words:?}");
            }
            let names = words.iter().filter(|w| **w == row.size).count();
            let ends = 1 + usize::from(!row.tip.is_empty());
            assert!(names >= ends, "{} stands {names} times in {words:?}", row.size);
        }
    }
}

#[test]
fn what_cannot_be_told_apart_is_refused() {
    for (lines, sizes, found, required) in [
        ("", &["70 cm", "78 cm"][..], "between their rims", "at least 2 mm"),
        (
            "strap.width = \"20 mm\"\nbuckle.inside = \"20 mm\"\n",
            &["28 in", "29 in", "30 in", "31 in"][..],
            "rows over each other",
            "at most 1",
        ),
        (
            "size-holes.pitch = \"2 mm\"\n",
            &["28 in", "36 in"][..],
            "between numbers",
            "1 mm",
        ),
        (
            "strap.width = \"measure.value - 26 in\"\n",
            &["27 in", "28 in"][..],
            "widths",
            "length alone",
        ),
    ] {
        let refused = nested(lines, sizes).map(|_| sizes).unwrap_err();
        assert!(refused.contains(found) && refused.contains(required), "{refused}");
    }
}
