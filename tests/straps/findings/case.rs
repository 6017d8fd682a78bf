//! A job with a mistake, and what must be found in it.

pub(crate) struct Case {
    pub(crate) rule: &'static str,
    pub(crate) job: &'static str,
    /// The line that the finding points at; empty where there is none to point at.
    pub(crate) line: &'static str,
    pub(crate) found: &'static str,
    pub(crate) required: &'static str,
}

pub(crate) const fn case(
    rule: &'static str,
    job: &'static str,
    line: &'static str,
    found: &'static str,
    required: &'static str,
) -> Case {
    Case { rule, job, line, found, required }
}
