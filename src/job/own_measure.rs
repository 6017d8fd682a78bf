//! What a job has to say itself, because no template can know it: the measure.

use super::chain::MergedTemplates;
use super::{Job, MeasureMethod};
use crate::diagnostic::{Finding, Span};
use crate::input::Table;
use crate::job::rule;

/// What a job without its template says of the measure.
pub(super) struct OwnMeasure {
    has_value: bool,
    /// Where it says anything of the measure.
    span: Option<Span>,
}

impl OwnMeasure {
    /// Reads the tree of a job that is not merged into its template. The hole of a sizing strap
    /// is a measure too.
    pub(super) fn read(job: &Table) -> Self {
        let has = |key: &str| job.table("measure").is_some_and(|m| m.get(key).is_some());
        let has_value = has("value") || has("hole");
        let span = job.get("measure").map(|e| e.key_span.clone());
        Self { has_value, span }
    }

    /// Finds a strap around a body whose measure is the template's, which is that of another
    /// person, or whose measure includes the frame of a buckle that nobody measured.
    pub(super) fn check(self, job: &Job, templates: &MergedTemplates) -> Option<Finding> {
        let worn = job.worn.as_ref()?;
        let warning = |message: &str| Finding::warning(rule::MEASURE_NOT_GIVEN, message);
        let is_size = job.stock.as_ref().is_some_and(|s| s.chosen.is_some());
        if !self.has_value && !is_size {
            let size =
                if job.stock.is_some() { ", or choose one of the stock" } else { "" };
            let value = worn.measure.value.value.both();
            return Some(
                warning("the job does not say for which measure the strap is")
                    .at(self.span)
                    .expected(format!("{value}, the template's own"), "what was measured")
                    .remedy(format!("give measure.value as it was read{size}"))
                    .flag(if size.is_empty() { "" } else { "--size SIZE" }),
            );
        }
        let frame = job.worn_buckle()?.frame.as_ref()?;
        let is_usual =
            frame.span.as_ref().is_some_and(|span| templates.origin.is_built_in(span));
        if worn.measure.taken.value != MeasureMethod::FrameToHole || !is_usual {
            return None;
        }
        let frame = frame.value.both();
        Some(
            warning("the job does not say how long the frame is that was measured from")
                .at(worn.measure.taken.span.clone())
                .expected(
                    format!("{frame}, the template's own"),
                    "the frame of that buckle",
                )
                .remedy(
                    "give buckle.frame, from the bar's centre to the frame's far edge",
                ),
        )
    }
}
