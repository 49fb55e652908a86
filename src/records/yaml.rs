//! Strict reading and plain writing of YAML, over the library's parser, which no other module names.
//!
//! Every scalar is the text that was written: `on`, `0x10`, `1e3` and `null` never become something else. Aliases,
//! anchors, tags, merge keys, duplicate keys and second documents are refused, and all of a file's faults are listed.

mod emit;
mod near;
mod node;
mod parse;
mod problem;

pub use emit::{emit, emit_behind_dash, emit_behind_key, emit_item, emit_key};
pub use near::nearest;
pub use node::{At, Key, Layout, Node, Quoting, What};
pub use parse::{MOST_BYTES, MOST_NODES, line_under, parse, parse_on};
pub use problem::{Problem, Problems};
