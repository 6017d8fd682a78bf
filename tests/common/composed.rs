//! Jobs that nobody wrote: a template with own pieces and features, on any paper, with words
//! that look like the program's own.

use super::random::Random;
use std::fmt::Write as _;
use strapwright::template::REGISTER;

/// Papers of all forms.
pub(crate) const PAPERS: [&str; 8] =
    ["a4", "letter", "a3", "legal", "roll", "roll-297mm", "120x160mm", "250x400mm"];

/// Words that stand on sheets, or look as if they did.
const WORDS: [&str; 12] = [
    "1a",
    "2/3",
    "A4",
    "34 in",
    "W×1.01",
    "sheet 1/2",
    "240 mm",
    "7F3A-91C2",
    "10",
    "join 1",
    "A",
    "size",
];

/// Text of a job and the paper that it is drawn on.
pub(crate) fn composed(random: &mut Random) -> (String, &'static str) {
    let template = random.pick(REGISTER).name;
    let mut job = format!("template = \"{template}\"\n");
    if random.one_in(2) {
        let _ = writeln!(job, "title = \"{}\"", random.pick(&WORDS));
    }
    if random.one_in(3) {
        let _ = writeln!(job, "wearer = \"{}\"", random.pick(&WORDS));
    }
    if random.one_in(3) {
        let _ = writeln!(job, "strap.thickness = \"{} mm\"", tenths(random, 20, 45));
    }
    let pieces = random.below(4);
    for n in 0..pieces {
        let (length, width) = (random.between(60, 700), random.between(12, 120));
        let _ = writeln!(job, "\n[own-{n}]\nkind = \"piece\"");
        let _ = writeln!(job, "length = \"{length} mm\"\nwidth = \"{width} mm\"");
        let count = random.between(1, 3);
        let _ = writeln!(job, "count = {count}");
        if count > 1 && random.one_in(3) {
            job += "mirrored = true\n";
        }
    }
    for n in 0..random.below(5) {
        let on = random.below(pieces + 1);
        let (on, from) = match on {
            0 if template == "plain-strap" => (String::new(), "strap.zero".to_owned()),
            0 if pieces == 0 => continue,
            0 => (format!("on = \"own-{}\"\n", 0), "own-0.start".to_owned()),
            on => (format!("on = \"own-{}\"\n", on - 1), format!("own-{}.start", on - 1)),
        };
        let by = random.between(15, 120);
        let _ = write!(job, "\n[mark-{n}]\n{on}from = \"{from}\"\nby = \"{by} mm\"\n");
        let word = *random.pick(&WORDS);
        match random.below(5) {
            0 => {
                let _ =
                    writeln!(job, "kind = \"text\"\nsize = \"4 mm\"\ntext = \"{word}\"");
            }
            1 => {
                let length = random.between(10, 40);
                let _ = writeln!(
                    job,
                    "kind = \"stamp\"\nlength = \"{length} mm\"\nwidth = \"8 mm\"\n\
                     text = \"{word}\""
                );
            }
            2 => {
                let pitch = tenths(random, 60, 200);
                let _ = writeln!(
                    job,
                    "kind = \"row\"\nuse = \"hole\"\ncount = {}\npitch = \"{pitch} mm\"\n\
                     diameter = \"{} mm\"",
                    random.between(1, 12),
                    tenths(random, 6, 40)
                );
            }
            3 => {
                let _ = writeln!(
                    job,
                    "kind = \"hole-row\"\ninside = {}\noutside = {}\npitch = \"{} mm\"\n\
                     diameter = \"{} mm\"",
                    random.between(0, 4),
                    random.between(0, 4),
                    tenths(random, 100, 300),
                    tenths(random, 15, 60)
                );
            }
            _ => {
                let _ = writeln!(
                    job,
                    "kind = \"slot\"\nlength = \"{} mm\"\nwidth = \"{} mm\"",
                    random.between(8, 30),
                    random.between(2, 6)
                );
            }
        }
    }
    (job, *random.pick(&PAPERS))
}

/// A length in mm with one decimal.
fn tenths(random: &mut Random, from: i64, to: i64) -> f64 {
    random.between(from, to) as f64 / 10.0
}
