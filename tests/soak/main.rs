//! Every way into the program, fed with what nobody would write: no panic, no endless work.
//!
//! Each target makes its inputs from sound samples, spliced, garbled and cut, and from
//! structures that are made to do harm. A case is told by its target and a number, and is the
//! same on every machine. A short run is a test like any other; DEVELOPERS.md says how to make
//! it long, and how to play a single case again.

#![expect(
    clippy::cast_precision_loss,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a case that does harm fails its test; lengths are short in nanometres"
)]
#![expect(clippy::disallowed_methods, reason = "files of tests need not be whole")]

#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod mutate;
mod targets;

use mutate::seeded;
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::{Duration, Instant};
use targets::{TARGETS, Target};

/// Cases of each target in a short run; those that draw and read back take longer.
const SHORT: u64 = 150;
/// What no case may take in a soak run of a release build.
const MOST: Duration = Duration::from_secs(1);
/// After this a case is taken to hang, on however slow a machine.
const HANGS: Duration = Duration::from_mins(2);

/// Runs a case on a thread of its own that has its name, so that even an overflowing stack
/// tells which case it was. Tells how long it took, and whether it was taken for sound.
fn run(target: &'static Target, number: u64) -> (Duration, bool) {
    let name = format!("{}:{number}", target.name);
    let input = (target.input)(&mut seeded(target.name, number));
    let kept = input.clone();
    let (done, waiting) = channel();
    let start = Instant::now();
    let thread = std::thread::Builder::new().name(name.clone()).spawn(move || {
        done.send((target.run)(&input)).unwrap();
    });
    let ended = waiting.recv_timeout(HANGS);
    let took = start.elapsed();
    let done = match ended {
        Ok(is_sound) => Ok(is_sound),
        Err(RecvTimeoutError::Timeout) => Err("does not end"),
        Err(RecvTimeoutError::Disconnected) => Err("panics"),
    };
    if let Err(how) = done {
        let path = std::env::temp_dir().join(name.replace(':', "-"));
        std::fs::write(&path, &kept).unwrap();
        panic!(
            "{name} {how}; its input is {}; SOAK_SEED={name} runs it again",
            path.display()
        );
    }
    thread.unwrap().join().unwrap();
    (took, done.unwrap_or_default())
}

/// What is asked for by an environment variable.
fn asked<T: std::str::FromStr>(name: &str) -> Option<T> {
    let text = std::env::var(name).ok()?;
    let Ok(value) = text.parse() else { panic!("{name}={text} is no such number") };
    Some(value)
}

fn find(name: &str) -> &'static Target {
    let names: Vec<&str> = TARGETS.iter().map(|t| t.name).collect();
    let found = TARGETS.iter().find(|t| t.name == name);
    found.unwrap_or_else(|| panic!("no target is called {name}; there are {names:?}"))
}

#[test]
fn no_input_does_harm() {
    if let Ok(seed) = std::env::var("SOAK_SEED") {
        let (name, number) = seed.split_once(':').expect("SOAK_SEED=TARGET:NUMBER");
        let (took, is_sound) = run(find(name), number.parse().unwrap());
        eprintln!("{seed} took {took:?}, sound: {is_sound}");
        return;
    }
    let long: Option<u64> = asked("SOAK");
    let from: u64 = asked("SOAK_FROM").unwrap_or(0);
    let only = std::env::var("SOAK_TARGET").ok();
    let chosen: Vec<&'static Target> = match &only {
        Some(name) => vec![find(name)],
        None => TARGETS.iter().collect(),
    };
    let weights: u64 = chosen.iter().map(|t| t.weight).sum();
    for target in chosen {
        // A long run shares its cases by weight; so does a short one.
        let cases = match long {
            Some(all) => (all * target.weight).div_ceil(weights),
            None => (SHORT * target.weight).div_ceil(8),
        };
        let (start, mut slowest) = (Instant::now(), (Duration::ZERO, from));
        let mut sound = 0;
        for number in from..from + cases {
            let (took, is_sound) = run(target, number);
            slowest = slowest.max((took, number));
            sound += u64::from(is_sound);
        }
        let (took, number) = slowest;
        // All sound, or none, and the inputs do not get where things break.
        assert!(0 < sound && sound < cases, "{}: {sound} of {cases} sound", target.name);
        eprintln!(
            "{}: {cases} cases, {sound} of them sound, in {:.1} s, slowest {:.3} s ({}:{number})",
            target.name,
            start.elapsed().as_secs_f64(),
            took.as_secs_f64(),
            target.name
        );
        assert!(
            long.is_none() || took <= MOST,
            "{}:{number} took {took:?}; SOAK_SEED={}:{number} runs it again",
            target.name,
            target.name
        );
    }
}

#[test]
fn a_case_is_the_same_each_time() {
    for target in TARGETS {
        let case = |number| (target.input)(&mut seeded(target.name, number));
        let all: Vec<Vec<u8>> = (0..20).map(case).collect();
        assert!(
            all.iter().zip(0..).all(|(input, n)| *input == case(n)),
            "{}",
            target.name
        );
        let mut apart = all.clone();
        apart.sort();
        apart.dedup();
        assert!(apart.len() > 10, "{}: the same inputs over and over", target.name);
    }
}
