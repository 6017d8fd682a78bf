//! Three busy A4 sheets, made by hand: about 400 paths and 150 texts.

use strapwright::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet};
use strapwright::paginate::{Anchor, Item, Layer, Pen, Sheet, SheetSet, Tone};

fn at(x_um: i64, y_um: i64) -> Point<OnSheet> {
    Point::new(Length::from_um(x_um), Length::from_um(y_um))
}

fn stroke(layer: Layer, pen: Pen, paths: Vec<Path<OnSheet>>) -> Item {
    Item::Stroke { layer, pen, paths }
}

fn text(x_um: i64, y_um: i64, anchor: Anchor, turn: QuarterTurn, text: String) -> Item {
    let size = Length::from_um(2_500);
    Item::Text { tone: Tone::Black, at: at(x_um, y_um), anchor, turn, size, text }
}

/// A strap's stretch with holes and slots, rulers, crosses, frames and labels.
fn sheet(number: usize, shift: i64) -> Sheet {
    let mm = |n: i64| n * 1_000;
    let outline = Path::from(at(mm(15), mm(130) + shift))
        .line_to(at(mm(170), mm(130) + shift))
        .arc_to(at(mm(170), mm(170) + shift), at(mm(170), mm(150) + shift), false)
        .line_to(at(mm(15), mm(170) + shift))
        .close();
    let holes = (0..24).map(|i| {
        let centre = at(mm(24) + i * 6_350, mm(150) + shift + (i % 3) * 4_000);
        Path::circle(centre, Length::from_um(1_500 + i * 25))
    });
    let slots = (0..6).map(|i| {
        let centre = at(mm(40) + i * 20_000, mm(138) + shift);
        Path::slot(centre, Length::from_mm(12), Length::from_um(4_500))
    });
    let ticks = (0..100).map(|i| {
        let high = if i % 10 == 0 { 6_000 } else { 3_000 };
        Path::line(at(mm(30) + i * 1_000, mm(30)), at(mm(30) + i * 1_000, mm(30) + high))
    });
    let crosses =
        [(20, 20), (190, 20), (20, 277), (190, 277)].into_iter().flat_map(|(x, y)| {
            [
                Path::line(at(mm(x - 5), mm(y)), at(mm(x + 5), mm(y))),
                Path::line(at(mm(x), mm(y - 5)), at(mm(x), mm(y + 5))),
            ]
        });
    let line =
        |y| vec![Path::line(at(mm(10), mm(y) + shift), at(mm(195), mm(y) + shift))];
    let key = vec![Path::rectangle(at(mm(30), mm(240)), at(mm(120), mm(250)))];
    let mut items = vec![
        Item::Fill { layer: Layer::Guides, tone: Tone::Light, paths: key.clone() },
        stroke(Layer::Guides, Pen::Faint, key),
        stroke(Layer::Guides, Pen::Thin, ticks.chain(crosses).collect()),
        stroke(Layer::Guides, Pen::Centre, line(150)),
        stroke(Layer::Guides, Pen::Fold, line(160)),
        stroke(Layer::Outline, Pen::Outline, vec![outline]),
        stroke(Layer::Punch, Pen::Punch, holes.chain(slots).collect()),
    ];
    items.extend((0..10).map(|i| {
        let cm = format!("{i}");
        text(mm(30) + i * 10_000, mm(37), Anchor::Middle, QuarterTurn::None, cm)
    }));
    items.extend((0..24).map(|i| {
        let label = format!("hole {} · {}.{} mm", i + 1, 850 + i * 6, i % 10);
        text(mm(25) + i * 6_350, mm(175) + shift, Anchor::Start, QuarterTurn::Left, label)
    }));
    items.extend((0..16).map(|i| {
        let words =
            format!("Line {i}: print at 100 % – Łukasz Ångström-Müller × {number}");
        text(mm(190), mm(50) + i * 4_000, Anchor::End, QuarterTurn::None, words)
    }));
    Sheet {
        number,
        width: Length::from_mm(210),
        height: Length::from_mm(297),
        tiles: Vec::new(),
        bars: Vec::new(),
        items,
    }
}

/// The set.
pub(crate) fn set() -> SheetSet {
    SheetSet {
        title: "Belt for Ωμέγα Жанна".to_owned(),
        wearer: "Ωμέγα Жанна".to_owned(),
        fingerprint: "1A2B 3C4D".to_owned(),
        paper: "A4".to_owned(),
        sheets: (1..=3).map(|n| sheet(n, i64::try_from(n).unwrap() * 1_234)).collect(),
        joins: Vec::new(),
    }
}
