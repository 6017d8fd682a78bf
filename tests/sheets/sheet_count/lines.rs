//! Match lines by trying every millimetre. Where everything is in whole millimetres nothing
//! better lies between.

/// Of the drawing, in mm: what two tiles share, and the least distance of lines.
pub(crate) const OVERLAP: i64 = 16;
const HALF: i64 = OVERLAP / 2;
const LEAST: i64 = 24;

/// Tiles of one piece: how many at least, and how short one of so many can be.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fewest {
    pub(crate) tiles: i64,
    pub(crate) shortest: i64,
}

/// Places from `from` to `to`, and whether a line can be there.
struct Layer(Vec<bool>);

impl Layer {
    /// Where the next line can be.
    fn onward(&self, may: &[bool], step: i64) -> Self {
        let mut before = vec![0_usize];
        for &there in &self.0 {
            before.push(before.last().unwrap() + usize::from(there));
        }
        let upto = |i: i64| before[usize::try_from(i.max(0)).unwrap()];
        let reached = (0..).zip(may).map(|(i, &may)| {
            let i: i64 = i;
            may && upto(i - LEAST + 1) > upto(i - step)
        });
        Self(reached.collect())
    }

    fn turned(mut self) -> Self {
        self.0.reverse();
        self
    }

    fn places(&self) -> impl Iterator<Item = i64> {
        (0..).zip(&self.0).filter(|(_, there)| **there).map(|(i, _)| i)
    }
}

/// The fewest tiles of a piece from 0 to `length` in windows of `width`, with lines only
/// where `may`; `None` where there is no way.
pub(crate) fn fewest(
    length: i64,
    width: i64,
    may: impl Fn(i64) -> bool,
) -> Option<Fewest> {
    if length <= width {
        return Some(Fewest { tiles: 1, shortest: length });
    }
    let step = width - OVERLAP;
    let may: Vec<bool> =
        (0..=length).map(|x| x >= LEAST && x <= length - LEAST && may(x)).collect();
    let first = |may: &[bool]| {
        Layer((0..).zip(may).map(|(x, m)| *m && x <= width - HALF).collect())
    };
    let from_start = layers(first(&may), &may, step, length - width + HALF)?;
    let mut back = may.clone();
    back.reverse();
    let mut from_end = vec![first(&back)];
    while from_end.len() < from_start.len() {
        from_end.push(from_end.last().unwrap().onward(&back, step));
    }
    let from_end: Vec<Layer> = from_end.into_iter().rev().map(Layer::turned).collect();
    // Lines from which both ends can be reached with so many lines.
    let both = |k: usize| {
        let ends: Vec<bool> =
            from_start[k].0.iter().zip(&from_end[k].0).map(|(a, b)| *a && *b).collect();
        Layer(ends)
    };
    let n = from_start.len();
    let mut shortest = both(0).places().min()? + HALF;
    shortest = shortest.min(length - both(n - 1).places().max()? + HALF);
    for k in 1..n {
        let mut last: Vec<i64> = from_start[k - 1].places().collect();
        for x in from_end[k].places() {
            let near = last.partition_point(|&l| l <= x - LEAST);
            if let Some(&l) = near.checked_sub(1).and_then(|i| last.get(i)) {
                shortest = shortest.min(x - l + OVERLAP);
            }
            last.drain(..near.saturating_sub(1));
        }
    }
    Some(Fewest { tiles: i64::try_from(n).unwrap() + 1, shortest })
}

/// One layer a line, up to the first from which the end can be reached.
fn layers(first: Layer, may: &[bool], step: i64, reach: i64) -> Option<Vec<Layer>> {
    let mut all = vec![first];
    loop {
        let last = all.last().unwrap();
        let furthest = last.places().max()?;
        if furthest >= reach {
            return Some(all);
        }
        if all.len() > may.len() / 20 {
            return None;
        }
        all.push(last.onward(may, step));
    }
}
