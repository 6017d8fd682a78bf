//! Why pieces cannot be printed on a paper.

use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::paginate::rule;
use std::fmt;

/// Why pieces cannot be printed on a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaginateError {
    /// The paper is too small for two joins and a tile between them, or for one of the marks.
    PaperTooSmall {
        /// Name of the paper.
        paper: String,
    },
    /// There are more sheets than anybody tapes together.
    TooManySheets {
        /// Name of the paper.
        paper: String,
        /// The least number of sheets.
        sheets: usize,
        /// The greatest number allowed.
        most: usize,
    },
    /// The pieces together are longer than anybody draws at full scale.
    TooLong {
        /// Their total length.
        length: Length,
        /// The greatest length allowed.
        most: Length,
    },
}

impl PaginateError {
    /// The finding that forbids the print.
    pub fn finding(&self) -> Finding {
        let (rule, message, found, required, remedy) = match self {
            Self::PaperTooSmall { paper } => (
                rule::PAPER_TOO_SMALL,
                format!("paper `{paper}` is too small"),
                "tiles shorter than an overlap and the longest mark".to_owned(),
                "tiles long enough for two joins and every mark".to_owned(),
                "choose a larger paper: a4, letter or roll",
            ),
            Self::TooManySheets { paper, sheets, most } => (
                rule::TOO_MANY_SHEETS,
                "the job takes too many sheets".to_owned(),
                format!("at least {sheets} sheets of `{paper}`"),
                format!("at most {most} sheets"),
                "look at the measure and its unit, or choose a larger paper: roll",
            ),
            Self::TooLong { length, most } => (
                rule::TOO_MANY_SHEETS,
                "the job is too long to be drawn".to_owned(),
                format!("{} of strap", length.both()),
                format!("at most {} in one drawing", most.both()),
                "look at the lengths, their units and the counts of pieces",
            ),
        };
        let finding = Finding::error(rule, message);
        let is_of_paper = !matches!(self, Self::TooLong { .. });
        let flag = if is_of_paper { "--paper NAME" } else { "" };
        finding.expected(found, required).remedy(remedy).flag(flag)
    }
}

impl fmt::Display for PaginateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Finding { message, found, required, remedy, .. } = self.finding();
        write!(f, "{message}: found {found}, required {required}; {remedy}")
    }
}

impl std::error::Error for PaginateError {}
