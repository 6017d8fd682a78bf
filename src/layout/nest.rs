//! Several sizes of one strap drawn into each other: the strap of the longest, with the row
//! of holes and the tip of every size on it.

use super::mark::{Layout, Mark, Piece};
use crate::diagnostic::Finding;
use crate::geom::{Extent, Length, Path, Step, Strap};
use crate::layout::rule;
use crate::lettering;
use crate::words::{Name, Wording};
use serde::Serialize;
use std::collections::BTreeMap;

/// Size of the type of the numbers and the sizes: 9.5 points.
pub const TAG: Length = Length::from_nm(3_351_389);
/// From row to row across the strap.
const LEVEL: Length = Length::from_um(4_200);
/// From the rim of the holes to the nearest number, the arms of their crosses included.
const FROM_HOLE: Length = Length::from_um(2_100);
/// From the outermost number to the strap's edge: below, and above, where the readings stand.
const FROM_EDGE: [Length; 2] = [Length::from_um(1_000), Length::from_um(4_800)];
/// From the size at the start of a row to its first hole, beyond what its name takes.
const LEAD: Length = Length::from_mm(7);
/// Paper between the rims of two holes of different sizes, for each to have its cross.
const APART: Length = Length::from_mm(2);
/// Paper between two numbers in a row.
const TAG_GAP: Length = Length::from_mm(1);

/// What belongs to one size alone.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NestedSize {
    /// Which size.
    pub size: String,
    /// Which piece.
    pub piece: usize,
    /// The base line of its numbers, across the strap.
    pub level: Length,
    /// Where its holes lie along the strap, each with its number.
    pub holes: Vec<(Length, String)>,
    /// The hole of the size itself.
    pub size_hole: Option<Length>,
    /// Its end, where it is not that of the longest.
    pub tip: Vec<Path<Strap>>,
}

/// Several sizes on one strap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nest {
    /// The pieces of the longest, with the marks of all sizes. A mark that several sizes
    /// share is one mark; those of a row have no label of their own.
    pub layout: Layout,
    /// The rows, from the smallest size.
    pub rows: Vec<NestedSize>,
}

/// Draws the layouts of several sizes, the smallest first, into each other.
///
/// # Errors
/// Findings when their pieces differ in more than length, when two of their holes would
/// run into each other, or when there is no room for the tags of a row.
pub fn nest(sizes: &[(&str, &Layout)]) -> Result<Nest, Vec<Finding>> {
    let features = sizes.first().map(|(_, l)| l.features.clone()).unwrap_or_default();
    let layout = Layout { pieces: Vec::new(), features };
    let mut nest = Nest { layout, rows: Vec::new() };
    let count = sizes.iter().map(|(_, l)| l.pieces.len()).min().unwrap_or(0);
    if sizes.iter().any(|(_, l)| l.pieces.len() != count) {
        return Err(vec![unlike("some sizes have more pieces than others")]);
    }
    for index in 0..count {
        let pieces: Vec<(&str, &Piece)> =
            sizes.iter().map(|(size, l)| (*size, &l.pieces[index])).collect();
        let (piece, rows) = nest_piece(index, &pieces, &nest.layout.features)
            .map_err(|finding| vec![*finding])?;
        nest.layout.pieces.push(piece);
        nest.rows.extend(rows);
    }
    Ok(nest)
}

fn refused(message: String) -> Finding {
    Finding::error(rule::NOT_NESTABLE, message)
}

fn unlike(found: &str) -> Finding {
    refused("these sizes are no sizes of one strap".to_owned())
        .expected(found, "pieces that differ in length alone")
        .remedy("draw the sizes apart: strapwright reprint JOB --all")
}

type Refused = Box<Finding>;

