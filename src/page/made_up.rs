//! The strap made up: the buckle closed, from the front, and the loop from above. Both follow
//! from the assembly and the fit; numbers stand in words beneath.

use super::flat::window;
use super::say::{say, say_with};
use super::svg::{mm, number};
use crate::Laid;
use crate::assembly::Assembly;
use crate::geom::{Extent, Length};
use crate::job::{Body, Buckle, Form};
use crate::layout::{MarkRole, Piece};
use crate::ticket::girths;
use crate::words::{Word, Wording};
use maud::{Markup, html};

/// An ellipse of a body is so much narrower than wide (common practice, no source).
const ROUND: f64 = 0.8;
/// Width of the drawing of the loop.
const WIDE: f64 = 420.0;

/// What a strap is closed round.
fn round(body: Body) -> String {
    match body {
        Body::Waist => say("round the waist, closed on the size hole."),
        Body::Neck | Body::DogNeck => say("round the neck, closed on the size hole."),
        Body::Wrist => say("round the wrist, closed on the size hole."),
        Body::Forearm => say("round the forearm, closed on the size hole."),
        Body::Head => say("round the head, closed on the size hole."),
        Body::Thigh => say("round the thigh, closed on the size hole."),
    }
}

/// The panel; nothing for a strap that closes round nobody and serves no length.
pub(super) fn view(laid: &Laid, pieces: &[&Piece], wording: Wording) -> Markup {
    let (job, fit, layout) = laid;
    let [least, size, most] = girths(fit.as_ref(), layout);
    let served = layout.serves(job, fit.as_ref());
    let front = front(laid, pieces);
    let range = |least: Length, most: Length| {
        let [from, to] = [least, most].map(|length| wording.length(length, 1));
        if least == most {
            from
        } else {
            wording.fill(Word::FromTo, &[("from", &from), ("to", &to)])
        }
    };
    html! {
        @if let (Some(worn), Some(size)) = (&job.worn, size) {
            section #made .panel data-live {
                h2 { (say("Made up")) }
                div .pair {
                    @if let Some(front) = front {
                        div {
                            (front)
                            p .how { (say("From the front, closed on the size hole.")) }
                        }
                    }
                    div {
                        (around(laid, size))
                        p { strong { (wording.length(size, 1)) } " " (round(worn.measure.body)) }
                        @if let (Some(least), Some(most)) = (least, most) {
                            p .how {
                                (say_with("Its holes fit { $range }.",
                                    &[("range", &range(least, most))])) " "
                                (say("The loop is seen from above, front below."))
                            }
                        }
                    }
                }
            }
        } @else if let (Some(serves), Some((least, most))) = (&job.serves, served) {
            section #made .panel data-live {
                h2 { (say("Made up")) }
                p { (say(&serves.what.value)) ": " strong { (range(least, most)) } }
            }
        } @else {
            section #made data-live {}
        }
    }
}

/// The piece that folds round the buckle, which place of it the bar holds, and whether it goes
/// on toward larger x from there.
fn held<'a>(
    laid: &Laid,
    pieces: &[&'a Piece],
) -> Option<(usize, &'a Piece, Length, bool)> {
    let (job, _, layout) = laid;
    let buckle = job.worn.as_ref()?.buckle?;
    let assembly = Assembly::new(job, layout);
    let holds = |f| job.feature(f).kind.facts().holds == Some(buckle);
    let mut all =
        assembly.bodies.iter().flat_map(|b| b.flaps.iter().map(move |f| (b, f)));
    let (body, flap) = all.find(|(_, flap)| holds(flap.feature))?;
    let at = pieces.iter().position(|p| p.id == body.piece.id)?;
    Some((at, pieces[at], flap.axis, flap.leather.from < flap.axis))
}

/// The buckle closed: the end with the holes comes from the left through the frame, lies on
/// the tongue and goes on over the bar.
fn front(laid: &Laid, pieces: &[&Piece]) -> Option<Markup> {
    let (job, _, layout) = laid;
    let buckle = job.worn_buckle()?;
    let (at, held, bar, is_forward) = held(laid, pieces)?;
    let hole = layout.size_hole()?;
    let is_end = |p: &&Piece| p.marks.iter().any(|m| m.role.is_size());
    let end_at = pieces.iter().position(is_end)?;
    let end = pieces[end_at];
    let frame = buckle.frame.as_ref().map_or(buckle.reach.value, |f| f.value);
    let left = -(frame + Length::from_mm(20));
    let tip = end.extent.to - hole - buckle.reach.value;
    let right = (tip + Length::from_mm(12)).max(Length::from_mm(60));
    let half = held.width.max(end.width) / 2 + Length::from_mm(7);
    let (x, y) = (mm(left), -mm(half));
    let of_held = Extent { from: bar, to: (bar + right).min(held.extent.to) };
    let of_end = Extent {
        from: (hole + left + buckle.reach.value).max(end.extent.from),
        to: end.extent.to,
    };
    let end_x = mm(of_end.from - hole - buckle.reach.value);
    let row = |piece: &Piece| -mm(piece.width) / 2.0 - 1.5;
    Some(html! {
        svg .made viewBox={ (number(x)) " " (number(y)) " " (number(mm(right - left))) " "
            (number(2.0 * mm(half))) } role="img" aria-label=(say("The buckle closed, from the front")) {
            @if is_forward {
                (window(held, &format!("piece-{at}"), of_held, [0.0, row(held)], 1.0))
            } @else {
                g transform="scale(-1 1)" {
                    (window(held, &format!("piece-{at}"),
                        Extent { from: (bar - right).max(held.extent.from), to: bar },
                        [mm((bar - right).max(held.extent.from) - bar), row(held)], 1.0))
                }
            }
            (self::frame(buckle, frame, held, false))
            (window(end, &format!("piece-{end_at}"), of_end, [end_x, row(end)], 1.0))
            (self::frame(buckle, frame, held, true))
            path class="tongue-on"
                d={ "M" (number(-mm(buckle.reach.value))) " 0H" (number(-mm(frame) - 2.0)) } {}
            @if let Some((from, width)) = keeper(laid) {
                rect class="leather" x=(number(mm(from))) y=(number(-mm(end.width) / 2.0 - 2.5))
                    width=(number(mm(width))) height=(number(mm(end.width) + 5.0)) {}
            }
        }
    })
}

