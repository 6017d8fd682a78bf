//! Where the letters of a page lie, beside where those of a sheet should.

use crate::geom::{Point as Exact, QuarterTurn, Sheet as OnSheet};
use crate::lettering;
use crate::paginate::{Item, Sheet};
use crate::verify::exact::{Wanted, wanted};
use crate::verify::record::{Ink, Letter, Page};
use crate::verify::setup::mapped;
use hayro_interpret::kurbo::{Affine, PathEl, Point, Vec2};
use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_2;

/// A text with fewer letters may stand anywhere by chance.
const LONG: usize = 6;
/// How far a letter may be from its place to be taken for it, in mm, step by step.
const NEAR: [f64; 3] = [2.0, 0.5, 0.2];
/// How far the middle one of all letters may be off where a page lies on its sheet, in mm.
const REST: f64 = 0.05;

/// How a page lies on a sheet: `found = scale * sheet + shift`, along x and y.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) struct Alignment {
    pub(in crate::verify) scale: [f64; 2],
    /// In mm.
    pub(in crate::verify) shift: [f64; 2],
    /// The part of the sheet's letters, or lines, that were found at their places.
    pub(in crate::verify) found: f64,
    /// Whether it was told by lines, since the words are pictures.
    pub(in crate::verify) by_lines: bool,
}

impl Alignment {
    pub(super) const IDENTITY: Self =
        Self { scale: [1.0, 1.0], shift: [0.0, 0.0], found: 0.0, by_lines: false };

    /// From the sheet to the page.
    pub(super) fn affine(self) -> Affine {
        let ([sx, sy], [dx, dy]) = (self.scale, self.shift);
        Affine::new([sx, 0.0, 0.0, sy, dx, dy])
    }
}

/// Places of one page by what stands there.
struct Places<K>(BTreeMap<K, Vec<Point>>);

impl<K: Ord> Places<K> {
    fn new(all: impl Iterator<Item = (K, Point)>) -> Self {
        let mut places: BTreeMap<K, Vec<Point>> = BTreeMap::new();
        for (key, at) in all {
            places.entry(key).or_default().push(at);
        }
        for all in places.values_mut() {
            all.sort_by(|a, b| a.x.total_cmp(&b.x));
        }
        Self(places)
    }

    /// The place of the same kind that is nearest to `at`, within `near`.
    fn nearest(&self, key: &K, at: Point, near: f64) -> Option<Point> {
        let places = self.0.get(key)?;
        let first = places.partition_point(|p| p.x < at.x - near);
        let within = places[first..].iter().take_while(|p| p.x <= at.x + near);
        let best = within.min_by(|a, b| a.distance(at).total_cmp(&b.distance(at)))?;
        (best.distance(at) <= near).then_some(*best)
    }

    /// Fits a page with these places to a sheet that has `wanted`, from a first guess. Only
    /// the `firm` ones tell the fit, all of them how well it fits.
    fn align(
        &self,
        firm: &[(K, Point)],
        wanted: &[(K, Point)],
        guess: Alignment,
    ) -> Option<Alignment> {
        let mut alignment = guess;
        for near in NEAR {
            let way = alignment.affine();
            let pair =
                |(key, at): &(K, Point)| Some((*at, self.nearest(key, way * *at, near)?));
            let pairs: Vec<(Point, Point)> = firm.iter().filter_map(pair).collect();
            alignment = fit(&pairs, alignment);
        }
        let way = alignment.affine();
        let mut off: Vec<f64> = firm
            .iter()
            .filter_map(|(key, at)| {
                let at = way * *at;
                Some(self.nearest(key, at, NEAR[1])?.distance(at))
            })
            .collect();
        off.sort_by(f64::total_cmp);
        // What does not lie on one line is another sheet, and tells no scale.
        if off.get(off.len() / 2).is_none_or(|middle| *middle > REST) {
            return None;
        }
        let is_there =
            |(key, at): &&(K, Point)| self.nearest(key, way * *at, NEAR[1]).is_some();
        let count = wanted.iter().filter(is_there).count();
        #[expect(clippy::cast_precision_loss, reason = "letters of a page")]
        let found = count as f64 / wanted.len().max(1) as f64;
        (found > 0.5).then_some(Alignment { found, ..alignment })
    }
}

