//! The fingerprint: a short name of a print. The same job drawn the same way has the same one,
//! and any change gives another.

use super::Request;
use super::correction::Correction;
use super::plan::Plan;
use crate::fit::MeasurementUncertainty;
use crate::words::{Units, Wording};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// Computes eight hexadecimal characters, such as `7F3A-91C2`, from everything that is drawn,
/// and where its tiles lie.
pub(super) fn compute(request: &Request<'_>, plan: &Plan<'_>) -> String {
    let &Request { layout, heading, paper, rows, correction, measuring, .. } = request;
    let tiles = plan.sheets.iter().enumerate().flat_map(|(number, sheet)| {
        sheet.tiles.iter().map(move |t| (number, t.span.index, t.placement))
    });
    let what = (heading, layout, rows);
    let how = (paper, correction, measuring);
    let place = (&plan.joins, &plan.lengthwise_joins, tiles.collect::<Vec<_>>());
    let digest = digest(&(what, how, place));
    format!("{:04X}-{:04X}", digest >> 48, digest >> 32 & 0xFFFF)
}

/// The beginning of a SHA-256 over a value as JSON.
pub(super) fn digest(of: &impl Serialize) -> u64 {
    // Writing to memory cannot fail, for the values have no maps.
    let json = serde_json::to_vec(of).unwrap_or_default();
    let hash = <[u8; 32]>::from(Sha256::digest(json));
    hash.first_chunk().map_or(0, |first| u64::from_be_bytes(*first))
}

/// The settings of a print: with the job and the paper they give it again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PrintSettings {
    /// What undoes the printer's error; `None` for a printer without error.
    pub printer: Option<Correction>,
    /// How words and numbers are written.
    pub wording: Wording,
    /// With what the joined strip will be measured.
    pub measuring: MeasurementUncertainty,
}

impl PrintSettings {
    pub(super) fn from_request(request: &Request<'_>) -> Self {
        let &Request { heading, correction, measuring, .. } = request;
        let (printer, wording) = (correction.cloned(), heading.wording);
        Self { printer, wording, measuring }
    }

    /// The printer in words; empty for one without error.
    pub fn printer_words(&self) -> String {
        let Some(c) = &self.printer else { return String::new() };
        let (long, short, margin) = (c.long.by, c.short.by, c.margin);
        let fitted = if c.fitted { ", fitted" } else { "" };
        format!("{} (long ×{long}, short ×{short}, margin {margin}{fitted})", c.printer)
    }

    /// The options for words and numbers on paper.
    pub fn wording_words(&self) -> String {
        let Wording { language, units } = self.wording;
        let units = Units::NAMES.iter().find(|(_, u)| *u == units).map_or("", |(n, _)| n);
        format!("--language {} --units {units}", language.code())
    }

    /// The options for the ruler and the joins.
    pub fn ruler_words(&self) -> String {
        let MeasurementUncertainty { ruler, reading, join } = self.measuring;
        format!("--ruler-class {ruler:?} --resolution \"{reading}\" --join \"{join}\"")
    }
}
