//! The sheets as SVG 1.1, a file each: one unit is one millimetre, each layer is a group, and
//! arcs are arcs. Only elements and attributes that every reader of SVG knows are used.
//!
//! Letters are drawn as outlines, with their words as `<title>`: a reader without the face
//! would set other letters, of other widths, and many cutters read no text at all.

use super::ExportError;
use super::page::{self, PageTransform, UserPoint, arc, number, text_start};
use crate::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use crate::lettering;
use crate::paginate::{Item, Layer, Pen, Sheet, SheetSet, TickRow, Tone, bold_stroke};
use ttf_parser::{Face, OutlineBuilder};

/// The file of each sheet of `set`, in order, at full scale, or multiplied by what undoes the
/// printer's error. The ticket, which is words alone, has none.
///
/// # Errors
/// For an empty set, when a text has letters that the face lacks, and when the face cannot be
/// read.
///
/// ```
/// use strapwright::export::svg::svg;
/// use strapwright::paginate::{Heading, Paper, Request, paginate};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (job, fit, layout) = laid.expect("no mistakes");
/// let heading = Heading::new(&job, fit.as_ref(), &layout);
/// let paper = Paper::whole(&layout, None);
/// let set = paginate(&Request::new(&layout, &heading, &paper))?;
/// let files = svg(&set)?;
/// assert_eq!(files.len(), 1, "the whole strap is on one sheet");
/// assert!(files[0].starts_with(b"<svg"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn svg(set: &SheetSet) -> Result<Vec<Vec<u8>>, ExportError> {
    page::letters(set)?;
    let face =
        lettering::parsed().ok_or_else(|| ExportError::face("it cannot be read"))?;
    Ok(set.sheets.iter().map(|sheet| file(set, sheet, face)).collect())
}

/// The file of the first sheet of a set, such as that of a whole strap.
///
/// # Errors
/// Those of [`svg`].
pub fn whole(set: &SheetSet) -> Result<Vec<u8>, ExportError> {
    svg(set)?.into_iter().next().ok_or_else(ExportError::no_sheets)
}

/// The groups in the order of the file: what is punched is cut before the outline.
const GROUPS: [Layer; 4] = [Layer::Guides, Layer::Punch, Layer::Outline, Layer::Text];

fn file(set: &SheetSet, sheet: &Sheet, face: &Face<'_>) -> Vec<u8> {
    let [width, height] =
        [sheet.width, sheet.height].map(|side| decimal(side.as_mm_f64()));
    let title = format!("{}, sheet {}, {}", set.title, sheet.number, set.fingerprint);
    let title = escape(&title);
    let page = Page {
        transform: PageTransform::new(sheet, set.correction_on(sheet), Length::as_mm_f64),
        height: sheet.height.as_mm_f64(),
        face,
    };
    let layers: String =
        GROUPS.into_iter().map(|layer| page.group(sheet, layer)).collect();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" \
         height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <title>{title}</title>\n{layers}</svg>\n"
    )
    .into_bytes()
}

/// A page, and what its items are drawn with.
struct Page<'a> {
    transform: PageTransform,
    /// In mm: SVG counts from the top.
    height: f64,
    face: &'a Face<'a>,
}

