//! `explain`: what a rule does, why it matters, and where its figures come from.

use super::{Failure, Outcome, terminal};
use crate::check::{REGISTER, Rule};
use crate::diagnostic::RuleId;
use crate::diagnostic::nearest;
use crate::{batch, cutting, job, layout, paginate, printer, verify};
use clap::Args;
use std::fmt::Write as _;

#[derive(Args, Debug)]
pub(super) struct Explain {
    /// The rule as it stands in brackets in a finding [default: list all rules]
    rule: Option<String>,
}

/// As wide as the other texts of the program, in characters.
const WIDTH: usize = 90;

/// What the stages before and after the design rules can find, each in a line.
fn of_stages() -> impl Iterator<Item = (RuleId, &'static str)> {
    let stages = [
        job::RULES,
        layout::RULES,
        cutting::RULES,
        paginate::RULES,
        printer::RULES,
        verify::RULES,
        batch::RULES,
    ];
    stages.into_iter().flatten().copied()
}

pub(super) fn run(args: &Explain) -> Result<Outcome, Failure> {
    let text = match &args.rule {
        None => all(),
        Some(id) => match REGISTER.iter().find(|r| r.id.as_str() == id) {
            Some(rule) => one(rule),
            None => match of_stages().find(|(name, _)| name.as_str() == id) {
                Some((name, what)) => format!("{name}: {what}.\n"),
                None => return Err(unknown(id)),
            },
        },
    };
    terminal::put(text.as_bytes())?;
    Ok(Outcome::Done)
}

fn all() -> String {
    let mut text = String::new();
    for rule in REGISTER {
        list(&mut text, rule.id.as_str(), rule.what);
    }
    text.push('\n');
    for (id, what) in of_stages() {
        list(&mut text, id.as_str(), what);
    }
    text
}

/// One rule in the list of all.
fn list(text: &mut String, id: &str, what: &str) {
    let first = format!("{id:<20} ");
    let options = textwrap::Options::new(WIDTH)
        .initial_indent(&first)
        .subsequent_indent("                     ");
    let _ = writeln!(text, "{}", textwrap::fill(what, options));
}

fn one(rule: &Rule) -> String {
    let Rule { id, what, why, breaks, keeps, source, .. } = rule;
    let wrapped = |text: &str| textwrap::fill(text, WIDTH);
    let why = wrapped(&format!("Why: {why}"));
    let mut text = format!("{id}\n\n{}\n\n{why}\n", wrapped(what));
    for (heading, lines) in [("Breaks it", breaks), ("Keeps it", keeps)] {
        let _ = write!(text, "\n{heading}:\n");
        for line in lines.lines() {
            let _ = writeln!(text, "    {line}");
        }
    }
    let _ = writeln!(text, "\n{}", wrapped(&format!("Source: {source}")));
    text
}

fn unknown(id: &str) -> Failure {
    let names = || {
        REGISTER
            .iter()
            .map(|r| r.id)
            .chain(of_stages().map(|(id, _)| id))
            .map(RuleId::as_str)
    };
    // A word of it is remembered more often than the whole of it.
    let alike: Vec<&str> =
        names().filter(|name| name.split('-').any(|word| word == id)).collect();
    let near = if alike.is_empty() {
        nearest(id, names())
    } else {
        format!("there are {}", alike.join(", "))
    };
    Failure::Usage(format!("no rule is called `{id}`; {near}"))
}
