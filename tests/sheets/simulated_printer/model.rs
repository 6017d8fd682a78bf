//! Printers that are not true, and what a person reads on what they print.

use crate::common::joins::{Join, sub};
use crate::common::pdf::{Page, pages};
use crate::common::random::Random;
use crate::common::strokes::{cross_at, end_at, upright_at};
use crate::common::{far, mm, spot};
use strapwright::diagnostic::Sources;
use strapwright::export::pdf::pdf;
use strapwright::fit::{MeasurementUncertainty, RulerClass};
use strapwright::geom::{Length, Point, Ratio, Sheet as OnSheet};
use strapwright::layout::{Layout, Shape};
use strapwright::paginate::{Heading, Paper, Request, SheetSet, Tile, paginate};
use strapwright::prepare;
use strapwright::printer::{
    Calibration, Dated, Measured, Printer, Readings, Skew, calibrate, read, write,
};
use strapwright::template::DEMO_JOB;

pub(crate) type Spot = (f64, f64);

/// What is asked of every mark of the joined strip, in mm.
pub(crate) const WITHIN: f64 = 0.1;
/// To what a ruler is read here, in mm.
pub(crate) const READ: f64 = 0.05;
/// A belt of 1.3 m, and one so wide that sheets are best used upright.
pub(crate) const STRAPS: [&[&str]; 2] = [
    &["measure.value=41.5 in"],
    &["measure.value=41.5 in", "strap.width=95 mm", "buckle.inside=96 mm"],
];

/// A printer by what it does along the long and the short edge of a sheet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Simulated {
    pub(crate) long: f64,
    pub(crate) short: f64,
    /// How far the feed is off square, in radians.
    pub(crate) skew: f64,
}

impl Simulated {
    pub(crate) fn random(random: &mut Random) -> Self {
        let skew = random.within(0.3_f64.to_radians());
        Self { long: 1.0 + random.within(0.03), short: 1.0 + random.within(0.03), skew }
    }

    /// Where the ink lands of a place of the file, page by page. An upright page is turned
    /// a quarter before it goes through.
    pub(crate) fn print(self, page: &Page, at: Spot) -> Spot {
        let (wide, high) = page.size;
        let (l, s) = if wide >= high { at } else { (at.1, wide - at.0) };
        let (l, s) = (l * self.long, s * self.short);
        (l + s * libm::sin(self.skew), s * libm::cos(self.skew))
    }
}

pub(crate) struct Strap {
    pub(crate) layout: Layout,
    pub(crate) heading: Heading,
    pub(crate) paper: Paper,
}

impl Strap {
    pub(crate) fn new(sets: &[&str]) -> Self {
        let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
        let (job, fit, layout) = prepare("demo", DEMO_JOB, &sets).laid.unwrap();
        let heading = Heading::new(&job, fit.as_ref(), &layout);
        Self { layout, heading, paper: Paper::parse("a4").unwrap() }
    }

    pub(crate) fn drawn(&self, printer: Option<&Printer>) -> Drawn {
        let correction = printer.map(|p| &p.correction);
        let request = Request {
            correction,
            ..Request::new(&self.layout, &self.heading, &self.paper)
        };
        let set = paginate(&request).unwrap();
        let pages = pages(&pdf(&set).unwrap());
        Drawn { set, pages }
    }
}

/// A set and what its file says.
pub(crate) struct Drawn {
    pub(crate) set: SheetSet,
    pub(crate) pages: Vec<Page>,
}

impl Drawn {
    /// Where a place of the set is in the file, by the set's own correction.
    pub(crate) fn in_file(&self, sheet: usize, at: Point<OnSheet>) -> Spot {
        let (x, y) = spot(at);
        let own = &self.set.sheets[sheet];
        let Some([width, height]) = self.set.correction_on(own) else { return (x, y) };
        let of = |ratio: Ratio, at: f64, side: Length| {
            let middle = mm(side) / 2.0;
            middle + (at - middle) * ratio.millionths() as f64 / 1e6
        };
        (of(width.by, x, own.width), of(height.by, y, own.height))
    }

    /// Where the ink of a cross lands that the file has there.
    pub(crate) fn cross(&self, by: Simulated, sheet: usize, at: Point<OnSheet>) -> Spot {
        let page = &self.pages[sheet];
        by.print(page, cross_at(page, self.in_file(sheet, at)))
    }

    /// Where the ink of an upright line lands whose middle the file has there.
    pub(crate) fn upright(
        &self,
        by: Simulated,
        sheet: usize,
        at: Point<OnSheet>,
    ) -> Spot {
        let page = &self.pages[sheet];
        by.print(page, upright_at(page, self.in_file(sheet, at)))
    }

    pub(crate) fn end(&self, by: Simulated, sheet: usize, at: Point<OnSheet>) -> Spot {
        let page = &self.pages[sheet];
        by.print(page, end_at(page, self.in_file(sheet, at)))
    }

    /// Every tile with its sheet and the way from its print to the joined strip.
    pub(crate) fn joined(&self, by: Simulated) -> Vec<(usize, &Tile, Join)> {
        let mut all: Vec<(usize, &Tile, Join)> = Vec::new();
        let tiles = self.set.sheets.iter().enumerate();
        let tiles = tiles.flat_map(|(s, sheet)| sheet.tiles.iter().map(move |t| (s, t)));
        // The first piece; a keeper needs no join.
        for (s, tile) in tiles.filter(|(_, tile)| tile.piece == 0) {
            let join = all.len();
            let way = all.last().map_or(Join::NONE, |(before, other, chain)| {
                let pair = |sheet, of: &Tile| {
                    ["a", "b"].map(|side| {
                        let label = format!("{join} + {} {side}", join + 1);
                        let mut crosses = of.crosses.iter();
                        let cross = crosses.find(|c| c.label == label).unwrap();
                        self.cross(by, sheet, cross.at)
                    })
                };
                chain.after(Join::of(pair(s, tile), pair(*before, other)))
            });
            all.push((s, tile, way));
        }
        let joins = self.set.joins.iter().filter(|(piece, _)| *piece == 0).count();
        assert_eq!(all.len(), joins + 1, "one strap");
        all
    }

