//! The words of findings in the language of the request. What a finding says of this job, such as
//! lengths, counts and names, are gaps: the key of its words is the English text without them.

use super::fields;
use super::say::{language, say};
use crate::template::{REGISTER, about_chain};
use crate::words::{Wording, of_page};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::sync::LazyLock;

/// The units that may stand behind a number.
const UNITS: [&str; 8] = ["mm", "cm", "km", "in", "oz", "m", "%", "°"];

/// The tables of the built-in templates, which have words in every language. Other names are
/// those of a person, or words to be typed, and stay as they are.
static TABLES: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let keys = REGISTER.iter().flat_map(|template| about_chain(&[template.text]).keys);
    let tables = keys.filter_map(|key| Some(key.name.split_once('.')?.0.to_owned()));
    tables.collect()
});

/// A text of a finding in the language of the request; `None` where it has no words for it.
pub(super) fn translated(text: &str) -> Option<String> {
    let (english, values) = without_values(text);
    let wording = Wording { language: language(), ..Wording::default() };
    let shown = |value: &str| match value.trim_matches('`') {
        name if name.len() < value.len() && TABLES.contains(name) => {
            say(&fields::words(name))
        }
        // Its quotes tell that it is a name; whoever shows it leaves them out.
        name if name.len() < value.len() => value.to_owned(),
        number => wording.decimal(number),
    };
    let gaps = values.into_iter().enumerate();
    let gaps = gaps.map(|(n, value)| (format!("v{}", n + 1), shown(value)));
    of_page(language(), &english, &gaps.collect())
}

/// The text with a gap `{ $v1 }` for each value, and the values: names in quotes, numbers with
/// their units.
fn without_values(text: &str) -> (String, Vec<&str>) {
    let (mut english, mut values, mut rest) = (String::new(), Vec::new(), text);
    while let Some(first) = rest.chars().next() {
        let long = [quoted(rest), measured(rest)].into_iter().flatten().next();
        if let Some((value, after)) = long.and_then(|long| rest.split_at_checked(long)) {
            values.push(value);
            let _ = write!(english, "{{ $v{} }}", values.len());
            rest = after;
        } else {
            english.push(first);
            rest = &rest[first.len_utf8()..];
        }
    }
    (english, values)
}

/// How long a name in back quotes is with which a text begins.
fn quoted(text: &str) -> Option<usize> {
    Some(text.strip_prefix('`')?.find('`')? + 2)
}

/// How long a number is with which a text begins: `~1 3/8 in`, `35 mm (~1 3/8 in)`, `4`.
fn measured(text: &str) -> Option<usize> {
    let number = text.strip_prefix('~').unwrap_or(text);
    let number = number.strip_prefix('-').unwrap_or(number);
    let is_part = |c: char| c.is_ascii_digit() || ['.', ',', '/'].contains(&c);
    let long = |text: &str| text.find(|c| !is_part(c)).unwrap_or(text.len());
    if !number.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let mut rest = &number[long(number)..];
    if let Some(fraction) = rest.strip_prefix(' ') {
        let word = &fraction[..long(fraction)];
        let is_fraction = word.split_once('/').is_some_and(|(a, b)| {
            let is_whole = |part: &str| {
                !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit())
            };
            is_whole(a) && is_whole(b)
        });
        rest = if is_fraction { &fraction[word.len()..] } else { rest };
    }
    let unit = rest.strip_prefix(' ').and_then(|rest| {
        let after = UNITS.into_iter().filter_map(|unit| rest.strip_prefix(unit));
        after.into_iter().find(|after| !after.starts_with(char::is_alphanumeric))
    });
    rest = unit.unwrap_or(rest);
    let inner = rest.strip_prefix(" (").and_then(|rest| rest.split_once(')'));
    let is_length = |inner: &str| {
        inner
            .split(", ")
            .all(|part| measured(part) == Some(part.len()) && part.contains(' '))
    };
    if let Some((_, after)) = inner.filter(|(inner, _)| is_length(inner)) {
        rest = after;
    }
    if rest.starts_with(char::is_alphanumeric) {
        return None;
    }
    // A sign of the sentence is not of the number.
    let whole = &text[..text.len() - rest.len()];
    Some(whole.trim_end_matches([',', '.', '/']).len())
}

