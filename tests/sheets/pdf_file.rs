//! The bytes of a set, read back with lopdf: what a printer and a reader are told, and
//! every circle as numbers.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::thread;
use strapwright::export::pdf::{self, pdf};
use strapwright::fit::{JoinCounts, MeasurementUncertainty, RulerClass};
use strapwright::geom::{Length, Path, Point, QuarterTurn, Ratio, Sheet as OnSheet};
use strapwright::paginate::{
    Anchor, Claim, Correction, Factor, Gauge, GaugeStrip, Item, LastMark, Layer, Paper,
    Pen, PrintSettings, ReusedSheet, Sheet, SheetSet, Tone,
};
use strapwright::words::{Language, Units, Wording};

const NAMES: &str = "Łukasz Ångström-Müller Ωμέγα Жанна";
const MM_PER_PT: f64 = 25.4 / 72.0;

fn at(x_um: i64, y_um: i64) -> Point<OnSheet> {
    Point::new(Length::from_um(x_um), Length::from_um(y_um))
}

/// Centre and radius in micrometres.
const CIRCLES: [(i64, i64, i64); 5] = [
    (30_000, 50_000, 2_500),
    (36_350, 50_001, 1_984),
    (200_123, 270_987, 3_175),
    (107_950, 139_700, 500),
    (60_777, 199_999, 40_000),
];

fn text(words: &str, anchor: Anchor, turn: QuarterTurn) -> Item {
    let size = Length::from_mm(4);
    let text = words.to_owned();
    let (tone, claim) = (Tone::Black, Claim::None);
    Item::Text {
        tone,
        at: at(100_000, 20_000),
        anchor,
        turn,
        size,
        bold: false,
        text,
        claim,
    }
}

fn sheet(number: usize) -> Sheet {
    let circles = CIRCLES.map(|(x, y, r)| Path::circle(at(x, y), Length::from_um(r)));
    let slot = Path::slot(at(90_000, 60_000), Length::from_mm(25), Length::from_mm(5));
    let line = Path::line(at(10_000, 10_000), at(200_000, 10_000));
    let tip = Path::from(at(150_000, 100_000))
        .arc_to(at(150_000, 140_000), at(150_000, 120_000), false)
        .line_to(at(100_000, 140_000));
    let box_ = Path::rectangle(at(20_000, 220_000), at(60_000, 230_000));
    let stroke = |layer, pen, paths| Item::Stroke { layer, pen, paths };
    Sheet {
        number,
        width: Length::from_um(215_900),
        height: Length::from_um(279_400),
        items: vec![
            Item::Fill { layer: Layer::Guides, tone: Tone::Light, paths: vec![box_] },
            stroke(Layer::Guides, Pen::Centre, vec![line.clone()]),
            stroke(Layer::Guides, Pen::Frame, vec![line.clone()]),
            stroke(Layer::Guides, Pen::Fold, vec![line]),
            stroke(Layer::Outline, Pen::Outline, vec![tip]),
            stroke(Layer::Punch, Pen::Punch, circles.to_vec()),
            stroke(Layer::Punch, Pen::Target, vec![slot]),
            text(NAMES, Anchor::Start, QuarterTurn::None),
            text("turned", Anchor::Middle, QuarterTurn::Left),
            text("", Anchor::End, QuarterTurn::None),
        ],
        ..Sheet::default()
    }
}

fn correction() -> Correction {
    let factor = |by| Factor {
        by: Ratio::from_millionths(by),
        proven: Ratio::from_millionths(1_234),
    };
    Correction {
        printer: "föhn; (long ×1.01) \"desk\"".to_owned(),
        long: factor(1_010_000),
        short: factor(998_765),
        margin: Length::from_um(4_200),
        fitted: true,
    }
}

fn gauge() -> Gauge {
    let mm = Length::from_mm;
    let [labels, names] =
        [["A", "B"], ["wide", "tall"]].map(|both| both.map(ToOwned::to_owned));
    let joins = JoinCounts { both: 2, length_only: 1, distance_only: 0 };
    Gauge {
        page: [mm(279), mm(216)],
        bars: [mm(240), mm(160)],
        names,
        frame: [mm(259), mm(196)],
        strip: Some(GaugeStrip { labels, length: mm(950), joins: 3, is_wide: true }),
        last: Some(LastMark { way: Length::from_um(812_500), joins, is_wide: true }),
    }
}

