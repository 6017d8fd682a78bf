//! Sound samples made unsound: spliced, garbled and cut, the same way for the same number.

/// Numbers that look like chance (`SplitMix64`, Steele, Lea and Flood 2014, from memory).
#[derive(Clone, Debug)]
pub(crate) struct Rng(u64);

impl Rng {
    /// The numbers of one case of a target.
    pub(crate) fn new(target: &str, number: u64) -> Self {
        let fold =
            |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3);
        let mut rng = Self(target.bytes().fold(0xcbf2_9ce4_8422_2325, fold) ^ number);
        rng.next();
        rng
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `most`; zero where there is none.
    pub(crate) fn below(&mut self, most: usize) -> usize {
        let most = u64::try_from(most).unwrap().max(1);
        usize::try_from(self.next() % most).unwrap()
    }

    /// Whether it is one of `n` cases.
    pub(crate) fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    pub(crate) fn pick<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    pub(crate) fn bytes(&mut self, most: usize) -> Vec<u8> {
        (0..self.below(most)).map(|_| self.next().to_le_bytes()[0]).collect()
    }
}

/// Numbers and words at which things break.
const EDGES: &[&str] = &[
    "0",
    "-0",
    "1",
    "-1",
    "2",
    "9",
    "255",
    "256",
    "1000",
    "1001",
    "65536",
    "1000000",
    "2147483648",
    "4294967296",
    "9223372036854775807",
    "-9223372036854775808",
    "18446744073709551616",
    "1e308",
    "-1e-308",
    "nan",
    "inf",
    "0.000001",
    "999999.999999",
    "",
    " ",
    "\"",
    "'",
    "\"\"\"",
    "[",
    "]",
    "[[",
    "{",
    "}",
    "=",
    ".",
    ",",
    ";",
    "\n",
    "\r",
    "\t",
    "\0",
    "#",
    "\\",
    "\u{feff}",
    "½",
    "é",
    "e\u{301}",
    "😀",
    "\u{202e}",
    "\u{2028}",
];

/// A number as digits, of any size.
fn digits(rng: &mut Rng) -> String {
    let length = rng.below(22) + 1;
    (0..length).map(|_| char::from(b'0' + u8::try_from(rng.below(10)).unwrap())).collect()
}

/// One of the samples, changed in a few places of lines, words and bytes. `words` are what
/// the language is made of.
pub(crate) fn text(rng: &mut Rng, samples: &[String], words: &[&str]) -> Vec<u8> {
    if rng.one_in(40) {
        return rng.bytes(300);
    }
    let mut lines: Vec<String> =
        rng.pick(samples).lines().map(ToOwned::to_owned).collect();
    if lines.is_empty() {
        lines.push(String::new());
    }
    // Other numbers, or few changes, keep most of the meaning and get far into the program.
    let (gentle, most) = (rng.one_in(2), *rng.pick(&[1, 2, 4, 30]));
    for _ in 0..=rng.below(most) {
        let at = rng.below(lines.len());
        if gentle {
            lines[at] = near(rng, &lines[at]);
            continue;
        }
        match rng.below(9) {
            0 => lines.insert(at, other_line(rng, samples)),
            1 if lines.len() > 1 => {
                lines.remove(at);
            }
            2 => {
                let end = (at + rng.below(12) + 1).min(lines.len());
                let part = lines[at..end].to_vec();
                let to = rng.below(lines.len());
                lines.splice(to..to, part);
            }
            3 => {
                let other = rng.below(lines.len());
                lines.swap(at, other);
            }
            4 => {
                // The key of one line, the value of another.
                let other = other_line(rng, samples);
                let value = other.split_once('=').map_or("", |(_, v)| v).to_owned();
                let key = lines[at].split_once('=').map_or("", |(k, _)| k).to_owned();
                lines[at] = format!("{key}={value}");
            }
            5 | 6 => {
                let with =
                    if rng.one_in(3) { digits(rng) } else { (*rng.pick(EDGES)).into() };
                lines[at] = replaced(rng, &lines[at], &with);
            }
            7 => {
                let word = *rng.pick(words);
                lines[at] = replaced(rng, &lines[at], word);
            }
            _ => {
                let times = rng.below(200);
                let part = replaced(rng, &lines[at], "");
                lines[at] =
                    lines[at].clone() + &part.repeat(times / (part.len() / 8 + 1));
            }
        }
    }
    let mut bytes = lines.join("\n").into_bytes();
    if rng.one_in(6) {
        noise(rng, &mut bytes);
    }
    bytes.truncate(1 << 17);
    bytes
}

fn other_line(rng: &mut Rng, samples: &[String]) -> String {
    let all: Vec<&str> = rng.pick(samples).lines().collect();
    if all.is_empty() { String::new() } else { (*rng.pick(&all)).to_owned() }
}

/// A line with one of its whole numbers a little larger or smaller, up to twice as large.
fn near(rng: &mut Rng, line: &str) -> String {
    let with = |number: &str| number.parse().ok().filter(|n: &usize| *n < 1 << 40);
    let words: Vec<&str> = line.split(|c: char| !c.is_ascii_digit()).collect();
    let numbers: Vec<(&str, usize)> =
        words.into_iter().filter_map(|w| Some((w, with(w)?))).collect();
    if numbers.is_empty() {
        return line.to_owned();
    }
    let (word, number) = *rng.pick(&numbers);
    let other =
        if rng.one_in(2) { number + rng.below(3) } else { rng.below(number * 2 + 2) };
    line.replacen(word, &other.to_string(), 1)
}

/// A line with one of its words or numbers in the place of `with`.
fn replaced(rng: &mut Rng, line: &str, with: &str) -> String {
    let is_word = |c: char| c.is_alphanumeric() || c == '-' || c == '.';
    let mut words: Vec<(usize, usize)> = Vec::new();
    for (i, c) in line.char_indices() {
        match words.last_mut() {
            Some((_, end)) if is_word(c) && *end == i => *end += c.len_utf8(),
            _ if is_word(c) => words.push((i, i + c.len_utf8())),
            _ => {}
        }
    }
    if words.is_empty() {
        return format!("{line}{with}");
    }
    let (from, to) = *rng.pick(&words);
    format!("{}{with}{}", &line[..from], &line[to..])
}

/// Bytes flipped, cut out, put in and cut off.
pub(crate) fn noise(rng: &mut Rng, bytes: &mut Vec<u8>) {
    for _ in 0..=rng.below(8) {
        if bytes.is_empty() {
            return;
        }
        let at = rng.below(bytes.len());
        let end = (at + rng.below(40)).min(bytes.len());
        match rng.below(6) {
            0 => bytes[at] ^= 1 << rng.below(8),
            1 => bytes[at] = rng.next().to_le_bytes()[0],
            2 => drop(bytes.drain(at..end)),
            3 => {
                let more = rng.bytes(20);
                bytes.splice(at..at, more);
            }
            4 => {
                let part = bytes[at..end].to_vec();
                let to = rng.below(bytes.len());
                bytes.splice(to..to, part);
            }
            _ if rng.one_in(4) => bytes.truncate(at),
            _ => {
                let edge = rng.pick(EDGES).bytes().collect::<Vec<u8>>();
                bytes.splice(at..at, edge);
            }
        }
    }
}
