//! Sheets that do not show the strap, drawn faithfully: the file is as its sheets, so only the
//! rules that hold the sheets against the layout can find what is wrong.

use super::drawn::{Drawn, belts_on, drawn as draw, exactly, rules, words};
use crate::common::samples;

use std::collections::BTreeSet;
use strapwright::export::pdf::pdf;
use strapwright::geom::{
    Length, Path, Placement, Point, QuarterTurn, Sheet as OnSheet, Step,
};
use strapwright::paginate::{Claim, Item, Layer, Pen, Sheet, SheetSet, TickRow};

/// What is wrong with the sheets, the rule that must find it, and how it is made.
type SheetFault = (&'static str, &'static str, fn(&mut SheetSet));

const MM: Length = Length::from_mm(1);
const HOLES: [Pen; 2] = [Pen::Punch, Pen::Target];
const EDGES: [Pen; 2] = [Pen::Outline, Pen::Target];

fn moved(path: &Path<OnSheet>, x: Length) -> Path<OnSheet> {
    let to = |p: Point<OnSheet>| Point::new(p.x + x, p.y);
    let step = |step: &Step<OnSheet>| match *step {
        Step::Line { to: end } => Step::Line { to: to(end) },
        Step::Arc { to: end, centre, clockwise } => {
            Step::Arc { to: to(end), centre: to(centre), clockwise }
        }
    };
    let steps = path.steps.iter().map(step).collect();
    Path { start: to(path.start), steps, closed: path.closed }
}

/// The paths of the first sheet's strokes of a layer and some pens, without the head.
fn strokes<'a>(
    set: &'a mut SheetSet,
    layer: Layer,
    pens: &[Pen],
) -> Vec<&'a mut Vec<Path<OnSheet>>> {
    let sheet = &mut set.sheets[0];
    let own = sheet.items.iter_mut().skip(sheet.head);
    own.filter_map(|item| match item {
        Item::Stroke { layer: l, pen, paths } if *l == layer && pens.contains(pen) => {
            Some(paths)
        }
        _ => None,
    })
    .collect()
}

/// The first text of the first sheet that makes such a claim.
fn text(set: &mut SheetSet, is_wanted: fn(&Claim) -> bool) -> (&mut String, &mut Claim) {
    let texts = set.sheets[0].items.iter_mut().find_map(|item| match item {
        Item::Text { text, claim, .. } if is_wanted(claim) => Some((text, claim)),
        _ => None,
    });
    texts.unwrap()
}

fn without(sheet: &mut Sheet, is_gone: impl Fn(&Item) -> bool) {
    let at = sheet.items.iter().skip(sheet.head).position(is_gone).unwrap() + sheet.head;
    sheet.items.remove(at);
}

