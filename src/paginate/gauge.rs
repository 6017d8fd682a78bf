//! What a ruler finds on a true print, and what its readings are to prove.

use super::page::Page;
use super::plan::Plan;
use super::{
    Paper, PaperForm, PrintedSizes, Request, ScaleBar, Sheet, StripCheck, annotations,
    checks,
};
use crate::fit::JoinCounts;
use crate::geom::Length;
use crate::layout::Piece;
use crate::words::Units;
use serde::{Deserialize, Serialize};

/// What a ruler finds on a true print. A file carries it, so that readings of the print can
/// be judged without its job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Gauge {
    /// Width and height of the first page.
    pub page: [Length; 2],
    /// The bars along its width and its height, alike on all sheets that lie as it does.
    pub bars: [Length; 2],
    /// What these are called.
    pub names: [String; 2],
    /// Width and height between the corner marks.
    pub frame: [Length; 2],
    /// The long check of the first joined piece.
    pub strip: Option<GaugeStrip>,
    /// What the readings are to prove; `None` for sheets of several sizes.
    pub last: Option<LastMark>,
}

/// A long check: what a tape reads from one cross to the other.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct GaugeStrip {
    /// Its two ends: `A` and `B`.
    pub labels: [String; 2],
    /// The distance of the crosses.
    pub length: Length,
    /// The number of joins between the crosses.
    pub joins: usize,
    /// Whether it lies along the width of the first page.
    pub is_wide: bool,
}

/// The mark that is farthest from the start of its piece, on the piece where that is farthest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LastMark {
    /// From the bend, or from the start of a piece without one, to the mark.
    pub way: Length,
    /// The joins on the way and on the long check.
    pub joins: JoinCounts,
    /// Whether the way lies along the width of the first page.
    pub is_wide: bool,
}

impl Gauge {
    /// The bars along width and height of an uncorrected sheet of `paper`, both ways round, of
    /// whole millimetres and of whole inches.
    pub fn bars_on(paper: &Paper) -> Vec<[Length; 2]> {
        let form = paper.form();
        let PaperForm::Sheet { short, long } = form else { return Vec::new() };
        let pages = [[long, short], [short, long]];
        let bars = |[width, height]: [Length; 2]| {
            let page = Page::new(width, height, form, None);
            [Units::Millimetres, Units::Inches]
                .map(|units| annotations::bar_lengths(page, units))
        };
        pages.into_iter().flat_map(bars).collect()
    }

    /// Whether a print can have it.
    pub fn is_sane(&self) -> bool {
        let Self { page, bars, frame, strip, last, .. } = self;
        let lengths = page.iter().chain(bars).chain(frame);
        let lengths = lengths.chain(strip.iter().map(|s| &s.length));
        let mut lengths = lengths.chain(last.iter().map(|l| &l.way));
        lengths.all(|length| *length > Length::ZERO)
    }

    pub(super) fn new(
        request: &Request<'_>,
        plan: &Plan<'_>,
        checks: &[StripCheck],
        sheet: &Sheet,
    ) -> Option<Self> {
        let &[wide, tall] = sheet.bars.as_slice() else { return None };
        let is_common = matches!(request.heading.sizes, PrintedSizes::Common(_));
        let frame = Page::printable(plan.sheets.first()?.page);
        // Sheets that lie otherwise have bars of their own.
        let is_mixed = plan.sheets.iter().any(|other| !other.page.is_of(sheet));
        let of =
            if is_mixed { format!(" of sheet {}", sheet.number) } else { String::new() };
        let check = checks.first().filter(|_| !is_common);
        let gauge = Self {
            page: [sheet.width, sheet.height],
            bars: [wide, tall].map(|bar: ScaleBar| bar.length()),
            names: ["width", "height"].map(|side| format!("bar along the {side}{of}")),
            frame: [frame.x.length(), frame.y.length()],
            strip: check.map(|check| GaugeStrip {
                labels: check.labels.clone(),
                length: check.length,
                joins: check.joins,
                is_wide: is_wide(plan, check.piece),
            }),
            last: last_mark(&request.layout.pieces, plan, check).filter(|_| !is_common),
        };
        Some(gauge).filter(Self::is_sane)
    }
}

fn last_mark(
    pieces: &[Piece],
    plan: &Plan<'_>,
    check: Option<&StripCheck>,
) -> Option<LastMark> {
    let ways = pieces.iter().enumerate().filter_map(|(piece, drawn)| {
        let way = checks::way_to_last(drawn)?;
        let lines = plan.joins.iter().filter(|(own, _)| *own == piece);
        let joins = lines.filter(|(_, x)| way.from < *x && *x < way.to).count();
        let on_check = check.map_or(0, |check| check.joins);
        let both = if check.is_some_and(|c| c.piece == piece) { joins } else { 0 };
        let joins = JoinCounts {
            both,
            length_only: on_check - both,
            distance_only: joins - both,
        };
        Some(LastMark { way: way.length(), joins, is_wide: is_wide(plan, piece) })
    });
    ways.max_by_key(|last| last.way)
}

/// Whether a piece lies along the width of the first page.
fn is_wide(plan: &Plan<'_>, piece: usize) -> bool {
    let size = |page: Page| (page.width, page.height);
    plan.page_of(piece).map(size) == plan.sheets.first().map(|sheet| size(sheet.page))
}
