//! The languages of the sheets.

use serde::{Deserialize, Serialize};

/// A language of the sheets.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
    /// French.
    French,
    /// Spanish.
    Spanish,
    /// Italian.
    Italian,
    /// Polish.
    Polish,
}

impl Language {
    /// All of them, in the order of the variants.
    pub const ALL: [Self; 6] = [
        Self::English,
        Self::German,
        Self::French,
        Self::Spanish,
        Self::Italian,
        Self::Polish,
    ];

    /// Its code by ISO 639-1.
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
            Self::French => "fr",
            Self::Spanish => "es",
            Self::Italian => "it",
            Self::Polish => "pl",
        }
    }

    /// What it calls itself.
    pub fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "Deutsch",
            Self::French => "Français",
            Self::Spanish => "Español",
            Self::Italian => "Italiano",
            Self::Polish => "Polski",
        }
    }

    /// The language of that code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|l| l.code() == code)
    }

    /// The sign between the whole and the decimals.
    pub(super) fn decimal_sign(self) -> &'static str {
        if self == Self::English { "." } else { "," }
    }
}
