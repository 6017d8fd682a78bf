//! The JSON Schema (draft-07) of the job language: the keys that the readers ask for, with what
//! the guide says of them.

mod form;
mod words;

use crate::input::{Node, Table, parse_valid};
use crate::job::{
    Takes, hardware_keys, hardware_kinds, keys_of, kinds, plain_tables, top_keys,
};
use crate::template::{About, about_chain};
use form::{closed, form};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use words::Words;

/// The schemas of the keys of a table.
type Properties = Map<String, Value>;

/// The schema of all jobs and templates. It says whether keys and values are of the right form,
/// and not whether they make a strap: what is missing may stand in the template.
pub fn schema() -> Value {
    Language::read().schema(None)
}

/// The schema of the jobs of one template, which is given with all templates below it, the
/// lowest first.
pub fn schema_of(texts: &[&str]) -> Value {
    let mut root = Table::default();
    for (source, text) in texts.iter().enumerate() {
        root.merge(parse_valid(text, source));
    }
    Language::read().schema(Some(&Template { root, about: about_chain(texts) }))
}

/// The template that a schema is for.
struct Template {
    root: Table,
    about: About,
}

impl Template {
    /// Gives the keys of one of its tables what it says of them. Those that no reader knows are
    /// lengths for its sums.
    fn tell(&self, table: &str, properties: &mut Properties) {
        for key in &self.about.keys {
            let Some((_, name)) =
                key.name.split_once('.').filter(|(own, _)| *own == table)
            else {
                continue;
            };
            let property = properties.entry(name).or_insert_with(|| form(Takes::Length));
            if !key.what.is_empty() {
                property["description"] = words::of_template(key).into();
            }
        }
    }
}

/// All keys of the language.
struct Language {
    top: Properties,
    plain: BTreeMap<&'static str, (Option<String>, Properties)>,
    kinds: BTreeMap<&'static str, Properties>,
    hardware: BTreeMap<&'static str, Properties>,
    /// The keys of all kinds and of all hardware.
    any: Properties,
}

impl Language {
    fn read() -> Self {
        let words = Words::read();
        let keys = |name| properties(keys_of(name), |key| words.of_key(name, key));
        let of_hardware =
            |name| properties(hardware_keys(name), |key| words.of_hardware(name, key));
        let plain = plain_tables().map(|name| (name, (words.of_table(name), keys(name))));
        let kinds: BTreeMap<_, _> = kinds().map(|name| (name, keys(name))).collect();
        let hardware: BTreeMap<_, _> =
            hardware_kinds().map(|name| (name, of_hardware(name))).collect();
        Self {
            top: properties(top_keys(), |key| words.of_key("No table", key)),
            plain: plain.collect(),
            any: any(kinds.values().chain(hardware.values())),
            kinds,
            hardware,
        }
    }

    fn schema(&self, template: Option<&Template>) -> Value {
        let own_length = form(Takes::Length);
        let mut top = self.top.clone();
        for (name, (what, properties)) in &self.plain {
            let mut properties = properties.clone();
            if let Some(template) = template {
                template.tell(name, &mut properties);
            }
            let mut table = closed(&properties);
            if let Some(what) = what {
                table["description"] = what.as_str().into();
            }
            top.insert((*name).to_owned(), table);
        }
        top.extend(template.map(|template| self.tables_of(template)).unwrap_or_default());
        let mut definitions = Properties::from_iter([
            ("length".to_owned(), form::length()),
            ("table".to_owned(), self.table()),
            ("any-kind".to_owned(), form::table(&self.any, &own_length)),
        ]);
        // A template may have lengths for its sums in any table; its jobs have no need to.
        let others = if template.is_some() { false.into() } else { own_length };
        for (sort, kinds) in [("kind", &self.kinds), ("hardware", &self.hardware)] {
            for (name, properties) in kinds {
                let table = form::table(properties, &others);
                definitions.insert(format!("{sort}-{name}"), table);
            }
        }
        json!({
            "$schema": "http://json-schema.org/draft-07/schema#",
            "title": "strapwright: a job or a template",
            "type": "object",
            "properties": top,
            "propertyNames": { "pattern": "^[^.]*$" },
            "additionalProperties": { "$ref": "#/definitions/table" },
            "definitions": definitions,
        })
    }

