//! `completions` and `man`: what shells and `man` show of the commands, from their definitions.

use super::{Cli, Failure, Result, complete, terminal};
use crate::diagnostic::nearest;
use clap::{Args, CommandFactory};
use clap_complete::Shell;
use clap_complete::engine::ArgValueCandidates;

#[derive(Args, Debug)]
#[command(after_help = "\
Write it where the shell looks for it, such as
  strapwright completions bash > ~/.local/share/bash-completion/completions/strapwright
  strapwright completions zsh > ~/.zfunc/_strapwright
  strapwright completions fish > ~/.config/fish/completions/strapwright.fish")]
pub(super) struct Completions {
    /// The shell
    shell: Shell,
}

#[derive(Args, Debug)]
#[command(after_help = "\
To read one: strapwright man draw | man -l -")]
pub(super) struct Man {
    /// The command [default: the program itself]
    #[arg(add = ArgValueCandidates::new(complete::commands))]
    command: Option<String>,
}

pub(super) fn completions(args: &Completions) -> Result {
    terminal::write_file(&complete::script(args.shell)?)
}

pub(super) fn man(args: &Man) -> Result {
    let mut program = Cli::command();
    // Names each command after the program: `strapwright-draw`.
    program.build();
    let page = match &args.command {
        None => program,
        Some(name) => program.find_subcommand(name).cloned().ok_or_else(|| {
            let near =
                nearest(name, program.get_subcommands().map(clap::Command::get_name));
            Failure::Usage(format!("no command is called `{name}`; {near}"))
        })?,
    };
    let mut text = Vec::new();
    let written = clap_mangen::Man::new(page).render(&mut text);
    written.map_err(|e| Failure::System(format!("no man page: {e}")))?;
    terminal::write_file(&text)
}