fn set() -> SheetSet {
    SheetSet {
        gauge: Some(gauge()),
        ticket: Vec::new(),
        title: format!("Belt (size 34) {NAMES}"),
        wearer: String::new(),
        fingerprint: "1A2B 3C4D".to_owned(),
        settings: PrintSettings {
            printer: Some(correction()),
            wording: Wording { language: Language::German, units: Units::Both },
            measuring: MeasurementUncertainty {
                ruler: RulerClass::III,
                reading: Length::from_um(700),
                join: Length::from_um(250),
            },
        },
        paper: Paper::parse("letter").unwrap(),
        sheets: vec![sheet(1), sheet(2), sheet(5)],
        size: "34 in".to_owned(),
        reused: vec![ReusedSheet { print: "5E6F-7A8B".to_owned(), sheet: 3 }],
        joins: vec![(0, Length::from_um(123_456)), (1, Length::from_mm(-7))],
        lengthwise_joins: Vec::new(),
        left_out: Vec::new(),
        checks: Vec::new(),
        findings: Vec::new(),
    }
}

fn read(set: &SheetSet) -> Document {
    Document::load_mem(&pdf(set).unwrap()).unwrap()
}

fn dict<'a>(document: &'a Document, of: &'a Dictionary, key: &str) -> &'a Dictionary {
    let entry = of.get(key.as_bytes()).unwrap();
    document.dereference(entry).unwrap().1.as_dict().unwrap()
}

fn name(of: &Dictionary, key: &str) -> String {
    let name = of.get(key.as_bytes()).unwrap().as_name().unwrap();
    String::from_utf8(name.to_vec()).unwrap()
}

fn pages(document: &Document) -> Vec<ObjectId> {
    document.get_pages().into_values().collect()
}

fn operations(document: &Document, page: ObjectId) -> Vec<(String, Vec<Object>)> {
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    content.operations.into_iter().map(|op| (op.operator, op.operands)).collect()
}

fn numbers(operands: &[Object]) -> Vec<f64> {
    operands.iter().map(|n| f64::from(n.as_float().unwrap())).collect()
}

/// ISO 32000-1:2008, 12.2, table 150.
#[test]
fn the_catalog_asks_for_a_print_at_full_scale() {
    let document = read(&set());
    assert_eq!(document.version, "1.7");
    let catalog = document.catalog().unwrap();
    let preferences = dict(&document, catalog, "ViewerPreferences");
    assert_eq!(name(preferences, "PrintScaling"), "None");
    assert_eq!(name(preferences, "Duplex"), "Simplex");
    assert_eq!(preferences.get(b"NumCopies").unwrap().as_i64().unwrap(), 1);
    for key in ["PickTrayByPDFSize", "DisplayDocTitle"] {
        assert!(preferences.get(key.as_bytes()).unwrap().as_bool().unwrap(), "{key}");
    }
    assert_eq!(name(catalog, "PageMode"), "UseOutlines");
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
}

#[test]
fn pages_are_labelled_and_bookmarked_by_sheet() {
    let document = read(&set());
    let catalog = document.catalog().unwrap();
    let labels = dict(&document, catalog, "PageLabels");
    let ranges = labels.get(b"Nums").unwrap().as_array().unwrap();
    let ranges: Vec<(i64, String, i64)> = ranges
        .chunks(2)
        .map(|pair| {
            let range = pair[1].as_dict().unwrap();
            let first = range.get(b"St").unwrap().as_i64().unwrap();
            (pair[0].as_i64().unwrap(), name(range, "S"), first)
        })
        .collect();
    assert_eq!(ranges, [(0, "D".to_owned(), 1), (2, "D".to_owned(), 5)]);

    let mut marks = Vec::new();
    let mut next = dict(&document, catalog, "Outlines").get(b"First").cloned();
    while let Ok(id) = next {
        let mark = document.get_dictionary(id.as_reference().unwrap()).unwrap();
        let title = lopdf::decode_text_string(mark.get(b"Title").unwrap()).unwrap();
        let dest = mark.get(b"Dest").unwrap().as_array().unwrap();
        marks.push((title, dest[0].as_reference().unwrap()));
        next = mark.get(b"Next").cloned();
    }
    let titles = ["Sheet 1", "Sheet 2", "Sheet 5"].map(str::to_owned);
    assert_eq!(marks, titles.into_iter().zip(pages(&document)).collect::<Vec<_>>());
}

