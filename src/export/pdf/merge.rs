//! Many prints in one file, each with its bookmark. The objects of each print are copied and
//! written as it comes; only a few numbers of it are kept in memory.

use super::catalog::{MAKER, layers, name, viewing};
use lopdf::{
    Dictionary, Document, Object, ObjectId, Stream, StringFormat, decode_text_string,
    dictionary, text_string,
};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io::{self, Write};

/// Numbers of the objects that are written last and referred to before.
const CATALOG: u32 = 1;
const PAGES: u32 = 2;
const OUTLINES: u32 = 3;
const INFO: u32 = 4;
const RESERVED: u32 = 4;

/// A file to which prints are added one after another.
#[derive(Debug)]
pub struct Merger<W: Write> {
    out: W,
    /// Where the next byte stands.
    at: u64,
    hash: Sha256,
    /// The offset of each object, by its number less one; zero before it is written.
    offsets: Vec<u64>,
    /// The layers, which all prints share, by their names.
    layers: BTreeMap<Vec<u8>, u32>,
    prints: Vec<Print>,
    /// Labels of the pages: index of the first, and its dictionary.
    labels: Vec<(i64, Dictionary)>,
    pages: usize,
}

/// A print in the file.
#[derive(Debug)]
struct Print {
    bookmark: String,
    /// Object number of its node in the page tree.
    node: u32,
    /// Object number of its first page.
    first: u32,
    /// How many pages it has.
    count: usize,
}

/// The numbers in the file of the objects of one print.
type Numbers = BTreeMap<ObjectId, u32>;

impl<W: Write> Merger<W> {
    /// Begins a file.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn new(out: W) -> io::Result<Self> {
        let mut merger = Self {
            out,
            at: 0,
            hash: Sha256::new(),
            offsets: vec![0; RESERVED as usize],
            layers: BTreeMap::new(),
            prints: Vec::new(),
            labels: Vec::new(),
            pages: 0,
        };
        // Four bytes above 127 say that this is no text (ISO 32000-1:2008, 7.5.2).
        merger.put(b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")?;
        Ok(merger)
    }

    /// Adds the pages of a print, the bytes of a file that [`super::pdf`] made, and returns the
    /// number of the first of them, from 1.
    ///
    /// # Errors
    /// When the bytes are no such file, or the merged file cannot be written.
    pub fn add(&mut self, bookmark: &str, file: &[u8]) -> io::Result<usize> {
        let document = Document::load_mem(file).map_err(io::Error::other)?;
        let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
        let Some(&first) = pages.first() else {
            return Err(io::Error::other("a print without a page"));
        };
        self.label(&document, bookmark)?;
        let mut numbers = Numbers::new();
        let node = self.number();
        let mut kids = Vec::new();
        for &page in &pages {
            let number = self.number();
            numbers.insert(page, number);
            kids.push(Object::Reference((number, 0)));
        }
        let mut waiting = Vec::new();
        for page in &pages {
            let mut own =
                document.get_dictionary(*page).map_err(io::Error::other)?.clone();
            own.remove(b"Parent");
            let mut own = Object::Dictionary(own);
            self.renumber(&mut own, &document, &mut numbers, &mut waiting)?;
            if let Object::Dictionary(own) = &mut own {
                own.set("Parent", Object::Reference((node, 0)));
            }
            self.object(numbers[page], &own)?;
            while let Some(id) = waiting.pop() {
                let mut object =
                    document.get_object(id).map_err(io::Error::other)?.clone();
                self.renumber(&mut object, &document, &mut numbers, &mut waiting)?;
                self.object(numbers[&id], &object)?;
            }
        }
        let count = pages.len();
        let own = dictionary! {
            "Type" => name("Pages"),
            "Parent" => Object::Reference((PAGES, 0)),
            "Count" => number(count),
            "Kids" => kids,
        };
        self.object(node, &own.into())?;
        let before = self.pages;
        self.pages += count;
        let (bookmark, first) = (bookmark.to_owned(), numbers[&first]);
        self.prints.push(Print { bookmark, node, first, count });
        Ok(before + 1)
    }