#[cfg(test)]
mod tests {
    use super::super::say::speak;
    use super::super::say::tests::{gaps, phrases};
    use super::*;
    use crate::words::{Language, slug};
    use std::collections::BTreeMap;
    use std::fs;

    /// What findings say of the jobs that are broken as at a bench: a text for each key.
    fn said() -> BTreeMap<String, String> {
        let folder = format!("{}/tests/straps/broken_jobs", env!("CARGO_MANIFEST_DIR"));
        let files = fs::read_dir(folder).unwrap().flatten();
        let texts = files.filter_map(|file| {
            let is_text = file.path().extension().is_some_and(|end| end == "txt");
            is_text.then(|| fs::read_to_string(file.path()).unwrap())
        });
        let mut all = BTreeMap::new();
        let typed = "type a length, such as 34 1/2 in or 86,5 cm".to_owned();
        all.insert(slug(&without_values(&typed).0), typed);
        for text in texts {
            for block in text.split("\n== ").skip(1) {
                let (head, lines) = block.split_once('\n').unwrap();
                let template = head.split(':').next().unwrap().trim_start_matches("== ");
                let lines =
                    lines.lines().map(|line| line.strip_prefix("> ").unwrap_or(line));
                let lines = lines.collect::<Vec<_>>().join("\n");
                let named = lines.contains("template = ");
                let first = if named {
                    String::new()
                } else {
                    format!("template = \"{template}\"\n")
                };
                for finding in
                    crate::prepare("job.toml", &(first + &lines + "\n"), &[]).findings
                {
                    for text in
                        [finding.message, finding.found, finding.required, finding.remedy]
                    {
                        let (english, _) = without_values(&text);
                        let is_word = |part: &str| {
                            part.len() > 1
                                && part.bytes().all(|b| b.is_ascii_alphabetic())
                        };
                        let key = slug(&english);
                        if key.split('-').any(is_word) {
                            all.insert(key, text);
                        }
                    }
                }
            }
        }
        all
    }

    #[test]
    fn every_language_has_the_findings_of_a_bench() {
        let wanted = said();
        for language in Language::ALL.into_iter().skip(1) {
            let own = phrases(language, "findings");
            let code = language.code();
            speak(language, String::new());
            let lacks: Vec<&String> =
                wanted.values().filter(|text| translated(text).is_none()).collect();
            assert!(lacks.is_empty(), "{code} lacks {lacks:#?}");
            for (key, said) in own {
                let text = wanted.get(&key);
                let text = text.unwrap_or_else(|| panic!("nothing says {key} in {code}"));
                assert_eq!(gaps(&said), gaps(&without_values(text).0), "{key} in {code}");
            }
        }
    }

    #[test]
    fn values_stand_where_the_language_has_them() {
        speak(Language::German, String::new());
        let of = |text: &str| translated(text).unwrap();
        let wide = "at most 40 mm (~1 37/64 in), the inside of `buckle`";
        assert!(
            of(wide).contains("40 mm (~1 37/64 in)") && of(wide).contains("Schnalle")
        );
        let named = "at most 40.5 mm, the inside of `Tip & Co`";
        assert!(of(named).contains("40,5 mm") && of(named).contains("Tip & Co"));
    }

    #[test]
    fn values_are_gaps() {
        for (text, english, values) in [
            ("4 more of 5", "{ $v1 } more of { $v2 }", vec!["4", "5"]),
            (
                "35 mm (~1 3/8 in), the template's own",
                "{ $v1 }, the template's own",
                vec!["35 mm (~1 3/8 in)"],
            ),
            ("at least -1.5 mm.", "at least { $v1 }.", vec!["-1.5 mm"]),
            (
                "`size holes` 3 in line",
                "{ $v1 } { $v2 } line",
                vec!["`size holes`", "3 in"],
            ),
            (
                "3 (thin), 9 mm (~23/64 in, 22 oz)",
                "{ $v1 } (thin), { $v2 }",
                vec!["3", "9 mm (~23/64 in, 22 oz)"],
            ),
            ("no number", "no number", vec![]),
        ] {
            assert_eq!(without_values(text), (english.to_owned(), values));
        }
    }
}
