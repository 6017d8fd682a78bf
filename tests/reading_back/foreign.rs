//! Files that come from elsewhere: through other tools, in part, or broken.

use super::drawn::{Drawn, all_on, belts_on, by_ink, by_ink_of, errors, words};
use super::planted::{Open, Run, dashed_by, moved, op, places, real, tick_rows};
use crate::common::random::Random;
use crate::common::raw_pdf::listed;
use lopdf::content::Operation;
use lopdf::{EncryptionState, EncryptionVersion, Object, Permissions, dictionary};
use strapwright::verify::{Print, verify_alone, verify_print};

type Change = fn(&mut Open);

/// Files that other tools have been at, and that are sound.
const CHANGES: &[(&str, Change)] = &[
    ("turned and turned back", |file| {
        let (width, _) = file.size(0);
        // A quarter turn left in the content, one right by the page.
        file.map(0, [0.0, 1.0, -1.0, 0.0, width, 0.0]);
        let (width, height) = file.size(0);
        let shift = width - height;
        file.map(0, [1.0, 0.0, 0.0, 1.0, -shift, 0.0]);
        let size: Vec<Object> = [0.0, 0.0, height, width].map(real).into();
        file.page(0).set("MediaBox", size);
        file.page(0).set("Rotate", 90);
    }),
    ("moved on its page", |file| file.map(0, [1.0, 0.0, 0.0, 1.0, 3.0, -2.0])),
    ("in units of half a point", |file| {
        file.edit(0, |all| {
            moved(all, |x, y| (x * 2.0, y * 2.0));
            for matrix in all.iter_mut().filter(|o| o.operator == "Tm") {
                for n in &mut matrix.operands {
                    *n = real(f64::from(n.as_float().unwrap()) * 2.0);
                }
            }
            for pen in all.iter_mut().filter(|o| o.operator == "w") {
                pen.operands[0] =
                    real(f64::from(pen.operands[0].as_float().unwrap()) * 2.0);
            }
            for dashes in all.iter_mut() {
                dashed_by(dashes, 2.0);
            }
            all.insert(0, op("cm", &[0.5, 0.0, 0.0, 0.5, 0.0, 0.0]));
        });
    }),
    ("locked, with no password to open it", |file| {
        file.0.trailer.set("ID", vec![Object::string_literal("one"); 2]);
        let version = EncryptionVersion::V2 {
            document: &file.0,
            owner_password: "wardrobe",
            user_password: "",
            key_length: 128,
            permissions: Permissions::all(),
        };
        let state = EncryptionState::try_from(version).unwrap();
        file.0.encrypt(&state).unwrap();
    }),
    ("without layers", |file| {
        for page in 0..file.pages().len() {
            file.edit(page, |all| {
                all.retain(|o| o.operator != "BDC" && o.operator != "EMC");
            });
        }
    }),
    ("as a form", |file| {
        let id = file.pages()[0];
        let content = file.0.get_page_content(id);
        let resources = file.page(0).get(b"Resources").unwrap().clone();
        let form = lopdf::Stream::new(
            dictionary! {
                "Type" => "XObject", "Subtype" => "Form", "Resources" => resources,
                "BBox" => vec![0.into(), 0.into(), 2_000.into(), 2_000.into()],
                "Matrix" => vec![2.into(), 0.into(), 0.into(), 2.into(), 0.into(), 0.into()],
            },
            content,
        );
        let form = file.0.add_object(form);
        let resources = dictionary! { "XObject" => dictionary! { "All" => form } };
        file.page(0).set("Resources", resources);
        file.content(0, b"q .5 0 0 .5 0 0 cm /All Do Q".to_vec());
    }),
    ("in several streams", |file| {
        let id = file.pages()[0];
        let content = file.0.get_page_content(id);
        let cut = content.windows(5).position(|w| w == b" Tm\n(").unwrap() + 4;
        let parts = [&content[..cut], &content[cut..]].map(|part| {
            let stream = lopdf::Stream::new(lopdf::Dictionary::new(), part.to_vec());
            Object::from(file.0.add_object(stream))
        });
        file.page(0).set("Contents", parts.to_vec());
    }),
    ("each tick a stroke by itself", |file| {
        for page in 0..file.pages().len() {
            file.edit(page, |all| {
                for run in tick_rows(all).into_iter().rev() {
                    let ticks = ticks(all, &run);
                    all.splice(run.range.start - 2..run.range.end, ticks);
                }
            });
        }
    }),
    ("rows of ticks from their other ends", |file| {
        file.edit(0, |all| {
            for run in tick_rows(all).into_iter().rev() {
                turned(all, &run);
            }
        });
    }),
    ("with a page of another kind", |file| {
        let page = dictionary! {
            "Type" => "Page", "MediaBox" => vec![0.into(), 0.into(), 300.into(), 200.into()],
        };
        let page = file.0.add_object(page);
        let root =
            file.0.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
        let root = file.0.get_dictionary_mut(root).unwrap();
        let mut kids = root.get(b"Kids").unwrap().as_array().unwrap().clone();
        kids.push(page.into());
        root.set("Kids", kids);
    }),
];

