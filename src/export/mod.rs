//! From a finished set to files: one file a format, and a register of them.
//!
//! Here lengths become floats, and each only once, from its exact value.

pub mod cuts_csv;
pub mod marks_csv;
pub mod pdf;

use std::borrow::Cow;
use std::fmt;

/// One format that can be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Format {
    /// What a person calls it.
    pub name: &'static str,
    /// What its files end in, without the dot.
    pub extension: &'static str,
    /// What it is good for, in a line.
    pub about: &'static str,
    /// The module below `src/export` that writes it.
    pub module: &'static str,
}

/// All formats, by name.
pub const FORMATS: [Format; 3] = [
    Format {
        name: "csv",
        extension: "csv",
        about: "the table of marks, one row a mark, in strap coordinates",
        module: "marks_csv",
    },
    Format {
        name: "cuts",
        extension: "csv",
        about: "the cutting plan, one row a piece, offcut or whole strip",
        module: "cuts_csv",
    },
    Format {
        name: "pdf",
        extension: "pdf",
        about: "the sheets at full scale, with layers, for printer and screen",
        module: "pdf",
    },
];

/// What a spreadsheet takes for the beginning of a formula, in full width too (OWASP, "CSV
/// Injection").
const FORMULA: [char; 11] =
    ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// A text of somebody's own as a cell of a table: with an apostrophe before what a spreadsheet
/// would compute, since an order may come from anybody. Numbers of ours are no such texts.
pub fn cell(text: &str) -> Cow<'_, str> {
    if text.starts_with(FORMULA) { format!("'{text}").into() } else { text.into() }
}

/// Why a file could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ExportError {
    /// The set has no sheet, and a file without a page is none.
    NoSheets,
    /// Letters that the face lacks; they would be blank on paper.
    Letters(Vec<char>),
    /// The carried face could not be cut down; says why.
    Face(String),
    /// The bytes could not be put together; says why.
    Write(String),
    /// A file says nothing of the print that it is; says why.
    NoImprint(String),
}

impl fmt::Display for ExportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSheets => f.write_str("there is no sheet to draw"),
            Self::Letters(letters) => {
                f.write_str("the sheets' face lacks")?;
                for (i, letter) in letters.iter().enumerate() {
                    let code = u32::from(*letter);
                    let comma = if i == 0 { "" } else { "," };
                    let shown = if letter.is_control() { ' ' } else { *letter };
                    write!(f, "{comma} `{shown}` (U+{code:04X})")?;
                }
                f.write_str("; write the words in Latin, Greek or Cyrillic letters")
            }
            Self::Face(why) => write!(f, "the sheets' face cannot be embedded: {why}"),
            Self::NoImprint(why) => {
                write!(f, "the file does not say which print it is: {why}")
            }
            Self::Write(why) => write!(f, "the file cannot be put together: {why}"),
        }
    }
}

impl std::error::Error for ExportError {}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::fs;

    #[test]
    fn every_format_in_the_folder_is_registered() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/export");
        let files: BTreeSet<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .map(|name| name.trim_end_matches(".rs").to_owned())
            .filter(|name| name != "mod")
            .collect();
        let listed: BTreeSet<String> =
            FORMATS.iter().map(|format| format.module.to_owned()).collect();
        assert_eq!(
            files, listed,
            "src/export and FORMATS differ: give each module of src/export one entry in \
             FORMATS (src/export/mod.rs), and take out entries whose module is gone"
        );
    }

    #[test]
    fn formats_are_in_order_and_told_apart() {
        assert!(FORMATS.is_sorted_by(|a, b| a.name < b.name));
        for format in FORMATS {
            assert!(!format.about.is_empty() && !format.extension.contains('.'));
        }
    }

    #[test]
    fn a_cell_is_no_formula() {
        for text in ["=1+1", "+49 30", "-x", "@SUM(A1)", "\t=1", "＝1", "-"] {
            assert_eq!(cell(text), format!("'{text}"));
        }
        for text in ["", "Nine Lamps 1", "'=1", "a=b", "Łukasz", " -", "9-5"] {
            assert_eq!(cell(text), text);
        }
    }

    #[test]
    fn letters_are_named() {
        let message = ExportError::Letters(vec!['漢', '\n']).to_string();
        assert!(message.contains("`漢` (U+6F22), ` ` (U+000A);"), "{message}");
    }
}
