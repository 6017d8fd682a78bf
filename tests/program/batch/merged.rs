//! All orders in one file.

use super::{batch, day, events, files, is_drawing, rows};
use crate::common::program::folder_with;
use lopdf::{Dictionary, Document, Object, ObjectId, decode_text_string};
use std::fs;

/// What a page draws, and on what size of paper.
fn pages(bytes: &[u8]) -> Vec<(Vec<u8>, Vec<u8>)> {
    let document = Document::load_mem(bytes).unwrap();
    let pages = document.get_pages().into_values();
    pages
        .map(|id| {
            let page = document.get_dictionary(id).unwrap();
            let size = format!("{:?}", page.get(b"MediaBox").unwrap());
            (document.get_page_content(id), size.into_bytes())
        })
        .collect()
}

fn pixels(bytes: &[u8]) -> Vec<Vec<u8>> {
    use hayro::hayro_interpret::InterpreterSettings;
    use hayro::vello_cpu::color::palette::css::WHITE;
    use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
    let file = hayro::hayro_syntax::Pdf::new(bytes.to_vec()).unwrap();
    let cache = RenderCache::new();
    let scale = PixmapSettings { x_scale: 1.0, y_scale: 1.0, bg_color: WHITE };
    let (interpret, settings) =
        (InterpreterSettings::default(), RenderSettings::default());
    let picture = |page| {
        let pixels = render(page, &cache, &interpret, &settings, &scale);
        pixels.data().iter().map(|p| p.r).collect()
    };
    file.pages().iter().map(picture).collect()
}

#[test]
fn one_file_has_the_pages_of_all() {
    let table = day(5) + "spoilt,blet,,,\n";
    let folder = folder_with("Friday's orders.csv", &table);
    let own = batch(folder.path(), &["Friday's orders.csv", "-o", "own"]);
    let one = batch(folder.path(), &["Friday's orders.csv", "-o", "one", "--merge"]);
    assert_eq!((own.code, one.code), (Some(1), Some(1)), "{}", one.err);
    let (own, one) =
        (files(&folder.path().join("own")), files(&folder.path().join("one")));
    assert_eq!(one.keys().filter(|n| is_drawing(n)).count(), 1);
    let file = &one["fridays-orders.pdf"];
    let (content, picture) = (pages(file), pixels(file));
    let document = Document::load_mem(file).unwrap();
    let mut bookmarks = bookmarks(&document).into_iter();
    let mut before = 0;
    for row in rows(&one["summary.csv"]).iter().filter(|row| row["status"] == "drawn") {
        assert_eq!(row["file"], "fridays-orders.pdf");
        assert_eq!(row["page"], (before + 1).to_string(), "{}", row["order"]);
        assert_eq!(bookmarks.next().unwrap(), (row["order"].clone(), before));
        let name = format!("{}.pdf", row["order"]);
        let pages = pages(&own[&name]);
        assert!(content[before..].starts_with(&pages), "{name}");
        assert!(
            picture[before..].starts_with(&pixels(&own[&name])),
            "{name} looks alike"
        );
        before += pages.len();
    }
    assert_eq!((content.len(), bookmarks.next()), (before, None));
    // The layers are shared, and a reader may not scale.
    let catalog = document.catalog().unwrap();
    let layers = catalog.get(b"OCProperties").and_then(Object::as_dict).unwrap();
    let layers = layers.get(b"OCGs").and_then(Object::as_array).unwrap();
    assert!(layers.len() <= 4, "{layers:?}");
    for id in document.get_pages().into_values() {
        let own = layers_of(&document, id);
        assert!(!own.is_empty() && own.iter().all(|l| layers.contains(l)), "{own:?}");
    }
    let viewing = catalog.get(b"ViewerPreferences").and_then(Object::as_dict).unwrap();
    assert_eq!(viewing.get(b"PrintScaling").unwrap().as_name().unwrap(), b"None");
    // Each page is labelled with its order.
    let labels = catalog.get(b"PageLabels").and_then(Object::as_dict).unwrap();
    let labels = labels.get(b"Nums").and_then(Object::as_array).unwrap();
    let second = labels[2].as_i64().unwrap();
    let prefix = labels[3].as_dict().unwrap().get(b"P").unwrap();
    assert_eq!((second, decode_text_string(prefix).unwrap()), (1, "0 ".to_owned()));
}

