//! Which piece of the layout the tiles that belong together are, and where on it they lie.

use super::super::read::plane::{Bounds, Matrix, Spot, most};
use super::super::sheet::{Form, Sheet};
use super::super::strap::{Piece, Strap};
use super::TOLERANCE;
use super::anchor::{self, Reading};
use super::wanted::{Wanted, WantedPiece};

/// Marks this near to their place speak for a fit, in mm.
const NEAR: f64 = 1.0;
/// Sizes this near are the same, in mm.
const ALIKE: f64 = 0.5;
/// A piece has four sides, and each speaks as loud as a mark: where one small piece has lost
/// or gained a mark, its size still tells it.
const SIDES: f64 = 4.0;
/// So much of all that could speak for a fit must.
const ENOUGH: f64 = 0.3;
/// Places that are tried when the ends of a piece do not say where it lies.
const MOST_TRIES: usize = 2_000;
/// From the edge of a piece to the feet of its rulers, at most, in mm.
const BESIDE: f64 = 3.0;
/// Places across a piece that are tried where no edge of it is shown.
const MOST_ASIDE: usize = 200;
/// Two parts of one piece share no more than an overlap: less than this part of the
/// smaller one.
const SHARED: f64 = 0.5;

/// Where a piece of the sheets lies on a piece of the layout.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    /// Index of the drawn piece.
    pub(super) drawn: usize,
    /// Index of the layout's piece.
    pub(super) wanted: usize,
    /// From the first tile's sheet to the strap.
    pub(super) way: Matrix,
    /// Whether both its ends, or what is printed on it, tell where along the piece it lies.
    pub(super) is_proven: bool,
    /// How much speaks for it.
    score: f64,
}

struct Seen<'a> {
    forms: Vec<(Spot, &'a Form)>,
    bounds: Bounds,
    readings: Vec<Reading>,
}

/// What fits best, before it is refined.
#[derive(Clone, Copy, Debug)]
struct Found {
    way: Matrix,
    score: f64,
    proof: Proof,
}

/// What tells where along its piece a stretch lies.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Proof {
    /// Both its ends.
    Ends,
    /// What is printed on it, and whether it is as wide as the piece.
    Printed { is_as_wide: bool },
    /// Nothing but its marks or one end.
    None,
}

/// A fit for every drawn piece for which there is one, the best first. If `by_readings`, a
/// piece that is not whole lies where its rulers say; of sheets that may be stretched they
/// cannot.
pub(super) fn fits(
    strap: &Strap,
    sheets: &[Sheet],
    pieces: &[WantedPiece<'_>],
    by_readings: bool,
) -> Vec<Fit> {
    let mut all: Vec<(Fit, Bounds)> = Vec::new();
    for (drawn, piece) in strap.pieces.iter().enumerate() {
        let mut seen = seen(piece, strap, sheets);
        if by_readings {
            seen.readings = anchor::readings(piece, strap, sheets);
        }
        for (wanted, target) in pieces.iter().enumerate() {
            let Found { way, score, proof } = found(&seen, target);
            let is_proven = proof != Proof::None;
            let most = count(seen.forms.len()) + SIDES;
            // A stretch without marks may lie anywhere, unless it is the whole piece or
            // says where it lies.
            let is_placed = !seen.forms.is_empty() || is_proven;
            let is_as_wide = proof == Proof::Printed { is_as_wide: true };
            if is_placed && (score >= ENOUGH * most || is_as_wide) {
                let way = refined(way, proof, &seen, target);
                let fit = Fit { drawn, wanted, way, is_proven, score };
                all.push((fit, placed(seen.bounds, way)));
            }
        }
    }
    all.sort_by(|a, b| b.0.score.total_cmp(&a.0.score));
    let mut taken: Vec<(Fit, Bounds)> = Vec::new();
    for (fit, bounds) in all {
        let clashes = |(t, b): &(Fit, Bounds)| {
            t.drawn == fit.drawn || t.wanted == fit.wanted && shared(*b, bounds) > SHARED
        };
        if !taken.iter().any(clashes) {
            taken.push((fit, bounds));
        }
    }
    taken.into_iter().map(|(fit, _)| fit).collect()
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

fn placed(bounds: Bounds, way: Matrix) -> Bounds {
    Bounds::of([way.place(bounds.low), way.place(bounds.high)])
}

/// What two rectangles share, as a part of the smaller one.
fn shared(a: Bounds, b: Bounds) -> f64 {
    let across = |low: f64, high: f64| (high - low).max(0.0);
    let x = across(a.low.x.max(b.low.x), a.high.x.min(b.high.x));
    let y = across(a.low.y.max(b.low.y), a.high.y.min(b.high.y));
    let area = |b: Bounds| b.size().x * b.size().y;
    x * y / area(a).min(area(b)).max(1e-9)
}

fn seen<'a>(piece: &'a Piece, strap: &'a Strap, sheets: &'a [Sheet]) -> Seen<'a> {
    let forms =
        piece.forms(strap, sheets).map(|(_, way, form)| (way.place(form.centre), form));
    Seen { forms: forms.collect(), bounds: piece.bounds, readings: Vec::new() }
}