/// A straight line is known by where it leads, in quarters of a mm: coarse, since other
/// programs round.
type Lead = (i64, i64);

#[expect(clippy::cast_possible_truncation, reason = "lengths of a page")]
fn lead(from: Point, to: Point) -> (Lead, Point) {
    let by = to - from;
    // Either end may be the first.
    let by = if (by.x, by.y) < (0.0, 0.0) { -by } else { by };
    let quarters = |mm: f64| ((mm + 0.06) * 4.0).floor() as i64;
    ((quarters(by.x), quarters(by.y)), from.midpoint(to))
}

/// The letters and lines of a page, for looking up.
pub(in crate::verify) struct Letters {
    by_letter: Places<char>,
    lines: Places<Lead>,
    runs: Vec<(String, Vec<Point>)>,
    /// The name of the print that the page says it is of.
    pub(in crate::verify) print_name: Option<String>,
}

impl Letters {
    pub(in crate::verify) fn new(page: &Page) -> Self {
        let (mut runs, mut lines) = (Vec::new(), Vec::new());
        for drawing in &page.drawings {
            match &drawing.ink {
                Ink::Text { letters, .. } => {
                    let is_read = |letter: char| {
                        !letter.is_whitespace() && letter != char::REPLACEMENT_CHARACTER
                    };
                    let own = letters.iter().filter(|(letter, _)| is_read(*letter));
                    let (text, places): (String, Vec<Point>) = own.copied().unzip();
                    runs.push((text, places));
                }
                Ink::Stroke { path, .. } => {
                    if let [PathEl::MoveTo(from), PathEl::LineTo(to)] = *path.elements() {
                        lines.push(lead(from, to));
                    }
                }
                Ink::Area { .. } | Ink::Image { .. } => {}
            }
        }
        let spelled = |(text, places): &(String, Vec<Point>)| {
            text.chars().zip(places.clone()).collect::<Vec<_>>()
        };
        let letters = Places::new(runs.iter().flat_map(spelled));
        Self {
            by_letter: letters,
            lines: Places::new(lines.into_iter()),
            runs,
            print_name: page.print_name(),
        }
    }

    /// Where a letter stands that should be at a place, within `near` of it.
    pub(in crate::verify) fn find(
        &self,
        letter: char,
        at: Point,
        near: f64,
    ) -> Option<Point> {
        self.by_letter.nearest(&letter, at, near)
    }

    /// How the page lies on a sheet with these texts; `None` where too few of them are on it.
    pub(in crate::verify) fn align(&self, texts: &[Spelled]) -> Option<Alignment> {
        let wanted: Vec<(char, Point)> =
            texts.iter().flat_map(|t| t.letters.clone()).collect();
        // The widths of letters are rounded in a file, so only where a text starts is exact.
        let starts: Vec<(char, Point)> =
            texts.iter().filter_map(|t| t.letters.first().copied()).collect();
        self.by_letter.align(&starts, &wanted, self.first_guess(texts))
    }

    /// How the page lies on a sheet by its straight lines, where its words are pictures.
    pub(in crate::verify) fn align_lines(
        &self,
        sheet: &Sheet,
        to_page: Affine,
    ) -> Option<Alignment> {
        let own = sheet.items.get(sheet.head..).unwrap_or_default();
        // Rows of ticks may be drawn as dashed lines.
        let strokes = own.iter().filter(|item| matches!(item, Item::Stroke { .. }));
        let lines = strokes.flat_map(wanted).filter_map(|one| match one {
            Wanted::Line { ends, .. } => {
                let end = |p: Exact<OnSheet>| {
                    to_page * Point::new(p.x.as_mm_f64(), p.y.as_mm_f64())
                };
                let [from, to] = ends.map(end);
                Some(lead(from, to))
            }
            _ => None,
        });
        let lines: Vec<(Lead, Point)> = lines.collect();
        let mut alone: BTreeMap<Lead, Vec<Point>> = BTreeMap::new();
        for (key, at) in &lines {
            alone.entry(*key).or_default().push(*at);
        }
        let single = alone.iter().filter_map(|(key, own)| {
            let found = self.lines.0.get(key)?;
            (own.len() == 1 && found.len() == 1).then(|| (own[0], found[0]))
        });
        let pairs: Vec<(Point, Point)> = single.collect();
        let guess = fit(&pairs, Alignment::IDENTITY);
        let found = self.lines.align(&lines, &lines, guess)?;
        Some(Alignment { by_lines: true, ..found })
    }

