//! Full-scale punch templates for leather straps.
//!
//! One job goes one way, and each stage is one function that returns a finished value:
//!
//! ```text
//! job text -> Job -> Fit -> Layout -> (findings) -> SheetSet -> PDF, SVG, CSV
//!   job        fit   layout    check      paginate     export
//!                                             verify <- PDF
//! ```
//!
//! `print` is the way from a layout to a file that was read back; `batch` goes all of it for
//! each order of a day.
//!
//! `printer` keeps what undoes the error of a printer, and gives it to `paginate`; `cutting`
//! shares the strips on hand among the pieces of many jobs.
//! `diagnostic` carries what the stages find, `geom` what they measure in. `guide` holds the
//! topics that the program shows to its users.
//!
//! From the text of a job to the bytes of a PDF:
//!
//! ```
//! use strapwright::export::pdf::pdf;
//! use strapwright::paginate::{Heading, Paper, Request, paginate};
//!
//! let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
//! let prepared = strapwright::prepare("belt.toml", belt, &[]);
//! let (job, fit, layout) = prepared.laid.expect("no mistakes");
//! let heading = Heading::new(&job, fit.as_ref(), &layout);
//! let paper = Paper::parse("a4")?;
//! let set = paginate(&Request::new(&layout, &heading, &paper))?;
//! std::fs::write(std::env::temp_dir().join("belt.pdf"), pdf(&set)?)?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The program is the default feature `cli`. Without it, this is the library alone:
//! `strapwright = { version = "0.1", default-features = false }`.

pub mod assembly;
pub mod batch;
pub mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod cutting;
pub mod diagnostic;
#[cfg(feature = "cli")]
mod disk;
pub mod export;
pub mod fit;
pub mod geom;
pub mod guide;
mod input;
pub mod job;
pub mod layout;
pub mod lettering;
#[cfg(feature = "page")]
pub mod page;
pub mod paginate;
mod prepare;
pub mod print;
pub mod printer;
pub mod profile;
#[cfg(test)]
#[expect(dead_code, reason = "unit tests use a part of it")]
#[path = "../tests/common/random.rs"]
mod random;
pub mod schema;
pub mod stock;
pub mod template;
pub mod ticket;
pub mod verify;
pub mod words;

pub use prepare::{Laid, Prepared, prepare, prepare_from};
