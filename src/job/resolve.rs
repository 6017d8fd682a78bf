//! From a merged table to the job.

use super::feature::{Feature, FeatureKind};
use super::hardware::{BUCKLE, HardwareId, HardwareSpec, Target};
use super::limits;
use super::names::{Names, TableContext};
use super::origin::Origin;
use super::piece::PieceSpec;
use super::section::{Reader, Section};
use super::shape::{find_kindless, find_of_workshop, is_plain};
use super::stock::{self, Stock};
use super::{
    Blank, Body, FeatureId, Hazard, Job, Leather, Measure, MeasureMethod, PieceId, STRAP,
    Serves, Spanned, Strip, Worn,
};
use crate::diagnostic::Finding;
use crate::geom::{Length, Ratio};
use crate::input::{Table, Takes};
use crate::job::rule;

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
        about.names("asked", &[]);
        if let Some(how) = about.section("how") {
            how.accept_all();
        }
        measured =
            about.names("measured", &[]).into_iter().map(|key| key.value).collect();
    }
    let hazards = Hazard::read(about.as_ref());
    let strap = reader.section("strap");
    if strap.is_none() {
        top.lacks("strap", "a table with width and thickness");
    }
    let strap = strap.map(|s| leather(&s)).unwrap_or_default();
    let hardware = hardware(reader, root, &origin);
    let buckle = hardware.iter().position(|h| h.name.as_str() == BUCKLE).map(HardwareId);
    let worn = worn(reader, buckle, &origin);
    let stock = stock(reader, matches!(worn, Ok(None)));
    let said_serves = reader.section("serves").map(|s| {
        let per = s.ratio_or("per", &Spanned::without_span(Ratio::ONE));
        let (what, holes) = (s.text("what"), s.text("holes"));
        let [least, most] = ["least", "most"].map(|key| s.length_if(key));
        (what, holes, s.length_if("offset"), [least, most], per)
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
    let names = Names::new(&tables, &hardware, &origin);
    let (mut pieces, mut features) = (Vec::new(), Vec::new());
    for (table, kind) in &tables {
        let context = TableContext { table, kind, names: &names, origin: &origin };
        if PieceSpec::is_kind(&kind.value) {
            let id = PieceId::other(pieces.len());
            pieces.push(PieceSpec::read(id, &context, &strap));
        } else {
            features.extend(feature(FeatureId(features.len()), &context));
        }
    }
    for piece in &pieces {
        features.extend(piece.end_holes(FeatureId(features.len())));
    }
    let serves = said_serves.and_then(|(what, holes, offset, [least, most], per)| {
        let holes = names.feature(&top, &holes)?;
        Some(Serves { what, holes, offset, least, most, per })
    });
    for given in &punched {
        if let Some(id) = names.feature(&top, given) {
            blank.punched.push(id);
        }
    }
    for feature in &mut features {
        feature.on_blank = blank.punched.iter().any(|id| id.value == feature.id);
    }
    find_unheld(reader, &hardware, &features, &origin);
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
    find_of_workshop(reader);
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
        hardware,
        assumed: Vec::new(),
        pieces,
        features,
        origin,
    })
}

/// The tables that are not features.
pub(super) const SECTIONS: [&str; 7] =
    ["measure", "strap", "buckle", "blank", "strip", "stock", "serves"];

fn leather(s: &Section<'_, '_>) -> Leather {
    s.text("leather");
    Leather { width: s.size("width"), thickness: s.size("thickness"), k: s.ratio("k") }
}

/// Something is missing or wrong, and a finding says what.
struct Invalid;

/// `None` for a strap that closes round nobody.
fn worn(
    reader: &Reader<'_>,
    buckle: Option<HardwareId>,
    origin: &Origin,
) -> Result<Option<Worn>, Invalid> {
    let (measure, buckle_table) = (reader.section("measure"), reader.section(BUCKLE));
    // A strap of the program that closes round nobody has no use for them.
    let is_measured = !origin.is_built_upon() || origin.has_table("measure");
    if let Some(table) = measure.as_ref().or(buckle_table.as_ref())
        && !is_measured
    {
        let message = format!("this strap has no use for `[{}]`", table.name);
        reader.find(
            Finding::error(rule::UNKNOWN_KEY, message)
                .at(table.span.clone())
                .expected(format!("`[{}]`", table.name), "the strap's own tables")
                .remedy(
                    "its measures and its hardware have names of their own: \
                     `strapwright templates` with its name lists them",
                ),
        );
        return Err(Invalid);
    }
    let Some(m) = measure else {
        if buckle.is_none() {
            return Ok(None);
        }
        reader.top().lacks("measure", "a table with taken, value, ease, body");
        return Err(Invalid);
    };
    let taken = m.choice("taken", &MeasureMethod::WORDS);
    let body = m.choice("body", &Body::WORDS);
    let is_sizing = taken.as_ref().is_some_and(|t| t.value == MeasureMethod::SizingStrap);
    let sizing = sizing_strap(reader, &m, is_sizing);
    let (value, hole) = match sizing {
        Some((girth, hole)) => (girth, Some(hole)),
        None => (m.size("value"), None),
    };
    let ease = m.length("ease");
    let (rest, bar) = (m.length_or("rest", Length::ZERO), m.length_if("bar"));
    let child =
        m.truth_or("child", false).then(|| m.leaf("child").map(|l| l.span.clone()));
    let (Some(taken), Some(body)) = (taken, body) else { return Err(Invalid) };
    let measure = Measure {
        taken,
        value,
        hole,
        ease,
        body: body.value,
        rest,
        bar,
        child: child.flatten(),
    };
    Ok(Some(Worn { measure, buckle }))
}

