//! A tile is as high as the strap is wide on it: of straps that change their width, nothing
//! is lost and no paper is wasted.

use crate::common::{self, cases};
use proptest::prelude::*;
use std::collections::BTreeMap;
use strapwright::diagnostic::forbids_print;
use strapwright::export::pdf::pdf;
use strapwright::geom::{Extent, Length, Point, Strap};
use strapwright::layout::{Layout, nest};
use strapwright::paginate::{Heading, Item, Paper, Request, SheetSet, paginate};
use strapwright::verify::exact;
use strapwright::{Prepared, prepare};

/// Of the drawing: what a tile has below the strap, for crosses, and above it, with a ruler
/// beside the strap or without one.
const BELOW: Length = Length::from_mm(4);
const ABOVE: [Length; 2] = [Length::from_mm(4), Length::from_um(7_500)];

/// Lengths in tenths of a millimetre.
fn tenths(n: i64) -> String {
    format!("{}.{} mm", n / 10, n % 10)
}

prop_compose! {
    /// A long strap with two changes of width.
    fn job()(
        widths in (150..=1_200_i64, 150..=1_200_i64, 150..=1_200_i64),
        at in (1_000..=6_000_i64, 1_000..=6_000_i64),
        runs in (500..=1_500_i64, 500..=1_500_i64),
        join in prop::sample::select(&["smooth", "straight"][..]),
    ) -> String {
        let first = at.0;
        let second = first + runs.0 + at.1;
        let taper = |name: &str, from: i64, run: i64, width: i64| format!(
            "[{name}]\nkind = \"taper\"\nfrom = \"strap.zero\"\nby = \"{}\"\n\
             to = \"strap.zero\"\nto-by = \"{}\"\nwidth = \"{}\"\njoin = \"{join}\"\n",
            tenths(from), tenths(from + run), tenths(width),
        );
        format!(
            "template = \"plain-strap\"\nplain.length = \"{}\"\nholes.count = 3\n\
             strap.width = \"{}\"\n{}{}",
            tenths(second + runs.1 + 1_500), tenths(widths.0),
            taper("one", first, runs.0, widths.1), taper("two", second, runs.1, widths.2),
        )
    }
}

fn printed(done: &Prepared, paper: &str) -> (Layout, SheetSet) {
    let laid = done.laid.as_ref().unwrap();
    (laid.2.clone(), common::printed(laid, paper))
}

/// How far the outline is from the centre line at most, from the one place to the other, by
/// places on it.
fn reach(layout: &Layout, from: Length, to: Length) -> Length {
    let segments = layout.pieces[0].outline.segments();
    let places = segments.iter().flat_map(|s| (0..400).map(|i| s.part(i, 400)));
    let own = places.filter(|p| (from..=to).contains(&p.x));
    own.map(|p| p.y.abs()).max().unwrap_or(Length::ZERO)
}

/// No tick of a ruler touches a cross, or stands beside its upright as a part of it.
fn crosses_are_free(set: &SheetSet) {
    let (arm, air) = (Length::from_mm(2), Length::from_um(400));
    for sheet in &set.sheets {
        let tick_rows = sheet.items.iter().flat_map(|item| match item {
            Item::TickRows { tick_rows, .. } => tick_rows.as_slice(),
            _ => &[],
        });
        let ticks = tick_rows.flat_map(|c| (0..c.count).map(|n| (c.base(n), c.tick)));
        let ticks: Vec<_> = ticks.map(|(foot, tick)| (foot, foot + tick)).collect();
        assert!(ticks.len() > 50);
        for cross in sheet.tiles.iter().flat_map(|t| &t.crosses) {
            for (a, b) in &ticks {
                let y = Extent::new(a.y - cross.at.y, b.y - cross.at.y);
                let meets = |half: Length| y.from < half && y.to > -half;
                let aside = (a.x - cross.at.x).abs();
                let touches =
                    aside < arm + air && meets(air) || aside < air && meets(arm);
                assert!(!touches, "a tick at {a:?} and {cross:?}");
            }
        }
    }
}

