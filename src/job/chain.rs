//! The templates below a job: the one that it names, the one that this names, and so on,
//! merged into one tree.

use super::Spanned;
use super::house::House;
use super::origin::Origin;
use super::resolve::job;
use super::section::{JOB, reader};
use super::shape::take_misshapen;
use crate::diagnostic::{Finding, Sources, Span, forbids_print, is_near};
use crate::input::{self, Entry, Node, Table};
use crate::job::rule;
use crate::template::{Missing, TemplateLoader, Text};

/// Most templates in a chain.
const DEEPEST: usize = 8;

/// One template of a chain.
pub(super) struct Link {
    pub(super) text: Text,
    source: usize,
    tree: Table,
}

/// The templates of a job as one tree.
pub(super) struct MergedTemplates {
    /// The name that the job has for its template.
    pub(super) name: String,
    pub(super) root: Table,
    /// The texts of the templates, by their numbers.
    sources: Vec<usize>,
    /// What the built-in ones of them said.
    pub(super) origin: Origin,
    /// Keys of the user's own templates that nothing reads, whatever is merged into them.
    unread: Vec<Span>,
}

impl MergedTemplates {
    /// Whether a finding is about a key of a template that nothing reads because the job, or
    /// a template that names this one, made it idle. That is nobody's mistake.
    pub(super) fn is_idle(&self, finding: &Finding) -> bool {
        let unread = finding.span.as_ref().filter(|_| finding.rule == rule::UNKNOWN_KEY);
        unread.is_some_and(|span| {
            self.sources.contains(&span.source) && !self.unread.contains(span)
        })
    }
}

/// The name of the template that a text names; empty where it names none.
fn template_name(tree: &Table, findings: &mut Vec<Finding>) -> Spanned<String> {
    let reader = reader(tree);
    let given = reader.top().text("template");
    findings.extend(reader.findings.into_inner());
    given
}

/// Loads and merges the templates of a job; `None` where a finding forbids it.
pub(super) fn load_templates(
    job: &Table,
    loader: &dyn TemplateLoader,
    house: &mut House<'_>,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<MergedTemplates> {
    let given = template_name(job, findings);
    if forbids_print(findings) {
        return None;
    }
    if given.value.is_empty() {
        findings.push(no_template(job, loader));
        return None;
    }
    let name = given.value.clone();
    let chain = load_chain(given, loader, sources, findings)?;
    Some(merge_chain(name, chain, house, sources, findings))
}

/// The finding that a job names no template. A line that may be meant to is pointed at.
fn no_template(job: &Table, loader: &dyn TemplateLoader) -> Finding {
    const NAME: &str = "template";
    let missing = Finding::error(rule::MISSING_KEY, "`template` is missing");
    let required = "the name of a template";
    let is_value = |entry: &&Entry| matches!(entry.node, Node::Leaf(_));
    let misspelt = job.entries.iter().filter(is_value).find(|entry| {
        let key = entry.key.to_lowercase();
        entry.key != NAME && (key == NAME || is_near(&key, NAME))
    });
    if let Some(entry) = misspelt {
        return missing
            .at(Some(entry.key_span.clone()))
            .expected(format!("`{}`", entry.key), required)
            .remedy("did you mean `template`?");
    }
    let within = job.entries.iter().find_map(|entry| {
        let inner = job.table(&entry.key)?.get(NAME).filter(is_value)?;
        Some((format!("`{}.{NAME}`", entry.key), inner.key_span.clone()))
    });
    if let Some((found, span)) = within {
        return missing
            .at(Some(span))
            .expected(found, required)
            .remedy("put this line above the first [table]");
    }
    missing.expected("nothing", required).remedy(if job.get("about").is_some() {
        "with its [about] this is a template itself: write a job beside it that names \
         this file, template = \"FILE.toml\""
            .to_owned()
    } else {
        let names = loader.names().join(", ");
        format!("add a line such as template = \"belt\"; there is: {names}")
    })
}

