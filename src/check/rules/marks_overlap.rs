use crate::check::measure::web;
use crate::check::{About, Rule, Subject, named};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use std::collections::BTreeSet;

const ID: &str = "marks-overlap";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "Marks of two features do not share a place: at least 1 mm of leather stays \
           between their rims.",
    why: "Two holes in one place are one ragged hole, and neither fitting holds.",
    breaks: r#"fittings.from = "size-holes.first"
fittings.count = 1"#,
    keeps: r#"fittings.from = "turn-back.end-over"
fittings.count = 1"#,
    source: "Common practice, no source.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let apart = Length::from_mm(1);
    for piece in subject.one_of_each() {
        // One finding a pair of features: where they run into each other is one mistake.
        let mut said = BTreeSet::new();
        let formed: Vec<_> = piece.marks.iter().filter(|m| m.path().is_some()).collect();
        let longest = super::longest(&formed);
        for (i, a) in formed.iter().enumerate() {
            // Marks are in order of x: once one begins past the reach of `a`, all do.
            let reach = a.x_extent().to + apart + longest;
            for b in formed[i + 1..].iter().take_while(|b| b.at.x <= reach) {
                if a.feature == b.feature {
                    continue;
                }
                let clear = web(a, b);
                if clear >= apart {
                    continue;
                }
                let pair = [&a.feature, &b.feature];
                if !said.insert([pair[0].min(pair[1]), pair[0].max(pair[1])]) {
                    continue;
                }
                findings.push(
                    Finding::new(
                        ID,
                        Severity::Error,
                        format!("{} and {} meet", named(a), named(b)),
                    )
                    .at(b.place.clone())
                    .held(
                        format!("{} between their rims", clear.both()),
                        format!("at least {}", apart.both()),
                    )
                    .remedy("move one of the two features, or change its count or pitch"),
                );
            }
        }
    }
}
