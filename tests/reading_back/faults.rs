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
use lopdf::{Object, Stream, dictionary};
use strapwright::export::pdf::pdf;
use strapwright::geom::Point;
use strapwright::layout::MarkKind;
use strapwright::paginate::{Claim, Item};

/// A fault: what it is called, the rule that must find it in ink, empty for what only the exact
/// judge sees, on how many sheets at least it can be planted, and how.
pub(crate) struct Fault {
    pub(crate) name: &'static str,
    pub(crate) rule: &'static str,
    pub(crate) sheets: usize,
    pub(crate) plant: fn(&mut Open, &Drawn),
}

const fn fault(
    name: &'static str,
    rule: &'static str,
    sheets: usize,
    plant: fn(&mut Open, &Drawn),
) -> Fault {
    Fault { name, rule, sheets, plant }
}

pub(crate) const FAULTS: &[Fault] = &[
    fault("width at 99.5 %", "sheet-scaled", 1, |file, _| {
        file.map(0, [0.995, 0.0, 0.0, 1.0, 3.0, 0.0]);
    }),
    fault("height at 99.5 %", "sheet-scaled", 1, |file, _| {
        file.map(0, [1.0, 0.0, 0.0, 0.995, 0.0, 3.0]);
    }),
    fault("fitted to the page", "sheet-scaled", 2, |file, _| {
        for page in 0..file.pages().len() {
            file.map(page, [0.97, 0.0, 0.0, 0.97, 10.0, 10.0]);
        }
    }),
    fault("at 141 % on larger paper", "sheet-scaled", 1, |file, _| {
        resized(file, 1.41);
    }),
    fault("at a third on smaller paper", "sheet-scaled", 1, |file, _| {
        resized(file, 0.33);
    }),
    fault("all lines but the bars at 99.5 %", "outline-off", 1, |file, _| {
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
    fault("a mark moved along", "mark-moved", 1, |file, _| {
        change_mark(file, |mark| shifted(mark, 0.1, 0.0));
    }),
    fault("a mark moved across", "mark-moved", 1, |file, _| {
        change_mark(file, |mark| shifted(mark, 0.0, -0.1));
    }),
    fault("a slot longer at one end", "mark-moved", 1, |file, _| {
        file.edit(0, |all| {
            let is_slot = |r: &Run| {
                let lines = all[r.range.clone()].iter().filter(|o| o.operator == "l");
                lines.count() == 2
            };
            let run = of_layer(all, "punch").into_iter().find(is_slot).unwrap();
            let slot = &mut all[run.range];
            let (places, middle) = (places(slot), middle(slot).0);
            let end = places.iter().fold(0.0, |most, p| f64::max(most, p.0));
            let far = end - (end - middle) * 0.2;
            moved(slot, |x, y| (if x > far { x + 0.3 * PT } else { x }, y));
        });
    }),
    fault("a mark dropped", "mark-missing", 1, |file, _| {
        let run = of_layer(&file.operations(0), "punch")[0].clone();
        file.edit(0, |all| without(all, &run));
    }),
    fault("an extra mark", "ink-extra", 1, |file, drawn| {
        let tile = &drawn.set.sheets[0].tiles[0];
        let mark =
            &drawn.layout.pieces[0].marks.iter().find(|m| m.path().is_some()).unwrap();
        let at = tile.placement.apply(mark.at);
        let at = (mm(at.x) + 1.0, mm(at.y) + 11.0);
        file.edit(0, |all| all.extend(ring(at.0, at.1)));
    }),
    fault("a mark beside the strap", "ink-extra", 1, |file, _| {
        file.edit(0, |all| all.extend(ring(60.0, 22.0)));
    }),
    fault("a larger hole", "mark-moved", 1, |file, _| {
        change_mark(file, |mark| {
            let (x, y) = middle(mark);
            moved(mark, |px, py| (x + (px - x) * 1.05, y + (py - y) * 1.05));
        });
    }),
    fault("an oval hole", "mark-moved", 1, |file, _| {
        change_mark(file, |mark| {
            let (x, _) = middle(mark);
            moved(mark, |px, py| (x + (px - x) * 1.06, py));
        });
    }),
    fault("a hole for a target", "", 1, |file, _| {
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
    fault("two sheets swapped", "sheet-order", 2, |file, _| {
        let mut order: Vec<usize> = (0..file.pages().len()).collect();
        order.swap(0, 1);
        file.kids(&order);
    }),
    fault("a sheet of another job", "prints-mixed", 2, |file, drawn| {
        let paper = &drawn.set.paper;
        let jobs = samples::jobs();
        let other = jobs.iter().rfind(|(name, _)| !drawn.name.starts_with(name)).unwrap();
        let other = draw(&other.0, &other.1, paper.name());
        file.take(1, Open::file(&other.bytes), 0);
    }),
    fault("a sheet missing", "sheet-missing", 2, |file, _| {
        let order: Vec<usize> = (1..file.pages().len()).collect();
        file.kids(&order);
    }),
    fault("the last sheet missing", "sheet-missing", 2, |file, _| {
        let order: Vec<usize> = (0..file.pages().len() - 1).collect();
        file.kids(&order);
    }),
    fault("a sheet twice", "sheet-twice", 1, |file, _| {
        let again = Open(file.0.clone());
        let count = file.pages().len();
        let order: Vec<usize> = [0].into_iter().chain(0..count).collect();
        file.kids(&order);
        // As a program that joins files would write it, each page by itself.
        file.take(1, again, 0);
    }),
    fault("a page turned", "page-setup", 1, |file, _| {
        file.page(0).set("Rotate", 90);
    }),
    fault("the content turned", "sheet-missing", 2, |file, _| {
        let (width, _) = file.size(0);
        file.map(0, [0.0, 1.0, -1.0, 0.0, width, 0.0]);
    }),
    fault("the content askew", "sheet-missing", 2, |file, _| {
        let (sine, cosine) = (libm::sin(0.01), libm::cos(0.01));
        file.map(0, [cosine, sine, -sine, cosine, 0.0, 0.0]);
    }),
    fault("every page mirrored", "sheet-scaled", 1, |file, _| {
        let (width, _) = file.size(0);
        for page in 0..file.pages().len() {
            file.map(page, [-1.0, 0.0, 0.0, 1.0, width, 0.0]);
        }
    }),
    fault("scaling left to the reader", "", 1, |file, _| {
        let preferences = dictionary! { "PrintScaling" => "AppDefault" };
        file.0.catalog_mut().unwrap().set("ViewerPreferences", preferences);
    }),
    fault("no word of scaling", "", 1, |file, _| {
        file.0.catalog_mut().unwrap().remove(b"ViewerPreferences");
    }),
    fault("a page of another size", "page-size", 1, |file, _| {
        let (width, height) = file.size(0);
        let size: Vec<Object> = [0.0, 0.0, width - 20.0, height].map(real).into();
        file.page(0).set("MediaBox", size);
    }),
    fault("half a page cropped away", "page-size", 1, |file, _| {
        let (width, height) = file.size(0);
        let size: Vec<Object> = [0.0, 0.0, width, height / 2.0].map(real).into();
        file.page(0).set("CropBox", size);
    }),
    fault("a medium smaller than its crop", "page-size", 1, |file, _| {
        let (width, height) = file.size(0);
        let whole: Vec<Object> = [0.0, 0.0, width, height].map(real).into();
        let half: Vec<Object> = [0.0, 0.0, width, height / 2.0].map(real).into();
        file.page(0).set("CropBox", whole);
        file.page(0).set("MediaBox", half);
    }),
    fault("moved off its page", "mark-missing", 1, |file, _| {
        file.map(0, [1.0, 0.0, 0.0, 1.0, 0.0, 300.0]);
    }),
    fault("a mark drawn as a blob", "ink-extra", 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "punch")[0].clone();
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, op("w", &[30.0]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("an outline drawn with a brush", "ink-extra", 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "outline")[0].clone();
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, op("w", &[6.0]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("a wrong numeral on a ruler", "ruler-wrong", 1, |file, drawn| {
        let is_numeral = |claim: &Claim| matches!(claim, Claim::Numeral { .. });
        rewritten(file, drawn, is_numeral, |text| text.replace('0', "7"));
    }),
    fault("millimetre ticks moved by 0.1 mm", "ruler-wrong", 1, |file, _| {
        file.edit(0, |all| {
            let row = tick_rows(all)[0].clone();
            shifted(&mut all[row.range], 0.1, 0.0);
        });
    }),
    fault("ticks of numerals moved by 0.1 mm", "ruler-wrong", 1, |file, _| {
        file.edit(0, |all| {
            let row = tick_rows(all)[2].clone();
            shifted(&mut all[row.range], 0.1, 0.0);
        });
    }),
    fault("millimetre ticks too far apart", "ruler-wrong", 1, |file, _| {
        file.edit(0, |all| widened(all, 0, 0.001));
    }),
    fault("ticks of numerals too far apart", "ruler-wrong", 1, |file, _| {
        file.edit(0, |all| widened(all, 2, 0.03));
    }),
    fault("a wrong reading beside a mark", "label-wrong", 1, |file, drawn| {
        let is_reading = |claim: &Claim| matches!(claim, Claim::Reading { .. });
        rewritten(file, drawn, is_reading, |text| {
            let (rest, last) = text.split_at(text.len() - 1);
            format!("{rest}{}", if last == "0" { "4" } else { "0" })
        });
    }),
    fault("no bar", "bar-missing", 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            without(all, &bar);
        });
    }),
    fault("a bar too short", "ink-missing", 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            let start = places(&all[bar.range.clone()])[0];
            moved(&mut all[bar.range], |x, y| (start.0 + (x - start.0) * 0.995, y));
        });
    }),
    fault("an end line out of line", "ink-missing", 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            let end = places(&all[bar.range.clone()])[1].0;
            moved(&mut all[bar.range], |px, py| {
                let here = px < end - 0.1 && px > end - 0.3 * PT;
                (if here { px + 0.2 * PT } else { px }, py)
            });
        });
    }),
    fault("a cross dropped", "ink-missing", 2, |file, drawn| {
        let cross = cross(file, drawn, "1 + 2 a");
        file.edit(0, |all| without(all, &cross));
    }),
    fault("a cross moved", "ink-missing", 2, |file, drawn| {
        let cross = cross(file, drawn, "1 + 2 a");
        file.edit(0, |all| shifted(&mut all[cross.range], 0.1, 0.0));
    }),
    fault("a join moved", "ink-missing", 2, |file, drawn| {
        for label in ["1 + 2 a", "1 + 2 b"] {
            let cross = cross(file, drawn, label);
            file.edit(0, |all| shifted(&mut all[cross.range], 0.1, 0.0));
        }
    }),
    fault("an extra piece", "ink-extra", 1, |file, _| {
        file.edit(0, |all| all.extend(piece(40.0, 19.0)));
    }),
    fault("a tenth of an edge bent", "outline-off", 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "outline")[0].clone();
            let [from, to] = [0, 1].map(|n| places(&all[run.range.clone()])[n]);
            let part = |t: f64, off: f64| {
                let (x, y) = (from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t);
                Operation::new("l", vec![real(x), real(y + off * PT)])
            };
            let bent = [(0.45, 0.0), (0.46, 0.3), (0.54, 0.3), (0.55, 0.0)];
            let at = run.range.start + 1;
            all.splice(at..at, bent.map(|(t, off)| part(t, off)));
        });
    }),
    fault("an edge dropped", "outline-off", 1, |file, _| {
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
    fault("no words at all", "ruler-wrong", 1, |file, _| {
        for page in 0..file.pages().len() {
            file.edit(page, |all| all.retain(|o| o.operator != "Tj"));
        }
    }),
    fault("a white box over a mark", "mark-missing", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        file.edit(0, |all| all.extend(area(x - 4.0, y - 4.0, 8.0, 8.0, 1.0)));
    }),
    fault("a white box over a reading", "label-wrong", 1, |file, drawn| {
        let (x, y) = a_claim(drawn, |claim| matches!(claim, Claim::Reading { .. }));
        file.edit(0, |all| all.extend(area(x - 8.0, y - 0.5, 16.0, 3.0, 1.0)));
    }),
    fault("a white box over a numeral", "ruler-wrong", 1, |file, drawn| {
        let (x, y) = a_claim(drawn, |claim| matches!(claim, Claim::Numeral { .. }));
        file.edit(0, |all| all.extend(area(x - 2.0, y - 0.3, 4.0, 2.9, 1.0)));
    }),
    fault("a white box over an edge", "outline-off", 1, |file, drawn| {
        let tile = &drawn.set.sheets[0].tiles[0];
        let piece = &drawn.layout.pieces[tile.piece];
        let at =
            Point::new(tile.stretch.from + tile.stretch.length() / 2, piece.width / 2);
        let at = tile.placement.apply(at);
        file.edit(0, |all| all.extend(area(mm(at.x), mm(at.y) - 1.0, 3.0, 2.0, 1.0)));
    }),
    fault("a grey box over a mark", "mark-missing", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        file.edit(0, |all| all.extend(area(x - 4.0, y - 4.0, 8.0, 8.0, 0.5)));
    }),
    fault("an image over a mark", "mark-missing", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        let image = Stream::new(
            dictionary! {
                "Type" => "XObject", "Subtype" => "Image", "Width" => 1, "Height" => 1,
                "ColorSpace" => "DeviceGray", "BitsPerComponent" => 8,
            },
            vec![255],
        );
        let image = file.0.add_object(image);
        resource(file, "XObject", "Cover", image.into());
        file.edit(0, |all| {
            let side = 8.0 * PT;
            all.push(op("q", &[]));
            all.push(op("cm", &[side, 0.0, 0.0, side, (x - 4.0) * PT, (y - 4.0) * PT]));
            all.push(Operation::new("Do", vec!["Cover".into()]));
            all.push(op("Q", &[]));
        });
    }),
    fault("a note over a mark", "page-setup", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        let side = 8.0 * PT;
        let look = Stream::new(
            dictionary! {
                "Type" => "XObject", "Subtype" => "Form",
                "BBox" => vec![0.into(), 0.into(), real(side), real(side)],
            },
            format!("1 g 0 0 {side} {side} re f").into_bytes(),
        );
        let look = file.0.add_object(look);
        let (x, y) = ((x - 4.0) * PT, (y - 4.0) * PT);
        let rect: Vec<Object> = [x, y, x + side, y + side].map(real).into();
        let note = file.0.add_object(dictionary! {
            "Type" => "Annot", "Subtype" => "Square", "F" => 4, "Rect" => rect,
            "AP" => dictionary! { "N" => look },
        });
        file.page(0).set("Annots", vec![note.into()]);
    }),
    fault("a clip that leaves a mark out", "mark-missing", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        let (width, height) = file.size(0);
        file.edit(0, |all| {
            // All but the box about the mark, by the even-odd rule.
            let mut clip = vec![op("re", &[0.0, 0.0, width, height])];
            let side = 8.0 * PT;
            clip.push(op("re", &[(x - 4.0) * PT, (y - 4.0) * PT, side, side]));
            clip.push(op("W*", &[]));
            clip.push(op("n", &[]));
            all.splice(0..0, clip);
        });
    }),
    fault("a mark that is hardly seen", "mark-missing", 1, |file, _| {
        around_a_mark(file, &[op("q", &[]), op("G", &[0.93])]);
    }),
    fault("a mark in white", "mark-missing", 1, |file, _| {
        around_a_mark(file, &[op("q", &[]), op("G", &[1.0])]);
    }),
    fault("a mark that shines through", "mark-missing", 1, |file, _| {
        let state = file.0.add_object(dictionary! { "CA" => 0.05, "ca" => 0.05 });
        resource(file, "ExtGState", "Thin", state.into());
        let thin = Operation::new("gs", vec!["Thin".into()]);
        around_a_mark(file, &[op("q", &[]), thin]);
    }),
    fault("the punches in a layer that is off", "page-setup", 1, |file, _| {
        let group = layer(file, "punch");
        let layers = file.0.catalog_mut().unwrap().get_mut(b"OCProperties").unwrap();
        let shown = layers.as_dict_mut().unwrap().get_mut(b"D").unwrap();
        shown.as_dict_mut().unwrap().set("OFF", vec![group]);
    }),
    fault("the punches in a layer that is not printed", "page-setup", 1, |file, _| {
        let group = layer(file, "punch");
        let usage = dictionary! { "Print" => dictionary! { "PrintState" => "OFF" } };
        let id = group.as_reference().unwrap();
        file.0.get_dictionary_mut(id).unwrap().set("Usage", usage);
        let layers = file.0.catalog_mut().unwrap().get_mut(b"OCProperties").unwrap();
        let shown = layers.as_dict_mut().unwrap().get_mut(b"D").unwrap();
        let rule = dictionary! {
            "Event" => "Print", "Category" => vec!["Print".into()], "OCGs" => vec![group],
        };
        shown.as_dict_mut().unwrap().set("AS", vec![rule.into()]);
    }),
    fault("in units of two points", "page-size", 1, |file, _| {
        file.page(0).set("UserUnit", 2);
    }),
    fault("a bend line moved by 2 mm", "mark-missing", 1, |file, drawn| {
        let tile = &drawn.set.sheets[0].tiles[0];
        let bend = drawn.layout.pieces[tile.piece]
            .marks
            .iter()
            .find(|m| m.kind == MarkKind::Bend)
            .unwrap();
        let x = mm(tile.placement.apply(bend.at).x) * PT;
        file.edit(0, |all| {
            let folds: Vec<Run> = runs(all)
                .into_iter()
                .filter(|r| {
                    let places = places(&all[r.range.clone()]);
                    places.len() == 2
                        && places.iter().all(|(px, _)| (px - x).abs() < 0.05)
                })
                .collect();
            assert!(!folds.is_empty(), "{}", drawn.name);
            for fold in folds {
                shifted(&mut all[fold.range], 2.0, 0.0);
            }
        });
    }),
    fault("ticks of numerals moved by 1 mm", "ruler-wrong", 1, |file, _| {
        file.edit(0, |all| {
            let row = tick_rows(all)[2].clone();
            shifted(&mut all[row.range], 1.0, 0.0);
        });
    }),
    fault("a reading taken away", "label-wrong", 1, |file, drawn| {
        taken_away(file, drawn, |claim| matches!(claim, Claim::Reading { .. }));
    }),
    fault("a numeral taken away", "ruler-wrong", 1, |file, drawn| {
        taken_away(file, drawn, |claim| matches!(claim, Claim::Numeral { .. }));
    }),
    fault("the name of a join taken away", "cross-odd", 2, |file, drawn| {
        taken_away(file, drawn, |claim| matches!(claim, Claim::Join { .. }));
    }),
    fault("the letter of a long check taken away", "cross-odd", 2, |file, drawn| {
        taken_away(file, drawn, |claim| matches!(claim, Claim::Cross { .. }));
    }),
    fault("the bar pushed off the page", "bar-missing", 1, |file, _| {
        file.edit(0, |all| {
            let bar = runs(all).into_iter().find(|r| is_bar(all, r)).unwrap();
            shifted(&mut all[bar.range], 0.0, -200.0);
        });
    }),
    fault("an outline in dashes", "outline-off", 1, |file, _| {
        file.edit(0, |all| {
            let run = of_layer(all, "outline")[0].clone();
            let dash = Object::Array(vec![6.into(), 6.into()]);
            all.insert(run.range.end, Operation::new("Q", vec![]));
            all.insert(run.range.start, Operation::new("d", vec![dash, 0.into()]));
            all.insert(run.range.start, Operation::new("q", vec![]));
        });
    }),
    fault("a line across the strap", "ink-extra", 1, |file, drawn| {
        let (x, y) = a_mark(drawn);
        file.edit(0, |all| {
            all.push(op("w", &[0.5]));
            all.push(op("m", &[(x + 4.0) * PT, (y - 9.0) * PT]));
            all.push(op("l", &[(x + 4.0) * PT, (y + 9.0) * PT]));
            all.push(op("S", &[]));
        });
    }),
    fault(
        "two digits swapped in the face and in its words",
        "ruler-wrong",
        1,
        |file, _| {
            swap_digits(file);
        },
    ),
    fault("a stroke beside a numeral", "ink-extra", 1, |file, drawn| {
        let (x, y) = a_claim(drawn, |claim| matches!(claim, Claim::Numeral { .. }));
        file.edit(0, |all| all.extend(area(x - 3.0, y, 0.5, 1.6, 0.0)));
    }),
    fault("a note that is not seen", "page-setup", 1, |file, _| {
        let rect: Vec<Object> = [10.0, 10.0, 20.0, 20.0].map(real).into();
        let note = file.0.add_object(dictionary! {
            "Type" => "Annot", "Subtype" => "Square", "F" => 2, "Rect" => rect,
        });
        file.page(0).set("Annots", vec![note.into()]);
    }),
    // The exact judge finds it. In ink nothing of it comes out, as far as was seen.
    fault("an endless pattern", "", 1, |file, _| {
        let bounds: Vec<Object> = [0.0, 0.0, 1.0, 1.0].map(real).into();
        let tile = dictionary! {
            "Type" => "Pattern", "PatternType" => 1, "PaintType" => 1, "TilingType" => 1,
            "BBox" => bounds, "XStep" => real(0.001), "YStep" => real(0.001),
            "Resources" => dictionary! {},
        };
        let tile = file.0.add_object(Stream::new(tile, b"0 0 1 1 re f".to_vec()));
        resource(file, "Pattern", "Endless", tile.into());
        let (width, height) = file.size(0);
        file.edit(0, |all| {
            all.push(Operation::new("cs", vec!["Pattern".into()]));
            all.push(Operation::new("scn", vec!["Endless".into()]));
            all.push(op("re", &[0.0, 0.0, width, height]));
            all.push(op("f", &[]));
        });
    }),
    fault("a page too many", "page-stray", 1, |file, _| {
        let page = dictionary! {
            "Type" => "Page", "MediaBox" => vec![0.into(), 0.into(), 300.into(), 200.into()],
        };
        let page = file.0.add_object(page);
        let root =
            file.0.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
        let kids = file.0.get_dictionary_mut(root).unwrap().get_mut(b"Kids").unwrap();
        kids.as_array_mut().unwrap().push(page.into());
    }),
    fault("a text that says something else", "ink-extra", 1, |file, _| {
        file.say(0, b"do not print this sheet");
    }),
];

