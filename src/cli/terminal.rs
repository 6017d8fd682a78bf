//! The terminal: messages for people on standard error, results on standard output.

use super::{Failure, Result};
use crate::diagnostic::{self, Finding, Sources, Style, shown, shown_json, shown_lines};
use clap::ValueEnum;
use std::fmt::Write as _;
use std::io::{ErrorKind, IsTerminal, Write};
use textwrap::{Options, WordSplitter, fill};

/// The widest line that reads well, in characters.
pub(super) const WIDTH: usize = 90;

/// How a command writes its result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum OutputFormat {
    Text,
    Json,
}

/// Writes a line, or several, to standard error. What steers a terminal is written out. An
/// error is ignored: there is nowhere to report it.
pub(super) fn message(text: &str) {
    // One write, so that the output of another program cannot split the line.
    let line = format!("{}\n", shown_lines(text));
    let _ = std::io::stderr().write_all(line.as_bytes());
}

/// Draws an address as a QR code on standard error, if that is a terminal: black on white by its
/// own colours, so that it scans on a dark and on a light one.
#[cfg(feature = "page")]
pub(super) fn qr_code(address: &str) {
    let Ok(code) = qrcode::QrCode::new(address) else { return };
    if !std::io::stderr().is_terminal() {
        return;
    }
    let drawn = code.render::<qrcode::render::unicode::Dense1x2>().build();
    // Not by `anstream`, which leaves out colours where they are not wanted: these are needed.
    let mut out = std::io::stderr();
    for line in drawn.lines() {
        let _ = writeln!(out, "\x1b[38;5;16;48;5;231m{line}\x1b[0m");
    }
}

/// Writes a question to standard error; the answer is typed behind it.
pub(super) fn prompt(question: &str) {
    let _ = std::io::stderr().write_all(shown(question).as_bytes());
}

/// Writes findings over their texts to standard error, then how many there are.
pub(super) fn show_findings(findings: &[Finding], sources: &Sources) {
    if findings.is_empty() {
        return;
    }
    show_coloured(findings, sources);
    message(&diagnostic::summary(findings));
}

/// Writes findings over their texts to standard error.
pub(super) fn show_coloured(findings: &[Finding], sources: &Sources) {
    // Its words are written out before they are coloured.
    let text = diagnostic::text(findings, sources, Style::Coloured);
    let _ = write!(anstream::stderr(), "{text}");
}

/// Writes findings over their texts to standard output.
///
/// # Errors
/// When they cannot be written.
pub(super) fn write_findings(findings: &[Finding], sources: &Sources) -> Result {
    let style = match anstream::AutoStream::choice(&std::io::stdout()) {
        anstream::ColorChoice::Never => Style::Plain,
        _ => Style::Coloured,
    };
    write_all(diagnostic::text(findings, sources, style).as_bytes())
}

/// Writes text to standard output; what steers a terminal is written out.
///
/// # Errors
/// When it cannot be written.
pub(super) fn write_text(text: impl AsRef<str>) -> Result {
    write_all(shown_lines(text.as_ref()).as_bytes())
}

/// Writes JSON to standard output; what steers a terminal is written as `\u009b`.
///
/// # Errors
/// When it cannot be written.
pub(super) fn write_json(json: &str) -> Result {
    write_all(shown_json(json).as_bytes())
}

/// Writes the bytes of a file to standard output, as they are if that is no terminal.
///
/// # Errors
/// When they cannot be written, or are no text and would go to a terminal.
pub(super) fn write_file(bytes: &[u8]) -> Result {
    if !std::io::stdout().is_terminal() {
        return write_all(bytes);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) if !text.starts_with("%PDF") => write_text(text),
        _ => Err(Failure::Usage(
            "a terminal cannot show this file: give -o FILE, or send the output to a file or a \
             pipe"
                .to_owned(),
        )),
    }
}

/// It is no error if the reader has closed the pipe.
fn write_all(bytes: &[u8]) -> Result {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::System(format!("cannot write to standard output: {e}")))
        }
        _ => Ok(()),
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
