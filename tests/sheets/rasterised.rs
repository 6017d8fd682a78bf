//! An independent renderer (hayro) prints every sheet of every sample job as pixels, and
//! the sheets are put together by their crosses, as a person would: centres of holes,
//! crosses and ends of scale bars come back where the layout has them.

use crate::common::joins::{Join, sub};
use crate::common::{laid, mm, printed, samples};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use strapwright::export::pdf::pdf;
use strapwright::geom::{Length, Point, Sheet as OnSheet};
use strapwright::layout::{Layout, Shape};
use strapwright::paginate::{Pen, SheetSet, Tile};

/// Pixels a point: 600 to the inch.
const SCALE: f32 = 600.0 / 72.0;
const MM_PER_PIXEL: f64 = 25.4 / 600.0;
/// What is asked of every distance, in mm.
const WITHIN: f64 = 0.01;

/// A sheet as pixels, with places in mm from its lower left corner.
struct Printed {
    /// Pixels a row, and rows.
    size: (i32, i32),
    /// How dark each pixel is, row by row from the top.
    ink: Vec<u8>,
    height: f64,
}

impl Printed {
    /// Calls `look` with the middle and the darkness (0 to 255) of every pixel within
    /// `half` mm of `about`.
    fn each_pixel(
        &self,
        about: (f64, f64),
        half: (f64, f64),
        mut look: impl FnMut((f64, f64), f64),
    ) {
        let size = self.size;
        let column = |x: f64| (x / MM_PER_PIXEL).floor() as i32;
        let row = |y: f64| ((self.height - y) / MM_PER_PIXEL).floor() as i32;
        let rows = row(about.1 + half.1).max(0)..=row(about.1 - half.1).min(size.1 - 1);
        for r in rows {
            let left = column(about.0 - half.0).max(0);
            for c in left..=column(about.0 + half.0).min(size.0 - 1) {
                let dark = self.ink[(r * size.0 + c) as usize];
                let x = (f64::from(c) + 0.5) * MM_PER_PIXEL;
                let y = self.height - (f64::from(r) + 0.5) * MM_PER_PIXEL;
                look((x, y), f64::from(dark));
            }
        }
    }

    /// Middle of all ink within `half` mm of `about`, along both axes; weighed by how dark
    /// each pixel is. Panics where there is none.
    fn ink(&self, about: (f64, f64), half: (f64, f64)) -> (f64, f64) {
        let (mut sum, mut at_x, mut at_y) = (0.0, 0.0, 0.0);
        self.each_pixel(about, half, |(x, y), dark| {
            sum += dark;
            at_x += dark * x;
            at_y += dark * y;
        });
        assert!(sum > 255.0 * 20.0, "no ink about {about:?}");
        (at_x / sum, at_y / sum)
    }

    /// Centre of the circle that fits the ink within `half` mm of `about` best, by least
    /// squares of the distances. The stripes in which the fine cross lies are left out, and
    /// a ring that is dashed, whose ink has its middle elsewhere, still gives its centre.
    fn ring(&self, about: (f64, f64), half: f64) -> (f64, f64) {
        let mut points = Vec::new();
        self.each_pixel(about, (half, half), |at, dark| {
            let aside = (at.0 - about.0).abs().min((at.1 - about.1).abs());
            if dark > 0.0 && aside > 0.3 {
                points.push((at, dark));
            }
        });
        assert!(points.len() > 50, "no ring about {about:?}");
        let (mut centre, mut radius) = (about, half);
        for _ in 0..20 {
            // Normal equations of the distances, linear in the step (dx, dy, dr).
            let (mut a, mut b) = ([[0.0; 3]; 3], [0.0; 3]);
            for ((x, y), weight) in &points {
                let (u, v) = (x - centre.0, y - centre.1);
                let distance = libm::hypot(u, v).max(1e-9);
                let row = [u / distance, v / distance, 1.0];
                for i in 0..3 {
                    for j in 0..3 {
                        a[i][j] += weight * row[i] * row[j];
                    }
                    b[i] += weight * row[i] * (distance - radius);
                }
            }
            let step = solve(a, b);
            centre = (centre.0 + step[0], centre.1 + step[1]);
            radius += step[2];
        }
        centre
    }