    /// The tables of a template that have a name of its choice. A job that gives one another
    /// kind may say anything of that kind.
    fn tables_of(&self, template: &Template) -> Properties {
        let entries = template.root.entries.iter();
        let tables = entries.filter_map(|entry| match &entry.node {
            Node::Table(table) if !self.plain.contains_key(entry.key.as_str()) => {
                let mut properties = self.keys_in(table);
                template.tell(&entry.key, &mut properties);
                let said = |key| match table.leaf(key).and_then(|l| l.value.text()) {
                    Some(word) => json!({ "const": word }),
                    None => false.into(),
                };
                let same = json!({ "kind": said("kind"), "hardware": said("hardware") });
                let table = json!({
                    "if": { "properties": same },
                    "then": closed(&properties),
                    "else": { "$ref": "#/definitions/table" },
                });
                Some((entry.key.clone(), table))
            }
            Node::Table(_) | Node::Leaf(_) => None,
        });
        tables.collect()
    }

    /// The keys of the language that a table of a template may have.
    fn keys_in(&self, table: &Table) -> Properties {
        let word = |key| table.leaf(key)?.value.text();
        let kind = word("kind").and_then(|kind| self.kinds.get(kind));
        let hardware = word("hardware").and_then(|kind| self.hardware.get(kind));
        // One of the fittings that a spread has in turn needs no kind. Other tables without one
        // have the template's lengths alone.
        let is_fitting = |spread: &&Properties| {
            table.entries.iter().all(|entry| spread.contains_key(&entry.key))
        };
        let fitting = || self.kinds.get("spread").filter(is_fitting);
        kind.or(hardware).or_else(fitting).cloned().unwrap_or_default()
    }

    /// A table under a name of the user's choice. One that says no kind has it from a template,
    /// or is one of lengths for sums.
    fn table(&self) -> Value {
        let all = |sort: &str, kinds: &BTreeMap<&str, Properties>| -> Value {
            let one = |kind: &&str| {
                json!({
                    "if": { "properties": { sort: { "const": kind } } },
                    "then": { "$ref": format!("#/definitions/{sort}-{kind}") },
                })
            };
            kinds.keys().map(one).collect()
        };
        let names = |kinds: &BTreeMap<&str, Properties>| -> Value {
            kinds.keys().copied().collect()
        };
        json!({
            "type": "object",
            "if": { "required": ["kind"] },
            "then": {
                "properties": { "kind": { "enum": names(&self.kinds) } },
                "allOf": all("kind", &self.kinds),
            },
            "else": {
                "if": {
                    "required": ["hardware"],
                    "properties": { "hardware": { "enum": names(&self.hardware) } },
                },
                "then": { "allOf": all("hardware", &self.hardware) },
                "else": { "$ref": "#/definitions/any-kind" },
            },
        })
    }
}

/// The schemas of keys, each with what is said of it.
fn properties(
    keys: BTreeMap<String, Takes>,
    what: impl Fn(&str) -> Option<String>,
) -> Properties {
    let described = keys.into_iter().map(|(key, takes)| {
        let mut property = form(takes);
        if let Some(what) = what(&key) {
            property["description"] = what.into();
        }
        (key, property)
    });
    described.collect()
}

/// The keys of all these tables: each may have any of the forms that it has in one of them.
fn any<'p>(tables: impl Iterator<Item = &'p Properties>) -> Properties {
    let mut forms: BTreeMap<&str, Vec<&Value>> = BTreeMap::new();
    for (key, property) in tables.flatten() {
        let own = forms.entry(key).or_default();
        if !own.contains(&property) {
            own.push(property);
        }
    }
    let keys = forms.into_iter().map(|(key, forms)| match forms.as_slice() {
        [one] => (key.to_owned(), (*one).clone()),
        forms => (key.to_owned(), json!({ "anyOf": forms })),
    });
    keys.collect()
}
