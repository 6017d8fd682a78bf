//! What a file says of the print that it is: all of the set that a later print or a judge
//! starts from, without anything drawn.

use crate::paginate::{Factor, Gauge, SheetSet};
use lopdf::{Dictionary, Document, decode_text_string, text_string};

/// Key of the document information; ISO 32000-1:2008, 14.3.3 leaves such names free.
const KEY: &str = "StrapwrightPrint";
/// Longest entry that is read, in bytes: that of some thousand sheets.
const LONGEST: usize = 1 << 20;

/// Puts the bare set among the document information.
pub(super) fn write(set: &SheetSet, info: &mut Dictionary) -> serde_json::Result<()> {
    info.set(KEY, text_string(&serde_json::to_string(&set.bare())?));
    Ok(())
}

/// The set, [bare](SheetSet::bare), that a PDF was made from; `None` when the file does not say.
///
/// `file` are the bytes of a PDF that may be opened: one that is made to do harm is for the
/// caller to refuse.
pub fn read(file: &[u8]) -> Option<SheetSet> {
    let document = Document::load_mem(file).ok()?;
    let info = document.trailer.get(b"Info").ok()?;
    let (_, info) = document.dereference(info).ok()?;
    let entry =
        decode_text_string(info.as_dict().ok()?.get(KEY.as_bytes()).ok()?).ok()?;
    let set = (entry.len() <= LONGEST).then(|| serde_json::from_str(&entry).ok())??;
    is_sane(&set).then_some(set)
}

/// Whether a print can be so. Factors far beyond those of any printer are not.
fn is_sane(set: &SheetSet) -> bool {
    let is_factor = |Factor { by, proven }: Factor| {
        (500_000..=2_000_000).contains(&by.millionths())
            && (0..=1_000_000).contains(&proven.millionths())
    };
    let printers = set.settings.printer.iter();
    printers.flat_map(|p| [p.long, p.short]).all(is_factor)
        && set.gauge.iter().all(Gauge::is_sane)
}
