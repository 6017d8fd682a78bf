//! The picture of a strap on the shelf.

use super::flat::{shape, window};
use super::svg::{mm, number};
use crate::geom::{Extent, Length};
use crate::layout::{Layout, Piece};
use maud::{Markup, html};

/// All pieces in a small picture, a long one in up to three rows.
pub(super) fn picture(layout: &Layout, id: &str) -> Markup {
    const ROOM: [f64; 2] = [260.0, 92.0];
    let pieces: Vec<&Piece> =
        layout.pieces.iter().filter(|p| p.copy.n == 1).take(4).collect();
    // Each piece in as many rows as make the scale largest.
    let rows_of = |parts: i64| -> Vec<(usize, Extent)> {
        let longest = pieces.iter().map(|p| p.extent.length()).max().unwrap_or_default();
        let row = longest / parts;
        let rows = pieces.iter().enumerate().flat_map(|(n, piece)| {
            let Extent { from, to } = piece.extent;
            let starts = (0..parts).map(move |i| from + row * i);
            let rows = starts.filter(move |start| *start < to || *start == from);
            rows.map(move |start| (n, Extent { from: start, to: (start + row).min(to) }))
        });
        rows.filter(|(_, e)| e.length() > Length::from_mm(1)).collect()
    };
    let scale_of = |rows: &[(usize, Extent)]| {
        let wide = rows.iter().map(|(_, e)| mm(e.length())).fold(1.0, f64::max);
        let high: f64 = rows.iter().map(|(n, _)| mm(pieces[*n].width)).sum();
        let count = f64::from(u32::try_from(rows.len()).unwrap_or(1));
        (ROOM[0] / wide).min((ROOM[1] - 8.0 * count) / high)
    };
    let best = (1..=3).map(rows_of).max_by(|a, b| scale_of(a).total_cmp(&scale_of(b)));
    let rows = best.unwrap_or_default();
    let scale = scale_of(&rows);
    let high: f64 = rows.iter().map(|(n, _)| mm(pieces[*n].width) * scale + 8.0).sum();
    let mut y = (ROOM[1] - high) / 2.0 + 4.0;
    let wide = rows.iter().map(|(_, e)| mm(e.length())).fold(1.0, f64::max) * scale;
    html! {
        svg class="picture" viewBox={ "0 0 " (number(ROOM[0] + 4.0)) " " (number(ROOM[1])) }
            aria-hidden="true" {
            defs {
                @for (n, piece) in pieces.iter().enumerate() { (shape(piece, &format!("{id}-{n}"))) }
            }
            @for (n, stretch) in &rows {
                (window(pieces[*n], &format!("{id}-{n}"), *stretch,
                    [(ROOM[0] - wide) / 2.0 + 2.0, y], scale))
                @let () = y += mm(pieces[*n].width) * scale + 8.0;
            }
        }
    }
}
