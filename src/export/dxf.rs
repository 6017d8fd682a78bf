//! The whole strap as DXF R12, in mm: the layers of the drawing are layers of the file. The
//! format has no unit, so the guides have a bar of 100 mm.
//!
//! Group codes after the DXF reference of release 12. A cutter wants closed outlines and true
//! arcs: holes are CIRCLE, other closed lines one closed POLYLINE with bulges, straight open
//! lines LINE. What is punched comes before the outline, so that it is cut while the piece
//! still hangs in the hide.

use super::ExportError;
use super::page::{self, PageTransform, text_start};
use crate::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use crate::paginate::{Item, Layer, Sheet, SheetSet};
use std::fmt::Write as _;

/// The layers in the order of the file, with their colours (group 62).
const LAYERS: [(Layer, u8); 4] =
    [(Layer::Guides, 3), (Layer::Punch, 1), (Layer::Outline, 7), (Layer::Text, 5)];

/// The file of the first sheet of `set`, at full scale, y upward.
///
/// # Errors
/// For an empty set, and when a text has letters that the face of the other formats lacks.
///
/// ```
/// use strapwright::export::dxf::dxf;
/// use strapwright::paginate::{SheetSet, whole_strap};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (_, _, layout) = laid.expect("no mistakes");
/// let file = dxf(&whole_strap(&SheetSet::default(), &layout))?;
/// assert!(file.ends_with(b"0\nEOF\n"));
/// # Ok::<(), strapwright::export::ExportError>(())
/// ```
pub fn dxf(set: &SheetSet) -> Result<Vec<u8>, ExportError> {
    page::letters(set)?;
    let sheet = set.sheets.first().ok_or_else(ExportError::no_sheets)?;
    let mut file = File { text: String::new(), transform: transform(sheet) };
    file.head(sheet);
    file.groups(&[(0, "SECTION"), (2, "ENTITIES")]);
    for (layer, _) in LAYERS {
        for item in sheet.items.iter().filter(|item| item.layer() == layer) {
            file.item(item);
        }
    }
    file.groups(&[(0, "ENDSEC"), (0, "EOF")]);
    Ok(file.text.into_bytes())
}

fn transform(sheet: &Sheet) -> PageTransform {
    PageTransform::new(sheet, None, Length::as_mm_f64)
}

struct File {
    text: String,
    transform: PageTransform,
}

