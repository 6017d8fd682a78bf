//! The hardware of a strap, as the job describes it: each table with `hardware` is one object,
//! and `[buckle]` is one without a word.

use super::origin::Origin;
use super::section::{Section, table};
use super::{FeatureId, Spanned};
use crate::diagnostic::{Finding, Span};
use crate::geom::Length;
use crate::input::Takes;
use crate::job::rule;
use crate::words::Name;

/// One kind of hardware: its index in [`super::Job::hardware`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HardwareId(pub usize);

/// What the holes of a feature close on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A buckle, a stud or a lace.
    Hardware(HardwareId),
    /// The holes of another feature.
    Feature(Spanned<FeatureId>),
}

/// An object of metal, or a lace, with the measures that the job gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareSpec {
    /// The name of its table.
    pub name: Name,
    /// Where its table stands.
    pub span: Option<Span>,
    /// What it is.
    pub kind: HardwareKind,
}

/// The kinds of hardware. Every rule about hardware asks this, so it serves every template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HardwareKind {
    /// A buckle with a tongue.
    Buckle(Buckle),
    /// What a fold closes round: a ring, the eye of a hook, or a bar.
    Ring {
        /// Its diameter across the metal.
        bar: Spanned<Length>,
        /// Clear width for the strap.
        inside: Option<Spanned<Length>>,
        /// Whether all that hold it share one.
        shared: bool,
    },
    /// A cap rivet, which is hammered down.
    Rivet(Post),
    /// A screw post, which is screwed together.
    ScrewPost(Post),
    /// A snap.
    Snap {
        /// Hole for the cap.
        cap: Spanned<Length>,
        /// Hole for the post.
        post: Spanned<Length>,
        /// The cap across.
        face: Option<Spanned<Length>>,
    },
    /// An eyelet.
    Eyelet {
        /// Its barrel across.
        barrel: Spanned<Length>,
        /// Its flange across.
        flange: Option<Spanned<Length>>,
    },
    /// A stud or a button, over which a button hole closes.
    Stud {
        /// Its neck across.
        neck: Spanned<Length>,
        /// Its head across.
        head: Option<Spanned<Length>>,
    },
    /// A lace.
    Lace(Spanned<Length>),
}

table! {
    /// A buckle whose tongue goes through holes.
    pub struct Buckle(t) with {
        let tongues = t.count_up_to("tongues", 20);
    } {
        /// Diameter of the bar that the strap folds round.
        bar: Spanned<Length> = t.size("bar"),
        /// From the bar's centre to where the hole sits on the tongue.
        reach: Spanned<Length> = t.size("reach"),
        /// From the bar's centre to the far edge of the frame.
        frame: Option<Spanned<Length>> = t.size_if("frame"),
        /// Clear width for the strap.
        inside: Option<Spanned<Length>> = t.size_if("inside"),
        /// Width of a tongue.
        tongue: Spanned<Length> = t.size("tongue"),
        /// From one tongue to the next.
        apart: Spanned<Length> = t.size_where("tongues-apart", tongues.value > 1),
        /// How many tongues there are.
        tongues: Spanned<u32> = tongues,
    }
}

/// A rivet or a screw post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Post {
    /// Hole for it.
    pub hole: Spanned<Length>,
    /// Its length from base to end; `None` where it is not checked.
    pub length: Option<Spanned<Length>>,
}

/// The table of the buckle that a strap round a body closes with.
pub(super) const BUCKLE: &str = "buckle";

/// Holes for the posts of rivets (3 to 4 mm) and screw posts (5 mm for most): common practice,
/// no source.
const RIVET_HOLE: Length = Length::from_mm(4);
/// See [`RIVET_HOLE`].
const SCREW_HOLE: Length = Length::from_mm(5);

type ReadTable = fn(&Section<'_, '_>) -> HardwareKind;

impl HardwareKind {
    /// Each kind by the word that `hardware = ` takes, with the reader of its table.
    const KINDS: [(&'static str, ReadTable); 10] = [
        ("buckle", |t| Self::Buckle(Buckle::read(t))),
        ("ring", ring),
        ("hook", ring),
        ("bar", ring),
        ("rivet", |t| Self::Rivet(Post::read(t, RIVET_HOLE))),
        ("screw-post", |t| Self::ScrewPost(Post::read(t, SCREW_HOLE))),
        ("snap", |t| Self::Snap {
            cap: t.size("cap"),
            post: t.size("post"),
            face: wider(t, "face", "cap"),
        }),
        ("eyelet", |t| Self::Eyelet {
            barrel: t.size("barrel"),
            flange: wider(t, "flange", "barrel"),
        }),
        ("stud", |t| Self::Stud { neck: t.size("neck"), head: wider(t, "head", "neck") }),
        ("lace", |t| Self::Lace(t.size("thickness"))),
    ];

    /// The words that `hardware = ` takes.
    pub fn names() -> impl Iterator<Item = &'static str> {
        Self::KINDS.iter().map(|(name, _)| *name)
    }

