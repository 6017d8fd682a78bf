//! Choices that people write as words.

/// Declares an enum, `Value = "word"`, and with it `WORDS`: each word with its value.
macro_rules! worded {
    (
        $(#[$about:meta])*
        pub enum $name:ident { $($(#[$what:meta])* $value:ident = $word:literal,)+ }
    ) => {
        $(#[$about])*
        pub enum $name {
            $($(#[$what])* $value,)+
        }

        impl $name {
            /// Each value by the word for it.
            pub const WORDS: [(&'static str, Self); [$($word),+].len()] =
                [$(($word, Self::$value)),+];
        }
    };
}
pub(crate) use worded;
