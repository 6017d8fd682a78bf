//! The long check of a joined piece: two lines, what a tape must read between them, and how
//! far off the last hole may then be.

use super::Request;
use super::annotations;
use super::plan::{PlacedTile, Plan};
use crate::fit::{DAMP, JoinCounts, MeasurementUncertainty, in_quadrature};
use crate::geom::{Extent, Length, Point, Ratio, Strap};
use crate::layout::{MarkKind, Piece};
use crate::words::{Units, Word, Wording};

/// From the ends of a piece inward to the lines, so that no tile is longer for them.
const INSET: Length = Length::from_mm(3);
/// From the strap's edge to the middle of a line: it stands on the edge.
const OUT: Length = Length::from_mm(2);
/// Between a match line and a line: half of a cross, the sign of the line, and some air.
const FROM_JOIN: Length = Length::from_mm(10);
/// Lengths are whole multiples of the first of these where possible, to be easy to read, else
/// of the second.
const ROUND: [Length; 2] = [Length::from_mm(10), Length::from_mm(1)];
const ROUND_INCHES: [Length; 2] = [Length::from_inches(1), Length::from_inch_64ths(8)];
const TENTH: Length = Length::from_um(100);

/// What to measure on a joined piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripCheck {
    /// Index of the piece in the layout.
    pub piece: usize,
    /// The letters of the two lines: `A` and `B`.
    pub labels: [String; 2],
    /// The middle of the line near the start.
    pub from: Point<Strap>,
    /// The middle of the line near the end, as far out from the edge of its own tile.
    pub to: Point<Strap>,
    /// The distance of the lines.
    pub length: Length,
    /// The readings at which a print is accepted.
    pub window: Extent,
    /// The number of joins between the lines.
    pub joins: usize,
    /// The hole that is farthest from the start.
    pub last_hole: Option<LastHole>,
}

/// How far off the last hole may be, measured from the bend: expanded uncertainties (k = 2),
/// rounded up to a tenth of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LastHole {
    /// The reading there of a tape hooked on the outside of the bend.
    pub reading: Length,
    /// The number of joins between the bend and the hole.
    pub joins: usize,
    /// How far off while only the scale bar along the strap was read and accepted.
    pub by_bar: Length,
    /// How far off according to the printer's file, on any day; `None` where that says no more
    /// than the bar.
    pub by_printer: Option<Length>,
    /// How far off once the long check was read and accepted.
    pub by_check: Length,
}

impl StripCheck {
    /// What it must be, and what to accept: `Joined, A to B: 1100 mm`, `accept 1098.8 to
    /// 1101.2`.
    pub fn words(&self, wording: Wording) -> (String, String) {
        let [from, to] = &self.labels;
        let length = wording.near(self.length);
        let accepted = wording.accepted(self.length, self.window);
        (
            wording
                .fill(Word::Joined, &[("from", from), ("to", to), ("length", &length)]),
            wording.fill(Word::Accept, &[("window", &accepted)]),
        )
    }

    /// The same in fewer words: `A2 to B2: 480 mm`, `478.9 to 481.1`.
    pub fn short_words(&self, wording: Wording) -> (String, String) {
        let [from, to] = &self.labels;
        let ends = wording.fill(Word::FromTo, &[("from", from), ("to", to)]);
        let said = wording.labelled(&ends, &wording.near(self.length));
        (said, wording.accepted(self.length, self.window))
    }

    /// Both in a line.
    pub fn sentence(&self, wording: Wording) -> String {
        let (length, accept) = self.words(wording);
        format!("{length}; {accept}")
    }
}

/// Computes the checks of all pieces that have joins.
pub(super) fn compute(request: &Request<'_>, plan: &Plan<'_>) -> Vec<StripCheck> {
    let &Request { layout, measuring, .. } = request;
    let units = request.heading.wording.units;
    let round = if units == Units::Inches { ROUND_INCHES } else { ROUND };
    let mut checks: Vec<StripCheck> = Vec::new();
    for (index, piece) in layout.pieces.iter().enumerate() {
        let own = plan.joins.iter().filter(|(i, _)| *i == index);
        let lines: Vec<Length> = own.map(|(_, x)| *x).collect();
        let Some((&last, page)) = lines.last().zip(plan.page_of(index)) else { continue };
        let [bar, _] = annotations::bar_lengths(page, units);
        let proven = request.scaling(page).map(|[width, _]| width.proven);
        let from = piece.extent.from + INSET;
        let most = piece.extent.length() - INSET * 2;
        let number = match checks.len() {
            0 => String::new(),
            n => (n + 1).to_string(),
        };
        let upper = |t: &&PlacedTile<'_>| t.span.index == index && t.span.above.is_none();
        let upper = || plan.tiles().filter(upper);
        let above = |tile: Option<&PlacedTile<'_>>| {
            tile.map_or(piece.width / 2, |t| t.span.edges().to) + OUT
        };
        let start_y = above(upper().find(|t| t.span.left.is_none()));
        let end_y = above(upper().find(|t| t.span.right.is_none()));
        let along = |length| leg(length, end_y - start_y);
        let is_past = |length: &Length| from + along(*length) >= last + FROM_JOIN;
        let length = round.map(|step| most.floor_to(step)).into_iter().find(is_past);
        let length = length.unwrap_or(most);
        checks.push(StripCheck {
            piece: index,
            labels: ["A", "B"].map(|end| format!("{end}{number}")),
            from: Point::new(from, start_y),
            to: Point::new(from + along(length), end_y),
            length,
            window: measuring.window(length, lines.len()),
            joins: lines.len(),
            last_hole: last_hole(piece, &lines, measuring, bar, proven, length),
        });
    }
    checks
}

