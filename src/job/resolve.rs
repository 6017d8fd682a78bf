//! The steps from text to job.

use super::chain::{load_chain, load_templates, merge_chain};
use super::feature::{Feature, FeatureKind};
use super::limits;
use super::origin::Origin;
use super::own_measure::OwnMeasure;
use super::piece::{PieceNames, PieceSpec, TableContext};
use super::section::{JOB, Reader, Section, reader};
use super::set::parse_set;
use super::shape::{find_kindless, is_plain, take_misshapen};
use super::stock::{self, Stock};
use super::{
    Blank, Body, Buckle, FeatureId, Hazard, Job, Leather, Measure, MeasureMethod,
    PieceId, STRAP, Serves, Spanned, Strip, Worn,
};
use crate::diagnostic::{Finding, Severity, Sources, Span, cap_findings, forbids_print};
use crate::geom::{Length, Ratio};
use crate::input::{self, Table};
use crate::job::rule;
use crate::template::{self, BuiltIn, TemplateLoader};
use std::cell::RefCell;

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
    read_from(name, text, sets, &BuiltIn)
}

/// The same with the templates of a loader.
pub fn read_from(
    name: &str,
    text: &str,
    sets: &[String],
    loader: &dyn TemplateLoader,
) -> ParsedJob {
    read_changed(name, text, sets, loader, &Change::Nothing)
}

/// The same without the value at one of its [`lines`].
pub fn read_without(
    name: &str,
    text: &str,
    sets: &[String],
    loader: &dyn TemplateLoader,
    line: &Span,
) -> ParsedJob {
    read_changed(name, text, sets, loader, &Change::Without(line))
}

/// The same with the length at a dotted key made longer by so much; `None` where it is none,
/// or a sum.
pub fn read_moved(
    name: &str,
    text: &str,
    sets: &[String],
    loader: &dyn TemplateLoader,
    key: &str,
    by: Length,
) -> Option<MovedJob> {
    let was = RefCell::new(None);
    let change = Change::Moved { key, by, was: &was };
    let job = read_changed(name, text, sets, loader, &change);
    let (value, is_built_in) = was.into_inner()?;
    Some(MovedJob { job, value, is_built_in })
}

/// A job of which one value was moved.
#[derive(Debug)]
pub struct MovedJob {
    /// The job.
    pub job: ParsedJob,
    /// The value as it was given.
    pub value: String,
    /// Whether a template of the program gave the value.
    pub is_built_in: bool,
}

/// What is changed of a job before it is read.
enum Change<'a> {
    Nothing,
    Without(&'a Span),
    /// `was` takes the value as it was, and whether a template of the program gave it.
    Moved {
        key: &'a str,
        by: Length,
        was: &'a RefCell<Option<(String, bool)>>,
    },
}

/// The dotted keys that a job and its `sets` give, each with its value's place.
pub fn own_keys(text: &str, sets: &[String]) -> Vec<(String, Span)> {
    let own = parse_own("", text, sets, &mut Sources::default(), &mut Vec::new());
    let span = |key: &String| Some(own.dotted_leaf(key)?.span.clone());
    let keys = own.dotted_keys().into_iter();
    keys.filter_map(|key| Some((span(&key)?, key)))
        .map(|(span, key)| (key, span))
        .collect()
}

/// Where the values of a job and of its `sets` stand, except the name of its template.
pub fn lines(text: &str, sets: &[String]) -> Vec<Span> {
    let mut own = parse_own("", text, sets, &mut Sources::default(), &mut Vec::new());
    own.entries.retain(|e| e.key != "template");
    let mut all = own.spans();
    all.sort_by_key(Span::begins);
    all
}

