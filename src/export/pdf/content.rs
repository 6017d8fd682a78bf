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

    /// Shows the glyphs of two-byte `codes`, as a literal string (ISO 32000-1:2008, 7.3.4.2):
    /// it takes half the bytes of one in digits.
    pub(super) fn show(&mut self, codes: impl Iterator<Item = u16>) {
        self.0.push(b'(');
        for byte in codes.flat_map(u16::to_be_bytes) {
            match byte {
                b'(' | b')' | b'\\' => self.0.extend_from_slice(&[b'\\', byte]),
                // As it stands it would be read as the end of a line.
                b'\r' => self.0.extend_from_slice(b"\\r"),
                _ => self.0.push(byte),
            }
        }
        self.operator(") Tj");
    }

    /// A number and the space after it, cut to 1/10000 point: 35 nm, as near as 32 bits
    /// would have a coordinate.
    pub(super) fn number(&mut self, value: f64) {
        self.with_places::<4>(value, 1e4);
    }

    /// The same to parts of a picometre.
    pub(super) fn finer(&mut self, value: f64) {
        self.with_places::<8>(value, 1e8);
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no sheet is 2^36 points long, no magnitude is less than zero, and the \
                  digits are below ten"
    )]
    fn with_places<const PLACES: usize>(&mut self, value: f64, parts_a_point: f64) {
        let parts = (libm::fabs(value) * parts_a_point + 0.5) as u64;
        if value < 0.0 && parts > 0 {
            self.0.push(b'-');
        }
        // From the last digit to the first.
        let mut digits = [b'0'; 24];
        let point = digits.len() - PLACES - 1;
        let mut rest = parts;
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
        // Without the zeros at the end, and the point if nothing follows it.
        let mut end = digits.len();
        while end > point && matches!(digits[end - 1], b'0' | b'.') {
            end -= 1;
        }
        if end == first {
            self.0.push(b'0');
        }
        self.0.extend_from_slice(&digits[first..end]);
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

    #[test]
    fn strings_keep_every_byte() {
        let mut content = Content::default();
        content.show([0x0028, 0x295C, 0x0D0A, 0x0141].into_iter());
        assert_eq!(content.0, b"(\0\\(\\)\\\\\\r\n\x01A) Tj\n");
    }
}
