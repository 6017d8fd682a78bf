//! `new`: asks what must be measured, and writes a job and its print.

mod dialogue;
mod job_file;
mod question;

use super::draw::Draw;
use super::template_loader::is_path;
use super::terminal::{self, message};
use super::workshop::{Workshop, WorkshopArgs};
use super::{Failure, Result, complete, draft, draw, files, templates};
use crate::batch::FileNames;
use crate::check::is_of_values;
use crate::diagnostic::{Finding, Severity, counted, shown_path};
use crate::input::quoted;
use crate::job::{self, read_template};
use crate::template::About;
use clap::Args;
use clap_complete::engine::ArgValueCompleter;
use dialogue::{Answers, Terminal};
use job_file::JobFile;
use question::{Question, questions};
use std::io::IsTerminal;
use std::iter;
use std::path::{Component, Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
On a terminal it asks what must be measured, one question a time, says what is wrong with an
answer, and ends with the job file and its print. ? tells how to measure, < goes back, . stops
and keeps the answers, Ctrl-C keeps nothing. Elsewhere it writes the job file with every value
empty: fill them in, and `strapwright check` says which are still missing.")]
pub(super) struct New {
    /// The name of a template, or the path of its file [default: choose from a list]
    #[arg(add = ArgValueCompleter::new(complete::templates))]
    template: Option<String>,
    /// Where to write the job: a file, or a folder that exists [default: the wearer and the
    /// template, in this folder]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Answer beforehand, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
}

pub(super) fn run(args: &New) -> Result {
    let place = Place::new(args.output.as_deref())?;
    let workshop = args.workshop.open_in(place.folder())?;
    let is_asked = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
    let mut input = std::io::stdin().lock();
    let mut terminal = Terminal(&mut input);
    let template = match &args.template {
        Some(path) if is_path(path) => place.template(path)?,
        Some(template) => template.clone(),
        None if is_asked => choose(&mut terminal, &workshop)?,
        None => {
            let why = "give the name of a template: strapwright new belt. `strapwright \
                       templates` lists them";
            return Err(Failure::Usage(why.to_owned()));
        }
    };
    let about = read_about(&template, &workshop)?;
    let (mut answers, sources, findings) = job::set_values(&args.sets);
    terminal::show_findings(&findings, &sources);
    super::check_allowed(&findings)?;
    if answers.iter().any(|(key, _)| key == "template") {
        let why = "give the template by itself: strapwright new TEMPLATE";
        return Err(Failure::Usage(why.to_owned()));
    }
    let units = workshop.profile.wording().units;
    let asked = questions(&about, &workshop.profile.things, units);
    let file = JobFile { template, about };
    let is_done = is_asked && ask(&mut terminal, &file, &asked, &mut answers, &workshop);
    let is_left = |q: &&Question| q.is_of_strap() && !q.is_answered(&answers);
    let left: Vec<&Question> = asked.iter().filter(is_left).collect();
    let path = place.write(&file, &answers, &left)?;
    if is_done {
        return draw::run(&Draw::of_job(&path, &args.workshop));
    }
    if is_asked {
        message("What is empty is still to be measured; `strapwright check` lists it.");
    }
    Ok(())
}

/// Asks everything; whether all is answered.
fn ask(
    terminal: &mut Terminal<'_>,
    file: &JobFile,
    asked: &[Question],
    answers: &mut Answers,
    workshop: &Workshop,
) -> bool {
    let open = asked.iter().filter(|question| !question.is_answered(answers)).count();
    message(&format!("{}. {}.", file.summary(), counted(open, "question")));
    message(
        "A length has its unit: 34 in, 34 1/2\", 86,5 cm, 9 oz. Enter takes what [ ] has.",
    );
    message(
        "? tells more, < goes back, . stops and keeps the answers, Ctrl-C keeps nothing.",
    );
    // What follows from several values is told when all are there: until then, the template's
    // stand in for the others.
    let check = |answers: &Answers| -> Vec<Finding> {
        let is_complete =
            asked.iter().all(|q| !q.is_of_strap() || q.is_answered(answers));
        let text = file.text(answers, &[]);
        let prepared = crate::prepare_from("answers", &text, &[], &workshop.loader);
        let is_of_job = |f: &Finding| job::RULES.iter().any(|(id, _)| *id == f.rule);
        let is_told = |f: &Finding| {
            let is_due = is_complete || is_of_job(f) || is_of_values(f);
            is_due
                && f.severity > Severity::Note
                && f.rule.as_str() != "measure-not-given"
        };
        prepared.findings.into_iter().filter(is_told).collect()
    };
    terminal.ask_all(asked, answers, &check)
}

fn choose(terminal: &mut Terminal<'_>, workshop: &Workshop) -> Result<String> {
    let choices = templates::summaries(&workshop.loader);
    let question = Question {
        key: "template".to_owned(),
        what: "Which strap? Its number or name:".to_owned(),
        choices: choices.clone(),
        ..Question::default()
    };
    let mut answers = Answers::new();
    terminal.ask_all(&[question], &mut answers, &|_| Vec::new());
    let is_it = |name: &String| answers.iter().any(|(_, own)| *own == quoted(name));
    let chosen = choices.into_iter().map(|(name, _)| name).find(is_it);
    chosen.ok_or_else(|| Failure::Usage("no strap was chosen".to_owned()))
}

fn read_about(template: &str, workshop: &Workshop) -> Result<About> {
    templates::find(template, &workshop.loader)?;
    let chain = read_template(template, &workshop.loader);
    terminal::show_findings(&chain.findings, &chain.sources);
    super::check_allowed(&chain.findings)?;
    Ok(chain.about())
}

/// Where the job goes: the path of `-o`; a folder, or nothing for this one, if the job has yet
/// to get its name.
struct Place(PathBuf);

impl Place {
    /// Makes sure before anything is asked that the job can be written there.
    fn new(output: Option<&Path>) -> Result<Self> {
        let place = Self(files::resolve(output, String::new())?);
        let path = &place.0;
        if files::is_stdout(path) {
            let why = "a new job is a file: give -o FILE, or leave -o out";
            return Err(Failure::Usage(why.to_owned()));
        }
        if !place.is_file() {
            draft::check(&path.join("strap.toml"))?;
        } else if path.exists() {
            return Err(Failure::System(format!(
                "{} exists already, and was not changed; give -o FILE another name, or leave \
                 -o out",
                shown_path(path)
            )));
        } else {
            draft::check(path)?;
        }
        Ok(place)
    }

    fn is_file(&self) -> bool {
        !self.0.as_os_str().is_empty() && !self.0.is_dir()
    }

    /// The folder that paths in the job begin in.
    fn folder(&self) -> &Path {
        let parent = self.0.parent().filter(|_| self.is_file());
        parent.unwrap_or(&self.0)
    }

    /// The path of a template from the folder of the job.
    fn template(&self, path: &str) -> Result<String> {
        if self.folder().as_os_str().is_empty() || Path::new(path).is_absolute() {
            return Ok(path.to_owned());
        }
        let whole = |path: &Path| {
            path.canonicalize().map_err(|_| {
                Failure::System(format!("there is no file {}", shown_path(path)))
            })
        };
        let (to, from) = (whole(path.as_ref())?, whole(self.folder())?);
        let common = to.components().zip(from.components()).take_while(|(a, b)| a == b);
        let common = common.count();
        let up = from.components().skip(common).map(|_| Component::ParentDir);
        let path: PathBuf = up.chain(to.components().skip(common)).collect();
        match path.to_str() {
            Some(path) if is_path(path) => Ok(path.to_owned()),
            Some(path) => Ok(format!("./{path}")),
            None => Err(Failure::System(format!("{} is no UTF-8", shown_path(&path)))),
        }
    }

    /// Writes the job; a name that is taken gets a number.
    fn write(
        &self,
        file: &JobFile,
        answers: &Answers,
        left: &[&Question],
    ) -> Result<PathBuf> {
        let JobFile { template, .. } = file;
        let path = if self.is_file() {
            self.0.clone()
        } else {
            let stem = files::stem(template.as_ref(), "strap");
            let stem = if is_path(template) { stem } else { template.clone() };
            let wearer = answers.iter().find(|(key, _)| key == "wearer");
            let wearer = wearer.map_or("", |(_, name)| name);
            let mut names = FileNames::default();
            let name = names.assign(&format!("{wearer} {stem}"));
            let numbered = (2..).map(|n: u32| format!("{name}-{n}.toml"));
            let mut names = iter::once(format!("{name}.toml")).chain(numbered);
            let free = names.find(|name| !self.0.join(name).exists());
            self.0.join(free.unwrap_or_default())
        };
        draft::write(&path, file.text(answers, left).as_bytes(), false)?;
        message(&format!("Wrote {}.", shown_path(&path)));
        Ok(path)
    }
}
