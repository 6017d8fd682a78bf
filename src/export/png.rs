//! A preview of the sheets: what a printer would draw of the finished PDF, in pixels.

use super::ExportError;
use flate2::Crc;
use hayro::hayro_syntax::Pdf;
use hayro::hayro_syntax::page::Page;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use hayro_interpret::InterpreterSettings;
use png::{BitDepth, ColorType, Encoder, PixelDimensions, Unit};

/// Most pixels of a picture, and of a side of it.
const MOST_PIXELS: f32 = 50e6;
const LONGEST_SIDE: f32 = 65_535.0;

/// A picture of each page of a PDF, in order, in greys, at `dpi` pixels an inch.
///
/// # Errors
/// When the PDF cannot be read, or a picture would have more than 50 million pixels.
pub fn png(pdf: &[u8], dpi: u16) -> Result<Vec<Vec<u8>>, ExportError> {
    let pdf = Pdf::new(pdf.to_vec())
        .map_err(|e| ExportError(format!("the PDF cannot be read: {e:?}")))?;
    let cache = RenderCache::new();
    pdf.pages().iter().map(|page| picture(page, &cache, dpi)).collect()
}

fn picture<'a>(
    page: &'a Page<'a>,
    cache: &RenderCache<'a>,
    dpi: u16,
) -> Result<Vec<u8>, ExportError> {
    let scale = f32::from(dpi) / 72.0;
    let (width, height) = page.render_dimensions();
    let [width, height] = [width * scale, height * scale];
    if width * height > MOST_PIXELS || width.max(height) > LONGEST_SIDE {
        return Err(ExportError(format!(
            "a preview of {width:.0} × {height:.0} pixels at {dpi} dpi is too large; take \
             fewer dots an inch, or smaller sheets"
        )));
    }
    let to_pixels = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let (interpreter, settings) =
        (InterpreterSettings::default(), RenderSettings::default());
    let pixels = render(page, cache, &interpreter, &settings, &to_pixels);
    let mut file = Vec::new();
    let size = [pixels.width(), pixels.height()].map(u32::from);
    let mut encoder = Encoder::new(&mut file, size[0], size[1]);
    encoder.set_color(ColorType::Grayscale);
    encoder.set_depth(BitDepth::Eight);
    // In pixels a metre.
    let per_metre = (u32::from(dpi) * 10_000 + 127) / 254;
    let [xppu, yppu] = [per_metre; 2];
    encoder.set_pixel_dims(Some(PixelDimensions { xppu, yppu, unit: Unit::Meter }));
    // Sheets are black and grey: all colours are alike.
    let greys: Vec<u8> = pixels.data().iter().map(|p| p.g).collect();
    let mut writer = encoder.write_header().map_err(ExportError::write)?;
    writer.write_image_data(&greys).map_err(ExportError::write)?;
    writer.finish().map_err(ExportError::write)?;
    Ok(file)
}

/// A chunk of text; PNG specification (third edition), 11.3.3.3.
pub(super) fn remark(words: &str) -> Vec<u8> {
    let body = format!("tEXtComment\0{words}").into_bytes();
    let mut crc = Crc::new();
    crc.update(&body);
    let length = u32::try_from(body.len() - 4).unwrap_or(0).to_be_bytes();
    [&length[..], &body, &crc.sum().to_be_bytes()].concat()
}