    /// How much of an area about a place is black, and its edges: left, right, low and high.
    fn black(&self, about: (f64, f64), half: (f64, f64)) -> (f64, [f64; 4]) {
        let (mut sum, mut count) = (0.0, 0.0);
        let (inf, reach) = (f64::INFINITY, MM_PER_PIXEL / 2.0);
        let mut edges = [inf, -inf, inf, -inf];
        self.each_pixel(about, half, |(x, y), dark| {
            sum += dark / 255.0;
            count += 1.0;
            let [left, right, low, high] = edges;
            edges = [
                left.min(x - reach),
                right.max(x + reach),
                low.min(y - reach),
                high.max(y + reach),
            ];
        });
        (sum / count, edges)
    }

    /// The middle of a cross. Its black quarters end at the far edges of its arms: above at the
    /// left edge of the upright one, below at its right edge, and so with the level one. A
    /// match line ends 1 mm off the middle.
    fn cross(&self, about: Point<OnSheet>) -> (f64, f64) {
        let (x, y) = (mm(about.x), mm(about.y));
        let (upper, [left, right, ..]) = self.black((x - 0.25, y + 0.6), (0.45, 0.25));
        let first = right - upper * (right - left);
        let (lower, [left, right, ..]) = self.black((x + 0.25, y - 0.6), (0.45, 0.25));
        let second = left + lower * (right - left);
        let (after, [.., low, high]) = self.black((x + 0.6, y - 0.25), (0.25, 0.45));
        let third = high - after * (high - low);
        let (before, [.., low, high]) = self.black((x - 0.6, y + 0.25), (0.25, 0.45));
        let fourth = low + before * (high - low);
        (f64::midpoint(first, second), f64::midpoint(third, fourth))
    }
}

