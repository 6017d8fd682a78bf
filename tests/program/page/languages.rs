//! The page in the six languages of the sheets.

use super::orders::send as send_table;
use super::{HOST, Shown, door, links, post, send};
use crate::common::program::folder_with;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use form_urlencoded::Serializer;
use std::collections::BTreeSet;
use std::path::Path;
use strapwright::template::REGISTER;

fn get(folder: &Path, address: &str, header: (&str, &str)) -> Shown {
    let request = Request::get(address).header("host", HOST).header(header.0, header.1);
    send(folder, &door(HOST, None), request.body(Body::empty()).unwrap())
}

/// Chooses a language on the page at an address. Returns its answer.
fn choose(code: &str, from: &str) -> Shown {
    let body = Serializer::new(String::new())
        .extend_pairs([("from", from), ("language", code)])
        .finish();
    let own = format!("http://{HOST}");
    post(Path::new("no-such-folder"), "/language", Some(&own), &body)
}

#[test]
fn a_chosen_language_stays_and_brings_back_the_same_strap() {
    let none = Path::new("no-such-folder");
    let strap = "/strap/belt?measure.value=34+in&mark=tip";
    let english = get(none, strap, ("accept-language", "en"));
    let from = english.text().split("name=\"from\" value=\"").nth(1).unwrap();
    let from = from.split('"').next().unwrap().replace("&amp;", "&");
    assert_eq!(from, strap);
    let chosen = choose("pl", &from);
    assert_eq!(chosen.status, StatusCode::SEE_OTHER);
    assert_eq!(chosen.header("location"), strap);
    let cookie = chosen.header("set-cookie").split(';').next().unwrap().to_owned();
    let view = get(none, strap, ("cookie", &cookie));
    assert!(view.text().contains("<html lang=\"pl\">"));
    // No address leads to another machine.
    for (from, to) in [
        ("", "/"),
        ("//elsewhere.example/a", "/elsewhere.example/a"),
        ("/\\elsewhere.example", "/elsewhere.example"),
        ("https://elsewhere.example", "/https://elsewhere.example"),
    ] {
        assert_eq!(choose("de", from).header("location"), to, "{from}");
    }
    assert_eq!(choose("xx", "").status, StatusCode::NOT_FOUND);
}

/// What was printed in one language stays that print when the page speaks another.
#[test]
fn the_sheets_have_the_language_of_the_page_that_printed_them() {
    let none = Path::new("no-such-folder");
    let accept = ("accept-language", "de-AT,de;q=0.8");
    let there = get(none, "/strap/belt/print", accept);
    assert_eq!(there.header("location"), "/strap/belt/print?language=de");
    let german = get(none, there.header("location"), accept);
    assert!(german.text().contains("<html lang=\"de\">"));
    assert!(german.text().contains("<option value=\"de\" selected>"), "its sheets too");
    let sheet = links(german.text(), "img src=\"").next().unwrap();
    assert!(get(none, &sheet, accept).text().contains("BLATT"));
    let code = |text: &str| text.split("<dd>").last().unwrap()[..9].to_owned();
    let english = get(none, there.header("location"), ("accept-language", "en"));
    assert!(english.text().contains("<html lang=\"en\">"));
    assert_eq!(code(english.text()), code(german.text()));
    // The profile comes before the browser.
    let folder = folder_with("strapwright.toml", "language = \"fr\"\n");
    let french = get(folder.path(), "/strap/belt/print", accept);
    assert!(french.text().contains("<html lang=\"fr\">"));
}

/// The texts of a view, but for those of elements that are English in every language.
fn texts(view: &str) -> BTreeSet<&str> {
    let void = ["!DOCTYPE", "meta", "link", "input", "br", "img"];
    let (mut open, mut all) = (Vec::new(), BTreeSet::new());
    for part in view.split('<').skip(1) {
        let (tag, text) = part.split_once('>').unwrap();
        let name = tag.split(' ').next().unwrap();
        if name.starts_with('/') {
            open.pop();
        } else if !void.contains(&name) {
            let is_english = name != "html" && tag.contains("lang=\"en\"");
            open.push(is_english || name == "style");
        }
        if !open.contains(&true) {
            all.insert(text);
        }
        for label in ["aria-label=\"", "alt=\""] {
            all.extend(
                tag.split_once(label).and_then(|(_, rest)| rest.split('"').next()),
            );
        }
    }
    all
}

const PROFILE: &str = "[hardware.bosun-40]\nhardware = \"buckle\"\nbar = \"4.5 mm\"\n\
    inside = \"40 mm\"\n[leather]\nharness = { thickness = \"3.5 mm\", k = 0.4 }\n";

/// What English and German say with the same words was not translated: two words or more, which
/// are neither code nor names. That the other languages have the same phrases is held beside
/// them.
#[test]
fn every_view_is_in_the_language() {
    let folder = folder_with("strapwright.toml", PROFILE);
    let views = ["", "/print", "/check", "/sizes"];
    let straps = REGISTER
        .iter()
        .flat_map(|template| views.map(|view| format!("/strap/{}{view}", template.name)));
    let others = ["/", "/orders", "/drawer", "/help", "/nowhere"].map(ToOwned::to_owned);
    let mut all = BTreeSet::new();
    let is_word = |word: &&str| word.len() > 2 && word.chars().all(char::is_alphabetic);
    for address in others.into_iter().chain(straps) {
        let english = get(folder.path(), &address, ("accept-language", "en"));
        let english = texts(english.text());
        assert!(english.len() > 10, "{address}");
        let address =
            if address.ends_with("/print") { address + "?language=de" } else { address };
        let german = get(folder.path(), &address, ("accept-language", "de"));
        let same = texts(german.text());
        let same = same.intersection(&english).filter(|text| !text.contains(".toml"));
        let same = same
            .filter(|text| text.split([' ', ',', '.', ':']).filter(is_word).count() > 1);
        all.extend(same.map(|text| (*text).to_owned()));
    }
    assert!(all.is_empty(), "{all:#?}");
}

/// A table of an office that writes German, with one mistake.
#[test]
fn a_table_of_orders_is_shown_in_the_language() {
    let folder = folder_with("strapwright.toml", "language = \"de\"\n");
    let table = "Auftragsnr,Artikel,Kunde,Bundweite,Breite\n\
                 Nine Lamps 1,Gürtel,Ines Fairwater,90 cm,38 mm\n\
                 Nine Lamps 2,Belt,Corin Ashdown,90 cm,44 mm\n";
    let shown = send_table(folder.path(), table, &[]);
    let all = texts(shown.text());
    for words in ["1 ist bereit, 1 ", "Mit diesen Spalten neu prüfen", "beheben"] {
        assert!(shown.text().contains(words), "{words}: {all:#?}");
    }
    for english in ["ready", "Columns", "Hardware list", "Read again", "mend"] {
        assert!(!all.contains(english), "{english}: {all:#?}");
    }
    // What would be lost by another request has no choice of the language.
    assert!(!shown.text().contains("name=\"from\""));
}
