//! Real prints whose structure says something else: packed runs of objects, lengths, filters,
//! tables and nested arrays, in files that are otherwise whole.

use super::Target;
use super::pdf_files::opened;
use crate::common::random::Random;
use lopdf::{Document, Object, SaveOptions, Stream};
use strapwright::verify::verify_alone;

pub(crate) const TARGET: Target = Target { name: "packing", weight: 4, input, run };

/// Keys whose numbers say how a file is to be read.
const KEYS: [&str; 9] = [
    "/Length ", "/N ", "/First ", "/Size ", "/Prev ", "/W[", "/Index[", "/Count ",
    "xref\n",
];

fn input(random: &mut Random) -> Vec<u8> {
    let mut document = opened(random).clone();
    let ids: Vec<_> = document.objects.keys().copied().collect();
    for _ in 0..random.below(3) {
        let id = *random.pick(&ids);
        let Some(object) = document.objects.get_mut(&id) else { continue };
        if let Object::Stream(stream) = object {
            packed(random, stream);
        } else {
            nested(random, object);
        }
    }
    let mut bytes = saved(random, document);
    for _ in 0..random.below(3) {
        let key = random.pick(&KEYS).as_bytes();
        renumbered(random, &mut bytes, key);
    }
    if random.one_in(6) {
        listed_again(random, &mut bytes);
    }
    bytes
}

fn run(input: &[u8]) -> bool {
    match verify_alone(&[("print.pdf", input)]) {
        Ok(report) => report.sheets > 0,
        Err(why) => {
            assert!(!why.to_string().is_empty());
            false
        }
    }
}

/// Packed once, twice or not at all, and said to be so or otherwise.
fn packed(random: &mut Random, stream: &mut Stream) {
    const FILTERS: [&str; 6] = [
        "FlateDecode",
        "LZWDecode",
        "ASCII85Decode",
        "ASCIIHexDecode",
        "RunLengthDecode",
        "Crypt",
    ];
    if random.one_in(2) {
        // A page that cannot be packed is left as it is.
        let _ = stream.compress();
    }
    let filters = 1 + random.below(4) * random.below(10);
    let names: Vec<Object> = (0..filters)
        .map(|_| Object::Name(random.pick(&FILTERS).as_bytes().to_vec()))
        .collect();
    match random.below(4) {
        0 => stream.dict.set("Filter", Object::Array(names)),
        1 => stream.dict.set("Filter", names[0].clone()),
        2 => drop(stream.dict.remove(b"Filter")),
        _ => stream.content.truncate(random.below(stream.content.len() + 1)),
    }
}

/// What it was, in arrays within arrays.
fn nested(random: &mut Random, object: &mut Object) {
    let mut inner = object.clone();
    for _ in 0..random.below(300) {
        inner = Object::Array(vec![inner; 1]);
    }
    if let Object::Dictionary(own) = object
        && !own.is_empty()
    {
        let key = own.iter().nth(random.below(own.len())).map(|(key, _)| key.clone());
        own.set(key.unwrap(), inner);
    } else {
        *object = inner;
    }
}

/// Written plainly, or with packed runs of so many objects each.
fn saved(random: &mut Random, mut document: Document) -> Vec<u8> {
    let options = SaveOptions::builder()
        .use_object_streams(!random.one_in(4))
        .use_xref_streams(!random.one_in(4))
        .max_objects_per_stream(1 + random.below(200));
    let mut bytes = Vec::new();
    document.save_with_options(&mut bytes, options.build()).unwrap();
    bytes
}

/// Where one of the places with these words ends.
fn after(random: &mut Random, bytes: &[u8], words: &[u8]) -> Option<usize> {
    let found = bytes.windows(words.len()).enumerate().filter(|(_, w)| *w == words);
    let places: Vec<usize> = found.map(|(at, _)| at + words.len()).collect();
    (!places.is_empty()).then(|| *random.pick(&places))
}

/// Another number behind a key, of as many digits: all else stays where it is.
fn renumbered(random: &mut Random, bytes: &mut [u8], key: &[u8]) {
    let Some(from) = after(random, bytes, key) else { return };
    for byte in &mut bytes[from..] {
        if !byte.is_ascii_digit() {
            break;
        }
        if random.one_in(2) {
            *byte = b'0' + u8::try_from(random.below(10)).unwrap();
        }
    }
}

/// The same object at many numbers of a plain table.
fn listed_again(random: &mut Random, bytes: &mut Vec<u8>) {
    let Some(from) = after(random, bytes, b" 00000 n \n") else { return };
    let entry = bytes[from - 20..from].to_vec();
    let again = entry.repeat(random.below(20_000));
    bytes.splice(from..from, again);
}
