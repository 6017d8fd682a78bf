//! `templates`: the list of templates, and the keys of each.

use super::loader::{FileLoader, TemplateArgs, is_path};
use super::{Failure, Outcome, terminal};
use crate::diagnostic::{forbids_print, nearest};
use crate::job::{TemplateChain, read_template};
use crate::template::{
    About, Key, Limits, Missing, REGISTER, TemplateLoader as _, about, about_chain,
};
use clap::Args;
use std::fmt::Write as _;

/// As wide as the other texts of the program, in characters.
const WIDTH: usize = 90;

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
    name: Option<String>,
    /// Print the whole file, to start a template of your own from
    #[arg(long, requires = "name")]
    toml: bool,
    #[command(flatten)]
    loader: TemplateArgs,
}

pub(super) fn run(args: &Templates) -> Result<Outcome, Failure> {
    let loader = args.loader.open(None)?;
    let Some(name) = &args.name else {
        terminal::put(list(&loader).as_bytes())?;
        return Ok(Outcome::Done);
    };
    let text =
        loader.find(name, None).map_err(|missing| failure(name, &missing, &loader))?;
    if args.toml {
        terminal::put(text.text.as_bytes())?;
        return Ok(Outcome::Done);
    }
    let TemplateChain { sources, texts, findings } = read_template(name, &loader);
    terminal::show(&findings, &sources);
    let texts: Vec<&str> = texts.iter().map(|t| t.text.as_ref()).collect();
    if !texts.is_empty() {
        terminal::put(one(name, &about_chain(&texts)).as_bytes())?;
    }
    let forbidden = forbids_print(&findings);
    Ok(if forbidden { Outcome::Forbidden } else { Outcome::Done })
}

fn failure(name: &str, missing: &Missing, loader: &FileLoader) -> Failure {
    match missing {
        Missing::Unknown => {
            let names = loader.names();
            let near = nearest(name, names.iter().map(String::as_str));
            Failure::Usage(format!("no template is called `{name}`; {near}"))
        }
        Missing::NoFile { path } => Failure::Machine(format!("there is no file {path}")),
        Missing::Unreadable { why } => Failure::Machine(why.clone()),
    }
}

/// All templates, those of the folder first.
fn list(loader: &FileLoader) -> String {
    let own: Vec<&str> = loader.own().collect();
    let names = || own.iter().copied().chain(REGISTER.iter().map(|t| t.name));
    let wide = names().map(|n| n.chars().count()).max().unwrap_or(0) + 2;
    let mut text = String::new();
    let mut line = |name: &str, summary: &str| {
        let first = format!("{name:<wide$}");
        let options = textwrap::Options::new(WIDTH);
        let rest = " ".repeat(wide);
        let options = options.initial_indent(&first).subsequent_indent(&rest);
        let _ = writeln!(text, "{}", textwrap::fill(summary, options));
    };
    for name in &own {
        let texts = read_template(name, loader).texts;
        let all: Vec<&str> = texts.iter().map(|t| t.text.as_ref()).collect();
        let summary = if all.is_empty() {
            "cannot be read: give its name to see why".to_owned()
        } else {
            about_chain(&all).summary
        };
        let hides = REGISTER.iter().any(|t| t.name == *name);
        let whose = if hides { "own, in place of the program's" } else { "own" };
        line(name, &format!("{summary} ({whose})"));
    }
    for template in REGISTER.iter().filter(|t| !own.contains(&t.name)) {
        line(template.name, &about(*template).summary);
    }
    text
}

/// What one template can be told: measures and choices first, then its features.
fn one(name: &str, about: &About) -> String {
    let colon = if about.summary.is_empty() { "" } else { ": " };
    let mut text = textwrap::fill(&format!("{name}{colon}{}", about.summary), WIDTH);
    text.push('\n');
    let (features, measures): (Vec<&Key>, Vec<&Key>) =
        about.keys.iter().partition(|k| k.of_feature);
    for (heading, keys) in [("Measures and choices", measures), ("Features", features)] {
        if keys.is_empty() {
            continue;
        }
        let _ = write!(text, "\n{heading}\n");
        for key in keys {
            write_key(key, &mut text);
        }
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

fn write_key(key: &Key, text: &mut String) {
    let default = key.default.as_deref().unwrap_or("(none)");
    let _ = writeln!(text, "  {} = {default}", key.name);
    let options = textwrap::Options::new(WIDTH);
    let options = options.initial_indent("      ").subsequent_indent("      ");
    if !key.what.is_empty() {
        let _ = writeln!(text, "{}", textwrap::fill(&key.what, &options));
    }
    if let Some(limits) = &key.limits {
        let _ = writeln!(text, "{}", textwrap::fill(&words(limits), &options));
    }
}

/// `limits: 20 mm to 60 mm (common practice)`.
fn words(limits: &Limits) -> String {
    let range = match (&limits.from, &limits.to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("at least {from}"),
        (None, Some(to)) => format!("at most {to}"),
        (None, None) => "none".to_owned(),
    };
    let source = &limits.source;
    let whence = if source.is_empty() { String::new() } else { format!(" ({source})") };
    format!("limits: {range}{whence}")
}
