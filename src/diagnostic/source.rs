//! The texts that a job is made of, and places in them.

use std::ops::Range;

/// One text: a job file, a template or a `--set` word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// What a person calls it: a path, `template belt`, `--set`.
    pub name: String,
    /// The whole text.
    pub text: String,
}

/// A stretch of one text, in bytes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Place {
    /// Which text, as [`Sources::add`] numbered it.
    pub source: usize,
    /// From which byte to which.
    pub range: Range<usize>,
}

impl Place {
    /// Its text and its first byte: an order for places.
    pub fn begins(&self) -> (usize, usize) {
        (self.source, self.range.start)
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
        self.all.push(Source { name: name.into(), text: text.into() });
        self.all.len() - 1
    }

    /// Keeps all the texts of `other` too; their numbers grow by the number that is given.
    pub fn join(&mut self, other: Self) -> usize {
        let before = self.all.len();
        self.all.extend(other.all);
        before
    }

    /// The text of that number.
    pub fn get(&self, source: usize) -> Option<&Source> {
        self.all.get(source)
    }

    /// Line and column of a place, both from 1, the column in characters.
    pub fn line_column(&self, place: &Place) -> Option<(usize, usize)> {
        let text = &self.get(place.source)?.text;
        let before = text.get(..place.range.start)?;
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        Some((before.matches('\n').count() + 1, before[line_start..].chars().count() + 1))
    }
}
