//! Numbers as files have them: decimal, without exponents, as short as can be.

/// Writes `value`, rounded to `PLACES` decimals, without zeros at its end.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "no page is 2^36 units long, no magnitude is less than zero, and the digits are \
              below ten"
)]
pub(in crate::export) fn write<const PLACES: usize>(to: &mut Vec<u8>, value: f64) {
    let unit = (0..PLACES).fold(1.0, |unit, _| unit * 10.0);
    let units = (libm::fabs(value) * unit + 0.5) as u64;
    if value < 0.0 && units > 0 {
        to.push(b'-');
    }
    // From the last digit to the first.
    let mut digits = [b'0'; 24];
    let point = digits.len() - PLACES - 1;
    let mut rest = units;
    for digit in digits[point + 1..].iter_mut().rev() {
        *digit += (rest % 10) as u8;
        rest /= 10;
    }
    digits[point] = b'.';
    let mut first = point;
    while rest > 0 {
        first -= 1;
        digits[first] += (rest % 10) as u8;
        rest /= 10;
    }
    let mut end = digits.len();
    while end > point && matches!(digits[end - 1], b'0' | b'.') {
        end -= 1;
    }
    if end == first {
        to.push(b'0');
    }
    to.extend_from_slice(&digits[first..end]);
}

/// The same as a text.
pub(in crate::export) fn text<const PLACES: usize>(value: f64) -> String {
    let mut bytes = Vec::new();
    write::<PLACES>(&mut bytes, value);
    bytes.into_iter().map(char::from).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn numbers_are_as_short_as_can_be() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (12.0, "12"),
            (100.5, "100.5"),
            (-0.25, "-.25"),
            (0.000_1, ".0001"),
            (-0.000_04, "0"),
            (841.889_76, "841.8898"),
            (3.070_07, "3.0701"),
        ] {
            assert_eq!(super::text::<4>(value), text);
        }
        assert_eq!(super::text::<8>(2.834_645_669_3), "2.83464567");
    }
}
