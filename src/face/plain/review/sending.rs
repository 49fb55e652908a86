//! Remarks, each at the line of its number, and the return that takes them.

use crate::domain::entry::Remark;
use crate::records::store::Unsent;

use super::{Asked, Heard, Session};

impl Session {
    pub(super) fn line(&mut self, line: &str) -> Heard {
        match line {
            "cancel" => {
                self.unsent.clear();
                return Heard::Said("Not sent back, the remarks are dropped.".to_owned());
            }
            "done" if !self.unsent.is_empty() => {
                let remark = |one: &Unsent| Remark { step: one.step.clone(), text: one.text.clone() };
                let remarks = self.unsent.iter().map(remark).collect();
                // asked again until it is saved
                self.asked = Asked::Line;
                return Heard::Do(self.reading.send_back(remarks).into_iter().collect());
            }
            _ => {}
        }
        if let Some(item) = self.numbered(line) {
            let (text, step) = (item.text.clone(), self.reading.step_of(item));
            let back = self.reading.sent_back();
            let all = if step.is_none() {
                format!("\nThat is no step: it is asked of {back} as a whole.")
            } else {
                String::new()
            };
            let said = format!("At: {}{text}{all}", self.named(line));
            self.asked = Asked::Words(text, step);
            Heard::Said(said)
        } else {
            self.again(Asked::Line, format!("Not taken: `{line}`. No line has that number."))
        }
    }
}
