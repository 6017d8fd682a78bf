//! The file name of an order.

use std::collections::BTreeMap;

/// The longest name in bytes, without a number and the ending. A file name may have 255
/// bytes, and a path 260 on some systems.
const MAX_LENGTH: usize = 80;

/// Names that Windows keeps for devices, with any ending; the second kind ends in a digit.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
const NUMBERED_DEVICES: [&str; 2] = ["com", "lpt"];

/// The file names of a batch.
#[derive(Clone, Debug, Default)]
pub struct FileNames {
    /// The names in use, each with the next number to try.
    taken: BTreeMap<String, usize>,
}

impl FileNames {
    /// The file name for an order, without an ending: small letters of any script, digits
    /// and single dashes. No two names are equal, also where upper and lower case count as
    /// the same: the second `ash-belt` is `ash-belt-2`.
    pub fn assign(&mut self, order: &str) -> String {
        let name = sanitize(order);
        let mut number = self.taken.get(&fold_case(&name)).copied().unwrap_or(1);
        loop {
            let numbered =
                if number == 1 { name.clone() } else { format!("{name}-{number}") };
            number += 1;
            if !self.taken.contains_key(&fold_case(&numbered)) {
                self.taken.insert(fold_case(&name), number);
                self.taken.entry(fold_case(&numbered)).or_insert(2);
                return numbered;
            }
        }
    }
}

/// A name as file systems compare it that ignore case: `ß` is `SS`, `ſ` is `S`.
fn fold_case(name: &str) -> String {
    name.to_uppercase().to_lowercase()
}

fn sanitize(order: &str) -> String {
    let mut name = String::new();
    // An apostrophe joins: Bosun's is bosuns.
    let letters = order.chars().filter(|c| !['\'', '’'].contains(c));
    for c in letters.flat_map(char::to_lowercase) {
        if name.len() + c.len_utf8() > MAX_LENGTH {
            break;
        }
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    name.truncate(name.trim_end_matches('-').len());
    if name.is_empty() {
        name.push_str("order");
    } else if is_device(&name) {
        name.push_str("-order");
    }
    name
}

/// Whether Windows keeps a name, in small letters, for a device.
pub fn is_device(name: &str) -> bool {
    let without_digit = name.trim_end_matches(|c| "0123456789¹²³".contains(c));
    let is_numbered = name[without_digit.len()..].chars().count() == 1;
    DEVICES.contains(&name) || is_numbered && NUMBERED_DEVICES.contains(&without_digit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stay_in_the_folder_and_apart() {
        let mut names = FileNames::default();
        for (order, name) in [
            ("Bosun's belt", "bosuns-belt"),
            ("BOSUN’S  BELT", "bosuns-belt-2"),
            ("bosuns belt 2", "bosuns-belt-2-2"),
            ("bosuns-belt", "bosuns-belt-3"),
            ("../../etc/passwd", "etc-passwd"),
            ("C:\\temp\\x", "c-temp-x"),
            ("..", "order"),
            ("a\0b", "a-b"),
            ("NUL", "nul-order"),
            ("nul.pdf", "nul-pdf"),
            ("Com1", "com1-order"),
            ("COM²", "com²-order"),
            ("com12", "com12"),
            ("-rf", "rf"),
            (".hidden", "hidden"),
            ("Łukasz Ångström", "łukasz-ångström"),
            ("straße", "straße"),
            ("STRASSE", "strasse-2"),
            ("  ", "order-2"),
        ] {
            assert_eq!(names.assign(order), name, "{order:?}");
        }
        let long = names.assign(&"ö".repeat(300));
        assert!(long.len() <= MAX_LENGTH && long.starts_with('ö'), "{long}");
    }
}