    /// What may stand in place of a kind: all that is held, or set, in the same way.
    pub fn family(kind: &str) -> &str {
        match kind {
            "hook" | "bar" => "ring",
            "screw-post" => "rivet",
            other => other,
        }
    }

    fn read(t: &Section<'_, '_>) -> Option<Self> {
        let given = t.text("hardware");
        let known = Self::KINDS.iter().find(|(name, _)| *name == given.value);
        if known.is_none() {
            t.accept_all();
            t.reader.find(
                Finding::unknown_name(
                    rule::UNKNOWN_HARDWARE,
                    "hardware",
                    &given.value,
                    Self::names(),
                )
                .at(given.span),
            );
        }
        known.map(|(_, read)| read(t))
    }

    /// The bar that a strap folds round; `None` where there is none.
    pub fn bar(&self) -> Option<&Spanned<Length>> {
        self.bar_and_inside().map(|(bar, _)| bar)
    }

    /// The clear width that it has for the strap, where the job says so.
    pub fn inside(&self) -> Option<&Spanned<Length>> {
        self.bar_and_inside().and_then(|(_, inside)| inside)
    }

    fn bar_and_inside(&self) -> Option<(&Spanned<Length>, Option<&Spanned<Length>>)> {
        match self {
            Self::Buckle(Buckle { bar, inside, .. }) | Self::Ring { bar, inside, .. } => {
                Some((bar, inside.as_ref()))
            }
            Self::Rivet(_)
            | Self::ScrewPost(_)
            | Self::Snap { .. }
            | Self::Eyelet { .. }
            | Self::Stud { .. }
            | Self::Lace(_) => None,
        }
    }

    /// How wide the part is that covers its hole, where the job says so.
    pub fn face(&self) -> Option<Length> {
        let (Self::Snap { face, .. } | Self::Eyelet { flange: face, .. }) = self else {
            return None;
        };
        face.as_ref().map(|given| given.value)
    }

    /// The hole that it is set in; `None` for what is not set in a hole.
    pub fn hole(&self) -> Option<&Spanned<Length>> {
        match self {
            Self::Rivet(post) | Self::ScrewPost(post) => Some(&post.hole),
            Self::Snap { post: hole, .. } | Self::Eyelet { barrel: hole, .. } => {
                Some(hole)
            }
            Self::Buckle(_) | Self::Ring { .. } | Self::Stud { .. } | Self::Lace(_) => {
                None
            }
        }
    }
}

fn ring(t: &Section<'_, '_>) -> HardwareKind {
    HardwareKind::Ring {
        bar: t.size("bar"),
        inside: t.size_if("inside"),
        shared: t.truth_or("shared", false),
    }
}

/// The measure of a part that is wider than another of the same hardware.
fn wider(t: &Section<'_, '_>, key: &str, narrow: &str) -> Option<Spanned<Length>> {
    let wide = t.size_if(key)?;
    let within = t.length_if(narrow)?;
    if wide.value <= within.value {
        let [wider, narrower] = [key, narrow].map(|key| t.full_name(key));
        t.reader.find(
            Finding::error(
                rule::BAD_LENGTH,
                format!("`{wider}` is no more than `{narrower}`"),
            )
            .at(wide.span.clone())
            .expected(wide.value.both(), format!("more than {}", within.value.both()))
            .remedy("are the two swapped?"),
        );
    }
    Some(wide)
}

impl Post {
    fn read(t: &Section<'_, '_>, usual: Length) -> Self {
        let hole = t.size_or("hole", &Spanned::without_span(usual));
        Self { hole, length: t.size_if("post") }
    }
}

impl HardwareSpec {
    /// Reads a table that has `hardware`, or `[buckle]`, which needs no such key but says more:
    /// the strap's fit is reckoned from it. `None` for an unknown kind, which is a finding.
    pub(super) fn read(t: &Section<'_, '_>, origin: &Origin) -> Option<Self> {
        let kind = if t.name == BUCKLE {
            t.lacks("frame", "a length with its unit");
            t.lacks("inside", "a length with its unit");
            // A name of the workshop stands for its kind here.
            t.takes("hardware", Takes::Text);
            t.choice_or("hardware", &[(BUCKLE, ())], ());
            HardwareKind::Buckle(Buckle::read(t))
        } else {
            HardwareKind::read(t)?
        };
        Some(Self { name: origin.table(t.name), span: t.span.clone(), kind })
    }
}
