//! The `strapwright` program: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    strapwright::cli::run(std::env::args_os())
}