impl File {
    fn group(&mut self, code: u16, value: impl std::fmt::Display) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "{code}\n{value}");
    }

    fn groups(&mut self, groups: &[(u16, &str)]) {
        for (code, value) in groups {
            self.group(*code, value);
        }
    }

    fn number(&mut self, code: u16, value: f64) {
        // Without a minus before zero.
        self.group(code, format_args!("{:.6}", value + 0.0));
    }

    /// A place; `code` is that of x, that of y is ten more.
    fn point(&mut self, code: u16, at: Point<OnSheet>) {
        let [x, y] = self.transform.point(at);
        self.number(code, x);
        self.number(code + 10, y);
    }

    fn head(&mut self, sheet: &Sheet) {
        self.groups(&[(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009")]);
        self.group(9, "$EXTMIN");
        self.point(10, Point::default());
        self.group(9, "$EXTMAX");
        self.point(10, Point::new(sheet.width, sheet.height));
        self.groups(&[(0, "ENDSEC"), (0, "SECTION"), (2, "TABLES")]);
        self.groups(&[(0, "TABLE"), (2, "LTYPE"), (70, "1"), (0, "LTYPE")]);
        self.groups(&[(2, "CONTINUOUS"), (70, "0"), (3, "Solid"), (72, "65")]);
        self.groups(&[(73, "0"), (40, "0.0"), (0, "ENDTAB")]);
        self.groups(&[(0, "TABLE"), (2, "LAYER"), (70, "4")]);
        for (layer, colour) in LAYERS {
            self.groups(&[(0, "LAYER"), (2, &name(layer)), (70, "0")]);
            self.group(62, colour);
            self.group(6, "CONTINUOUS");
        }
        self.groups(&[(0, "ENDTAB"), (0, "ENDSEC")]);
    }

    fn entity(&mut self, kind: &str, layer: Layer) {
        self.groups(&[(0, kind), (8, &name(layer))]);
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Stroke { layer, paths, .. } => {
                for path in paths {
                    self.path(*layer, path);
                }
            }
            Item::Text { at, anchor, turn, size, text, .. } => {
                self.entity("TEXT", Layer::Text);
                self.point(10, text_start(text, *size, *at, *anchor, *turn));
                // The height is that of capitals: 0.714 of the size in the face.
                self.number(40, size.as_mm_f64() * 0.714);
                self.group(1, plain(text));
                if *turn == QuarterTurn::Left {
                    self.number(50, 90.0);
                }
            }
            // A whole strap has neither.
            Item::TickRows { .. } | Item::Fill { .. } => {}
        }
    }

    fn path(&mut self, layer: Layer, path: &Path<OnSheet>) {
        if let Some((centre, radius)) = circle(path) {
            self.entity("CIRCLE", layer);
            self.point(10, centre);
            self.number(40, radius.as_mm_f64());
            return;
        }
        if let ([Step::Line { to }], false) = (path.steps.as_slice(), path.closed) {
            self.entity("LINE", layer);
            self.point(10, path.start);
            self.point(11, *to);
            return;
        }
        self.entity("POLYLINE", layer);
        self.groups(&[(66, "1"), (70, if path.closed { "1" } else { "0" })]);
        for segment in path.segments() {
            self.vertex(layer, segment.from, self.bulge(segment.from, segment.step));
        }
        if !path.closed {
            self.vertex(layer, path.end(), 0.0);
        }
        self.entity("SEQEND", layer);
    }

    fn vertex(&mut self, layer: Layer, at: Point<OnSheet>, bulge: f64) {
        self.entity("VERTEX", layer);
        self.point(10, at);
        // More places than lengths have: of a long arc it says the radius.
        self.group(42, format_args!("{:.12}", bulge + 0.0));
    }

    /// The tangent of a quarter of the angle of an arc, positive counter-clockwise; zero for
    /// a line.
    fn bulge(&self, from: Point<OnSheet>, step: Step<OnSheet>) -> f64 {
        let Step::Arc { to, centre, clockwise } = step else { return 0.0 };
        let [[ax, ay], [bx, by], [x, y]] =
            [from, to, centre].map(|p| self.transform.point(p));
        let (ax, ay, dx, dy) = (ax - x, ay - y, bx - ax, by - ay);
        // The product with the chord keeps its places where the radius is long.
        let angle = libm::atan2(ax * dy - ay * dx, ax * (ax + dx) + ay * (ay + dy));
        let bulge = libm::tan(libm::fabs(angle) / 4.0);
        if clockwise { -bulge } else { bulge }
    }
}

/// Its middle and radius, if a path is a circle.
fn circle(path: &Path<OnSheet>) -> Option<(Point<OnSheet>, Length)> {
    let [Step::Arc { to: far, centre, .. }, Step::Arc { to, centre: other, .. }] =
        *path.steps.as_slice()
    else {
        return None;
    };
    let is_circle = path.closed && centre == other && to == path.start && far != to;
    is_circle.then(|| (centre, (path.start - centre).norm()))
}

fn name(layer: Layer) -> String {
    layer.name().to_uppercase()
}

/// Words in ASCII: other letters by their numbers, as readers of DXF know them.
fn plain(text: &str) -> String {
    let mut words = String::new();
    for letter in text.encode_utf16() {
        match u8::try_from(letter) {
            Ok(ascii @ b' '..=b'~') => words.push(char::from(ascii)),
            // Writing to a string cannot fail.
            _ => {
                let _ = write!(words, "\\U+{letter:04X}");
            }
        }
    }
    words
}
