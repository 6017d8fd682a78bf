//! The job file that `new` writes: every value with what it is, table by table.

use super::dialogue::Answers;
use super::question::Question;
use crate::template::About;
use std::fmt::Write as _;
use toml::Value;

/// A job in the making.
#[derive(Clone, Debug)]
pub(super) struct JobFile<'a> {
    template: &'a str,
    about: &'a About,
    pub(super) wearer: String,
    values: Answers,
    /// What stands beside an empty value.
    remarks: Vec<(String, String)>,
}

impl<'a> JobFile<'a> {
    pub(super) fn new(template: &'a str, about: &'a About, values: Answers) -> Self {
        Self { template, about, wearer: String::new(), values, remarks: Vec::new() }
    }

    /// What the strap is, in a line.
    pub(super) fn summary(&self) -> &str {
        match self.about.summary.as_str() {
            "" => self.template,
            summary => summary,
        }
    }

    /// Takes answers; an empty one says that a thing has no name.
    pub(super) fn answer(&mut self, answers: Answers) {
        self.values.extend(answers.into_iter().filter(|(_, value)| !value.is_empty()));
    }

    /// Whether a key has its value, or its thing a name.
    pub(super) fn has(&self, key: &str, object: &str) -> bool {
        let name = format!("{object}.hardware");
        self.values.iter().any(|(own, _)| [key, object, &name].contains(&own.as_str()))
    }

    /// Gives keys no value: they are to be filled in.
    pub(super) fn leave_empty<'q>(
        &mut self,
        questions: impl Iterator<Item = &'q Question>,
    ) {
        for question in questions {
            self.values.push((question.key.clone(), String::new()));
            let parts = [question.what.as_str(), &question.how, &question.usual];
            let parts: Vec<&str> =
                parts.into_iter().filter(|part| !part.is_empty()).collect();
            self.remarks.push((question.key.clone(), parts.join("; ")));
        }
    }

    /// The whole text.
    pub(super) fn text(&self) -> String {
        let mut text = format!(
            "# {}, from `strapwright new {}`. Edit it, then: strapwright draw FILE\n\
             template = {}\n",
            self.summary(),
            self.template,
            Value::from(self.template)
        );
        if !self.wearer.is_empty() {
            let _ = writeln!(text, "wearer = {}", Value::from(self.wearer.as_str()));
        }
        let mut tables: Vec<&str> = Vec::new();
        for (key, _) in &self.values {
            let table = key.split_once('.').map_or("", |(table, _)| table);
            if !tables.contains(&table) {
                tables.push(table);
            }
        }
        // Keys outside any table stand above the first.
        tables.sort_by_key(|table| !table.is_empty());
        for table in tables {
            if !table.is_empty() {
                let _ = writeln!(text, "\n[{table}]");
            }
            for (key, value) in &self.values {
                let (own, name) = key.split_once('.').unwrap_or(("", key));
                if own == table {
                    self.write_value(key, name, value, &mut text);
                }
            }
        }
        text
    }

    fn write_value(&self, key: &str, name: &str, value: &str, text: &mut String) {
        let described = self.about.keys.iter().find(|k| k.name == key);
        // What a template has without quotes is a number, or a truth.
        let is_bare = described.is_some_and(|k| {
            let default = k.default.as_deref().unwrap_or("\"\"");
            !default.starts_with(['"', '\'', '['])
        });
        let is_bare = is_bare && value.parse::<f64>().is_ok()
            || value == "true"
            || value == "false";
        let shown =
            if is_bare { value.to_owned() } else { Value::from(value).to_string() };
        let remark =
            self.remarks.iter().find(|(own, _)| own == key).map(|(_, remark)| remark);
        let what = described.map(|k| &k.what).filter(|what| !what.is_empty());
        let remark =
            remark.or(what).map_or_else(String::new, |what| format!("  # {what}"));
        let _ = writeln!(text, "{name} = {shown}{}", remark.replace(['\n', '\r'], " "));
    }
}
