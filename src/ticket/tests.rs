//! What the tickets of different straps say, and what they leave out.

use super::{TicketInput, nested, text, ticket};
use crate::layout::Shape;
use crate::template::REGISTER;
use crate::words::{Language, Name, Units, Word, Wording};
use crate::{Laid, Prepared, prepare};

fn told(template: &str, sets: &[&str], wording: Wording) -> String {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    let Prepared { laid, .. } =
        prepare("job", &format!("template = \"{template}\""), &sets);
    let (job, fit, layout) = laid.unwrap();
    text(&ticket(&TicketInput { job: &job, fit: fit.as_ref(), layout: &layout, wording }))
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
        ("Crease along", &["dog-collar", "guitar-strap"]),
        ("stamp it in the boxes", &["guitar-strap"]),
        ("Stitch the seams", &["lead", "camera-strap", "watch-strap", "apron-strap"]),
        ("the tip comes later", &["belt", "cuff", "watch-strap"]),
        ("Cut the outline", &["guitar-strap", "camera-strap", "watch-strap"]),
        (
            "Stitch or staple each keeper",
            &["belt", "dog-collar", "bag-strap", "watch-strap"],
        ),
        ("set the fasteners", &["belt", "lead", "braces", "baldric"]),
        ("Fold round the buckle, ring or bar", &["watch-strap"]),
        ("Skive", &["belt", "lead", "bag-strap", "watch-strap"]),
        ("of every turn-back", &["watch-strap"]),
        ("only past its last fastener", &["bag-strap", "braces"]),
        ("Set the hardware", &["cuff", "hat-band"]),
        ("Try the strap on", &["belt", "cuff", "watch-strap"]),
        ("buckle with a tongue", &["bag-strap", "baldric", "chin-strap"]),
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
    assert!(blank.contains("the holes that are already there"), "{blank}");
    let unpunched = english("belt", &["blank.length=50 in"]);
    assert!(unpunched.contains("Lay the paper on the blank.\n"), "{unpunched}");
    assert!(!english("belt", &[]).contains("thread lock"), "rivets take none");
    let screwed = english("belt", &["fastener.hardware=screw-post"]);
    assert!(screwed.contains("a drop of thread lock"), "{screwed}");
    // Common practice, no source: 5 mm for most screw posts.
    assert!(screwed.contains("2 × screw post, hole Ø 5 mm, stack 7 mm"), "{screwed}");
    let lined = english("cuff", &["lining.count=1"]);
    assert!(lined.contains("Cement the lining"));
    assert!(lined.contains("hole Ø 4 mm, through 3.5 mm"), "2.5 mm and 1 mm: {lined}");
    let fitted = english("belt", &["fittings.count=4"]);
    assert!(fitted.contains("Set the fittings") && fitted.contains("4 × fitting"));
    let bare = english("belt", &["keeper.count=0"]);
    assert!(!bare.contains("keeper"), "{bare}");
}

/// Worked by hand: the box of the lead's loop is 37 mm by 13.05 mm, pricked at 4 mm into 9, 3,
/// 9 and 3 stitches: a pitch for each makes 96 mm, which both layers of the fold share.
#[test]
fn supplies_are_those_of_the_strap() {
    let lead = english("lead", &["fastener.hardware=screw-post"]);
    assert!(lead.contains("thread 240 mm: 2.5 × 96 mm of seam"), "{lead}");
    assert!(lead.contains("2 needles") && lead.contains("thread lock for screw posts"));
    let lined = english("cuff", &["lining.count=1"]);
    assert!(lined.contains("contact cement for the lining"), "{lined}");
    assert!(!english("cuff", &[]).contains("Supplies"));
}

