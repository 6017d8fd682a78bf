//! Corner marks: where they are missing or cut, the printer has shifted or cropped.

use super::super::area::Area;
use super::super::canvas::Canvas;
use super::super::item::{Layer, Pen};
use crate::geom::{Length, Path, Point};

const ARM: Length = Length::from_mm(3);

/// Draws a small angle in each corner of the printable area.
pub(in super::super) fn draw(canvas: &mut Canvas) {
    let Area { x, y } = canvas.printable();
    let mut paths = Vec::with_capacity(4);
    for (cx, inward) in [(x.from, ARM), (x.to, -ARM)] {
        for (cy, up) in [(y.from, ARM), (y.to, -ARM)] {
            let start = Path::from(Point::new(cx + inward, cy));
            let corner = start.line_to(Point::new(cx, cy));
            paths.push(corner.line_to(Point::new(cx, cy + up)));
        }
    }
    canvas.stroke(Layer::Guides, Pen::Punch, paths);
}
