//! The options for the units and the language of what is printed.

use crate::profile::Profile;
use crate::words::{Language, Units, Wording};
use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};

#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct WordingArgs {
    #[command(flatten)]
    pub(super) units: UnitsArg,
    /// Language of the words on paper, as its ISO 639-1 code [default: that of the profile,
    /// else en]
    #[arg(long, value_name = "CODE")]
    #[arg(value_parser = named(Language::ALL.map(|l| (l.code(), l))))]
    pub(super) language: Option<Language>,
}

#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct UnitsArg {
    /// Units of lengths; with `in`, inches come first [default: those of the profile, else mm]
    #[arg(long = "units", value_name = "UNITS", value_parser = named(Units::NAMES))]
    pub(super) given: Option<Units>,
}

impl WordingArgs {
    /// What is given, else as the profile says.
    pub(super) fn wording(self, profile: &Profile) -> Wording {
        let language = self.language.unwrap_or(profile.wording().language);
        Wording { language, ..self.units.wording(profile) }
    }
}

impl UnitsArg {
    /// English in the units that are given, else those of the profile.
    pub(super) fn wording(self, profile: &Profile) -> Wording {
        let units = self.given.unwrap_or(profile.wording().units);
        Wording { units, ..Wording::default() }
    }
}

/// Reads one of some names as its value.
fn named<T, const N: usize>(
    values: [(&'static str, T); N],
) -> impl TypedValueParser<Value = T>
where
    T: Clone + Send + Sync + 'static,
{
    PossibleValuesParser::new(values.each_ref().map(|(name, _)| *name)).try_map(
        move |word| {
            let found = values.iter().find(|(name, _)| *name == word);
            found.map(|(_, value)| value.clone()).ok_or("not one of the values")
        },
    )
}