/// Draws a 3 for every 8 on the first page, and has the file say that nothing changed: the
/// glyphs are swapped, and so are the letters that they are said to be.
fn swap_digits(file: &mut Open) {
    let is_map = |object: &Object| {
        let stream = object.as_stream().ok()?;
        let text = String::from_utf8(stream.get_plain_content().ok()?).ok()?;
        text.contains("beginbfchar").then_some(text)
    };
    let mut maps = file.0.objects.iter();
    let (id, text) = maps.find_map(|(id, o)| Some((*id, is_map(o)?))).unwrap();
    let code = |letter: &str| {
        let line = text.lines().find(|line| line.ends_with(letter)).unwrap();
        u16::from_str_radix(&line[1..5], 16).unwrap().to_be_bytes()
    };
    let [three, eight] = ["<0033>", "<0038>"].map(code);
    let swapped = text.replace("<0033>", "<x>").replace("<0038>", "<0033>");
    let swapped = swapped.replace("<x>", "<0038>");
    let map = Stream::new(lopdf::Dictionary::new(), swapped.into_bytes());
    file.0.set_object(id, map);
    file.edit(0, |all| {
        for shown in all.iter_mut().filter(|o| o.operator == "Tj") {
            let Object::String(codes, _) = &mut shown.operands[0] else { unreachable!() };
            for code in codes.chunks_exact_mut(2) {
                if code == three {
                    code.copy_from_slice(&eight);
                } else if code == eight {
                    code.copy_from_slice(&three);
                }
            }
        }
    });
}

