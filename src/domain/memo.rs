//! What was reckoned from the entries so far, kept until one more comes: it follows from them and is no part of them.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Words by step. Two are always alike: what one has not reckoned yet it would reckon the same.
#[derive(Debug, Default)]
pub(super) struct Memo(Mutex<BTreeMap<String, Vec<String>>>);

impl Memo {
    /// What is known of a step, reckoned when it is not.
    pub(super) fn of(&self, step: &str, reckon: impl FnOnce() -> Vec<String>) -> Vec<String> {
        let known = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(step).cloned();
        known.unwrap_or_else(|| {
            // not under the lock: reckoning may ask here again
            let words = reckon();
            self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(step.to_owned(), words.clone());
            words
        })
    }

    /// Keeps only what these steps had.
    pub(super) fn retain(&self, stays: impl Fn(&str) -> bool) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).retain(|step, _| stays(step));
    }
}

impl Clone for Memo {
    fn clone(&self) -> Self {
        Self(Mutex::new(self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()))
    }
}

impl PartialEq for Memo {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Memo {}
