//! A sheet that is being drawn: its items, and the areas that they occupy.

use super::area::{Area, AreaIndex};
use super::item::{Anchor, Claim, Item, Layer, Pen, TickRow, Tone, bold_stroke};
use super::run::Run;
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Segment, Sheet, Step};
use crate::lettering;
use crate::words::Wording;

/// A line of text, before it is known whether there is room for it.
#[derive(Clone, Debug)]
pub(super) struct TextItem {
    pub(super) at: Point<Sheet>,
    pub(super) anchor: Anchor,
    pub(super) turn: QuarterTurn,
    pub(super) size: Length,
    pub(super) bold: bool,
    pub(super) tone: Tone,
    pub(super) text: String,
    pub(super) claim: Claim,
}

impl TextItem {
    /// Black text, not turned, that claims nothing.
    pub(super) fn new(
        at: Point<Sheet>,
        anchor: Anchor,
        size: Length,
        text: &str,
    ) -> Self {
        let text = text.to_owned();
        let (turn, tone, claim) = (QuarterTurn::None, Tone::Black, Claim::None);
        Self { at, anchor, turn, size, bold: false, tone, text, claim }
    }

    /// The same text in bold letters.
    pub(super) fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The same text in white, to stand on black.
    pub(super) fn white(self) -> Self {
        Self { tone: Tone::White, ..self }
    }

    /// The same text about its place turned to the left.
    pub(super) fn turned(self, turn: QuarterTurn) -> Self {
        Self { turn, ..self }
    }

    /// How far it runs along its line.
    pub(super) fn width(&self) -> Length {
        lettering::width(&self.text, self.size)
    }

    /// The same text with what it claims.
    pub(super) fn claiming(self, claim: Claim) -> Self {
        Self { claim, ..self }
    }

    /// The area of its ink, a little generous.
    pub(super) fn area(&self) -> Area {
        let width = self.width();
        let start = self.anchor.start(width);
        let pen = if self.bold { bold_stroke(self.size) / 2 } else { Length::ZERO };
        let along = Extent { from: start, to: start + width };
        let has_descender = self.text.contains(|c: char| "gjpqyQ,;()ąęĄĘçÇ".contains(c));
        let below = if has_descender { self.size.times(24, 100) } else { Length::ZERO };
        let up = Extent { from: -below, to: cap_height(self.size) }.grown(pen);
        let along = along.grown(pen);
        let Point { x, y, .. } = self.at;
        match self.turn {
            QuarterTurn::None => Area::new(along.shifted(x), up.shifted(y)),
            QuarterTurn::Left => {
                Area::new(Extent::new(x - up.to, x - up.from), along.shifted(y))
            }
        }
    }
}

/// A size of type in tenths of a point of 1/72 in.
pub(super) const fn points(tenths: i64) -> Length {
    Length::from_nm(25_400_000 * tenths / 720)
}

/// Height of figures and capitals in type of `size`.
pub(super) fn cap_height(size: Length) -> Length {
    size.times(74, 100)
}

/// The distance that text keeps from other ink.
#[derive(Clone, Copy, Debug)]
pub(super) struct Clearance {
    /// From lines, and from text above and below.
    pub(super) ink: Length,
    /// From text on the same line.
    pub(super) text: Length,
}

/// A sheet that is being drawn.
#[derive(Debug)]
pub(super) struct Canvas {
    pub(super) items: Vec<Item>,
    /// Where lines lie, and what is kept free around them.
    lines: AreaIndex,
    /// Where text stands.
    texts: AreaIndex,
    printable: Area,
    /// How words and numbers are written on it.
    pub(super) wording: Wording,
}

impl Canvas {
    pub(super) fn new(printable: Area, wording: Wording) -> Self {
        let index = || AreaIndex::new(printable.x);
        Self { items: Vec::new(), lines: index(), texts: index(), printable, wording }
    }

    pub(super) fn printable(&self) -> Area {
        self.printable
    }

    /// Keeps later text off `area`.
    pub(super) fn keep_free(&mut self, area: Area) {
        self.lines.add(area);
    }

    /// Draws lines. Later text keeps off them.
    pub(super) fn stroke(&mut self, layer: Layer, pen: Pen, paths: Vec<Path<Sheet>>) {
        for path in &paths {
            if let Some(area) = small_form(path) {
                self.keep_free(area.grown(half(pen)));
                continue;
            }
            for area in path.segments().into_iter().flat_map(segment_areas) {
                self.keep_free(area.grown(half(pen)));
            }
        }
        if !paths.is_empty() {
            self.items.push(Item::Stroke { layer, pen, paths });
        }
    }

    /// Draws rows of ticks. Later text keeps off all of them as one area, instead of
    /// thousands.
    pub(super) fn tick_rows(&mut self, layer: Layer, pen: Pen, tick_rows: Vec<TickRow>) {
        let corners = tick_rows.iter().flat_map(TickRow::corners);
        let areas = corners.map(|p| Area::around(p, Length::ZERO));
        if let Some(area) = areas.reduce(Area::union) {
            self.keep_free(area.grown(half(pen)));
            self.items.push(Item::TickRows { layer, pen, tick_rows });
        }
    }

