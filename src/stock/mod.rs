//! The register of named size ranges: published ones, each with its source.

use crate::geom::Length;

/// What the sizes of a range measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeBasis {
    /// The waist, by tape.
    Body,
    /// A belt: from the bend to the hole of the size.
    Belt,
}

/// How the sizes of a range follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sizes {
    /// Letters, each with its length in micrometres.
    Letters(&'static [(&'static str, i64)]),
    /// Whole inches: the first, the last and the step between two.
    Inches(i64, i64, i64),
}

/// A range of sizes that has a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range {
    /// The word that `stock.sizes` takes.
    pub name: &'static str,
    /// What it measures.
    pub basis: SizeBasis,
    /// The standard that defines it.
    pub source: &'static str,
    sizes: Sizes,
}

/// All ranges.
///
/// EN 13402-3 gives each letter a span of waist girths; here it has the middle of that span.
/// The two specifications list belt sizes in 1.2. That a size is measured from the bend to
/// its hole is common practice, no source.
pub const REGISTER: &[Range] = &[
    Range {
        name: "belts-24-48",
        basis: SizeBasis::Belt,
        source: "MIL-B-83475 (1976), 1.2: 24 to 48 in by 2, 13 sizes",
        sizes: Sizes::Inches(24, 48, 2),
    },
    Range {
        name: "belts-28-46",
        basis: SizeBasis::Belt,
        source: "MIL-B-1462F (1988), 1.2: 28 to 46 in, every inch, 19 sizes",
        sizes: Sizes::Inches(28, 46, 1),
    },
    Range {
        name: "letters-men",
        basis: SizeBasis::Body,
        source: "EN 13402-3, men's waist, middle of each letter's span",
        sizes: Sizes::Letters(&[
            ("XS", 700_000),
            ("S", 780_000),
            ("M", 860_000),
            ("L", 940_000),
            ("XL", 1_020_000),
            ("XXL", 1_115_000),
        ]),
    },
    Range {
        name: "letters-women",
        basis: SizeBasis::Body,
        source: "EN 13402-3, women's waist, middle of each letter's span",
        sizes: Sizes::Letters(&[
            ("XS", 620_000),
            ("S", 700_000),
            ("M", 780_000),
            ("L", 865_000),
            ("XL", 970_000),
            ("XXL", 1_090_000),
        ]),
    },
];

/// The range of that name.
pub fn find(name: &str) -> Option<&'static Range> {
    REGISTER.iter().find(|r| r.name == name)
}

impl Range {
    /// Label and length of every size, from the smallest.
    pub fn sizes(&self) -> Vec<(String, Length)> {
        match self.sizes {
            Sizes::Letters(all) => all
                .iter()
                .map(|(l, um)| ((*l).to_owned(), Length::from_um(*um)))
                .collect(),
            Sizes::Inches(first, last, step) => (0..=(last - first) / step)
                .map(|n| Length::from_inches(first + n * step))
                .map(|length| (length.tape().to_string(), length))
                .collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// MIL-B-1462F (1988), 1.2, and MIL-B-83475 (1976), 1.2.
    #[test]
    fn belts_run_by_inches() {
        for (name, count, first, second, last) in [
            ("belts-28-46", 19, "28 in", "29 in", "46 in"),
            ("belts-24-48", 13, "24 in", "26 in", "48 in"),
        ] {
            let range = find(name).unwrap();
            let sizes = range.sizes();
            assert_eq!((range.basis, sizes.len()), (SizeBasis::Belt, count), "{name}");
            let label = |i: usize| sizes[i].0.as_str();
            assert_eq!((label(0), label(1)), (first, second), "{name}");
            assert_eq!(label(count - 1), last, "{name}");
            for (label, length) in &sizes {
                assert_eq!(Length::parse(label), Ok(*length), "{name}");
            }
        }
    }

    /// EN 13402-3, waist in cm: men 70, 78, 86, 94, 102, 111.5; women 62, 70, 78, 86.5,
    /// 97, 109.
    #[test]
    fn letters_are_waists() {
        let letters = ["XS", "S", "M", "L", "XL", "XXL"];
        for (name, cm) in [
            ("letters-men", ["70", "78", "86", "94", "102", "111.5"]),
            ("letters-women", ["62", "70", "78", "86.5", "97", "109"]),
        ] {
            let range = find(name).unwrap();
            assert_eq!(range.basis, SizeBasis::Body, "{name}");
            let published: Vec<(String, Length)> = letters
                .iter()
                .zip(cm)
                .map(|(l, cm)| {
                    ((*l).to_owned(), Length::parse(&format!("{cm} cm")).unwrap())
                })
                .collect();
            assert_eq!(range.sizes(), published, "{name}");
        }
    }

    #[test]
    fn every_range_is_named_where_people_look() {
        assert!(REGISTER.is_sorted_by(|a, b| a.name < b.name));
        let belt = crate::template::find("belt").unwrap();
        let topic = include_str!(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/src/guide/stock-sizes.md"
        ));
        for range in REGISTER {
            let name = range.name;
            let standard = range.source.split([',', ' ']).next().unwrap_or_default();
            let keys = crate::template::about_chain(&[belt.text]).keys;
            let stock = keys.iter().find(|k| k.name == "stock.sizes").unwrap();
            assert!(stock.what.contains(name), "name {name} at stock.sizes in belt.toml");
            assert!(topic.contains(name), "name {name} in stock-sizes.md");
            assert!(topic.contains(standard), "name {standard} in stock-sizes.md");
        }
    }
}
