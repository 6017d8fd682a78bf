//! The page in the six languages of the sheets.

use super::{HOST, Shown, door, links, send};
use crate::common::program::folder_with;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use std::collections::BTreeSet;
use std::path::Path;
use strapwright::template::REGISTER;

fn get(folder: &Path, address: &str, header: (&str, &str)) -> Shown {
    let request = Request::get(address).header("host", HOST).header(header.0, header.1);
    send(folder, &door(HOST, None), request.body(Body::empty()).unwrap())
}

/// Chooses a language on the page at an address. Returns its answer.
fn choose(code: &str, from: &str) -> Shown {
    let request = Request::post("/language")
        .header("host", HOST)
        .header("origin", format!("http://{HOST}"))
        .header("referer", from)
        .body(Body::from(format!("language={code}")));
    send(Path::new("no-such-folder"), &door(HOST, None), request.unwrap())
}

#[test]
fn a_chosen_language_stays_and_brings_back_the_same_strap() {
    let strap = "/strap/belt?measure.value=34+in&mark=tip";
    let chosen = choose("pl", &format!("http://{HOST}{strap}"));
    assert_eq!(chosen.status, StatusCode::SEE_OTHER);
    assert_eq!(chosen.header("location"), strap);
    let cookie = chosen.header("set-cookie").split(';').next().unwrap().to_owned();
    let view = get(Path::new("no-such-folder"), strap, ("cookie", &cookie));
    assert!(view.text().contains("<html lang=\"pl\">"));
    // No address leads to another machine.
    for (from, to) in [
        ("", "/"),
        ("http://127.0.0.1:8470//elsewhere.example/a", "/elsewhere.example/a"),
        ("not an address", "/"),
    ] {
        assert_eq!(choose("de", from).header("location"), to, "{from}");
    }
    assert_eq!(choose("xx", "").status, StatusCode::NOT_FOUND);
}

#[test]
fn the_profile_comes_before_the_browser_and_the_sheets_follow() {
    let none = Path::new("no-such-folder");
    let accept = ("accept-language", "de-AT,de;q=0.8");
    let german = get(none, "/strap/belt/print", accept);
    assert!(german.text().contains("<html lang=\"de\">"));
    assert!(german.text().contains("<option value=\"de\" selected>"), "its sheets too");
    let sheet = links(german.text(), "img src=\"").next().unwrap();
    assert!(get(none, &sheet, accept).text().contains("BLATT"));
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
        let german = get(folder.path(), &address, ("accept-language", "de"));
        let same = texts(german.text());
        let same = same.intersection(&english).filter(|text| !text.ends_with(".toml"));
        let same = same
            .filter(|text| text.split([' ', ',', '.', ':']).filter(is_word).count() > 1);
        all.extend(same.map(|text| (*text).to_owned()));
    }
    assert!(all.is_empty(), "{all:#?}");
}
