//! What a strap begins with, before an address says a word: a template, or a job of the
//! workshop.

use super::Workshop;
use super::address::Address;
use crate::disk::template_loader::FileLoader;
use crate::input::{self, Node, Table};
use crate::job::{self, Job};
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
        let job = job::read_from(PAGE, &text, &[], loader).job;
        let (about, things) = (about_chain(&texts), workshop.profile.things.as_slice());
        Self { text, name, loader, things, unit, about, job, own, template }
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

/// The text of a job with another value of one key: in place of the one that is there, else in
/// its table, else before the first table. All other lines stay as they are.
pub(super) fn put(text: &str, key: &str, value: &str) -> String {
    let value = input::to_toml(value);
    let root = input::parse_valid(text, 0);
    if let Some(leaf) = root.dotted_leaf(key).or_else(|| root.leaf(key)) {
        let range = leaf.span.range.clone();
        return format!("{}{value}{}", &text[..range.start], &text[range.end..]);
    }
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let at = |at: usize, new: &str| format!("{}{new}{}", &text[..at], &text[at..]);
    let own = key.split_once('.').and_then(|(table, name)| {
        let entry = root.get(table)?;
        let rest = text[entry.key_span.range.end..].trim_start();
        let place = |rest: &str| text.len() - rest.len();
        if let Some(inner) = rest.strip_prefix('=') {
            let rest = inner.trim_start().strip_prefix('{')?;
            let is_empty = rest.trim_start().starts_with('}');
            let comma = if is_empty { " " } else { "," };
            return Some(at(place(rest), &format!(" {name} = {value}{comma}")));
        }
        let head = rest.strip_prefix(']')?;
        Some(match head.split_once('\n') {
            Some((_, below)) => at(place(below), &format!("{name} = {value}{end}")),
            None => format!("{text}{end}{name} = {value}{end}"),
        })
    });
    own.unwrap_or_else(|| {
        let mut starts = text.split_inclusive('\n').scan(0, |next, line| {
            let start = *next;
            *next += line.len();
            Some((start, line))
        });
        let table = starts.find(|(_, line)| line.trim_start().starts_with('['));
        let place = table.map_or(text.len(), |(start, _)| start);
        let is_begun = place > 0 && !text[..place].ends_with('\n');
        let gap = if is_begun { end } else { "" };
        at(place, &format!("{gap}{key} = {value}{end}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_put_where_a_person_would_write_it() {
        let text = "template = \"belt\" # ours\n\n[strap]\nwidth = \"38 mm\"\n";
        let wider = put(text, "strap.width", "40 mm");
        assert_eq!(wider, text.replace("38", "40"));
        assert_eq!(
            put(text, "strap.thickness", "3 mm"),
            text.replace("[strap]\n", "[strap]\nthickness = \"3 mm\"\n")
        );
        let holes = put(text, "size-holes.inside", "3");
        assert_eq!(holes, text.replace("[strap]", "size-holes.inside = 3\n[strap]"));
        // A table in one line, a table without a line of its own yet, and other ends of lines.
        let line = "template = \"belt\"\nstrap = { width = \"38 mm\" }";
        let thick = put(line, "strap.thickness", "3 mm");
        assert_eq!(thick, line.replace("{ ", "{ thickness = \"3 mm\", "));
        let after = put(line, "measure.value", "34 in");
        assert_eq!(after, format!("{line}\nmeasure.value = \"34 in\"\n"));
        let other = text.replace('\n', "\r\n");
        let windows = put(&put(&other, "strap.thickness", "3 mm"), "title", "A");
        assert_eq!(windows.matches('\n').count(), windows.matches("\r\n").count());
        assert_eq!(windows.lines().count(), text.lines().count() + 2);
        for text in [wider, holes, thick, after, windows] {
            assert!(crate::prepare("job", &text, &[]).laid.is_some(), "{text}");
        }
    }
}
