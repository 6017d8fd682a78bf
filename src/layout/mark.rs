//! What a layout is made of: pieces, their outlines, their marks.

use super::guide::Guide;
use super::role::MarkRole;
use crate::diagnostic::Span;
use crate::geom::clip::clip;
use crate::geom::{Bend, Extent, Length, Path, Point, Strap};
use crate::input::worded;
use crate::job::{FeatureId, PieceId};
use crate::words::{Name, Word, Wording};
use serde::Serialize;

worded! {
    /// What a mark asks the maker to do.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
    pub enum MarkKind {
        /// Cut the strap's end here: the square end of the buckle side.
        End = "end",
        /// Fold here.
        Bend = "bend",
        /// Cut a slot.
        Slot = "slot",
        /// Punch for a rivet, screw post or snap.
        Fastener = "fastener",
        /// Punch a size hole.
        Hole = "hole",
        /// Punch for a decorative fitting.
        Fitting = "fitting",
        /// Punch for an eyelet.
        Eyelet = "eyelet",
        /// Punch for one half of a snap: its cap or its post.
        Snap = "snap",
        /// Prick for a stitch.
        Stitch = "stitch",
        /// Slit with a knife: nothing is taken away.
        Slit = "slit",
        /// Line the paper up with what the blank already has; punch nothing.
        Target = "target",
        /// The point of the tip.
        Tip = "tip",
    }
}

impl MarkKind {
    /// The word in the table of marks.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, kind)| *kind == self).map_or("", |(word, _)| word)
    }
}

/// The form of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Shape {
    /// A round hole of true diameter.
    Round {
        /// Its diameter.
        diameter: Length,
    },
    /// A slot or oval hole with half-round ends, along the strap or, where it is wider than
    /// long, across it.
    Slot {
        /// Over all, along x.
        length: Length,
        /// Over all, along y.
        width: Length,
    },
    /// A line across the whole strap.
    Across,
    /// A place without a form of its own: the point of the tip.
    Point,
}

impl Shape {
    /// Its length along the strap and its width; `None` for what has no form of its own.
    pub fn size(self) -> Option<[Length; 2]> {
        match self {
            Self::Round { diameter } => Some([diameter; 2]),
            Self::Slot { length, width } => Some([length, width]),
            Self::Across | Self::Point => None,
        }
    }
}

/// One mark, in strap coordinates.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Mark {
    /// The feature that asked for it.
    pub feature: FeatureId,
    /// Which of the feature's marks it is.
    pub role: MarkRole,
    /// What it asks for.
    pub kind: MarkKind,
    /// Its form.
    pub shape: Shape,
    /// Its middle.
    pub at: Point<Strap>,
    /// On a print of nested sizes the size that it belongs to; `None` for what all have.
    pub size: Option<Box<str>>,
    /// The line that asked for it.
    #[serde(skip)]
    pub span: Option<Span>,
}

impl Mark {
    /// The stretch of strap that it takes, along x.
    pub fn x_extent(&self) -> Extent {
        let [length, _] = self.shape.size().unwrap_or_default();
        Extent::at(self.at.x).grown(length / 2)
    }

    /// The stretch of strap that it takes, along y.
    pub fn y_extent(&self) -> Extent {
        let [_, width] = self.shape.size().unwrap_or_default();
        Extent::at(self.at.y).grown(width / 2)
    }

    /// Its closed outline; `None` for what has no form of its own.
    pub fn path(&self) -> Option<Path<Strap>> {
        match self.shape {
            Shape::Round { diameter } => Some(Path::circle(self.at, diameter / 2)),
            Shape::Slot { length, width } => Some(Path::slot(self.at, length, width)),
            Shape::Across | Shape::Point => None,
        }
    }

    /// Whether there is or will be an opening here, punched or on the blank already.
    pub fn is_opening(&self) -> bool {
        self.is_punched() || matches!(self.kind, MarkKind::Target | MarkKind::Slit)
    }

    /// Whether leather is taken away here.
    pub fn is_punched(&self) -> bool {
        matches!(
            self.kind,
            MarkKind::Slot
                | MarkKind::Fastener
                | MarkKind::Hole
                | MarkKind::Fitting
                | MarkKind::Eyelet
                | MarkKind::Snap
                | MarkKind::Stitch
        )
    }
}

/// A place where the piece folds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct FoldLine {
    /// The feature that folds.
    pub feature: FeatureId,
    /// Along x, the middle of the bend.
    pub at: Length,
    /// The cut end that is folded back.
    pub end: Length,
    /// How much the bend takes up, half of it on either side.
    pub bend: Bend,
}

/// A change of width.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WidthChange {
    /// Where along x.
    pub extent: Extent,
    /// Width of the piece before it.
    pub before: Length,
    /// Width of the piece after it.
    pub after: Length,
    /// Whether two arcs make it, which are twice as steep in the middle.
    pub smooth: bool,
    /// The line that asked for it.
    #[serde(skip)]
    pub span: Option<Span>,
}

/// Which of the equal pieces of a job one is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct PieceCopy {
    /// Its number, from 1.
    pub n: u32,
    /// How many there are.
    pub of: u32,
    /// Whether it is cut the other way round.
    pub mirrored: bool,
}

impl PieceCopy {
    /// The copy of a piece that there is one of.
    pub const SINGLE: Self = Self { n: 1, of: 1, mirrored: false };
}