const SHEET_FAULTS: &[SheetFault] = &[
    ("a hole moved", "mark-missing", |set| {
        let paths = strokes(set, Layer::Punch, &HOLES).remove(0);
        paths[0] = moved(&paths[0], Length::from_um(1));
    }),
    ("a hole left out", "mark-missing", |set| {
        strokes(set, Layer::Punch, &HOLES).remove(0).clear();
    }),
    ("a hole too many", "mark-extra", |set| {
        let paths = strokes(set, Layer::Punch, &HOLES).remove(0);
        paths.push(moved(&paths[0], MM * 9));
    }),
    ("a tile laid 1 mm aside", "mark-missing", |set| {
        let tile = &mut set.sheets[0].tiles[0];
        let origin = tile.placement.apply(Point::new(MM, Length::ZERO));
        tile.placement = Placement::new(QuarterTurn::None, origin);
    }),
    ("an edge left out", "outline-off", |set| {
        let all = strokes(set, Layer::Outline, &EDGES);
        let longest = all.into_iter().max_by_key(|paths| paths.len()).unwrap();
        longest.remove(0);
    }),
    ("an edge that is none", "outline-off", |set| {
        let paths = strokes(set, Layer::Outline, &EDGES).remove(0);
        let edge = Path { closed: false, ..paths[0].clone() };
        paths.push(moved(&edge, MM / 10));
    }),
    ("an edge beside all tiles", "outline-off", |set| {
        // At the head.
        let y = set.sheets[0].height - MM * 12;
        let far = Path::line(Point::new(MM * 40, y), Point::new(MM * 60, y));
        strokes(set, Layer::Outline, &EDGES).remove(0).push(far);
    }),
    ("a fold line moved", "mark-missing", |set| {
        for paths in strokes(set, Layer::Guides, &[Pen::Fold]) {
            for path in paths {
                *path = moved(path, Length::from_um(10));
            }
        }
    }),
    ("a fold line too many", "mark-extra", |set| {
        let paths = strokes(set, Layer::Guides, &[Pen::Fold]).remove(0);
        paths.push(moved(&paths[0], MM * 30));
    }),
    ("a numeral at another place", "ruler-wrong", |set| {
        let (text, _) = text(set, |claim| matches!(claim, Claim::Numeral { .. }));
        *text = (text.parse::<i64>().unwrap() + 10).to_string();
    }),
    ("a numeral that says so of another place", "ruler-wrong", |set| {
        let (text, claim) = text(set, |claim| matches!(claim, Claim::Numeral { .. }));
        let Claim::Numeral { x, unit, .. } = claim else { unreachable!() };
        *x += *unit * 10;
        *text = (text.parse::<i64>().unwrap() + 10).to_string();
    }),
    ("a reading that is another mark's", "label-wrong", |set| {
        let (text, _) = text(set, |claim| matches!(claim, Claim::Reading { .. }));
        let last = text.pop().unwrap();
        text.push(if last == '9' { '0' } else { '9' });
    }),
    ("a join with the name of another", "cross-odd", |set| {
        let (text, _) = text(set, |claim| matches!(claim, Claim::Join { .. }));
        "JOIN 8 + 9".clone_into(text);
    }),
    ("a line with the letter of another", "cross-odd", |set| {
        let (text, _) = text(set, |claim| matches!(claim, Claim::Cross { .. }));
        "9z".clone_into(text);
    }),
    ("a cross at another place of the strap", "cross-odd", |set| {
        set.sheets[0].tiles[0].crosses[0].on_strap.x += MM;
    }),
    ("a cross that is not drawn", "cross-odd", |set| {
        let at = set.sheets[0].tiles[0].crosses[0].at;
        let is_cross = |path: &Path<OnSheet>| {
            let middle = |a: Length, b: Length| a + (b - a) / 2;
            let end = path.end();
            middle(path.start.x, end.x) == at.x && middle(path.start.y, end.y) == at.y
        };
        without(
            &mut set.sheets[0],
            |item| matches!(item, Item::Stroke { paths, .. } if paths.first().is_some_and(is_cross)),
        );
    }),
    ("a bar that is not drawn", "bar-missing", |set| {
        let bar = set.sheets[0].bars[0];
        without(&mut set.sheets[0], |item| {
            let begins = |path: &Path<OnSheet>| path.start == bar.from;
            matches!(item, Item::Stroke { paths, .. } if paths.first().is_some_and(begins))
        });
    }),
    ("one bar alone", "bar-missing", |set| {
        set.sheets[0].bars.pop();
    }),
    ("a numeral of a bar at another place", "bar-off", |set| {
        let is_later =
            |claim: &Claim| matches!(claim, Claim::Bar { along, .. } if *along > MM);
        "7".clone_into(text(set, is_later).0);
    }),
    ("a hole that no tile shows whole", "mark-missing", |set| {
        let tile = &mut set.sheets[0].tiles[0];
        // From the middle of the bend on: half of the slot is gone.
        tile.stretch.from = Length::ZERO;
    }),
    ("a gap between two tiles", "piece-missing", |set| {
        for sheet in &mut set.sheets {
            for tile in &mut sheet.tiles {
                tile.stretch.to = tile.stretch.to.min(tile.stretch.from + MM * 60);
            }
        }
    }),
    ("two tiles on each other", "off-page", |set| {
        let tile = set.sheets[0].tiles[0].clone();
        set.sheets[0].tiles.push(tile);
    }),
    ("a tile off its page", "off-page", |set| set.sheets[0].height = MM * 120),
    ("ticks moved", "ruler-wrong", |set| {
        rows(set).remove(0)[0].from.x += MM / 10;
    }),
    ("a tick left out", "ruler-wrong", |set| {
        let longest = rows(set).into_iter().flatten().max_by_key(|row| row.count);
        longest.unwrap().count -= 12;
    }),
    ("round ticks as short as the others", "ruler-wrong", |set| {
        for row in rows(set).into_iter().flatten() {
            row.tick.y = row.tick.y.max(-MM).min(MM);
        }
    }),
    ("a numeral left out", "ruler-wrong", |set| {
        let items = &set.sheets[0].items;
        let is_numeral = |item: &Item| matches!(item, Item::Text { claim: Claim::Numeral { unit, .. }, .. } if *unit == MM);
        let numerals = items.iter().enumerate().filter(|(_, item)| is_numeral(item));
        let numerals: Vec<usize> = numerals.map(|(index, _)| index).collect();
        set.sheets[0].items.remove(numerals[numerals.len() / 2]);
    }),
    ("a cross without its black quarters", "cross-odd", |set| {
        let at = set.sheets[0].tiles[0].crosses[0].at;
        let starts = |path: &Path<OnSheet>| path.start == at;
        without(
            &mut set.sheets[0],
            |item| matches!(item, Item::Fill { paths, .. } if paths.iter().all(starts)),
        );
    }),
    ("a join without its name", "cross-odd", |set| {
        without(&mut set.sheets[0], |item| {
            matches!(item, Item::Text { claim: Claim::Join { .. }, .. })
        });
    }),
    ("line A that is not drawn", "cross-odd", |set| {
        let tile = &set.sheets[0].tiles[0];
        let at = tile.placement.apply(set.checks[0].from);
        let is_line = |path: &Path<OnSheet>| {
            path.start.x == at.x && path.end() == Point::new(at.x, at.y + MM * 2)
        };
        without(
            &mut set.sheets[0],
            |item| matches!(item, Item::Stroke { paths, .. } if paths.iter().all(is_line)),
        );
    }),
    ("line A without its letter", "cross-odd", |set| {
        without(
            &mut set.sheets[0],
            |item| matches!(item, Item::Text { text, .. } if text == "A"),
        );
    }),
    ("line A at another place", "cross-odd", |set| set.checks[0].from.x += MM),
    ("a long check of another length", "cross-odd", |set| set.checks[0].length += MM),
    ("line B on no sheet", "cross-odd", |set| {
        let check = &mut set.checks[0];
        check.to.x += MM * 400;
        check.length += MM * 400;
    }),
    ("a join with one digit more", "cross-odd", |set| {
        let (text, _) = text(set, |claim| matches!(claim, Claim::Join { .. }));
        *text = text.replace("1 + 2", "11 + 2");
    }),
    ("the name of a join elsewhere", "cross-odd", |set| {
        let joins = set.sheets[0].items.iter_mut().find_map(|item| match item {
            Item::Text { at, claim: Claim::Join { .. }, .. } => Some(at),
            _ => None,
        });
        joins.unwrap().x -= MM * 60;
    }),
    ("a cross with both quarters on one side", "cross-odd", |set| {
        let at = set.sheets[0].tiles[0].crosses[0].at;
        for item in &mut set.sheets[0].items {
            if let Item::Fill { paths, .. } = item
                && paths.iter().all(|path| path.start == at)
            {
                paths[1] = paths[0].clone();
            }
        }
    }),
    ("a cross without its ring", "cross-odd", |set| {
        let at = set.sheets[0].tiles[0].crosses[0].at;
        for item in &mut set.sheets[0].items {
            if let Item::Stroke { paths, .. } = item {
                paths.retain(|path| {
                    !matches!(path.steps.first(), Some(Step::Arc { centre, .. }) if *centre == at)
                });
            }
        }
    }),
    ("a hole without one arm of its cross", "mark-missing", |set| {
        let arms = strokes(set, Layer::Guides, &[Pen::Thin]);
        arms.into_iter().filter(|paths| is_arms(paths)).take(1).for_each(|paths| {
            paths.remove(0);
        });
    }),
    ("a hole's cross moved", "mark-missing", |set| {
        let arms = strokes(set, Layer::Guides, &[Pen::Thin]);
        for paths in arms.into_iter().filter(|paths| is_arms(paths)).take(1) {
            for path in paths {
                *path = moved(path, Length::from_um(1));
            }
        }
    }),
    ("a hole for a target", "mark-missing", |set| {
        for item in &mut set.sheets[0].items {
            if let Item::Stroke { layer: Layer::Punch, pen, .. } = item {
                *pen = if *pen == Pen::Punch { Pen::Target } else { Pen::Punch };
                return;
            }
        }
    }),
    ("a fold line cut short", "mark-missing", |set| {
        for paths in strokes(set, Layer::Guides, &[Pen::Fold]) {
            for path in paths.iter_mut().filter(|path| path.start.x == path.end().x) {
                path.start.y += (path.end().y - path.start.y) / 4;
            }
        }
    }),
    ("a part of the centre line left out", "mark-missing", |set| {
        let paths = strokes(set, Layer::Guides, &[Pen::Centre]).remove(0);
        let length = |path: &Path<OnSheet>| path.end().x - path.start.x;
        let longest = paths.iter().map(length).max();
        paths.retain(|path| Some(length(path)) != longest);
    }),
    ("a bar without its last numeral", "bar-off", |set| {
        without(&mut set.sheets[0], |item| {
            matches!(item, Item::Text { claim: Claim::Bar { .. }, text, .. }
                if text.ends_with(" mm"))
        });
    }),
    ("a bar longer than its numerals say", "bar-off", |set| {
        let bar = set.sheets[0].bars[0];
        let longer = Point::new(bar.to.x + MM, bar.to.y);
        for paths in strokes(set, Layer::Guides, &[Pen::Frame]) {
            for path in
                paths.iter_mut().filter(|p| p.start == bar.from && p.end() == bar.to)
            {
                *path = Path::line(bar.from, longer);
            }
        }
        set.sheets[0].bars[0].to = longer;
    }),
    ("an end line of a bar moved", "bar-off", |set| {
        let bar = set.sheets[0].bars[0];
        let end = bar.to.x - Pen::Frame.width() / 2;
        for paths in strokes(set, Layer::Guides, &[Pen::Frame]) {
            for path in paths.iter_mut().filter(|p| p.start.x == end) {
                *path = moved(path, Length::from_um(200));
            }
        }
    }),
    ("a reading beside another mark", "label-wrong", |set| {
        let texts = set.sheets[0].items.iter_mut().find_map(|item| match item {
            Item::Text { at, claim: Claim::Reading { .. }, .. } => Some(at),
            _ => None,
        });
        texts.unwrap().x += MM * 70;
    }),
    ("a crease left out", "mark-missing", |set| {
        let creases = strokes(set, Layer::Guides, &[Pen::Thin]);
        let long = |path: &Path<OnSheet>| path.end().x - path.start.x > MM * 60;
        for paths in creases.into_iter().filter(|paths| !is_arms(paths)) {
            // A match line along the strap has another pen's place.
            paths.retain(|path| !long(path));
        }
    }),
];

