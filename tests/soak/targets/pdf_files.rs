//! Files for the readers: sound ones that are garbled in their bytes or in their objects, and
//! structures that are made to do harm.

use crate::common::random::Random;
use crate::common::raw_pdf::listed;
use crate::mutate::{noise, text};
use lopdf::{Dictionary, Document, Object, Stream, StringFormat, dictionary};
use serde_json::Value;
use std::sync::OnceLock;
use strapwright::export::pdf::pdf;
use strapwright::layout::Layout;
use strapwright::paginate::{Heading, Paper, Request, paginate};
use strapwright::prepare;
use strapwright::template::DEMO_JOB;

struct Sound {
    layout: Layout,
    /// As they are written, and with their streams open.
    files: Vec<Vec<u8>>,
    open: Vec<Document>,
}

fn sound() -> &'static Sound {
    static SOUND: OnceLock<Sound> = OnceLock::new();
    SOUND.get_or_init(|| {
        let (job, fit, layout) =
            prepare("demo", DEMO_JOB, &[]).laid.expect("the demo has no mistakes");
        let heading = Heading::new(&job, fit.as_ref(), &layout);
        let files: Vec<Vec<u8>> = ["a4", "roll", "120x160mm"]
            .iter()
            .map(|paper| {
                let paper = Paper::parse(paper).unwrap();
                let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
                pdf(&set).unwrap()
            })
            .collect();
        let open = files.iter().map(|file| {
            let mut open = Document::load_mem(file).unwrap();
            open.decompress();
            open
        });
        let open = open.collect();
        Sound { layout, files, open }
    })
}

/// The layout that the sound files show.
pub(crate) fn layout() -> &'static Layout {
    &sound().layout
}

/// A sound file with its streams open.
pub(crate) fn opened(random: &mut Random) -> &'static Document {
    random.pick(&sound().open)
}

/// A file of one of the kinds.
pub(crate) fn file(random: &mut Random) -> Vec<u8> {
    match random.below(20) {
        0 => [b"%PDF-1.7\n".to_vec(), random.bytes(2_000)].concat(),
        1 => {
            let mut bytes = random.pick(&sound().files).clone();
            bytes.truncate(random.below(bytes.len()));
            bytes
        }
        2..=5 => {
            let mut bytes = random.pick(&sound().files).clone();
            noise(random, &mut bytes);
            bytes
        }
        6 => {
            let mut bytes = Vec::new();
            random.pick(&sound().open).clone().save_to(&mut bytes).unwrap();
            noise(random, &mut bytes);
            bytes
        }
        7 => harmful(random),
        8 => patterned(random),
        _ => garbled(random),
    }
}

/// Objects and pages' content changed, in a file that is sound as a file.
fn garbled(random: &mut Random) -> Vec<u8> {
    let mut document = random.pick(&sound().open).clone();
    let ids: Vec<_> = document.objects.keys().copied().collect();
    for _ in 0..=random.below(4) {
        let id = *random.pick(&ids);
        let any = Object::Reference(*random.pick(&ids));
        let Some(object) = document.objects.get_mut(&id) else { continue };
        match object {
            Object::Stream(stream) if !random.one_in(4) => {
                content(random, &mut stream.content);
            }
            _ => change(random, object, &any, 0),
        }
    }
    if random.one_in(10) {
        document.trailer.set("Root", Object::Reference(*random.pick(&ids)));
    }
    saved(document)
}

fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

/// Operators dropped, said again and given other numbers.
fn content(random: &mut Random, bytes: &mut Vec<u8>) {
    const WORDS: &[&str] = &[
        "q",
        "Q",
        "cm",
        "BT",
        "ET",
        "Tf",
        "Tj",
        "TJ",
        "Td",
        "Tm",
        "re",
        "S",
        "f",
        "c",
        "v",
        "y",
        "h",
        "m",
        "l",
        "Do",
        "BDC",
        "EMC",
        "ID",
        "EI",
        "BI",
        "1e30",
        "-1e30",
        "1e-30",
        "0 0 0 0 0 0 cm",
        "<<",
        ">>",
        "[",
        "]",
        "(",
        ")",
        "<",
        "0.00001 0 0 0.00001 0 0 cm",
    ];
    if bytes.is_ascii() || random.one_in(2) {
        let sample = String::from_utf8_lossy(bytes).into_owned();
        *bytes = text(random, &[sample], WORDS);
    } else {
        noise(random, bytes);
    }
}