fn nest_piece(
    index: usize,
    sizes: &[(&str, &Piece)],
    features: &[Name],
) -> Result<(Piece, Vec<NestedSize>), Refused> {
    let Some((longest, piece)) = sizes.iter().copied().max_by_key(|(_, p)| p.extent.to)
    else {
        return Err(Box::new(unlike("no size at all")));
    };
    let width_changes = |p: &Piece| -> Vec<(Extent, Length, Length, bool)> {
        p.width_changes.iter().map(|s| (s.extent, s.before, s.after, s.smooth)).collect()
    };
    let same = |p: &Piece| {
        (p.id, p.width, p.extent.from) == (piece.id, piece.width, piece.extent.from)
            && p.bend == piece.bend
            && width_changes(p) == width_changes(piece)
    };
    if sizes.iter().any(|(_, p)| !same(p)) {
        return Err(Box::new(unlike("widths, buckle ends or bends that differ")));
    }
    let is_common =
        |m: &Mark| sizes.iter().all(|(_, p)| p.marks.iter().any(|n| m.is_twin(n)));
    let mut marks: Vec<Mark> =
        piece.marks.iter().filter(|m| is_common(m)).cloned().collect();
    let common = marks.len();
    let mut owners: Vec<Vec<&str>> = vec![Vec::new(); common];
    let mut rows = Vec::new();
    for (size, own) in sizes {
        let (mut holes, mut size_hole) = (Vec::new(), None);
        for mark in own.marks.iter().filter(|m| !is_common(m)) {
            let shared = (common..marks.len()).find(|&i| coincide(&marks[i], mark));
            let at = shared.unwrap_or_else(|| {
                let mut mark = mark.clone();
                mark.size = Some((*size).into());
                marks.push(mark);
                owners.push(Vec::new());
                marks.len() - 1
            });
            owners[at].push(size);
            if mark.path().is_some() {
                let feature = &features[mark.feature.0];
                let number = mark.role.number().map(|n| n.to_string());
                let name = || mark.label(feature, Wording::default());
                holes.push((mark.at.x, number.unwrap_or_else(name)));
                size_hole = size_hole.or(mark.role.is_size().then_some(mark.at.x));
            }
        }
        let tip = if size == &longest { Vec::new() } else { end(own, piece) };
        if !holes.is_empty() || !tip.is_empty() {
            let (size, level) = ((*size).to_owned(), Length::ZERO);
            rows.push(NestedSize { size, piece: index, level, holes, size_hole, tip });
        }
    }
    told_apart(&marks, &owners, features)?;
    give_levels(piece, &marks[common..], &mut rows)?;
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    Ok((Piece { marks, ..piece.clone() }, rows))
}

impl Mark {
    /// Whether two marks are the same but for the line that asked for them.
    pub(crate) fn is_twin(&self, other: &Self) -> bool {
        coincide(self, other) && self.role == other.role
    }
}

fn coincide(a: &Mark, b: &Mark) -> bool {
    (&a.feature, a.kind, a.shape, a.at) == (&b.feature, b.kind, b.shape, b.at)
}

/// What `own` has of an end that `longest` has not: runs of outline that neither it shares
/// nor lie along the edges.
fn end(own: &Piece, longest: &Piece) -> Vec<Path<Strap>> {
    let there = longest.outline.segments();
    let mut runs: Vec<Path<Strap>> = Vec::new();
    for segment in own.outline.segments() {
        let to = segment.step.to();
        let middle = segment.from.x + (to.x - segment.from.x) / 2;
        let is_edge = matches!(segment.step, Step::Line { .. })
            && segment.from.y.abs() == own.width_at(middle) / 2
            && segment.from.y == to.y;
        if is_edge || there.contains(&segment) {
            continue;
        }
        match runs.last_mut() {
            Some(run) if run.end() == segment.from => run.steps.push(segment.step),
            _ => {
                let mut run = Path::from(segment.from);
                run.steps.push(segment.step);
                runs.push(run);
            }
        }
    }
    runs
}