/// Where a drawn piece lies: by both its ends if it has both, else by what is printed on
/// it, else by one end or its marks.
fn found(seen: &Seen<'_>, target: &WantedPiece<'_>) -> Found {
    let is_whole = |way: Matrix| {
        let [left, right, ..] = sides(placed(seen.bounds, way), target);
        left.abs().max(right.abs()) < NEAR
    };
    let (size, long) = (seen.bounds.size(), target.bounds.size().x);
    if (size.x - long).abs().min((size.y - long).abs()) < NEAR * 2.0 {
        let (way, score) = best(seen, target);
        if is_whole(way) {
            return Found { way, score, proof: Proof::Ends };
        }
    }
    anchored(seen, target).unwrap_or_else(|| {
        let (way, score) = best(seen, target);
        let proof = if is_whole(way) { Proof::Ends } else { Proof::None };
        Found { way, score, proof }
    })
}

/// Where the readings of a piece say that it lies.
fn anchored(seen: &Seen<'_>, target: &WantedPiece<'_>) -> Option<Found> {
    let mut found: Option<Found> = None;
    for turns in 0..4 {
        let turn = Matrix::quarter_turns(turns);
        for x in anchor::shifts(&seen.readings, turn, target) {
            for (y, is_as_wide) in aside(seen, target, turn, x) {
                let way = turn.then(Matrix::shift(Spot::new(x, y)));
                // Past the ends of the piece there is nothing that it could be.
                let lies = placed(seen.bounds, way);
                let is_within = lies.low.x > target.bounds.low.x - NEAR
                    && lies.high.x < target.bounds.high.x + NEAR;
                let score = score(seen, target, way) + f64::from(u8::from(is_within))
                    - lacking(seen, target, way);
                if found.is_none_or(|f| f.score < score) {
                    let proof = Proof::Printed { is_as_wide };
                    found = Some(Found { way, score, proof });
                }
            }
        }
    }
    found
}

/// How many marks a piece of the layout has where none is drawn: it may be another one.
fn lacking(seen: &Seen<'_>, target: &WantedPiece<'_>, way: Matrix) -> f64 {
    let Bounds { low, high } = placed(seen.bounds, way);
    let from = target.marks.partition_point(|w| w.at.x < low.x);
    let shown = target.marks[from..].iter().take_while(|w| w.at.x <= high.x);
    let holds = |w: &&Wanted<'_>| {
        let (least, most) = (w.at - w.size * 0.5, w.at + w.size * 0.5);
        least.x >= low.x && most.x <= high.x && least.y >= low.y && most.y <= high.y
    };
    let is_drawn =
        |w: &Wanted<'_>| seen.forms.iter().any(|(at, _)| way.place(*at).far(w.at) < NEAR);
    count(shown.filter(holds).filter(|w| !is_drawn(w)).count())
}

/// How far a stretch may have to be moved across the piece, and whether it then is as wide:
/// by the rulers on either side of it, which are as far from its centre line; where there
/// is one alone, by the edge there; between them by its marks.
fn aside(
    seen: &Seen<'_>,
    target: &WantedPiece<'_>,
    turn: Matrix,
    x: f64,
) -> Vec<(f64, bool)> {
    let here = placed(seen.bounds, turn);
    // As the piece is at its widest on this stretch.
    let (low, high) = target.edges_between(here.low.x + x, here.high.x + x);
    match anchor::feet(&seen.readings, turn) {
        [Some(above), Some(below)] => {
            let more = above - below - (high - low);
            vec![(-f64::midpoint(above, below), (0.0..BESIDE * 2.0).contains(&more))]
        }
        [Some(_), None] => vec![(high - here.high.y, true)],
        [None, Some(_)] => vec![(low - here.low.y, true)],
        [None, None] => {
            let by_mark = |(at, form): &(Spot, &Form)| {
                let at = turn.place(*at) + Spot::new(x, 0.0);
                let own =
                    target.marks.iter().filter(move |w| (w.at.x - at.x).abs() < NEAR);
                let own = own.filter(|w| alike(form.size, w.size));
                own.map(|w| (w.at.y - at.y, false)).collect::<Vec<_>>()
            };
            seen.forms.iter().flat_map(by_mark).take(MOST_ASIDE).collect()
        }
    }
}