/// The ticks of a row, each from its foot to its head.
fn ticks(all: &[Operation], run: &Run) -> Vec<Operation> {
    let wide = f64::from(all[run.range.start - 2].operands[0].as_float().unwrap());
    let dashes = all[run.range.start - 1].operands[0].as_array().unwrap();
    let [thick, gap] = [0, 1].map(|i| f64::from(dashes[i].as_float().unwrap()));
    let solid = vec![Object::Array(vec![]), 0.into()];
    let mut ticks = vec![op("w", &[thick]), Operation::new("d", solid)];
    for pair in places(&all[run.range.clone()]).chunks_exact(2) {
        let (long, way) =
            ((pair[1].0 - pair[0].0).abs(), (pair[1].0 - pair[0].0).signum());
        let mut at = thick / 2.0;
        while at < long {
            let x = pair[0].0 + at * way;
            ticks.push(op("m", &[x, pair[0].1 - wide / 2.0]));
            ticks.push(op("l", &[x, pair[0].1 + wide / 2.0]));
            at += thick + gap;
        }
    }
    ticks.push(op("S", &[]));
    ticks
}

/// Draws the lines of a row from their other ends, a whole round into their dashes.
fn turned(all: &mut [Operation], run: &Run) {
    for pair in all[run.range.clone()].chunks_exact_mut(2) {
        let (one, two) = pair.split_at_mut(1);
        std::mem::swap(&mut one[0].operands, &mut two[0].operands);
    }
    let dashes = &mut all[run.range.start - 1].operands;
    let lengths = dashes[0].as_array().unwrap().iter();
    dashes[1] = real(lengths.map(|n| f64::from(n.as_float().unwrap())).sum());
}

