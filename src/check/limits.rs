//! What bodies and leather have, with the source of each figure.

use crate::geom::{Extent, Length};
use crate::job::Body;

const fn mm(from: i64, to: i64) -> Extent {
    Extent { from: Length::from_mm(from), to: Length::from_mm(to) }
}

/// Smallest and largest girth measured, women and men together: ANSUR II (US Army, 2012,
/// public data; 4082 men, 1986 women), where it says.
pub fn measured_girth(body: Body) -> Extent {
    match body {
        // The largest waist measured was 1379; belts are made up to 60 in (common practice,
        // no source).
        Body::Waist => mm(611, 1524),
        Body::Neck => mm(275, 514),
        Body::Wrist => mm(124, 216),
        // ANSUR II, flexed, from memory, rounded outward.
        Body::Forearm => mm(180, 420),
        // Hats run from 52 to 64 cm, garters from 40 to 75 cm, dogs from a terrier to a
        // hound (common practice, no source).
        Body::Head => mm(500, 660),
        Body::Thigh => mm(400, 750),
        Body::DogNeck => mm(220, 720),
    }
}

/// Girths that draw without a word: what was measured, a twentieth wider at both ends, so
/// that the belt ranges of MIL-B-83475 (24 to 48 in) and MIL-B-1462F (28 to 46 in) fit.
///
/// Girths of children draw without a word from two thirds of the smallest adult's on: below
/// a child of about two years nobody wears a strap. A child's waist is at most a metre (common
/// practice, no source).
pub fn usual_girth(body: Body, child: bool) -> Extent {
    let all = measured_girth(body);
    let (least, most) = (all.from.times(19, 20), all.to.times(21, 20));
    match body {
        _ if !child => Extent { from: least, to: most },
        Body::Waist => Extent { to: Length::from_mm(1_000), ..possible_girth(body) },
        _ => Extent { to: most, ..possible_girth(body) },
    }
}

/// Girths beyond which only a slip of the pen or of the unit can lie: two thirds of the
/// smallest measured, two fifths more than the largest. An inch taken for a centimetre
/// is a factor of 2.54 and always falls outside, unless it lands on a usual girth.
pub fn possible_girth(body: Body) -> Extent {
    let all = measured_girth(body);
    Extent { from: all.from.times(2, 3), to: all.to.times(7, 5) }
}

/// Thickness of strap leather: belts 3 to 4 mm, lighter and heavier straps around them
/// (common practice, no source).
pub const USUAL_THICKNESS: Extent =
    Extent { from: Length::from_mm(1), to: Length::from_mm(6) };

/// Thickness of leather for keepers and linings (common practice, no source).
pub const LIGHT_THICKNESS: Extent =
    Extent { from: Length::from_um(500), to: Length::from_mm(6) };

/// Thickness beyond which it is not strap leather (common practice, no source).
pub const POSSIBLE_THICKNESS: Extent =
    Extent { from: Length::from_um(300), to: Length::from_mm(12) };

/// Last hole to the point: 3 to 4 in is usual (common practice, no source), 2.5 widths by
/// S. Harrison, "Some traditional saddlery rules"; outside this stretch the end does not
/// reach through the keeper, or flaps.
pub const LAST_HOLE_TO_TIP: Extent =
    Extent { from: Length::from_inches(2), to: Length::from_inches(8) };

/// Play that a keeper wants between the fasteners' rims (common practice, no source).
pub const KEEPER_PLAY: Length = Length::from_mm(2);

/// How much narrower than its buckle a strap may be before it wanders (common practice, no
/// source).
pub const BUCKLE_PLAY: Length = Length::from_mm(6);

/// Gap between two fittings' faces (common practice, no source).
pub const FITTING_GAP: Length = Length::from_mm(1);

/// Diameter of a buckle's bar (common practice, no source).
pub const BUCKLE_BAR: Extent =
    Extent { from: Length::from_mm(1), to: Length::from_mm(15) };

