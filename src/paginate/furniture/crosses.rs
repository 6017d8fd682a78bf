//! Registration crosses: the same two on both tiles of a join, to lay one on the other.

use super::super::canvas::{Area, Canvas, Words, cap};
use super::super::lanes::{Join, Lane};
use super::super::sheet::{Anchor, Cross, Layer, Pen};
use super::line;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::layout::Piece;

/// From the strap's edge to the middle of a cross.
const OUT: Length = Length::from_mm(5);
const ARM: Length = Length::from_um(2_500);
/// Kept free about crosses and their labels.
pub(super) const CLEAR: Length = Length::from_mm(1);
const SIZE: Length = Length::from_um(2_500);
const TO_LABEL: Length = Length::from_um(3_500);
/// How far a match line goes beyond the strap's edge.
const BEYOND: Length = Length::from_mm(1);

/// Draws the crosses and match lines at both ends of a lane.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) -> Vec<Cross> {
    let mut crosses = Vec::new();
    let reach = piece.width / 2 + BEYOND;
    for join in lane.joins() {
        let (number, x) = join;
        let match_line = Path::line(lane.at(x, -reach), lane.at(x, reach));
        canvas.stroke(Layer::Guides, Pen::Thin, vec![match_line]);
        let on_sheet = lane.at(x, Length::ZERO);
        let thin =
            Extent { from: on_sheet.x, to: on_sheet.x }.grown(Length::from_um(200));
        let high = Extent { from: on_sheet.y, to: on_sheet.y }.grown(reach);
        canvas.take(Area::new(thin, high));
        for (side, y) in [('a', piece.width / 2 + OUT), ('b', -(piece.width / 2 + OUT))] {
            let label = format!("{number}{side}");
            crosses.push(cross(canvas, lane, join, y, label));
        }
    }
    crosses
}

fn cross(
    canvas: &mut Canvas,
    lane: &Lane,
    join: Join,
    y: Length,
    label: String,
) -> Cross {
    let (_, x) = join;
    let at = lane.at(x, y);
    let arms = vec![
        line(at.x - ARM, at.y, at.x + ARM, at.y),
        line(at.x, at.y - ARM, at.x, at.y + ARM),
    ];
    canvas.stroke(Layer::Guides, Pen::Punch, arms);
    canvas.take(Area::about(at, ARM).grown(CLEAR));
    // Beyond the match line, where the tile's own rulers matter least.
    let low = at.y - cap(SIZE) / 2;
    let words = if lane.left == Some(join) {
        Words::new(Point::new(at.x - TO_LABEL, low), Anchor::End, SIZE, &label)
    } else {
        Words::new(Point::new(at.x + TO_LABEL, low), Anchor::Start, SIZE, &label)
    };
    canvas.take(words.area().grown(CLEAR));
    canvas.write(words);
    Cross { label, on_strap: Point::<Strap>::new(x, y), at }
}

/// Names each match line, where there is room for the words beside it.
pub(super) fn name_joins(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let size = Length::from_um(2_200);
    let aside = Length::from_mm(1);
    for join in lane.joins() {
        let (number, x) = join;
        let text = format!("join {number}");
        let edge = piece.width / 2 - Length::from_um(1_200);
        for y in [edge - cap(size), -edge + size / 4] {
            let (at, anchor) = if lane.left == Some(join) {
                (lane.at(x - aside, y), Anchor::End)
            } else {
                (lane.at(x + aside, y), Anchor::Start)
            };
            if canvas.try_write(Words::new(at, anchor, size, &text), Length::from_um(600))
            {
                break;
            }
        }
    }
}