/// Parses a job and its `sets`, without its template.
fn parse_own(
    name: &str,
    text: &str,
    sets: &[String],
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Table {
    let source = sources.add(name, text);
    let mut own = input::parse(&JOB, sources, source, findings);
    for word in sets {
        own.merge(parse_set(sources, word, findings));
    }
    own
}

fn read_changed(
    name: &str,
    text: &str,
    sets: &[String],
    loader: &dyn TemplateLoader,
    change: &Change<'_>,
) -> ParsedJob {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let mut own = parse_own(name, text, sets, &mut sources, &mut findings);
    if let Change::Without(line) = change {
        own.remove_at(line);
    }
    if forbids_print(&findings) {
        cap_findings(rule::JOB_LIMIT, &mut findings);
        // Half a text would only give findings that are not the user's mistakes.
        return ParsedJob { sources, job: None, findings };
    }
    let misshapen = take_misshapen(&mut own);
    let templates = load_templates(&own, loader, &mut sources, &mut findings);
    findings.extend(misshapen);
    let Some(mut templates) = templates else {
        return ParsedJob { sources, job: None, findings };
    };
    let measure = OwnMeasure::read(&own);
    templates.root.merge(own);
    let size = stock::chosen_size(&templates.root);
    templates.root.merge(size);
    if let Change::Moved { key, by, was } = change {
        let span = templates.root.dotted_leaf(key).map(|leaf| leaf.span.clone());
        let is_built_in = span.is_some_and(|span| templates.origin.is_built_in(&span));
        let value = templates.root.move_length(key, *by);
        was.replace(value.map(|value| (value, is_built_in)));
    }
    let reader = reader(&templates.root);
    let job =
        job(&reader, &templates.root, templates.name.clone(), templates.origin.clone());
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

pub(super) fn job(
    reader: &Reader<'_>,
    root: &Table,
    template: String,
    origin: Origin,
) -> Option<Job> {
    let top = reader.top();
    top.text("template");
    let (title, wearer) = (top.text("title"), top.text("wearer"));
    let mut measured = Vec::new();
    let about = reader.section("about");
    if let Some(about) = &about {
        about.text("summary");
        measured =
            about.names("measured", &[]).into_iter().map(|key| key.value).collect();
    }
    let hazards = Hazard::read(about.as_ref());
    let strap = reader.section("strap");
    if strap.is_none() {
        top.lacks("strap", "a table with width and thickness");
    }
    let strap = strap.map(|s| leather(&s)).unwrap_or_default();
    let worn = worn(reader);
    let stock = stock(reader, matches!(worn, Ok(None)));
    let said_serves = reader.section("serves").map(|s| {
        let per = if s.has("per") {
            s.ratio("per")
        } else {
            Spanned { value: Ratio::ONE, span: None }
        };
        let (what, holes) = (s.text("what"), s.text("holes"));
        (what, holes, s.length_if("offset"), per)
    });
    let (mut blank, punched) = blank(reader);
    let names = root.entries.iter().map(|entry| entry.key.as_str());
    let tables: Vec<_> = names
        .filter(|name| !is_plain(name) && reader.has_kind(name))
        .filter_map(|name| {
            let table = reader.section(name)?;
            let kind = table.text("kind");
            Some((table, kind))
        })
        .collect();
    let pieces_named = PieceNames::new(&tables);
    let (mut pieces, mut features) = (Vec::new(), Vec::new());
    for (table, kind) in &tables {
        let context =
            TableContext { table, kind, pieces: &pieces_named, origin: &origin };
        if PieceSpec::is_kind(&kind.value) {
            let id = PieceId::other(pieces.len());
            pieces.push(PieceSpec::read(id, &context, &strap));
        } else {
            features.extend(feature(FeatureId(features.len()), &context));
        }
    }
    let serves = said_serves.and_then(|(what, holes, offset, per)| {
        let holes = feature_named(reader, &features, &holes)?;
        Some(Serves { what, holes, offset, per })
    });
    for said in &punched {
        if let Some(id) = feature_named(reader, &features, said) {
            features[id.value.0].on_blank = true;
            blank.punched.push(id);
        }
    }
    let has_tip = |f: &Feature| f.on_blank && matches!(f.kind, FeatureKind::Tip(_));
    if blank.length.is_none() && features.iter().any(has_tip) {
        // Where a tip that is cut already lies follows from the blank's length alone.
        top.lacks("blank.length", "the length of the blank that came with its tip");
    }
    if let Some(about) = &about {
        limits::check(about);
        limits::check_described(about);
    }
    find_kindless(reader);
    Some(Job {
        template,
        title,
        wearer,
        strap,
        worn: worn.ok()?,
        stock,
        serves,
        blank,
        strip: strip(reader),
        hazards,
        measured,
        pieces,
        features,
        origin,
    })
}

/// The feature of a name, where the strap has it.
fn feature_named(
    reader: &Reader<'_>,
    features: &[Feature],
    said: &Spanned<String>,
) -> Option<Spanned<FeatureId>> {
    let own = features.iter().find(|f| f.name.as_str() == said.value);
    if own.is_none() {
        let names = features.iter().map(|f| f.name.as_str());
        reader.find(
            Finding::unknown_name(rule::BAD_VALUE, "feature", &said.value, names)
                .at(said.span.clone()),
        );
    }
    own.map(|f| Spanned { value: f.id, span: said.span.clone() })
}

/// The tables that are not features.
pub(super) const SECTIONS: [&str; 7] =
    ["measure", "strap", "buckle", "blank", "strip", "stock", "serves"];

fn leather(s: &Section<'_, '_>) -> Leather {
    Leather { width: s.size("width"), thickness: s.size("thickness"), k: s.ratio("k") }
}

/// Something is missing or wrong, and a finding says what.
struct Invalid;

/// `None` for a strap that closes round nobody.
fn worn(reader: &Reader<'_>) -> Result<Option<Worn>, Invalid> {
    let (measure, buckle) = (reader.section("measure"), reader.section("buckle"));
    let (m, b) = match (measure, buckle) {
        (None, None) => return Ok(None),
        (Some(m), b) => (m, b),
        (None, Some(_)) => {
            reader.top().lacks("measure", "a table with taken, value, ease, body");
            return Err(Invalid);
        }
    };
    let taken = m.choice("taken", &MeasureMethod::WORDS);
    let body = m.choice(
        "body",
        &[
            ("waist", Body::Waist),
            ("neck", Body::Neck),
            ("wrist", Body::Wrist),
            ("forearm", Body::Forearm),
            ("head", Body::Head),
            ("thigh", Body::Thigh),
            ("dog-neck", Body::DogNeck),
        ],
    );
    let (value, ease) = (m.size("value"), m.length("ease"));
    let (rest, bar) = (m.length_or("rest", Length::ZERO), m.length_if("bar"));
    let child =
        m.truth_or("child", false).then(|| m.leaf("child").map(|l| l.span.clone()));
    let buckle = b.map(|b| Buckle {
        bar: b.size("bar"),
        reach: b.size("reach"),
        frame: b.size("frame"),
        inside: b.size("inside"),
        tongue: b.size("tongue"),
    });
    let (Some(taken), Some(body)) = (taken, body) else { return Err(Invalid) };
    let measure = Measure {
        taken,
        value,
        ease,
        body: body.value,
        rest,
        bar,
        child: child.flatten(),
    };
    Ok(Some(Worn { measure, buckle }))
}

/// The sizes in stock. A strap without a measure has no use for them.
fn stock(reader: &Reader<'_>, unmeasured: bool) -> Option<Stock> {
    let stock = stock::read(reader)?;
    if unmeasured {
        stock::needs_measure(&reader.top());
        return None;
    }
    Some(stock)
}

/// The strip that the pieces are cut from.
fn strip(reader: &Reader<'_>) -> Option<Strip> {
    let s = reader.section("strip")?;
    let width = s.has("width").then(|| s.size("width"));
    Some(Strip { length: s.size("length"), width })
}

/// The blank, and the names of the features that it came with.
fn blank(reader: &Reader<'_>) -> (Blank, Vec<Spanned<String>>) {
    let Some(b) = reader.section("blank") else { return Default::default() };
    let comes_with = b.names("comes-punched", &[]);
    let punched = b.names("punched", &comes_with);
    let (length, width) = (b.length_if("length"), b.length_if("width"));
    (Blank { length, width, punched: Vec::new() }, punched)
}

fn feature(id: FeatureId, context: &TableContext<'_, '_>) -> Option<Feature> {
    let &TableContext { table, kind: said, pieces, origin } = context;
    let word = said.value.as_str();
    let on = pieces.find(table, table.text_or("on", STRAP));
    let mirror = table.datum_if("mirror-about");
    let kind = FeatureKind::read(word, table);
    if kind.is_none() {
        table.accept_all();
        let kinds = FeatureKind::NAMES.into_iter().chain(PieceSpec::NAMES);
        table.reader.find(
            Finding::unknown_name(
                rule::BAD_VALUE,
                "kind of feature or piece",
                word,
                kinds,
            )
            .at(said.span.clone()),
        );
    }
    Some(Feature {
        id,
        name: origin.table(table.name),
        on_blank: false,
        on,
        mirror,
        kind: kind?,
        span: table.span.clone(),
    })
}

/// The mistakes of a built-in template that is read by itself, with the keys that nothing
/// reads. A job may make keys of its template idle, so reading a job does not find those.
pub fn unread(template: template::Template) -> Vec<Finding> {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let source = sources.add(format!("template {}", template.name), template.text);
    let root = input::parse(&JOB, &sources, source, &mut findings);
    let reader = reader(&root);
    job(&reader, &root, template.name.to_owned(), Origin::default());
    findings.extend(reader.finish());
    findings
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

/// Finds a template by its name and reads it by itself. A missing key is no mistake: its jobs
/// may have it.
pub fn read_template(name: &str, loader: &dyn TemplateLoader) -> TemplateChain {
    let (mut sources, mut findings) = (Sources::default(), Vec::new());
    let said = Spanned { value: name.to_owned(), span: None };
    let Some(chain) = load_chain(said, loader, &mut sources, &mut findings) else {
        return TemplateChain { sources, texts: Vec::new(), findings };
    };
    let texts = chain.iter().rev().map(|link| link.text.clone()).collect();
    let templates = merge_chain(name.to_owned(), chain);
    let reader = reader(&templates.root);
    job(&reader, &templates.root, name.to_owned(), templates.origin.clone());
    let wrong = |f: &Finding| f.rule != rule::MISSING_KEY && !templates.is_idle(f);
    findings.extend(reader.finish().into_iter().filter(wrong));
    TemplateChain { sources, texts, findings }
}
