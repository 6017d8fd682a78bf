//! Pieces and strips that have to do with each other, each group a problem of its own.

use super::problem::{Lot, Problem, Rack, matches};
use super::{Allowances, Cut, Kind, Stock};
use crate::geom::Length;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Lots alike but for their length, by length.
type LotClass = BTreeMap<Reverse<Length>, Lot>;
type RackClass = BTreeMap<Reverse<Length>, Rack>;

/// The groups, each with what may be cut from what; those of the wider pieces come last.
pub(super) fn groups<'a>(
    cuts: &[Cut],
    stock: &[Stock],
    allowances: &'a Allowances,
) -> Vec<Problem<'a>> {
    let lots = lot_classes(cuts);
    let racks = rack_classes(stock);
    // Classes of lots that share a class of racks are one group.
    let mut leader: Vec<usize> = (0..lots.len()).collect();
    let mut served: Vec<Option<usize>> = vec![None; racks.len()];
    for (rack, server) in racks.iter().zip(&mut served) {
        let Some(rack) = rack.values().next() else { continue };
        for (class, lots) in lots.iter().enumerate() {
            let alike = lots.values().next();
            if !alike.is_some_and(|lot| matches(lot, rack, allowances)) {
                continue;
            }
            match server {
                None => *server = Some(class),
                Some(other) => {
                    let (a, b) = (find(&leader, *other), find(&leader, class));
                    leader[a.max(b)] = a.min(b);
                }
            }
        }
    }
    let mut problems: BTreeMap<usize, Problem<'a>> = BTreeMap::new();
    for (class, lots) in lots.into_iter().enumerate() {
        let group = problems.entry(find(&leader, class)).or_insert_with(|| Problem {
            lots: Vec::new(),
            racks: Vec::new(),
            allowances,
        });
        group.lots.extend(lots.into_values());
    }
    for (racks, server) in racks.into_iter().zip(served) {
        let group = server.map(|class| find(&leader, class));
        if let Some(group) = group.and_then(|g| problems.get_mut(&g)) {
            group.racks.extend(racks.into_values());
        }
    }
    let mut problems: Vec<Problem<'a>> = problems.into_values().collect();
    for problem in &mut problems {
        problem.lots.sort_by_key(|l| (Reverse(l.length), l.width, l.thickness));
        problem.racks.sort_by_key(|r| (Reverse(r.length), r.width, r.thickness));
    }
    problems
}

fn find(leader: &[usize], class: usize) -> usize {
    let mut class = class;
    while leader[class] != class {
        class = leader[class];
    }
    class
}

fn lot_classes(cuts: &[Cut]) -> Vec<LotClass> {
    let mut classes: BTreeMap<(Length, Length, Kind), LotClass> = BTreeMap::new();
    for (i, cut) in cuts.iter().enumerate() {
        let &Cut { length, width, thickness, kind, .. } = cut;
        let class = classes.entry((width, thickness, kind)).or_default();
        let new = || Lot { kind, length, width, thickness, cuts: Vec::new() };
        class.entry(Reverse(length)).or_insert_with(new).cuts.push(i);
    }
    classes.into_values().collect()
}

fn rack_classes(stock: &[Stock]) -> Vec<RackClass> {
    let mut classes: BTreeMap<(Length, Length, Kind), RackClass> = BTreeMap::new();
    for (i, strips) in stock.iter().enumerate().filter(|(_, s)| s.count > 0) {
        let &Stock { length, width, thickness, kind, count, .. } = strips;
        let class = classes.entry((width, thickness, kind)).or_default();
        let new = || Rack { kind, length, width, thickness, strips: Vec::new() };
        let rack = class.entry(Reverse(length)).or_insert_with(new);
        rack.strips.extend((1..=count).map(|number| (i, number)));
    }
    classes.into_values().collect()
}
