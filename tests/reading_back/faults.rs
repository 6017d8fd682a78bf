//! Each thing that can go wrong with a file, planted in a finished one, and the rules that
//! must find it.

use super::drawn::{Drawn, drawn as draw};
use super::planted::{
    Open, PT, Run, dashed_by, middle, moved, of_layer, op, piece, places, real, ring,
    runs, shifted, tick_rows, without,
};
use crate::common::mm;
use crate::common::samples;
use lopdf::content::Operation;
use lopdf::{Object, dictionary};
use strapwright::export::pdf::pdf;
use strapwright::geom::Length;
use strapwright::paginate::Item;

/// A fault: what it is called, the rules that find it, on how many sheets at least it can
/// be planted, and how.
pub(crate) struct Fault {
    pub(crate) name: &'static str,
    pub(crate) rules: &'static [&'static str],
    pub(crate) sheets: usize,
    pub(crate) plant: fn(&mut Open, &Drawn),
}

const fn fault(
    name: &'static str,
    rules: &'static [&'static str],
    sheets: usize,
    plant: fn(&mut Open, &Drawn),
) -> Fault {
    Fault { name, rules, sheets, plant }
}

pub(crate) const FAULTS: &[Fault] = &[
    fault("width at 99.5 %", &["sheet-scaled"], 1, |file, _| {
        file.map(0, [0.995, 0.0, 0.0, 1.0, 3.0, 0.0]);
    }),
    fault("height at 99.5 %", &["sheet-scaled"], 1, |file, _| {
        file.map(0, [1.0, 0.0, 0.0, 0.995, 0.0, 3.0]);
    }),
    fault("fitted to the page", &["sheet-scaled"], 2, |file, _| {
        for page in 0..file.pages().len() {
            file.map(page, [0.97, 0.0, 0.0, 0.97, 10.0, 10.0]);
        }
    }),
    fault("at 141 % on larger paper", &["sheet-scaled", "page-size"], 1, |file, _| {
        resized(file, 1.41);
    }),
    fault("at a third on smaller paper", &["sheet-scaled", "page-size"], 1, |file, _| {
        resized(file, 0.33);
    }),
    fault("all but the bars at 99.5 %", &["sheet-scaled"], 1, |file, _| {
        file.edit(0, |all| {
            let bars: Vec<Run> =
                runs(all).into_iter().filter(|r| is_bar(all, r)).collect();
            let kept = |i: usize| bars.iter().any(|b| b.range.contains(&i));
            for (i, operation) in all.iter_mut().enumerate() {
                if !kept(i) {
                    moved(std::slice::from_mut(operation), |x, y| (x * 0.995, y));
                    dashed_by(operation, 0.995);
                }
            }
        });
    }),
    fault("a mark moved along", &["mark-moved"], 1, |file, _| {
        change_mark(file, |mark| shifted(mark, 0.1, 0.0));
    }),
    fault("a mark moved across", &["mark-moved"], 1, |file, _| {
        change_mark(file, |mark| shifted(mark, 0.0, -0.1));
    }),
    fault("a mark dropped", &["mark-missing"], 1, |file, _| {
        let run = of_layer(&file.operations(0), "punch")[0].clone();
        file.edit(0, |all| without(all, &run));
    }),
    fault("an extra mark", &["mark-extra"], 1, |file, drawn| {
        let tile = &drawn.set.sheets[0].tiles[0];
        let mark =
            &drawn.layout.pieces[0].marks.iter().find(|m| m.path().is_some()).unwrap();
        let at = tile.placement.apply(mark.at);
        let at = (mm(at.x) + 1.0, mm(at.y) + 11.0);
        file.edit(0, |all| all.extend(ring(at.0, at.1)));
    }),
    fault("a mark beside the strap", &["mark-extra"], 1, |file, _| {
        file.edit(0, |all| all.extend(ring(60.0, 22.0)));
    }),
    fault("a larger hole", &["mark-form"], 1, |file, _| {
        change_mark(file, |mark| {
            let (x, y) = middle(mark);
            moved(mark, |px, py| (x + (px - x) * 1.02, y + (py - y) * 1.02));
        });
    }),
    fault("an oval hole", &["mark-form"], 1, |file, _| {
        change_mark(file, |mark| {
            let (x, _) = middle(mark);
            moved(mark, |px, py| (x + (px - x) * 1.02, py));
        });
    }),
    fault("a hole for a target", &["mark-form"], 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "punch")[0].clone();
            let dash = Object::Array(vec![3.into(), 2.into()]);
            let is_dashed = all[..run.range.start]
                .iter()
                .rfind(|o| o.operator == "d")
                .is_some_and(|o| !o.operands[0].as_array().unwrap().is_empty());
            let dash = if is_dashed { Object::Array(Vec::new()) } else { dash };
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, Operation::new("d", vec![dash, 0.into()]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("two sheets swapped", &["sheet-order"], 2, |file, _| {
        let mut order: Vec<usize> = (0..file.pages().len()).collect();
        order.swap(0, 1);
        file.kids(&order);
    }),
    fault(
        "a sheet of another job",
        &["prints-mixed", "sheet-missing"],
        2,
        |file, drawn| {
            let paper = &drawn.set.paper;
            let jobs = samples::jobs();
            let other =
                jobs.iter().rfind(|(name, _)| !drawn.name.starts_with(name)).unwrap();
            let other = draw(&other.0, &other.1, paper);
            file.take(1, Open::file(&other.bytes), 0);
        },
    ),
    fault("a sheet missing", &["sheet-missing"], 2, |file, _| {
        let order: Vec<usize> = (1..file.pages().len()).collect();
        file.kids(&order);
    }),
    fault("the last sheet missing", &["sheet-missing"], 2, |file, _| {
        let order: Vec<usize> = (0..file.pages().len() - 1).collect();
        file.kids(&order);
    }),
    fault("a sheet twice", &["sheet-twice"], 1, |file, _| {
        let order: Vec<usize> = [0].into_iter().chain(0..file.pages().len()).collect();
        file.kids(&order);
    }),
    fault("a page turned", &["sheet-turned"], 1, |file, _| {
        file.page(0).set("Rotate", 90);
    }),
    fault("the content turned", &["sheet-turned"], 1, |file, _| {
        let (width, _) = file.size(0);
        file.map(0, [0.0, 1.0, -1.0, 0.0, width, 0.0]);
    }),
    fault("the content askew", &["sheet-turned"], 1, |file, _| {
        let (sine, cosine) = (libm::sin(0.01), libm::cos(0.01));
        file.map(0, [cosine, sine, -sine, cosine, 0.0, 0.0]);
    }),
    fault("mirrored", &["sheet-turned"], 1, |file, _| {
        let (width, _) = file.size(0);
        file.map(0, [-1.0, 0.0, 0.0, 1.0, width, 0.0]);
    }),
    fault("scaling left to the reader", &["print-scaling"], 1, |file, _| {
        let preferences = dictionary! { "PrintScaling" => "AppDefault" };
        file.0.catalog_mut().unwrap().set("ViewerPreferences", preferences);
    }),
    fault("no word of scaling", &["print-scaling"], 1, |file, _| {
        file.0.catalog_mut().unwrap().remove(b"ViewerPreferences");
    }),
    fault("a page of another size", &["page-size"], 1, |file, _| {
        let (width, height) = file.size(0);
        let size: Vec<Object> = [0.0, 0.0, width - 20.0, height].map(real).into();
        file.page(0).set("MediaBox", size);
    }),
    fault("half a page cropped away", &["page-size", "off-page"], 1, |file, _| {
        let (width, height) = file.size(0);
        let size: Vec<Object> = [0.0, 0.0, width, height / 2.0].map(real).into();
        file.page(0).set("CropBox", size);
    }),
    fault("a medium smaller than its crop", &["page-size", "off-page"], 1, |file, _| {
        let (width, height) = file.size(0);
        let whole: Vec<Object> = [0.0, 0.0, width, height].map(real).into();
        let half: Vec<Object> = [0.0, 0.0, width, height / 2.0].map(real).into();
        file.page(0).set("CropBox", whole);
        file.page(0).set("MediaBox", half);
    }),
    fault("moved off its page", &["off-page"], 1, |file, _| {
        file.map(0, [1.0, 0.0, 0.0, 1.0, 0.0, 300.0]);
    }),
    fault("a mark drawn as a blob", &["pen-wide"], 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "punch")[0].clone();
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, op("w", &[30.0]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("an outline drawn with a brush", &["pen-wide"], 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "outline")[0].clone();
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, op("w", &[6.0]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("a wrong numeral on a ruler", &["ruler-wrong"], 1, |file, drawn| {
        let is_numeral = |text: &str| text.len() == 2 && text.ends_with('0');
        rewritten(file, drawn, is_numeral, |text| text.replace('0', "7"));
    }),
    fault("millimetre ticks moved by 0.1 mm", &["ruler-wrong"], 1, |file, _| {
        file.edit(0, |all| {
            let row = tick_rows(all)[0].clone();
            shifted(&mut all[row.range], 0.1, 0.0);
        });
    }),
    fault("ticks of numerals moved by 0.1 mm", &["ruler-wrong"], 1, |file, _| {
        file.edit(0, |all| {
            let row = tick_rows(all)[2].clone();
            shifted(&mut all[row.range], 0.1, 0.0);
        });
    }),
    fault("millimetre ticks too far apart", &["ruler-wrong"], 1, |file, _| {
        file.edit(0, |all| widened(all, 0, 0.001));
    }),
    fault("ticks of numerals too far apart", &["ruler-wrong"], 1, |file, _| {
        file.edit(0, |all| widened(all, 2, 0.03));
    }),
    fault("a wrong reading beside a mark", &["label-wrong"], 1, |file, drawn| {
        let is_reading = |text: &str| {
            let last = text.rsplit_once(" · ").map_or("", |(_, last)| last);
            last.ends_with(|c: char| c.is_ascii_digit()) && last.contains('.')
        };
        rewritten(file, drawn, is_reading, |text| {
            let (rest, last) = text.split_at(text.len() - 1);
            format!("{rest}{}", if last == "0" { "4" } else { "0" })
        });
    }),
    fault("no bar", &["bar-missing"], 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            without(all, &bar);
        });
    }),
    fault("a bar too short", &["bar-off"], 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            let start = places(&all[bar.range.clone()])[0];
            moved(&mut all[bar.range], |x, y| (start.0 + (x - start.0) * 0.995, y));
        });
    }),
    fault("a tick out of line", &["bar-off"], 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            let (x, y) = places(&all[bar.range.clone()])[0];
            let at = x + 50.0 * PT;
            moved(&mut all[bar.range], |px, py| {
                let here = (px - at).abs() < 0.1 && py >= y - 0.1;
                (if here { px + 0.2 * PT } else { px }, py)
            });
        });
    }),
    fault("a cross dropped", &["cross-odd"], 2, |file, drawn| {
        let cross = cross(file, drawn, "1a");
        file.edit(0, |all| without(all, &cross));
    }),
    fault("a cross moved", &["join-off"], 2, |file, drawn| {
        let cross = cross(file, drawn, "1a");
        file.edit(0, |all| shifted(&mut all[cross.range], 0.1, 0.0));
    }),
    fault("a join moved", &["join-off"], 2, |file, drawn| {
        for label in ["1a", "1b"] {
            let cross = cross(file, drawn, label);
            file.edit(0, |all| shifted(&mut all[cross.range], 0.1, 0.0));
        }
    }),
    fault("an extra piece", &["piece-extra"], 1, |file, _| {
        file.edit(0, |all| all.extend(piece(40.0, 19.0)));
    }),
    fault("an edge dropped", &["outline-off"], 1, |file, _| {
        file.edit(0, |all| {
            let is_edge = |r: &&Run| {
                let [first, second, ..] = &places(&all[r.range.clone()])[..] else {
                    return false;
                };
                (first.1 - second.1).abs() < 1e-3 && (first.0 - second.0).abs() > 50.0
            };
            let edge =
                of_layer(all, "outline").iter().rfind(is_edge).unwrap().range.start;
            let start = places(&all[edge..edge + 2])[1];
            all[edge + 1] = op("m", &[start.0, start.1]);
        });
    }),
    fault("words as pictures", &["no-sheets"], 1, |file, _| {
        for page in 0..file.pages().len() {
            file.edit(page, |all| all.retain(|o| o.operator != "Tj"));
        }
    }),
    fault("an operator without its numbers", &["page-unreadable"], 1, |file, _| {
        file.edit(0, |all| all.push(op("l", &[1.0])));
    }),
];

