//! Where the size hole lies, and which girth a hole serves.

use super::Bend;
use crate::geom::{Length, circumference};
use crate::job::{Job, Taken, Worn};

/// The lengths that follow from body, buckle and leather.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// How the strap folds round the buckle's bar.
    pub bend: Bend,
    /// x of the size hole: from the middle of the bend, flat.
    pub size_hole: Length,
    /// From the bar's centre to where a hole sits on the tongue.
    reach: Length,
    /// What the mid-line of the closed strap is longer than the body: π · thickness.
    round: Length,
    /// Ease that was asked for.
    ease: Length,
}

/// Works the fit out; `None` for a strap that closes round nobody.
///
/// With s the bend's take-up, D the bar's diameter and t the thickness, a flat x lies
/// x - s/2 from the bar's centre. So
///
/// - `tape`, girth G: the closed strap's mid-line is its inner girth + π t for any convex
///   shape, and the loop through a hole at x is (x - s/2) + reach, so
///   x = G + ease + π t - reach + s/2;
/// - `bar-to-hole`: x = reading + ease + s/2;
/// - `bend-to-hole`: the tape starts D/2 + t outside the bar's centre, so
///   x = reading + ease + s/2 - D/2 - t;
/// - `frame-to-hole`: the tape starts at the frame's far edge, `frame` beyond the bar's
///   centre, so x = reading + ease - frame + s/2;
/// - `trousers`: belt size = size + 2 in (common practice, no source), read from the bend.
pub fn fit(job: &Job) -> Option<Fit> {
    let Worn { measure, buckle } = job.worn.as_ref()?;
    let thickness = job.strap.thickness.value;
    let bend = Bend::new(buckle.bar.value, thickness, job.strap.k.value);
    let (reach, round) = (buckle.reach.value, circumference(thickness));
    let ease = measure.ease.value;
    let half = bend.take_up / 2;
    let value = measure.value.value + ease;
    let from_bend = |reading: Length| reading - bend.from_fold_to_outside();
    let size_hole = match measure.taken.value {
        Taken::Tape => value + round - reach + half,
        Taken::BendToHole => from_bend(value),
        Taken::BarToHole => value + half,
        Taken::FrameToHole => value - buckle.frame.value + half,
        Taken::Trousers => from_bend(value + Length::from_inches(2)),
    };
    Some(Fit { bend, size_hole, reach, round, ease })
}

impl Fit {
    /// The girth that the strap serves when it is closed in a hole at `x`, ease taken off:
    /// the inverse of the `tape` formula of [`fit`].
    pub fn girth_at(&self, x: Length) -> Length {
        x - self.bend.take_up / 2 + self.reach - self.round - self.ease
    }
}
