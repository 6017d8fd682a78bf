//! From what is drawn on a page to the things that a sheet has: its name, scale bars,
//! crosses, marks and outlines.

mod bars;
mod crosses;
mod forms;
mod readings;
mod ticks;
mod words;

pub(super) use bars::{Axis, Bar};
pub(super) use crosses::Cross;
pub(super) use forms::Form;
pub(super) use readings::{Label, Numeral};
pub(super) use words::Title;

use super::read::plane::{Bounds, Matrix, Spot};
use super::read::{Layer, Line, Page, Path, Pen, Step, Words};

/// Where no layer tells, a line as wide as this is what the knife follows.
const KNIFE: f64 = 0.4;
/// No match line is as short as this, in mm.
const SHORT: f64 = 8.0;
/// What a bar may be off, in mm: a quarter of the width of its line.
pub(super) const BAR: f64 = 0.05;
/// A sheet off by more than this was made larger or smaller as a whole.
const RESIZED: f64 = 0.05;
/// Words that run further from level than this are turned, in radians: 0.03 mm on A4.
const LEVEL: f64 = 1e-4;

/// A part of an outline: one step from a place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    pub(super) from: Spot,
    pub(super) step: Step,
    /// Whether the knife follows it; else the blank has it already.
    pub(super) is_cut: bool,
    /// Width of its stroke in mm.
    pub(super) pen: f64,
}

/// A page that says which sheet of which print it is.
#[derive(Clone, Debug)]
pub(super) struct Sheet {
    /// Which page of the file, from 1.
    pub(super) page: usize,
    pub(super) title: Title,
    /// Width and height in mm as the sheet is read.
    pub(super) size: Spot,
    /// What of it can be seen, as all below is measured.
    pub(super) visible: Bounds,
    /// How it lies, if not upright.
    pub(super) turned: Option<String>,
    /// What it has at its true size: rows of numerals at scale bars.
    pub(super) bars: Vec<Bar>,
    /// What it is drawn at along width and height, which is taken out of all below.
    pub(super) scale: Spot,
    pub(super) crosses: Vec<Cross>,
    pub(super) forms: Vec<Form>,
    pub(super) frames: Vec<Frame>,
    /// Straight lines of some length, of which some are match lines.
    pub(super) straight: Vec<(Spot, Spot)>,
    /// What its rulers say.
    pub(super) numerals: Vec<Numeral>,
    /// Words that end in a tape reading.
    pub(super) labels: Vec<Label>,
    /// The whole page, with its correction taken out.
    page_bounds: Bounds,
    upright: Page,
}