/// Makes every page, paper and all, larger or smaller.
fn resized(file: &mut Open, by: f64) {
    for page in 0..file.pages().len() {
        let (width, height) = file.size(page);
        file.map(page, [by, 0.0, 0.0, by, 0.0, 0.0]);
        let size: Vec<Object> = [0.0, 0.0, width * by, height * by].map(real).into();
        file.page(page).set("MediaBox", size);
    }
}

/// Draws the sheets anew with one line of words on them changed: the first beside a strip
/// that is as it is asked for.
fn rewritten(
    file: &mut Open,
    drawn: &Drawn,
    is_wanted: impl Fn(&str) -> bool,
    change: impl Fn(&str) -> String,
) {
    let mut set = drawn.set.clone();
    // The numerals of the rulers and the words beside marks, not those of scale bars.
    let sizes = [2_000, 2_200, 2_400].map(Length::from_um);
    let words = set.sheets.iter_mut().flat_map(|s| {
        let head = s.head;
        s.items.iter_mut().skip(head)
    });
    let wanted = words.into_iter().find_map(|item| match item {
        Item::Text { text, size, .. } if sizes.contains(size) && is_wanted(text) => {
            Some(text)
        }
        _ => None,
    });
    let text = wanted.unwrap();
    *text = change(text);
    *file = Open::file(&pdf(&set).unwrap());
}

