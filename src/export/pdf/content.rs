//! Items to the operators of a page's content, each state set only where it changes.

use super::font::{self, GlyphIds};
use super::operators::ContentStream;
use super::points;
use crate::export::page::arc::curves;
use crate::export::page::{PageTransform, text_start};
use crate::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use crate::paginate::{Factor, Item, Layer, Pen, Sheet, TickRow, Tone, bold_stroke};

/// A row with more ticks than this is drawn in parts, each from its own place: a reader that
/// adds up dashes in 32 bits is then off by less than 0.01 mm.
const MOST_TICKS: i64 = 200;

/// The content of the page of `sheet`, multiplied by `scaling`.
pub(super) fn content(
    sheet: &Sheet,
    scaling: Option<[Factor; 2]>,
    glyph_ids: &GlyphIds,
) -> Vec<u8> {
    let mut drawing = Drawing {
        out: ContentStream::default(),
        glyph_ids,
        transform: PageTransform::new(sheet, scaling, points),
        layer: None,
        pen: None,
        tone: None,
        size: None,
        is_bold: false,
        miter: Miter::OfLines,
        in_text: false,
    };
    for item in &sheet.items {
        drawing.add(item);
    }
    drawing.leave_layer();
    drawing.out.0
}

/// What the pen of the state is set for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stroked {
    Lines(Pen),
    /// The edges of bold letters of a tone and a size.
    Letters(Tone, Length),
}

/// How sharp corners may be (ISO 32000-1:2008, 8.4.3.5): a mitre at a sharp corner of a bold
/// letter would be a thorn; 10 is what a page begins with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Miter {
    OfLines,
    OfLetters,
}

/// The content so far, and the state that it leaves.
struct Drawing<'a> {
    out: ContentStream,
    glyph_ids: &'a GlyphIds,
    transform: PageTransform,
    layer: Option<Layer>,
    pen: Option<Stroked>,
    tone: Option<Tone>,
    size: Option<Length>,
    is_bold: bool,
    miter: Miter,
    in_text: bool,
}

