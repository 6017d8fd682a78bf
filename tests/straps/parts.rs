//! Straps of several parts, and the ways of measuring that go with them: places and girths
//! against figures worked by hand.

use crate::common::mm;
use crate::common::straps::{clean, close, of, piece, strap};
use std::f64::consts::PI;
use strapwright::assembly::Assembly;
use strapwright::geom::Length;
use strapwright::job::Job;
use strapwright::layout::{Layout, Mark, MarkKind};

/// Computed: half of what a fold takes up, in mm.
fn half_bend(bar: f64, thickness: f64) -> f64 {
    PI * (bar / 2.0 + thickness / 2.0) / 2.0
}

fn places(layout: &Layout, on: &str, feature: &str, kind: MarkKind) -> Vec<f64> {
    of(layout, piece(layout, on), feature, kind).iter().map(|m| mm(m.at.x)).collect()
}

fn stack(job: &Job, layout: &Layout, feature: &str) -> f64 {
    let feature = job.features.iter().find(|f| f.name.as_str() == feature).unwrap();
    mm(Assembly::new(job, layout).stack(feature))
}

/// Holes an inch apart from 24 in on: common practice, no source. Computed: hole n closes the
/// loop round 24 + (n - 1) in, and a belt for what hole 11 says is one for 34 in, the wearer's
/// room in it.
#[test]
fn a_sizing_strap_reads_the_girth_of_its_hole() {
    let sizing = strap("sizing-strap", &[]);
    let layout = clean(&sizing);
    let holes = places(layout, "strap", "holes", MarkKind::Hole);
    assert_eq!(holes.len(), 27);
    for (i, x) in holes.iter().enumerate() {
        let girth = x - half_bend(4.0, 2.5) + 24.0 - PI * 2.5;
        assert!(close(girth, (24.0 + i as f64) * 25.4), "hole {}: {girth}", i + 1);
    }
    let by_hole = [
        "measure.taken=sizing-strap",
        "measure.hole=11",
        "measure.first-hole=24 in",
        "measure.hole-pitch=1 in",
        "measure.ease=2 in",
    ];
    for name in ["belt", "dog-collar"] {
        let by_hole = strap(name, &by_hole).laid.unwrap().2;
        let by_tape =
            strap(name, &["measure.taken=tape-with-fingers", "measure.value=34 in"]);
        assert_eq!(by_hole.size_hole(), by_tape.laid.unwrap().2.size_hole(), "{name}");
    }
}

/// Watch straps of 75 + 115 mm: common practice, no source. Computed: the tip lies 115 mm from
/// the spring bar, the middle hole 3 holes of 6 mm and 24 mm before it; with a watch of 42 mm
/// the loop is 73 + 8 + 75 + 42 mm.
#[test]
fn a_watch_strap_is_given_by_its_pair() {
    let pair = ["measure.taken=bar-to-tip", "measure.value=115 mm", "watch.short=75 mm"];
    let watch = strap("watch-strap", &pair);
    let layout = clean(&watch);
    let long = piece(layout, "long-part");
    let tip = mm(long.extent.to) - half_bend(1.8, 2.2);
    assert!(close(tip, 115.0), "{tip}");
    let size = mm(layout.size_hole().unwrap()) - half_bend(1.8, 2.2);
    assert!(close(size, 115.0 - 24.0 - 18.0), "{size}");
    let fit = watch.laid.as_ref().unwrap().1.unwrap();
    let girth = mm(fit.girth_at(layout.size_hole().unwrap()));
    assert!(close(girth, 73.0 + 8.0 + 75.0 + 42.0 - PI * 2.2), "{girth}");
    // The tip of a belt stays where it was read, whatever lies before it.
    for sets in [["size-holes.outside=4", "tip.past-last-hole=4 in"], ["", ""]] {
        let mut all = vec!["measure.taken=bar-to-tip", "measure.value=44 in"];
        all.extend(sets.iter().filter(|s| !s.is_empty()));
        let belt = strap("belt", &all);
        let tip = mm(clean(&belt).strap().unwrap().extent.to) - half_bend(4.0, 3.5);
        assert!(close(tip, 44.0 * 25.4), "{tip}");
    }
}

