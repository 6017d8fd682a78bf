//! What all views have: the head of the page, the top, the steps, the signs.

use super::address::Address;
use super::say::{english, here, language, say, say_with};
use super::{assets, fields, finding_words};
use crate::diagnostic::{Finding, Severity};
use crate::job;
use crate::paginate::SheetSet;
use crate::words::Language;
use maud::{DOCTYPE, Markup, PreEscaped, Render, html};

/// A whole page.
pub(super) fn page(title: &str, here: &str, body: &Markup) -> Markup {
    let places = [
        ("/", say("Straps")),
        ("/orders", say("Orders")),
        ("/drawer", say("Drawer")),
        ("/help", say("Help")),
    ];
    html! {
        (DOCTYPE)
        html lang=(language().code()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · strapwright" }
                style { (PreEscaped(assets::STYLE)) }
                link rel="icon" href=(assets::ICON_PATH) type="image/svg+xml";
                script src=(assets::script_path()) defer {}
            }
            body {
                a .skip href="#main" { (say("Skip to the page")) }
                header .top {
                    span .brand { "strapwright" }
                    nav aria-label=(say("Main")) {
                        @for (path, words) in places {
                            a href=(path) aria-current=[(path == here).then_some("page")] {
                                (words)
                            }
                        }
                    }
                }
                main id="main" { (body) }
                (languages())
            }
        }
    }
}

/// The choice of the language.
fn languages() -> Markup {
    html! {
        @if let Some(here) = here() {
            form #languages .languages data-live method="post" action="/language" aria-label=(say("Language")) {
                input type="hidden" name="from" value=(here);
                @for other in Language::ALL {
                    @let is_own = other == language();
                    button type="submit" name="language" value=(other.code()) lang=(other.code())
                        aria-pressed=(is_own.to_string()) { (other.own_name()) }
                }
            }
        }
    }
}

/// The title of a strap and its steps.
pub(super) fn steps(
    address: &Address,
    (title, wearer): &(String, String),
    here: &str,
) -> Markup {
    let steps = [
        ("", say("Measure")),
        ("print", say("Print")),
        ("check", say("Check the print")),
        ("sizes", say("Other sizes")),
    ];
    html! {
        div .title {
            h1 { (title) }
            @if !wearer.is_empty() {
                p .quiet { (say_with("for { $wearer }", &[("wearer", wearer)])) }
            }
        }
        nav #steps .steps data-live aria-label=(say("Steps")) {
            @for (n, (view, words)) in steps.iter().enumerate() {
                a href=(address.link(view)) aria-current=[(*view == here).then_some("step")] {
                    span .n { (n + 1) } span { (words) }
                }
            }
        }
    }
}

/// What stops, what one should mind, and what is in order, in the style sheet.
pub(super) fn class(severity: Option<Severity>) -> &'static str {
    match severity {
        Some(Severity::Error) => "stop",
        Some(_) => "mind",
        None => "good",
    }
}

/// An octagon with a cross, a triangle, or a disc with a tick.
pub(super) fn sign(severity: Option<Severity>, size: u32) -> Markup {
    let (shape, stroke) = match severity {
        Some(Severity::Error) => ("M7 1h10l6 6v10l-6 6H7l-6-6V7z", "M8 8l8 8M16 8l-8 8"),
        Some(_) => ("M12 1.5L23 22H1z", "M12 9v6M12 18v1"),
        None => ("M12 1a11 11 0 1 0 0 22a11 11 0 1 0 0-22z", "M7 12.5l3.5 3.5L17 9"),
    };
    html! {
        svg class={ "sign " (class(severity)) } width=(size) height=(size) viewBox="0 0 24 24"
            aria-hidden="true" {
            path class="face" d=(shape) {}
            path class="stroke" d=(stroke) {}
        }
    }
}

/// A view that says why there is nothing to see, and what would do.
pub(super) fn nothing(title: &str, why: &str) -> Markup {
    page(
        title,
        "",
        &html! {
            h1 { (title) }
            p { (why) }
            p { a .button href="/" { (say("To the straps")) } }
        },
    )
}

/// One finding: what is wrong or worth knowing, what was found, what it takes and what would
/// do, with `buttons` that mend it.
pub(super) fn finding(finding: &Finding, buttons: &Markup) -> Markup {
    shown(finding, buttons, plain)
}

/// The same about a table of orders, whose columns are called by their keys.
pub(super) fn finding_of_table(finding: &Finding, buttons: &Markup) -> Markup {
    shown(finding, buttons, without_quotes)
}

