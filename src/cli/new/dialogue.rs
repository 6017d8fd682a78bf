//! The dialogue of `new`: one question a time, in the lines of an ordinary terminal.

use super::super::terminal::{self, message};
use super::question::Question;
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::input::parse_length;
use std::io::BufRead;

/// What was answered, by the keys of the questions.
pub(super) type Answers = Vec<(String, String)>;

/// How a dialogue ended.
pub(super) enum End {
    /// All is answered.
    Done,
    /// The user stopped; what is not answered stays to be measured.
    Stopped,
}

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

    /// Asks for a free text; `None` where the user stops.
    pub(super) fn ask_text(&mut self, prompt: &str) -> Option<String> {
        match self.read(prompt) {
            Line::Text(text) => Some(text),
            Line::More | Line::Back => Some(String::new()),
            Line::Stop => None,
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

    /// Asks all questions. `check` gives what is wrong with the answers so far; the last one is
    /// the one to blame.
    pub(super) fn ask_all(
        &mut self,
        questions: &[Question],
        answers: &mut Answers,
        check: &dyn Fn(&Answers) -> Vec<Finding>,
    ) -> End {
        let mut at = 0;
        while let Some(question) = questions.get(at) {
            if is_answered(question, answers) {
                at += 1;
                continue;
            }
            let open = questions.iter().filter(|q| !is_answered(q, answers)).count();
            let number = answers.len() + 1;
            show(question, number, number + open - 1);
            let word = match self.read(&prompt(question)) {
                Line::Text(text) if text.is_empty() => match &question.default {
                    Some(default) => default.clone(),
                    None => continue,
                },
                Line::Text(text) => text,
                Line::More => {
                    let how = if question.how.is_empty() {
                        &question.what
                    } else {
                        &question.how
                    };
                    message(&format!("    {how}."));
                    continue;
                }
                Line::Back => {
                    answers.pop();
                    at = 0;
                    continue;
                }
                Line::Stop => return End::Stopped,
            };
            let Some(value) = self.value(question, &word) else { continue };
            let before = check(answers);
            answers.push((question.key.clone(), value));
            let is_new = |f: &Finding| {
                !before.iter().any(|o| o.rule == f.rule && o.message == f.message)
            };
            let found: Vec<Finding> = check(answers).into_iter().filter(is_new).collect();
            if !self.is_kept(&found) {
                answers.pop();
            }
        }
        End::Done
    }

    /// The value that a word stands for; `None` where it is to be asked again.
    fn value(&mut self, question: &Question, word: &str) -> Option<String> {
        if !question.things.is_empty() {
            let number: Option<usize> = word.parse().ok();
            let by_name = question.things.iter().position(|thing| thing.name == word);
            let chosen = number.and_then(|n| n.checked_sub(1)).or(by_name);
            if chosen == Some(question.things.len()) || word == "own" {
                return Some(String::new());
            }
            let thing = chosen.and_then(|n| question.things.get(n));
            if thing.is_none() {
                message("    error: type the number of one of these");
            }
            return Some(thing?.name.clone());
        }
        if !question.is_length
            || parse_length(&question.key, word).is_ok()
            || word.contains(" + ")
        {
            return Some(word.to_owned());
        }
        let is_usual = |unit: &&&str| {
            let length = Length::parse(&format!("{word} {unit}")).ok();
            length
                .zip(question.range)
                .is_some_and(|(l, range)| range.from <= l && l <= range.to)
        };
        let units: Vec<&&str> = ["mm", "cm", "in"].iter().filter(is_usual).collect();
        if let [unit] = units.as_slice() {
            let meant = format!("{word} {unit}");
            if self
                .is_yes(&format!("    No unit. Only {meant} is usual. Is it that?"), true)
            {
                return Some(meant);
            }
            return None;
        }
        let why = parse_length(&question.key, word).err().map(|e| e.to_string());
        message(&format!("    error: {}", why.unwrap_or_default()));
        None
    }

    /// Shows what an answer brought. An error is never kept, a warning if the user wants.
    fn is_kept(&mut self, found: &[Finding]) -> bool {
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

/// Shows a question, with the things that may be named.
fn show(question: &Question, number: usize, of: usize) {
    let in_brackets = |text: &str| match text {
        "" => String::new(),
        text => format!("  ({text})"),
    };
    let usual = in_brackets(&question.usual);
    message(&format!("{number}/{of} {}{usual}", question.what));
    for (n, thing) in question.things.iter().enumerate() {
        let note = in_brackets(&thing.note);
        message(&format!("    {} {}  {}{note}", n + 1, thing.name, thing.measures()));
    }
    if !question.things.is_empty() {
        message(&format!("    {} own  measure it now", question.things.len() + 1));
    }
}

/// Whether a question has its answer, or the name of a thing has answered it.
pub(super) fn is_answered(question: &Question, answers: &Answers) -> bool {
    answers.iter().any(|(key, value)| {
        let named = || {
            let name = key
                .strip_suffix(".hardware")
                .or(key.strip_suffix(".leather").map(|_| key.as_str()));
            !value.is_empty() && name == Some(question.object.as_str())
        };
        *key == question.key || question.things.is_empty() && named()
    })
}

fn prompt(question: &Question) -> String {
    match &question.default {
        Some(default) => format!("{} [{default}]:", question.key),
        None => format!("{}:", question.key),
    }
}
