//! How long the strip of a keeper is.

use crate::geom::{Length, circumference};

/// The length of a strip of thickness `own`, bent to a loop with its ends butted. It goes
/// round `layers` layers of strap, each `width` wide and `thickness` thick, with `ease` to
/// slide.
///
/// The loop's inner girth is that of the stack, 2 (width + layers · thickness), and the
/// strip's mid-line is π · own longer, as for any convex shape (computed).
pub fn keeper_length(
    width: Length,
    layers: u32,
    thickness: Length,
    own: Length,
    ease: Length,
) -> Length {
    let stack = (width + thickness * i64::from(layers)) * 2;
    stack + circumference(own) + ease
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed: 2 (38.1 + 3 · 3.5) + π · 2 + 1.
    #[test]
    fn a_keeper_goes_round_its_stack() {
        let (width, thickness) = (Length::from_um(38_100), Length::from_um(3_500));
        let (own, ease) = (Length::from_mm(2), Length::from_mm(1));
        let length = keeper_length(width, 3, thickness, own, ease);
        assert_eq!(length, Length::from_nm(103_483_185 + 1_000_000));
    }
}
