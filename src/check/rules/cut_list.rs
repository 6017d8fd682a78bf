use super::prelude::*;
use crate::check::limits::BETWEEN_CUTS;

pub(super) const RULE: RuleId = RuleId::new("cut-list");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(strip) = &input.job.strip else { return };
    let thickness = input.job.strap.thickness.value;
    // A keeper or lining of other leather comes from elsewhere.
    let own = || input.layout.pieces.iter().filter(|p| p.thickness == thickness);
    let sizes = own().map(|p| (p.width, p.extent.length()));
    let mut pieces: Vec<(Length, Length)> = sizes.collect();
    pieces.sort_unstable_by(|a, b| b.cmp(a));
    let Some(widest) = pieces.first().map(|(width, _)| *width) else { return };
    let width = strip.width.as_ref().map_or(widest, |w| w.value);
    if width < widest {
        let span = strip.width.as_ref().and_then(|w| w.span.clone());
        Finding::error(RULE, "the strip is narrower than a piece of it")
            .at(span)
            .expected(
                format!("a strip of {}", width.both()),
                format!("at least {}, the widest piece", widest.both()),
            )
            .remedy("take a wider strip, or a narrower strap")
            .to(findings);
        return;
    }
    let length = strip.length.value;
    let longest = pieces.iter().map(|(_, length)| *length).max().unwrap_or_default();
    let (lanes, left) = lanes(&pieces, width, length);
    if left == 0 {
        return;
    }
    let area = |of: &mut dyn Iterator<Item = (Length, Length)>| -> i128 {
        of.map(|(w, l)| i128::from(w.nm()) * i128::from(l.nm())).sum()
    };
    let wanted = area(&mut pieces.iter().copied());
    // Filling lanes one after the other may miss a better way; more leather than there is
    // cannot be cut in any.
    let cannot = longest > length || wanted > area(&mut [(width, length)].into_iter());
    let severity = Severity::error_if(cannot);
    let total: Length = pieces.iter().map(|(_, length)| *length).sum();
    let needed = if longest > length {
        format!("at least {}, the longest piece", longest.both())
    } else {
        format!(
            "{} in all for {} pieces, in {lanes} side by side",
            total.both(),
            pieces.len()
        )
    };
    Finding::new(RULE, severity, "the strip is too short for the pieces")
        .at(strip.length.span.clone())
        .expected(format!("{} long, {} wide", length.both(), width.both()), needed)
        .remedy("take a longer or wider strip, or cut some pieces from another")
        .to(findings);
}

/// How many lanes side by side the pieces fill, the widest first, each in the first lane
/// that has room; and how many pieces are left over.
fn lanes(pieces: &[(Length, Length)], width: Length, length: Length) -> (usize, usize) {
    let mut lanes: Vec<Length> = Vec::new();
    let (mut across, mut left) = (Length::ZERO, 0);
    for &(own_width, own_length) in pieces {
        let fits = |used: &&mut Length| **used + BETWEEN_CUTS + own_length <= length;
        if let Some(used) = lanes.iter_mut().find(fits) {
            *used += BETWEEN_CUTS + own_length;
            continue;
        }
        let gap = if lanes.is_empty() { Length::ZERO } else { BETWEEN_CUTS };
        if across + gap + own_width <= width && own_length <= length {
            across += gap + own_width;
            lanes.push(own_length);
        } else {
            left += 1;
        }
    }
    (lanes.len().max(1), left)
}