/// Loads the template of that name and all below it, the lowest last; `None` where a finding
/// forbids it.
pub(super) fn load_chain(
    mut given: Spanned<String>,
    loader: &dyn TemplateLoader,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Link>> {
    let mut chain: Vec<Link> = Vec::new();
    while !given.value.is_empty() {
        let by = chain.last().map(|link| &link.text);
        let text = match loader.find(&given.value, by) {
            Ok(text) => text,
            Err(missing) => {
                findings.push(not_found(&given, &missing, loader));
                return None;
            }
        };
        if chain.len() == DEEPEST || chain.iter().any(|l| l.text.name == text.name) {
            let names = chain.iter().map(|l| &l.text).chain([&text]);
            let names: Vec<&str> = names.map(|t| t.name.as_str()).collect();
            findings.push(endless(&given, &names));
            return None;
        }
        let source = sources.add(text.name.as_str(), text.text.as_ref());
        let mut tree = input::parse(&JOB, sources, source, findings);
        findings.extend(take_misshapen(&mut tree));
        given = template_name(&tree, findings);
        if forbids_print(findings) {
            return None;
        }
        chain.push(Link { text, source, tree });
    }
    Some(chain)
}

/// Merges a chain from its lowest template up.
pub(super) fn merge_chain(
    name: String,
    chain: Vec<Link>,
    house: &mut House<'_>,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> MergedTemplates {
    let mut merged = MergedTemplates {
        name,
        root: Table::default(),
        sources: Vec::new(),
        origin: Origin::default(),
        unread: Vec::new(),
    };
    for Link { text, source, tree } in chain.into_iter().rev() {
        let is_built_in = text.path.is_none();
        if is_built_in {
            merged.origin.add(source, tree.entries.iter().map(|e| e.key.as_str()));
        }
        house.merge(&mut merged.root, tree, is_built_in, sources, findings);
        merged.sources.push(source);
        if !is_built_in {
            let unread = unread_keys(&merged.root, &merged.name);
            merged.unread.extend(unread.filter(|span| span.source == source));
        }
    }
    merged
}

/// The spans of keys that nothing reads when a template is read by itself.
fn unread_keys(root: &Table, name: &str) -> impl Iterator<Item = Span> {
    let reader = reader(root);
    job(&reader, root, name.to_owned(), Origin::default());
    let unread = reader.finish().into_iter().filter(|f| f.rule == rule::UNKNOWN_KEY);
    unread.filter_map(|f| f.span)
}

fn not_found(
    given: &Spanned<String>,
    missing: &Missing,
    loader: &dyn TemplateLoader,
) -> Finding {
    let name = &given.value;
    let finding = match missing {
        Missing::Unknown => {
            let names = loader.names();
            let names = names.iter().map(String::as_str);
            Finding::unknown_name(rule::UNKNOWN_TEMPLATE, "template", name, names)
        }
        Missing::NoFile { path } => {
            let message = format!("there is no template file `{name}`");
            Finding::error(rule::UNKNOWN_TEMPLATE, message)
                .expected(format!("no file {path}"), "a file with a template")
                .remedy(
                    "give the path from the folder of the text that names it, or the \
                     name alone of a template in your folder of templates",
                )
                .flag("--templates DIR")
        }
        Missing::Unreadable { why } => {
            let message = format!("the template `{name}` cannot be read");
            Finding::error(rule::UNREAD_TEMPLATE, message)
                .expected(why.as_str(), "a TOML text that may be read")
                .remedy("look at the file, or name another")
        }
    };
    finding.at(given.span.clone())
}

/// An error: the chain of these templates has no end, or one too far away.
fn endless(given: &Spanned<String>, names: &[&str]) -> Finding {
    let message = if names.len() > DEEPEST {
        "the chain of templates is too long"
    } else {
        "the chain of templates is a circle"
    };
    Finding::error(rule::TEMPLATE_CYCLE, message)
        .at(given.span.clone())
        .expected(
            names.join(" -> "),
            format!("at most {DEEPEST} templates, the last of which names no other"),
        )
        .remedy("name another template here, or none")
}
