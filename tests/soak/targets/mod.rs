//! The ways into the program, one file each.

mod composed;
mod drawing;
mod job;
mod length;
mod metadata;
mod orders;
mod packing;
mod pdf;
mod pdf_files;
mod printer;
mod set;
mod strips;
mod template;

use crate::common::random::Random;

/// One way into the program.
pub(crate) struct Target {
    /// Its file.
    pub(crate) name: &'static str,
    /// How many of the cases it gets, next to the others: quick ones get more.
    pub(crate) weight: u64,
    /// Makes the input of a case.
    pub(crate) input: fn(&mut Random) -> Vec<u8>,
    /// Panics when the program does wrong; tells whether it took the input for sound.
    pub(crate) run: fn(&[u8]) -> bool,
}

/// All of them.
pub(crate) const TARGETS: &[Target] = &[
    composed::TARGET,
    drawing::TARGET,
    job::TARGET,
    length::TARGET,
    metadata::TARGET,
    orders::TARGET,
    packing::TARGET,
    pdf::TARGET,
    printer::TARGET,
    set::TARGET,
    strips::TARGET,
    template::TARGET,
];

#[test]
fn the_register_and_the_folder_agree() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/soak/targets");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        // The register itself, and the files that two targets read.
        .filter(|name| name != "mod" && name != "pdf_files")
        .collect();
    files.sort();
    let names: Vec<&str> = TARGETS.iter().map(|t| t.name).collect();
    assert_eq!(files, names, "a file of tests/soak/targets is a line of TARGETS");
}