/// Solves three equations by Cramer's rule.
fn solve(a: [[f64; 3]; 3], b: [f64; 3]) -> [f64; 3] {
    let det = |m: [[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
            - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let whole = det(a);
    [0, 1, 2].map(|column| {
        let mut with = a;
        for (row, value) in with.iter_mut().zip(b) {
            row[column] = value;
        }
        det(with) / whole
    })
}

fn rasterised(set: &SheetSet) -> Vec<Printed> {
    let file = Pdf::new(pdf(set).unwrap()).unwrap();
    let cache = RenderCache::new();
    let scale = PixmapSettings { x_scale: SCALE, y_scale: SCALE, bg_color: WHITE };
    let pages = file.pages();
    assert_eq!(pages.len(), set.sheets.len());
    pages
        .iter()
        .map(|page| {
            let pixels = render(
                page,
                &cache,
                &InterpreterSettings::default(),
                &RenderSettings::default(),
                &scale,
            );
            Printed {
                size: (i32::from(pixels.width()), i32::from(pixels.height())),
                ink: pixels.data().iter().map(|p| 255 - p.r).collect(),
                height: f64::from(page.render_dimensions().1) * 25.4 / 72.0,
            }
        })
        .collect()
}

/// The two crosses of a join on a tile, `a` first, as the pixels have them.
fn crosses(tile: &Tile, sheet: &Printed, join: usize) -> [(f64, f64); 2] {
    ["a", "b"].map(|side| {
        let label = format!("{join} + {} {side}", join + 1);
        let cross = tile.crosses.iter().find(|c| c.label == label);
        sheet.cross(cross.expect("both crosses of the join").at)
    })
}

/// Every mark of the strap as the joined sheets have it, against the layout.
fn hold_against_the_layout(name: &str, paper: &str, layout: &Layout, set: &SheetSet) {
    let sheets = rasterised(set);
    let piece = &layout.pieces[0];
    let mut chain = Join::NONE;
    let mut before: Option<(usize, &Tile)> = None;
    let mut found: Vec<(Point<strapwright::geom::Strap>, (f64, f64))> = Vec::new();
    let mut join = 0;
    // Along the strap; a sheet may have any of them.
    let mut tiles: Vec<(usize, &Tile)> = Vec::new();
    for (s, sheet) in set.sheets.iter().enumerate() {
        tiles.extend(sheet.tiles.iter().filter(|t| t.piece == 0).map(|t| (s, t)));
        bars(name, &sheets[s], sheet);
    }
    tiles.sort_by_key(|(_, tile)| tile.stretch);
    for (s, tile) in tiles {
        if let Some((s0, last)) = before {
            join += 1;
            let own = crosses(tile, &sheets[s], join);
            let other = crosses(last, &sheets[s0], join);
            chain = chain.after(Join::of(own, other));
        }
        before = Some((s, tile));
        for mark in piece.marks.iter().filter(|m| tile.stretch.holds(m.x_extent())) {
            let half = match mark.shape {
                Shape::Round { diameter } => mm(diameter) / 2.0 + 0.3,
                Shape::Slot { .. } | Shape::Across | Shape::Point => continue,
            };
            let on_sheet = tile.placement.apply(mark.at);
            let at = sheets[s].ring((mm(on_sheet.x), mm(on_sheet.y)), half);
            found.push((mark.at, chain.apply(at)));
        }
    }
    let joins = set.joins.iter().filter(|(piece, _)| *piece == 0).count();
    assert_eq!(join, joins, "{name} on {paper}: joins");
    let rounds = piece.marks.iter().filter(|m| matches!(m.shape, Shape::Round { .. }));
    assert!(found.len() >= rounds.count(), "{name} on {paper}: every mark is somewhere");
    let (origin, first) = found[0];
    for (at, seen) in &found {
        let moved = sub(*seen, first);
        let expected = (mm(at.x - origin.x), mm(at.y - origin.y));
        for (axis, error) in [("x", moved.0 - expected.0), ("y", moved.1 - expected.1)] {
            assert!(
                error.abs() < WITHIN,
                "{name} on {paper}: the mark at {} is {error:.4} mm off in {axis}",
                at.x
            );
        }
    }
}

/// Both ends of both scale bars by the middles of their end lines, which lie half their width
/// within.
fn bars(name: &str, printed: &Printed, sheet: &strapwright::paginate::Sheet) {
    assert_eq!(sheet.bars.len(), 2, "{name}: a bar along each edge");
    let wide = sheet.width > sheet.height;
    for (bar, along_width) in sheet.bars.iter().zip([true, false]) {
        let ends = [bar.from, bar.to].map(|p| {
            let (x, y) = (mm(p.x), mm(p.y));
            // Beside the bar, where there is only the end line.
            if along_width {
                printed.ink((x, y - 0.6), (0.5, 0.25)).0
            } else {
                printed.ink((x + 0.6, y), (0.25, 0.5)).1
            }
        });
        let length =
            if along_width { bar.to.x - bar.from.x } else { bar.to.y - bar.from.y };
        let error = ends[1] - ends[0] - (mm(length) - mm(Pen::Frame.width()));
        assert!(error.abs() < WITHIN, "{name}: a bar is {error:.4} mm off");
        let least = if along_width == wide { 200 } else { 150 };
        assert!(length >= Length::from_mm(least), "{name}: a bar of only {length}");
    }
}

/// Belts, collars and guitar straps, which are one long strap each: rasterising is slow, and
/// `marks_in_file.rs` holds the marks of all samples.
#[test]
fn long_samples_come_back_through_their_joins() {
    let long = |text: &str| {
        ["belt", "dog-collar", "guitar-strap"]
            .iter()
            .any(|t| text.contains(&format!("\ntemplate = \"{t}\"\n")))
    };
    let jobs: Vec<_> = samples::jobs().into_iter().filter(|(_, t)| long(t)).collect();
    assert!(jobs.len() >= 10, "{} samples", jobs.len());
    for (name, text) in jobs {
        for paper in ["a4", "letter"] {
            let laid = laid(&text, &[]);
            hold_against_the_layout(&name, paper, &laid.2, &printed(&laid, paper));
        }
    }
}
