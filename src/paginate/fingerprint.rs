//! The fingerprint: a short name of a print. Equal drawings have equal fingerprints, and any
//! change gives another.

use super::Request;
use super::correction::Correction;
use super::plan::Plan;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Path, Point, Step, Strap};
use crate::layout::{Guide, GuideShape, Layout, NestedSize, Shape};
use crate::words::{Units, Wording};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// Adds a line to a string.
macro_rules! line {
    ($to:expr, $($what:tt)*) => {{
        // Writing to a string cannot fail.
        let _ = writeln!($to, $($what)*);
    }};
}

/// Computes eight hexadecimal characters, such as `7F3A-91C2`, from everything that is drawn.
pub(super) fn compute(request: &Request<'_>, plan: &Plan<'_>) -> String {
    hash(&describe(request, plan))
}

fn hash(text: &str) -> String {
    let [a, b, c, d, ..] = <[u8; 32]>::from(Sha256::digest(text.as_bytes()));
    format!("{a:02X}{b:02X}-{c:02X}{d:02X}")
}

/// The settings of a print: with the job and the paper they give it again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PrintSettings {
    /// The fingerprint of the pieces and the title, whatever they are printed on.
    pub job: String,
    /// What undoes the printer's error; `None` for a printer without error.
    pub printer: Option<Correction>,
    /// How words and numbers are written.
    pub wording: Wording,
    /// With what the joined strip will be measured.
    pub measuring: MeasurementUncertainty,
}

impl PrintSettings {
    pub(super) fn from_request(request: &Request<'_>) -> Self {
        let &Request { layout, heading, rows, correction, measuring, .. } = request;
        let mut job = format!("{:?} {:?}\n", heading.title, heading.wearer);
        describe_pieces(&mut job, layout, rows);
        let (printer, wording) = (correction.cloned(), heading.wording);
        Self { job: hash(&job), printer, wording, measuring }
    }

    /// The printer in words; empty for one without error.
    pub fn printer_words(&self) -> String {
        let Some(c) = &self.printer else { return String::new() };
        let (long, short, margin) = (c.long.by, c.short.by, c.margin);
        let fitted = if c.fitted { ", fitted" } else { "" };
        format!("{} (long ×{long}, short ×{short}, margin {margin}{fitted})", c.printer)
    }

    /// The options for words and numbers on paper.
    pub fn wording_words(&self) -> String {
        let Wording { language, units } = self.wording;
        let units = Units::NAMES.iter().find(|(_, u)| *u == units).map_or("", |(n, _)| n);
        format!("--language {} --units {units}", language.code())
    }

    /// The options for the ruler and the joins.
    pub fn ruler_words(&self) -> String {
        let MeasurementUncertainty { ruler, reading, join } = self.measuring;
        format!("--ruler-class {ruler:?} --resolution \"{reading}\" --join \"{join}\"")
    }
}

/// Describes everything that is drawn, one item a line, lengths in nanometres. Texts are
/// quoted, so that no text can pass for a line of another kind.
fn describe(request: &Request<'_>, plan: &Plan<'_>) -> String {
    let &Request { layout, heading, paper, rows, correction, measuring, .. } = request;
    let mut text = String::new();
    let to = &mut text;
    line!(to, "title {:?}\nwearer {:?}", heading.title, heading.wearer);
    line!(to, "serves {:?}", heading.serves);
    if !heading.note.is_empty() {
        line!(to, "note {:?}", heading.note);
    }
    let sizes = heading.sizes.words(Wording::default());
    if !sizes.is_empty() {
        line!(to, "stocked {sizes:?}");
    }
    line!(to, "paper {:?}", paper.name());
    // Only if not English and millimetres.
    if heading.wording != Wording::default() {
        let Wording { language, units } = heading.wording;
        line!(to, "worded {} {units:?}", language.code());
    }
    if let Some(c) = correction {
        line!(to, "printer {:?} {} {}", c.printer, c.long.by, c.short.by);
        let proven = (c.long.proven, c.short.proven);
        line!(to, "proven {} {}", proven.0, proven.1);
        line!(to, "margin {} fitted {}", c.margin.nm(), c.fitted);
    }
    // Only if not the usual ruler.
    if measuring != MeasurementUncertainty::default() {
        let (reading, join) = (measuring.reading.nm(), measuring.join.nm());
        line!(to, "measured {:?} {reading} {join}", measuring.ruler);
    }
    describe_pieces(to, layout, rows);
    for (piece, x) in &plan.joins {
        line!(to, "join {piece} {}", x.nm());
    }
    for (piece, y) in &plan.lengthwise_joins {
        line!(to, "join across {piece} {}", y.nm());
    }
    for (number, sheet) in plan.sheets.iter().enumerate() {
        for tile in &sheet.tiles {
            let at = tile.at(Length::ZERO, Length::ZERO);
            let (x, y) = (at.x.nm(), at.y.nm());
            line!(to, "lane {number} {} {x} {y}", tile.span.index);
        }
    }
    text
}