/// Another value in the place of one within an object, `any` among them.
fn change(random: &mut Random, object: &mut Object, any: &Object, depth: usize) {
    if depth < 4 && !random.one_in(4) {
        match object {
            Object::Dictionary(own) | Object::Stream(Stream { dict: own, .. })
                if !own.is_empty() =>
            {
                let at = random.below(own.len());
                if random.one_in(8) {
                    let key = own.iter().nth(at).unwrap().0.clone();
                    own.remove(&key);
                } else if let Some((_, inner)) = own.iter_mut().nth(at) {
                    change(random, inner, any, depth + 1);
                }
                return;
            }
            Object::Array(all) if !all.is_empty() => {
                let at = random.below(all.len());
                match random.below(6) {
                    0 => drop(all.remove(at)),
                    1 => all.push(all[at].clone()),
                    _ => change(random, &mut all[at], any, depth + 1),
                }
                return;
            }
            _ => {}
        }
    }
    *object = match random.below(11) {
        0 => Object::Null,
        1 => Object::Boolean(true),
        2 => Object::Integer(i64::from_le_bytes(random.next().to_le_bytes())),
        3 => Object::Integer(i64::try_from(random.below(400)).unwrap() - 100),
        4 => Object::Real(f32::from_bits(u32::try_from(random.below(1 << 32)).unwrap())),
        5 => Object::Name(random.bytes(12)),
        6 => Object::String(random.bytes(40), StringFormat::Hexadecimal),
        7 => Object::Array(vec![any.clone(); random.below(30)]),
        8 => Object::Dictionary(Dictionary::from_iter([("Kids", any.clone())])),
        9 => Object::Array(vec![object.clone(), any.clone()]),
        _ => any.clone(),
    };
}

/// A sound file that fills a part of its pages with a pattern, a shading or a mask, which may
/// have any size and number.
fn patterned(random: &mut Random) -> Vec<u8> {
    let mut document = random.pick(&sound().open).clone();
    let steps = [0.0001, 0.001, 0.01, 1.0, 40.0, -1.0, 0.0];
    let pair =
        |random: &mut Random| [random.pick(&steps), random.pick(&steps)].map(|n| *n);
    let [x, y] = pair(random);
    let [wide, high] = pair(random);
    let bounds: Vec<Object> = [0.0, 0.0, wide, high].map(Object::Real).into();
    let tile = dictionary! {
        "Type" => "Pattern", "PatternType" => 1, "PaintType" => 1, "TilingType" => 1,
        "BBox" => bounds.clone(), "XStep" => Object::Real(x), "YStep" => Object::Real(y),
        "Resources" => dictionary! {},
    };
    let tile = document.add_object(Stream::new(tile, b"0 0 1 1 re f".to_vec()));
    let shading = dictionary! {
        "ShadingType" => 2, "ColorSpace" => "DeviceGray", "Coords" => bounds.clone(),
        "Function" => dictionary! {
            "FunctionType" => 2, "N" => Object::Real(y),
            "Domain" => vec![0.into(), 1.into()],
        },
    };
    let shading = document.add_object(shading);
    let form = dictionary! {
        "Type" => "XObject", "Subtype" => "Form", "BBox" => bounds,
        "Group" => dictionary! { "S" => "Transparency" },
    };
    let form = document.add_object(Stream::new(form, b"0 0 1 1 re f".to_vec()));
    let mask =
        dictionary! { "SMask" => dictionary! { "S" => "Luminosity", "G" => form } };
    let mask = document.add_object(mask);
    let page = *random.pick(&document.get_pages().into_values().collect::<Vec<_>>());
    let resources = document.get_dictionary(page).unwrap().get(b"Resources").unwrap();
    let resources = resources.as_reference().unwrap();
    let resources = document.get_dictionary_mut(resources).unwrap();
    resources.set("Pattern", dictionary! { "P" => tile });
    resources.set("Shading", dictionary! { "S" => shading });
    resources.set("ExtGState", dictionary! { "M" => mask });
    let mut content = document.get_page_content(page);
    let drawn = [
        "/Pattern cs /P scn 0 0 900 900 re f",
        "/Pattern CS /P SCN 9 w 0 0 m 900 900 l S",
        "/S sh",
        "/M gs 0 0 900 900 re f",
    ];
    content.extend(format!("\n{}\n", random.pick(&drawn)).bytes());
    document.change_page_content(page, content).unwrap();
    saved(document)
}

/// A sound file that says something else of its print.
pub(crate) fn with_metadata(random: &mut Random) -> Vec<u8> {
    let mut document = sound().open[0].clone();
    let info = document.trailer.get(b"Info").and_then(Object::as_reference).unwrap();
    let info = document.get_dictionary_mut(info).unwrap();
    let old = info.get(b"StrapwrightPrint").and_then(Object::as_str).unwrap();
    let old: Value = serde_json::from_slice(old).unwrap();
    let old = serde_json::to_string_pretty(&old).unwrap();
    let words = ["0,", "999999999999,", "-1,", "\"size\": \"x\",", "[0, 5],", "{}", "]"];
    let new = text(random, &[old], &words);
    info.set("StrapwrightPrint", Object::string_literal(new));
    saved(document)
}

