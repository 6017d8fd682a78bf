//! The hardware of a strap, on its ticket and added up over many straps.

mod count;
mod lace;

use super::{Body, Part, TicketInput};
use crate::check::limits::RIVET_OVER;
use crate::geom::Length;
use crate::job::{Form, Job};
use crate::layout::{Layout, MarkKind};
use crate::words::{Name, Word, Wording};
use count::{feature_hardware, is_fold};
use std::collections::BTreeMap;
use std::fmt::Display;

/// What a piece of hardware is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A buckle whose measures the job gives.
    Buckle,
    /// A buckle whose clear width the job does not give.
    TongueBuckle,
    /// A ring, a hook or a bar in a fold.
    Ring,
    /// A rivet.
    Rivet,
    /// A screw post.
    ScrewPost,
    /// A rivet or a screw post: the job does not say which.
    Fastener,
    /// A rivet, a screw post or a stud that holds something of unknown thickness to the
    /// strap.
    FastenerOn,
    /// A stud or a button, whose neck goes through a button hole.
    Stud,
    /// A decorative fitting.
    Fitting,
    /// An eyelet.
    Eyelet,
    /// Half a snap.
    Snap,
    /// A lace.
    Lace,
    /// A keeper.
    Keeper,
}

/// One kind of hardware with its measures; what it has not, or the job does not say, is
/// `None`. Pieces of the same kind can replace each other, so they are counted together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hardware {
    /// What it is.
    pub kind: Kind,
    /// The diameter of the hole that it is set in.
    pub hole: Option<Length>,
    /// The thickness of all layers that it goes through.
    pub stack: Option<Length>,
    /// The clear width for the strap.
    pub inside: Option<Length>,
    /// The diameter of its bar.
    pub bar: Option<Length>,
    /// From the centre of the bar to the place of the hole on the tongue.
    pub reach: Option<Length>,
    /// The width of the strap in a ring, of the strip of a keeper; the thickness of a lace.
    pub width: Option<Length>,
    /// The length of the face of a fitting, of a lace that crosses over all holes, of the strip
    /// of a keeper.
    pub length: Option<Length>,
    /// The length of its post.
    pub post: Option<Length>,
}

impl Hardware {
    /// Hardware without measures.
    pub(super) const fn of(kind: Kind) -> Self {
        Self {
            kind,
            hole: None,
            stack: None,
            inside: None,
            bar: None,
            reach: None,
            width: None,
            length: None,
            post: None,
        }
    }

    /// Its measures with their names: the gaps of the phrases, the columns of tables.
    pub fn measures(self) -> [(&'static str, Option<Length>); 8] {
        [
            ("hole", self.hole),
            ("stack", self.stack),
            ("inside", self.inside),
            ("bar", self.bar),
            ("reach", self.reach),
            ("width", self.width),
            ("length", self.length),
            ("post", self.post),
        ]
    }

    /// The name of its kind in tables, and its phrase on the ticket.
    fn words_of_kind(self) -> (&'static str, Word) {
        match self.kind {
            Kind::Buckle => ("buckle", Word::Buckle),
            Kind::TongueBuckle => ("tongue-buckle", Word::TongueBuckle),
            Kind::Ring => ("ring", Word::Ring),
            Kind::Rivet => ("rivet", Word::Rivets),
            Kind::ScrewPost => ("screw-post", Word::ScrewPosts),
            Kind::Fastener => ("fastener", Word::Fasteners),
            Kind::FastenerOn => ("fastener-on", Word::FastenersOn),
            Kind::Stud => ("stud", Word::Studs),
            Kind::Fitting => ("fitting", Word::Fittings),
            Kind::Eyelet => ("eyelet", Word::Eyelets),
            Kind::Snap => ("snap", Word::Snaps),
            Kind::Lace => ("lace", Word::Laces),
            Kind::Keeper => ("keeper", Word::Keeper),
        }
    }

    /// The name of the kind in tables.
    pub fn kind(self) -> &'static str {
        self.words_of_kind().0
    }

