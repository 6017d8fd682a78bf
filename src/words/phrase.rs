//! The phrases of every language, from the [Fluent](https://projectfluent.org) files beside this
//! one: a folder a language, `paper.ftl` with the words on paper, `names.ftl` with the names
//! that built-in templates give, `page.ftl` with the words of the bench page and `findings.ftl` with those of findings there.

use super::Language;
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use std::borrow::Cow;
use std::fmt::Display;
use std::sync::LazyLock;

type Bundle = FluentBundle<FluentResource>;

macro_rules! words {
    ($($word:ident)+) => {
        /// A phrase on paper: a key of `paper.ftl`, which says what it is for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[expect(missing_docs, reason = "the English file has a remark on each")]
        pub enum Word {
            $($word),+
        }

        /// The keys, in the order of the variants.
        const KEYS: &[&str] = &[$(stringify!($word)),+];
    };
}

words! {
    SheetOf PrintAtFull PrintFitted NoFitting NoFittingShort FitAgain BlackHere
    PrintCode ForPrinter OneSize CommonToSizes NestedSizes WithSheet For GirthRange
    Join CutOff UnderStrip UnderShort StartHere CutSize Pricks InMm InInches Joined
    NoJoins Accept FromTo BarIs JoinCutOff JoinLayOn JoinTape SeeTicket SignPunch
    SignJoin SignCheck SignCut SignBend SignHere SignCutOff SignElsewhere SignPrick
    SignCentre Signs JoinStrips PunchesTrueSize
    Bend BendReadings End Start Tip OnBlank Slot Size MarksByTape FromBend FromZero
    FromMark Mirrored Hole Fastener Fitting Eyelet Snap Stitch Slit Mark Form Stud
    Cap Post Pitch Nearest32 Rest Across
    Ticket Measure Ease TakenTape TakenFingers TakenBend TakenBar TakenFrame
    TakenTip TakenSizing SizingHole TakenTrousers Buckle BlankHas Pieces CutLength
    Width Thickness OrderOfWork Tools PunchRound PunchSlot PrickStitches CommonTools
    Supplies Thread ContactCement ThreadLock Serves ServesLengths Tightest SizeHole
    Loosest BeforePunch Cautions CardCheck
    Hardware Fasteners Rivets ScrewPosts Laces LaceLength PostGiven FastenersOn
    Studs Fittings Eyelets Snaps Ring TongueBuckle Keeper
    StepCut StepCutSquare StepBlank StepBlankPlain StepStamp StepLining
    StepLiningTrimmed StepMark StepSlots StepHoles StepSlit StepPrick StepTip
    StepTipOfSize StepOutline StepSkive StepSkiveEach StepSkivePast StepCrease
    StepDye StepFinish StepKeeper StepThreadLock StepSet StepFold StepStitch
    StepBurnish StepSetRest StepSetPlain StepTryOn CheckBars CheckHardware
    CheckHardwarePlain AssumedOne Assumed ComputedFor CheckScrap CautionRules
    CautionTools CautionFumes CautionLoad CautionSkin CautionTested CautionDog
    CautionHelmet CautionNeck CautionChildren
}

macro_rules! bundle {
    ($code:literal: $($file:literal)+) => {
        LazyLock::new(|| {
            let mut bundle = Bundle::new_concurrent($code.parse().into_iter().collect());
            // Marks of direction round what is filled in are for scripts from right to left.
            bundle.set_use_isolating(false);
            for text in [$(include_str!(concat!($code, "/", $file, ".ftl"))),+] {
                let read = FluentResource::try_new(text.to_owned());
                bundle.add_resource_overriding(read.unwrap_or_else(|(read, _)| read));
            }
            bundle
        })
    };
}

/// The phrases of each language, in the order of [`Language::ALL`].
static BUNDLES: [LazyLock<Bundle>; 6] = [
    bundle!("en": "paper"),
    bundle!("de": "paper" "names"),
    bundle!("fr": "paper" "names"),
    bundle!("es": "paper" "names"),
    bundle!("it": "paper" "names"),
    bundle!("pl": "paper" "names"),
];

/// The words of the bench page in each language but English, whose words stand in the page.
#[cfg(feature = "page")]
static PAGES: [LazyLock<Bundle>; 5] = [
    bundle!("de": "names" "page" "findings"),
    bundle!("fr": "names" "page" "findings"),
    bundle!("es": "names" "page" "findings"),
    bundle!("it": "names" "page" "findings"),
    bundle!("pl": "names" "page" "findings"),
];

