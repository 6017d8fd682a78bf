//! Full-scale punch templates for leather straps.
//!
//! One job goes one way, and each stage is one function that returns a finished value:
//!
//! ```text
//! job text -> Job -> Fit -> Layout -> (findings) -> SheetSet -> PDF, CSV
//!   job        fit   layout    check      paginate     export
//! ```
//!
//! `diagnostic` carries what the stages find, `geom` what they measure in.

pub mod check;
pub mod cli;
pub mod diagnostic;
pub mod export;
pub mod fit;
pub mod geom;
pub mod job;
pub mod layout;
pub mod lettering;
pub mod paginate;
pub mod template;