/// All sheets together, and each alone.
fn reads_back_clean(layout: &Layout, set: &SheetSet) {
    let read = |set: &SheetSet| {
        let found = exact(&pdf(set).unwrap(), set, layout, &[]).unwrap().findings;
        assert!(found.is_empty(), "{found:?}");
    };
    read(set);
    for number in 1..=set.sheets.len() {
        let mut one = set.clone();
        one.leave_out_all_but(&[number]);
        read(&one);
    }
}

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn a_tile_is_as_high_as_its_stretch_asks(
        text in job(),
        paper in prop::sample::select(&["a4", "letter", "a3"][..]),
    ) {
        let done = prepare("job.toml", &text, &[]);
        prop_assume!(done.laid.is_some() && !forbids_print(&done.findings));
        let (layout, set) = printed(&done, paper);
        prop_assume!(set.lengthwise_joins.is_empty());
        let mut crosses: BTreeMap<String, Vec<Point<Strap>>> = BTreeMap::new();
        for tile in set.sheets.iter().flat_map(|s| &s.tiles) {
            let high = reach(&layout, tile.stretch.from, tile.stretch.to);
            // Edges have a place every few millimetres only.
            let near = |beside, found: Length| {
                found >= beside && found < beside + Length::from_mm(2)
            };
            let (above, below) = (tile.across.to - high, -tile.across.from - high);
            prop_assert!(near(BELOW, below), "{below} at {:?}", tile.stretch);
            prop_assert!(
                ABOVE.into_iter().any(|beside| near(beside, above)),
                "{above} at {:?}",
                tile.stretch
            );
            for cross in &tile.crosses {
                prop_assert_eq!(tile.placement.apply(cross.on_strap), cross.at);
                // On the paper of its tile, and clear of the leather.
                let (y, arm) = (cross.on_strap.y.abs(), Length::from_mm(2));
                prop_assert!(y + arm <= tile.across.to, "{} is off its tile", cross.label);
                let near = (cross.on_strap.x - arm, cross.on_strap.x + arm);
                prop_assert!(reach(&layout, near.0, near.1) <= y - arm, "{}", cross.label);
                crosses.entry(cross.label.clone()).or_default().push(cross.on_strap);
            }
        }
        prop_assert_eq!(crosses.len(), 2 * set.joins.len());
        for (label, at) in crosses {
            prop_assert!(at.len() == 2 && at[0] == at[1], "{label}: {at:?}");
        }
        crosses_are_free(&set);
        for check in &set.checks {
            // Its lines stand at unequal heights; a tape goes from the one to the other.
            let far = (check.to - check.from).norm();
            prop_assert!((far - check.length).abs() <= Length::from_nm(2), "{check:?}");
            let (_, join) = set.joins.last().unwrap();
            let air = check.to.x - *join - Length::from_um(2_000 + 2_500);
            prop_assert!(air > Length::ZERO, "{air} from the join: {check:?}");
        }
        reads_back_clean(&layout, &set);
    }
}

/// The wide part of it takes two tiles to an A4 sheet and the narrow tail lies below them:
/// with the tail as high as the wide part is wide it took five sheets.
#[test]
fn the_tail_of_a_guitar_strap_lies_beside_its_wide_part() {
    let text = "template = \"guitar-strap\"\n[guitar]\nshortest = \"1.1 m\"\n\
                longest = \"1.4 m\"\nwide = \"70 mm\"\n[tail]\ncount = 6\n\
                pitch = \"guitar.longest / 5 - guitar.shortest / 5\"\n";
    let (_, set) = printed(&prepare("job.toml", text, &[]), "a4");
    assert_eq!(set.sheets.len(), 3);
    let tail = set.sheets.iter().flat_map(|s| &s.tiles).map(|t| t.across.length());
    let (least, most) = (tail.clone().min().unwrap(), tail.max().unwrap());
    assert!(least * 2 < most + BELOW * 2, "{least} and {most}");
}