/// Each kind of strap has the hazards that its template names, and no other.
#[test]
fn cautions_are_those_of_the_kind() {
    let belt = english("belt", &[]);
    for (words, those) in [
        (
            "your own load test",
            &[
                "bag-strap",
                "baldric",
                "camera-strap",
                "dog-collar",
                "guitar-strap",
                "lead",
            ][..],
        ),
        ("Leave no dog alone", &["dog-collar", "lead"]),
        ("Not for a protective helmet", &["chin-strap"]),
        ("breaks away", &["apron-strap", "bag-strap", "camera-strap"]),
    ] {
        let all = REGISTER.iter().map(|t| t.name);
        let with: Vec<&str> = all.filter(|t| english(t, &[]).contains(words)).collect();
        assert_eq!(with, those, "{words}");
        assert!(!belt.contains(words), "{words}: a belt");
    }
    assert!(belt.contains("small parts come off"), "{belt}");
    assert!(!english("belt", &["about.hazards=[]"]).contains("small parts come off"));
    let plain =
        prepare("job", "template = \"belt\"", &["about.hazards=[\"lode\"]".into()]);
    let unknown = plain.findings.iter().find(|f| f.message.contains("lode")).unwrap();
    assert!(unknown.remedy.contains("`load`"), "{unknown:?}");
}

fn in_order(given: &str, steps: &[&str]) {
    let (_, work) = given.split_once("Order of work").unwrap();
    let at: Vec<_> = steps.iter().map(|step| work.find(step)).collect();
    assert!(at.is_sorted() && at.iter().all(Option::is_some), "{at:?}: {given}");
}

/// Common practice, no source: nothing is punched before the leather is stamped and lined,
/// nothing is finished after the metal is on, and no edge is burnished before it is sewn.
#[test]
fn the_order_of_work_protects_the_leather() {
    let guitar = english("guitar-strap", &[]);
    in_order(
        &guitar,
        &["Cut the pieces", "stamp it", "Tape the paper", "Punch the holes"],
    );
    let lined = english("cuff", &["lining.count=1"]);
    in_order(&lined, &["Cut the pieces", "Cement the lining", "Tape", "Punch the holes"]);
    let folded = english("belt", &["lining.kind=lining", "lining.inset=2 mm"]);
    in_order(&folded, &["Skive", "Cement the lining", "Punch the holes", "Fold round"]);
    let lead = english("lead", &[]);
    let order = ["Skive", "Bevel", "Stitch", "Burnish", "Apply the finish", "Fold"];
    in_order(&lead, &order);
    let order = ["Bevel", "Burnish", "Apply", "thread lock", "set the fasteners", "Try"];
    in_order(&english("belt", &["fastener.hardware=screw-post"]), &order);
}

/// A knife needs the length of a slit and has no width for it; a slot punch needs both.
#[test]
fn slits_have_a_length_and_slots_have_both() {
    let guitar = english("guitar-strap", &["guitar.slit=11 mm"]);
    let slits = guitar.lines().filter(|l| l.trim_start().starts_with("slit "));
    let forms: Vec<bool> = slits.map(|l| l.ends_with("  11 mm")).collect();
    assert_eq!(forms, [true; 9], "{guitar}");
    assert!(english("belt", &[]).contains("25.4 × 5 mm"));
}

/// Computed: two fasteners of the fold and the one past the ring, each through both layers of
/// 3.5 mm; common practice, no source: a rivet's post is the stack and up to 3 mm.
#[test]
fn hardware_is_counted_once_through_both_layers() {
    let collar = english("dog-collar", &[]);
    let line = "3 × rivet, hole Ø 4 mm, stack 7 mm: post 7 mm to 10 mm";
    assert!(collar.contains(line), "{collar}");
    let braces = english("braces", &[]);
    assert!(braces.contains("1 × ring, hook or bar Ø 4 mm, at least 25.4 mm inside"));
    assert!(braces.contains("3 × buckle with a tongue"), "{braces}");
    // The ring takes the end of the strap, not its wide part.
    let camera = english("camera-strap", &[]);
    assert!(camera.contains("2 × ring, hook or bar Ø 2 mm, at least 12 mm inside"));
    let lead = english("lead", &[]);
    assert_eq!(lead.matches("ring, hook or bar").count(), 1, "a loop holds no ring");
}

