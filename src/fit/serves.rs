//! Which length a hole serves, on a strap that closes round nobody.

use super::Fit;
use crate::geom::Length;
use crate::job::Serves;

/// The length that a hole at `x` serves: `offset` + `per` · x. Where no offset is said, it is
/// the girth that follows from the fit.
///
/// A strap that lies single from its one end to the hole grows by as much as the hole is
/// further along, so `per` is 1. Where the strap goes round a ring and comes back beside
/// itself, it grows by half of that.
pub fn served_length(serves: &Serves, fit: Option<&Fit>, x: Length) -> Length {
    match (&serves.offset, fit) {
        (None, Some(fit)) => fit.girth_at(x),
        (offset, _) => {
            let offset = offset.as_ref().map_or(Length::ZERO, |o| o.value);
            offset + serves.per.value.times(x)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Ratio;
    use crate::job::{FeatureId, Spanned};

    /// Computed: -73 + per · 1173 mm.
    #[test]
    fn a_hole_serves_its_offset_and_its_part_of_x() {
        for (per, served_nm) in
            [(1_000_000, 1_100_000_000), (500_000, 513_500_000), (333_333, 317_999_609)]
        {
            let serves = Serves {
                what: Spanned::default(),
                holes: Spanned { value: FeatureId(0), span: None },
                offset: Some(Spanned { value: Length::from_mm(-73), span: None }),
                least: None,
                most: None,
                per: Spanned { value: Ratio::from_millionths(per), span: None },
            };
            let length = served_length(&serves, None, Length::from_mm(1_173));
            assert_eq!(length, Length::from_nm(served_nm), "{per}");
        }
    }
}
