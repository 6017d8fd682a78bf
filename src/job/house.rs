//! Hardware and leather that a text calls by a name of the workshop. Their measures lie where
//! the name was said: over all templates below that text, under what the same text gives.

use super::hardware::{BUCKLE, HardwareKind, HardwareSpec};
use super::origin::Origin;
use super::section::{Reader, reader};
use super::shape::is_plain;
use crate::diagnostic::{Finding, Sources, Span, nearest};
use crate::input::{Entry, Leaf, Node, Table, Value, parse_length, parse_valid};
use crate::job::rule;
use crate::template::Text;

/// What a workshop names, by the table of its profile.
const SORTS: [Sort; 2] = [
    Sort { key: "hardware", rule: rule::UNKNOWN_HARDWARE, measures: "its measures" },
    Sort { key: "leather", rule: rule::UNKNOWN_LEATHER, measures: "thickness, k" },
];

/// One kind of thing that is named.
struct Sort {
    /// The key that names one, and the table of a profile that describes all.
    key: &'static str,
    rule: crate::diagnostic::RuleId,
    measures: &'static str,
}

impl Sort {
    fn is_hardware(&self) -> bool {
        self.key == "hardware"
    }

    /// Whether a key of a table that names such a thing is one of its measures.
    fn is_measure(&self, key: &str) -> bool {
        if self.is_hardware() {
            key != self.key
        } else {
            ["thickness", "k"].contains(&key)
        }
    }
}

/// The name of a thing of the workshop, and what the workshop says of it.
#[derive(Clone, Debug)]
pub(super) struct Named {
    /// The table that has the name, and the key that says it.
    pub(super) table: String,
    key: &'static str,
    pub(super) name: String,
    measures: Table,
}

/// The profiles of a workshop, which are read when a text first names one of its things.
pub(super) struct House<'l> {
    texts: &'l [Text],
    trees: Option<Vec<(usize, Table)>>,
    pub(super) named: Vec<Named>,
    /// What the built-in templates give, and under other tables the text that has them first.
    first: Table,
}

impl<'l> House<'l> {
    pub(super) fn new(texts: &'l [Text]) -> Self {
        Self { texts, trees: None, named: Vec::new(), first: Table::default() }
    }

    /// Merges a text into what lies below it, and under it the measures of what it names. Of
    /// what was named or measured there before nothing is left. `is_built_in` says that the
    /// text is a template of the program.
    pub(super) fn merge(
        &mut self,
        below: &mut Table,
        mut text: Table,
        is_built_in: bool,
        sources: &mut Sources,
        findings: &mut Vec<Finding>,
    ) {
        for entry in &mut text.entries {
            let Node::Table(table) = &mut entry.node else { continue };
            for sort in &SORTS {
                self.lay_under(below, &entry.key, table, sort, sources, findings);
            }
        }
        let is_new = |entry: &&Entry| is_built_in || self.first.get(&entry.key).is_none();
        let new = text.entries.iter().filter(is_new).cloned().collect();
        self.first.merge(Table { entries: new });
        below.merge(text);
    }

    /// Gives a table the measures that it had at first.
    fn reset(&mut self, below: &mut Table, name: &str, sort: &Sort) {
        self.named.retain(|named| named.table != name || named.key != sort.key);
        let Some(Node::Table(table)) = below.get_mut(name) else { return };
        table.entries.retain(|entry| !sort.is_measure(&entry.key));
        let first = self.first.table(name).into_iter().flat_map(|first| &first.entries);
        let first = first.filter(|entry| sort.is_measure(&entry.key)).cloned();
        table.merge(Table { entries: first.collect() });
    }