/// One piece of leather.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Piece {
    /// Which piece of the job it is.
    pub id: PieceId,
    /// Which of its copies.
    pub copy: PieceCopy,
    /// What all its copies are called, `strap` for the strap itself.
    pub name: Name,
    /// Its greatest width.
    pub width: Length,
    /// Thickness of its leather.
    pub thickness: Length,
    /// From its one end to its other, along x.
    pub extent: Extent,
    /// What the knife follows, closed, clockwise.
    pub outline: Path<Strap>,
    /// Its marks, by x, then y.
    pub marks: Vec<Mark>,
    /// Stretches along x in which the outline is there already, on a ready-cut blank.
    pub on_blank: Vec<Extent>,
    /// How it folds about x = 0, if it folds there.
    pub bend: Option<Bend>,
    /// Every place where it folds, that at x = 0 too.
    pub folds: Vec<FoldLine>,
    /// Where its width changes, in their order along x.
    pub width_changes: Vec<WidthChange>,
    /// What is drawn on it besides.
    pub guides: Vec<Guide>,
}

impl Piece {
    /// A piece with an outline and nothing on it, the only one of its kind.
    pub fn plain(
        id: PieceId,
        name: Name,
        width: Length,
        thickness: Length,
        outline: Path<Strap>,
    ) -> Self {
        Self {
            id,
            copy: PieceCopy::SINGLE,
            name,
            width,
            thickness,
            extent: outline.x_extent(),
            outline,
            marks: Vec::new(),
            on_blank: Vec::new(),
            bend: None,
            folds: Vec::new(),
            width_changes: Vec::new(),
            guides: Vec::new(),
        }
    }

    /// What it is called in tables and messages, the number of the copy with it: `strap`,
    /// `front-1`, `front-2-mirrored`.
    pub fn key(&self) -> String {
        let mirrored = if self.copy.mirrored { "-mirrored" } else { "" };
        match self.copy.of {
            1 => self.name.to_string(),
            _ => format!("{}-{}{mirrored}", self.name, self.copy.n),
        }
    }

    /// What it is called on paper: `front-2, mirrored`.
    pub fn label(&self, wording: Wording) -> String {
        let mut label = wording.name(&self.name).to_owned();
        if self.copy.of > 1 {
            label = format!("{label}-{}", self.copy.n);
        }
        if self.copy.mirrored {
            label = format!("{label}, {}", wording.say(Word::Mirrored));
        }
        label
    }

    /// What a tape hooked on the outside of the bend reads at `x`; zero within the bend.
    /// Without a bend it counts from x = 0.
    pub fn from_bend(&self, x: Length) -> Length {
        match self.bend {
            Some(bend) if x.abs() <= bend.take_up / 2 => Length::ZERO,
            Some(bend) => x.abs() + bend.from_fold_to_outside(),
            None => x.abs(),
        }
    }

    /// How wide it is at `x`, within a change of width the narrower of the two; the forms of
    /// its ends do not count.
    pub fn width_at(&self, x: Length) -> Length {
        let Some(first) = self.width_changes.first() else { return self.width };
        let begun = self.width_changes.iter().rfind(|s| s.extent.from <= x);
        match begun {
            Some(change) if x < change.extent.to => change.before.min(change.after),
            Some(change) => change.after,
            None => first.before,
        }
    }

    /// Its least width; the forms of its ends do not count.
    pub fn narrowest(&self) -> Length {
        let widths = self.width_changes.iter().flat_map(|s| [s.before, s.after]);
        widths.min().unwrap_or(self.width)
    }

    /// Its least width within a stretch; the forms of its ends do not count.
    pub fn narrowest_between(&self, stretch: Extent) -> Length {
        let met =
            |s: &&WidthChange| s.extent.from < stretch.to && stretch.from < s.extent.to;
        let widths =
            self.width_changes.iter().filter(met).flat_map(|s| [s.before, s.after]);
        let first = self.width_at(stretch.from);
        widths.fold(first, Length::min)
    }

    /// From its lower edge at the lowest to its upper edge at the highest, within a stretch;
    /// `None` where it is not there.
    pub fn edges(&self, stretch: Extent) -> Option<Extent> {
        let runs = clip(&self.outline, stretch).into_iter().map(|run| run.y_extent());
        runs.reduce(|a, b| Extent { from: a.from.min(b.from), to: a.to.max(b.to) })
    }

    /// How far it and its marks reach from the centre line at most, within a stretch.
    pub fn reach(&self, stretch: Extent) -> Length {
        let edge = self.edges(stretch).into_iter();
        let marks = self.marks_between(stretch).iter();
        let own = marks.filter(|m| m.shape != Shape::Across).map(Mark::y_extent);
        let guides = self
            .guides
            .iter()
            .filter(|d| d.whole().is_some_and(|whole| stretch.holds(whole)));
        let all = edge.chain(own).chain(guides.map(Guide::y_extent));
        all.map(|y| y.to.max(-y.from)).max().unwrap_or(Length::ZERO)
    }

    /// The marks that a feature asked for.
    pub fn marks_of(&self, feature: FeatureId) -> impl Iterator<Item = &Mark> + Clone {
        self.marks.iter().filter(move |m| m.feature == feature)
    }

    /// The marks whose middle lies within `stretch`.
    pub fn marks_between(&self, stretch: Extent) -> &[Mark] {
        let from = self.marks.partition_point(|m| m.at.x < stretch.from);
        let to = self.marks.partition_point(|m| m.at.x <= stretch.to);
        self.marks.get(from..to).unwrap_or_default()
    }
}

/// All pieces of a job, with every mark in its place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Layout {
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// The names of the features, by their ids.
    pub features: Vec<Name>,
}

impl Layout {
    /// The name of the feature that asked for a mark of this layout.
    pub fn feature(&self, mark: &Mark) -> &Name {
        &self.features[mark.feature.0]
    }

    /// The label of a mark of this layout ([`Mark::label`]).
    pub fn label(&self, mark: &Mark, wording: Wording) -> String {
        mark.label(self.feature(mark), wording)
    }
}
