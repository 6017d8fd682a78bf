//! Line types by ISO 128-2:2020: widths, dashes in multiples of the width, and greys.

use crate::geom::Length;
use crate::paginate::{Pen, Tone};

/// How a pen draws.
pub(super) struct Line {
    /// Its width.
    pub width: Length,
    /// How light, from 0 for black to 1 for white.
    pub grey: f32,
    /// Lengths of dash and gap in turn; empty for a continuous line.
    pub dashes: &'static [Length],
}

/// No. 02, dashed: dash 12 d, gap 3 d, at d = 0.25 mm.
const DASHED: [Length; 2] = [Length::from_um(3_000), Length::from_um(750)];
/// No. 04, long-dashed dotted: dash 24 d, gap 3 d, dot 0.5 d, gap 3 d, at d = 0.18 mm.
const LONG_DASHED_DOTTED: [Length; 4] = [
    Length::from_um(4_320),
    Length::from_um(540),
    Length::from_um(90),
    Length::from_um(540),
];

/// What `pen` draws.
pub(super) fn line(pen: Pen) -> Line {
    let (width_um, tone, dashes): (_, _, &'static [Length]) = match pen {
        Pen::Outline => (500, Tone::Black, &[]),
        Pen::Punch => (250, Tone::Black, &[]),
        Pen::Thin => (180, Tone::Black, &[]),
        Pen::Centre => (180, Tone::Black, &LONG_DASHED_DOTTED),
        Pen::Fold => (250, Tone::Black, &DASHED),
        Pen::Target => (250, Tone::Grey, &DASHED),
        Pen::Faint => (130, Tone::Grey, &[]),
    };
    Line { width: Length::from_um(width_um), grey: grey(tone), dashes }
}

/// How light `tone` is, from 0 for black to 1 for white.
pub(super) fn grey(tone: Tone) -> f32 {
    match tone {
        Tone::Black => 0.0,
        Tone::Grey => 0.5,
        Tone::Light => 0.85,
        Tone::White => 1.0,
    }
}
