//! One page against its sheet.

use super::Alignment;
use super::align::{Letters, Spelled, mm};
use super::probe::{Element, Subject, bounds, darkness, elements};
use super::raster::{PIXELS_PER_MM, Raster};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::QuarterTurn;
use crate::paginate::{Claim, Item, Sheet, Tone};
use crate::verify::rule;
use hayro::RenderCache;
use hayro::hayro_syntax::page::Page;
use hayro::kurbo::Affine;
use hayro_interpret::kurbo::{Point, Rect, Vec2};
use std::collections::BTreeMap;

/// How far a mark may be off its place in mm: what 300 dpi resolves, with some room.
pub(in crate::verify) const MARK: f64 = 0.04;
/// How far a slit may be off, in mm.
const SLIT: f64 = 0.1;
/// How far another line may be off, in mm.
const LINE: f64 = 0.07;
/// How far a letter may be off, in mm.
const LETTER: f64 = 0.25;
/// How many stretches of a line in a row may lack ink: those at a corner may.
const GAP: usize = 3;
/// Pixels of ink within a square of 2 mm that count as something drawn.
const SPOT: usize = 24;
/// How dark a pixel is to be ink, up to 255.
const INK: u8 = 100;
/// How many pixels are drawn at once, along the page; and how far a part looks beyond.
const PART: usize = 4096;
const BEYOND: usize = 48;

/// A form that was measured: item and path of the sheet, how far its middle is off, and how
/// much larger it is across, in mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) struct MeasuredMark {
    pub(in crate::verify) item: usize,
    pub(in crate::verify) path: usize,
    pub(in crate::verify) off: Vec2,
    pub(in crate::verify) wider: f64,
}

/// What a page is held against.
pub(in crate::verify) struct Subjects<'a> {
    pub(in crate::verify) sheet: &'a Sheet,
    /// How messages call it, such as `sheet 2`.
    pub(in crate::verify) name: &'a str,
    pub(in crate::verify) texts: &'a [Spelled],
    pub(in crate::verify) letters: &'a Letters,
    pub(in crate::verify) alignment: Alignment,
    /// Whether the head may be that of another print.
    pub(in crate::verify) any_head: bool,
}

/// What ink says of a page, and every form that was measured. `to_mm` maps the page's points
/// to mm from its lower left corner; `place` maps a place of the sheet to its page.
pub(in crate::verify) fn judge<'a>(
    page: &'a Page<'a>,
    cache: &RenderCache<'a>,
    to_mm: Affine,
    against: &Subjects<'_>,
    place: impl Fn(Point) -> Point,
) -> (Vec<Finding>, Vec<MeasuredMark>) {
    let sheet = against.sheet;
    let [width, height] = [sheet.width, sheet.height].map(mm);
    let elements = elements(sheet, &place);
    let mut allowed = Allowed::new(width, height);
    let mut judge = Judge {
        against,
        width,
        height,
        found: elements.iter().map(|e| vec![None; e.probes.len()]).collect(),
        elements: &elements,
        blank: Vec::new(),
        spots: BTreeMap::new(),
    };
    judge.allow(&mut allowed, &place);
    let [sx, sy] = against.alignment.scale;
    let [dx, dy] = against.alignment.shift;
    // From mm of the page to mm of the sheet as the page should have it, then to pixels.
    let aligned = Affine::new([1.0 / sx, 0.0, 0.0, 1.0 / sy, -dx / sx, -dy / sy]);
    let scale = PIXELS_PER_MM;
    let parts = allowed.width.div_ceil(PART);
    for part in 0..parts {
        let left = (part * PART).saturating_sub(BEYOND);
        let right = ((part + 1) * PART + BEYOND).min(allowed.width);
        #[expect(clippy::cast_precision_loss, reason = "pixels of a page")]
        let left_px = left as f64;
        let to_pixels = Affine::new([scale, 0.0, 0.0, -scale, -left_px, height * scale])
            * aligned
            * to_mm;
        let size =
            [right - left, allowed.height].map(|n| u16::try_from(n).unwrap_or(u16::MAX));
        let raster = Raster::new(page, cache, to_pixels, size);
        judge.measure(&raster, part, left_px);
        judge.look_for_more(&raster, &allowed, part, left);
    }
    judge.conclude()
}

/// Where ink may be, a pixel each.
struct Allowed {
    width: usize,
    height: usize,
    pixels: Vec<bool>,
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a page"
)]
fn pixel(at: f64, most: usize) -> usize {
    (at.max(0.0) as usize).min(most)
}

impl Allowed {
    fn new(width: f64, height: f64) -> Self {
        let [width, height] =
            [width, height].map(|side| pixel((side * PIXELS_PER_MM).floor(), 1 << 24));
        Self { width, height, pixels: vec![false; width * height] }
    }

