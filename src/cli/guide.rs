//! `guide`: the topics of the guide.

use super::complete::topics;
use super::terminal::{self, WIDTH, write_wrapped};
use super::{Failure, Result};
use crate::diagnostic::nearest;
use crate::guide::{REGISTER, Topic, without_markup};
use clap::Args;
use clap_complete::engine::ArgValueCandidates;
use std::fmt::Write as _;
use std::io::IsTerminal as _;

#[derive(Args, Debug)]
#[command(after_help = "\
On a terminal the topic is wrapped to its width. Otherwise it is written as Markdown:
  strapwright guide printing > printing.md")]
pub(super) struct Guide {
    /// The topic, or the beginning of its name [default: list the topics]
    #[arg(add = ArgValueCandidates::new(topics))]
    topic: Option<String>,
}

pub(super) fn run(args: &Guide) -> Result {
    let width = textwrap::termwidth().min(WIDTH);
    let Some(name) = &args.topic else {
        let mut list = String::new();
        for topic in REGISTER {
            let first = format!("{:<14}", topic.name);
            write_wrapped(&mut list, &first, topic.summary(), width);
        }
        return terminal::write_text(list);
    };
    let topic = find(name)?;
    if std::io::stdout().is_terminal() {
        terminal::write_text(to_plain_text(topic.text, width))
    } else {
        terminal::write_text(topic.text)
    }
}

/// The topic called `name`, or the only one whose name begins with it.
fn find(name: &str) -> Result<&'static Topic> {
    if let Some(topic) = REGISTER.iter().find(|t| t.name == name) {
        return Ok(topic);
    }
    let mut alike =
        REGISTER.iter().filter(|t| !name.is_empty() && t.name.starts_with(name));
    if let (Some(topic), None) = (alike.next(), alike.next()) {
        return Ok(topic);
    }
    let near = nearest(name, REGISTER.iter().map(|t| t.name));
    Err(Failure::Usage(format!("no topic is called `{name}`; {near}")))
}

/// Markdown as plain text, wrapped to `width` characters. It knows what the guide and the rules use:
/// headings, paragraphs, lists, tables, links, bold words, pictures, and code that is
/// fenced or indented.
pub(super) fn to_plain_text(markdown: &str, width: usize) -> String {
    let mut out = String::new();
    let mut lines = markdown.lines().peekable();
    while let Some(first) = lines.next() {
        if first.starts_with("```") {
            for code in lines.by_ref().take_while(|l| !l.starts_with("```")) {
                let _ = writeln!(out, "{}", format!("    {code}").trim_end());
            }
        } else if first.starts_with("    ") || first.is_empty() {
            let _ = writeln!(out, "{first}");
        } else if first.starts_with('#') {
            heading(&mut out, first);
        } else if first.starts_with('|') {
            let mut rows = vec![cells(first)];
            while let Some(row) = lines.next_if(|l| l.starts_with('|')) {
                rows.push(cells(row));
            }
            rows.remove(1);
            table(&mut out, &rows, width);
        } else {
            let mut text = first.to_owned();
            while let Some(more) = lines.next_if(|l| continues(l)) {
                text = text + " " + more.trim();
            }
            let text = without_markup(&text);
            let first = marker(&text).unwrap_or_default();
            write_wrapped(&mut out, first, &text[first.len()..], width);
        }
    }
    out
}

/// Whether a line belongs to the paragraph or the list item above it.
fn continues(line: &str) -> bool {
    !(line.is_empty()
        || line.starts_with(['|', '#'])
        || line.starts_with("```")
        || marker(line).is_some())
}

/// The `- ` or `1. ` that an item of a list begins with.
fn marker(line: &str) -> Option<&str> {
    let number = line.find(|c: char| !c.is_ascii_digit()).unwrap_or(0);
    let end = if number > 0 { number + 2 } else { 2 };
    line.get(..end).filter(|m| *m == "- " || (number > 0 && m.ends_with(". ")))
}

/// A heading, underlined but for the smallest.
fn heading(out: &mut String, line: &str) {
    let title = line.trim_start_matches('#');
    let rule = match line.len() - title.len() {
        1 => "=",
        2 => "-",
        _ => "",
    };
    let title = without_markup(title.trim());
    let _ = writeln!(out, "{title}\n{}", rule.repeat(title.chars().count()));
}

fn cells(row: &str) -> Vec<String> {
    let row = row.trim().trim_matches('|');
    row.split('|').map(|cell| without_markup(cell.trim())).collect()
}

/// A table in columns. If the last column would be too narrow, each row is a paragraph.
fn table(out: &mut String, rows: &[Vec<String>], width: usize) {
    let columns = rows.first().map_or(0, Vec::len);
    let wide = |column: usize| {
        rows.iter().filter_map(|r| r.get(column)).map(|c| c.chars().count()).max()
    };
    let wide: Vec<usize> = (0..columns).filter_map(wide).map(|w| w + 2).collect();
    let before: usize = wide.iter().rev().skip(1).sum();
    for row in rows {
        if before * 2 > width {
            let Some((first, rest)) = row.split_first() else { continue };
            write_wrapped(out, "  ", &format!("{first}: {}", rest.join("; ")), width);
        } else {
            let Some((last, first)) = row.split_last() else { continue };
            let mut cells = String::new();
            for (cell, wide) in first.iter().zip(&wide) {
                let _ = write!(cells, "{cell:<wide$}");
            }
            write_wrapped(out, &cells, last, width);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_topic_is_shown_plainly_and_wrapped() {
        let markdown = "\
# Cutting [plans](cutting.md)

A **long** line with `[[strip]]` and a
`second` line, and [a link](other.md#part).

![A picture](picture.png)

- an item
  that goes on
- `cut-blank` is not broken at its hyphen

| key | meaning |
|---|---|
| `k` | a depth from 0 to 1, as measured |

    strapwright cut --stock a-list-with-a-long-name.csv

```toml
[strap]
width = \"38 mm\"
```
";
        let shown = "\
Cutting plans
=============

A long line with `[[strip]]` and
a `second` line, and a link.



- an item that goes on
- `cut-blank` is not broken at
  its hyphen

key  meaning
`k`  a depth from 0 to 1, as
     measured

    strapwright cut --stock a-list-with-a-long-name.csv

    [strap]
    width = \"38 mm\"
";
        assert_eq!(to_plain_text(markdown, 32), shown);
    }

    #[test]
    fn every_topic_fits_a_terminal_but_for_its_code() {
        for topic in REGISTER {
            let shown = to_plain_text(topic.text, 80);
            let long = |l: &&str| !l.starts_with("    ") && l.chars().count() > 80;
            assert_eq!(shown.lines().find(long), None, "{}", topic.name);
            assert!(!shown.contains("](") && !shown.contains("**"), "{}", topic.name);
        }
    }
}
