//! What a supervisor decides line by line: concessions and overrulings. Answers that were left are kept and offered again.

use crate::domain::entitled::worded;
use crate::domain::entry::Act;
use crate::domain::person::Role;
use crate::domain::review::Item;
use crate::domain::until;
use crate::domain::verdict::Disposition;
use crate::records::store::HalfForm;

use super::super::super::inquiry::refused;
use super::super::super::reviewing::{CONCESSION, Reading};
use super::{Asked, Heard, Session, pages};

/// Behind the word of a form that was answered line by line; the screen's own are named by its marked line.
const LINES: &str = "by lines";

const OVERRULE: [&str; 4] = [
    "Overrule which part? Its name, such as in tables",
    "What is done with it? reuse, watch, rework, replace",
    "Which supervisor decides? The id",
    "Why?",
];

pub(super) fn concession_question(answers: &[String]) -> String {
    let Some(place) = answers.len().checked_sub(1) else {
        return "A concession about which line? Its number, such as 3.2".to_owned();
    };
    match (CONCESSION.get(place), place + 1 == CONCESSION.len()) {
        (Some(question), true) => format!("{question}: {}?", words().join(", ")),
        (Some(question), false) => format!("{question}?"),
        (None, _) => "Is that right? yes, no".to_owned(),
    }
}

pub(super) fn offer_question(left: &Asked) -> String {
    let answers =
        if let Asked::Concession(answers) | Asked::Overrule(answers) = left { answers.as_slice() } else { &[] };
    format!("Left half answered: {}. go on, or again?", answers.join("; "))
}

fn words() -> [&'static str; 4] {
    Disposition::ALL.map(Disposition::word)
}

impl Session {
    /// What is half answered now, as it is kept.
    pub(super) fn half(&self) -> Option<HalfForm> {
        let (word, line, answers) = if let Asked::Concession(answers) = &self.asked {
            // numbers of lines move as the record grows
            let line = answers.first().and_then(|line| self.numbered(line)).map(|item| item.text.clone());
            ("concession", line, answers)
        } else if let Asked::Overrule(answers) = &self.asked {
            ("overrule", None, answers)
        } else {
            return None;
        };
        let way = [word, LINES].into_iter().map(str::to_owned).chain(line).collect();
        let at = u32::try_from(answers.len()).unwrap_or(0);
        (!answers.is_empty()).then(|| HalfForm { way, at, answers: answers.clone() })
    }

    /// A decision is begun; answers that were left are offered first, for no line typed for another question counts as one.
    pub(super) fn begun(&mut self, word: &str, of: fn(Vec<String>) -> Asked) -> Heard {
        if word == "concession" && self.reading.review.referred().next().is_none() {
            return self.again(Asked::What, "Not taken: `concession`. Nothing here asks for one.");
        }
        let left = self.answers_left(word).filter(|answers| !answers.is_empty());
        self.ask(left.map_or_else(|| of(Vec::new()), |answers| Asked::Offer(Box::new(of(answers)))))
    }

    /// Nothing was done, for the record reads so by now: why, and a decision that was answered whole is asked again.
    pub fn grown(&mut self, why: &str, reading: Reading) -> String {
        self.missed.insert(self.doing);
        self.reading = reading;
        self.look();
        let again = self.sent.take().filter(|_| self.asked == Asked::What);
        let (mut said, half) = (why.to_owned(), again.and_then(|asked| self.anew(asked)));
        if let Some(asked) = half {
            self.asked = asked;
            said = [said, self.outcome()].join("\n");
        }
        said
    }

    /// The question behind the answers to a decision, its line found again; none where that line is another by now.
    fn anew(&mut self, left: HalfForm) -> Option<Asked> {
        let deed = left.way.first().cloned()?;
        self.aside = Some(left);
        let answers = self.answers_left(&deed)?;
        self.aside = None;
        Some(if deed == "overrule" { Asked::Overrule(answers) } else { Asked::Concession(answers) })
    }

    fn answers_left(&self, word: &str) -> Option<Vec<String>> {
        let HalfForm { way, answers, .. } = self.aside.as_ref()?;
        let mine = way.iter().map(String::as_str).take(2).eq([word, LINES]);
        let mut answers = answers.clone();
        if let Some(text) = way.get(2).filter(|_| mine) {
            answers.splice(..1, [self.line_of(text)?]);
        }
        mine.then_some(answers)
    }

    pub(super) fn offered(&mut self, line: &str, left: Asked) -> Heard {
        let asked = match line {
            "go on" => left,
            "again" if matches!(left, Asked::Overrule(_)) => Asked::Overrule(Vec::new()),
            "again" => Asked::Concession(Vec::new()),
            other => {
                let words = format!("Not taken: `{other}`. go on, or again.");
                return self.again(Asked::Offer(Box::new(left)), words);
            }
        };
        self.aside = None;
        self.ask(asked)
    }

    /// The number of the line with this text.
    fn line_of(&self, text: &str) -> Option<String> {
        pages::numbered(&self.reading).find_map(|(page, one)| {
            let line = one.items.iter().position(|item| item.text == text)?;
            Some(format!("{page}.{}", line + 1))
        })
    }

    /// What a concession can be about, each with its number.
    fn concedable(&self) -> String {
        let all = pages::numbered(&self.reading)
            .flat_map(|(page, one)| (1_usize..).zip(&one.items).map(move |(line, item)| (page, line, item)));
        let all = all.filter(|(_, _, item)| item.about.is_some());
        let all: Vec<_> = all.map(|(page, line, item)| format!("{page}.{line} {}", item.text)).collect();
        if all.is_empty() { "nothing asks for one here".to_owned() } else { all.join("; ") }
    }

