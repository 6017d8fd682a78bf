//! What is used up beside leather and hardware: thread, cement, thread lock.

use super::{Body, Part, TicketInput, hardware, work};
use crate::assembly::{self, Assembly};
use crate::geom::Length;
use crate::words::Word;

/// How much thread a seam takes by its length: saddle stitch, with a needle at either end
/// (common practice, no source).
const THREAD: (i64, i64) = (5, 2);

/// The part of the ticket; `None` for a strap that takes none of them.
pub(super) fn part(input: &TicketInput<'_>) -> Option<Part> {
    let wording = input.wording;
    let seams = seams(input);
    let thread = (seams > Length::ZERO).then(|| {
        let thread = seams.times(THREAD.0, THREAD.1);
        let [thread, seams] = [thread, seams].map(|l| wording.length(l, 0));
        wording.fill(Word::Thread, &[("thread", &thread), ("seams", &seams)])
    });
    let cement = work::is_lined(input).then_some(Word::ContactCement);
    let lock = hardware::may_have_screw_posts(input).then_some(Word::ThreadLock);
    let others = [cement, lock].into_iter().flatten();
    let others = others.map(|word| wording.say(word).to_owned());
    let lines: Vec<String> = thread.into_iter().chain(others).collect();
    (!lines.is_empty()).then(|| Part::new(input, Word::Supplies, Body::Lines(lines)))
}

/// The length of all seams, a pitch for each hole. Layers that lie on each other have one seam.
fn seams(input: &TicketInput<'_>) -> Length {
    let TicketInput { job, layout, .. } = *input;
    let assembly = Assembly::new(job, layout);
    let of_body = |body: &assembly::Body<'_>| -> Length {
        let marks = body.piece.marks.iter();
        let stitches = marks.filter_map(|mark| {
            let pitch = job.feature(mark.feature).kind.facts().seam?.pitch.value;
            let layers = i64::try_from(body.layers(mark).count()).ok()?;
            Some(pitch / layers)
        });
        stitches.sum::<Length>() * i64::from(body.piece.copy.of)
    };
    assembly.bodies.iter().map(of_body).sum()
}
