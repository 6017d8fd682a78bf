//! The register of built-in templates: one TOML file each under `templates`, written in the
//! language of jobs.

mod about;
mod loader;
mod meant;

pub use about::{About, Key, Limits, about_chain};
pub use loader::{BuiltIn, Missing, TemplateLoader, Text};
pub(crate) use meant::meant;

/// A built-in template.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Template {
    /// The name that `template = ` takes, and the name of its file.
    pub name: &'static str,
    /// Its whole text.
    pub text: &'static str,
}

/// All of them.
pub const REGISTER: &[Template] = &[
    template("belt", include_str!("../../templates/belt.toml")),
    template("apron-strap", include_str!("../../templates/apron-strap.toml")),
    template("bag-strap", include_str!("../../templates/bag-strap.toml")),
    template("baldric", include_str!("../../templates/baldric.toml")),
    template("braces", include_str!("../../templates/braces.toml")),
    template("bundle-strap", include_str!("../../templates/bundle-strap.toml")),
    template("camera-strap", include_str!("../../templates/camera-strap.toml")),
    template("centre-bar-belt", include_str!("../../templates/centre-bar-belt.toml")),
    template("chin-strap", include_str!("../../templates/chin-strap.toml")),
    template("cuff", include_str!("../../templates/cuff.toml")),
    template("dog-collar", include_str!("../../templates/dog-collar.toml")),
    template("garter", include_str!("../../templates/garter.toml")),
    template("guitar-strap", include_str!("../../templates/guitar-strap.toml")),
    template("hat-band", include_str!("../../templates/hat-band.toml")),
    template("key-fob", include_str!("../../templates/key-fob.toml")),
    template("laced-cuff", include_str!("../../templates/laced-cuff.toml")),
    template("lead", include_str!("../../templates/lead.toml")),
    template("lined-belt", include_str!("../../templates/lined-belt.toml")),
    template("plain-strap", include_str!("../../templates/plain-strap.toml")),
    template("ranger-belt", include_str!("../../templates/ranger-belt.toml")),
    template("sizing-strap", include_str!("../../templates/sizing-strap.toml")),
    template("snap-on-belt", include_str!("../../templates/snap-on-belt.toml")),
    template("two-prong-belt", include_str!("../../templates/two-prong-belt.toml")),
    template("watch-strap", include_str!("../../templates/watch-strap.toml")),
];

const fn template(name: &'static str, text: &'static str) -> Template {
    Template { name, text }
}

/// The job that is drawn when none is given.
pub const DEMO_JOB: &str = include_str!("../../sample-jobs/demo-belt.toml");

/// The template of that name.
pub fn find(name: &str) -> Option<Template> {
    REGISTER.iter().copied().find(|t| t.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_register_and_the_folder_agree() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/templates");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().path())
            .filter(|p| p.extension().is_some_and(|e| e == "toml"))
            .map(|p| p.file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        let register: BTreeSet<String> =
            REGISTER.iter().map(|t| t.name.to_owned()).collect();
        assert_eq!(
            files, register,
            "add a line for the file to REGISTER in src/template/mod.rs, or take it out"
        );
    }

    #[test]
    fn every_template_says_what_it_is() {
        for template in REGISTER {
            let about = about_chain(&[template.text]);
            assert!(!about.summary.is_empty(), "{}: about.summary", template.name);
            assert!(template.text.contains("\nhazards = ["), "{}", template.name);
            let described: BTreeSet<&str> =
                about.keys.iter().map(|k| k.name.as_str()).collect();
            let root: toml::Table = template.text.parse().unwrap();
            for (section, table) in root.iter().filter(|(name, _)| *name != "about") {
                for key in table.as_table().into_iter().flat_map(toml::Table::keys) {
                    let name = format!("{section}.{key}");
                    assert!(
                        key == "kind" || described.contains(name.as_str()),
                        "{}: say in about.keys what {name} is",
                        template.name
                    );
                }
            }
        }
    }
}
