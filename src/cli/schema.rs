//! `schema`: the JSON Schema of the job language, for editors.

use super::workshop::WorkshopArgs;
use super::{Result, check_allowed, templates, terminal};
use crate::schema;
use clap::Args;
use std::path::Path;

#[derive(Args, Debug)]
#[command(after_help = "\
An editor for TOML then shows the keys of a job, and marks mistakes as you type:
  strapwright schema belt > belt.schema.json
and as the first line of the job:
  #:schema ./belt.schema.json")]
pub(super) struct Schema {
    /// A template, by its name or the path of its file: the schema of its jobs alone, which
    /// knows its tables [default: the schema of all jobs and templates]
    template: Option<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
}

pub(super) fn run(args: &Schema) -> Result {
    let schema = match &args.template {
        None => schema::schema(),
        Some(name) => {
            let loader = args.workshop.open_in(Path::new(""))?.loader;
            let chain = templates::read(name, &loader)?;
            check_allowed(&chain.findings)?;
            let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
            schema::schema_of(&texts)
        }
    };
    terminal::write_text(format!("{schema:#}\n"))
}
