//! Every format that draws sheets itself takes the printer's correction, or the printer's error
//! would stay in.

use crate::common::{laid, printed};
use lopdf::Document;
use std::collections::BTreeSet;
use strapwright::export::{FORMATS, Format, Writes};
use strapwright::geom::Ratio;
use strapwright::paginate::{Correction, Factor, Item, MARGIN, SheetSet};
use strapwright::template::DEMO_JOB;

/// The files of a set as text.
fn texts(format: &Format, set: &SheetSet) -> Vec<String> {
    let files = match format.writes {
        Writes::OneFile(draw) => vec![draw(set).unwrap()],
        Writes::FilePerSheet(draw) => draw(set).unwrap(),
        // A whole strap is for no printer, and a preview shows the PDF.
        Writes::Strap { .. } | Writes::Preview { .. } => return Vec::new(),
    };
    if format.name == "pdf" {
        let document = Document::load_mem(&files[0]).unwrap();
        let pages = document.get_pages().into_values();
        let contents = pages.map(|id| document.get_page_content(id));
        return contents.map(|c| String::from_utf8_lossy(&c).into_owned()).collect();
    }
    let is_text = "a format that is no text: read its places here, as of a PDF";
    files.into_iter().map(|file| String::from_utf8(file).expect(is_text)).collect()
}

/// The numbers in a text.
fn numbers(text: &str) -> Vec<&str> {
    let all = text.split(|c: char| !c.is_ascii_digit() && !".-".contains(c));
    all.filter(|word| word.parse::<f64>().is_ok()).collect()
}

#[test]
fn every_format_takes_the_printers_correction() {
    let mut plain = printed(&laid(DEMO_JOB, &[]), "a4");
    // The outlines of letters have numbers that a matrix corrects.
    plain.ticket.clear();
    for sheet in &mut plain.sheets {
        sheet.items.retain(|item| !matches!(item, Item::Text { .. }));
    }
    let by = |millionths| Factor {
        by: Ratio::from_millionths(millionths),
        proven: Ratio::ONE,
    };
    for factors in [[1_020_000, 1_000_000], [1_000_000, 980_000]] {
        let [long, short] = factors.map(by);
        let printer = "front-desk".to_owned();
        let (margin, fitted) = (MARGIN, false);
        let mut corrected = plain.clone();
        corrected.settings.printer =
            Some(Correction { printer, long, short, margin, fitted });
        for format in FORMATS.iter().filter_map(|f| f.with_sheets().ok()) {
            let name = format.name;
            let (before, after) = (texts(&format, &plain), texts(&format, &corrected));
            assert_eq!(before.len(), after.len(), "{name}");
            for (before, after) in before.iter().zip(&after) {
                let (before, after) = (numbers(before), numbers(after));
                let after: BTreeSet<&str> = after.into_iter().collect();
                assert!(before.len() > 100, "{name}: {} numbers", before.len());
                let same = before.iter().filter(|n| after.contains(**n)).count();
                // Half of the numbers lie along the axis that is not corrected.
                assert!(
                    same * 4 < before.len() * 3,
                    "{name}: of {} numbers {same} are as without a correction",
                    before.len()
                );
            }
        }
    }
}
