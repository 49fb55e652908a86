//! A new inspection: rotor, hours and a name are enough to begin. Known values are offered, never taken silently; every
//! other answer may be later, and holds until it is given.

use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::inspection::{Arrives, Manual, Opening};
use crate::domain::person::{Person, Role};
use crate::domain::stamp::{Stamp, day, long_day};
use crate::domain::typed;
use crate::domain::unit::{Dimension, Unit};

use super::super::action::{Action, Scope};
use super::super::effect::{Beginning, Effect, HomeFacts, Query, RotorFacts};
use super::super::form::{Form, Line, Need, Step};
use super::super::half;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Screen};
use super::super::pen::Pen;
use super::super::update::to_home;
use super::super::widget::keybar;
use super::{asked, bench, hands, way};

const ROTOR: usize = 0;
const SERIAL: usize = 1;
const HOURS: usize = 2;
const WHO: usize = 3;
const CHECKLIST: usize = 4;
const REASON: usize = 5;
const ARRIVES: usize = 6;
const EDITION: usize = 7;
const LETTERS: usize = 8;
const NEXT_HOURS: usize = 9;
const NEXT_DATE: usize = 10;

/// A new inspection.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Begin {
    /// The answers.
    pub form: Form,
    facts: HomeFacts,
}

impl Begin {
    /// The questions, with what is known on offer.
    pub fn new(facts: HomeFacts, rotor: Option<&str>) -> Self {
        let rotors = facts.rotors.iter().map(|one| one.rotor.id.to_string()).collect();
        let people = facts.people.iter().map(|person| person.name.clone()).collect();
        let checklists = facts.checklists.iter().map(|(_, title)| title.clone()).collect();
        let arrives = ["in place", "as a cartridge", "received already stripped"].map(str::to_owned).to_vec();
        let reasons = ["periodic, by hours", "vibration or noise", "after damage", "owner's wish"].map(str::to_owned);
        let mut lines = vec![
            Line::one_of("which rotor", rotors, Need::Wanted),
            Line::text("serial number, typed from the part", "read it off the rotor; it must match", Need::Wanted),
            Line::text("hours of the machine", "such as 48480", Need::Wanted),
            Line::offered("who begins", "a number, or a name", people, Need::Wanted),
            Line::one_of("checklist", checklists, Need::Wanted),
            Line::offered("why it is opened", "", reasons.to_vec(), Need::Later),
            Line::one_of("how it arrives", arrives, Need::Later),
            Line::offered("edition of the manual, checked today", "", Vec::new(), Need::Later),
            Line::offered("service letters, looked up today", "", vec!["none".to_owned()], Need::Later),
            Line::text("machine hours of the next opening", "such as 60510", Need::Later),
            Line::text("date of the next opening", "as 2026-07-02", Need::Later),
        ];
        if let (Some(rotor), Some(line)) = (rotor, lines.get_mut(ROTOR)) {
            line.field = super::super::field::Field::holding(rotor);
        }
        let mut form = Form::new("begin an inspection", lines);
        if let Some(left) = facts.begun.as_ref().filter(|_| rotor.is_none()) {
            half::fill(&mut form, left);
        }
        let mut begin = Self { form, facts };
        begin.offer();
        begin
    }

    fn rotor(&self) -> Option<&RotorFacts> {
        let id = self.form.answer(ROTOR)?;
        self.facts.rotors.iter().find(|one| one.rotor.id.to_string() == id)
    }

    /// What is known of the rotor is put on offer beside its questions.
    fn offer(&mut self) {
        let Some(known) = self.rotor() else { return };
        let last = known.last.as_ref().map(|(hours, day)| format!("last time {hours}, {}", long_day(*day)));
        let manual = known.manual.clone();
        if let (Some(last), Some(line)) = (last, self.form.lines.get_mut(HOURS)) {
            line.hint = last;
        }
        if let (Some((title, edition)), Some(line)) = (manual, self.form.lines.get_mut(EDITION)) {
            line.hint = format!("{title}; last time edition {edition}");
            line.choices = vec![edition];
        }
    }

