//! What a job has to say itself, since no template can know it.

use super::tree::Table;
use super::{Job, STRAP};
use crate::diagnostic::{Finding, Place, Severity};

/// Whether a job says what was measured, and where it says anything of a measure.
pub(super) struct Given {
    value: bool,
    place: Option<Place>,
}

/// What `over`, the job without its template, says of the measure.
pub(super) fn given(over: &Table) -> Given {
    let measure = over.get("measure");
    let value = over.table("measure").is_some_and(|m| m.get("value").is_some());
    Given { value, place: measure.map(|e| e.key_place.clone()) }
}

impl Given {
    /// A strap round a body whose measure is the template's: somebody else's girth.
    pub(super) fn find(self, job: &Job) -> Option<Finding> {
        let measure = &job.worn.as_ref()?.measure;
        let is_size = job.stock.as_ref().is_some_and(|s| s.chosen.is_some());
        if self.value || is_size {
            return None;
        }
        let message = format!("the job does not say for which measure the {STRAP} is");
        let size =
            if job.stock.is_some() { ", or one of the stock by --size" } else { "" };
        Some(
            Finding::new("measure-not-given", Severity::Warning, message)
                .at(self.place)
                .held(
                    format!("{}, the template's own", measure.value.value.both()),
                    "what was measured",
                )
                .remedy(format!("give measure.value as it was read{size}")),
        )
    }
}
