//! Every sample job as SVG files, read back with usvg and held against the layout: the sheets
//! know no file format, and a file is true to scale for a reader without the face.

use crate::common::program::{folder_with, names, run};
use crate::common::samples::jobs;
use std::fs;
use std::sync::OnceLock;
use strapwright::export::Format;
use strapwright::export::svg::svg;
use strapwright::geom::{Extent, Length, Path, Point, QuarterTurn, Ratio, Step, Strap};
use strapwright::layout::{Layout, Shape};
use strapwright::lettering;
use strapwright::paginate::{
    Anchor, Correction, Factor, Heading, Item, Paper, Pen, Request, Sheet, SheetSet,
    Tile, paginate,
};
use strapwright::prepare;
use usvg::tiny_skia_path::PathSegment;

/// What is asked of every place and size, in mm.
const WITHIN: f64 = 0.001;
/// A pixel of CSS is 1/96 in.
const MM_PER_PX: f64 = 25.4 / 96.0;

type Place = [f64; 2];

fn mm(length: Length) -> f64 {
    length.mm(6).parse().unwrap()
}

fn place<S: Copy>(at: Point<S>) -> Place {
    [mm(at.x), mm(at.y)]
}

fn far(a: Place, b: Place) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// One run of lines and curves of a file, in mm, y upward.
#[derive(Debug)]
struct Run {
    /// The ends of its lines and curves.
    ends: Vec<Place>,
    /// Whether a closing line leads back to its start.
    closed: bool,
}

impl Run {
    fn bounds(&self) -> [Place; 2] {
        let side = |axis: usize, pick: fn(f64, f64) -> f64| {
            self.ends.iter().map(|end| end[axis]).reduce(pick).unwrap()
        };
        [[side(0, f64::min), side(1, f64::min)], [side(0, f64::max), side(1, f64::max)]]
    }

    fn centre(&self) -> Place {
        let [low, high] = self.bounds();
        [0, 1].map(|axis| f64::midpoint(low[axis], high[axis]))
    }

    fn size(&self) -> Place {
        let [low, high] = self.bounds();
        [0, 1].map(|axis| high[axis] - low[axis])
    }
}

/// A path element.
#[derive(Debug)]
struct Element {
    runs: Vec<Run>,
    /// Width of its line in mm; none of a filled one.
    pen: Option<f64>,
    dashes: usize,
}

/// A file as a reader of SVG sees it.
struct Page {
    size: Place,
    layers: Vec<(String, Vec<Element>)>,
    /// The straight strokes of the guides.
    lines: Vec<[Place; 2]>,
}

impl Page {
    fn read(bytes: &[u8]) -> Self {
        let tree = usvg::Tree::from_data(bytes, &usvg::Options::default()).unwrap();
        let size = tree.size();
        let size = [size.width(), size.height()].map(|px| f64::from(px) * MM_PER_PX);
        let mut page = Self { size, layers: Vec::new(), lines: Vec::new() };
        page.group(tree.root());
        let line = |run: &Run| <[Place; 2]>::try_from(run.ends.as_slice()).ok();
        page.lines = page.runs("guides").into_iter().filter_map(line).collect();
        page
    }