/// Where the job says how many layers a fastener holds, its post follows; where it holds a
/// ring or a buckle, that is told too.
#[test]
fn hardware_is_whole() {
    for (template, lines) in [
        ("belt", &["1 × buckle 40 mm inside, bar Ø 4 mm, reach 30 mm"][..]),
        (
            "dog-collar",
            &["1 × buckle 26 mm", "1 × ring, hook or bar Ø 4 mm, at least 25.4 mm"],
        ),
        ("baldric", &["1 × buckle with a tongue", "8 × rivet, hole Ø 4 mm, stack 7 mm"]),
        ("hat-band", &["1 × rivet, hole Ø 3.2 mm, stack 4 mm: post 4 mm to 7 mm"]),
        ("guitar-strap", &["2 × stud or button, neck Ø 7 mm, through 3 mm"]),
        ("braces", &["3 × stud or button, neck Ø 5 mm, through 3 mm"]),
        ("apron-strap", &["2 × ring, hook or bar Ø 3 mm, at least 22 mm inside"]),
        // Two in the fold, three through each billet and the body: 3 mm twice.
        ("ranger-belt", &["8 × rivet, hole Ø 4 mm, stack 6 mm: post 6 mm to 9 mm"]),
        // Computed: the gap of 30 mm, four times 2 · √(30² + 16²) = 68 mm and 400 mm to tie
        // are 702 mm, in steps of 5 cm.
        ("laced-cuff", &["1 × lace, 3 mm thick, about 750 mm long"]),
        ("chin-strap", &["2 × fastener or stud, hole Ø 4 mm, through 2.5 mm"]),
    ] {
        let ticket = english(template, &[]);
        for line in lines {
            assert!(ticket.contains(line), "{template}: {line}\n{ticket}");
        }
    }
    let lined = english("guitar-strap", &["lining.kind=lining", "lining.inset=2 mm"]);
    assert!(
        lined.contains("neck Ø 7 mm, through 6 mm"),
        "its lining is 3 mm too: {lined}"
    );
    let watch = english("watch-strap", &[]);
    assert!(watch.contains("1 × buckle 16 mm inside"), "{watch}");
    assert!(!watch.contains("with a tongue"), "its buckle is told once: {watch}");
    let ringless = english("dog-collar", &["ring-fastener.count=0"]);
    assert!(!ringless.contains("ring, hook"), "{ringless}");
}

/// Equal holes evenly apart are one entry once nobody would lay them out by the tape. By hand:
/// 40 holes from 50 mm on, 10 mm apart, end at 440 mm.
#[test]
fn many_holes_are_one_entry() {
    let row = |count: &str| {
        let count = format!("holes.count={count}");
        let sets = ["plain.length=600 mm", "holes.by=50 mm", "holes.pitch=10 mm", &count];
        english("plain-strap", &sets)
    };
    let many = row("40");
    let lines: Vec<&str> = many.lines().collect();
    let at = lines.iter().position(|l| l.contains("40 × hole   50.0")).unwrap();
    assert!(lines[at + 1].contains("…          440.0"), "{many}");
    assert!(lines[at + 1].ends_with("pitch 10 mm"), "{many}");
    assert!(!many.contains("hole 7") && lines[at + 2].contains("tip"), "{many}");
    let few = row("12");
    assert!(few.contains("hole 12") && !few.contains("pitch"), "{few}");
}

