//! The words of the page in the language of the request. The English words stand in the code, and
//! are the key of the others in `page.ftl` of each language.
//!
//! The language is kept by the thread that answers: every view has words, and to hand it through
//! each function would touch them all. A request is answered by one thread.

use crate::words::{Language, of_page};
use axum::http::{HeaderMap, HeaderName, header};
use fluent_bundle::FluentValue;
use maud::{Markup, html};
use std::cell::{Cell, RefCell};
use std::fmt::Display;

thread_local! {
    static LANGUAGE: Cell<Language> = const { Cell::new(Language::English) };
    /// The address that is answered; empty for a form that was posted.
    static HERE: RefCell<String> = const { RefCell::new(String::new()) };
}

/// The cookie of the language that a person chose on the page.
const COOKIE: &str = "strapwright-language";

/// The cookie for a language that is chosen; a browser keeps it for a year.
pub(super) fn cookie(language: Language) -> String {
    let code = language.code();
    format!("{COOKIE}={code}; Path=/; Max-Age=31536000; HttpOnly; SameSite=Lax")
}

/// The languages that a request asks for, of those that the page has.
pub(super) struct AskedFor {
    /// The one that was chosen on the page.
    chosen: Option<Language>,
    /// The first choice of the browser.
    browser: Option<Language>,
}

impl AskedFor {
    /// The one that was chosen on the page, else that of the profile, else that of the browser,
    /// else English.
    pub(super) fn language(&self, profile: Option<Language>) -> Language {
        self.chosen.or(profile).or(self.browser).unwrap_or_default()
    }
}

/// The languages that the headers of a request ask for.
pub(super) fn asked_for(headers: &HeaderMap) -> AskedFor {
    let all = |name: HeaderName| {
        let values = headers.get_all(name).into_iter().filter_map(|v| v.to_str().ok());
        values.collect::<Vec<_>>().join(",")
    };
    let cookies = all(header::COOKIE);
    let mut cookies =
        cookies.split([';', ',']).filter_map(|one| one.trim().split_once('='));
    let chosen = cookies.find(|(name, _)| *name == COOKIE);
    let chosen = chosen.and_then(|(_, code)| Language::from_code(code));
    let accepted = all(header::ACCEPT_LANGUAGE);
    let accepted = accepted.to_lowercase().replace([' ', '\t'], "");
    let wanted = accepted.split(',').filter_map(|one| {
        let (tag, weight) = one.split_once(";q=").unwrap_or((one, "1"));
        let language = tag.split('-').next().and_then(Language::from_code)?;
        Some((language, weight.parse::<f32>().ok().filter(|w| *w > 0.0)?))
    });
    // Of equal weights the first.
    let first = |a: (Language, f32), b: (Language, f32)| if b.1 > a.1 { b } else { a };
    AskedFor { chosen, browser: wanted.reduce(first).map(|(language, _)| language) }
}

/// Sets the language of the request that this thread answers, and its address; that is empty for
/// a form that was posted.
pub(super) fn speak(language: Language, here: String) {
    LANGUAGE.set(language);
    HERE.set(here);
}

/// The address to which a choice of the language comes back. A form that was posted has none:
/// what it sent would be lost.
pub(super) fn here() -> Option<String> {
    HERE.with_borrow(|here| Some(here.clone()).filter(|here| !here.is_empty()))
}

/// The language of the request.
pub(super) fn language() -> Language {
    LANGUAGE.get()
}

/// `lang` of what is English in every language: findings, and the words of files.
pub(super) fn english() -> Option<&'static str> {
    (language() != Language::English).then(|| Language::English.code())
}

/// English words of the page in the language of the request. Words that it does not know, such
/// as those of the user's own template, stay as they are.
pub(super) fn say(english: &str) -> String {
    say_with(english, &[])
}

/// The same with gaps: each `{ $name }` by the value beside the name.
pub(super) fn say_with(english: &str, with: &[(&str, &dyn Display)]) -> String {
    let args = with.iter().map(|(name, value)| (*name, value.to_string())).collect();
    let said = of_page(language(), english, &args);
    said.unwrap_or_else(|| {
        with.iter().fold(english.to_owned(), |text, gap| filled(&text, *gap))
    })
}

