//! The program: hands the words of the command line to `cli` and returns its exit code.

fn main() {}
