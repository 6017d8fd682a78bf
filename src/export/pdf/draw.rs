//! Items to drawing operations, each state set only where it changes.

use super::content::Content;
use super::curve::{curves, points, spot};
use super::scale::Scale;
use super::{font, pens};
use crate::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use crate::lettering;
use crate::paginate::{Anchor, Item, Layer, Pen, Scaling, Sheet, TickRow, Tone};
use printpdf::{
    LayerIntent, LayerInternalId, LayerSubtype, Op, PdfFontHandle, PdfPage, Pt, Rect,
    TextItem,
};
use std::collections::BTreeMap;

/// More teeth than this are drawn anew from their own place: a reader that adds up dashes in
/// 32 bits is then off by less than 0.01 mm.
const MOST_TICKS: i64 = 200;

/// What readers call a layer; also its name among a page's resources.
fn layer_name(layer: Layer) -> &'static str {
    match layer {
        Layer::Outline => "outline",
        Layer::Punch => "punch",
        Layer::Guides => "guides",
        Layer::Text => "text",
    }
}

/// The layers, by the names that the pages' operations use.
pub(super) fn layers() -> BTreeMap<LayerInternalId, printpdf::Layer> {
    let entry = |layer| {
        let name = layer_name(layer).to_owned();
        let layer = printpdf::Layer {
            name: name.clone(),
            creator: String::new(),
            intent: LayerIntent::View,
            usage: LayerSubtype::Artwork,
        };
        (LayerInternalId(name), layer)
    };
    Layer::ALL.into_iter().map(entry).collect()
}

/// The glyphs' codes by their letters.
pub(super) type Codes = BTreeMap<u32, u16>;

/// The page of `sheet`, without its content.
///
/// The crate would write the content from operations, slowly. It is told no more of them
/// than which layers the page names and which letters, `used`, it embeds.
pub(super) fn page(sheet: &Sheet, used: &str) -> PdfPage {
    let paper = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: pt(sheet.width),
        height: pt(sheet.height),
        mode: None,
        winding_order: None,
    };
    let mut named: Vec<Layer> = Vec::new();
    for layer in sheet.items.iter().filter_map(layer_of) {
        if !named.contains(&layer) {
            named.push(layer);
        }
    }
    let named = named.into_iter().map(|layer| LayerInternalId(layer_name(layer).into()));
    let mut ops: Vec<Op> =
        named.flat_map(|layer_id| [Op::BeginLayer { layer_id }, Op::EndLayer]).collect();
    let font = PdfFontHandle::External(font::id());
    ops.extend([
        Op::StartTextSection,
        Op::SetFont { font, size: Pt(1.0) },
        Op::ShowText { items: vec![TextItem::Text(used.to_owned())] },
        Op::EndTextSection,
    ]);
    PdfPage { media_box: paper.clone(), trim_box: paper.clone(), crop_box: paper, ops }
}

/// The layer that an item is drawn in; none of one that draws nothing.
fn layer_of(item: &Item) -> Option<Layer> {
    match item {
        Item::Stroke { layer, .. }
        | Item::TickRows { layer, .. }
        | Item::Fill { layer, .. } => Some(*layer),
        Item::Text { text, .. } => (!text.is_empty()).then_some(Layer::Text),
    }
}

/// The content of the page of `sheet`, multiplied by `scaling`.
pub(super) fn content(
    sheet: &Sheet,
    scaling: Option<&Scaling>,
    codes: &Codes,
) -> Vec<u8> {
    let mut drawing = Drawing::new(codes, Scale::of(sheet, scaling));
    for item in &sheet.items {
        drawing.add(item);
    }
    drawing.leave_layer();
    drawing.out.0
}

/// A length as the crate has it.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the crate holds 32 bits; on a sheet that is off by less than 0.1 µm"
)]
fn pt(length: Length) -> Pt {
    Pt(points(length.nm()) as f32)
}

/// The content so far, and the state that it leaves.
struct Drawing<'a> {
    out: Content,
    codes: &'a Codes,
    scale: Scale,
    layer: Option<Layer>,
    pen: Option<Pen>,
    tone: Option<Tone>,
    size: Option<Length>,
    in_text: bool,
}

impl<'a> Drawing<'a> {
    fn new(codes: &'a Codes, scale: Scale) -> Self {
        Self {
            out: Content::default(),
            codes,
            scale,
            layer: None,
            pen: None,
            tone: None,
            size: None,
            in_text: false,
        }
    }

