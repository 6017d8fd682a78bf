//! The sheet model: the sheets of a print, the tiles on them, and everything drawn on them, in
//! sheet coordinates at full scale. It knows no file format.

use super::checks::StripCheck;
use super::correction::{Correction, Factor};
use super::fingerprint::{PrintSettings, digest};
use super::gauge::Gauge;
use super::item::Item;
use super::page::Page;
use super::paper::Paper;
use crate::diagnostic::Finding;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Placement, Point, Sheet as OnSheet, Strap};
use crate::layout::{Mark, Shape};
use serde::{Deserialize, Serialize};

/// A registration cross of a join, on one of the two tiles that have it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cross {
    /// The two strips that it joins and which of the two crosses of that join it is: `1 + 2 a`
    /// is the upper one or, at a join along the strap, the left one, `1 + 2 b` the other.
    pub label: String,
    /// Its place on the strap.
    pub on_strap: Point<Strap>,
    /// Its place on the sheet.
    pub at: Point<OnSheet>,
}

/// A part of one piece that a sheet shows.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tile {
    /// Index of the piece in the layout.
    pub piece: usize,
    /// The stretch of the piece along x, overlaps included.
    pub stretch: Extent,
    /// The band of the piece along y, with the space for rulers beside the piece, or with the
    /// overlap where the piece is wider than a sheet.
    pub across: Extent,
    /// Where it lies on the sheet.
    pub placement: Placement,
    /// The crosses at its edges.
    #[serde(skip)]
    pub crosses: Vec<Cross>,
}

impl Tile {
    /// Whether the place lies on it.
    pub fn shows(&self, at: Point<Strap>) -> bool {
        self.stretch.has(at.x) && self.across.has(at.y)
    }

    /// Whether it shows all of `mark`. A line across the strap may go on in other bands.
    pub fn holds(&self, mark: &Mark) -> bool {
        shows_whole(self.stretch, self.across, mark)
    }
}

pub(super) fn shows_whole(stretch: Extent, across: Extent, mark: &Mark) -> bool {
    let is_line = mark.shape == Shape::Across;
    stretch.holds(mark.x_extent()) && (is_line || across.holds(mark.y_extent()))
}

/// A scale bar, to be measured with a ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct ScaleBar {
    /// One end.
    pub from: Point<OnSheet>,
    /// The other end, to the right of `from` or above it.
    pub to: Point<OnSheet>,
}

impl ScaleBar {
    /// The distance of its ends.
    pub fn length(&self) -> Length {
        (self.to - self.from).norm()
    }

    /// The readings at which a print is accepted.
    pub fn window(&self, measuring: MeasurementUncertainty) -> Extent {
        measuring.window(self.length(), 0)
    }
}

/// One sheet of paper.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sheet {
    /// From 1 along the strap; 0 for a page of the ticket.
    pub number: usize,
    /// Width of the page as it is read.
    pub width: Length,
    /// Height of the page as it is read.
    pub height: Length,
    /// The tiles on it.
    pub tiles: Vec<Tile>,
    /// The scale bars: along the width, then along the height.
    #[serde(skip)]
    pub bars: Vec<ScaleBar>,
    /// Everything drawn on it, in order.
    #[serde(skip)]
    pub items: Vec<Item>,
    /// How many of the first items are the header: texts and key plan, which are about the
    /// whole print.
    #[serde(skip)]
    pub head: usize,
    /// The beginning of a SHA-256 over all that a sheet shows but its header, and over the
    /// printer's factors. Sheets of two prints with one number and one digest are
    /// interchangeable. 0 for a page of the ticket and for a whole strap.
    pub digest: u64,
}

/// A sheet of an earlier print that this print uses again.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ReusedSheet {
    /// The fingerprint of the earlier print.
    pub print: String,
    /// The number of the sheet, the same in both prints.
    pub sheet: usize,
}

