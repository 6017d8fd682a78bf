//! `templates`: the list of templates, and the keys of each.

use super::template_loader::{FileLoader, is_path};
use super::terminal::{self, WIDTH, write_wrapped};
use super::workshop::{Workshop, WorkshopArgs};
use super::{Failure, Result, check_allowed, complete};
use crate::diagnostic::nearest;
use crate::job::{TemplateChain, read_template};
use crate::template::{About, Key, Limits, Missing, TemplateLoader as _, Text};
use clap::Args;
use clap_complete::engine::ArgValueCompleter;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;

#[derive(Args, Debug)]
#[command(after_help = "\
A template of your own is a file in the job language. A job names it by its path from
the folder of the job, template = \"straps/lantern.toml\", or by its name with --templates
straps. Start from a template that is near to what you need:
  strapwright templates plain-strap --toml > straps/lantern.toml
  strapwright templates straps/lantern.toml")]
pub(super) struct Templates {
    /// The name of a template, or the path of its file: lists its keys with defaults and
    /// limits
    #[arg(add = ArgValueCompleter::new(complete::templates))]
    name: Option<String>,
    /// Print the whole file, to start a template of your own from
    #[arg(long, requires = "name")]
    toml: bool,
    #[command(flatten)]
    workshop: WorkshopArgs,
}

pub(super) fn run(args: &Templates) -> Result {
    // What is wrong with the profile is told, and hides no template.
    let Workshop { profile, loader, .. } = args.workshop.read(Path::new(""))?;
    terminal::show_findings(&profile.findings, &profile.sources);
    show(args, &loader)?;
    check_allowed(&profile.findings)
}

fn show(args: &Templates, loader: &FileLoader) -> Result {
    let Some(name) = &args.name else {
        return terminal::write_text(list_templates(loader));
    };
    if args.toml {
        return terminal::write_file(find(name, loader)?.text.as_bytes());
    }
    let chain = read(name, loader)?;
    if !chain.texts.is_empty() {
        terminal::write_text(describe(name, &chain.about()))?;
    }
    check_allowed(&chain.findings)
}

/// The template of a name with all below it. Shows its findings.
///
/// # Errors
/// Those of [`find`].
pub(super) fn read(name: &str, loader: &FileLoader) -> Result<TemplateChain> {
    find(name, loader)?;
    let chain = read_template(name, loader);
    terminal::show_findings(&chain.findings, &chain.sources);
    Ok(chain)
}

/// The template of a name.
///
/// # Errors
/// When there is none, or its file cannot be read.
pub(super) fn find(name: &str, loader: &FileLoader) -> Result<Text> {
    loader.find(name, None).map_err(|missing| not_found(name, &missing, loader))
}

fn not_found(name: &str, missing: &Missing, loader: &FileLoader) -> Failure {
    match missing {
        Missing::Unknown => {
            let names = loader.names();
            let near = nearest(name, names.iter().map(String::as_str));
            Failure::Usage(format!("no template is called `{name}`; {near}"))
        }
        Missing::NoFile { path } => Failure::System(format!("there is no file {path}")),
        Missing::Unreadable { why } => Failure::System(why.clone()),
    }
}

/// All templates with what each is, those of the user's folder first.
pub(super) fn summaries(loader: &FileLoader) -> Vec<(String, String)> {
    let is_own = |name: &str| loader.own_names().any(|own| own == name);
    let described = |name: String| {
        let chain = read_template(&name, loader);
        let summary = if chain.texts.is_empty() {
            "cannot be read: give its name to see why".to_owned()
        } else {
            chain.about().summary
        };
        let summary = match (is_own(&name), crate::template::find(&name)) {
            (false, _) => summary,
            (true, None) => format!("{summary} (own)"),
            (true, Some(_)) => format!("{summary} (own, in place of the program's)"),
        };
        (name, summary)
    };
    loader.names().into_iter().map(described).collect()
}

fn list_templates(loader: &FileLoader) -> String {
    let all = summaries(loader);
    let width = all.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0) + 2;
    let mut text = String::new();
    for (name, summary) in &all {
        write_wrapped(&mut text, &format!("{name:<width$}"), summary, WIDTH);
    }
    text
}

/// The keys of a template: measures and choices first, then those of its features.
fn describe(name: &str, about: &About) -> String {
    let colon = if about.summary.is_empty() { "" } else { ": " };
    let mut text = String::new();
    write_wrapped(&mut text, "", &format!("{name}{colon}{}", about.summary), WIDTH);
    let (features, measures): (Vec<&Key>, Vec<&Key>) =
        about.keys.iter().partition(|k| k.of_feature);
    for (heading, keys) in [("Measures and choices", measures), ("Features", features)] {
        if keys.is_empty() {
            continue;
        }
        let _ = write!(text, "\n{heading}\n");
        for key in keys {
            let default = key.default.as_deref().unwrap_or("(none)");
            let _ = writeln!(text, "  {} = {default}", key.name);
            let limits = key.limits.as_ref().map(describe_limits).unwrap_or_default();
            for line in [&key.what, &limits].into_iter().filter(|line| !line.is_empty()) {
                write_wrapped(&mut text, "      ", line, WIDTH);
            }
        }
    }
    let by_name: BTreeSet<String> = about.keys.iter().filter_map(name_of).collect();
    if !by_name.is_empty() {
        let by_name = Vec::from_iter(by_name).join(", ");
        let line = format!("By a name of your profile, in place of measures: {by_name}");
        text.push('\n');
        write_wrapped(&mut text, "", &line, WIDTH);
    }
    if !is_path(name) {
        let _ = write!(
            text,
            "\nA job: template = \"{name}\", and the keys that differ. The whole file: \
             strapwright\ntemplates {name} --toml\n"
        );
    }
    text
}

/// The key that names the thing of which a key is a measure.
fn name_of(key: &Key) -> Option<String> {
    let (table, own) = key.name.split_once('.')?;
    let is_hardware = own == "hardware" || table == "buckle";
    let has_leather = own == "thickness" && (table == "strap" || key.of_feature);
    let name = if is_hardware { "hardware" } else { "leather" };
    (is_hardware || has_leather).then(|| format!("{table}.{name}"))
}

/// `limits: 20 mm to 60 mm (common practice)`.
fn describe_limits(limits: &Limits) -> String {
    let range = match (&limits.from, &limits.to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("at least {from}"),
        (None, Some(to)) => format!("at most {to}"),
        (None, None) => "none".to_owned(),
    };
    match limits.source.as_str() {
        "" => format!("limits: {range}"),
        source => format!("limits: {range} ({source})"),
    }
}
