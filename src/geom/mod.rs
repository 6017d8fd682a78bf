//! Lengths, points and paths, each in a space of its own.
//!
//! A point of the strap and a point of the sheet are different types, so that they cannot
//! be added or compared; [`Placement`] is the one way from strap to sheet.
//!
//! ```compile_fail
//! use strapwright::geom::{Length, Sheet, Strap, Vector, Point};
//! let on_strap = Point::<Strap>::new(Length::ZERO, Length::ZERO);
//! let on_sheet = Vector::<Sheet>::new(Length::ZERO, Length::ZERO);
//! let _ = on_strap + on_sheet; // different spaces
//! ```
//! ```compile_fail
//! use strapwright::geom::{Length, Point, Strap};
//! let p = Point::<Strap>::new(Length::ZERO, Length::ZERO);
//! let _ = p + p; // a point is a place, not a distance: subtract one to get a Vector
//! ```

mod angle;
mod arc_length;
mod bend;
pub(crate) mod clip;
pub(crate) mod distance;
mod float;
mod length;
mod length_text;
mod offset;
mod path;
mod placement;
mod ratio;
mod space;

pub use bend::Bend;
pub use length::{Length, TapeFraction};
pub use length_text::LengthError;
pub use path::{Path, Segment, Step};
pub use placement::{Placement, QuarterTurn};
pub use ratio::{Ratio, circumference};
pub use space::{Extent, Point, Sheet, Strap, Vector};
