//! Whether the sheets show the strap. Every rule computes from the layout and the placements
//! of the tiles what must be there, in whole nanometres; none asks how it was drawn.

use crate::diagnostic::{Finding, RuleId};
use crate::fit::Bend;
use crate::geom::{
    Extent, Length, Path, Point, QuarterTurn, Segment, Sheet as OnSheet, Step, Strap,
};
use crate::layout::{Guide, Layout, MarkKind, NestedSize, Piece};
use crate::paginate::{Claim, Item, Layer, Pen, Sheet, SheetSet, Tile};
use crate::verify::rule;
use std::collections::{BTreeMap, BTreeSet};

/// How far a computed point may be from a path: both are rounded to the nanometre.
const ROUNDING: Length = Length::from_nm(5);
/// How far the label of a cross may stand from its cross.
const TO_LABEL: Length = Length::from_mm(8);
/// Pages may be scaled about their middle by their printer's correction; tiles then still lie
/// within the page by this much more.
const HALF: i64 = 2;

/// What is wrong with the sheets of `set`.
pub(super) fn sheets(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
) -> Vec<Finding> {
    let mut findings = Vec::new();
    coverage(set, layout, &mut findings);
    crosses(set, layout, &mut findings);
    for sheet in &set.sheets {
        let mut judge = Judge { sheet, layout, drawn: Drawn::new(sheet), findings };
        judge.tiles();
        judge.marks();
        judge.outlines(rows);
        judge.folds();
        judge.guides();
        judge.claims();
        judge.bars();
        findings = judge.findings;
    }
    findings
}

fn error(
    id: RuleId,
    sheet: usize,
    message: &str,
    found: String,
    wanted: String,
) -> Finding {
    Finding::error(id, format!("sheet {sheet}: {message}")).expected(found, wanted)
}

/// Every point of every piece lies on a tile; every mark lies whole on one, or a finding
/// names it.
fn coverage(set: &SheetSet, layout: &Layout, findings: &mut Vec<Finding>) {
    let tiles = || set.sheets.iter().chain(&set.left_out).flat_map(|s| &s.tiles);
    for (index, piece) in layout.pieces.iter().enumerate() {
        let own: Vec<&Tile> = tiles().filter(|t| t.piece == index).collect();
        let mut ends: Vec<Length> = own.iter().map(|t| t.stretch.from).collect();
        ends.push(piece.extent.from);
        ends.extend(own.iter().map(|t| t.stretch.to));
        ends.retain(|x| piece.extent.holds(Extent::at(*x)));
        ends.push(piece.extent.to);
        ends.sort_unstable();
        ends.dedup();
        let is_covered = |pair: &[Length]| {
            let part = Extent { from: pair[0], to: pair[1] };
            let Some(edges) = piece.edges(part) else { return false };
            let beside = own.iter().filter(|t| t.stretch.holds(part));
            let mut bands: Vec<Extent> = beside.map(|t| t.across).collect();
            bands.sort_unstable();
            let reached = bands.iter().fold(edges.from, |reached, band| {
                if band.from <= reached { reached.max(band.to) } else { reached }
            });
            reached >= edges.to
        };
        let gap = ends.windows(2).find(|pair| !is_covered(pair));
        if let Some([from, to]) = gap {
            findings.push(
                Finding::error(
                    rule::PIECE_MISSING,
                    format!("a part of `{}` is on no sheet", piece.name),
                )
                .expected(format!("no tile from {from} to {to}"), "tiles over all of it"),
            );
        }
        let is_whole = |mark: &&crate::layout::Mark| {
            own.iter().any(|t| t.holds(mark)) || mark.path().is_none()
        };
        if let Some(mark) = piece.marks.iter().find(|m| !is_whole(m))
            && set.findings.is_empty()
        {
            findings.push(
                Finding::error(rule::MARK_MISSING, "a mark lies whole on no sheet")
                    .at(mark.span.clone())
                    .expected(
                        format!(
                            "a mark at x {} of `{}`, in a join",
                            mark.at.x, piece.name
                        ),
                        "a finding that says so",
                    ),
            );
        }
    }
}