    /// By the long texts that stand once on both.
    fn first_guess(&self, texts: &[Spelled]) -> Alignment {
        let mut pairs = Vec::new();
        for text in texts.iter().filter(|t| t.letters.len() >= LONG) {
            let word: String = text.letters.iter().map(|(letter, _)| *letter).collect();
            let mut places = self.runs.iter().filter_map(|(run, at)| {
                let byte = run.find(&word)?;
                at.get(run[..byte].chars().count())
            });
            if let (Some(found), None) = (places.next(), places.next()) {
                pairs.push((text.letters[0].1, *found));
            }
        }
        fit(&pairs, Alignment::IDENTITY)
    }
}

/// A text of a sheet: its letters but for spaces, each where it should start, in mm.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Spelled {
    /// The index of its item.
    pub(in crate::verify) item: usize,
    pub(in crate::verify) letters: Vec<Letter>,
    /// From a letter of one em at zero to one of the text.
    pub(in crate::verify) em: Affine,
}

/// Every text of a sheet; `to_page` is the way from the sheet to its page.
pub(in crate::verify) fn spelled(sheet: &Sheet, to_page: Affine) -> Vec<Spelled> {
    let mut all = Vec::new();
    for (item, drawn) in sheet.items.iter().enumerate() {
        for one in wanted(drawn) {
            let Wanted::Text { text, from, turn, size, .. } = one else { continue };
            let turned = match turn {
                QuarterTurn::None => Affine::IDENTITY,
                QuarterTurn::Left => Affine::rotate(FRAC_PI_2),
            };
            let em = to_page * turned * Affine::scale(size.as_mm_f64());
            let em = em.with_translation(Vec2::ZERO);
            let mut at = to_page * Point::new(from.x.as_mm_f64(), from.y.as_mm_f64());
            let mut letters = Vec::new();
            for letter in text.chars() {
                if !letter.is_whitespace() {
                    letters.push((letter, at));
                }
                at += mapped(em, Vec2::new(lettering::em_advance(letter), 0.0));
            }
            all.push(Spelled { item, letters, em });
        }
    }
    all
}

/// The straight line of best fit along each axis, without the pairs that are far off it; the
/// one before where there are too few.
fn fit(pairs: &[(Point, Point)], before: Alignment) -> Alignment {
    let mut fitted = before;
    for axis in 0..2 {
        let coordinate = |p: Point| if axis == 0 { p.x } else { p.y };
        let mut own: Vec<(f64, f64)> =
            pairs.iter().map(|(a, b)| (coordinate(*a), coordinate(*b))).collect();
        for _ in 0..3 {
            let Some((scale, shift)) = line(&own) else { break };
            (fitted.scale[axis], fitted.shift[axis]) = (scale, shift);
            let mut off: Vec<f64> =
                own.iter().map(|(a, b)| (scale * a + shift - b).abs()).collect();
            off.sort_by(f64::total_cmp);
            let most = off[off.len() / 2] * 3.0 + 0.005;
            own.retain(|(a, b)| (scale * a + shift - b).abs() <= most);
        }
    }
    fitted
}

/// Scale and shift of best fit. Where all lie at one place there is no scale to tell.
#[expect(clippy::cast_precision_loss, reason = "letters of a page")]
fn line(pairs: &[(f64, f64)]) -> Option<(f64, f64)> {
    if pairs.is_empty() {
        return None;
    }
    let n = pairs.len() as f64;
    let mean = |f: fn(&(f64, f64)) -> f64| pairs.iter().map(f).sum::<f64>() / n;
    let (a, b) = (mean(|p| p.0), mean(|p| p.1));
    let spread: f64 = pairs.iter().map(|p| (p.0 - a) * (p.0 - a)).sum();
    let both: f64 = pairs.iter().map(|p| (p.0 - a) * (p.1 - b)).sum();
    let scale = if spread > n * 25.0 { both / spread } else { 1.0 };
    Some((scale, b - scale * a))
}
