//! The pieces of a job as they are asked of the stock.

use super::{Cut, Kind};
use crate::job::{Job, PieceId};
use crate::layout::{Layout, Piece};

/// What has to be cut for a job. A strap that is made from a punched blank takes a blank of
/// the blank's width; every other piece is cut from a strip.
pub fn cuts(order: &str, job: &Job, layout: &Layout) -> Vec<Cut> {
    let blank = &job.blank;
    let has_tip = job.features.iter().any(|f| f.on_blank && f.kind.facts().tip.is_some());
    let cut = |piece: &Piece| {
        let (mut length, mut width) = (piece.extent.length(), piece.width);
        let mut kind = Kind::Strip;
        // The strap alone is on the blank.
        if piece.id == PieceId::STRAP && !blank.punched.is_empty() {
            width = blank.width.as_ref().map_or(width, |w| w.value);
            kind = Kind::Blank;
            if let (true, Some(whole)) = (has_tip, &blank.length) {
                kind = Kind::CutBlank;
                length = whole.value;
            }
        }
        Cut {
            order: order.to_owned(),
            piece: piece.key(),
            length,
            width,
            thickness: piece.thickness,
            kind,
            span: job.title.span.clone(),
        }
    };
    layout.pieces.iter().map(cut).collect()
}
