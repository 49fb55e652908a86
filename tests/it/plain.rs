//! The line mode: sessions without a process, files or a clock of their own.

mod bench;
mod demo;
mod fill;
mod through;
mod touched;
pub(crate) mod verbs;
mod walk;
