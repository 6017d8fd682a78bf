//! The factors that undo the error of a printer.

use super::paper::PaperForm;
use crate::geom::{Length, Ratio};
use serde::{Deserialize, Serialize};

/// The factor of one axis, and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Factor {
    /// Every distance along the axis is multiplied by this.
    pub by: Ratio,
    /// Its expanded uncertainty (k = 2), relative to the length.
    pub proven: Ratio,
}

/// What undoes a printer's error. The factors belong to the feed and the cross-feed of the
/// printer, so to the edges of the paper, whatever the orientation of the drawing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Correction {
    /// Name of the printer.
    pub printer: String,
    /// Along the long edge of a sheet, or along a roll.
    pub long: Factor,
    /// Along the short edge of a sheet, or across a roll.
    pub short: Factor,
    /// The margin that the printer leaves blank along every edge.
    pub margin: Length,
    /// Whether the correction undoes a fit to the page that cannot be switched off. Then the
    /// print must be fitted again.
    pub fitted: bool,
}

impl Correction {
    /// The factors of a page of `width` and `height`, along its width and its height.
    pub(super) fn on(
        &self,
        form: PaperForm,
        width: Length,
        height: Length,
    ) -> [Factor; 2] {
        if form.has_long_width(width, height) {
            [self.long, self.short]
        } else {
            [self.short, self.long]
        }
    }
}

/// The factors of a page, as `verify` reads them: `W×1.0125 H×0.998`.
pub(super) fn token([width, height]: [Factor; 2]) -> String {
    format!("W×{} H×{}", width.by, height.by)
}

/// The distance that a drawing must keep from the edges of a page `side` long, to keep
/// `margin` both before and after it is multiplied by `factor` about the middle of the page.
pub(super) fn margin(side: Length, margin: Length, factor: Option<Factor>) -> Length {
    let one = Ratio::ONE.millionths();
    let by = factor.map_or(one, |f| f.by.millionths()).max(one);
    (side - (side - margin * 2).times(one, by)) / 2
}

#[cfg(test)]
mod tests {
    use super::super::tests::{PAPERS, demo, ink_keeps_off_the_edges, um};
    use super::super::{Heading, Paper, Request, SheetSet, paginate};
    use super::*;

    fn factor(millionths: i64) -> Factor {
        let proven = Ratio::from_millionths(1_000);
        Factor { by: Ratio::from_millionths(millionths), proven }
    }

    fn correction(long: i64, short: i64) -> Correction {
        Correction {
            printer: "front desk".to_owned(),
            long: factor(long),
            short: factor(short),
            margin: um(10_000),
            fitted: false,
        }
    }

    fn print(paper: &str, correction: Option<&Correction>) -> SheetSet {
        let (layout, heading) = (demo(), Heading::default());
        let paper = Paper::parse(paper).unwrap();
        let request = Request::new(&layout, &heading, &paper);
        paginate(&Request { correction, ..request }).unwrap()
    }

    #[test]
    fn a_factor_follows_the_edge_of_the_sheet() {
        let c = correction(1_012_500, 998_000);
        let (short, long) = (um(210_000), um(297_000));
        let sheet = PaperForm::Sheet { short, long };
        assert_eq!(token(c.on(sheet, long, short)), "W×1.0125 H×0.998");
        assert_eq!(token(c.on(sheet, short, long)), "W×0.998 H×1.0125");
        // A roll, however short the page was cut.
        let roll = PaperForm::Roll { width: long };
        assert_eq!(token(c.on(roll, short, long)), "W×1.0125 H×0.998");
        assert_eq!(
            token(correction(1_000_000, 1_000_001).on(sheet, long, short)),
            "W×1 H×1.000001"
        );
    }

