//! Sheets that lie otherwise than usual: turned heads, and wide and tall sheets in one print.

use crate::common::random::Random;
use crate::sheet_count::piece;
use strapwright::export::pdf::{self, pdf};
use strapwright::geom::{Length, Ratio};
use strapwright::layout::Layout;
use strapwright::paginate::{
    Correction, Factor, Gauge, Heading, MARGIN, Paper, Request, SheetSet, paginate,
};
use strapwright::verify::{Print, exact, verify_print};
use strapwright::words::Name;

/// Pieces of these lengths, widths and numbers of marks.
fn layout(pieces: &[(i64, i64, i64)]) -> Layout {
    let mut random = Random::new(3);
    let pieces = pieces.iter().map(|&(l, w, marks)| piece(&mut random, l, w, marks));
    Layout { pieces: pieces.collect(), features: vec![Name::given("holes")] }
}

fn correction() -> Correction {
    let factor = |millionths| Factor {
        by: Ratio::from_millionths(millionths),
        proven: Ratio::from_millionths(1_000),
    };
    Correction {
        printer: "front-desk".to_owned(),
        long: factor(1_004_000),
        short: factor(998_000),
        margin: MARGIN,
        fitted: false,
    }
}

/// The print on A4, after both judges have read it, and after it was drawn again from what its
/// file says.
fn print(layout: &Layout, correction: Option<&Correction>) -> SheetSet {
    let (heading, paper) = (Heading::default(), Paper::parse("a4").unwrap());
    let request = Request { correction, ..Request::new(layout, &heading, &paper) };
    let set = paginate(&request).unwrap();
    let bytes = pdf(&set).unwrap();
    let read = exact(&bytes, &set, layout, &[]).unwrap();
    assert!(read.findings.is_empty(), "{:?}", read.findings);
    let report = verify_print(&[("", &bytes)], &Print { set: &set, layout }, &[]);
    let findings = report.unwrap().findings;
    assert!(findings.is_empty(), "{findings:?}");
    let said = pdf::read(&bytes).unwrap();
    let again = paginate(&request.reusing(&said)).unwrap();
    assert_eq!(again.fingerprint, set.fingerprint);
    set
}

fn bars(set: &SheetSet) -> Vec<[Length; 2]> {
    set.sheets.iter().map(|s| [s.bars[0].length(), s.bars[1].length()]).collect()
}

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

/// By hand: a lane takes 75 + 8 mm. Below a head there is one lane of 268 mm, so 6 sheets, or
/// two of 181 mm, so 5 sheets with 9 tiles; beside a head there are two of 241 mm: of 1406 mm 7
/// tiles, so 4 sheets.
#[test]
fn a_wide_strap_lies_along_the_other_side_of_the_page() {
    let layout = layout(&[(1_400, 75, 0)]);
    for correction in [None, Some(&correction())] {
        let set = print(&layout, correction);
        assert_eq!((set.sheets.len(), set.joins.len()), (4, 6));
        for (sheet, bars) in set.sheets.iter().zip(bars(&set)) {
            assert_eq!((sheet.width, sheet.height), (mm(297), mm(210)));
            assert_eq!(bars, [mm(230), mm(180)]);
            // The head and the bar below the strap are clear of it.
            for tile in &sheet.tiles {
                let x = tile.placement.apply(strapwright::geom::Point::new(
                    tile.stretch.from,
                    tile.across.from,
                ));
                assert!(x.x >= mm(46) && x.y >= mm(19), "{x:?}");
            }
        }
    }
}

/// By hand: below a head of a wide page there are 163.4 mm, room for the strap's 148 mm and not
/// for the pad's 168 mm; on a tall page the strap takes 4 tiles, each a sheet.
#[test]
fn a_print_has_wide_and_tall_sheets_where_that_takes_fewer() {
    let layout = layout(&[(500, 140, 0), (170, 160, 2)]);
    for correction in [None, Some(&correction())] {
        let set = print(&layout, correction);
        assert_eq!(set.joins.len(), 1);
        assert_eq!(
            bars(&set),
            [[mm(260), mm(160)], [mm(260), mm(160)], [mm(180), mm(230)]]
        );
        let factors = set.sheets.iter().filter_map(|s| set.correction_on(s));
        let factors: Vec<[i64; 2]> =
            factors.map(|axes| axes.map(|f| f.by.millionths())).collect();
        if correction.is_some() {
            let [long, short] = [1_004_000, 998_000];
            assert_eq!(factors, [[long, short], [long, short], [short, long]]);
        }
        // The bars of sheet 1 are read; the pad, with the only holes, lies across them.
        let Gauge { bars, names, strip, last, .. } = set.gauge.unwrap();
        assert_eq!(bars, [mm(260), mm(160)]);
        assert_eq!(names[0], "bar along the width of sheet 1");
        assert!(strip.unwrap().is_wide && !last.unwrap().is_wide);
    }
}
