//! Who is here, who is new, who watches, and who has seen that the record was changed outside.

use crate::domain::entitled::{decides, watches};
use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::person::{Person, Role};
use crate::domain::stranger::to_introduce;

use super::super::inquiry::{Answers, Reply, Stop, id};
use super::{At, Deed, Hands, act, only_say};

impl At<'_> {
    /// Who stands for what is entered from now on, and who writes. Somebody unknown is entered by name.
    pub(super) fn who(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let names = self.names(|_| true);
        let mut new = Vec::new();
        let by = answers.maybe_choose_or_say("who reads and stands for it", &self.name(&self.hand.by), &names)?;
        let by = by.map(|name| self.known_or_new(&name, &mut new, answers)).transpose()?;
        let by = by.unwrap_or_else(|| self.hand.by.clone());
        let writer = answers.maybe_choose_or_say("who writes", "the same", &names)?;
        let writer = writer.map(|name| self.known_or_new(&name, &mut new, answers)).transpose()?;
        let writer = writer.filter(|writer| !writer.same_as(&by));
        Ok(Deed::Hands(Box::new(Hands { by, writer, new })))
    }

    /// Somebody by the line of the list, the id or the name; a new name is entered only when that is said.
    fn known_or_new(&self, name: &str, new: &mut Vec<Person>, answers: &mut Answers<'_>) -> Reply<Id> {
        let is = |person: &&Person| in_words(person) == name || person.is_called(name);
        let known = self.inspection.people().iter().chain(new.iter()).find(is).cloned();
        if let Some(person) = known {
            new.extend(to_introduce(&self.files.people, self.inspection, &person.id));
            return Ok(person.id.clone());
        }
        if let Some(person) = self.files.people.iter().find(is) {
            new.push(person.clone());
            return Ok(person.id.clone());
        }
        let Some(id) = id_of(name) else {
            let words = format!("`{name}` holds no letter or digit. Type the name in Latin letters.");
            return Err(Stop::Wrong(words));
        };
        if self.inspection.person(&id).is_some() {
            return Ok(id);
        }
        answers.word(
            &format!("{name} is not known here. Enter {name} as a fitter, or Esc and look at the name"),
            &["enter"],
        )?;
        new.push(Person { id: id.clone(), name: name.to_owned(), roles: vec![Role::Fitter], keys: Vec::new() });
        Ok(id)
    }

    /// Who watches a trainee.
    pub(super) fn mentor(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let may = |person: &&Person| !person.id.same_as(&self.hand.by) && watches(self.inspection, &person.id).is_ok();
        let others: Vec<&Person> = self.inspection.people().iter().filter(may).collect();
        if others.is_empty() {
            return Ok(only_say("No other fitter or supervisor is known here. Enter the person first."));
        }
        let names: Vec<_> = others.iter().map(|person| in_words(person)).collect();
        let index = answers.choose(&format!("who watches {}", self.name(&self.hand.by)), &names)?;
        Ok(others.get(index).map_or(Deed::Say(Vec::new()), |mentor| act(Act::Mentor { mentor: mentor.id.clone() })))
    }

    /// Nothing is written into a record that was changed outside before somebody has said, by name, that it was seen.
    pub(super) fn outside(&self, entry: u32, answers: &mut Answers<'_>) -> Reply<Deed> {
        let at = if entry == 0 { "its line ends were turned".to_owned() } else { format!("from entry {entry} on") };
        let name = self.name(&self.hand.by);
        let asked = format!("the record was changed outside this program, {at}. Seen by {name}");
        answers.word(&asked, &["seen"])?;
        let note = answers.words("what was seen, and what became of it")?;
        Ok(act(Act::seen(entry, note)))
    }

    /// One of the supervisors of the record.
    pub(super) fn supervisor(&self, answers: &mut Answers<'_>) -> Reply<Id> {
        let supervisors: Vec<_> =
            self.inspection.people().iter().filter(|person| person.is(Role::Supervisor)).collect();
        if supervisors.is_empty() {
            return Err(Stop::Wrong("Nobody here is a supervisor. Enter the person first.".to_owned()));
        }
        let names: Vec<_> = supervisors.iter().map(|person| in_words(person)).collect();
        let asked = if decides(self.inspection, &self.hand.by) {
            "which supervisor decides; for another than you it is claimed until that person signs"
        } else {
            "which supervisor decides; claimed until that person signs"
        };
        let index = answers.choose(asked, &names)?;
        Ok(supervisors.get(index).map_or_else(|| self.hand.by.clone(), |person| person.id.clone()))
    }

    fn names(&self, fits: impl Fn(&Person) -> bool) -> Vec<String> {
        let known = |person: &&Person| self.inspection.person(&person.id).is_some();
        let others = self.files.people.iter().filter(|person| !known(person));
        self.inspection.people().iter().chain(others).filter(|person| fits(person)).map(in_words).collect()
    }

    /// The name of somebody in the record.
    pub(super) fn name(&self, id: &Id) -> String {
        crate::domain::telling::name_of(self.inspection, id)
    }
}

/// `fitter-a, fitter A`.
fn in_words(person: &Person) -> String {
    format!("{}, {}", person.id, person.name)
}

/// The id that a name would have.
pub fn id_of(name: &str) -> Option<Id> {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { '-' };
    let id: String = name.trim().chars().map(plain).take(40).collect();
    id.trim_matches('-').parse().ok()
}

/// Somebody new: id, name, what they are.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn enter(answers: &mut Answers<'_>) -> Reply<Person> {
    let id = answers.with("the id entries will carry, such as initials", id)?;
    let name = answers.sentence("the name shown")?;
    let roles: Vec<_> = Role::ALL.iter().map(|role| role.word().to_owned()).collect();
    let index = answers.choose("what they are", &roles)?;
    let roles = Role::ALL.get(index).copied().into_iter().collect();
    Ok(Person { id, name, roles, keys: Vec::new() })
}
