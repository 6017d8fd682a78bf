//! One strap as an address asks for it: its text, its values and what the engine makes of them.

use super::address::Address;
use super::assets::hash;
use super::base::{Base, PAGE};
use super::say::{language, say};
use super::toml_text::put;
use crate::assembly::fit_and_lay_out;
use crate::diagnostic::{Finding, Severity};
use crate::fit::MeasurementUncertainty;
use crate::geom::Length;
use crate::job::{self, HardwareKind, Job, ParsedJob, key_at};
use crate::layout::Layout;
use crate::paginate::Paper;
use crate::print::{PrintSetup, paginate_job};
use crate::profile::Thing;
use crate::template::Key;
use crate::words::{Units, Wording};
use crate::{Laid, Prepared, prepare_from};

/// The units that a bare number may have.
const UNITS: [&str; 3] = ["mm", "cm", "in"];

/// Most changes that are tried before they are offered.
const MOST_TRIED: usize = 8;

/// The units that a bare number may have, with their words.
pub(super) fn units() -> [(&'static str, String); 3] {
    [("mm", say("millimetres")), ("cm", say("centimetres")), ("in", say("inches"))]
}

/// What a strap is made from.
pub(super) struct Strap<'a> {
    pub(super) address: Address,
    base: Base<'a>,
    /// What was said, with a unit where a bare number was given for a length.
    said: Vec<(String, String)>,
    pub(super) prepared: Prepared,
    /// The words of the page, with the units of the sheets.
    pub(super) wording: Wording,
}

/// Things of the workshop: the key that names one, the one that it names, all that would do.
pub(super) struct House<'s> {
    pub(super) key: String,
    /// The kind of hardware; `None` for leather.
    kind: Option<String>,
    pub(super) named: Option<&'s Thing>,
    pub(super) things: Vec<&'s Thing>,
}

/// A button that mends a finding: the values of one key, tried before it is offered.
pub(super) struct Offer {
    pub(super) key: String,
    pub(super) value: String,
}

impl<'a> Strap<'a> {
    /// The strap that an address says.
    pub(super) fn new(base: Base<'a>, address: Address, units: Units) -> Self {
        let said = with_units(&address, &base);
        let prepared = prepare(&base, &said);
        let wording = Wording { units, language: language() };
        Self { address, base, said, prepared, wording }
    }

