//! The texts that a job is made of, and spans in them.

use std::ops::Range;

/// One text: a job file, a template or the argument of a `--set`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// What a person calls it: a path, `template belt`, `--set`.
    pub name: String,
    /// Which part of it this is: `row 3, column strap.width`; empty for all of it.
    pub part: String,
    /// The whole text, or the stretch of it that is kept.
    pub text: String,
    /// The number of its first line: 1, or more for a stretch of a longer text.
    pub line: usize,
}

impl Source {
    /// Its name, and its part where it is one: what a finding shows.
    pub fn display_name(&self) -> String {
        if self.part.is_empty() {
            self.name.clone()
        } else {
            format!("{}, {}", self.name, self.part)
        }
    }
}

/// A stretch of one text, in bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// Which text, as [`Sources::add`] numbered it.
    pub source: usize,
    /// From which byte to which.
    pub range: Range<usize>,
}

impl Span {
    /// Its text and its first byte: what spans are sorted by.
    pub fn begins(&self) -> (usize, usize) {
        (self.source, self.range.start)
    }
}

/// A value with the span of the text that gave it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands; `None` for a default.
    pub span: Option<Span>,
}

impl<T> Spanned<T> {
    /// A default, which no text gave.
    pub const fn without_span(value: T) -> Self {
        Self { value, span: None }
    }
}

/// All the texts of one job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sources {
    all: Vec<Source>,
}

impl Sources {
    /// Keeps a text and gives its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> usize {
        self.add_part(name, "", text, 1)
    }

    /// Keeps a part of a text that starts on `line` of it, and gives its number.
    pub fn add_part(
        &mut self,
        name: impl Into<String>,
        part: impl Into<String>,
        text: impl Into<String>,
        line: usize,
    ) -> usize {
        let (name, part, text) = (name.into(), part.into(), text.into());
        self.add_source(Source { name, part, text, line })
    }

    /// Keeps a source and gives its number.
    pub fn add_source(&mut self, source: Source) -> usize {
        self.all.push(source);
        self.all.len() - 1
    }

    /// Replaces the text of that number, such as the argument that a row of a table was
    /// turned into by the row itself. Spans in the old text do not fit the new one.
    pub fn replace(&mut self, source: usize, with: Source) {
        if let Some(old) = self.all.get_mut(source) {
            *old = with;
        }
    }

    /// All texts in the order of their numbers.
    pub fn iter(&self) -> impl Iterator<Item = &Source> {
        self.all.iter()
    }

    /// Keeps all the texts of `other` too, and gives what their numbers grow by.
    pub fn join(&mut self, other: Self) -> usize {
        let before = self.all.len();
        self.all.extend(other.all);
        before
    }

    /// The text of that number.
    pub fn get(&self, source: usize) -> Option<&Source> {
        self.all.get(source)
    }

    /// Line and column of the start of a span, both from 1, the column in characters.
    pub fn line_column(&self, span: &Span) -> Option<(usize, usize)> {
        let Source { text, line, .. } = self.get(span.source)?;
        let before = text.get(..span.range.start)?;
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let column = before[line_start..].chars().count() + 1;
        Some((before.matches('\n').count() + line, column))
    }
}