/// A cross: its sheet, its tile and its place on the strap.
type PlacedCross<'a> = (&'a Sheet, &'a Tile, Point<Strap>);

/// Crosses of one name are one place on the strap, and stand on the two tiles of a join.
fn crosses(set: &SheetSet, layout: &Layout, findings: &mut Vec<Finding>) {
    let mut named: BTreeMap<&str, Vec<PlacedCross<'_>>> = BTreeMap::new();
    for sheet in &set.sheets {
        for tile in &sheet.tiles {
            for cross in &tile.crosses {
                let entry = named.entry(&cross.label).or_default();
                entry.push((sheet, tile, cross.on_strap));
            }
        }
    }
    let is_whole = set.left_out.is_empty() && set.reused.is_empty();
    for (label, all) in &named {
        let first = all[0];
        let same =
            all.iter().all(|(_, t, at)| t.piece == first.1.piece && *at == first.2);
        if !same || all.len() > 2 || is_whole && all.len() < 2 {
            findings.push(error(
                rule::CROSS_ODD,
                first.0.number,
                &format!("cross {label} does not stand on two tiles at one place"),
                format!("{} of that name", all.len()),
                "2, at the same place of one piece".to_owned(),
            ));
        }
    }
    if !is_whole {
        return;
    }
    // Tiles that share an edge of a piece share two crosses.
    for (index, piece) in layout.pieces.iter().enumerate() {
        let tiles = set.sheets.iter().flat_map(|s| s.tiles.iter().map(move |t| (s, t)));
        let own: Vec<(&Sheet, &Tile)> = tiles.filter(|(_, t)| t.piece == index).collect();
        for (sheet, tile) in &own {
            let before = piece.extent.from < tile.stretch.from;
            let after = tile.stretch.to < piece.extent.to;
            let joins = usize::from(before) + usize::from(after);
            if tile.crosses.len() < joins * 2 {
                findings.push(error(
                    rule::CROSS_ODD,
                    sheet.number,
                    &format!("a tile of `{}` cannot be joined", piece.name),
                    format!("{} crosses", tile.crosses.len()),
                    format!("{}, two a join", joins * 2),
                ));
            }
        }
    }
}

/// What a sheet draws, for looking up.
struct Drawn<'a> {
    /// The closed forms of the layer of punches.
    punched: BTreeSet<&'a Path<OnSheet>>,
    /// All strokes with their layer and pen.
    strokes: Vec<(Layer, Pen, &'a Path<OnSheet>)>,
    /// Lines of the guides, by where they begin.
    lines: BTreeMap<Point<OnSheet>, Vec<Point<OnSheet>>>,
}

impl<'a> Drawn<'a> {
    fn new(sheet: &'a Sheet) -> Self {
        let (mut punched, mut strokes) = (BTreeSet::new(), Vec::new());
        let mut lines: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for item in &sheet.items[sheet.head.min(sheet.items.len())..] {
            let Item::Stroke { layer, pen, paths } = item else { continue };
            for path in paths {
                if *layer == Layer::Punch {
                    punched.insert(path);
                }
                if let (Layer::Guides, [Step::Line { to }]) =
                    (layer, path.steps.as_slice())
                {
                    lines.entry(path.start).or_default().push(*to);
                }
                strokes.push((*layer, *pen, path));
            }
        }
        Self { punched, strokes, lines }
    }

    fn has_line(&self, from: Point<OnSheet>, to: Point<OnSheet>) -> bool {
        let found =
            |a: &Point<OnSheet>, b| self.lines.get(a).is_some_and(|e| e.contains(b));
        found(&from, &to) || found(&to, &from)
    }

    /// Whether a cross stands at a place: two lines of equal arms meet there.
    fn has_cross(&self, at: Point<OnSheet>, sheet: &Sheet) -> bool {
        // A cross's left arm begins on its level, within half the page.
        let reach = sheet.width / HALF;
        let level = self.lines.iter().filter(|(from, _)| from.y == at.y);
        level.flat_map(|(from, ends)| ends.iter().map(move |to| (*from, *to))).any(
            |(from, to)| {
                let arm = at.x - from.x;
                to.y == at.y
                    && to.x - at.x == arm
                    && arm < reach
                    && self.has_line(
                        Point::new(at.x, at.y - arm),
                        Point::new(at.x, at.y + arm),
                    )
            },
        )
    }
}

