//! Words that a shell offers while a command is typed. Its script asks the program, which knows
//! the templates of the workshop, the rules and the sizes of the job.

use super::templates::summaries;
use super::workshop::{WorkshopArgs, folder_of};
use super::{Cli, Failure, Result, explain, files};
use crate::diagnostic::shown;
use crate::guide;
use crate::job::{JobText, Stock};
use crate::paginate::Paper;
use clap::{ArgMatches, CommandFactory as _, FromArgMatches as _};
use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter as _};
use clap_complete::env::Shells;
use clap_complete::{CompleteEnv, Shell};
use std::ffi::{OsStr, OsString};
use std::path::Path;

/// What a shell's script sets when it asks.
const ASKS: &str = "STRAPWRIGHT_COMPLETE";

/// Answers a shell that asks; whether one does.
///
/// # Errors
/// When it is a shell that is not known.
pub(super) fn answer(args: &[OsString]) -> clap::error::Result<bool> {
    let here = std::env::current_dir().ok();
    CompleteEnv::with_factory(Cli::command).var(ASKS).try_complete(args, here.as_deref())
}

/// What a shell needs in order to ask.
pub(super) fn script(shell: Shell) -> Result<Vec<u8>> {
    let (name, mut script) = ("strapwright", Vec::new());
    let (shells, unknown) = (Shells::builtins(), format!("no completions for {shell}"));
    let shell = shells.completer(&shell.to_string());
    let shell = shell.ok_or(Failure::Usage(unknown))?;
    let written = shell.write_registration(ASKS, name, name, name, &mut script);
    written.map_err(|e| Failure::System(format!("no completions: {e}")))?;
    Ok(script)
}

/// What is typed of the command before the shell asks.
fn typed() -> Option<ArgMatches> {
    let words = std::env::args_os().skip_while(|word| word != "--").skip(1);
    let program = Cli::command().ignore_errors(true);
    Some(program.try_get_matches_from(words).ok()?.remove_subcommand()?.1)
}

/// One word. A name that would steer a terminal is not offered.
fn offer(word: String, about: &str) -> Option<CompletionCandidate> {
    let about = Some(shown(about).into_owned().into()).filter(|_| !about.is_empty());
    (shown(&word) == word).then(|| CompletionCandidate::new(word).help(about))
}

/// The templates of the workshop, or the files where a path begins.
pub(super) fn templates(typed_so_far: &OsStr) -> Vec<CompletionCandidate> {
    let start = typed_so_far.to_string_lossy();
    if start.contains(['/', '\\', '.']) {
        return PathCompleter::any().complete(typed_so_far);
    }
    let args = typed().and_then(|all| WorkshopArgs::from_arg_matches(&all).ok());
    let Ok(workshop) = args.unwrap_or_default().read(Path::new("")) else {
        return Vec::new();
    };
    let all = summaries(&workshop.loader).into_iter();
    let begun = all.filter(|(name, _)| name.starts_with(&*start));
    begun.filter_map(|(name, about)| offer(name, &about)).collect()
}

pub(super) fn rules() -> Vec<CompletionCandidate> {
    explain::names().filter_map(|id| offer(id.to_owned(), "")).collect()
}

pub(super) fn topics() -> Vec<CompletionCandidate> {
    let all = guide::REGISTER.iter();
    all.filter_map(|topic| offer(topic.name.to_owned(), topic.summary())).collect()
}

pub(super) fn commands() -> Vec<CompletionCandidate> {
    let program = Cli::command();
    let names = program.get_subcommands().map(|command| command.get_name().to_owned());
    names.filter_map(|name| offer(name, "")).collect()
}

pub(super) fn papers() -> Vec<CompletionCandidate> {
    Paper::names().into_iter().filter_map(|name| offer(name, "")).collect()
}

/// The sizes of the job that is typed, as words without spaces: `34-1/2in`.
pub(super) fn sizes() -> Vec<CompletionCandidate> {
    let Some(stock) = stock() else { return Vec::new() };
    let word = |(index, label): (usize, &str)| {
        let spaces = label.matches(' ').count();
        let word = label.replacen(' ', "-", spaces.saturating_sub(1)).replace(' ', "");
        offer(word, label).filter(|word| {
            word.get_value().to_str().and_then(|word| stock.find(word)) == Some(index)
        })
    };
    stock.labels().enumerate().filter_map(word).collect()
}

/// The stock of the job that is typed, its last file where there may be several.
fn stock() -> Option<Stock> {
    let typed = typed()?;
    let file = |id: &str| typed.try_get_many::<OsString>(id).ok()??.next_back();
    let job = ["job", "jobs", "files"].into_iter().find_map(file);
    let job = job.filter(|path| *path != "-")?;
    let sets: Vec<String> =
        typed.get_many("sets").into_iter().flatten().cloned().collect();
    let args = WorkshopArgs::from_arg_matches(&typed).ok()?;
    let loader = args.read(folder_of(Some(job))).ok()?.loader;
    let text = files::read(job).ok()?;
    let job =
        JobText { name: &text.name, text: &text.text, sets: &sets, loader: &loader };
    job.read().job?.stock
}
