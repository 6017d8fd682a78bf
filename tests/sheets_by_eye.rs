//! An independent renderer (hayro) prints every sheet of every sample job as pixels, and
//! the sheets are put together by their crosses, as a person would: centres of holes,
//! crosses and ends of scale bars come back where the layout has them.

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::Pixmap;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use strapwright::export::pdf::pdf;
use strapwright::fit::fit;
use strapwright::geom::{Length, Point, Sheet as OnSheet};
use strapwright::job::read;
use strapwright::layout::{Layout, Shape, lay_out};
use strapwright::paginate::{Heading, Paper, SheetSet, paginate};

/// Pixels a point: 600 to the inch.
const SCALE: f32 = 600.0 / 72.0;
const MM_PER_PIXEL: f64 = 25.4 / 600.0;
/// What is asked of every distance, in mm.
const WITHIN: f64 = 0.01;

fn mm(length: Length) -> f64 {
    length.mm(6).parse().unwrap()
}

/// A sheet as pixels, with places in mm from its lower left corner.
struct Printed {
    pixels: Pixmap,
    height: f64,
}

impl Printed {
    /// Middle of all ink within `half` mm of `about`, along both axes; weighed by how dark
    /// each pixel is. Panics where there is none.
    fn ink(&self, about: (f64, f64), half: (f64, f64)) -> (f64, f64) {
        let (width, rows) = (i32::from(self.pixels.width()), i32::from(self.pixels.height()));
        let column = |x: f64| (x / MM_PER_PIXEL).floor() as i32;
        let row = |y: f64| ((self.height - y) / MM_PER_PIXEL).floor() as i32;
        let (mut sum, mut at_x, mut at_y) = (0.0, 0.0, 0.0);
        for r in row(about.1 + half.1).max(0)..=row(about.1 - half.1).min(rows - 1) {
            for c in column(about.0 - half.0).max(0)..=column(about.0 + half.0).min(width - 1)
            {
                let pixel = self.pixels.sample(c as u16, r as u16);
                let dark = 255.0 - f64::from(pixel.r);
                sum += dark;
                at_x += dark * (f64::from(c) + 0.5) * MM_PER_PIXEL;
                at_y += dark * (self.height - (f64::from(r) + 0.5) * MM_PER_PIXEL);
            }
        }
        assert!(sum > 255.0 * 20.0, "no ink about {about:?}");
        (at_x / sum, at_y / sum)
    }

    fn ink_about(&self, p: Point<OnSheet>, half: f64) -> (f64, f64) {
        self.ink((mm(p.x), mm(p.y)), (half, half))
    }
}

fn printed(set: &SheetSet) -> Vec<Printed> {
    let file = Pdf::new(pdf(set).unwrap()).unwrap();
    let cache = RenderCache::new();
    let scale = PixmapSettings { x_scale: SCALE, y_scale: SCALE, bg_color: WHITE };
    let pages = file.pages();
    assert_eq!(pages.len(), set.sheets.len());
    pages
        .iter()
        .map(|page| Printed {
            pixels: render(
                page,
                &cache,
                &InterpreterSettings::default(),
                &RenderSettings::default(),
                &scale,
            ),
            height: f64::from(page.render_dimensions().1) * 25.4 / 72.0,
        })
        .collect()
}

fn drawn(text: &str, paper: &str) -> (Layout, SheetSet) {
    let job = read("sample", text, &[]).job.expect("a sample job has no mistakes");
    let layout = lay_out(&job, fit(&job).as_ref()).unwrap();
    let heading =
        Heading { title: job.title.value.clone(), wearer: job.wearer.value.clone() };
    let set = paginate(&layout, &heading, &Paper::parse(paper).unwrap()).unwrap();
    (layout, set)
}

/// A turn and a shift that carry one tile's places onto the tile before it.
#[derive(Clone, Copy)]
struct Join {
    cos: f64,
    sin: f64,
    x: f64,
    y: f64,
}

impl Join {
    const NONE: Self = Self { cos: 1.0, sin: 0.0, x: 0.0, y: 0.0 };