    /// Ends the file, which is called `title`, and gives back what it was written to.
    ///
    /// # Errors
    /// When it has no page, or cannot be written.
    pub fn finish(mut self, title: &str) -> io::Result<W> {
        if self.prints.is_empty() {
            return Err(io::Error::other("there is no print to put together"));
        }
        let prints = std::mem::take(&mut self.prints);
        let kids = prints.iter().map(|p| Object::Reference((p.node, 0)));
        let pages = dictionary! {
            "Type" => name("Pages"),
            "Count" => number(prints.iter().map(|p| p.count).sum()),
            "Kids" => kids.collect::<Vec<_>>(),
        };
        self.object(PAGES, &pages.into())?;
        self.outlines(&prints)?;
        let labels = std::mem::take(&mut self.labels).into_iter();
        let labels = labels.flat_map(|(i, label)| [Object::Integer(i), label.into()]);
        let groups: Vec<Object> =
            self.layers.values().map(|n| Object::Reference((*n, 0))).collect();
        let mut catalog = dictionary! {
            "Type" => name("Catalog"),
            "Pages" => Object::Reference((PAGES, 0)),
            "Outlines" => Object::Reference((OUTLINES, 0)),
            "PageLabels" => dictionary! { "Nums" => labels.collect::<Vec<_>>() },
            "OCProperties" => dictionary! { "OCGs" => groups.clone(), "D" => layers(groups) },
        };
        for (key, value) in viewing() {
            catalog.set(key, value);
        }
        self.object(CATALOG, &catalog.into())?;
        let info = dictionary! {
            "Title" => text_string(title),
            "Creator" => Object::string_literal(MAKER),
            "Producer" => Object::string_literal(MAKER),
        };
        self.object(INFO, &info.into())?;
        self.trailer()?;
        self.out.flush()?;
        Ok(self.out)
    }

    /// A bookmark for each print, in one row.
    fn outlines(&mut self, prints: &[Print]) -> io::Result<()> {
        let base = u32::try_from(self.offsets.len()).map_err(io::Error::other)?;
        let numbers: Vec<u32> = prints.iter().map(|_| self.number()).collect();
        for (i, print) in prints.iter().enumerate() {
            let mut item = dictionary! {
                "Title" => text_string(&print.bookmark),
                "Parent" => Object::Reference((OUTLINES, 0)),
                "Dest" => vec![Object::Reference((print.first, 0)), name("Fit")],
            };
            if let Some(before) = i.checked_sub(1).and_then(|i| numbers.get(i)) {
                item.set("Prev", Object::Reference((*before, 0)));
            }
            if let Some(after) = numbers.get(i + 1) {
                item.set("Next", Object::Reference((*after, 0)));
            }
            self.object(numbers[i], &item.into())?;
        }
        let last = numbers.last().copied().unwrap_or(base);
        let outlines = dictionary! {
            "Type" => name("Outlines"),
            "Count" => number(prints.len()),
            "First" => Object::Reference((base + 1, 0)),
            "Last" => Object::Reference((last, 0)),
        };
        self.object(OUTLINES, &outlines.into())
    }

    /// Keeps the page labels of a print, with its bookmark before each.
    fn label(&mut self, document: &Document, bookmark: &str) -> io::Result<()> {
        let labels = document
            .catalog()
            .and_then(|c| c.get(b"PageLabels"))
            .and_then(Object::as_dict)
            .and_then(|l| l.get(b"Nums"))
            .and_then(Object::as_array)
            .map_err(io::Error::other)?;
        for pair in labels.chunks_exact(2) {
            let index = pair[0].as_i64().map_err(io::Error::other)?;
            let mut label = pair[1].as_dict().map_err(io::Error::other)?.clone();
            let own = label.get(b"P").ok().and_then(|p| decode_text_string(p).ok());
            let prefix = format!("{bookmark} {}", own.unwrap_or_default());
            label.set("P", text_string(&prefix));
            let before = i64::try_from(self.pages).map_err(io::Error::other)?;
            self.labels.push((before + index, label));
        }
        Ok(())
    }