/// From a buckle's bar to its hole or to its frame's far edge (common practice, no source).
pub const BUCKLE_REACH: Extent =
    Extent { from: Length::from_mm(4), to: Length::from_mm(120) };

/// How far past the frame's far edge a tongue's hole may sit: the tongue bends over the
/// frame (common practice, no source).
pub const REACH_PAST_FRAME: Length = Length::from_mm(5);

/// How far past its hole a buckle's frame reaches at most, unless that is less than half the
/// reach (common practice, no source).
pub const FRAME_PAST_REACH: Length = Length::from_mm(15);

/// The longest reach that a buckle has for a strap of a width: 2.5 widths (common practice, no
/// source).
pub fn reach_of_width(width: Length) -> Length {
    width.times(5, 2)
}

/// Play between a ring's bar and the fasteners that shut it in (common practice, no source).
pub const RING_PLAY: Length = Length::from_mm(2);

/// Narrowest hole for a post (common practice, no source).
pub const LEAST_POST_HOLE: Length = Length::from_um(1_500);
/// Narrowest hole for a snap or an eyelet (common practice, no source).
pub const LEAST_SNAP_HOLE: Length = Length::from_um(2_500);

/// How far from what a template promises a row of holes may end (common practice, no source).
pub const PROMISE_PLAY: Length = Length::from_mm(1);

/// Ease for comfort and clothes (common practice, no source; a large dog's collar takes 3
/// in).
pub fn usual_ease(body: Body) -> Extent {
    match body {
        Body::Waist => mm(0, 100),
        // An animal's collar always wants room for fingers.
        Body::DogNeck => mm(10, 100),
        Body::Neck | Body::Head | Body::Thigh => mm(0, 50),
        Body::Wrist | Body::Forearm => mm(0, 30),
    }
}

/// Ease beyond this part of the measure, a fifth, is a slip (common practice, no source).
pub const EASE_PARTS: i64 = 5;

/// Width of a strap (common practice, no source).
pub const USUAL_WIDTH: Extent = mm(4, 150);

/// Width beyond which it is no strap (common practice, no source).
pub const POSSIBLE_WIDTH: Extent = mm(2, 250);

/// Width up to which a bracer is one: the length of a forearm (common practice, no source).
pub const BRACER_WIDTH: Length = Length::from_mm(260);

/// Length of one piece: hides are rarely longer than 2.5 to 3 m (common practice, no
/// source).
pub const USUAL_LENGTH: Extent = mm(20, 3_000);

/// Length beyond which only a slip of the pen can lie (common practice, no source).
pub const LONGEST_PIECE: Length = Length::from_mm(8_000);

/// From size hole to size hole: 1 to 1 1/4 in, and 1 1/2 in is felt to be too coarse
/// (common practice, no source).
pub const COARSEST_PITCH: Length = Length::from_mm(45);

/// From stitch to stitch: 3 to 12 to the inch (common practice, no source).
pub const STITCH_PITCH: Extent =
    Extent { from: Length::from_um(1_500), to: Length::from_mm(9) };

/// From the edge to a line of stitching: nearer than this the thread cuts through (common
/// practice, no source).
pub const STITCH_EDGE_LEAST: Length = Length::from_um(1_500);

/// Nearer than this a line of stitching is felt to be weak (common practice, no source).
pub const STITCH_EDGE_USUAL: Length = Length::from_mm(2);

/// A strap as wide as this was stitched [`STITCH_EDGE_WIDE`] from its edge: waist belts of
/// 2 in (US Navy Ordnance Instructions 1866, arts. 249, 252).
pub const WIDE_STRAP: Length = Length::from_inches(2);

/// Stitches at least 1/4 in from the edge (US Navy Ordnance Instructions 1866, arts. 249,
/// 252).
pub const STITCH_EDGE_WIDE: Length = Length::from_inch_64ths(16);