/// The best way found and its score, as it lies first and then turned.
fn best(seen: &Seen<'_>, target: &WantedPiece<'_>) -> (Matrix, f64) {
    let mut best = (Matrix::IDENTITY, 0.0);
    let most = count(seen.forms.len()) + SIDES;
    let mut consider = |way: Matrix| {
        let score = score(seen, target, way);
        if score > best.1 {
            best = (way, score);
        }
        best.1 > 0.98 * most
    };
    for turns in 0..4 {
        let turn = Matrix::quarter_turns(turns);
        let here = placed(seen.bounds, turn);
        let ends = [
            target.bounds.low - here.low,
            target.bounds.high - here.high,
            target.bounds.middle() - here.middle(),
        ];
        for x in ends {
            for y in ends {
                if consider(turn.then(Matrix::shift(Spot::new(x.x, y.y)))) {
                    return best;
                }
            }
        }
    }
    // Neither end is there: let the marks say.
    let mut tries = 0;
    for turns in 0..4 {
        let turn = Matrix::quarter_turns(turns);
        for (at, form) in &seen.forms {
            let alike = |w: &&Wanted<'_>| alike(form.size, w.size);
            for wanted in target.marks.iter().filter(alike) {
                tries += 1;
                let shift = Matrix::shift(wanted.at - turn.place(*at));
                if tries > MOST_TRIES || consider(turn.then(shift)) {
                    return best;
                }
            }
        }
    }
    best
}

fn alike(a: Spot, b: Spot) -> bool {
    (a.x - b.x).abs() < ALIKE && (a.y - b.y).abs() < ALIKE
}

/// One for each mark and for each side that lies at its place.
fn score(seen: &Seen<'_>, target: &WantedPiece<'_>, way: Matrix) -> f64 {
    let near = |off: f64| (1.0 - off / NEAR).max(0.0);
    let marks: f64 = seen
        .forms
        .iter()
        .map(|(at, form)| {
            let (at, size) = (way.place(*at), way.way(form.size));
            let size = Spot::new(size.x.abs(), size.y.abs());
            let fitting = near_x(target, at).filter(|w| alike(size, w.size));
            near(fitting.map(|w| w.at.far(at)).fold(f64::INFINITY, f64::min))
        })
        .sum();
    let offs = sides(placed(seen.bounds, way), target);
    marks + offs.into_iter().map(|off| near(off.abs())).sum::<f64>()
}

/// The marks that lie near `at` along the piece, and no nearer than that across it.
fn near_x<'a, 'b>(
    target: &'b WantedPiece<'a>,
    at: Spot,
) -> impl Iterator<Item = &'b Wanted<'a>> {
    let from = target.marks.partition_point(|w| w.at.x < at.x - NEAR);
    target.marks[from..].iter().take_while(move |w| w.at.x < at.x + NEAR)
}

/// How far the sides are off, low and high along x, then along y.
fn sides(bounds: Bounds, target: &WantedPiece<'_>) -> [f64; 4] {
    let (low, high) = (bounds.low - target.bounds.low, bounds.high - target.bounds.high);
    [low.x, high.x, low.y, high.y]
}

/// Moved so that as many things as possible are where they should be, so that a single one
/// that is off moves nothing else; along the piece what is printed has said it already.
fn refined(
    way: Matrix,
    proof: Proof,
    seen: &Seen<'_>,
    target: &WantedPiece<'_>,
) -> Matrix {
    let (mut x, mut y) = (Vec::new(), Vec::new());
    for (at, form) in &seen.forms {
        let at = way.place(*at);
        let size = way.way(form.size);
        let size = Spot::new(size.x.abs(), size.y.abs());
        let fitting = near_x(target, at).filter(|w| alike(size, w.size));
        let nearest = fitting.min_by(|a, b| a.at.far(at).total_cmp(&b.at.far(at)));
        if let Some(wanted) = nearest.filter(|w| w.at.far(at) < NEAR) {
            x.push(at.x - wanted.at.x);
            y.push(at.y - wanted.at.y);
        }
    }
    let lies = placed(seen.bounds, way);
    let [left, right, ..] = sides(lies, target);
    x.extend([left, right].into_iter().filter(|off| off.abs() < NEAR));
    // A stretch may be narrower than the piece is elsewhere.
    let (low, high) = target.edges_between(lies.low.x, lies.high.x);
    let both = [lies.low.y - low, lies.high.y - high];
    y.extend(both.into_iter().filter(|off| off.abs() < NEAR));
    let most = |offs: &[f64]| most(offs, TOLERANCE).unwrap_or(0.0);
    let along = if matches!(proof, Proof::Printed { .. }) { 0.0 } else { most(&x) };
    let off = Spot::new(along, most(&y));
    way.then(Matrix::shift(Spot::ZERO - off))
}
