//! Design rules over the finished layout. A rule returns findings and never prints; each
//! stands in a file of its own under `rules` and in [`REGISTER`].

mod crowding;
pub mod limits;
mod measure;
mod near;
mod rules;
mod usual_values;

pub use rules::REGISTER;
pub use usual_values::is_of_values;

use usual_values::{UsualJob, with_usual_values};

use crate::assembly::Assembly;
use crate::diagnostic::{Finding, RuleId, Severity, Span};
use crate::fit::Fit;
use crate::geom::Length;
use crate::job::{Feature, HardwareId, Job, Leather, PieceSpec, Target};
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece};
use crate::words::Wording;

/// One design rule, with what a person may want to know of it at the bench.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Its id.
    pub id: RuleId,
    /// The check itself.
    pub check: fn(&CheckInput<'_>, &mut Vec<Finding>),
    /// A Markdown file: what it looks at, why that matters at the bench, lines of a job that
    /// break it, the same lines put right, and where its figures come from.
    pub text: &'static str,
}

impl Rule {
    /// What it looks at: the first paragraph of its text.
    pub fn what(&self) -> String {
        self.text.split("\n\n").nth(1).unwrap_or_default().replace('\n', " ")
    }

    /// Lines of a belt's job that break it, or of a job that names another template; and the
    /// same lines put right.
    pub fn examples(&self) -> Option<[&'static str; 2]> {
        let code = self.text.split("```toml\n").skip(1);
        let mut code = code.filter_map(|rest| Some(rest.split_once("\n```")?.0));
        Some([code.next()?, code.next()?])
    }
}

/// What the rules look at.
#[derive(Clone, Debug)]
pub struct CheckInput<'a> {
    /// What was asked for.
    pub job: &'a Job,
    /// How it fits.
    pub fit: Option<&'a Fit>,
    /// Where everything lies.
    pub layout: &'a Layout,
    /// How it is made up.
    assembly: Assembly<'a>,
}

impl<'a> CheckInput<'a> {
    /// Makes up the strap for the rules.
    pub fn new(job: &'a Job, fit: Option<&'a Fit>, layout: &'a Layout) -> Self {
        Self { job, fit, layout, assembly: Assembly::new(job, layout) }
    }

    /// Every mark with its piece.
    fn marks(&self) -> impl Iterator<Item = (&'a Piece, &'a Mark)> {
        self.layout.pieces.iter().flat_map(|p| p.marks.iter().map(move |m| (p, m)))
    }

    /// Every piece but the copies of another: what is wrong with one is so with all.
    fn one_of_each(&self) -> impl Iterator<Item = &'a Piece> {
        self.layout.pieces.iter().filter(|p| p.copy.n == 1)
    }

    /// What a person calls a mark: its feature, and its label where that says more.
    fn named(&self, mark: &Mark) -> String {
        let feature = self.layout.feature(mark);
        let label = self.layout.label(mark, Wording::default());
        if label.is_empty() || mark.role == MarkRole::Only {
            feature.to_string()
        } else {
            format!("{feature} {label}")
        }
    }

    /// The features that close round, shut in or close on a piece of hardware.
    fn features_at(&self, id: HardwareId) -> impl Iterator<Item = &'a Feature> {
        self.job.features.iter().filter(move |feature| {
            let facts = feature.kind.facts();
            facts.holds == Some(id) || facts.meets == Some(&Target::Hardware(id))
        })
    }

    /// How wide the straps are where hardware holds them, each with the line that says so.
    fn widths_in(&self, id: HardwareId) -> Vec<(Length, Option<Span>)> {
        let marks = self.features_at(id).flat_map(|feature| {
            let own = self.one_of_each().map(move |p| (p, p.marks_of(feature.id)));
            own.flat_map(|(piece, marks)| marks.map(move |mark| (piece, mark)))
        });
        // The fasteners and the end of a fold lie off its hardware.
        let is_there = |mark: &Mark| match mark.kind {
            MarkKind::Fastener => {
                self.job.feature(mark.feature).kind.facts().fold.is_none()
            }
            kind => kind != MarkKind::End,
        };
        let there = marks.filter(|(_, mark)| is_there(mark));
        let width = |(piece, mark): (&'a Piece, &'a Mark)| {
            let width = piece.width_at(mark.at.x);
            let change = piece.width_changes.iter().find(|s| s.after == width);
            let leather = &self.job.leather(piece.id).width;
            (width, change.map_or(&leather.span, |s| &s.span).clone())
        };
        there.map(width).collect()
    }

    /// The leather of the strap, then of every other piece that is cut and has its own.
    fn leathers(&self) -> impl Iterator<Item = &'a Leather> {
        let cut =
            |o: &&PieceSpec| o.count.value > 0 && o.leather.width.value > Length::ZERO;
        let others = self.job.pieces.iter().filter(cut).map(|o| &o.leather);
        std::iter::once(&self.job.strap).chain(others)
    }

    /// Whether one hole of a feature is chosen for each length that the strap serves.
    fn is_chosen_from(&self, feature: &Feature) -> bool {
        self.job.serves.as_ref().is_some_and(|s| s.holes.value == feature.id)
    }

    /// The line that says where a piece ends.
    fn ends_at(&self, piece: &Piece) -> Option<Span> {
        let ends = |m: &&Mark| matches!(m.kind, MarkKind::Tip | MarkKind::End);
        let last = piece.marks.iter().filter(ends).max_by_key(|m| m.at.x);
        let spec = self.job.piece(piece.id);
        last.and_then(|m| m.span.clone()).or(spec.and_then(|s| s.span.clone()))
    }
}

