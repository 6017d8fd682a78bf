//! What a sheet set is made of: sheets, the stretches of strap on them, and everything
//! drawn on them, in sheet coordinates at full scale.

use super::checks::StripCheck;
use super::correction::Scaling;
use super::fingerprint::PrintSettings;
use super::paper::Paper;
use crate::diagnostic::Finding;
use crate::fit::MeasurementUncertainty;
use crate::geom::{
    Extent, Length, Path, Placement, Point, QuarterTurn, Sheet as OnSheet, Strap, Vector,
};
use crate::layout::{Mark, Shape};

/// The layers of the file, which a reader can show and hide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// What the knife follows.
    Outline,
    /// What is punched, and the targets on a blank.
    Punch,
    /// Crosses, bars, rulers, match lines, centre and bend lines.
    Guides,
    /// Words and numbers.
    Text,
}

impl Layer {
    /// All of them, in drawing order.
    pub const ALL: [Self; 4] = [Self::Guides, Self::Outline, Self::Punch, Self::Text];
}

/// Line types by ISO 128: thick for what is cut, thin for the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pen {
    /// Continuous thick, 0.5 mm, black: visible outline.
    Outline,
    /// Continuous, 0.25 mm, black: punched holes and slots, crosses, scale bars.
    Punch,
    /// Continuous thin, 0.18 mm, black: rulers, match lines, hole crosses.
    Thin,
    /// Long-dashed dotted thin, 0.18 mm: centre lines.
    Centre,
    /// Dashed thin, 0.25 mm: folds.
    Fold,
    /// Dashed thin, 0.25 mm, grey: what the blank already has.
    Target,
    /// Continuous hairline, grey: key plan of what is on other sheets.
    Faint,
}

/// How dark an area or a text is. Black and grey only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tone {
    /// Black.
    Black,
    /// Mid grey, for what may recede.
    Grey,
    /// A light grey, for areas under lines.
    Light,
    /// Paper white.
    White,
}

/// Which point of a line of text `at` names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Anchor {
    /// Left end of the base line.
    Start,
    /// Middle of the base line.
    Middle,
    /// Right end of the base line.
    End,
}

/// One thing to draw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// Lines, all with one pen.
    Stroke {
        /// Its layer.
        layer: Layer,
        /// Its line type.
        pen: Pen,
        /// The lines.
        paths: Vec<Path<OnSheet>>,
    },
    /// Rows of strokes that are alike, all with one pen.
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
        paths: Vec<Path<OnSheet>>,
    },
    /// A line of text.
    Text {
        /// How dark.
        tone: Tone,
        /// Where, by `anchor`.
        at: Point<OnSheet>,
        /// Which point of the text `at` is.
        anchor: Anchor,
        /// How it is turned about `at`.
        turn: QuarterTurn,
        /// Size of the type, baseline to baseline.
        size: Length,
        /// The words.
        text: String,
    },
}

/// A row of straight strokes that are alike, at one distance from each other: ticks of a
/// ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TickRow {
    /// Where the first stroke begins.
    pub from: Point<OnSheet>,
    /// From the beginning of a stroke to its end.
    pub tick: Vector<OnSheet>,
    /// From stroke to stroke, square to `tick`.
    pub pitch: Vector<OnSheet>,
    /// How many strokes, at least one.
    pub count: i64,
}

impl TickRow {
    /// Where stroke `n` begins, counted from 0.
    pub fn base(&self, n: i64) -> Point<OnSheet> {
        self.from + Vector::new(self.pitch.x * n, self.pitch.y * n)
    }

    /// Beginning and end of the first stroke and of the last.
    pub fn corners(&self) -> [Point<OnSheet>; 4] {
        let (first, last) = (self.base(0), self.base(self.count - 1));
        [first, first + self.tick, last, last + self.tick]
    }
}

/// One of the crosses of a join, as it stands on one of the two tiles that have it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cross {
    /// Number of the join and a letter, `1a`: of a join across the strap `a` above and `b`
    /// below it. Where a piece is wider than a sheet, the bands below go on with `c` and
    /// `d` and so on; joins along the strap have numbers after all others, and their
    /// letters run from left to right.
    pub label: String,
    /// Where it is on the strap.
    pub on_strap: Point<Strap>,
    /// Where it is on the sheet.
    pub at: Point<OnSheet>,
}

/// A stretch of one piece, as it lies on one sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tile {
    /// Which piece of the layout.
    pub piece: usize,
    /// Which stretch of it is shown, along x, overlap included.
    pub stretch: Extent,
    /// Which band of it is shown, along y, with what lies beside the piece or the overlap:
    /// all of it, unless the piece is wider than a sheet.
    pub across: Extent,
    /// Where it lies.
    pub placement: Placement,
    /// The crosses at its ends.
    pub crosses: Vec<Cross>,
}

impl Tile {
    /// Whether all of `mark` is on it; of a line across the strap as much as the tile's band
    /// has.
    pub fn holds(&self, mark: &Mark) -> bool {
        holds(self.stretch, self.across, mark)
    }
}

