//! The line mode: sessions without a process, files or a clock of their own.

pub(crate) mod bench;
mod demo;
mod fill;
mod further;
mod made;
mod options;
mod pieces;
mod reasons;
mod retaken;
mod shut;
mod through;
mod touched;
mod unsaved;
pub(crate) mod verbs;
mod walk;
mod ways;