/// An opening of the blank in a bad place spoils nothing more, but what the job says of the
/// blank can then hardly be right.
fn severity_of(mark: &Mark) -> Severity {
    Severity::error_if(mark.kind != MarkKind::Target)
}

/// Holds the layout against every rule; the heaviest findings come first, in the order of
/// the register.
///
/// Where a measured value is no such thing, a thickness of 35 mm say, what follows from it
/// alone is left out: what else is wrong can be seen then.
///
/// ```
/// use strapwright::check::{CheckInput, check};
/// use strapwright::{fit::fit, job::read, layout::lay_out};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\ntip.past-last-hole = \"3 mm\"";
/// let job = read("belt.toml", belt, &[]).job.expect("it can be read");
/// let fit = fit(&job);
/// let layout = lay_out(&job, fit.as_ref()).expect("all is placed");
/// let findings = check(&CheckInput::new(&job, fit.as_ref(), &layout));
/// assert!(findings.iter().any(|finding| finding.rule.as_str() == "last-hole-to-tip"));
/// ```
pub fn check(input: &CheckInput<'_>) -> Vec<Finding> {
    let mut findings = run(input);
    if let Some(UsualJob { job, fit, layout }) = with_usual_values(input.job, input.fit) {
        let sound = run(&CheckInput::new(&job, fit.as_ref(), &layout));
        let still = |f: &Finding| {
            sound.iter().any(|other| other.rule == f.rule && other.span == f.span)
        };
        findings.retain(|f| is_of_values(f) || still(f));
    }
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    findings
}

/// What the rules find of a job that could not be laid out, `why` among it: a slip in a
/// value first, which may be why.
pub fn check_unlaid(job: &Job, fit: Option<&Fit>, why: Vec<Finding>) -> Vec<Finding> {
    let features = job.features.iter().map(|f| f.name.clone()).collect();
    let layout = Layout { pieces: Vec::new(), features };
    let mut findings = run(&CheckInput::new(job, fit, &layout));
    let slips = findings.iter().filter(|f| is_of_values(f));
    let slipped = slips.clone().any(|f| f.severity == Severity::Error);
    if let (true, Some(UsualJob { job, fit, layout })) =
        (slipped, with_usual_values(job, fit))
    {
        // It can be laid out without the slip: nothing else was why.
        let mut all: Vec<Finding> = slips.cloned().collect();
        let sound = run(&CheckInput::new(&job, fit.as_ref(), &layout));
        all.extend(sound.into_iter().filter(|f| !is_of_values(f)));
        findings = all;
    } else {
        findings.extend(why);
    }
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    findings
}

fn run(input: &CheckInput<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for rule in REGISTER {
        (rule.check)(input, &mut findings);
    }
    findings
}
