//! What a strap may do harm by, whatever its measures: a template names it, and the ticket
//! warns of it.

use super::section::Section;
use crate::diagnostic::Finding;
use crate::input::worded;
use crate::job::rule;
use crate::words::Word;

worded! {
    /// A danger that a kind of strap has. What is said of each is common practice and has no
    /// source, but where it names one.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Hazard {
        /// Something hangs on the strap or pulls at it: a dog, a bag, a camera.
        Load = "load",
        /// A dog wears it.
        Dog = "dog",
        /// It belongs to headwear that looks like a helmet.
        Helmet = "helmet",
        /// It lies at the neck, where a machine may catch it.
        Neck = "neck",
        /// It has parts that come off, and children may wear it (EN 14682 for their clothing).
        SmallParts = "small-parts",
    }
}

impl Hazard {
    /// What the ticket says of it.
    pub fn caution(self) -> Word {
        match self {
            Self::Load => Word::CautionTested,
            Self::Dog => Word::CautionDog,
            Self::Helmet => Word::CautionHelmet,
            Self::Neck => Word::CautionNeck,
            Self::SmallParts => Word::CautionChildren,
        }
    }

    /// The hazards that a template names, each once. One that says nothing of them may well
    /// have small parts.
    pub(super) fn read(about: Option<&Section<'_, '_>>) -> Vec<Self> {
        let Some((about, given)) = about.map(|a| (a, a.names("hazards", &[]))) else {
            return vec![Self::SmallParts];
        };
        if !about.has("hazards") {
            return vec![Self::SmallParts];
        }
        let mut all = Vec::new();
        for given in given {
            let known = Self::WORDS.into_iter().find(|(name, _)| *name == given.value);
            all.extend(known.map(|(_, hazard)| hazard));
            if known.is_none() {
                let names = Self::WORDS.map(|(name, _)| name);
                about.reader.find(
                    Finding::unknown_name(rule::BAD_VALUE, "hazard", &given.value, names)
                        .at(given.span),
                );
            }
        }
        all.sort_unstable();
        all.dedup();
        all
    }
}
