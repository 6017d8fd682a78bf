//! Finished files with one thing made wrong in each, by `lopdf` and by hand: what a fault
//! of the program, a printer's dialogue or a mix-up of pages would do.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

pub(crate) const PT: f64 = 72.0 / 25.4;

/// A file that is open for mischief.
#[derive(Clone, Debug)]
pub(crate) struct Open(pub(crate) Document);

pub(crate) fn op(operator: &str, operands: &[f64]) -> Operation {
    let operands = operands.iter().map(|n| real(*n)).collect();
    Operation::new(operator, operands)
}

#[expect(clippy::cast_possible_truncation, reason = "a file's numbers have 32 bits here")]
pub(crate) fn real(n: f64) -> Object {
    Object::Real(n as f32)
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

impl Open {
    pub(crate) fn file(bytes: &[u8]) -> Self {
        Self(Document::load_mem(bytes).unwrap())
    }

    pub(crate) fn bytes(&mut self) -> Vec<u8> {
        let mut bytes = Vec::new();
        self.0.save_to(&mut bytes).unwrap();
        bytes
    }

    pub(crate) fn pages(&self) -> Vec<ObjectId> {
        self.0.get_pages().into_values().collect()
    }

    pub(crate) fn page(&mut self, index: usize) -> &mut Dictionary {
        let id = self.pages()[index];
        self.0.get_dictionary_mut(id).unwrap()
    }

    pub(crate) fn size(&self, index: usize) -> (f64, f64) {
        let page = self.0.get_dictionary(self.pages()[index]).unwrap();
        let media = page.get(b"MediaBox").unwrap().as_array().unwrap();
        (number(&media[2]), number(&media[3]))
    }

    pub(crate) fn operations(&self, index: usize) -> Vec<Operation> {
        Content::decode(&self.0.get_page_content(self.pages()[index])).unwrap().operations
    }

    pub(crate) fn draw(&mut self, index: usize, operations: Vec<Operation>) {
        let content = Content { operations }.encode().unwrap();
        self.content(index, content);
    }

    pub(crate) fn content(&mut self, index: usize, content: Vec<u8>) {
        let id = self.0.add_object(Stream::new(Dictionary::new(), content));
        self.page(index).set("Contents", id);
    }

    pub(crate) fn edit(
        &mut self,
        index: usize,
        change: impl FnOnce(&mut Vec<Operation>),
    ) {
        let mut operations = self.operations(index);
        change(&mut operations);
        self.draw(index, operations);
    }

    /// Puts a map before everything that a page draws.
    pub(crate) fn map(&mut self, index: usize, matrix: [f64; 6]) {
        self.edit(index, |all| all.insert(0, op("cm", &matrix)));
    }

    pub(crate) fn kids(&mut self, order: &[usize]) {
        let pages = self.pages();
        let kids: Vec<Object> = order.iter().map(|i| pages[*i].into()).collect();
        let root =
            self.0.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
        let root = self.0.get_dictionary_mut(root).unwrap();
        root.set("Count", i64::try_from(kids.len()).unwrap());
        root.set("Kids", kids);
    }

    /// Takes a page of another file in the place of one of this.
    pub(crate) fn take(&mut self, index: usize, mut other: Self, page: usize) {
        other.0.renumber_objects_with(self.0.max_id + 1);
        let id = other.pages()[page];
        self.0.max_id = other.0.max_id;
        self.0.objects.extend(other.0.objects);
        let mut order = self.pages();
        order[index] = id;
        let root =
            self.0.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
        self.0.get_dictionary_mut(id).unwrap().set("Parent", root);
        let kids: Vec<Object> = order.into_iter().map(Object::from).collect();
        self.0.get_dictionary_mut(root).unwrap().set("Kids", kids);
    }

    /// Adds words in a face that every reader has.
    pub(crate) fn say(&mut self, index: usize, words: &[u8]) {
        let font = self.0.add_object(dictionary! {
            "Type" => "Font", "Subtype" => "Type1", "BaseFont" => "Helvetica",
            "Encoding" => "WinAnsiEncoding",
        });
        let page = self.pages()[index];
        let resources = self.0.get_dictionary(page).unwrap().get(b"Resources").unwrap();
        let resources = resources.as_reference().unwrap();
        let resources = self.0.get_dictionary_mut(resources).unwrap();
        let mut fonts = match resources.get(b"Font").unwrap() {
            Object::Reference(id) => {
                let id = *id;
                self.0.get_dictionary(id).unwrap().clone()
            }
            fonts => fonts.as_dict().unwrap().clone(),
        };
        fonts.set("Plain", font);
        let resources = self.0.get_dictionary(page).unwrap().get(b"Resources").unwrap();
        let resources = resources.as_reference().unwrap();
        self.0.get_dictionary_mut(resources).unwrap().set("Font", fonts);
        let words = Object::string_literal(words);
        self.edit(index, |all| {
            all.push(op("BT", &[]));
            all.push(Operation::new("Tf", vec!["Plain".into(), real(7.0)]));
            all.push(op("Tm", &[1.0, 0.0, 0.0, 1.0, 200.0, 40.0]));
            all.push(Operation::new("Tj", vec![words]));
            all.push(op("ET", &[]));
        });
    }
}

/// The operators from an `m` to where its path is painted, with the layer that it is in.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) layer: String,
    pub(crate) range: std::ops::Range<usize>,
}

