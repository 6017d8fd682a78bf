//! The strap view: the fields, what is wrong and what would do.

use super::fields::{self, Field, Fold, Kind};
use super::strap::{House, Offer, Strap, UNITS};
use super::{Answer, Workshop, frame, look, sketch};
use crate::diagnostic::{Finding, Severity, counted};
use crate::geom::Length;
use maud::{Markup, html};

/// Keeps the job by the name that a form gives.
pub(super) fn keep(workshop: &Workshop, strap: &Strap<'_>, sent: &str) -> Answer {
    let pairs: Vec<_> = form_urlencoded::parse(sent.as_bytes()).collect();
    let find =
        |key: &str| pairs.iter().find(|(k, _)| k == key).map_or("", |(_, v)| v.trim());
    let name = find("name");
    let text = strap.job_file();
    match text.and_then(|text| workshop.keep_job(name, find("seen"), &text)) {
        Ok(()) => Answer::See(super::job_path(name)),
        Err(why) => Answer::Page(view(strap, Some(&why))),
    }
}

/// The view; `told` is why the job was not kept.
pub(super) fn view(strap: &Strap<'_>, told: Option<&str>) -> Markup {
    let (first, folds) = fields::fields(strap);
    let all = first.iter().chain(folds.iter().flat_map(|fold| &fold.fields));
    let shown: Vec<&String> = all.map(|field| &field.key).collect();
    let tables: Vec<&str> =
        first.iter().filter_map(|f| f.key.split('.').next()).collect();
    let count = ["no", "one", "two", "three", "four", "five", "six"];
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
                h2 { "Measure these " (count.get(first.len()).unwrap_or(&"few")) }
                (unit(strap))
                @for (n, field) in first.iter().enumerate() {
                    // Leather is asked for where its thickness is.
                    @let is_thick = field.key.ends_with(".thickness");
                    @if is_thick || tables[n] != "strap" && !tables[..n].contains(&tables[n]) {
                        (house(strap, tables[n]))
                    }
                    (one(strap, field, true))
                }
                p .row {
                    button type="submit" { "Draw again" }
                }
                h2 { "More, if yours differ" }
                @for (n, fold) in folds.iter().enumerate() { (more(strap, fold, n)) }
            }
            div .strap {
                (status(strap, &first))
                (look::drawings(strap))
                (next(strap, told))
            }
        }
        (bar(strap))
    };
    frame::page(&strap.title().0, "/", &body)
}

/// The hardware or leather of the workshop, to be chosen in place of single measures.
fn house(strap: &Strap<'_>, table: &str) -> Markup {
    let House { key, named, things } = strap.house(table);
    let link = |name: &str| strap.with_thing(&key, name).link("");
    let sort = if key.ends_with(".leather") { "leather" } else { table };
    html! {
        @if !things.is_empty() {
            div .house role="group" aria-labelledby={ "house-" (table) } {
                strong id={ "house-" (table) } { (fields::words(sort)) " of your profile" }
                @for thing in things {
                    @let is_named = named == Some(thing);
                    a .button.small.black[is_named] href=(link(&thing.name)) aria-current=[is_named.then_some("true")] {
                        (fields::words(&thing.name)) small { (thing.measures()) }
                    }
                }
                @if strap.address.get(&key).is_some() { a .button.small href=(link("")) { "Another one" } }
            }
        }
    }
}

