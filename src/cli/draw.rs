//! `draw`: the full-scale template as a PDF.

use super::prepare::{girths, prepare};
use super::{Failure, JobArgs, Outcome, files, terminal};
use crate::diagnostic::forbids_print;
use crate::export;
use crate::paginate::{Heading, Paper, Request, paginate};
use crate::verify::{Against, verify};
use clap::Args;
use std::path::PathBuf;

#[derive(Args, Debug)]
pub(super) struct Draw {
    #[command(flatten)]
    job: JobArgs,
    /// Where to write; `-` is standard output [default: the job's name with .pdf, here]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// a4, a3, letter, legal, tabloid, roll, or width x height, such as 320x450mm
    #[arg(long, value_name = "NAME", default_value = "a4")]
    paper: String,
    /// Replace the file if it is there already
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    let paper = Paper::parse(&args.paper).map_err(Failure::Usage)?;
    let prepared = prepare(&args.job)?;
    let path = args
        .output
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("{}.pdf", prepared.stem)));
    let to_stdout = path.as_os_str() == "-";
    terminal::show(&prepared.findings, &prepared.sources);
    let Some((job, fit, layout)) =
        prepared.laid.filter(|_| !forbids_print(&prepared.findings))
    else {
        terminal::say("nothing was drawn");
        return Ok(Outcome::Forbidden);
    };
    if !to_stdout {
        files::must_be_free(&path, args.force)?;
    }
    let heading = Heading::of(&job, fit.as_ref(), &layout);
    let set = match paginate(&Request::new(&layout, &heading, &paper)) {
        Ok(set) => set,
        Err(error) => {
            let place = job.strap.width.place.clone();
            terminal::show(&[error.finding().at(place)], &prepared.sources);
            terminal::say("nothing was drawn");
            return Ok(Outcome::Forbidden);
        }
    };
    let bytes =
        export::pdf::pdf(&set).map_err(|e| Failure::Machine(format!("no PDF: {e}")))?;
    let against = Against { layout: Some(&layout), sheets: &[] };
    let read_back = verify(&bytes, &against).map_err(|why| {
        Failure::Machine(format!("the drawn file cannot be read: {why}"))
    })?;
    if !read_back.findings.is_empty() {
        terminal::show(&read_back.findings, &prepared.sources);
        return Err(Failure::Machine(
            "the drawn file does not show what the job asks for, so nothing was written; \
             this is a mistake of the program: please report it with the job"
                .to_owned(),
        ));
    }
    if to_stdout {
        terminal::put(&bytes)?;
    } else {
        files::write(&path, &bytes, args.force)?;
    }
    if let Some(fit) = &fit {
        for line in girths(&job, fit, &layout) {
            terminal::say(&line);
        }
    }
    let sheets = set.sheets.len();
    terminal::say(&format!(
        "{sheets} sheet{} on {}, print {}: {}",
        if sheets == 1 { "" } else { "s" },
        set.paper,
        set.fingerprint,
        if to_stdout { "standard output".to_owned() } else { path.display().to_string() },
    ));
    terminal::say(&format!("read back: {}", read_back.summary()));
    terminal::say(
        "Print at 100 % with no fitting to the page, and lay a ruler on the scale bars \
         before you cut. Knife and punch: cut away from your body on a firm mat, and wear \
         eye protection at the punch.",
    );
    Ok(Outcome::Done)
}