    /// Lines A and B of the joined strip.
    pub(crate) fn ends(&self, by: Simulated) -> [Spot; 2] {
        let joined = self.joined(by);
        let check = &self.set.checks[0];
        let at = |(s, tile, way): &(usize, &Tile, Join), at| {
            way.apply(self.upright(by, *s, tile.placement.apply(at)))
        };
        [at(joined.first().unwrap(), check.from), at(joined.last().unwrap(), check.to)]
    }

    /// What a person reads on the print, to `fine` mm.
    pub(crate) fn readings(&self, by: Simulated, fine: f64) -> Readings {
        let said = |a: Spot, b: Spot| {
            let steps = libm::round(far(a, b) / fine);
            Length::from_nm(libm::round(steps * fine * 1e6) as i64)
        };
        let bar = |i: usize| {
            let bar = self.set.sheets[0].bars[i];
            said(self.end(by, 0, bar.from), self.end(by, 0, bar.to))
        };
        let [a, b] = self.ends(by);
        let [low, high] = self.set.corners_on(&self.set.sheets[0]);
        let corner = |x, y| self.end(by, 0, Point::new(x, y));
        Readings {
            wide: vec![bar(0)],
            tall: vec![bar(1)],
            strip: Some(said(a, b)),
            diagonals: Some([
                said(corner(low.x, low.y), corner(high.x, high.y)),
                said(corner(low.x, high.y), corner(high.x, low.y)),
            ]),
        }
    }

    /// The printer by these readings and those that `old` has.
    pub(crate) fn calibrated(
        &self,
        strap: &Strap,
        old: Option<&Printer>,
        readings: &Readings,
        reading: Length,
    ) -> (Printer, Option<Skew>) {
        let measuring = MeasurementUncertainty {
            ruler: RulerClass::I,
            reading,
            join: Length::from_um(50),
        };
        let done = calibrate(&Calibration {
            gauge: self.set.gauge.as_ref().unwrap(),
            paper: &strap.paper,
            correction: self.set.settings.printer.as_ref(),
            readings,
            measuring,
            // Some are off by as much in both axes as viewers make them.
            must_fit: true,
        })
        .unwrap();
        let Some(Measured { long, short, fitted }) = done.measured else {
            unreachable!("{}", done.verdict.words)
        };
        let [print, ruler, stock, note] = [""; 4].map(ToOwned::to_owned);
        let mut all = old.map_or(Vec::new(), |p| p.readings.clone());
        let (date, class) = (format!("2026-03-1{}", all.len()), RulerClass::I);
        let dated =
            Dated { date, print, long, short, class, ruler, stock, note, anew: false };
        all.push(dated);
        let (name, margin) = ("simulated".to_owned(), Length::from_mm(10));
        let printer = Printer::new(name, &strap.paper, margin, fitted, all);
        // By way of its file, as it goes in life.
        let known = read(&mut Sources::default(), "printer.toml", &write(&printer));
        assert_eq!(known.findings, []);
        (known.printer.unwrap(), done.skew)
    }

    /// Rings of the file are as much wider and higher as the printer makes them less.
    pub(crate) fn holes_are_round(&self, by: Simulated) {
        let mut seen = 0;
        for page in &self.pages {
            for ring in page.closed.iter().filter(|c| c.is_ring) {
                let ((w, h), (wide, high)) = (ring.size(), page.size);
                let (w, h) = if wide > high {
                    (w * by.long, h * by.short)
                } else {
                    (w * by.short, h * by.long)
                };
                assert!((w - h).abs() < 0.01, "{by:?}: {w} wide, {h} high");
                seen += 1;
            }
        }
        assert!(seen >= 10, "only {seen} rings");
    }

    /// The farthest that a round mark of the joined strip is from its place in the layout,
    /// in mm: along the line through A and B, and across it.
    pub(crate) fn worst(&self, by: Simulated, layout: &Layout) -> [f64; 2] {
        let [a, b] = self.ends(by);
        let long = far(a, b);
        let (along, origin) =
            ((sub(b, a).0 / long, sub(b, a).1 / long), self.set.checks[0].from);
        let (mut worst, mut seen) = ([0.0_f64; 2], 0);
        let mut first: Option<[f64; 2]> = None;
        for (s, tile, way) in self.joined(by) {
            let marks = layout.pieces[0].marks.iter();
            for mark in marks.filter(|m| tile.stretch.holds(m.x_extent())) {
                let Shape::Round { .. } = mark.shape else { continue };
                let span = self.in_file(s, tile.placement.apply(mark.at));
                let rings = self.pages[s].closed.iter().filter(|c| c.is_ring);
                let ring = rings
                    .map(|c| c.centre())
                    .min_by(|p, q| far(*p, span).total_cmp(&far(*q, span)))
                    .unwrap();
                let at = sub(way.apply(by.print(&self.pages[s], ring)), a);
                let moved = [
                    at.0 * along.0 + at.1 * along.1 - mm(mark.at.x - origin.x),
                    at.1 * along.0 - at.0 * along.1 - mm(mark.at.y - origin.y),
                ];
                let from = *first.get_or_insert(moved);
                for i in 0..2 {
                    worst[i] = worst[i].max((moved[i] - from[i]).abs());
                }
                seen += 1;
            }
        }
        assert!(seen >= 10, "only {seen} marks");
        worst
    }
}