/// A file with these objects, the first of them the catalog.
fn of_objects(objects: Vec<Object>) -> Vec<u8> {
    let mut document = Document::with_version("1.7");
    let ids: Vec<_> = objects.into_iter().map(|o| document.add_object(o)).collect();
    document.trailer.set("Root", Object::Reference(ids[0]));
    saved(document)
}

fn refer(number: u32) -> Object {
    Object::Reference((number, 0))
}

/// One page with this content and these resources.
fn page_of(content: &[u8], resources: Dictionary, more: Vec<Object>) -> Vec<u8> {
    let size: Vec<Object> = [0, 0, 595, 842].map(Object::Integer).into();
    let mut objects = vec![
        Object::Dictionary(dictionary! { "Type" => "Catalog", "Pages" => refer(2) }),
        Object::Dictionary(dictionary! {
            "Type" => "Pages", "Kids" => vec![refer(3)], "Count" => 1,
        }),
        Object::Dictionary(dictionary! {
            "Type" => "Page", "Parent" => refer(2), "MediaBox" => size,
            "Contents" => refer(4), "Resources" => resources,
        }),
        Object::Stream(Stream::new(Dictionary::new(), content.to_vec())),
    ];
    objects.extend(more);
    of_objects(objects)
}

/// Bytes that unpack to `many` spaces.
fn packed(many: usize) -> Stream {
    let mut stream = Stream::new(Dictionary::new(), vec![b' '; many]);
    stream.compress().unwrap();
    stream
}

/// Structures that are made to do harm.
fn harmful(random: &mut Random) -> Vec<u8> {
    let n = random.below(3_000) + 1;
    match random.below(12) {
        // Pages within themselves.
        0 => of_objects(vec![
            Object::Dictionary(dictionary! { "Type" => "Catalog", "Pages" => refer(2) }),
            Object::Dictionary(dictionary! { "Kids" => vec![refer(2); n % 50 + 1] }),
        ]),
        // References that go in a circle.
        1 => of_objects(vec![refer(2), refer(3), refer(2)]),
        // A form within itself, many times.
        2 => {
            let form = dictionary! {
                "Type" => "XObject", "Subtype" => "Form",
                "Resources" => dictionary! { "XObject" => dictionary! { "F" => refer(5) } },
            };
            let form = Object::Stream(Stream::new(form, b"/F Do ".repeat(n % 40 + 1)));
            let resources = dictionary! { "XObject" => dictionary! { "F" => refer(5) } };
            page_of(&b"/F Do ".repeat(n), resources, vec![form])
        }
        // Content that unpacks to far more than it is.
        3 => {
            let mut document =
                Document::load_mem(&page_of(b"", Dictionary::new(), vec![])).unwrap();
            document.objects.insert((4, 0), Object::Stream(packed(40 << 20)));
            saved(document)
        }
        // The same content over and over.
        4 => {
            let content = b"0 0 m 9 9 l S ".repeat(n);
            let mut document =
                Document::load_mem(&page_of(&content, Dictionary::new(), vec![]))
                    .unwrap();
            let page = document.get_object_mut((3, 0)).unwrap().as_dict_mut().unwrap();
            page.set("Contents", vec![refer(4); 200]);
            saved(document)
        }
        // Deep brackets, in the content and in the file.
        5 => page_of(&b"[".repeat(n * 20), Dictionary::new(), vec![]),
        6 => [b"%PDF-1.7\n1 0 obj\n".to_vec(), b"[".repeat(n * 20)].concat(),
        7 => page_of(&b"(".repeat(n * 20), Dictionary::new(), vec![]),
        // States that are kept and never taken back.
        8 => page_of(&b"q 1.1 0 0 1.1 0 0 cm ".repeat(n), Dictionary::new(), vec![]),
        // A table that goes before itself.
        9 => {
            let mut file = listed(&[], 1);
            let at = file.windows(4).rposition(|w| w == b"xref").unwrap_or(0);
            let table = file.windows(5).position(|w| w == b"xref\n").unwrap_or(0);
            let trailer = format!("/Prev {table}/Root");
            let text = String::from_utf8_lossy(&file).replacen("/Root", &trailer, 1);
            file = text.into_bytes();
            file.truncate(if random.one_in(4) { at } else { usize::MAX });
            file
        }
        // One object again and again in the table of the file.
        10 => listed(&[format!("<</Kids[{}]>>", "0 ".repeat(n))], n % 500 + 1),
        // A packed run of objects that all lie at the same place, or nearly.
        _ => {
            let step = random.below(3);
            let index: Vec<String> =
                (0..n).map(|i| format!("{} {} ", i + 10, i * step)).collect();
            let (first, body) = (index.concat(), format!("[{}]", "0 ".repeat(n)));
            let (length, at) = (first.len() + body.len(), first.len());
            let run = format!(
                "<</Type/ObjStm/N {n}/First {at}/Length {length}>>stream\n{first}{body}\n\
                 endstream"
            );
            listed(&["<</Kids[]>>".to_owned(), run], 1)
        }
    }
}
