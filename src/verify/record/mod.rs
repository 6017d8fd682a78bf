//! What the pages of a PDF draw, in the order of drawing, in mm from the lower left corner of
//! each page as it is shown. The interpreter is `hayro-interpret`: it shares no code with the
//! writer.

mod device;
mod facts;
mod letters;

pub(super) use facts::Facts;

#[cfg(feature = "ink")]
pub(super) use letters::outline;

use hayro_interpret::hayro_syntax::{Pdf, page as syntax};
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect, Vec2};
use hayro_interpret::{Context, InterpreterCache, InterpreterSettings, interpret_page};
use std::rc::Rc;

/// mm to a point of 1/72 in.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// One page.
#[derive(Debug)]
pub(super) struct Page {
    /// Width and height as it is shown, in mm.
    pub(super) size: [f64; 2],
    /// What it draws, in order.
    pub(super) drawings: Vec<Drawing>,
    /// What of it a printer might never end to draw, such as a pattern.
    #[cfg_attr(
        not(feature = "ink"),
        expect(dead_code, reason = "only the judge of ink draws pages")
    )]
    pub(super) heavy: Option<&'static str>,
    /// What else decides how it is shown and printed.
    pub(super) facts: Facts,
}

impl Page {
    /// The name of the print that the page says it is of, such as `7F3A-91C2`: four digits of
    /// base 16, a dash, and four more.
    pub(super) fn print_name(&self) -> Option<String> {
        let is_name = |word: &&[Letter]| {
            let is_digit = |(c, _): &Letter| matches!(c, '0'..='9' | 'A'..='F');
            word[4].0 == '-' && word[..4].iter().chain(&word[5..]).all(is_digit)
        };
        self.drawings.iter().find_map(|drawing| {
            let Ink::Text { letters, .. } = &drawing.ink else { return None };
            // Other programs set several words as one.
            let name = letters.windows(9).find(is_name)?;
            Some(name.iter().map(|(letter, _)| letter).collect())
        })
    }
}

/// One thing that is drawn.
#[derive(Debug)]
pub(super) struct Drawing {
    pub(super) ink: Ink,
    /// The name of the layer that it is drawn in; empty for none.
    pub(super) layer: Rc<str>,
    /// How light it is: 0 is black, 1 is white; `None` for a colour or a pattern.
    pub(super) lightness: Option<f64>,
    /// Why it may not be seen as it is drawn: what clips, fades or mixes it.
    pub(super) effect: Option<&'static str>,
}

/// A letter, by the outline of its glyph, and where it starts on the page. The replacement
/// character stands for a glyph that is not the letter that the file says.
pub(super) type Letter = (char, Point);

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
        letters: Vec<Letter>,
        /// One em along the base line, and one square to it.
        em: [Vec2; 2],
        /// How wide a pen goes along the edges of the letters too, in mm; 0 for none.
        bold: f64,
    },
    /// An image, or an area of changing colour, over this part of the page.
    Image { area: Rect },
}

/// Opens a PDF.
///
/// # Errors
/// Says why it cannot be read.
pub(super) fn open(bytes: &[u8]) -> Result<Pdf, String> {
    let pdf = Pdf::new(bytes.to_vec());
    pdf.map_err(|_| "it is not a PDF, or not a whole one".to_owned())
}

/// From points of a page to mm from its lower left corner, as it is shown.
pub(super) fn to_mm(page: &syntax::Page<'_>, facts: &Facts) -> Affine {
    let shown = Affine::new(page.initial_transform(false).as_coeffs());
    Affine::scale(MM_PER_POINT * facts.user_unit) * shown
}

/// Reads every page of a PDF. What is drawn in hidden layers is left out, as on the paper.
///
/// # Errors
/// Says why it cannot be read.
pub(super) fn record(pdf: &Pdf) -> Result<Vec<Page>, String> {
    let cache = InterpreterCache::new();
    let settings = InterpreterSettings::default();
    let (mut pages, mut letters) = (Vec::new(), letters::Letters::default());
    for page in pdf.pages().iter() {
        let facts = Facts::new(page);
        let to_mm = to_mm(page, &facts);
        let (width, height) = page.render_dimensions();
        let size =
            [width, height].map(|side| f64::from(side) * MM_PER_POINT * facts.user_unit);
        let bounds = Rect::new(0.0, 0.0, size[0], size[1]);
        let mut context =
            Context::new(to_mm, bounds, &cache, page.xref(), settings.clone());
        let (drawings, heavy) = device::recorded(&mut letters, |recorder| {
            interpret_page(page, &mut context, recorder);
        })?;
        pages.push(Page { size, drawings, heavy, facts });
    }
    Ok(pages)
}
