//! People and what they may do.

use super::id::Id;

/// What somebody is on the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Takes apart, measures, decides what the rules decide.
    Fitter,
    /// Learns; works with a fitter.
    Trainee,
    /// Checks, countersigns, may overrule toward the less safe side with a reason.
    Supervisor,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 3] = [Self::Fitter, Self::Trainee, Self::Supervisor];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fitter => "fitter",
            Self::Trainee => "trainee",
            Self::Supervisor => "supervisor",
        }
    }

    /// The role a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.word() == word)
    }
}

/// Somebody who works on the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// The id entries carry.
    pub id: Id,
    /// The name shown.
    pub name: String,
    /// At least one.
    pub roles: Vec<Role>,
    /// Public keys in the one-line form of the usual key files; may be none.
    pub keys: Vec<String>,
}

impl Person {
    /// Whether the person has this role.
    pub fn is(&self, role: Role) -> bool {
        self.roles.contains(&role)
    }

    /// Whether this is what the person is called here: the id or the name.
    pub fn is_called(&self, typed: &str) -> bool {
        [self.id.as_str(), &self.name].iter().any(|called| called.eq_ignore_ascii_case(typed.trim()))
    }

    /// Whether the person is nothing but a trainee.
    pub fn is_learning(&self) -> bool {
        self.roles.iter().all(|role| *role == Role::Trainee)
    }

    /// The same person, a supervisor besides, where the one of that id `here` has become a supervisor since. A trainee
    /// stays one in a record that knows one: what was signed under somebody's eyes stays so.
    pub fn risen(&self, here: &Self) -> Option<Self> {
        let rises = here.is(Role::Supervisor) && !self.is(Role::Supervisor) && !self.is_learning();
        let roles = self.roles.iter().copied().chain([Role::Supervisor]).collect();
        rises.then(|| Self { roles, ..self.clone() })
    }

    /// Whether a trainee may work under the eyes of this person.
    pub fn may_watch(&self) -> bool {
        self.is(Role::Fitter) || self.is(Role::Supervisor)
    }
}