/// The same with markup in the gaps.
pub(super) fn say_markup(english: &str, with: &[(&str, Markup)]) -> Markup {
    // Each gap is a letter that no phrase has, until the words are escaped.
    let letters: Vec<char> = ('\u{e000}'..).take(with.len()).collect();
    let gaps = with.iter().zip(&letters);
    let gaps: Vec<(&str, &dyn Display)> =
        gaps.map(|((name, _), letter)| (*name, letter as &dyn Display)).collect();
    let said = say_with(english, &gaps);
    html! {
        @for part in said.split_inclusive(letters.as_slice()) {
            @let gap = part.chars().next_back().and_then(|c| letters.iter().position(|l| *l == c));
            (part.trim_end_matches(letters.as_slice()))
            @if let Some(gap) = gap { (with[gap].1) }
        }
    }
}

/// Words about a number of things, `{ $count }`.
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    count_with(number, one, many, &[])
}

/// The same with other gaps too.
pub(super) fn count_with(
    number: usize,
    one: &str,
    many: &str,
    with: &[(&str, &dyn Display)],
) -> String {
    let count = [("count", FluentValue::from(number))];
    let others = with.iter().map(|(name, value)| (*name, value.to_string().into()));
    let said = of_page(language(), many, &count.into_iter().chain(others).collect());
    let english = if number == 1 { one } else { many };
    let with = with.iter().copied().chain([("count", &number as &dyn Display)]);
    said.unwrap_or_else(|| with.fold(english.to_owned(), |text, gap| filled(&text, gap)))
}

