//! Sound samples made unsound: spliced, garbled and cut, the same way for the same number.

use crate::common::random::Random;

/// The numbers of one case of a target.
pub(crate) fn seeded(target: &str, number: u64) -> Random {
    let fold =
        |hash: u64, byte: u8| (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3);
    Random::new(target.bytes().fold(0xcbf2_9ce4_8422_2325, fold) ^ number)
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
fn digits(random: &mut Random) -> String {
    let length = random.below(22) + 1;
    (0..length)
        .map(|_| char::from(b'0' + u8::try_from(random.below(10)).unwrap()))
        .collect()
}

/// One of the samples, changed in a few places of lines, words and bytes. `words` are what
/// the language is made of.
pub(crate) fn text(random: &mut Random, samples: &[String], words: &[&str]) -> Vec<u8> {
    if random.one_in(40) {
        return random.bytes(300);
    }
    let mut lines: Vec<String> =
        random.pick(samples).lines().map(ToOwned::to_owned).collect();
    if lines.is_empty() {
        lines.push(String::new());
    }
    // Other numbers, or few changes, keep most of the meaning and get far into the program.
    let (gentle, most) = (random.one_in(2), *random.pick(&[1, 2, 4, 30]));
    for _ in 0..=random.below(most) {
        let at = random.below(lines.len());
        if gentle {
            lines[at] = near(random, &lines[at]);
            continue;
        }
        match random.below(9) {
            0 => lines.insert(at, other_line(random, samples)),
            1 if lines.len() > 1 => {
                lines.remove(at);
            }
            2 => {
                let end = (at + random.below(12) + 1).min(lines.len());
                let part = lines[at..end].to_vec();
                let to = random.below(lines.len());
                lines.splice(to..to, part);
            }
            3 => {
                let other = random.below(lines.len());
                lines.swap(at, other);
            }
            4 => {
                // The key of one line, the value of another.
                let other = other_line(random, samples);
                let value = other.split_once('=').map_or("", |(_, v)| v).to_owned();
                let key = lines[at].split_once('=').map_or("", |(k, _)| k).to_owned();
                lines[at] = format!("{key}={value}");
            }
            5 | 6 => {
                let with = if random.one_in(3) {
                    digits(random)
                } else {
                    (*random.pick(EDGES)).into()
                };
                lines[at] = replaced(random, &lines[at], &with);
            }
            7 => {
                let word = *random.pick(words);
                lines[at] = replaced(random, &lines[at], word);
            }
            _ => {
                let times = random.below(200);
                let part = replaced(random, &lines[at], "");
                lines[at] =
                    lines[at].clone() + &part.repeat(times / (part.len() / 8 + 1));
            }
        }
    }
    let mut bytes = lines.join("\n").into_bytes();
    if random.one_in(6) {
        noise(random, &mut bytes);
    }
    bytes.truncate(1 << 17);
    bytes
}

fn other_line(random: &mut Random, samples: &[String]) -> String {
    let all: Vec<&str> = random.pick(samples).lines().collect();
    if all.is_empty() { String::new() } else { (*random.pick(&all)).to_owned() }
}

/// A line with one of its whole numbers a little larger or smaller, up to twice as large.
fn near(random: &mut Random, line: &str) -> String {
    let with = |number: &str| number.parse().ok().filter(|n: &usize| *n < 1 << 40);
    let words: Vec<&str> = line.split(|c: char| !c.is_ascii_digit()).collect();
    let numbers: Vec<(&str, usize)> =
        words.into_iter().filter_map(|w| Some((w, with(w)?))).collect();
    if numbers.is_empty() {
        return line.to_owned();
    }
    let (word, number) = *random.pick(&numbers);
    let other = if random.one_in(2) {
        number + random.below(3)
    } else {
        random.below(number * 2 + 2)
    };
    line.replacen(word, &other.to_string(), 1)
}

/// A line with one of its words or numbers in the place of `with`.
fn replaced(random: &mut Random, line: &str, with: &str) -> String {
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
    let (from, to) = *random.pick(&words);
    format!("{}{with}{}", &line[..from], &line[to..])
}

/// Bytes flipped, cut out, put in and cut off.
pub(crate) fn noise(random: &mut Random, bytes: &mut Vec<u8>) {
    for _ in 0..=random.below(8) {
        if bytes.is_empty() {
            return;
        }
        let at = random.below(bytes.len());
        let end = (at + random.below(40)).min(bytes.len());
        match random.below(6) {
            0 => bytes[at] ^= 1 << random.below(8),
            1 => bytes[at] = random.next().to_le_bytes()[0],
            2 => drop(bytes.drain(at..end)),
            3 => {
                let more = random.bytes(20);
                bytes.splice(at..at, more);
            }
            4 => {
                let part = bytes[at..end].to_vec();
                let to = random.below(bytes.len());
                bytes.splice(to..to, part);
            }
            _ if random.one_in(4) => bytes.truncate(at),
            _ => {
                let edge = random.pick(EDGES).bytes().collect::<Vec<u8>>();
                bytes.splice(at..at, edge);
            }
        }
    }
}
