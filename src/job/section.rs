//! Typed reading of one table of a job: beside plain values, lengths that may be sums, names
//! of datums and names of features.

use super::hardware::BUCKLE;
use super::sum::Sums;
use super::{DatumRef, Place, Spanned};
use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::input::{self, Format, Rules, Table, Takes, Value};
use crate::job::rule;

/// How a job, or a template, differs from other TOML files.
pub(super) static JOB: Format = Format {
    name: "job",
    rules: Rules {
        syntax: rule::JOB_SYNTAX,
        size: rule::JOB_LIMIT,
        unknown_key: rule::UNKNOWN_KEY,
        missing_key: rule::MISSING_KEY,
        bad_value: rule::BAD_VALUE,
        bad_length: rule::BAD_LENGTH,
    },
    known_key: Some("a key of the job language"),
    syntax_remedy: "texts and lengths stand in double quotes: width = \"38 mm\"",
    size_remedy: "give the text of a job: short lines of keys and values",
    add_to: " to the job or to its template",
};

/// Reads the tree of a job.
pub(super) type Reader<'t> = input::Reader<'t, Sums>;

/// Reads one table of a job.
pub(super) type Section<'r, 't> = input::Section<'r, 't, Sums>;

/// Reads a job or a template.
pub(super) fn reader(root: &Table) -> Reader<'_> {
    Reader::new(root, &JOB, Sums::default())
}

impl Reader<'_> {
    /// Whether the job has a table of that name with a `kind`: a feature or a piece.
    pub(super) fn has_kind(&self, name: &str) -> bool {
        self.root.table(name).is_some_and(|table| table.get("kind").is_some())
    }

    /// Whether the job has a table of that name that describes hardware.
    pub(super) fn is_hardware(&self, name: &str) -> bool {
        let is_one = |t: &Table| name == BUCKLE || t.get("hardware").is_some();
        self.root.table(name).is_some_and(is_one)
    }
}

