//! From the text of a job to a strap: templates, fit, layout, findings, ticket, stock sizes,
//! and what the pieces are cut from.

#![expect(
    clippy::cast_precision_loss,
    clippy::unwrap_used,
    reason = "a test may stop at what is not there; lengths are short in nanometres"
)]

mod broken_jobs;
#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod cutting;
mod cutting_findings;
mod cutting_lanes;
mod findings;
mod geometry;
mod house;
mod identity;
mod limits;
mod outlines;
mod own_templates;
mod parts;
mod properties;
mod published_figures;
mod sane_jobs;
mod schema;
mod stock_sizes;
mod templates;
mod ticket;
