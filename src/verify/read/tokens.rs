//! The words of a content stream or a character map (ISO 32000-1:2008, 7.2 and 7.8.2).

use std::borrow::Cow;

/// Longest string that is read; a sheet's words are a few hundred letters.
const LONGEST_STRING: usize = 1 << 16;

/// One word.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token<'a> {
    Number(f64),
    Name(Cow<'a, [u8]>),
    Text(Cow<'a, [u8]>),
    /// `[` or `<<`.
    Open,
    /// `]` or `>>`.
    Close,
    /// An operator, or `true`, `false`, `null`.
    Word(&'a [u8]),
}

/// Reads word after word; what is no word is passed over.
#[derive(Debug)]
pub(super) struct Tokens<'a> {
    bytes: &'a [u8],
    at: usize,
}

/// How a byte parts words: regular, space or delimiter.
#[derive(Clone, Copy, PartialEq)]
enum Class {
    Regular,
    Space,
    Delimiter,
}

const CLASSES: [Class; 256] = {
    let mut all = [Class::Regular; 256];
    let (spaces, delimiters) = (b"\0\t\n\x0C\r ", b"()<>[]{}/%");
    let mut i = 0;
    while i < spaces.len() {
        all[spaces[i] as usize] = Class::Space;
        i += 1;
    }
    i = 0;
    while i < delimiters.len() {
        all[delimiters[i] as usize] = Class::Delimiter;
        i += 1;
    }
    all
};

fn is_space(byte: u8) -> bool {
    CLASSES[usize::from(byte)] == Class::Space
}

fn is_delimiter(byte: u8) -> bool {
    CLASSES[usize::from(byte)] == Class::Delimiter
}

fn is_regular(byte: u8) -> bool {
    CLASSES[usize::from(byte)] == Class::Regular
}

/// What is no digit.
const NO_DIGIT: u8 = 16;

const DIGITS: [u8; 256] = {
    let mut all = [NO_DIGIT; 256];
    let (upper, lower) = (b"0123456789ABCDEF", b"0123456789abcdef");
    let mut i = 0;
    while i < upper.len() {
        #[expect(clippy::cast_possible_truncation, reason = "below 16")]
        let value = i as u8;
        all[upper[i] as usize] = value;
        all[lower[i] as usize] = value;
        i += 1;
    }
    all
};

fn hex(byte: u8) -> Option<u8> {
    Some(DIGITS[usize::from(byte)]).filter(|digit| *digit != NO_DIGIT)
}

impl<'a> Tokens<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while let Some(byte) = self.peek() {
            if byte == b'%' {
                while self.peek().is_some_and(|b| b != b'\n' && b != b'\r') {
                    self.at += 1;
                }
            } else if is_space(byte) {
                self.at += 1;
            } else {
                break;
            }
        }
    }

    fn regular(&mut self) -> &'a [u8] {
        let rest = &self.bytes[self.at..];
        let long = rest.iter().position(|&b| !is_regular(b)).unwrap_or(rest.len());
        self.at += long;
        &rest[..long]
    }

    /// Past the data of an inline image, which end at an `EI` between spaces.
    pub(super) fn skip_image(&mut self) {
        let rest = &self.bytes[self.at..];
        let end = rest.windows(3).enumerate().position(|(i, w)| {
            let after = rest.get(i + 3).copied();
            is_space(w[0]) && &w[1..] == b"EI" && after.is_none_or(is_space)
        });
        self.at = end.map_or(self.bytes.len(), |i| self.at + i + 3);
    }

    fn name(&mut self) -> Cow<'a, [u8]> {
        let raw = self.regular();
        if !raw.contains(&b'#') {
            return Cow::Borrowed(raw);
        }
        let mut out = Vec::with_capacity(raw.len());
        let mut i = 0;
        while let Some(&byte) = raw.get(i) {
            let pair = raw.get(i + 1).zip(raw.get(i + 2));
            let code = pair.and_then(|(&a, &b)| Some(hex(a)? << 4 | hex(b)?));
            let code = code.filter(|_| byte == b'#');
            out.push(code.unwrap_or(byte));
            i += if code.is_some() { 3 } else { 1 };
        }
        Cow::Owned(out)
    }

    fn hex_string(&mut self) -> Vec<u8> {
        let rest = &self.bytes[self.at..];
        let long = rest.iter().position(|b| *b == b'>').unwrap_or(rest.len());
        self.at = (self.at + long + 1).min(self.bytes.len());
        let mut digits = rest[..long].iter().filter_map(|b| hex(*b));
        let mut out = Vec::with_capacity(long.div_ceil(2).min(LONGEST_STRING));
        while let Some(high) = digits.next() {
            if out.len() == LONGEST_STRING {
                break;
            }
            out.push(high << 4 | digits.next().unwrap_or(0));
        }
        out
    }

    /// A literal string; most stand in the content as they are.
    fn string(&mut self) -> Cow<'a, [u8]> {
        let rest = &self.bytes[self.at..];
        let special = rest.iter().position(|b| matches!(b, b'(' | b')' | b'\\'));
        match special {
            Some(end) if rest[end] == b')' && end <= LONGEST_STRING => {
                self.at += end + 1;
                Cow::Borrowed(&rest[..end])
            }
            _ => Cow::Owned(self.literal_string()),
        }
    }

    fn literal_string(&mut self) -> Vec<u8> {
        let (mut out, mut depth) = (Vec::new(), 1_u32);
        while let Some(byte) = self.peek() {
            self.at += 1;
            let kept = match byte {
                b'(' => {
                    depth += 1;
                    Some(byte)
                }
                b')' => {
                    depth -= 1;
                    if depth == 0 {
                        break;
                    }
                    Some(byte)
                }
                b'\\' => self.escaped(),
                _ => Some(byte),
            };
            if out.len() < LONGEST_STRING {
                out.extend(kept);
            }
        }
        out
    }

    fn escaped(&mut self) -> Option<u8> {
        let byte = self.peek()?;
        self.at += 1;
        match byte {
            b'n' => Some(b'\n'),
            b'r' => Some(b'\r'),
            b't' => Some(b'\t'),
            b'b' => Some(8),
            b'f' => Some(12),
            b'\n' => None,
            b'\r' => {
                self.at += usize::from(self.peek() == Some(b'\n'));
                None
            }
            b'0'..=b'7' => {
                let mut code = u32::from(byte - b'0');
                for _ in 0..2 {
                    let Some(digit @ b'0'..=b'7') = self.peek() else { break };
                    code = code * 8 + u32::from(digit - b'0');
                    self.at += 1;
                }
                u8::try_from(code & 0xFF).ok()
            }
            _ => Some(byte),
        }
    }
}

