//! What the stages find wrong, and where. Findings are data; they become text for a terminal
//! or JSON for a script last.

mod bounds;
mod counted;
mod names;
mod render;
mod rule;
mod shown;
mod source;

pub use bounds::{cap_findings, too_large};
pub use counted::{counted, numbered};
pub use names::{and_others, is_near, nearest, one_of};
pub use render::{Style, json, records, summary, text, without_nulls};
pub use rule::RuleId;
pub(crate) use rule::rules;
pub use shown::{shown, shown_json, shown_lines, shown_path};
pub use source::{Source, Sources, Span, Spanned};

use bounds::shortened;
use serde::Serialize;
use std::borrow::Cow;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Look before you punch.
    Warning,
    /// Would ruin leather, or cannot be drawn: no print.
    Error,
}

impl Severity {
    /// An error where something is beyond what can be, else a warning.
    pub fn error_if(beyond: bool) -> Self {
        if beyond { Self::Error } else { Self::Warning }
    }
}

/// One thing that is wrong or worth knowing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule's id.
    pub rule: RuleId,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The line that asked for it, where there is one.
    pub span: Option<Span>,
    /// What was found.
    pub found: String,
    /// What is required.
    pub required: String,
    /// What would do.
    pub remedy: String,
    /// The flag that would do on a command line; shown there alone. Empty where none does.
    pub flag: String,
    /// Changes of one value, each of which would do; empty where no single value does.
    pub changes: Vec<Change>,
}

/// A change of one value of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The dotted key; `None` for the value that the finding points at.
    pub key: Option<String>,
    /// The value, as `--set` takes it.
    pub value: String,
}

impl Finding {
    /// A finding with its rule, weight and sentence; the rest is added by the methods.
    pub fn new(rule: RuleId, severity: Severity, message: impl Into<String>) -> Self {
        Self {
            rule,
            severity,
            message: shortened(message.into()),
            span: None,
            found: String::new(),
            required: String::new(),
            remedy: String::new(),
            flag: String::new(),
            changes: Vec::new(),
        }
    }

    /// An error with its rule and sentence.
    pub fn error(rule: RuleId, message: impl Into<String>) -> Self {
        Self::new(rule, Severity::Error, message)
    }

    /// A warning with its rule and sentence.
    pub fn warning(rule: RuleId, message: impl Into<String>) -> Self {
        Self::new(rule, Severity::Warning, message)
    }

    /// Points at the text that asked for it.
    #[must_use]
    pub fn at(mut self, span: Option<Span>) -> Self {
        self.span = span;
        self
    }

    /// Says what was found and what is required.
    #[must_use]
    pub fn expected(
        mut self,
        found: impl Into<String>,
        required: impl Into<String>,
    ) -> Self {
        self.found = shortened(found.into());
        self.required = shortened(required.into());
        self
    }

    /// Says what would do.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = shortened(remedy.into());
        self
    }

    /// Adds it to what was found.
    pub fn to(self, findings: &mut Vec<Self>) {
        findings.push(self);
    }

    /// Says which flag would do on a command line.
    #[must_use]
    pub fn flag(mut self, flag: impl Into<String>) -> Self {
        self.flag = flag.into();
        self
    }

    /// What would do, on a command line.
    pub fn remedy_by_flag(&self) -> Cow<'_, str> {
        match self.flag.as_str() {
            "" => self.remedy.as_str().into(),
            flag => format!("{} ({flag})", self.remedy).into(),
        }
    }

    /// Says a value that would do in place of the one that it points at.
    #[must_use]
    pub fn change(mut self, value: impl Into<String>) -> Self {
        self.changes.push(Change { key: None, value: value.into() });
        self
    }

    /// Says a value of another key that would do.
    #[must_use]
    pub fn or_change(mut self, key: impl Into<String>, value: impl Into<String>) -> Self {
        self.changes.push(Change { key: Some(key.into()), value: value.into() });
        self
    }
}

/// Whether any finding forbids the print.
pub fn forbids_print(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Error)
}