    /// Changes the references in an object to the numbers of this file. New objects among
    /// them join `waiting`; a layer becomes the one that is there already.
    fn renumber(
        &mut self,
        object: &mut Object,
        from: &Document,
        numbers: &mut Numbers,
        waiting: &mut Vec<ObjectId>,
    ) -> io::Result<()> {
        match object {
            Object::Reference(id) => {
                if !numbers.contains_key(id) {
                    let number = if let Some(layer) = self.layer(from, *id)? {
                        layer
                    } else {
                        waiting.push(*id);
                        self.number()
                    };
                    numbers.insert(*id, number);
                }
                *id = (numbers[&*id], 0);
            }
            Object::Array(all) => {
                for object in all {
                    self.renumber(object, from, numbers, waiting)?;
                }
            }
            Object::Dictionary(dict) | Object::Stream(Stream { dict, .. }) => {
                for (_, object) in &mut *dict {
                    self.renumber(object, from, numbers, waiting)?;
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// The number of a layer; `None` for another object. All prints share the layers of the
    /// first.
    fn layer(&mut self, from: &Document, id: ObjectId) -> io::Result<Option<u32>> {
        let Ok(group) = from.get_dictionary(id) else { return Ok(None) };
        if !group.has_type(b"OCG") {
            return Ok(None);
        }
        let called =
            group.get(b"Name").and_then(Object::as_str).map_err(io::Error::other)?;
        if let Some(known) = self.layers.get(called) {
            return Ok(Some(*known));
        }
        let number = self.number();
        self.layers.insert(called.to_vec(), number);
        self.object(number, &Object::Dictionary(group.clone()))?;
        Ok(Some(number))
    }

    /// The next free number.
    fn number(&mut self) -> u32 {
        self.offsets.push(0);
        u32::try_from(self.offsets.len()).unwrap_or(u32::MAX)
    }

    fn object(&mut self, number: u32, object: &Object) -> io::Result<()> {
        if let Some(offset) = self.offsets.get_mut(number as usize - 1) {
            *offset = self.at;
        }
        let mut bytes = format!("{number} 0 obj\n").into_bytes();
        write(object, &mut bytes);
        bytes.extend_from_slice(b"\nendobj\n");
        self.put(&bytes)
    }

    /// The table of all objects, and what leads to them (ISO 32000-1:2008, 7.5.4, 7.5.5).
    fn trailer(&mut self) -> io::Result<()> {
        let start = self.at;
        let size = self.offsets.len() + 1;
        self.put(format!("xref\n0 {size}\n0000000000 65535 f \n").as_bytes())?;
        for offset in std::mem::take(&mut self.offsets) {
            self.put(format!("{offset:010} 00000 n \n").as_bytes())?;
        }
        let id = self.hash.clone().finalize().iter().take(16).copied().collect();
        let id = Object::String(id, StringFormat::Hexadecimal);
        let trailer = dictionary! {
            "Size" => number(size),
            "Root" => Object::Reference((CATALOG, 0)),
            "Info" => Object::Reference((INFO, 0)),
            "ID" => vec![id.clone(), id],
        };
        let mut bytes = b"trailer\n".to_vec();
        write(&trailer.into(), &mut bytes);
        bytes.extend_from_slice(format!("\nstartxref\n{start}\n%%EOF\n").as_bytes());
        self.put(&bytes)
    }

    fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.hash.update(bytes);
        self.at += bytes.len() as u64;
        self.out.write_all(bytes)
    }
}

fn number(n: usize) -> Object {
    Object::Integer(i64::try_from(n).unwrap_or(i64::MAX))
}

/// An object as it stands in a file (ISO 32000-1:2008, 7.3). Strings are written in
/// hexadecimal, which needs no escapes.
fn write(object: &Object, to: &mut Vec<u8>) {
    match object {
        Object::Null => to.extend_from_slice(b"null"),
        Object::Boolean(is) => to.extend_from_slice(is.to_string().as_bytes()),
        Object::Integer(n) => to.extend_from_slice(n.to_string().as_bytes()),
        Object::Real(n) => to.extend_from_slice(n.to_string().as_bytes()),
        Object::Name(name) => write_name(name, to),
        Object::String(text, _) => {
            to.push(b'<');
            for byte in text {
                to.extend_from_slice(format!("{byte:02X}").as_bytes());
            }
            to.push(b'>');
        }
        Object::Array(all) => {
            to.push(b'[');
            for (i, object) in all.iter().enumerate() {
                if i > 0 {
                    to.push(b' ');
                }
                write(object, to);
            }
            to.push(b']');
        }
        Object::Dictionary(dictionary) => write_dictionary(dictionary, to),
        Object::Stream(stream) => {
            write_dictionary(&stream.dict, to);
            to.extend_from_slice(b"stream\n");
            to.extend_from_slice(&stream.content);
            to.extend_from_slice(b"\nendstream");
        }
        Object::Reference((number, generation)) => {
            to.extend_from_slice(format!("{number} {generation} R").as_bytes());
        }
    }
}

fn write_dictionary(dictionary: &Dictionary, to: &mut Vec<u8>) {
    to.extend_from_slice(b"<<");
    for (key, value) in dictionary {
        write_name(key, to);
        to.push(b' ');
        write(value, to);
    }
    to.extend_from_slice(b">>");
}

fn write_name(name: &[u8], to: &mut Vec<u8>) {
    to.push(b'/');
    for &byte in name {
        if byte.is_ascii_graphic() && !b"()<>[]{}/%#".contains(&byte) {
            to.push(byte);
        } else {
            to.extend_from_slice(format!("#{byte:02X}").as_bytes());
        }
    }
}
