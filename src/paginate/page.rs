//! The areas of a page: margins, head, scale bars, and what is left for tiles. The head is at the
//! top or, turned, at the left: then the strap lies along the other side of the page.

use super::area::Area;
use super::correction::{Correction, margin};
use super::pack::UsableArea;
use super::paper::{MARGIN, PaperForm};
use super::sheet::Sheet;
use crate::geom::{Extent, Length};

/// Height of the head of a page that is wide enough for all of it, and of any other, which has
/// a row more.
const HEAD: Length = Length::from_um(26_600);
pub(super) const HIGHEST_HEAD: Length = Length::from_mm(36);
/// From this width on, a page that lies has the lower head.
const WIDE: Length = Length::from_mm(140);
/// Width of the band of the scale bar that is not in the head.
pub(super) const LEFT_BAR: Length = Length::from_mm(9);

/// A page as it is read. The strap lies along its width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Page {
    pub(super) width: Length,
    pub(super) height: Length,
    /// The margin at the left and the right.
    side: Length,
    /// The margin at the top and the bottom.
    top: Length,
    /// Whether the head is at the left, turned to be read from the right.
    pub(super) has_side_head: bool,
}

impl Page {
    /// A page with the margins that a correction asks for.
    pub(super) fn new(
        width: Length,
        height: Length,
        form: PaperForm,
        correction: Option<&Correction>,
    ) -> Self {
        let edge = correction.map_or(MARGIN, |c| c.margin);
        let scaling = correction.map(|c| c.on(form, width, height));
        Self {
            width,
            height,
            side: margin(width, edge, scaling.map(|[width, _]| width)),
            top: margin(height, edge, scaling.map(|[_, height]| height)),
            has_side_head: false,
        }
    }

    /// The same page with its head at the left.
    pub(super) fn with_side_head(self) -> Self {
        Self { has_side_head: true, ..self }
    }

    /// The page as its head is read.
    pub(super) fn of_head(self) -> Self {
        let Self { width, height, side, top, has_side_head } = self;
        if has_side_head {
            let (width, height, side, top) = (height, width, top, side);
            Self { width, height, side, top, has_side_head: false }
        } else {
            self
        }
    }

    /// Whether it is the page of a sheet.
    pub(super) fn is_of(self, sheet: &Sheet) -> bool {
        (self.width, self.height) == (sheet.width, sheet.height)
    }

    /// The area within the margins.
    pub(super) fn printable(self) -> Area {
        Area::new(
            Extent { from: self.side, to: self.width - self.side },
            Extent { from: self.top, to: self.height - self.top },
        )
    }

    /// Whether what to do stands beside how to print, and not below it.
    pub(super) fn has_low_head(self) -> bool {
        let Self { width, height, .. } = self.of_head();
        width >= WIDE && width > height
    }

    /// The height of the head.
    pub(super) fn head(self) -> Length {
        if self.has_low_head() { HEAD } else { HIGHEST_HEAD }
    }

    /// The area for tiles.
    pub(super) fn tile_area(self) -> Area {
        let all = self.printable();
        if self.has_side_head {
            return Area::new(
                Extent { from: all.x.from + self.head(), to: all.x.to },
                Extent { from: all.y.from + LEFT_BAR, to: all.y.to },
            );
        }
        Area::new(
            Extent { from: all.x.from + LEFT_BAR, to: all.x.to },
            Extent { from: all.y.from, to: all.y.to - self.head() },
        )
    }

    pub(super) fn usable(self) -> UsableArea {
        let Area { x, y } = self.tile_area();
        UsableArea { width: x.length(), height: y.length() }
    }
}
