//! The strap flat, from its layout: the whole in true proportion, and below it, larger and all
//! at one scale, the stretches that have marks. A stretch that is plain is left out and named.

use super::address::Address;
use super::say::say_with;
use super::strap::Strap;
use super::svg::{data, mm, number};
use crate::geom::{Extent, Length};
use crate::layout::{GuideShape, Layout, Mark, MarkKind, Piece, Shape};
use crate::words::Wording;
use maud::{Markup, html};
use std::collections::BTreeMap;

/// The widths of the drawings; the page shows the one that fits.
const WIDTHS: [u32; 3] = [290, 480, 825];
/// A run without a mark that is longer than this is left out.
const PLAIN: Length = Length::from_mm(140);
/// Shown of a plain run beside what has marks.
const BESIDE: Length = Length::from_mm(18);
/// Room at both sides of a drawing, and between two stretches.
const SIDE: f64 = 18.0;
const BETWEEN: f64 = 34.0;
/// The widest that a letter of a name or a reading is, at 16 px.
const LETTER: f64 = 9.4;
/// The most that a millimetre is drawn.
const MOST_SCALE: f64 = 3.0;

/// A mark that has a name, with what the page says of it.
pub(super) struct Named<'a> {
    pub(super) mark: &'a Mark,
    /// What addresses call it: `size-holes-3`.
    pub(super) id: String,
    /// What the sheets call it.
    pub(super) label: String,
    /// What the tape reads.
    pub(super) reading: String,
    /// The address of the view with this mark chosen.
    pub(super) link: String,
    pub(super) is_chosen: bool,
}

/// The address of the drawing: enlarged, of the mark that is chosen.
pub(super) fn link(address: &Address) -> String {
    let place = if address.get("zoom").is_some() { "#chosen" } else { "#drawing" };
    address.link("") + place
}

/// The marks of a piece but its stitches, in their order.
pub(super) fn named<'a>(
    layout: &'a Layout,
    piece: &'a Piece,
    strap: &Strap<'_>,
) -> Vec<Named<'a>> {
    let marks = piece.marks.iter().filter(|m| m.kind != MarkKind::Stitch);
    let mut all: Vec<Named<'a>> = Vec::new();
    for mark in marks {
        let before = all.iter().filter(|n| n.mark.feature == mark.feature).count();
        let id = format!("{}-{}", layout.feature(mark), before + 1);
        all.push(Named {
            mark,
            link: link(&strap.address.with("mark", &id)),
            id,
            label: layout.label(mark, strap.wording),
            reading: strap.wording.reading(piece.from_bend(mark.at.x)),
            is_chosen: false,
        });
    }
    all
}

/// The piece itself, in millimetres, to be used by the drawings below. `id` names it.
pub(super) fn shape(piece: &Piece, id: &str) -> Markup {
    let fold = |mark: &Mark| {
        let half = mm(piece.width_at(mark.at.x)) / 2.0;
        let x = number(mm(mark.at.x));
        format!("M{x} {}L{x} {}", number(-half), number(half))
    };
    let stitch = |mark: &Mark| {
        format!("M{} {}h.01", number(mm(mark.at.x)), number(-mm(mark.at.y)))
    };
    let crease = |shape: &GuideShape| match shape {
        GuideShape::Crease(path) => data(path),
        GuideShape::Box { .. } | GuideShape::Words { .. } => String::new(),
    };
    let class = |mark: &Mark| match mark.kind {
        MarkKind::Stitch => ("stitch", stitch(mark)),
        MarkKind::Bend => ("fold", fold(mark)),
        _ => {
            let path = mark.path().map(|path| data(&path)).unwrap_or_default();
            (if mark.is_punched() { "hole" } else { "target" }, path)
        }
    };
    let guides = piece.guides.iter().map(|guide| ("crease", crease(&guide.shape)));
    let mut lines: BTreeMap<&str, String> = BTreeMap::new();
    for (class, data) in piece.marks.iter().map(class).chain(guides) {
        lines.entry(class).or_default().push_str(&data);
    }
    html! {
        g id=(id) {
            path class="leather" d=(data(&piece.outline)) {}
            @for (class, data) in lines.iter().filter(|(_, data)| !data.is_empty()) {
                path class=(class) d=(data) {}
            }
        }
    }
}

