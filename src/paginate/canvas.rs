//! A sheet while it is drawn on: its items, and where ink already lies.

use super::sheet::{Anchor, Item, Layer, Pen, TickRow, Tone};
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Segment, Sheet, Step};
use crate::lettering;
use crate::words::Wording;
use std::ops::RangeInclusive;

/// An upright rectangle of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Area {
    pub(super) x: Extent,
    pub(super) y: Extent,
}

impl Area {
    pub(super) fn new(x: Extent, y: Extent) -> Self {
        Self { x, y }
    }

    /// The square of half side `reach` about `middle`.
    pub(super) fn about(middle: Point<Sheet>, reach: Length) -> Self {
        let at = |c| Extent { from: c, to: c }.grown(reach);
        Self { x: at(middle.x), y: at(middle.y) }
    }

    pub(super) fn grown(self, margin: Length) -> Self {
        Self { x: self.x.grown(margin), y: self.y.grown(margin) }
    }

    pub(super) fn overlaps(self, other: Self) -> bool {
        self.x.overlaps(other.x) && self.y.overlaps(other.y)
    }

    pub(super) fn holds(self, other: Self) -> bool {
        self.x.holds(other.x) && self.y.holds(other.y)
    }
}

/// A line of text that may or may not find room.
#[derive(Clone, Debug)]
pub(super) struct Words {
    pub(super) at: Point<Sheet>,
    pub(super) anchor: Anchor,
    pub(super) turn: QuarterTurn,
    pub(super) size: Length,
    pub(super) tone: Tone,
    pub(super) text: String,
}

impl Words {
    /// Black words, not turned.
    pub(super) fn new(
        at: Point<Sheet>,
        anchor: Anchor,
        size: Length,
        text: &str,
    ) -> Self {
        Self {
            at,
            anchor,
            turn: QuarterTurn::None,
            size,
            tone: Tone::Black,
            text: text.to_owned(),
        }
    }

    /// The area of its ink, a little generous.
    pub(super) fn area(&self) -> Area {
        let wide = lettering::width(&self.text, self.size);
        let start = match self.anchor {
            Anchor::Start => Length::ZERO,
            Anchor::Middle => -(wide / 2),
            Anchor::End => -wide,
        };
        let along = Extent { from: start, to: start + wide };
        let hangs = self.text.contains(|c: char| "gjpqyQ,;()".contains(c));
        let below = if hangs { self.size.times(24, 100) } else { Length::ZERO };
        let up = Extent { from: -below, to: cap(self.size) };
        let moved = |e: Extent, by| Extent { from: e.from + by, to: e.to + by };
        match self.turn {
            QuarterTurn::None => Area::new(moved(along, self.at.x), moved(up, self.at.y)),
            QuarterTurn::Left => Area::new(
                Extent { from: self.at.x - up.to, to: self.at.x - up.from },
                moved(along, self.at.y),
            ),
        }
    }
}

/// Height of figures and capitals in type of `size`.
pub(super) fn cap(size: Length) -> Length {
    size.times(74, 100)
}

/// Where ink lies, in bins along the width: only what is near a place is looked at.
#[derive(Debug)]
struct Occupied {
    from: Length,
    bins: Vec<Vec<Area>>,
}

impl Occupied {
    const BIN: Length = Length::from_mm(5);

    fn new(across: Extent) -> Self {
        let count = across.length().nm() / Self::BIN.nm() + 1;
        let count = usize::try_from(count).unwrap_or(1);
        Self { from: across.from, bins: vec![Vec::new(); count] }
    }

    /// The bins that `x` lies in; the first and the last hold all that is beyond.
    fn bins(&self, x: Extent) -> RangeInclusive<usize> {
        let bin = |at: Length| {
            let n = (at - self.from).nm().div_euclid(Self::BIN.nm());
            usize::try_from(n).unwrap_or(0).min(self.bins.len() - 1)
        };
        bin(x.from)..=bin(x.to)
    }

    fn add(&mut self, area: Area) {
        for bin in self.bins(area.x) {
            self.bins[bin].push(area);
        }
    }

    fn overlaps(&self, area: Area) -> bool {
        let mut near = self.bins[self.bins(area.x)].iter().flatten();
        near.any(|taken| taken.overlaps(area))
    }
}

/// What words keep from other ink.
#[derive(Clone, Copy, Debug)]
pub(super) struct Clear {
    /// From lines, and above and below from other words.
    pub(super) ink: Length,
    /// From other words on the same line.
    pub(super) words: Length,
}

/// The sheet so far.
#[derive(Debug)]
pub(super) struct Canvas {
    pub(super) items: Vec<Item>,
    /// Where lines lie, and what is kept free about them.
    lines: Occupied,
    /// Where words stand.
    words: Occupied,
    printable: Area,
    /// How words and numbers are written on it.
    pub(super) wording: Wording,
}

