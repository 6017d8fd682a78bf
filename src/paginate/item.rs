//! What a sheet draws: strokes, areas, words and ticks, with their layers and line types.

use crate::geom::{Length, Path, Point, QuarterTurn, Sheet, Vector};
use serde::Serialize;

/// The layers of the drawing, which a viewer can show and hide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Layer {
    /// What is cut along.
    Outline,
    /// What is punched, and the targets on a blank.
    Punch,
    /// Crosses, scale bars, rulers, match lines, centre and bend lines.
    Guides,
    /// Words and numbers.
    Text,
}

impl Layer {
    /// All layers, in drawing order.
    pub const ALL: [Self; 4] = [Self::Guides, Self::Outline, Self::Punch, Self::Text];

    /// Its name in every file.
    pub fn name(self) -> &'static str {
        match self {
            Self::Outline => "outline",
            Self::Punch => "punch",
            Self::Guides => "guides",
            Self::Text => "text",
        }
    }
}

/// Line types after ISO 128-2:2020: thick for what is cut, thin for the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Pen {
    /// Continuous thick: visible outline.
    Outline,
    /// Continuous: punched holes and slots, match lines to cut along, corner angles.
    Punch,
    /// Continuous: rings of signs, frames, round ticks, scale bars.
    Frame,
    /// Continuous thin: other ticks, match lines, hole crosses, hatching.
    Thin,
    /// Long-dashed dotted thin (No. 04): centre lines.
    Centre,
    /// Dotted (No. 07): where strips are cut apart.
    Apart,
    /// Dashed (No. 02): folds.
    Fold,
    /// Dashed, grey: what the blank already has.
    Target,
}

/// No. 02, dashed: dash 12 d, gap 3 d, at the width d = 0.25 mm; the gap of a fold is wider,
/// since a poor print closes it.
const DASHED: [Length; 2] = [Length::from_mm(3), Length::from_um(750)];
const FOLDED: [Length; 2] = [Length::from_mm(3), Length::from_um(1_200)];
/// No. 07, dotted, with dots that a poor print shows.
const DOTTED: [Length; 2] = [Length::from_um(800), Length::from_um(1_200)];
/// No. 04, long-dashed dotted.
const LONG_DASHED_DOTTED: [Length; 4] =
    [Length::from_mm(7), Length::from_mm(1), Length::from_mm(1), Length::from_mm(1)];

impl Pen {
    /// How wide it draws.
    pub fn width(self) -> Length {
        Length::from_um(match self {
            Self::Outline => 500,
            Self::Punch => 350,
            Self::Frame | Self::Fold | Self::Target => 250,
            Self::Thin | Self::Centre | Self::Apart => 180,
        })
    }

    /// How dark it draws.
    pub fn tone(self) -> Tone {
        match self {
            Self::Target => Tone::Grey,
            _ => Tone::Black,
        }
    }

    /// Lengths of dash and gap in turn; empty for a continuous line.
    pub fn dashes(self) -> &'static [Length] {
        match self {
            Self::Fold => &FOLDED,
            Self::Target => &DASHED,
            Self::Centre => &LONG_DASHED_DOTTED,
            Self::Apart => &DOTTED,
            Self::Outline | Self::Punch | Self::Frame | Self::Thin => &[],
        }
    }
}

/// How dark a line, an area or a text is. Black and grey only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Tone {
    /// Black.
    Black,
    /// Mid grey, for what matters less.
    Grey,
    /// A light grey, for areas under lines.
    Light,
    /// Paper white.
    White,
}

impl Tone {
    /// How light it is, in percent: 0 is black, 100 is white.
    pub fn lightness(self) -> u8 {
        match self {
            Self::Black => 0,
            Self::Grey => 50,
            Self::Light => 85,
            Self::White => 100,
        }
    }
}

/// Which point of a line of text is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Anchor {
    /// The left end of the baseline.
    Start,
    /// The middle of the baseline.
    Middle,
    /// The right end of the baseline.
    End,
}

