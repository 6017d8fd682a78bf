//! The small drawing beside a field: where on the strap or the buckle it is read. A key of the
//! strap is moved by a millimetre, and what moves is shown on the strap itself.

use super::flat::window;
use super::say::say;
use super::strap::Strap;
use super::svg::{mm, number};
use crate::geom::{Extent, Length};
use crate::layout::{Layout, Mark, Piece};
use maud::{Markup, html};

/// Width and height.
const ROOM: [f64; 2] = [110.0, 72.0];

/// The drawing of a key.
pub(super) fn field(strap: &Strap<'_>, key: &str) -> Markup {
    let (table, name) = key.split_once('.').unwrap_or(("", key));
    let hardware = strap.value(&format!("{table}.hardware"));
    let is_buckle = table == "buckle" || hardware.as_deref() == Some("buckle");
    match name {
        "thickness" => return thickness(),
        "bar" if hardware.as_deref() == Some("ring") => return ring(),
        "bar" | "reach" | "frame" | "inside" | "tongue" if is_buckle => {
            return buckle(name);
        }
        _ if key == "measure.value" => {
            return choice(&strap.value("measure.taken").unwrap_or_default());
        }
        _ => {}
    }
    let laid = strap.laid().map(|(.., layout)| layout);
    let Some((before, after)) = laid.zip(strap.moved(key)) else { return html! {} };
    if *before == after {
        return html! { p .sketch.quiet { (say("moves no mark")) } };
    }
    let shown = apart(before, &after);
    shown.map_or_else(|| html! {}, |(piece, arrow)| on_strap(before, piece, &arrow))
}

/// A small drawing, silent: the label says it.
fn small(drawn: &Markup) -> Markup {
    html! {
        svg .sketch viewBox={ "0 0 " (ROOM[0]) " " (ROOM[1]) } width=(ROOM[0]) height=(ROOM[1])
            aria-hidden="true" { (drawn) }
    }
}

/// What a key changes on a piece.
enum Arrow {
    /// The width.
    Across,
    /// What lies between two places along it.
    Along(Extent),
}

/// What is apart in two layouts: the first piece that differs, and where.
fn apart<'a>(before: &'a Layout, after: &Layout) -> Option<(&'a Piece, Arrow)> {
    let pairs = || before.pieces.iter().zip(&after.pieces);
    if let Some((piece, _)) = pairs().find(|(a, b)| a.width != b.width) {
        return Some((piece, Arrow::Across));
    }
    let (piece, other) =
        pairs().find(|(a, b)| a.outline != b.outline || a.marks != b.marks)?;
    let same = |(a, b): &(&Mark, &Mark)| a.at == b.at;
    let moved: Vec<&Mark> = piece
        .marks
        .iter()
        .zip(&other.marks)
        .filter(|p| !same(p))
        .map(|(a, _)| a)
        .collect();
    let still = piece.marks.iter().zip(&other.marks).filter(same).map(|(a, _)| a.at.x);
    // What moves across the strap has no place along it to show.
    if moved.iter().all(|m| other.marks.iter().any(|o| o.at.x == m.at.x)) {
        return None;
    }
    let first = moved.iter().map(|m| m.at.x).min()?;
    let last = moved.iter().map(|m| m.at.x).max()?;
    // From the nearest place that stays, up to the first that moves.
    let (below, above): (Vec<_>, Vec<_>) = still.partition(|x| *x <= first);
    let along = match (below.into_iter().max(), above.into_iter().min()) {
        (Some(x), _) => Extent { from: x, to: first },
        (None, Some(x)) => Extent { from: last.min(x), to: x.max(last) },
        (None, None) => piece.extent,
    };
    let is_long = along.length() > Length::from_mm(1);
    Some((piece, Arrow::Along(if is_long { along } else { piece.extent })))
}

