//! What the checklists and the demonstration say: every part there, every gate, the trade's rules of thumb, figures that agree.

pub(crate) mod answers;
mod demo;
mod figures;
mod gauges;
mod holds;
mod levels;
mod obliged;
mod order;
mod steps;
mod trade;
