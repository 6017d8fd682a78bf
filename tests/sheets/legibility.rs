//! Every word on the strap's sheets can be read: none is crossed by a line or by another
//! word, none is small, and all ink lies within the margins; the head says first how to print
//! it and which sheet it is. None of that takes more paper than it did. Held over every template and every sample job, with what the face
//! itself says of its letters.

use crate::common::ink::{Area, bounds, inked, places};
use crate::common::{mm, samples};
use strapwright::diagnostic::forbids_print;
use strapwright::geom::{Point, Sheet as OnSheet};
use strapwright::layout::{Layout, nest};
use strapwright::lettering;
use strapwright::paginate::{
    Claim, Heading, Item, Layer, Paper, Pen, PrintedSizes, Request, Sheet, SheetSet,
    Tone, paginate,
};
use strapwright::template::REGISTER;
use strapwright::words::{Language, Units, Word, Wording};
use strapwright::{Laid, prepare};
use ttf_parser::Face;

/// A point of type, in mm, and what is lost to rounding.
const POINT: f64 = 25.4 / 72.0;
const ROUNDED: f64 = 1e-5;
/// Least sizes in points, for what is read at 60 cm with a knife in the hand: of any word, of
/// what belongs to a mark or a ruler, and of how to print. 9 points are 13 minutes of arc at
/// that distance, normal sight ends at 5 (ISO 8596 tests sight by rings with gaps of 1 minute,
/// the height of which is 5).
const LEAST: f64 = 8.0;
const LEAST_OF_MARKS: f64 = 9.0;
const LEAST_OF_PRINT: f64 = 18.0;

/// Half as wide as a pen draws, in mm, by the widths that `Pen` states.
fn half(pen: Pen) -> f64 {
    match pen {
        Pen::Outline => 0.25,
        Pen::Punch => 0.175,
        Pen::Frame | Pen::Fold | Pen::Target => 0.125,
        Pen::Thin | Pen::Centre | Pen::Apart => 0.09,
    }
}

/// Which layer and which item of it, as they are painted.
type Order = (usize, usize);

fn order(layer: Layer, nth: usize) -> Order {
    (Layer::ALL.iter().position(|l| *l == layer).unwrap(), nth)
}

/// What of the way from `a` to `b` within `area` no white covers.
fn shows(
    area: Area,
    white: &[(Order, Area)],
    painted: Order,
    a: (f64, f64),
    b: (f64, f64),
) -> bool {
    let Some((from, to)) = area.part(a, b) else { return false };
    let at = |t: f64| (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t);
    let (a, b) = (at(from), at(to));
    !white.iter().any(|(order, white)| {
        let whole = |part: (f64, f64)| part.0 < 1e-6 && part.1 > 1.0 - 1e-6;
        *order > painted && white.grown(1e-6).part(a, b).is_some_and(whole)
    })
}

/// What of a sheet cannot be read, or lies off its margins.
fn faults(sheet: &Sheet, set: &SheetSet, face: &Face<'_>) -> Vec<String> {
    let [low, high] = set.corners_on(sheet);
    let margins = Area { low: (mm(low.x), mm(low.y)), high: (mm(high.x), mm(high.y)) };
    let mut wrong = Vec::new();
    let mut texts: Vec<(&str, Area)> = Vec::new();
    let mut lines = Vec::new();
    let mut white = Vec::new();
    for (nth, item) in sheet.items.iter().enumerate() {
        match item {
            Item::Text { at, anchor, turn, size, text, claim, .. } => {
                let ink = inked(face, *at, *anchor, *turn, *size, text);
                let is_marks = matches!(
                    claim,
                    Claim::Reading { .. } | Claim::Numeral { .. } | Claim::Join { .. }
                );
                let least = if is_marks { LEAST_OF_MARKS } else { LEAST };
                if mm(*size) < least * POINT - ROUNDED {
                    wrong.push(format!("`{text}` is {} mm small", size.mm(2)));
                }
                let within = margins.grown(0.01).part(ink.low, ink.high);
                if within != Some((0.0, 1.0)) {
                    wrong.push(format!("`{text}` is off the margins at {ink:?}"));
                }
                texts.push((text, ink));
            }
            Item::Stroke { layer, pen, paths } => {
                for path in paths {
                    lines.push((order(*layer, nth), *pen, places(path)));
                }
            }
            Item::TickRows { layer, pen, tick_rows } => {
                let spot = |p: Point<OnSheet>| (mm(p.x), mm(p.y));
                for row in tick_rows {
                    for foot in (0..row.count).map(|n| row.base(n)) {
                        let tick = vec![spot(foot), spot(foot + row.tick)];
                        lines.push((order(*layer, nth), *pen, tick));
                    }
                }
            }
            Item::Fill { layer, tone: Tone::White, paths } => {
                for path in paths {
                    let [low, high] = [path.start, path.steps[1].to()];
                    let (low, high) = ((mm(low.x), mm(low.y)), (mm(high.x), mm(high.y)));
                    white.push((order(*layer, nth), Area { low, high }));
                }
            }
            Item::Fill { .. } => {}
        }
    }
    for (painted, pen, places) in &lines {
        let bounds = bounds(places).grown(half(*pen));
        let limits = margins.grown(half(*pen) + 1e-6);
        for way in places.windows(2) {
            if limits.part(way[0], way[1]).is_none_or(|p| p.0 > 1e-6 || p.1 < 1.0 - 1e-6)
                && way[0] != way[1]
            {
                wrong.push(format!("{pen:?} runs off the margins at {:?}", way[1]));
                break;
            }
        }
        for (text, ink) in texts.iter().filter(|(_, ink)| ink.overlaps(bounds)) {
            let area = ink.grown(half(*pen));
            let mut ways = places.windows(2);
            if ways.any(|w| shows(area, &white, *painted, w[0], w[1])) {
                wrong.push(format!("{pen:?} crosses `{text}` at {ink:?}"));
            }
        }
    }
    for (nth, (a, ink)) in texts.iter().enumerate() {
        for (b, other) in &texts[nth + 1..] {
            if ink.overlaps(*other) {
                wrong.push(format!("`{a}` and `{b}` overlap at {ink:?}"));
            }
        }
    }
    wrong
}

