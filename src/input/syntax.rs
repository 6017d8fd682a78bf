//! What keeps a text from being TOML, in the words of the person who wrote it.

use super::Format;
use crate::diagnostic::{Finding, Sources, Span};
use std::ops::Range;
use toml::de::Error;

/// Most syntax errors that are reported: further ones mostly follow from the first.
const MOST_ERRORS: usize = 20;

/// Finds the syntax errors, one a line: further ones follow from the first.
pub(super) fn find(
    format: &Format,
    sources: &Sources,
    source: usize,
    errors: &[Error],
    findings: &mut Vec<Finding>,
) {
    let text = sources.get(source).map_or("", |s| s.text.as_str());
    let mut last = None;
    for error in errors.iter().take(MOST_ERRORS) {
        let line = line_around(text, error.span().map_or(0, |range| range.start)).0;
        if last.replace(line) != Some(line) {
            findings.push(finding(format, sources, source, error));
        }
    }
}

/// The finding on a syntax error.
fn finding(format: &Format, sources: &Sources, source: usize, error: &Error) -> Finding {
    let text = sources.get(source).map_or("", |s| s.text.as_str());
    let range = error.span().unwrap_or(0..0);
    let (at, line) = line_around(text, range.start);
    let new = |message: &str| {
        let span = Span { source, range: range.clone() };
        Finding::error(format.rules.syntax, message).at(Some(span))
    };
    if error.message().starts_with("duplicate key") {
        return twice(new, sources, source, range.clone());
    }
    if let Some(quote) = curly_quote(line) {
        return new("a curly quote stands where TOML takes a straight one")
            .expected(format!("`{quote}`"), "straight quotes: \"34 in\"")
            .remedy(
                "write \" in place of each curly quote; an editor for plain text leaves \
                 it straight",
            );
    }
    if let Some(inches) = inch_mark(line, range.start.saturating_sub(at)) {
        return new("an inch mark ends the text in which it stands")
            .expected(format!("`{inches}\"`"), "a text in quotes, without a \" in it")
            .remedy(format!("write \"{inches} in\", or single quotes: '{inches}\"'"));
    }
    let found = error.message().replace('\n', ", ");
    new("this is not TOML")
        .expected(found, "key = \"value\", one a line")
        .remedy(format.syntax_remedy)
}

/// The line around a byte, and its first byte.
fn line_around(text: &str, byte: usize) -> (usize, &str) {
    let (before, after) = text.split_at_checked(byte).unwrap_or((text, ""));
    let start = before.rfind('\n').map_or(0, |i| i + 1);
    let end = before.len() + after.find('\n').unwrap_or(after.len());
    (start, &text[start..end])
}

/// The finding that a key, whose name has that range, is given a second time.
fn twice(
    new: impl Fn(&str) -> Finding,
    sources: &Sources,
    source: usize,
    range: Range<usize>,
) -> Finding {
    let text = sources.get(source).map_or("", |s| s.text.as_str());
    let line = |byte| Some(sources.line_column(&Span { source, range: byte..byte })?.0);
    let first = first_of(text, &range);
    let again = line(range.start);
    let found = match (first, again) {
        (Some((key, byte)), Some(again)) => {
            format!("`{key}` on line {} and line {again}", line(byte).unwrap_or_default())
        }
        _ => format!("a second `{}`", text.get(range).unwrap_or_default()),
    };
    new("a key is given twice")
        .expected(found, "each key and each table once")
        .remedy("leave one of the two out, or put the keys of both in one table")
}

/// The dotted name of the key or table whose last name has that range, and the byte where it
/// stands before; `None` for a key within a value.
fn first_of(text: &str, range: &Range<usize>) -> Option<(String, usize)> {
    let (start, _) = line_around(text, range.start);
    let given = text.get(start..range.end)?;
    let (mut all, mut table, mut at) = (Vec::new(), Vec::new(), 0);
    for line in text.get(..start)?.split_inclusive('\n') {
        if let Some(header) = line.trim_start().strip_prefix('[') {
            table = names(header.split(']').next()?);
            all.push((table.clone(), at));
        } else if let Some((key, _)) = line.split_once('=') {
            all.push(([table.clone(), names(key)].concat(), at));
        }
        at += line.len();
    }
    let path = match given.trim_start().strip_prefix('[') {
        Some(header) => names(header),
        None if given.contains('=') => return None,
        None => [table, names(given)].concat(),
    };
    let (_, at) = all.into_iter().find(|(other, _)| other.starts_with(&path))?;
    Some((path.join("."), at))
}

/// The names of a dotted key, without their quotes.
fn names(dotted: &str) -> Vec<String> {
    let names = dotted.trim_start_matches('[').split('.');
    names.map(|n| n.trim().trim_matches(['"', '\'']).to_owned()).collect()
}

