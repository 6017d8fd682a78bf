//! The long check of a joined piece: two crosses, what a tape must read between them, and
//! how far off the last hole may then be.

use super::annotations;
use super::correction::Scaling;
use super::lanes::{BESIDE, Lane, Plan};
use crate::fit::{JoinCounts, MeasurementUncertainty, in_quadrature};
use crate::geom::{Extent, Length, Point, QuarterTurn, Ratio, Strap};
use crate::layout::{Layout, MarkKind, Piece};
use crate::words::{Word, Wording};

/// From the ends of a piece to the crosses: inside of them, so that no tile is longer.
const INSET: Length = Length::from_mm(3);
/// From the strap's edge to the middle of a cross: above the ticks of the ruler.
const OUT: Length = Length::from_um(5_500);
const _: () = assert!(OUT.nm() + ARM.nm() < BESIDE.nm());
/// Half a cross.
pub(super) const ARM: Length = Length::from_mm(2);
/// Between a match line and a cross: half of each cross and some air.
const FROM_JOIN: Length = Length::from_mm(6);
/// A round number for the reading's sake.
const ROUND: Length = Length::from_mm(10);
const TENTH: Length = Length::from_um(100);

/// What to measure on a joined piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripCheck {
    /// Which piece of the layout.
    pub piece: usize,
    /// What stands beside the two crosses: `A` and `B`.
    pub labels: [String; 2],
    /// Where the cross near the start is.
    pub from: Point<Strap>,
    /// Where the cross near the end is, as far out from the edge of its own tile.
    pub to: Point<Strap>,
    /// From the one to the other.
    pub length: Length,
    /// What a ruler may read there on a print that is accepted.
    pub window: Extent,
    /// How many joins lie between them.
    pub joins: usize,
    /// The farthest hole.
    pub last_hole: Option<LastHole>,
}

/// How far off the last hole may be, counted from the bend (k = 2), rounded up to a tenth of
/// a millimetre as it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LastHole {
    /// What a tape hooked on the outside of the bend should read there.
    pub reading: Length,
    /// How many joins lie between the bend and the hole.
    pub joins: usize,
    /// How far off while only the scale bar along the strap has been read, within its
    /// window.
    pub by_bar: Length,
    /// How far off by what the printer's file proves.
    pub by_printer: Option<Length>,
    /// How far off once the long check was read within its window.
    pub by_check: Length,
}

impl StripCheck {
    /// `cross A to cross B: 1100 mm; accept 1098.9 to 1101.1`; of inches, to the nearest
    /// 1/64.
    pub fn sentence(&self, wording: Wording) -> String {
        self.say(&wording.near(self.length), &wording.window(self.window), wording)
    }

    /// The same with the millimetres behind the inches, which are not as fine.
    pub fn full_sentence(&self, wording: Wording) -> String {
        self.say(&wording.size(self.length), &wording.full_window(self.window), wording)
    }

    fn say(&self, length: &str, [least, most]: &[String; 2], wording: Wording) -> String {
        let [from, to] = &self.labels;
        wording.fill(Word::CheckEnds, &[from, to, &length, &least, &most])
    }
}

/// The checks of all pieces that have joins.
pub(super) fn of(
    layout: &Layout,
    plan: &Plan,
    scaling: Option<&Scaling>,
    measuring: MeasurementUncertainty,
) -> Vec<StripCheck> {
    let mut checks: Vec<StripCheck> = Vec::new();
    for (index, piece) in layout.pieces.iter().enumerate() {
        let lines: Vec<Length> =
            plan.joins.iter().filter(|(i, _)| *i == index).map(|(_, x)| *x).collect();
        let Some(&last) = lines.last() else { continue };
        let from = piece.extent.from + INSET;
        let most = piece.extent.length() - INSET * 2;
        let round = ROUND * (most.nm() / ROUND.nm());
        let nth = if checks.is_empty() {
            String::new()
        } else {
            (checks.len() + 1).to_string()
        };
        let own = |is_end: &dyn Fn(&Lane) -> bool| {
            let is_own = |l: &&Lane| l.part.piece == index && l.above.is_none();
            let lane = plan.sheets.iter().flatten().find(|l| is_own(l) && is_end(l));
            lane.map_or(piece.width / 2, |l| l.edges().to) + OUT
        };
        let ends = [own(&|l| l.left.is_none()), own(&|l| l.right.is_none())];
        let along = |length| leg(length, ends[1] - ends[0]);
        let length = if from + along(round) >= last + FROM_JOIN { round } else { most };
        let axis = Along::of(plan, index, scaling);
        checks.push(StripCheck {
            piece: index,
            labels: ["A", "B"].map(|end| format!("{end}{nth}")),
            from: Point::new(from, ends[0]),
            to: Point::new(from + along(length), ends[1]),
            length,
            window: measuring.window(length, lines.len()),
            joins: lines.len(),
            last_hole: last_hole(piece, &lines, measuring, axis, length),
        });
    }
    checks
}

