//! The scale bars: as long as fits along two edges, to be measured with a ruler.
//!
//! Millimetres on one side of the line, inches on the other. The first and the last tick
//! bound a whole number of 10 mm. Between two numerals stands which readings to accept.

use super::super::canvas::{Canvas, Clearance, TextItem, cap_height};
use super::super::item::{Anchor, Claim, Layer, Pen};
use super::super::page::{BOTTOM_BAR, LEFT_BAR, Page};
use super::super::sheet::ScaleBar;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Path, Point, QuarterTurn, Sheet as OnSheet};
use crate::words::Word;

/// Kept free at both ends for the last numeral.
const ENDS: Length = Length::from_um(5_500);
const SIZE: Length = Length::from_um(2_100);
const TICK: Length = Length::from_mm(1);
const LONG_TICK: Length = Length::from_um(1_300);
const TO_NUMERAL: Length = Length::from_um(1_700);
const TEN: Length = Length::from_mm(10);
const FIFTY: Length = Length::from_mm(50);
/// Between numerals and other text, which stands just above the ticks.
const AIR: Clearance = Clearance { ink: Length::ZERO, text: Length::from_mm(2) };
const INCH: Length = Length::from_inches(1);

/// Where a bar lies: along the width, or along the height.
#[derive(Clone, Copy)]
struct Bar {
    from: Point<OnSheet>,
    length: Length,
    turn: QuarterTurn,
}

impl Bar {
    /// The point `along` the bar and `up` from it, as its numerals are read.
    fn at(self, along: Length, up: Length) -> Point<OnSheet> {
        match self.turn {
            QuarterTurn::None => Point::new(self.from.x + along, self.from.y + up),
            QuarterTurn::Left => Point::new(self.from.x - up, self.from.y + along),
        }
    }

    fn tick(self, along: Length, up: Length) -> Path<OnSheet> {
        Path::line(self.at(along, Length::ZERO), self.at(along, up))
    }

    fn text(self, along: Length, up: Length, text: &str) -> TextItem {
        let item = TextItem::new(self.at(along, up), Anchor::Middle, SIZE, text);
        TextItem { turn: self.turn, ..item }
    }
}

/// Draws both bars: along the width, then along the height.
pub(super) fn draw(
    canvas: &mut Canvas,
    page: Page,
    measuring: MeasurementUncertainty,
) -> Vec<ScaleBar> {
    let [width, height] = place(page);
    let drawn = [(0, width), (1, height)].map(|(n, bar)| (bar, draw_bar(canvas, bar, n)));
    drawn
        .map(|(bar, drawn)| {
            write_window(canvas, bar, drawn.window(measuring));
            drawn
        })
        .to_vec()
}

/// Writes which readings to accept, in the last gap between numerals that has room.
fn write_window(canvas: &mut Canvas, bar: Bar, window: Extent) {
    let wording = canvas.wording;
    let [least, most] = wording.window(window);
    let text = wording.fill(Word::AcceptOnBar, &[&least, &most]);
    let gaps = (0..=bar.length.nm() / FIFTY.nm()).rev();
    let middles = gaps.map(|n| (FIFTY * n + (FIFTY * (n + 1)).min(bar.length)) / 2);
    canvas.write_first(middles.map(|middle| bar.text(middle, TO_NUMERAL, &text)), AIR);
}

/// The lengths of the bars along the width and the height.
pub(in super::super) fn bar_lengths(page: Page) -> [Length; 2] {
    place(page).map(|bar| bar.length)
}

fn place(page: Page) -> [Bar; 2] {
    let all = page.printable();
    // The bar on the left starts above the one at the bottom.
    let tiles = page.tile_area();
    let height = Extent { from: tiles.y.from + ENDS / 2, to: tiles.y.to - ENDS };
    let bar = |x, y, room: Length, turn| Bar {
        from: Point::new(x, y),
        length: room.max(Length::ZERO).floor_to(TEN),
        turn,
    };
    let (left, bottom) = (all.x.from + LEFT_BAR / 2, all.y.from + BOTTOM_BAR / 2);
    let width = all.x.grown(-ENDS);
    [
        bar(width.from, bottom, width.length(), QuarterTurn::None),
        bar(left, height.from, height.length(), QuarterTurn::Left),
    ]
}

/// Draws the bar of index `n` on its sheet.
fn draw_bar(canvas: &mut Canvas, bar: Bar, n: usize) -> ScaleBar {
    let claim = |along: Length, unit: Length| Claim::Bar { bar: n, along, unit };
    let [from, to] = [Length::ZERO, bar.length].map(|along| bar.at(along, Length::ZERO));
    let mut paths = vec![Path::line(from, to)];
    for n in 0..=bar.length.nm() / TEN.nm() {
        let left = bar.length - TEN * n;
        let is_end = left == Length::ZERO;
        let is_numbered = n % 5 == 0 || is_end;
        paths.push(bar.tick(TEN * n, if is_numbered { LONG_TICK } else { TICK }));
        // Closer to the end there is no room beside the last numeral.
        if is_end || is_numbered && left >= TEN * 2 {
            let unit = if is_end { " mm" } else { "" };
            let text = bar.text(TEN * n, TO_NUMERAL, &format!("{}{unit}", n * 10));
            canvas.write(text.claiming(claim(TEN * n, Length::from_mm(1))));
        }
    }
    let inches = bar.length.nm() / INCH.nm();
    let below = -(LONG_TICK + cap_height(SIZE));
    for n in 0..=inches {
        paths.push(bar.tick(INCH * n, -TICK));
        let unit = if n == inches { " in" } else { "" };
        let text = bar.text(INCH * n, below, &format!("{n}{unit}"));
        canvas.write(text.claiming(claim(INCH * n, INCH)));
    }
    canvas.stroke(Layer::Guides, Pen::Punch, paths);
    ScaleBar { from, to }
}
