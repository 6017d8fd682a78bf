//! Names the build by all that goes into it, so that a file that another build made is not taken
//! for one of this.

use std::fs;
use std::path::{Path, PathBuf};

fn main() {
    let mut files = Vec::new();
    for part in
        ["src", "templates", "sample-jobs/demo-belt.toml", "Cargo.lock", "Cargo.toml"]
    {
        println!("cargo::rerun-if-changed={part}");
        add(Path::new(part), &mut files);
    }
    files.sort();
    // FNV-1a, 64 bits (Fowler, Noll, Vo): the same on every machine.
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for file in files {
        let name = file.to_string_lossy().replace('\\', "/").into_bytes();
        let bytes = fs::read(&file).unwrap_or_default();
        for byte in name.into_iter().chain([0]).chain(bytes) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
    println!("cargo::rustc-env=STRAPWRIGHT_BUILD={hash:016x}");
}

/// Adds a file, or all files of a folder.
fn add(path: &Path, files: &mut Vec<PathBuf>) {
    match fs::read_dir(path) {
        Ok(entries) => entries.flatten().for_each(|entry| add(&entry.path(), files)),
        Err(_) if path.is_file() => files.push(path.to_owned()),
        Err(_) => {}
    }
}
