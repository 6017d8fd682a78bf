//! The job that a command works on: its text, the `--set` values and the stock size.

use super::complete::sizes;
use super::workshop::{Workshop, WorkshopArgs, folder_of};
use super::{Failure, Result, files};
use crate::Prepared;
use crate::diagnostic::{Source, Sources, Span};
use crate::job::{self, JobText};
use crate::template::{self, Text};
use clap::{Args, ValueHint};
use clap_complete::engine::ArgValueCandidates;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

/// A job and the values that replace some of its own.
#[derive(Args, Debug, Default)]
pub(super) struct JobArgs {
    /// The job file (TOML); `-` reads it from standard input [default: the demo belt]
    #[arg(value_hint = ValueHint::FilePath)]
    job: Option<OsString>,
    /// Change one value of the job, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    /// Use this stock size of the job instead of its measure, such as "34 in" or M
    #[arg(long, value_name = "SIZE", add = ArgValueCandidates::new(sizes))]
    pub(super) size: Option<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
}

impl JobArgs {
    pub(super) fn new(path: &Path, workshop: &WorkshopArgs) -> Self {
        let (job, workshop) = (Some(path.into()), workshop.clone());
        Self { job, workshop, ..Self::default() }
    }

    pub(super) fn read(&self) -> Result<JobSource> {
        JobSource::read(self.job.as_deref(), &self.sets, &self.workshop)
    }

    /// The workshop for the job, which is not read.
    pub(super) fn read_workshop(&self) -> Result<Workshop> {
        self.workshop.read(folder_of(self.job.as_deref()))
    }

    /// The files that it is made of now: the job, its templates, the places of profiles, and the
    /// profile's printer file.
    ///
    /// # Errors
    /// When the job comes from standard input.
    pub(super) fn files(&self) -> Result<Vec<PathBuf>> {
        let job = self.job.as_ref().filter(|path| *path != "-").ok_or_else(|| {
            Failure::Usage(
                "--watch looks at a file: give JOB, not standard input".to_owned(),
            )
        })?;
        let mut files = self.workshop.files(job);
        files.push(PathBuf::from(job));
        if let Ok(workshop) = self.read_workshop() {
            if let Ok(Text { name, text, .. }) = files::read(job) {
                let (sets, loader) = (&self.sets, &workshop.loader);
                JobText { name: &name, text: &text, sets, loader }.read();
            }
            files.extend(workshop.printer());
            files.extend(workshop.loader.files());
        }
        Ok(files)
    }

    pub(super) fn size(&self) -> Option<Size<'_>> {
        self.size.as_deref().map(Size::from_option)
    }
}

/// The text of a job, with the values that replace some of its own.
pub(super) struct JobSource {
    /// The beginning of the names of its output files.
    pub(super) stem: String,
    text: Text,
    sets: Vec<String>,
    pub(super) workshop: Workshop,
}

/// A stock size, and where it was given, for findings about it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Size<'a> {
    pub(super) label: &'a str,
    pub(super) origin: &'a str,
}

impl<'a> Size<'a> {
    /// The size that `--size` gives.
    pub(super) fn from_option(label: &'a str) -> Self {
        Self { label, origin: "--size" }
    }
}

/// A size is set as if by `--set` with this key.
const SIZE_KEY: &str = "stock.size=";

impl JobSource {
    /// Reads the job at `path`, or standard input for `-`, or else the demo job.
    ///
    /// # Errors
    /// When the file, a profile or the folder of templates cannot be read.
    pub(super) fn read(
        path: Option<&OsStr>,
        sets: &[String],
        workshop: &WorkshopArgs,
    ) -> Result<Self> {
        let (stem, text) = match path {
            None => {
                let text = template::DEMO_JOB.into();
                let text = Text { name: "demo job".to_owned(), text, path: None };
                ("demo-belt".to_owned(), text)
            }
            Some(path) => {
                let text = files::read(path).map_err(|why| of_template(path, why))?;
                (files::stem(path, "strap"), text)
            }
        };
        Ok(Self { stem, text, sets: sets.to_vec(), workshop: workshop.open(path)? })
    }

    fn sets_for(&self, size: Option<Size<'_>>) -> Vec<String> {
        let mut sets = self.sets.clone();
        sets.extend(size.map(|size| format!("{SIZE_KEY}{}", size.label)));
        sets
    }

    /// Lays out the job in `size`, or with its own measure.
    pub(super) fn prepare(&self, size: Option<Size<'_>>) -> Prepared {
        let Text { name, text, .. } = &self.text;
        let loader = &self.workshop.loader;
        let mut prepared = crate::prepare_from(name, text, &self.sets_for(size), loader);
        if let Some(size) = size {
            let spans = prepared.findings.iter_mut().filter_map(|f| f.span.as_mut());
            point_at_size(size, &mut prepared.sources, spans);
        }
        prepared
    }
}

/// Where a file is not there and a template has its name, asks whether that was meant.
fn of_template(path: &OsStr, why: Failure) -> Failure {
    match path.to_str().filter(|name| template::find(name).is_some()) {
        Some(name) if !Path::new(path).exists() => Failure::Usage(format!(
            "there is no file {name}, but a template of that name: did you mean `strapwright \
             new {name}`?"
        )),
        _ => why,
    }
}

/// Makes findings about the size point at the word that the user typed.
fn point_at_size<'s>(
    size: Size<'_>,
    sources: &mut Sources,
    spans: impl Iterator<Item = &'s mut Span>,
) {
    let is_size = |s: &Source| {
        s.name == job::SET && s.text.strip_prefix(SIZE_KEY) == Some(size.label)
    };
    // The last one: a --set with the same text comes before it.
    let found = sources.iter().enumerate().filter(|(_, s)| is_size(s)).last();
    let Some((index, _)) = found else { return };
    let (name, text) = (size.origin.to_owned(), size.label.to_owned());
    sources.replace(index, Source { name, part: String::new(), text, line: 1 });
    for span in spans.filter(|span| span.source == index) {
        let range = &mut span.range;
        *range = match range.start.checked_sub(SIZE_KEY.len()) {
            Some(start) => start..range.end - SIZE_KEY.len(),
            None => 0..size.label.len(),
        };
    }
}
