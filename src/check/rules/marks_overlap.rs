use super::prelude::*;
use crate::check::measure::web;
use crate::check::near::{Near, room};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const RULE: RuleId = RuleId::new("marks-overlap");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let apart = Length::from_mm(1);
    for piece in input.one_of_each() {
        // One finding a pair of features: where they run into each other is one mistake.
        let mut given = BTreeSet::new();
        let formed: Vec<_> = piece.marks.iter().filter(|m| m.path().is_some()).collect();
        let near = Near::new(formed.iter().map(|m| (m.feature, room(m, Length::ZERO))));
        for (i, a) in formed.iter().enumerate() {
            let own = a.feature;
            let mut met: BTreeMap<FeatureId, usize> = BTreeMap::new();
            for (&other, numbers) in near.around(room(a, apart)) {
                if other == own || given.contains(&[own.min(other), own.max(other)]) {
                    continue;
                }
                let later = &numbers[numbers.partition_point(|n| *n <= i)..];
                let first = later.iter().copied().find(|n| web(a, formed[*n]) < apart);
                if let Some(first) = first {
                    let least = met.entry(other).or_insert(first);
                    *least = first.min(*least);
                }
            }
            let mut met: Vec<usize> = met.into_values().collect();
            met.sort_unstable();
            for b in met.into_iter().map(|n| formed[n]) {
                let other = b.feature;
                given.insert([own.min(other), own.max(other)]);
                let clear = web(a, b);
                Finding::new(
                    RULE,
                    severity_of(a).max(severity_of(b)),
                    format!("{} and {} meet", input.named(a), input.named(b)),
                )
                .at(b.span.clone())
                .expected(
                    format!("{} between their rims", clear.both()),
                    format!("at least {}", apart.both()),
                )
                .remedy("move one of the two features, or change its count or pitch")
                .to(findings);
            }
        }
    }
}