    fn group(&mut self, group: &usvg::Group) {
        if !group.id().is_empty() {
            self.layers.push((group.id().to_owned(), Vec::new()));
        }
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => self.group(group),
                usvg::Node::Path(path) => {
                    let element = element(path, self.size[1]);
                    self.layers.last_mut().expect("a path in a layer").1.push(element);
                }
                other => unreachable!("neither a group nor a path: {other:?}"),
            }
        }
    }

    fn layer(&self, name: &str) -> &[Element] {
        &self.layers.iter().find(|(layer, _)| layer == name).unwrap().1
    }

    fn runs(&self, layer: &str) -> Vec<&Run> {
        self.layer(layer).iter().flat_map(|element| &element.runs).collect()
    }

    /// Asserts that a level and an upright stroke have their middle at `at`.
    fn has_cross(&self, at: Place, about: &str) {
        self.has_strokes(at, &[0, 1], about);
    }

    /// Asserts that an upright stroke has its middle at `at`.
    fn has_upright(&self, at: Place, about: &str) {
        self.has_strokes(at, &[1], about);
    }

    fn has_strokes(&self, at: Place, axes: &[usize], about: &str) {
        for &axis in axes {
            let is_arm = |[a, b]: &[Place; 2]| {
                let middle = [0, 1].map(|i| f64::midpoint(a[i], b[i]));
                (a[1 - axis] - b[1 - axis]).abs() < 1e-4
                    && (a[axis] - b[axis]).abs() > 3.0
                    && far(middle, at) < WITHIN
            };
            assert!(self.lines.iter().any(is_arm), "{about}: no stroke at {at:?}");
        }
    }
}

fn element(path: &usvg::Path, height: f64) -> Element {
    let transform = path.abs_transform();
    let end = |mut at: usvg::tiny_skia_path::Point| {
        transform.map_point(&mut at);
        [f64::from(at.x) * MM_PER_PX, height - f64::from(at.y) * MM_PER_PX]
    };
    let mut runs: Vec<Run> = Vec::new();
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                runs.push(Run { ends: vec![end(to)], closed: false });
            }
            PathSegment::LineTo(to)
            | PathSegment::QuadTo(_, to)
            | PathSegment::CubicTo(_, _, to) => {
                runs.last_mut().unwrap().ends.push(end(to));
            }
            PathSegment::Close => runs.last_mut().unwrap().closed = true,
        }
    }
    let stroke = path.stroke();
    // Lines are as wide in the file's unit as on paper only if that unit is a millimetre.
    let unit = f64::from(transform.get_scale().0) * MM_PER_PX;
    Element {
        runs,
        pen: stroke.map(|s| f64::from(s.width().get()) * unit),
        dashes: stroke.and_then(|s| s.dasharray()).map_or(0, <[f32]>::len),
    }
}

/// A sample on a paper, with what its files say.
struct Sample {
    about: String,
    layout: Layout,
    set: SheetSet,
    pages: Vec<Page>,
}

/// Every sample on A4, on Letter and on a page for the whole strap.
fn samples() -> &'static [Sample] {
    static ALL: OnceLock<Vec<Sample>> = OnceLock::new();
    ALL.get_or_init(|| samples_on(&[Some("a4"), Some("letter"), None], None))
}

/// Every sample on these papers; no paper stands for a page for the whole strap.
fn samples_on(papers: &[Option<&str>], correction: Option<&Correction>) -> Vec<Sample> {
    let mut all = Vec::new();
    for (name, text) in jobs() {
        let (job, fit, layout) = prepare(&name, &text, &[]).laid.unwrap();
        let heading = Heading::new(&job, fit.as_ref(), &layout);
        for paper in papers {
            let paper = match paper {
                Some(name) => Paper::parse(name).unwrap(),
                None => Paper::whole(&layout, correction),
            };
            let request = Request::new(&layout, &heading, &paper);
            let set = paginate(&Request { correction, ..request }).unwrap();
            let pages: Vec<Page> =
                svg(&set).unwrap().iter().map(|file| Page::read(file)).collect();
            assert_eq!(pages.len(), set.sheets.len());
            let about = format!("{name} on {}", paper.name());
            all.push(Sample { about, layout: layout.clone(), set, pages });
        }
    }
    all
}

/// Where the file has a place of the sheet, and how much it enlarges each axis.
struct Corrected {
    middle: Place,
    by: Place,
}

impl Corrected {
    fn new(set: &SheetSet, sheet: &Sheet) -> Self {
        let middle = [mm(sheet.width) / 2.0, mm(sheet.height) / 2.0];
        let factor = |by: Ratio| by.millionths() as f64 / 1e6;
        let by = set
            .correction_on(sheet)
            .map_or([1.0, 1.0], |axes| axes.map(|f| factor(f.by)));
        Self { middle, by }
    }

