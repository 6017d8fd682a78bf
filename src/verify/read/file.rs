//! The structure of a file: its pages in order, each with its content, its fonts and what
//! it may draw on, and what the file asks of a printer.

use super::plane::{Matrix, Spot};
use super::{Limits, guard};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::BTreeSet;

/// Millimetres to the point of 1/72 in.
const MM: f64 = 25.4 / 72.0;
/// Pages within pages within pages.
const DEEPEST_TREE: usize = 32;

/// A file that is open.
#[derive(Debug)]
pub(super) struct File {
    pub(super) document: Document,
    /// Groups of content that are neither shown nor printed.
    off: BTreeSet<ObjectId>,
}

/// One page as it stands in the file.
#[derive(Debug)]
pub(super) struct PageObject<'a> {
    dictionary: &'a Dictionary,
    resources: Option<&'a Dictionary>,
    media: Option<&'a Object>,
    crop: Option<&'a Object>,
    turn: i64,
}

/// How a group of content is to be taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::verify) enum Layer {
    /// In no group.
    #[default]
    None,
    /// What the knife follows.
    Outline,
    /// What is punched, and targets.
    Punch,
    /// Any other group.
    Other,
    /// Not shown.
    Hidden,
}

impl File {
    pub(super) fn open(bytes: &[u8], limits: &Limits) -> Result<Self, String> {
        if bytes.len() > limits.file {
            return Err(format!(
                "it has {} MiB, and a print of strap sheets has less than {}",
                bytes.len() >> 20,
                limits.file >> 20
            ));
        }
        let document = guard::open(bytes, limits)?;
        if document.is_encrypted() {
            return Err("it is locked by a password".to_owned());
        }
        let mut file = Self { document, off: BTreeSet::new() };
        file.off = file.hidden_groups();
        Ok(file)
    }

