//! A whole range of sizes on paper: what its sizes share is printed once.

use std::collections::BTreeSet;
use strapwright::job::Job;
use strapwright::layout::Layout;
use strapwright::paginate::{
    Heading, Paper, PrintedSizes, Request, SheetSet, SizeGroup, compare_sheets,
    group_sizes,
};
use strapwright::prepare;

/// The whole range of MIL-B-1462F on A4, in groups.
fn range_in_groups(keeper: &str) -> Vec<SizeGroup> {
    let range: Vec<(Job, Layout)> = (28..=46)
        .map(|n| {
            let stock = "stock.sizes = \"belts-28-46\"";
            let job = format!(
                "template = \"belt\"\nmeasure.taken = \"bend-to-hole\"\n{stock}\n\
                 stock.size = \"{n}\"\nkeeper.width = \"{keeper}\"\n"
            );
            let (job, _, layout) = prepare("job", &job, &[]).laid.expect("a sound size");
            (job, layout)
        })
        .collect();
    let headings: Vec<Heading> =
        range.iter().map(|(j, l)| Heading::new(j, None, l)).collect();
    let paper = Paper::parse("a4").expect("a paper");
    let requests: Vec<Request<'_>> = range
        .iter()
        .zip(&headings)
        .map(|((_, layout), heading)| Request::new(layout, heading, &paper))
        .collect();
    let groups = group_sizes(&requests).expect("room for all sizes");
    let sets: Vec<&SheetSet> = groups.iter().flat_map(|g| &g.sets).collect();
    assert_eq!(sets.len(), 19);
    for (set, heading) in sets.iter().zip(&headings) {
        assert_eq!(set.sheets.len(), 2, "keeping joins costs no sheet");
        assert_eq!(heading.sizes, PrintedSizes::One(set.size.clone()));
    }
    for group in &groups {
        for set in &group.sets {
            let keep = compare_sheets(&group.sets[0], set).keep;
            assert!(group.shared.iter().all(|n| keep.contains(n)), "{}", set.size);
        }
    }
    let names: BTreeSet<&str> = sets.iter().map(|s| s.fingerprint.as_str()).collect();
    assert_eq!(names.len(), 19, "each size is a print of its own");
    groups
}

/// Without a keeper one of the two sheets serves all sizes.
#[test]
fn a_range_shares_its_buckle_end() {
    let groups = range_in_groups("0 mm");
    assert_eq!(groups.len(), 1);
    assert_eq!((groups[0].shared.as_slice(), groups[0].printed()), ([1].as_slice(), 20));
}

/// The keeper fills the second sheet of the longest belts up, so that their joins lie where
/// the shortest have holes: a few groups then, each with a sheet in common.
#[test]
fn a_range_with_keepers_shares_what_it_can() {
    let groups = range_in_groups("16 mm");
    let printed: usize = groups.iter().map(SizeGroup::printed).sum();
    assert!(printed <= 22, "{printed} sheets");
    assert!(groups.iter().all(|g| g.sets.len() == 1 || g.shared == [1]));
}
