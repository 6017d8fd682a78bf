//! What the dictionaries of a file say of how a page is shown and printed, apart from what it
//! draws (ISO 32000-1:2008, 7.7.3, 8.11 and 12.2).

use hayro_interpret::hayro_syntax::object::{Array, Dict, Name};
use hayro_interpret::hayro_syntax::page::{Page, Rotation};

/// What a page and its file say.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::verify) struct Facts {
    /// Points of 1/72 in to a unit of the page.
    pub(in crate::verify) user_unit: f64,
    /// Whether the page is turned when it is shown.
    pub(in crate::verify) is_turned: bool,
    /// Whether only a part of the page is shown.
    pub(in crate::verify) is_cropped: bool,
    /// How many annotations lie on it, seen or not.
    pub(in crate::verify) annotations: usize,
    /// What the file asks of a print dialogue, such as `None`; empty where it says nothing.
    pub(in crate::verify) print_scaling: String,
    /// Whether a layer is hidden, or is not printed as it is shown.
    pub(in crate::verify) hides_layers: bool,
}

impl Facts {
    pub(super) fn new(page: &Page<'_>) -> Self {
        let own = page.raw();
        let xref = page.xref();
        let catalog = xref.get::<Dict<'_>>(xref.root_id());
        let preferences = catalog
            .as_ref()
            .and_then(|c| c.get::<Dict<'_>>(b"ViewerPreferences".as_slice()));
        let scaling =
            preferences.and_then(|p| p.get::<Name<'_>>(b"PrintScaling".as_slice()));
        let layers = catalog.and_then(|c| c.get::<Dict<'_>>(b"OCProperties".as_slice()));
        let annotations = own.get::<Array<'_>>(b"Annots".as_slice());
        let (crop, media) = (page.crop_box(), page.media_box());
        let sides = [
            crop.x0 - media.x0,
            crop.y0 - media.y0,
            crop.x1 - media.x1,
            crop.y1 - media.y1,
        ];
        Self {
            user_unit: own.get::<f64>(b"UserUnit".as_slice()).unwrap_or(1.0),
            is_turned: !matches!(page.rotation(), Rotation::None),
            is_cropped: sides.iter().any(|side| side.abs() > 0.01),
            annotations: annotations.map_or(0, |all| all.raw_iter().count()),
            print_scaling: scaling
                .map(|name| String::from_utf8_lossy(name.as_ref()).into_owned())
                .unwrap_or_default(),
            hides_layers: layers.is_some_and(|layers| hides(&layers)),
        }
    }
}

/// Whether the layers' dictionary hides one, or names uses by which one is shown or printed.
fn hides(layers: &Dict<'_>) -> bool {
    let Some(shown) = layers.get::<Dict<'_>>(b"D".as_slice()) else { return false };
    let is_filled = |key: &[u8]| {
        shown.get::<Array<'_>>(key).is_some_and(|all| all.raw_iter().next().is_some())
    };
    let base = shown.get::<Name<'_>>(b"BaseState".as_slice());
    is_filled(b"OFF") || is_filled(b"AS") || base.is_some_and(|b| b.as_ref() != b"ON")
}
