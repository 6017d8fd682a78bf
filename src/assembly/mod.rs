//! The strap made up: linings on, ends folded back. It tells which leather lies on which, how
//! thick it is there, and which hole lies over which.
//!
//! Along a piece x is that of the layout. A fold at `axis` lays the leather at x onto
//! 2 · axis - x, so a flap is a stretch of leather and the stretch that it comes to lie on.

mod body;
mod flap;

pub use body::{Body, Ply};
pub use flap::Flap;

use crate::diagnostic::Finding;
use crate::fit::{Fit, fit, fit_lapped};
use crate::geom::Length;
use crate::job::{Feature, FeatureId, Job, PieceId};
use crate::layout::{Layout, Mark, lay_out};

/// The fit of a job that could not be laid out, and why not.
pub type Unlaid = (Option<Fit>, Vec<Finding>);

/// Fits a job to its wearer and lays it out. Where a strap laps over its own end, the lap is
/// read from a first layout and counted in a second: it does not change when the size hole
/// moves.
///
/// # Errors
/// The findings of [`lay_out`], and the fit.
pub fn fit_and_lay_out(job: &Job) -> Result<(Option<Fit>, Layout), Unlaid> {
    let first = fit(job);
    let layout = lay_out(job, first.as_ref()).map_err(|why| (first, why))?;
    let lap = first.and_then(|fit| lap(job, &fit, &layout));
    let Some(lap) = lap.filter(|lap| *lap > Length::ZERO) else {
        return Ok((first, layout));
    };
    let fit = fit_lapped(job, lap);
    let layout = lay_out(job, fit.as_ref()).map_err(|why| (fit, why))?;
    Ok((fit, layout))
}

/// How far the inner end of a strap that closes on itself lies beneath its beginning.
fn lap(job: &Job, fit: &Fit, layout: &Layout) -> Option<Length> {
    let worn = job.worn.as_ref().filter(|worn| worn.buckle.is_none())?;
    Some(layout.strap()?.extent.to - fit.size_hole - worn.measure.rest.value)
}

/// All pieces of a job, made up; of equal pieces the first.
#[derive(Clone, Debug)]
pub struct Assembly<'a> {
    /// The pieces, linings too, in the order of the layout.
    pub bodies: Vec<Body<'a>>,
}

impl<'a> Assembly<'a> {
    /// Makes up the pieces of a layout. What cannot be made is a fact in it, never an error.
    pub fn new(job: &'a Job, layout: &'a Layout) -> Self {
        let first = layout.pieces.iter().filter(|p| p.copy.n == 1);
        Self { bodies: first.map(|piece| Body::new(job, layout, piece)).collect() }
    }

    /// A piece, made up.
    pub fn body(&self, id: PieceId) -> Option<&Body<'a>> {
        self.bodies.iter().find(|b| b.piece.id == id)
    }

    /// The flap of a feature that folds, and the piece that folds there.
    pub fn flap(&self, id: FeatureId) -> Option<(&Body<'a>, &Flap)> {
        self.bodies
            .iter()
            .find_map(|b| Some((b, b.flaps.iter().find(|f| f.feature == id)?)))
    }

    /// Thickness of all that the marks of `feature` go through and hold together, where it is
    /// greatest; zero where it has no marks. Where the job says how many layers there are, it
    /// is so many times the leather.
    pub fn stack(&self, feature: &Feature) -> Length {
        let Some(body) = self.body(feature.on.value) else { return Length::ZERO };
        let marks = body.piece.marks_of(feature.id).filter(|m| m.path().is_some());
        let said = feature.kind.facts().layers.map(|layers| i64::from(layers.value));
        let stack = |mark: &Mark| match said {
            Some(layers) => body.thickness_at(mark.at.x) * layers,
            None => body.layers(mark).map(|x| body.thickness_at(x)).sum(),
        };
        marks.map(stack).max().unwrap_or_default()
    }
}