pub(super) fn holds(stretch: Extent, across: Extent, mark: &Mark) -> bool {
    let is_line = mark.shape == Shape::Across;
    stretch.holds(mark.x_extent()) && (is_line || across.holds(mark.y_extent()))
}

/// A bar of known length to lay a ruler on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScaleBar {
    /// Its one end.
    pub from: Point<OnSheet>,
    /// Its other end, to the right of or above `from`.
    pub to: Point<OnSheet>,
}

impl ScaleBar {
    /// From its first tick to its last.
    pub fn length(&self) -> Length {
        (self.to - self.from).norm()
    }

    /// What may be read on it on a print that is accepted.
    pub fn window(&self, measuring: MeasurementUncertainty) -> Extent {
        measuring.window(self.length(), 0)
    }
}

/// One sheet of paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// From 1 along the strap; 0 for a page of the ticket.
    pub number: usize,
    /// Width of the page as it is read.
    pub width: Length,
    /// Height of the page as it is read.
    pub height: Length,
    /// The stretches of strap on it.
    pub tiles: Vec<Tile>,
    /// Its scale bars: along the width, then along the height.
    pub bars: Vec<ScaleBar>,
    /// Everything drawn on it, in order.
    pub items: Vec<Item>,
    /// How many of the items, the first ones, are its head: the words and the key plan, which
    /// are of the whole print. Two sheets serve alike when their sizes, tiles, bars and all
    /// other items are the same.
    pub head: usize,
}

/// A sheet that another print already has as this one needs it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kept {
    /// The name of that print.
    pub print: String,
    /// The number of the sheet, in that print and in this.
    pub sheet: usize,
}

/// All sheets of one print.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetSet {
    /// What is made.
    pub title: String,
    /// For whom; may be empty.
    pub wearer: String,
    /// Short name of this very print: eight characters, two groups of four.
    pub fingerprint: String,
    /// What it was drawn with.
    pub terms: PrintSettings,
    /// Name of the paper.
    pub paper: String,
    /// Label of the stock size that this is; may be empty.
    pub size: String,
    /// The sheets of other prints that complete this set.
    pub kept: Vec<Kept>,
    /// The pages of the ticket, before the sheets; none without a ticket.
    pub ticket: Vec<Sheet>,
    /// The sheets in order, those that are kept left out.
    pub sheets: Vec<Sheet>,
    /// The sheets that are kept, bare.
    pub left_out: Vec<Sheet>,
    /// The corner marks at the lower left and at the upper right, alike on all sheets.
    pub corners: [Point<OnSheet>; 2],
    /// Where the joins across the strap are, along x: piece and match line, in order. The
    /// first is join 1.
    pub joins: Vec<(usize, Length)>,
    /// Where the joins along the strap are, along y: piece and match line, in order, for
    /// pieces that are wider than a sheet. Their numbers follow those of `joins`.
    pub across: Vec<(usize, Length)>,
    /// What to measure on the joined pieces: one for every piece that has joins.
    pub checks: Vec<StripCheck>,
    /// What the exporter multiplies every distance on a page by; all else here is at full
    /// scale.
    pub correction: Option<Scaling>,
    /// What could not be kept out of the joins.
    pub findings: Vec<Finding>,
}

impl Sheet {
    /// Its paper and its tiles, without anything drawn.
    #[must_use]
    pub fn bare(&self) -> Self {
        let tiles = self.tiles.iter();
        Self {
            tiles: tiles.map(|t| Tile { crosses: Vec::new(), ..t.clone() }).collect(),
            bars: Vec::new(),
            items: Vec::new(),
            head: 0,
            ..*self
        }
    }
}

impl SheetSet {
    /// What a page of the set is multiplied by. The ticket stands upright, whichever way
    /// the strap's sheets lie.
    pub fn correction_on(&self, page: &Sheet) -> Option<Scaling> {
        let scaling = self.correction.as_ref()?;
        let form = Paper::parse(&self.paper).ok()?.form();
        let is_wide = |s: &Sheet| form.has_long_width(s.width, s.height);
        let turned = self.sheets.first().is_some_and(|s| is_wide(s) != is_wide(page));
        Some(if turned { scaling.turned() } else { scaling.clone() })
    }

    /// Every page in the order of printing: the ticket, then the sheets.
    pub fn pages(&self) -> impl Iterator<Item = &Sheet> {
        self.ticket.iter().chain(&self.sheets)
    }

    /// Leaves out the sheets whose number is not among these.
    pub fn leave_out_all_but(&mut self, numbers: &[usize]) {
        let (stay, go): (Vec<Sheet>, Vec<Sheet>) = std::mem::take(&mut self.sheets)
            .into_iter()
            .partition(|s| numbers.contains(&s.number));
        self.sheets = stay;
        self.left_out.extend(go.iter().map(Sheet::bare));
    }
}
