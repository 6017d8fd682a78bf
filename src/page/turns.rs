//! Who is answered next: who came first, where a pause before it counts as waiting many times
//! over. A client that pauses, as people do, so waits for the work of a moment alone, however many
//! others ask without a pause; and each of those comes in its turn.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::oneshot;

/// How many times over a pause counts as waiting.
const PAUSE: u32 = 50;
/// The most that it counts.
const MOST_PAUSE: Duration = Duration::from_secs(10);

/// The pause of a client that has just come: nothing is known of it yet.
const FIRST_PAUSE: Duration = Duration::from_millis(40);

/// The time of a client's last answer; in the beginning [`FIRST_PAUSE`] before it came.
#[derive(Clone)]
pub(super) struct Client(Arc<Mutex<Instant>>);

impl Client {
    pub(super) fn new() -> Self {
        let now = Instant::now();
        Self(Arc::new(Mutex::new(now.checked_sub(FIRST_PAUSE).unwrap_or(now))))
    }

    fn last(&self) -> MutexGuard<'_, Instant> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The time since which it counts as waiting, when it asks.
    pub(super) fn waits_since(&self) -> Instant {
        let now = Instant::now();
        let pause = now.duration_since(*self.last()).saturating_mul(PAUSE);
        now.checked_sub(pause.min(MOST_PAUSE)).unwrap_or(now)
    }

    /// Begins its pause.
    pub(super) fn answered(&self) {
        *self.last() = Instant::now();
    }
}

/// The turns at a kind of work.
pub(super) struct Turns(Mutex<State>);

struct State {
    /// How many more may work.
    free: usize,
    /// Who waits: since when, and how many came before.
    waiting: BTreeMap<(Instant, usize), oneshot::Sender<Turn>>,
    came: usize,
}

/// One turn, until it is dropped.
pub(super) struct Turn(Arc<Turns>);

impl Turns {
    pub(super) fn new(free: usize) -> Arc<Self> {
        Arc::new(Self(Mutex::new(State { free, waiting: BTreeMap::new(), came: 0 })))
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits for a turn, behind those who count as waiting for longer.
    pub(super) async fn take(self: &Arc<Self>, since: Instant) -> Turn {
        let next = {
            let mut state = self.state();
            if state.free > 0 {
                state.free -= 1;
                return Turn(Arc::clone(self));
            }
            let (sender, next) = oneshot::channel();
            state.came += 1;
            let place = (since, state.came);
            state.waiting.insert(place, sender);
            next
        };
        // A sender is never dropped before it has sent: it waits as long as `self` is there.
        next.await.unwrap_or_else(|_| Turn(Arc::clone(self)))
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        let next = {
            let mut state = self.0.state();
            let next = state.waiting.pop_first();
            state.free += usize::from(next.is_none());
            next
        };
        if let Some((_, sender)) = next {
            // Where nobody waits any more, the turn comes back and is dropped: the next one's.
            let _ = sender.send(Self(Arc::clone(&self.0)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::pin::{Pin, pin};
    use std::task::{Context, Poll, Waker};

    fn poll<F: Future>(future: &mut Pin<&mut F>) -> Poll<F::Output> {
        future.as_mut().poll(&mut Context::from_waker(Waker::noop()))
    }

    #[test]
    fn who_waits_longest_comes_first_and_no_turn_is_lost() {
        let turns = Turns::new(1);
        let early = Instant::now();
        let late = early + Duration::from_secs(1);
        let mut first = pin!(turns.take(late));
        let Poll::Ready(turn) = poll(&mut first) else { unreachable!("a turn is free") };
        let mut busy = pin!(turns.take(late));
        assert!(poll(&mut busy).is_pending());
        let mut seldom = pin!(turns.take(early));
        assert!(poll(&mut seldom).is_pending());
        {
            let mut gone = pin!(turns.take(early));
            assert!(poll(&mut gone).is_pending());
        }
        drop(turn);
        assert!(poll(&mut busy).is_pending());
        let Poll::Ready(turn) = poll(&mut seldom) else { unreachable!("it is its turn") };
        drop(turn);
        let Poll::Ready(turn) = poll(&mut busy) else { unreachable!("it is its turn") };
        drop(turn);
        assert_eq!(turns.state().free, 1);
    }
}