/// Declares what a table of a job says: each field with what it is and how a section `t` gives
/// it, in the order of reading; what several fields need is read first, `with { .. }`.
macro_rules! table {
    (
        $(#[$about:meta])*
        pub struct $name:ident($t:ident $(, $names:ident)?) $(with { $($first:tt)* })? {
            $($(#[$what:meta])* $field:ident: $type:ty = $read:expr,)+
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub struct $name {
            $($(#[$what])* pub $field: $type,)+
        }

        impl $name {
            pub(super) fn read(
                $t: &$crate::job::section::Section<'_, '_>,
                $($names: &$crate::job::names::Names<'_>,)?
            ) -> Self {
                $($($first)*)?
                Self { $($field: $read,)+ }
            }
        }
    };
}
pub(super) use table;

impl Section<'_, '_> {
    /// So far past a datum as `key` says, where it says anything.
    pub(super) fn past(&self, from: DatumRef, key: &str) -> Place {
        Place { from, by: self.length_or(key, Length::ZERO) }
    }

    /// Accepts every key of the table, whose kind is not known.
    pub(super) fn accept_all(&self) {
        for entry in &self.table.entries {
            self.reader.ask(self.name, &entry.key);
        }
    }

    /// A length; `None` where there is none. A wrong one is a finding.
    pub(super) fn length_if(&self, key: &str) -> Option<Spanned<Length>> {
        self.takes(key, Takes::Length);
        let leaf = self.leaf(key)?;
        let span = Some(self.reader.defining_leaf(leaf).span.clone());
        let full = self.full_name(key);
        let value = self.reader.named_length(&full, &leaf.span, &mut Vec::new())?;
        Some(Spanned { value, span })
    }

    /// A length.
    pub(super) fn length_or(&self, key: &str, default: Length) -> Spanned<Length> {
        self.length_if(key).unwrap_or(Spanned::without_span(default))
    }

    /// A length that must be there.
    pub(super) fn length(&self, key: &str) -> Spanned<Length> {
        self.lacks(key, "a length with its unit");
        self.length_if(key).unwrap_or_default()
    }

    /// A length above zero that must be there.
    pub(super) fn size(&self, key: &str) -> Spanned<Length> {
        self.takes(key, Takes::Size);
        let given = self.length(key);
        // A length without a span was missing or wrong, which is a finding already.
        if given.span.is_some() && given.value <= Length::ZERO {
            let message = format!("`{}` must be more than nothing", self.full_name(key));
            self.reader.find(
                Finding::error(rule::BAD_LENGTH, message)
                    .at(given.span.clone())
                    .expected(given.value.both(), "more than 0 mm")
                    .remedy("measure it and give a length above zero"),
            );
        }
        given
    }

    /// The same; `None` where there is none.
    pub(super) fn size_if(&self, key: &str) -> Option<Spanned<Length>> {
        self.takes(key, Takes::Size);
        self.has(key).then(|| self.size(key))
    }

    /// The same; one that is left out is `default`.
    pub(super) fn size_or(
        &self,
        key: &str,
        default: &Spanned<Length>,
    ) -> Spanned<Length> {
        self.size_if(key).unwrap_or_else(|| default.clone())
    }

    /// A length, which must be there if `is_needed`.
    pub(super) fn length_where(&self, key: &str, is_needed: bool) -> Spanned<Length> {
        if is_needed { self.length(key) } else { self.length_or(key, Length::ZERO) }
    }

    /// A length, which must be there and be above zero if `is_needed`.
    pub(super) fn size_where(&self, key: &str, is_needed: bool) -> Spanned<Length> {
        if is_needed { self.size(key) } else { self.length_or(key, Length::ZERO) }
    }

    /// A length from zero that must be there.
    pub(super) fn no_less_than_nothing(&self, key: &str) -> Spanned<Length> {
        self.takes(key, Takes::FromZero);
        let given = self.length(key);
        if given.value < Length::ZERO {
            let full = self.full_name(key);
            let message = format!("`{full}` must not be less than nothing");
            self.reader.find(
                Finding::error(rule::BAD_LENGTH, message)
                    .at(given.span.clone())
                    .expected(given.value.both(), "at least 0 mm (0 in)")
                    .remedy(format!("give {full} a larger length")),
            );
        }
        given
    }

    /// Finds that an opening, by its keys and its size, is shorter along the strap than it is
    /// wide across.
    pub(super) fn no_shorter_than_wide(
        &self,
        [long, wide]: [&str; 2],
        length: &Spanned<Length>,
        width: &Spanned<Length>,
    ) {
        if length.span.is_none() || length.value >= width.value {
            return;
        }
        let [long, wide] = [long, wide].map(|key| self.full_name(key));
        let strap = self.reader.root.dotted_leaf("strap.width");
        let strap = strap.filter(|_| self.table.get("on").is_none()).and_then(|leaf| {
            self.reader.named_length("strap.width", &leaf.span, &mut Vec::new())
        });
        // One that is as wide as the strap is too wide, not too short.
        let (span, remedy) = match strap.filter(|strap| *strap <= width.value) {
            Some(strap) => (
                width.span.clone(),
                format!("make {wide} smaller: the strap is {} wide", strap.both()),
            ),
            None => {
                (length.span.clone(), format!("make {long} larger, or {wide} smaller"))
            }
        };
        self.reader.find(
            Finding::error(rule::BAD_LENGTH, format!("`{long}` is less than `{wide}`"))
                .at(span)
                .expected(
                    format!("{} long, {} wide", length.value.both(), width.value.both()),
                    "an opening at least as long as it is wide",
                )
                .remedy(remedy),
        );
    }

    /// A list of names: a list, one text, or nothing. `true` stands for `for_true`.
    pub(super) fn names(
        &self,
        key: &str,
        for_true: &[Spanned<String>],
    ) -> Vec<Spanned<String>> {
        self.takes(key, Takes::Names);
        let Some(leaf) = self.leaf(key) else { return Vec::new() };
        let own_span = |name: &String| Spanned {
            value: name.clone(),
            span: Some(leaf.span.clone()),
        };
        match &leaf.value {
            Value::Bool(false) => Vec::new(),
            Value::Bool(true) => for_true.iter().map(|s| own_span(&s.value)).collect(),
            Value::Text(text) if text.is_empty() => Vec::new(),
            Value::Text(text) => vec![own_span(text)],
            Value::List(all) => all
                .iter()
                .map(|(t, p)| Spanned { value: t.clone(), span: Some(p.clone()) })
                .collect(),
            _ => {
                self.reader.find(self.wrong(key, leaf, "a list of names"));
                Vec::new()
            }
        }
    }

    /// The name of a datum, such as `size-holes.last`.
    pub(super) fn datum(&self, key: &str) -> DatumRef {
        self.lacks(key, "the name of a datum, such as \"size-holes.last\"");
        let Spanned { value, span } = self.text(key);
        DatumRef { name: value, span, and: None }
    }

    /// Where something is placed: from one datum, or in the middle `between` two.
    pub(super) fn place(&self) -> DatumRef {
        self.takes("between", Takes::Names);
        if !self.has("between") {
            return self.datum("from");
        }
        if self.has("from") {
            self.clash("between", "from");
        }
        let names = self.names("between", &[]);
        let datum = |given: &Spanned<String>| DatumRef {
            name: given.value.clone(),
            span: given.span.clone(),
            and: None,
        };
        if let [one, other] = names.as_slice() {
            return DatumRef { and: Some(Box::new(datum(other))), ..datum(one) };
        }
        let required =
            "two datums, such as [\"turn-back.end-over\", \"size-holes.first\"]";
        if let Some(leaf) = self.leaf("between") {
            self.reader.find(self.wrong("between", leaf, required));
        }
        DatumRef { name: String::new(), span: None, and: None }
    }

    /// Finds that a table has two keys of which one goes without the other.
    pub(super) fn clash(&self, key: &str, other: &str) {
        let message = format!(
            "`{}` and `{}` say the same in two ways",
            self.full_name(key),
            self.full_name(other)
        );
        self.reader.find(
            Finding::error(rule::BAD_VALUE, message)
                .at(self.leaf(key).map(|leaf| leaf.span.clone()))
                .expected("both", "one of the two")
                .remedy(format!("leave one of them out: {key} or {other}")),
        );
    }

    /// Whether the table has a list of lengths.
    pub(super) fn has_lengths(&self, key: &str) -> bool {
        self.takes(key, Takes::Lengths);
        self.has(key)
    }

    /// A list of lengths; `None` where there is none. A wrong one is a finding.
    pub(super) fn lengths_if(&self, key: &str) -> Option<Vec<Spanned<Length>>> {
        self.takes(key, Takes::Lengths);
        let leaf = self.leaf(key)?;
        let given = self.names(key, &[]);
        let lengths: Vec<_> = given
            .into_iter()
            .filter_map(|given| {
                let span = given.span.unwrap_or_else(|| leaf.span.clone());
                let value = self.reader.sum(&given.value, &span, &mut Vec::new())?;
                Some(Spanned { value, span: Some(span) })
            })
            .collect();
        if lengths.is_empty() {
            self.reader.find(self.wrong(key, leaf, "a list of lengths"));
        }
        Some(lengths)
    }

    /// The name of a datum; `None` where there is none.
    pub(super) fn datum_if(&self, key: &str) -> Option<DatumRef> {
        let Spanned { value, span } = self.text_if(key)?;
        Some(DatumRef { name: value, span, and: None })
    }

    /// A text; `None` where there is none.
    pub(super) fn text_if(&self, key: &str) -> Option<Spanned<String>> {
        self.takes(key, Takes::Text);
        self.has(key).then(|| self.text(key))
    }

    /// Finds that the job has no table of that name.
    pub(super) fn no_such_table(&self, given: &Spanned<String>) {
        let names = self.reader.root.entries.iter().map(|e| e.key.as_str());
        self.reader.find(
            Finding::unknown_name(rule::BAD_VALUE, "table", &given.value, names)
                .at(given.span.clone()),
        );
    }
}
