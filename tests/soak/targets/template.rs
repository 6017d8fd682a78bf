//! The text of a template, read as a job over a plain one: the two are one language.

use super::Target;
use super::job::{read, words};
use crate::common::random::Random;
use crate::mutate::text;
use std::sync::OnceLock;
use strapwright::template::REGISTER;

pub(crate) const TARGET: Target = Target { name: "template", weight: 10, input, run };

fn input(random: &mut Random) -> Vec<u8> {
    static ALL: OnceLock<Vec<String>> = OnceLock::new();
    let all = ALL.get_or_init(|| REGISTER.iter().map(|t| t.text.to_owned()).collect());
    text(random, all, words())
}

fn run(input: &[u8]) -> bool {
    let own = String::from_utf8_lossy(input);
    read(&format!("template = \"plain-strap\"\n{own}"), &[])
}