/// Changes the first ring of the first sheet.
pub(crate) fn change_mark(file: &mut Open, change: impl FnOnce(&mut [Operation])) {
    file.edit(0, |all| {
        let all_runs = of_layer(all, "punch");
        let is_ring = |r: &&Run| all[r.range.clone()].iter().all(|o| o.operator != "l");
        let run = all_runs.iter().find(is_ring).unwrap().clone();
        change(&mut all[run.range]);
    });
}

/// The scale bar along the width: many strokes, the first long and level.
fn is_bar(all: &[Operation], run: &Run) -> bool {
    let places = places(&all[run.range.clone()]);
    let (first, second) = (places[0], places[1]);
    places.len() > 20
        && (first.1 - second.1).abs() < 1e-3
        && second.0 - first.0 > 100.0 * PT
}

/// Sets the ticks of a row farther apart by so many mm.
fn widened(all: &mut [Operation], nth: usize, by: f64) {
    let start = tick_rows(all)[nth].range.start;
    let Object::Array(dashes) = &mut all[start - 1].operands[0] else { unreachable!() };
    dashes[1] = real(f64::from(dashes[1].as_float().unwrap()) + by * PT);
}

/// The strokes of the cross of that name on the first sheet.
fn cross(file: &Open, drawn: &Drawn, label: &str) -> Run {
    let crosses = drawn.set.sheets[0].tiles.iter().flat_map(|t| &t.crosses);
    let at = crosses.clone().find(|c| c.label == label).unwrap().at;
    let (x, y) = (mm(at.x) * PT, mm(at.y) * PT);
    let all = file.operations(0);
    let here = |r: &Run| {
        let (px, py) = middle(&all[r.range.clone()]);
        places(&all[r.range.clone()]).len() == 4 && (px - x).abs() + (py - y).abs() < 0.1
    };
    runs(&all).into_iter().find(here).unwrap()
}
