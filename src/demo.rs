//! The invented rotor that shows the whole job: its files are compiled in, and its inspections are played through
//! `decide` and `apply` by a pretended clock, as a key script would play them.
//!
//! Nothing here comes from any machine, and every record says so. All days are moved by whole days, so that the present
//! inspection is today.

mod answers;
mod days;
mod player;
mod practice;
mod scene;

pub use answers::{Line, lines};
pub use days::moved;
pub use player::{Keeper, PlayFault, play};
pub use practice::{ROTOR as PRACTICE_ROTOR, debrief, hidden, on_the_bench, practice};
pub use scene::{ANSWERS, Scenery, over_by, scenery};