    /// The line on the ticket for `count` pieces.
    pub fn words(self, count: usize, wording: Wording) -> String {
        let most = self.stack.map(|stack| stack + RIVET_OVER);
        let said = |(name, length): (&'static str, Option<Length>)| {
            let said = match (name, self.kind) {
                ("length", Kind::Keeper) => wording.length(length?, 1),
                ("length", Kind::Lace) => wording.girth(length?),
                _ => wording.size(length?),
            };
            Some((name, said))
        };
        let measures = self.measures().into_iter().chain([("most", most)]);
        let measures: Vec<(&str, String)> = measures.filter_map(said).collect();
        let mut gaps: Vec<(&str, &dyn Display)> = vec![("count", &count)];
        gaps.extend(measures.iter().map(|(name, said)| (*name, said as &dyn Display)));
        let line = wording.fill(self.words_of_kind().1, &gaps);
        let more = match self.kind {
            Kind::Buckle => return format!("{count} × {line}"),
            Kind::Lace => self.length.map(|_| Word::LaceLength),
            _ => self.post.map(|_| Word::PostGiven),
        };
        gaps.push(("line", &line));
        more.map_or_else(|| line.clone(), |word| wording.fill(word, &gaps))
    }
}

/// The number of each kind of hardware that a strap takes, its keepers included.
pub fn hardware(job: &Job, layout: &Layout) -> BTreeMap<Hardware, usize> {
    let mut counts = BTreeMap::new();
    for (kind, count) in feature_hardware(job, layout) {
        *counts.entry(kind).or_default() += count;
    }
    let keepers = job.pieces.iter().filter(|p| matches!(p.form, Form::Keeper(_)));
    for keeper in keepers {
        for piece in layout.pieces.iter().filter(|p| p.id == keeper.id) {
            let keeper = Hardware {
                width: Some(piece.width),
                length: Some(piece.extent.length()),
                ..Hardware::of(Kind::Keeper)
            };
            *counts.entry(keeper).or_default() += 1;
        }
    }
    counts
}

/// The part of the ticket, with the names of the workshop's own hardware; `None` for a strap
/// without hardware.
pub(super) fn part(input: &TicketInput<'_>) -> Option<Part> {
    let TicketInput { job, layout, wording, .. } = *input;
    let all = feature_hardware(job, layout).into_iter();
    let all = all.map(|(kind, count)| kind.words(count, wording));
    let is_piece = |name: &Name| layout.pieces.iter().any(|piece| piece.name == *name);
    let named = job.house_names().filter(|(what, _)| !is_piece(what));
    let named = named.map(|(what, name)| wording.labelled(wording.name(&what), name));
    let lines: Vec<String> = all.chain(named).collect();
    if lines.is_empty() {
        return None;
    }
    Some(Part::new(input, Word::Hardware, Body::Lines(lines)))
}

/// Whether there is hardware to set that no fold holds.
pub(super) fn sets_more_than_folds(input: &TicketInput<'_>) -> bool {
    let mut marks = input.layout.pieces.iter().flat_map(|p| &p.marks);
    marks.any(|m| {
        let feature = input.job.feature(m.feature);
        is_set(m.kind) && !is_fold(feature) && feature.mirror.is_none()
    })
}

/// Whether a fastener may be a screw post, for which the job does not say that there are rivets.
pub(super) fn may_have_screw_posts(input: &TicketInput<'_>) -> bool {
    let kinds = feature_hardware(input.job, input.layout);
    kinds.iter().any(|(one, _)| matches!(one.kind, Kind::ScrewPost | Kind::Fastener))
}

/// Whether the features need any hardware.
pub(super) fn needs_any(input: &TicketInput<'_>) -> bool {
    !feature_hardware(input.job, input.layout).is_empty()
}

fn is_set(kind: MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The collar is 25 mm wide where its ring is, and 40 mm elsewhere.
    #[test]
    fn a_ring_is_as_wide_as_the_strap_is_there() {
        let taper = |name: &str, by: &str, to: &str, width: &str| {
            format!(
                "{name} = {{ kind = \"taper\", from = \"ring-fastener.last\", \
                 by = \"{by}\", to = \"ring-fastener.last\", to-by = \"{to}\", \
                 width = \"{width}\" }}\n"
            )
        };
        let text = "template = \"dog-collar\"\nstrap.width = \"25 mm\"\n".to_owned()
            + &taper("wide", "30 mm", "60 mm", "40 mm")
            + &taper("narrow", "150 mm", "180 mm", "25 mm");
        let done = crate::prepare("job.toml", &text, &[]);
        let (job, _, layout) = done.laid.unwrap();
        let strap = layout.strap().unwrap();
        assert_eq!(strap.width, Length::from_mm(40));
        let rings: Vec<Length> = hardware(&job, &layout)
            .into_keys()
            .filter(|one| one.kind == Kind::Ring)
            .filter_map(|one| one.width)
            .collect();
        assert_eq!(rings, [Length::from_mm(25)]);
    }
}
