//! What nearly every rule needs.

pub(super) use crate::check::measure::breadth;
pub(super) use crate::check::{CheckInput, severity_of};
pub(super) use crate::diagnostic::{Finding, RuleId, Severity, Span};
pub(super) use crate::geom::distance::depth;
pub(super) use crate::geom::{Extent, Length, Point};
pub(super) use crate::job::{
    Feature, FeatureId, Form, HardwareId, HardwareKind, MeasureMethod, Run, Spanned,
    Target,
};
pub(super) use crate::layout::{Mark, MarkKind, MarkRole, Piece, Shape};
