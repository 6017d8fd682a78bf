//! The drawings of the strap view: each piece flat, the chosen mark's reading, the list of all
//! marks.

use super::strap::Strap;
use super::{fields, flat, made_up};
use crate::diagnostic::counted;
use crate::geom::Length;
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece, Shape};
use crate::words::{Units, Wording};
use maud::{Markup, html};

/// Each piece flat, with the mark that was chosen and the list of all marks.
pub(super) fn drawings(strap: &Strap<'_>) -> Markup {
    let Some(laid) = strap.laid() else {
        return html! {
            section #drawing .panel data-live {
                h2 { "No drawing yet" }
                p { "It is drawn as soon as every length can be read." }
            }
            section #made data-live {}
        };
    };
    let (layout, wording) = (&laid.2, strap.wording);
    let pieces: Vec<&Piece> = layout.pieces.iter().filter(|p| p.copy.n == 1).collect();
    let all: Vec<Vec<flat::Named<'_>>> =
        pieces.iter().map(|piece| flat::named(layout, piece, wording)).collect();
    let wanted = strap.address.get("mark");
    let is_wanted = |n: &&flat::Named<'_>| wanted == Some(n.id.as_str());
    let everything = || all.iter().flatten();
    let chosen = everything()
        .find(is_wanted)
        .or_else(|| everything().find(|n| n.mark.role.is_size()))
        .or_else(|| everything().find(|n| n.mark.is_punched()))
        .map_or("", |n| n.id.as_str());
    let link = |id: &str| strap.address.with("mark", id).link("") + "#drawing";
    let zoom: u32 =
        strap.address.get("zoom").and_then(|z| z.parse().ok()).unwrap_or(0).min(4);
    let zoom_link = |to: u32| {
        let to = if to == 0 { String::new() } else { to.to_string() };
        strap.address.with("zoom", &to).link("") + "#drawing"
    };
    html! {
        section #drawing .panel data-live {
            div .head {
                h2 { "Flat, true proportion, grain side up" }
                div .row {
                    @if zoom > 0 { a .button href=(zoom_link(zoom - 1)) aria-label="Smaller" { "−" } }
                    @if zoom < 4 { a .button href=(zoom_link(zoom + 1)) aria-label="Larger" { "+" } }
                }
            }
            svg .shapes aria-hidden="true" width="0" height="0" {
                defs {
                    @for (n, piece) in pieces.iter().enumerate() {
                        (flat::shape(piece, &format!("piece-{n}")))
                    }
                }
            }
            @for (n, (piece, named)) in pieces.iter().zip(&all).enumerate() {
                @if pieces.len() > 1 { h3 { (fields::capital(&piece.name.to_string()))
                    @if piece.copy.of > 1 { ", " (piece.copy.of) " of them" } } }
                @let shape = format!("piece-{n}");
                @if zoom > 0 {
                    div .pan tabindex="0" role="region" aria-label={ "Enlarged, to be scrolled sideways: " (piece.name) } {
                        (flat::zoomed(piece, &shape, named, chosen, &link, f64::from(zoom) * 1.5))
                    }
                } @else {
                    (flat::flat(piece, &shape, named, chosen, &link))
                }
                @if let Some(at) = named.iter().position(|n| n.id == chosen) {
                    (reading(layout, piece, named, at, &link, wording))
                }
            }
            (marks(layout, &pieces, &all, chosen, &link, wording))
        }
        (made_up::view(laid, &pieces, wording))
    }
}

/// What the tape reads at the chosen mark, and what is done there.
fn reading(
    layout: &Layout,
    piece: &Piece,
    named: &[flat::Named<'_>],
    at: usize,
    link: &dyn Fn(&str) -> String,
    wording: Wording,
) -> Markup {
    let mark = named[at].mark;
    let reading = wording.length(piece.from_bend(mark.at.x), 1);
    let hook = if piece.bend.is_some() {
        "Hook the tape on the outside of the bend."
    } else {
        "From the start of the piece."
    };
    let side = if piece.bend.is_some() && mark.at.x < Length::ZERO {
        " On the end that is folded back."
    } else {
        ""
    };
    html! {
        div .reading role="status" {
            div {
                h3 { (called(layout, mark, wording)) }
                p { (deed_at(mark, wording)) }
                p .quiet { (hook) (side) }
            }
            p .big { (reading) }
            p .row {
                @if at > 0 { a .button href=(link(&named[at - 1].id)) { "‹ Before" } }
                @if let Some(next) = named.get(at + 1) { a .button href=(link(&next.id)) { "Next ›" } }
            }
        }
    }
}

/// A mark in words: `Hole 3, the size hole`.
fn called(layout: &Layout, mark: &Mark, wording: Wording) -> String {
    if let MarkRole::SizeHole { n, is_size } = mark.role {
        let size = if is_size { ", the size hole" } else { "" };
        return format!("Hole {n}{size}");
    }
    let feature = fields::words(layout.feature(mark).as_str());
    let label = layout.label(mark, wording);
    if label.is_empty() || label.eq_ignore_ascii_case(&feature) {
        feature
    } else {
        format!("{feature}, {label}")
    }
}

/// What is done at a mark: `punch Ø 4.8 mm`.
fn deed_at(mark: &Mark, wording: Wording) -> String {
    let deed = match mark.kind {
        MarkKind::End => "cut the end here",
        MarkKind::Tip => "the point of the tip",
        MarkKind::Bend => "fold here",
        MarkKind::Slit => "slit with a knife",
        MarkKind::Target => "the blank has this already; punch nothing",
        _ => "punch",
    };
    match mark.shape {
        Shape::Round { diameter } => format!("{deed} Ø {}", wording.size(diameter)),
        Shape::Slot { length, width } => {
            format!("{deed} {}", wording.oblong(length, width))
        }
        Shape::Across | Shape::Point => deed.to_owned(),
    }
}

fn marks(
    layout: &Layout,
    pieces: &[&Piece],
    all: &[Vec<flat::Named<'_>>],
    chosen: &str,
    link: &dyn Fn(&str) -> String,
    wording: Wording,
) -> Markup {
    let unit = if wording.units == Units::Inches { "in" } else { "mm" };
    let count: usize = all.iter().map(Vec::len).sum();
    html! {
        details .fold #marks {
            summary { "All " (counted(count, "mark")) " as a list" }
            @for (piece, named) in pieces.iter().zip(all) {
                table {
                    caption { (fields::capital(&piece.name.to_string())) }
                    thead { tr { th scope="col" { "mark" } th scope="col" { "tape, " (unit) }
                        th scope="col" { "across, " (unit) } th scope="col" { "what to do" } } }
                    tbody {
                        @for n in named {
                            tr .on[n.id == chosen] {
                                th scope="row" { a href=(link(&n.id)) { (called(layout, n.mark, wording)) } }
                                td .number { (n.reading) }
                                td .number { (wording.reading(n.mark.at.y)) }
                                td { (deed_at(n.mark, wording)) }
                            }
                        }
                    }
                }
            }
        }
    }
}