/// All sheets of one print. What is bare of it can be written to a file and read again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetSet {
    /// What is made.
    pub title: String,
    /// For whom; may be empty.
    #[serde(skip)]
    pub wearer: String,
    /// Short name of this print: eight characters in two groups of four.
    pub fingerprint: String,
    /// The settings of this print.
    pub settings: PrintSettings,
    /// The paper.
    pub paper: Paper,
    /// Label of the one stock size that this print is for; may be empty.
    pub size: String,
    /// The sheets of earlier prints that complete this one.
    pub reused: Vec<ReusedSheet>,
    /// The pages of the ticket, before the sheets; none without a ticket.
    #[serde(skip)]
    pub ticket: Vec<Sheet>,
    /// The sheets to print, in order.
    pub sheets: Vec<Sheet>,
    /// The sheets that are not printed again, bare.
    #[serde(skip)]
    pub left_out: Vec<Sheet>,
    /// The joins across the strap: piece and x of the match line, in order. The first is
    /// join 1.
    pub joins: Vec<(usize, Length)>,
    /// The joins along the strap, of pieces that are wider than a sheet: piece and y of the
    /// match line, in order. Their numbers follow those of `joins`.
    #[serde(skip)]
    pub lengthwise_joins: Vec<(usize, Length)>,
    /// What to measure on the joined pieces: one check for every piece with joins.
    #[serde(skip)]
    pub checks: Vec<StripCheck>,
    /// What a ruler finds on a true print; `None` where there is nothing to measure.
    pub gauge: Option<Gauge>,
    /// Marks and seams that lie in joins.
    #[serde(skip)]
    pub findings: Vec<Finding>,
}

impl Sheet {
    /// The sheet with the digest of what is on it; `correction` is the printer's.
    pub(super) fn with_digest(self, correction: Option<&Correction>) -> Self {
        let Self { width, height, tiles, bars, items, head, .. } = &self;
        let drawn = &items[*head..];
        let digest = digest(&(width, height, tiles, bars, drawn, correction));
        Self { digest, ..self }
    }

    /// Its size, its tiles and its digest, without anything drawn.
    #[must_use]
    pub fn bare(&self) -> Self {
        let bare = |t: &Tile| Tile { crosses: Vec::new(), ..*t };
        let tiles = self.tiles.iter().map(bare).collect();
        Self { tiles, bars: Vec::new(), items: Vec::new(), head: 0, ..*self }
    }
}

impl SheetSet {
    /// What a later print, a reading of it with a ruler and a file need of this one.
    #[must_use]
    pub fn bare(&self) -> Self {
        let mut sheets: Vec<Sheet> =
            self.sheets.iter().chain(&self.left_out).map(Sheet::bare).collect();
        sheets.sort_by_key(|s| s.number);
        Self {
            title: self.title.clone(),
            fingerprint: self.fingerprint.clone(),
            settings: self.settings.clone(),
            paper: self.paper.clone(),
            size: self.size.clone(),
            reused: self.reused.clone(),
            sheets,
            joins: self.joins.clone(),
            gauge: self.gauge.clone(),
            ..Self::default()
        }
    }

    /// The factors by which the exporter multiplies a page of the ticket or a sheet, along its
    /// width and its height. All that is drawn on it is at full scale.
    pub fn correction_on(&self, page: &Sheet) -> Option<[Factor; 2]> {
        let correction = self.settings.printer.as_ref()?;
        Some(correction.on(self.paper.form(), page.width, page.height))
    }

    /// The corner marks of a sheet at the lower left and at the upper right.
    pub fn corners_on(&self, sheet: &Sheet) -> [Point<OnSheet>; 2] {
        let correction = self.settings.printer.as_ref();
        let page = Page::new(sheet.width, sheet.height, self.paper.form(), correction);
        page.printable().corners()
    }

    /// Every page in the order of printing: the ticket, then the sheets.
    pub fn pages(&self) -> impl Iterator<Item = &Sheet> {
        self.ticket.iter().chain(&self.sheets)
    }

    /// Leaves out the sheets whose numbers are not among these.
    pub fn leave_out_all_but(&mut self, numbers: &[usize]) {
        let (stay, go): (Vec<Sheet>, Vec<Sheet>) = std::mem::take(&mut self.sheets)
            .into_iter()
            .partition(|s| numbers.contains(&s.number));
        self.sheets = stay;
        self.left_out.extend(go.iter().map(Sheet::bare));
    }
}
