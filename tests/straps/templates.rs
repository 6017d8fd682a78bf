//! Every template as a strap: laid out without a finding, and its holes where the figures
//! say.

use crate::common::straps::{BARE, all, clean, close, of, piece, strap};
use crate::common::{self, belt, mm, run};
use std::f64::consts::PI;
use strapwright::assembly::Assembly;
use strapwright::fit::keeper_length;
use strapwright::geom::Length;
use strapwright::job;
use strapwright::layout::{Layout, Mark, MarkKind, MarkRole};
use strapwright::template::{self, REGISTER};

#[test]
fn every_template_is_sound() {
    for (template, run) in all() {
        assert!(!clean(&run).pieces.is_empty(), "{}", template.name);
    }
}

/// What `new` asks makes a whole job: each template with its own values given anew for these
/// keys alone. Each measure says how it is taken.
#[test]
fn every_template_is_drawn_from_what_it_asks() {
    for template in REGISTER {
        let loader = template::BuiltIn;
        let chain = job::read_template(template.name, &loader).texts;
        let texts: Vec<&str> = chain.iter().map(|t| t.text.as_ref()).collect();
        let about = template::about_chain(&texts);
        assert!(about.asked.len() >= 3, "{}", template.name);
        let mut job = format!("template = \"{}\"\n", template.name);
        for name in &about.asked {
            let key = about.keys.iter().find(|key| key.name == *name).expect(name);
            let value = key.default.as_deref().expect(name);
            let what = key.what.split(':').next().unwrap_or_default();
            let is_measured = name.starts_with("buckle.") || name == "measure.value";
            assert!(!what.is_empty() && (!is_measured || !key.how.is_empty()), "{name}");
            job = job + name + " = " + value + "\n";
        }
        clean(&run(&job, &[]));
    }
}

/// Computed: half of what a fold takes up, in mm.
fn half_bend(bar: f64, thickness: f64) -> f64 {
    PI * (bar / 2.0 + thickness / 2.0) / 2.0
}

/// Common practice, no source: neck + 2 in to the middle hole. Computed: the closed loop is
/// the strap from the bar to the hole and the buckle's reach; its mid-line is π t longer
/// than what it goes round.
#[test]
fn a_collar_closes_round_neck_and_ease() {
    let collar = strap("dog-collar", &[]);
    let layout = clean(&collar);
    let size = layout.size_hole().unwrap();
    let loop_ = mm(size) - half_bend(4.0, 3.5) + 22.0;
    assert!(close(loop_, 15.0 * 25.4 + 2.0 * 25.4 + PI * 3.5), "{loop_}");
    // With the fingers under the tape, they are the ease.
    let fingers = strap("dog-collar", &["measure.taken=tape-with-fingers"]);
    let less = clean(&fingers).size_hole().unwrap();
    assert_eq!(size - less, Length::from_inches(2));
    // The other way: a 15 in neck at the size hole, 3/4 in more a hole.
    let (_, fit, layout) = collar.laid.as_ref().unwrap();
    let girths: Vec<Length> =
        layout.size_holes().map(|m| fit.as_ref().unwrap().girth_at(m.at.x)).collect();
    let wanted = [54, 57, 60, 63, 66].map(|q| Length::from_inch_64ths(q * 16));
    assert_eq!(girths, wanted, "13 1/2, 14 1/4, 15, 15 3/4 and 16 1/2 in");
}

/// Computed: wrist, ease and π t are the long part to the hole, the reach, the short part
/// and the watch. ANSUR II (US Army, 2012, public data): median wrists 176 and 154 mm.
#[test]
fn a_watch_strap_closes_round_the_wrist() {
    for wrist in [154.0, 176.0] {
        let value = format!("measure.value={wrist} mm");
        let watch = strap("watch-strap", &[&value]);
        let layout = clean(&watch);
        let size = layout.size_hole().unwrap();
        let long = mm(size) - half_bend(1.8, 2.2);
        let loop_ = long + 8.0 + 75.0 + 42.0;
        assert!(close(loop_, wrist + 5.0 + PI * 2.2), "{loop_}");
        // The short part is 75 mm from bar to bar (common practice).
        let short = piece(layout, "short-part");
        let bends: Vec<f64> = short.folds.iter().map(|f| mm(f.at)).collect();
        let between = bends[1] - bends[0] - 2.0 * half_bend(1.8, 2.2);
        assert!(close(between, 75.0), "{between}");
        assert_eq!(short.width, Length::from_mm(20));
    }
}

