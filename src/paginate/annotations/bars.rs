//! The scale bars: one in the head, one in the band beside the tiles, as long as fits, to be
//! measured with a ruler over the outer edges of their end lines.
//!
//! A bar is a row of blocks. It has no ticks, so that it is not taken for a ruler.

use super::super::canvas::{Canvas, Clearance, TextItem, points};
use super::super::item::{Anchor, Claim, Layer, Pen, Tone};
use super::super::page::Page;
use super::super::run::Run;
use super::super::sheet::ScaleBar;
use super::line;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Sheet as OnSheet};
use crate::words::{Units, Word};

/// From the tiles to the bar in the head.
const ABOVE_TILES: Length = Length::from_um(12_300);
/// Kept free at both ends of a bar in the head, and in the band; for whole inches, of which one
/// more than needed is lost, less.
const ENDS: [Length; 2] = [Length::from_mm(5), Length::from_um(1_500)];
const INCH_ENDS: Length = Length::from_um(2_600);
/// From the edge of the page's area to the bar in the band, at the left and at the bottom.
const FROM_LEFT: Length = Length::from_um(3_900);
const FROM_BOTTOM: Length = Length::from_um(5_100);
const HIGH: Length = Length::from_um(2_400);
/// How far an end line goes beyond the blocks, toward the words.
const BEYOND: Length = Length::from_mm(1);
/// Height of the pointers at the end lines, and half their width.
const POINTER: Length = Length::from_um(1_100);
/// From the bar to the base line of its words.
const TO_WORDS: [Length; 2] = [Length::from_um(4_000), Length::from_um(3_600)];
/// Sizes of the words.
const SIZES: [Length; 2] = [points(110), points(95)];
const SMALL: Length = points(80);
/// Kept for the length of the bar beside that in the other unit.
const BESIDE_LENGTH: Length = Length::from_mm(16);
/// A shorter bar has no end in the other unit.
const SHORT: Length = Length::from_mm(100);
const BLOCK: Length = Length::from_mm(20);
const INCH: Length = Length::from_inches(1);
const AIR: Clearance = Clearance { ink: Length::ZERO, text: Length::from_mm(2) };

/// Where a bar lies: along the width, or along the height.
#[derive(Clone, Copy)]
struct Bar {
    /// Its index on the sheet: 0 along the width, 1 along the height.
    n: usize,
    /// Where it stands: 0 in the head, 1 in the band.
    place: usize,
    from: Point<OnSheet>,
    length: Length,
    turn: QuarterTurn,
    units: Units,
}

impl Bar {
    /// The point `along` the bar and `up` from it, as its words are read.
    fn at(self, along: Length, up: Length) -> Point<OnSheet> {
        self.from + self.turn.turned(along, up)
    }

    fn line(self, from: (Length, Length), to: (Length, Length)) -> Path<OnSheet> {
        let (a, b) = (self.at(from.0, from.1), self.at(to.0, to.1));
        line(a.x, a.y, b.x, b.y)
    }

    fn text(self, along: Length, up: Length, anchor: Anchor, text: &str) -> TextItem {
        TextItem::new(self.at(along, up), anchor, SIZES[self.place], text)
            .turned(self.turn)
            .bold()
    }
}

/// Draws both bars: along the width, then along the height.
pub(super) fn draw(
    canvas: &mut Canvas,
    page: Page,
    measuring: MeasurementUncertainty,
) -> Vec<ScaleBar> {
    let bars = place(page, canvas.wording.units);
    bars.map(|bar| draw_bar(canvas, bar, measuring)).to_vec()
}

/// The lengths of the bars along the width and the height.
pub(in super::super) fn bar_lengths(page: Page, units: Units) -> [Length; 2] {
    place(page, units).map(|bar| bar.length)
}

fn place(page: Page, units: Units) -> [Bar; 2] {
    let (all, tiles) = (page.printable(), page.tile_area());
    let bar = |n: usize, place: usize, whole: Extent, at: Length| {
        let (ends, step): (Length, Length) = match units {
            Units::Inches => (ENDS[place].min(INCH_ENDS), INCH),
            Units::Millimetres | Units::Both => (ENDS[place], BLOCK / 2),
        };
        let length = (whole.length() - ends * 2).max(Length::ZERO).floor_to(step);
        let start = whole.from + (whole.length() - length) / 2;
        let (from, turn) = if n == 0 {
            (Point::new(start, at), QuarterTurn::None)
        } else {
            (Point::new(at, start), QuarterTurn::Left)
        };
        Bar { n, place, from, length, turn, units }
    };
    if page.has_side_head {
        let (below, beside) = (all.y.from + FROM_BOTTOM, tiles.x.from - ABOVE_TILES);
        [bar(0, 1, tiles.x, below), bar(1, 0, all.y, beside)]
    } else {
        let (above, beside) = (tiles.y.to + ABOVE_TILES, all.x.from + FROM_LEFT);
        [bar(0, 0, all.x, above), bar(1, 1, tiles.y, beside)]
    }
}

