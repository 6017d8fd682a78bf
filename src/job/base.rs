//! The templates below a job: the one that it names, the one that this names, and so on
//! down, laid over each other.

use super::Spanned;
use super::origin::Origin;
use super::reader::{Reader, nearest};
use super::resolve::job;
use super::tree::{self, Table};
use crate::diagnostic::{Finding, Severity, Sources, Span, forbids_print};
use crate::template::{Missing, TemplateLoader, Text};

/// Most templates that may lie over each other.
const DEEPEST: usize = 8;

/// A template as it lies in the pile.
pub(super) struct Layer {
    pub(super) text: Text,
    source: usize,
    tree: Table,
}

/// The templates of a job as one tree.
pub(super) struct Base {
    /// What the job calls its template.
    pub(super) name: String,
    pub(super) root: Table,
    /// The texts of the templates, by their numbers.
    sources: Vec<usize>,
    /// What the built-in ones of them said.
    pub(super) origin: Origin,
    /// Keys of own templates that nothing reads, whatever lies over them.
    slips: Vec<Span>,
}

impl Base {
    /// Whether a key that nothing reads is one that the job, or a template further up, has
    /// made idle: that is no slip of anybody's.
    pub(super) fn is_idle(&self, key: &Finding) -> bool {
        let Some(span) = key.span.as_ref().filter(|_| key.rule == "unknown-key") else {
            return false;
        };
        self.sources.contains(&span.source) && !self.slips.contains(span)
    }
}

/// The template that a text names; empty where it names none.
fn named(over: &Table, findings: &mut Vec<Finding>) -> Spanned<String> {
    let reader = Reader::new(over);
    let said = reader.top().text("template");
    findings.extend(reader.findings.into_inner());
    said
}

/// The templates that `over`, a job, lies on.
pub(super) fn base(
    over: &Table,
    loader: &dyn TemplateLoader,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<Base> {
    let said = named(over, findings);
    if forbids_print(findings) {
        return None;
    }
    if said.value.is_empty() {
        let missing =
            Finding::new("missing-key", Severity::Error, "`template` is missing")
                .expected("nothing", "the name of a template");
        findings.push(if over.get("about").is_some() {
            missing.remedy(
                "with its [about] this is a template itself: write a job beside it that \
                 names this file, template = \"FILE.toml\"",
            )
        } else {
            missing.remedy(format!(
                "add a line such as template = \"belt\"; there is: {}",
                loader.names().join(", ")
            ))
        });
        return None;
    }
    let name = said.value.clone();
    let chain = chain(said, loader, sources, findings)?;
    Some(laid(name, chain))
}

/// The template of that name and all below it, the highest first.
pub(super) fn chain(
    mut said: Spanned<String>,
    loader: &dyn TemplateLoader,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Layer>> {
    let mut chain: Vec<Layer> = Vec::new();
    while !said.value.is_empty() {
        let by = chain.last().map(|layer| &layer.text);
        let text = match loader.find(&said.value, by) {
            Ok(text) => text,
            Err(missing) => {
                findings.push(not_found(&said, &missing, loader));
                return None;
            }
        };
        if chain.len() == DEEPEST || chain.iter().any(|l| l.text.name == text.name) {
            let names = chain.iter().map(|l| &l.text).chain([&text]);
            let names: Vec<&str> = names.map(|t| t.name.as_str()).collect();
            findings.push(circle(&said, &names));
            return None;
        }
        let source = sources.add(text.name.as_str(), text.text.as_ref());
        let tree = tree::parse(sources, source, findings);
        said = named(&tree, findings);
        if forbids_print(findings) {
            return None;
        }
        chain.push(Layer { text, source, tree });
    }
    Some(chain)
}

/// Lays a pile together from the lowest up.
pub(super) fn laid(name: String, chain: Vec<Layer>) -> Base {
    let mut base = Base {
        name,
        root: Table::default(),
        sources: Vec::new(),
        origin: Origin::default(),
        slips: Vec::new(),
    };
    for Layer { text, source, tree } in chain.into_iter().rev() {
        if text.carried {
            base.origin.add(source, tree.entries.iter().map(|e| e.key.as_str()));
        }
        base.root.lay(tree);
        base.sources.push(source);
        if !text.carried {
            let of_it = |span: &Span| span.source == source;
            base.slips.extend(unread(&base.root, &base.name).filter(of_it));
        }
    }
    base
}

/// The places of keys that nothing reads when a template is read by itself.
fn unread(root: &Table, name: &str) -> impl Iterator<Item = Span> {
    // A reading leaves its traces in the tree.
    let root = root.clone();
    let reader = Reader::new(&root);
    job(&reader, &root, name.to_owned(), Origin::default());
    let unread = reader.finish().into_iter().filter(|f| f.rule == "unknown-key");
    unread.filter_map(|f| f.span)
}

fn not_found(
    said: &Spanned<String>,
    missing: &Missing,
    loader: &dyn TemplateLoader,
) -> Finding {
    let name = &said.value;
    let finding = |rule, message| {
        Finding::new(rule, Severity::Error, message).at(said.span.clone())
    };
    match missing {
        Missing::Unknown => {
            let names = loader.names();
            finding("unknown-template", format!("no template is called `{name}`"))
                .expected(format!("`{name}`"), format!("one of: {}", names.join(", ")))
                .remedy(nearest(name, names.iter().map(String::as_str)))
        }
        Missing::NoFile { path } => {
            finding("unknown-template", format!("there is no template file `{name}`"))
                .expected(format!("no file {path}"), "a file with a template")
                .remedy(
                    "give the path from the folder of the text that names it, or the \
                     name alone of a template in --templates DIR",
                )
        }
        Missing::Unreadable { why } => {
            finding("unread-template", format!("the template `{name}` cannot be read"))
                .expected(why.as_str(), "a TOML text that may be read")
                .remedy("look at the file, or name another")
        }
    }
}

fn circle(said: &Spanned<String>, names: &[&str]) -> Finding {
    let deep = names.len() > DEEPEST;
    let message = if deep {
        "too many templates lie over each other"
    } else {
        "templates go in a circle"
    };
    Finding::new("template-cycle", Severity::Error, message)
        .at(said.span.clone())
        .expected(
            names.join(" -> "),
            format!("at most {DEEPEST} templates, the last of which names no other"),
        )
        .remedy("name another template here, or none")
}
