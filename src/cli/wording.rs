//! How words and numbers are written: the flags that every printing command takes.

use crate::words::{Language, Units, Wording};
use clap::Args;
use clap::builder::PossibleValuesParser;

#[derive(Args, Clone, Copy, Debug)]
pub(super) struct WordingArgs {
    /// Units of lengths; with `in`, inches come first
    #[arg(long, value_name = "UNITS", default_value = "mm", value_parser = units())]
    units: Units,
    /// Language of the words on paper, as its ISO 639-1 code
    #[arg(long, value_name = "CODE", default_value = "en", value_parser = languages())]
    language: Language,
}

impl WordingArgs {
    pub(super) fn wording(self) -> Wording {
        Wording { language: self.language, units: self.units }
    }
}

fn units() -> impl clap::builder::TypedValueParser<Value = Units> {
    use clap::builder::TypedValueParser as _;
    PossibleValuesParser::new(Units::NAMES.map(|(name, _)| name)).map(|word| {
        let named = Units::NAMES.into_iter().find(|(name, _)| *name == word);
        named.map_or(Units::default(), |(_, units)| units)
    })
}

fn languages() -> impl clap::builder::TypedValueParser<Value = Language> {
    use clap::builder::TypedValueParser as _;
    PossibleValuesParser::new(Language::ALL.map(Language::code))
        .map(|code| Language::of(&code).unwrap_or_default())
}
