//! Signing, countersigning, sending back, handing over: what is done with a record by people who were not there.

mod ashore;
mod awaited;
mod believed;
mod broken;
mod brought;
mod by_hand;
mod claims;
mod decided;
mod entitled;
mod from_outside;
mod handover;
pub(crate) mod keys;
mod lines;
mod links;
mod lost_photo;
mod otherwise;
mod pages;
mod patterns;
mod returned;
mod running;
mod seen;
pub(crate) mod shelf;
mod tamper;
mod walk;
