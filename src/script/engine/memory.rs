//! What all variables of a script hold at a time, counted as the script runs.
//!
//! The engine bounds single values, and those only where they are made. A list of
//! lists, each put in by its key, or many variables of many calls could together take
//! all the memory there is. So now and then the variables in sight are weighed, and those
//! of the calls that led here as they were weighed last. Weighing counts as steps of the
//! script, so that every machine stops it at the same place.

use rhai::{Array, Dynamic, EvalAltResult, EvalContext, FnPtr, Map, Position};

use crate::script::request::Limits;

/// Steps between two weighings of the variables of one call.
const EVERY: u64 = 64;

/// Steps after which they are weighed before the next call: what a function holds is out
/// of sight while others run.
const BEFORE_A_CALL: u64 = 8;

/// Values weighed for each step they count as.
const VALUES_A_STEP: u64 = 16;

/// Bytes of a value, of a list or text by itself, of a map by itself, and of a key, about.
const VALUE: usize = 16;
const BUFFER: usize = 32;
const MAP: usize = 512;
const KEY: usize = 48;

/// How deep lists and maps are looked into: deeper than this nothing can be written.
const DEEP: usize = 64;

/// What has been weighed so far.
#[derive(Debug, Default)]
pub(in crate::script) struct Memory {
    /// Steps done, with those that weighing counts for.
    steps: u64,
    /// For each call that is open, outermost first, what its variables held and the step
    /// it was weighed at.
    calls: Vec<(usize, u64)>,
}

impl Memory {
    /// One more step in a context, whether it is a call and where it stands.
    ///
    /// # Errors
    /// Too much is held, or too many steps are done.
    pub(in crate::script) fn step(
        &mut self,
        context: &EvalContext<'_, '_, '_, '_, '_, '_>,
        (calls, at): (bool, Position),
        limits: Limits,
    ) -> Result<(), Box<EvalAltResult>> {
        let level = context.call_level();
        self.calls.truncate(level + 1);
        self.calls.resize(level + 1, (0, self.steps));
        self.steps += 1;
        let Some(call) = self.calls.last_mut() else { return Ok(()) };
        if self.steps - call.1 < if calls { BEFORE_A_CALL } else { EVERY } {
            return Ok(());
        }
        let mut weight = Weight::default();
        for (_, _, value) in context.scope().iter_raw() {
            weight.add(value, 0);
        }
        self.steps += weight.values / VALUES_A_STEP;
        *call = (weight.bytes, self.steps);
        let held: usize = self.calls.iter().map(|(bytes, _)| bytes).sum();
        if held > limits.held {
            return Err(EvalAltResult::ErrorDataTooLarge(HELD.into(), at).into());
        }
        if self.steps > limits.operations {
            return Err(EvalAltResult::ErrorTooManyOperations(at).into());
        }
        Ok(())
    }
}

/// What the error of too much held is known by.
pub(super) const HELD: &str = "all variables";

/// What some values take.
#[derive(Debug, Default)]
struct Weight {
    bytes: usize,
    values: u64,
}

impl Weight {
    /// One value and what is in it.
    fn add(&mut self, value: &Dynamic, deep: usize) {
        self.bytes = self.bytes.saturating_add(VALUE);
        self.values += 1;
        if deep >= DEEP {
            return;
        }
        if let Some(list) = value.read_lock::<Array>() {
            self.bytes = self.bytes.saturating_add(BUFFER);
            list.iter().for_each(|entry| self.add(entry, deep + 1));
        } else if let Some(map) = value.read_lock::<Map>() {
            self.bytes = self.bytes.saturating_add(MAP);
            for (key, entry) in map.iter() {
                self.bytes = self.bytes.saturating_add(KEY + key.len());
                self.add(entry, deep + 1);
            }
        } else if let Ok(text) = value.as_immutable_string_ref() {
            self.bytes = self.bytes.saturating_add(BUFFER + text.len());
        } else if let Some(function) = value.read_lock::<FnPtr>() {
            self.bytes = self.bytes.saturating_add(BUFFER);
            function.iter_curry().for_each(|kept| self.add(kept, deep + 1));
        }
    }
}
