//! Pieces and strips that suit each other, each group a problem of its own.

use super::problem::{Class, Problem, SameSize, matches};
use super::{Allowances, Cut, Stock};
use crate::geom::Length;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The groups, by the width of their narrowest pieces. Pieces that no strip suits have groups
/// without strips.
pub(super) fn groups<'a>(
    cuts: &[Cut],
    stock: &[Stock],
    allowances: &'a Allowances,
) -> Vec<Problem<'a>> {
    let pieces = cuts.iter().enumerate().map(|(i, c)| {
        (Class { width: c.width, thickness: c.thickness, kind: c.kind }, c.length, i)
    });
    let strips = stock.iter().enumerate().flat_map(|(i, s)| {
        let class = Class { width: s.width, thickness: s.thickness, kind: s.kind };
        (1..=s.count).map(move |number| (class, s.length, (i, number)))
    });
    let new = |items| Problem { items, strips: Vec::new(), allowances };
    let mut problems: Vec<Problem<'a>> = classes(pieces).into_values().map(new).collect();
    for (class, strips) in classes(strips) {
        let suits = |p: &mut Problem<'_>| {
            p.items.iter().any(|i| matches(i.class, class, allowances))
        };
        // Groups that share strips become one.
        let suited = problems.extract_if(.., suits).reduce(|mut all, group| {
            all.items.extend(group.items);
            all.strips.extend(group.strips);
            all
        });
        if let Some(mut group) = suited {
            group.strips.extend(strips);
            problems.push(group);
        }
    }
    problems.sort_by_key(|p| p.items.iter().map(|i| i.class).min());
    for problem in &mut problems {
        problem.items.sort_by_key(|i| (Reverse(i.length), i.class));
        problem.strips.sort_by_key(|s| (Reverse(s.length), s.class));
    }
    problems
}

/// Classes, each with what it has by length.
fn classes<T>(
    all: impl Iterator<Item = (Class, Length, T)>,
) -> BTreeMap<Class, Vec<SameSize<T>>> {
    let mut sizes: BTreeMap<(Class, Length), Vec<T>> = BTreeMap::new();
    for (class, length, member) in all {
        sizes.entry((class, length)).or_default().push(member);
    }
    let mut classes: BTreeMap<Class, Vec<SameSize<T>>> = BTreeMap::new();
    for ((class, length), members) in sizes {
        classes.entry(class).or_default().push(SameSize { class, length, members });
    }
    classes
}
