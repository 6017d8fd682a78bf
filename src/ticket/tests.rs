//! What the tickets of different straps say, and what they leave out.

use super::{Subject, text, ticket};
use crate::template::REGISTER;
use crate::words::{Language, Units, Wording};
use crate::{Prepared, prepare};

fn told(template: &str, sets: &[&str], wording: Wording) -> String {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    let Prepared { laid, .. } =
        prepare("job", &format!("template = \"{template}\""), &sets);
    let (job, fit, layout) = laid.unwrap();
    text(&ticket(&Subject { job: &job, fit: fit.as_ref(), layout: &layout, wording }))
}

fn english(template: &str, sets: &[&str]) -> String {
    told(template, sets, Wording::default())
}

/// Each step and each line of hardware is there for the straps that it is about, and for no
/// other.
#[test]
fn tickets_say_what_their_straps_need() {
    let plain = english("plain-strap", &["end.shape=straight"]);
    let all = || REGISTER.iter().map(|t| t.name);
    for (words, those) in [
        ("Punch the slots", &["belt", "baldric", "watch-strap", "garter"][..]),
        ("Cut the slits", &["guitar-strap", "apron-strap", "braces"]),
        (
            "Prick the stitch holes",
            &["lead", "camera-strap", "watch-strap", "apron-strap"],
        ),
        ("Stitch the seams", &["lead", "camera-strap", "watch-strap", "apron-strap"]),
        ("the tip comes later", &["belt", "cuff", "watch-strap"]),
        ("Cut the outline", &["guitar-strap", "camera-strap", "watch-strap"]),
        ("Close each keeper", &["belt", "dog-collar", "bag-strap", "watch-strap"]),
        ("set the fasteners", &["belt", "lead", "braces", "baldric"]),
        ("Fold round the buckle, ring or bar", &["watch-strap"]),
        ("Skive", &["belt", "lead", "bag-strap", "watch-strap"]),
        ("of every turn-back", &["bag-strap", "braces", "camera-strap", "watch-strap"]),
        ("Set the hardware", &["cuff", "hat-band"]),
        ("try the strap on", &["belt", "cuff", "watch-strap"]),
        ("buckle with a tongue", &["bag-strap", "baldric", "watch-strap"]),
        ("bar, reach, tongue", &["belt", "baldric", "watch-strap"]),
        ("Girths served", &["belt", "hat-band"]),
        ("Lengths served", &["bag-strap", "lead", "cuff"]),
        ("from the mark at 0", &["guitar-strap", "cuff", "hat-band"]),
    ] {
        let with: Vec<&str> = all().filter(|t| english(t, &[]).contains(words)).collect();
        for template in those {
            assert!(with.contains(template), "{words}: {template}");
        }
        assert!(with.len() < REGISTER.len(), "{words}: every ticket says so");
        assert!(!plain.contains(words), "{words}: a plain strap");
    }
    let blank = english("belt", &["blank.length=50 in", "blank.punched=true"]);
    assert!(blank.contains("Lay the paper on the blank") && !blank.contains("Skive"));
    let lined = english("cuff", &["lining.count=1"]);
    assert!(lined.contains("Cement the lining"));
    let fitted = english("belt", &["fittings.count=4"]);
    assert!(fitted.contains("Set the fittings") && fitted.contains("4 × fitting"));
    let bare = english("belt", &["keeper.count=0"]);
    assert!(!bare.contains("keeper"), "{bare}");
}

/// Computed: two fasteners of the fold and the one past the ring, each through both layers of
/// 3.5 mm; common practice, no source: a rivet's post is the stack and up to 3 mm.
#[test]
fn hardware_is_counted_once_through_both_layers() {
    let collar = english("dog-collar", &[]);
    let line = "3 × fastener, hole Ø 4 mm, stack 7 mm: rivet post 7 mm to 10 mm";
    assert!(collar.contains(line), "{collar}");
    let braces = english("braces", &[]);
    assert!(braces.contains("2 × ring, hook or bar Ø 4 mm, at least 25.4 mm inside"));
    // The ring takes the end of the strap, not its wide part.
    let camera = english("camera-strap", &[]);
    assert!(camera.contains("2 × ring, hook or bar Ø 2 mm, at least 12 mm inside"));
    let lead = english("lead", &[]);
    assert_eq!(lead.matches("ring, hook or bar").count(), 1, "a loop holds no ring");
}

#[test]
fn copies_share_a_table_and_mirrored_ones_are_told() {
    let braces = english("braces", &[]);
    assert!(braces.contains("2 × front, 1 mirrored: Marks by tape"), "{braces}");
    assert_eq!(braces.matches("Marks by tape").count(), 2, "fronts and tabs");
    // What lies off the centre line is not the same on a mirrored one.
    let apart = english("braces", &["front-holes.across=2 mm"]);
    assert_eq!(apart.matches("Marks by tape").count(), 3, "{apart}");
}

#[test]
fn a_german_ticket_in_inches_has_its_own_words() {
    let wording = Wording { language: Language::German, units: Units::Inches };
    let german = told("watch-strap", &[], wording);
    for words in ["2 × Schlaufe", "Dornschnalle", "Umriss entlang", "Jeden Umschlag"] {
        assert!(german.contains(words), "{words}:\n{german}");
    }
    assert!(!german.contains("keeper"), "{german}");
}
