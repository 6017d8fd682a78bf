//! Words after `--set`.

use super::Target;
use super::job::{read, words};
use crate::common::random::Random;
use crate::mutate::text;

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

fn input(random: &mut Random) -> Vec<u8> {
    let mut sets = Vec::new();
    for _ in 0..=random.below(5) {
        let value = match random.below(4) {
            0 => format!("{} mm", random.below(100_000)),
            1 => random.below(1_200).to_string(),
            2 => (*random.pick(words())).to_owned(),
            _ => format!("{} + {}", random.pick(words()), random.pick(words())),
        };
        sets.push(format!("{}={value}", random.pick(KEYS)));
    }
    if random.one_in(2) {
        text(random, &[sets.join("\n")], words())
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
