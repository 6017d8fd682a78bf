//! The contents of the pages: drawn and packed, those of a long strap on several processors.

use super::draw::{self, Codes};
use crate::export::ExportError;
use crate::paginate::{Item, Sheet, SheetSet};
use flate2::{Compress, Compression, FlushCompress, Status};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// So many strokes and words are worth another thread: some milliseconds. With less, waiting
/// for it may take longer than the work.
const WORTH: usize = 4_000;
const MOST_THREADS: usize = 3;

/// Packs streams one after another, with the same tables.
#[derive(Debug)]
pub(super) struct Packer(Compress);

impl Packer {
    /// At the usual level. `lopdf` would pack at the highest, which takes twice as long on
    /// sheets and leaves them no smaller.
    pub(super) fn new() -> Self {
        Self(Compress::new(Compression::default(), true))
    }

    /// `bytes` as zlib has them (RFC 1950).
    ///
    /// # Errors
    /// [`ExportError::Write`] when they cannot be packed.
    pub(super) fn pack(&mut self, bytes: &[u8]) -> Result<Vec<u8>, ExportError> {
        self.0.reset();
        let mut packed = Vec::with_capacity(bytes.len() / 2 + 64);
        loop {
            let taken = usize::try_from(self.0.total_in()).unwrap_or(bytes.len());
            let left = bytes.get(taken..).unwrap_or_default();
            let status = self.0.compress_vec(left, &mut packed, FlushCompress::Finish);
            match status.map_err(|error| ExportError::Write(error.to_string()))? {
                Status::StreamEnd => return Ok(packed),
                Status::Ok | Status::BufError => packed.reserve(packed.capacity()),
            }
        }
    }
}

/// The packed content of each page of `set`, in order, and what comes of `meanwhile`.
///
/// What is written does not depend on the threads. In a batch there are none: the other
/// orders keep all processors busy.
///
/// # Errors
/// Those of `meanwhile`, and of [`Packer::pack`].
pub(super) fn contents<T>(
    set: &SheetSet,
    codes: &Codes,
    meanwhile: impl FnOnce(&mut Packer) -> Result<T, ExportError>,
) -> Result<(T, Vec<Vec<u8>>), ExportError> {
    let pages: Vec<(&Sheet, OnceLock<_>)> =
        set.pages().map(|sheet| (sheet, OnceLock::new())).collect();
    let next = AtomicUsize::new(0);
    let work = |packer: &mut Packer| {
        while let Some((sheet, done)) = pages.get(next.fetch_add(1, Ordering::Relaxed)) {
            let scaling = set.correction_on(sheet);
            let content = draw::content(sheet, scaling.as_ref(), codes);
            done.get_or_init(|| packer.pack(&content));
        }
    };
    let strokes: usize = set.pages().flat_map(|sheet| &sheet.items).map(strokes).sum();
    let is_alone = rayon::current_thread_index().is_none();
    let threads = if is_alone { strokes / WORTH } else { 0 };
    let threads = threads.min(pages.len().saturating_sub(1)).min(MOST_THREADS);
    let done = thread::scope(|scope| {
        for _ in 0..threads {
            // Where there can be no other thread, this one does it all.
            let other = thread::Builder::new();
            let _ = other.spawn_scoped(scope, || work(&mut Packer::new()));
        }
        let mut packer = Packer::new();
        let done = meanwhile(&mut packer);
        work(&mut packer);
        done
    })?;
    let packed = pages.into_iter().filter_map(|(_, packed)| packed.into_inner());
    Ok((done, packed.collect::<Result<_, _>>()?))
}

fn strokes(item: &Item) -> usize {
    match item {
        Item::Stroke { paths, .. } | Item::Fill { paths, .. } => paths.len(),
        Item::TickRows { tick_rows, .. } => tick_rows.len(),
        Item::Text { .. } => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read as _;

    /// What was packed before leaves no trace, and what cannot be packed grows.
    #[test]
    fn streams_come_back() {
        let mut packer = Packer::new();
        let noise: Vec<u8> = (0_u32..5_000)
            .flat_map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes())
            .collect();
        let first = packer.pack(b"0 0 m 1 1 l S\n").unwrap();
        for bytes in [&noise[..], b"", b"0 0 m 1 1 l S\n"] {
            let stream = packer.pack(bytes).unwrap();
            let mut back = Vec::new();
            flate2::read::ZlibDecoder::new(&stream[..]).read_to_end(&mut back).unwrap();
            assert_eq!(back, bytes);
            assert_eq!(stream == first, bytes == b"0 0 m 1 1 l S\n");
        }
    }
}