    fn beginning(&self, today: Stamp) -> Result<Beginning, (usize, String)> {
        let wanted = |line: usize| (line, "This answer is wanted.".to_owned());
        let rotor = self.rotor().ok_or_else(|| wanted(ROTOR))?;
        let serial = self.form.answer(SERIAL).ok_or_else(|| wanted(SERIAL))?;
        if !serial.eq_ignore_ascii_case(rotor.rotor.serial.trim()) {
            let words = format!(
                "`{serial}` is not the serial number of {}. Read it off the part again, or choose another rotor.",
                rotor.rotor.id
            );
            return Err((SERIAL, words));
        }
        let name = self.form.answer(WHO).ok_or_else(|| wanted(WHO))?;
        let checklist = self.form.chosen(CHECKLIST).and_then(|line| self.facts.checklists.get(line));
        Ok(Beginning {
            rotor: rotor.rotor.id.clone(),
            checklist: checklist.ok_or_else(|| wanted(CHECKLIST))?.0.clone(),
            opening: self.opening(rotor, today)?,
            by: self
                .person(&name)
                .ok_or((WHO, format!("`{name}` holds no letter or digit. Type the name in Latin letters.")))?,
        })
    }

    fn person(&self, name: &str) -> Option<Person> {
        let known = self.facts.people.iter().find(|person| person.name.eq_ignore_ascii_case(name));
        let new = || -> Option<Person> {
            let id: Id = hands::id_of(name)?;
            Some(Person { id, name: name.to_owned(), roles: vec![Role::Fitter], keys: Vec::new() })
        };
        known.cloned().or_else(new)
    }

    fn opening(&self, rotor: &RotorFacts, today: Stamp) -> Result<Opening, (usize, String)> {
        let hours = |line: usize| match self.form.answer(line) {
            None => Ok(None),
            Some(text) => read_hours(&text).map(Some).map_err(|words| (line, words)),
        };
        let edition = self.form.answer(EDITION);
        let title =
            rotor.manual.as_ref().map_or_else(|| format!("{} manual", rotor.rotor.machine), |(title, _)| title.clone());
        let next_date = match self.form.answer(NEXT_DATE) {
            None => None,
            Some(text) => Some(day(&text).map_err(|refusal| (NEXT_DATE, refusal.to_string()))?),
        };
        Ok(Opening {
            reason: self.form.answer(REASON),
            arrives: self.form.chosen(ARRIVES).and_then(|line| Arrives::ALL.get(line)).copied(),
            machine_hours: hours(HOURS)?,
            part_hours: std::collections::BTreeMap::new(),
            manual: edition.map(|edition| Manual { title, edition, checked: today.date() }),
            letters: self.form.answer(LETTERS),
            next_hours: hours(NEXT_HOURS)?,
            next_date,
        })
    }
}

fn read_hours(text: &str) -> Result<Figure, String> {
    let typed = typed::parse(text, Unit::Hour).map_err(|refusal| refusal.to_string())?;
    if typed.figure.dimension() == Dimension::Time && !typed.figure.decimal().is_sign_negative() {
        Ok(typed.figure)
    } else {
        Err(format!("`{text}` are no running hours. Type the hours as the counter shows them."))
    }
}

/// Keys of the form.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let today = model.now.stamp;
    let Screen::Begin(begin) = &mut model.screen else { return Vec::new() };
    if action == Action::Back {
        return to_home(model);
    }
    if action == Action::Line {
        begin.form.go(way(key));
    }
    if action == Action::Other {
        begin.form.turn(way(key));
    }
    if action != Action::Answer {
        return Vec::new();
    }
    let step = begin.form.enter();
    begin.offer();
    match step {
        Step::Next => Vec::new(),
        Step::Wrong(words) => {
            model.say(Tone::Bad, words);
            Vec::new()
        }
        Step::Finished => match begin.beginning(today) {
            Ok(beginning) => {
                model.say(Tone::Plain, "beginning");
                vec![Effect::Ask(Box::new(Query::Begin(Box::new(beginning))))]
            }
            Err((line, words)) => {
                begin.form.at = line;
                model.say(Tone::Bad, words);
                Vec::new()
            }
        },
    }
}

/// ```text
///  asfound                 begin an inspection                12 July 2024, 14:05
///  -- begin an inspection ---------------------------------------------------------
///    which rotor                              DEMO-1
///  > serial number, typed from the part     [ D1-0_                            ]
///    ...
///    why it is opened                         later
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, begin: &Begin) {
    pen.wash(0, Tone::Title);
    pen.put(1, 0, "asfound, begin", Tone::Title);
    if begin.facts.invented {
        pen.centre(0, "INVENTED DEMONSTRATION", Tone::Title);
    }
    let now = model.now.stamp;
    pen.right(1, 0, &format!("{}, {}", long_day(now.date()), now.clock()), Tone::Title);
    pen.put(1, 1, "Rotor, hours and a name are enough to begin; the rest may be later.", Tone::Plain);
    let below = pen.height().saturating_sub(1);
    asked::view(&mut pen.rows(3, below.saturating_sub(6)), &begin.form);
    bench::said_line(pen, below.saturating_sub(2), model);
    keybar::draw(pen, below, Scope::Form);
}
