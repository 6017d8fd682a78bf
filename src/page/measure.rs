//! The strap view: the fields, what is wrong and what would do.

use super::fields::{self, Field, Fold, Kind};
use super::keep::{self, NotKept};
use super::say::{count, say, say_markup, say_with};
use super::strap::{House, Offer, Strap, units};
use super::{frame, look, sketch};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use maud::{Markup, html};

/// The view; `told` is what was not kept.
pub(super) fn view(strap: &Strap<'_>, told: Option<&NotKept<'_>>) -> Markup {
    let (first, folds) = fields::fields(strap);
    let all = first.iter().chain(folds.iter().flat_map(|fold| &fold.fields));
    let shown: Vec<&String> = all.map(|field| &field.key).collect();
    let body = html! {
        (frame::steps(&strap.address, &strap.title(), ""))
        (sketch::head())
        div .two {
            form .measure method="get" action=(strap.address.path) data-live-form {
                input type="hidden" name="form" value="1";
                @for (key, value) in &strap.address.said {
                    input type="hidden" name="said" value=(key);
                    @if !shown.contains(&key) { input type="hidden" name=(key) value=(value); }
                }
                @for (key, value) in strap.address.kept() {
                    input type="hidden" name=(key) value=(value);
                }
                h2 { (count(first.len(), "Measure this", "Measure these { $count }")) }
                (unit(strap))
                @for (n, field) in first.iter().enumerate() {
                    // Leather is asked for where its thickness is.
                    @let is_thick = field.key.ends_with(".thickness");
                    @let table = field.table();
                    @let is_first = first[..n].iter().all(|before| before.table() != table);
                    @if is_thick || table != "strap" && is_first { (house(strap, table)) }
                    (one(strap, field, true))
                }
                p .row {
                    button type="submit" { (say("Draw again")) }
                }
                h2 { (say("More, if yours differ")) }
                @for (n, fold) in folds.iter().enumerate() { (more(strap, fold, n)) }
            }
            div .strap {
                (status(strap, &first))
                (look::drawings(strap))
                (next(strap, &first, told))
            }
        }
        (bar(strap))
    };
    frame::page(&strap.title().0, "/", &body)
}

/// The hardware or leather of the workshop, to be chosen in place of single measures.
fn house(strap: &Strap<'_>, table: &str) -> Markup {
    let House { key, named, things, .. } = strap.house(table);
    let link = |name: &str| strap.with_thing(&key, name).link("");
    let sort = if key.ends_with(".leather") { "leather" } else { table };
    let sort = say(&fields::words(sort));
    html! {
        @if !things.is_empty() {
            div .house role="group" aria-labelledby={ "house-" (table) } {
                strong id={ "house-" (table) } { (say_with("{ $thing } of your profile", &[("thing", &sort)])) }
                @for thing in things {
                    @let is_named = named == Some(thing);
                    a .button.small.black[is_named] href=(link(&thing.name)) aria-current=[is_named.then_some("true")] {
                        (fields::words(&thing.name)) small { (fields::measures(thing.hardware.as_deref(), &thing.measures)) }
                    }
                }
                @if strap.address.get(&key).is_some() { a .button.small href=(link("")) { (say("Another one")) } }
            }
        }
    }
}

/// Which unit bare numbers have, and how to have another.
fn unit(strap: &Strap<'_>) -> Markup {
    let unit = strap.unit();
    html! {
        p .hint {
            (say_markup("A bare number is read as { $unit }.", &[("unit", html! { strong { (unit) } })])) " "
            @for (other, words) in units().iter().filter(|(other, _)| *other != unit) {
                a href=(strap.address.with("unit", other).link("")) {
                    (say_with("Read as { $unit }", &[("unit", words)]))
                } " "
            }
        }
    }
}

/// The findings about a key.
fn findings_of<'s>(strap: &'s Strap<'_>, key: &str) -> Vec<&'s Finding> {
    let all = strap.prepared.findings.iter();
    all.filter(|f| strap.key_of(f).as_deref() == Some(key)).collect()
}