impl Anchor {
    /// Where a line of text so wide starts, from the point along it.
    pub(crate) fn start(self, width: Length) -> Length {
        match self {
            Self::Start => Length::ZERO,
            Self::Middle => -(width / 2),
            Self::End => -width,
        }
    }
}

/// One thing to draw.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum Item {
    /// Lines, all with one pen.
    Stroke {
        /// Its layer.
        layer: Layer,
        /// Its line type.
        pen: Pen,
        /// The lines.
        paths: Vec<Path<Sheet>>,
    },
    /// Rows of equal ticks, all with one pen.
    TickRows {
        /// Its layer.
        layer: Layer,
        /// Its line type.
        pen: Pen,
        /// The rows.
        tick_rows: Vec<TickRow>,
    },
    /// Filled areas.
    Fill {
        /// Its layer.
        layer: Layer,
        /// How dark.
        tone: Tone,
        /// The areas, each closed.
        paths: Vec<Path<Sheet>>,
    },
    /// A line of text.
    Text {
        /// How dark.
        tone: Tone,
        /// The place of `anchor`.
        at: Point<Sheet>,
        /// Which point of the text lies at `at`.
        anchor: Anchor,
        /// The rotation about `at`.
        turn: QuarterTurn,
        /// Size of the type, baseline to baseline.
        size: Length,
        /// Whether the letters are bold: drawn along their edges too, [`bold_stroke`] wide.
        bold: bool,
        /// The words.
        text: String,
        /// What they claim.
        claim: Claim,
    },
}

/// How wide a pen goes along the edges of bold letters in type of `size`: 3 % of it.
pub fn bold_stroke(size: Length) -> Length {
    size.times(3, 100)
}

/// What a text of a sheet says of a place on the strap or the paper, so that it can be held
/// against the layout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Claim {
    /// Nothing that follows from its place.
    #[default]
    None,
    /// A numeral of a ruler: what a tape reads at `x` of a piece, in `unit`.
    Numeral {
        /// Index of the piece in the layout.
        piece: usize,
        /// The place along the piece.
        x: Length,
        /// One of what is counted.
        unit: Length,
    },
    /// A text that ends with what a tape reads at `x` of a piece.
    Reading {
        /// Index of the piece in the layout.
        piece: usize,
        /// The place along the piece.
        x: Length,
    },
    /// The name of a join: it stands between the two crosses of that join.
    Join {
        /// The numbers of the strips that it joins.
        strips: [usize; 2],
    },
    /// The letter of an end of a long check.
    Cross {
        /// The place of the cross on the sheet.
        at: Point<Sheet>,
    },
    /// A numeral of a scale bar: how far from the start of the bar it stands, in `unit`.
    Bar {
        /// Index of the bar on the sheet.
        bar: usize,
        /// The place along the bar.
        along: Length,
        /// One of what is counted.
        unit: Length,
    },
}

impl Item {
    /// The layer that it is drawn in.
    pub fn layer(&self) -> Layer {
        match self {
            Self::Stroke { layer, .. }
            | Self::TickRows { layer, .. }
            | Self::Fill { layer, .. } => *layer,
            Self::Text { .. } => Layer::Text,
        }
    }
}

/// A row of equal ticks at equal distances, as on a ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct TickRow {
    /// The start of the first tick.
    pub from: Point<Sheet>,
    /// From the start of a tick to its end.
    pub tick: Vector<Sheet>,
    /// From tick to tick, square to `tick`.
    pub pitch: Vector<Sheet>,
    /// The number of ticks, at least one.
    pub count: i64,
}

impl TickRow {
    /// The start of tick `n`, counted from 0.
    pub fn base(&self, n: i64) -> Point<Sheet> {
        self.from + Vector::new(self.pitch.x * n, self.pitch.y * n)
    }

    /// The two ends of the first tick and of the last.
    pub fn corners(&self) -> [Point<Sheet>; 4] {
        let (first, last) = (self.base(0), self.base(self.count - 1));
        [first, first + self.tick, last, last + self.tick]
    }
}