    fn lay_under(
        &mut self,
        below: &mut Table,
        name: &str,
        table: &mut Table,
        sort: &Sort,
        sources: &mut Sources,
        findings: &mut Vec<Finding>,
    ) {
        let Some(said) = table.leaf(sort.key) else { return };
        let (Some(word), span) = (said.value.text(), said.span.clone()) else { return };
        let is_hardware = sort.is_hardware();
        if word.trim().is_empty() || !is_hardware && !has_leather(name, table, below) {
            return;
        }
        if is_hardware && HardwareKind::names().any(|kind| kind == word) {
            if self.named.iter().any(|named| named.table == name) {
                self.reset(below, name, sort);
            }
            return;
        }
        let word = word.to_owned();
        let Some(mut measures) = self.find(sort, &word, sources) else {
            findings.push(self.unknown(sort, &word, sources).at(Some(span)));
            if is_hardware {
                go_on(name, table, below);
            }
            return;
        };
        if is_hardware {
            let kind = kind_of(name, &measures).map(ToOwned::to_owned);
            let held = below.table(name).and_then(|below| kind_of(name, below));
            if let (Some(kind), Some(held)) = (&kind, held)
                && HardwareKind::family(kind) != HardwareKind::family(held)
            {
                findings.push(other_kind([&word, kind], [name, held]).at(Some(span)));
                go_on(name, table, below);
                return;
            }
            set_word(table, sort.key, kind.as_deref().unwrap_or(&word));
        }
        measures.entries.retain(|e| sort.is_measure(&e.key) && e.key != "note");
        self.reset(below, name, sort);
        let (key, key_span) = (name.to_owned(), span);
        let node = Node::Table(measures.clone());
        below.merge(Table { entries: vec![Entry { key, key_span, node }] });
        let (table, key) = (name.to_owned(), sort.key);
        self.named.push(Named { table, key, name: word, measures });
    }

    /// What the nearest profile that has the name says of it.
    fn find(&mut self, sort: &Sort, name: &str, sources: &mut Sources) -> Option<Table> {
        let read = |text: &Text| {
            let source = sources.add(text.name.as_str(), text.text.as_ref());
            (source, parse_valid(&text.text, source))
        };
        let texts = self.texts;
        let trees = self.trees.get_or_insert_with(|| texts.iter().map(read).collect());
        trees.iter().find_map(|(_, tree)| tree.table(sort.key)?.table(name)).cloned()
    }

    fn unknown(&self, sort: &Sort, word: &str, sources: &Sources) -> Finding {
        let trees = || self.trees.iter().flatten();
        let tables = trees().filter_map(|(_, tree)| tree.table(sort.key));
        let names: Vec<&str> =
            tables.flat_map(|all| &all.entries).map(|e| e.key.as_str()).collect();
        let files =
            trees().filter_map(|(source, _)| Some(sources.get(*source)?.name.as_str()));
        let files = files.collect::<Vec<_>>().join(", ");
        let read = if files.is_empty() { "no profile was read".into() } else { files };
        let kinds: Vec<&str> = match sort.key {
            "hardware" => HardwareKind::names().collect(),
            _ => Vec::new(),
        };
        let near = nearest(word, names.iter().chain(&kinds).copied());
        let required = format!("a name of a profile ({read})");
        let required = match kinds.as_slice() {
            [] => required,
            kinds => format!("{required}, or one of: {}", kinds.join(", ")),
        };
        let near = if names.is_empty() && kinds.is_empty() { "" } else { near.as_str() };
        let or = format!("or measure it, and give {} in its place", sort.measures);
        Finding::error(sort.rule, format!("no {} is called `{word}`", sort.key))
            .expected(format!("`{word}`"), required)
            .remedy(format!("{near} {or}").trim().trim_start_matches("or ").to_owned())
    }

    /// Finds measures of the job that are not those of the thing that it names.
    pub(super) fn find_differences(&self, reader: &Reader<'_>, sources: &Sources) {
        for Named { table, name, measures, .. } in &self.named {
            for entry in &measures.entries {
                let (Node::Leaf(house), key) = (&entry.node, &entry.key) else {
                    continue;
                };
                let full = format!("{table}.{key}");
                let Some(own) = reader.root.dotted_leaf(&full) else { continue };
                if own.span == house.span || same(reader, &full, own, house) {
                    continue;
                }
                let of = sources.get(house.span.source).map_or("", |s| s.name.as_str());
                let line = sources.line_column(&house.span).map_or(0, |(line, _)| line);
                let found = format!("{}, which is used", own.value.found());
                let required = format!("{}, as {of}:{line} says", house.value.found());
                let remedy = format!(
                    "is it another one? Then take the name out. Was the house's measured \
                     anew? Then change {of}. Else take {full} out"
                );
                reader.find(
                    Finding::warning(
                        rule::HOUSE_DIFFERS,
                        format!("`{full}` is not that of {name}"),
                    )
                    .at(Some(own.span.clone()))
                    .expected(found, required)
                    .remedy(remedy),
                );
            }
        }
    }
}