impl Sheet {
    /// The sheet that page `number` is; `None` where no words say so.
    pub(super) fn of(number: usize, page: Page) -> Option<Self> {
        let title = words::title(&page.words)?;
        let (along, mirror) = (title.along, if title.mirrored { -1.0 } else { 1.0 });
        let lies =
            Matrix([along.x, along.y, -along.y * mirror, along.x * mirror, 0.0, 0.0]);
        let Spot { x: w, y: h } = title.correction;
        let to_true = lies.inverse()?.then(Matrix::scale(1.0 / w, 1.0 / h));
        let lies_level = along.x.abs() > along.y.abs();
        let size =
            if lies_level { page.size } else { Spot::new(page.size.y, page.size.x) };
        let page_bounds =
            Bounds::of([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)].map(|(x, y)| {
                to_true.place(Spot::new(page.size.x * x, page.size.y * y))
            }));
        let mut sheet = Self {
            page: number,
            visible: page_bounds,
            page_bounds,
            turned: turned(&title),
            title,
            size,
            bars: Vec::new(),
            scale: Spot::new(1.0, 1.0),
            crosses: Vec::new(),
            forms: Vec::new(),
            frames: Vec::new(),
            straight: Vec::new(),
            numerals: Vec::new(),
            labels: Vec::new(),
            upright: if to_true == Matrix::IDENTITY {
                page
            } else {
                placed(&page, to_true)
            },
        };
        sheet.bars = bars::bars(&sheet.upright.lines, &sheet.upright.words);
        let by_bar = |axis: Axis| {
            let mut bars = sheet.bars.iter().filter(|b| b.axis == axis && b.is_metric());
            let bar = bars.next()?;
            let is_off = (bar.drawn - bar.claim).abs() > BAR;
            Some(if is_off { bar.factor() } else { 1.0 })
        };
        let (across, up) = (by_bar(Axis::Width), by_bar(Axis::Height));
        // Without a bar along the one edge, a sheet that was made larger or smaller was so
        // along both.
        let far_off = |by: Option<f64>| by.filter(|by| (by - 1.0).abs() > RESIZED);
        sheet.at_scale(Spot::new(
            across.or(far_off(up)).unwrap_or(1.0),
            up.or(far_off(across)).unwrap_or(1.0),
        ));
        Some(sheet)
    }

    /// Finds everything anew, with `scale` taken out.
    pub(super) fn at_scale(&mut self, scale: Spot) {
        self.scale = scale;
        let by = Matrix::scale(1.0 / scale.x, 1.0 / scale.y);
        let scaled;
        let page = if by == Matrix::IDENTITY {
            &self.upright
        } else {
            scaled = placed(&self.upright, by);
            &scaled
        };
        let Bounds { low, high } = self.page_bounds;
        self.visible = Bounds::of([by.place(low), by.place(high)]);
        self.crosses = crosses::crosses(&page.lines, &page.words);
        self.numerals = readings::numerals(&page.lines, &page.words);
        self.labels = readings::labels(&page.words);
        self.forms = page
            .paths
            .iter()
            .filter(|p| is_mark(p.pen))
            .filter_map(forms::form)
            .collect();
        let long =
            page.lines.iter().filter(|l| !l.pen.dashed && (l.to - l.from).reaches(SHORT));
        self.straight = long.map(|l| (l.from, l.to)).collect();
        self.frames.clear();
        for line in page.lines.iter().filter(|l| is_frame(l.pen)) {
            let (from, step) = (line.from, Step::Line(line.to));
            let (is_cut, pen) = (is_cut(line.pen), line.pen.width);
            self.frames.push(Frame { from, step, is_cut, pen });
        }
        for path in page.paths.iter().filter(|p| is_frame(p.pen)) {
            let (is_cut, pen) = (is_cut(path.pen), path.pen.width);
            self.frames.extend(path.segments().map(|(from, step)| Frame {
                from,
                step,
                is_cut,
                pen,
            }));
        }
    }
}

fn placed(page: &Page, by: Matrix) -> Page {
    let words = page.words.iter().map(|w| Words {
        text: w.text.clone(),
        from: by.place(w.from),
        to: by.place(w.to),
        up: by.way(w.up),
    });
    Page {
        size: page.size,
        lines: page.lines.iter().map(|l: &Line| l.placed(by)).collect(),
        paths: page.paths.iter().map(|p: &Path| p.placed(by)).collect(),
        words: words.collect(),
        broken: None,
    }
}

/// How a sheet lies whose words do not run level from left to right.
fn turned(title: &Title) -> Option<String> {
    let angle = libm::atan2(title.along.y, title.along.x);
    let degrees = angle.to_degrees();
    match (angle.abs() > LEVEL, title.mirrored) {
        (false, false) => None,
        (true, false) => Some(format!("turned by {degrees:.2}°")),
        (false, true) => Some("mirrored".to_owned()),
        (true, true) => Some(format!("mirrored and turned by {degrees:.2}°")),
    }
}

fn is_mark(pen: Pen) -> bool {
    pen.layer == Layer::Punch || pen.layer == Layer::None && pen.width < KNIFE
}

/// Parts of outlines; without layers, dashed lines might be, and do no harm.
fn is_frame(pen: Pen) -> bool {
    let by_pen = pen.width >= KNIFE || pen.dashed;
    pen.layer == Layer::Outline || pen.layer == Layer::None && by_pen
}

fn is_cut(pen: Pen) -> bool {
    pen.width >= KNIFE && !pen.dashed
}
