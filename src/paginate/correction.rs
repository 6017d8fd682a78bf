//! A printer's error, undone: what the drawing is multiplied by.

use super::paper::Form;
use crate::geom::{Length, Ratio};

/// What one axis is multiplied by, and how sure that is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Factor {
    /// Every distance along the axis is multiplied by this.
    pub by: Ratio,
    /// The expanded uncertainty (k = 2), as a part of the length.
    pub proven: Ratio,
}

/// What undoes a printer's error. It belongs to the printer's feed and cross-feed, so to
/// the edges of the paper, whichever way round a drawing lies on it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Correction {
    /// What the printer is called.
    pub printer: String,
    /// Along the long edge of a sheet, or along a roll.
    pub long: Factor,
    /// Along the short edge of a sheet, or across a roll.
    pub short: Factor,
    /// What the printer leaves blank along every edge.
    pub margin: Length,
    /// Whether it undoes a fit to the page that cannot be switched off, so that the print
    /// must be fitted again.
    pub fitted: bool,
}

/// A correction as the pages of one print have it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Scaling {
    /// What the printer is called.
    pub printer: String,
    /// Along the width of the page as it is read.
    pub width: Factor,
    /// Along its height.
    pub height: Factor,
    /// Whether the print must be fitted to the page.
    pub fitted: bool,
}

impl Correction {
    /// How it applies to a page of `width` and `height`.
    pub(super) fn on(&self, form: Form, width: Length, height: Length) -> Scaling {
        let (width, height) = if form.has_long_width(width, height) {
            (self.long, self.short)
        } else {
            (self.short, self.long)
        };
        Scaling { printer: self.printer.clone(), width, height, fitted: self.fitted }
    }
}

impl Scaling {
    /// Both factors as a program reads them: `W×1.0125 H×0.998`.
    pub fn token(&self) -> String {
        format!("W×{} H×{}", self.width.by, self.height.by)
    }
}

/// How far from the edge of a page the drawing must stay, so that multiplied by `factor`
/// about the middle it still stays `margin` away, and multiplied back too.
pub(super) fn margin(side: Length, margin: Length, factor: Option<Factor>) -> Length {
    let one = Ratio::ONE.millionths();
    let by = factor.map_or(one, |f| f.by.millionths()).max(one);
    (side - (side - margin * 2).times(one, by)) / 2
}
