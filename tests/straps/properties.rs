//! What holds for every length and every job, tried on generated ones.

use crate::common::cases;
use crate::common::{belt, run};
use proptest::prelude::*;
use strapwright::diagnostic::forbids_print;
use strapwright::geom::{Length, Ratio};
use strapwright::layout::{Mark, MarkKind, MarkRole};

/// A length as a bench writes it, between two numbers of millimetres.
fn length(from: i64, to: i64) -> impl Strategy<Value = String> {
    (from * 1_000..=to * 1_000, 0..4).prop_map(|(um, unit)| {
        let length = Length::from_um(um);
        match unit {
            0 => length.tape().to_string(),
            1 => format!("{}.{:04} cm", um / 10_000, um % 10_000),
            _ => length.to_string(),
        }
    })
}

fn word(words: &'static [&'static str]) -> impl Strategy<Value = &'static str> {
    prop::sample::select(words)
}

prop_compose! {
    /// A belt of any width, leather, buckle and measure, with any number of holes and
    /// fittings, sound or not.
    fn belt_job()(
        taken in word(&["tape", "bend-to-hole", "bar-to-hole", "frame-to-hole", "trousers"]),
        value in length(600, 1_400),
        leather in (length(15, 60), length(1, 8), 0..=100_u32),
        buckle in (length(2, 6), word(&["strap.width", "strap.width + 4 mm", "40 mm"]), length(2, 6)),
        row in (0..6_u32, 0..6_u32, length(8, 40), length(2, 8)),
        hole in word(&["round", "oval"]),
        fittings in 0..8_u32,
        tip in (word(&["english-point", "round", "spear", "bridle-point"]), length(40, 120)),
        blank in prop::option::of((length(900, 2_000), prop::bool::ANY)),
    ) -> String {
        let (width, thickness, k) = leather;
        let (bar, inside, tongue) = buckle;
        let (inner, outer, pitch, diameter) = row;
        let (shape, past) = tip;
        let blank = blank.map_or_else(String::new, |(length, punched)| {
            format!("blank.length = '{length}'\nblank.punched = {punched}\n")
        });
        format!(
            "measure.taken = '{taken}'\nmeasure.value = '{value}'\n\
             strap.width = '{width}'\nstrap.thickness = '{thickness}'\n\
             strap.k = {}.{:02}\n\
             buckle.bar = '{bar}'\nbuckle.inside = '{inside}'\nbuckle.tongue = '{tongue}'\n\
             size-holes.inside = {inner}\nsize-holes.outside = {outer}\n\
             size-holes.pitch = '{pitch}'\nsize-holes.diameter = '{diameter}'\n\
             size-holes.shape = '{hole}'\nfittings.count = {fittings}\n\
             tip.shape = '{shape}'\ntip.past-last-hole = '{past}'\n{blank}",
            k / 100, k % 100,
        )
    }
}

proptest! {
    #![proptest_config(cases(512))]

    #[test]
    fn a_length_reads_as_it_prints(nm in -100_000_000_000_000_i64..=100_000_000_000_000) {
        let length = Length::from_nm(nm);
        prop_assert_eq!(Length::parse(&length.to_string()), Ok(length));
    }

    #[test]
    fn a_tape_reads_as_it_prints(n in -200_000_i64..200_000, off in -198_437_i64..198_437) {
        let length = Length::from_inch_64ths(n);
        prop_assert_eq!(Length::parse(&length.tape().to_string()), Ok(length));
        let near = (length + Length::from_nm(off)).tape();
        prop_assert_eq!(near.to_string(), length.tape().to_string());
        prop_assert_eq!(near.rest, Length::from_nm(off));
    }

    #[test]
    fn a_ratio_reads_as_it_prints(millionths in 0_i64..10_000_000) {
        let ratio = Ratio::from_millionths(millionths);
        prop_assert_eq!(Ratio::parse(&ratio.to_string()), Some(ratio));
    }

    #[test]
    fn every_belt_keeps_the_laws(job in belt_job()) {
        let done = belt(&job);
        prop_assert!(!done.findings.iter().any(|f| f.remedy.is_empty()), "{}", done.text());
        let Some((job, _, layout)) = &done.laid else {
            prop_assert!(forbids_print(&done.findings), "nothing laid, nothing said");
            return Ok(());
        };
        let pitch = job.features.iter().find_map(|f| match &f.kind {
            strapwright::job::FeatureKind::HoleRow(row) => Some(row),
            _ => None,
        });
        let row = pitch.expect("a belt has size holes");
        if let Some(piece) = layout.strap() {
            let places: Vec<_> = piece.marks.iter().map(|m| (m.at.x, m.at.y)).collect();
            prop_assert!(places.is_sorted(), "marks lie by x, then y: {places:?}");

            let both = |m: &&Mark| matches!(m.role, MarkRole::Fastener { .. });
            let fasteners: Vec<Length> =
                piece.marks.iter().filter(both).map(|m| m.at.x).collect();
            let mirrored: Vec<Length> = fasteners.iter().rev().map(|x| -*x).collect();
            prop_assert_eq!(fasteners.len(), 4);
            prop_assert_eq!(&fasteners, &mirrored, "fasteners meet over the fold");

            let holes: Vec<Length> =
                piece.marks.iter().filter(|m| m.kind == MarkKind::Hole).map(|m| m.at.x).collect();
            let count = usize::try_from(1 + row.inside.value + row.outside.value)?;
            prop_assert_eq!(holes.len(), count);
            for pair in holes.windows(2) {
                prop_assert_eq!(pair[1] - pair[0], row.pitch.value, "one pitch apart");
            }
            if !forbids_print(&done.findings) {
                for mark in &piece.marks {
                    prop_assert!(piece.extent.holds(mark.x_extent()), "{mark:?} sticks out");
                }
            }
        }
    }

    #[test]
    fn any_text_is_read_without_a_panic(text in any::<String>(), set in any::<String>()) {
        let done = run(&text, &[set]);
        prop_assert!(!done.findings.is_empty(), "noise is no job");
        prop_assert!(!done.text().is_empty());
    }

    #[test]
    fn any_value_of_any_key_is_read_without_a_panic(
        key in word(&[
            "title", "measure", "measure.value", "strap.k", "strap.width", "size-holes.inside",
            "size-holes.from", "blank.punched", "tip.by", "tip.kind", "fittings.count", "x.y.z",
        ]),
        value in prop_oneof![
            any::<String>(),
            "-?[0-9]{1,15}([.,/][0-9]{1,9})? ?(mm|cm|m|in|\"| x strap.width|)",
            "[-+ a-z.0-9\"=\\[\\]{}]{0,30}",
        ],
    ) {
        let done = run("template = \"belt\"", &[format!("{key}={value}")]);
        prop_assert!(done.laid.is_some() || !done.text().is_empty(), "neither strap nor word");
    }
}