/// The place in mm of a hole of the first sheet.
fn a_mark(drawn: &Drawn) -> (f64, f64) {
    let tile = &drawn.set.sheets[0].tiles[0];
    let marks = &drawn.layout.pieces[tile.piece].marks;
    let mark = marks.iter().find(|m| m.path().is_some() && tile.holds(m)).unwrap();
    let at = tile.placement.apply(mark.at);
    (mm(at.x), mm(at.y))
}

/// The place in mm of a text of the first sheet that makes such a claim.
fn a_claim(drawn: &Drawn, is_wanted: impl Fn(&Claim) -> bool) -> (f64, f64) {
    let at = drawn.set.sheets[0].items.iter().find_map(|item| match item {
        Item::Text { at, claim, .. } if is_wanted(claim) => Some(*at),
        _ => None,
    });
    let at = at.unwrap();
    (mm(at.x), mm(at.y))
}

/// A filled box in mm, from black at 0 to white at 1.
fn area(x: f64, y: f64, width: f64, height: f64, light: f64) -> Vec<Operation> {
    let corner = [x, y, width, height].map(|side| side * PT);
    vec![op("g", &[light]), op("re", &corner), op("f", &[])]
}

/// Sets operators before the first mark of the first sheet, and `Q` after it.
fn around_a_mark(file: &mut Open, before: &[Operation]) {
    file.edit(0, |all| {
        let run = of_layer(all, "punch")[0].clone();
        all.insert(run.range.end, op("Q", &[]));
        all.splice(run.range.start..run.range.start, before.iter().cloned());
    });
}

