//! Design rules over the finished layout. A rule returns findings and never prints; each
//! stands in a file of its own under `rules` and in [`REGISTER`].

pub mod limits;
mod measure;
mod rules;

pub use rules::REGISTER;

use crate::diagnostic::{Finding, Severity};
use crate::fit::Fit;
use crate::job::Job;
use crate::layout::{Layout, Mark, MarkKind, Piece};

/// One design rule.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Its id.
    pub id: &'static str,
    /// What a person may want to know of it.
    pub about: About,
    /// The check itself.
    pub check: fn(&Subject<'_>, &mut Vec<Finding>),
}

/// What a rule is for, in words for the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// What it looks at.
    pub what: &'static str,
    /// Why that matters at the bench.
    pub why: &'static str,
    /// Lines of a belt's job that break it.
    pub breaks: &'static str,
    /// The same lines put right.
    pub keeps: &'static str,
    /// Where its figures come from.
    pub source: &'static str,
}

/// What the rules look at.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// What was asked for.
    pub job: &'a Job,
    /// How it fits.
    pub fit: Option<&'a Fit>,
    /// Where everything lies.
    pub layout: &'a Layout,
}

impl<'a> Subject<'a> {
    /// Every mark with its piece.
    fn marks(&self) -> impl Iterator<Item = (&'a Piece, &'a Mark)> {
        self.layout.pieces.iter().flat_map(|p| p.marks.iter().map(move |m| (p, m)))
    }
}

/// An opening of the blank in a bad place spoils nothing more, but what the job says of the
/// blank can then hardly be right.
fn severity_of(mark: &Mark) -> Severity {
    if mark.kind == MarkKind::Target { Severity::Warning } else { Severity::Error }
}

/// Holds the layout against every rule; the heaviest findings come first, in the order of
/// the register.
pub fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for rule in REGISTER {
        (rule.check)(subject, &mut findings);
    }
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    findings
}
