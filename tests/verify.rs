//! Every sample job reads back clean on every paper, and every fault that is planted in a
//! finished file is found by its own rule and by no other.

#![expect(clippy::unwrap_used, reason = "a file that cannot be made fails its test")]

mod planted;
mod samples;

use lopdf::content::Operation;
use lopdf::{Object, dictionary};
use planted::{
    Open, Run, middle, moved, of_layer, op, piece, places, ring, runs, shifted, without,
};
use std::collections::BTreeSet;
use strapwright::diagnostic::Finding;
use strapwright::export::pdf::pdf;
use strapwright::fit::fit;
use strapwright::geom::Length;
use strapwright::job::read;
use strapwright::layout::{Layout, lay_out};
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::verify::{Against, RULES, Report, verify};

const PT: f64 = 72.0 / 25.4;

/// A sample on a paper.
struct Drawn {
    name: String,
    layout: Layout,
    set: SheetSet,
    bytes: Vec<u8>,
}

fn drawn(name: &str, text: &str, paper: &str) -> Drawn {
    let job = read(name, text, &[]).job.expect("a sample has no mistakes");
    let fit = fit(&job);
    let layout = lay_out(&job, fit.as_ref()).unwrap();
    let heading = Heading::of(&job, fit.as_ref(), &layout);
    let paper = Paper::parse(paper).unwrap();
    let set = paginate(&Request::new(&layout, &heading, &paper)).unwrap();
    let bytes = pdf(&set).unwrap();
    Drawn { name: format!("{name} on {}", paper.name()), layout, set, bytes }
}

fn all_on(papers: &[&str]) -> Vec<Drawn> {
    let jobs = samples::jobs();
    jobs.iter().flat_map(|(n, t)| papers.iter().map(|p| drawn(n, t, p))).collect()
}

fn against(bytes: &[u8], layout: &Layout) -> Report {
    verify(bytes, &Against { layout: Some(layout), sheets: &[] }).unwrap()
}

fn words(findings: &[Finding]) -> String {
    let line = |f: &Finding| {
        format!("{}: {}; found {}; required {}\n", f.rule, f.message, f.found, f.required)
    };
    findings.iter().map(line).collect()
}

fn rules(findings: &[Finding]) -> BTreeSet<&str> {
    findings.iter().map(|f| f.rule).collect()
}

#[test]
fn every_sample_reads_back_clean() {
    for drawn in all_on(&["a4", "letter", "a3", "roll", "250x400mm"]) {
        let report = against(&drawn.bytes, &drawn.layout);
        assert!(report.findings.is_empty(), "{}\n{}", drawn.name, words(&report.findings));
        let forms = drawn.layout.pieces.iter().flat_map(|p| &p.marks);
        let forms = forms.filter(|m| m.path().is_some()).count();
        assert_eq!(report.marks.len(), forms, "{}", drawn.name);
        assert_eq!(report.sheets, drawn.set.sheets.len(), "{}", drawn.name);
        assert_eq!(report.print, drawn.set.fingerprint, "{}", drawn.name);
        // The file's numbers have four decimals of a point.
        assert!(report.worst_mm() < 0.001, "{}: {}", drawn.name, report.worst_mm());

        let alone = verify(&drawn.bytes, &Against::default()).unwrap();
        assert!(alone.findings.is_empty(), "{}\n{}", drawn.name, words(&alone.findings));
        assert_eq!(alone.marks.len(), forms, "{} by itself", drawn.name);
    }
}

/// A fault: what it is called, the rules that find it, on how many sheets at least it can
/// be planted, and how.
struct Fault {
    name: &'static str,
    rules: &'static [&'static str],
    sheets: usize,
    plant: fn(&mut Open, &Drawn),
}

const fn fault(
    name: &'static str,
    rules: &'static [&'static str],
    sheets: usize,
    plant: fn(&mut Open, &Drawn),
) -> Fault {
    Fault { name, rules, sheets, plant }
}

