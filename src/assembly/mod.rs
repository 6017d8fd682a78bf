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
use crate::fit::{Fit, fit, fit_past};
use crate::geom::Length;
use crate::job::{Feature, FeatureId, HardwareKind, Job, MeasureMethod, PieceId, Target};
use crate::layout::{Layout, Mark, Piece, lay_out};

/// The fit of a job that could not be laid out, and why not.
pub type Unlaid = (Option<Fit>, Vec<Finding>);

/// Fits a job to its wearer and lays it out. Where a strap laps over its own end, or was measured
/// to its tip, what goes on past the size hole is read from a first layout and counted in a
/// second: it does not change when the size hole moves.
///
/// # Errors
/// The findings of [`lay_out`], and the fit.
pub fn fit_and_lay_out(job: &Job) -> Result<(Option<Fit>, Layout), Unlaid> {
    let first = fit(job);
    let layout = lay_out(job, first.as_ref()).map_err(|why| (first, why))?;
    let past = first.and_then(|fit| past(job, &fit, &layout));
    let Some(past) = past.filter(|past| *past > Length::ZERO) else {
        return Ok((first, layout));
    };
    let fit = fit_past(job, past);
    let layout = lay_out(job, fit.as_ref()).map_err(|why| (fit, why))?;
    Ok((fit, layout))
}

/// How far the leather goes on past the size hole; `None` where nothing depends on it.
fn past(job: &Job, fit: &Fit, layout: &Layout) -> Option<Length> {
    let worn = job.worn.as_ref()?;
    let to_tip = worn.measure.taken.value == MeasureMethod::BarToTip;
    if worn.buckle.is_some() && !to_tip {
        return None;
    }
    let has_size = |p: &&Piece| p.marks.iter().any(|m| m.role.is_size());
    let piece = layout.pieces.iter().find(has_size).or_else(|| layout.strap())?;
    Some(piece.extent.to - fit.size_hole)
}

/// The feature on another piece that the posts of `feature` go through too: its holes meet
/// theirs, and a rivet or a screw post is set in both.
pub fn joined<'a>(job: &'a Job, feature: &Feature) -> Option<&'a Feature> {
    let facts = feature.kind.facts();
    let Some(Target::Feature(other)) = facts.meets else { return None };
    let kind = &job.hardware(facts.sets?).kind;
    let is_post = matches!(kind, HardwareKind::Rivet(_) | HardwareKind::ScrewPost(_));
    let other = job.feature(other.value);
    (is_post && other.on.value != feature.on.value).then_some(other)
}

/// All pieces of a job, made up; of equal pieces the first.
#[derive(Clone, Debug)]
pub struct Assembly<'a> {
    job: &'a Job,
    /// The pieces, linings too, in the order of the layout.
    pub bodies: Vec<Body<'a>>,
}

impl<'a> Assembly<'a> {
    /// Makes up the pieces of a layout. What cannot be made is a fact in it, never an error.
    pub fn new(job: &'a Job, layout: &'a Layout) -> Self {
        let first = layout.pieces.iter().filter(|p| p.copy.n == 1);
        Self { job, bodies: first.map(|piece| Body::new(job, layout, piece)).collect() }
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
    /// is so many times the leather. Posts whose holes meet those of another feature go through
    /// its leather too.
    pub fn stack(&self, feature: &Feature) -> Length {
        let Some(body) = self.body(feature.on.value) else { return Length::ZERO };
        let marks = body.piece.marks_of(feature.id).filter(|m| m.path().is_some());
        let given = feature.kind.facts().layers.map(|layers| i64::from(layers.value));
        let stack = |mark: &Mark| match given {
            Some(layers) => body.punched_at(mark.at.x) * layers,
            None => body.layers(mark).map(|x| body.punched_at(x)).sum(),
        };
        let own = marks.map(stack).max().unwrap_or_default();
        own + joined(self.job, feature)
            .map_or(Length::ZERO, |other| self.leather_of(other))
    }

    /// Thickness of the leather that the marks of a feature lie in, where it is greatest.
    fn leather_of(&self, feature: &Feature) -> Length {
        let Some(body) = self.body(feature.on.value) else { return Length::ZERO };
        let marks = body.piece.marks_of(feature.id);
        marks.map(|m| body.punched_at(m.at.x)).max().unwrap_or_default()
    }
}
