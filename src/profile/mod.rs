//! The profile of a workshop, `strapwright.toml`: how prints are made, unless a flag says
//! otherwise. Of two files the nearer one wins, key by key. The keys outside any table are
//! [`WORKSHOP_KEYS`](crate::job::WORKSHOP_KEYS), each named as the flag that wins over it.

pub(crate) mod rule;

pub use rule::RULES;

use crate::diagnostic::{Finding, Sources, Span, Spanned, cap_findings};
use crate::input::{self, Format, Reader, Rules, Section, Value};
use crate::paginate::Paper;
use crate::words::{Language, Units};

/// How a profile differs from other TOML files.
static FORMAT: Format = Format {
    name: "profile",
    rules: Rules {
        syntax: rule::PROFILE_SYNTAX,
        size: rule::PROFILE_SYNTAX,
        unknown_key: rule::PROFILE_KEY,
        missing_key: rule::PROFILE_KEY,
        bad_value: rule::PROFILE_VALUE,
        bad_length: rule::PROFILE_VALUE,
    },
    known_key: None,
    syntax_remedy: "texts and lengths stand in double quotes: paper = \"a4\"",
    size_remedy: "give the text of a profile: short lines of keys and values",
    add_to: " to the profile",
};

/// What a workshop sets once. Spans are in [`sources`](Self::sources).
#[derive(Clone, Debug, Default)]
pub struct Profile {
    /// The files, the nearest first.
    pub sources: Sources,
    /// All mistakes.
    pub findings: Vec<Finding>,
    /// The paper.
    pub paper: Option<Spanned<Paper>>,
    /// Which units come first.
    pub units: Option<Spanned<Units>>,
    /// The language on paper.
    pub language: Option<Spanned<Language>>,
    /// The path of the printer file, from the folder of the profile that names it.
    pub printer: Option<Spanned<String>>,
    /// Whether the ticket is printed.
    pub ticket: Option<Spanned<bool>>,
    /// The path of the folder of own templates, likewise.
    pub templates: Option<Spanned<String>>,
}

impl Profile {
    /// Reads profiles by their names and texts, the nearest first. Collects all mistakes.
    pub fn read<'t>(texts: impl IntoIterator<Item = (&'t str, &'t str)>) -> Self {
        let mut profile = Self::default();
        for (name, text) in texts {
            profile.add(name, text);
        }
        cap_findings(rule::PROFILE_SYNTAX, &mut profile.findings);
        profile
    }

    /// The name of the file in which a value stands, and its line.
    pub fn place(&self, span: &Span) -> Option<(&str, usize)> {
        let (line, _) = self.sources.line_column(span)?;
        Some((self.sources.get(span.source)?.name.as_str(), line))
    }

    /// Where the setting of a key stands; `None` where no file has it.
    pub fn setting(&self, key: &str) -> Option<&Span> {
        match key {
            "paper" => self.paper.as_ref()?.span.as_ref(),
            "units" => self.units.as_ref()?.span.as_ref(),
            "language" => self.language.as_ref()?.span.as_ref(),
            "printer" => self.printer.as_ref()?.span.as_ref(),
            "ticket" => self.ticket.as_ref()?.span.as_ref(),
            "templates" => self.templates.as_ref()?.span.as_ref(),
            _ => None,
        }
    }

    /// Adds a profile below those that are there.
    fn add(&mut self, name: &str, text: &str) {
        let source = self.sources.add(name, text);
        let root = input::parse(&FORMAT, &self.sources, source, &mut self.findings);
        let reader = Reader::new(&root, &FORMAT, ());
        let top = reader.top();
        let words = top.choice_if("units", &Units::NAMES);
        let languages = Language::ALL.map(|language| (language.code(), language));
        let language = top.choice_if("language", &languages);
        let path = |key: &str| {
            top.value_if(key, "a path in quotes", |value| {
                value.text().filter(|path| !path.is_empty()).map(ToOwned::to_owned)
            })
        };
        let (printer, templates) = (path("printer"), path("templates"));
        let ticket = top.value_if("ticket", "true or false", Value::truth);
        self.paper = self.paper.take().or_else(|| paper(&top));
        self.units = self.units.take().or(words);
        self.language = self.language.take().or(language);
        self.printer = self.printer.take().or(printer);
        self.ticket = self.ticket.take().or(ticket);
        self.templates = self.templates.take().or(templates);
        self.findings.extend(reader.finish());
    }
}

fn paper(top: &Section<'_, '_>) -> Option<Spanned<Paper>> {
    let leaf = top.leaf("paper")?;
    match Paper::parse(leaf.value.text().unwrap_or_default()) {
        Ok(value) => Some(Spanned { value, span: Some(leaf.span.clone()) }),
        Err(why) => {
            top.reader.find(top.wrong("paper", leaf, "a paper").remedy(why));
            None
        }
    }
}