const FAULTS: &[Fault] = &[
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
    fault("all but the bars at 99.5 %", &["sheet-scaled"], 1, |file, _| {
        file.edit(0, |all| {
            let bars: Vec<Run> = runs(all).into_iter().filter(|r| is_bar(all, r)).collect();
            let kept = |i: usize| bars.iter().any(|b| b.range.contains(&i));
            for (i, operation) in all.iter_mut().enumerate() {
                if !kept(i) {
                    moved(std::slice::from_mut(operation), |x, y| (x * 0.995, y));
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
        let mark = &drawn.layout.pieces[0].marks.iter().find(|m| m.path().is_some()).unwrap();
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
    fault("a sheet of another job", &["prints-mixed", "sheet-missing"], 2, |file, drawn| {
        let paper = &drawn.set.paper;
        let jobs = samples::jobs();
        let other = jobs.iter().rfind(|(name, _)| !drawn.name.starts_with(name)).unwrap();
        let other = self::drawn(&other.0, &other.1, paper);
        file.take(1, Open::file(&other.bytes), 0);
    }),
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
        let size: Vec<Object> = [0.0, 0.0, width - 20.0, height].map(number).into();
        file.page(0).set("MediaBox", size);
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
                let [first, second, ..] = &places(&all[r.range.clone()])[..] else { return false };
                first.1 == second.1 && (first.0 - second.0).abs() > 50.0
            };
            let edge = of_layer(all, "outline").iter().rfind(is_edge).unwrap().range.start;
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

fn number(n: f64) -> Object {
    #[expect(clippy::cast_possible_truncation, reason = "a file's numbers have 32 bits here")]
    Object::Real(n as f32)
}

fn mm(length: Length) -> f64 {
    length.mm(6).parse().unwrap()
}

/// Changes the first ring of the first sheet.
fn change_mark(file: &mut Open, change: impl FnOnce(&mut [Operation])) {
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
    places.len() > 20 && first.1 == second.1 && second.0 - first.0 > 100.0 * PT
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

#[test]
fn planted_faults_are_found_by_their_rules() {
    let mut wrong = String::new();
    let mut tried = 0;
    for drawn in all_on(&["a4", "letter"]) {
        for fault in FAULTS.iter().filter(|f| f.sheets <= drawn.set.sheets.len()) {
            let mut file = Open::file(&drawn.bytes);
            (fault.plant)(&mut file, &drawn);
            let report = against(&file.bytes(), &drawn.layout);
            tried += 1;
            if rules(&report.findings) != fault.rules.iter().copied().collect() {
                let found = words(&report.findings);
                wrong += &format!("{}, {}:\n{found}\n", drawn.name, fault.name);
            }
            assert!(report.findings.iter().all(|f| !f.remedy.is_empty()), "{}", fault.name);
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(tried > 14 * FAULTS.len() * 2 / 3, "only {tried} faults were planted");
}

/// Faults that show only against another layout, or against none.
#[test]
fn what_is_not_of_the_job_is_found() {
    let jobs = samples::jobs();
    let text = |name: &str| &jobs.iter().find(|(n, _)| n == name).unwrap().1;
    let demo = drawn("demo-belt", text("demo-belt"), "a4");
    let other = drawn("drover-belt", text("drover-belt"), "a4");
    let report = against(&other.bytes, &demo.layout);
    assert_eq!(rules(&report.findings), BTreeSet::from(["other-job"]));

    let mut two = demo.layout.clone();
    let mut keeper = page_belt_piece();
    "keeper".clone_into(&mut keeper.name);
    two.pieces.push(keeper);
    let report = against(&demo.bytes, &two);
    assert_eq!(rules(&report.findings), BTreeSet::from(["piece-missing"]));

    // The same mark within the overlap of two tiles, 0.1 mm apart.
    let mut file = Open::file(&demo.bytes);
    let crosses: Vec<_> = demo.set.sheets[0].tiles.iter().flat_map(|t| &t.crosses).collect();
    let ends: Vec<_> = crosses.iter().filter(|c| c.label == "1a").collect();
    assert_eq!(ends.len(), 2, "both ends of join 1 are on sheet 1");
    file.edit(0, |all| {
        for (end, off) in ends.iter().zip([0.0, 0.1]) {
            all.extend(ring(mm(end.at.x) + off, mm(end.at.y) - 15.0));
        }
    });
    let alone = verify(&file.bytes(), &Against::default()).unwrap();
    assert_eq!(
        rules(&alone.findings),
        BTreeSet::from(["marks-disagree"]),
        "{}",
        words(&alone.findings)
    );
}

fn page_belt_piece() -> strapwright::layout::Piece {
    let (name, text) = samples::jobs().into_iter().find(|(n, _)| n == "page-belt").unwrap();
    drawn(&name, &text, "a4").layout.pieces.remove(0)
}

#[test]
fn every_rule_has_a_fault() {
    let planted = FAULTS.iter().flat_map(|f| f.rules).copied();
    let planted: BTreeSet<&str> =
        planted.chain(["other-job", "piece-missing", "marks-disagree"]).collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|(id, _)| *id).collect();
    assert_eq!(planted, rules, "plant a fault in tests/verify.rs for each of verify::RULES");
}

/// Files that other tools have been at, and that are sound.
#[test]
fn what_only_looks_different_is_clean() {
    type Change = fn(&mut Open);
    let changes: &[(&str, Change)] = &[
        ("turned and turned back", |file| {
            let (width, _) = file.size(0);
            // A quarter turn left in the content, one right by the page.
            file.map(0, [0.0, 1.0, -1.0, 0.0, width, 0.0]);
            let (width, height) = file.size(0);
            let shift = width - height;
            file.map(0, [1.0, 0.0, 0.0, 1.0, -shift, 0.0]);
            let size: Vec<Object> = [0.0, 0.0, height, width].map(number).into();
            file.page(0).set("MediaBox", size);
            file.page(0).set("Rotate", 90);
        }),
        ("moved on its page", |file| file.map(0, [1.0, 0.0, 0.0, 1.0, 3.0, -2.0])),
        ("in units of half a point", |file| {
            file.edit(0, |all| {
                moved(all, |x, y| (x * 2.0, y * 2.0));
                for matrix in all.iter_mut().filter(|o| o.operator == "Tm") {
                    for n in &mut matrix.operands {
                        *n = number(f64::from(n.as_float().unwrap()) * 2.0);
                    }
                }
                for pen in all.iter_mut().filter(|o| o.operator == "w") {
                    pen.operands[0] = number(f64::from(pen.operands[0].as_float().unwrap()) * 2.0);
                }
                all.insert(0, op("cm", &[0.5, 0.0, 0.0, 0.5, 0.0, 0.0]));
            });
        }),
        ("without layers", |file| {
            for page in 0..file.pages().len() {
                file.edit(page, |all| all.retain(|o| o.operator != "BDC" && o.operator != "EMC"));
            }
        }),
        ("as a form", |file| {
            let id = file.pages()[0];
            let content = file.0.get_page_content(id);
            let resources = file.page(0).get(b"Resources").unwrap().clone();
            let form = lopdf::Stream::new(
                dictionary! {
                    "Type" => "XObject", "Subtype" => "Form", "Resources" => resources,
                    "BBox" => vec![0.into(), 0.into(), 2_000.into(), 2_000.into()],
                    "Matrix" => vec![2.into(), 0.into(), 0.into(), 2.into(), 0.into(), 0.into()],
                },
                content,
            );
            let form = file.0.add_object(form);
            let resources = dictionary! { "XObject" => dictionary! { "All" => form } };
            file.page(0).set("Resources", resources);
            file.content(0, b"q .5 0 0 .5 0 0 cm /All Do Q".to_vec());
        }),
        ("in several streams", |file| {
            let id = file.pages()[0];
            let content = file.0.get_page_content(id);
            let cut = content.windows(5).position(|w| w == b" Tm\n<").unwrap() + 4;
            let parts = [&content[..cut], &content[cut..]].map(|part| {
                let stream = lopdf::Stream::new(lopdf::Dictionary::new(), part.to_vec());
                Object::from(file.0.add_object(stream))
            });
            file.page(0).set("Contents", parts.to_vec());
        }),
        ("corrected for a printer", |file| {
            for page in 0..file.pages().len() {
                file.map(page, [1.0125, 0.0, 0.0, 0.998, -5.0, 0.6]);
                file.say(page, b"printer W\xD71.0125 H\xD70.998");
            }
        }),
        ("with a page of another kind", |file| {
            let page = dictionary! {
                "Type" => "Page", "MediaBox" => vec![0.into(), 0.into(), 300.into(), 200.into()],
            };
            let page = file.0.add_object(page);
            let root = file.0.catalog().unwrap().get(b"Pages").unwrap().as_reference().unwrap();
            let root = file.0.get_dictionary_mut(root).unwrap();
            let mut kids = root.get(b"Kids").unwrap().as_array().unwrap().clone();
            kids.push(page.into());
            root.set("Kids", kids);
        }),
    ];
    for drawn in all_on(&["a4", "letter"]) {
        for (name, change) in changes {
            let mut file = Open::file(&drawn.bytes);
            change(&mut file);
            let report = against(&file.bytes(), &drawn.layout);
            let found = words(&report.findings);
            assert!(report.findings.is_empty(), "{}, {name}:\n{found}", drawn.name);
            assert_eq!(report.other_pages, usize::from(name.contains("another")), "{name}");
            assert!(report.worst_mm() < 0.001, "{}, {name}: {}", drawn.name, report.worst_mm());
        }
    }
}

/// A correction that its sheet does not tell of is a wrong scale, and one that is told of
/// but not made too.
#[test]
fn a_correction_must_be_told_and_made() {
    let drawn = all_on(&["a4"]).remove(0);
    let mut silent = Open::file(&drawn.bytes);
    silent.map(0, [1.0125, 0.0, 0.0, 0.998, -5.0, 0.6]);
    let mut only_told = Open::file(&drawn.bytes);
    only_told.say(0, b"printer W\xD71.0125 H\xD70.998");
    for file in [&mut silent, &mut only_told] {
        let report = against(&file.bytes(), &drawn.layout);
        let scaled = report.findings.iter().filter(|f| f.rule == "sheet-scaled").count();
        assert_eq!((scaled, report.findings.len()), (2, 2), "{}", words(&report.findings));
    }
}

/// A reprint of some sheets is sound if these are all that is asked for.
#[test]
fn some_sheets_may_be_all_that_is_asked_for() {
    for drawn in all_on(&["a4", "letter"]).into_iter().filter(|d| d.set.sheets.len() > 1) {
        for kept in 0..drawn.set.sheets.len() {
            let mut file = Open::file(&drawn.bytes);
            file.kids(&[kept]);
            let asked = [kept + 1];
            let against = Against { layout: Some(&drawn.layout), sheets: &asked };
            let report = verify(&file.bytes(), &against).unwrap();
            let found = words(&report.findings);
            assert!(report.findings.is_empty(), "{} sheet {kept}: {found}", drawn.name);
        }
    }
}

/// A moved mark is measured: where it was found, where it should be, and by how much it is
/// off.
#[test]
fn a_moved_mark_is_measured() {
    let drawn = all_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    change_mark(&mut file, |mark| shifted(mark, 0.1, 0.0));
    let report = against(&file.bytes(), &drawn.layout);
    let off = |m: &&strapwright::verify::FoundMark| m.error_mm.is_some_and(|off| off > 0.05);
    let worst = report.marks.iter().find(off).unwrap();
    let expected = worst.expected_mm.unwrap();
    assert!((worst.error_mm.unwrap() - 0.1).abs() < 0.001, "{worst:?}");
    assert!((worst.found_mm[0] - expected[0] - 0.1).abs() < 0.001, "{worst:?}");
    assert!((report.worst_mm() - 0.1).abs() < 0.001);
}

/// Bytes that are broken in any way are refused or found, and nothing else.
#[test]
fn broken_bytes_do_no_harm() {
    let drawn = all_on(&["a4"]).remove(0);
    let mut plain = Open::file(&drawn.bytes);
    for page in 0..plain.pages().len() {
        let operations = plain.operations(page);
        plain.draw(page, operations);
    }
    // Knuth's generator: the same breaks on every run.
    let mut seed = 0x1234_5678_9ABC_DEF0_u64;
    let mut random = move |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).unwrap() % below
    };
    let mut refused = 0;
    for (bytes, tries) in [(drawn.bytes.clone(), 150), (plain.bytes(), 250)] {
        for _ in 0..tries {
            let mut broken = bytes.clone();
            for _ in 0..=random(12) {
                let at = random(broken.len());
                match random(4) {
                    0 => broken.truncate(at.max(1)),
                    1 => {
                        broken.drain(at..(at + random(40)).min(broken.len()));
                        broken.push(b'\n');
                    }
                    2 => broken[at] = b"0-.(<[/%>Qq "[random(12)],
                    _ => broken[at] = u8::try_from(random(256)).unwrap(),
                }
            }
            let read = verify(&broken, &Against { layout: Some(&drawn.layout), sheets: &[] });
            refused += usize::from(read.is_err());
        }
    }
    assert!(refused > 20, "so many breaks must break something: {refused}");
    for bytes in [&b""[..], b"%PDF-1.7", &[0xFF; 1_000]] {
        assert!(verify(bytes, &Against::default()).is_err());
    }
}

/// A form that draws itself, over and over, ends.
#[test]
fn endless_drawings_end() {
    let drawn = all_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    let own = lopdf::Stream::new(
        dictionary! { "Type" => "XObject", "Subtype" => "Form" },
        b"/All Do /All Do /All Do".to_vec(),
    );
    let form = file.0.add_object(own);
    let resources = dictionary! { "XObject" => dictionary! { "All" => form } };
    file.page(0).set("Resources", resources.clone());
    file.0.get_object_mut(form).unwrap().as_stream_mut().unwrap().dict.set("Resources", resources);
    file.content(0, b"/All Do".to_vec());
    let report = against(&file.bytes(), &drawn.layout);
    let unread = report.findings.iter().find(|f| f.rule == "page-unreadable").unwrap();
    assert!(unread.found.contains("forms"), "{}", unread.found);
}

/// What is to find the mistakes of the stages before it takes nothing from them.
#[test]
fn the_stage_takes_nothing_from_those_that_draw() {
    let mut folders = vec![std::path::PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/src/verify"
    ))];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            files += 1;
            let text = std::fs::read_to_string(&path).unwrap();
            for word in ["paginate", "export", "lettering", "printpdf"] {
                assert!(!text.contains(word), "{}: {word}", path.display());
            }
        }
    }
    assert!(files > 15, "only {files} files were looked at");
}
