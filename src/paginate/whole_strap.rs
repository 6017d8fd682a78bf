//! The whole strap at full scale, for a cutter or a drawing program: its pieces one above the
//! other, unturned, with nothing around them but a bar of 100 mm.

use super::item::{Anchor, Claim, Item, Layer, Pen, Tone};
use super::sheet::{Sheet, SheetSet};
use crate::geom::clip::clip;
use crate::geom::{
    Extent, Length, Path, Placement, Point, QuarterTurn, Sheet as OnSheet, Strap,
};
use crate::layout::{GuideShape, Layout, Mark, MarkKind, Piece, Shape};
use crate::words::Wording;
use std::collections::{BTreeMap, BTreeSet};

/// From piece to piece, and around all.
const GAP: Length = Length::from_mm(10);
const BAR: Length = Length::from_mm(100);
/// Sizes of the names of pieces and of marks, and how far these stand above a mark.
const NAME: Length = Length::from_mm(4);
const LABEL: Length = Length::from_mm(3);
const ABOVE: Length = Length::from_um(800);

/// The pieces of `layout`, drawn once each on the one sheet of a set that has the title and
/// the name of `set`. On the layers outline and punch lies only what is cut: edges and holes
/// that a blank has, bends, creases and boxes are guides. A slit is an open line.
pub fn whole_strap(set: &SheetSet, layout: &Layout) -> SheetSet {
    let wording = set.settings.wording;
    let [bar_from, bar_to] = [GAP, GAP + BAR].map(|x| Point::new(x, GAP));
    let mut drawing = Drawing::default();
    drawing.draw(Layer::Guides, Pen::Frame, Path::line(bar_from, bar_to));
    let above = |at: Point<OnSheet>| Point::new(at.x, at.y + ABOVE);
    let words = format!("100 mm  {} ({})", set.title, set.fingerprint);
    drawing.write(above(bar_from), Anchor::Start, NAME, words);
    let (mut width, mut top) = (GAP + BAR, GAP * 3);
    // The first piece on top.
    for piece in layout.pieces.iter().rev() {
        let Some(across) = piece.edges(piece.extent) else { continue };
        let origin = Point::new(GAP - piece.extent.from, top - across.from);
        let placement = Placement::new(QuarterTurn::None, origin);
        drawing.piece(layout, piece, placement, wording);
        top += across.length();
        let name = piece.label(wording);
        drawing.write(above(Point::new(GAP, top)), Anchor::Start, NAME, name);
        width = width.max(GAP + piece.extent.length());
        top += GAP;
    }
    let sheet = Sheet {
        number: 1,
        width: width + GAP,
        height: top,
        items: drawing.items(),
        ..Sheet::default()
    };
    SheetSet {
        title: set.title.clone(),
        fingerprint: set.fingerprint.clone(),
        sheets: vec![sheet],
        ..SheetSet::default()
    }
}

/// What is drawn, each line once.
#[derive(Default)]
struct Drawing {
    lines: BTreeMap<(Layer, Pen), BTreeSet<Path<OnSheet>>>,
    texts: Vec<Item>,
}

impl Drawing {
    fn draw(&mut self, layer: Layer, pen: Pen, path: Path<OnSheet>) {
        self.lines.entry((layer, pen)).or_default().insert(path);
    }

    fn write(&mut self, at: Point<OnSheet>, anchor: Anchor, size: Length, text: String) {
        if text.is_empty() {
            return;
        }
        let (tone, turn, claim) = (Tone::Black, QuarterTurn::None, Claim::None);
        let bold = false;
        self.texts.push(Item::Text { tone, at, anchor, turn, size, bold, text, claim });
    }

    fn items(self) -> Vec<Item> {
        let strokes = self.lines.into_iter().map(|((layer, pen), paths)| Item::Stroke {
            layer,
            pen,
            paths: paths.into_iter().collect(),
        });
        strokes.chain(self.texts).collect()
    }

    fn piece(
        &mut self,
        layout: &Layout,
        piece: &Piece,
        placement: Placement,
        wording: Wording,
    ) {
        let Extent { mut from, to: end } = piece.extent;
        let mut edge = |layer, pen, from: Length, to: Length| {
            if from < to {
                for run in clip(&piece.outline, Extent { from, to: to.min(end) }) {
                    self.draw(layer, pen, run.placed(placement));
                }
            }
        };
        for there in &piece.on_blank {
            edge(Layer::Outline, Pen::Outline, from, there.from);
            edge(Layer::Guides, Pen::Target, from.max(there.from), there.to);
            from = from.max(there.to);
        }
        edge(Layer::Outline, Pen::Outline, from, end);

        for mark in &piece.marks {
            if let Some((layer, pen, path)) = line_of(piece, mark) {
                self.draw(layer, pen, path.placed(placement));
            }
            if !matches!(mark.kind, MarkKind::End | MarkKind::Tip) {
                let top = Point::new(mark.at.x, mark.y_extent().to + ABOVE);
                let at = placement.apply(top);
                self.write(at, Anchor::Middle, LABEL, layout.label(mark, wording));
            }
        }
        for guide in &piece.guides {
            let (pen, path) = match &guide.shape {
                GuideShape::Crease(path) => (Pen::Thin, path.clone()),
                GuideShape::Box { at, length, width, text } => {
                    let corner = |x, y| Point::new(at.x + x, at.y + y);
                    let (x, y) = (*length / 2, *width / 2);
                    let middle = placement.apply(*at);
                    let words = wording.name(text).to_owned();
                    self.write(middle, Anchor::Middle, LABEL, words);
                    (Pen::Frame, Path::rectangle(corner(-x, -y), corner(x, y)))
                }
                GuideShape::Words { at, size, text } => {
                    let at = placement.apply(*at);
                    self.write(at, Anchor::Middle, *size, text.clone());
                    continue;
                }
            };
            self.draw(Layer::Guides, pen, path.placed(placement));
        }
    }
}

/// What is drawn of a mark; `None` for a cut end and for the point of a tip, which are of the
/// outline.
fn line_of(piece: &Piece, mark: &Mark) -> Option<(Layer, Pen, Path<Strap>)> {
    let at = |x, y| Point::new(mark.at.x + x, mark.at.y + y);
    let zero = Length::ZERO;
    Some(match (mark.kind, mark.shape) {
        (MarkKind::Bend, _) => {
            let half = piece.width_at(mark.at.x) / 2;
            let line = Path::line(at(zero, -half), at(zero, half));
            (Layer::Guides, Pen::Fold, line)
        }
        (MarkKind::Slit, Shape::Slot { length, width }) if length >= width => {
            let line = Path::line(at(-length / 2, zero), at(length / 2, zero));
            (Layer::Punch, Pen::Punch, line)
        }
        (MarkKind::Slit, Shape::Slot { width, .. }) => {
            let line = Path::line(at(zero, -width / 2), at(zero, width / 2));
            (Layer::Punch, Pen::Punch, line)
        }
        (MarkKind::Target, _) => (Layer::Guides, Pen::Target, mark.path()?),
        _ => (Layer::Punch, Pen::Punch, mark.path()?),
    })
}