    /// Allows ink within `area`, in mm from the upper left corner.
    fn add(&mut self, area: Rect) {
        let x = |at: f64| pixel(at * PIXELS_PER_MM, self.width);
        let y = |at: f64| pixel(at * PIXELS_PER_MM, self.height);
        let (left, right) = (x(area.x0), x(area.x1 + 1.0 / PIXELS_PER_MM));
        for row in y(area.y0)..y(area.y1 + 1.0 / PIXELS_PER_MM) {
            let row = row * self.width;
            self.pixels[row + left..row + right].fill(true);
        }
    }

    fn row(&self, y: usize) -> &[bool] {
        &self.pixels[y * self.width..(y + 1) * self.width]
    }
}

struct Judge<'a> {
    against: &'a Subjects<'a>,
    width: f64,
    height: f64,
    elements: &'a [Element],
    /// For each probe of each element how far its ink is off, and `None` without ink.
    found: Vec<Vec<Option<f64>>>,
    /// Items of texts of which a letter has no ink.
    blank: Vec<usize>,
    /// Pixels of ink where none may be, by squares of 2 mm.
    spots: BTreeMap<(usize, usize), usize>,
}

impl Judge<'_> {
    /// A place of the page counted from its upper left corner.
    fn flipped(&self, p: Point) -> Point {
        Point::new(p.x, self.height - p.y)
    }

    fn allow(&self, allowed: &mut Allowed, place: &impl Fn(Point) -> Point) {
        for element in self.elements {
            let around = element.around();
            for probe in &element.probes {
                let at = self.flipped(probe.at);
                allowed.add(Rect::from_center_size(at, (around * 2.0, around * 2.0)));
            }
            for tick in &element.ticks {
                let ends = [(tick.x0, tick.y0), (tick.x1, tick.y1)];
                let [a, b] = ends.map(|(x, y)| self.flipped(Point::new(x, y)));
                allowed.add(Rect::from_points(a, b));
            }
        }
        for item in &self.against.sheet.items {
            if let Item::Fill { tone, paths, .. } = item
                && *tone != Tone::White
            {
                for path in paths {
                    let area = bounds(path, place).inflate(0.2, 0.2);
                    let (a, b) =
                        (Point::new(area.x0, area.y0), Point::new(area.x1, area.y1));
                    allowed.add(Rect::from_points(self.flipped(a), self.flipped(b)));
                }
            }
        }
        for text in self.against.texts {
            for (_, at) in &text.letters {
                let at = self.flipped(*at);
                let em = self.em(text);
                allowed.add(Rect::from_center_size(at, (em * 2.6, em * 2.6)));
            }
        }
        if self.against.any_head {
            // The head of another print stands where this one's does.
            let head = self.head();
            allowed.add(head);
        }
    }

    /// About the head and the key plan, from the upper left corner.
    fn head(&self) -> Rect {
        let texts =
            self.against.texts.iter().filter(|t| t.item < self.against.sheet.head);
        let places = texts.flat_map(|t| t.letters.iter().map(|(_, at)| at.y));
        let lowest = places.fold(self.height, f64::min);
        Rect::new(0.0, 0.0, self.width, self.height - lowest + 3.0)
    }

    fn em(&self, text: &Spelled) -> f64 {
        match &self.against.sheet.items[text.item] {
            Item::Text { size, .. } => mm(*size),
            _ => 0.0,
        }
    }

    /// Measures what lies in a part of the page.
    fn measure(&mut self, raster: &Raster, part: usize, left: f64) {
        let is_here = |at: Point| pixel(at.x * PIXELS_PER_MM, usize::MAX) / PART == part;
        let height = self.height;
        for (element, found) in self.elements.iter().zip(&mut self.found) {
            for (probe, found) in element.probes.iter().zip(found) {
                if is_here(probe.at) {
                    let mut probe = *probe;
                    probe.at.y = height - probe.at.y;
                    probe.across.y = -probe.across.y;
                    *found = element.measure(probe, raster, left);
                }
            }
        }
        for text in self.against.texts {
            if self.against.any_head && text.item < self.against.sheet.head {
                continue;
            }
            let Item::Text { tone, turn, .. } = &self.against.sheet.items[text.item]
            else {
                continue;
            };
            let em = self.em(text);
            let least = darkness(*tone) * 0.4;
            let is_blank =
                text.letters.iter().filter(|(_, at)| is_here(*at)).any(|(_, at)| {
                    let at = self.flipped(*at);
                    darkest(raster, letter_area(at, em, *turn), left) < least
                });
            if is_blank {
                self.blank.push(text.item);
            }
        }
    }

    /// Counts ink where none may be.
    fn look_for_more(
        &mut self,
        raster: &Raster,
        allowed: &Allowed,
        part: usize,
        left: usize,
    ) {
        let square = pixel(2.0 * PIXELS_PER_MM, usize::MAX);
        let columns = part * PART..((part + 1) * PART).min(allowed.width);
        for y in 0..allowed.height.min(raster.height) {
            let own = &raster.row(y)[columns.start - left..columns.end - left];
            let may = &allowed.row(y)[columns.clone()];
            for (x, (dark, may)) in columns.clone().zip(own.iter().zip(may)) {
                if *dark > INK && !may {
                    *self.spots.entry((x / square, y / square)).or_default() += 1;
                }
            }
        }
    }

    fn error(&self, id: RuleId, what: &str, found: String, wanted: &str) -> Finding {
        Finding::error(id, format!("{} {what}", self.against.name))
            .expected(found, wanted)
    }

    fn conclude(self) -> (Vec<Finding>, Vec<MeasuredMark>) {
        let mut marks = Vec::new();
        // One finding for each kind of fault on a page, with the worst of it.
        let mut gone: BTreeMap<RuleId, (usize, Point)> = BTreeMap::new();
        let mut moved: BTreeMap<RuleId, (f64, Point)> = BTreeMap::new();
        for (element, found) in self.elements.iter().zip(&self.found) {
            let at = element.probes[element.probes.len() / 2].at;
            let (missing, off_place) = match element.subject {
                Subject::Form { .. } | Subject::Fold => {
                    (rule::MARK_MISSING, rule::MARK_MOVED)
                }
                Subject::Outline => (rule::OUTLINE_OFF, rule::OUTLINE_OFF),
                Subject::Tick => (rule::RULER_WRONG, rule::RULER_WRONG),
                Subject::Bar => (rule::BAR_MISSING, rule::BAR_OFF),
                Subject::Line | Subject::Head => (rule::INK_MISSING, rule::INK_MISSING),
            };
            if self.against.any_head && element.subject == Subject::Head {
                continue;
            }
            if lacks_ink(element, found) {
                gone.entry(missing).or_insert((0, at)).0 += 1;
                continue;
            }
            let off = match element.subject {
                Subject::Form { item, path } => {
                    let Some(measured) = form(element, found) else { continue };
                    let (off, wider) = measured;
                    marks.push(MeasuredMark { item, path, off, wider });
                    // The ink of both sides of a slit is one.
                    let (wider, allowed) =
                        if element.is_thin() { (0.0, SLIT) } else { (wider.abs(), MARK) };
                    let most = off.hypot().max(wider);
                    if most > allowed { most } else { 0.0 }
                }
                Subject::Head => 0.0,
                // Each of the ticks by itself: one that is out of line misleads.
                Subject::Tick => {
                    let worst =
                        found.iter().flatten().map(|o| o.abs()).fold(0.0, f64::max);
                    if worst > LINE { worst } else { 0.0 }
                }
                _ => {
                    // Where other lines meet it the ink is wider; a line that is moved is
                    // so all along.
                    let mut all: Vec<f64> =
                        found.iter().flatten().map(|o| o.abs()).collect();
                    all.sort_by(f64::total_cmp);
                    let quarter = all.get(all.len() / 4).copied().unwrap_or(0.0);
                    if quarter > LINE { quarter } else { 0.0 }
                }
            };
            if off > 0.0 {
                let worst = moved.entry(off_place).or_insert((off, at));
                if off > worst.0 {
                    *worst = (off, at);
                }
            }
        }
        let mut findings = Vec::new();
        for (id, (count, at)) in gone {
            let found = format!("{count} without ink, the first at {}", place(at));
            findings.push(self.error(id, "lacks lines", found, "ink along every line"));
        }
        for (id, (off, at)) in moved {
            let found = format!("up to {off:.2} mm off, at {}", place(at));
            findings.push(self.error(
                id,
                "has lines out of place",
                found,
                "each at its place",
            ));
        }
        findings.extend(self.texts());
        findings.extend(self.more_ink());
        (findings, marks)
    }

    /// Letters without ink, and texts that are not those of the sheet.
    fn texts(&self) -> Vec<Finding> {
        let Subjects { sheet, texts, letters, alignment, any_head, .. } = *self.against;
        let mut wrong: BTreeMap<RuleId, (usize, String)> = BTreeMap::new();
        for text in texts {
            if any_head && text.item < sheet.head {
                continue;
            }
            let Item::Text { text: words, claim, .. } = &sheet.items[text.item] else {
                continue;
            };
            let em = self.em(text);
            let is_there = |(index, (letter, at)): (usize, &(char, Point))| {
                let [sx, sy] = alignment.scale;
                let [dx, dy] = alignment.shift;
                let at = Point::new(at.x * sx + dx, at.y * sy + dy);
                // A file rounds the widths of letters to a thousandth of an em.
                #[expect(clippy::cast_precision_loss, reason = "letters of a line")]
                let rounding = index as f64 * em / 1_000.0;
                letters.has(*letter, at, LETTER + rounding)
            };
            let is_spelled =
                alignment.by_lines || text.letters.iter().enumerate().all(is_there);
            if is_spelled && !self.blank.contains(&text.item) {
                continue;
            }
            let id = match claim {
                Claim::Numeral { .. } => rule::RULER_WRONG,
                Claim::Reading { .. } => rule::LABEL_WRONG,
                Claim::Cross { .. } => rule::CROSS_ODD,
                Claim::Bar { .. } => rule::BAR_OFF,
                Claim::None => rule::INK_MISSING,
            };
            wrong.entry(id).or_insert((0, words.clone())).0 += 1;
        }
        let one = |(id, (count, first)): (RuleId, (usize, String))| {
            let found = format!("{count} not there as they should, the first `{first}`");
            self.error(
                id,
                "lacks words or numbers",
                found,
                "all of them, where they stand",
            )
        };
        wrong.into_iter().map(one).collect()
    }

    fn more_ink(&self) -> Option<Finding> {
        let mut spots = self.spots.iter().filter(|(_, count)| **count >= SPOT);
        let ((x, y), _) = spots.next()?;
        let more = spots.count();
        #[expect(clippy::cast_precision_loss, reason = "squares of a page")]
        let at = Point::new(*x as f64 * 2.0 + 1.0, self.height - (*y as f64 * 2.0 + 1.0));
        let more =
            if more > 0 { format!(", and {more} more places") } else { String::new() };
        Some(self.error(
            rule::INK_EXTRA,
            "has ink where none should be",
            format!("ink at {}{more}", place(at)),
            "white paper there",
        ))
    }
}