/// Computed: ring to ring is the buckle part, the reach and the hole part to the hole.
#[test]
fn a_bag_strap_serves_its_range() {
    let bag = strap("bag-strap", &[]);
    let layout = clean(&bag);
    let holes = of(layout, piece(layout, "hole-part"), "adjustment", MarkKind::Hole);
    assert_eq!(holes.len(), 13, "12 steps of 25 mm, an inch being the most");
    let worn = |m: &Mark| mm(m.at.x) - half_bend(4.0, 3.5) + 24.0 + 350.0;
    assert!(close(worn(holes[0]), 1_000.0) && close(worn(holes[12]), 1_300.0));
    let part = piece(layout, "buckle-part");
    let between = mm(part.folds[1].at) - 2.0 * half_bend(4.0, 3.5);
    assert!(close(between, 350.0), "{between}");
    let served = layout.serves(&bag.laid.as_ref().unwrap().0, None).unwrap();
    assert!(close(mm(served.0), 1_000.0) && close(mm(served.1), 1_300.0), "{served:?}");
}

/// Computed: cut length = fold, half bend, finished length, loop and lap.
#[test]
fn a_lead_is_cut_for_its_finished_length() {
    let lead = strap("lead", &["lead.finished=72 in"]);
    let layout = clean(&lead);
    let length = mm(layout.pieces[0].extent.length());
    let wanted = 60.0 + half_bend(6.0, 3.5) + 72.0 * 25.4 + 180.0 + 45.0;
    assert!(close(length, wanted), "{length}");
    let served = layout.serves(&lead.laid.as_ref().unwrap().0, None).unwrap();
    assert!(close(mm(served.0), 72.0 * 25.4) && served.0 == served.1, "{served:?}");
}

/// Computed: cap and post lie one upon the other when the mid-line has closed. Its beginning
/// lies on its inner end, which goes on by `lap`: a curve 2.5 mm outside another is longer by
/// 2.5 mm times the angle, lap / radius of the mid-line.
#[test]
fn a_cuff_closes_cap_on_post() {
    let more = |girth: f64, lap: f64| {
        let loop_length = girth + 5.0 + PI * 2.5;
        loop_length + 2.5 * lap / (loop_length / (2.0 * PI))
    };
    let cuff = strap("cuff", &["snaps.posts=3", "snaps.pitch=14 mm"]);
    let layout = clean(&cuff);
    let snaps = of(layout, &layout.pieces[0], "snaps", MarkKind::Snap);
    assert_eq!(snaps.len(), 8, "two caps and two rows of three posts");
    let post = snaps.iter().find(|m| m.role == MarkRole::NumberedPost { n: 1 }).unwrap();
    assert!(close(mm(post.at.x), more(170.0, 14.0 + 2.0 * 14.0)));
    let (job, fit, _) = cuff.laid.as_ref().unwrap();
    let served = layout.serves(job, fit.as_ref()).unwrap();
    assert!(close(mm(served.0), 170.0), "{served:?}");
    let last = more(mm(served.1), 14.0);
    assert!(close(last, mm(post.at.x) + 28.0), "{served:?}, {last}");
    // Fingers under the tape are the ease.
    let cuff = strap("cuff", &["measure.taken=tape-with-fingers"]);
    let (job, fit, layout) = cuff.laid.as_ref().unwrap();
    assert!(close(mm(layout.serves(job, fit.as_ref()).unwrap().0), 170.0));
}