fn one(strap: &Strap<'_>, field: &Field, has_sketch: bool) -> Markup {
    let Field { key, label, line, kind, value, .. } = field;
    let findings = findings_of(strap, key);
    let worst = findings.iter().map(|f| f.severity).max();
    let is_wrong = worst == Some(Severity::Error);
    let [id, described] = ["f", "about"].map(|begin| format!("{begin}-{key}"));
    let class = if is_assumed(strap, field) { "assumed" } else { "" };
    let says_more = !line.is_empty() && !line.eq_ignore_ascii_case(label);
    let hint = html! { @if says_more { span .how { (line) } } };
    html! {
        @match kind {
            Kind::Choice(words) if has_sketch && words.len() <= 6 => {
                fieldset .field {
                    legend { (label) (hint) }
                    div .choices {
                        @for word in words {
                            label {
                                input type="radio" name=(key) value=(word) checked[word == value];
                                span { (say(&fields::words(word))) }
                                (sketch::choice(word))
                            }
                        }
                    }
                    (about(strap, field, &findings))
                }
            }
            _ => {
                div .field {
                    div {
                        label for=(id) { (label) (hint) }
                        @match kind {
                            Kind::Text => {
                                input type="text" id=(id) name=(key) value=(value)
                                    class=(class) autocomplete="off" spellcheck="false"
                                    aria-describedby=(described)
                                    aria-invalid=[is_wrong.then_some("true")];
                            }
                            Kind::Tick => (frame::select([&id, key], [("true", say("yes")), ("false", say("no"))],
                                value, Some(&described))),
                            Kind::Choice(words) => (frame::select([&id, key],
                                words.iter().map(|word| (word.as_str(), say(&fields::words(word)))), value,
                                Some(&described))),
                        }
                    }
                    @if has_sketch { (sketch::field(strap, key)) }
                    (about(strap, field, &findings))
                }
            }
        }
    }
}

/// Whether the template's value stands in a field on which the strap turns.
fn is_assumed(strap: &Strap<'_>, Field { key, is_said, .. }: &Field) -> bool {
    let assumed = strap.laid().map(|(job, ..)| job.assumed.as_slice());
    let turns = || assumed.unwrap_or_default().iter().any(|one| &one.key == key);
    !is_said && (key == "measure.value" || turns())
}

/// What a field was understood as, whether it is assumed, and its findings.
fn about(strap: &Strap<'_>, field: &Field, findings: &[&Finding]) -> Markup {
    let key = &field.key;
    // What a strap goes through stands with its width.
    let takes = strap.key("buckle.inside").filter(|_| key == "strap.width");
    let takes = takes.and_then(|inside| strap.understood(&inside.name));
    html! {
        div .about id={ "about-" (key) } data-live {
            @if let Some((length, is_bare)) = strap.understood(key) {
                span .read { "= " (strap.shown(length))
                    @if is_bare { ", " (say_with("read as { $unit }", &[("unit", &strap.unit())])) } }
            }
            @if let Some((inside, _)) = takes {
                span .how { (say_with("A buckle of { $width } inside.", &[("width", &strap.shown(inside))])) " "
                    a href="#f-buckle.inside" { (say("Mine is another")) } }
            }
            @if is_assumed(strap, field) {
                " " span .tag { (say("assumed")) } " "
                a .button.small href=(strap.address.with(key, &field.value).link("")) {
                    (say_with("Mine is { $value }", &[("value", &field.value)]))
                }
            }
            @for finding in findings { (trouble(strap, finding, key)) }
        }
    }
}

/// One finding with the buttons that mend it.
fn trouble(strap: &Strap<'_>, finding: &Finding, key: &str) -> Markup {
    let is_stop = finding.severity == Severity::Error;
    let offers = if finding.severity == Severity::Note {
        Vec::new()
    } else {
        strap.offers(finding)
    };
    frame::finding(
        finding,
        &html! {
            @if !offers.is_empty() {
                p .row {
                    @for (n, offer) in offers.iter().enumerate() {
                        a .button.black[n == 0 && is_stop]
                            href={ (strap.address.with(&offer.key, &offer.value).link(""))
                                "#f-" (offer.key) } { (deed(strap, offer, key)) }
                    }
                }
            }
        },
    )
}

/// What a button does: `Make it 40 mm`, or `Set inside of the buckle to 44 mm`.
fn deed(strap: &Strap<'_>, offer: &Offer, key: &str) -> String {
    let typed = strap.address.get(&offer.key).unwrap_or_default();
    let value = match Length::parse(&offer.value) {
        Ok(length) if typed.is_empty() || !offer.value.starts_with(typed) => {
            strap.shown(length)
        }
        _ => offer.value.clone(),
    };
    if offer.key == key {
        return say_with("Make it { $value }", &[("value", &value)]);
    }
    let field = fields::called(&offer.key);
    say_with("Set “{ $field }” to { $value }", &[("field", &field), ("value", &value)])
}

