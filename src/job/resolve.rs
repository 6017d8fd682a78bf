//! The steps from text to job.

use super::feature::{Feature, FeatureKind};
use super::piece::PieceOrder;
use super::reader::{Reader, nearest};
use super::section::Section;
use super::stock::{self, Stock};
use super::tree::{self, Table};
use super::{
    Blank, Body, Buckle, Job, Leather, Measure, STRAP, Said, Serves, Taken, Worn,
};
use crate::diagnostic::{Finding, Severity, Sources, few, forbids_print};
use crate::geom::{Length, Ratio};
use crate::template;

/// The rules that this stage can find broken, each with what it means.
pub const RULES: &[(&str, &str)] = &[
    ("job-syntax", "the text is not TOML, or a --set is not KEY=VALUE"),
    ("job-limit", "a text or a table that is larger than any job, or endless mistakes"),
    ("unknown-template", "the job names a template that there is not"),
    ("unknown-key", "a key that nothing reads: a typing slip would be passed over"),
    ("missing-key", "a key that the strap needs"),
    ("bad-length", "a length without a number or a unit, or not above zero"),
    ("bad-value", "a value of the wrong form, or not one of those that there are"),
    ("unknown-reference", "a sum of lengths names a key that there is not"),
    ("reference-cycle", "lengths that are given by each other"),
    ("unknown-range", "the stock names a range of sizes that there is not"),
    ("stock-order", "sizes of the stock that do not ascend, or stand there twice"),
    ("unknown-size", "a size that the stock has not"),
];

/// A job as far as it could be read.
#[derive(Debug)]
pub struct Reading {
    /// The texts, for showing findings.
    pub sources: Sources,
    /// The job; `None` when a mistake kept it from being one.
    pub job: Option<Job>,
    /// All mistakes.
    pub findings: Vec<Finding>,
}

/// Reads a job text called `name`, lays it over its template and `sets` (each
/// `KEY=VALUE`) over that. Never stops at the first mistake.
pub fn read(name: &str, text: &str, sets: &[String]) -> Reading {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let source = sources.add(name, text);
    let mut over = tree::parse(&sources, source, &mut findings);
    for word in sets {
        let set = tree::parse_set(&mut sources, word, &mut findings);
        over.lay(set);
    }
    if forbids_print(&findings) {
        few("job-limit", &mut findings);
        // Half a text would only breed findings that are not the user's mistakes.
        return Reading { sources, job: None, findings };
    }
    let Some((template, own, mut root)) = base(&over, &mut sources, &mut findings) else {
        return Reading { sources, job: None, findings };
    };
    root.lay(over);
    let size = stock::over(&root);
    root.lay(size);
    let reader = Reader::new(&root);
    let job = job(&reader, &root, template);
    // A key of the template that the job has made idle is no slip of the job's.
    let idle = |f: &Finding| {
        f.rule == "unknown-key" && f.place.as_ref().is_some_and(|p| p.source == own)
    };
    findings.extend(reader.finish().into_iter().filter(|f| !idle(f)));
    // A key that nothing reads forbids the print, but the job is whole without it and goes
    // on, so that the same run shows what else is wrong.
    let spoils = |f: &Finding| f.severity == Severity::Error && f.rule != "unknown-key";
    let job = job.filter(|_| !findings.iter().any(spoils));
    few("job-limit", &mut findings);
    Reading { sources, job, findings }
}

