//! The contents of the pages: drawn and compressed, those of a long strap on several
//! processors.

use super::content::content;
use super::font::GlyphIds;
use crate::export::ExportError;
use crate::paginate::{Item, Sheet, SheetSet};
use flate2::{Compress, Compression, FlushCompress, Status};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Strokes and words for each further thread: some milliseconds. With fewer, waiting for the
/// thread may take longer than the work.
const PER_THREAD: usize = 4_000;
const MOST_THREADS: usize = 3;

/// Compresses streams one after another, with the same tables.
#[derive(Debug)]
pub(super) struct Deflater(Compress);

impl Deflater {
    /// At the default level. `lopdf` would use the highest, which takes twice as long on
    /// sheets and leaves them no smaller.
    pub(super) fn new() -> Self {
        Self(Compress::new(Compression::default(), true))
    }

    /// `bytes` as a zlib stream (RFC 1950).
    ///
    /// # Errors
    /// When they cannot be compressed.
    pub(super) fn compress(&mut self, bytes: &[u8]) -> Result<Vec<u8>, ExportError> {
        self.0.reset();
        let mut stream = Vec::with_capacity(bytes.len() / 2 + 64);
        loop {
            let taken = usize::try_from(self.0.total_in()).unwrap_or(bytes.len());
            let left = bytes.get(taken..).unwrap_or_default();
            let status = self.0.compress_vec(left, &mut stream, FlushCompress::Finish);
            match status.map_err(ExportError::write)? {
                Status::StreamEnd => return Ok(stream),
                Status::Ok | Status::BufError => stream.reserve(stream.capacity()),
            }
        }
    }
}

/// The result of `meanwhile`, and the compressed content of each page of `set`, in order.
///
/// The bytes do not depend on the threads. In a batch no thread is started: the other
/// orders keep all processors busy.
///
/// # Errors
/// Those of `meanwhile`, and of [`Deflater::compress`].
pub(super) fn contents<T>(
    set: &SheetSet,
    glyph_ids: &GlyphIds,
    meanwhile: impl FnOnce(&mut Deflater) -> Result<T, ExportError>,
) -> Result<(T, Vec<Vec<u8>>), ExportError> {
    let pages: Vec<(&Sheet, OnceLock<_>)> =
        set.pages().map(|sheet| (sheet, OnceLock::new())).collect();
    let next = AtomicUsize::new(0);
    let work = |deflater: &mut Deflater| {
        while let Some((sheet, done)) = pages.get(next.fetch_add(1, Ordering::Relaxed)) {
            let scaling = set.correction_on(sheet);
            let content = content(sheet, scaling, glyph_ids);
            done.get_or_init(|| deflater.compress(&content));
        }
    };
    let strokes: usize = set.pages().flat_map(|sheet| &sheet.items).map(strokes).sum();
    let is_alone = rayon::current_thread_index().is_none();
    let threads = if is_alone { strokes / PER_THREAD } else { 0 };
    let threads = threads.min(pages.len().saturating_sub(1)).min(MOST_THREADS);
    let done = thread::scope(|scope| {
        for _ in 0..threads {
            // Where no thread can be started, this one does all the work.
            let other = thread::Builder::new();
            let _ = other.spawn_scoped(scope, || work(&mut Deflater::new()));
        }
        let mut deflater = Deflater::new();
        let done = meanwhile(&mut deflater);
        work(&mut deflater);
        done
    })?;
    let contents = pages.into_iter().filter_map(|(_, content)| content.into_inner());
    Ok((done, contents.collect::<Result<_, _>>()?))
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

    /// An earlier stream leaves no trace, and noise grows.
    #[test]
    fn streams_come_back() {
        let mut deflater = Deflater::new();
        let noise: Vec<u8> = (0_u32..5_000)
            .flat_map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes())
            .collect();
        let first = deflater.compress(b"0 0 m 1 1 l S\n").unwrap();
        for bytes in [&noise[..], b"", b"0 0 m 1 1 l S\n"] {
            let stream = deflater.compress(bytes).unwrap();
            let mut back = Vec::new();
            flate2::read::ZlibDecoder::new(&stream[..]).read_to_end(&mut back).unwrap();
            assert_eq!(back, bytes);
            assert_eq!(stream == first, bytes == b"0 0 m 1 1 l S\n");
        }
    }
}