fn filled(text: &str, (name, value): (&str, &dyn Display)) -> String {
    text.replace(&format!("{{ ${name} }}"), &value.to_string())
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::address::Address;
    use super::super::base::Base;
    use super::super::fields::{self, Kind};
    use super::super::strap::Strap;
    use super::super::{Workshop, shelf};
    use super::*;
    use crate::export::FORMATS;
    use crate::template::REGISTER;
    use crate::words::{Units, slug};
    use fluent_bundle::FluentArgs;
    use std::collections::{BTreeMap, BTreeSet};
    use std::fs;

    /// The string that stands at the beginning of a piece of code, and what comes after it.
    fn literal(code: &str) -> Option<(String, &str)> {
        let (quoted, rest) = code.trim_start().strip_prefix('"')?.split_once('"')?;
        let mut lines = quoted.split("\\\n");
        let first = lines.next()?.to_owned();
        let joined = lines.fold(first, |text, line| text + line.trim_start());
        assert!(!joined.contains('\\'), "{joined}");
        Some((joined, rest))
    }

    /// The words that the code says, in English.
    fn said_in_code() -> BTreeSet<String> {
        let folder = format!("{}/src/page", env!("CARGO_MANIFEST_DIR"));
        let files = |folder: String| fs::read_dir(folder).unwrap().flatten();
        let mut all = BTreeSet::new();
        for file in files(folder.clone()).chain(files(folder + "/orders")) {
            let Ok(code) = fs::read_to_string(file.path()) else { continue };
            let code = code.split("#[cfg(test)]").next().unwrap();
            for begin in ["say(", "say_with(", "say_markup("] {
                let own = code.split(begin).skip(1).filter_map(literal);
                all.extend(own.map(|(text, _)| text));
            }
            for call in code
                .replace("count_with(", "count(")
                .split("count(")
                .skip(1)
                .filter(|call| !call.starts_with(')'))
            {
                let Some((_, args)) = call.split_once(',') else { continue };
                let Some((_, rest)) = literal(args) else { continue };
                all.insert(literal(&rest[1..]).unwrap().0);
            }
        }
        all
    }

    /// The words of the built-in templates that the page shows, in English.
    fn said_of_templates() -> BTreeSet<String> {
        let workshop = Workshop::open("no-such-folder".into()).unwrap();
        let mut all = BTreeSet::new();
        for template in REGISTER {
            let base = Base::template(template.name, &workshop).unwrap();
            all.insert(shelf::title(template.name, &base));
            all.insert(base.about.summary.clone());
            let address = Address::read("/strap", "").unwrap();
            let strap = Strap::new(base, address, Units::Millimetres);
            let serves = strap.job().and_then(|job| job.serves.as_ref());
            all.extend(serves.map(|serves| serves.what.value.clone()));
            all.insert(strap.title().0);
            let (first, folds) = fields::fields(&strap);
            let is_measure = |key: &str| key.starts_with("measure.");
            let own = first.iter().filter(|field| !is_measure(&field.key));
            all.extend(own.map(|field| field.label.clone()));
            for fold in folds {
                all.insert(fold.heading);
                all.extend(fold.fields.iter().map(|field| field.label.clone()));
            }
            for key in strap.keys() {
                let Some(field) = fields::field(&strap, key) else { continue };
                let is_choice = matches!(field.kind, Kind::Choice(_));
                if !key.what.is_empty() {
                    all.extend(
                        fields::told(key, is_choice).into_iter().map(ToOwned::to_owned),
                    );
                }
                if let Kind::Choice(words) = field.kind {
                    all.extend(words.iter().map(|word| fields::words(word)));
                }
            }
        }
        all
    }

    /// The phrases of a file by their keys.
    pub(in super::super) fn phrases(
        language: Language,
        file: &str,
    ) -> BTreeMap<String, String> {
        let folder = format!("{}/src/words", env!("CARGO_MANIFEST_DIR"));
        let text = fs::read_to_string(format!("{folder}/{}/{file}.ftl", language.code()))
            .unwrap();
        let mut all: BTreeMap<String, String> = BTreeMap::new();
        let mut key = String::new();
        for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'))
        {
            let mut more = line;
            if let Some((own, phrase)) =
                line.split_once(" = ").filter(|_| !line.starts_with(' '))
            {
                assert!(!all.contains_key(own), "{own} twice in {}", language.code());
                (key, more) = (own.to_owned(), phrase);
            }
            *all.entry(key.clone()).or_default() += more;
        }
        all
    }

    /// What a phrase leaves to be filled in.
    pub(in super::super) fn gaps(text: &str) -> BTreeSet<&str> {
        let parts = text.split("{ $").skip(1);
        parts.filter_map(|part| part.split(' ').next()).collect()
    }

    #[test]
    fn every_language_has_every_word_of_the_page() {
        let mut wanted = said_in_code();
        wanted.extend(said_of_templates());
        wanted.extend(FORMATS.iter().map(|format| format.about.to_owned()));
        // Their single words mean something else in other tables.
        let whole = [
            "Buckle inside",
            "Size holes inside",
            "Size holes outside",
            "Press post",
            "Ranger body",
            "Measure value",
            "Measure taken",
        ];
        wanted.extend(whole.map(ToOwned::to_owned));
        let wanted: BTreeMap<String, String> =
            wanted.into_iter().map(|english| (slug(&english), english)).collect();
        for language in Language::ALL.into_iter().skip(1) {
            let own = phrases(language, "page");
            let has =
                |english: &str| of_page(language, english, &FluentArgs::new()).is_some();
            let lacks: Vec<&String> =
                wanted.values().filter(|english| !has(english)).collect();
            assert!(lacks.is_empty(), "{} lacks {lacks:#?}", language.code());
            for (key, said) in &own {
                let what = format!("{key} in {}", language.code());
                let english =
                    wanted.get(key).unwrap_or_else(|| panic!("nothing says {what}"));
                assert_eq!(gaps(said), gaps(english), "{what}");
                let is_word =
                    |word: &&str| word.len() > 2 && word.chars().all(char::is_alphabetic);
                let is_phrase = english.split(' ').filter(is_word).count() > 1;
                assert!(!is_phrase || said != english, "{what}");
            }
        }
    }

    #[test]
    fn words_are_filled_and_escaped() {
        speak(Language::English, String::new());
        let strong = html! { strong { "<b>" } };
        let said = say_markup("A { $x } & { $x }", &[("x", strong)]).into_string();
        assert_eq!(said, "A <strong>&lt;b&gt;</strong> &amp; <strong>&lt;b&gt;</strong>");
        assert_eq!(count(1, "{ $count } sheet", "{ $count } sheets"), "1 sheet");
        assert_eq!(count(0, "{ $count } sheet", "{ $count } sheets"), "0 sheets");
    }

    #[test]
    fn the_language_is_that_of_the_cookie_the_profile_or_the_browser() {
        let headers = |cookie: &str, accept: &str| {
            let mut all = HeaderMap::new();
            all.insert(header::COOKIE, cookie.parse().unwrap());
            all.insert(header::ACCEPT_LANGUAGE, accept.parse().unwrap());
            all
        };
        let chosen = cookie(Language::Polish);
        let chosen = format!("other=1; {}", chosen.split(';').next().unwrap());
        for (cookie, profile, accept, language) in [
            (&*chosen, Some(Language::French), "de", Language::Polish),
            ("other=1", Some(Language::French), "de", Language::French),
            ("", None, "nl, en-GB;q=0.4, DE-at; q=0.7", Language::German),
            ("", None, "es-MX,it", Language::Spanish),
            ("strapwright-language=xx", None, "nl, de;q=0", Language::English),
        ] {
            let asked_for = asked_for(&headers(cookie, accept));
            assert_eq!(asked_for.language(profile), language, "{accept}");
        }
    }
}
