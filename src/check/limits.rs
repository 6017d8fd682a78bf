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
        Body::Waist => mm(611, 1379),
        Body::Neck => mm(275, 514),
        Body::Wrist => mm(124, 216),
        // Hats run from 52 to 64 cm, garters from 40 to 75 cm, dogs from a terrier to a
        // hound (common practice, no source).
        Body::Head => mm(500, 660),
        Body::Thigh => mm(400, 750),
        Body::DogNeck => mm(220, 720),
    }
}

/// Girths that draw without a word: what was measured, a twentieth wider at both ends, so
/// that the belt ranges of MIL-B-83475 (24 to 48 in) and MIL-B-1462F (28 to 46 in) fit.
pub fn usual_girth(body: Body) -> Extent {
    let all = measured_girth(body);
    Extent { from: all.from.times(19, 20), to: all.to.times(21, 20) }
}

/// Girths beyond which only a slip of the pen or of the unit can lie: two thirds of the
/// smallest measured, half as much again as the largest. An inch taken for a centimetre
/// is a factor of 2.54 and always falls outside, unless it lands on a usual girth.
pub fn possible_girth(body: Body) -> Extent {
    let all = measured_girth(body);
    Extent { from: all.from.times(2, 3), to: all.to.times(3, 2) }
}

/// Thickness of strap leather: belts 3 to 4 mm, lighter and heavier straps around them
/// (common practice, no source).
pub const USUAL_THICKNESS: Extent =
    Extent { from: Length::from_mm(1), to: Length::from_mm(6) };

/// Thickness beyond which it is not strap leather (common practice, no source).
pub const POSSIBLE_THICKNESS: Extent =
    Extent { from: Length::from_um(500), to: Length::from_mm(12) };

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

/// Ease for comfort and clothes (common practice, no source).
pub const USUAL_EASE: Extent = Extent { from: Length::ZERO, to: Length::from_mm(100) };

/// Ease beyond this part of the measure, a fifth, is a slip (common practice, no source).
pub const EASE_PARTS: i64 = 5;
