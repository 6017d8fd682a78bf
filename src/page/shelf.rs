//! The shelf: every strap as a picture.

use super::{Workshop, fields, flat, frame};
use crate::job::read_template;
use crate::template::{TemplateLoader, about_chain};
use maud::{Markup, html};

/// What the shelf shows of a template.
struct Card {
    name: String,
    summary: String,
    picture: Option<Markup>,
}

fn card(workshop: &Workshop, name: &str) -> Card {
    let chain = read_template(name, &workshop.loader);
    let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
    let text = format!("template = {}\n", toml::Value::String(name.to_owned()));
    let laid = crate::prepare_from("page", &text, &[], &workshop.loader).laid;
    Card {
        name: name.to_owned(),
        summary: about_chain(&texts).summary,
        picture: laid.map(|(.., layout)| flat::picture(&layout, name)),
    }
}

pub(super) fn view(workshop: &Workshop) -> Markup {
    let own: Vec<&str> = workshop.loader.own_names().collect();
    let names = workshop.loader.names();
    let (own, carried): (Vec<&String>, Vec<&String>) =
        names.iter().partition(|name| own.contains(&name.as_str()));
    let cards = |heading: &str, names: &[&String]| {
        html! {
            @if !names.is_empty() {
                h2 { (heading) }
                ul .shelf {
                    @for card in names.iter().map(|name| card(workshop, name)) {
                        li {
                            a href={ "/strap/" (card.name) } {
                                @match card.picture {
                                    Some(picture) => (picture),
                                    None => span .quiet { "This template has a mistake." },
                                }
                                strong { (fields::words(&card.name)) }
                            }
                            p { (card.summary) }
                        }
                    }
                }
            }
        }
    };
    frame::page(
        "Straps",
        "/",
        &html! {
            h1 { "What are you making?" }
            (cards("Straps of your own", &own))
            (cards("Straps", &carried))
        },
    )
}

/// How to get on, in a page.
pub(super) fn help() -> Markup {
    frame::page(
        "Help",
        "/help",
        &html! {
            h1 { "Help" }
            ol .steps-list {
                li { "Choose a strap on the shelf. Type what you measured: " code { "34 1/2 in" } ", "
                    code { "86,5 cm" } " or a bare number. The page says how it was read." }
                li { "Mend what stops the print. A button sets the value that would do." }
                li { "Save the PDF and print it at 100 %, never fitted to the page." }
                li { "Check the print with a steel ruler before you punch." }
            }
            p { "The address of a strap holds all that you typed. A bookmark brings it back; nothing "
                "is kept anywhere else, and nothing leaves this machine." }
            p { "“Save this job” gives a job file. The command line draws the same sheets from it: "
                code { "strapwright draw belt.toml" } "." }
            p { "A folder " code { "templates" } " beside which the page was started holds straps of your "
                "own, one TOML file each. They come first on the shelf." }
        },
    )
}
