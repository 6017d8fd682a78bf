//! The stages up to the findings, which every command that takes a job begins with.

use super::loader::FileLoader;
use super::{Failure, JobArgs, files};
use crate::diagnostic::{self, Finding, Sources, Span};
use crate::fit::Fit;
use crate::geom::Length;
use crate::job::{self, Job};
use crate::layout::Layout;
use crate::template;
use crate::words::{Units, Wording};

/// A job as far as it goes, with all findings.
pub(super) struct Prepared {
    /// A name for files made from it.
    pub(super) stem: String,
    pub(super) sources: Sources,
    pub(super) findings: Vec<Finding>,
    /// There unless a mistake kept it from being laid out.
    pub(super) laid: Option<Laid>,
}

pub(super) use crate::Laid;

/// The text of a job, with what is laid over it.
pub(super) struct Source {
    /// A name for files made from it.
    pub(super) stem: String,
    text: files::Text,
    sets: Vec<String>,
    loader: FileLoader,
}

/// Reads the job's text.
pub(super) fn source(args: &JobArgs) -> Result<Source, Failure> {
    let (stem, text) = match &args.job {
        None => {
            let text = template::DEMO_JOB.to_owned();
            ("demo-belt".to_owned(), files::Text { name: "demo job".into(), text })
        }
        Some(path) => {
            let stem = std::path::Path::new(path).file_stem();
            let stem = stem.filter(|_| path != "-").map(|s| s.to_string_lossy().into());
            (stem.unwrap_or_else(|| "strap".to_owned()), files::read(path)?)
        }
    };
    let loader = args.loader.open(args.job.as_deref())?;
    Ok(Source { stem, text, sets: args.sets.clone(), loader })
}

/// A size of the stock, and what a person calls where it was said.
#[derive(Clone, Copy, Debug)]
pub(super) struct Size<'a> {
    pub(super) word: &'a str,
    pub(super) said: &'a str,
}

impl<'a> Size<'a> {
    /// The size that `--size` gives.
    pub(super) fn option(word: &'a str) -> Self {
        Self { word, said: "--size" }
    }
}

/// What a size is laid over the job with, as a `--set` is.
const SIZE_KEY: &str = "stock.size=";

impl Source {
    /// The stages up to the findings: of a size of the stock, or of the job as it stands.
    pub(super) fn prepare(&self, size: Option<Size<'_>>) -> Prepared {
        let mut sets = self.sets.clone();
        sets.extend(size.map(|size| format!("{SIZE_KEY}{}", size.word)));
        let crate::Prepared { mut sources, mut findings, laid } =
            crate::prepare_from(&self.text.name, &self.text.text, &sets, &self.loader);
        if let Some(size) = size {
            let placed = findings.iter_mut().filter_map(|f| f.span.as_mut());
            show_where_it_was_said(size, &mut sources, placed);
        }
        Prepared { stem: self.stem.clone(), sources, findings, laid }
    }
}

/// Puts the size itself in the place of the word that laid it over the job, so that findings
/// point at what was typed.
fn show_where_it_was_said<'p>(
    size: Size<'_>,
    sources: &mut Sources,
    placed: impl Iterator<Item = &'p mut Span>,
) {
    let is_it = |s: &diagnostic::Source| {
        s.name == job::SET && s.text.strip_prefix(SIZE_KEY) == Some(size.word)
    };
    // The last: a --set of the same words comes before it.
    let Some((at, _)) = sources.iter().enumerate().filter(|(_, s)| is_it(s)).last()
    else {
        return;
    };
    let (name, text) = (size.said.to_owned(), size.word.to_owned());
    sources.replace(at, diagnostic::Source { name, part: String::new(), text, line: 1 });
    for span in placed.filter(|span| span.source == at) {
        let of_key = span.range.start < SIZE_KEY.len();
        let range = &mut span.range;
        *range = if of_key {
            0..size.word.len()
        } else {
            range.start - SIZE_KEY.len()..range.end - SIZE_KEY.len()
        };
    }
}

/// Reads the job and runs the stages up to the findings.
pub(super) fn prepare(args: &JobArgs) -> Result<Prepared, Failure> {
    Ok(source(args)?.prepare(args.size.as_deref().map(Size::option)))
}

/// Which girths or lengths the strap serves, at the tightest hole, the size hole and the
/// loosest, and what a blank has to spare.
pub(super) fn serves(
    job: &Job,
    fit: Option<&Fit>,
    layout: &Layout,
    units: Units,
) -> Vec<String> {
    let wording = Wording { units, ..Wording::default() };
    let both = |l: Length| wording.both(l);
    let holes = || layout.size_holes().map(|m| m.at.x);
    let named = [
        ("tightest hole", holes().min()),
        ("size hole", layout.size_hole()),
        ("loosest hole", holes().max()),
    ];
    let ease = fit.map_or(Length::ZERO, |fit| fit.ease);
    let eased = if ease == Length::ZERO {
        String::new()
    } else {
        format!(", worn with {} of ease", both(ease))
    };
    let girths = named
        .into_iter()
        .filter_map(|(name, x)| Some((name, fit?.girth_at(x?))))
        .map(|(name, girth)| format!("{name}: girth {}{eased}", both(girth)));
    let lengths = layout.serves(job).map(|(least, most)| {
        let what = job.serves.as_ref().map_or("", |s| s.what.value.as_str());
        if least == most {
            format!("{what}: {}", both(least))
        } else {
            format!("{what}: {} to {}", both(least), both(most))
        }
    });
    let blank = job.blank.length.as_ref().map(|b| b.value);
    let spare = layout.strap().and_then(|p| Some(blank? - p.extent.length()));
    let spare = spare
        .filter(|s| *s > Length::ZERO)
        .map(|s| format!("blank: {} are left over past the tip", both(s)));
    girths.chain(lengths).chain(spare).collect()
}
