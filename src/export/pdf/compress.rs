//! The contents of the pages: drawn and compressed, those of a long strap on several
//! processors.

use super::content::content;
use super::font::GlyphIds;
use crate::export::ExportError;
use crate::paginate::{Sheet, SheetSet};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use rayon::prelude::*;
use std::io::Write as _;

/// Fewer pages are drawn before other threads would have begun.
const MANY_PAGES: usize = 12;

/// Compresses streams one after another, with the same tables.
#[derive(Debug)]
pub(super) struct Deflater(ZlibEncoder<Vec<u8>>);

impl Deflater {
    /// At the default level. `lopdf` would use the highest, which takes twice as long on
    /// sheets and leaves them no smaller.
    pub(super) fn new() -> Self {
        Self(ZlibEncoder::new(Vec::new(), Compression::default()))
    }

    /// `bytes` as a zlib stream (RFC 1950).
    ///
    /// # Errors
    /// When they cannot be compressed.
    pub(super) fn compress(&mut self, bytes: &[u8]) -> Result<Vec<u8>, ExportError> {
        let written = self.0.write_all(bytes);
        written.and_then(|()| self.0.reset(Vec::new())).map_err(ExportError::write)
    }
}

/// The compressed content of each page of `set`, in order. The bytes do not depend on the
/// threads.
///
/// # Errors
/// Those of [`Deflater::compress`].
pub(super) fn contents(
    set: &SheetSet,
    glyph_ids: &GlyphIds,
    deflater: &mut Deflater,
) -> Result<Vec<Vec<u8>>, ExportError> {
    let pages: Vec<&Sheet> = set.pages().collect();
    let draw = |deflater: &mut Deflater, sheet: &&Sheet| {
        deflater.compress(&content(sheet, set.correction_on(sheet), glyph_ids))
    };
    if pages.len() < MANY_PAGES {
        return pages.iter().map(|sheet| draw(deflater, sheet)).collect();
    }
    pages.par_iter().map_init(Deflater::new, draw).collect()
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