/// The leg of a right triangle with this hypotenuse and this other leg.
fn leg(hypotenuse: Length, other: Length) -> Length {
    Length::from_square(hypotenuse.square() - other.square())
}

/// A scale that was read on one length is as uncertain, in proportion, on another. `bar` is
/// the length of the scale bar, `check` that of the long check, and `proven` the uncertainty
/// of the printer's file.
fn last_hole(
    piece: &Piece,
    lines: &[Length],
    measuring: MeasurementUncertainty,
    bar: Length,
    proven: Option<Ratio>,
    check: Length,
) -> Option<LastHole> {
    let way = way_to_last(piece)?;
    let joins = lines.iter().filter(|&&x| way.from < x && x < way.to).count();
    let by_printer = |proven: Ratio| {
        let [file, damp] = [proven, DAMP].map(|part| part.times(way.length()));
        up(in_quadrature(&[file, damp, measuring.of_joins(joins)]))
    };
    let on_bar = JoinCounts { distance_only: joins, ..JoinCounts::default() };
    let on_strip =
        JoinCounts { both: joins, length_only: lines.len() - joins, distance_only: 0 };
    let accepted = |read, joins| up(measuring.of_distance(way.length(), read, joins));
    let by_bar = accepted(bar, on_bar);
    Some(LastHole {
        reading: piece.from_bend(way.to),
        joins,
        by_bar,
        // A file that was measured with another paper claims nothing.
        by_printer: proven.map(by_printer).filter(|by| *by < by_bar),
        by_check: accepted(check, on_strip),
    })
}

/// From the bend, or from the start of a piece without one, to its last hole; where it has
/// none, to its last opening.
pub(super) fn way_to_last(piece: &Piece) -> Option<Extent> {
    let holes = piece.marks.iter().filter(|m| m.kind == MarkKind::Hole);
    let openings = piece.marks.iter().filter(|m| m.is_opening());
    let at = holes.map(|m| m.at.x).max().or(openings.map(|m| m.at.x).max())?;
    let zero = piece.bend.map_or(piece.extent.from, |_| Length::ZERO);
    Some(Extent::new(zero, at))
}

/// Up to the next tenth of a millimetre: less would promise too much.
fn up(length: Length) -> Length {
    -(-length).floor_to(TENTH)
}

#[cfg(test)]
mod tests {
    use super::super::area::Area;
    use super::super::canvas::TextItem;
    use super::super::tests::{PAPERS, belt, demo, um};
    use super::super::{Heading, Item, Paper, Request, Sheet, SheetSet, paginate};
    use super::*;
    use crate::geom::Path;
    use crate::layout::Layout;
    use crate::words::Language;

    fn print(layout: &Layout, paper: &str) -> SheetSet {
        let (heading, paper) = (Heading::default(), Paper::parse(paper).unwrap());
        paginate(&Request::new(layout, &heading, &paper)).unwrap()
    }

    /// A belt of 1110 mm on A4, five tiles: 1100 mm from 3 mm inside the end. By hand, with
    /// a ruler of class II: permitted up to 2 m 0.7, so 4/3 · 0.49 + 2 · 0.25 + 4 · 0.09 =
    /// 1.5133; its root 1.2302, rounded inward 1.2.
    #[test]
    fn the_long_check_is_round_and_has_its_window() {
        let set = print(&demo(), "a4");
        let [check] = set.checks.as_slice() else { unreachable!("{:?}", set.checks) };
        assert_eq!((set.joins.len(), check.joins), (4, 4));
        assert_eq!((check.from.x, check.to.x), (um(-87_000), um(1_013_000)));
        assert_eq!(check.from.y, check.to.y);
        assert_eq!(
            check.sentence(Wording::default()),
            "Joined, A to B: 1100 mm; accept 1098.8 to 1101.2"
        );
        // The last hole, 942.4 mm from the bend, with all four joins on the way. By the
        // bar of 260 mm, 0.9 accepted: √(4/3 · 0.81 + 0.8333) · 942.4 / 260 = 5.014 and
        // √4 · 0.3 = 0.6: 5.049. By the check, 1.2 accepted: √(4/3 · 1.44 + 4/3 · 0.49 + 0.5)
        // = 1.7531 · 942.4 / 1100 = 1.5019 and √4 · 0.3 · (1 - 0.8567) = 0.086: 1.504.
        let hole = check.last_hole.unwrap();
        assert_eq!(hole.joins, 4);
        assert_eq!(hole.by_bar.mm(3), "5.100");
        assert_eq!(hole.by_check.mm(3), "1.600");
        assert_eq!(hole.by_printer, None);
        assert_eq!(print(&demo(), "roll").checks, []);
    }

