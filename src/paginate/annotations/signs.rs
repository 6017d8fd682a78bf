//! The signs of the sheets, no two alike: the same on a strip, in the foot and on the ticket.

use super::super::area::Area;
use super::super::canvas::{Canvas, TextItem, cap_height, points};
use super::super::item::{Anchor, Layer, Pen, Tone};
use super::line;
use crate::geom::{Extent, Length, Path, Point, Sheet};

/// Half an arm of an alignment cross, and the radius of its ring.
pub(super) const ARM: Length = Length::from_mm(2);
const RING: Length = Length::from_um(1_600);
/// Half the line of a long check.
pub(super) const HALF_LINE: Length = Length::from_mm(2);
/// From that line to the tip of its triangle's base, and half the base.
const TRIANGLE: (Length, Length) = (Length::from_um(2_200), Length::from_um(1_300));
/// Half the height of the disc with the letter, and the air about the letter.
const DISC: Length = Length::from_um(1_800);
const LETTER: Length = points(90);
/// The side of the square with the number of a strip, and the number's size.
pub(in super::super) const SQUARE: Length = Length::from_um(6_400);
const NUMBER: Length = points(150);
/// The arrow of the start: its length, that of its head, and how far the head goes beyond.
pub(super) const START: Length = Length::from_mm(24);
const HEAD: Length = Length::from_mm(4);
const WINGS: Length = Length::from_um(1_200);
const START_TEXT: Length = points(110);

/// An alignment cross: a ring with arms, two opposite quarters black. Halves of two of them
/// make a whole one, and every step between them shows.
pub(in super::super) fn join_cross(canvas: &mut Canvas, at: Point<Sheet>) {
    let quarter = |x: Length, y: Length| {
        let (side, end) = (Point::new(at.x + x, at.y), Point::new(at.x, at.y + y));
        let is_clockwise = (x > Length::ZERO) != (y > Length::ZERO);
        Path::from(at).line_to(side).arc_to(end, at, is_clockwise).close()
    };
    let quarters = vec![quarter(RING, RING), quarter(-RING, -RING)];
    canvas.fill(Layer::Guides, Tone::Black, quarters);
    let level = line(at.x - ARM, at.y, at.x + ARM, at.y);
    let upright = line(at.x, at.y - ARM, at.x, at.y + ARM);
    let all = vec![level, upright, Path::circle(at, RING)];
    canvas.stroke(Layer::Guides, Pen::Frame, all);
    canvas.keep_free(Area::around(at, ARM));
}

/// A line to measure from, with a triangle that touches it and its letter on black. The
/// triangle points to the left at a start, else to the right. Gives the letter.
pub(in super::super) fn long_check(
    canvas: &mut Canvas,
    at: Point<Sheet>,
    label: &str,
    is_start: bool,
) -> TextItem {
    let upright = line(at.x, at.y - HALF_LINE, at.x, at.y + HALF_LINE);
    canvas.stroke(Layer::Guides, Pen::Punch, vec![upright]);
    let sign = if is_start { 1 } else { -1 };
    let (long, half) = TRIANGLE;
    let base = at.x + long * sign;
    let triangle = Path::from(at)
        .line_to(Point::new(base, at.y + half))
        .line_to(Point::new(base, at.y - half))
        .close();
    let base_line = |x| Point::new(x, at.y - cap_height(LETTER) / 2);
    let text =
        TextItem::new(base_line(at.x), Anchor::Middle, LETTER, label).bold().white();
    let wide = (text.width() + DISC / 2).max(DISC * 2);
    let middle = base + wide / 2 * sign;
    let disc = if wide > DISC * 2 {
        Path::slot(Point::new(middle, at.y), wide, DISC * 2)
    } else {
        Path::circle(Point::new(middle, at.y), DISC)
    };
    canvas.fill(Layer::Guides, Tone::Black, vec![triangle, disc]);
    let far = base + wide * sign;
    let area = Area::between(
        Point::new(at.x, at.y - HALF_LINE),
        Point::new(far, at.y + HALF_LINE),
    );
    canvas.block(area);
    TextItem { at: base_line(middle), ..text }
}