/// Whether a table is of the strap or a piece, which have leather.
fn has_leather(name: &str, table: &Table, below: &Table) -> bool {
    let has_kind = |table: &Table| table.get("kind").is_some();
    name == super::STRAP
        || !is_plain(name) && (has_kind(table) || below.table(name).is_some_and(has_kind))
}

/// The kind of the hardware that a table describes.
fn kind_of<'t>(name: &str, table: &'t Table) -> Option<&'t str> {
    let said = table.leaf("hardware").and_then(|leaf| leaf.value.text());
    said.or((name == BUCKLE).then_some(BUCKLE))
}

fn set_word(table: &mut Table, key: &str, word: &str) {
    if let Some(Node::Leaf(leaf)) = table.get_mut(key) {
        leaf.value = Value::Text(word.to_owned());
    }
}

/// Lets the reading go on after a wrong name, with the kind that lies below.
fn go_on(name: &str, table: &mut Table, below: &Table) {
    let below = below.table(name).unwrap_or(table);
    if let Some(kind) = kind_of(name, below).map(ToOwned::to_owned) {
        set_word(table, "hardware", &kind);
    }
}

fn other_kind([word, kind]: [&str; 2], [table, held]: [&str; 2]) -> Finding {
    Finding::error(
        rule::HARDWARE_KIND,
        format!("`{word}` is a {kind}; `{table}` is a {held}"),
    )
    .expected(format!("a {kind}"), format!("a {held} of the workshop"))
    .remedy(format!("name a {held}, or give the measures of your own in [{table}]"))
}

/// Whether two values of a key are equal.
fn same(reader: &Reader<'_>, key: &str, own: &Leaf, house: &Leaf) -> bool {
    match house.value.text().map(|text| parse_length(key, text)) {
        Some(Ok(length)) => {
            reader.named_length(key, &own.span, &mut Vec::new()) == Some(length)
        }
        _ => own.value.word() == house.value.word(),
    }
}

/// The mistakes in what a profile says of one thing: a name that is a kind, keys that its kind
/// has not, wrong values. What it leaves out is no mistake.
pub(crate) fn find_in_entry(
    sort: &str,
    name: &str,
    table: &Table,
    span: &Span,
) -> Vec<Finding> {
    let at = |finding: Finding| finding.at(Some(span.clone()));
    let mut own = table.clone();
    own.entries.retain(|e| e.key != "note");
    let is_hardware = sort == "hardware";
    if is_hardware && HardwareKind::names().any(|kind| kind == name) {
        return vec![at(Finding::error(
            rule::BAD_VALUE,
            format!("`{name}` is a kind of hardware, and so no name for one thing"),
        )
        .expected(format!("`{name}`"), "a name of its own")
        .remedy(format!("call it by what it is, such as {name}-25")))];
    }
    if is_hardware && own.get("hardware").is_none() {
        let kinds: Vec<&str> = HardwareKind::names().collect();
        return vec![at(Finding::error(
            rule::MISSING_KEY,
            format!("`{name}` does not say what hardware it is"),
        )
        .expected("no `hardware`", crate::diagnostic::one_of(&kinds))
        .remedy("add its kind, such as hardware = \"buckle\""))];
    }
    let (key, key_span) = (sort.to_owned(), span.clone());
    let entry = Entry { key, key_span, node: Node::Table(own) };
    let root = Table { entries: vec![entry] };
    let reader = reader(&root);
    if let Some(thing) = reader.section(sort) {
        if is_hardware {
            HardwareSpec::read(&thing, &Origin::default());
        } else {
            thing.has("thickness").then(|| thing.size("thickness"));
            thing.has("k").then(|| thing.ratio("k"));
        }
    }
    reader.finish().into_iter().filter(|f| f.rule != rule::MISSING_KEY).collect()
}