/// Two holes of different sizes are one, or far enough apart to see which is which.
fn told_apart(
    marks: &[Mark],
    owners: &[Vec<&str>],
    features: &[Name],
) -> Result<(), Refused> {
    let mut order: Vec<usize> =
        (0..marks.len()).filter(|&i| marks[i].path().is_some()).collect();
    order.sort_by_key(|&i| marks[i].x_extent());
    for (n, &i) in order.iter().enumerate() {
        for &j in &order[n + 1..] {
            let (a, b) = (&marks[i], &marks[j]);
            let clear = b.x_extent().from - a.x_extent().to;
            if clear >= APART {
                break;
            }
            let level = a.y_extent().overlaps(b.y_extent());
            // What one size has of its own, other rules hold.
            let alike = owners[i].iter().any(|o| owners[j].contains(o));
            let both_common = owners[i].is_empty() && owners[j].is_empty();
            if !level || alike || both_common {
                continue;
            }
            let name = |i: usize| owners[i].first().copied().unwrap_or("every size");
            let message = format!(
                "{} of sizes {} and {} run into each other",
                features[a.feature.0],
                name(i),
                name(j)
            );
            return Err(Box::new(
                refused(message)
                    .at(b.span.clone())
                    .expected(
                        format!("{} between their rims", clear.both()),
                        format!("one place for both, or at least {}", APART.both()),
                    )
                    .remedy(
                        "choose a pitch that goes a whole number of times into the steps \
                         of the sizes, leave sizes out, or draw them apart: strapwright \
                         reprint JOB --all",
                    ),
            ));
        }
    }
    Ok(())
}

/// Gives every row a level of its own among those that it lies over: from its size to its tip,
/// or where the strap is too narrow for that, to its last hole.
fn give_levels(
    piece: &Piece,
    marks: &[Mark],
    rows: &mut [NestedSize],
) -> Result<(), Refused> {
    let high = marks.iter().map(|m| m.y_extent().to).max().unwrap_or_default();
    let to = piece.extent.to;
    let from = marks.iter().map(|m| m.at.x).min().unwrap_or(to);
    let half = piece.narrowest_between(Extent { from, to }) / 2;
    let cap = TAG.times(74, 100);
    let mut levels = Vec::new();
    let mut up = high + FROM_HOLE;
    while up + cap <= half - FROM_EDGE[0] {
        if up + cap <= half - FROM_EDGE[1] {
            levels.push(up);
        }
        levels.push(-up - cap);
        up += LEVEL;
    }
    for row in rows.iter() {
        are_apart(row)?;
    }
    let Err(row) = give(&levels, rows, true).or_else(|_| give(&levels, rows, false))
    else {
        return Ok(());
    };
    let message = format!("there is no room for the row of size {}", rows[row].size);
    Err(Box::new(
        refused(message)
            .expected(
                format!("more than {} rows over each other", levels.len()),
                format!("at most {} on a strap this wide", levels.len()),
            )
            .remedy(
                "leave sizes out of stock.sizes, take fewer holes a row, or draw the sizes \
                 apart: strapwright reprint JOB --all",
            ),
    ))
}

/// Gives the levels; the row that there is none for, by its index.
fn give(levels: &[Length], rows: &mut [NestedSize], to_tip: bool) -> Result<(), usize> {
    let mut taken: BTreeMap<Length, Length> = BTreeMap::new();
    for (index, row) in rows.iter_mut().enumerate() {
        let places = row.holes.iter().map(|(x, _)| *x);
        let Some((first, last)) = places.clone().min().zip(places.max()) else {
            continue;
        };
        let start = first - lettering::width(&row.size, TAG) - LEAD;
        let tip = row.tip.iter().map(|tip| tip.x_extent().to).max();
        let end = tip.filter(|_| to_tip).unwrap_or(last) + TAG_GAP * 2;
        let is_free = |level: &Length| taken.get(level).is_none_or(|to| *to <= start);
        let level = levels.iter().copied().find(is_free).ok_or(index)?;
        taken.insert(level, end);
        row.level = level;
    }
    Ok(())
}

/// Whether the holes of a row are far enough apart for their numbers.
fn are_apart(row: &NestedSize) -> Result<(), Refused> {
    let taken = |(x, tag): &(Length, String)| {
        Extent { from: *x, to: *x }.grown(lettering::width(tag, TAG) / 2)
    };
    for pair in row.holes.windows(2) {
        let clear = taken(&pair[1]).from - taken(&pair[0]).to;
        if clear < TAG_GAP {
            let message =
                format!("the holes of size {} are too near for numbers", row.size);
            return Err(Box::new(
                refused(message)
                    .expected(
                        format!(
                            "{} between numbers such as `{}`",
                            clear.both(),
                            pair[1].1
                        ),
                        format!("at least {}", TAG_GAP.both()),
                    )
                    .remedy("draw the sizes apart: strapwright reprint JOB --all"),
            ));
        }
    }
    Ok(())
}