/// A window on the shape: `stretch` of the piece at a scale, with its upper left corner at
/// `at` of the drawing around it.
pub(super) fn window(
    piece: &Piece,
    id: &str,
    stretch: Extent,
    at: [f64; 2],
    scale: f64,
) -> Markup {
    let (from, long) = (mm(stretch.from), mm(stretch.length()));
    let half = mm(piece.width) / 2.0 + 1.5 / scale;
    html! {
        svg x=(number(at[0])) y=(number(at[1])) width=(number(long * scale))
            height=(number(2.0 * half * scale))
            viewBox={ (number(from)) " " (number(-half)) " " (number(long)) " "
                (number(2.0 * half)) } {
            use href={ "#" (id) } {}
        }
    }
}

/// The stretches that have marks, from end to end. A seam does not count: it goes on and on.
fn stretches(piece: &Piece) -> Vec<Extent> {
    let Extent { from, to } = piece.extent;
    let ends = [Extent::at(from), Extent::at(to)];
    let marks = piece.marks.iter().filter(|m| m.kind != MarkKind::Stitch);
    let mut all: Vec<Extent> = marks.map(Mark::x_extent).chain(ends).collect();
    all.sort_by_key(|e| e.from);
    let mut runs: Vec<Extent> = Vec::new();
    for next in all {
        match runs.last_mut() {
            Some(last) if next.from - last.to <= PLAIN => last.to = last.to.max(next.to),
            _ => runs.push(next),
        }
    }
    let grown = |run: Extent| Extent {
        from: (run.from - BESIDE).max(from),
        to: (run.to + BESIDE).min(to),
    };
    runs.into_iter().map(grown).collect()
}

