//! The dialogue of `new`: one question a time, in the lines of an ordinary terminal.

use super::super::terminal::{self, message};
use super::question::Question;
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::input::parse_length;
use std::io::BufRead;

/// What was answered: dotted keys with their values in TOML. An empty text in place of the name
/// of a thing says that it is measured now.
pub(super) type Answers = Vec<(String, String)>;

/// The lines that somebody types. What is said goes to standard error.
pub(super) struct Terminal<'t>(pub(super) &'t mut dyn BufRead);

/// A line that was typed.
enum Line {
    Text(String),
    More,
    Back,
    Stop,
}

impl Terminal<'_> {
    fn read(&mut self, prompt: &str) -> Line {
        terminal::prompt(&format!("{prompt} "));
        let mut line = String::new();
        match self.0.read_line(&mut line) {
            Ok(0) | Err(_) => Line::Stop,
            Ok(_) => match line.trim() {
                "?" => Line::More,
                "<" => Line::Back,
                "." => Line::Stop,
                text => Line::Text(text.to_owned()),
            },
        }
    }

    /// Asks a question of yes or no; Enter says `default`.
    fn is_yes(&mut self, prompt: &str, default: bool) -> bool {
        let shown = if default { "[yes]" } else { "[no]" };
        match self.read(&format!("{prompt} {shown}")) {
            Line::Text(text) if text.is_empty() => default,
            Line::Text(text) => text.to_lowercase().starts_with('y'),
            Line::More | Line::Back | Line::Stop => false,
        }
    }

    /// Asks all that has no answer yet; whether it has one in the end. `check` gives what is
    /// wrong with the answers so far; the last one is the one to blame.
    pub(super) fn ask_all(
        &mut self,
        questions: &[Question],
        answers: &mut Answers,
        check: &dyn Fn(&Answers) -> Vec<Finding>,
    ) -> bool {
        let given = answers.len();
        let mut known = check(answers);
        // What each key was answered last, also if that was taken back.
        let mut said = Answers::new();
        while let Some(question) = questions.iter().find(|q| !q.is_answered(answers)) {
            let open = questions.iter().filter(|q| !q.is_answered(answers)).count();
            let number = answers.len() - given + 1;
            show(question, number, number + open - 1);
            let before = said.iter().rev().find(|(key, _)| *key == question.key);
            let default =
                before.map(|(_, word)| word.clone()).or(question.default.clone());
            let value = match self.read(&prompt(question, default.as_deref())) {
                Line::Text(text) if text.is_empty() => {
                    if default.is_none() {
                        message(&format!("    error: {}", needed(question)));
                    }
                    default
                }
                Line::Text(text) => self.value(question, &text),
                Line::More => {
                    let is_measured = !question.how.is_empty();
                    let how = if is_measured { &question.how } else { &question.what };
                    message(&format!("    {how}."));
                    None
                }
                Line::Back => {
                    if answers.len() > given {
                        answers.pop();
                        known = check(answers);
                    }
                    None
                }
                Line::Stop => return false,
            };
            let Some(value) = value else { continue };
            answers.push((question.key.clone(), question.to_toml(&value)));
            let found = check(answers);
            let is_new = |f: &&Finding| {
                !known.iter().any(|o| o.rule == f.rule && o.message == f.message)
            };
            if self.is_kept(&found.iter().filter(is_new).collect::<Vec<_>>()) {
                said.push((question.key.clone(), value));
                known = found;
            } else {
                answers.pop();
            }
        }
        true
    }

    /// The value that a word stands for; `None` where it is to be asked again.
    fn value(&mut self, question: &Question, word: &str) -> Option<String> {
        if !question.choices.is_empty() {
            let number = word.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
            let by_name = question.choices.iter().find(|(name, _)| name == word);
            let chosen = by_name.or_else(|| question.choices.get(number?));
            if chosen.is_none() {
                message(&format!("    error: {}", needed(question)));
            }
            return chosen.map(|(name, _)| name.clone());
        }
        if !question.is_length
            || parse_length(&question.key, word).is_ok()
            || word.contains(" + ")
        {
            return Some(word.to_owned());
        }
        let is_usual = |unit: &&&str| {
            let length = Length::parse(&format!("{word} {unit}")).ok();
            length.zip(question.range).is_some_and(|(l, range)| range.has(l))
        };
        let units: Vec<&&str> = ["mm", "cm", "in"].iter().filter(is_usual).collect();
        if let [unit] = units.as_slice() {
            let meant = format!("{word} {unit}");
            let asked = format!("    No unit. Only {meant} is usual. Is it that?");
            return self.is_yes(&asked, true).then_some(meant);
        }
        let why = parse_length(&question.key, word).err().map(|e| e.to_string());
        message(&format!("    error: {}", why.unwrap_or_default()));
        None
    }

    /// Shows what an answer brought. An error is never kept, a warning if the user wants.
    fn is_kept(&mut self, found: &[&Finding]) -> bool {
        for finding in found {
            let Finding { message: what, found, required, remedy, .. } = finding;
            let weight =
                if finding.severity == Severity::Error { "error" } else { "warning" };
            message(&format!("    {weight}: {what}: {found}; required: {required}"));
            message(&format!("    {remedy}"));
        }
        match found.iter().map(|f| f.severity).max() {
            Some(Severity::Error) => {
                message("    Answer again, or < to go back and change what was before.");
                false
            }
            Some(Severity::Warning) => self.is_yes("    Keep it?", false),
            Some(Severity::Note) | None => true,
        }
    }
}

/// Shows a question, with its choices.
fn show(question: &Question, number: usize, of: usize) {
    let usual = &question.usual;
    let usual = if usual.is_empty() { "" } else { &format!("  ({usual})") };
    message(&format!("{number}/{of} {}{usual}", question.what));
    let width = question.choices.iter().map(|(name, _)| name.chars().count()).max();
    let width = width.unwrap_or_default();
    for (n, (name, words)) in (1..).zip(&question.choices) {
        message(&format!("    {n:>2} {name:<width$}  {words}"));
    }
}

/// What an answer must be.
fn needed(question: &Question) -> &'static str {
    if !question.choices.is_empty() {
        "type the number of one of these"
    } else if question.is_length {
        "type a length with its unit, or . to stop and measure it later"
    } else {
        "type a value, or . to stop and fill it in later"
    }
}

/// The key, and what Enter takes.
fn prompt(question: &Question, default: Option<&str>) -> String {
    let shown = match default {
        Some("") => " [none]",
        Some(word) => &format!(" [{word}]"),
        None => "",
    };
    format!("{}{shown}:", question.key)
}