/// Computed: from the bar, 65 mm of the buckle billet alone, the body, less the 110 mm that the
/// hole billet lies on it, the hole billet and the reach are girth and π t. Each rivet goes
/// through billet and body, 3 mm each.
#[test]
fn a_ranger_belt_closes_through_all_its_parts() {
    let ranger = strap("ranger-belt", &["measure.value=34 in"]);
    let layout = clean(&ranger);
    let body = mm(piece(layout, "body").extent.length());
    assert!(close(body, 24.0 * 25.4), "{body}");
    let hole = mm(layout.size_hole().unwrap());
    let loop_ = 65.0 + body - 110.0 + hole + 22.0;
    assert!(close(loop_, 34.0 * 25.4 + PI * 3.0), "{loop_}");
    // The same belt by each of its readings: the outside of the bend lies 2 + 3 mm, the frame
    // 26 mm beyond the bar.
    let from_bar = 34.0 * 25.4 + PI * 3.0 - 22.0;
    for (taken, read) in [
        ("bar-to-hole", from_bar),
        ("bend-to-hole", from_bar + 5.0),
        ("frame-to-hole", from_bar + 26.0),
        ("trousers", from_bar + 5.0 - 50.8),
        ("bar-to-tip", from_bar + 2.0 * 25.4 + 76.2),
    ] {
        let taken = format!("measure.taken={taken}");
        let value = format!("measure.value={read:.6} mm");
        let sets = [&taken, &value, "ranger.body=24 in", "buckle.frame=26 mm"];
        let (_, fit, other) = strap("ranger-belt", &sets).laid.unwrap();
        let at = other.size_hole().unwrap();
        assert!(close(mm(at), hole), "{taken}: {at}");
        assert!(close(mm(fit.unwrap().girth_at(at)), 34.0 * 25.4), "{taken}");
    }
    for (on, over, feature, holes) in [
        ("buckle-billet", half_bend(4.0, 3.0) + 65.0, "buckle-rivets", "body-start"),
        ("hole-billet", 110.0 - body, "hole-rivets", "body-end"),
    ] {
        let posts = places(layout, on, feature, MarkKind::Fastener);
        let below = places(layout, "body", holes, MarkKind::Hole);
        assert!(posts.len() == 3 && below.len() == 3);
        for (post, hole) in posts.iter().zip(&below) {
            assert!(close(post - over, *hole), "{feature}: {post} {hole}");
        }
        let job = &ranger.laid.as_ref().unwrap().0;
        assert!(close(stack(job, layout, feature), 6.0), "{feature}");
    }
    // A body of another leather counts with its own thickness.
    let thick = strap("ranger-belt", &["body.thickness=4 mm"]);
    let (job, _, layout) = thick.laid.as_ref().unwrap();
    assert!(close(stack(job, layout, "hole-rivets"), 7.0));
    assert!(close(stack(job, layout, "body-end"), 7.0));
}

/// Computed: a cap on the turned-back end lies on its post when the bend is closed; the belt is
/// as long as one with fasteners.
#[test]
fn a_snap_on_belt_snaps_through_both_layers() {
    let belt = strap("snap-on-belt", &["measure.value=34 in"]);
    let layout = clean(&belt);
    for (feature, away) in [("near-snap", 26.0), ("far-snap", 62.0)] {
        let snaps = places(layout, "strap", feature, MarkKind::Snap);
        assert_eq!(snaps, [-away, away], "{feature}");
        let job = &belt.laid.as_ref().unwrap().0;
        assert!(close(stack(job, layout, feature), 6.4), "{feature}");
    }
    let plain = strap("belt", &["measure.value=34 in", "strap.thickness=3.2 mm"]);
    assert_eq!(layout.size_hole(), clean(&plain).size_hole());
}

/// Computed: x = 863.6 + π · 3.6 - 30 + half of the bend of 3.6 mm; two layers of 3.6 mm in the
/// fold, three in the keeper.
#[test]
fn a_lined_belt_counts_its_lining() {
    let belt = strap("lined-belt", &["measure.value=34 in"]);
    let layout = clean(&belt);
    let x = mm(layout.size_hole().unwrap());
    assert!(close(x, 863.6 + PI * 3.6 - 30.0 + half_bend(4.0, 3.6)), "{x}");
    let job = &belt.laid.as_ref().unwrap().0;
    assert!(close(stack(job, layout, "turn-back"), 7.2));
    let keeper = mm(piece(layout, "keeper").extent.length());
    assert!(close(keeper, 2.0 * (38.1 + 3.0 * 3.6) + PI * 2.0 + 2.0), "{keeper}");
}

/// Computed: a lining that is cut away round the holes is in the bend, but not in the two layers
/// that a post of the fold holds.
#[test]
fn posts_do_not_go_through_a_trimmed_lining() {
    let sets =
        ["measure.value=34 in", "strap.thickness=2.2 mm", "lining.thickness=1.4 mm"];
    let through = strap("lined-belt", &sets);
    let trimmed = strap("lined-belt", &[&sets[..], &["lining.holes=trimmed"]].concat());
    assert_eq!(clean(&through).size_hole(), clean(&trimmed).size_hole());
    for (belt, wanted) in [(&through, 7.2), (&trimmed, 4.4)] {
        let job = &belt.laid.as_ref().unwrap().0;
        assert!(close(stack(job, clean(belt), "turn-back"), wanted), "{wanted}");
    }
}

