//! `templates`: what there is.

use super::{Failure, Outcome, terminal};
use crate::job::nearest;
use crate::template;
use clap::Args;
use std::fmt::Write as _;

#[derive(Args, Debug)]
pub(super) struct Templates {
    /// One template: what it can be told, and its defaults
    name: Option<String>,
    /// Print the whole file, to start an own strap from
    #[arg(long, requires = "name")]
    toml: bool,
}

pub(super) fn run(args: &Templates) -> Result<Outcome, Failure> {
    let mut text = String::new();
    match &args.name {
        None => {
            for template in template::REGISTER {
                let about = template::about(*template);
                let _ = writeln!(text, "{:<16} {}", template.name, about.summary);
            }
        }
        Some(name) => {
            let template = template::find(name).ok_or_else(|| {
                let names = template::REGISTER.iter().map(|t| t.name);
                Failure::Usage(format!(
                    "no template is called `{name}`; {}",
                    nearest(name, names)
                ))
            })?;
            if args.toml {
                text.push_str(template.text);
            } else {
                let about = template::about(template);
                let _ = writeln!(text, "{}: {}\n", template.name, about.summary);
                for key in about.keys {
                    let default = key.default.as_deref().unwrap_or("(none)");
                    let _ = writeln!(text, "{} = {default}\n    {}", key.name, key.what);
                }
            }
        }
    }
    terminal::put(text.as_bytes())?;
    Ok(Outcome::Done)
}