    fn place(&self, at: Place) -> Place {
        [0, 1].map(|i| self.middle[i] + (at[i] - self.middle[i]) * self.by[i])
    }
}

/// Each mark that is whole on a tile has one closed run of its own in the punch layer.
fn assert_marks(sample: &Sample) -> usize {
    let mut count = 0;
    for (sheet, page) in sample.set.sheets.iter().zip(&sample.pages) {
        let corrected = Corrected::new(&sample.set, sheet);
        let mut left = page.runs("punch");
        for tile in &sheet.tiles {
            let marks = &sample.layout.pieces[tile.piece].marks;
            for mark in marks.iter().filter(|mark| tile.holds(mark)) {
                let size = match mark.shape {
                    Shape::Round { diameter } => [mm(diameter), mm(diameter)],
                    Shape::Slot { length, width } => [mm(length), mm(width)],
                    Shape::Across | Shape::Point => continue,
                };
                let size = [0, 1].map(|i| size[i] * corrected.by[i]);
                let at = corrected.place(place(tile.placement.apply(mark.at)));
                let found = left.iter().position(|run| {
                    run.closed
                        && far(run.centre(), at) < WITHIN
                        && far(run.size(), size) < WITHIN
                });
                assert!(found.is_some(), "{}: no {mark:?} at {at:?}", sample.about);
                left.swap_remove(found.unwrap());
                count += 1;
            }
        }
        assert!(left.is_empty(), "{}: more than the marks: {left:?}", sample.about);
    }
    count
}

#[test]
fn marks_are_where_the_layout_has_them() {
    let mut count = 0;
    for sample in samples() {
        let drawn = assert_marks(sample);
        let marks = sample.layout.pieces.iter().flat_map(|piece| &piece.marks);
        let forms = marks.filter(|mark| mark.path().is_some()).count();
        assert!(drawn >= forms && forms > 0, "{}: {drawn} of {forms}", sample.about);
        count += drawn;
    }
    assert!(count > 1_000, "{count} marks");
}

#[test]
fn a_correction_multiplies_places_and_sizes_about_the_middle() {
    let factor = |millionths| Factor {
        by: Ratio::from_millionths(millionths),
        proven: Ratio::from_millionths(500),
    };
    let correction = Correction {
        printer: "front desk".to_owned(),
        long: factor(1_012_500),
        short: factor(998_000),
        margin: Length::from_mm(8),
        fitted: false,
    };
    for sample in samples_on(&[Some("a4"), None], Some(&correction)) {
        assert!(assert_marks(&sample) > 0, "{}", sample.about);
        for page in &sample.pages {
            let pens: Vec<f64> =
                page.layer("punch").iter().filter_map(|element| element.pen).collect();
            let widths = [Pen::Punch, Pen::Target].map(|pen| mm(pen.width()));
            let is_a_pen = |pen: &f64| widths.iter().any(|w| (pen - w).abs() < 1e-4);
            let off = !pens.iter().all(is_a_pen);
            assert!(!off, "lines are not multiplied: {pens:?}");
        }
    }
}

#[test]
fn pages_have_the_size_of_the_paper_and_its_four_layers() {
    for sample in samples() {
        for (sheet, page) in sample.set.sheets.iter().zip(&sample.pages) {
            let off = far(page.size, [mm(sheet.width), mm(sheet.height)]);
            assert!(off < WITHIN, "{}: {:?}", sample.about, page.size);
            let names: Vec<&str> =
                page.layers.iter().map(|(name, _)| name.as_str()).collect();
            assert_eq!(names, ["guides", "punch", "outline", "text"], "{}", sample.about);
        }
    }
}

