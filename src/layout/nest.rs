//! Several sizes of one strap drawn into each other: the strap of the longest, with the row
//! of holes and the tip of every size on it.

use super::mark::{Layout, Mark, Piece};
use crate::diagnostic::Finding;
use crate::geom::{Extent, Length, Path, Step, Strap};
use crate::layout::rule;
use crate::lettering;
use crate::words::{Name, Wording};
use std::collections::BTreeMap;

/// Size of the type of the tags, baseline to baseline.
pub const TAG: Length = Length::from_um(2_200);
/// From tag to tag across the strap.
const LEVEL: Length = Length::from_mm(3);
/// From the tags of the tips to the next below.
const TO_TIPS: Length = Length::from_um(500);
/// From the rim of the holes to the nearest tag, the arms of their crosses included.
const FROM_HOLE: Length = Length::from_um(2_300);
/// From the outermost tag to the strap's edge.
const FROM_EDGE: Length = Length::from_um(1_200);
/// Paper between the rims of two holes of different sizes, for each to have its cross.
const APART: Length = Length::from_mm(2);
/// Paper between two tags in a row.
const TAG_GAP: Length = Length::from_mm(1);

/// What belongs to one size alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NestedSize {
    /// Which size.
    pub size: String,
    /// Which piece.
    pub piece: usize,
    /// The base line of its tags, across the strap.
    pub level: Length,
    /// Where its holes lie along the strap, each with its tag: `34 in: 3`.
    pub holes: Vec<(Length, String)>,
    /// Its end, where it is not that of the longest.
    pub tip: Vec<Path<Strap>>,
    /// Where its tip's tag stands across the strap.
    pub tip_level: Length,
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
        |m: &Mark| sizes.iter().all(|(_, p)| p.marks.iter().any(|n| twin(m, n)));
    let mut marks: Vec<Mark> =
        piece.marks.iter().filter(|m| is_common(m)).cloned().collect();
    let common = marks.len();
    let mut owners: Vec<Vec<&str>> = vec![Vec::new(); common];
    let mut rows = Vec::new();
    for (size, own) in sizes {
        let mut holes = Vec::new();
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
                holes.push((mark.at.x, tag(size, mark, features)));
            }
        }
        let tip = if size == &longest { Vec::new() } else { end(own, piece) };
        if !holes.is_empty() || !tip.is_empty() {
            let (size, level) = ((*size).to_owned(), Length::ZERO);
            let tip_level = level;
            rows.push(NestedSize { size, piece: index, level, holes, tip, tip_level });
        }
    }
    told_apart(&marks, &owners, features)?;
    give_levels(piece, &marks[common..], &mut rows)?;
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    Ok((Piece { marks, ..piece.clone() }, rows))
}

/// Whether two marks are the same but for the line that asked for them.
fn twin(a: &Mark, b: &Mark) -> bool {
    coincide(a, b) && a.role == b.role
}

fn coincide(a: &Mark, b: &Mark) -> bool {
    (&a.feature, a.kind, a.shape, a.at) == (&b.feature, b.kind, b.shape, b.at)
}

/// `34 in: 3`; the hole of the size itself is `34 in: size`.
fn tag(size: &str, mark: &Mark, features: &[Name]) -> String {
    if mark.role.is_size() {
        return format!("{size}: size");
    }
    let label = mark.label(&features[mark.feature.0], Wording::default());
    format!("{size}: {label}")
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

/// Gives every row a level of its own among those that it lies over.
fn give_levels(
    piece: &Piece,
    marks: &[Mark],
    rows: &mut [NestedSize],
) -> Result<(), Refused> {
    let high = marks.iter().map(|m| m.y_extent().to).max().unwrap_or_default();
    let tags = rows.iter().flat_map(|r| &r.holes).map(|(x, tag)| about(*x, tag).from);
    let to = piece.extent.to;
    let from = tags.chain(marks.iter().map(|m| m.at.x)).min().unwrap_or(to);
    let half = piece.narrowest_between(Extent { from, to }) / 2;
    let cap = TAG.times(74, 100);
    // The uppermost level is that of the tips.
    let tips = half - FROM_EDGE - cap;
    let mut levels = Vec::new();
    let mut up = high + FROM_HOLE;
    while up + cap <= half - FROM_EDGE {
        if up + cap + TO_TIPS <= tips {
            levels.push(up);
        }
        levels.push(-up - cap);
        up += LEVEL;
    }
    let mut taken: BTreeMap<Length, Length> = BTreeMap::new();
    for row in rows {
        row.tip_level = tips;
        let Some(stretch) = stretch(row)? else { continue };
        let free = levels.iter().copied().find(|level| {
            taken.get(level).is_none_or(|to| *to + TAG_GAP <= stretch.from)
        });
        let Some(level) = free else {
            let message = format!("there is no room for the row of size {}", row.size);
            return Err(Box::new(
                refused(message)
                    .expected(
                        format!("more than {} rows over each other", levels.len()),
                        format!("at most {} on a strap this wide", levels.len()),
                    )
                    .remedy(
                        "leave sizes out of stock.sizes, take fewer holes a row, or draw \
                         the sizes apart: strapwright reprint JOB --all",
                    ),
            ));
        };
        taken.insert(level, stretch.to);
        row.level = level;
    }
    Ok(())
}

/// What the tags of a row take along the strap; `None` for a row without holes.
fn stretch(row: &NestedSize) -> Result<Option<Extent>, Refused> {
    let tags: Vec<Extent> = row.holes.iter().map(|(x, tag)| about(*x, tag)).collect();
    for (pair, (_, tag)) in tags.windows(2).zip(&row.holes) {
        let clear = pair[1].from - pair[0].to;
        if clear < TAG_GAP {
            let message = format!("the holes of size {} are too near for tags", row.size);
            return Err(Box::new(
                refused(message)
                    .expected(
                        format!("{} between tags such as `{tag}`", clear.both()),
                        format!("at least {}", TAG_GAP.both()),
                    )
                    .remedy("draw the sizes apart: strapwright reprint JOB --all"),
            ));
        }
    }
    Ok(tags.first().zip(tags.last()).map(|(a, b)| Extent { from: a.from, to: b.to }))
}

/// What a tag in the middle of `x` takes along the strap.
fn about(x: Length, tag: &str) -> Extent {
    Extent { from: x, to: x }.grown(lettering::width(tag, TAG) / 2)
}
