//! What a strap begins with, before an address says a word: a template, or a job of the
//! workshop.

use super::Workshop;
use super::address::Address;
use super::say::say;
use crate::disk::template_loader::FileLoader;
use crate::input::{self, Node, Table};
use crate::job::{self, Job, JobText};
use crate::profile::Thing;
use crate::template::{About, TemplateLoader, about_chain};
use crate::words::Units;

/// What the text of the job is called in findings.
pub(super) const PAGE: &str = "page";

/// What a strap begins with.
pub(super) struct Base<'a> {
    /// The text of its job.
    pub(super) text: String,
    /// The name of the job file; `None` for a template.
    pub(super) name: Option<String>,
    pub(super) loader: &'a FileLoader,
    /// The hardware and the leather of the workshop.
    pub(super) things: &'a [Thing],
    /// The unit of a bare number, unless the address says another.
    pub(super) unit: &'static str,
    pub(super) about: About,
    /// The job without a word more.
    pub(super) job: Option<Job>,
    /// What the job says itself.
    own: Table,
    /// What its template says.
    template: Table,
}

impl<'a> Base<'a> {
    /// Begins with a template; `None` where there is none of that name.
    pub(super) fn template(name: &str, workshop: &'a Workshop) -> Option<Self> {
        let is_known = workshop.loader.names().iter().any(|known| known == name);
        let text = || format!("template = {}\n", input::quoted(name));
        is_known.then(|| Self::read(None, text(), workshop))
    }

    /// Begins with a job of the workshop; `None` where there is none of that name.
    pub(super) fn of_job(name: &str, workshop: &'a Workshop) -> Option<Self> {
        let text = workshop.job_text(name)?;
        Some(Self::read(Some(name.to_owned()), text, workshop))
    }

    fn read(name: Option<String>, text: String, workshop: &'a Workshop) -> Self {
        let loader = &workshop.loader;
        let units = workshop.profile.wording().units;
        let unit = if units == Units::Inches { "in" } else { "mm" };
        let own = input::parse_valid(&text, 0);
        let template = own.leaf("template").and_then(|leaf| leaf.value.text());
        let chain = job::read_template(template.unwrap_or_default(), loader);
        let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
        let mut template = Table::default();
        for text in &texts {
            template.merge(input::parse_valid(text, 0));
        }
        let job = JobText { name: PAGE, text: &text, sets: &[], loader }.read().job;
        let (about, things) = (about_chain(&texts), workshop.profile.things.as_slice());
        Self { text, name, loader, things, unit, about, job, own, template }
    }

    /// What the job is read from, with these values set.
    pub(super) fn job_text<'t>(&'t self, sets: &'t [String]) -> JobText<'t> {
        JobText { name: PAGE, text: &self.text, sets, loader: self.loader }
    }

    /// The value that the job has, as a person types it.
    pub(super) fn own_value(&self, key: &str) -> Option<String> {
        typed(&self.text, &self.own, key)
    }

    /// The key that names hardware or leather of the workshop in a table, and what an address or
    /// the job names there. What is thick is of leather.
    pub(super) fn thing(
        &self,
        address: &Address,
        table: &str,
    ) -> (String, Option<&'a Thing>) {
        let thick = format!("{table}.thickness");
        let is_leather = self.about.keys.iter().any(|key| key.name == thick);
        let key = format!("{table}.{}", if is_leather { "leather" } else { "hardware" });
        let named =
            address.get(&key).map(ToOwned::to_owned).or_else(|| self.own_value(&key));
        let all =
            self.things.iter().filter(|thing| thing.hardware.is_none() == is_leather);
        let thing =
            named.and_then(|named| all.into_iter().find(|thing| thing.name == named));
        (key, thing)
    }

    /// A measure of the thing of the workshop that is named.
    pub(super) fn house_value(&self, address: &Address, key: &str) -> Option<String> {
        let (table, name) = key.split_once('.')?;
        let measures = &self.thing(address, table).1?.measures;
        measures.iter().find(|(key, _)| key == name).map(|(_, value)| value.clone())
    }

    /// The value that stands in the form where an address says nothing: a template's title is in
    /// the language of the page.
    pub(super) fn shown_default(&self, address: &Address, key: &str) -> Option<String> {
        let value = self.default(address, key)?;
        let is_title = key == "title" && self.own_value(key).is_none();
        Some(if is_title { say(&value) } else { value })
    }

    /// The value that stands where an address says nothing: that of the job, of the hardware
    /// that is named, or of its template.
    pub(super) fn default(&self, address: &Address, key: &str) -> Option<String> {
        let own = self.own_value(key).or_else(|| self.house_value(address, key));
        if own.is_some() {
            return own;
        }
        if let Some(leaf) = self.template.leaf(key) {
            return leaf.value.text().map(ToOwned::to_owned);
        }
        let toml = self.about.keys.iter().find(|k| k.name == key)?.default.as_deref()?;
        let Node::Leaf(leaf) = input::parse_value(toml, 0, 2)? else { return None };
        Some(leaf.value.text().map_or_else(|| toml.to_owned(), ToOwned::to_owned))
    }
}

/// A value of a text, as a person types it.
fn typed(text: &str, table: &Table, key: &str) -> Option<String> {
    let leaf = table.dotted_leaf(key).or_else(|| table.leaf(key))?;
    let toml = || text[leaf.span.range.clone()].to_owned();
    Some(leaf.value.text().map_or_else(toml, ToOwned::to_owned))
}