/// Leather between a stitch and a hole or slot (common practice, no source).
pub const STITCH_TO_HOLE: Length = Length::from_mm(2);

/// How far a cap rivet's post stands above its stack at most (common practice, no source).
pub const RIVET_OVER: Length = Length::from_mm(3);

/// How much shorter than its stack a screw post is at most (common practice, no source).
pub const SCREW_UNDER: Length = Length::from_mm(2);

/// How much thicker than its hole a tongue or a post may be: leather gives (common practice, no
/// source).
pub const FORCED: Length = Length::from_um(500);

/// How far what lies opposite may be out of line: half a millimetre is not felt (common
/// practice, no source).
pub const OUT_OF_LINE: Length = Length::from_um(500);

/// How much longer than its stack a screw post may be: leather sold as one thickness differs by
/// as much from strip to strip (common practice, no source).
pub const SCREW_OVER: Length = Length::from_um(300);

/// Room for a keeper to slide: more, and it hangs (common practice, no source).
pub const KEEPER_EASE: Length = Length::from_mm(12);

/// The face of a snap or the flange of an eyelet is so many times as wide as its hole
/// (common practice, no source).
pub const SNAP_FACE: i64 = 3;
/// See [`SNAP_FACE`].
pub const EYELET_FLANGE: i64 = 2;

/// The back of a snap's post is so many times as wide as its hole (common practice, no
/// source).
pub const SNAP_BACK: i64 = 2;

/// A change of width moves each edge by at most one in so many (common practice, no
/// source): where it is steeper, the pull runs to the corner and the strap kinks there.
pub const TAPER_RUN: i64 = 3;

/// Reach of hand punches from the edge of the leather (common practice, no source).
pub const PUNCH_THROAT: Length = Length::from_mm(50);

/// How far a hole may be off a punch that there is: a tenth is not seen (common practice,
/// no source).
pub const PUNCH_PLAY: Length = Length::from_um(100);

/// Lost between two pieces that are cut from one strip (common practice, no source).
pub const BETWEEN_CUTS: Length = Length::from_mm(2);

/// Least width and thickness of a strap that something hangs on (common practice, no
/// source: no figure replaces the maker's own load test).
pub const LOAD_WIDTH: Length = Length::from_mm(9);
/// See [`LOAD_WIDTH`].
pub const LOAD_THICKNESS: Length = Length::from_mm(2);

/// Diameters of the punches that shops have, in micrometres (common practice, no source):
/// tenths of a millimetre and whole and half millimetres up to 12 mm, 64ths of an inch as
/// charts round them, whole millimetres beyond.
pub const PUNCHES_UM: &[i64] = &[
    800, 1_000, 1_200, 1_500, 1_600, 2_000, 2_400, 2_500, 2_800, 3_000, 3_200, 3_500,
    3_600, 4_000, 4_400, 4_500, 4_800, 5_000, 5_200, 5_500, 5_600, 6_000, 6_350, 6_500,
    7_000, 7_100, 7_500, 8_000, 8_500, 8_700, 9_000, 9_500, 10_000, 10_500, 11_000,
    11_100, 11_500, 12_000, 12_700, 13_000, 14_000, 14_300, 15_000, 16_000, 17_000,
    17_500, 18_000, 19_000, 20_000, 21_000, 22_000, 22_200, 23_000, 24_000, 25_000,
    25_400, 26_000, 28_000, 30_000, 32_000, 35_000, 38_100, 40_000, 45_000, 50_000,
];

/// How much wider than the tongue its slot is (common practice, no source).
pub const TONGUE_PLAY: Length = Length::from_mm(1);

/// A fold that is stitched or glued reaches so far past its bend (common practice, no
/// source).
pub const FOLD_LAP: Length = Length::from_mm(8);

/// Diameter of a ring, hook or bar in a fold; nothing where leather folds on itself (common
/// practice, no source).
pub const RING_BAR: Extent = mm(0, 25);
