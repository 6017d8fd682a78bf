//! Where the size hole lies, and which girth a hole serves.

use crate::geom::{Bend, Length, circumference};
use crate::job::{Job, MeasureMethod, PieceId, Worn};

/// The lengths that follow from body, buckle and leather.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// How the strap folds at x = 0: round the buckle's bar, or another where the buckle is
    /// elsewhere; `None` where it does not fold.
    pub bend: Option<Bend>,
    /// x of the size hole: from the middle of the bend, flat.
    pub size_hole: Length,
    /// What the closed loop has beside the strap: the buckle, from its bar's centre to
    /// where a hole sits on its tongue, and the rest.
    hardware: Length,
    /// Half of what the bend takes up.
    half_take_up: Length,
    /// Thickness of the strap with its lining.
    thickness: Length,
    /// Ease that was counted. It belongs to a tape round the body: fingers under the tape are
    /// the ease, and a strap that fits has it in it.
    pub ease: Length,
    /// How far the leather goes on past the size hole, as far as that was counted.
    pub past: Length,
    /// From the size hole to the inner end, on a strap whose end lies under its beginning.
    lap: Length,
}

/// Computes the fit; `None` for a strap that closes round nobody.
///
/// With s the bend's take-up, D the bar's diameter and t the thickness of strap and lining, a
/// flat x lies x - s/2 from the bar's centre. So
///
/// - `tape`, girth G: the closed strap's mid-line is its inner girth + π t for any convex
///   shape, and the loop through a hole at x is (x - s/2) + reach, so
///   x = G + ease + π t - reach + s/2;
/// - `tape-with-fingers`: the same, and the fingers are the ease;
/// - `bar-to-hole`: x = reading + s/2;
/// - `bend-to-hole`: the tape starts D/2 + t outside the bar's centre, so
///   x = reading + s/2 - D/2 - t;
/// - `frame-to-hole`: the tape starts at the frame's far edge, `frame` beyond the bar's
///   centre, so x = reading - frame + s/2;
/// - `bar-to-tip`: x = reading + s/2 less what goes on past the size hole;
/// - `sizing-strap`: as `tape-with-fingers`, with the girth that the hole of that strap serves:
///   it was worn, so it has the ease in it;
/// - `trousers`: belt size = size + 2 in (common practice, no source), read from the bend.
///
/// What else lies in the loop, a watch and the other half of its strap, counts as reach
/// does. A reading from the buckle goes over that too, unless `measure.bar` says that x = 0 lies at
/// another bar. A strap without a buckle, closed by a snap, has neither reach nor bend: cap and post
/// lie one upon the other.
///
/// ```
/// use strapwright::geom::Length;
/// use strapwright::{fit::fit, job::read};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let job = read("belt.toml", belt, &[]).job.expect("no mistakes");
/// let fit = fit(&job).expect("a belt closes round a body");
/// assert_eq!(fit.girth_at(fit.size_hole), Length::from_inches(34));
/// ```
pub fn fit(job: &Job) -> Option<Fit> {
    fit_past(job, Length::ZERO)
}

/// The same of a strap that goes on `past` the size hole.
///
/// Without a buckle its end goes on beneath its beginning, which lies on it, t further out. A curve
/// at a distance t outside another is t · a / r longer over the stretch a, with r the radius of the
/// mid-line. So a tape asks for 2 π t a / (G + ease + π t) more.
pub fn fit_past(job: &Job, past: Length) -> Option<Fit> {
    let Worn { measure, .. } = job.worn.as_ref()?;
    let buckle = job.worn_buckle();
    let thickness = thickness(job);
    let bar = measure.bar.as_ref().or(buckle.map(|b| &b.bar));
    let bend = bar.map(|bar| Bend::new(bar.value, thickness, job.strap.k.value));
    let reach = buckle.map_or(Length::ZERO, |b| b.reach.value);
    let frame = buckle.and_then(|b| b.frame.as_ref()).map_or(Length::ZERO, |f| f.value);
    let rest = measure.rest.value;
    let hardware = reach + rest;
    let lap =
        if buckle.is_none() { (past - rest).max(Length::ZERO) } else { Length::ZERO };
    // What comes before the piece, where a reading from the buckle goes over it.
    let before = if measure.bar.is_none() { rest } else { Length::ZERO };
    let half_take_up = bend.map_or(Length::ZERO, |b| b.take_up / 2);
    let to_outside = bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
    let ease = match measure.taken.value {
        MeasureMethod::Tape => measure.ease.value,
        _ => Length::ZERO,
    };
    let value = measure.value.value;
    let size_hole = match measure.taken.value {
        MeasureMethod::Tape
        | MeasureMethod::TapeWithFingers
        | MeasureMethod::SizingStrap => {
            let loop_length = value + ease + circumference(thickness);
            let more = lap_square(thickness, lap) / i128::from(loop_length.nm().max(1));
            let more = Length::from_nm(i64::try_from(more).unwrap_or(0));
            loop_length + more - hardware + half_take_up
        }
        MeasureMethod::BendToHole => value - to_outside - before,
        MeasureMethod::BarToHole => value + half_take_up - before,
        MeasureMethod::BarToTip => value + half_take_up - before - past,
        MeasureMethod::FrameToHole => value - frame + half_take_up - before,
        MeasureMethod::Trousers => value + Length::from_inches(2) - to_outside - before,
    };
    Some(Fit { bend, size_hole, hardware, half_take_up, thickness, ease, past, lap })
}

/// Thickness of what goes round the body, linings included: of the strap, or of the piece with the
/// size holes where that is thicker.
fn thickness(job: &Job) -> Length {
    let rows = job.features.iter().filter(|f| f.kind.facts().size_holes.is_some());
    let pieces = rows.map(|f| f.on.value).chain([PieceId::STRAP]);
    pieces.map(|id| job.made_up_thickness(id)).max().unwrap_or_default()
}

/// 2 π t a, in square nanometres: what a lap of length a asks for, times the mid-line.
fn lap_square(thickness: Length, lap: Length) -> i128 {
    i128::from(circumference(thickness * 2).nm()) * i128::from(lap.nm())
}

impl Fit {
    /// The girth that the strap serves when it is closed in a hole at `x`, ease taken off:
    /// the inverse of the `tape` formula of [`fit`].
    pub fn girth_at(&self, x: Length) -> Length {
        let closed = x - self.half_take_up + self.hardware;
        let loop_length = if self.lap == Length::ZERO {
            closed
        } else {
            let lap = (self.lap + self.size_hole - x).max(Length::ZERO);
            // closed = l + c / l, so l = (closed + √(closed² - 4 c)) / 2.
            let root = closed.square() - 4 * lap_square(self.thickness, lap);
            (closed + Length::from_square(root)) / 2
        };
        loop_length - circumference(self.thickness) - self.ease
    }
}
