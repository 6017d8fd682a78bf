//! A page's content: operands and, after them, their operator (ISO 32000-1:2008, 7.8.2).

use crate::export::page::number;

/// The bytes of a page's content so far.
#[derive(Default)]
pub(super) struct ContentStream(pub(super) Vec<u8>);

impl ContentStream {
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

    /// Shows glyphs by their two-byte ids, as a literal string (ISO 32000-1:2008, 7.3.4.2):
    /// it takes half the bytes of one in digits.
    pub(super) fn show(&mut self, ids: impl Iterator<Item = u16>) {
        self.0.push(b'(');
        for byte in ids.flat_map(u16::to_be_bytes) {
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
        number::write::<4>(&mut self.0, value);
        self.0.push(b' ');
    }

    /// The same to parts of a picometre.
    pub(super) fn precise_number(&mut self, value: f64) {
        number::write::<8>(&mut self.0, value);
        self.0.push(b' ');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_keep_every_byte() {
        let mut content = ContentStream::default();
        content.show([0x0028, 0x295C, 0x0D0A, 0x0141].into_iter());
        assert_eq!(content.0, b"(\0\\(\\)\\\\\\r\n\x01A) Tj\n");
    }
}
