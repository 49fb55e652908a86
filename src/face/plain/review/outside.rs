//! A record that was changed outside: nothing is written to it before somebody has said, by name, that this was seen.

use crate::domain::entry::Act;

use super::{Asked, Heard, Session};

impl Session {
    /// A change is seen by a word of its own: no other line, typed for something else, is taken for it.
    pub(super) fn outside(&mut self, line: &str) -> Heard {
        match line {
            "seen" => self.ask(Asked::Seen),
            "verify" => {
                self.asked = Asked::Outside;
                Heard::Verify
            }
            "leave" => self.over(),
            // what was asked for is not done, however it is left
            other => self.again(Asked::Outside, format!("Not taken: `{other}`. seen, or leave.")),
        }
    }

    /// Who reviews has seen the change, whatever the record says who that is.
    pub(super) fn seen(&mut self, line: &str) -> Heard {
        if line.is_empty() {
            return self.again(Asked::Seen, "It needs words.");
        }
        if self.reading.id_of(self.by.as_str()).is_none() {
            return self.ask(Asked::SeenBy(line.to_owned()));
        }
        let seen = self.reading.seen(self.by.as_str(), line);
        self.ask(Asked::SeenSo(seen.map(|(_, acts)| acts).unwrap_or_default()))
    }

    pub(super) fn seen_by(&mut self, line: &str, note: String) -> Heard {
        if line.is_empty() {
            return self.again(Asked::SeenBy(note), "It needs a name.");
        }
        let mut acts = self.reading.seen(self.by.as_str(), &note).map(|(_, acts)| acts).unwrap_or_default();
        for act in &mut acts {
            let Act::Person(person) = act else { continue };
            (person.id, person.name) = (self.by.clone(), line.to_owned());
        }
        self.ask(Asked::SeenSo(acts))
    }

    pub(super) fn seen_so(&mut self, line: &str, acts: Vec<Act>) -> Heard {
        match line {
            "yes" => {
                self.asked = Asked::Outside;
                Heard::Do(acts)
            }
            "no" => self.ask(Asked::Outside),
            other => self.again(Asked::SeenSo(acts), format!("Not taken: `{other}`. yes or no.")),
        }
    }
}
