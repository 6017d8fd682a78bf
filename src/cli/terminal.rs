//! Words for the person, on standard error; results for the next program, on standard
//! output.

use super::Failure;
use crate::diagnostic::{self, Finding, Sources, Style};
use std::io::{ErrorKind, Write};

/// Says one thing to the person. There is nobody to tell when it cannot be said.
pub(super) fn say(text: &str) {
    // In one go: a line is not torn by what another program says.
    let line = format!("{text}\n");
    let _ = anstream::stderr().write_all(line.as_bytes());
}

/// Shows findings over their texts, and how many there are.
pub(super) fn show(findings: &[Finding], sources: &Sources) {
    if findings.is_empty() {
        return;
    }
    let text = diagnostic::text(findings, sources, Style::Coloured);
    let _ = write!(anstream::stderr(), "{text}");
    say(&diagnostic::summary(findings));
}

/// Writes a result to standard output. A reader that went away is no mistake.
pub(super) fn put(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Machine(format!("cannot write to standard output: {e}")))
        }
        _ => Ok(()),
    }
}
