//! What a job has to say itself, since no template can know it.

use super::base::Base;
use super::tree::Table;
use super::{Job, MeasureMethod};
use crate::diagnostic::{Finding, Severity, Span};

/// Whether a job says what was measured, and where it says anything of a measure.
pub(super) struct Given {
    value: bool,
    span: Option<Span>,
}

/// What `over`, the job without its template, says of the measure.
pub(super) fn given(over: &Table) -> Given {
    let measure = over.get("measure");
    let value = over.table("measure").is_some_and(|m| m.get("value").is_some());
    Given { value, span: measure.map(|e| e.key_span.clone()) }
}

impl Given {
    /// A strap round a body whose measure is the template's, somebody else's girth; or one
    /// that was measured on a buckle which nobody has measured.
    pub(super) fn find(self, job: &Job, base: &Base) -> Option<Finding> {
        let worn = job.worn.as_ref()?;
        let warning =
            |message: &str| Finding::new("measure-not-given", Severity::Warning, message);
        let is_size = job.stock.as_ref().is_some_and(|s| s.chosen.is_some());
        if !self.value && !is_size {
            let size =
                if job.stock.is_some() { ", or one of the stock by --size" } else { "" };
            return Some(
                warning("the job does not say for which measure the strap is")
                    .at(self.span)
                    .expected(
                        format!(
                            "{}, the template's own",
                            worn.measure.value.value.both()
                        ),
                        "what was measured",
                    )
                    .remedy(format!("give measure.value as it was read{size}")),
            );
        }
        let frame = &worn.buckle.as_ref()?.frame;
        let is_usual =
            frame.span.as_ref().is_some_and(|span| base.origin.is_built_in(span));
        if worn.measure.taken.value != MeasureMethod::FrameToHole || !is_usual {
            return None;
        }
        Some(
            warning("the job does not say how long the frame is that was measured from")
                .at(worn.measure.taken.span.clone())
                .expected(
                    format!("{}, the template's own", frame.value.both()),
                    "the frame of that buckle",
                )
                .remedy(
                    "give buckle.frame, from the bar's centre to the frame's far edge",
                ),
        )
    }
}