impl<'a> Iterator for Tokens<'a> {
    type Item = Token<'a>;

    fn next(&mut self) -> Option<Token<'a>> {
        loop {
            self.skip_space();
            let byte = self.peek()?;
            let token = match byte {
                b'0'..=b'9' | b'+' | b'-' | b'.' => {
                    let word = self.regular();
                    number(word).map_or(Token::Word(word), Token::Number)
                }
                b'/' => {
                    self.at += 1;
                    Token::Name(self.name())
                }
                b'(' => {
                    self.at += 1;
                    Token::Text(self.string())
                }
                b'<' | b'>' if self.bytes.get(self.at + 1) == Some(&byte) => {
                    self.at += 2;
                    if byte == b'<' { Token::Open } else { Token::Close }
                }
                b'<' => {
                    self.at += 1;
                    Token::Text(Cow::Owned(self.hex_string()))
                }
                b'[' | b']' => {
                    self.at += 1;
                    if byte == b'[' { Token::Open } else { Token::Close }
                }
                _ if is_delimiter(byte) => {
                    self.at += 1;
                    continue;
                }
                _ => Token::Word(self.regular()),
            };
            return Some(token);
        }
    }
}

/// Digits with an optional sign and point; exact to the last bit for up to 15 digits.
fn number(word: &[u8]) -> Option<f64> {
    const TENS: [f64; 19] = [
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14,
        1e15, 1e16, 1e17, 1e18,
    ];
    let (minus, digits) = match word {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, word),
    };
    let (mut whole, mut places, mut point, mut any) = (0_u64, 0, false, false);
    for &byte in digits {
        match byte {
            b'.' if !point => point = true,
            b'0'..=b'9' => {
                any = true;
                if whole < 100_000_000_000_000_000 {
                    whole = whole * 10 + u64::from(byte - b'0');
                    places += usize::from(point);
                } else if !point {
                    // Larger than anything on paper: the page's bounds refuse it.
                    return Some(f64::INFINITY);
                }
            }
            _ => return None,
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "rounded once, as any number is")]
    let value = whole as f64 / TENS.get(places)?;
    any.then_some(if minus { -value } else { value })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_word_is_read() {
        let text =
            b"1 -.5 +2. 4. % no ( word\n/A#42c (a\\(\\101\\)(b)\\\n) <48 6> [<<>>] Tj\
                     T* ' --1 1.2.3";
        let words: Vec<_> = Tokens::new(text).collect();
        let own = |bytes: &[u8]| Cow::Owned(bytes.to_vec());
        assert_eq!(
            words,
            [
                Token::Number(1.0),
                Token::Number(-0.5),
                Token::Number(2.0),
                Token::Number(4.0),
                Token::Name(own(b"ABc")),
                Token::Text(own(b"a(A)(b)")),
                Token::Text(own(b"H`")),
                Token::Open,
                Token::Open,
                Token::Close,
                Token::Close,
                Token::Word(b"TjT*"),
                Token::Word(b"'"),
                Token::Word(b"--1"),
                Token::Word(b"1.2.3"),
            ]
        );
    }

    #[test]
    fn an_image_is_passed_over() {
        let mut tokens = Tokens::new(b" \x00EI1 EIQ(\nEI Q");
        tokens.skip_image();
        assert_eq!(tokens.collect::<Vec<_>>(), [Token::Word(b"Q")]);
    }

    #[test]
    fn numbers_are_exact() {
        for text in ["841.8898", ".0001", "-123456.789", "595.27560001"] {
            let wanted: f64 = text.parse().expect("a number");
            assert_eq!(number(text.as_bytes()).map(f64::to_bits), Some(wanted.to_bits()));
        }
        assert_eq!(number(b"-"), None);
        assert_eq!(number(b"."), None);
        assert!(number(&[b'9'; 400]).is_some_and(f64::is_infinite));
    }
}
