//! The `strapwright` program.
fn main() {}
