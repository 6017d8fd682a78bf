//! The bytes of a PDF as numbers and words: rings and other closed outlines in mm, texts
//! with where they start.

use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};

const MM_PER_PT: f64 = 25.4 / 72.0;
/// With none of these on the way, page space is sheet space in points.
const MOVING: [&str; 7] = ["cm", "Do", "q", "Q", "Td", "TD", "T*"];

/// A closed outline of the punch layer, by its extents in mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Closed {
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Whether it is four curves and nothing else: a circle.
    pub(crate) is_ring: bool,
}

impl Closed {
    pub(crate) fn centre(self) -> (f64, f64) {
        (f64::midpoint(self.left, self.right), f64::midpoint(self.low, self.high))
    }

    pub(crate) fn size(self) -> (f64, f64) {
        (self.right - self.left, self.high - self.low)
    }
}

/// A text as it is shown, with the start of its base line in mm.
#[derive(Clone, Debug)]
pub(crate) struct Shown {
    pub(crate) text: String,
    pub(crate) at: (f64, f64),
}

/// One page, read from the file's bytes alone.
#[derive(Clone, Debug)]
pub(crate) struct Page {
    /// Width and height in mm, by the `MediaBox`.
    pub(crate) size: (f64, f64),
    pub(crate) closed: Vec<Closed>,
    pub(crate) shown: Vec<Shown>,
    /// The first straight stroke of every path, by its ends in mm.
    pub(crate) lines: Vec<[(f64, f64); 2]>,
}

/// Reads every page of a file.
pub(crate) fn pages(bytes: &[u8]) -> Vec<Page> {
    let document = Document::load_mem(bytes).unwrap();
    document.get_pages().into_values().map(|id| page(&document, id)).collect()
}

fn page(document: &Document, id: ObjectId) -> Page {
    let dictionary = document.get_dictionary(id).unwrap();
    let media = numbers(dictionary.get(b"MediaBox").unwrap().as_array().unwrap());
    assert!(media[0].abs() < 1e-9 && media[1].abs() < 1e-9, "pages start at zero");
    let content = Content::decode(&document.get_page_content(id)).unwrap();
    let fonts = document.get_page_fonts(id).unwrap();
    let mut page = Page {
        size: (media[2] * MM_PER_PT, media[3] * MM_PER_PT),
        closed: Vec::new(),
        shown: Vec::new(),
        lines: Vec::new(),
    };
    let (mut layer, mut at, mut font) = (String::new(), (0.0, 0.0), Vec::new());
    let mut run = Run::default();
    for operation in content.operations {
        let operands = &operation.operands;
        let operator = operation.operator.as_str();
        assert!(!MOVING.contains(&operator), "{operator} moves what follows");
        match operator {
            "BDC" => {
                let name = operands[1].as_name().unwrap();
                layer = String::from_utf8(name.to_vec()).unwrap();
            }
            "EMC" => layer.clear(),
            "m" => run = Run { points: vec![end(operands)], ..Run::default() },
            "l" => {
                if let [start] = run.points.as_slice() {
                    page.lines.push([*start, end(operands)]);
                }
                run.step(end(operands), false);
            }
            "c" => run.step(end(operands), true),
            "s" | "S" if layer == "punch" => page.closed.extend(run.closed()),
            "Tf" => font = operands[0].as_name().unwrap().to_vec(),
            "Tm" => at = end(operands),
            "Tj" | "TJ" => {
                let encoding = fonts[&font].get_font_encoding(document).unwrap();
                let mut text = String::new();
                for string in strings(operands) {
                    text += &Document::decode_text(&encoding, string).unwrap();
                }
                page.shown.push(Shown { text, at });
            }
            _ => {}
        }
    }
    page
}

/// A path as it grows.
#[derive(Default)]
struct Run {
    points: Vec<(f64, f64)>,
    curves: usize,
    lines: usize,
}

impl Run {
    fn step(&mut self, to: (f64, f64), curve: bool) {
        self.points.push(to);
        if curve {
            self.curves += 1;
        } else {
            self.lines += 1;
        }
    }

    /// Curves end every quarter turn, so the ends have the widest points.
    fn closed(&self) -> Option<Closed> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        let back = libm::hypot(first.0 - last.0, first.1 - last.1) < 1e-6;
        let lowest = |of: fn(&(f64, f64)) -> f64| {
            self.points.iter().map(of).fold(f64::INFINITY, f64::min)
        };
        let highest = |of: fn(&(f64, f64)) -> f64| {
            self.points.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
        };
        (back && self.curves == 4).then(|| Closed {
            left: lowest(|p| p.0),
            right: highest(|p| p.0),
            low: lowest(|p| p.1),
            high: highest(|p| p.1),
            is_ring: self.lines == 0,
        })
    }
}

/// The last two operands as a place in mm.
fn end(operands: &[Object]) -> (f64, f64) {
    let n = numbers(operands);
    (n[n.len() - 2] * MM_PER_PT, n[n.len() - 1] * MM_PER_PT)
}

fn numbers(operands: &[Object]) -> Vec<f64> {
    operands.iter().map(|n| f64::from(n.as_float().unwrap())).collect()
}

fn strings(operands: &[Object]) -> Vec<&[u8]> {
    let mut all = Vec::new();
    for operand in operands {
        match operand {
            Object::String(bytes, _) => all.push(bytes.as_slice()),
            Object::Array(inner) => all.extend(strings(inner)),
            _ => {}
        }
    }
    all
}