/// By hand: the mid-line of strap and lining lies half of both outside the body, so a lining of
/// 2.4 mm moves a tape's size hole by π · 2.4 mm, and by π · 2.4 / 4 mm for the half bend; a
/// keeper round three layers is 2 · 3 · 2.4 mm longer, a post goes through two layers more.
#[test]
fn a_lining_counts_in_girth_bend_keeper_and_stack() {
    let job = |count: u8| {
        format!(
            "template = \"belt\"\nmeasure.value = \"34 in\"\nstrap.thickness = \"3.2 mm\"\n\
             [lining]\nkind = \"lining\"\nof = \"strap\"\ninset = \"0 mm\"\n\
             thickness = \"2.4 mm\"\ncount = {count}\n"
        )
    };
    let laid = |count| common::laid(&job(count), &[]);
    let ((bare, _, plain), (lined, _, with)) = (laid(0), laid(1));
    let [x, further] = [&plain, &with].map(|l| mm(l.size_hole().unwrap()));
    assert!(close(x, 863.6 + PI * 3.2 - 30.0 + half_bend(4.0, 3.2)), "{x}");
    assert!(close(further - x, 1.25 * PI * 2.4), "{x} {further}");
    let [short, long] = [&plain, &with].map(|l| mm(piece(l, "keeper").extent.length()));
    assert!(close(long - short, 14.4), "{short} {long}");
    let stack = |job: &job::Job, layout: &Layout| {
        let turn_back = &job.features[0];
        mm(Assembly::new(job, layout).stack(turn_back))
    };
    assert!(close(stack(&bare, &plain), 6.4) && close(stack(&lined, &with), 11.2));
}

/// A reading from a strap that fits has the ease in it: it moves no hole.
#[test]
fn ease_belongs_to_a_tape_round_the_body() {
    for taken in ["bend-to-hole", "bar-to-hole", "frame-to-hole", "tape-with-fingers"] {
        let at = |ease: &str| {
            let taken = format!("measure.taken={taken}");
            let collar = ["measure.value=15 in", &taken, ease];
            strap("dog-collar", &collar).laid.unwrap().2.size_hole()
        };
        assert_eq!(at("measure.ease=0 mm"), at("measure.ease=50 mm"), "{taken}");
    }
}

/// Computed, as for a belt, for the smallest and the largest bundle, and for the loop of a
/// baldric.
#[test]
fn bundles_and_baldrics_close_round_their_girth() {
    let bundle = strap("bundle-strap", &[]);
    let holes = of(clean(&bundle), &clean(&bundle).pieces[0], "holes", MarkKind::Hole);
    let girth = |m: &Mark| mm(m.at.x) - half_bend(4.0, 3.5) + 18.0 - PI * 3.5;
    assert!(close(girth(holes[0]), 300.0) && close(girth(holes[holes.len() - 1]), 600.0));
    let baldric = strap("baldric", &[]);
    let holes =
        of(clean(&baldric), &clean(&baldric).pieces[0], "size-holes", MarkKind::Hole);
    let loop_ = mm(holes[3].at.x) - half_bend(5.0, 3.5) + 36.0 - PI * 3.5;
    assert!(close(loop_, 1_550.0), "{loop_}");
}

#[test]
fn guitar_and_camera_straps_reach_from_end_to_end() {
    let guitar = strap("guitar-strap", &[]);
    let tail = of(clean(&guitar), &clean(&guitar).pieces[0], "tail", MarkKind::Hole);
    let places: Vec<f64> = tail.iter().map(|m| mm(m.at.x)).collect();
    assert_eq!(places.len(), 8);
    for (i, x) in places.iter().enumerate() {
        assert!((x - 1_000.0 - 50.0 * i as f64).abs() < 1e-5, "{x}");
    }
    let camera = strap("camera-strap", &[]);
    let folds = &clean(&camera).pieces[0].folds;
    let between = mm(folds[1].at) - 2.0 * half_bend(2.0, 2.5);
    assert!(close(between, 1_000.0), "{between}");
}

