//! The job file that `new` writes: every value with what it is, table by table.

use super::dialogue::Answers;
use super::question::Question;
use crate::input::quoted;
use crate::template::About;
use std::fmt::Write as _;

/// A job in the making.
pub(super) struct JobFile {
    /// The name of its template, or the path from the folder of the job.
    pub(super) template: String,
    pub(super) about: About,
}

impl JobFile {
    /// What the strap is, in a line.
    pub(super) fn summary(&self) -> &str {
        let summary = &self.about.summary;
        if summary.is_empty() { &self.template } else { summary }
    }

    /// The whole text: the answers, and what is still to be filled in.
    pub(super) fn text(&self, answers: &Answers, left: &[&Question]) -> String {
        let what = |key: &str| {
            let described = self.about.keys.iter().find(|k| k.name == key);
            described.map(|k| k.what.clone()).unwrap_or_default()
        };
        let is_value = |(_, value): &&(String, String)| value != "\"\"";
        let answers = answers.iter().filter(is_value);
        let answers =
            answers.map(|(key, value)| (key.as_str(), value.as_str(), what(key)));
        let left = left.iter().map(|q| {
            let parts = [q.what.as_str(), &q.how, &q.usual];
            let parts = parts.into_iter().filter(|part| !part.is_empty());
            (q.key.as_str(), "\"\"", parts.collect::<Vec<_>>().join("; "))
        });
        let lines: Vec<(&str, &str, String)> = answers.chain(left).collect();
        let table = |key| <str>::rsplit_once(key, '.').map_or("", |(table, _)| table);
        let mut tables: Vec<&str> = Vec::new();
        for (key, ..) in &lines {
            if !tables.contains(&table(key)) {
                tables.push(table(key));
            }
        }
        // Keys outside any table stand above the first.
        tables.sort_by_key(|table| !table.is_empty());
        let (summary, template) = (self.summary(), &self.template);
        let mut text = format!(
            "# {summary}, from `strapwright new {template}`. Edit it, then: strapwright draw FILE\n\
             template = {}\n",
            quoted(template)
        );
        for own in tables {
            if !own.is_empty() {
                let _ = writeln!(text, "\n[{own}]");
            }
            for (key, value, remark) in lines.iter().filter(|(key, ..)| table(key) == own)
            {
                let name = key.rsplit('.').next().unwrap_or_default();
                let mark = if remark.is_empty() { "" } else { "  # " };
                let remark = remark.replace(['\n', '\r'], " ");
                let _ = writeln!(text, "{name} = {value}{mark}{remark}");
            }
        }
        text
    }
}