/// The drawings of a piece in their three widths.
pub(super) fn flat(
    piece: &Piece,
    shape: &str,
    named: &[Named<'_>],
    wording: Wording,
) -> Markup {
    let runs = stretches(piece);
    html! {
        @for width in WIDTHS {
            (drawing(piece, shape, &runs, named, f64::from(width), wording))
        }
    }
}

/// Where a stretch lies in a drawing.
struct Placed {
    stretch: Extent,
    /// Its left end.
    x: f64,
    /// The middle of the strap.
    y: f64,
    scale: f64,
}

impl Placed {
    fn at(&self, x: Length) -> f64 {
        self.x + mm(x - self.stretch.from) * self.scale
    }
}

fn drawing(
    piece: &Piece,
    shape: &str,
    runs: &[Extent],
    named: &[Named<'_>],
    width: f64,
    wording: Wording,
) -> Markup {
    let room = width - 2.0 * SIDE;
    let long = mm(piece.extent.length());
    let whole = (room / long).min(MOST_SCALE);
    let is_broken = runs.len() > 1;
    let total: f64 = runs.iter().map(|r| mm(r.length())).sum();
    let longest = runs.iter().map(|r| mm(r.length())).fold(1.0, f64::max);
    let count: f64 = runs.iter().map(|_| 1.0).sum();
    let in_row = (room - BETWEEN * (count - 1.0)) / total;
    let is_one_row = !is_broken || width > 500.0 && in_row > 0.7;
    let scale = if is_one_row { in_row } else { room / longest };
    let most = MOST_SCALE.min(130.0 / mm(piece.width).max(1.0));
    let scale = scale.min(most);
    let half = mm(piece.width) / 2.0 * scale;
    // The whole strap above, with a bracket under each stretch.
    let top = if is_broken { mm(piece.width) * whole + 34.0 } else { 0.0 };
    let row = 2.0 * half + 62.0;
    let (mut x, mut y) = (SIDE, top + 30.0 + half);
    let mut placed: Vec<Placed> = Vec::new();
    for &stretch in runs {
        placed.push(Placed { stretch, x, y, scale });
        if is_one_row {
            x += mm(stretch.length()) * scale + BETWEEN;
        } else {
            y += row;
        }
    }
    let height = top + row * if is_one_row { 1.0 } else { count };
    let is_upper = |from: Extent| SIDE + mm(from.from - piece.extent.from) * whole;
    html! {
        svg class={ "flat w" (number(width)) } width=(number(width)) height=(number(height))
            viewBox={ "0 0 " (number(width)) " " (number(height)) } aria-hidden="true" {
            @if is_broken {
                (window(piece, shape, piece.extent, [SIDE, 2.0], whole))
                @for run in runs {
                    @let y = mm(piece.width) * whole + 10.0;
                    path class="line" d={ "M" (number(is_upper(*run))) " " (number(y - 4.0)) "v6h"
                        (number(mm(run.length()) * whole)) "v-6" } {}
                }
                @for pair in runs.windows(2) {
                    @let plain = Extent { from: pair[0].to, to: pair[1].from };
                    text class="quiet" text-anchor="middle"
                        x=(number(is_upper(plain) + mm(plain.length()) * whole / 2.0))
                        y=(number(mm(piece.width) * whole + 22.0)) {
                        @let length = wording.length(plain.length(), 0);
                        @if piece.marks_between(plain).is_empty() {
                            (say_with("plain, { $length }", &[("length", &length)]))
                        } @else { (say_with("a seam, { $length }", &[("length", &length)])) }
                    }
                }
            }
            @for part in &placed {
                (stretch(piece, shape, part, half))
                (labels(part, half, named))
                (taps(part, half, named))
            }
        }
    }
}

/// One stretch at the large scale, with its centre line and torn edges.
fn stretch(piece: &Piece, shape: &str, part: &Placed, half: f64) -> Markup {
    let &Placed { stretch, x, y, scale } = part;
    let end = x + mm(stretch.length()) * scale;
    let torn = |at: f64, out: f64| {
        let (step, top) = (number(f64::midpoint(half, 2.0)), number(y - half - 2.0));
        let zigzag: String = [1.0, -1.0, 1.0, -1.0]
            .map(|way| format!("l{} {step}", number(out * way)))
            .concat();
        let edge = format!("M{} {top}{zigzag}", number(at - out));
        (format!("{edge}h{}V{top}Z", number(out * 2.0)), edge)
    };
    let is_torn = [stretch.from > piece.extent.from, stretch.to < piece.extent.to];
    let edges = [torn(x, -5.0), torn(end, 5.0)].into_iter().zip(is_torn);
    html! {
        (window(piece, shape, stretch, [x, y - half - 1.5], scale))
        path class="centre" d={ "M" (number(x)) " " (number(y)) "H" (number(end)) } {}
        @for ((beyond, edge), _) in edges.filter(|(_, is_torn)| *is_torn) {
            path class="beyond" d=(beyond) {}
            path class="line" d=(edge) {}
        }
    }
}

/// The names above and the readings below, where there is room: the chosen mark first, then
/// the size hole, the bend and the ends.
fn labels(part: &Placed, half: f64, named: &[Named<'_>]) -> Markup {
    let rank = |n: &Named<'_>| match n.mark.kind {
        _ if n.is_chosen => 0,
        _ if n.mark.role.is_size() => 1,
        MarkKind::Bend | MarkKind::Tip => 2,
        MarkKind::Slot => 5,
        MarkKind::End => 4,
        _ => 3,
    };
    let within = named.iter().filter(|n| part.stretch.holds(Extent::at(n.mark.at.x)));
    let mut ranked: Vec<&Named<'_>> = within.collect();
    ranked.sort_by_key(|n| (rank(n), n.mark.at.x));
    let place = |words: fn(&Named<'_>) -> String| {
        let mut taken: Vec<[f64; 2]> = Vec::new();
        let mut kept = Vec::new();
        for n in &ranked {
            let text = words(n);
            let count = u32::try_from(text.chars().count()).unwrap_or(0);
            let wide = LETTER * f64::from(count) / 2.0 + 4.5;
            let ends = [part.x - SIDE + wide, part.at(part.stretch.to) + SIDE - wide];
            let at = part.at(n.mark.at.x).min(ends[1]).max(ends[0]);
            let own = [at - wide, at + wide];
            if !text.is_empty() && !taken.iter().any(|t| own[0] < t[1] && t[0] < own[1]) {
                taken.push(own);
                kept.push((at, wide, text, n.is_chosen, n.mark));
            }
        }
        kept
    };
    let above = place(|n| {
        let size = n.mark.role.number().filter(|_| n.mark.role.is_size());
        size.map_or_else(|| n.label.clone(), |n| n.to_string())
    });
    let below = place(|n| n.reading.clone());
    let (top, bottom) = (part.y - half - 10.0, part.y + half + 21.0);
    let radius = |mark: &Mark| match mark.shape {
        Shape::Round { diameter } => mm(diameter) / 2.0 * part.scale + 5.0,
        _ => 8.0,
    };
    html! {
        @for (at, wide, text, is_chosen, mark) in &above {
            @if *is_chosen {
                rect class="chosen" x=(number(at - wide.max(11.0))) y=(number(top - 16.0))
                    width=(number(2.0 * wide.max(11.0))) height="21" {}
                @if mark.shape != Shape::Across {
                    @let y = part.y - mm(mark.at.y) * part.scale;
                    path class="lead" d={ "M" (number(*at)) " " (number(top + 5.0)) "V"
                        (number(y - radius(mark))) } {}
                    circle class="ring" cx=(number(*at)) cy=(number(y))
                        r=(number(radius(mark))) {}
                }
            }
            text class=(if *is_chosen { "name on" } else { "name" }) text-anchor="middle"
                x=(number(*at)) y=(number(top)) { (text) }
        }
        @for (at, _, text, ..) in &below {
            text text-anchor="middle" x=(number(*at)) y=(number(bottom)) { (text) }
        }
    }
}

/// What can be tapped: each mark has all that is nearer to it than to another.
fn taps(part: &Placed, half: f64, named: &[Named<'_>]) -> Markup {
    let within = named.iter().filter(|n| part.stretch.holds(Extent::at(n.mark.at.x)));
    let all: Vec<(f64, &Named<'_>)> = within.map(|n| (part.at(n.mark.at.x), n)).collect();
    let ends = [part.x - SIDE, part.at(part.stretch.to) + SIDE];
    let middle = |a: usize, b: usize| f64::midpoint(all[a].0, all[b].0);
    html! {
        @for (i, (_, n)) in all.iter().enumerate() {
            @let from = if i == 0 { ends[0] } else { middle(i - 1, i) };
            @let to = if i + 1 == all.len() { ends[1] } else { middle(i, i + 1) };
            @if to > from {
                a href=(n.link) tabindex="-1" {
                    rect class="tap" x=(number(from)) y=(number(part.y - half - 28.0))
                        width=(number(to - from)) height=(number(2.0 * half + 56.0)) {}
                }
            }
        }
    }
}

/// The whole strap at a scale of so many pixels a millimetre, to be panned.
pub(super) fn zoomed(
    piece: &Piece,
    shape: &str,
    named: &[Named<'_>],
    scale: f64,
) -> Markup {
    let half = mm(piece.width) / 2.0 * scale;
    let part = Placed { stretch: piece.extent, x: SIDE, y: 30.0 + half, scale };
    let (width, height) = (part.at(piece.extent.to) + SIDE, 2.0 * half + 62.0);
    html! {
        svg class="whole" width=(number(width)) height=(number(height))
            viewBox={ "0 0 " (number(width)) " " (number(height)) } aria-hidden="true" {
            (stretch(piece, shape, &part, half))
            (labels(&part, half, named))
            (taps(&part, half, named))
            @for n in named.iter().filter(|n| n.is_chosen) {
                path id="chosen" d={ "M" (number(part.at(n.mark.at.x) - 60.0)) " 0h120v1z" }
                    fill="none" {}
            }
        }
    }
}
