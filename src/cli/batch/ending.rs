//! INT and TERM: the first lets a batch end in good order, the second ends it at once.

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::{flag, low_level};
use std::io;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

const SIGNALS: [i32; 2] = [SIGINT, SIGTERM];

static IS_ASKED: AtomicBool = AtomicBool::new(false);
/// Which of the signals came.
static ASKED: AtomicUsize = AtomicUsize::new(0);

/// Lets the first signal ask for the end.
///
/// # Errors
/// When the system does not allow it; a signal then ends the batch at once.
pub(super) fn listen() -> io::Result<()> {
    for (index, signal) in SIGNALS.into_iter().enumerate() {
        flag::register_conditional_default(signal, &IS_ASKED)?;
        flag::register_usize(signal, &ASKED, index)?;
        flag::register(signal, &IS_ASKED)?;
    }
    Ok(())
}

/// Whether a signal asked for the end: then no order is begun.
pub(super) fn is_asked() -> bool {
    IS_ASKED.load(Ordering::SeqCst)
}

/// Ends the program by the signal that asked for it, so that a script ends too.
pub(super) fn end_if_asked() {
    let signal = SIGNALS.get(ASKED.load(Ordering::SeqCst)).filter(|_| is_asked());
    if let Some(signal) = signal {
        let _ = low_level::emulate_default_handler(*signal);
    }
}
