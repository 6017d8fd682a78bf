//! Templates by what people call them.

use super::{REGISTER, TemplateLoader};
use crate::words::{Language, Name, Wording};

/// The name of the template that people mean: they write `Dog collar`, or what it is called in
/// their language. What means none stays as it is.
pub(crate) fn meant(called: &str, loader: &dyn TemplateLoader) -> String {
    let names = loader.names();
    if names.iter().any(|name| name == called) {
        return called.to_owned();
    }
    let lower = called.trim().to_lowercase();
    let hyphened = lower.replace(' ', "-");
    let is_title = |name: &str| {
        let words = name.replace('-', " ");
        let title = Name::built_in(words[..1].to_uppercase() + &words[1..]);
        Language::ALL.into_iter().any(|language| {
            let wording = Wording { language, ..Wording::default() };
            wording.name(&title).to_lowercase() == lower
        })
    };
    let own = names.into_iter().find(|name| name.to_lowercase() == hyphened);
    let built_in = || REGISTER.iter().find(|template| is_title(template.name));
    own.or_else(|| Some(built_in()?.name.to_owned())).unwrap_or_else(|| called.to_owned())
}

#[cfg(test)]
mod tests {
    use super::super::BuiltIn;
    use super::*;

    #[test]
    fn a_template_is_found_by_what_people_call_it() {
        for (called, name) in [
            ("belt", "belt"),
            (" Dog collar", "dog-collar"),
            ("Snap-On Belt", "snap-on-belt"),
            ("Gürtel", "belt"),
            ("HUNDEHALSBAND", "dog-collar"),
            ("üb", "üb"),
            ("", ""),
            ("../belt.toml", "../belt.toml"),
        ] {
            assert_eq!(meant(called, &BuiltIn), name);
        }
    }
}