impl Drawing<'_> {
    fn add(&mut self, item: &Item) {
        match item {
            Item::Stroke { layer, pen, paths } => self.stroke(*layer, *pen, paths),
            Item::TickRows { layer, pen, tick_rows } => {
                self.tick_rows(*layer, *pen, tick_rows);
            }
            Item::Fill { layer, tone, paths } => self.fill(*layer, *tone, paths),
            Item::Text { tone, at, anchor, turn, size, bold, text, .. }
                if !text.is_empty() =>
            {
                let start = text_start(text, *size, *at, *anchor, *turn);
                self.enter_layer(Layer::Text);
                if !self.in_text {
                    self.out.operator("BT");
                    self.in_text = true;
                }
                self.set_tone(*tone);
                self.set_bold(bold.then_some((*tone, *size)));
                self.text(start, *turn, *size, text);
            }
            Item::Text { .. } => {}
        }
    }

    fn stroke(&mut self, layer: Layer, pen: Pen, paths: &[Path<OnSheet>]) {
        self.enter_layer(layer);
        self.leave_text();
        let dashes = pen.dashes();
        if self.pen != Some(Stroked::Lines(pen)) {
            self.out.numbers(&[grey(pen.tone())], "G");
            self.out.numbers(&[points(pen.width())], "w");
            self.out.0.push(b'[');
            for dash in dashes {
                self.out.number(points(*dash));
            }
            self.out.operator("] 0 d");
            self.set_miter(Miter::OfLines);
            self.pen = Some(Stroked::Lines(pen));
        }
        // Many straight strokes, those of a scale bar say, are painted at once.
        let solid = dashes.is_empty();
        let (ticks, others): (Vec<_>, Vec<_>) =
            paths.iter().partition(|path| solid && path.steps.len() == 1 && !path.closed);
        for path in &ticks {
            self.trace(path);
        }
        if !ticks.is_empty() {
            self.out.operator("S");
        }
        for path in others {
            self.trace(path);
            self.out.operator(if path.closed { "h\nS" } else { "S" });
        }
    }

    /// Each row of strokes as one line across them, as wide as they are long and dashed so
    /// that each dash is one of them (ISO 32000-1:2008, 8.4.3.6). The ink is the same, and a
    /// sheet takes a quarter of the bytes.
    fn tick_rows(&mut self, layer: Layer, pen: Pen, tick_rows: &[TickRow]) {
        self.enter_layer(layer);
        self.leave_text();
        let thick = points(pen.width());
        self.out.numbers(&[grey(pen.tone())], "G");
        let size = |c: &TickRow| (c.tick.norm(), c.pitch.norm());
        for alike in tick_rows.chunk_by(|a, b| size(a) == size(b)) {
            for (i, row) in alike.iter().enumerate() {
                let foot = self.transform.point(row.from);
                let [stroke, pitch] = [row.tick, row.pitch].map(|by| {
                    let to = self.transform.point(row.from + by);
                    [to[0] - foot[0], to[1] - foot[1]]
                });
                let step = libm::hypot(pitch[0], pitch[1]);
                if i == 0 {
                    self.out.numbers(&[libm::hypot(stroke[0], stroke[1])], "w");
                    self.out.0.push(b'[');
                    // What a dash is off adds up from tick to tick.
                    self.out.precise_number(thick);
                    self.out.precise_number(step - thick);
                    self.out.operator("] 0 d");
                }
                let half = [0, 1].map(|axis| pitch[axis] / step * thick / 2.0);
                let middle = |n: i64| {
                    let foot = self.transform.point(row.base(n));
                    [foot[0] + stroke[0] / 2.0, foot[1] + stroke[1] / 2.0]
                };
                let mut first = 0;
                while first < row.count {
                    let last = (first + MOST_TICKS).min(row.count) - 1;
                    let (from, to) = (middle(first), middle(last));
                    self.out.numbers(&[from[0] - half[0], from[1] - half[1]], "m");
                    self.out.numbers(&[to[0] + half[0], to[1] + half[1]], "l");
                    first = last + 1;
                }
            }
            self.out.operator("S");
        }
        self.pen = None;
    }

    fn fill(&mut self, layer: Layer, tone: Tone, paths: &[Path<OnSheet>]) {
        self.enter_layer(layer);
        self.leave_text();
        self.set_tone(tone);
        for path in paths {
            self.trace(path);
        }
        self.out.operator("f");
    }

    fn trace(&mut self, path: &Path<OnSheet>) {
        let mut at = path.start;
        self.out.numbers(&self.transform.point(at), "m");
        for step in &path.steps {
            match *step {
                Step::Line { to } => {
                    self.out.numbers(&self.transform.point(to), "l");
                }
                // An arc without a way to go would be taken for a whole turn.
                Step::Arc { to, .. } if to == at => {}
                Step::Arc { to, centre, clockwise } => {
                    let [from, to, centre] =
                        [at, to, centre].map(|p| self.transform.uncorrected(p));
                    for curve in curves(from, to, centre, clockwise) {
                        let curve = curve.map(|p| self.transform.corrected(p));
                        self.out.numbers(curve.as_flattened(), "c");
                    }
                }
            }
            at = step.to();
        }
    }

    fn text(&mut self, at: Point<OnSheet>, turn: QuarterTurn, size: Length, text: &str) {
        if self.size != Some(size) {
            self.out.0.extend_from_slice(format!("/{} ", font::id().0).as_bytes());
            self.out.numbers(&[points(size)], "Tf");
            self.size = Some(size);
        }
        self.out.numbers(&self.transform.text_matrix(turn, at), "Tm");
        let ids = self.glyph_ids;
        let id = |c| ids.get(&u32::from(c)).copied().unwrap_or_default();
        self.out.show(text.chars().map(id));
    }

    fn set_tone(&mut self, tone: Tone) {
        if self.tone != Some(tone) {
            self.out.numbers(&[grey(tone)], "g");
            self.tone = Some(tone);
        }
    }

    fn set_miter(&mut self, miter: Miter) {
        if self.miter != miter {
            self.miter = miter;
            let limit = match miter {
                Miter::OfLines => "10 M",
                Miter::OfLetters => "3 M",
            };
            self.out.operator(limit);
        }
    }

    /// Whether a pen goes along the edges of the letters too (ISO 32000-1:2008, 9.3.6).
    fn set_bold(&mut self, bold: Option<(Tone, Length)>) {
        let pen = bold.map(|(tone, size)| Stroked::Letters(tone, size));
        if let Some((tone, size)) = bold
            && self.pen != pen
        {
            self.out.numbers(&[grey(tone)], "G");
            self.out.numbers(&[points(bold_stroke(size))], "w");
            self.out.operator("[] 0 d");
            self.set_miter(Miter::OfLetters);
            self.pen = pen;
        }
        if self.is_bold != bold.is_some() {
            self.is_bold = bold.is_some();
            self.out.operator(if self.is_bold { "2 Tr" } else { "0 Tr" });
        }
    }

    fn enter_layer(&mut self, layer: Layer) {
        if self.layer != Some(layer) {
            self.leave_layer();
            self.out.operator(&format!("/OC /{} BDC", layer.name()));
            self.layer = Some(layer);
        }
    }

    fn leave_layer(&mut self) {
        self.leave_text();
        if self.layer.take().is_some() {
            self.out.operator("EMC");
        }
    }

    fn leave_text(&mut self) {
        if self.in_text {
            self.out.operator("ET");
            self.in_text = false;
        }
    }
}

/// A tone as PDF counts it, from 0 for black to 1 for white.
fn grey(tone: Tone) -> f64 {
    f64::from(tone.lightness()) / 100.0
}