fn on_strap(layout: &Layout, piece: &Piece, arrow: &Arrow) -> Markup {
    let stretch = match arrow {
        Arrow::Across => {
            let to = piece.extent.to;
            Extent { from: (to - piece.width * 2).max(piece.extent.from), to }
        }
        Arrow::Along(along) => {
            let beside = (along.length() / 4).max(piece.width / 3);
            Extent {
                from: (along.from - beside).max(piece.extent.from),
                to: (along.to + beside).min(piece.extent.to),
            }
        }
    };
    let long = mm(stretch.length()).max(1.0);
    let scale = (ROOM[0] / long).min(44.0 / mm(piece.width).max(1.0));
    let (left, half) = ((ROOM[0] - long * scale) / 2.0, mm(piece.width) / 2.0 * scale);
    let x = |at: Length| number(mm(at - stretch.from) * scale + left);
    let line = match arrow {
        Arrow::Across => {
            let [top, end] = [30.0 - half, 30.0 + half].map(number);
            format!("M{} {top}V{end}", x(stretch.from + piece.width / 2))
        }
        Arrow::Along(Extent { from, to }) => {
            format!("M{} {}H{}", x(*from), number(36.0 + half), x(*to))
        }
    };
    let of_copies = layout.pieces.iter().filter(|p| p.copy.n == 1);
    let n = of_copies.take_while(|p| p.id != piece.id).count();
    small(&html! {
        (window(piece, &format!("piece-{n}"), stretch, [left, 28.5 - half], scale))
        path class="arrow" d=(line) marker-start="url(#head)" marker-end="url(#head)" {}
    })
}

/// The head of all arrows of a page.
pub(super) fn head() -> Markup {
    html! {
        svg .shapes aria-hidden="true" width="0" height="0" {
            marker id="head" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="5"
                markerHeight="5" orient="auto-start-reverse" {
                path class="tip" d="M0 0L10 5L0 10z" {}
            }
        }
    }
}

fn thickness() -> Markup {
    small(&html! {
        path class="leather" d="M8 30H102V42H8z" {}
        path class="arrow" d="M55 6V28" marker-end="url(#head)" {}
        path class="arrow" d="M55 66V44" marker-end="url(#head)" {}
    })
}

/// A ring, with the thickness of its wire.
fn ring() -> Markup {
    small(&html! {
        circle class="metal" cx="50" cy="36" r="24" {}
        path class="arrow" d="M58 36H70" marker-end="url(#head)" {}
        path class="arrow" d="M98 36H78" marker-end="url(#head)" {}
    })
}

/// A buckle, bar at the left, with the measure of that name.
fn buckle(name: &str) -> Markup {
    let line = match name {
        "bar" => "M30 36H40",
        "reach" => "M35 64H78",
        "frame" => "M35 64H82",
        "inside" => "M52 16V56",
        _ => "M60 30V42",
    };
    small(&html! {
        path class="metal" d="M35 12H78V60H35z" {}
        path class="tongue" d="M35 36H84" {}
        path class="guide" d="M35 8V70M80 8V70" {}
        path class="arrow" d=(line) marker-start="url(#head)" marker-end="url(#head)" {}
    })
}

/// The drawing of a way of measuring, or none.
pub(super) fn choice(word: &str) -> Markup {
    let from = match word {
        "bend-to-hole" => Some(30.0),
        "bar-to-hole" | "bar-to-tip" => Some(36.0),
        "frame-to-hole" => Some(12.0),
        _ => None,
    };
    let to = if word == "bar-to-tip" { 104.0 } else { 82.0 };
    html! {
        @if let Some(from) = from {
            svg .sketch viewBox="0 0 110 56" width="110" height="56" aria-hidden="true" {
                path class="metal" d="M12 6H40V38H12z" {}
                path class="leather" d="M30 12H92L104 22L92 32H30z" {}
                @for x in [70, 76, 82, 88] { circle class="hole" cx=(x) cy="22" r="1.8" {} }
                path class="guide" d={ "M" (from) " 4V50M" (to) " 4V50" } {}
                path class="arrow" d={ "M" (from) " 47H" (to) } marker-start="url(#head)"
                    marker-end="url(#head)" {}
                }
        } @else if word.starts_with("tape") {
            svg .sketch viewBox="0 0 110 56" width="110" height="56" aria-hidden="true" {
                ellipse class="tape" cx="55" cy="27" rx="42" ry="21" {}
                ellipse class="body" cx="55" cy="27" rx="38" ry="17" {}
                path class="leather" d="M47 43H63V53H47z" {}
            }
        }
    }
}
