//! Printers that are not true, simulated: what they would print of a file is measured as a
//! person does, the printer is calibrated, and what it prints of the drawing made for it,
//! joined by its crosses, has every mark where the layout has it.

mod model;

use crate::common::mm;
use crate::common::random::Random;
use model::{Drawn, READ, STRAPS, Simulated, Spot, Strap, WITHIN};
use std::collections::BTreeSet;
use strapwright::geom::{Length, Ratio};
use strapwright::paginate::Factor;

#[test]
fn a_calibrated_printer_is_true_over_the_joined_strip() {
    let mut random = Random::new(1866);
    let mut ways = BTreeSet::new();
    for strap in STRAPS.map(Strap::new) {
        let length = strap.layout.pieces[0].extent.length();
        assert!(length > Length::from_mm(1_290), "{length}");
        for _ in 0..8 {
            let by = Simulated::random(&mut random);
            let plain = strap.drawn(None);
            let sheet = &plain.set.sheets[0];
            ways.insert(sheet.width > sheet.height);
            let off = plain.worst(by, &strap.layout)[0];
            let lies_long = sheet.width > sheet.height;
            let error = (if lies_long { by.long } else { by.short } - 1.0).abs();
            assert!((off - error * 1_035.0).abs() < error * 250.0 + 0.2, "{by:?}: {off}");

            let readings = plain.readings(by, READ);
            let fine = Length::from_um(50);
            let (printer, skew) = plain.calibrated(&strap, None, &readings, fine);
            let true_ = strap.drawn(Some(&printer));
            let worst = true_.worst(by, &strap.layout);
            assert!(worst.iter().all(|w| *w < WITHIN), "{by:?}: {worst:?} mm off");
            let skew = skew.unwrap().degrees;
            let told = (skew - by.skew.abs().to_degrees()).abs();
            assert!(told < 0.03, "{by:?}: a skew of {skew}°");
            // The bars read true, to what a reading is open by.
            let again = true_.readings(by, 0.001);
            for (bar, said) in
                true_.set.sheets[0].bars.iter().zip([again.wide[0], again.tall[0]])
            {
                let off = mm((bar.to - bar.from).norm() - said);
                assert!(off.abs() < 0.05, "{by:?}: a bar reads {off} mm off");
            }
            let factors = true_.set.correction_on(&true_.set.sheets[0]).unwrap();
            let [width, height] = factors.map(|factor| factor.by);
            let token = format!("W×{width} H×{height}");
            for page in &true_.pages {
                let shown = page.shown.iter().filter(|s| s.text.contains(&token));
                let at: Vec<Spot> = shown.map(|s| s.at).collect();
                let [(x, y)] = at[..] else { unreachable!("{token}: {at:?}") };
                assert!(x > 10.0 && y > page.size.1 - 30.0, "{token} at {x} {y}");
            }
            true_.holes_are_round(by);
        }
    }
    assert_eq!(ways.len(), 2, "both ways round");
}

/// The error belongs to the edges of the sheet: calibrated on sheets that lie one way, the
/// printer is true on sheets that lie the other way, as far as a bar can prove it.
#[test]
fn a_calibration_holds_for_both_ways_round() {
    let mut random = Random::new(1905);
    let [one, other] = STRAPS.map(Strap::new);
    for (read_on, drawn_for) in [(&one, &other), (&other, &one)] {
        for _ in 0..4 {
            let by = Simulated::random(&mut random);
            let plain = read_on.drawn(None);
            let readings = plain.readings(by, READ);
            let reading = Length::from_um(50);
            let (printer, _) = plain.calibrated(read_on, None, &readings, reading);
            let drawn = drawn_for.drawn(Some(&printer));
            let [a, b] = [&plain, &drawn].map(|d| &d.set.sheets[0]);
            assert_ne!(a.width > a.height, b.width > b.height, "the other way round");
            // Half a step of reading on the shorter bar, over 1.2 m.
            let bars = plain.set.sheets[0].bars.iter();
            let shortest = bars.map(|b| mm((b.to - b.from).norm())).fold(1e3, f64::min);
            let open = READ / 2.0 * 1_250.0 / shortest + WITHIN;
            let worst = drawn.worst(by, &drawn_for.layout);
            assert!(worst[0] < open && worst[1] < WITHIN, "{by:?}: {worst:?} of {open}");
        }
    }
}

/// Calibrated roughly, then finely on a print of the first correction: nearly the same as
/// once and finely, since the rough reading weighs next to nothing beside the fine one. What is
/// open on the rough one is 20 times as much on the bars, so that it weighs 1 in 400 there.
#[test]
fn a_fine_reading_outweighs_a_rough_one() {
    let mut random = Random::new(8);
    for strap in STRAPS.map(Strap::new) {
        for _ in 0..4 {
            let by = Simulated::random(&mut random);
            let plain = strap.drawn(None);
            let (fine, coarse) = (Length::from_um(50), Length::from_mm(4));
            let read = |drawn: &Drawn| drawn.readings(by, 0.000_001);
            let (once, _) = plain.calibrated(&strap, None, &read(&plain), fine);
            let readings = plain.readings(by, 1.0);
            let (rough, _) = plain.calibrated(&strap, None, &readings, coarse);
            let second = strap.drawn(Some(&rough));
            let (twice, _) =
                second.calibrated(&strap, Some(&rough), &read(&second), fine);
            let bars = |drawn: &Drawn| drawn.set.sheets[0].bars.clone();
            let pairs = bars(&plain).into_iter().zip(bars(&second));
            let pairs = pairs.map(|(a, b)| (a.length().nm(), b.length().nm()));
            let shorter = pairs.max_by_key(|(a, b)| a * 1_000_000 / b).unwrap();
            for [rough, once, twice] in [
                [rough.correction.long, once.correction.long, twice.correction.long],
                [rough.correction.short, once.correction.short, twice.correction.short],
            ] {
                let off = |a: Ratio| (a.millionths() - once.by.millionths()).abs();
                assert!(
                    off(twice.by) <= off(rough.by) / 20 + 2,
                    "{by:?}: {rough:?} {twice:?}"
                );
                // A corrected sheet may have a shorter bar, which proves less.
                let proven = |f: Factor| f.proven.millionths();
                assert!(
                    proven(twice) * shorter.1 <= proven(once) * shorter.0,
                    "{once:?} {twice:?}"
                );
            }
        }
    }
}