/// The girth that a sizing strap served, and the number of its hole: that of hole 1, and a
/// pitch for each further one. `None` where the measure was taken in another way, and for a
/// size of the stock, which is the girth itself.
fn sizing_strap(
    reader: &Reader<'_>,
    m: &Section<'_, '_>,
    is_sizing: bool,
) -> Option<(Spanned<Length>, Spanned<u32>)> {
    let is_read = is_sizing && reader.root.dotted_leaf("stock.size").is_none();
    let hole = m.count_up_to("hole", 1_000);
    let first = m.size_where("first-hole", is_read);
    let pitch = m.size_where("hole-pitch", is_read);
    if !is_read {
        if let (false, Some(span)) = (is_sizing, &hole.span) {
            reader.find(
                Finding::warning(rule::KEY_NOT_USED, "`measure.hole` is not used")
                    .at(Some(span.clone()))
                    .expected("another way of measuring", "the hole of a sizing strap")
                    .remedy("say measure.taken = \"sizing-strap\", or leave it out"),
            );
        }
        return None;
    }
    m.lacks("hole", "the number of the sizing strap's hole in use");
    // The value of a template is another's; one of the job is told of as not used.
    m.length_if("value");
    let further = i64::from(hole.value) - 1;
    let girth = first.value + pitch.value * further;
    Some((Spanned { value: girth, span: hole.span.clone() }, hole))
}

/// The tables that describe hardware.
fn hardware(reader: &Reader<'_>, root: &Table, origin: &Origin) -> Vec<HardwareSpec> {
    let names = root.entries.iter().map(|entry| entry.key.as_str());
    let own = names.filter(|name| reader.is_hardware(name));
    let tables = own.filter_map(|name| reader.section(name));
    tables.filter_map(|table| HardwareSpec::read(&table, origin)).collect()
}

/// Finds hardware of the job's own that no feature uses.
fn find_unheld(
    reader: &Reader<'_>,
    hardware: &[HardwareSpec],
    features: &[Feature],
    origin: &Origin,
) {
    for (id, spec) in hardware.iter().enumerate() {
        let id = HardwareId(id);
        let is_held = features.iter().map(|f| f.kind.facts()).any(|facts| {
            let is_met = facts.meets == Some(&Target::Hardware(id));
            is_met || facts.holds == Some(id) || facts.sets == Some(id)
        });
        let is_built_in = spec.span.as_ref().is_none_or(|s| origin.is_built_in(s));
        if is_held || is_built_in || spec.name.as_str() == BUCKLE {
            continue;
        }
        let message = format!("no feature uses the hardware `{}`", spec.name);
        reader.find(
            Finding::warning(rule::KEY_NOT_USED, message)
                .at(spec.span.clone())
                .expected(
                    "hardware that no feature names",
                    "a feature that holds, meets or sets it",
                )
                .remedy(
                    "name it where it goes: holds in a fold, meets or sets in holes; or \
                     leave it out",
                ),
        );
    }
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
    let width = s.size_if("width");
    Some(Strip { length: s.size("length"), width })
}

/// The blank, and the names of the features that it came with.
fn blank(reader: &Reader<'_>) -> (Blank, Vec<Spanned<String>>) {
    let Some(b) = reader.section("blank") else { return Default::default() };
    let comes_with = b.names("comes-punched", &[]);
    b.takes("punched", Takes::NamesOrAll);
    let punched = b.names("punched", &comes_with);
    let (length, width) = (b.length_if("length"), b.length_if("width"));
    (Blank { length, width, punched: Vec::new() }, punched)
}

fn feature(id: FeatureId, context: &TableContext<'_, '_>) -> Option<Feature> {
    let &TableContext { table, kind: given, names, origin } = context;
    let word = given.value.as_str();
    let on = names.piece(table, table.text_or("on", STRAP));
    let mirror = table.datum_if("mirror-about");
    let kind = FeatureKind::read(word, table, names);
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
            .at(given.span.clone()),
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
