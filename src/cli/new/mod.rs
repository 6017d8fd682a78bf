//! `new`: asks what must be measured, and writes a job and its print.

mod dialogue;
mod job_file;
mod question;

use super::draw::Draw;
use super::template_loader::is_path;
use super::terminal::{self, message};
use super::workshop::{Workshop, WorkshopArgs};
use super::{Failure, Result, draft, draw, files, laid_out, templates};
use crate::batch::FileNames;
use crate::check::is_of_values;
use crate::diagnostic::{Finding, Severity, forbids_print, shown_path};
use crate::job::{self, read_template};
use crate::template::{About, REGISTER, about_chain};
use crate::words::Wording;
use clap::{Args, Parser};
use dialogue::{Answers, End, Terminal};
use job_file::JobFile;
use question::{Question, questions};
use std::ffi::OsString;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
On a terminal it asks what must be measured, one question a time, says what is wrong with an
answer, and ends with the job file and its print. ? tells how to measure, < goes back, . stops
and keeps the answers, Ctrl-C keeps nothing. Elsewhere it writes the job file with every value
empty: fill them in, and `strapwright check` says which are still missing.")]
pub(super) struct New {
    /// The name of a template, or the path of its file [default: choose from a list]
    template: Option<String>,
    /// Where to write the job [default: the wearer and the template, in this folder]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Answer beforehand, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
}

pub(super) fn run(args: &New) -> Result {
    let workshop = args.workshop.open(None)?;
    let is_asked = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
    let mut input = std::io::stdin().lock();
    let mut terminal = Terminal(&mut input);
    let template = match &args.template {
        Some(template) => template.clone(),
        None if is_asked => choose(&mut terminal)?,
        None => {
            let why = "give the name of a template: strapwright new belt. `strapwright \
                       templates` lists them";
            return Err(Failure::Usage(why.to_owned()));
        }
    };
    let about = read_about(&template, &workshop)?;
    let own = |sets: &[String]| -> Answers {
        let pairs = sets.iter().filter_map(|set| set.split_once('='));
        pairs.map(|(key, value)| (key.trim().to_owned(), value.to_owned())).collect()
    };
    let mut given = own(&args.sets);
    if given.iter().any(|(key, _)| key == "template") {
        let why = "give the template by itself: strapwright new TEMPLATE";
        return Err(Failure::Usage(why.to_owned()));
    }
    let wearer =
        given.iter().position(|(key, _)| key == "wearer").map(|i| given.remove(i).1);
    let is_open = |q: &Question| !given.iter().any(|(key, _)| *key == q.key);
    let mut asked = questions(&about, &workshop.profile.things);
    asked.retain(is_open);
    let mut file = JobFile::new(&template, &about, given);
    file.wearer = wearer.unwrap_or_default();
    if !is_asked {
        file.leave_empty(asked.iter().filter(|q| q.things.is_empty()));
        return write(args, &file, &template).map(drop);
    }
    let stopped = ask(&mut terminal, &mut file, &asked, &workshop);
    if stopped {
        let is_left = |q: &&Question| q.things.is_empty() && !file.has(&q.key, &q.object);
        let left: Vec<Question> = asked.iter().filter(is_left).cloned().collect();
        file.leave_empty(left.iter());
        write(args, &file, &template)?;
        message("What is empty is still to be measured; `strapwright check` lists it.");
        return Ok(());
    }
    let path = write(args, &file, &template)?;
    draw_print(args, &path)
}

