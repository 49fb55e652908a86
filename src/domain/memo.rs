//! What was reckoned from the entries so far, kept until one more comes: it follows from them and is no part of them.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// A list by step. Two are always alike: what one has not reckoned yet it would reckon the same.
#[derive(Debug)]
pub(super) struct Memo<T>(Mutex<BTreeMap<String, Vec<T>>>);

impl<T> Default for Memo<T> {
    fn default() -> Self {
        Self(Mutex::default())
    }
}

impl<T: Clone> Memo<T> {
    /// What is known of a step, reckoned when it is not.
    pub(super) fn of(&self, step: &str, reckon: impl FnOnce() -> Vec<T>) -> Vec<T> {
        let known = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(step).cloned();
        known.unwrap_or_else(|| {
            // not under the lock: reckoning may ask here again
            let list = reckon();
            self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(step.to_owned(), list.clone());
            list
        })
    }

    /// Keeps only what these steps had.
    pub(super) fn retain(&self, stays: impl Fn(&str) -> bool) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).retain(|step, _| stays(step));
    }
}

impl<T: Clone> Clone for Memo<T> {
    fn clone(&self) -> Self {
        Self(Mutex::new(self.0.lock().unwrap_or_else(PoisonError::into_inner).clone()))
    }
}

impl<T> PartialEq for Memo<T> {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl<T> Eq for Memo<T> {}