#[test]
fn boxes_are_the_paper_exactly() {
    let document = read(&set());
    for id in pages(&document) {
        let page = document.get_dictionary(id).unwrap();
        let media = numbers(page.get(b"MediaBox").unwrap().as_array().unwrap());
        let expected = [0.0_f64, 0.0, 612.0, 792.0].map(f64::to_bits);
        assert_eq!(media.into_iter().map(f64::to_bits).collect::<Vec<_>>(), expected);
        for key in ["CropBox", "TrimBox", "BleedBox", "ArtBox", "Rotate", "UserUnit"] {
            assert!(page.get(key.as_bytes()).is_err(), "{key}");
        }
        assert!(page.get(b"Annots").is_err());
    }
}

#[test]
fn layers_are_there_and_on() {
    let document = read(&set());
    let properties = dict(&document, document.catalog().unwrap(), "OCProperties");
    let groups = properties.get(b"OCGs").unwrap().as_array().unwrap();
    let mut names = Vec::new();
    for group in groups {
        let group = document.get_dictionary(group.as_reference().unwrap()).unwrap();
        assert!(group.get(b"Usage").is_err());
        names.push(lopdf::decode_text_string(group.get(b"Name").unwrap()).unwrap());
    }
    names.sort();
    assert_eq!(names, ["guides", "outline", "punch", "text"]);
    let default = dict(&document, properties, "D");
    assert_eq!(default.get(b"ON").unwrap().as_array().unwrap(), groups);
    for id in pages(&document) {
        let page = document.get_dictionary(id).unwrap();
        let used = dict(&document, dict(&document, page, "Resources"), "Properties");
        assert_eq!(used.len(), 4);
        let operations = operations(&document, id);
        let count = |op: &str| operations.iter().filter(|(o, _)| o == op).count();
        assert_eq!((count("BDC"), count("EMC")), (4, 4));
    }
}

#[test]
fn every_circle_is_where_its_item_says() {
    let mut set = set();
    set.settings.printer = None;
    let document = read(&set);
    for id in pages(&document) {
        let mut rings = Vec::new();
        let mut run: Vec<[f64; 2]> = Vec::new();
        let mut curves = 0;
        for (operator, operands) in operations(&document, id) {
            // With no matrix on the way, page space is sheet space in points.
            assert!(!["cm", "Do", "q", "Q"].contains(&operator.as_str()));
            let n = match operator.as_str() {
                "m" | "l" | "c" => numbers(&operands),
                _ => Vec::new(),
            };
            match operator.as_str() {
                "m" => (run, curves) = (vec![[n[0], n[1]]], 0),
                "c" => {
                    curves += 1;
                    run.push([n[4], n[5]]);
                }
                "l" => curves = -100,
                "S" if curves == 4 => rings.push(run.clone()),
                _ => {}
            }
        }
        assert_eq!(rings.len(), CIRCLES.len());
        for (ring, (x, y, r)) in rings.iter().zip(CIRCLES) {
            let [x, y, r] =
                [x, y, r].map(|um| f64::from(i32::try_from(um).unwrap()) / 1e3);
            let middle = |k: usize| ring[..4].iter().map(|p| p[k]).sum::<f64>() / 4.0;
            let off = [middle(0) * MM_PER_PT - x, middle(1) * MM_PER_PT - y];
            assert!(off[0].abs() < 0.001 && off[1].abs() < 0.001, "{off:?}");
            for p in ring {
                let [dx, dy] = [p[0] * MM_PER_PT - x, p[1] * MM_PER_PT - y];
                assert!((libm::hypot(dx, dy) - r).abs() < 0.001, "{p:?} {r}");
            }
            assert_eq!(ring[0].map(f64::to_bits), ring[4].map(f64::to_bits));
        }
    }
}

#[test]
fn text_reads_back() {
    let document = read(&set());
    for page in 1..=3 {
        let text = document.extract_text(&[page]).unwrap();
        assert!(text.contains(NAMES) && text.contains("turned"), "{text}");
    }
}