/// Asks everything; whether the user stopped.
fn ask(
    terminal: &mut Terminal<'_>,
    file: &mut JobFile<'_>,
    asked: &[Question],
    workshop: &Workshop,
) -> bool {
    message(&format!("{}. {} questions.", file.summary(), asked.len()));
    message(
        "A length has its unit: 34 in, 34 1/2\", 86,5 cm, 9 oz. Enter takes what [ ] has.",
    );
    message(
        "? tells more, < goes back, . stops and keeps the answers, Ctrl-C keeps nothing.",
    );
    let mut answers = Answers::new();
    let check = |answers: &Answers| {
        let is_done = |question| dialogue::is_answered(question, answers);
        findings(file, answers, workshop, asked.iter().all(is_done))
    };
    let end = terminal.ask_all(asked, &mut answers, &check);
    file.answer(answers);
    if matches!(end, End::Stopped) {
        return true;
    }
    let whom = "For whom? A name for the sheets and the file (Enter: none):";
    if file.wearer.is_empty() {
        let Some(wearer) = terminal.ask_text(whom) else { return true };
        file.wearer = wearer;
    }
    let prepared = crate::prepare_from("answers", &file.text(), &[], &workshop.loader);
    if let Some(laid) = &prepared.laid {
        for line in laid_out::served_lines(laid, workshop.units()) {
            message(&line);
        }
        let wording = Wording { units: workshop.units(), ..Wording::default() };
        if let Some(line) = crate::ticket::assumed(&laid.0, wording) {
            message(&line);
        }
    }
    forbids_print(&prepared.findings)
}

/// What is wrong with the answers so far. What follows from several values is told when all are
/// there: until then, the template's stand in for the others.
fn findings(
    file: &JobFile<'_>,
    answers: &Answers,
    workshop: &Workshop,
    is_complete: bool,
) -> Vec<Finding> {
    let mut with = file.clone();
    with.answer(answers.clone());
    let prepared = crate::prepare_from("answers", &with.text(), &[], &workshop.loader);
    let is_of_job = |f: &Finding| job::RULES.iter().any(|(id, _)| *id == f.rule);
    let is_told = |f: &Finding| {
        let is_due = is_complete || is_of_job(f) || is_of_values(f);
        is_due && f.severity > Severity::Note && f.rule.as_str() != "measure-not-given"
    };
    prepared.findings.into_iter().filter(is_told).collect()
}

fn choose(terminal: &mut Terminal<'_>) -> Result<String> {
    for (n, template) in (1..).zip(REGISTER) {
        let summary = crate::template::about(*template).summary;
        message(&format!("{n:>3} {:<16} {summary}", template.name));
    }
    loop {
        let Some(word) = terminal.ask_text("Which strap? Its number or name:") else {
            return Err(Failure::Usage("no strap was chosen".to_owned()));
        };
        let by_number =
            word.parse::<usize>().ok().and_then(|n| REGISTER.get(n.checked_sub(1)?));
        let found = by_number.or_else(|| REGISTER.iter().find(|t| t.name == word));
        match found {
            Some(template) => return Ok(template.name.to_owned()),
            None => message("    error: type the number of one of these"),
        }
    }
}

fn read_about(template: &str, workshop: &Workshop) -> Result<About> {
    templates::find(template, &workshop.loader)?;
    let chain = read_template(template, &workshop.loader);
    terminal::show_findings(&chain.findings, &chain.sources);
    super::check_allowed(&chain.findings)?;
    let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
    Ok(about_chain(&texts))
}

/// Writes the job; a name that is taken gets a number.
fn write(args: &New, file: &JobFile<'_>, template: &str) -> Result<PathBuf> {
    let stem = if is_path(template) {
        files::stem(template.as_ref(), "strap")
    } else {
        template.to_owned()
    };
    let mut names = FileNames::default();
    let name = names.assign(&format!("{} {stem}", file.wearer));
    let path = (1..).find_map(|n: u32| {
        let number = if n == 1 { String::new() } else { format!("-{n}") };
        let path = Path::new(&format!("{name}{number}.toml")).to_owned();
        (!path.exists()).then_some(path)
    });
    let path = args.output.clone().or(path).unwrap_or_default();
    draft::write(&path, file.text().as_bytes(), false)?;
    message(&format!("Wrote {}.", shown_path(&path)));
    Ok(path)
}

/// The options of `draw`, to draw what was asked for.
#[derive(Debug, Parser)]
struct DrawArgs {
    #[command(flatten)]
    draw: Draw,
}

fn draw_print(args: &New, path: &Path) -> Result {
    let words = [OsString::from("draw"), path.as_os_str().to_owned()];
    let words = words.into_iter().chain(args.workshop.words());
    let args = DrawArgs::try_parse_from(words)
        .map_err(|e| Failure::System(format!("the job cannot be drawn: {e}")))?;
    draw::run(&args.draw)
}
