//! A page's content: operands and, after them, their operator (ISO 32000-1:2008, 7.8.2).

/// The bytes of a page's content so far.
#[derive(Default)]
pub(super) struct Content(pub(super) Vec<u8>);

impl Content {
    /// `operands`, then `operator`.
    pub(super) fn numbers(&mut self, operands: &[f64], operator: &str) {
        for &operand in operands {
            self.number(operand);
        }
        self.operator(operator);
    }

    /// An operator, or anything else that has a line of its own.
    pub(super) fn operator(&mut self, operator: &str) {
        self.0.extend_from_slice(operator.as_bytes());
        self.0.push(b'\n');
    }

    /// Shows the glyphs of two-byte `codes`.
    pub(super) fn show(&mut self, codes: impl Iterator<Item = u16>) {
        const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
        self.0.push(b'<');
        for code in codes {
            let digits = [12, 8, 4, 0].map(|by| DIGITS[usize::from(code >> by & 15)]);
            self.0.extend_from_slice(&digits);
        }
        self.operator("> Tj");
    }

    /// A number and the space after it, cut to 1/10000 point: 35 nm, as near as 32 bits
    /// would have a coordinate.
    pub(super) fn number(&mut self, value: f64) {
        self.with_places(value, 4);
    }

    /// The same to parts of a picometre.
    pub(super) fn finer(&mut self, value: f64) {
        self.with_places(value, 8);
    }

    #[expect(
        clippy::cast_possible_truncation,
        reason = "no sheet is 2^36 points long, and the digits are below ten"
    )]
    fn with_places(&mut self, value: f64, places: u32) {
        let parts = libm::round(value * f64::from(10_u32.pow(places))) as i64;
        if parts < 0 {
            self.0.push(b'-');
        }
        // From the last digit to the first, without the zeros at the end.
        let mut digits = [0; 24];
        let (mut at, mut rest, mut places) = (digits.len(), parts.unsigned_abs(), places);
        while places > 0 || rest > 0 || at == digits.len() {
            let digit = b'0' + (rest % 10) as u8;
            let is_fraction = places > 0;
            if !is_fraction || digit != b'0' || at < digits.len() {
                at -= 1;
                digits[at] = digit;
            }
            rest /= 10;
            places -= u32::from(is_fraction);
            if is_fraction && places == 0 && at < digits.len() {
                at -= 1;
                digits[at] = b'.';
            }
        }
        self.0.extend_from_slice(&digits[at..]);
        self.0.push(b' ');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_as_short_as_can_be() {
        let mut content = Content::default();
        let numbers =
            [0.0, -0.0, 12.0, 100.5, -0.25, 0.000_1, -0.000_04, 841.889_76, 3.070_07];
        content.numbers(&numbers, "x");
        let text = String::from_utf8(content.0).unwrap();
        assert_eq!(text, "0 0 12 100.5 -.25 .0001 0 841.8898 3.0701 x\n");
        let mut content = Content::default();
        content.finer(2.834_645_669_3);
        assert_eq!(content.0, b"2.83464567 ");
    }
}
