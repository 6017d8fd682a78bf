//! Items to drawing operations, each state set only where it changes.

use super::curve::{Spot, curves, points, spot};
use super::{font, pens};
use crate::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use crate::lettering;
use crate::paginate::{Anchor, Item, Layer, Pen, Sheet, Tone};
use printpdf::{
    Color, Greyscale, LayerIntent, LayerInternalId, LayerSubtype, Line, LineDashPattern,
    LinePoint, Op, PaintMode, PdfFontHandle, PdfPage, Point as OnPage, Polygon,
    PolygonRing, Pt, Rect, TextItem, TextMatrix, WindingOrder,
};
use std::collections::BTreeMap;

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

/// The page of `sheet`.
pub(super) fn page(sheet: &Sheet) -> PdfPage {
    let paper = Rect {
        x: Pt(0.0),
        y: Pt(0.0),
        width: pt(sheet.width),
        height: pt(sheet.height),
        mode: None,
        winding_order: None,
    };
    let mut drawing = Drawing::default();
    for item in &sheet.items {
        drawing.add(item);
    }
    drawing.leave_layer();
    PdfPage {
        media_box: paper.clone(),
        trim_box: paper.clone(),
        crop_box: paper,
        ops: drawing.ops,
    }
}

/// A length as the file has it.
fn pt(length: Length) -> Pt {
    Pt(single(points(length.nm())))
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the crate holds 32 bits; on a sheet that is off by less than 0.1 µm"
)]
fn single(points: f64) -> f32 {
    points as f32
}

/// The operations so far, and the state that they leave.
#[derive(Default)]
struct Drawing {
    ops: Vec<Op>,
    layer: Option<Layer>,
    pen: Option<Pen>,
    tone: Option<Tone>,
    size: Option<Length>,
    in_text: bool,
}

impl Drawing {
    fn add(&mut self, item: &Item) {
        match item {
            Item::Stroke { layer, pen, paths } => self.stroke(*layer, *pen, paths),
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
        if self.pen != Some(pen) {
            let line = pens::line(pen);
            let dashes: Vec<f32> = line.dashes.iter().map(|d| pt(*d).0).collect();
            self.ops.extend([
                Op::SetOutlineColor { col: greyscale(line.grey) },
                Op::SetOutlineThickness { pt: pt(line.width) },
                Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &dashes) },
            ]);
            self.pen = Some(pen);
        }
        // Many straight strokes, a ruler's ticks say, are one operation of many rings. The
        // crate closes the last of them, which on a straight stroke leaves no ink; through
        // dashes it would, and an outline needs the joint at its own start.
        let solid = pens::line(pen).dashes.is_empty();
        let (ticks, others): (Vec<_>, Vec<_>) =
            paths.iter().partition(|path| solid && path.steps.len() == 1 && !path.closed);
        if !ticks.is_empty() {
            let rings = ticks.into_iter().map(|p| PolygonRing { points: line_points(p) });
            let polygon = Polygon {
                rings: rings.collect(),
                mode: PaintMode::Stroke,
                winding_order: WindingOrder::NonZero,
            };
            self.ops.push(Op::DrawPolygon { polygon });
        }
        self.ops.extend(others.into_iter().map(|path| Op::DrawLine {
            line: Line { points: line_points(path), is_closed: path.closed },
        }));
    }

    fn fill(&mut self, layer: Layer, tone: Tone, paths: &[Path<OnSheet>]) {
        self.enter_layer(layer);
        self.leave_text();
        self.set_tone(tone);
        let rings =
            paths.iter().map(|path| PolygonRing { points: line_points(path) }).collect();
        let polygon = Polygon {
            rings,
            mode: PaintMode::Fill,
            winding_order: WindingOrder::NonZero,
        };
        self.ops.push(Op::DrawPolygon { polygon });
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
            self.ops.push(Op::StartTextSection);
            self.in_text = true;
        }
        self.set_tone(tone);
        if self.size != Some(size) {
            let font = PdfFontHandle::External(font::id());
            self.ops.push(Op::SetFont { font, size: pt(size) });
            self.size = Some(size);
        }
        let [x, y] = [pt(at.x).0, pt(at.y).0];
        let matrix = match turn {
            QuarterTurn::None => [1.0, 0.0, 0.0, 1.0, x, y],
            QuarterTurn::Left => [0.0, 1.0, -1.0, 0.0, x, y],
        };
        self.ops.push(Op::SetTextMatrix { matrix: TextMatrix::Raw(matrix) });
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(text.to_owned())] });
    }

    fn set_tone(&mut self, tone: Tone) {
        if self.tone != Some(tone) {
            self.ops.push(Op::SetFillColor { col: greyscale(pens::grey(tone)) });
            self.tone = Some(tone);
        }
    }

    fn enter_layer(&mut self, layer: Layer) {
        if self.layer != Some(layer) {
            self.leave_layer();
            let layer_id = LayerInternalId(layer_name(layer).to_owned());
            self.ops.push(Op::BeginLayer { layer_id });
            self.layer = Some(layer);
        }
    }

    fn leave_layer(&mut self) {
        self.leave_text();
        if self.layer.take().is_some() {
            self.ops.push(Op::EndLayer);
        }
    }

    fn leave_text(&mut self) {
        if self.in_text {
            self.ops.push(Op::EndTextSection);
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

fn greyscale(percent: f32) -> Color {
    Color::Greyscale(Greyscale { percent, icc_profile: None })
}

fn line_points(path: &Path<OnSheet>) -> Vec<LinePoint> {
    let point = |[x, y]: Spot, bezier| LinePoint {
        p: OnPage { x: Pt(single(x)), y: Pt(single(y)) },
        bezier,
    };
    let mut at = path.start;
    let mut all = Vec::with_capacity(1 + 6 * path.steps.len());
    all.push(point(spot(at), false));
    for step in &path.steps {
        match *step {
            Step::Line { to } => all.push(point(spot(to), false)),
            // An arc without a way to go would be taken for a whole turn.
            Step::Arc { to, .. } if to == at => {}
            Step::Arc { to, centre, clockwise } => {
                for [a, b, end] in curves(spot(at), spot(to), spot(centre), clockwise) {
                    all.extend([point(a, true), point(b, true), point(end, false)]);
                }
            }
        }
        at = step.to();
    }
    all
}