/// The judge of ink finds nothing in them that forbids to punch.
#[test]
fn what_only_looks_different_is_clean() {
    let mut wrong = Vec::new();
    let belts = belts_on(&["a4", "letter"]);
    for (nth, (name, change)) in CHANGES.iter().enumerate() {
        for drawn in belts.iter().skip(nth).step_by(CHANGES.len()) {
            let mut file = Open::file(&drawn.bytes);
            change(&mut file);
            let report = by_ink(drawn, &file.bytes());
            if !errors(&report.findings).is_empty() || report.marks.is_empty() {
                let found = words(&report.findings);
                wrong.push(format!("{}, {name}:\n{found}", drawn.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A page that was multiplied for a printer, held against the print of a true one.
#[test]
fn the_factors_of_a_printer_are_named() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    file.map(0, [1.0125, 0.0, 0.0, 0.998, -5.0, 0.6]);
    let report = by_ink(&drawn, &file.bytes());
    let scaled =
        report.findings.iter().find(|f| f.rule.as_str() == "sheet-scaled").unwrap();
    assert!(scaled.found.contains("101.25"), "{}", scaled.found);
    assert!(scaled.found.contains("corrected for a printer"), "{}", scaled.found);
}

/// A page that a program made smaller when it saved it anew.
#[test]
fn a_shrunk_page_is_named() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    file.map(1, [0.9988, 0.0, 0.0, 0.9988, 0.5, 0.4]);
    let report = by_ink(&drawn, &file.bytes());
    let scaled =
        report.findings.iter().find(|f| f.rule.as_str() == "sheet-scaled").unwrap();
    assert!(scaled.found.contains("99.88"), "{}", scaled.found);
    assert!(scaled.found.contains("saved it anew"), "{}", scaled.found);
}

/// The sheets of a print in files of their own are one set, in any order.
#[test]
fn several_files_are_one_set() {
    let all = all_on(&["a4"]).into_iter().filter(|d| d.set.sheets.len() > 1).take(3);
    for drawn in all.collect::<Vec<Drawn>>() {
        let one = |kept: usize| {
            let mut file = Open::file(&drawn.bytes);
            file.kids(&[kept]);
            file.bytes()
        };
        let files: Vec<Vec<u8>> = (0..drawn.set.sheets.len()).map(one).collect();
        let named: Vec<&[u8]> = files.iter().map(Vec::as_slice).collect();
        let report = by_ink_of(&drawn, &named);
        assert!(report.findings.is_empty(), "{}", words(&report.findings));
        let backwards: Vec<&[u8]> = named.iter().rev().copied().collect();
        let report = by_ink_of(&drawn, &backwards);
        assert!(errors(&report.findings).is_empty(), "{}", words(&report.findings));
        let report = by_ink_of(&drawn, &named[1..]);
        let missing = report.findings.iter().any(|f| f.rule.as_str() == "sheet-missing");
        assert!(missing, "{}", words(&report.findings));
    }
}

/// Bytes that are broken in any way are refused or found, and nothing else.
#[test]
fn broken_bytes_do_no_harm() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut plain = Open::file(&drawn.bytes);
    for page in 0..plain.pages().len() {
        let operations = plain.operations(page);
        plain.draw(page, operations);
    }
    let mut random = Random::new(0x1234_5678_9ABC_DEF0);
    let mut refused = 0;
    for (bytes, tries) in [(drawn.bytes.clone(), 40), (plain.bytes(), 60)] {
        for _ in 0..tries {
            let mut broken = bytes.clone();
            for _ in 0..=random.below(12) {
                let at = random.below(broken.len());
                match random.below(4) {
                    0 => broken.truncate(at.max(1)),
                    1 => {
                        broken.drain(at..(at + random.below(40)).min(broken.len()));
                        broken.push(b'\n');
                    }
                    2 => broken[at] = b"0-.(<[/%>Qq "[random.below(12)],
                    _ => broken[at] = u8::try_from(random.below(256)).unwrap(),
                }
            }
            let print = Print { set: &drawn.set, layout: &drawn.layout };
            let read = verify_print(&[("broken.pdf", &broken)], &print, &[]);
            refused += usize::from(read.is_err());
            let alone = verify_alone(&[("broken.pdf", &broken)]);
            assert_eq!(read.is_err(), alone.is_err());
        }
    }
    assert!(refused > 5, "so many breaks must break something: {refused}");
    for bytes in [&b""[..], b"%PDF-1.7", &[0xFF; 1_000]] {
        assert!(verify_alone(&[("broken.pdf", bytes)]).is_err());
    }
}

/// More dashes than paper has room for are no sheet's, and are not counted out.
#[test]
fn endless_dashes_end() {
    let drawn = belts_on(&["a4"]).remove(0);
    for dashes in ["[.0000001]", "[0 .0000001]", "[.00001 0 0 .00001]"] {
        let mut file = Open::file(&drawn.bytes);
        let content = format!("9 w {dashes} 0 d 0 0 m 500 700 l S");
        file.content(0, content.into_bytes());
        // Refused, or read as a line; it ends either way, and is no sheet.
        let bytes = file.bytes();
        let print = Print { set: &drawn.set, layout: &drawn.layout };
        let read = verify_print(&[("endless.pdf", &bytes)], &print, &[]);
        assert!(read.is_err() || !errors(&read.unwrap().findings).is_empty(), "{dashes}");
    }
}

/// A form that draws itself, over and over, ends.
#[test]
fn endless_drawings_end() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    let own = lopdf::Stream::new(
        dictionary! { "Type" => "XObject", "Subtype" => "Form" },
        b"/All Do /All Do /All Do".to_vec(),
    );
    let form = file.0.add_object(own);
    let resources = dictionary! { "XObject" => dictionary! { "All" => form } };
    file.page(0).set("Resources", resources.clone());
    file.0
        .get_object_mut(form)
        .unwrap()
        .as_stream_mut()
        .unwrap()
        .dict
        .set("Resources", resources);
    file.content(0, b"/All Do".to_vec());
    // It ends, and is no sheet.
    let bytes = file.bytes();
    let print = Print { set: &drawn.set, layout: &drawn.layout };
    let read = verify_print(&[("endless.pdf", &bytes)], &print, &[]);
    assert!(read.is_err() || !errors(&read.unwrap().findings).is_empty());
}

/// Some kilobytes that would take gigabytes once they are open.
#[test]
fn files_that_swell_are_refused() {
    let read = |objects: &[String], times| {
        let file = listed(objects, times);
        let read = verify_alone(&[("swells.pdf", &file)]);
        read.map(|report| report.findings[0].rule.as_str()).map_err(|why| why.to_string())
    };
    let is_refused = |read: Result<&str, String>| {
        let why = read.unwrap_err();
        assert!(why.contains("far more than any print"), "{why}");
    };
    let large = format!("<</Kids[{}]>>", "0 ".repeat(20_000));
    let large = [large];
    assert!(read(&large, 1).unwrap_err().contains("no pages"));
    is_refused(read(&large, 500));

    // A packed run whose objects all lie at one place, and one of the same in their order.
    let run = |step: usize| {
        let index: Vec<String> =
            (0..20_000).map(|n| format!("{} {} ", n + 10, n * step)).collect();
        let (first, body) = (index.concat(), "0 ".repeat(20_000));
        let body = if step == 0 { format!("[{body}]") } else { body };
        let (length, n) = (first.len() + body.len(), first.len());
        format!(
            "<</Type/ObjStm/N 20000/First {n}/Length {length}>>stream\n{first}{body}\n\
             endstream"
        )
    };
    let pages = "<</Kids[]>>".to_owned();
    assert!(read(&[pages.clone(), run(2)], 1).unwrap_err().contains("no pages"));
    is_refused(read(&[pages, run(0)], 1));
}