impl Canvas {
    pub(super) fn new(printable: Area, wording: Wording) -> Self {
        let taken = || Occupied::new(printable.x);
        Self { items: Vec::new(), lines: taken(), words: taken(), printable, wording }
    }

    pub(super) fn printable(&self) -> Area {
        self.printable
    }

    /// Keeps later words off `area`.
    pub(super) fn take(&mut self, area: Area) {
        self.lines.add(area);
    }

    /// Draws lines, which later words keep off.
    pub(super) fn stroke(&mut self, layer: Layer, pen: Pen, paths: Vec<Path<Sheet>>) {
        for path in &paths {
            if let Some(area) = small(path) {
                self.take(area.grown(half(pen)));
                continue;
            }
            for area in path.segments().into_iter().flat_map(ink) {
                self.take(area.grown(half(pen)));
            }
        }
        if !paths.is_empty() {
            self.items.push(Item::Stroke { layer, pen, paths });
        }
    }

    /// Draws rows of short lines, which later words keep off as a whole: one area in the
    /// place of thousands.
    pub(super) fn tick_rows(&mut self, layer: Layer, pen: Pen, tick_rows: Vec<TickRow>) {
        let corners = tick_rows.iter().flat_map(TickRow::corners);
        let whole = corners.map(|p| Area::about(p, Length::ZERO)).reduce(|a, b| {
            let both = |a: Extent, b: Extent| Extent {
                from: a.from.min(b.from),
                to: a.to.max(b.to),
            };
            Area::new(both(a.x, b.x), both(a.y, b.y))
        });
        if let Some(area) = whole {
            self.take(area.grown(half(pen)));
            self.items.push(Item::TickRows { layer, pen, tick_rows });
        }
    }

    pub(super) fn fill(&mut self, layer: Layer, tone: Tone, paths: Vec<Path<Sheet>>) {
        if !paths.is_empty() {
            self.items.push(Item::Fill { layer, tone, paths });
        }
    }

    /// Writes words, come what may.
    pub(super) fn write(&mut self, words: Words) {
        self.words.add(words.area());
        let Words { at, anchor, turn, size, tone, text } = words;
        self.items.push(Item::Text { tone, at, anchor, turn, size, text });
    }

    /// Whether words would lie within the margins, clear of all else.
    pub(super) fn is_free(&self, words: &Words, clear: Clear) -> bool {
        let area = words.area();
        let near = area.grown(clear.ink);
        let along = match words.turn {
            QuarterTurn::None => Area::new(area.x.grown(clear.words), near.y),
            QuarterTurn::Left => Area::new(near.x, area.y.grown(clear.words)),
        };
        self.printable.holds(area)
            && !self.lines.overlaps(near)
            && !self.words.overlaps(along)
    }

    /// Writes words if they are clear of all else.
    pub(super) fn try_write(&mut self, words: Words, clear: Clear) -> bool {
        let fits = self.is_free(&words, clear);
        if fits {
            self.write(words);
        }
        fits
    }
}

/// Half as wide as a pen draws, or a little more.
fn half(pen: Pen) -> Length {
    pen.width().max(Pen::Punch.width()) / 2
}

/// All of a closed form that is too small for words within it, such as a hole.
fn small(path: &Path<Sheet>) -> Option<Area> {
    const SMALL: Length = Length::from_mm(8);
    if !path.closed {
        return None;
    }
    let (mut from, mut low, mut high) = (path.start, path.start, path.start);
    let mut reach = |p: Point<Sheet>, by: Length| {
        low = Point::new(low.x.min(p.x - by), low.y.min(p.y - by));
        high = Point::new(high.x.max(p.x + by), high.y.max(p.y + by));
    };
    for step in &path.steps {
        match *step {
            Step::Line { to } => reach(to, Length::ZERO),
            // The whole circle, which the arc is within.
            Step::Arc { centre, .. } => reach(centre, (from - centre).norm()),
        }
        from = step.to();
    }
    let area = Area::new(Extent::new(low.x, high.x), Extent::new(low.y, high.y));
    (area.x.length() <= SMALL && area.y.length() <= SMALL).then_some(area)
}

/// The areas of a line, part by part where it is neither level nor upright.
fn ink(segment: Segment<Sheet>) -> impl Iterator<Item = Area> {
    const PART: Length = Length::from_mm(2);
    let (a, b) = (segment.from, segment.step.to());
    let long = (b - a).norm().nm() / PART.nm() + 1;
    let parts = match segment.step {
        Step::Line { .. } if a.x == b.x || a.y == b.y => 1,
        Step::Line { .. } => long,
        // An arc of half a turn is longer than its chord by half.
        Step::Arc { .. } => long.max(4),
    };
    let mut from = a;
    (1..=parts).map(move |i| {
        let to = if i == parts { b } else { segment.part(i, parts) };
        let (a, b) = (std::mem::replace(&mut from, to), to);
        Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y))
    })
}

/// `text` in type of `size`, its end cut off with an ellipsis where it is wider than `room`.
pub(super) fn shortened(text: &str, size: Length, room: Length) -> String {
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
