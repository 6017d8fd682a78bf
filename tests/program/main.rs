//! The program as a person or a script runs it.

#![expect(
    clippy::cast_precision_loss,
    clippy::unwrap_used,
    reason = "a test may stop at what is not there; lengths are short in nanometres"
)]
#![expect(clippy::disallowed_methods, reason = "files of tests need not be whole")]

mod batch;
mod calibrate;
mod cli;
#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod dependencies;
mod interrupted;
mod new;
#[cfg(feature = "page")]
mod page;
mod profile;
mod readme;
mod stock_sizes;
mod terminal;
mod verify;
mod viewing;
