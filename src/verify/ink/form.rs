//! How far a closed form is off its place, from how far its ink is off at each probe.

use super::probe::Element;
use hayro_interpret::kurbo::Vec2;

/// How a form lies beside its place, in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    pub(super) off: Vec2,
    /// How much wider it is on each side.
    pub(super) wider: f64,
    /// How far its worst part is off what the others say: the mean of three probes in a row.
    pub(super) bent: f64,
}

/// How far a closed form is off its place and how much wider it is on each side, by least
/// squares over its probes: each is off by `across * off + wider`. In a direction of which no
/// probe tells anything it counts as in its place. `None` where too little of it stands alone.
pub(super) fn form(element: &Element, found: &[Option<f64>]) -> Option<Fit> {
    let pairs = element.probes.iter().zip(found);
    let all: Vec<(Vec2, f64)> = pairs
        .filter(|(p, _)| !p.is_merged)
        .filter_map(|(p, o)| Some((p.across, (*o)?)))
        .collect();
    let (mut kept, mut solved) = (all.clone(), None);
    for _ in 0..3 {
        let (off, wider) = least_squares(&kept)?;
        let rest = |(n, o): &(Vec2, f64)| (n.dot(off) + wider - o).abs();
        let mut rests: Vec<f64> = kept.iter().map(rest).collect();
        rests.sort_by(f64::total_cmp);
        // Where something else meets the form, its ink is wider.
        let most = rests[rests.len() / 2] * 2.5 + 0.002;
        kept.retain(|pair| rest(pair) <= most);
        let mean = |part: &[(Vec2, f64)]| part.iter().map(rest).sum::<f64>() / 3.0;
        // The form is closed: its first probes follow its last.
        let round: Vec<(Vec2, f64)> =
            all.iter().chain(all.iter().take(2)).copied().collect();
        let bent = round.windows(3).map(mean).fold(0.0, f64::max);
        solved = Some(Fit { off, wider, bent });
    }
    solved
}

/// Solves the normal equations of three unknowns; `None` for fewer than three pairs.
fn least_squares(all: &[(Vec2, f64)]) -> Option<(Vec2, f64)> {
    /// Next to nothing beside what a probe adds, so that each unknown has an answer.
    const LEAST: f64 = 1e-6;
    if all.len() < 3 {
        return None;
    }
    let mut m = [[LEAST, 0.0, 0.0, 0.0], [0.0, LEAST, 0.0, 0.0], [0.0, 0.0, LEAST, 0.0]];
    for (n, o) in all {
        let row = [n.x, n.y, 1.0, *o];
        for i in 0..3 {
            for (j, value) in row.iter().enumerate() {
                m[i][j] += row[i] * value;
            }
        }
    }
    for i in 0..3 {
        let pivot = (i..3).max_by(|a, b| m[*a][i].abs().total_cmp(&m[*b][i].abs()))?;
        m.swap(i, pivot);
        for other in 0..3 {
            if other != i {
                let by = m[other][i] / m[i][i];
                let pivot = m[i];
                for (value, own) in m[other].iter_mut().zip(pivot) {
                    *value -= by * own;
                }
            }
        }
    }
    let [x, y, wider] = [0, 1, 2].map(|i| m[i][3] / m[i][i]);
    Some((Vec2::new(x, y), wider))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moved_and_larger_ring_is_solved() {
        let off = Vec2::new(0.03, -0.02);
        let ring = (0..24).map(|n| {
            let across = Vec2::from_angle(f64::from(n) * 0.26);
            (across, across.dot(off) + 0.05)
        });
        let (found, wider) = least_squares(&ring.collect::<Vec<_>>()).unwrap();
        assert!((found - off).hypot() < 1e-6 && (wider - 0.05).abs() < 1e-6);
        // Two parallel edges tell nothing of the way along them.
        let edges = [(1.0, 0.3), (1.0, 0.3), (-1.0, -0.1), (-1.0, -0.1)];
        let edges = edges.map(|(y, off)| (Vec2::new(0.0, y), off));
        let (found, wider) = least_squares(&edges).unwrap();
        assert!((found - Vec2::new(0.0, 0.2)).hypot() < 1e-6);
        assert!((wider - 0.1).abs() < 1e-6);
    }
}
