//! From a finished set to files: a module for each format, and the register of them.
//!
//! Here lengths become floats, each once, from its exact value, and here the printer's
//! correction is applied, once.

pub mod cuts_csv;
pub mod dxf;
pub mod marks_csv;
mod page;
pub mod pdf;
#[cfg(feature = "ink")]
pub mod png;
mod seal;
pub mod svg;

pub use seal::Seal;
#[cfg(feature = "cli")]
pub(crate) use seal::hex;

use crate::diagnostic::{shown, shown_path};
use crate::paginate::SheetSet;
use std::borrow::Cow;
use std::fmt;
use std::path::Path;

/// One format that can be written.
#[derive(Clone, Copy, Debug)]
pub struct Format {
    /// What a person calls it.
    pub name: &'static str,
    /// What its files end in, without the dot.
    pub extension: &'static str,
    /// What it is good for, in a line.
    pub about: &'static str,
    /// Whether its files hold the ticket too.
    pub has_ticket: bool,
    /// What it writes.
    pub writes: Writes,
    /// How its files carry the digest by which they are known again.
    pub seal: Seal,
}

/// The bytes of each file of a print.
pub type Files = Result<Vec<Vec<u8>>, ExportError>;

/// What a format writes, and how.
#[derive(Clone, Copy, Debug)]
pub enum Writes {
    /// All sheets in one file.
    OneFile(fn(&SheetSet) -> Result<Vec<u8>, ExportError>),
    /// A file for each sheet, in order.
    FilePerSheet(fn(&SheetSet) -> Files),
    /// The whole strap in one file, or the sheets where that was asked for.
    Strap {
        /// From a set whose one sheet has the whole strap.
        strap: fn(&SheetSet) -> Result<Vec<u8>, ExportError>,
        /// A file for each sheet; `None` for a format of whole straps alone.
        sheets: Option<fn(&SheetSet) -> Files>,
    },
    /// A picture for each sheet, from the finished PDF.
    Preview {
        /// From the bytes of the PDF, at so many pixels an inch.
        draw: fn(&[u8], u16) -> Files,
        /// Pixels an inch.
        dpi: u16,
    },
}

/// The format that is printed, and that `verify` reads.
pub const PDF: Format = Format {
    name: "pdf",
    extension: "pdf",
    about: "ticket and sheets in one file, to print",
    has_ticket: true,
    writes: Writes::OneFile(pdf::pdf),
    // A comment before the end; no place in the file is counted from there.
    seal: Seal {
        before: b"startxref",
        remark: |words| format!("% {words}\n").into_bytes(),
    },
};

/// All formats that draw, by name. `draw -o FILE` takes them by the file's ending.
pub const FORMATS: &[Format] = &[
    Format {
        name: "dxf",
        extension: "dxf",
        about: "the whole strap in one file (R12, mm), for a cutter or a drawing program",
        has_ticket: false,
        writes: Writes::Strap { strap: dxf::dxf, sheets: None },
        seal: Seal {
            before: b"0\nEOF",
            remark: |words| format!("999\n{words}\n").into_bytes(),
        },
    },
    PDF,
    #[cfg(feature = "ink")]
    Format {
        name: "png",
        extension: "png",
        about: "one picture a sheet, to look at",
        has_ticket: false,
        writes: Writes::Preview { draw: png::png, dpi: 100 },
        seal: Seal { before: b"\0\0\0\0IEND", remark: png::remark },
    },
    Format {
        name: "svg",
        extension: "svg",
        about: "the whole strap in one file, to look at or for a cutter",
        has_ticket: false,
        writes: Writes::Strap { strap: svg::whole, sheets: Some(svg::svg) },
        seal: Seal {
            before: b"</svg>",
            remark: |words| format!("<metadata>{words}</metadata>\n").into_bytes(),
        },
    },
];

impl Format {
    /// The format of that name.
    ///
    /// # Errors
    /// Says which there are, when there is none.
    pub fn named(name: &str) -> Result<Self, String> {
        let names: Vec<&str> = FORMATS.iter().map(|f| f.name).collect();
        let found = FORMATS.iter().find(|f| f.name == name).copied();
        found.ok_or_else(|| format!("no format is called so; give {}", names.join(", ")))
    }

    /// The format that the ending of `path` names, in any case; `None` without an ending.
    ///
    /// # Errors
    /// Says which endings there are, when no format has this one.
    pub fn for_path(path: &Path) -> Result<Option<Self>, String> {
        let Some(ending) = path.extension() else { return Ok(None) };
        let has_ending = |format: &Self| ending.eq_ignore_ascii_case(format.extension);
        FORMATS.iter().copied().find(has_ending).map(Some).ok_or_else(|| {
            format!(
                "{} ends in .{}, which names no format for drawings; end it in one of: {}",
                shown_path(path),
                shown_path(Path::new(ending)),
                Self::endings()
            )
        })
    }