const PAPERS: [&str; 2] = ["a4", "letter"];

fn laid(text: &str) -> Laid {
    let prepared = prepare("job.toml", text, &[]);
    assert!(!forbids_print(&prepared.findings), "{text}: {:?}", prepared.findings);
    prepared.laid.unwrap()
}

fn print((job, fit, layout): &Laid, paper: &str, wording: Wording) -> SheetSet {
    let heading = Heading::with_wording(job, fit.as_ref(), layout, wording);
    paginate(&Request::new(layout, &heading, &Paper::parse(paper).unwrap())).unwrap()
}

/// Nothing is wrong with any sheet of `set`; says how many words were looked at.
fn holds(name: &str, set: &SheetSet, face: &Face<'_>) -> usize {
    let mut words = 0;
    let mut wrong = Vec::new();
    for sheet in &set.sheets {
        let is_text = |i: &&Item| matches!(i, Item::Text { .. });
        words += sheet.items.iter().filter(is_text).count();
        let found = faults(sheet, set, face).into_iter();
        wrong.extend(found.map(|f| format!("sheet {}: {f}", sheet.number)));
    }
    for sheet in &set.sheets {
        let head = sheet.items[..sheet.head].iter().filter_map(|i| match i {
            Item::Text { text, size, .. } => Some((text.as_str(), mm(*size) / POINT)),
            _ => None,
        });
        let head: Vec<(&str, f64)> = head.collect();
        let wording = set.settings.wording;
        let which = wording.fill(
            Word::SheetOf,
            &[("number", &sheet.number), ("count", &set.sheets.len())],
        );
        let first = [wording.say(Word::PrintAtFull), which.as_str()];
        if first.iter().zip(&head).any(|(wanted, (text, _))| wanted != text) {
            wrong.push(format!("{head:?} does not begin with {first:?}"));
        }
        if head[0].1 < LEAST_OF_PRINT - 0.01 {
            wrong.push(format!("{:?} is small", head[0]));
        }
        if !head.iter().any(|(text, _)| text.contains(&set.fingerprint)) {
            wrong.push(format!("{head:?} does not say which print it is"));
        }
    }
    assert!(wrong.is_empty(), "{name} on {}:\n{}", set.paper, wrong.join("\n"));
    words
}

/// Every template as it stands, and jobs with much to say or little room.
fn jobs() -> Vec<(String, String)> {
    let mut all = samples::jobs();
    for template in REGISTER {
        let text = format!("template = \"{}\"\n", template.name);
        all.push((template.name.to_owned(), text));
    }
    let mut own = |name: &str, text: &str| all.push((name.to_owned(), text.to_owned()));
    own("wide cuff", "template = \"laced-cuff\"\nstrap.width = \"240 mm\"\n");
    own(
        "wide baldric",
        "template = \"baldric\"\nstrap.width = \"75 mm\"\nbaldric.loop = \"1409 mm\"\n",
    );
    own(
        "wide pad",
        "template = \"plain-strap\"\nstrap.width = \"240 mm\"\nplain.length = \"500 mm\"\n\
         [edge]\nkind = \"crease\"\nalong = \"outline\"\ninset = \"4 mm\"\n\
         [stamp]\nkind = \"stamp\"\nfrom = \"strap.zero\"\nby = \"250 mm\"\n\
         length = \"60 mm\"\nwidth = \"40 mm\"\ntext = \"Lantern Street\"\n",
    );
    all
}

#[test]
fn every_word_of_every_strap_can_be_read() {
    let face = Face::parse(lettering::face(), 0).unwrap();
    let mut words = 0;
    for (name, text) in jobs() {
        let laid = laid(&text);
        for paper in PAPERS {
            words += holds(&name, &print(&laid, paper, Wording::default()), &face);
        }
    }
    assert!(words > 8_000, "only {words} words were looked at");
}