impl Page<'_> {
    fn group(&self, sheet: &Sheet, layer: Layer) -> String {
        let paint = match layer {
            Layer::Text => "fill=\"#000000\"",
            Layer::Outline | Layer::Punch | Layer::Guides => {
                "fill=\"none\" stroke=\"#000000\""
            }
        };
        let items = sheet.items.iter().filter(|item| item.layer() == layer);
        let elements: String = items.map(|item| self.element(item)).collect();
        format!("<g id=\"{}\" {paint}>\n{elements}</g>\n", layer.name())
    }

    fn element(&self, item: &Item) -> String {
        match item {
            Item::Stroke { pen, paths, .. } => {
                stroke(*pen, paths.iter().map(|path| self.path(path)))
            }
            Item::TickRows { pen, tick_rows, .. } => {
                stroke(*pen, tick_rows.iter().map(|row| self.ticks(row)))
            }
            Item::Fill { tone, paths, .. } => {
                let data: String = paths.iter().map(|path| self.path(path)).collect();
                let grey = grey(*tone);
                format!("<path fill=\"{grey}\" stroke=\"none\" d=\"{data}\"/>\n")
            }
            Item::Text { tone, at, anchor, turn, size, bold, text, .. } => {
                let start = text_start(text, *size, *at, *anchor, *turn);
                self.text((*tone, *bold), start, *turn, *size, text)
            }
        }
    }

    /// A point of the page, counted from its top.
    fn flipped(&self, [x, y]: UserPoint) -> UserPoint {
        [x, self.height - y]
    }

    fn point(&self, at: Point<OnSheet>) -> UserPoint {
        self.flipped(self.transform.point(at))
    }

    fn ticks(&self, row: &TickRow) -> String {
        let ends = |n| [row.base(n), row.base(n) + row.tick].map(|p| self.point(p));
        (0..row.count)
            .map(|n| {
                let [from, to] = ends(n);
                command("M", &from) + &command("L", &to)
            })
            .collect()
    }

    fn path(&self, path: &Path<OnSheet>) -> String {
        let mut data = command("M", &self.point(path.start));
        let mut at = path.start;
        for step in &path.steps {
            match *step {
                Step::Line { to } => data += &command("L", &self.point(to)),
                // An arc without a way to go would be taken for a whole turn.
                Step::Arc { to, .. } if to == at => {}
                Step::Arc { to, centre, clockwise } => {
                    data += &self.arc([at, to, centre], clockwise);
                }
            }
            at = step.to();
        }
        if path.closed {
            data.push('Z');
        }
        data
    }

    /// In parts of a quarter turn at most: the longer the arc, the less its ends and its
    /// radius, rounded, say where its centre is. Seen from the top, clockwise stays clockwise.
    fn arc(&self, places: [Point<OnSheet>; 3], clockwise: bool) -> String {
        let [from, to, centre] = places.map(|p| self.transform.uncorrected(p));
        let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
        let [rx, ry] = self.transform.factors().map(|factor| radius * factor);
        let sweep = f64::from(u8::from(clockwise));
        arc::curves(from, to, centre, clockwise)
            .into_iter()
            .map(|[_, _, end]| {
                let [x, y] = self.flipped(self.transform.corrected(end));
                command("A", &[rx, ry, 0.0, 0.0, sweep, x, y])
            })
            .collect()
    }

    fn text(
        &self,
        (tone, is_bold): (Tone, bool),
        at: Point<OnSheet>,
        turn: QuarterTurn,
        size: Length,
        text: &str,
    ) -> String {
        let mut outlines = Outlines::default();
        for glyph in text.chars().filter_map(|c| self.face.glyph_index(c)) {
            self.face.outline_glyph(glyph, &mut outlines);
            outlines.shift += f32::from(self.face.glyph_hor_advance(glyph).unwrap_or(0));
        }
        if outlines.data.is_empty() {
            return String::new();
        }
        let scale = size.as_mm_f64() / f64::from(self.face.units_per_em());
        let [a, b, c, d, to @ ..] = self.transform.text_matrix(turn, at);
        let linear = [a, -b, c, -d].map(|n| precise(n * scale)).join(" ");
        let to = self.flipped(to).map(decimal).join(" ");
        let fill = match tone {
            Tone::Black => String::new(),
            tone => format!(" fill=\"{}\"", grey(tone)),
        };
        let bold = if is_bold {
            let width = bold_stroke(size).as_mm_f64() / scale;
            format!(
                " stroke=\"{}\" stroke-width=\"{}\" stroke-miterlimit=\"3\"",
                grey(tone),
                decimal(width)
            )
        } else {
            String::new()
        };
        let (data, title) = (outlines.data, escape(text));
        format!(
            "<path{fill}{bold} transform=\"matrix({linear} {to})\" d=\"{data}\">\
             <title>{title}</title></path>\n"
        )
    }
}

fn stroke(pen: Pen, paths: impl Iterator<Item = String>) -> String {
    let width = decimal(pen.width().as_mm_f64());
    let grey = match pen.tone() {
        Tone::Black => String::new(),
        tone => format!(" stroke=\"{}\"", grey(tone)),
    };
    let dashes: Vec<String> =
        pen.dashes().iter().map(|&dash| decimal(dash.as_mm_f64())).collect();
    let dashes = match dashes.join(" ") {
        none if none.is_empty() => none,
        dashes => format!(" stroke-dasharray=\"{dashes}\""),
    };
    let data: String = paths.collect();
    format!("<path stroke-width=\"{width}\"{grey}{dashes} d=\"{data}\"/>\n")
}

/// The outlines of a line of text, in units of the face, as path data.
#[derive(Default)]
struct Outlines {
    data: String,
    /// How wide the letters before this one run.
    shift: f32,
    at: [f32; 2],
}

impl Outlines {
    /// A command with points relative to the last one, which are shorter.
    fn relative<const N: usize>(&mut self, letter: &str, points: [[f32; 2]; N]) {
        let [x, y] = self.at;
        let moved = points.map(|[to_x, to_y]| [to_x - x, to_y - y].map(f64::from));
        self.data += &command(letter, moved.as_flattened());
        self.at = points.last().copied().unwrap_or(self.at);
    }
}

impl OutlineBuilder for Outlines {
    fn move_to(&mut self, x: f32, y: f32) {
        self.data += &command("M", &[x + self.shift, y].map(f64::from));
        self.at = [x, y];
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.relative("l", [[x, y]]);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.relative("q", [[x1, y1], [x, y]]);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.relative("c", [[x1, y1], [x2, y2], [x, y]]);
    }

    fn close(&mut self) {
        self.data.push('z');
    }
}

/// A command of path data with its numbers.
fn command(letter: &str, numbers: &[f64]) -> String {
    let numbers: Vec<String> = numbers.iter().copied().map(decimal).collect();
    letter.to_owned() + &numbers.join(" ")
}

/// A number cut to 1/10000 mm.
fn decimal(value: f64) -> String {
    number::text::<4>(value)
}

/// A number of a matrix, which is multiplied by thousands.
fn precise(value: f64) -> String {
    number::text::<8>(value)
}

fn grey(tone: Tone) -> String {
    let level = (u32::from(tone.lightness()) * 255 + 50) / 100;
    format!("#{level:02x}{level:02x}{level:02x}")
}

/// Words as XML has them. Control characters, which XML forbids, are left out.
fn escape(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for letter in words.chars().filter(|c| !c.is_control()) {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            _ => text.push(letter),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_escaped() {
        assert_eq!(escape("a < b & \"c\"\u{7} > d"), "a &lt; b &amp; \"c\" &gt; d");
    }

    #[test]
    fn greys_are_even() {
        let all = [Tone::Black, Tone::Grey, Tone::Light, Tone::White].map(grey);
        assert_eq!(all, ["#000000", "#808080", "#d9d9d9", "#ffffff"]);
    }
}
