//! A sheet while it is drawn on: its items, and where ink already lies.

use super::sheet::{Anchor, Comb, Item, Layer, Pen, Tone};
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Sheet};
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
struct Taken {
    from: Length,
    bins: Vec<Vec<Area>>,
}

impl Taken {
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

/// The sheet so far.
#[derive(Debug)]
pub(super) struct Canvas {
    pub(super) items: Vec<Item>,
    taken: Taken,
    printable: Area,
    /// How words and numbers are written on it.
    pub(super) wording: Wording,
}

impl Canvas {
    pub(super) fn new(printable: Area, wording: Wording) -> Self {
        let taken = Taken::new(printable.x);
        Self { items: Vec::new(), taken, printable, wording }
    }

    pub(super) fn printable(&self) -> Area {
        self.printable
    }

    /// Keeps later words off `area`.
    pub(super) fn take(&mut self, area: Area) {
        self.taken.add(area);
    }

    pub(super) fn stroke(&mut self, layer: Layer, pen: Pen, paths: Vec<Path<Sheet>>) {
        if !paths.is_empty() {
            self.items.push(Item::Stroke { layer, pen, paths });
        }
    }

    pub(super) fn combs(&mut self, layer: Layer, pen: Pen, combs: Vec<Comb>) {
        if !combs.is_empty() {
            self.items.push(Item::Combs { layer, pen, combs });
        }
    }

    pub(super) fn fill(&mut self, layer: Layer, tone: Tone, paths: Vec<Path<Sheet>>) {
        if !paths.is_empty() {
            self.items.push(Item::Fill { layer, tone, paths });
        }
    }

    /// Writes words, come what may.
    pub(super) fn write(&mut self, words: Words) {
        self.taken.add(words.area());
        let Words { at, anchor, turn, size, tone, text } = words;
        self.items.push(Item::Text { tone, at, anchor, turn, size, text });
    }

    /// Writes words if nothing lies within `clear` of them.
    pub(super) fn try_write(&mut self, words: Words, clear: Length) -> bool {
        let area = words.area();
        let kept_clear = area.grown(clear);
        let fits = self.printable.holds(area) && !self.taken.overlaps(kept_clear);
        if fits {
            self.write(words);
        }
        fits
    }
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