    /// The same format with a file for each sheet.
    ///
    /// # Errors
    /// When it has whole straps alone.
    pub fn with_sheets(self) -> Result<Self, String> {
        let writes = match self.writes {
            Writes::Strap { sheets: Some(draw), .. } => Writes::FilePerSheet(draw),
            Writes::Strap { sheets: None, .. } => {
                return Err(format!(
                    "a .{} file has the whole strap, not sheets; end it in .svg or .pdf, or \
                     leave out what is about sheets",
                    self.extension
                ));
            }
            other => other,
        };
        Ok(Self { writes, ..self })
    }

    /// The same format with so many pixels an inch, where it has pixels.
    #[must_use]
    pub fn with_dpi(self, dpi: u16) -> Self {
        match self.writes {
            Writes::Preview { draw, .. } => {
                Self { writes: Writes::Preview { draw, dpi }, ..self }
            }
            _ => self,
        }
    }

    /// Whether a file has the whole strap.
    pub fn is_strap(&self) -> bool {
        matches!(self.writes, Writes::Strap { .. })
    }

    /// The endings of the formats that draw: `.dxf, .pdf, .png, .svg`.
    pub fn endings() -> String {
        let endings: Vec<String> =
            FORMATS.iter().map(|format| format!(".{}", format.extension)).collect();
        endings.join(", ")
    }
}

/// What a spreadsheet takes for the beginning of a formula, in full width too (OWASP, "CSV
/// Injection"); characters of control are written out.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// A user's text as a cell of a table: with an apostrophe before what a spreadsheet would
/// compute, since an order may come from anybody, and without characters that steer a
/// terminal. Numbers need none.
pub fn cell(text: &str) -> Cow<'_, str> {
    let text = shown(text);
    if text.starts_with(FORMULA) { format!("'{text}").into() } else { text }
}

/// Rows as CSV.
pub(crate) fn csv<R>(rows: impl IntoIterator<Item = R>) -> String
where
    R: IntoIterator<Item: AsRef<[u8]>>,
{
    let mut table = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    for row in rows {
        // Writing to memory cannot fail.
        let _ = table.write_record(row);
    }
    String::from_utf8(table.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// Why a file could not be made, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExportError(String);

impl ExportError {
    fn no_sheets() -> Self {
        Self("there is no sheet to draw".to_owned())
    }

    /// The carried face cannot be read or cut down.
    fn face(why: impl fmt::Display) -> Self {
        Self(format!("the sheets' face cannot be embedded: {why}"))
    }

    /// For an error of a crate that writes.
    fn write(error: impl fmt::Display) -> Self {
        Self(format!("the file cannot be put together: {error}"))
    }
}

impl fmt::Display for ExportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
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
            // What formats share is no format, and tables have commands of their own.
            .filter(|name| !["mod", "page", "seal"].contains(&name.as_str()))
            .filter(|name| !name.ends_with("_csv"))
            .collect();
        let listed: BTreeSet<String> =
            FORMATS.iter().map(|format| format.name.to_owned()).collect();
        assert_eq!(
            files, listed,
            "src/export and FORMATS differ: give each module of src/export an entry of its \
             name in FORMATS (src/export/mod.rs), and take out entries whose module is gone"
        );
    }

    #[test]
    fn formats_are_in_order_and_told_apart() {
        assert!(FORMATS.is_sorted_by(|a, b| a.name < b.name));
        for format in FORMATS {
            assert!(!format.about.is_empty() && !format.extension.contains('.'));
        }
        let distinct: BTreeSet<&str> = FORMATS.iter().map(|f| f.extension).collect();
        assert_eq!(FORMATS.len(), distinct.len(), "an ending names one format");
    }

    #[test]
    fn the_ending_names_the_format() {
        let named = |path: &str| {
            Format::for_path(Path::new(path)).map(|f| f.map_or("none", |f| f.name))
        };
        for (path, name) in [
            ("belt.pdf", "pdf"),
            ("in.v2/belt.SVG", "svg"),
            ("-", "none"),
            ("in.v2/belt", "none"),
        ] {
            assert_eq!(named(path).unwrap(), name, "{path}");
        }
        assert_eq!(
            named("in/belt.csv").unwrap_err(),
            format!(
                "in/belt.csv ends in .csv, which names no format for drawings; end it in one of: {}",
                Format::endings()
            )
        );
        for format in FORMATS {
            assert!(Format::endings().contains(format.extension), "{}", format.name);
        }
    }

    #[test]
    fn a_cell_is_no_formula() {
        for text in ["=1+1", "+49 30", "-x", "@SUM(A1)", "＝1", "-"] {
            assert_eq!(cell(text), format!("'{text}"));
        }
        for text in ["", "Nine Lamps 1", "'=1", "a=b", "Łukasz", " -", "9-5"] {
            assert_eq!(cell(text), text);
        }
        assert_eq!(cell("\t=1\u{9b}"), "\\u{9}=1\\u{9b}");
    }
}
