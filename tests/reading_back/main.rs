//! Every sample job reads back clean on every paper, and every fault that is planted in a
//! finished file is found by its own rule and by no other.

#![expect(
    clippy::cast_precision_loss,
    clippy::unwrap_used,
    reason = "a test may stop at what is not there; lengths are short in nanometres"
)]

#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod drawn;
mod faults;
mod foreign;
mod planted;
mod tapered;

use crate::common::{mm, samples};
use drawn::{against, all_on, belts_on, drawn, drawn_as, rules, words};
use faults::{FAULTS, change_mark};
use lopdf::Object;
use planted::{Open, real, ring, shifted};
use std::collections::BTreeSet;
use strapwright::diagnostic::Severity;
use strapwright::export::pdf::pdf;
use strapwright::geom::Length;
use strapwright::job::PieceId;
use strapwright::paginate::Item;
use strapwright::verify::{Against, FoundMark, RULES, verify};
use strapwright::words::Name;

/// Size of the numerals of scale bars.
const BAR_TYPE: Length = Length::from_um(2_100);

#[test]
fn every_sample_reads_back_clean() {
    for drawn in all_on(&["a4", "letter", "a3", "roll", "250x400mm"]) {
        let report = against(&drawn.bytes, &drawn.layout);
        assert!(
            report.findings.is_empty(),
            "{}\n{}",
            drawn.name,
            words(&report.findings)
        );
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

#[test]
fn planted_faults_are_found_by_their_rules() {
    let mut wrong = Vec::new();
    let mut tried = 0;
    for drawn in belts_on(&["a4", "letter"]) {
        for fault in FAULTS.iter().filter(|f| f.sheets <= drawn.set.sheets.len()) {
            let mut file = Open::file(&drawn.bytes);
            (fault.plant)(&mut file, &drawn);
            let report = against(&file.bytes(), &drawn.layout);
            tried += 1;
            if rules(&report.findings) != fault.rules.iter().copied().collect() {
                let found = words(&report.findings);
                wrong.push(format!("{}, {}:\n{found}", drawn.name, fault.name));
            }
            assert!(
                report.findings.iter().all(|f| !f.remedy.is_empty()),
                "{}",
                fault.name
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
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
    keeper.name = Name::given("keeper");
    keeper.id = PieceId::other(0);
    two.pieces.push(keeper);
    let report = against(&demo.bytes, &two);
    assert_eq!(rules(&report.findings), BTreeSet::from(["piece-missing"]));

    // A part of a print that says nowhere where it lies: nothing but its head, scale bars
    // and crosses has numerals.
    let is_told = |item: &Item| match item {
        Item::Text { text, size, .. } => {
            let is_cross = text.ends_with(['a', 'b']);
            *size != BAR_TYPE && !is_cross && text.contains(|c: char| c.is_ascii_digit())
        }
        _ => false,
    };
    let mut mute = demo.set.clone();
    for sheet in &mut mute.sheets {
        let body = sheet.items.split_off(sheet.head);
        sheet.items.extend(body.into_iter().filter(|item| !is_told(item)));
    }
    let mut file = Open::file(&pdf(&mute).unwrap());
    file.kids(&[1]);
    let against_second = Against { layout: Some(&demo.layout), sheets: &[2] };
    let report = verify(&file.bytes(), &against_second).unwrap();
    assert_eq!(
        rules(&report.findings),
        BTreeSet::from(["place-unproven"]),
        "{}",
        words(&report.findings)
    );

    // The same mark within the overlap of two tiles, 0.1 mm apart.
    let mut file = Open::file(&demo.bytes);
    let crosses: Vec<_> =
        demo.set.sheets[0].tiles.iter().flat_map(|t| &t.crosses).collect();
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
    let (name, text) =
        samples::jobs().into_iter().find(|(n, _)| n == "page-belt").unwrap();
    drawn(&name, &text, "a4").layout.pieces.remove(0)
}

#[test]
fn every_rule_has_a_fault() {
    let planted = FAULTS.iter().flat_map(|f| f.rules).copied();
    let planted: BTreeSet<&str> = planted
        .chain(["other-job", "piece-missing", "marks-disagree", "place-unproven"])
        .collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        planted, rules,
        "plant a fault in tests/reading_back/faults.rs for each of verify::RULES"
    );
}

/// A moved mark is measured: where it was found, where it should be, and by how much it is
/// off.
#[test]
fn a_moved_mark_is_measured() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    change_mark(&mut file, |mark| shifted(mark, 0.1, 0.0));
    let report = against(&file.bytes(), &drawn.layout);
    let off = |m: &&FoundMark| m.error_mm.is_some_and(|off| off > 0.05);
    let worst = report.marks.iter().find(off).unwrap();
    let expected = worst.expected_mm.unwrap();
    assert!((worst.error_mm.unwrap() - 0.1).abs() < 0.001, "{worst:?}");
    assert!((worst.found_mm[0] - expected[0] - 0.1).abs() < 0.001, "{worst:?}");
    assert!((report.worst_mm() - 0.1).abs() < 0.001);
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
            // An example in the documentation draws the file that it reads back.
            let is_code = |line: &&str| !line.starts_with("///");
            let text: String = text.lines().filter(is_code).collect();
            for word in ["paginate", "export", "lettering", "printpdf"] {
                assert!(!text.contains(word), "{}: {word}", path.display());
            }
        }
    }
    assert!(files > 15, "only {files} files were looked at");
}

/// The page is held against every paper that its head can name.
#[test]
fn a_page_of_another_size_is_found_on_every_paper() {
    let (name, text) = samples::jobs().remove(0);
    for paper in ["150x200mm", "8.5in x 11in", "9 x 12 in", "roll", "roll-297mm"] {
        let drawn = drawn(&name, &text, paper);
        let mut file = Open::file(&drawn.bytes);
        let (width, height) = file.size(0);
        let size: Vec<Object> = [0.0, 0.0, width, height + 20.0].map(real).into();
        file.page(0).set("MediaBox", size);
        let report = against(&file.bytes(), &drawn.layout);
        assert_eq!(rules(&report.findings), BTreeSet::from(["page-size"]), "{paper}");
    }
    // Most of a sheet of a paper without a name is hidden.
    let drawn = drawn(&name, &text, "150x200mm");
    let mut file = Open::file(&drawn.bytes);
    let size: Vec<Object> = [100.0, 100.0, 400.0, 300.0].map(real).into();
    file.page(0).set("CropBox", size);
    let report = against(&file.bytes(), &drawn.layout);
    let wanted = BTreeSet::from(["page-size", "off-page"]);
    assert_eq!(rules(&report.findings), wanted, "{}", words(&report.findings));
}

/// Some sheets of a print lie where their rulers say and nowhere else: those of one size
/// are no others', and a nested print is all of them.
#[test]
fn a_part_of_a_print_is_of_its_own_size_alone() {
    let (_, text) =
        samples::jobs().into_iter().find(|(n, _)| n == "chorus-belts").unwrap();
    let size = |label: &str| {
        drawn_as("chorus-belts", &text, "a4", &[&format!("stock.size={label}")])
    };
    let sizes = ["28 in", "34 in", "36 in", "46 in"].map(size);
    for drawn in &sizes {
        let last = drawn.set.sheets.len();
        let mut file = Open::file(&drawn.bytes);
        file.kids(&[last - 1]);
        let bytes = file.bytes();
        for other in &sizes {
            let asked = [last];
            let against = Against { layout: Some(&other.layout), sheets: &asked };
            let report = verify(&bytes, &against).unwrap();
            let is_own = other.layout == drawn.layout;
            let found = words(&report.findings);
            assert_eq!(report.findings.is_empty(), is_own, "{found}");
        }
    }
}

/// A piece that is wider than a sheet is put together from its grid of tiles.
#[test]
fn a_wide_piece_reads_back_clean() {
    let pad =
        "template = \"plain-strap\"\ntitle = \"Knee pad\"\nstrap.width = \"320 mm\"\n";
    for paper in ["a4", "letter"] {
        let drawn = drawn("knee-pad", pad, paper);
        assert!(
            !drawn.set.lengthwise_joins.is_empty(),
            "it is joined along its length too"
        );
        let report = against(&drawn.bytes, &drawn.layout);
        assert!(report.findings.is_empty(), "{paper}\n{}", words(&report.findings));
        assert_eq!(report.marks.len(), 5, "{paper}");
        // Each sheet by itself too: what is wrong is wrong, the rest may lie anywhere.
        for kept in 0..drawn.set.sheets.len() {
            let mut file = Open::file(&drawn.bytes);
            file.kids(&[kept]);
            let asked = [kept + 1];
            let against = Against { layout: Some(&drawn.layout), sheets: &asked };
            let report = verify(&file.bytes(), &against).unwrap();
            let found = words(&report.findings);
            let only =
                report.findings.iter().all(|f| f.rule.as_str() == "place-unproven");
            assert!(only, "{paper}, sheet {kept}:\n{found}");
            let errors = report.findings.iter().any(|f| f.severity == Severity::Error);
            assert!(!errors, "the program may print it: {found}");
        }
    }
}
