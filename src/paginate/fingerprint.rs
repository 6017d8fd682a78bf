//! The short name of a print: the same drawing has the same one, any change another.

use super::Request;
use super::lanes::Plan;
use crate::fit::MeasurementUncertainty;
use crate::geom::{Length, Path, Point, Step, Strap};
use crate::layout::{Guide, Layout, NestedSize, Shape};
use crate::words::{Units, Wording};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// Eight hexadecimal characters, `7F3A-91C2`, of everything that is drawn.
pub(super) fn of(request: &Request<'_>, plan: &Plan) -> String {
    short(&canonical(request, plan))
}

fn short(text: &str) -> String {
    let hash = Sha256::digest(text.as_bytes());
    let mut name = String::with_capacity(9);
    for (i, byte) in hash.iter().take(4).enumerate() {
        let dash = if i == 2 { "-" } else { "" };
        write(&mut name, format_args!("{dash}{byte:02X}"));
    }
    name
}

/// What a print was drawn with, in words for people; the same words, the same terms.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PrintSettings {
    /// A short name of what the job asks for, whatever it is printed on.
    pub job: String,
    /// The printer and what undoes its error; empty for one that is taken to be true.
    pub printer: String,
    /// The options that say how words and numbers are written.
    pub wording: String,
    /// The options that say with what the bench measures.
    pub ruler: String,
}

impl PrintSettings {
    pub(super) fn of(request: &Request<'_>) -> Self {
        let &Request { layout, heading, rows, correction, measuring, .. } = request;
        let mut job = format!("{:?} {:?}\n", heading.title, heading.wearer);
        pieces(&mut job, layout, rows);
        let Wording { language, units } = heading.wording;
        let units = Units::NAMES.iter().find(|(_, u)| *u == units).map_or("", |(n, _)| n);
        let MeasurementUncertainty { ruler, reading, join } = measuring;
        let printer = correction.map(|c| {
            let (long, short, margin) = (c.long.by, c.short.by, c.margin);
            let fitted = if c.fitted { ", fitted" } else { "" };
            format!(
                "{} (long ×{long}, short ×{short}, margin {margin}{fitted})",
                c.printer
            )
        });
        Self {
            job: short(&job),
            printer: printer.unwrap_or_default(),
            wording: format!("--language {} --units {units}", language.code()),
            ruler: format!(
                "--ruler-class {ruler:?} --resolution \"{reading}\" --join \"{join}\""
            ),
        }
    }
}

/// Every drawn thing on a line of its own, lengths in nanometres. Texts are quoted, so
/// that no text can pass for a line of another kind.
fn canonical(request: &Request<'_>, plan: &Plan) -> String {
    let &Request { layout, heading, paper, rows, correction, measuring, .. } = request;
    let mut text = String::new();
    let to = &mut text;
    write(to, format_args!("title {:?}\nwearer {:?}\n", heading.title, heading.wearer));
    write(to, format_args!("serves {:?}\n", heading.serves));
    let sizes = heading.stocked.words(Wording::default());
    if !sizes.is_empty() {
        write(to, format_args!("stocked {sizes:?}\n"));
    }
    write(to, format_args!("paper {:?}\n", paper.name()));
    // English and millimetres go without saying.
    if heading.wording != Wording::default() {
        let Wording { language, units } = heading.wording;
        write(to, format_args!("worded {} {units:?}\n", language.code()));
    }
    if let Some(c) = correction {
        write(to, format_args!("printer {:?} {} {}\n", c.printer, c.long.by, c.short.by));
        let proven = (c.long.proven, c.short.proven);
        write(to, format_args!("proven {} {}\n", proven.0, proven.1));
        write(to, format_args!("margin {} fitted {}\n", c.margin.nm(), c.fitted));
    }
    // The usual ruler goes without saying.
    if measuring != MeasurementUncertainty::default() {
        let (reading, join) = (measuring.reading.nm(), measuring.join.nm());
        write(to, format_args!("measured {:?} {reading} {join}\n", measuring.ruler));
    }
    pieces(to, layout, rows);
    for (piece, x) in &plan.joins {
        write(to, format_args!("join {piece} {}\n", x.nm()));
    }
    for (piece, y) in &plan.across {
        write(to, format_args!("join across {piece} {}\n", y.nm()));
    }
    for (number, lanes) in plan.sheets.iter().enumerate() {
        for lane in lanes {
            let at = lane.at(Length::ZERO, Length::ZERO);
            let (x, y) = (at.x.nm(), at.y.nm());
            write(to, format_args!("lane {number} {} {x} {y}\n", lane.part.piece));
        }
    }
    text
}

/// Everything that is on the strap, whatever it is printed on.
fn pieces(to: &mut String, layout: &Layout, rows: &[NestedSize]) {
    for row in rows {
        let tags = row.holes.iter().map(|(_, tag)| tag.as_str());
        let tags = tags.collect::<Vec<_>>();
        write(to, format_args!("row {:?} {tags:?}\n", row.size));
    }
    for piece in &layout.pieces {
        let (from, end) = (piece.extent.from.nm(), piece.extent.to.nm());
        let width = piece.width.nm();
        write(to, format_args!("piece {:?} {width} {from} {end}\n", piece.key()));
        if let Some(bend) = piece.bend {
            let (bar, thickness) = (bend.bar.nm(), bend.thickness.nm());
            let take_up = bend.take_up.nm();
            write(to, format_args!("bend {bar} {thickness} {take_up}\n"));
        }
        outline(to, &piece.outline);
        for there in &piece.on_blank {
            let (from, end) = (there.from.nm(), there.to.nm());
            write(to, format_args!("on blank {from} {end}\n"));
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
            write(to, format_args!("mark {kind} {form} {at} {label:?}\n"));
        }
        for thing in &piece.guides {
            drawn(to, thing);
        }
    }
}

fn drawn(to: &mut String, thing: &Guide) {
    match thing {
        Guide::Crease(path) => {
            write(to, format_args!("crease, closed {}\n", path.closed));
            outline(to, path);
        }
        Guide::Box { at, length, width, text } => {
            let (at, length, width) = (point(*at), length.nm(), width.nm());
            let text = text.as_str();
            write(to, format_args!("box {at} {length} {width} {text:?}\n"));
        }
        Guide::Words { at, size, text } => {
            let (at, size) = (point(*at), size.nm());
            write(to, format_args!("words {at} {size} {text:?}\n"));
        }
    }
}

fn outline(to: &mut String, path: &Path<Strap>) {
    write(to, format_args!("from {}\n", point(path.start)));
    for step in &path.steps {
        match *step {
            Step::Line { to: end } => write(to, format_args!("line {}\n", point(end))),
            Step::Arc { to: end, centre, clockwise } => {
                let way = if clockwise { "cw" } else { "ccw" };
                let (end, centre) = (point(end), point(centre));
                write(to, format_args!("arc {way} {end} {centre}\n"));
            }
        }
    }
}

fn point(p: Point<Strap>) -> String {
    format!("{} {}", p.x.nm(), p.y.nm())
}

fn write(to: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = to.write_fmt(what);
}
