//! The drawings of the strap view: each piece flat, the chosen mark's reading, the list of all
//! marks.

use super::say::{count, say, say_with};
use super::strap::Strap;
use super::{fields, flat, made_up};
use crate::geom::Length;
use crate::layout::{Layout, MarkKind, Piece};
use crate::ticket::entry;
use crate::words::{Units, Wording};
use maud::{Markup, html};

/// Each piece flat, with the mark that was chosen and the list of all marks.
pub(super) fn drawings(strap: &Strap<'_>) -> Markup {
    let Some(laid) = strap.laid() else {
        return html! {
            section #drawing .panel data-live {
                h2 { (say("No drawing yet")) }
                p { (say("It is drawn as soon as every length can be read.")) }
            }
            section #made data-live {}
        };
    };
    let (layout, wording) = (&laid.2, strap.wording);
    let pieces: Vec<&Piece> = layout.pieces.iter().filter(|p| p.copy.n == 1).collect();
    let mut all: Vec<Vec<flat::Named<'_>>> =
        pieces.iter().map(|piece| flat::named(layout, piece, strap)).collect();
    let wanted = strap.address.get("mark");
    // The one that was asked for, else the size hole, else the first that is punched.
    let rank = |n: &&mut flat::Named<'_>| match n.mark {
        _ if wanted == Some(n.id.as_str()) => 0,
        mark if mark.role.is_size() => 1,
        mark if mark.is_punched() => 2,
        _ => 3,
    };
    if let Some(chosen) = all.iter_mut().flatten().min_by_key(rank) {
        chosen.is_chosen = true;
    }
    let zoom: u32 =
        strap.address.get("zoom").and_then(|z| z.parse().ok()).unwrap_or(0).min(4);
    let zoom_link = |to: u32| {
        let to = if to == 0 { String::new() } else { to.to_string() };
        flat::link(&strap.address.with("zoom", &to))
    };
    html! {
        section #drawing .panel data-live {
            div .head {
                h2 { (say("Flat, true proportion, grain side up")) }
                div .row {
                    @if zoom > 0 { a .button href=(zoom_link(zoom - 1)) aria-label=(say("Smaller")) { "−" } }
                    @if zoom < 4 { a .button href=(zoom_link(zoom + 1)) aria-label=(say("Larger")) { "+" } }
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
                @if pieces.len() > 1 { h3 { (fields::capital(wording.name(&piece.name)))
                    @if piece.copy.of > 1 { " × " (piece.copy.of) } } }
                @let shape = format!("piece-{n}");
                @if zoom > 0 {
                    div .pan tabindex="0" role="region" aria-label=(say_with("Enlarged, to be scrolled sideways: { $piece }", &[("piece", &wording.name(&piece.name))])) {
                        (flat::zoomed(piece, &shape, named, f64::from(zoom) * 1.5))
                    }
                } @else {
                    (flat::flat(piece, &shape, named, wording))
                }
                @if let Some(at) = named.iter().position(|n| n.is_chosen) {
                    (reading(layout, piece, named, at, wording))
                }
            }
            (marks(layout, &pieces, &all, wording))
        }
        (made_up::view(laid, &pieces, wording))
    }
}

/// What the tape reads at the chosen mark, and what is punched there.
fn reading(
    layout: &Layout,
    piece: &Piece,
    named: &[flat::Named<'_>],
    at: usize,
    wording: Wording,
) -> Markup {
    let mark = named[at].mark;
    let [name, _, form, _] = entry(layout, piece, mark, wording);
    let hook = if piece.bend.is_some() {
        say("Hook the tape on the outside of the bend.")
    } else {
        say("From the start of the piece.")
    };
    let is_folded = piece.bend.is_some() && mark.at.x < Length::ZERO;
    html! {
        div .reading role="status" {
            div {
                h3 { (fields::capital(&name)) }
                @match mark.kind {
                    MarkKind::Target => p { (say_with("on the blank already, { $form }: punch nothing", &[("form", &form)])) },
                    MarkKind::End => p { (say("cut the end here")) },
                    MarkKind::Bend => p { (say("fold here")) },
                    MarkKind::Slit => p { (say_with("slit with a knife, { $form }", &[("form", &form)])) },
                    _ if mark.is_punched() => p { (say_with("punch { $form }", &[("form", &form)])) },
                    _ => {}
                }
                p .quiet { (hook) @if is_folded { " " (say("On the end that is folded back.")) } }
            }
            p .big { (wording.length(piece.from_bend(mark.at.x), 1)) }
            p .row {
                @if at > 0 { a .button href=(named[at - 1].link) { "‹ " (say("Before")) } }
                @if let Some(next) = named.get(at + 1) { a .button href=(next.link) { (say("Next")) " ›" } }
            }
        }
    }
}

fn marks(
    layout: &Layout,
    pieces: &[&Piece],
    all: &[Vec<flat::Named<'_>>],
    wording: Wording,
) -> Markup {
    // Inches stand in the cells.
    let tape = if wording.units == Units::Inches { say("tape") } else { say("tape, mm") };
    let heads = [say("mark"), tape, say("form"), say("across")];
    let number: usize = all.iter().map(Vec::len).sum();
    html! {
        details .fold #marks {
            summary { (count(number, "{ $count } mark as a list", "All { $count } marks as a list")) }
            @for (piece, named) in pieces.iter().zip(all).filter(|(_, named)| !named.is_empty()) {
                table {
                    caption { (fields::capital(wording.name(&piece.name))) }
                    thead { tr { @for (n, head) in heads.iter().enumerate() {
                        th scope="col" .number[n > 0] { (head) } } } }
                    tbody {
                        @for n in named {
                            @let [name, rest @ ..] = entry(layout, piece, n.mark, wording);
                            tr .on[n.is_chosen] {
                                th scope="row" { a href=(n.link) { (fields::capital(&name)) } }
                                @for cell in rest { td .number { (cell) } }
                            }
                        }
                    }
                }
            }
        }
    }
}
