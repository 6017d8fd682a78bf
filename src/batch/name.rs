//! From an order's name to the name of its file.

use std::collections::BTreeMap;

/// Longest name, in bytes, without what tells two apart and without the ending: a file's
/// whole name may have 255 bytes, and a whole path 260 on some machines.
const LONGEST: usize = 80;

/// Names that Windows keeps for devices, whatever they end in; and those with a digit.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
const NUMBERED: [&str; 2] = ["com", "lpt"];

/// The names that are given already.
#[derive(Clone, Debug, Default)]
pub struct Names {
    /// Each with the next number to try when it comes again.
    taken: BTreeMap<String, usize>,
}

impl Names {
    /// A name for the files of an order: small letters, digits and single dashes, in any
    /// script, so that it stays in its folder and says the same on every machine. No two
    /// are equal, whatever case they are read in: the second `ash-belt` is `ash-belt-2`.
    pub fn give(&mut self, order: &str) -> String {
        let name = safe(order);
        let mut number = self.taken.get(&folded(&name)).copied().unwrap_or(1);
        loop {
            let numbered =
                if number == 1 { name.clone() } else { format!("{name}-{number}") };
            number += 1;
            if !self.taken.contains_key(&folded(&numbered)) {
                self.taken.insert(folded(&name), number);
                self.taken.entry(folded(&numbered)).or_insert(2);
                return numbered;
            }
        }
    }
}

/// As file systems compare names that tell no case: `ß` is `SS`, `ſ` is `S`.
fn folded(name: &str) -> String {
    name.to_uppercase().to_lowercase()
}

fn safe(order: &str) -> String {
    let mut name = String::new();
    // An apostrophe joins: Bosun's is bosuns.
    let letters = order.chars().filter(|c| !['\'', '’'].contains(c));
    for c in letters.flat_map(char::to_lowercase) {
        if name.len() + c.len_utf8() > LONGEST {
            break;
        }
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    name.truncate(name.trim_end_matches('-').len());
    let without_digit = name.trim_end_matches(|c| "0123456789¹²³".contains(c));
    let numbered = name[without_digit.len()..].chars().count() == 1;
    if name.is_empty() {
        name.push_str("order");
    } else if DEVICES.contains(&name.as_str())
        || numbered && NUMBERED.contains(&without_digit)
    {
        name.push_str("-order");
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stay_in_the_folder_and_apart() {
        let mut names = Names::default();
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
            assert_eq!(names.give(order), name, "{order:?}");
        }
        let long = names.give(&"ö".repeat(300));
        assert!(long.len() <= LONGEST && long.starts_with('ö'), "{long}");
    }
}