/// A layer that the first print does not use is there for those that do.
#[test]
fn a_layer_that_the_first_print_does_not_use_is_kept() {
    let table = "order,template,holes.count,more-holes.count\n\
                 bare,plain-strap,0,0\nholed,plain-strap,4,4\n";
    let folder = folder_with("orders.csv", table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day", "--merge"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let document = Document::load_mem(&files(&folder.path().join("day"))["orders.pdf"]);
    let document = document.unwrap();
    let named = |page: ObjectId| -> Vec<Vec<u8>> {
        let layers = layers_of(&document, page).into_iter();
        let layers = layers.map(|layer| {
            let layer = document.get_dictionary(layer.as_reference().unwrap()).unwrap();
            layer.get(b"Name").unwrap().as_str().unwrap().to_vec()
        });
        layers.collect()
    };
    let punches = |page| named(page).contains(&b"punch".to_vec());
    let pages: Vec<bool> = document.get_pages().into_values().map(punches).collect();
    assert_eq!((pages.first(), pages.last()), (Some(&false), Some(&true)), "{pages:?}");
}

/// The layers that a page names among its resources.
fn layers_of(document: &Document, page: ObjectId) -> Vec<Object> {
    let inner = |of: &Dictionary, key: &[u8]| {
        let (_, inner) = document.dereference(of.get(key).unwrap()).unwrap();
        inner.as_dict().unwrap().clone()
    };
    let resources = inner(document.get_dictionary(page).unwrap(), b"Resources");
    inner(&resources, b"Properties").into_iter().map(|(_, layer)| layer).collect()
}

/// Each bookmark with the index of its page.
fn bookmarks(document: &Document) -> Vec<(String, usize)> {
    let pages: Vec<_> = document.get_pages().into_values().collect();
    let outlines = document.catalog().unwrap().get(b"Outlines").unwrap();
    let outlines = document.get_dictionary(outlines.as_reference().unwrap()).unwrap();
    let mut all = Vec::new();
    let mut next = outlines.get(b"First").ok();
    while let Some(id) = next {
        let item = document.get_dictionary(id.as_reference().unwrap()).unwrap();
        let title = decode_text_string(item.get(b"Title").unwrap()).unwrap();
        let (_, action) = document.dereference(item.get(b"A").unwrap()).unwrap();
        let place = action.as_dict().unwrap().get(b"D").unwrap().as_array().unwrap();
        let page = place[0].as_reference().unwrap();
        all.push((title, pages.iter().position(|p| *p == page).unwrap()));
        next = item.get(b"Next").ok();
    }
    let count = outlines.get(b"Count").unwrap().as_i64().unwrap();
    assert_eq!(usize::try_from(count), Ok(all.len()));
    all
}

#[test]
fn one_file_is_kept_while_nothing_changes() {
    let folder = folder_with("orders.csv", day(4));
    let args = ["orders.csv", "-o", "day", "--merge", "--format", "json"];
    let run = || {
        let ran = batch(folder.path(), &args);
        let end = events(&ran).pop().unwrap_or_default();
        (ran.code, end["drawn"].as_u64(), end["kept"].as_u64())
    };
    assert_eq!(run(), (Some(0), Some(4), Some(0)));
    let path = folder.path().join("day/orders.pdf");
    let (first, time) =
        (fs::read(&path).unwrap(), fs::metadata(&path).unwrap().modified().unwrap());
    assert_eq!(run(), (Some(0), Some(4), Some(4)));
    assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), time);

    fs::write(folder.path().join("orders.csv"), day(4).replace("Wearer 2", "Another"))
        .unwrap();
    assert_eq!(run(), (Some(0), Some(4), Some(0)));
    assert!(fs::read(&path).unwrap() != first);

    fs::write(&path, "a letter").unwrap();
    assert_eq!(run().0, Some(3));
    assert_eq!(fs::read(&path).unwrap(), b"a letter");
}