/// The template's name, its source and its tree.
fn base(
    over: &Table,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<(String, usize, Table)> {
    let reader = Reader::new(over);
    let Said { value: name, place } = reader.top().text("template");
    let names = || template::REGISTER.iter().map(|t| t.name);
    if name.is_empty() {
        findings.push(
            Finding::new("missing-key", Severity::Error, "`template` is missing")
                .held("nothing", "the name of a template")
                .remedy(format!(
                    "add a line such as template = \"belt\"; there is: {}",
                    names().collect::<Vec<_>>().join(", ")
                )),
        );
        return None;
    }
    let Some(found) = template::find(&name) else {
        let list = names().collect::<Vec<_>>().join(", ");
        findings.push(
            Finding::new(
                "unknown-template",
                Severity::Error,
                format!("no template is called `{name}`"),
            )
            .at(place)
            .held(format!("`{name}`"), format!("one of: {list}"))
            .remedy(nearest(&name, names())),
        );
        return None;
    };
    let source = sources.add(format!("template {name}"), found.text);
    Some((name, source, tree::parse(sources, source, findings)))
}

fn job(reader: &Reader<'_>, root: &Table, template: String) -> Option<Job> {
    let top = reader.top();
    top.text("template");
    let (title, wearer) = (top.text("title"), top.text("wearer"));
    if let Some(about) = reader.section("about") {
        about.text("summary");
        about.ignore("keys");
    }
    let strap = reader.section("strap");
    if strap.is_none() {
        top.lacks("strap", "a table with width and thickness");
    }
    let strap = strap.map(|s| leather(&s)).unwrap_or_default();
    let worn = worn(reader);
    let stock = stock(reader, matches!(worn, Ok(None)));
    let serves = reader.section("serves").map(|s| Serves {
        what: s.text("what"),
        holes: s.text("holes"),
        offset: s.length_or("offset", Length::ZERO),
        per: if s.has("per") {
            s.ratio("per")
        } else {
            Said { value: Ratio::ONE, place: None }
        },
    });
    let (blank, mut named) = blank(reader);
    let (mut pieces, mut features) = (Vec::new(), Vec::new());
    for entry in &root.entries {
        let name = entry.key.as_str();
        if SECTIONS.contains(&name) || name == "about" || !reader.has_kind(name) {
            continue;
        }
        let Some(table) = reader.section(name) else { continue };
        let kind = table.text("kind");
        match PieceOrder::read(name, &kind.value, &table, &strap) {
            Some(piece) => pieces.push(piece),
            None => features.extend(feature(&table, &kind, &blank)),
        }
    }
    let mut on: Vec<&str> = pieces.iter().map(|p| p.name.as_str()).collect();
    on.push(STRAP);
    for said in
        features.iter().map(|f| &f.on).filter(|on_it| !on.contains(&on_it.value.as_str()))
    {
        reader.find(no_piece(said, &on));
    }
    if let Some(serves) = &serves {
        named.push(serves.holes.clone());
    }
    let has_tip = |f: &Feature| f.on_blank && matches!(f.kind, FeatureKind::Tip(_));
    if blank.length.is_none() && features.iter().any(has_tip) {
        // Where a tip that is cut already lies follows from the blank's length alone.
        top.lacks("blank.length", "the length of the blank that came with its tip");
    }
    for said in named.iter().filter(|s| !features.iter().any(|f| f.name == s.value)) {
        reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("the strap has no feature `{}`", said.value),
            )
            .at(said.place.clone())
            .held(format!("`{}`", said.value), "names of features of this strap")
            .remedy(nearest(&said.value, features.iter().map(|f| f.name.as_str()))),
        );
    }
    Some(Job {
        template,
        title,
        wearer,
        strap,
        worn: worn.ok()?,
        stock,
        serves,
        blank,
        pieces,
        features,
    })
}

/// The tables that are not features.
const SECTIONS: [&str; 6] = ["measure", "strap", "buckle", "blank", "stock", "serves"];

fn leather(s: &Section<'_, '_>) -> Leather {
    Leather { width: s.size("width"), thickness: s.size("thickness"), k: s.ratio("k") }
}

/// Something is missing or wrong, and a finding says what.
struct Flawed;

