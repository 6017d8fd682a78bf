//! The foot of a sheet, where there is room left: how to join strips, and what the signs mean.
//! The same drawings stand on the ticket.

use super::super::area::Area;
use super::super::canvas::{Canvas, TextItem, cap_height, points, shorten};
use super::super::item::{Anchor, Layer, Pen, Tone};
use super::super::wrap::add_words;
use super::{line, marks, signs};
use crate::geom::{Extent, Length, Path, Point, Sheet};
use crate::lettering;
use crate::words::Word;
use std::ops::Range;

/// Kept free at the right for the corner angle.
pub(super) const BESIDE_CORNER: Length = Length::from_mm(4);
/// What the foot takes, and a line of words alone.
const HIGH: Length = Length::from_um(24_600);
const LINE: Length = Length::from_um(4_600);
/// How high a drawing is with its caption.
pub(in super::super) const DRAWING: Length = Length::from_um(22_600);
/// Widths of a drawing and of an entry of a sign, from the start of one to the next.
const DRAWING_PITCH: Length = Length::from_mm(50);
pub(in super::super) const SIGN_PITCH: Length = Length::from_mm(55);
/// From sign to sign below each other, and from a sign's left edge to its words.
pub(in super::super) const SIGN_LEADING: Length = Length::from_um(7_200);
const TO_WORDS: Length = Length::from_mm(13);
const CAPTION: Length = points(95);
const WORDS: [Length; 3] = [points(95), points(85), points(80)];
const NUMBER: Length = points(100);

/// A sign with its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) enum Sign {
    Punch,
    Join,
    Check,
    Cut,
    Bend,
    Here,
    CutOff,
    Elsewhere,
    Prick,
    Centre,
}

impl Sign {
    /// All of them with what they mean: those of the foot of a sheet first.
    pub(in super::super) const ALL: [(Self, Word); 10] = [
        (Self::Punch, Word::SignPunch),
        (Self::Join, Word::SignJoin),
        (Self::Check, Word::SignCheck),
        (Self::Cut, Word::SignCut),
        (Self::Bend, Word::SignBend),
        (Self::Here, Word::SignHere),
        (Self::CutOff, Word::SignCutOff),
        (Self::Elsewhere, Word::SignElsewhere),
        (Self::Prick, Word::SignPrick),
        (Self::Centre, Word::SignCentre),
    ];

    /// Draws it with its meaning: its left edge at `at`, its middle as high, in `room`.
    pub(in super::super) fn draw(
        self,
        canvas: &mut Canvas,
        at: Point<Sheet>,
        room: Length,
        word: Word,
    ) {
        let um = Length::from_um;
        let middle = Point::new(at.x + TO_WORDS / 2 - um(500), at.y);
        let half = um(5_200);
        let level = |pen, canvas: &mut Canvas| {
            let path = line(middle.x - half, at.y, middle.x + half, at.y);
            canvas.stroke(Layer::Guides, pen, vec![path]);
        };
        match self {
            Self::Punch => {
                let ring = vec![Path::circle(middle, um(2_000))];
                canvas.stroke(Layer::Guides, Pen::Punch, ring);
                let cross = marks::cross(middle, um(2_000), um(2_000));
                canvas.stroke(Layer::Guides, Pen::Thin, cross);
            }
            Self::Join => signs::join_cross(canvas, middle),
            Self::Check => {
                let at = Point::new(middle.x - um(3_000), middle.y);
                let letter = signs::long_check(canvas, at, "A", true);
                canvas.write(letter);
            }
            Self::Cut => level(Pen::Outline, canvas),
            Self::Bend => level(Pen::Fold, canvas),
            Self::Centre => level(Pen::Centre, canvas),
            Self::Here => {
                let low =
                    Point::new(middle.x - signs::SQUARE / 2, at.y - signs::SQUARE / 2);
                signs::square(canvas, low, "2");
            }
            Self::Elsewhere => {
                let low = Point::new(middle.x - um(2_600), at.y - um(2_600));
                let high = Point::new(middle.x + um(2_600), at.y + um(2_600));
                let frame = vec![Path::rectangle(low, high)];
                canvas.stroke(Layer::Guides, Pen::Frame, frame);
                let base = Point::new(middle.x, at.y - cap_height(NUMBER) / 2);
                canvas.write(TextItem::new(base, Anchor::Middle, NUMBER, "4").bold());
            }
            Self::CutOff => {
                let low = Point::new(middle.x - half, at.y - um(2_400));
                let high = Point::new(middle.x + half, at.y + um(2_400));
                let frame = vec![Path::rectangle(low, high)];
                canvas.stroke(Layer::Guides, Pen::Thin, frame);
                signs::hatching(canvas, Area::between(low, high), &[]);
            }
            Self::Prick => {
                let dots = [-3_000, 0, 3_000]
                    .map(|x| Path::circle(Point::new(middle.x + um(x), at.y), um(500)));
                canvas.stroke(Layer::Guides, Pen::Punch, dots.to_vec());
            }
        }
        let words = canvas.wording.say(word);
        let room = room - TO_WORDS - Length::from_mm(1);
        let fits = |size: &Length| lettering::width(words, *size) <= room;
        let size = WORDS.into_iter().find(fits).unwrap_or(WORDS[2]);
        let mut lines = Vec::new();
        let words = words.split(' ').map(|word| shorten(word, size, room)).collect();
        add_words(&mut lines, words, " ", size, room);
        lines.truncate(2);
        lines.retain(|line| !line.is_empty());
        let leading = size.times(108, 100);
        let above = leading * (i64::try_from(lines.len()).unwrap_or(1) - 1) / 2;
        let mut y = at.y - cap_height(size) / 2 + above;
        for words in lines {
            let base = Point::new(at.x + TO_WORDS, y);
            canvas.write(TextItem::new(base, Anchor::Start, size, &words));
            y -= leading;
        }
    }
}