/// Puts an object among the resources of the first page.
fn resource(file: &mut Open, category: &str, name: &str, object: Object) {
    let id = file.page(0).get(b"Resources").unwrap().as_reference().unwrap();
    let resources = file.0.get_dictionary_mut(id).unwrap();
    let mut own = lopdf::Dictionary::new();
    own.set(name, object);
    resources.set(category, own);
}

/// The group of a layer of the first page.
fn layer(file: &mut Open, name: &str) -> Object {
    let id = file.page(0).get(b"Resources").unwrap().as_reference().unwrap();
    let resources = file.0.get_dictionary(id).unwrap();
    let properties = resources.get(b"Properties").unwrap();
    let properties = match properties {
        Object::Reference(id) => file.0.get_dictionary(*id).unwrap(),
        own => own.as_dict().unwrap(),
    };
    properties.get(name.as_bytes()).unwrap().clone()
}

/// Draws the sheets anew without the first text that makes such a claim.
fn taken_away(file: &mut Open, drawn: &Drawn, is_wanted: impl Fn(&Claim) -> bool) {
    let mut set = drawn.set.clone();
    let items = &mut set.sheets[0].items;
    let at = items
        .iter()
        .position(|i| matches!(i, Item::Text { claim, .. } if is_wanted(claim)));
    items.remove(at.unwrap());
    *file = Open::file(&pdf(&set).unwrap());
}

