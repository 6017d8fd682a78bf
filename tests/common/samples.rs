//! The sample jobs, for the tests that draw all of them.

/// Name and text of every sample job, by name.
pub(crate) fn jobs() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/sample-jobs");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 7, "sample jobs are missing: {paths:?}");
    let named = paths.into_iter().map(|path| {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        (name, std::fs::read_to_string(&path).unwrap())
    });
    named.collect()
}