/// `None` for a strap that closes round nobody.
fn worn(reader: &Reader<'_>) -> Result<Option<Worn>, Flawed> {
    let (measure, buckle) = (reader.section("measure"), reader.section("buckle"));
    let (m, b) = match (measure, buckle) {
        (None, None) => return Ok(None),
        (Some(m), b) => (m, b),
        (None, Some(_)) => {
            reader.top().lacks("measure", "a table with taken, value, ease, body");
            return Err(Flawed);
        }
    };
    let taken = m.choice("taken", &Taken::WORDS);
    let body = m.choice(
        "body",
        &[
            ("waist", Body::Waist),
            ("neck", Body::Neck),
            ("wrist", Body::Wrist),
            ("head", Body::Head),
            ("thigh", Body::Thigh),
            ("dog-neck", Body::DogNeck),
        ],
    );
    let (value, ease) = (m.size("value"), m.length("ease"));
    let (rest, bar) = (m.length_or("rest", Length::ZERO), m.length_if("bar"));
    let buckle = b.map(|b| Buckle {
        bar: b.size("bar"),
        reach: b.size("reach"),
        frame: b.size("frame"),
        inside: b.size("inside"),
        tongue: b.size("tongue"),
    });
    let (Some(taken), Some(body)) = (taken, body) else { return Err(Flawed) };
    let measure = Measure { taken, value, ease, body: body.value, rest, bar };
    Ok(Some(Worn { measure, buckle }))
}

/// The sizes in stock, which a strap with nothing to measure has no use for.
fn stock(reader: &Reader<'_>, unmeasured: bool) -> Option<Stock> {
    let stock = stock::read(reader)?;
    if unmeasured {
        stock::needs_measure(&reader.top());
        return None;
    }
    Some(stock)
}

/// The blank, and the names that it says it came with.
fn blank(reader: &Reader<'_>) -> (Blank, Vec<Said<String>>) {
    let Some(b) = reader.section("blank") else { return Default::default() };
    let comes_with = b.names("comes-punched", &[]);
    let punched = b.names("punched", &comes_with);
    let (length, width) = (b.length_if("length"), b.length_if("width"));
    (Blank { length, width, punched: punched.clone() }, punched)
}

fn feature(
    table: &Section<'_, '_>,
    said: &Said<String>,
    blank: &Blank,
) -> Option<Feature> {
    let word = said.value.as_str();
    let on = table.text_or("on", STRAP);
    let mirror = table.datum_if("mirror-about");
    let kind = FeatureKind::read(word, table);
    if kind.is_none() {
        table.ignore_all();
        let all = || FeatureKind::NAMES.into_iter().chain(PieceOrder::NAMES);
        table.reader.find(
            Finding::new(
                "bad-value",
                Severity::Error,
                format!("no kind of feature or piece is called `{word}`"),
            )
            .at(said.place.clone())
            .held(
                format!("`{word}`"),
                format!("one of: {}", all().collect::<Vec<_>>().join(", ")),
            )
            .remedy(nearest(word, all())),
        );
    }
    Some(Feature {
        name: table.name.to_owned(),
        on_blank: blank.punched.iter().any(|s| s.value == table.name),
        on,
        mirror,
        kind: kind?,
        place: table.place.clone(),
    })
}

fn no_piece(said: &Said<String>, names: &[&str]) -> Finding {
    Finding::new(
        "bad-value",
        Severity::Error,
        format!("no piece is called `{}`", said.value),
    )
    .at(said.place.clone())
    .held(format!("`{}`", said.value), format!("one of: {}", names.join(", ")))
    .remedy(nearest(&said.value, names.iter().copied()))
}

/// The keys that a template says and nothing reads, and its other mistakes, when it is read
/// by itself: what a job would pass over in silence, since a job may make keys of its
/// template idle.
pub fn unread(template: template::Template) -> Vec<Finding> {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let source = sources.add(format!("template {}", template.name), template.text);
    let root = tree::parse(&sources, source, &mut findings);
    let reader = Reader::new(&root);
    job(&reader, &root, template.name.to_owned());
    findings.extend(reader.finish());
    findings
}