/// One sheet against the layout.
struct Judge<'a> {
    sheet: &'a Sheet,
    layout: &'a Layout,
    drawn: Drawn<'a>,
    findings: Vec<Finding>,
}

impl<'a> Judge<'a> {
    fn find(&mut self, id: RuleId, message: &str, found: String, wanted: &str) {
        let number = self.sheet.number;
        self.findings.push(error(id, number, message, found, wanted.to_owned()));
    }

    fn pieces(&self) -> impl Iterator<Item = (&'a Tile, &'a Piece)> + use<'a> {
        let layout = self.layout;
        self.sheet.tiles.iter().filter_map(|t| Some((t, layout.pieces.get(t.piece)?)))
    }

    /// Tiles are upright, lie on their page and not on each other.
    fn tiles(&mut self) {
        let Sheet { width, height, .. } = *self.sheet;
        let window = |tile: &Tile| {
            let corner = |x, y| tile.placement.apply(Point::new(x, y));
            let low = corner(tile.stretch.from, tile.across.from);
            let high = corner(tile.stretch.to, tile.across.to);
            (Extent::new(low.x, high.x), Extent::new(low.y, high.y))
        };
        let all: Vec<_> = self.sheet.tiles.iter().map(window).collect();
        let [page_x, page_y] =
            [width, height].map(|to| Extent { from: Length::ZERO, to });
        for (i, (x, y)) in all.iter().enumerate() {
            let is_upright = self.sheet.tiles[i].placement.turn() == QuarterTurn::None;
            if !is_upright || !page_x.holds(*x) || !page_y.holds(*y) {
                self.find(
                    rule::OFF_PAGE,
                    "a tile does not lie on its page",
                    format!("x {} to {}, y {} to {}", x.from, x.to, y.from, y.to),
                    "all of it on the page",
                );
            }
            let meets = |a: &Extent, b: &Extent| a.from < b.to && b.from < a.to;
            if all[..i].iter().any(|(ox, oy)| meets(x, ox) && meets(y, oy)) {
                self.find(
                    rule::OFF_PAGE,
                    "two tiles lie on each other",
                    format!("one at x {} to {}, y {} to {}", x.from, x.to, y.from, y.to),
                    "tiles beside each other",
                );
            }
        }
    }

    /// Every mark that a tile holds is drawn in its form at its place, and nothing else is
    /// drawn as one.
    fn marks(&mut self) {
        let mut expected: BTreeSet<Path<OnSheet>> = BTreeSet::new();
        for (tile, piece) in self.pieces() {
            let from = piece.marks.partition_point(|m| m.at.x < tile.stretch.from);
            for mark in &piece.marks[from..] {
                if mark.at.x > tile.stretch.to {
                    break;
                }
                let Some(path) = mark.path().filter(|_| tile.holds(mark)) else {
                    continue;
                };
                let path = path.placed(tile.placement);
                if !self.drawn.punched.contains(&path) {
                    self.find(
                        rule::MARK_MISSING,
                        "a mark is not drawn at its place",
                        format!("nothing at x {}, y {}", mark.at.x, mark.at.y),
                        mark.kind.word(),
                    );
                }
                expected.insert(path);
            }
        }
        let extra = self.drawn.punched.iter().find(|path| !expected.contains(**path));
        if let Some(at) = extra.map(|path| path.start) {
            let found = format!("a form at {}, {} of the page", at.x, at.y);
            self.find(
                rule::MARK_EXTRA,
                "a mark is none of the job's",
                found,
                "no such form",
            );
        }
    }

    /// All of an outline that a tile shows is drawn, and every line of the layer of outlines
    /// is one, or the tip of another size.
    fn outlines(&mut self, rows: &[NestedSize]) {
        for (tile, piece) in self.pieces() {
            let own = piece.outline.segments();
            let x = Extent {
                from: tile.stretch.from.max(piece.extent.from),
                to: tile.stretch.to.min(piece.extent.to),
            };
            let mut drawn: Vec<Segment<Strap>> = Vec::new();
            let mut others: Vec<Segment<Strap>> = Vec::new();
            for (layer, pen, path) in &self.drawn.strokes {
                if *layer != Layer::Outline {
                    continue;
                }
                let back = |p: Point<OnSheet>| tile.placement.invert(p);
                // Its ends may lie on the edge between two tiles, its middles do not.
                let is_own = |s: &Segment<OnSheet>| {
                    let p = back(s.part(1, 2));
                    tile.stretch.holds(Extent::at(p.x))
                        && tile.across.holds(Extent::at(p.y))
                };
                if path.segments().iter().all(is_own) {
                    let is_size = !matches!(pen, Pen::Outline | Pen::Target);
                    let into = if is_size { &mut others } else { &mut drawn };
                    into.extend(path.segments().into_iter().map(|s| inverted(s, tile)));
                }
            }
            let shown = |p: &Point<Strap>| {
                x.holds(Extent::at(p.x)) && tile.across.holds(Extent::at(p.y))
            };
            let wanted = own.iter().flat_map(|s| samples(*s, x)).filter(shown);
            let missing = wanted.clone().find(|p| !lies_on(*p, &drawn));
            let extra =
                drawn.iter().flat_map(|s| samples(*s, x)).find(|p| !lies_on(*p, &own));
            let tips: Vec<Segment<Strap>> = rows
                .iter()
                .filter(|row| row.piece == tile.piece)
                .flat_map(|row| row.tip.iter().flat_map(Path::segments))
                .collect();
            let other =
                others.iter().flat_map(|s| samples(*s, x)).find(|p| !lies_on(*p, &tips));
            if let Some(p) = missing {
                self.find(
                    rule::OUTLINE_OFF,
                    "an outline is not drawn to its end",
                    format!("nothing at x {}, y {} of `{}`", p.x, p.y, piece.name),
                    "a line along all of the edge",
                );
            }
            if let Some(p) = extra.or(other) {
                self.find(
                    rule::OUTLINE_OFF,
                    "an outline is not the job's",
                    format!("a line at x {}, y {} of `{}`", p.x, p.y, piece.name),
                    "lines along edges only",
                );
            }
        }
    }

    /// Fold lines stand at the bends, and at every bend stands one.
    fn folds(&mut self) {
        let mut bends: Vec<Length> = Vec::new();
        for (tile, piece) in self.pieces() {
            for mark in piece.marks.iter().filter(|m| m.kind == MarkKind::Bend) {
                if tile.stretch.holds(Extent::at(mark.at.x)) {
                    let at = tile.placement.apply(mark.at);
                    bends.push(at.x);
                }
            }
        }
        let folds: Vec<Length> = self
            .drawn
            .strokes
            .iter()
            .filter(|(layer, pen, path)| {
                let level = path.end().y == path.start.y;
                *layer == Layer::Guides && *pen == Pen::Fold && !level
            })
            .flat_map(|(.., path)| [path.start.x, path.end().x])
            .collect();
        if let Some(x) = bends.iter().find(|x| !folds.contains(x)) {
            self.find(
                rule::MARK_MISSING,
                "a bend has no fold line",
                format!("no line at {x} of the page"),
                "a dashed line across the strap",
            );
        }
        if let Some(x) = folds.iter().find(|x| !bends.contains(x)) {
            let found = format!("a line at {x} of the page");
            self.find(rule::MARK_EXTRA, "a fold line is at no bend", found, "none there");
        }
    }

    /// Boxes and words stand where the layout has them.
    fn guides(&mut self) {
        for (tile, piece) in self.pieces() {
            for guide in &piece.guides {
                let is_whole = guide.whole().is_some_and(|x| {
                    tile.stretch.holds(x) && tile.across.holds(guide.y_extent())
                });
                if !is_whole {
                    continue;
                }
                let is_there = match guide {
                    Guide::Crease(_) => true,
                    Guide::Box { at, length, width, .. } => {
                        let (x, y) = (*length / 2, *width / 2);
                        let corner = |x, y| tile.placement.apply(Point::new(x, y));
                        let (low, high) =
                            (corner(at.x - x, at.y - y), corner(at.x + x, at.y + y));
                        let outline = Path::rectangle(low, high);
                        self.drawn.strokes.iter().any(|(.., path)| **path == outline)
                    }
                    Guide::Words { text, .. } if text.is_empty() => true,
                    Guide::Words { at, size, text } => {
                        let middle = tile.placement.apply(*at);
                        self.sheet.items.iter().any(|item| {
                            let Item::Text { at, text: words, .. } = item else {
                                return false;
                            };
                            words == text && (*at - middle).norm() <= *size
                        })
                    }
                };
                if !is_there {
                    let at = guide.whole().map_or(Length::ZERO, |x| x.from);
                    let found = format!("nothing at x {at} of `{}`", piece.name);
                    self.find(
                        rule::MARK_MISSING,
                        "a box or words are not at their place",
                        found,
                        "what the job draws there",
                    );
                }
            }
        }
    }

    /// Numerals and readings say what their places read; labels stand at their crosses.
    fn claims(&mut self) {
        for item in &self.sheet.items {
            let Item::Text { at, text, claim, .. } = item else { continue };
            let holds = match *claim {
                Claim::None => true,
                Claim::Numeral { piece, x, unit } => {
                    let reading = self.layout.pieces.get(piece).map(|p| reading(p, x));
                    let number = text.parse::<i64>().ok();
                    let read = number.map(|n| unit * n);
                    let near =
                        |r: Length| read.is_some_and(|n| (n - r).abs() <= ROUNDING);
                    self.stands_at(piece, x, *at) && reading.is_some_and(near)
                }
                Claim::Reading { piece, x } => {
                    let own = self.layout.pieces.get(piece).map(|p| p.from_bend(x));
                    own.is_some_and(|own| says(text, own))
                }
                Claim::Cross { at: cross } => {
                    let names = self.sheet.tiles.iter().flat_map(|t| &t.crosses);
                    let own = names.filter(|c| c.at == cross).all(|c| c.label == *text);
                    let near = (*at - cross).norm() <= TO_LABEL;
                    own && near && self.drawn.has_cross(cross, self.sheet)
                }
                Claim::Bar { bar, along, unit } => {
                    self.sheet.bars.get(bar).is_some_and(|bar| {
                        let digits: String =
                            text.chars().take_while(char::is_ascii_digit).collect();
                        let n: i64 = digits.parse().unwrap_or(-1);
                        let off = *at - bar.from;
                        let is_level = bar.from.y == bar.to.y;
                        let from = if is_level { off.x } else { off.y };
                        unit * n == along && from == along
                    })
                }
            };
            if !holds {
                let found = format!("`{text}` at {}, {} of the page", at.x, at.y);
                let id = match claim {
                    Claim::None | Claim::Numeral { .. } => rule::RULER_WRONG,
                    Claim::Reading { .. } => rule::LABEL_WRONG,
                    Claim::Cross { .. } => rule::CROSS_ODD,
                    Claim::Bar { .. } => rule::BAR_OFF,
                };
                let number = self.sheet.number;
                self.findings.push(error(
                    id,
                    number,
                    "a number or label is not that of its place",
                    found,
                    "what stands there".to_owned(),
                ));
            }
        }
        for tile in &self.sheet.tiles {
            for cross in &tile.crosses {
                let is_placed = tile.placement.apply(cross.on_strap) == cross.at;
                if !is_placed || !self.drawn.has_cross(cross.at, self.sheet) {
                    let found = format!("none at {}, {}", cross.at.x, cross.at.y);
                    let number = self.sheet.number;
                    let message =
                        format!("cross {} is not drawn at its place", cross.label);
                    let wanted = "two lines that meet there".to_owned();
                    self.findings.push(error(
                        rule::CROSS_ODD,
                        number,
                        &message,
                        found,
                        wanted,
                    ));
                }
            }
        }
    }

    /// Whether a place of the sheet is beside x of a piece, on one of its tiles.
    fn stands_at(&self, piece: usize, x: Length, at: Point<OnSheet>) -> bool {
        let own = self.sheet.tiles.iter().filter(|t| t.piece == piece);
        let place = |t: &Tile| t.placement.apply(Point::new(x, Length::ZERO)).x;
        own.filter(|t| t.stretch.holds(Extent::at(x))).any(|t| place(t) == at.x)
    }

    /// Both scale bars are drawn, along the width and along the height, whole on the page.
    fn bars(&mut self) {
        let bars = &self.sheet.bars;
        let directions: Vec<bool> = bars.iter().map(|b| b.from.y == b.to.y).collect();
        if directions != [true, false] {
            self.find(
                rule::BAR_MISSING,
                "a scale bar is missing",
                format!("{} bars", bars.len()),
                "one along the width and one along the height",
            );
        }
        for bar in bars {
            if !self.drawn.has_line(bar.from, bar.to) {
                self.find(
                    rule::BAR_MISSING,
                    "a scale bar is not drawn",
                    format!("none from {}, {}", bar.from.x, bar.from.y),
                    "a line",
                );
            }
        }
    }
}

