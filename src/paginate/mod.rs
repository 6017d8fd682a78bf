//! From the layout to the sheets: tiles, joins, and everything that is drawn on them.

mod annotations;
mod area;
mod arrange;
mod canvas;
mod checks;
mod compare;
mod correction;
mod error;
mod fingerprint;
mod gauge;
mod item;
mod join_findings;
mod joins;
mod lane;
mod pack;
mod page;
mod paper;
mod plan;
mod request;
pub(crate) mod rule;
mod run;
mod sheet;
#[cfg(test)]
mod tests;
mod ticket;
mod tiling;
mod whole;
mod whole_strap;
#[cfg(test)]
mod wide_tests;
mod wrap;

pub use checks::{LastHole, StripCheck};
pub use compare::{SheetDiff, SizeGroup, compare_sheets, group_sizes};
pub use correction::{Correction, Factor};
pub use error::PaginateError;
pub use fingerprint::PrintSettings;
pub use gauge::{Gauge, GaugeStrip, LastMark};
pub use item::{Anchor, Claim, Item, Layer, Pen, TickRow, Tone, bold_stroke};
pub use paper::{MARGIN, Paper, PaperForm};
pub use request::{Heading, PrintedSizes, Request};
pub use rule::RULES;
pub use sheet::{Cross, ReusedSheet, ScaleBar, Sheet, SheetSet, Tile};
pub use whole_strap::whole_strap;

use plan::{PlacedTile, Plan};

/// What the pages of one print are drawn from.
#[derive(Debug)]
struct Print<'a> {
    request: &'a Request<'a>,
    fingerprint: String,
    checks: Vec<StripCheck>,
    plan: Plan<'a>,
}

impl Print<'_> {
    /// The long check of the piece of a tile.
    fn check_of(&self, tile: &PlacedTile<'_>) -> Option<&StripCheck> {
        self.checks.iter().find(|c| c.piece == tile.span.index)
    }
}

/// Lays pieces on sheets of paper at full scale.
///
/// Sheets are numbered along the strap and fill from the top. They all lie alike, unless others
/// keep a mark whole or save a sheet: the strap along the other side of the page, its head
/// turned, or some pieces on wide sheets and the others on tall ones.
/// Every mark is whole on some sheet. Joins keep clear of marks wherever possible: another
/// join or another sheet is better than a mark in a join. Then come the fewest sheets, the
/// fewest joins, and tiles of even length.
///
/// # Errors
/// When the paper is too small for a mark or a join, or the pieces are too long for it.
///
/// ```
/// use strapwright::paginate::{Heading, Paper, Request, paginate};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (job, fit, layout) = laid.expect("no mistakes");
/// let heading = Heading::new(&job, fit.as_ref(), &layout);
/// let paper = Paper::parse("a4")?;
/// let set = paginate(&Request::new(&layout, &heading, &paper))?;
/// let tiles: usize = set.sheets.iter().map(|sheet| sheet.tiles.len()).sum();
/// assert_eq!(tiles, set.joins.len() + layout.pieces.len());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn paginate(request: &Request<'_>) -> Result<SheetSet, PaginateError> {
    let &Request { layout, heading, paper, .. } = request;
    let plan = plan::make_plan(request)?;
    let print = Print {
        request,
        fingerprint: fingerprint::compute(request, &plan),
        checks: checks::compute(request, &plan),
        plan,
    };
    let ticket = request.ticket.map(|ticket| ticket::draw(&print, ticket));
    let sheets = 0..print.plan.sheets.len();
    let sheets: Vec<Sheet> = sheets.map(|i| annotations::draw_sheet(&print, i)).collect();
    let gauge = sheets
        .first()
        .and_then(|first| Gauge::new(request, &print.plan, &print.checks, first));
    Ok(SheetSet {
        title: heading.title.clone(),
        wearer: heading.wearer.clone(),
        settings: PrintSettings::from_request(request),
        paper: paper.clone(),
        size: heading.sizes.one().to_owned(),
        reused: heading.reused.clone(),
        ticket: ticket.unwrap_or_default(),
        sheets,
        gauge,
        left_out: Vec::new(),
        findings: join_findings::find(layout, &print.plan),
        fingerprint: print.fingerprint,
        joins: print.plan.joins,
        lengthwise_joins: print.plan.lengthwise_joins,
        checks: print.checks,
    })
}
