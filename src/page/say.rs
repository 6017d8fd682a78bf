//! The words of the page in the language of the request.
//!
//! The language is kept by the thread that answers: every view has words, and to hand it through
//! each function would touch them all. A request is answered by one thread.

use crate::words::{Language, Wording};
use std::cell::Cell;
use std::fmt::Display;

thread_local! {
    static LANGUAGE: Cell<Language> = const { Cell::new(Language::English) };
}

/// Sets the language of the request that this thread answers.
pub(super) fn speak(language: Language) {
    LANGUAGE.set(language);
}

/// The code of the language, for `lang`.
pub(super) fn code() -> &'static str {
    LANGUAGE.get().code()
}

/// English words of the page in the language of the request.
pub(super) fn say(english: &str) -> String {
    say_with(english, &[])
}

/// The same with gaps: each `{ $name }` by the value beside the name.
pub(super) fn say_with(english: &str, with: &[(&str, &dyn Display)]) -> String {
    Wording::of_page(LANGUAGE.get(), english, with)
}