    /// Draws what another canvas has, turned left: its top is at the left of this one. Rows of
    /// ticks are left out; it has none.
    pub(super) fn draw_turned(&mut self, other: Self, height: Length) {
        let turned = |at: Point<Sheet>| Point::new(height - at.y, at.x);
        let all = |paths: &[Path<Sheet>]| -> Vec<Path<Sheet>> {
            paths.iter().map(|path| path.map(turned, false)).collect()
        };
        for item in other.items {
            match item {
                Item::Stroke { layer, pen, paths } => {
                    self.stroke(layer, pen, all(&paths));
                }
                Item::Fill { layer, tone, paths } => self.fill(layer, tone, all(&paths)),
                Item::Text { at, anchor, size, bold, tone, text, claim, .. } => {
                    let (at, turn) = (turned(at), QuarterTurn::Left);
                    self.write(TextItem {
                        at,
                        anchor,
                        turn,
                        size,
                        bold,
                        tone,
                        text,
                        claim,
                    });
                }
                Item::TickRows { .. } => {}
            }
        }
    }

    pub(super) fn fill(&mut self, layer: Layer, tone: Tone, paths: Vec<Path<Sheet>>) {
        if !paths.is_empty() {
            self.items.push(Item::Fill { layer, tone, paths });
        }
    }

    /// Writes text, whether or not there is room for it.
    pub(super) fn write(&mut self, text: TextItem) {
        self.texts.add(text.area());
        let TextItem { at, anchor, turn, size, bold, tone, text, claim } = text;
        self.items.push(Item::Text { tone, at, anchor, turn, size, bold, text, claim });
    }

    /// Writes texts of one line, whether or not there is room for them.
    pub(super) fn write_run(&mut self, run: Run) {
        for text in run.0 {
            self.write(text);
        }
    }

    /// Writes the first of these lines that is free, and tells whether there is one.
    pub(super) fn write_first_run(
        &mut self,
        runs: impl IntoIterator<Item = Run>,
        clearance: Clearance,
    ) -> bool {
        let is_free = |run: &Run| run.0.iter().all(|text| self.is_free(text, clearance));
        let free = runs.into_iter().find(is_free);
        free.map(|run| self.write_run(run)).is_some()
    }

    /// Whether text would lie within the margins, clear of everything drawn so far.
    pub(super) fn is_free(&self, text: &TextItem, clearance: Clearance) -> bool {
        let area = text.area();
        let near = area.grown(clearance.ink);
        let along = match text.turn {
            QuarterTurn::None => Area::new(area.x.grown(clearance.text), near.y),
            QuarterTurn::Left => Area::new(near.x, area.y.grown(clearance.text)),
        };
        self.printable.holds(area)
            && !self.lines.overlaps(near)
            && !self.texts.overlaps(along)
    }

    /// Whether an area lies within the margins, clear of everything drawn so far.
    pub(super) fn is_area_free(&self, area: Area) -> bool {
        self.printable.holds(area)
            && !self.lines.overlaps(area)
            && !self.texts.overlaps(area)
    }

    /// What words and black forms take along a level line, those that come as near as `air`.
    pub(super) fn words_across(&self, y: Length, air: Length) -> Vec<Extent> {
        let level = Extent::at(y).grown(air);
        let near = self.texts.iter();
        near.filter(|area| area.y.overlaps(level)).map(|area| area.x).collect()
    }

    /// Keeps words and the centre line off a black form.
    pub(super) fn block(&mut self, area: Area) {
        self.texts.add(area);
        self.lines.add(area);
    }

    /// Writes the first of these texts that is free, and gives it.
    pub(super) fn write_first_of(
        &mut self,
        texts: impl IntoIterator<Item = TextItem>,
        clearance: Clearance,
    ) -> Option<TextItem> {
        let free = texts.into_iter().find(|text| self.is_free(text, clearance))?;
        self.write(free.clone());
        Some(free)
    }

    /// Writes the first of these texts that is free, and tells whether there is one.
    pub(super) fn write_first(
        &mut self,
        texts: impl IntoIterator<Item = TextItem>,
        clearance: Clearance,
    ) -> bool {
        self.write_first_of(texts, clearance).is_some()
    }
}

/// Half the width of a pen, or a little more.
fn half(pen: Pen) -> Length {
    pen.width().max(Pen::Punch.width()) / 2
}

/// The area of a closed form that is too small for text inside it, such as a hole.
fn small_form(path: &Path<Sheet>) -> Option<Area> {
    const SMALL: Length = Length::from_mm(8);
    if !path.closed {
        return None;
    }
    let areas = path.segments().into_iter().map(|Segment { from, step }| match step {
        Step::Line { to } => Area::around(to, Length::ZERO),
        // The whole circle, of which the arc is a part.
        Step::Arc { centre, .. } => Area::around(centre, (from - centre).norm()),
    });
    let area = areas.fold(Area::around(path.start, Length::ZERO), Area::union);
    (area.x.length() <= SMALL && area.y.length() <= SMALL).then_some(area)
}

/// The areas of a segment: of short parts of it, unless it runs along an axis.
fn segment_areas(segment: Segment<Sheet>) -> impl Iterator<Item = Area> {
    const PART: Length = Length::from_mm(2);
    let (a, b) = (segment.from, segment.step.to());
    let count = (b - a).norm().nm() / PART.nm() + 1;
    let parts = match segment.step {
        Step::Line { .. } if a.x == b.x || a.y == b.y => 1,
        Step::Line { .. } => count,
        // An arc of half a turn is longer than its chord by half.
        Step::Arc { .. } => count.max(4),
    };
    let mut from = a;
    (1..=parts).map(move |i| {
        let to = if i == parts { b } else { segment.part(i, parts) };
        Area::between(std::mem::replace(&mut from, to), to)
    })
}

/// `text` in type of `size`, cut off with an ellipsis where it is wider than `room`.
pub(super) fn shorten(text: &str, size: Length, room: Length) -> String {
    if lettering::width(text, size) <= room {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while kept.pop().is_some() {
        let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if lettering::width(&short, size) <= room {
            return short;
        }
    }
    String::new()
}