/// Computed: 2 (w + n t) + π · own thickness + ease.
#[test]
fn keepers_are_as_long_as_their_stack_asks() {
    let two = strap("two-prong-belt", &[]);
    let length = piece(clean(&two), "keeper").extent.length();
    assert!(close(mm(length), 2.0 * (44.45 + 10.5) + PI * 2.0 + 2.0), "{length}");
    let own = belt("");
    let length = piece(clean(&own), "keeper").extent.length();
    assert!(close(mm(length), 2.0 * (38.1 + 10.5) + PI * 2.0 + 2.0), "{length}");
    let none = belt("turn-back.keeper-width = \"0 mm\"");
    assert_eq!(clean(&none).pieces.len(), 1, "no keeper, no piece");
    let wide = keeper_length(
        Length::from_um(38_100),
        3,
        Length::from_um(3_500),
        Length::from_mm(2),
        Length::ZERO,
    );
    assert_eq!(wide.mm(2), "103.48");
}

#[test]
fn two_tongues_have_two_rows() {
    let run = strap("two-prong-belt", &["prongs.apart=20 mm"]);
    let layout = clean(&run);
    let strap = piece(layout, "strap");
    let holes = of(layout, strap, "size-holes", MarkKind::Hole);
    assert_eq!(holes.len(), 10);
    for pair in holes.chunks(2) {
        assert_eq!(pair[0].at.x, pair[1].at.x);
        assert_eq!(pair[1].at.y - pair[0].at.y, Length::from_mm(20));
        assert_eq!(pair[1].at.y, -pair[0].at.y);
    }
}

#[test]
fn lengths_may_go_round_and_be_divided() {
    let sets = [
        "holes.count=1",
        "holes.by=pi x strap.width / 2 + 60 mm / 4 - 2 x strap.width / 3",
    ];
    let run = run(BARE, &sets.map(ToOwned::to_owned));
    let hole = of(clean(&run), &clean(&run).pieces[0], "holes", MarkKind::Hole)[0];
    assert!(close(mm(hole.at.x), PI * 15.0 + 15.0 - 20.0), "{}", hole.at.x);
}

/// Necks of dogs and sizes of hats: common practice, no source. Wrists: ANSUR II (US Army,
/// 2012, public data), percentiles 5 to 95, women's and men's; lugs 16 to 24 mm: common
/// practice.
#[test]
fn usual_sizes_draw_without_a_finding() {
    let mut tried = 0;
    let mut draws = |name: &str, sets: &[String]| {
        let sets: Vec<&str> = sets.iter().map(String::as_str).collect();
        clean(&strap(name, &sets));
        tried += 1;
    };
    for (neck, width, buckle) in
        [(250, 16, 17), (381, 25, 26), (550, 32, 33), (640, 38, 40)]
    {
        draws(
            "dog-collar",
            &[
                format!("measure.value={neck} mm"),
                format!("strap.width={width} mm"),
                format!("buckle.inside={buckle} mm"),
            ],
        );
    }
    for wrist in [162, 176, 191] {
        for (lugs, buckle) in [(16, 14), (18, 16), (20, 18), (22, 20), (24, 20)] {
            draws(
                "watch-strap",
                &[
                    format!("measure.value={wrist} mm"),
                    format!("watch.lug-width={lugs} mm"),
                    format!("watch.buckle-width={buckle} mm"),
                    format!("buckle.inside={buckle} mm"),
                ],
            );
        }
    }
    for wrist in [142, 154, 168, 162, 176, 191] {
        draws("cuff", &[format!("measure.value={wrist} mm")]);
    }
    for cm in 52..=64 {
        draws("hat-band", &[format!("measure.value={cm} cm")]);
    }
    for cm in (42..=70).step_by(4) {
        draws("garter", &[format!("measure.value={cm} cm")]);
    }
    for inches in (28..=46).step_by(2) {
        for name in ["centre-bar-belt", "two-prong-belt"] {
            draws(name, &[format!("measure.value={inches} in")]);
        }
    }
    for (least, most) in [(60, 90), (80, 110), (100, 150)] {
        let range = |what: &str| {
            [format!("{what}.shortest={least} cm"), format!("{what}.longest={most} cm")]
        };
        draws("bag-strap", &range("bag"));
        draws("guitar-strap", &range("guitar"));
    }
    for inches in [36, 48, 60, 72] {
        draws("lead", &[format!("lead.finished={inches} in")]);
        draws("camera-strap", &[format!("camera.finished={inches} in")]);
    }
    assert!(tried > 60, "{tried}");
}