    fn add(&mut self, item: &Item) {
        match item {
            Item::Stroke { layer, pen, paths } => self.stroke(*layer, *pen, paths),
            Item::TickRows { layer, pen, tick_rows } => {
                self.tick_rows(*layer, *pen, tick_rows);
            }
            Item::Fill { layer, tone, paths } => self.fill(*layer, *tone, paths),
            Item::Text { tone, at, anchor, turn, size, text } if !text.is_empty() => {
                let shift = match anchor {
                    Anchor::Start => Length::ZERO,
                    Anchor::Middle => -lettering::width(text, *size) / 2,
                    Anchor::End => -lettering::width(text, *size),
                };
                self.text(*tone, start_of_text(*at, shift, *turn), *turn, *size, text);
            }
            Item::Text { .. } => {}
        }
    }

    fn stroke(&mut self, layer: Layer, pen: Pen, paths: &[Path<OnSheet>]) {
        self.enter_layer(layer);
        self.leave_text();
        let line = pens::line(pen);
        if self.pen != Some(pen) {
            self.out.numbers(&[f64::from(line.grey)], "G");
            self.out.numbers(&[points(line.width.nm())], "w");
            self.out.0.push(b'[');
            for dash in line.dashes {
                self.out.number(points(dash.nm()));
            }
            self.out.operator("] 0 d");
            self.pen = Some(pen);
        }
        // Many straight strokes, those of a scale bar say, are painted at once.
        let solid = line.dashes.is_empty();
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
        let line = pens::line(pen);
        let thick = points(line.width.nm());
        self.out.numbers(&[f64::from(line.grey)], "G");
        let size = |c: &TickRow| (c.tick.norm(), c.pitch.norm());
        for alike in tick_rows.chunk_by(|a, b| size(a) == size(b)) {
            for (i, row) in alike.iter().enumerate() {
                let spot_of = |at: Point<OnSheet>| self.scale.spot(spot(at));
                let foot = spot_of(row.from);
                let [stroke, pitch] = [row.tick, row.pitch].map(|by| {
                    let to = spot_of(row.from + by);
                    [to[0] - foot[0], to[1] - foot[1]]
                });
                let step = libm::hypot(pitch[0], pitch[1]);
                if i == 0 {
                    self.out.numbers(&[libm::hypot(stroke[0], stroke[1])], "w");
                    self.out.0.push(b'[');
                    // What a dash is off adds up from tick to tick.
                    self.out.finer(thick);
                    self.out.finer(step - thick);
                    self.out.operator("] 0 d");
                }
                let half = [0, 1].map(|axis| pitch[axis] / step * thick / 2.0);
                let middle = |n: i64| {
                    let foot = self.scale.spot(spot(row.base(n)));
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
        self.out.numbers(&self.scale.spot(spot(at)), "m");
        for step in &path.steps {
            match *step {
                Step::Line { to } => {
                    self.out.numbers(&self.scale.spot(spot(to)), "l");
                }
                // An arc without a way to go would be taken for a whole turn.
                Step::Arc { to, .. } if to == at => {}
                Step::Arc { to, centre, clockwise } => {
                    for curve in curves(spot(at), spot(to), spot(centre), clockwise) {
                        let curve = curve.map(|at| self.scale.spot(at));
                        self.out.numbers(curve.as_flattened(), "c");
                    }
                }
            }
            at = step.to();
        }
    }

    fn text(
        &mut self,
        tone: Tone,
        at: Point<OnSheet>,
        turn: QuarterTurn,
        size: Length,
        text: &str,
    ) {
        self.enter_layer(Layer::Text);
        if !self.in_text {
            self.out.operator("BT");
            self.in_text = true;
        }
        self.set_tone(tone);
        if self.size != Some(size) {
            self.out.0.extend_from_slice(format!("/{} ", font::id().0).as_bytes());
            self.out.numbers(&[points(size.nm())], "Tf");
            self.size = Some(size);
        }
        self.out.numbers(&self.scale.text(turn, spot(at)), "Tm");
        let codes = self.codes;
        let code = |c| codes.get(&u32::from(c)).copied().unwrap_or_default();
        self.out.show(text.chars().map(code));
    }

    fn set_tone(&mut self, tone: Tone) {
        if self.tone != Some(tone) {
            self.out.numbers(&[f64::from(pens::grey(tone))], "g");
            self.tone = Some(tone);
        }
    }

    fn enter_layer(&mut self, layer: Layer) {
        if self.layer != Some(layer) {
            self.leave_layer();
            self.out.operator(&format!("/OC /{} BDC", layer_name(layer)));
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

/// Where a text that is anchored at `at` starts, `shift` along its base line from there.
fn start_of_text(at: Point<OnSheet>, shift: Length, turn: QuarterTurn) -> Point<OnSheet> {
    match turn {
        QuarterTurn::None => Point::new(at.x + shift, at.y),
        QuarterTurn::Left => Point::new(at.x, at.y + shift),
    }
}
