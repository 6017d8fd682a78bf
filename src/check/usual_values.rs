//! A job with its impossible values made possible, to tell what follows from them alone.

use super::limits::{
    BUCKLE_BAR, BUCKLE_REACH, EASE_PARTS, POSSIBLE_THICKNESS, POSSIBLE_WIDTH, RING_BAR,
    USUAL_THICKNESS, possible_girth, usual_girth,
};
use super::rules::OF_VALUES;
use crate::assembly::fit_and_lay_out;
use crate::diagnostic::Finding;
use crate::fit::{Fit, fit_past};
use crate::geom::{Extent, Length};
use crate::job::{ClosesRound, FeatureKind, Fold, Form, HardwareKind, Job, Leather};
use crate::layout::Layout;

/// Whether a finding is about a value by itself, not about what follows from it.
pub fn is_of_values(finding: &Finding) -> bool {
    OF_VALUES.contains(&finding.rule)
}

/// A job whose values are possible, laid out.
pub(super) struct UsualJob {
    pub(super) job: Job,
    pub(super) fit: Option<Fit>,
    pub(super) layout: Layout,
}

/// `None` where every value is possible already, or the job cannot be laid out even so. `fit` is
/// that of the job itself.
pub(super) fn with_usual_values(job: &Job, fit: Option<&Fit>) -> Option<UsualJob> {
    let mut other = job.clone();
    let inside = other.worn_buckle().and_then(|b| b.inside.as_ref()).map(|i| i.value);
    leather(&mut other.strap, inside);
    for order in &mut other.pieces {
        leather(&mut order.leather, inside);
        if let Form::Keeper(keeper) = &mut order.form {
            if let Some(layer) = &mut keeper.layer {
                clamp(&mut layer.value, POSSIBLE_THICKNESS, USUAL_THICKNESS);
            }
            keeper.around.value = keeper.around.value.min(other.strap.width.value);
        }
    }
    for feature in &mut other.features {
        if let FeatureKind::Fold(Fold { round: ClosesRound::Bar(bar), .. }) =
            &mut feature.kind
        {
            clamp(&mut bar.value, RING_BAR, RING_BAR);
        }
    }
    for spec in &mut other.hardware {
        let HardwareKind::Buckle(buckle) = &mut spec.kind else { continue };
        clamp(&mut buckle.bar.value, BUCKLE_BAR, BUCKLE_BAR);
        clamp(&mut buckle.reach.value, BUCKLE_REACH, BUCKLE_REACH);
        if let Some(frame) = &mut buckle.frame {
            clamp(&mut frame.value, BUCKLE_REACH, BUCKLE_REACH);
        }
    }
    if let Some(worn) = &mut other.worn {
        let measure = &mut worn.measure;
        if let Some(bar) = &mut measure.bar {
            clamp(&mut bar.value, RING_BAR, RING_BAR);
        }
        if measure.ease.value.abs() > measure.value.value / EASE_PARTS {
            measure.ease.value = Length::ZERO;
        }
    }
    // The girth last: bar, reach and thickness are in it.
    let past = fit.map_or(Length::ZERO, |fit| fit.past);
    if let Some(own) = fit_past(&other, past)
        && let Some(worn) = &mut other.worn
    {
        let (girth, body) = (own.girth_at(own.size_hole), worn.measure.body);
        let mut sound = girth;
        clamp(&mut sound, possible_girth(body), usual_girth(body, false));
        worn.measure.value.value += sound - girth;
    }
    if other == *job {
        return None;
    }
    let (fit, layout) = fit_and_lay_out(&other).ok()?;
    Some(UsualJob { job: other, fit, layout })
}

fn leather(own: &mut Leather, inside: Option<Length>) {
    clamp(&mut own.thickness.value, POSSIBLE_THICKNESS, USUAL_THICKNESS);
    let possible = POSSIBLE_WIDTH.from..=POSSIBLE_WIDTH.to;
    if !possible.contains(&own.width.value) && own.width.value > Length::ZERO {
        own.width.value = inside.unwrap_or(Length::from_mm(30));
    }
}

/// Brings what is not `possible` into what is `usual`.
fn clamp(value: &mut Length, possible: Extent, usual: Extent) {
    if *value < possible.from || *value > possible.to {
        *value = (*value).clamp(usual.from, usual.to);
    }
}
