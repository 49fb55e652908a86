//! The bench from key scripts: messages in, screen out; no time passes, effects run in line.

mod acts;
mod blind;
mod builder;
mod demo;
mod findings;
mod first_page;
mod forms;
mod keys;
mod kill;
mod leaving;
mod own;
mod review;
mod reviewing;
mod saving;
mod screens;
mod second;
mod sight;
mod signing;
mod small;
mod steps;
mod walks;
mod whole;
mod whole_words;
mod works;

pub(crate) use builder::Bench;
