//! Features placed along named datums: the outline and the marks, in strap coordinates.

mod datum;
mod feature;
mod mark;
mod nest;

pub use mark::{Layout, Mark, MarkKind, Piece, Shape};
pub use nest::{NEST_RULES, Nest, Row, TAG, nest};

use crate::diagnostic::{Finding, Severity};
use crate::fit::Fit;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{Feature, FeatureKind, Job, nearest};
use datum::{Datums, Missing};
use feature::{Ground, Placed};

/// The rules that this stage can find broken, each with what it means.
pub const RULES: &[(&str, &str)] = &[
    ("unknown-datum", "a feature is placed from a datum that no feature publishes"),
    ("datum-cycle", "features that are placed from each other"),
    ("no-length", "the strap's two ends meet or cross: nothing is left of it"),
    ("two-ends", "the strap has no buckle end or tip, or more than one of them"),
];

impl Layout {
    /// The size holes of the job's hole rows, along the strap; on a blank they may be
    /// targets.
    pub fn size_holes<'a>(&'a self, job: &'a Job) -> impl Iterator<Item = &'a Mark> {
        let is_row = |name: &str| {
            let own = job.features.iter().find(|f| f.name == name);
            own.is_some_and(|f| matches!(f.kind, FeatureKind::HoleRow(_)))
        };
        let marks = self.pieces.iter().flat_map(|p| &p.marks);
        marks.filter(move |m| is_row(&m.feature))
    }

    /// Where the hole of the size lies; `None` without a row of size holes.
    pub fn size_hole(&self, job: &Job) -> Option<Length> {
        self.size_holes(job).find(|m| m.label.ends_with("size")).map(|m| m.at.x)
    }
}

/// Longest strap that is laid out, 1 km: beyond it only a slip of the pen can lie.
const LONGEST: Length = Length::from_mm(1_000_000);

/// Places every feature of the job, each as soon as the datums that it is placed from are
/// known.
///
/// # Errors
/// Findings when a datum is not known, features wait for each other, or the strap has no
/// two ends.
pub fn lay_out(job: &Job, fit: Option<&Fit>) -> Result<Layout, Vec<Finding>> {
    let mut datums = Datums::default();
    if let Some(fit) = fit {
        datums.publish("fit", "size-hole", fit.size_hole);
    }
    let mut waiting: Vec<&Feature> = job.features.iter().collect();
    let mut placed = Vec::new();
    loop {
        let before = waiting.len();
        let mut missing = Vec::new();
        let mut still = Vec::new();
        for feature in waiting {
            match feature::place(feature, &Ground { job, datums: &datums }) {
                Ok(done) => {
                    for (name, x) in &done.datums {
                        datums.publish(&feature.name, name, *x);
                    }
                    if let Some(start) = done.start {
                        datums.set_start(start);
                    }
                    placed.push(done);
                }
                Err(Missing(wanted)) => {
                    missing.push((feature, wanted));
                    still.push(feature);
                }
            }
        }
        waiting = still;
        if waiting.is_empty() {
            break;
        }
        if waiting.len() == before {
            return Err(stuck(&missing, &datums));
        }
    }
    piece(job, fit, placed).map(|piece| Layout { pieces: vec![piece] })
}

fn stuck(missing: &[(&Feature, crate::job::DatumRef)], datums: &Datums) -> Vec<Finding> {
    let waits = |name: &str| {
        missing
            .iter()
            .any(|(f, _)| name.strip_prefix(&f.name).is_some_and(|r| r.starts_with('.')))
    };
    let unknown: Vec<_> = missing.iter().filter(|(_, d)| !waits(&d.name)).collect();
    if unknown.is_empty() {
        let chain: Vec<_> =
            missing.iter().map(|(f, d)| format!("{} from {}", f.name, d.name)).collect();
        let place = missing.first().and_then(|(_, d)| d.place.clone());
        return vec![
            Finding::new("datum-cycle", Severity::Error, "features wait for each other")
                .at(place)
                .held(chain.join(", "), "a chain that begins at a placed feature")
                .remedy("place one of them from a datum that is already known"),
        ];
    }
    unknown
        .into_iter()
        .map(|(feature, wanted)| {
            Finding::new(
                "unknown-datum",
                Severity::Error,
                format!("`{}` is placed from a datum that there is not", feature.name),
            )
            .at(wanted.place.clone())
            .held(format!("`{}`", wanted.name), "a datum that a feature publishes")
            .remedy(nearest(&wanted.name, datums.names()))
        })
        .collect()
}

/// Joins what the features gave into the one strap.
fn piece(
    job: &Job,
    fit: Option<&Fit>,
    placed: Vec<Placed>,
) -> Result<Piece, Vec<Finding>> {
    let starts: Vec<Length> = placed.iter().filter_map(|p| p.start).collect();
    let mut tips: Vec<Path<Strap>> = Vec::new();
    let mut marks = Vec::new();
    let mut on_blank: Vec<Extent> = placed.iter().filter_map(|p| p.on_blank).collect();
    let blank = &job.blank;
    let there = blank.length.is_some() || !blank.punched.is_empty();
    let width = job.strap.width.value;
    if there && blank.width.as_ref().is_none_or(|w| w.value == width) {
        // Its long edges are the strap's: nothing is to be cut along them.
        let edges = starts.iter().zip(placed.iter().find_map(|p| p.tip.as_ref()));
        on_blank.extend(edges.map(|(start, tip)| Extent {
            from: *start + Length::from_mm(1),
            to: tip.start.x.max(*start + Length::from_mm(1)),
        }));
    }
    on_blank.sort();
    for done in placed {
        tips.extend(done.tip);
        marks.extend(done.marks);
    }
    let (&[start], [tip]) = (starts.as_slice(), tips.as_slice()) else {
        return Err(vec![
            Finding::new(
                "two-ends",
                Severity::Error,
                "a strap has one buckle end, one tip",
            )
            .held(
                format!("{} buckle ends, {} tips", starts.len(), tips.len()),
                "one feature of kind turn-back and one of kind tip",
            )
            .remedy("add the end that is missing, or take the one too many out"),
        ]);
    };
    let end = tip.x_extent().to;
    let place =
        marks.iter().find(|m| m.kind == MarkKind::Tip).and_then(|m| m.place.clone());
    let length = end - start;
    if tip.start.x <= start || length > LONGEST {
        return Err(vec![
            Finding::new("no-length", Severity::Error, "the strap cannot be this long")
                .at(place)
                .held(
                    format!("{} from end to point", length.both()),
                    "a tip past the buckle end, and at most 1 km",
                )
                .remedy(
                    "look at the measure, its unit, and where the tip is placed from",
                ),
        ]);
    }
    marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    Ok(Piece {
        name: "strap".to_owned(),
        width: job.strap.width.value,
        extent: Extent { from: start, to: end },
        outline: outline(start, job.strap.width.value / 2, tip),
        marks,
        on_blank,
        bend: fit.map(|f| f.bend),
    })
}

/// From the lower corner of the square end round it, along the upper edge, round the tip
/// and back.
fn outline(start: Length, half: Length, tip: &Path<Strap>) -> Path<Strap> {
    let mut path = Path::from(Point::new(start, -half))
        .line_to(Point::new(start, half))
        .line_to(tip.start);
    path.steps.extend(tip.steps.iter().copied());
    path.close()
}
