//! Where ink may be on a page.

use super::raster::{PIXELS_PER_MM, pixel};
use hayro_interpret::kurbo::Rect;

/// Where ink may be, a pixel each.
pub(super) struct Allowed {
    pub(super) width: usize,
    pub(super) height: usize,
    pixels: Vec<bool>,
}

impl Allowed {
    pub(super) fn new(width: f64, height: f64) -> Self {
        let [width, height] =
            [width, height].map(|side| pixel((side * PIXELS_PER_MM).floor(), 1 << 24));
        Self { width, height, pixels: vec![false; width * height] }
    }

    /// Allows ink within `area`, in mm.
    pub(super) fn add(&mut self, area: Rect) {
        let x = |at: f64| pixel(at * PIXELS_PER_MM, self.width);
        let y = |at: f64| pixel(at * PIXELS_PER_MM, self.height);
        let (left, right) = (x(area.x0), x(area.x1 + 1.0 / PIXELS_PER_MM));
        for row in y(area.y0)..y(area.y1 + 1.0 / PIXELS_PER_MM) {
            let row = row * self.width;
            self.pixels[row + left..row + right].fill(true);
        }
    }

    pub(super) fn row(&self, y: usize) -> &[bool] {
        &self.pixels[y * self.width..(y + 1) * self.width]
    }
}
