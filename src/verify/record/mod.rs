//! What the pages of a PDF draw, in the order of drawing, in mm from the lower left corner of
//! each page as it is shown. The interpreter is `hayro-interpret`: it shares no code with the
//! writer.

mod device;
mod facts;

pub(super) use facts::Facts;

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect};
use hayro_interpret::{Context, InterpreterCache, InterpreterSettings, interpret_page};

/// mm to a point of 1/72 in.
pub(super) const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One page.
#[derive(Debug)]
pub(super) struct Page {
    /// Width and height as it is shown, in mm.
    pub(super) size: [f64; 2],
    /// What it draws, in order.
    pub(super) drawings: Vec<Drawing>,
    /// What else decides how it is shown and printed.
    pub(super) facts: Facts,
}

impl Page {
    /// The name of the print that the page says it is of, such as `7F3A-91C2`: four digits of
    /// base 16, a dash, and four more.
    pub(super) fn print_name(&self) -> Option<&str> {
        let is_name = |word: &&[u8]| {
            let is_digit = |b: &u8| b.is_ascii_digit() || (b'A'..=b'F').contains(b);
            word[4] == b'-' && word[..4].iter().chain(&word[5..]).all(is_digit)
        };
        self.drawings.iter().find_map(|drawing| {
            let Ink::Text { text, .. } = &drawing.ink else { return None };
            // Other programs set several words as one.
            let name = text.as_bytes().windows(9).find(is_name)?;
            std::str::from_utf8(name).ok()
        })
    }
}

/// One thing that is drawn.
#[derive(Debug)]
pub(super) struct Drawing {
    pub(super) ink: Ink,
    /// The name of the layer that it is drawn in; empty for none.
    pub(super) layer: String,
    /// How light it is: 0 is black, 1 is white; `None` for a colour or a pattern.
    pub(super) lightness: Option<f64>,
    /// Why it may not be seen as it is drawn: what clips, fades or mixes it.
    pub(super) effect: Option<&'static str>,
}

/// What is drawn. Lengths in mm.
#[derive(Debug)]
pub(super) enum Ink {
    /// A line along one path without a break.
    Stroke {
        path: BezPath,
        width: f64,
        /// Dash and gap in turn; empty for a solid line.
        dashes: Vec<f64>,
    },
    /// A filled area within one path.
    Area { path: BezPath },
    /// A line of text.
    Text {
        text: String,
        /// The start of the base line.
        from: Point,
        /// One em along the base line, and one square to it.
        em: [[f64; 2]; 2],
        /// Each letter and where it starts.
        #[cfg_attr(
            not(feature = "ink"),
            expect(dead_code, reason = "only the judge of ink asks for them")
        )]
        letters: Vec<(char, Point)>,
    },
    /// An image, or an area of changing colour, over this part of the page.
    Image { area: Rect },
}

/// Reads every page of a PDF. What is drawn in hidden layers is left out, as on the paper.
///
/// # Errors
/// Says why it cannot be read.
pub(super) fn record(bytes: &[u8]) -> Result<Vec<Page>, String> {
    let pdf =
        Pdf::new(bytes.to_vec()).map_err(|_| "it is not a PDF, or not a whole one")?;
    let cache = InterpreterCache::new();
    let settings = InterpreterSettings::default();
    let mut pages = Vec::new();
    for page in pdf.pages().iter() {
        let facts = Facts::new(page);
        let unit = MM_PER_POINT * facts.user_unit;
        let shown = Affine::new(page.initial_transform(false).as_coeffs());
        let (width, height) = page.render_dimensions();
        let size = [width, height].map(|side| f64::from(side) * unit);
        let bounds = Rect::new(0.0, 0.0, size[0], size[1]);
        let to_mm = Affine::scale(unit) * shown;
        let mut context =
            Context::new(to_mm, bounds, &cache, page.xref(), settings.clone());
        let recorder = device::Recorder::default();
        let drawings = recorder.record(|own| interpret_page(page, &mut context, own))?;
        pages.push(Page { size, drawings, facts });
    }
    Ok(pages)
}