/// Computed: both halves of a fob are as long from the ring's bar, and their snap and rivet lie
/// on each other.
#[test]
fn a_key_fob_folds_in_its_middle() {
    let fob = strap("key-fob", &["fob.length=4 in"]);
    let layout = clean(&fob);
    let strap = piece(layout, "strap");
    assert_eq!(strap.extent.from, -strap.extent.to);
    let finished = mm(strap.extent.to) - half_bend(2.5, 3.0);
    assert!(close(finished, 101.6), "{finished}");
    for (feature, kind) in [("fold", MarkKind::Fastener), ("snap", MarkKind::Snap)] {
        let two = places(layout, "strap", feature, kind);
        assert!(two.len() == 2 && close(two[0], -two[1]), "{feature}: {two:?}");
    }
    let served = layout.serves(&fob.laid.as_ref().unwrap().0, None).unwrap();
    assert!(close(mm(served.0), 101.6), "{served:?}");
}

/// Computed: the tab, the buckle from bar to bar and the neck strap to the slit are the length
/// that it serves.
#[test]
fn an_apron_hangs_from_a_buckle_that_opens() {
    let apron = strap("apron-strap", &[]);
    let layout = clean(&apron);
    let slits = places(layout, "neck-strap", "neck-slits", MarkKind::Hole);
    let tab = piece(layout, "neck-tab");
    let from_patch = mm(tab.folds[0].at) - half_bend(3.0, 2.5) - 40.0;
    assert!(close(from_patch, 60.0), "{from_patch}");
    for (slit, wanted) in [(slits[0], 500.0), (slits[4], 620.0)] {
        let worn = slit - half_bend(3.0, 2.5) + 45.0 + from_patch;
        assert!(close(worn, wanted), "{worn}");
    }
    let served = layout.serves(&apron.laid.as_ref().unwrap().0, None).unwrap();
    assert!(close(mm(served.0), 500.0) && close(mm(served.1), 620.0), "{served:?}");
}

/// Two holes across each end: common practice, no source. Computed: 3 mm from a butted end,
/// half of the lap from one that laps, so that the holes lie on each other once the strip has
/// gone round.
#[test]
fn a_keeper_has_holes_to_close_it() {
    let ends = |sets: &[&str]| {
        let run = strap("belt", sets);
        let keeper = piece(clean(&run), "keeper").clone();
        let marks: Vec<&Mark> = keeper.marks.iter().collect();
        assert!(marks.iter().all(|m| m.kind == MarkKind::Stitch));
        let at = marks.iter().map(|m| (mm(m.at.x), mm(m.at.y))).collect::<Vec<_>>();
        (at, mm(keeper.extent.to))
    };
    let (butted, length) = ends(&[]);
    let wanted = [(3.0, -4.0), (3.0, 4.0), (length - 3.0, -4.0), (length - 3.0, 4.0)];
    assert_eq!(butted.len(), 4);
    for (found, wanted) in butted.iter().zip(wanted) {
        assert!(close(found.0, wanted.0) && close(found.1, wanted.1), "{found:?}");
    }
    let (lapped, long) = ends(&["keeper.lap=10 mm"]);
    let round = long - 10.0;
    assert!(close(lapped[0].0, 5.0) && close(lapped[2].0 - round, 5.0), "{lapped:?}");
    assert!(ends(&["keeper.end-holes=0"]).0.is_empty());
    let none = strap("belt", &["turn-back.keeper-width=0 mm"]);
    assert_eq!(clean(&none).pieces.len(), 1);
}

/// The bar, 6 mm and the posts: common practice, no source. A thicker ring gets more.
#[test]
fn a_ring_has_its_room() {
    for bar in [3, 4, 6] {
        let set = format!("ring.bar={bar} mm");
        let collar = strap("dog-collar", &[&set]);
        let layout = clean(&collar);
        let strap = layout.strap().unwrap();
        let at = |feature: &str| {
            let all = of(layout, strap, feature, MarkKind::Fastener);
            all.iter().map(|m| m.at.x).max().unwrap()
        };
        let clear = at("ring-fastener") - at("turn-back") - Length::from_mm(4);
        assert_eq!(clear, Length::from_mm(bar + 6), "{bar}");
    }
}
