//! From text to job: the ways in, each with a job as it is or with one value changed.

use super::chain::{MergedTemplates, load_chain, load_templates, merge_chain};
use super::house::House;
use super::own_measure::OwnMeasure;
use super::resolve::job;
use super::section::{JOB, reader};
use super::set::parse_set;
use super::shape::take_misshapen;
use super::{Job, Spanned, stock};
use crate::diagnostic::{Finding, Severity, Sources, Span, cap_findings, forbids_print};
use crate::geom::Length;
use crate::input::{self, Table};
use crate::job::rule;
use crate::template::{self, BuiltIn, TemplateLoader};

/// A job as far as it could be read.
#[derive(Debug)]
pub struct ParsedJob {
    /// The texts, for showing findings.
    pub sources: Sources,
    /// The job; `None` when a mistake kept it from being one.
    pub job: Option<Job>,
    /// All mistakes.
    pub findings: Vec<Finding>,
}

/// Reads a job text called `name`. Merges the job into the built-in template that it names,
/// and `sets` (each `KEY=VALUE`) into that. Collects all mistakes.
///
/// ```
/// use strapwright::{geom::Length, job::read};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let sets = ["strap.width=\"38 mm\"".to_owned()];
/// let job = read("belt.toml", belt, &sets).job.expect("no mistakes");
/// assert_eq!(job.strap.width.value, Length::from_mm(38));
///
/// let slip = read("belt.toml", "template = \"bel\"", &[]);
/// assert!(slip.job.is_none() && slip.findings[0].remedy.contains("belt"));
/// ```
pub fn read(name: &str, text: &str, sets: &[String]) -> ParsedJob {
    JobText { name, text, sets, loader: &BuiltIn }.read()
}

/// What a job is read from: a text called `name`, `sets` (each `KEY=VALUE`) over it, and where its
/// templates come from.
#[derive(Clone, Copy)]
pub(crate) struct JobText<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
    pub(crate) sets: &'a [String],
    pub(crate) loader: &'a dyn TemplateLoader,
}

impl JobText<'_> {
    /// Merges the job into the template that it names, and the sets into that. Collects all
    /// mistakes.
    pub(crate) fn read(&self) -> ParsedJob {
        self.read_changed(None, |_| {})
    }

    /// The same without the value at one of its [`lines`](Self::lines).
    pub(crate) fn without(&self, line: &Span) -> ParsedJob {
        self.read_changed(Some(line), |_| {})
    }

    /// The same with the length at a dotted key made longer by so much; `None` where it is
    /// none, or a sum.
    pub(crate) fn moved(&self, key: &str, by: Length) -> Option<MovedJob> {
        let mut was = None;
        let job = self.read_changed(None, |templates| {
            let span = templates.root.dotted_leaf(key).map(|leaf| leaf.span.clone());
            let is_built_in =
                span.is_some_and(|span| templates.origin.is_built_in(&span));
            let value = templates.root.move_length(key, by);
            was = value.map(|value| (value, is_built_in));
        });
        let (value, is_built_in) = was?;
        Some(MovedJob { job, value, is_built_in })
    }

    /// The dotted keys that the job and its sets give, each with its value's place.
    pub(crate) fn own_keys(&self) -> Vec<(String, Span)> {
        let own = self.parse(&mut Sources::default(), &mut Vec::new()).all();
        let span = |key: &String| Some(own.dotted_leaf(key)?.span.clone());
        let keys = own.dotted_keys().into_iter();
        keys.filter_map(|key| Some((span(&key)?, key)))
            .map(|(span, key)| (key, span))
            .collect()
    }

    /// Where the values of the job and of its sets stand, except the name of its template.
    pub(crate) fn lines(&self) -> Vec<Span> {
        let mut own = self.parse(&mut Sources::default(), &mut Vec::new()).all();
        own.entries.retain(|e| e.key != "template");
        let mut all = own.spans();
        all.sort_by_key(Span::begins);
        all
    }

    /// Parses the job and its sets, without its template.
    fn parse(&self, sources: &mut Sources, findings: &mut Vec<Finding>) -> Own {
        let source = sources.add(self.name, self.text);
        let job = input::parse(&JOB, sources, source, findings);
        let mut own = Own { job, sets: Table::default() };
        for word in self.sets {
            own.sets.merge(parse_set(sources, word, findings));
        }
        own
    }

    /// Reads the job without the value at one of its lines, and with what `change` makes of it
    /// and its templates.
    fn read_changed(
        &self,
        without: Option<&Span>,
        change: impl FnOnce(&mut MergedTemplates),
    ) -> ParsedJob {
        let mut sources = Sources::default();
        let mut findings = Vec::new();
        let mut own = self.parse(&mut sources, &mut findings);
        if let Some(line) = without {
            own.job.remove_at(line);
            own.sets.remove_at(line);
        }
        if forbids_print(&findings) {
            cap_findings(rule::JOB_LIMIT, &mut findings);
            // Half a text would only give findings that are not the user's mistakes.
            return ParsedJob { sources, job: None, findings };
        }
        let mut misshapen = take_misshapen(&mut own.job);
        misshapen.extend(take_misshapen(&mut own.sets));
        let (all, house) = (own.all(), &mut House::new(self.loader.profiles()));
        let templates =
            load_templates(&all, self.loader, house, &mut sources, &mut findings);
        findings.extend(misshapen);
        let Some(mut templates) = templates else {
            return ParsedJob { sources, job: None, findings };
        };
        if let Some(empty) = not_measured(&all, &templates.root, &sources) {
            findings.push(empty);
            return ParsedJob { sources, job: None, findings };
        }
        let measure = OwnMeasure::read(&all);
        for text in [own.job, own.sets] {
            house.merge(&mut templates.root, text, false, &mut sources, &mut findings);
        }
        templates.origin.name_things(&house.named);
        let size = stock::chosen_size(&templates.root);
        templates.root.merge(size);
        change(&mut templates);
        let reader = reader(&templates.root);
        house.find_differences(&reader, &sources);
        let job = job(
            &reader,
            &templates.root,
            templates.name.clone(),
            templates.origin.clone(),
        );
        findings.extend(reader.finish().into_iter().filter(|f| !templates.is_idle(f)));
        // A key that nothing reads forbids the print. But the job is complete without it, so it
        // goes on, and the same run shows what else is wrong.
        let spoils =
            |f: &Finding| f.severity == Severity::Error && f.rule != rule::UNKNOWN_KEY;
        let job = job.filter(|_| !findings.iter().any(spoils));
        findings.extend(job.as_ref().and_then(|job| measure.check(job, &templates)));
        cap_findings(rule::JOB_LIMIT, &mut findings);
        ParsedJob { sources, job, findings }
    }
}

