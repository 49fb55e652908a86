//! What the checklists and the demonstration say: every part there, every gate, the trade's rules of thumb, figures that agree.

mod again;
pub(crate) mod answers;
mod at_its_word;
mod behind;
mod demo;
mod due;
mod figures;
mod gauges;
pub(crate) mod holds;
mod left_out;
mod levels;
mod narrow;
mod new_parts;
mod new_wheels;
mod numbers;
mod obliged;
mod opened;
mod order;
mod reopened;
mod run;
mod soon;
mod steps;
mod trade;
mod versions;
mod works;