/// What the program's own templates are called has its words in every language.
#[test]
fn names_of_templates_are_translated() {
    let german = Wording { language: Language::German, units: Units::Millimetres };
    let known = |name: &Name| {
        assert!(name.is_built_in(), "{name}");
        let others = Language::ALL.into_iter().skip(1);
        let is_own = others
            .map(|language| Wording { language, ..german })
            .all(|w| w.name(name) != name.as_str());
        assert!(is_own, "`{name}` is English in some language; add it to `names.ftl`");
    };
    for template in REGISTER {
        let text = format!("template = \"{}\"", template.name);
        let (job, _, layout) = prepare("job", &text, &[]).laid.unwrap();
        known(&job.name(&job.title));
        job.serves.iter().for_each(|s| known(&job.name(&s.what)));
        for piece in &layout.pieces {
            known(&piece.name);
            for mark in piece.marks.iter().filter(|m| m.is_punched()) {
                if !matches!(mark.shape, Shape::Slot { .. }) {
                    known(layout.feature(mark));
                }
            }
        }
    }
}

fn input((job, fit, layout): &Laid) -> TicketInput<'_> {
    TicketInput { job, fit: fit.as_ref(), layout, wording: Wording::default() }
}

/// One ticket for all sizes: what they share once, then the readings of each. By hand: the
/// girth at 34 in is 863.6 - (4 / 2 + 3.5) - π · 3.5 + 30 = 877.1 mm, at two holes on either
/// side 50.8 mm less and more.
#[test]
fn a_nested_ticket_has_every_size() {
    let told = |size: &str| {
        let sets = [format!("measure.value={size}"), "measure.taken=bend-to-hole".into()];
        prepare("job", "template = \"belt\"", &sets).laid.unwrap()
    };
    let [small, large] = ["34 in", "36 in"].map(told);
    let sizes = [("34 in", input(&small)), ("36 in", input(&large))];
    let given = text(&nested(&sizes, "34 in to 36 in").unwrap());
    for words in [
        "sizes 34 in to 36 in: punch one row",
        "34 in: strap",
        "36 in: strap",
        "34 in: 826 mm – 928 mm",
        "size 34 in\n",
        "size 36 in\n",
    ] {
        assert!(given.contains(words), "{words}:\n{given}");
    }
    for (word, times) in
        [("fastener P1", 2), ("hole 1", 2), ("tip  ", 2), ("Hardware", 1)]
    {
        assert_eq!(given.matches(word).count(), times, "{word}:\n{given}");
    }
    assert!(given.contains("round punch Ø 4.8 mm: 5 ×"), "of one strap:\n{given}");
}

/// Only the longest tip of a nested print is a thick line.
#[test]
fn a_nested_ticket_has_no_thick_tip_to_cut() {
    let large = prepare("job", "template = \"belt\"", &[]).laid.unwrap();
    for language in Language::ALL {
        let wording = Wording { language, units: Units::default() };
        let input = TicketInput { wording, ..input(&large) };
        let [one, all] = [ticket(&input), nested(&[("34 in", input)], "34 in").unwrap()]
            .map(|t| text(&t));
        let [thick, own] =
            [Word::StepTip, Word::StepTipOfSize].map(|word| wording.say(word));
        assert!(one.contains(thick) && !one.contains(own), "{one}");
        assert!(all.contains(own) && !all.contains(thick), "{all}");
    }
}

#[test]
fn copies_share_a_table_and_mirrored_ones_are_told() {
    let braces = english("braces", &[]);
    assert!(braces.contains("2 × front, 1 mirrored: Marks by tape"), "{braces}");
    assert_eq!(braces.matches("Marks by tape").count(), 3, "fronts, back and tabs");
    // What lies off the centre line is not the same on a mirrored one.
    let apart = english("braces", &["front-holes.across=2 mm"]);
    assert_eq!(apart.matches("Marks by tape").count(), 4, "{apart}");
}

#[test]
fn a_german_ticket_in_inches_has_its_own_words() {
    let wording = Wording { language: Language::German, units: Units::Inches };
    let german = told("watch-strap", &[], wording);
    for words in [
        "2 × Schlaufe",
        "Schnalle ~5/8 in (16 mm) innen",
        "Umriss entlang",
        "Jeden Umschlag",
    ] {
        assert!(german.contains(words), "{words}:\n{german}");
    }
    assert!(!german.contains("keeper"), "{german}");
}