/// A job of which one value was moved.
pub(crate) struct MovedJob {
    pub(crate) job: ParsedJob,
    /// The value as it was given.
    pub(crate) value: String,
    /// Whether a template of the program gave the value.
    pub(crate) is_built_in: bool,
}

/// The dotted key of the value that a span of a job, a template or a `--set` stands for.
pub fn key_at(sources: &Sources, span: &Span) -> Option<String> {
    let source = sources.get(span.source)?;
    if source.name == super::SET {
        return source.text.split_once('=').map(|(key, _)| key.trim().to_owned());
    }
    input::parse_valid(&source.text, span.source).key_at(span)
}

/// A job and its `sets`, which are a text over it.
struct Own {
    job: Table,
    sets: Table,
}

impl Own {
    fn all(&self) -> Table {
        let mut all = self.job.clone();
        all.merge(self.sets.clone());
        all
    }
}

/// Finds the keys of a job that are empty although the templates below have a value, or ask
/// for one: nothing is never the value of the template.
fn not_measured(own: &Table, below: &Table, sources: &Sources) -> Option<Finding> {
    let is_empty = |table: &Table, key: &str| {
        table
            .dotted_leaf(key)
            .is_some_and(|l| l.value.text().is_some_and(|t| t.trim().is_empty()))
    };
    let has_value = |key: &String| {
        let value = below.dotted_leaf(key).and_then(|leaf| leaf.value.word());
        value.is_some_and(|word| !word.is_empty())
    };
    let keys = own.dotted_keys().into_iter();
    let empty: Vec<String> =
        keys.filter(|key| is_empty(own, key) && has_value(key)).collect();
    let span = |key: &String| Some(own.dotted_leaf(key)?.span.clone());
    let first = span(empty.first()?);
    let named = empty.iter().map(|key| {
        let line = span(key).and_then(|span| sources.line_column(&span));
        line.map_or_else(|| key.clone(), |(line, _)| format!("{key} (line {line})"))
    });
    let named: Vec<String> = named.collect();
    let (are, count) = match named.len() {
        1 => ("a value is", "it"),
        _ => ("values are", "each"),
    };
    Some(
        Finding::error(rule::NOT_MEASURED, format!("{are} still to be measured"))
            .at(first)
            .expected(
                format!("nothing in {}", named.join(", ")),
                format!("a value for {count}"),
            )
            .remedy("measure and fill in; the remark on the line says how"),
    )
}

/// A template with all templates below it.
#[derive(Debug)]
pub struct TemplateChain {
    /// The texts, for showing findings.
    pub sources: Sources,
    /// The templates, the lowest first; empty if one could not be read.
    pub texts: Vec<template::Text>,
    /// All mistakes.
    pub findings: Vec<Finding>,
}

impl TemplateChain {
    /// What they say of themselves.
    pub fn about(&self) -> template::About {
        let texts: Vec<&str> = self.texts.iter().map(|t| t.text.as_ref()).collect();
        template::about_chain(&texts)
    }
}

/// Finds a template by its name and reads it by itself. A missing key is no mistake: its jobs
/// may have it.
pub fn read_template(name: &str, loader: &dyn TemplateLoader) -> TemplateChain {
    let (mut sources, mut findings) = (Sources::default(), Vec::new());
    let given = Spanned { value: name.to_owned(), span: None };
    let Some(chain) = load_chain(given, loader, &mut sources, &mut findings) else {
        return TemplateChain { sources, texts: Vec::new(), findings };
    };
    let texts = chain.iter().rev().map(|link| link.text.clone()).collect();
    let house = &mut House::new(loader.profiles());
    let templates =
        merge_chain(name.to_owned(), chain, house, &mut sources, &mut findings);
    let reader = reader(&templates.root);
    job(&reader, &templates.root, name.to_owned(), templates.origin.clone());
    let wrong = |f: &Finding| f.rule != rule::MISSING_KEY && !templates.is_idle(f);
    findings.extend(reader.finish().into_iter().filter(wrong));
    TemplateChain { sources, texts, findings }
}