impl Word {
    /// The phrase in a language. One that has gaps is for [`fill`](Self::fill).
    pub(super) fn say(self, language: Language) -> &'static str {
        let key = KEYS[self as usize];
        plain(language, key).unwrap_or(key)
    }

    /// The phrase with its gaps filled: each `$name` by the value beside the name.
    pub(super) fn fill(
        self,
        language: Language,
        with: &[(&str, &dyn Display)],
    ) -> String {
        let mut args = FluentArgs::new();
        for (name, value) in with {
            args.set(*name, value.to_string());
        }
        let text = formatted(language, KEYS[self as usize], Some(&args));
        text.unwrap_or_default().into_owned()
    }
}

/// A name that a built-in template gives, in a language; none where it stays as it is.
pub(super) fn translated(language: Language, name: &str) -> Option<&'static str> {
    plain(language, &slug(name))
}

/// The key of English words: a hyphen for all that is no letter or digit. Before a digit comes
/// `n-`, since a key of Fluent begins with a letter.
pub(crate) fn slug(words: &str) -> String {
    let parts = words.split(|c: char| !c.is_ascii_alphanumeric());
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    let begin = if words.starts_with(|c: char| c.is_ascii_digit()) { "n-" } else { "" };
    begin.to_owned() + &parts.join("-")
}

/// English words of the bench page in another language; none that it does not have.
#[cfg(feature = "page")]
pub(crate) fn of_page(
    language: Language,
    english: &str,
    args: &FluentArgs<'_>,
) -> Option<String> {
    let bundle: &'static Bundle = PAGES.get((language as usize).checked_sub(1)?)?;
    let phrase = bundle.get_message(&slug(english))?.value()?;
    Some(bundle.format_pattern(phrase, Some(args), &mut Vec::new()).into_owned())
}

fn plain(language: Language, key: &str) -> Option<&'static str> {
    match formatted(language, key, None)? {
        Cow::Borrowed(text) => Some(text),
        Cow::Owned(_) => None,
    }
}

fn formatted(
    language: Language,
    key: &str,
    args: Option<&FluentArgs<'_>>,
) -> Option<Cow<'static, str>> {
    let bundle: &'static Bundle = &BUNDLES[language as usize];
    let phrase = bundle.get_message(key)?.value()?;
    // A gap that nothing fills shows its name; a test holds that there is none.
    Some(bundle.format_pattern(phrase, args, &mut Vec::new()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lettering;

    fn file(language: Language, name: &str) -> String {
        let folder = format!("{}/src/words", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(format!("{folder}/{}/{name}.ftl", language.code()))
            .unwrap()
    }

    /// Each phrase of a file with its key.
    fn phrases(text: &str) -> Vec<(&str, &str)> {
        let lines =
            text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        lines.map(|line| line.split_once(" = ").unwrap()).collect()
    }

    /// What a phrase leaves to be filled in.
    fn gaps(text: &str) -> Vec<&str> {
        let parts = text.split("{ $").skip(1).filter_map(|part| part.split(" }").next());
        let mut all: Vec<&str> = parts.collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    #[test]
    fn every_language_has_every_phrase_with_its_gaps() {
        let english = file(Language::English, "paper");
        let english = phrases(&english);
        assert_eq!(english.iter().map(|p| p.0).collect::<Vec<_>>(), KEYS);
        for language in Language::ALL {
            let own = file(language, "paper");
            let own = phrases(&own);
            assert_eq!(own.len(), english.len(), "{}", language.code());
            for ((key, text), (wanted, in_english)) in own.into_iter().zip(&english) {
                let what = format!("{key} in {}", language.code());
                assert_eq!(key, *wanted, "{what}");
                assert_eq!(gaps(text), gaps(in_english), "{what}");
                assert_eq!(lettering::missing(text), Vec::<char>::new(), "{what}");
                // The file is read as it is meant.
                let mut args = FluentArgs::new();
                let mut filled = text.to_owned();
                for gap in gaps(text) {
                    args.set(gap, "7");
                    filled = filled.replace(&format!("{{ ${gap} }}"), "7");
                }
                assert_eq!(
                    formatted(language, key, Some(&args)).unwrap(),
                    filled,
                    "{what}"
                );
            }
        }
    }

    #[test]
    fn every_language_has_every_name() {
        let keys = |language| {
            let text = file(language, "names");
            let all = phrases(&text).into_iter();
            all.map(|(key, name)| {
                assert_eq!(lettering::missing(name), Vec::<char>::new(), "{name}");
                assert_eq!(plain(language, key), Some(name));
                key.to_owned()
            })
            .collect::<Vec<String>>()
        };
        for language in Language::ALL.into_iter().skip(2) {
            assert_eq!(keys(language), keys(Language::German), "{}", language.code());
        }
    }
}
