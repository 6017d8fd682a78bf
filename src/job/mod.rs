//! From the text of a job to one checked [`Job`]: the job is merged into its template, key by
//! key, and every mistake is collected with its span.

mod chain;
mod feature;
mod hardware;
mod hazard;
mod house;
mod id;
mod keys;
mod limits;
mod names;
mod origin;
mod own_measure;
mod piece;
mod read;
mod resolve;
pub(crate) mod rule;
mod section;
mod set;
mod shape;
mod slip;
mod stock;
mod sum;

pub use feature::{
    Between, ButtonHole, ClosesRound, Course, Crease, Facts, Fasteners, Feature,
    FeatureKind, Fitting, Fold, Held, Hole, HoleRow, Join, Row, RowCount, Rows, Run,
    Side, Slot, SlotFacts, Snap, Spacing, Spread, Stamp, Stitch, Taper, Tip, TipShape,
    Use, Words,
};
pub use hardware::{Buckle, HardwareId, HardwareKind, HardwareSpec, Post, Target};
pub use hazard::Hazard;
pub(crate) use house::find_in_entry;
pub use id::{FeatureId, PieceId};
pub use keys::{hardware_keys, hardware_kinds, keys_of, kinds, plain_tables, top_keys};
pub use piece::{Form, Keeper, LiningHoles, PieceSpec};
pub(crate) use read::JobText;
pub use read::{ParsedJob, TemplateChain, key_at, read, read_template};
pub use rule::RULES;
pub use set::{SET, set_values};
pub use shape::WORKSHOP_KEYS;
pub use stock::{Size, Stock};

pub use crate::diagnostic::Spanned;
pub use crate::input::Takes;

use crate::diagnostic::Span;
use crate::geom::{Length, Ratio};
use crate::input::worded;
use crate::words::Name;
use origin::Origin;

/// The name of a datum that a feature is placed from, to be looked up by the layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DatumRef {
    /// `feature.datum`.
    pub name: String,
    /// Where it stands.
    pub span: Option<Span>,
    /// Another datum: the place is then the middle between the two.
    pub and: Option<Box<Self>>,
}

/// A place along a piece: so far past a datum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The datum.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
}

impl Place {
    /// The line that says where it is.
    pub fn span(&self) -> Option<&Span> {
        self.by.span.as_ref().or(self.from.span.as_ref())
    }
}

/// One strap for one wearer, every value resolved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// The name of its template.
    pub template: String,
    /// What is made.
    pub title: Spanned<String>,
    /// For whom; may be empty.
    pub wearer: Spanned<String>,
    /// The leather.
    pub strap: Leather,
    /// What was measured and the buckle that closes the strap.
    pub worn: Option<Worn>,
    /// The sizes that are kept in stock.
    pub stock: Option<Stock>,
    /// What a strap that closes round nobody serves.
    pub serves: Option<Serves>,
    /// The ready-cut blank, if the strap is made from one.
    pub blank: Blank,
    /// The strip that all pieces of the strap's leather are to be cut from.
    pub strip: Option<Strip>,
    /// What a strap of its kind may do harm by.
    pub hazards: Vec<Hazard>,
    /// The dotted keys of hardware that is to be measured, besides those of the buckle.
    pub measured: Vec<String>,
    /// The hardware that it describes, in the order of the template.
    pub hardware: Vec<HardwareSpec>,
    /// The measures of hardware that it leaves to a template of the program and that move holes;
    /// filled in by [`crate::prepare`].
    pub assumed: Vec<Assumed>,
    /// The pieces other than the strap itself, in the order of the template.
    pub pieces: Vec<PieceSpec>,
    /// What is placed on the pieces, in the order of the template.
    pub features: Vec<Feature>,
    /// Who named what.
    origin: Origin,
}

impl Job {
    /// What is asked of a piece; `None` for the strap, which [`Job::strap`] is about.
    pub fn piece(&self, id: PieceId) -> Option<&PieceSpec> {
        self.pieces.get(id.index()?)
    }

    /// Whether something hangs on the strap or pulls at it.
    pub fn bears_load(&self) -> bool {
        self.hazards.contains(&Hazard::Load)
    }

    /// The name of a piece.
    pub fn piece_name(&self, id: PieceId) -> Name {
        self.piece(id).map_or_else(|| Name::built_in(STRAP), |piece| piece.name.clone())
    }

    /// The leather of a piece.
    pub fn leather(&self, id: PieceId) -> &Leather {
        self.piece(id).map_or(&self.strap, |piece| &piece.leather)
    }

    /// Thickness of a piece with the linings on it, as a bend or a keeper has to do with.
    pub fn made_up_thickness(&self, id: PieceId) -> Length {
        let lines = |p: &&PieceSpec| {
            let is_of = matches!(&p.form, Form::Lining { of, .. } if of.value == id);
            is_of && p.count.value > 0
        };
        let linings = self.pieces.iter().filter(lines).map(|p| p.leather.thickness.value);
        self.leather(id).thickness.value + linings.sum()
    }

    /// The feature of an id, which is one of this job's.
    pub fn feature(&self, id: FeatureId) -> &Feature {
        &self.features[id.0]
    }

    /// The hardware of an id, which is one of this job's.
    pub fn hardware(&self, id: HardwareId) -> &HardwareSpec {
        &self.hardware[id.0]
    }

    /// All buckles.
    pub fn buckles(&self) -> impl Iterator<Item = (HardwareId, &Buckle)> {
        let ids = (0..self.hardware.len()).map(HardwareId);
        ids.filter_map(|id| Some((id, self.buckle(id)?)))
    }

