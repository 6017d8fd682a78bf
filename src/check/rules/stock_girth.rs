use super::prelude::*;
use crate::check::limits::{measured_girth, possible_girth, usual_girth};
use crate::fit::{Fit, fit_past};
use crate::job::{Job, Size};

pub(super) const RULE: RuleId = RuleId::new("stock-girth");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let job = input.job;
    let (Some(own), Some(worn), Some(stock)) = (input.fit, &job.worn, &job.stock) else {
        return;
    };
    // What the job adds between the size hole of the fit and that of the row.
    let hole = input.layout.size_hole().unwrap_or(own.size_hole);
    let further = hole - own.size_hole;
    let body = worn.measure.body;
    let usual = usual_girth(body, worn.measure.child.is_some());
    let mut wrong: Vec<(Severity, &Size, Length)> = Vec::new();
    for (i, size) in stock.sizes.iter().enumerate() {
        let Some(girth) = girth(job, size, own, further) else { continue };
        // The size that is drawn is held against bodies by the rule `girth`.
        if Some(i) == stock.chosen || usual.has(girth) {
            continue;
        }
        let beyond = !possible_girth(body).has(girth);
        wrong.push((Severity::error_if(beyond), size, girth));
    }
    // One finding for all of them: they come from one slip.
    let worst = wrong.iter().min_by_key(|(severity, ..)| std::cmp::Reverse(*severity));
    let Some((severity, size, girth)) = worst else { return };
    let more = match wrong.len() - 1 {
        0 => String::new(),
        n => format!(" (and {n} more of {})", stock.sizes.len()),
    };
    let measured = measured_girth(body);
    let message = format!("size {}{more} is outside what bodies have", size.label);
    Finding::new(RULE, *severity, message)
        .at(size.span.clone())
        .expected(format!("a girth of {}", girth.both()), measured.both())
        .remedy("look at the unit of stock.sizes and at measure.taken")
        .to(findings);
}

/// The girth that the size hole serves in that size.
fn girth(job: &Job, size: &Size, own: &Fit, further: Length) -> Option<Length> {
    let mut sized = job.clone();
    let measure = &mut sized.worn.as_mut()?.measure;
    measure.value.value = size.value;
    if let Some(taken) = job.stock.as_ref()?.taken {
        measure.taken.value = taken;
    }
    let fit = fit_past(&sized, own.past)?;
    Some(fit.girth_at(fit.size_hole + further))
}