/// Words are longer in other languages, and readings in two units; the heads of narrow
/// papers have the least room.
#[test]
fn long_words_on_narrow_papers_can_be_read() {
    let face = Face::parse(lettering::face(), 0).unwrap();
    for template in REGISTER {
        let laid = laid(&format!("template = \"{}\"\n", template.name));
        for (language, paper) in Language::ALL
            .into_iter()
            .zip(["150x200mm", "a4", "140x260mm"].into_iter().cycle())
        {
            let wording = Wording { language, units: Units::Both };
            holds(
                &format!("{} in {language:?}", template.name),
                &print(&laid, paper, wording),
                &face,
            );
        }
    }
}

/// The rows and the tips of every size, and the common words about them.
#[test]
fn every_word_of_nested_sizes_can_be_read() {
    let face = Face::parse(lettering::face(), 0).unwrap();
    for (lines, sizes) in [
        ("strap.width = \"38 mm\"\n", &["28 in", "30 in", "32 in", "34 in", "36 in"][..]),
        ("", &["34 in", "36 in"]),
        (
            "strap.width = \"45 mm\"\nbuckle.inside = \"46 mm\"\nsize-holes.inside = 1\n",
            &["700 mm", "800 mm", "900 mm"],
        ),
        (
            "tip.shape = \"round\"\nsize-holes.outside = 3\n",
            &["30 in", "31 in", "33 in", "39 in"],
        ),
    ] {
        let sized = |size: &&str| {
            let list =
                sizes.iter().map(|s| format!("\"{s}\"")).collect::<Vec<_>>().join(", ");
            laid(&format!(
                "template = \"belt\"\n{lines}measure.taken = \"bend-to-hole\"\n\
                 stock.sizes = [{list}]\nstock.size = \"{size}\"\n"
            ))
        };
        let all: Vec<Laid> = sizes.iter().map(sized).collect();
        let layouts: Vec<(&str, &Layout)> =
            sizes.iter().copied().zip(all.iter().map(|(_, _, layout)| layout)).collect();
        let nest = nest(&layouts).unwrap();
        let (job, fit, layout) = &all[0];
        let printed =
            PrintedSizes::Nested(format!("{} to {}", sizes[0], sizes[sizes.len() - 1]));
        let heading =
            Heading { sizes: printed, ..Heading::new(job, fit.as_ref(), layout) };
        for paper in PAPERS {
            let paper = Paper::parse(paper).unwrap();
            let request = Request::new(&nest.layout, &heading, &paper);
            let set = paginate(&Request { rows: &nest.rows, ..request }).unwrap();
            let words = holds(&format!("nested {sizes:?}"), &set, &face);
            assert!(words > 100, "{words}");
        }
    }
}

/// How many sheets each template took on A4 and on Letter while its rulers stood beside the
/// strap, its words were 6 points high and bars had bands of their own.
const BEFORE: &[(&str, [usize; 2])] = &[
    ("apron-strap", [3, 3]),
    ("bag-strap", [2, 2]),
    ("baldric", [4, 4]),
    ("belt", [2, 2]),
    ("braces", [4, 4]),
    ("bundle-strap", [1, 1]),
    ("camera-strap", [2, 2]),
    ("centre-bar-belt", [2, 2]),
    ("chin-strap", [1, 1]),
    ("cuff", [1, 1]),
    ("dog-collar", [1, 1]),
    ("garter", [1, 1]),
    ("guitar-strap", [3, 3]),
    ("hat-band", [1, 1]),
    ("key-fob", [1, 1]),
    ("laced-cuff", [1, 1]),
    ("lead", [2, 2]),
    ("lined-belt", [4, 4]),
    ("plain-strap", [1, 1]),
    ("ranger-belt", [2, 2]),
    ("sizing-strap", [2, 2]),
    ("snap-on-belt", [2, 2]),
    ("two-prong-belt", [2, 3]),
    ("watch-strap", [1, 1]),
];

#[test]
fn large_words_take_no_more_paper() {
    let (mut fewer, mut more) = ([0, 0], Vec::new());
    for template in REGISTER {
        let laid = laid(&format!("template = \"{}\"\n", template.name));
        let before = BEFORE.iter().find(|(name, _)| *name == template.name);
        let Some((name, before)) = before else { continue };
        for (nth, paper) in PAPERS.iter().enumerate() {
            let now = print(&laid, paper, Wording::default()).sheets.len();
            fewer[nth] += before[nth].saturating_sub(now);
            if now > before[nth] {
                more.push(format!("{name} on {paper}: {now} sheets for {}", before[nth]));
            }
        }
    }
    assert!(more.is_empty(), "{more:?}");
    assert!(fewer[0] + fewer[1] >= 4, "{fewer:?} sheets fewer");
}