#[test]
fn everything_is_black_or_grey() {
    let document = read(&set());
    let colours = ["rg", "RG", "k", "K", "sc", "scn", "SC", "SCN", "cs", "CS", "sh"];
    for id in pages(&document) {
        let operations = operations(&document, id);
        assert!(operations.iter().any(|(operator, _)| operator == "G"));
        for (operator, _) in operations {
            assert!(!colours.contains(&operator.as_str()), "{operator}");
        }
    }
}

#[test]
fn the_same_set_is_the_same_bytes() {
    let first = pdf(&set()).unwrap();
    assert!(first.len() < 60_000);
    let threads: Vec<_> = (0..4)
        .map(|_| {
            thread::spawn(|| (0..4).map(|_| pdf(&set()).unwrap()).collect::<Vec<_>>())
        })
        .collect();
    for thread in threads {
        for bytes in thread.join().unwrap() {
            assert!(bytes == first);
        }
    }
    let mut moved = set();
    moved.sheets[2].width = Length::from_mm(216);
    let id = |set| read(set).trailer.get(b"ID").unwrap().clone();
    assert_ne!(id(&moved), id(&set()));
}

#[test]
fn the_description_names_this_program_only() {
    let bytes = pdf(&set()).unwrap();
    let document = Document::load_mem(&bytes).unwrap();
    let info = dict(&document, &document.trailer, "Info");
    let entry =
        |key: &str| lopdf::decode_text_string(info.get(key.as_bytes()).unwrap()).unwrap();
    assert_eq!(entry("Title"), format!("Belt (size 34) {NAMES} (1A2B 3C4D)"));
    assert_eq!([entry("Creator"), entry("Producer")], ["strapwright", "strapwright"]);
    let foreign = info.iter().filter(|(key, _)| !key.starts_with(b"Strapwright"));
    assert_eq!(foreign.count(), 3);
    for word in ["printpdf", "Illustrator", "GTS_PDFX", "Date"] {
        assert!(!bytes.windows(word.len()).any(|w| w == word.as_bytes()), "{word}");
    }
}

fn said(set: &SheetSet) -> Option<SheetSet> {
    pdf::read(&pdf(set).unwrap())
}

/// A print of another size begins with what the last one says of itself.
#[test]
fn a_file_says_which_print_it_is() {
    let set = set();
    let said = said(&set).unwrap();
    assert_eq!(said, set.bare());
    let kept = (said.gauge, said.joins, said.reused, said.settings, said.sheets.len());
    assert_eq!(kept, (Some(gauge()), set.joins, set.reused, set.settings, 3));
    assert_eq!([said.paper.name(), &said.size], ["Letter", "34 in"]);
    for bytes in [&b"a letter"[..], b"%PDF-1.7"] {
        assert_eq!(pdf::read(bytes), None);
    }
}

/// Nothing that a print cannot have comes back from a file.
#[test]
fn a_file_that_says_what_cannot_be_says_nothing() {
    let no_bar = Gauge { bars: [Length::from_mm(240), Length::ZERO], ..gauge() };
    let no_length = vec![(0, Length::from_nm(i64::MAX))];
    let printer = |by, proven| {
        let [by, proven] = [by, proven].map(Ratio::from_millionths);
        let printer = Correction { long: Factor { by, proven }, ..correction() };
        PrintSettings { printer: Some(printer), ..set().settings }
    };
    for absurd in [
        SheetSet { gauge: Some(no_bar), ..set() },
        SheetSet { joins: no_length, ..set() },
        SheetSet { settings: printer(499_999, 0), ..set() },
        SheetSet { settings: printer(2_000_001, 0), ..set() },
        SheetSet { settings: printer(1_000_000, -1), ..set() },
    ] {
        assert_eq!(said(&absurd), None);
    }
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    let mut bad = set();
    bad.sheets[0].items.push(text("a漢b", Anchor::Start, QuarterTurn::None));
    assert!(pdf(&bad).unwrap_err().to_string().contains("`漢` (U+6F22)"));
    bad.sheets.clear();
    assert_eq!(pdf(&bad).unwrap_err().to_string(), "there is no sheet to draw");
}

#[test]
fn a_set_without_text_is_drawn() {
    let mut bare = set();
    for sheet in &mut bare.sheets {
        sheet.items.retain(|item| !matches!(item, Item::Text { .. }));
    }
    assert_eq!(pages(&read(&bare)).len(), 3);
}
