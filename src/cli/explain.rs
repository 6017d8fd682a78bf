//! `explain`: what a rule does, why it matters, and where its figures come from.

use super::complete::rules;
use super::guide::to_plain_text;
use super::terminal::{self, WIDTH, write_wrapped};
use super::{Failure, Result};
use crate::check::REGISTER;
use crate::diagnostic::RuleId;
use crate::diagnostic::nearest;
use crate::{batch, cutting, job, layout, paginate, printer, profile, verify};
use clap::Args;
use clap_complete::engine::ArgValueCandidates;

#[derive(Args, Debug)]
pub(super) struct Explain {
    /// The rule as it stands in brackets in a finding [default: list all rules]
    #[arg(add = ArgValueCandidates::new(rules))]
    rule: Option<String>,
}

/// The rules of the other stages, each with a line about it.
fn stage_rules() -> impl Iterator<Item = (RuleId, &'static str)> {
    let stages = [
        job::RULES,
        layout::RULES,
        cutting::RULES,
        paginate::RULES,
        printer::RULES,
        profile::RULES,
        verify::RULES,
        batch::RULES,
    ];
    stages.into_iter().flatten().copied()
}

pub(super) fn run(args: &Explain) -> Result {
    let text = match &args.rule {
        None => list_rules(),
        Some(id) => match REGISTER.iter().find(|r| r.id.as_str() == id) {
            Some(rule) => to_plain_text(rule.text, WIDTH),
            None => match stage_rules().find(|(name, _)| name.as_str() == id) {
                Some((name, what)) => format!("{name}: {what}.\n"),
                None => return Err(unknown_rule(id)),
            },
        },
    };
    terminal::write_text(text)
}

fn list_rules() -> String {
    let mut text = String::new();
    let line = |text: &mut String, id: RuleId, what: &str| {
        write_wrapped(text, &format!("{:<20} ", id.as_str()), what, WIDTH);
    };
    for rule in REGISTER {
        line(&mut text, rule.id, &rule.what());
    }
    text.push('\n');
    stage_rules().for_each(|(id, what)| line(&mut text, id, what));
    text
}

/// Every rule that is explained.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    let of_design = REGISTER.iter().map(|rule| rule.id);
    of_design.chain(stage_rules().map(|(id, _)| id)).map(RuleId::as_str)
}

fn unknown_rule(id: &str) -> Failure {
    // People often remember only one word of the name.
    let alike: Vec<&str> =
        names().filter(|name| name.split('-').any(|word| word == id)).collect();
    let near = if alike.is_empty() {
        nearest(id, names())
    } else {
        format!("there are {}", alike.join(", "))
    };
    Failure::Usage(format!("no rule is called `{id}`; {near}"))
}
