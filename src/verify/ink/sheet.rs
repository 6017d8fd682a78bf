//! One page against its sheet.

use super::Alignment;
use super::align::{Letters, Spelled};
use super::allowed::Allowed;
use super::form::{Fit, form};
use super::probe::{Element, Subject, bounds, darkness, elements};
use super::raster::{PIXELS_PER_MM, Raster, pixel};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::Length;
use crate::paginate::{Claim, Item, Sheet, Tone};
use crate::verify::record::outline;
use crate::verify::rule;
use hayro::RenderCache;
use hayro::hayro_syntax::page::Page;
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// How far a mark may be off its place in mm: what 300 dpi resolves, with some room.
pub(in crate::verify) const MARK: f64 = 0.04;
/// How far another line may be off, in mm.
const LINE: f64 = 0.07;
/// How far a letter may be off, in mm.
const LETTER: f64 = 0.25;
/// How many stretches of a line in a row may lack ink: those at a corner may.
const GAP: usize = 3;
/// The same of a dashed line: twice the gap between its dashes, and a dot.
const DASHED_GAP: usize = 8;
/// How many stretches in a row show that a part of a line is moved.
const STRETCH: usize = 16;
/// Pixels of ink within a square of 2 mm that count as something drawn.
const SPOT: usize = 24;
/// How near to a letter ink may be, in pixels.
const BESIDE: usize = 2;
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
    /// The way from the sheet to its page.
    pub(in crate::verify) to_page: Affine,
    /// How messages call it, such as `sheet 2`.
    pub(in crate::verify) name: &'a str,
    pub(in crate::verify) texts: &'a [Spelled],
    pub(in crate::verify) letters: &'a Letters,
    pub(in crate::verify) alignment: Alignment,
    /// Whether the head may be that of another print.
    pub(in crate::verify) any_head: bool,
}

/// What ink says of a page, and every form that was measured. `to_mm` maps the page's points
/// to mm from its lower left corner. `None` where the page cannot be drawn.
pub(in crate::verify) fn judge<'a>(
    page: &'a Page<'a>,
    cache: &RenderCache<'a>,
    to_mm: Affine,
    against: &Subjects<'_>,
) -> Option<(Vec<Finding>, Vec<MeasuredMark>)> {
    let sheet = against.sheet;
    let [width, height] = [sheet.width, sheet.height].map(Length::as_mm_f64);
    let elements = elements(sheet, against.to_page);
    let mut allowed = Allowed::new(width, height);
    let (outlines, wrong) = letters(against);
    let mut judge = Judge {
        against,
        width,
        height,
        found: elements.iter().map(|e| vec![None; e.probes.len()]).collect(),
        elements: &elements,
        outlines,
        wrong,
        spots: BTreeMap::new(),
    };
    judge.allow(&mut allowed);
    // From mm of the page to mm of the sheet as the page should have it, then to pixels.
    let aligned = against.alignment.affine().inverse();
    let parts = allowed.width.div_ceil(PART);
    for part in 0..parts {
        let left = (part * PART).saturating_sub(BEYOND);
        let right = ((part + 1) * PART + BEYOND).min(allowed.width);
        #[expect(clippy::cast_precision_loss, reason = "pixels of a page")]
        let left_px = left as f64;
        let to_pixels = Affine::translate((-left_px, 0.0)) * Affine::scale(PIXELS_PER_MM);
        let size =
            [right - left, allowed.height].map(|n| u16::try_from(n).unwrap_or(u16::MAX));
        let raster = Raster::of_page(page, cache, to_pixels * aligned * to_mm, size)?;
        judge.measure(&raster, part, left_px);
        let outlines = judge.outlines.iter().map(|(_, outline)| outline);
        let outlines = Raster::of_outlines(outlines, to_pixels, size);
        judge.look_for_more(&raster, &outlines, &allowed, part, left);
    }
    Some(judge.conclude())
}

/// The outline of every letter, with the index of its item, in mm of the page as it should
/// lie; and the items of texts of which a letter is not there.
fn letters(against: &Subjects<'_>) -> (Vec<(usize, BezPath)>, BTreeSet<usize>) {
    let (mut outlines, mut wrong) = (Vec::new(), BTreeSet::new());
    let way = against.alignment.affine();
    for text in against.texts {
        let em = text.em.determinant().abs().sqrt();
        let mut near = LETTER;
        for (letter, at) in &text.letters {
            let found = against.letters.find(*letter, way * *at, near);
            if found.is_none() && !against.alignment.by_lines {
                wrong.insert(text.item);
            }
            let at = found.map_or(*at, |found| way.inverse() * found);
            let place = Affine::translate(at.to_vec2()) * text.em;
            outlines.extend(outline(*letter).map(|own| (text.item, place * own)));
            // A file rounds the widths of letters to a thousandth of an em.
            near += em / 1_000.0;
        }
    }
    (outlines, wrong)
}

struct Judge<'a> {
    against: &'a Subjects<'a>,
    width: f64,
    height: f64,
    elements: &'a [Element],
    /// For each probe of each element how far its ink is off, and `None` without ink.
    found: Vec<Vec<Option<f64>>>,
    /// The outline of every letter, with the index of its item.
    outlines: Vec<(usize, BezPath)>,
    /// Items of texts of which a letter is not there, or has no ink.
    wrong: BTreeSet<usize>,
    /// Pixels of ink where none may be, by squares of 2 mm.
    spots: BTreeMap<(usize, usize), usize>,
}

