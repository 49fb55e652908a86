//! What is wrong with a file: all of it, each with where, what stood there, what is expected and how to mend it.

use std::fmt;

use super::node::At;

/// More are counted and not kept: nobody reads on.
const MOST: usize = 200;

/// One fault of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The file, as it was named.
    pub file: String,
    /// Where in it.
    pub at: At,
    /// What stood there.
    pub found: String,
    /// What is expected.
    pub expected: String,
    /// How to mend it.
    pub mend: String,
}

/// `sheets/INV.yaml:14:7: found ...`, or of a whole file without a place; then a line each for what is expected and the mend.
impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(out, "{}: found {}", self.at.in_file(&self.file), self.found)?;
        writeln!(out, "  expected: {}", self.expected)?;
        write!(out, "  mend: {}", self.mend)
    }
}

/// Every fault of one file, in the order of its lines.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Problems {
    file: String,
    list: Vec<Problem>,
    more: usize,
}

impl Problems {
    /// No fault yet of the file that is called so in messages.
    pub fn of(file: impl Into<String>) -> Self {
        Self { file: file.into(), ..Self::default() }
    }

    /// What the file is called.
    pub fn file(&self) -> &str {
        &self.file
    }

    /// Takes a fault.
    pub fn add(&mut self, at: At, found: impl Into<String>, expected: impl Into<String>, mend: impl Into<String>) {
        let problem =
            Problem { file: self.file.clone(), at, found: found.into(), expected: expected.into(), mend: mend.into() };
        self.take(problem);
    }

    /// Takes a fault that names its own file.
    pub fn take(&mut self, problem: Problem) {
        if self.list.len() < MOST {
            self.list.push(problem);
        } else {
            self.more += 1;
        }
    }

    /// Takes another file's faults.
    pub fn join(&mut self, others: Self) {
        self.more += others.more;
        for problem in others.list {
            self.take(problem);
        }
    }

    /// Takes what is wrong with the same file besides: where something was wrong already, one fault is enough; but every
    /// key that a mapping lacks is told.
    pub fn join_elsewhere(&mut self, others: Self) {
        self.more += others.more;
        let lacks = |problem: &Problem| problem.found.starts_with("no key `");
        for problem in others.list {
            let says_it = |known: &Problem| known.found == problem.found || !(lacks(known) && lacks(&problem));
            if !self.list.iter().any(|known| known.at == problem.at && says_it(known)) {
                self.take(problem);
            }
        }
    }

    /// Without those at line 0: what only stands in for something missing is not at fault.
    #[must_use]
    pub fn of_the_file(mut self) -> Self {
        self.list.retain(|problem| problem.at.line > 0);
        self
    }

    /// Those that all the others have too.
    #[must_use]
    pub fn in_all(mut self, others: &[Self]) -> Self {
        self.list.retain(|problem| others.iter().all(|other| other.list.contains(problem)));
        self
    }

    /// Whether nothing is wrong.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.list.len() + self.more
    }

    /// The faults kept, in the order of files and lines.
    #[must_use]
    pub fn sorted(mut self) -> Self {
        self.list.sort_by(|one, other| (&one.file, one.at).cmp(&(&other.file, other.at)));
        self
    }

    /// The faults kept.
    pub fn iter(&self) -> std::slice::Iter<'_, Problem> {
        self.list.iter()
    }

    /// The value when nothing is wrong with the file it came from.
    ///
    /// # Errors
    /// The faults, when there are any.
    pub fn unless_any<T>(self, value: Option<T>) -> Result<T, Self> {
        match value {
            Some(value) if self.is_empty() => Ok(value),
            Some(_) | None => Err(self.sorted()),
        }
    }
}

impl<'a> IntoIterator for &'a Problems {
    type Item = &'a Problem;
    type IntoIter = std::slice::Iter<'a, Problem>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl std::error::Error for Problems {}

impl fmt::Display for Problems {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (count, problem) in self.list.iter().enumerate() {
            if count > 0 {
                writeln!(out)?;
            }
            write!(out, "{problem}")?;
        }
        if self.more > 0 {
            write!(out, "\nand {} more", self.more)?;
        }
        Ok(())
    }
}