    /// Multiplied about the middle, the drawing must stay within what the printer prints;
    /// and so must what the printer makes of it.
    #[test]
    fn margins_grow_with_the_correction() {
        let nothing = um(10_000);
        assert_eq!(margin(um(297_000), nothing, None), nothing);
        assert_eq!(margin(um(297_000), nothing, Some(factor(930_000))), nothing);
        // 148.5 - 138.5 / 1.0625, by hand.
        let grown = margin(um(297_000), nothing, Some(factor(1_062_500)));
        assert_eq!(grown.mm(4), "18.1471");
        for (long, short) in [(1_062_500, 1_031_000), (930_000, 1_080_000)] {
            let c = correction(long, short);
            for paper in PAPERS {
                let set = print(paper, Some(&c));
                for sheet in &set.sheets {
                    let [width, height] = set.correction_on(sheet).unwrap();
                    let edges = [
                        margin(sheet.width, um(10_000), Some(width)),
                        margin(sheet.height, um(10_000), Some(height)),
                    ];
                    ink_keeps_off_the_edges(sheet, edges, paper);
                }
            }
        }
    }

    #[test]
    fn a_roll_is_cut_long_enough_to_need_no_join() {
        for long in [930_000, 1_000_001, 1_062_500] {
            let set = print("roll", Some(&correction(long, 1_000_000)));
            assert_eq!((set.sheets.len(), set.joins.len()), (1, 0), "{long}");
        }
    }

    /// The ticket of a roll is cut square, that of a square sheet has no other way round;
    /// on A4 it stands upright beside sheets that lie.
    #[test]
    fn a_ticket_is_multiplied_by_the_edges_it_has() {
        let c = correction(1_012_500, 998_000);
        for (paper, way_round) in [
            ("roll", "W×1.0125 H×0.998"),
            ("250x250mm", "W×1.0125 H×0.998"),
            ("a4", "W×0.998 H×1.0125"),
        ] {
            let set = print(paper, Some(&c));
            let (width, height) = match Paper::parse(paper).unwrap().form() {
                PaperForm::Sheet { short, long } => (short, long),
                PaperForm::Roll { width } => (width, width),
            };
            let page = super::super::Sheet { width, height, ..set.sheets[0].clone() };
            let own = set.correction_on(&page).unwrap();
            assert_eq!(token(own), way_round, "{paper}");
            let form = Paper::parse(paper).unwrap().form();
            assert_eq!(own, c.on(form, width, height), "{paper}: as it was laid out");
        }
    }

    #[test]
    fn every_correction_has_its_own_fingerprint() {
        let plain = print("a4", None);
        let mut names = vec![plain.fingerprint];
        let base = correction(1_000_000, 1_000_000);
        let mut other = base.clone();
        other.printer = "upstairs".to_owned();
        let mut fitted = base.clone();
        fitted.fitted = true;
        let mut narrow = base.clone();
        narrow.margin = um(9_000);
        let all = [base, correction(1_000_001, 1_000_000), other, fitted, narrow];
        for c in all {
            let set = print("a4", Some(&c));
            assert!(!names.contains(&set.fingerprint), "{c:?}");
            names.push(set.fingerprint);
        }
    }

    /// Sheets that must be fitted do not say that they must not.
    #[test]
    fn the_header_says_how_to_print() {
        let mut c = correction(1_043_000, 1_043_000);
        c.printer = "a name that is far too long to stand at the head of a sheet".into();
        // One line of the head goes on in the next.
        let texts = |c: &Correction| -> String {
            let all = print("a4", Some(c)).sheets.remove(0).items.into_iter();
            all.filter_map(|item| match item {
                super::super::Item::Text { text, .. } => Some(text),
                _ => None,
            })
            .collect::<Vec<_>>()
            .join(" ")
        };
        let says = |c: &Correction, words: &str| texts(c).contains(words);
        assert!(says(&c, "PRINT AT 100 %") && says(&c, "…: W×1.043 H×1.043"));
        c.fitted = true;
        assert!(says(&c, "PRINT FITTED TO PAGE") && !says(&c, "100 %"));
    }
}
