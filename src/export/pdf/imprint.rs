//! What a file says of the print that it is: name, size, paper, joins, and the sheets of
//! other prints that go with it. A later print of another size starts from here.

use crate::export::ExportError;
use crate::geom::Length;
use crate::paginate::{Kept, SheetSet};
use lopdf::{Dictionary, Document, Object, decode_text_string, text_string};

/// Keys of the document information; ISO 32000-1:2008, 14.3.3 leaves such names free.
const PRINT: &str = "StrapwrightPrint";
const SIZE: &str = "StrapwrightSize";
const PAPER: &str = "StrapwrightPaper";
const JOINS: &str = "StrapwrightJoins";
const KEPT: &str = "StrapwrightKept";

/// What a file says of itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Imprint {
    /// Short name of the print.
    pub print: String,
    /// Label of its stock size; empty where it has none.
    pub size: String,
    /// Name of its paper.
    pub paper: String,
    /// Its joins: piece and match line, in strap coordinates.
    pub joins: Vec<(usize, Length)>,
    /// The sheets of other prints that complete it.
    pub kept: Vec<Kept>,
}

impl Imprint {
    pub(super) fn of(set: &SheetSet) -> Self {
        Self {
            print: set.fingerprint.clone(),
            size: set.size.clone(),
            paper: set.paper.clone(),
            joins: set.joins.clone(),
            kept: set.kept.clone(),
        }
    }

    /// Puts it among the document information.
    pub(super) fn write(&self, info: &mut Dictionary) {
        let joins = self.joins.iter().map(|(piece, x)| format!("{piece} {}", x.nm()));
        let kept = self.kept.iter().map(|k| format!("{} {}", k.sheet, k.print));
        for (key, words) in [
            (PRINT, self.print.clone()),
            (SIZE, self.size.clone()),
            (PAPER, self.paper.clone()),
            (JOINS, joins.collect::<Vec<_>>().join("; ")),
            (KEPT, kept.collect::<Vec<_>>().join("; ")),
        ] {
            if !words.is_empty() {
                info.set(key, text_string(&words));
            }
        }
    }

    /// Reads it from the bytes of a file.
    ///
    /// # Errors
    /// [`ExportError::NoImprint`] when this is no PDF, or one that says nothing of a print.
    pub fn read(bytes: &[u8]) -> Result<Self, ExportError> {
        let foreign = |why: &str| ExportError::NoImprint(why.to_owned());
        let document = Document::load_mem(bytes)
            .map_err(|_| foreign("it is not a PDF, or not a whole one"))?;
        let info = document
            .trailer
            .get(b"Info")
            .and_then(|info| document.dereference(info))
            .and_then(|(_, info)| info.as_dict())
            .map_err(|_| foreign("it has no document information"))?;
        let entry = |key: &str| {
            let words: &Object = info.get(key.as_bytes()).ok()?;
            decode_text_string(words).ok()
        };
        let print = entry(PRINT)
            .filter(|p| !p.is_empty())
            .ok_or_else(|| foreign("it was not made by strapwright draw or reprint"))?;
        let pairs = |key| -> Vec<(String, String)> {
            let words: String = entry(key).unwrap_or_default();
            let pairs = words.split("; ").filter_map(|pair| pair.split_once(' '));
            pairs.map(|(a, b)| (a.to_owned(), b.to_owned())).collect()
        };
        let joins = pairs(JOINS).into_iter().filter_map(|(piece, x)| {
            Some((piece.parse().ok()?, Length::from_nm(x.parse().ok()?)))
        });
        let kept = pairs(KEPT).into_iter().filter_map(|(sheet, print)| {
            Some(Kept { print, sheet: sheet.parse().ok()? })
        });
        Ok(Self {
            print,
            size: entry(SIZE).unwrap_or_default(),
            paper: entry(PAPER).unwrap_or_default(),
            joins: joins.collect(),
            kept: kept.collect(),
        })
    }
}
