//! How long a keeper is.

use crate::geom::{Length, circumference};

/// A strip of thickness `own` bent to a loop, ends butted, round `layers` layers of strap,
/// each `width` wide and `thickness` thick, with `ease` to slide.
///
/// The loop's inner girth is that of the stack, 2 (width + layers · thickness), and the
/// strip's mid-line is π · own longer, as for any convex shape. Computed; for 38.1 mm,
/// three layers of 3.5 mm and a strip of 2 mm it is 97.2 + 6.283 = 103.483 mm.
pub fn keeper(
    width: Length,
    layers: u32,
    thickness: Length,
    own: Length,
    ease: Length,
) -> Length {
    stack(width, layers, thickness) + circumference(own) + ease
}

/// How much ease a keeper of `length` leaves round that stack: the inverse of [`keeper`].
pub fn keeper_ease(
    length: Length,
    width: Length,
    layers: u32,
    thickness: Length,
    own: Length,
) -> Length {
    length - stack(width, layers, thickness) - circumference(own)
}

fn stack(width: Length, layers: u32, thickness: Length) -> Length {
    (width + thickness * i64::from(layers)) * 2
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed: 2 (38.1 + 3 · 3.5) + π · 2.
    #[test]
    fn a_keeper_goes_round_its_stack() {
        let (w, t, own) =
            (Length::from_um(38_100), Length::from_um(3_500), Length::from_mm(2));
        let length = keeper(w, 3, t, own, Length::from_mm(1));
        assert_eq!(length, Length::from_nm(103_483_185 + 1_000_000));
        assert_eq!(keeper_ease(length, w, 3, t, own), Length::from_mm(1));
    }
}