    /// The unit of bare numbers.
    pub(super) fn unit(&self) -> &'static str {
        unit(&self.address, &self.base)
    }

    pub(super) fn laid(&self) -> Option<&Laid> {
        self.prepared.laid.as_ref()
    }

    /// The job with its layout, where nothing forbids the print.
    pub(super) fn printable(&self) -> Option<&Laid> {
        let forbids = crate::diagnostic::forbids_print(&self.prepared.findings);
        self.laid().filter(|_| !forbids)
    }

    /// The keys of the template.
    pub(super) fn keys(&self) -> &[Key] {
        &self.base.about.keys
    }

    /// A key of the template.
    pub(super) fn key(&self, name: &str) -> Option<&Key> {
        self.keys().iter().find(|key| key.name == name)
    }

    /// The value that the template has, as a person types it.
    pub(super) fn default(&self, key: &str) -> Option<String> {
        self.base.default(&self.address, key)
    }

    /// The value of a key with its unit: what was said, else the template's.
    pub(super) fn value(&self, key: &str) -> Option<String> {
        let said = self.said.iter().find(|(k, _)| k == key);
        said.map(|(_, value)| value.clone()).or_else(|| self.default(key))
    }

    /// What a value of a key was understood as, and whether the page gave its unit. A sum is
    /// left to the engine.
    pub(super) fn understood(&self, key: &str) -> Option<(Length, bool)> {
        let value = self.value(key)?;
        let is_bare = self.address.get(key).is_some_and(|typed| typed != value.as_str());
        Some((Length::parse(&value).ok()?, is_bare))
    }

    /// The key that a finding is about.
    pub(super) fn key_of(&self, finding: &Finding) -> Option<String> {
        // What was not said has no place in a text.
        if finding.rule == job::rule::MEASURE_NOT_GIVEN && finding.span.is_none() {
            return Some("measure.value".to_owned());
        }
        key_at(&self.prepared.sources, finding.span.as_ref()?)
    }

    /// The values that mend a finding, each tried on the whole strap: the finding is gone then,
    /// and nothing else forbids the print that did not before.
    pub(super) fn offers(&self, finding: &Finding) -> Vec<Offer> {
        let own = self.key_of(finding);
        let given = finding.changes.iter().filter_map(|change| {
            let key = change.key.clone().or_else(|| own.clone())?;
            Some(Offer { key, value: change.value.clone() })
        });
        let back = own.iter().filter(|key| self.address.get(key).is_some());
        let back = back.filter_map(|key| {
            Some(Offer { key: key.clone(), value: self.default(key)? })
        });
        // A bare number may have been meant in another unit.
        let bare = own.iter().filter_map(|key| {
            let (_, is_bare) = self.understood(key)?;
            Some((key, self.address.get(key).filter(|_| is_bare)?))
        });
        let other = bare.flat_map(|(key, typed)| {
            UNITS.map(|unit| Offer { key: key.clone(), value: format!("{typed} {unit}") })
        });
        let offers = other.chain(given).chain(back).take(MOST_TRIED);
        let mut all: Vec<Offer> = Vec::new();
        for offer in offers.filter(|offer| self.mends(offer, finding)) {
            if !all.iter().any(|o| o.key == offer.key) {
                all.push(offer);
            }
        }
        all
    }

    fn mends(&self, offer: &Offer, finding: &Finding) -> bool {
        let mut said = self.said.clone();
        said.retain(|(key, _)| *key != offer.key);
        said.push((offer.key.clone(), offer.value.clone()));
        let others = prepare(&self.base, &said).findings;
        let errors = |all: &[Finding]| {
            all.iter().filter(|f| f.severity == Severity::Error).count()
        };
        let before = errors(&self.prepared.findings);
        let is_gone = !others.iter().any(|f| f.rule == finding.rule);
        let is_error = finding.severity == Severity::Error;
        is_gone && errors(&others) + usize::from(is_error) <= before
    }

    /// The layout with one length a millimetre longer; `None` where the key is no length or
    /// the strap cannot be laid out then.
    pub(super) fn moved(&self, key: &str) -> Option<Layout> {
        let moved = self.base.job_text(&sets(&self.said)).moved(key, Length::from_mm(1));
        Some(fit_and_lay_out(&moved?.job.job?).ok()?.1)
    }

    /// The same strap in a size of its stock.
    pub(super) fn sized(&self, label: &str) -> Prepared {
        let mut said = self.said.clone();
        said.push(("stock.size".to_owned(), label.to_owned()));
        prepare(&self.base, &said)
    }

    /// Whether a person gave a value, and not the template.
    pub(super) fn is_said(&self, key: &str) -> bool {
        self.address.get(key).is_some()
            || self.base.own_value(key).is_some()
            || self.base.house_value(&self.address, key).is_some()
    }

    /// The hardware or the leather of the workshop that would do in a table.
    pub(super) fn house(&self, table: &str) -> House<'_> {
        let (key, named) = self.base.thing(&self.address, table);
        let is_hardware = key.ends_with(".hardware");
        let said = self.default(&key);
        let kind = named.and_then(|thing| thing.hardware.clone()).or(said);
        let kind = Some(kind.unwrap_or_else(|| table.to_owned())).filter(|_| is_hardware);
        let all = self.base.things.iter();
        let things = all.filter(|thing| thing.hardware == kind).collect();
        House { key, kind, named, things }
    }

    /// What a profile would say of the hardware or the leather of a table: the key that names it,
    /// its kind and its measures as they are typed. `None` for a table of other things.
    pub(super) fn thing(&self, table: &str) -> Option<(String, Vec<(String, String)>)> {
        let House { key, kind, .. } = self.house(table);
        let is_leather = kind.is_none();
        let is_known = |kind: &String| HardwareKind::names().any(|name| name == kind);
        if kind.as_ref().is_some_and(|kind| !is_known(kind)) {
            return None;
        }
        let own = self.keys().iter().filter_map(|key| {
            let name = key.name.strip_prefix(table)?.strip_prefix('.')?;
            let value = self.value(&key.name)?;
            let is_count =
                || value.parse::<u32>().is_ok() || value.parse::<bool>().is_ok();
            let counts = if is_leather {
                ["thickness", "k"].contains(&name)
            } else {
                Length::parse(&value).is_ok() || is_count()
            };
            counts.then_some((name.to_owned(), value))
        });
        let own: Vec<(String, String)> = own.collect();
        let kind = kind.map(|kind| ("hardware".to_owned(), kind));
        (!own.is_empty()).then(|| (key, kind.into_iter().chain(own).collect()))
    }

    /// The same strap with another thing of the workshop at a key, or without one. What the
    /// address says of its measures goes.
    pub(super) fn with_thing(&self, key: &str, name: &str) -> Address {
        let (table, sort) = key.split_once('.').unwrap_or_default();
        let is_measure =
            |name: &str| sort == "hardware" || name == "thickness" || name == "k";
        let is_its = |key: &str| {
            key.split_once('.').is_some_and(|(t, n)| t == table && is_measure(n))
        };
        let mut other = self.address.clone();
        other.said.retain(|(key, _)| !is_its(key));
        other.set(key, name);
        other
    }

    /// The job, or that of the template where it cannot be read.
    pub(super) fn job(&self) -> Option<&Job> {
        self.laid().map(|(job, ..)| job).or(self.base.job.as_ref())
    }

    /// What it is called, and for whom it is.
    pub(super) fn title(&self) -> (String, String) {
        let wearer = self.value("wearer").unwrap_or_default();
        let title = self.base.shown_default(&self.address, "title");
        let said = self.address.get("title").map(ToOwned::to_owned);
        (said.or(title).unwrap_or_default(), wearer)
    }

    /// The job as a person would write it: its text, with what was said put in its place, in
    /// the order of the template's keys.
    ///
    /// # Errors
    /// In words, when the text that comes out is not this strap.
    pub(super) fn job_file(&self) -> Result<String, String> {
        let place = |key: &str| self.keys().iter().position(|k| k.name == key);
        let mut said: Vec<&(String, String)> = self.said.iter().collect();
        said.sort_by_key(|(key, _)| (key.contains('.'), place(key)));
        let mut pairs = said.into_iter();
        let begin = self.base.text.clone();
        let text = pairs.try_fold(begin, |text, (key, value)| put(&text, key, value));
        let drawn = |prepared: &Prepared| {
            let laid = prepared.laid.as_ref()?;
            let paper = Paper::whole(&laid.2, None);
            let measuring = MeasurementUncertainty::default();
            let (setup, _) = PrintSetup::new(Some(paper), None, measuring, self.wording);
            Some(paginate_job(laid, &setup.print_options(false)).ok()?.fingerprint)
        };
        let is_this = |text: &String| {
            let again = prepare_from(PAGE, text, &[], self.base.loader);
            drawn(&again) == drawn(&self.prepared)
        };
        text.filter(is_this).ok_or_else(|| {
            say("The page cannot put these values into the job file without breaking it. Write \
                 each table of the file under its own line, such as [strap], in an editor; then \
                 open it again.")
        })
    }

    /// The name of the job file that it began with, and what tells whether that has changed.
    pub(super) fn seen(&self) -> Option<(&str, String)> {
        Some((self.base.name.as_deref()?, hash(&self.base.text)))
    }

    /// A length as the page writes it, in the units of the sheets.
    pub(super) fn shown(&self, length: Length) -> String {
        self.wording.size(length)
    }

    /// The name of its files: that of the job it began with, else after its title.
    pub(super) fn stem(&self) -> String {
        if let Some(name) = &self.base.name {
            return name.clone();
        }
        let title = self.value("title").unwrap_or_default().to_lowercase();
        let words = title.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
        let stem = words.collect::<Vec<_>>().join("-");
        let stem: String = stem.chars().take(60).collect();
        if stem.is_empty() { "strap".to_owned() } else { stem }
    }
}

