//! The ticks of a ruler between its numerals.

/// From one tick of a ruler to the next, at most: more lies between two pieces.
const NEXT: f64 = 4.0;
/// From a numeral to the ticks that are counted from it, at most.
const HALF_INCH: f64 = 12.75;

/// Of the ticks of one ruler, at `feet` along it in order, the one that is farthest from a
/// whole `division`, counted from the numeral at `at`, and how far it is. Only ticks that
/// follow each other from there, as far as half an inch.
pub(super) fn worst(feet: &[f64], at: f64, division: f64) -> (f64, f64) {
    let own = feet.partition_point(|x| *x < at);
    let mut worst = (at, 0.0);
    let mut follow = |feet: &mut dyn Iterator<Item = &f64>| {
        let mut last = at;
        for &x in feet {
            if (x - last).abs() > NEXT || (x - at).abs() > HALF_INCH {
                break;
            }
            let parts = (x - at).abs() / division;
            let off = (parts - libm::round(parts)).abs() * division;
            if off > worst.1 {
                worst = (x, off);
            }
            last = x;
        }
    };
    follow(&mut feet[own..].iter());
    follow(&mut feet[..own].iter().rev());
    worst
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ticks at every millimetre but one, and those of another piece.
    #[test]
    fn a_tick_at_no_division_is_found() {
        let mut feet: Vec<f64> = (0..30).map(|i| 100.0 + f64::from(i)).collect();
        feet.extend([135.4, 136.4, 137.4]);
        assert!(worst(&feet, 110.0, 1.0).1 < 1e-9);
        assert!(worst(&feet, 129.0, 1.0).1 < 1e-9, "another ruler begins");
        assert!(worst(&feet, 110.0, 25.4 / 16.0).1 > 0.5, "no divisions of an inch");
        feet[15] += 0.03;
        let (x, off) = worst(&feet, 110.0, 1.0);
        assert!((x - 115.03).abs() < 1e-9 && (off - 0.03).abs() < 1e-9);
    }
}
