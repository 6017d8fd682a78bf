//! The table of marks, for spreadsheets and machines.

use super::{cell, csv};
use crate::geom::Length;
use crate::layout::{Layout, Shape};
use std::iter;

const HEADER: [&str; 8] = [
    "piece",
    "feature",
    "kind",
    "x_mm",
    "y_mm",
    "from_bend_mm",
    "diameter_mm",
    "length_mm",
];

/// The marks of `layout` as CSV: a header, then one row a mark, in strap coordinates, by
/// piece, then x, then y. Millimetres are exact, with three to six decimals;
/// `from_bend_mm` is what a tape hooked on the outside of the bend reads. A slot's
/// `diameter_mm` is that of its half-round ends and its `length_mm` is over all; what a
/// mark does not have stays empty. Names are [`cell`]s.
pub fn marks(layout: &Layout) -> String {
    let mut rows: Vec<_> = layout
        .pieces
        .iter()
        .flat_map(|piece| piece.marks.iter().map(move |mark| (piece, mark)))
        .collect();
    rows.sort_by_cached_key(|(piece, mark)| (piece.key(), mark.at.x, mark.at.y));
    let rows = rows.into_iter().map(|(piece, mark)| {
        let (diameter, length) = match mark.shape {
            Shape::Round { diameter } => (exact_mm(diameter), String::new()),
            Shape::Slot { length, width } => (exact_mm(width), exact_mm(length)),
            Shape::Across | Shape::Point => (String::new(), String::new()),
        };
        [
            cell(&piece.key()).into_owned(),
            cell(layout.feature(mark).as_str()).into_owned(),
            mark.kind.word().to_owned(),
            exact_mm(mark.at.x),
            exact_mm(mark.at.y),
            exact_mm(piece.from_bend(mark.at.x)),
            diameter,
            length,
        ]
    });
    csv(iter::once(HEADER.map(ToOwned::to_owned)).chain(rows))
}

/// All the decimals that there are, and at least three, so that columns line up.
pub(super) fn exact_mm(length: Length) -> String {
    let mut text = length.mm(6);
    for _ in 0..3 {
        if text.ends_with('0') {
            text.pop();
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Bend, Extent, Path, Point};
    use crate::job::{FeatureId, PieceId};
    use crate::layout::{Mark, MarkKind, MarkRole, Piece, PieceCopy};
    use crate::words::Name;

    fn mark(kind: MarkKind, shape: Shape, x_um: i64, y_um: i64) -> Mark {
        let at = Point::new(Length::from_um(x_um), Length::from_um(y_um));
        let (feature, role) = (FeatureId(0), MarkRole::Only);
        Mark { feature, role, kind, shape, at, size: None, span: None }
    }

    fn piece(id: PieceId, name: &str, marks: Vec<Mark>, bend: Option<Bend>) -> Piece {
        let zero = Point::new(Length::ZERO, Length::ZERO);
        Piece {
            id,
            copy: PieceCopy::SINGLE,
            name: Name::given(name),
            width: Length::from_mm(30),
            thickness: Length::from_mm(3),
            extent: Extent::new(Length::from_mm(-60), Length::from_mm(900)),
            outline: Path::from(zero),
            marks,
            on_blank: Vec::new(),
            bend,
            folds: Vec::new(),
            width_changes: Vec::new(),
            guides: Vec::new(),
        }
    }

    #[test]
    fn rows_are_exact_and_in_order() {
        let round = Shape::Round { diameter: Length::from_inch_64ths(1) };
        let slot =
            Shape::Slot { length: Length::from_mm(25), width: Length::from_um(4_500) };
        let strap = vec![
            mark(MarkKind::Hole, round, 831_850, 5_000),
            mark(MarkKind::Hole, round, 831_850, -5_000),
            mark(MarkKind::Slot, slot, 0, 0),
            mark(MarkKind::End, Shape::Across, -60_000, 0),
        ];
        let bend = Bend {
            bar: Length::from_mm(4),
            thickness: Length::from_mm(3),
            take_up: Length::from_mm(10),
        };
        let outside = bend.from_fold_to_outside();
        let keeper = vec![mark(MarkKind::Tip, Shape::Point, 1, 0)];
        let pieces = vec![
            piece(PieceId::STRAP, "strap", strap, Some(bend)),
            piece(PieceId::other(0), "keeper", keeper, None),
        ];
        let features = vec![Name::given("size, holes")];

        let from = |um| exact_mm(Length::from_um(um) + outside);
        let expected = format!(
            "piece,feature,kind,x_mm,y_mm,from_bend_mm,diameter_mm,length_mm\n\
             keeper,\"size, holes\",tip,0.001,0.000,0.001,,\n\
             strap,\"size, holes\",end,-60.000,0.000,{},,\n\
             strap,\"size, holes\",slot,0.000,0.000,0.000,4.500,25.000\n\
             strap,\"size, holes\",hole,831.850,-5.000,{},0.396875,\n\
             strap,\"size, holes\",hole,831.850,5.000,{},0.396875,\n",
            from(60_000),
            from(831_850),
            from(831_850),
        );
        assert_eq!(marks(&Layout { pieces, features }), expected);
    }
}