fn shown(finding: &Finding, buttons: &Markup, called: fn(&str) -> String) -> Markup {
    let Finding { message, found, required, remedy, .. } = finding;
    // What the page is told needs no quotes.
    let remedy = match finding.rule {
        job::rule::BAD_LENGTH => "type a length, such as 34 1/2 in or 86,5 cm",
        _ => remedy,
    };
    let begun = |text: &str| begun_by(text, called);
    let sentence = |text: &str| ended(begun_by(text, called));
    html! {
        div class={ "finding " (class(Some(finding.severity))) } {
            h3 { (sign(Some(finding.severity), 22)) (words(message, begun)) }
            @if !found.is_empty() {
                p {
                    (say("Found:")) " " (words(found, called)) ". "
                    @if !required.is_empty() { (say("Required:")) " " (words(required, called)) "." }
                }
            }
            @if !remedy.is_empty() { p { (words(remedy, sentence)) } }
            (buttons)
        }
    }
}

/// A text of a finding in the language of the page, else in English, and in the form that `form`
/// gives it.
fn words(text: &str, form: impl Fn(&str) -> String) -> Markup {
    let said = finding_words::translated(text);
    let lang = if said.is_some() { None } else { english() };
    html! { span lang=[lang] { (form(said.as_deref().unwrap_or(text))) } }
}

/// What a finding says is wrong.
pub(super) fn message(finding: &Finding) -> Markup {
    words(&finding.message, |text| begun_by(text, plain))
}

/// What is wrong and what would do, in sentences.
pub(super) fn sentences(finding: &Finding) -> Markup {
    let sentence = |text: &str| ended(begun_by(text, plain));
    html! { (words(&finding.message, sentence)) " " (words(&finding.remedy, sentence)) }
}

/// Findings, one below the other.
pub(super) fn findings(all: &[Finding]) -> Markup {
    html! { @for one in all { (finding(one, &html! {})) } }
}

/// A list to choose one of some values from, each with its words.
pub(super) fn select<'w>(
    [id, name]: [&str; 2],
    values: impl IntoIterator<Item = (&'w str, impl Render)>,
    chosen: &str,
    described: Option<&str>,
) -> Markup {
    html! {
        select id=(id) name=(name) aria-describedby=[described] {
            @for (value, words) in values {
                option value=(value) selected[value.eq_ignore_ascii_case(chosen)] { (words) }
            }
        }
    }
}

/// The same as a field with its label.
pub(super) fn choice<'w>(
    name: &str,
    label: &str,
    values: impl IntoIterator<Item = (&'w str, impl Render)>,
    chosen: &str,
) -> Markup {
    html! {
        div .field {
            label for=(name) { (label) }
            (select([name, name], values, chosen, None))
        }
    }
}

/// Sheets as they are printed, each by its address. `kept` are those of an earlier print that
/// stay.
pub(super) fn sheets(
    set: &SheetSet,
    link: impl Fn(usize) -> String,
    kept: Option<&[usize]>,
) -> Markup {
    html! {
        ul .sheets {
            @for sheet in &set.sheets {
                @let is_kept = kept.map(|kept| kept.contains(&sheet.number));
                @let name = say_with("Sheet { $number } of { $count }",
                    &[("number", &sheet.number), ("count", &set.sheets.len())]);
                li .kept[is_kept == Some(true)] {
                    img src=(link(sheet.number)) loading="lazy" width=(sheet.width.mm(0))
                        height=(sheet.height.mm(0)) alt=(say_with("{ $sheet }, as it is printed", &[("sheet", &name)]));
                    p { strong { (name) } " "
                        @match is_kept {
                            Some(true) => span .tag { "✓ " (say("keep")) },
                            Some(false) => span .tag { (say("print this one")) },
                            None => {}
                        }
                    }
                }
            }
        }
    }
}

/// What stands in place of sheets while something stops the print.
pub(super) fn no_print(address: &Address) -> Markup {
    html! {
        section .status {
            h2 { (sign(Some(Severity::Error), 26)) span .stop { (say("No print yet")) } }
            p { (say("Something has to be mended first.")) " "
                a href=(address.link("")) { (say("See what, and how")) } }
        }
    }
}

/// A text of a finding with a capital, unless it begins with a name.
fn begun_by(text: &str, say: fn(&str) -> String) -> String {
    if text.starts_with('`') { say(text) } else { fields::capital(&say(text)) }
}

/// A sentence of a finding, with its end mark.
pub(super) fn sentence(text: &str) -> String {
    ended(begun_by(text, plain))
}

fn ended(text: String) -> String {
    if text.ends_with(['.', '?', '!']) { text } else { text + "." }
}

/// A text of a finding without the back quotes that a terminal shows round names. A key is
/// called as its field is.
pub(super) fn plain(text: &str) -> String {
    let text = without_quotes(text);
    let words = text.split(' ').map(|word| {
        let key = word.trim_end_matches([',', '.', ';', ':', '?']);
        let is_key = fields::is_key(key);
        let called = match english() {
            _ if !is_key => key.to_owned(),
            Some(_) => format!("“{}”", fields::called(key)),
            None => key.replace(['.', '-'], " "),
        };
        called + &word[key.len()..]
    });
    words.collect::<Vec<_>>().join(" ")
}

fn without_quotes(text: &str) -> String {
    text.replace('`', "")
}
