//! The one way to stdout and stderr for everything but the screen.

use std::io::{self, BufWriter, Write};

use crate::face::plain::printable;

/// Where a verb says its lines. A pipe that nobody reads any more ends the run, and that is no fault.
pub struct Out {
    out: Box<dyn Write>,
    err: Box<dyn Write>,
}

impl Out {
    /// The process's own stdout and stderr.
    pub fn standard() -> Self {
        Self { out: Box::new(BufWriter::new(io::stdout())), err: Box::new(io::stderr()) }
    }

    /// Writes `text` and a line end to stdout.
    ///
    /// # Errors
    /// As the stream gives them.
    pub fn say(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.out, "{}", printable(text))
    }

    /// Writes `text` and a line end to stderr, behind all that was said before.
    ///
    /// # Errors
    /// As the streams give them.
    pub fn complain(&mut self, text: &str) -> io::Result<()> {
        self.out.flush()?;
        writeln!(self.err, "{}", printable(text))
    }

    /// Stdout, for what writes line by line.
    pub fn page(&mut self) -> &mut dyn Write {
        &mut *self.out
    }

    /// Writes out what is held back.
    ///
    /// # Errors
    /// As the stream gives them.
    pub fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}
