//! Features placed along named datums: the outline and the marks, in strap coordinates.

mod assemble;
mod copies;
mod datum;
mod feature;
mod guide;
mod mark;
mod nest;
mod outline;
mod role;
pub(crate) mod rule;

pub use copies::Copies;
pub use guide::{Guide, GuideShape};
pub use mark::{FoldLine, Layout, Mark, MarkKind, Piece, PieceCopy, Shape, WidthChange};
pub use nest::{Nest, NestedSize, TAG, nest};
pub use role::MarkRole;
pub use rule::RULES;

use crate::diagnostic::{Finding, nearest};
use crate::fit::{Fit, served_length};
use crate::geom::Length;
use crate::job::{DatumRef, Feature, Form, Job, PieceId, PieceSpec, STRAP, Spanned};
use crate::words::Name;
use datum::{Datums, PlaceError};
use feature::{MOST_MARKS, PlaceContext, Placed};

impl Layout {
    /// The size holes along the strap; on a blank they may be targets.
    pub fn size_holes(&self) -> impl Iterator<Item = &Mark> {
        let marks = self.pieces.iter().flat_map(|p| &p.marks);
        marks.filter(|m| matches!(m.role, MarkRole::SizeHole { .. }))
    }

    /// Where the hole of the size lies; `None` without a row of size holes.
    pub fn size_hole(&self) -> Option<Length> {
        self.size_holes().find(|m| m.role.is_size()).map(|m| m.at.x)
    }

    /// The strap itself; `None` where the job has only pieces of other names.
    pub fn strap(&self) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.id == PieceId::STRAP)
    }

    /// What the strap serves where that is not a girth: the shortest and the longest.
    pub fn serves(&self, job: &Job, fit: Option<&Fit>) -> Option<(Length, Length)> {
        let serves = job.serves.as_ref()?;
        let feature = job.feature(serves.holes.value);
        // A fold serves by its bend, a row by its holes. A snap's cap is at zero, its posts
        // are the sizes.
        let folds = feature.kind.facts().fold.is_some();
        let counts = |m: &&Mark| match m.role {
            MarkRole::Bend => folds,
            MarkRole::SnapCap | MarkRole::Slit => false,
            _ => !folds && m.path().is_some(),
        };
        let marks = self.pieces.iter().flat_map(|p| &p.marks);
        let own = marks.filter(|m| m.feature == feature.id).filter(counts);
        let all: Vec<Length> = own.map(|m| served_length(serves, fit, m.at.x)).collect();
        Some((*all.iter().min()?, *all.iter().max()?))
    }
}

/// Most pieces of one job, copies too.
const MOST_PIECES: usize = 60;