/// The rows of ticks of the first sheet.
fn rows(set: &mut SheetSet) -> Vec<&mut Vec<TickRow>> {
    let items = set.sheets[0].items.iter_mut();
    items
        .filter_map(|item| match item {
            Item::TickRows { tick_rows, .. } => Some(tick_rows),
            _ => None,
        })
        .collect()
}

/// Whether lines are the cross of a hole: four arms, and a plus in its middle or two in those of
/// the ends of a slot.
fn is_arms(paths: &[Path<OnSheet>]) -> bool {
    let is_level = |path: &Path<OnSheet>| path.start.y == path.end().y;
    let is_upright = |path: &Path<OnSheet>| path.start.x == path.end().x;
    let level = paths.iter().filter(|p| is_level(p)).count();
    let upright = paths.iter().filter(|p| is_upright(p)).count();
    level == upright && [3, 4].contains(&level) && paths.len() == level * 2
}

#[test]
fn what_the_sheets_show_wrong_is_found() {
    let (mut wrong, mut planted) = (Vec::new(), BTreeSet::new());
    let jobs = samples::jobs();
    let collar = jobs.iter().find(|(name, _)| name == "harbour-dog-collar").unwrap();
    let collar = draw(&collar.0, &collar.1, "a4");
    for drawn in belts_on(&["a4", "letter"]).into_iter().chain([collar]) {
        for (name, rule, plant) in SHEET_FAULTS {
            let mut set = drawn.set.clone();
            let is_crease = *name == "a crease left out";
            // What a belt has not, the collar has, and it has no joins.
            if is_crease != drawn.name.starts_with("harbour") {
                continue;
            }
            plant(&mut set);
            if set == drawn.set {
                continue;
            }
            planted.insert(name);
            let bytes = pdf(&set).unwrap();
            let faulty = Drawn { set, ..drawn.clone() };
            let found = exactly(&faulty, &bytes);
            if !rules(&found).contains(rule) {
                wrong.push(format!("{}, {name}:\n{}", drawn.name, words(&found)));
            }
            let file = BTreeSet::from(["ink-missing", "ink-extra", "page-setup"]);
            assert!(
                rules(&found).is_disjoint(&file),
                "{name}: the file is as its sheets"
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(planted.len(), SHEET_FAULTS.len(), "{planted:?}");
}

/// Every rule of reading back has a fault that it finds.
#[test]
fn every_rule_has_a_fault() {
    let in_sheets = SHEET_FAULTS.iter().map(|(_, rule, _)| *rule);
    let in_files = super::faults::FAULTS.iter().map(|f| f.rule);
    // Each of these has a test of its own in this folder or in tests/program.
    let alone = [
        "words-unread",
        "metadata-lost",
        "no-sheets",
        "print-scaling",
        "join-off",
        "other-job",
    ];
    let mut planted: BTreeSet<&str> = in_sheets.chain(in_files).chain(alone).collect();
    planted.remove("");
    let all: BTreeSet<&str> =
        strapwright::verify::RULES.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        planted, all,
        "plant a fault in tests/reading_back/faults.rs or sheet_faults.rs for each rule"
    );
}