/// The sizes' tags and tips are on the narrow tail: as high as the wide part they would be
/// beside the leather.
#[test]
fn sizes_are_nested_where_the_strap_is_narrow() {
    let sizes = ["30 in", "32 in", "34 in"];
    let tapered = |size: &str, by: &str| {
        let text = format!(
            "template = \"belt\"\nmeasure.taken = \"bend-to-hole\"\n\
             stock.sizes = \"30 to 34 in by 2 in\"\nstock.size = \"{size}\"\n\
             one = {{ kind = \"taper\", from = \"strap.zero\", by = \"130 mm\", \
             to = \"strap.zero\", to-by = \"200 mm\", width = \"60 mm\" }}\n\
             two = {{ kind = \"taper\", from = \"strap.zero\", by = \"{by}\", \
             to = \"strap.zero\", to-by = \"550 mm\", width = \"38 mm\" }}\n"
        );
        printed(&prepare("job.toml", &text, &[]), "a4").0
    };
    let all = sizes.map(|size| (size, tapered(size, "450 mm")));
    let nested = nest(&all.each_ref().map(|(size, layout)| (*size, layout))).unwrap();
    let edge = Length::from_mm(19);
    for row in &nested.rows {
        assert!(row.level.abs() < edge, "{row:?}");
        let tip = row.tip.iter().flat_map(|run| [run.start, run.end()]);
        assert!(tip.clone().all(|p| p.y.abs() <= edge), "{row:?}");
        assert!(tip.count() <= 4, "the edges are no part of a tip: {row:?}");
    }
    let (heading, paper) = (Heading::default(), Paper::parse("a4").unwrap());
    let request = Request::new(&nested.layout, &heading, &paper);
    let set = paginate(&Request { rows: &nested.rows, ..request }).unwrap();
    let read = exact(&pdf(&set).unwrap(), &set, &nested.layout, &nested.rows).unwrap();
    assert!(read.findings.is_empty(), "{:?}", read.findings);

    // Tapers that differ are no sizes of one strap.
    let other = ("36 in", tapered("34 in", "440 mm"));
    let both = [&all[0], &other].map(|(size, layout)| (*size, layout));
    let refused = nest(&both).unwrap_err();
    assert!(refused[0].required.contains("length alone"), "{refused:?}");
}

/// The narrow end is too short for a numeral above it; the label of the last join stands
/// nearer to the cross of the long check than to its own; a short tile has one numeral on
/// either side, and no room for its unit.
#[test]
fn short_and_crowded_ends_read_back() {
    for (paper, [length, wide], one, two) in [
        ("letter", [6_760, 735], [1_158, 2_126, 716], [4_385, 5_260, 150]),
        ("a3", [8_180, 1_075], [2_997, 4_078, 238], [5_720, 6_680, 222]),
        ("letter", [10_446, 456], [2_236, 3_015, 1_078], [7_470, 8_946, 898]),
    ] {
        let taper = |name: &str, [from, to, width]: [i64; 3]| {
            format!(
                "[{name}]\nkind = \"taper\"\nfrom = \"strap.zero\"\nby = \"{}\"\n\
                 to = \"strap.zero\"\nto-by = \"{}\"\nwidth = \"{}\"\n\
                 join = \"straight\"\n",
                tenths(from),
                tenths(to),
                tenths(width)
            )
        };
        let text = format!(
            "template = \"plain-strap\"\nplain.length = \"{}\"\nholes.count = 3\n\
             strap.width = \"{}\"\n{}{}",
            tenths(length),
            tenths(wide),
            taper("one", one),
            taper("two", two)
        );
        let (layout, set) = printed(&prepare("job.toml", &text, &[]), paper);
        reads_back_clean(&layout, &set);
    }
}