/// How far apart along the strap two places are, by how far they are apart and how far
/// across.
fn leg(far: Length, across: Length) -> Length {
    Length::from_square(far.square() - across.square())
}

/// What is known of the axis of the page along which a piece lies.
#[derive(Clone, Copy)]
struct Along {
    /// The scale bar.
    bar: Length,
    /// What the printer's file proves.
    proven: Option<Ratio>,
}

impl Along {
    fn of(plan: &Plan, piece: usize, scaling: Option<&Scaling>) -> Self {
        let [wide, tall] = annotations::bar_lengths(plan.page);
        let lane = plan.sheets.iter().flatten().find(|l| l.part.piece == piece);
        match lane.map_or(QuarterTurn::None, |l| l.placement.turn()) {
            QuarterTurn::None => {
                Self { bar: wide, proven: scaling.map(|s| s.width.proven) }
            }
            QuarterTurn::Left => {
                Self { bar: tall, proven: scaling.map(|s| s.height.proven) }
            }
        }
    }
}

/// A scale that was read on one length is as unsure, in proportion, on another.
fn last_hole(
    piece: &Piece,
    lines: &[Length],
    measuring: MeasurementUncertainty,
    along: Along,
    check: Length,
) -> Option<LastHole> {
    let holes = || piece.marks.iter().filter(|m| m.kind == MarkKind::Hole);
    let openings = piece.marks.iter().filter(|m| m.is_opening());
    let at = holes().map(|m| m.at.x).max().or(openings.map(|m| m.at.x).max())?;
    let zero = piece.bend.map_or(piece.extent.from, |_| Length::ZERO);
    let way = Extent::new(zero, at);
    let joins = lines.iter().filter(|&&x| way.from < x && x < way.to).count();
    let by_printer =
        |p: Ratio| up(in_quadrature(&[p.times(way.length()), measuring.of_joins(joins)]));
    let on_bar = JoinCounts { distance_only: joins, ..JoinCounts::default() };
    let on_strip =
        JoinCounts { both: joins, length_only: lines.len() - joins, distance_only: 0 };
    let accepted = |read, joins| up(measuring.of_distance(way.length(), read, joins));
    Some(LastHole {
        reading: piece.from_bend(at),
        joins,
        by_bar: accepted(along.bar, on_bar),
        by_printer: along.proven.map(by_printer),
        by_check: accepted(check, on_strip),
    })
}

/// To the next tenth of a millimetre: less would say more than holds.
fn up(length: Length) -> Length {
    TENTH * ((length.nm() + TENTH.nm() - 1) / TENTH.nm())
}

#[cfg(test)]
mod tests {
    use super::super::canvas::Area;
    use super::super::tests::{PAPERS, belt, demo, um};
    use super::super::{Heading, Item, Paper, Request, Sheet, SheetSet, paginate};
    use super::*;
    use crate::geom::Path;
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
            "cross A to cross B: 1100 mm; accept 1098.8 to 1101.2"
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
        std::iter::once(path.start).chain(ends).map(|p| Area::about(p, Length::ZERO))
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
                ends.filter(|p| area.holds(Area::about(*p, Length::ZERO))).count()
            }
            Item::Text { at, anchor, turn, size, text, .. } => {
                let mut words =
                    super::super::canvas::Words::new(*at, *anchor, *size, text);
                words.turn = *turn;
                usize::from(area.overlaps(words.area()))
            }
        };
        sheet.items.iter().map(held).sum()
    }

    /// In the square about each cross lie its own four ends, the four corners of its
    /// diamond and nothing else, on every paper and for every width.
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
                                let about = Area::about(t.placement.apply(at), ARM);
                                ink(s, about.grown(um(300)))
                            })
                            .filter(|n| *n > 0)
                            .collect::<Vec<_>>();
                        assert_eq!(drawn, [8], "{paper} {width} {longer}");
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
                    let words = wording.fill(Word::AcceptOnBar, &[&ends[0], &ends[1]]);
                    let said = sheet
                        .items
                        .iter()
                        .any(|i| matches!(i, Item::Text { text, .. } if *text == words));
                    assert!(said, "{} {language:?}: {words}", paper.name());
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
