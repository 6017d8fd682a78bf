//! Texts of unlike letters on one line.

use super::canvas::TextItem;
use super::item::Anchor;
use crate::geom::{Length, Point, QuarterTurn, Sheet};

/// Texts that follow each other on one line as if they were one.
#[derive(Clone, Debug)]
pub(super) struct Run(pub(super) Vec<TextItem>);

impl Run {
    /// The part of a word that stands between two texts.
    const SPACE: (i64, i64) = (2, 5);

    /// Sets texts, whose own places do not count, about `at`. Empty ones are left out.
    pub(super) fn new(
        at: Point<Sheet>,
        anchor: Anchor,
        turn: QuarterTurn,
        mut parts: Vec<TextItem>,
    ) -> Self {
        parts.retain(|part| !part.text.is_empty());
        let space = |part: &TextItem| part.size.times(Self::SPACE.0, Self::SPACE.1);
        let spaces: Length = parts.iter().skip(1).map(space).sum();
        let width = parts.iter().map(TextItem::width).sum::<Length>() + spaces;
        let mut along = anchor.start(width);
        for part in &mut parts {
            part.at = at + turn.turned(along, Length::ZERO);
            (part.anchor, part.turn) = (Anchor::Start, turn);
            along += part.width() + space(part);
        }
        Self(parts)
    }

    /// How far it runs along its line.
    pub(super) fn width(&self) -> Length {
        let along = |text: &TextItem| match text.turn {
            QuarterTurn::None => text.at.x,
            QuarterTurn::Left => text.at.y,
        };
        let ends = self.0.first().zip(self.0.last());
        ends.map_or(Length::ZERO, |(a, b)| along(b) + b.width() - along(a))
    }
}
