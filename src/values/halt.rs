//! Giving up: work that nobody waits for any more ends at the next value.
//!
//! Whoever owns the other half of a [`Halt`] raises it; the evaluator heeds it before each value that
//! it works out, and unwinds to [`unless_halted`]. What was being worked out then is worth nothing.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A wish that work should end, shared between who does the work and who waits for it.
#[derive(Debug, Clone, Default)]
pub struct Halt(Arc<AtomicBool>);

/// What is unwound with; not a panic, so nothing is printed.
struct Halted;

impl Halt {
    /// Asks for the work to end.
    pub fn raise(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Takes the wish back, before new work.
    pub fn lower(&self) {
        self.0.store(false, Ordering::Relaxed);
    }

    /// Whether the work should end.
    #[must_use]
    pub fn is_raised(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// Ends the work here if that is wished; only below [`unless_halted`].
    pub fn heed(&self) {
        if self.is_raised() {
            resume_unwind(Box::new(Halted));
        }
    }
}

/// Runs `work`; nothing if it was halted.
///
/// # Errors
/// What a panic inside `work` carried, for whoever keeps the program alive.
pub fn unless_halted<T>(work: impl FnOnce() -> T) -> Result<Option<T>, Box<dyn Any + Send>> {
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(done) => Ok(Some(done)),
        Err(payload) if payload.is::<Halted>() => Ok(None),
        Err(payload) => Err(payload),
    }
}