impl Judge<'_> {
    fn allow(&self, allowed: &mut Allowed) {
        for element in self.elements {
            let around = element.around();
            for probe in &element.probes {
                let side = around * 2.0;
                allowed.add(Rect::from_center_size(probe.at, (side, side)));
            }
            element.ticks.iter().for_each(|tick| allowed.add(*tick));
        }
        for item in &self.against.sheet.items {
            if let Item::Fill { tone, paths, .. } = item
                && *tone != Tone::White
            {
                for path in paths {
                    allowed.add(bounds(path, self.against.to_page).inflate(0.2, 0.2));
                }
            }
        }
        if self.against.any_head {
            // The head of another print stands where this one's does.
            let head = self.head();
            allowed.add(head);
        }
    }

    /// Whether an item may be that of another print.
    fn may_differ(&self, item: usize) -> bool {
        self.against.any_head && item < self.against.sheet.head
    }

    /// The band of the head and the key plan: along the top or, turned, along the left.
    fn head(&self) -> Rect {
        let texts = self.against.texts.iter();
        let texts = texts.filter(|t| t.item < self.against.sheet.head);
        let places = texts.flat_map(|t| t.letters.iter().map(|(_, at)| *at));
        let band = Rect::from_origin_size((0.0, self.height), (0.0, 0.0));
        let band = places.fold(band, |band, at| band.union_pt(at)).inflate(3.0, 3.0);
        let is_turned = band.height() > band.width();
        if is_turned {
            Rect { y0: 0.0, y1: self.height, ..band }
        } else {
            Rect { x0: 0.0, x1: self.width, ..band }
        }
    }

    /// Measures what lies in a part of the page.
    fn measure(&mut self, raster: &Raster, part: usize, left: f64) {
        let is_here = |at: Point| pixel(at.x * PIXELS_PER_MM, usize::MAX) / PART == part;
        for (element, found) in self.elements.iter().zip(&mut self.found) {
            for (probe, found) in element.probes.iter().zip(found) {
                if is_here(probe.at) {
                    *found = element.measure(*probe, raster, left);
                }
            }
        }
        for (item, outline) in &self.outlines {
            let Item::Text { tone, .. } = &self.against.sheet.items[*item] else {
                continue;
            };
            let area = outline.bounding_box();
            let is_here = is_here(area.center()) && !self.may_differ(*item);
            if is_here && raster.darkest(area, left) < darkness(*tone) * 0.4 {
                self.wrong.insert(*item);
            }
        }
    }

    /// Counts ink where none may be.
    fn look_for_more(
        &mut self,
        raster: &Raster,
        outlines: &Raster,
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
                if *dark > INK && !may && !outlines.is_near(x - left, y, BESIDE) {
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
                Subject::Ring | Subject::Line | Subject::Head => {
                    (rule::INK_MISSING, rule::INK_MISSING)
                }
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
                    let Some(Fit { off, wider, bent }) = form(element, found) else {
                        continue;
                    };
                    marks.push(MeasuredMark { item, path, off, wider });
                    let most = off.hypot().max(wider.abs());
                    if most > MARK || bent > LINE { most.max(bent) } else { 0.0 }
                }
                Subject::Ring => {
                    let off = form(element, found).map_or(0.0, |fit| fit.off.hypot());
                    if off > LINE { off } else { 0.0 }
                }
                Subject::Head => 0.0,
                // Each of the ticks by itself: one that is out of line misleads.
                Subject::Tick => {
                    let worst =
                        found.iter().flatten().map(|o| o.abs()).fold(0.0, f64::max);
                    if worst > LINE { worst } else { 0.0 }
                }
                _ => {
                    // Where other lines meet it the ink is wider; a part that is moved is
                    // so all along.
                    let alone = element.probes.iter().zip(found);
                    let alone = alone.filter(|(probe, _)| !probe.is_merged);
                    let all: Vec<f64> =
                        alone.filter_map(|(_, off)| off.map(f64::abs)).collect();
                    let quarter = |part: &[f64]| {
                        let mut part = part.to_vec();
                        part.sort_by(f64::total_cmp);
                        part[part.len() / 4]
                    };
                    let parts = all.windows(STRETCH.min(all.len()).max(1));
                    let worst = parts.map(quarter).fold(0.0, f64::max);
                    if worst > LINE { worst } else { 0.0 }
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
        let sheet = self.against.sheet;
        let mut wrong: BTreeMap<RuleId, (usize, String)> = BTreeMap::new();
        for item in self.wrong.iter().filter(|item| !self.may_differ(**item)) {
            let Item::Text { text: words, claim, .. } = &sheet.items[*item] else {
                continue;
            };
            let id = match claim {
                Claim::Numeral { .. } => rule::RULER_WRONG,
                Claim::Reading { .. } => rule::LABEL_WRONG,
                Claim::Cross { .. } | Claim::Join { .. } => rule::CROSS_ODD,
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
        let at = Point::new(*x as f64 * 2.0 + 1.0, *y as f64 * 2.0 + 1.0);
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
    if element.subject == Subject::Tick {
        return there < found.len();
    }
    let longest =
        found.split(Option::is_some).map(<[Option<f64>]>::len).max().unwrap_or_default();
    if element.is_dashed {
        return longest >= DASHED_GAP || there * 10 < found.len() * 3;
    }
    longest >= GAP || there * 4 < found.len() * 3
}