fn place(at: Point) -> String {
    format!("{:.1}, {:.1} mm from the lower left corner", at.x, at.y)
}

/// Whether a line is not drawn to its end.
fn lacks_ink(element: &Element, found: &[Option<f64>]) -> bool {
    let there = found.iter().flatten().count();
    if element.is_dashed {
        return there * 10 < found.len() * 3;
    }
    if element.subject == Subject::Tick {
        return there < found.len();
    }
    let longest =
        found.split(Option::is_some).map(<[Option<f64>]>::len).max().unwrap_or_default();
    longest >= GAP || there * 4 < found.len() * 3
}

/// How far a closed form is off its place and how much wider it is on each side, by least
/// squares over its probes: each is off by `across * off + wider`.
fn form(element: &Element, found: &[Option<f64>]) -> Option<(Vec2, f64)> {
    let pairs = element.probes.iter().zip(found);
    let mut all: Vec<(Vec2, f64)> =
        pairs.filter_map(|(p, o)| Some((p.across, (*o)?))).collect();
    let mut solved = None;
    for _ in 0..3 {
        // The ends of a slit may be left out as outliers; nothing tells its place along then.
        let Some((off, wider)) = least_squares(&all) else { break };
        solved = Some((off, wider));
        let rest = |(n, o): &(Vec2, f64)| (n.dot(off) + wider - o).abs();
        let mut rests: Vec<f64> = all.iter().map(rest).collect();
        rests.sort_by(f64::total_cmp);
        // Where the arms of its cross meet the form, the ink is wider.
        let most = rests[rests.len() / 2] * 2.5 + 0.002;
        all.retain(|pair| rest(pair) <= most);
    }
    solved
}

