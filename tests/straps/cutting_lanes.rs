//! Wide strips that are ripped into lanes, on which straps lie side by side.

use super::cutting::{laws, mm, piece, shown, strips};
use crate::common::cases;
use proptest::prelude::*;
use strapwright::cutting::{Allowances, Cut, Stock, plan, text};
use strapwright::export::cuts_csv;
use strapwright::geom::Length;
use strapwright::words::Wording;

fn wide(name: &str, width: Length, length: Length, count: u32) -> Stock {
    Stock { width, ..strips(name, length, count) }
}

fn ripping() -> Allowances {
    Allowances { rip: true, ..Allowances::default() }
}

/// Two straps of 38 mm lie side by side on 80 mm, and 4 mm are left along the strip.
#[test]
fn two_straps_lie_side_by_side() {
    let cuts = [piece("A", mm(1_000)), piece("B", mm(1_000))];
    let stock = [wide("s", mm(80), mm(1_500), 3)];
    let made = plan(&cuts, &stock, &ripping()).unwrap();
    assert_eq!(
        shown(&made, &cuts),
        ["s 1: 38 wide A 5-1005; left 495 | 38 wide B 5-1005; left 495 | rest 4"]
    );
    assert_eq!((made.at_most_less, made.in_lanes), (0, false));
    laws(&made, &cuts, &stock, &ripping());
    let told = text(&made, &cuts, Wording::default());
    let head = told.lines().take(9).collect::<Vec<_>>().join("\n");
    assert_eq!(
        head,
        "\
Cutting plan: 2 pieces from 1 strip

s, strip 1 of 3: 1500 mm (~59 1/16 in) long, 80 x 3 mm
  rip into lanes side by side: 38 mm + 38 mm
  lane  from mm   to mm  from inches   to inches  order  piece
  1         5.0  1005.0      3/16 in  39 9/16 in  A      strap
  2         5.0  1005.0      3/16 in  39 9/16 in  B      strap
  left of lane 1: 495 mm (~19 31/64 in), 38 mm wide
  left of lane 2: 495 mm (~19 31/64 in), 38 mm wide"
    );
    assert!(
        told.contains("\n  ripped off: 1500 mm (~59 1/16 in), 4 mm wide\n"),
        "{told}"
    );
    assert!(told.ends_with("\nNo plan opens less leather.\n"), "{told}");
    let table = cuts_csv::cuts(&made, &cuts);
    let rest = "s,strip,1,,rest,0.000,1500.000,1500.000,4.000,3.000,1,,";
    assert!(table.lines().any(|line| line == rest), "{table}");
    let side = "s,strip,1,2,cut,5.000,1005.000,1000.000,38.000,3.000,1,B,strap";
    assert!(table.lines().any(|line| line == side), "{table}");
    // Without leave to rip, nothing suits; at 76 mm nothing is left over; at 75 mm one lane
    // is all there is room for.
    assert_eq!(plan(&cuts, &stock, &Allowances::default()).unwrap().lacking, [0, 1]);
    let made =
        |width| plan(&cuts, &[wide("s", mm(width), mm(1_500), 3)], &ripping()).unwrap();
    assert_eq!(made(76).strips.len(), 1);
    assert_eq!(made(76).strips[0].rest, Length::ZERO);
    assert_eq!(made(75).strips.len(), 2);
}

/// Keepers 20 mm wide share a lane with the strap that is longer than they; the plan says to
/// which width the lane is ripped down for them.
#[test]
fn a_lane_is_as_wide_as_its_widest_piece() {
    let keeper = |name: &str| Cut { width: mm(20), ..piece(name, mm(150)) };
    let cuts = [piece("A", mm(1_000)), keeper("B"), keeper("C"), keeper("D")];
    let stock = [wide("s", mm(58), mm(1_330), 2)];
    let made = plan(&cuts, &stock, &ripping()).unwrap();
    assert_eq!(made.strips.len(), 1);
    laws(&made, &cuts, &stock, &ripping());
    // Of 50 mm there is one lane, whatever lies on it.
    let stock = [wide("s", mm(50), mm(1_330), 2)];
    let made = plan(&cuts[..3], &stock, &ripping()).unwrap();
    assert_eq!(
        shown(&made, &cuts),
        ["s 1: 38 wide A 5-1005, B 1006-1156, C 1157-1307; left 23 | rest 12"]
    );
    assert_eq!(made.strips[0].lanes[0].cuts[1].rip, Some(mm(20)));
    assert!(
        text(&made, &cuts, Wording::default()).contains("  rip into a lane: 38 mm\n")
    );
    assert!(
        text(&made, &cuts, Wording::default()).contains("rip to\n"),
        "{}",
        text(&made, &cuts, Wording::default())
    );
}

/// Many pieces of many widths on wide strips: all are planned, with little waste.
#[test]
fn thousands_of_pieces_lie_in_lanes() {
    let cut = |i: usize| {
        let length = mm(700 + i64::try_from(i * 7_919 % 601).unwrap());
        Cut { width: mm([20, 25, 30, 38][i % 4]), ..piece("o", length) }
    };
    let cuts: Vec<Cut> = (0..3_000).map(cut).collect();
    let stock =
        [wide("a", mm(80), mm(2_400), 1_000), wide("b", mm(120), mm(3_100), 1_000)];
    let made = plan(&cuts, &stock, &ripping()).unwrap();
    assert!(made.lacking.is_empty());
    assert!(made.at_most_less <= 60, "{} tenths of a percent", made.at_most_less);
    laws(&made, &cuts, &stock, &ripping());
}

prop_compose! {
    /// Straps and keepers on strips up to ten times as wide, which may be ripped.
    fn wide_bench()(
        pieces in prop::collection::vec((50_i64..900, 10_000_i64..40_000), 1..30),
        strips in prop::collection::vec((300_i64..2_000, 20_i64..150, 1..9_u32), 1..6),
        (between, ends, near) in (0_i64..4, 0_i64..30, 0_i64..600),
    ) -> (Vec<Cut>, Vec<Stock>, Allowances) {
        let cuts = pieces
            .into_iter()
            .map(|(l, w)| Cut { width: Length::from_um(w), ..piece("o", mm(l)) });
        let stock = strips
            .into_iter()
            .enumerate()
            .map(|(i, (l, w, n))| wide(&format!("s{i}"), mm(w), mm(l), n));
        let (between, ends, width) = (mm(between), mm(ends), Length::from_um(near));
        (cuts.collect(), stock.collect(), Allowances { between, ends, width, ..ripping() })
    }
}

proptest! {
    #![proptest_config(cases(12))]

    #[test]
    fn no_two_pieces_overlap_in_any_lanes((cuts, stock, allowances) in wide_bench()) {
        let made = plan(&cuts, &stock, &allowances).unwrap();
        laws(&made, &cuts, &stock, &allowances);
        prop_assert_eq!(&made, &plan(&cuts, &stock, &allowances).unwrap());
    }
}