/// Makes every page, paper and all, larger or smaller.
fn resized(file: &mut Open, by: f64) {
    for page in 0..file.pages().len() {
        let (width, height) = file.size(page);
        file.map(page, [by, 0.0, 0.0, by, 0.0, 0.0]);
        let size: Vec<Object> = [0.0, 0.0, width * by, height * by].map(real).into();
        file.page(page).set("MediaBox", size);
    }
}

/// Draws the sheets anew with the first text changed that makes such a claim.
fn rewritten(
    file: &mut Open,
    drawn: &Drawn,
    is_wanted: impl Fn(&Claim) -> bool,
    change: impl Fn(&str) -> String,
) {
    let mut set = drawn.set.clone();
    let mut items = set.sheets.iter_mut().flat_map(|s| &mut s.items);
    let text = items.find_map(|item| match item {
        Item::Text { text, claim, .. } if is_wanted(claim) => Some(text),
        _ => None,
    });
    let text = text.unwrap();
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

/// The scale bar along the width: its two edges and its two end lines, the first long and
/// level.
fn is_bar(all: &[Operation], run: &Run) -> bool {
    let places = places(&all[run.range.clone()]);
    let (first, second) = (places[0], places[1]);
    places.len() == 8
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
        (px - x).abs() + (py - y).abs() < 0.1
    };
    let mut parts = runs(&all).into_iter().filter(here);
    let first = parts.next().unwrap();
    let end = parts.next_back().unwrap().range.end;
    Run { range: first.range.start..end, ..first }
}
