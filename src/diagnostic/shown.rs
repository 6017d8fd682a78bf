//! Text of a job, a table, a PDF or the system as it may be shown: no character of it steers a
//! terminal, hides, or turns the words round it.

use std::borrow::Cow;
use std::fmt::Write as _;
use std::ops::Range;
use std::path::Path;
use unicode_general_category::{GeneralCategory, get_general_category};

/// `text` with every control, format, private or unassigned character and every line or
/// paragraph separator written as `\u{9b}`. The joiners U+200C and U+200D stay between letters,
/// which Persian and Indic scripts need.
///
/// The categories are those of the Unicode Standard, 4.5, table 4-4.
pub fn shown(text: &str) -> Cow<'_, str> {
    escaped(text, |_| false, write_out)
}

/// The same, but for the ends of lines.
pub fn shown_lines(text: &str) -> Cow<'_, str> {
    escaped(text, |c| c == '\n', write_out)
}

/// JSON without such characters: `\u009b` in its strings.
pub fn shown_json(json: &str) -> Cow<'_, str> {
    let escape = |out: &mut String, c: char| {
        for unit in c.encode_utf16(&mut [0; 2]) {
            let _ = write!(out, "\\u{unit:04x}");
        }
    };
    escaped(json, |c| c == '\n', escape)
}

/// The name of a file; bytes that are no text as `\xff`.
pub fn shown_path(path: &Path) -> String {
    let mut name = String::new();
    for chunk in path.as_os_str().as_encoded_bytes().utf8_chunks() {
        name.push_str(&shown(chunk.valid()));
        for byte in chunk.invalid() {
            let _ = write!(name, "\\x{byte:02x}");
        }
    }
    name
}

/// The source of a finding, and where its span lies then. Lines and tabs stay.
pub(super) fn shown_source(
    text: &str,
    span: Range<usize>,
) -> (Cow<'_, str>, Range<usize>) {
    let show = |text| {
        let is_kept = |c| matches!(c, '\n' | '\t');
        escaped(text, is_kept, write_out)
    };
    match show(text) {
        Cow::Borrowed(_) => (text.into(), span),
        Cow::Owned(whole) => {
            let at = |end: usize| {
                let (before, after) = text.split_at_checked(end).unwrap_or((text, ""));
                // An end of line that the span splits is not shown either.
                let is_split = before.ends_with('\r') && after.starts_with('\n');
                show(&before[..before.len() - usize::from(is_split)]).len()
            };
            (whole.into(), at(span.start)..at(span.end))
        }
    }
}

fn escaped(
    text: &str,
    is_kept: impl Fn(char) -> bool,
    escape: impl Fn(&mut String, char),
) -> Cow<'_, str> {
    let is_fine = |c: char| matches!(c, ' '..='~') || is_kept(c);
    if text.chars().all(is_fine) {
        return text.into();
    }
    let mut out = String::with_capacity(text.len() + 16);
    let mut before = None;
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        let is_letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
        let joins = matches!(c, '\u{200c}' | '\u{200d}')
            && is_letter(before)
            && is_letter(letters.peek().copied());
        // Of Windows and old tools: not shown.
        let ends_line = c == '\r' && letters.peek() == Some(&'\n') && is_kept('\n');
        match c {
            _ if is_fine(c) || joins => out.push(c),
            _ if ends_line => {}
            _ if is_harmful(c) => escape(&mut out, c),
            _ => out.push(c),
        }
        before = Some(c);
    }
    out.into()
}

fn write_out(out: &mut String, c: char) {
    // Writing to a string cannot fail.
    let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
}

fn is_harmful(c: char) -> bool {
    matches!(
        get_general_category(c),
        GeneralCategory::Control
            | GeneralCategory::Format
            | GeneralCategory::PrivateUse
            | GeneralCategory::Surrogate
            | GeneralCategory::Unassigned
            | GeneralCategory::LineSeparator
            | GeneralCategory::ParagraphSeparator
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_or_hides_is_written_out() {
        for (text, words) in [
            ("Łukasz's belt — 38 mm", "Łukasz's belt — 38 mm"),
            ("a\u{1b}[31mb\u{9b}2J\u{7f}", "a\\u{1b}[31mb\\u{9b}2J\\u{7f}"),
            (
                "left\u{202e}thgir\u{2066}\u{e0041}",
                "left\\u{202e}thgir\\u{2066}\\u{e0041}",
            ),
            (
                "a\r\nb\tc\u{2028}\u{e000}\u{378}",
                "a\\u{d}\\u{a}b\\u{9}c\\u{2028}\\u{e000}\\u{378}",
            ),
            ("می\u{200c}خواهم \u{200d}", "می\u{200c}خواهم \\u{200d}"),
        ] {
            assert_eq!(shown(text), words);
            assert_eq!(shown(&shown(text)), words, "once is enough");
        }
        assert_eq!(shown_lines("a\r\nb\rc\n"), "a\nb\\u{d}c\n");
        assert_eq!(shown_json("\"\u{9b}\u{e0041}\"\n"), "\"\\u009b\\udb40\\udc41\"\n");
        let text = "a = \"\u{9b}x\" # y";
        let (shown, span) = shown_source(text, 4..8);
        assert_eq!(&shown[span], "\"\\u{9b}x");
        let (shown, span) = shown_source("\"\r\n", 2..2);
        assert_eq!((&*shown, span), ("\"\n", 1..1));
    }

    #[cfg(unix)]
    #[test]
    fn names_that_are_no_text_are_told_apart() {
        use std::os::unix::ffi::OsStrExt;
        let path = std::ffi::OsStr::from_bytes(b"a\xff\x1b.pdf");
        assert_eq!(shown_path(Path::new(path)), "a\\xff\\u{1b}.pdf");
    }
}
