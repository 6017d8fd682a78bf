//! The calibration print: a plain joined strip with a long line, a line across and verniers.
//!
//! A vernier has ten lines 1.1 mm apart from the end of a line inward. If the end reads a
//! whole number of mm and k tenths, the k-th of them meets a line of a ruler in mm, since
//! k · 1.1 mm is k mm and k tenths (the retrograde vernier; handbooks of workshop metrology).
//! So 0.1 mm is read by eye. The ticks every 20 mm show where the feed of a printer slipped.

use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{FeatureId, PieceId};
use crate::layout::{Guide, GuideShape, Layout, Piece};
use crate::paginate::{
    Gauge, GaugeStrip, Heading, PaginateError, Paper, PaperForm, Request, SheetSet,
    paginate,
};
use crate::words::Name;

const MM: Length = Length::from_mm(1);
/// Half the width of the strip: so wide that each sheet of A4 has one tile.
const HALF: Length = Length::from_mm(75);
/// From the start of the strip to the start of the long line.
const INSET: Length = Length::from_mm(5);
/// The long line, and its part on the first sheet.
const LONG: i64 = 900;
const PART: i64 = 200;
/// The line across.
const ACROSS: i64 = 120;
/// Where the long line lies, and where the line across begins.
const LONG_AT: Length = Length::from_mm(62);
const ACROSS_AT: Point<Strap> = Point::new(Length::from_mm(30), Length::from_mm(-70));
const VERNIER: Length = Length::from_um(1_100);
const TEXT: Length = Length::from_um(3_000);
const SMALL: Length = Length::from_um(2_000);

/// What to do, with the lines to read.
fn words(ends: &[i64]) -> [String; 6] {
    let lines: Vec<String> = ends.iter().map(|end| format!("line {end}")).collect();
    [
        "Join the sheets. Lay a steel ruler along the long line, its 0 on line 0."
            .to_owned(),
        format!("Read {}, then line {ACROSS} of the line across.", lines.join(" and ")),
        "Whole mm: the last one before the line. Tenths: the short line, 0 to 9 from"
            .to_owned(),
        "the line inward, that meets a mm line of the ruler.".to_owned(),
        "Are all ticks every 20 mm on mm lines alike? From where they are not, the"
            .to_owned(),
        "feed of the printer slipped: clean its rollers and print again.".to_owned(),
    ]
}

/// The calibration print on `paper`, and its layout.
///
/// # Errors
/// When the paper is too small for it.
pub fn calibration_print(paper: &Paper) -> Result<(SheetSet, Layout), PaginateError> {
    let is_roll = matches!(paper.form(), PaperForm::Roll { .. });
    let part = if is_roll { LONG } else { PART };
    let layout = layout(if is_roll { &[LONG] } else { &[PART, LONG] });
    let heading = Heading { title: "Calibration print".to_owned(), ..Heading::default() };
    let reading = Length::from_um(100);
    let measuring =
        MeasurementUncertainty { reading, ..MeasurementUncertainty::default() };
    let request = Request { measuring, ..Request::new(&layout, &heading, paper) };
    let mut set = paginate(&request)?;
    let first_join = set.joins.first().map_or(extent().to, |(_, x)| *x);
    if first_join < MM * (PART + 10) || !set.lengthwise_joins.is_empty() {
        return Err(PaginateError::PaperTooSmall { paper: paper.name().to_owned() });
    }
    let joins = set.checks.first().map(|check| check.joins);
    set.gauge = set.gauge.map(|gauge| Gauge {
        bars: [part, ACROSS].map(Length::from_mm),
        names: [
            format!("line 0 to line {part} along the strip"),
            format!("line 0 to line {ACROSS} across the strip"),
        ],
        strip: joins.map(|joins| GaugeStrip {
            labels: ["line 0".to_owned(), format!("line {LONG}")],
            length: Length::from_mm(LONG),
            joins,
            is_wide: true,
        }),
        last: None,
        ..gauge
    });
    Ok((set, layout))
}

fn extent() -> Extent {
    Extent { from: Length::ZERO, to: MM * LONG }.grown(INSET)
}

/// The strip, with a vernier before each of `ends` of the long line.
fn layout(ends: &[i64]) -> Layout {
    let extent = extent();
    let along = Line { from: Point::new(Length::ZERO, LONG_AT), is_along: true };
    let across = Line { from: ACROSS_AT, is_along: false };
    let mut shapes = along.shapes(LONG, ends);
    shapes.extend(across.shapes(ACROSS, &[ACROSS]));
    for (n, text) in (0..).zip(words(ends)) {
        let at = Point::new(MM * 130, MM * 35 - MM * 6 * n);
        shapes.push(GuideShape::Words { at, size: TEXT, text });
    }
    let guide = |shape| Guide { feature: FeatureId(0), shape };
    let name = Name::given("calibration strip");
    let (low, high) = (Point::new(extent.from, -HALF), Point::new(extent.to, HALF));
    let outline = Path::rectangle(low, high);
    Layout {
        pieces: vec![Piece {
            guides: shapes.into_iter().map(guide).collect(),
            ..Piece::plain(PieceId::STRAP, name.clone(), HALF * 2, MM, outline)
        }],
        features: vec![name],
    }
}

/// A measuring line. The ruler lies on its right side, and all ticks are on its left, seen
/// from its start.
struct Line {
    from: Point<Strap>,
    is_along: bool,
}

impl Line {
    fn at(&self, along: Length, aside: Length) -> Point<Strap> {
        let Point { x, y, .. } = self.from;
        if self.is_along {
            Point::new(x + along, y + aside)
        } else {
            Point::new(x - aside, y + along)
        }
    }

    fn tick(&self, along: Length, aside: Length) -> GuideShape {
        let [from, to] = [Length::ZERO, aside].map(|aside| self.at(along, aside));
        GuideShape::Crease(Path::line(from, to))
    }

    fn words(&self, along: Length, aside: Length, size: Length, n: i64) -> GuideShape {
        GuideShape::Words { at: self.at(along, aside), size, text: n.to_string() }
    }

    /// The line itself, `long` mm; a tick every 20 mm, and a vernier before each of `ends`.
    fn shapes(&self, long: i64, ends: &[i64]) -> Vec<GuideShape> {
        let whole = [Length::ZERO, MM * long].map(|along| self.at(along, Length::ZERO));
        let mut shapes = vec![GuideShape::Crease(Path::line(whole[0], whole[1]))];
        for along in (0..=long / 20).map(|n| n * 20) {
            let is_named = along % 100 == 0 || along == long;
            shapes.push(self.tick(MM * along, if is_named { MM * 6 } else { MM * 3 }));
            if is_named {
                shapes.push(self.words(MM * along, MM * 9, TEXT, along));
            }
        }
        for end in ends.iter().map(|end| MM * *end) {
            for n in 1..=9 {
                shapes.push(
                    self.tick(end - VERNIER * n, if n == 5 { MM * 4 } else { MM * 3 }),
                );
            }
            shapes.push(self.words(end - VERNIER * 5, MM * 6, SMALL, 5));
        }
        shapes
    }
}