    fn spots(path: &Path<crate::geom::Sheet>) -> impl Iterator<Item = Area> {
        let ends = path.steps.iter().map(|s| s.to());
        std::iter::once(path.start).chain(ends).map(|p| Area::around(p, Length::ZERO))
    }

    /// Ends of strokes and words in an area.
    fn ink(sheet: &Sheet, area: Area) -> usize {
        let held = |item: &Item| match item {
            Item::Stroke { paths, .. } | Item::Fill { paths, .. } => {
                paths.iter().flat_map(spots).filter(|s| area.holds(*s)).count()
            }
            Item::TickRows { tick_rows, .. } => {
                let feet = tick_rows
                    .iter()
                    .flat_map(|c| (0..c.count).map(move |n| (c, c.base(n))));
                let ends = feet.flat_map(|(c, foot)| [foot, foot + c.tick]);
                ends.filter(|p| area.holds(Area::around(*p, Length::ZERO))).count()
            }
            Item::Text { at, anchor, turn, size, text, .. } => {
                let mut item = TextItem::new(*at, *anchor, *size, text);
                item.turn = *turn;
                usize::from(area.overlaps(item.area()))
            }
        };
        sheet.items.iter().map(held).sum()
    }

    /// About each line lies the tip of its triangle and nothing else, on every paper and for
    /// every width.
    #[test]
    fn nothing_touches_a_and_b() {
        let mut seen = 0;
        for paper in PAPERS {
            for (width, longer) in [(38_100, 0), (20_000, 37_123), (30_000, 900_001)] {
                let layout = belt(um(width), um(longer));
                let set = print(&layout, paper);
                for check in &set.checks {
                    for at in [check.from, check.to] {
                        let zone = Extent { from: at.x, to: at.x };
                        let all = set.sheets.iter();
                        let on = all.flat_map(|s| s.tiles.iter().map(move |t| (s, t)));
                        let drawn = on
                            .filter(|(_, t)| t.stretch.holds(zone))
                            .map(|(s, t)| {
                                let at = t.placement.apply(at);
                                let x = Extent::at(at.x).grown(um(900));
                                let y = Extent::at(at.y).grown(um(1_900));
                                ink(s, Area::new(x, y))
                            })
                            .filter(|n| *n > 0)
                            .collect::<Vec<_>>();
                        assert_eq!(drawn, [1], "{paper} {width} {longer}");
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen > 20, "{seen}");
    }

    /// Upright, along the left, and below: `accept 259.1 to 260.9` beside a bar of 260 mm,
    /// by 0.9129 rounded inward, in every language and on every paper.
    #[test]
    fn every_bar_says_what_to_accept() {
        let layout = demo();
        for (paper, language) in
            PAPERS.iter().flat_map(|p| Language::ALL.iter().map(move |l| (p, *l)))
        {
            let wording = Wording { language, ..Wording::default() };
            let heading = Heading { wording, ..Heading::default() };
            let paper = Paper::parse(paper).unwrap();
            let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
            for sheet in &set.sheets {
                for bar in &sheet.bars {
                    let window = bar.window(MeasurementUncertainty::default());
                    let ends = [window.from, window.to].map(|l| wording.number(l, 1));
                    let range = wording
                        .fill(Word::FromTo, &[("from", &ends[0]), ("to", &ends[1])]);
                    let said = sheet.items.iter().any(
                        |i| matches!(i, Item::Text { text, .. } if text.contains(&range)),
                    );
                    assert!(said, "{} {language:?}: {range}", paper.name());
                }
            }
        }
        let bar = print(&layout, "a4").sheets[0].bars[0];
        let window = bar.window(MeasurementUncertainty::default());
        assert_eq!([window.from.mm(1), window.to.mm(1)], ["259.1", "260.9"]);
    }

    #[test]
    fn every_joined_piece_has_letters_of_its_own() {
        let mut layout = demo();
        let mut short = layout.pieces[0].clone();
        short.marks.clear();
        short.extent = Extent { from: um(0), to: um(100_000) };
        short.outline = Path::rectangle(
            Point::new(um(0), um(-19_050)),
            Point::new(um(100_000), um(19_050)),
        );
        layout.pieces.insert(1, short);
        layout.pieces.push(layout.pieces[0].clone());
        let set = print(&layout, "a4");
        let labels: Vec<_> =
            set.checks.iter().map(|c| (c.piece, c.labels.join(" "))).collect();
        assert_eq!(labels, [(0, "A B".to_owned()), (2, "A2 B2".to_owned())]);
    }
}