/// Every painted path of a page.
pub(crate) fn runs(operations: &[Operation]) -> Vec<Run> {
    let (mut all, mut layer, mut from) = (Vec::new(), String::new(), None);
    for (i, operation) in operations.iter().enumerate() {
        match operation.operator.as_str() {
            "BDC" => {
                let name = operation.operands[1].as_name().unwrap();
                layer = String::from_utf8(name.to_vec()).unwrap();
            }
            "EMC" => layer.clear(),
            "m" => from = from.or(Some(i)),
            "S" | "f" => {
                if let Some(from) = from.take() {
                    all.push(Run { layer: layer.clone(), range: from..i + 1 });
                }
            }
            _ => {}
        }
    }
    all
}

/// The paths of a layer.
pub(crate) fn of_layer(operations: &[Operation], layer: &str) -> Vec<Run> {
    runs(operations).into_iter().filter(|r| r.layer == layer).collect()
}

/// Rows of ticks: lines that are dashed and more than 2 points wide. The first three are those
/// of the first strip's upper ruler, at each millimetre, each five and each ten.
pub(crate) fn tick_rows(all: &[Operation]) -> Vec<Run> {
    let is_comb = |r: &Run| {
        let [.., width, dashes] = &all[..r.range.start] else { return false };
        let is_wide =
            width.operator == "w" && width.operands[0].as_float().unwrap() > 2.0;
        is_wide && dashes.operator == "d" && dashes.operands[0] != Object::Array(vec![])
    };
    runs(all).into_iter().filter(is_comb).collect()
}

/// Makes dashes longer or shorter.
pub(crate) fn dashed_by(operation: &mut Operation, by: f64) {
    if operation.operator == "d" {
        let Object::Array(dashes) = &mut operation.operands[0] else { unreachable!() };
        for dash in dashes {
            *dash = real(number(dash) * by);
        }
    }
}

/// The places of a run's operators.
pub(crate) fn places(operations: &[Operation]) -> Vec<(f64, f64)> {
    let numbers = |o: &Operation| o.operands.iter().map(number).collect::<Vec<_>>();
    let drawing =
        operations.iter().filter(|o| matches!(o.operator.as_str(), "m" | "l" | "c"));
    let all = drawing.flat_map(|o| {
        let n = numbers(o);
        n.chunks(2).map(|p| (p[0], p[1])).collect::<Vec<_>>()
    });
    all.collect()
}

/// Moves every place of some operators.
pub(crate) fn moved(operations: &mut [Operation], to: impl Fn(f64, f64) -> (f64, f64)) {
    for operation in operations {
        if matches!(operation.operator.as_str(), "m" | "l" | "c") {
            for pair in operation.operands.chunks_mut(2) {
                let (x, y) = to(number(&pair[0]), number(&pair[1]));
                (pair[0], pair[1]) = (real(x), real(y));
            }
        }
    }
}

/// Moved by mm.
pub(crate) fn shifted(operations: &mut [Operation], x: f64, y: f64) {
    moved(operations, |px, py| (px + x * PT, py + y * PT));
}

/// The middle of what operators enclose, in points.
pub(crate) fn middle(operations: &[Operation]) -> (f64, f64) {
    let places = places(operations);
    let half = |of: fn(&(f64, f64)) -> f64| {
        let least = places.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = places.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        f64::midpoint(least, most)
    };
    (half(|p| p.0), half(|p| p.1))
}

/// Takes the operators of a run out and leaves the rest.
pub(crate) fn without(operations: &mut Vec<Operation>, run: &Run) {
    operations.drain(run.range.clone());
}

/// A ring of Ø 4 mm about a place in mm, in the layer of what is punched.
pub(crate) fn ring(x: f64, y: f64) -> Vec<Operation> {
    let (x, y, r, k) = (x * PT, y * PT, 2.0 * PT, 2.0 * PT * 0.552_284_75);
    vec![
        Operation::new("BDC", vec!["OC".into(), "punch".into()]),
        op("w", &[0.7]),
        Operation::new("d", vec![Object::Array(Vec::new()), real(0.0)]),
        op("m", &[x + r, y]),
        op("c", &[x + r, y + k, x + k, y + r, x, y + r]),
        op("c", &[x - k, y + r, x - r, y + k, x - r, y]),
        op("c", &[x - r, y - k, x - k, y - r, x, y - r]),
        op("c", &[x + k, y - r, x + r, y - k, x + r, y]),
        op("S", &[]),
        op("EMC", &[]),
    ]
}

/// A piece of 30 × 10 mm with its left lower corner at a place in mm.
pub(crate) fn piece(x: f64, y: f64) -> Vec<Operation> {
    let (x, y, w, h) = (x * PT, y * PT, 30.0 * PT, 10.0 * PT);
    vec![
        Operation::new("BDC", vec!["OC".into(), "outline".into()]),
        op("w", &[0.5 * PT]),
        Operation::new("d", vec![Object::Array(Vec::new()), real(0.0)]),
        op("m", &[x, y]),
        op("l", &[x + w, y]),
        op("l", &[x + w, y + h]),
        op("l", &[x, y + h]),
        op("h", &[]),
        op("S", &[]),
        op("EMC", &[]),
    ]
}