/// Describes the pieces, whatever they are printed on.
fn describe_pieces(to: &mut String, layout: &Layout, rows: &[NestedSize]) {
    for row in rows {
        let tags = row.holes.iter().map(|(_, tag)| tag.as_str());
        let tags = tags.collect::<Vec<_>>();
        let own = row.size_hole.map(Length::nm);
        line!(to, "row {:?} {tags:?} {own:?}", row.size);
    }
    for piece in &layout.pieces {
        let width = piece.width.nm();
        line!(to, "piece {:?} {width} {}", piece.key(), ends(piece.extent));
        if let Some(bend) = piece.bend {
            let (bar, thickness) = (bend.bar.nm(), bend.thickness.nm());
            let take_up = bend.take_up.nm();
            line!(to, "bend {bar} {thickness} {take_up}");
        }
        describe_path(to, &piece.outline);
        for there in &piece.on_blank {
            line!(to, "on blank {}", ends(*there));
        }
        for mark in &piece.marks {
            let form = match mark.shape {
                Shape::Round { diameter } => format!("round {}", diameter.nm()),
                Shape::Slot { length, width } => {
                    format!("slot {} {}", length.nm(), width.nm())
                }
                Shape::Across => "across".to_owned(),
                Shape::Point => "point".to_owned(),
            };
            let (kind, at) = (mark.kind.word(), point(mark.at));
            let label = layout.label(mark, Wording::default());
            line!(to, "mark {kind} {form} {at} {label:?}");
        }
        for guide in &piece.guides {
            describe_guide(to, guide);
        }
    }
}

fn describe_guide(to: &mut String, guide: &Guide) {
    match &guide.shape {
        GuideShape::Crease(path) => {
            line!(to, "crease, closed {}", path.closed);
            describe_path(to, path);
        }
        GuideShape::Box { at, length, width, text } => {
            let (at, length, width) = (point(*at), length.nm(), width.nm());
            line!(to, "box {at} {length} {width} {:?}", text.as_str());
        }
        GuideShape::Words { at, size, text } => {
            let (at, size) = (point(*at), size.nm());
            line!(to, "words {at} {size} {text:?}");
        }
    }
}

fn describe_path(to: &mut String, path: &Path<Strap>) {
    line!(to, "from {}", point(path.start));
    for step in &path.steps {
        match *step {
            Step::Line { to: end } => line!(to, "line {}", point(end)),
            Step::Arc { to: end, centre, clockwise } => {
                let way = if clockwise { "cw" } else { "ccw" };
                let (end, centre) = (point(end), point(centre));
                line!(to, "arc {way} {end} {centre}");
            }
        }
    }
}

fn ends(e: Extent) -> String {
    format!("{} {}", e.from.nm(), e.to.nm())
}

fn point(p: Point<Strap>) -> String {
    format!("{} {}", p.x.nm(), p.y.nm())
}