    /// The buckle of an id; `None` where that is no buckle.
    pub fn buckle(&self, id: HardwareId) -> Option<&Buckle> {
        match &self.hardware(id).kind {
            HardwareKind::Buckle(buckle) => Some(buckle),
            _ => None,
        }
    }

    /// The buckle that the strap closes with on its wearer.
    pub fn worn_buckle(&self) -> Option<&Buckle> {
        self.buckle(self.worn.as_ref()?.buckle?)
    }

    /// The hardware and the pieces that a workshop has names of its own for, each with the name
    /// of its table and that of the workshop.
    pub fn house_names(&self) -> impl Iterator<Item = (Name, &str)> {
        self.origin.house_names().map(|(table, name)| (self.origin.table(table), name))
    }

    /// The name that a value of the job gives to something: its title, say.
    pub fn name(&self, given: &Spanned<String>) -> Name {
        self.origin.value(given)
    }
}

/// A measure of hardware that the job does not give and that moves holes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumed {
    /// Its dotted key.
    pub key: String,
    /// Its value, as the template has it.
    pub value: String,
    /// How far the hole that moves most is moved by one millimetre of it.
    pub moves: Length,
}

/// What a job calls the strap itself.
pub const STRAP: &str = "strap";

/// The leather of the strap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Leather {
    /// Width of the strap.
    pub width: Spanned<Length>,
    /// Thickness of one layer.
    pub thickness: Spanned<Length>,
    /// How deep in the thickness the neutral line of a bend lies, from the inside.
    pub k: Spanned<Ratio>,
}

/// A strap that closes round a body.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worn {
    /// What was measured.
    pub measure: Measure,
    /// The buckle; `None` where something else closes the strap, a snap say.
    pub buckle: Option<HardwareId>,
}

/// Which length a hole, or the finished strap, serves, where that is not a girth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Serves {
    /// What the length is: `worn length`.
    pub what: Spanned<String>,
    /// The feature whose holes serve one length each.
    pub holes: Spanned<FeatureId>,
    /// What a hole at x = 0 would serve. Where it is left out, a strap that closes round a body
    /// serves the girth that follows from its fit, any other nothing.
    pub offset: Option<Spanned<Length>>,
    /// The shortest length that the holes must reach.
    pub least: Option<Spanned<Length>>,
    /// The longest length that the holes must reach.
    pub most: Option<Spanned<Length>>,
    /// How much more each millimetre further along serves: 1, or 0.5 where the strap runs
    /// double.
    pub per: Spanned<Ratio>,
}

worded! {
    /// How the measure was taken.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum MeasureMethod {
        /// A tape round the body.
        Tape = "tape",
        /// A tape round the body with the fingers under it that the strap is to have room for.
        TapeWithFingers = "tape-with-fingers",
        /// On a belt: from the outside of the bend to the hole in use.
        BendToHole = "bend-to-hole",
        /// On a belt: from the middle of the buckle's bar to the hole in use.
        BarToHole = "bar-to-hole",
        /// On a belt: from the far edge of the buckle's frame to the hole in use.
        FrameToHole = "frame-to-hole",
        /// From the middle of the bar at x = 0 to the tip: how parts of watch straps are sold.
        BarToTip = "bar-to-tip",
        /// The number of the hole in use of a sizing strap that was worn.
        SizingStrap = "sizing-strap",
        /// The size of the trousers: an estimate.
        Trousers = "trousers",
    }
}

impl MeasureMethod {
    /// The word for it.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, taken)| *taken == self).map_or("", |(word, _)| word)
    }
}

worded! {
    /// Which part of the body the strap closes round.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Body {
        /// Waist or hips.
        Waist = "waist",
        /// Neck.
        Neck = "neck",
        /// Wrist.
        Wrist = "wrist",
        /// Forearm, for bracers.
        Forearm = "forearm",
        /// Head, for hat bands.
        Head = "head",
        /// Thigh, for garters.
        Thigh = "thigh",
        /// A dog's neck.
        DogNeck = "dog-neck",
    }
}

/// What was measured on the wearer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measure {
    /// How.
    pub taken: Spanned<MeasureMethod>,
    /// What the tape read; of a sizing strap the girth that its hole serves.
    pub value: Spanned<Length>,
    /// The number of the sizing strap's hole.
    pub hole: Option<Spanned<u32>>,
    /// What is added for comfort or clothes.
    pub ease: Spanned<Length>,
    /// Where.
    pub body: Body,
    /// What else lies in the closed loop, from where x = 0 lies back to the buckle: a watch and
    /// the other half of its strap, or the parts of a belt that come before this one.
    pub rest: Spanned<Length>,
    /// Diameter of the bar that the strap folds round at x = 0, where that is not the
    /// buckle's.
    pub bar: Option<Spanned<Length>>,
    /// Whether the wearer is a child; `None` where nothing is said.
    pub child: Option<Span>,
}

/// A strip or hide to cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strip {
    /// Its length.
    pub length: Spanned<Length>,
    /// Its width; where nothing is said, that of the widest piece.
    pub width: Option<Spanned<Length>>,
}

/// A ready-cut blank.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Blank {
    /// Its length from end to end, flat.
    pub length: Option<Spanned<Length>>,
    /// Its width, where it differs from the strap's.
    pub width: Option<Spanned<Length>>,
    /// The features that it came with.
    pub punched: Vec<Spanned<FeatureId>>,
}