/// How far a place lies from an outline, in mm. Of an arc the whole circle counts.
fn off_outline(outline: &Path<Strap>, at: Place) -> f64 {
    let distances = outline.segments().into_iter().map(|segment| {
        let (a, b) = (place(segment.from), place(segment.step.to()));
        match segment.step {
            Step::Arc { centre, .. } => {
                let centre = place(centre);
                (far(centre, at) - far(centre, a)).abs()
            }
            Step::Line { .. } => {
                let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
                let along = (at[0] - a[0]) * dx + (at[1] - a[1]) * dy;
                let t = (along / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
                far([a[0] + dx * t, a[1] + dy * t], at)
            }
        }
    });
    distances.fold(f64::INFINITY, f64::min)
}

/// Whether all of a place of the strap is shown on a tile.
fn shows(tile: &Tile, at: Point<Strap>) -> bool {
    let holds = |extent: Extent, at: Length| extent.holds(Extent { from: at, to: at });
    holds(tile.stretch, at.x) && holds(tile.across, at.y)
}

/// Every corner of the layout's outline is an end of a line of the file, and every end of a
/// line of the file lies on the layout's outline.
#[test]
fn outlines_are_where_the_layout_has_them() {
    for sample in samples() {
        let mut corners = 0;
        for (sheet, page) in sample.set.sheets.iter().zip(&sample.pages) {
            let ends: Vec<Place> =
                page.runs("outline").iter().flat_map(|run| run.ends.clone()).collect();
            for tile in &sheet.tiles {
                let outline = &sample.layout.pieces[tile.piece].outline;
                let all = outline.segments().into_iter().map(|segment| segment.from);
                for corner in all.filter(|corner| shows(tile, *corner)) {
                    let at = place(tile.placement.apply(corner));
                    let is_there = ends.iter().any(|end| far(*end, at) < WITHIN);
                    assert!(is_there, "{}: no corner at {at:?}", sample.about);
                    corners += 1;
                }
            }
            let places = sheet.tiles.iter().map(|tile| {
                let zero =
                    place(tile.placement.apply(Point::new(Length::ZERO, Length::ZERO)));
                assert_eq!(tile.placement.turn(), QuarterTurn::None);
                (&sample.layout.pieces[tile.piece].outline, zero)
            });
            let places: Vec<_> = places.collect();
            for end in ends {
                let off = places.iter().map(|(outline, zero)| {
                    off_outline(outline, [end[0] - zero[0], end[1] - zero[1]])
                });
                let off = off.fold(f64::INFINITY, f64::min);
                assert!(off < WITHIN, "{}: {end:?} is {off:.5} mm off", sample.about);
            }
        }
        assert!(corners >= 4, "{}", sample.about);
    }
}

/// Crosses of joins, lines A and B, and both bars.
#[test]
fn guides_are_where_the_set_has_them() {
    let mut crosses = 0;
    for sample in samples() {
        let about = &sample.about;
        for (sheet, page) in sample.set.sheets.iter().zip(&sample.pages) {
            for cross in sheet.tiles.iter().flat_map(|tile| &tile.crosses) {
                page.has_cross(place(cross.at), about);
                crosses += 1;
            }
            for check in &sample.set.checks {
                let tiles = sheet.tiles.iter().filter(|tile| tile.piece == check.piece);
                for tile in tiles {
                    for at in [check.from, check.to] {
                        if tile.stretch.holds(Extent { from: at.x, to: at.x }) {
                            page.has_upright(place(tile.placement.apply(at)), about);
                        }
                    }
                }
            }
            assert_eq!(sheet.bars.len(), 2, "{about}");
            for at in sheet.bars.iter().flat_map(|bar| [bar.from, bar.to]).map(place) {
                let is_there =
                    page.lines.iter().flatten().any(|end| far(*end, at) < WITHIN);
                assert!(is_there, "{about}: no end of a bar at {at:?}");
            }
        }
    }
    assert!(crosses > 50, "{crosses} crosses");
}

#[test]
fn ticks_and_pens_are_those_of_the_sheet() {
    for sample in samples() {
        for (sheet, page) in sample.set.sheets.iter().zip(&sample.pages) {
            let corrected = |layer: &str| -> Vec<(Pen, usize)> {
                let items =
                    sheet.items.iter().filter(|item| item.layer().name() == layer);
                let strokes = items.filter_map(|item| match item {
                    Item::Stroke { pen, paths, .. } => Some((*pen, paths.len())),
                    Item::TickRows { pen, tick_rows, .. } => {
                        let ticks: i64 = tick_rows.iter().map(|row| row.count).sum();
                        Some((*pen, usize::try_from(ticks).unwrap()))
                    }
                    Item::Fill { .. } | Item::Text { .. } => None,
                });
                strokes.collect()
            };
            for layer in ["guides", "outline", "punch"] {
                let drawn: Vec<&Element> =
                    page.layer(layer).iter().filter(|e| e.pen.is_some()).collect();
                let wanted = corrected(layer);
                assert_eq!(drawn.len(), wanted.len(), "{}: {layer}", sample.about);
                for (element, (pen, runs)) in drawn.iter().zip(wanted) {
                    assert_eq!(element.runs.len(), runs, "{}: {layer}", sample.about);
                    let off = (element.pen.unwrap() - mm(pen.width())).abs();
                    assert!(off < 1e-4, "{}: {pen:?} is {:?}", sample.about, element.pen);
                    assert_eq!(element.dashes, pen.dashes().len(), "{pen:?}");
                }
            }
        }
    }
}

/// The outlines of the letters keep within the width that the sheet was laid out with, so
/// they are clear of other ink for every reader; the words stand beside them.
#[test]
fn words_have_the_room_that_they_were_given() {
    let sample = &samples()[0];
    let files = svg(&sample.set).unwrap();
    let mut count = 0;
    for ((sheet, page), file) in sample.set.sheets.iter().zip(&sample.pages).zip(&files) {
        let file = std::str::from_utf8(file).unwrap();
        let texts = sheet.items.iter().filter_map(|item| match item {
            Item::Text { at, anchor, turn, size, text, .. } => {
                Some((*at, *anchor, *turn, *size, text))
            }
            _ => None,
        });
        let drawn = page.layer("text");
        for ((at, anchor, turn, size, text), element) in texts.zip(drawn) {
            assert!(file.contains(&format!("<title>{text}</title>")), "{text}");
            let (wide, size) = (mm(lettering::width(text, size)), mm(size));
            let back = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => wide / 2.0,
                Anchor::End => wide,
            };
            let (along, up) = if turn == QuarterTurn::None { (0, 1) } else { (1, 0) };
            let at = place(at);
            let from = at[along] - back;
            for end in element.runs.iter().flat_map(|run| &run.ends) {
                let is_along = from - size * 0.2 < end[along]
                    && end[along] < from + wide + size * 0.2;
                let is_up = (end[up] - at[up]).abs() < size;
                assert!(is_along && is_up, "{text} at {at:?}: {end:?}");
                count += 1;
            }
        }
    }
    assert!(count > 1_000, "{count} places of letters");
}