    fn apply(self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.cos * x - self.sin * y + self.x, self.sin * x + self.cos * y + self.y)
    }

    /// Lays the two crosses `own` on the two crosses `other`, middle on middle.
    fn of(own: [(f64, f64); 2], other: [(f64, f64); 2]) -> Self {
        let (u, v) = (sub(own[1], own[0]), sub(other[1], other[0]));
        let (dot, cross) = (u.0 * v.0 + u.1 * v.1, u.0 * v.1 - u.1 * v.0);
        let norm = libm::hypot(dot, cross);
        let turned = Self { cos: dot / norm, sin: cross / norm, x: 0.0, y: 0.0 };
        let (from, to) = (turned.apply(middle(own)), middle(other));
        Self { x: to.0 - from.0, y: to.1 - from.1, ..turned }
    }

    fn after(self, first: Self) -> Self {
        let (x, y) = self.apply((first.x, first.y));
        Self {
            cos: self.cos * first.cos - self.sin * first.sin,
            sin: self.sin * first.cos + self.cos * first.sin,
            x,
            y,
        }
    }
}

fn sub(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (a.0 - b.0, a.1 - b.1)
}

fn middle([a, b]: [(f64, f64); 2]) -> (f64, f64) {
    (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1))
}

/// The two crosses of a join on a tile, `a` first, as the pixels have them.
fn crosses(
    tile: &strapwright::paginate::Tile,
    sheet: &Printed,
    join: usize,
) -> [(f64, f64); 2] {
    ["a", "b"].map(|side| {
        let label = format!("{join}{side}");
        let cross = tile.crosses.iter().find(|c| c.label == label);
        sheet.ink_about(cross.expect("both crosses of the join").at, 3.0)
    })
}

/// Every mark of the strap as the joined sheets have it, against the layout.
fn hold_against_the_layout(name: &str, paper: &str, layout: &Layout, set: &SheetSet) {
    let sheets = printed(set);
    let piece = &layout.pieces[0];
    let mut chain = Join::NONE;
    let mut before: Option<(usize, usize)> = None;
    let mut found: Vec<(Point<strapwright::geom::Strap>, (f64, f64))> = Vec::new();
    let mut join = 0;
    for (s, sheet) in set.sheets.iter().enumerate() {
        for (t, tile) in sheet.tiles.iter().enumerate() {
            if let Some((s0, t0)) = before {
                join += 1;
                let own = crosses(tile, &sheets[s], join);
                let other = crosses(&set.sheets[s0].tiles[t0], &sheets[s0], join);
                chain = chain.after(Join::of(own, other));
            }
            before = Some((s, t));
            for mark in piece.marks.iter().filter(|m| tile.stretch.holds(m.x_extent())) {
                let half = match mark.shape {
                    Shape::Round { diameter } => mm(diameter) / 2.0 + 0.6,
                    Shape::Slot { .. } | Shape::Across | Shape::Point => continue,
                };
                let at = sheets[s].ink_about(tile.placement.apply(mark.at), half);
                found.push((mark.at, chain.apply(at)));
            }
        }
        bars(name, &sheets[s], sheet);
    }
    assert_eq!(join, set.joins.len(), "{name} on {paper}: joins");
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

/// Both ends of both scale bars by the middle of their end ticks.
fn bars(name: &str, printed: &Printed, sheet: &strapwright::paginate::Sheet) {
    assert_eq!(sheet.bars.len(), 2, "{name}: a bar along each edge");
    let wide = sheet.width > sheet.height;
    for (bar, along_width) in sheet.bars.iter().zip([true, false]) {
        let ends = [bar.from, bar.to].map(|p| {
            let (x, y) = (mm(p.x), mm(p.y));
            // Beside the bar's own line, where there is only the end tick.
            if along_width {
                printed.ink((x, y + 0.6), (0.5, 0.25)).0
            } else {
                printed.ink((x - 0.6, y), (0.25, 0.5)).1
            }
        });
        let length = if along_width { bar.to.x - bar.from.x } else { bar.to.y - bar.from.y };
        let error = ends[1] - ends[0] - mm(length);
        assert!(error.abs() < WITHIN, "{name}: a bar is {error:.4} mm off");
        let least = if along_width == wide { 200 } else { 150 };
        assert!(length >= Length::from_mm(least), "{name}: a bar of only {length}");
    }
}

#[test]
fn every_sample_comes_back_through_its_joins() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-jobs");
    let mut jobs: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    jobs.sort();
    assert!(!jobs.is_empty());
    for path in jobs {
        let text = std::fs::read_to_string(&path).unwrap();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        for paper in ["a4", "letter"] {
            let (layout, set) = drawn(&text, paper);
            hold_against_the_layout(&name, paper, &layout, &set);
        }
    }
}
