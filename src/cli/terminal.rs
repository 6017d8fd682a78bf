//! The terminal: messages for people on standard error, results on standard output.

use super::{Failure, Result};
use crate::diagnostic::{self, Finding, Sources, Style};
use clap::ValueEnum;
use std::fmt::Write as _;
use std::io::{ErrorKind, Write};
use textwrap::{Options, WordSplitter, fill};

/// The widest line that reads well, in characters.
pub(super) const WIDTH: usize = 90;

/// How a command writes its result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum OutputFormat {
    Text,
    Json,
}

/// Writes a line to standard error. An error is ignored: there is nowhere to report it.
pub(super) fn message(text: &str) {
    // One write, so that the output of another program cannot split the line.
    let line = format!("{text}\n");
    let _ = anstream::stderr().write_all(line.as_bytes());
}

/// Writes findings over their texts to standard error, then how many there are.
pub(super) fn show_findings(findings: &[Finding], sources: &Sources) {
    if findings.is_empty() {
        return;
    }
    let text = diagnostic::text(findings, sources, Style::Coloured);
    let _ = write!(anstream::stderr(), "{text}");
    message(&diagnostic::summary(findings));
}

/// Writes a result to standard output.
///
/// # Errors
/// When it cannot be written. It is no error if the reader has closed the pipe.
pub(super) fn write_result(bytes: impl AsRef<[u8]>) -> Result {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes.as_ref()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::System(format!("cannot write to standard output: {e}")))
        }
        _ => Ok(()),
    }
}

/// Whether standard output takes colours.
pub(super) fn stdout_style() -> Style {
    match anstream::AutoStream::choice(&std::io::stdout()) {
        anstream::ColorChoice::Never => Style::Plain,
        _ => Style::Coloured,
    }
}

/// Adds a paragraph to `out`, wrapped to `width` characters. It begins with `first`; the
/// other lines are indented as far.
pub(super) fn write_wrapped(out: &mut String, first: &str, text: &str, width: usize) {
    let rest = " ".repeat(first.chars().count());
    let options = Options::new(width).word_splitter(WordSplitter::NoHyphenation);
    let options = options.initial_indent(first).subsequent_indent(&rest);
    let _ = writeln!(out, "{}", fill(text, options));
}
