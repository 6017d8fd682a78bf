//! What holds for every form of piece, tried on generated ones, and for every length of
//! every template.

use crate::common::{cases, mm, spot};
use proptest::prelude::*;
use strapwright::diagnostic::forbids_print;
use strapwright::geom::{Path, Step, Strap};
use strapwright::layout::{MarkKind, Piece};
use strapwright::{Prepared, prepare, template};

fn run(job: &str, sets: &[String]) -> Prepared {
    prepare("job.toml", job, sets)
}

const SHAPES: [&str; 6] =
    ["english-point", "round", "spear", "bridle-point", "rounded-corners", "straight"];

fn shape() -> impl Strategy<Value = &'static str> {
    prop::sample::select(&SHAPES[..])
}

prop_compose! {
    /// A strap of any ends with two changes of width, and a line of stitches and a lining
    /// within it. Lengths in tenths of a millimetre.
    fn form()(
        ends in (shape(), shape()),
        widths in (150..=800_i64, 150..=800_i64, 150..=800_i64),
        runs in (330..=900_i64, 330..=900_i64),
        join in prop::sample::select(&["smooth", "straight"][..]),
        inset in 5..=70_i64,
        pitch in 20..=80_i64,
    ) -> (String, i64, bool) {
        let mm = |tenths: i64| format!("{}.{} mm", tenths / 10, tenths % 10);
        let (start, end) = ends;
        let text = format!(
            "template = \"plain-strap\"\nplain.length = \"460 mm\"\nholes.count = 0\n\
             strap.width = \"{}\"\nstart.shape = \"{start}\"\nend.shape = \"{end}\"\n\
             [one]\nkind = \"taper\"\nfrom = \"strap.zero\"\nby = \"120 mm\"\n\
             to = \"strap.zero\"\nto-by = \"120 mm + {}\"\nwidth = \"{}\"\njoin = \"{join}\"\n\
             [two]\nkind = \"taper\"\nfrom = \"strap.zero\"\nby = \"220 mm\"\n\
             to = \"strap.zero\"\nto-by = \"220 mm + {}\"\nwidth = \"{}\"\njoin = \"{join}\"\n\
             [seam]\nkind = \"stitch\"\nalong = \"outline\"\ninset = \"{}\"\n\
             pitch = \"{}\"\ndiameter = \"0.5 mm\"\n\
             [lining]\nkind = \"lining\"\ninset = \"{}\"\n",
            mm(widths.0), mm(runs.0), mm(widths.1), mm(runs.1), mm(widths.2),
            mm(inset), mm(pitch), mm(inset),
        );
        (text, inset, join == "smooth")
    }
}

/// Places along an outline, thirty-two to a step.
fn places(path: &Path<Strap>) -> Vec<(f64, f64)> {
    path.segments()
        .iter()
        .flat_map(|s| (0..32).map(move |i| spot(s.part(i, 32))))
        .collect()
}

/// The least distance between a place and the straight lines through `outline`'s places: a
/// little more than the true distance where the outline bulges.
fn nearest((x, y): (f64, f64), outline: &[(f64, f64)]) -> f64 {
    let ends = outline.iter().zip(outline.iter().cycle().skip(1));
    let one = |((ax, ay), (bx, by)): (&(f64, f64), &(f64, f64))| {
        let (dx, dy) = (bx - ax, by - ay);
        let square = (dx * dx + dy * dy).max(1e-12);
        let t = (((x - ax) * dx + (y - ay) * dy) / square).clamp(0.0, 1.0);
        libm::hypot(x - ax - t * dx, y - ay - t * dy)
    };
    ends.map(one).fold(f64::INFINITY, f64::min)
}

fn arcs_are_true(piece: &Piece) -> Result<(), TestCaseError> {
    for segment in piece.outline.segments() {
        if let Step::Arc { to, centre, .. } = segment.step {
            let (a, b) = ((segment.from - centre).norm(), (to - centre).norm());
            prop_assert!((a - b).abs().nm() <= 50, "{}: {a} {b}", piece.name);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(96))]

    #[test]
    fn whatever_its_form_a_piece_keeps_the_laws((text, inset, smooth) in form()) {
        let done = run(&text, &[]);
        let Some((_, _, layout)) = &done.laid else {
            prop_assert!(forbids_print(&done.findings), "nothing laid, nothing said");
            let refused = |f: &strapwright::diagnostic::Finding| f.rule.as_str() == "no-room";
            prop_assert!(done.findings.iter().all(refused), "{:?}", done.findings);
            return Ok(());
        };
        let (strap, lining) = (&layout.pieces[0], &layout.pieces[1]);
        arcs_are_true(strap)?;
        arcs_are_true(lining)?;
        let outer = places(&strap.outline);
        #[expect(clippy::cast_precision_loss, reason = "a few millimetres")]
        let inset = inset as f64 / 10.0;
        // The chords lie within the true curve by at most 0.02 mm. Where straight changes of
        // width make a corner inward, the lines within meet a little further off.
        let most = if smooth { inset + 0.02 } else { inset * 1.25 + 0.02 };
        let is_right = |off: f64| inset - 0.02 < off && off < most;
        for place in places(&lining.outline) {
            let off = nearest(place, &outer);
            prop_assert!(is_right(off), "{place:?}: {off}, not {inset}");
        }
        let stitches: Vec<(f64, f64)> = strap
            .marks
            .iter()
            .filter(|m| m.kind == MarkKind::Stitch)
            .map(|m| (mm(m.at.x), mm(m.at.y)))
            .collect();
        prop_assert!(stitches.len() > 50);
        for stitch in stitches {
            let off = nearest(stitch, &outer);
            prop_assert!(is_right(off), "{stitch:?}: {off}, not {inset}");
        }
    }
}

/// Every key of every template with a length far beyond sense, alone and all of a table: it
/// is laid out or found, and nothing overflows.
#[test]
fn lengths_beyond_sense_are_found_or_laid_out() {
    let mut tried = 0;
    for template in template::REGISTER {
        for key in template::about_chain(&[template.text]).keys {
            let default = key.default.unwrap_or_default();
            if !default.starts_with('"') || !default.contains([' ', '.']) {
                continue;
            }
            for value in
                ["1000 m", "-1000 m", "0 mm", "0.000001 mm", "999999 x strap.width"]
            {
                let set = format!("{}={value}", key.name);
                let done = run(&format!("template = \"{}\"", template.name), &[set]);
                let read = done.laid.is_some() || !done.findings.is_empty();
                assert!(read, "{}: {} = {value}", template.name, key.name);
                tried += 1;
            }
        }
    }
    assert!(tried > 1_000, "{tried}");
}
