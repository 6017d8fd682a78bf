//! A part of a page as a printer draws it.

use hayro::hayro_syntax::page::Page;
use hayro::kurbo::{Affine, BezPath, Rect};
use hayro::vello_cpu::color::palette::css::{BLACK, WHITE};
use hayro::vello_cpu::{self, Pixmap, RenderContext};
use hayro::{RenderCache, RenderSettings, render_into};
use hayro_interpret::InterpreterSettings;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Pixels to the mm: 300 dpi.
pub(super) const PIXELS_PER_MM: f64 = 300.0 / 25.4;

/// The pixel at a place, at most `most`.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a page"
)]
pub(super) fn pixel(at: f64, most: usize) -> usize {
    (at.max(0.0) as usize).min(most)
}

/// How dark each pixel is, from 0 for white paper to 255 for black. Row by row from the bottom,
/// as pages count.
pub(super) struct Raster {
    pub(super) width: usize,
    pub(super) height: usize,
    pixels: Vec<u8>,
}

impl Raster {
    /// Draws `page`; `to_pixels` maps its points to pixels from the lower left corner.
    /// `None` where the page cannot be drawn.
    pub(super) fn of_page<'a>(
        page: &'a Page<'a>,
        cache: &RenderCache<'a>,
        to_pixels: Affine,
        size: [u16; 2],
    ) -> Option<Self> {
        let interpreter = InterpreterSettings::default();
        // A printer has pixels enough to draw letters as they are.
        let settings = RenderSettings { hinting: false, ..RenderSettings::default() };
        let draw = |context: &mut RenderContext| {
            render_into(page, cache, &interpreter, &settings, context, to_pixels);
        };
        catch_unwind(AssertUnwindSafe(|| Self::new(size, draw))).ok()
    }

    /// Fills outlines; `to_pixels` maps their places to pixels.
    pub(super) fn of_outlines<'o>(
        outlines: impl Iterator<Item = &'o BezPath>,
        to_pixels: Affine,
        size: [u16; 2],
    ) -> Self {
        Self::new(size, |context| {
            context.set_paint(BLACK);
            context.set_transform(to_pixels);
            outlines.for_each(|outline| context.fill_path(outline));
        })
    }

    fn new([width, height]: [u16; 2], draw: impl FnOnce(&mut RenderContext)) -> Self {
        let mut context = RenderContext::new(width, height);
        draw(&mut context);
        context.flush();
        let mut pixmap = Pixmap::new(width, height);
        context.render_with(
            &mut pixmap,
            &mut vello_cpu::Resources::default(),
            vello_cpu::RasterizerSettings {
                target_init: vello_cpu::TargetInit::Clear(WHITE),
                ..Default::default()
            },
        );
        let grey = |p: &vello_cpu::color::PremulRgba8| {
            let [r, g, b] = [p.r, p.g, p.b].map(u32::from);
            // Weights of ITU-R BT.601, in 256ths; from memory.
            let light = (r * 77 + g * 150 + b * 29) >> 8;
            u8::try_from(255 - light.min(255)).unwrap_or(0)
        };
        let pixels = pixmap.data().iter().map(grey).collect();
        Self { width: usize::from(width), height: usize::from(height), pixels }
    }

    pub(super) fn get(&self, x: usize, y: usize) -> u8 {
        if x < self.width && y < self.height {
            self.pixels[y * self.width + x]
        } else {
            0
        }
    }

    /// How dark it is at a place between the middles of four pixels.
    pub(super) fn at(&self, x: f64, y: f64) -> f64 {
        let (x, y) = (x - 0.5, y - 0.5);
        let (left, low) = (x.floor(), y.floor());
        let (part_x, part_y) = (x - left, y - low);
        let pixel = |dx: f64, dy: f64| {
            let (x, y) = (left + dx, low + dy);
            if x < 0.0 || y < 0.0 {
                return 0.0;
            }
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "not negative, and small"
            )]
            f64::from(self.get(x as usize, y as usize))
        };
        let row = |dy| pixel(0.0, dy) * (1.0 - part_x) + pixel(1.0, dy) * part_x;
        row(0.0) * (1.0 - part_y) + row(1.0) * part_y
    }

    /// Whether there is any ink within so many pixels of one.
    pub(super) fn is_near(&self, x: usize, y: usize, reach: usize) -> bool {
        let columns = x.saturating_sub(reach)..=x + reach;
        let mut rows = y.saturating_sub(reach)..=y + reach;
        rows.any(|y| columns.clone().any(|x| self.get(x, y) > 0))
    }

    /// The darkest pixel within an area in mm; the first column lies `left` pixels from the
    /// left edge of the page.
    pub(super) fn darkest(&self, area: Rect, left: f64) -> f64 {
        let px = |mm: f64| mm * PIXELS_PER_MM;
        let rows = pixel(px(area.y0), usize::MAX)..=pixel(px(area.y1), usize::MAX);
        let columns =
            pixel(px(area.x0) - left, usize::MAX)..=pixel(px(area.x1) - left, usize::MAX);
        let pixels = rows.flat_map(|y| columns.clone().map(move |x| self.get(x, y)));
        f64::from(pixels.max().unwrap_or(0))
    }

    pub(super) fn row(&self, y: usize) -> &[u8] {
        &self.pixels[y * self.width..(y + 1) * self.width]
    }
}
