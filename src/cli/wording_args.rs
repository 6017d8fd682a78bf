//! The options for the units and the language of what is printed.

use crate::words::{Language, Units, Wording};
use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};

#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct WordingArgs {
    /// Units of lengths; with `in`, inches come first
    #[arg(long, value_name = "UNITS", default_value = "mm")]
    #[arg(value_parser = named(Units::NAMES))]
    units: Units,
    /// Language of the words on paper, as its ISO 639-1 code
    #[arg(long, value_name = "CODE", default_value = "en")]
    #[arg(value_parser = named(Language::ALL.map(|l| (l.code(), l))))]
    language: Language,
}

impl WordingArgs {
    pub(super) fn wording(self) -> Wording {
        Wording { language: self.language, units: self.units }
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