/// A segment of the sheet on the strap.
fn inverted(segment: Segment<OnSheet>, tile: &Tile) -> Segment<Strap> {
    let back = |p: Point<OnSheet>| tile.placement.invert(p);
    let step = match segment.step {
        Step::Line { to } => Step::Line { to: back(to) },
        Step::Arc { to, centre, clockwise } => {
            Step::Arc { to: back(to), centre: back(centre), clockwise }
        }
    };
    Segment { from: back(segment.from), step }
}

/// Points of a segment: its ends, points between them, and those of a line at both ends of
/// `window`.
fn samples(
    segment: Segment<Strap>,
    window: Extent,
) -> impl Iterator<Item = Point<Strap>> + Clone {
    const PARTS: i64 = 4;
    let (from, to) = (segment.from, segment.step.to());
    let is_line = matches!(segment.step, Step::Line { .. });
    let along = to.x - from.x;
    let at = move |x: Length| {
        let is_between = Extent::new(from.x, to.x).holds(Extent::at(x));
        (is_line && is_between && along != Length::ZERO).then(|| {
            let up = (to.y - from.y).times((x - from.x).nm(), along.nm());
            Point::new(x, from.y + up)
        })
    };
    let inner = (1..PARTS).map(move |i| segment.part(i, PARTS));
    let ends = [window.from, window.to].into_iter().filter_map(at);
    inner.chain([from, to]).chain(ends)
}

fn lies_on(p: Point<Strap>, segments: &[Segment<Strap>]) -> bool {
    segments.iter().any(|s| s.distance(p) <= ROUNDING)
}

/// What a tape reads at `x`, counted on through the bend as a ruler is.
fn reading(piece: &Piece, x: Length) -> Length {
    let add = piece.bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
    x.abs() + add
}

/// Whether a text ends with a length in mm or inches that is `own`, as finely as it is
/// written.
fn says(text: &str, own: Length) -> bool {
    let last = text.rsplit(" · ").next().unwrap_or_default();
    let plain = last.replace('\u{a0}', " ").replace(',', ".").replace('~', "");
    let mut parts = plain.split(['(', ')']).map(str::trim).filter(|p| !p.is_empty());
    let near = |part: &str| {
        let finest = if part.ends_with("in") {
            Length::from_inch_64ths(1)
        } else {
            Length::from_um(100)
        };
        let has_unit = part.ends_with(char::is_alphabetic);
        let part = if has_unit { part.to_owned() } else { format!("{part} mm") };
        Length::parse(&part).is_ok_and(|read| (read - own).abs() <= finest)
    };
    let mut any = false;
    let all = parts.all(|part| {
        any = true;
        near(part)
    });
    any && all
}