/// Each piece lies on one sheet, in one part.
#[test]
fn the_whole_strap_is_on_one_sheet() {
    let whole = |sample: &&Sample| sample.set.paper.name().starts_with("roll-");
    let all: Vec<&Sample> = samples().iter().filter(whole).collect();
    assert_eq!(all.len() * 3, samples().len());
    for sample in all {
        let set = &sample.set;
        assert_eq!((set.sheets.len(), set.joins.len()), (1, 0), "{}", sample.about);
        assert_eq!(set.sheets[0].tiles.len(), sample.layout.pieces.len());
        assert!(set.lengthwise_joins.is_empty(), "{}", sample.about);
    }
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    let none = svg(&SheetSet::default()).unwrap_err().to_string();
    assert_eq!(none, "there is no sheet to draw");
    let mut set = samples()[0].set.clone();
    let item = set.sheets[0].items.iter_mut().find_map(|item| match item {
        Item::Text { text, .. } => Some(text),
        _ => None,
    });
    "漢".clone_into(item.unwrap());
    assert!(svg(&set).unwrap_err().to_string().contains("`漢` (U+6F22)"));
}

#[test]
fn draw_takes_the_format_from_the_ending() {
    let folder = folder_with("job.toml", "template = \"belt\"\ntitle = \"A <b> & C\"\n");
    let at = |args: &[&str]| run(folder.path(), args);
    let drawn = at(&["draw", "job.toml", "--sheets", "-o", "belt.svg"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(drawn.err.contains("belt-1.svg to belt-"), "{}", drawn.err);
    assert!(drawn.err.contains("read back as a PDF: "), "{}", drawn.err);
    assert!(!drawn.err.contains("ticket"), "{}", drawn.err);
    let sheets = names(&folder).iter().filter(|name| name.starts_with("belt-")).count();
    assert!(sheets > 1, "{:?}", names(&folder));
    let first = fs::read(folder.path().join("belt-1.svg")).unwrap();
    Page::read(&first);
    assert!(String::from_utf8_lossy(&first).contains("<title>A &lt;b&gt; &amp; C"));

    // None is written if one exists already.
    fs::remove_file(folder.path().join("belt-1.svg")).unwrap();
    fs::copy(folder.path().join("job.toml"), folder.path().join("belt-2.svg")).unwrap();
    let again = at(&["draw", "job.toml", "--sheets", "-o", "belt.svg"]);
    assert_eq!(again.code, Some(3), "{}", again.err);
    assert!(again.err.contains("belt-2.svg exists already"), "{}", again.err);
    assert!(!folder.path().join("belt-1.svg").exists());
    assert_eq!(
        at(&["draw", "job.toml", "--sheets", "--force", "-o", "belt.svg"]).code,
        Some(0)
    );
    assert_eq!(fs::read(folder.path().join("belt-1.svg")).unwrap(), first);

    let whole = at(&["draw", "job.toml", "-o", "whole.svg"]);
    assert_eq!(whole.code, Some(0), "{}", whole.err);
    assert!(names(&folder).contains(&"whole.svg".to_owned()), "{:?}", names(&folder));
    let pdf = at(&["draw", "job.toml", "--whole", "-o", "whole.PDF"]);
    assert_eq!(pdf.code, Some(0), "{}", pdf.err);
    assert_eq!(at(&["verify", "whole.PDF", "job.toml"]).code, Some(0));
    for (more, words) in [
        (&["-o", "belt.dxf", "--sheets"][..], "end it in .svg or .pdf"),
        (&["-o", "belt.dxf", "--nested"], "end it in .svg or .pdf"),
        (&["-o", "belt.dxf", "--paper", "a4"], "--paper is about sheets"),
        (&["-o", "belt.svg", "--printer", "desk.toml"], "--printer is about sheets"),
    ] {
        let refused = at(&[&["draw", "job.toml"], more].concat());
        assert_eq!(refused.code, Some(2), "{more:?}: {}", refused.err);
        assert!(refused.err.contains(words), "{more:?}: {}", refused.err);
    }
}

#[test]
fn an_ending_that_names_no_format_is_refused() {
    let folder = folder_with(
        "job.toml",
        "template = \"belt\"\nstock.sizes = \"34 to 36 in by 2 in\"\n",
    );
    for args in [
        &["draw", "job.toml", "-o", "belt.ps"][..],
        &["draw", "job.toml", "--nested", "-o", "belt.ps"],
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(2), "{}", ran.err);
        assert!(ran.err.contains("belt.ps ends in .ps"), "{}", ran.err);
        let endings = format!("end it in one of: {}", Format::endings());
        assert!(ran.err.contains(&endings), "{}", ran.err);
    }
    let svg = ["reprint", "job.toml", "--size=36", "--against=34", "-o", "next.svg"];
    let ran = run(folder.path(), &svg);
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    assert!(ran.err.contains("end FILE in .pdf"), "{}", ran.err);
    assert_eq!(names(&folder), ["job.toml"]);
    let help = run(folder.path(), &["draw", "--help"]);
    assert!(help.out().contains(".svg") && help.out().contains(".pdf"), "{}", help.out());
}