/// Draws the foot into a part of the sheet, as much of it as there is room for, and says how
/// much of its height that takes.
pub(super) fn draw(canvas: &mut Canvas, x: Extent, y: Extent, has_joins: bool) -> Length {
    if y.length() < HIGH {
        let words = canvas.wording.say(Word::SeeTicket);
        let at = Point::new(x.from, y.from + LINE / 4);
        let fits = y.length() >= LINE && lettering::width(words, WORDS[0]) <= x.length();
        if fits {
            canvas.write(TextItem::new(at, Anchor::Start, WORDS[0], words));
        }
        return if fits { LINE } else { Length::ZERO };
    }
    let top = y.from + HIGH - Length::from_mm(1);
    canvas.stroke(Layer::Guides, Pen::Thin, vec![line(x.from, top, x.to, top)]);
    let drawings = DRAWING_PITCH * 3;
    let mut left = x.from;
    let draws = has_joins && x.length() >= drawings;
    if draws {
        let at = Point::new(left, top - Length::from_mm(1));
        join_drawings(canvas, at, DRAWING_PITCH, 0..3);
        left += drawings;
    }
    // Without joins there are no crosses and no long check.
    let is_there = |(sign, _): &&(Sign, Word)| {
        has_joins || !matches!(sign, Sign::Join | Sign::Check)
    };
    let all = Sign::ALL[..6].iter().filter(is_there);
    let columns = ((x.to - left).nm() / SIGN_PITCH.nm()).max(1);
    let room = ((x.to - left) / columns).min(SIGN_PITCH);
    for (n, (sign, word)) in (0..columns * 3).zip(all) {
        let at = Point::new(
            left + room * (n / 3),
            top - SIGN_LEADING * (n % 3) - SIGN_LEADING / 2,
        );
        sign.draw(canvas, at, room, *word);
    }
    HIGH
}

/// Draws steps of a join beside each other below `high`, each with its words.
pub(in super::super) fn join_drawings(
    canvas: &mut Canvas,
    high: Point<Sheet>,
    pitch: Length,
    steps: Range<i64>,
) {
    let words = [Word::JoinCutOff, Word::JoinLayOn, Word::JoinTape];
    for (n, word) in (0..).zip(words).filter(|(n, _)| steps.contains(n)) {
        let at = Point::new(high.x + pitch * (n - steps.start), high.y);
        draw_step(canvas, at, n);
        let room = pitch - Length::from_mm(2);
        let text = canvas.wording.say(word);
        let fits = |size: &Length| lettering::width(text, *size) <= room;
        let size = [CAPTION, points(85)].into_iter().find(fits).unwrap_or(points(80));
        let mut lines = Vec::new();
        let words = text.split(' ').map(str::to_owned).collect();
        add_words(&mut lines, words, " ", size, room);
        lines.truncate(2);
        for (i, text) in (0..).zip(&lines) {
            let base = high.y - Length::from_um(19_900) - size * i;
            let at = Point::new(at.x, base);
            canvas.write(TextItem::new(at, Anchor::Start, size, text).bold());
        }
    }
}

