//! The line mode: sessions without a process, files or a clock of their own.

pub(crate) mod bench;
mod demo;
mod fill;
mod through;
mod touched;
pub(crate) mod verbs;
mod walk;
mod ways;