/// Which unit bare numbers have, and how to have another.
fn unit(strap: &Strap<'_>) -> Markup {
    let unit = strap.unit();
    html! {
        p .hint {
            "A bare number is read as " strong { (unit) } ". "
            @for (other, words) in UNITS.iter().filter(|(other, _)| *other != unit) {
                a href=(strap.address.with("unit", other).link("")) { "Read as " (words) } " "
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
                                span { (fields::words(word)) }
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
                            Kind::Tick => (frame::select([&id, key], [("true", "yes"), ("false", "no")],
                                value, Some(&described))),
                            Kind::Choice(words) => (frame::select([&id, key],
                                words.iter().map(|word| (word.as_str(), word.as_str())), value,
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
                    @if is_bare { ", read as " (strap.unit()) } }
            }
            @if let Some((inside, _)) = takes {
                span .how { "A buckle of " (strap.shown(inside)) " inside. "
                    a href="#f-buckle.inside" { "Mine is another" } }
            }
            @if is_assumed(strap, field) {
                " " span .tag { "assumed" } " "
                a .button.small href=(strap.address.with(key, &field.value).link("")) {
                    "Mine is " (field.value)
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
        return format!("Make it {value}");
    }
    format!("Set {} to {value}", fields::called(&offer.key).to_lowercase())
}

fn more(strap: &Strap<'_>, fold: &Fold, n: usize) -> Markup {
    let given = fold.fields.iter().filter(|f| !f.value.is_empty());
    // Sums and lists say little.
    let is_word = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let is_plain =
        |f: &&Field| Length::parse(&f.value).is_ok() || f.value.chars().all(is_word);
    let words = |f: &Field| format!("{} {}", f.label.to_lowercase(), f.value);
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
                        Some(Severity::Error) => { (counted(errors, "thing")) " to mend, then it prints" }
                        Some(_) => { "You can print. Look at " (counted(warnings, "thing")) " first." }
                        None => "Nothing to mend",
                    }
                }
            }
            @if worst.is_some() {
                ul {
                    @for f in of(Severity::Error).chain(of(Severity::Warning)) {
                        li {
                            @match strap.key_of(f) {
                                Some(key) if strap.key(&key).is_some() => {
                                    a href={ "#f-" (key) } { (label(&key)) } ": " (frame::begun(&f.message))
                                }
                                _ => { (frame::sentence(&f.message)) " " (frame::sentence(&f.remedy)) }
                            }
                        }
                    }
                }
            }
            @if !assumed.is_empty() {
                p {
                    (counted(assumed.len(), "value")) " " (if assumed.len() == 1 { "is" } else { "are" })
                    " " span .tag { "assumed" } ": "
                    @for (n, one) in assumed.iter().enumerate() {
                        @if n > 0 { "; " }
                        a href={ "#f-" (one.key) } { (label(&one.key)) }
                        ", 1 mm wrong moves a hole " (one.moves.plain_mm()) " mm"
                    }
                    "."
                }
            }
        }
    }
}

/// The next step: one black button, where nothing stops the print; and how to keep the job.
fn next(strap: &Strap<'_>, told: Option<&str>) -> Markup {
    let link = |view: &str| strap.address.link(view);
    let can_print = strap.printable().is_some();
    let stem = strap.stem();
    let (name, seen) = strap.seen().unwrap_or((&stem, String::new()));
    html! {
        section #next .next data-live {
            h2 { "Next" }
            @if can_print {
                p { a .button.black href=(link("print")) { "To the print" } }
            } @else {
                p { span .button.off { "To the print" } }
                p { "Mend first what stops it." }
            }
            form method="post" action=(link("")) {
                input type="hidden" name="seen" value=(seen);
                div .field {
                    div {
                        label for="keep" { "Keep this job as"
                            span .how {
                                "A file of the workshop's folder, for the command line too."
                            } }
                        input type="text" id="keep" name="name" value=(name)
                            autocomplete="off";
                    }
                }
                @if let Some(told) = told {
                    p role="alert" { strong { "Not kept. " } (told) }
                }
                p .row {
                    button type="submit" { "Keep this job" }
                    a .button href=(link("job.toml")) { "Save it elsewhere" }
                }
            }
            p .quiet {
                "The address of this page holds all that you typed: a bookmark brings it back."
            }
        }
    }
}

/// On a narrow screen, what the strap is like, at the lower edge.
fn bar(strap: &Strap<'_>) -> Markup {
    let errors =
        strap.prepared.findings.iter().filter(|f| f.severity == Severity::Error).count();
    html! {
        div #bar .bar data-live {
            span {
                @if errors > 0 { (frame::sign(Some(Severity::Error), 20)) " " (errors) " to mend" }
                @else { (frame::sign(None, 20)) " Ready to print" }
            }
            a .button href="#status" { "See the strap" }
        }
    }
}