/// Solves the normal equations of three unknowns.
fn least_squares(all: &[(Vec2, f64)]) -> Option<(Vec2, f64)> {
    let mut m = [[0.0_f64; 4]; 3];
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
        if m[i][i].abs() < 1e-9 {
            return None;
        }
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

/// Where a letter that starts at `at` has ink, from the upper left corner.
fn letter_area(at: Point, em: f64, turn: QuarterTurn) -> Rect {
    let (along, up) = (em * 0.6, em * 0.72);
    let opposite = match turn {
        QuarterTurn::None => Point::new(at.x + along, at.y - up),
        QuarterTurn::Left => Point::new(at.x - up, at.y - along),
    };
    Rect::from_points(at, opposite)
}

/// The darkest pixel within an area in mm from the upper left corner.
fn darkest(raster: &Raster, area: Rect, left: f64) -> f64 {
    let px = |mm: f64| mm * PIXELS_PER_MM;
    let mut darkest: u8 = 0;
    for y in pixel(px(area.y0), usize::MAX)..=pixel(px(area.y1), usize::MAX) {
        let columns =
            pixel(px(area.x0) - left, usize::MAX)..=pixel(px(area.x1) - left, usize::MAX);
        for x in columns {
            darkest = darkest.max(raster.get(x, y));
        }
    }
    f64::from(darkest)
}