/// The frame of a buckle, its bar at zero; or only its far half, which lies on the strap.
fn frame(buckle: &Buckle, reach: Length, strap: &Piece, is_half: bool) -> Markup {
    let inside = buckle.inside.as_ref().map_or(strap.width, |inside| inside.value);
    let bar = mm(buckle.bar.value);
    let (y, far) = (f64::midpoint(mm(inside), bar), bar / 2.0 - mm(reach));
    let [y, near, far] = [y, if is_half { far / 2.0 } else { 0.0 }, far].map(number);
    let end = if is_half { "" } else { "z" };
    html! {
        path class="frame" stroke-width=(number(bar))
            d={ "M" (near) " -" (y) "H" (far) "V" (y) "H" (near) (end) } {}
    }
}

/// A keeper: where it begins, past the first fastener of the fold, and its width.
fn keeper((job, _, layout): &Laid) -> Option<(Length, Length)> {
    let is_keeper = |p: &&crate::job::PieceSpec| {
        matches!(p.form, Form::Keeper(_)) && p.count.value > 0
    };
    let width = job.pieces.iter().find(is_keeper)?.leather.width.value;
    let buckle = job.worn.as_ref()?.buckle?;
    let folds = |m: &&crate::layout::Mark| {
        job.feature(m.feature).kind.facts().holds == Some(buckle)
            && matches!(m.role, MarkRole::Fastener { .. })
            && m.at.x > Length::ZERO
    };
    let marks = layout.pieces.iter().flat_map(|p| &p.marks);
    let mut posts: Vec<Length> = marks.filter(folds).map(|m| m.at.x).collect();
    posts.sort();
    posts.dedup();
    let middle = match posts.as_slice() {
        [a, b, ..] => (*a + *b) / 2,
        _ => return None,
    };
    Some((middle - width / 2, width))
}

/// The loop from above: the body, the strap round it, and the end that lies on it.
fn around((job, _, layout): &Laid, girth: Length) -> Markup {
    let around = mm(girth);
    // Ramanujan's first approximation of the length of an ellipse, for half axes 1 and ROUND.
    let (sum, product) = (3.0 * (1.0 + ROUND), (3.0 + ROUND) * (1.0 + 3.0 * ROUND));
    let long = around / (std::f64::consts::PI * (sum - product.sqrt()));

    let size = layout.size_hole().unwrap_or_default();
    let end = layout.pieces.iter().find(|p| p.marks.iter().any(|m| m.role.is_size()));
    let thick = end.map_or(job.strap.thickness.value, |p| job.made_up_thickness(p.id));
    let thick = mm(thick);
    let grown = |by: f64| [long + by, long * ROUND + by];
    let past = end.map_or(0.0, |p| mm(p.extent.to - size));
    // From the lowest point to the right and up: of the whole way round only the lap is inked.
    let [rx, ry] = grown(1.5 * thick).map(number);
    let lap = format!("M0 {ry}A{rx} {ry} 0 0 0 0 -{ry}A{rx} {ry} 0 0 0 0 {ry}");
    let inked = format!("{} {}", number(past), number(2.0 * around));
    let [scale, room] = [WIDE / (2.0 * long + 8.0 * thick), 4.0 * thick];
    let [body, strap] = [grown(0.0), grown(thick / 2.0)];
    let (w, h) = (2.0 * (long + room), 2.0 * (long * ROUND + room));
    html! {
        svg .made viewBox={ (number(-w / 2.0)) " " (number(-h / 2.0)) " " (number(w)) " " (number(h)) }
            role="img" aria-label=(say("The loop from above")) {
            ellipse class="loop edge" rx=(number(strap[0])) ry=(number(strap[1]))
                stroke-width=(number(thick + 2.0 / scale)) {}
            ellipse class="loop" rx=(number(strap[0])) ry=(number(strap[1]))
                stroke-width=(number(thick)) {}
            path class="loop edge" d=(lap) stroke-dasharray=(inked) stroke-width=(number(thick + 2.0 / scale)) {}
            path class="loop" d=(lap) stroke-dasharray=(inked) stroke-width=(number(thick)) {}
            ellipse class="body" rx=(number(body[0])) ry=(number(body[1])) {}
            circle class="post" cx="0" cy=(number(long * ROUND + thick)) r=(number(thick)) {}
        }
    }
}
