//! Scale bars: the longest that fit along the two edges, to lay a ruler on.
//!
//! Millimetres on one side of the line, inches on the other. A bar starts and ends with a
//! tick of its own whole length in millimetres. Between its last numerals stands what to
//! accept.

use super::super::canvas::{Canvas, Clear, Words, cap};
use super::super::lanes::{BAR_BELOW, BAR_LEFT, Page};
use super::super::sheet::{Anchor, Layer, Pen, ScaleBar};
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
/// Between numerals and other words, which stand just above the ticks.
const AIR: Clear = Clear { ink: Length::ZERO, words: Length::from_mm(2) };
const INCH: Length = Length::from_inches(1);

/// A line to be ticked: along the width, or along the height.
#[derive(Clone, Copy)]
struct Bar {
    from: Point<OnSheet>,
    length: Length,
    turn: QuarterTurn,
}

impl Bar {
    /// The place `along` the bar and `up` from it, as its numerals read.
    fn at(self, along: Length, up: Length) -> Point<OnSheet> {
        match self.turn {
            QuarterTurn::None => Point::new(self.from.x + along, self.from.y + up),
            QuarterTurn::Left => Point::new(self.from.x - up, self.from.y + along),
        }
    }
}

/// Draws both bars: along the width, then along the height.
pub(super) fn draw(
    canvas: &mut Canvas,
    page: Page,
    measuring: MeasurementUncertainty,
) -> Vec<ScaleBar> {
    let all = bars(page).map(|bar| (bar, tick(canvas, bar)));
    all.map(|(bar, drawn)| {
        accept(canvas, bar, drawn.window(measuring));
        drawn
    })
    .to_vec()
}

/// What may be read on the bar, in the last gap between numerals that has room.
fn accept(canvas: &mut Canvas, bar: Bar, window: Extent) {
    let wording = canvas.wording;
    let [least, most] = wording.window(window);
    let text = wording.fill(Word::AcceptOnBar, &[&least, &most]);
    for nth in (0..=bar.length.nm() / FIFTY.nm()).rev() {
        let (from, to) = (FIFTY * nth, (FIFTY * (nth + 1)).min(bar.length));
        let at = bar.at((from + to) / 2, TO_NUMERAL);
        let mut words = Words::new(at, Anchor::Middle, SIZE, &text);
        words.turn = bar.turn;
        if canvas.try_write(words, AIR) {
            return;
        }
    }
}

/// How long the two are.
pub(in super::super) fn lengths(page: Page) -> [Length; 2] {
    bars(page).map(|bar| bar.length)
}

fn bars(page: Page) -> [Bar; 2] {
    let all = page.printable();
    let lanes = page.lanes();
    let wide = Bar {
        from: Point::new(all.x.from + ENDS, all.y.from + BAR_BELOW / 2),
        length: longest(all.x.length() - ENDS * 2),
        turn: QuarterTurn::None,
    };
    // The one on the left starts above the one below.
    let run = Extent { from: lanes.y.from + ENDS / 2, to: lanes.y.to - ENDS };
    let tall = Bar {
        from: Point::new(all.x.from + BAR_LEFT / 2, run.from),
        length: longest(run.length()),
        turn: QuarterTurn::Left,
    };
    [wide, tall]
}

/// Whole 10 mm.
fn longest(room: Length) -> Length {
    TEN * (room.nm().max(0) / TEN.nm())
}

fn tick(canvas: &mut Canvas, bar: Bar) -> ScaleBar {
    let (from, to) =
        (bar.at(Length::ZERO, Length::ZERO), bar.at(bar.length, Length::ZERO));
    let mut paths = vec![Path::line(from, to)];
    let mut tens = 0;
    while TEN * tens <= bar.length {
        let along = TEN * tens;
        let numbered = tens % 5 == 0 || along == bar.length;
        let reach = if numbered { LONG_TICK } else { TICK };
        paths.push(Path::line(bar.at(along, Length::ZERO), bar.at(along, reach)));
        let crowded = along != bar.length && bar.length - along < TEN * 2;
        if numbered && !crowded {
            let unit = if along == bar.length { " mm" } else { "" };
            number(
                canvas,
                bar,
                bar.at(along, TO_NUMERAL),
                &format!("{}{unit}", tens * 10),
            );
        }
        tens += 1;
    }
    let mut inches = 0;
    while INCH * inches <= bar.length {
        let along = INCH * inches;
        let last = INCH * (inches + 1) > bar.length;
        paths.push(Path::line(bar.at(along, Length::ZERO), bar.at(along, -TICK)));
        let unit = if last { " in" } else { "" };
        let below = bar.at(along, -(LONG_TICK + cap(SIZE)));
        number(canvas, bar, below, &format!("{inches}{unit}"));
        inches += 1;
    }
    canvas.stroke(Layer::Guides, Pen::Punch, paths);
    ScaleBar { from, to }
}

fn number(canvas: &mut Canvas, bar: Bar, at: Point<OnSheet>, text: &str) {
    let mut words = Words::new(at, Anchor::Middle, SIZE, text);
    words.turn = bar.turn;
    canvas.write(words);
}