fn more(strap: &Strap<'_>, fold: &Fold, n: usize) -> Markup {
    let given = fold.fields.iter().filter(|f| !f.value.is_empty());
    // Sums and lists say little.
    let is_word = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let is_plain =
        |f: &&Field| Length::parse(&f.value).is_ok() || f.value.chars().all(is_word);
    let words = |f: &Field| match f.kind {
        Kind::Choice(_) => format!("{} {}", f.label, say(&fields::words(&f.value))),
        _ => format!("{} {}", f.label, f.value),
    };
    let values: Vec<String> = given.filter(is_plain).map(words).take(3).collect();
    let has_finding = fold.fields.iter().any(|f| !findings_of(strap, &f.key).is_empty());
    html! {
        details .fold open[has_finding] id={ "more-" (n) } {
            summary { strong { (fold.heading) } " " span .quiet { (values.join(" · ")) } }
            @for field in &fold.fields { (one(strap, field, false)) }
        }
    }
}

/// What stops the print, or that nothing does; what is assumed and what that costs.
fn status(strap: &Strap<'_>, first: &[Field]) -> Markup {
    let of =
        |s: Severity| strap.prepared.findings.iter().filter(move |f| f.severity == s);
    let (errors, warnings) = (of(Severity::Error).count(), of(Severity::Warning).count());
    let label = |key: &str| {
        let own = first.iter().find(|f| f.key == key).map(|f| f.label.clone());
        own.unwrap_or_else(|| fields::called(key))
    };
    let worst = strap.prepared.findings.iter().map(|f| f.severity).max();
    let worst = worst.filter(|s| *s > Severity::Note);
    let assumed =
        strap.laid().map(|(job, ..)| job.assumed.as_slice()).unwrap_or_default();
    html! {
        section #status .status role="status" data-live {
            h2 {
                (frame::sign(worst, 26))
                span class=(frame::class(worst)) {
                    @match worst {
                        Some(Severity::Error) => (count(errors, "{ $count } thing to mend, then it prints",
                            "{ $count } things to mend, then it prints")),
                        Some(_) => (count(warnings, "You can print. Look at { $count } thing first.",
                            "You can print. Look at { $count } things first.")),
                        None => (say("Nothing to mend")),
                    }
                }
            }
            @if worst.is_some() {
                ul {
                    @for f in of(Severity::Error).chain(of(Severity::Warning)) {
                        li {
                            @match strap.key_of(f) {
                                Some(key) if strap.key(&key).is_some() => {
                                    a href={ "#f-" (key) } { (label(&key)) } ": "
                                    (frame::message(f))
                                }
                                _ => (frame::sentences(f)),
                            }
                        }
                    }
                }
            }
            @if !assumed.is_empty() {
                p {
                    (count(assumed.len(), "{ $count } value is assumed:", "{ $count } values are assumed:"))
                    @for one in assumed {
                        br;
                        a href={ "#f-" (one.key) } { (label(&one.key)) } ", "
                        (say_with("1 mm wrong moves a hole { $length }",
                            &[("length", &format!("{} mm", strap.wording.decimal(&one.moves.plain_mm())))]))
                    }
                }
            }
        }
    }
}

/// The next step: one black button, where nothing stops the print; and how to keep the job.
fn next(strap: &Strap<'_>, first: &[Field], told: Option<&NotKept<'_>>) -> Markup {
    let link = |view: &str| strap.address.link(view);
    let can_print = strap.printable().is_some();
    html! {
        section #next .next data-live {
            h2 { (say("Next")) }
            @if can_print {
                p { a .button.black href=(link("print")) { (say("To the print")) } }
            } @else {
                p { span .button.off { (say("To the print")) } }
                p { (say("Mend first what stops it.")) }
            }
            (keep::forms(strap, first, told))
            p .quiet {
                (say("The address of this page holds all that you typed: a bookmark brings it back."))
            }
        }
    }
}

/// On a narrow screen, what the strap is like, at the lower edge.
fn bar(strap: &Strap<'_>) -> Markup {
    let of =
        |s: Severity| strap.prepared.findings.iter().filter(|f| f.severity == s).count();
    let (errors, warnings) = (of(Severity::Error), of(Severity::Warning));
    html! {
        div #bar .bar data-live {
            span {
                @if errors > 0 { (frame::sign(Some(Severity::Error), 20)) " "
                    (count(errors, "{ $count } to mend", "{ $count } to mend")) }
                @else if warnings > 0 {
                    (frame::sign(Some(Severity::Warning), 20)) " " (say("Look first, then print"))
                } @else { (frame::sign(None, 20)) " " (say("Ready to print")) }
            }
            a .button href="#status" { (say("See the strap")) }
        }
    }
}
