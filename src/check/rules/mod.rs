//! The rules, one file each: its id `RULE` and its `check`. What it does, why, an example and
//! its source stand in the Markdown file beside it.

mod blank_too_long;
mod blank_too_narrow;
mod blank_too_short;
mod buckle_size;
mod crease_to_hole;
mod cut_list;
mod ease;
mod eyelet_room;
mod fitting_to_fitting;
mod fold_held;
mod fold_room;
mod girth;
mod hardware_in_hole;
mod hole_in_bend;
mod hole_pitch;
mod hole_to_edge;
mod holes_on_blank;
mod keeper_gap;
mod keeper_size;
mod last_hole_to_tip;
mod lining_edge;
mod marks_overlap;
mod measure_taken;
mod missing_glyph;
mod post_length;
mod prelude;
mod punch_reach;
mod punch_size;
mod range_promised;
mod range_reversed;
mod ring_room;
mod rows_match;
mod slight_for_load;
mod slit_side;
mod slot_too_short;
mod small_parts;
mod snap_room;
mod stamp_place;
mod stitch_across;
mod stitch_pitch;
mod stitch_to_edge;
mod stitch_to_hole;
mod stock_girth;
mod stock_taken;
mod strap_length;
mod strap_to_buckle;
mod strap_width;
mod taper_idle;
mod taper_too_steep;
mod thickness;
mod tongue_in_hole;
mod trousers_estimate;
mod turn_back_too_short;
mod under_fold;
mod web_between_holes;

use super::Rule;
use crate::diagnostic::RuleId;

/// The rules that look at one value by itself.
pub(super) const OF_VALUES: [RuleId; 5] =
    [girth::RULE, thickness::RULE, strap_width::RULE, buckle_size::RULE, ease::RULE];

/// The rules of these files.
macro_rules! of_files {
    ($($name:ident)+) => {
        &[$(Rule {
            id: $name::RULE,
            check: $name::check,
            text: include_str!(concat!(stringify!($name), ".md")),
        }),+]
    };
}

/// All rules, in the order in which they are checked: what was measured first, since a slip
/// there makes others follow.
pub const REGISTER: &[Rule] = of_files! {
    girth
    stock_girth
    thickness
    strap_width
    buckle_size
    ease
    measure_taken
    strap_length
    blank_too_long
    blank_too_short
    blank_too_narrow
    crease_to_hole
    cut_list
    range_reversed
    range_promised
    hole_to_edge
    web_between_holes
    marks_overlap
    fitting_to_fitting
    hole_in_bend
    under_fold
    fold_room
    fold_held
    turn_back_too_short
    ring_room
    keeper_gap
    keeper_size
    slot_too_short
    slit_side
    snap_room
    eyelet_room
    lining_edge
    post_length
    last_hole_to_tip
    hole_pitch
    strap_to_buckle
    tongue_in_hole
    hardware_in_hole
    rows_match
    taper_idle
    taper_too_steep
    stitch_to_edge
    stitch_to_hole
    stitch_across
    stitch_pitch
    slight_for_load
    stamp_place
    holes_on_blank
    punch_size
    punch_reach
    trousers_estimate
    stock_taken
    small_parts
    missing_glyph
};

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_register_and_the_folder_agree() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/check/rules");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().path())
            .map(|p| p.file_stem().unwrap().to_string_lossy().replace('_', "-"))
            .filter(|n| n != "mod" && n != "prelude")
            .collect();
        let register: BTreeSet<String> =
            REGISTER.iter().map(|r| r.id.to_string()).collect();
        assert_eq!(
            files, register,
            "a rule is a file here and a line in REGISTER of check/rules/mod.rs"
        );
    }

    #[test]
    fn every_rule_says_what_why_and_whence() {
        for rule in REGISTER {
            let paragraphs: Vec<&str> = rule.text.trim_end().split("\n\n").collect();
            let [title, what, why, .., source] = paragraphs.as_slice() else {
                panic!("{}: too short", rule.id)
            };
            assert_eq!(*title, format!("# {}", rule.id));
            for text in [what, why, source] {
                assert!(text.ends_with('.') && text.len() > 20, "{}: {text}", rule.id);
            }
            assert!(source.starts_with("Source: "), "{}: {source}", rule.id);
            let [breaks, keeps] = rule.examples().unwrap();
            assert_ne!(breaks, keeps, "{}", rule.id);
        }
    }
}
