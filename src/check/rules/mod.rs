//! The rules, one file each: what a rule does, why, an example and its source stand in its
//! `RULE`.

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
pub(super) const OF_VALUES: [RuleId; 5] = [
    girth::RULE.id,
    thickness::RULE.id,
    strap_width::RULE.id,
    buckle_size::RULE.id,
    ease::RULE.id,
];

/// All rules, in the order in which they are checked: what was measured first, since a slip
/// there makes others follow.
pub const REGISTER: &[Rule] = &[
    girth::RULE,
    stock_girth::RULE,
    thickness::RULE,
    strap_width::RULE,
    buckle_size::RULE,
    ease::RULE,
    measure_taken::RULE,
    strap_length::RULE,
    blank_too_long::RULE,
    blank_too_short::RULE,
    blank_too_narrow::RULE,
    crease_to_hole::RULE,
    cut_list::RULE,
    range_reversed::RULE,
    range_promised::RULE,
    hole_to_edge::RULE,
    web_between_holes::RULE,
    marks_overlap::RULE,
    fitting_to_fitting::RULE,
    hole_in_bend::RULE,
    under_fold::RULE,
    fold_room::RULE,
    fold_held::RULE,
    turn_back_too_short::RULE,
    ring_room::RULE,
    keeper_gap::RULE,
    keeper_size::RULE,
    slot_too_short::RULE,
    slit_side::RULE,
    snap_room::RULE,
    eyelet_room::RULE,
    lining_edge::RULE,
    post_length::RULE,
    last_hole_to_tip::RULE,
    hole_pitch::RULE,
    strap_to_buckle::RULE,
    tongue_in_hole::RULE,
    hardware_in_hole::RULE,
    rows_match::RULE,
    taper_idle::RULE,
    taper_too_steep::RULE,
    stitch_to_edge::RULE,
    stitch_to_hole::RULE,
    stitch_across::RULE,
    stitch_pitch::RULE,
    slight_for_load::RULE,
    stamp_place::RULE,
    holes_on_blank::RULE,
    punch_size::RULE,
    punch_reach::RULE,
    trousers_estimate::RULE,
    stock_taken::RULE,
    small_parts::RULE,
    missing_glyph::RULE,
];

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