fn unit(address: &Address, base: &Base<'_>) -> &'static str {
    let said = address.get("unit");
    UNITS.into_iter().find(|unit| said == Some(unit)).unwrap_or(base.unit)
}

fn sets(said: &[(String, String)]) -> Vec<String> {
    said.iter().map(|(key, value)| format!("{key}={value}")).collect()
}

fn prepare(base: &Base<'_>, said: &[(String, String)]) -> Prepared {
    prepare_from(PAGE, &base.text, &sets(said), base.loader)
}

/// What was said, with the page's unit where the engine finds a bare number in place of a
/// length: it alone knows which keys are lengths.
fn with_units(address: &Address, base: &Base<'_>) -> Vec<(String, String)> {
    let mut said = address.said.clone();
    let is_bare = |value: &str| {
        let unitless = Length::parse(value).is_err();
        unitless && Length::parse(&format!("{value} mm")).is_ok()
    };
    if !said.iter().any(|(_, value)| is_bare(value)) {
        return said;
    }
    let ParsedJob { sources, findings, .. } = base.job_text(&sets(&said)).read();
    let at = findings.iter().filter(|f| f.rule == job::rule::BAD_LENGTH);
    let wanting: Vec<String> =
        at.filter_map(|f| key_at(&sources, f.span.as_ref()?)).collect();
    for (key, value) in &mut said {
        if wanting.contains(key) && is_bare(value) {
            *value = format!("{value} {}", unit(address, base));
        }
    }
    said
}