/// How wide the square of a strip of that name is: more than high for a long name.
pub(in super::super) fn square_width(name: &str) -> Length {
    let text = TextItem::new(Point::default(), Anchor::Middle, NUMBER, name);
    (text.width() + Length::from_um(2_400)).max(SQUARE)
}

/// The name of a strip white in a black square, its lower left corner at `low`.
pub(in super::super) fn square(canvas: &mut Canvas, low: Point<Sheet>, name: &str) {
    let wide = square_width(name);
    let high = Point::new(low.x + wide, low.y + SQUARE);
    canvas.fill(Layer::Guides, Tone::Black, vec![Path::rectangle(low, high)]);
    let base = low.y + (SQUARE - cap_height(NUMBER)) / 2;
    let at = Point::new(low.x + wide / 2, base);
    canvas.write(TextItem::new(at, Anchor::Middle, NUMBER, name).bold().white());
    canvas.block(Area::between(low, high));
}

/// The arrow at the strip to start with, as high as the square of its number.
pub(in super::super) fn start(canvas: &mut Canvas, low: Point<Sheet>, word: &str) {
    let at = |x, y| Point::new(low.x + x, low.y + y);
    let (zero, neck) = (Length::ZERO, START - HEAD);
    let (bottom, top) = (SQUARE / 10, SQUARE - SQUARE / 10);
    let arrow = Path::from(at(zero, bottom))
        .line_to(at(neck, bottom))
        .line_to(at(neck, bottom - WINGS))
        .line_to(at(START, SQUARE / 2))
        .line_to(at(neck, top + WINGS))
        .line_to(at(neck, top))
        .line_to(at(zero, top))
        .close();
    canvas.fill(Layer::Guides, Tone::Black, vec![arrow]);
    let sizes = [START_TEXT, points(95), points(80)];
    let base = |size| at((neck + HEAD / 3) / 2, (SQUARE - cap_height(size)) / 2);
    let text =
        |size| TextItem::new(base(size), Anchor::Middle, size, word).bold().white();
    let fits = |text: &TextItem| text.width() + Length::from_mm(1) <= neck;
    let texts = sizes.map(text);
    let text = texts.iter().find(|text| fits(text)).unwrap_or(&texts[sizes.len() - 1]);
    canvas.write(text.clone());
    canvas.block(Area::between(at(zero, zero), at(START, SQUARE)));
}

/// Scissors that point up, their blades crossing at `at`.
pub(in super::super) fn scissors(canvas: &mut Canvas, at: Point<Sheet>) {
    let um = Length::from_um;
    let ring = |x| Path::circle(Point::new(at.x + um(x), at.y - um(1_900)), um(700));
    let blade =
        |x: i64| line(at.x + um(-x), at.y - um(1_300), at.x + um(x), at.y + um(2_400));
    let paths = vec![ring(-900), ring(900), blade(700), blade(-700)];
    canvas.stroke(Layer::Guides, Pen::Frame, paths);
    let low = Point::new(at.x - um(1_700), at.y - um(2_700));
    canvas.keep_free(Area::between(low, Point::new(at.x + um(1_700), at.y + um(2_500))));
}

/// Lines at 45 degrees over an area, but for gaps.
pub(in super::super) fn hatching(canvas: &mut Canvas, area: Area, gaps: &[Area]) {
    const APART: Length = Length::from_um(3_111);
    let (Area { x, y }, mut lines) = (area, Vec::new());
    // Each line by where it would meet the lower edge; they are 2.2 mm apart.
    let mut foot = x.from - y.length() + APART / 2;
    while foot < x.to {
        let whole = Extent { from: foot.max(x.from), to: (foot + y.length()).min(x.to) };
        let up = |x: Length| y.from + (x - foot);
        // The stretch of the line within a gap.
        let gaps = gaps.iter().map(|gap| {
            let level = gap.y.shifted(foot - y.from);
            gap.x.intersection(level)
        });
        let gaps = gaps.filter(|gap| gap.from < gap.to);
        let mut runs = super::stretches_between(whole, gaps);
        // A shorter one in a corner is only a blot.
        runs.retain(|run| run.length() >= Length::from_mm(2));
        lines.extend(runs.iter().map(|r| line(r.from, up(r.from), r.to, up(r.to))));
        foot += APART;
    }
    canvas.stroke(Layer::Guides, Pen::Thin, lines);
}