    pub(super) fn concession(&mut self, line: &str, mut answers: Vec<String>) -> Heard {
        let about = |item: &Item| item.part.is_some() && item.about.is_some();
        let taken = match answers.len() {
            _ if line == "again" => return self.ask(Asked::Concession(Vec::new())),
            0 => self.numbered(line).is_some_and(about),
            5 => words().contains(&line),
            6 => return self.entered(line, Asked::Concession(answers)),
            4 => {
                let record = &self.reading.inspection;
                let today = record.entries().last().map_or(record.head().begun, |last| last.at).date();
                if let Err(refusal) = until::checked(record, line, today) {
                    return self.again(Asked::Concession(answers), refused(&refusal));
                }
                true
            }
            1 | 3 => worded(line).is_ok(),
            _ => !line.is_empty(),
        };
        let item = self.numbered(line).filter(|_| answers.is_empty() && taken);
        if let Some(Err(refusal)) = item.map(|item| self.reading.may_concede(&self.by, item)) {
            return self.again(Asked::Concession(answers), refused(&refusal));
        }
        if !taken {
            let why = if answers.is_empty() {
                format!(" A concession can be about: {}.", self.concedable())
            } else if matches!(answers.len(), 1 | 3) {
                " It needs words.".to_owned()
            } else {
                String::new()
            };
            return self.again(Asked::Concession(answers), format!("Not taken: `{line}`.{why}"));
        }
        answers.push(line.to_owned());
        self.asked = Asked::Concession(answers);
        let first = matches!(&self.asked, Asked::Concession(answers) if answers.len() == 1);
        if !first {
            return Heard::Said(self.outcome());
        }
        let text = self.numbered(line).map(|item| item.text.clone()).unwrap_or_default();
        Heard::Said(format!("At: {}{text}", self.named(line)))
    }

    pub(super) fn overrule(&mut self, line: &str, mut answers: Vec<String>) -> Heard {
        let supervisor = |named: &str| {
            let mut people = self.reading.people.iter().filter(|person| person.is(Role::Supervisor));
            people.find(|person| person.is_called(named)).map(|person| person.id.to_string())
        };
        let taken = match answers.len() {
            _ if line == "again" => return self.ask(Asked::Overrule(Vec::new())),
            // by no number: lines, pages and lists count otherwise
            0 => self.reading.part(line).map(|part| part.id.clone()),
            1 => Disposition::parse(line).map(|to| to.word().to_owned()),
            2 => supervisor(line),
            4 => return self.entered(line, Asked::Overrule(answers)),
            _ => worded(line).is_ok().then(|| line.to_owned()),
        };
        let Some(taken) = taken else {
            let wanted = self.wanted(answers.len());
            return self.again(Asked::Overrule(answers), format!("Not taken: `{line}`. {wanted}"));
        };
        answers.push(taken);
        if let [part, to] = answers.as_slice() {
            if let Some(refusal) = self.reading.is_never(part, to) {
                answers.pop();
                return self.again(Asked::Overrule(answers), refused(&refusal));
            }
            if self.reading.is_safer(part, to) {
                answers.push(self.by.to_string());
            }
        }
        let first = answers.first().filter(|_| answers.len() == 1);
        let at = first.and_then(|part| self.reading.part(part)).map(|part| format!("At: {}", part.name));
        self.asked = Asked::Overrule(answers);
        Heard::Said(at.unwrap_or_else(|| self.outcome()))
    }

    /// The last word on a decision: yes enters it.
    fn entered(&mut self, line: &str, asked: Asked) -> Heard {
        self.asked = asked;
        match line {
            "yes" => {
                self.sent = self.half();
                let act = self.act();
                // kept until it is saved
                self.aside = self.half();
                self.asked = Asked::What;
                act.map_or_else(
                    || self.again(Asked::What, "That line is about nothing that was referred."),
                    |act| Heard::Do(vec![act]),
                )
            }
            "no" => {
                self.asked = Asked::What;
                Heard::Said("Not entered.".to_owned())
            }
            other => self.again(self.asked.clone(), format!("Not taken: `{other}`. yes or no.")),
        }
    }

    /// What the answers come to, once all are there.
    fn act(&self) -> Option<Act> {
        if let Asked::Concession(answers) = &self.asked {
            let item = answers.first().and_then(|line| self.numbered(line))?;
            return Reading::concession(item, answers.get(1..).unwrap_or_default());
        }
        if let Asked::Overrule(answers) = &self.asked { self.reading.overrule(answers) } else { None }
    }

    /// What would become of the part, a line each; nothing while answers are missing.
    fn outcome(&self) -> String {
        self.act().map(|act| self.reading.outcome(&self.by, &act).join("\n")).unwrap_or_default()
    }

    pub(super) fn overrule_question(&self, answers: &[String]) -> String {
        if let Some(question) = OVERRULE.get(answers.len()) {
            return (*question).to_owned();
        }
        let supervisor = answers.get(2).and_then(|named| self.reading.id_of(named));
        let behalf = match supervisor.filter(|id| !id.same_as(&self.by)) {
            Some(id) => format!(" Typed on behalf of {id}: claimed until {id} countersigns what is signed after it."),
            None => String::new(),
        };
        format!("What the rules say stays beside it.{behalf} Is that right? yes, no")
    }

    /// What would be taken for an answer about an overruled part.
    fn wanted(&self, answers: usize) -> String {
        match answers {
            0 => {
                let parts = self.reading.parts().map(|part| part.short.as_str());
                format!("One of: {}.", parts.collect::<Vec<_>>().join(", "))
            }
            1 => format!("One of: {}.", words().join(", ")),
            2 => {
                let ids: Vec<_> = self.reading.supervisors().map(|person| person.id.to_string()).collect();
                format!("A supervisor: {}.", ids.join(", "))
            }
            _ => "It needs words.".to_owned(),
        }
    }
}
