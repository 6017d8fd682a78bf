//! Words after `--set`.

use super::Target;
use super::job::{read, words};
use crate::mutate::{Rng, text};

pub(crate) const TARGET: Target = Target { name: "set", weight: 10, input, run };

const KEYS: &[&str] = &[
    "strap.width",
    "strap.thickness",
    "strap.k",
    "measure.value",
    "measure.taken",
    "measure.ease",
    "buckle.bar",
    "buckle.reach",
    "size-holes.inside",
    "size-holes.outside",
    "size-holes.pitch",
    "size-holes.diameter",
    "size-holes.from",
    "size-holes.rows",
    "fittings.count",
    "fittings.holes-along",
    "tip.shape",
    "tip.past-last-hole",
    "tip.by",
    "blank.length",
    "blank.punched",
    "stock.sizes",
    "stock.size",
    "title",
    "wearer",
    "template",
    "x.kind",
    "a.b.c.d",
    "strap",
    "keeper.count",
    "keeper.layers",
];

fn input(rng: &mut Rng) -> Vec<u8> {
    let mut sets = Vec::new();
    for _ in 0..=rng.below(5) {
        let value = match rng.below(4) {
            0 => format!("{} mm", rng.below(100_000)),
            1 => rng.below(1_200).to_string(),
            2 => (*rng.pick(words())).to_owned(),
            _ => format!("{} + {}", rng.pick(words()), rng.pick(words())),
        };
        sets.push(format!("{}={value}", rng.pick(KEYS)));
    }
    if rng.one_in(2) {
        text(rng, &[sets.join("\n")], words())
    } else {
        sets.join("\n").into()
    }
}

fn run(input: &[u8]) -> bool {
    let sets: Vec<String> =
        String::from_utf8_lossy(input).lines().take(100).map(ToOwned::to_owned).collect();
    let template = ["belt", "dog-collar", "bag-strap", "watch-strap"][input.len() % 4];
    read(&format!("template = \"{template}\"\n"), &sets)
}
