//! The state machine and the verdicts, rule by rule, on the small invented machine of `rig`.

mod anew;
mod certain;
mod doubts;
mod gates;
mod known;
mod levels;
mod outlived;
mod random;
mod rebuild;
mod scales;
mod struck;
mod verdicts;
mod waived;
mod worked;