    pub(super) fn get<'a>(
        &'a self,
        from: &'a Dictionary,
        key: &str,
    ) -> Option<&'a Object> {
        let object = from.get(key.as_bytes()).ok()?;
        self.document.dereference(object).ok().map(|(_, object)| object)
    }

    fn dictionary<'a>(
        &'a self,
        from: &'a Dictionary,
        key: &str,
    ) -> Option<&'a Dictionary> {
        self.get(from, key)?.as_dict().ok()
    }

    pub(super) fn numbers(&self, array: &Object) -> Vec<f64> {
        let all = array.as_array().map(Vec::as_slice).unwrap_or_default();
        let numbers =
            all.iter().take(16).filter_map(|o| self.document.dereference(o).ok());
        numbers.filter_map(|(_, o)| o.as_float().ok()).map(f64::from).collect()
    }

    /// What the file asks for when it is printed: the name after `/PrintScaling`.
    pub(super) fn print_scaling(&self) -> Option<String> {
        let catalog = self.document.catalog().ok()?;
        let preferences = self.dictionary(catalog, "ViewerPreferences")?;
        let name = self.get(preferences, "PrintScaling")?.as_name().ok()?;
        Some(String::from_utf8_lossy(name).into_owned())
    }

    fn hidden_groups(&self) -> BTreeSet<ObjectId> {
        let off = || {
            let catalog = self.document.catalog().ok()?;
            let properties = self.dictionary(catalog, "OCProperties")?;
            let default = self.dictionary(properties, "D")?;
            self.get(default, "OFF")?.as_array().ok()
        };
        off().into_iter().flatten().filter_map(|o| o.as_reference().ok()).collect()
    }

    /// The pages in their order.
    pub(super) fn pages(&self, limits: &Limits) -> Result<Vec<PageObject<'_>>, String> {
        let root = self.document.catalog().ok().and_then(|c| self.dictionary(c, "Pages"));
        let Some(root) = root else { return Err("it has no pages".to_owned()) };
        let start = PageObject {
            dictionary: root,
            resources: None,
            media: None,
            crop: None,
            turn: 0,
        };
        let mut pages = Vec::new();
        let mut left = limits.pages * 4;
        self.walk(&start, DEEPEST_TREE, &mut left, &mut pages)?;
        if pages.len() > limits.pages {
            return Err(format!("it has more than {} pages", limits.pages));
        }
        Ok(pages)
    }

    /// Collects the leaves below `node`, which hand on what they have (ISO 32000-1:2008,
    /// 7.7.3.4).
    fn walk<'a>(
        &'a self,
        node: &PageObject<'a>,
        depth: usize,
        left: &mut usize,
        pages: &mut Vec<PageObject<'a>>,
    ) -> Result<(), String> {
        if depth == 0 || *left == 0 {
            return Err(
                "its tree of pages is deeper or larger than any print's".to_owned()
            );
        }
        *left -= 1;
        let own = node.dictionary;
        let here = PageObject {
            dictionary: own,
            resources: self.dictionary(own, "Resources").or(node.resources),
            media: self.get(own, "MediaBox").or(node.media),
            crop: self.get(own, "CropBox").or(node.crop),
            turn: self
                .get(own, "Rotate")
                .and_then(|r| r.as_i64().ok())
                .unwrap_or(node.turn),
        };
        let Some(kids) = self.get(own, "Kids").and_then(|k| k.as_array().ok()) else {
            pages.push(here);
            return Ok(());
        };
        for kid in kids {
            let kid =
                self.document.dereference(kid).ok().and_then(|(_, o)| o.as_dict().ok());
            let Some(dictionary) = kid else { continue };
            self.walk(&PageObject { dictionary, ..here }, depth - 1, left, pages)?;
        }
        Ok(())
    }

    /// The bytes of a stream, unpacked, at most `most`.
    pub(super) fn unpacked(stream: &Stream, most: usize) -> Result<Vec<u8>, String> {
        stream
            .get_plain_content_with_limit(most)
            .map_err(|error| format!("its content cannot be unpacked ({error})"))
    }

    /// Width and height of a page in mm as it is shown, and the way there from its content.
    pub(super) fn frame(&self, page: &PageObject<'_>) -> Option<(Spot, Matrix)> {
        let corners = |object: Option<&Object>| {
            let Ok([x1, y1, x2, y2]) = <[f64; 4]>::try_from(self.numbers(object?)) else {
                return None;
            };
            let low = Spot::new(x1.min(x2), y1.min(y2));
            let high = Spot::new(x1.max(x2), y1.max(y2));
            (low.is_sane() && high.is_sane()).then_some((low, high))
        };
        // Nothing beyond the medium is shown, whatever the crop box says.
        let (low, high) = match (corners(page.crop), corners(page.media)) {
            (Some((low, high)), Some((least, most))) => (
                Spot::new(low.x.max(least.x), low.y.max(least.y)),
                Spot::new(high.x.min(most.x), high.y.min(most.y)),
            ),
            (crop, media) => crop.or(media)?,
        };
        if low.x >= high.x || low.y >= high.y {
            return None;
        }
        let unit = self.get(page.dictionary, "UserUnit").and_then(|u| u.as_float().ok());
        let mm = f64::from(unit.unwrap_or(1.0)) * MM;
        let size = (high - low) * mm;
        let flat = Matrix::shift(Spot::ZERO - low).then(Matrix::scale(mm, mm));
        // /Rotate counts clockwise.
        let (turned, size) = match page.turn.rem_euclid(360) {
            90 => (Matrix::shift(Spot::new(-size.x, 0.0)), Spot::new(size.y, size.x)),
            180 => (Matrix::shift(Spot::new(-size.x, -size.y)), size),
            270 => (Matrix::shift(Spot::new(0.0, -size.y)), Spot::new(size.y, size.x)),
            _ => (Matrix::IDENTITY, size),
        };
        let turns = -(page.turn.rem_euclid(360) / 90);
        Some((size, flat.then(turned).then(Matrix::quarter_turns(turns))))
    }

    /// What a page draws, all its streams one after the other.
    pub(super) fn content(
        &self,
        page: &PageObject<'_>,
        most: usize,
    ) -> Result<Vec<u8>, String> {
        let mut all = Vec::new();
        let add = |stream: &Object, all: &mut Vec<u8>| {
            let stream = self.document.dereference(stream).ok().map(|(_, o)| o);
            let Some(Object::Stream(stream)) = stream else {
                return Err("a part of its content is missing".to_owned());
            };
            let left = most.saturating_sub(all.len());
            all.append(&mut Self::unpacked(stream, left)?);
            all.push(b'\n');
            Ok(())
        };
        match self.get(page.dictionary, "Contents") {
            None => {}
            Some(Object::Array(streams)) => {
                for stream in streams {
                    add(stream, &mut all)?;
                }
            }
            Some(stream) => add(stream, &mut all)?,
        }
        Ok(all)
    }

    /// An entry of a category of `resources`, with the id that tells it from others.
    pub(super) fn resource<'a>(
        &'a self,
        resources: Option<&'a Dictionary>,
        category: &str,
        name: &[u8],
    ) -> Option<(Option<ObjectId>, &'a Object)> {
        let object = self.dictionary(resources?, category)?.get(name).ok()?;
        self.document.dereference(object).ok()
    }

    /// How the group of an object with this `/OC` entry or property is to be taken.
    pub(super) fn layer(&self, id: Option<ObjectId>, group: &Dictionary) -> Layer {
        if id.is_some_and(|id| self.off.contains(&id)) {
            return Layer::Hidden;
        }
        let name =
            self.get(group, "Name").and_then(|n| lopdf::decode_text_string(n).ok());
        match name.as_deref() {
            Some("outline") => Layer::Outline,
            Some("punch") => Layer::Punch,
            Some(_) => Layer::Other,
            None => self.member_of(group),
        }
    }

    /// The layer of a membership dictionary (ISO 32000-1:2008, 8.11.2.2): its first group's.
    fn member_of(&self, group: &Dictionary) -> Layer {
        let Ok(groups) = group.get(b"OCGs") else { return Layer::None };
        let first = match groups {
            Object::Array(all) => all.first(),
            one => Some(one),
        };
        let id = first.and_then(|o| o.as_reference().ok());
        let named = id.and_then(|id| self.document.get_dictionary(id).ok());
        named.filter(|g| g.has(b"Name")).map_or(Layer::None, |g| self.layer(id, g))
    }

    /// The layer that a form or a page's part is in by its `/OC`.
    pub(super) fn own_layer(&self, of: &Dictionary) -> Option<Layer> {
        let id = of.get(b"OC").ok()?.as_reference().ok();
        self.dictionary(of, "OC").map(|group| self.layer(id, group))
    }

    pub(super) fn resources_of<'a>(
        &'a self,
        form: &'a Dictionary,
    ) -> Option<&'a Dictionary> {
        self.dictionary(form, "Resources")
    }

    pub(super) fn matrix_of(&self, form: &Dictionary) -> Matrix {
        let numbers =
            self.get(form, "Matrix").map(|m| self.numbers(m)).unwrap_or_default();
        <[f64; 6]>::try_from(numbers).map_or(Matrix::IDENTITY, Matrix)
    }
}

impl<'a> PageObject<'a> {
    pub(super) fn resources(&self) -> Option<&'a Dictionary> {
        self.resources
    }
}