fn draw_bar(
    canvas: &mut Canvas,
    bar: Bar,
    measuring: MeasurementUncertainty,
) -> ScaleBar {
    let (zero, length) = (Length::ZERO, bar.length);
    let [from, to] = [zero, length].map(|along| bar.at(along, zero));
    let is_inch = bar.units == Units::Inches;
    let block = if is_inch { INCH } else { BLOCK };
    let starts = (0..).map(|i| (i, block * i)).take_while(|(_, start)| *start < length);
    // The blocks go up and down in turn.
    let blocks = starts.map(|(i, start)| {
        let (low, high) = if i % 2 == 0 { (zero, HIGH / 2) } else { (HIGH / 2, HIGH) };
        let end = (start + block).min(length);
        Path::rectangle(bar.at(start, low), bar.at(end, high))
    });
    canvas.fill(Layer::Guides, Tone::Black, blocks.collect());
    let inside = Pen::Frame.width() / 2;
    let end_line = |along| bar.line((along, -BEYOND), (along, HIGH));
    let edges = [zero, HIGH].map(|up| bar.line((zero, up), (length, up)));
    let mut lines = edges.to_vec();
    lines.extend([inside, length - inside].map(end_line));
    let pointer = |along| {
        let tip = Path::from(bar.at(along, HIGH));
        let far = HIGH + POINTER;
        tip.line_to(bar.at(along - POINTER / 2, far))
            .line_to(bar.at(along + POINTER / 2, far))
            .close()
    };
    let pointers = vec![pointer(zero), pointer(length)];
    // The other unit has an end of its own, at a whole inch that leaves room for both lengths.
    let inches = (length - BESIDE_LENGTH).floor_to(INCH);
    if bar.units == Units::Both && length >= SHORT {
        lines.push(end_line(inches - inside));
        let claim = Claim::Bar { bar: bar.n, along: inches, unit: INCH };
        let text = format!("{} in", inches.nm() / INCH.nm());
        let text = bar.text(inches, -TO_WORDS[bar.place], Anchor::End, &text);
        canvas.write(text.claiming(claim));
    }
    canvas.stroke(Layer::Guides, Pen::Frame, lines);
    canvas.fill(Layer::Guides, Tone::Black, pointers);
    let drawn = ScaleBar { from, to };
    let down = -TO_WORDS[bar.place];
    let (unit, name) = if is_inch { (INCH, "in") } else { (Length::from_mm(1), "mm") };
    let said = format!("{} {name}", length.nm() / unit.nm());
    for (along, anchor, text) in
        [(zero, Anchor::Start, "0"), (length, Anchor::End, said.as_str())]
    {
        let claim = Claim::Bar { bar: bar.n, along, unit };
        canvas.write(bar.text(along, down, anchor, text).claiming(claim));
    }
    write_middle(canvas, bar, &said, drawn.window(measuring));
    drawn
}

/// Writes how long the bar is and what to accept, as fully as there is room between its ends.
fn write_middle(canvas: &mut Canvas, bar: Bar, said: &str, window: Extent) {
    let wording = canvas.wording;
    let accepted = wording.accepted(bar.length, window);
    let accept = wording.fill(Word::Accept, &[("window", &accepted)]);
    let is = wording.fill(Word::BarIs, &[("length", &said)]);
    let middle = bar.at(bar.length / 2, -TO_WORDS[bar.place]);
    let full = SIZES[bar.place];
    let run = |bold: &str, rest: &str, size| {
        let text = |words: &str| TextItem::new(middle, Anchor::Start, size, words);
        let parts = vec![text(bold).bold(), text(rest)];
        Run::new(middle, Anchor::Middle, bar.turn, parts)
    };
    let runs = [run(&is, &accept, full), run("", &accept, full), run("", &accept, SMALL)];
    if !canvas.write_first_run(runs, AIR) {
        canvas.write_run(run("", &accepted, SMALL));
    }
}