/// A curly quote outside any text, or in one that no straight quote closes.
fn curly_quote(line: &str) -> Option<char> {
    let mut open = None;
    let mut within = None;
    for c in line.chars() {
        match (open, c) {
            (None, '#') => return None,
            (None, '"' | '\'') => open = Some(c),
            (Some(by), c) if c == by => (open, within) = (None, None),
            (None, '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '‛') => {
                return Some(c);
            }
            (Some('"'), '“' | '”' | '„' | '‟') | (Some('\''), '‘' | '’' | '‚' | '‛') =>
            {
                within = within.or(Some(c));
            }
            _ => {}
        }
    }
    within
}

/// The number before an inch mark that ends its text too early, `1 1/2` of `"1 1/2""`, or that
/// no quote comes before, `34` of `34"`. `at` is the byte of the line at which no TOML begins.
fn inch_mark(line: &str, at: usize) -> Option<&str> {
    let is_number = |text: &&str| {
        text.starts_with(|c: char| c.is_numeric()) && text.ends_with(char::is_numeric)
    };
    let (before, after) = line.split_at_checked(at)?;
    let number = if after.starts_with('"') {
        before.strip_suffix('"')?.rsplit('"').next()?
    } else {
        after.split_once('"')?.0
    };
    Some(number).filter(is_number)
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::{Finding, Sources};
    use crate::input::{Format, Rules, parse};

    const ID: crate::diagnostic::RuleId = crate::diagnostic::RuleId::new("id");
    const FORMAT: Format = Format {
        name: "test",
        rules: Rules {
            syntax: ID,
            size: ID,
            unknown_key: ID,
            missing_key: ID,
            bad_value: ID,
            bad_length: ID,
        },
        known_key: None,
        syntax_remedy: "write TOML",
        size_remedy: "",
        add_to: "",
    };

    /// The one finding on a text.
    fn one(text: &str) -> Finding {
        let (mut sources, mut findings) = (Sources::default(), Vec::new());
        let source = sources.add("test", text);
        parse(&FORMAT, &sources, source, &mut findings);
        assert_eq!(findings.len(), 1, "{text}: {findings:?}");
        findings.remove(0)
    }

    #[test]
    fn a_curly_quote_is_named() {
        for (text, found) in [
            ("a = “34 in”", "`“`"),
            ("a = \"34 in”", "`”`"),
            ("a = ‘34 in’", "`‘`"),
            ("a = '34 in’\n", "`’`"),
            ("“a” = 1", "`“`"),
            ("b = \"Ada’s\"\na = „34 in“", "`„`"),
        ] {
            let finding = one(text);
            assert!(finding.message.starts_with("a curly quote"), "{text}: {finding:?}");
            assert_eq!(finding.found, found, "{text}");
        }
        // These are letters of a text, and of a remark.
        for text in ["a = \"Ada’s “belt”\" b", "a = b # Ada’s"] {
            assert_eq!(one(text).message, "this is not TOML", "{text}");
        }
    }

    #[test]
    fn an_inch_mark_is_named() {
        for (text, inches) in [
            ("a = \"1 1/2\"\"", "1 1/2"),
            ("a = \"34½\"\"\nb = 1", "34½"),
            ("a = [\"32\"\", \"34\"\"]", "32"),
            ("a = 34\"", "34"),
        ] {
            let finding = one(text);
            assert!(finding.message.starts_with("an inch mark"), "{text}: {finding:?}");
            let remedy = format!("write \"{inches} in\", or single quotes: '{inches}\"'");
            assert_eq!(finding.remedy, remedy, "{text}");
        }
        for text in ["a = \"Belt\"\"", "a = \"1\" 2", "a = \"1", "a = Belt\""] {
            assert_eq!(one(text).message, "this is not TOML", "{text}");
        }
    }

    #[test]
    fn a_key_that_is_given_twice_is_told_with_both_lines() {
        for (text, found) in [
            ("a = 1\nb = 2\na = 3", "`a` on line 1 and line 3"),
            ("s.w = 1\n\ns.w = 2", "`s.w` on line 1 and line 3"),
            ("[s]\nw = 1\n[t]\nw = 1\nw = 2", "`t.w` on line 4 and line 5"),
            ("[s]\nw = 1\n[t]\n[ s ] # again\nv = 2", "`s` on line 1 and line 4"),
            ("s.w = 1\n[s]\nv = 2", "`s` on line 1 and line 2"),
            ("[s]\nw = 1\n[s]\nv = 2", "`s` on line 1 and line 3"),
            ("[\"s t\"]\n\"w\" = 1\n\"w\" = 2", "`s t.w` on line 2 and line 3"),
            ("a = { w = 1, w = 2 }", "a second `w`"),
        ] {
            let finding = one(text);
            assert_eq!(finding.message, "a key is given twice", "{text}: {finding:?}");
            assert_eq!(finding.found, found, "{text}");
        }
    }
}