/// Places every feature of the job, each as soon as the datums that it is placed from are
/// known; then puts the pieces together, and on them what follows an outline.
///
/// # Errors
/// Findings when a datum is not known, features wait for each other, or a piece cannot be
/// put together.
///
/// ```
/// use strapwright::{fit::fit, job::read, layout::lay_out};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let job = read("belt.toml", belt, &[]).job.expect("no mistakes");
/// let layout = lay_out(&job, fit(&job).as_ref()).expect("all is placed");
/// let strap = layout.strap().expect("a belt has a strap");
/// assert!(strap.marks.iter().any(|mark| mark.is_punched()));
/// ```
pub fn lay_out(job: &Job, fit: Option<&Fit>) -> Result<Layout, Vec<Finding>> {
    let specs = specs(job);
    let mut datums = published(job, &specs, fit);
    let spec_of = |feature: &Feature| specs.iter().find(|s| s.id == feature.on.value);
    let mut waiting: Vec<(&Feature, &PieceSpec)> = job
        .features
        .iter()
        .filter(|f| !f.kind.needs_outline())
        .filter_map(|f| Some((f, spec_of(f)?)))
        .collect();
    let mut placed: Vec<(PieceId, Placed)> = Vec::new();
    let mut marks = 0;
    loop {
        let before = waiting.len();
        let (mut missing, mut still) = (Vec::new(), Vec::new());
        for (feature, piece) in waiting {
            let context =
                PlaceContext { job, fit, datums: &datums, feature, piece, outline: None };
            match feature::place(&context) {
                Ok(done) => {
                    marks += done.marks.len();
                    bounded(marks, feature)?;
                    for (name, x) in &done.datums {
                        datums.publish(Some(piece.id), feature.name.as_str(), name, *x);
                    }
                    if let (Some(start), PieceId::STRAP) = (&done.start, piece.id) {
                        datums.set_start(start.x);
                    }
                    placed.push((piece.id, done));
                }
                Err(PlaceError::Missing(wanted)) => {
                    missing.push((feature, wanted));
                    still.push((feature, piece));
                }
                Err(PlaceError::Wrong(finding)) => return Err(vec![*finding]),
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
    let mut pieces = assembled(job, &specs, placed)?;
    for feature in job.features.iter().filter(|f| f.kind.needs_outline()) {
        let Some(spec) = spec_of(feature) else { continue };
        let own = pieces.iter_mut().find(|p| p.id == spec.id);
        let Some(own) = own else { continue };
        let (datums, outline) = (&datums, Some(&own.outline));
        let context = PlaceContext { job, fit, datums, feature, piece: spec, outline };
        let done = match feature::place(&context) {
            Ok(done) => done,
            Err(PlaceError::Missing(wanted)) => {
                return Err(stuck(&[(feature, wanted)], datums));
            }
            Err(PlaceError::Wrong(finding)) => return Err(vec![*finding]),
        };
        marks += done.marks.len();
        bounded(marks, feature)?;
        own.marks.extend(done.marks);
        own.guides.extend(done.guides);
        own.marks.sort_by_key(|m| (m.at.x, m.at.y, m.kind));
    }
    let count = |o: &PieceSpec| o.count.value as usize;
    let copies = specs.iter().map(count).sum();
    if copies > MOST_PIECES {
        return Err(vec![too_many_pieces(job, copies)]);
    }
    let mut marks = 0;
    for (spec, piece) in specs.iter().zip(&pieces) {
        marks += count(spec) * piece.marks.len();
        let last = job.features.iter().rfind(|f| f.on.value == spec.id);
        last.map_or(Ok(()), |feature| bounded(marks, feature))?;
    }
    let copies = specs.iter().zip(pieces).flat_map(|(o, p)| assemble::copies(o, &p));
    let features = job.features.iter().map(|f| f.name.clone()).collect();
    Ok(Layout { pieces: copies.collect(), features })
}

/// The pieces that are laid out: the strap itself if anything lies on it or there is nothing
/// else, then the others; none of which there are to be none.
fn specs(job: &Job) -> Vec<PieceSpec> {
    let strap = PieceSpec {
        id: PieceId::STRAP,
        name: Name::built_in(STRAP),
        span: None,
        leather: job.strap.clone(),
        count: Spanned { value: 1, span: None },
        mirrored: false,
        form: Form::Strap(None),
    };
    let has_strap = job.pieces.is_empty()
        || job.features.iter().any(|f| f.on.value == PieceId::STRAP);
    let is_some =
        |p: &&PieceSpec| p.count.value > 0 && p.leather.width.value > Length::ZERO;
    let others = job.pieces.iter().filter(is_some).cloned();
    has_strap.then_some(strap).into_iter().chain(others).collect()
}

/// The datums that are known before any feature is placed.
fn published(job: &Job, specs: &[PieceSpec], fit: Option<&Fit>) -> Datums {
    let mut datums = Datums::default();
    if let Some(fit) = fit {
        datums.publish(None, "fit", "size-hole", fit.size_hole);
        if let Some(bend) = fit.bend {
            datums.publish(None, "fit", "bar", bend.take_up / 2);
        }
    }
    for spec in specs {
        let mut own =
            |name, x| datums.publish(Some(spec.id), spec.name.as_str(), name, x);
        own("zero", Length::ZERO);
        if let Some(length) = assemble::own_length(job, spec) {
            own("start", Length::ZERO);
            own("end", length);
        }
    }
    datums
}

/// Every piece in the order of its order; linings follow their pieces.
fn assembled(
    job: &Job,
    specs: &[PieceSpec],
    mut placed: Vec<(PieceId, Placed)>,
) -> Result<Vec<Piece>, Vec<Finding>> {
    let mut made: Vec<Option<Piece>> = Vec::new();
    let mut findings = Vec::new();
    let is_lining = |o: &&PieceSpec| matches!(o.form, Form::Lining { .. });
    for spec in specs {
        if is_lining(&spec) {
            made.push(None);
            continue;
        }
        let own = placed.iter_mut().filter(|(on, _)| *on == spec.id);
        match assemble::piece(job, spec, own.map(|(_, p)| p).collect()) {
            Ok(piece) => made.push(Some(piece)),
            Err(finding) => {
                findings.push(*finding);
                made.push(None);
            }
        }
    }
    for (index, spec) in specs.iter().enumerate() {
        let Form::Lining { of, inset, .. } = &spec.form else { continue };
        let base = made.iter().flatten().find(|p| p.id == of.value);
        let Some(base) = base else {
            // A base that could not be made has a finding of its own.
            if findings.is_empty() {
                findings.push(no_base(job, spec, of, specs));
            }
            continue;
        };
        let own = placed.iter_mut().filter(|(on, _)| *on == spec.id);
        let own = own.map(|(_, p)| p).collect();
        match assemble::lining(spec, base, inset, own) {
            Ok(piece) => made[index] = Some(piece),
            Err(finding) => findings.push(*finding),
        }
    }
    if findings.is_empty() {
        Ok(made.into_iter().flatten().collect())
    } else {
        Err(findings)
    }
}

fn no_base(
    job: &Job,
    spec: &PieceSpec,
    of: &Spanned<PieceId>,
    specs: &[PieceSpec],
) -> Finding {
    let base = job.piece_name(of.value);
    let names = specs.iter().filter(|s| s.id != spec.id).map(|o| o.name.as_str());
    Finding::error(
        rule::UNKNOWN_DATUM,
        format!("`{}` lines a piece that there is not", spec.name),
    )
    .at(of.span.clone().or(spec.span.clone()))
    .expected(format!("`{base}`"), "the name of a piece that is no lining itself")
    .remedy(nearest(base.as_str(), names))
}

/// Stops at the feature with which there are too many marks.
fn bounded(marks: usize, feature: &Feature) -> Result<(), Vec<Finding>> {
    if i64::try_from(marks).is_ok_and(|n| n <= MOST_MARKS) {
        return Ok(());
    }
    Err(vec![
        Finding::error(
            rule::TOO_MANY_MARKS,
            format!("with `{}` there are more holes than anybody punches", feature.name),
        )
        .at(feature.span.clone())
        .expected(format!("{marks} holes"), format!("at most {MOST_MARKS} in one job"))
        .remedy("look at pitches and counts, and at their units"),
    ])
}

fn too_many_pieces(job: &Job, count: usize) -> Finding {
    let most = job.pieces.iter().max_by_key(|p| p.count.value);
    Finding::error(rule::TOO_MANY_PIECES, "these are too many pieces")
        .at(most.and_then(|p| p.count.span.clone()))
        .expected(format!("{count} pieces"), format!("at most {MOST_PIECES}"))
        .remedy("cut fewer of them in one job")
}

fn stuck(missing: &[(&Feature, DatumRef)], datums: &Datums) -> Vec<Finding> {
    let waits = |name: &str| {
        let owner = name.rsplit_once('.').map(|(owner, _)| owner);
        missing.iter().any(|(f, _)| owner == Some(f.name.as_str()))
    };
    let unknown: Vec<_> = missing.iter().filter(|(_, d)| !waits(&d.name)).collect();
    if unknown.is_empty() {
        let chain: Vec<_> =
            missing.iter().map(|(f, d)| format!("{} from {}", f.name, d.name)).collect();
        let span = missing.first().and_then(|(_, d)| d.span.clone());
        return vec![
            Finding::error(rule::DATUM_CYCLE, "features wait for each other")
                .at(span)
                .expected(chain.join(", "), "a chain that begins at a placed feature")
                .remedy("place one of them from a datum that is already known"),
        ];
    }
    unknown
        .into_iter()
        .map(|(feature, wanted)| {
            Finding::error(
                rule::UNKNOWN_DATUM,
                format!("`{}` is placed from a datum that there is not", feature.name),
            )
            .at(wanted.span.clone())
            .expected(format!("`{}`", wanted.name), "a datum that a feature publishes")
            .remedy(match wanted.name.split_once(" + ") {
                Some((datum, by)) => {
                    format!("name the datum alone, `{datum}`, and say by = \"{by}\"")
                }
                None => nearest(&wanted.name, datums.names()),
            })
        })
        .collect()
}