/// Draws a step: what is cut off, how one strip is laid on the next, and the tape.
fn draw_step(canvas: &mut Canvas, high: Point<Sheet>, n: i64) {
    let um = Length::from_um;
    let at = |x: i64, y: i64| Point::new(high.x + um(x), high.y - um(y));
    let number = at(2_600, 4_600);
    canvas.fill(Layer::Guides, Tone::Black, vec![Path::circle(number, um(2_400))]);
    let base = Point::new(number.x, number.y - cap_height(NUMBER) / 2);
    let text = (n + 1).to_string();
    canvas.write(TextItem::new(base, Anchor::Middle, NUMBER, &text).bold().white());
    let frame = |canvas: &mut Canvas, low, high| {
        canvas.stroke(Layer::Guides, Pen::Frame, vec![Path::rectangle(low, high)]);
    };
    let strip = |canvas: &mut Canvas, low: Point<Sheet>, name: &str| {
        let high = Point::new(low.x + um(4_400), low.y + um(4_400));
        canvas.fill(Layer::Guides, Tone::Black, vec![Path::rectangle(low, high)]);
        let base =
            Point::new(low.x + um(2_200), low.y + um(2_200) - cap_height(NUMBER) / 2);
        canvas.write(TextItem::new(base, Anchor::Middle, NUMBER, name).bold().white());
    };
    match n {
        0 => {
            frame(canvas, at(7_000, 12_500), at(38_000, 4_000));
            strip(canvas, at(9_500, 10_500), "1");
            let area = Area::between(at(30_000, 12_500), at(38_000, 4_000));
            signs::hatching(canvas, area, &[]);
            let cut =
                line(at(30_000, 0).x, at(0, 13_000).y, at(30_000, 0).x, at(0, 3_000).y);
            canvas.stroke(Layer::Guides, Pen::Punch, vec![cut]);
            signs::join_cross(canvas, at(30_000, 1_900));
            signs::join_cross(canvas, at(30_000, 14_600));
        }
        1 => {
            frame(canvas, at(19_000, 13_000), at(44_000, 4_500));
            // The upper strip hides what lies under it.
            let upper = [at(7_000, 12_500), at(25_000, 4_000)];
            let path = Path::rectangle(upper[0], upper[1]);
            canvas.fill(Layer::Guides, Tone::White, vec![path]);
            frame(canvas, upper[0], upper[1]);
            strip(canvas, at(9_500, 10_500), "1");
            strip(canvas, at(36_000, 11_000), "2");
            let y = at(0, 8_500).y;
            let (from, to) = (at(26_500, 0).x, at(31_500, 0).x);
            let arrow = Path::from(Point::new(to, y))
                .line_to(Point::new(to - um(1_800), y + um(1_000)))
                .line_to(Point::new(to - um(1_800), y - um(1_000)))
                .close();
            canvas.stroke(
                Layer::Guides,
                Pen::Punch,
                vec![line(from, y, to - um(1_800), y)],
            );
            canvas.fill(Layer::Guides, Tone::Black, vec![arrow]);
            let join =
                line(at(33_000, 0).x, at(0, 13_000).y, at(33_000, 0).x, at(0, 4_500).y);
            canvas.stroke(Layer::Guides, Pen::Thin, vec![join]);
            signs::join_cross(canvas, at(33_000, 2_400));
            signs::join_cross(canvas, at(33_000, 15_000));
        }
        _ => {
            frame(canvas, at(7_000, 12_500), at(40_000, 4_000));
            let tape = [at(17_500, 10_500), at(29_500, 6_000)];
            frame(canvas, tape[0], tape[1]);
            strip(canvas, at(9_500, 10_500), "1");
            strip(canvas, at(33_000, 10_500), "2");
            let x = at(23_500, 0).x;
            let join = line(x, at(0, 12_500).y, x, at(0, 4_000).y);
            canvas.stroke(Layer::Guides, Pen::Thin, vec![join]);
            signs::join_cross(canvas, at(23_500, 1_900));
            signs::join_cross(canvas, at(23_500, 14_600));
        }
    }
    canvas.keep_free(Area::between(at(0, 14_000), at(44_000, 2_000)));
}
