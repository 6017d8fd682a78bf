//! Decodes a table, or says which encoding it seems to have.

use crate::batch::rule;
use crate::diagnostic::{Finding, Sources, Span};

/// The largest table in bytes, for more than a hundred thousand orders.
const MAX_BYTES: usize = 1 << 25;
/// How many bytes are shown before and after one that is not UTF-8.
const CONTEXT: usize = 200;

fn wrong(what: &str, found: String, remedy: &str) -> Finding {
    Finding::error(rule::ORDERS_TEXT, what)
        .expected(found, "a table in UTF-8 text")
        .remedy(remedy)
}

/// Refuses a file that is too large to be a table of orders.
///
/// # Errors
/// A finding, when it has more than 32 MiB.
pub(super) fn check_size(bytes: &[u8]) -> Result<(), Box<Finding>> {
    if bytes.len() <= MAX_BYTES {
        return Ok(());
    }
    let found = format!("more than {} MiB", MAX_BYTES >> 20);
    let remedy = "give the file that lists the orders";
    Err(Box::new(wrong("the table of orders is too large", found, remedy)))
}

/// The text of a table called `name`, without a byte order mark.
///
/// # Errors
/// A finding, when the bytes are not UTF-8 text.
pub(super) fn decode(
    name: &str,
    bytes: Vec<u8>,
    sources: &mut Sources,
) -> Result<String, Box<Finding>> {
    let save = "save the table again as CSV in UTF-8 (in a spreadsheet: `CSV UTF-8`, or \
                the character set UTF-8)";
    if is_utf_16(&bytes) {
        return Err(Box::new(wrong(
            "the table is UTF-16 text",
            "UTF-16".to_owned(),
            save,
        )));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let (before, rest) = error.as_bytes().split_at(at);
            let line = before.split(|b| *b == b'\n').count();
            let byte = rest[0];
            let before = before.rsplit(|b| *b == b'\n').next().unwrap_or_default();
            let rest = rest.split(|b| *b == b'\n').next().unwrap_or_default();
            // Latin-1 is the first 256 characters of Unicode.
            let latin = |bytes: &[u8]| bytes.iter().copied().map(char::from).collect();
            let before: String = latin(&before[before.len().saturating_sub(CONTEXT)..]);
            let rest: String = latin(&rest[..rest.len().min(CONTEXT)]);
            let range = before.len()..before.len() + char::from(byte).len_utf8();
            let source = sources.add_part(name, "read as Latin-1", before + &rest, line);
            let found = format!(
                "byte {byte:#04x} in line {line}; in Latin-1 and Windows-1252 that is `{}`",
                char::from(byte)
            );
            let what = "the table is not UTF-8 text; it looks like Latin-1";
            Err(Box::new(wrong(what, found, save).at(Some(Span { source, range }))))
        }
    }
}

/// UTF-16 begins with a byte order mark, or every other byte of plain letters is zero.
fn is_utf_16(bytes: &[u8]) -> bool {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return true;
    }
    let head = &bytes[..bytes.len().min(1_024)];
    let zeros = |first: usize| head.iter().skip(first).step_by(2).filter(|b| **b == 0);
    let half = head.len() / 2;
    half > 0 && (zeros(0).count() * 2 > half || zeros(1).count() * 2 > half)
}
