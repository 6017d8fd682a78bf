//! Which length a hole serves, on a strap that closes round nobody.

use crate::geom::Length;
use crate::job::Serves;

/// The length that a hole at `x` serves: `offset` + `per` · x.
///
/// A strap that lies single from its one end to the hole grows by as much as the hole is
/// further along, so `per` is 1; where the strap goes round a ring and comes back beside
/// itself, it grows by half of that.
pub fn served(serves: &Serves, x: Length) -> Length {
    serves.offset.value + serves.per.value.of(x)
}

/// Where a hole lies that serves `length`: the inverse of [`served`]. `None` where every
/// hole serves the same.
pub fn x_for(serves: &Serves, length: Length) -> Option<Length> {
    let per = serves.per.value.millionths();
    (per > 0).then(|| (length - serves.offset.value).times(1_000_000, per))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Ratio;
    use crate::job::{FeatureId, Spanned};

    #[test]
    fn a_hole_serves_what_it_was_placed_for() {
        for per in [1_000_000, 500_000, 333_333] {
            let serves = Serves {
                what: Spanned::default(),
                holes: Spanned { value: FeatureId(0), span: None },
                offset: Spanned { value: Length::from_mm(-73), span: None },
                per: Spanned { value: Ratio::from_millionths(per), span: None },
            };
            let wanted = Length::from_mm(1_100);
            let x = x_for(&serves, wanted).unwrap();
            assert!((served(&serves, x) - wanted).abs() <= Length::from_nm(1), "{per}");
        }
    }
}
