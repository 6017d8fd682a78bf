//! Many prints in one file, each with its bookmark.

use super::catalog::{id, info, layers, name, viewing};
use lopdf::{
    Bookmark, Document, Object, ObjectId, decode_text_string, dictionary, text_string,
};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::io::{self, Write};

/// A file to which prints are added one after another.
#[derive(Debug)]
pub struct Merger {
    file: Document,
    /// The root of the page tree.
    root: ObjectId,
    /// The nodes of the page tree, one a print.
    nodes: Vec<Object>,
    /// Labels of the pages: index of the first, and its dictionary.
    labels: Vec<Object>,
    pages: i64,
    /// The layers, which all prints share, by their names.
    layers: BTreeMap<Vec<u8>, ObjectId>,
    /// Over all prints.
    hash: Sha256,
}

impl Default for Merger {
    fn default() -> Self {
        let mut file = Document::with_version("1.7");
        let root = file.new_object_id();
        Self {
            file,
            root,
            nodes: Vec::new(),
            labels: Vec::new(),
            pages: 0,
            layers: BTreeMap::new(),
            hash: Sha256::new(),
        }
    }
}

impl Merger {
    /// Adds the pages of a print, the bytes of a file that [`super::pdf`] made.
    ///
    /// # Errors
    /// When the bytes are no such file.
    pub fn add(&mut self, bookmark: &str, print: &[u8]) -> io::Result<()> {
        self.hash.update(print);
        self.take(bookmark, print).map_err(io::Error::other)
    }

    fn take(&mut self, bookmark: &str, print: &[u8]) -> lopdf::Result<()> {
        let mut print = Document::load_mem(print)?;
        print.renumber_objects_with(self.file.max_id + 1);
        let catalog = print.catalog()?;
        let labels = catalog.get(b"PageLabels")?.as_dict()?.get(b"Nums")?.as_array()?;
        for pair in labels.chunks_exact(2) {
            let mut label = pair[1].as_dict()?.clone();
            let own = label.get(b"P").ok().and_then(|p| decode_text_string(p).ok());
            let prefix = format!("{bookmark} {}", own.unwrap_or_default());
            label.set("P", text_string(&prefix));
            self.labels.extend([(self.pages + pair[0].as_i64()?).into(), label.into()]);
        }
        let node = catalog.get(b"Pages")?.as_reference()?;
        // Of the print its pages alone go over, and what they refer to.
        print.trailer = dictionary! { "Pages" => node };
        self.share_layers(&mut print)?;
        print.prune_objects();
        let pages = print.get_dictionary_mut(node)?;
        pages.set("Parent", self.root);
        let first = pages.get(b"Kids")?.as_array()?.first();
        let first = first.ok_or(lopdf::Error::PageNumberNotFound(1))?.as_reference()?;
        self.pages += pages.get(b"Count")?.as_i64()?;
        self.nodes.push(node.into());
        self.file.max_id = print.max_id;
        self.file.objects.append(&mut print.objects);
        let bookmark = Bookmark::new(bookmark.to_owned(), [0.0; 3], 0, first);
        self.file.add_bookmark(bookmark, None);
        Ok(())
    }

    /// Has a print refer to the layers of the prints before it.
    fn share_layers(&mut self, print: &mut Document) -> lopdf::Result<()> {
        let mut known = BTreeMap::new();
        for (&id, object) in &print.objects {
            if let Ok(group) = object.as_dict()
                && group.has_type(b"OCG")
            {
                let called = group.get(b"Name")?.as_str()?.to_vec();
                known.insert(id, *self.layers.entry(called).or_insert(id));
            }
        }
        print.traverse_objects(|object| {
            if let Object::Reference(id) = object {
                *id = *known.get(id).unwrap_or(id);
            }
        });
        // A layer may be of use to later prints alone.
        let own = known.iter().filter(|(id, shared)| id == shared);
        let own: Vec<Object> = own.map(|(id, _)| Object::Reference(*id)).collect();
        print.trailer.set("Layers", own);
        Ok(())
    }

    /// Writes the file, which is called `title`.
    ///
    /// # Errors
    /// When it has no page, or cannot be written.
    pub fn finish(mut self, title: &str, to: &mut impl Write) -> io::Result<()> {
        let Some(outlines) = self.file.build_outline() else {
            return Err(io::Error::other("there is no print to put together"));
        };
        let pages = dictionary! {
            "Type" => name("Pages"),
            "Count" => self.pages,
            "Kids" => self.nodes,
        };
        self.file.set_object(self.root, pages);
        let groups: Vec<Object> =
            self.layers.into_values().map(Object::Reference).collect();
        let mut catalog = dictionary! {
            "Type" => name("Catalog"),
            "Pages" => self.root,
            "Outlines" => outlines,
            "PageLabels" => dictionary! { "Nums" => self.labels },
            "OCProperties" => dictionary! { "OCGs" => groups.clone(), "D" => layers(groups) },
        };
        for (key, value) in viewing() {
            catalog.set(key, value);
        }
        self.file.trailer = dictionary! {
            "Root" => self.file.add_object(catalog),
            "Info" => self.file.add_object(info(title)),
            "ID" => id(self.hash),
        };
        self.file.save_to(to)?;
        to.flush()
    }
}
