//! The time: the real one, and a pretended one for tests and for filling in a record as a script would.
#![expect(clippy::disallowed_methods, reason = "the one place that asks what time it is")]

use std::sync::Mutex;
use std::time::{Duration, Instant};

use chrono::{Local, TimeDelta, Timelike};

use crate::domain::stamp::Stamp;

/// Tells the time.
pub trait Clock: Send + Sync {
    /// Now, to the second, with the offset of the place.
    fn now(&self) -> Stamp;

    /// Time gone since the clock was made, for what lies between two keys; never runs back.
    fn gone(&self) -> Duration;
}

/// The clock of this computer.
#[derive(Debug)]
pub struct RealClock {
    made: Instant,
}

impl Default for RealClock {
    fn default() -> Self {
        Self { made: Instant::now() }
    }
}

impl Clock for RealClock {
    fn now(&self) -> Stamp {
        let now = Local::now().fixed_offset();
        // files keep whole seconds; a moment must be the same when it is read back
        Stamp::from(now.with_nanosecond(0).unwrap_or(now))
    }

    fn gone(&self) -> Duration {
        self.made.elapsed()
    }
}

/// A clock that stands until it is moved.
#[derive(Debug)]
pub struct PretendedClock {
    begun: Stamp,
    gone: Mutex<Duration>,
}

impl PretendedClock {
    /// A clock that stands at `begun`.
    pub fn at(begun: Stamp) -> Self {
        Self { begun, gone: Mutex::new(Duration::ZERO) }
    }

    /// Moves it on.
    pub fn pass(&self, time: Duration) {
        let mut gone = self.gone.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        *gone = gone.saturating_add(time);
    }
}

impl Clock for PretendedClock {
    fn now(&self) -> Stamp {
        let seconds = i64::try_from(self.gone().as_secs()).ok().and_then(TimeDelta::try_seconds);
        let moved = seconds.and_then(|seconds| self.begun.moment().checked_add_signed(seconds));
        moved.map_or(self.begun, Stamp::from)
    }

    fn gone(&self) -> Duration {
        *self.gone.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pretended_clock_stands_until_it_is_moved() {
        let begun = "2031-04-17T23:59:30+02:00".parse().unwrap();
        let clock = PretendedClock::at(begun);
        assert_eq!(clock.now(), begun);
        clock.pass(Duration::from_millis(30_999));
        assert_eq!(clock.now().to_string(), "2031-04-18T00:00:00+02:00");
        assert_eq!(clock.gone(), Duration::from_millis(30_999));
    }

    #[test]
    fn the_real_clock_tells_whole_seconds_that_survive_a_file() {
        let now = RealClock::default().now();
        assert_eq!(now.to_string().parse::<Stamp>().unwrap(), now);
    }
}
