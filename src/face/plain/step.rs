//! The question that a step puts, by what it takes.

mod look;
mod reading;
mod sign;

use std::collections::BTreeSet;

use crate::domain::checklist::{Point, Signing, Step, Takes};
use crate::domain::entry::{Act, TimerMark};
use crate::domain::gate;
use crate::domain::progress::{self, Soaking};
use crate::domain::signing;
use crate::domain::soak::{shows_nothing, strayed};
use crate::domain::stamp::Stamp;
use crate::domain::standing::wants_picture;

use super::super::acts::{Deed, NAMED, Other, Way, act, and_more, sentence};
use super::super::screen::soak::said;
use super::course::{Course, Soak, soak};
use super::inquiry::{Answers, Reply, Stop};
use super::{Session, Talk, told};

/// What ran outside its times is soaked once more.
const START: &str = "start";

/// Before the step, where the heading shown was that of the walk-round.
pub(super) const AGAIN: &str = "again ";

impl Session {
    /// The heading of a step, once.
    pub(super) fn heading(&mut self, now: Stamp) -> Vec<String> {
        let (key, lines) = match self.course(now) {
            Course::Step(step) => {
                (step.id.clone(), [self.title(step), self.ripe(step, now), self.beside_of(step)].concat())
            }
            Course::SafeAgain(step) => (format!("{AGAIN}{}", step.id), self.safe_again(step)),
            Course::Shut(shut) => {
                let first = shut.first().map_or("", |(step, _)| step.id.as_str());
                (format!("shut {first}"), self.all_shut(&shut))
            }
            Course::Finished => {
                let lines = self.finished();
                (format!("finished {}", lines.last().map_or("", String::as_str)), lines)
            }
        };
        if self.shown.as_ref() == Some(&key) {
            return Vec::new();
        }
        self.shown = Some(key);
        self.told_beside = lines.iter().cloned().collect();
        lines
    }

    /// Soaks at other steps whose time has come, where a chosen step goes first: what is in the bath is not forgotten.
    fn ripe(&self, here: &Step, now: Stamp) -> Vec<String> {
        let soaking = progress::soaking(&self.inspection).into_iter();
        let ripe = soaking.filter(|one| one.step.id != here.id && soak(one, now) != Soak::Early);
        let words = |one: Soaking<'_>| {
            let (name, said) = (gate::step_name(&self.inspection, one.step), said(&one, now).0);
            format!("! {name}: {}. ! 6 {} goes there.", said.trim_start_matches("! "), one.step.id)
        };
        ripe.map(words).collect()
    }

    /// The question of the step that the work has come to.
    pub(super) fn step_question(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let course = self.course(now);
        let step = match course {
            Course::Step(step) => step,
            Course::SafeAgain(_) => return self.ask_safe_again(answers),
            Course::Shut(_) | Course::Finished => return self.no_step(&course, now, answers),
        };
        if self.is_sent_back(step) {
            return self.remark(step, answers);
        }
        if wants_picture(&self.inspection, step) {
            let why = answers.sentence("its picture: ! 8 attaches one. No camera: say so in words; or leave")?;
            return Ok(act(Act::Note { step: Some(step.id.clone()), text: why }));
        }
        match &step.takes {
            Takes::Points(_) => self.point(step, now, answers),
            Takes::Tick => {
                answers.word("done", &["done"])?;
                Ok(act(Act::Tick { step: step.id.clone() }))
            }
            Takes::Look => self.look(step, answers),
            Takes::Readings(grid) => self.reading(step, grid, answers),
            Takes::Soak { .. } if self.late.is_some() => self.at(now).soaked(answers),
            Takes::Soak { .. } => self.soak(step, now, answers),
            Takes::Words => {
                let offered = step.offered().map(|offered| format!("in words, or by number: {offered}; or leave"));
                let text = answers.sentence(offered.as_deref().unwrap_or("in words, or leave"))?;
                Ok(act(Act::Note { step: Some(step.id.clone()), text: step.sentence(&text) }))
            }
            Takes::Sign(what) => self.sign(*what, now, answers),
        }
    }

    /// Where no step is open: the way to what ends it, as far as one step or one answer does.
    fn no_step(&self, course: &Course<'_>, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let way = if let Course::Shut(shut) = course { self.way_out(shut, now) } else { None };
        let (word, ways) = match &way {
            Some(Way::Ends(Other::Given)) => ("count", "! for what else, count to say how many, or leave"),
            Some(Way::Ends(Other::Stands)) => {
                ("there", "no one step ends it: there to read how all stands, ! for what else, or leave")
            }
            Some(_) => ("there", "there to go to what ends it, ! for what else, or leave"),
            None => ("", "! for what else, or leave"),
        };
        let typed = answers.line(Vec::new(), ways)?;
        let taken = way.filter(|_| typed == word);
        taken.map(Deed::from).ok_or_else(|| Stop::Wrong(format!("`{typed}` was not taken: no step is open.")))
    }

    /// The first remark at a step that was done: its answer. A figure that is wrong is struck first, under `!`.
    fn remark(&self, step: &Step, answers: &mut Answers<'_>) -> Reply<Deed> {
        let remarks = signing::remarks_at(&self.inspection, &step.id);
        let Some((entry, number, remark)) = remarks.first() else { return Ok(Deed::Say(Vec::new())) };
        let asked =
            format!("remark {number} of entry {entry}: {} Your answer (! 1 strikes what was wrong)", remark.text);
        let text = answers.sentence(&asked)?;
        Ok(act(Act::RemarkAnswered { entry: *entry, remark: *number, text }))
    }

    /// The first point that is neither confirmed nor marked.
    pub(super) fn next_point<'s>(&self, step: &'s Step) -> Option<&'s Point> {
        let Takes::Points(points) = &step.takes else { return None };
        points.iter().find(|point| progress::settling(&self.inspection, step, &point.id).is_none())
    }

    fn point(&self, step: &Step, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(point) = self.next_point(step) else { return Ok(Deed::Say(Vec::new())) };
        let name = self.name(&self.by);
        let text = format!("{}: {}. Confirmed by {name}", point.id, point.text);
        let is_here = answers.word(&text, &["yes", "not here"])? == 0;
        let (of, id) = (step.id.clone(), point.id.clone());
        if is_here {
            return Ok(act(Act::Confirm { step: of, point: id }));
        }
        self.at(now).may_be_absent(step, Some(point))?;
        let reason = answers.reason("why is there none on this machine or job")?;
        Ok(act(Act::NotApplicable { step: of, point: Some(id), reason }))
    }

    fn soak(&self, step: &Step, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let (id, Takes::Soak { from, to }) = (step.id.clone(), &step.takes) else { return Ok(Deed::Say(Vec::new())) };
        let window = to.map_or_else(|| format!("{from} at least"), |to| format!("{from} to {to}"));
        let running = progress::soaking(&self.inspection).into_iter().find(|one| one.step.id == step.id);
        let Some(running) = running else {
            let ran = strayed(&self.inspection, step);
            if let Some(ran) = ran.as_ref().filter(|_| shows_nothing(&self.inspection, step)) {
                let asked =
                    format!("stopped after {ran}: start to begin it again; ! 1 strikes a wrong time, no note helps");
                answers.word(&asked, &[START])?;
            } else if let Some(ran) = ran {
                let asked = format!("stopped after {ran}: start to begin it again, or why it is left at that");
                let said = answers.choose_or_say(&asked, &[START.to_owned()])?;
                if said != START {
                    return Ok(act(Act::Note { step: Some(id), text: said }));
                }
            } else {
                answers.word(
                    &format!("start the clock now, for {window}, common practice: the manual goes first"),
                    &[START],
                )?;
            }
            return Ok(act(Act::Timer { step: id, mark: TimerMark::Started }));
        };
        let stands = match soak(&running, now) {
            Soak::Early => "too early",
            Soak::Ready => "time over",
            Soak::Late => "too long",
        };
        let minutes = now.seconds_since(running.since).max(0) / 60;
        let text = format!("since {}, {minutes} min of {window}, {stands}. Stop the clock now", running.since.clock());
        answers.word(&text, &["stop"])?;
        Ok(act(Act::Timer { step: id, mark: TimerMark::Ended }))
    }

    /// Before a step: every safety point as it was confirmed.
    fn safe_again(&self, step: &Step) -> Vec<String> {
        let before = gate::step_name(&self.inspection, step);
        let mut lines = vec![
            String::new(),
            format!("{}After a break, or with other hands, walk round first.", self.scene()),
            format!("Before {before} each of these must be so:"),
        ];
        for step in self.safety() {
            if let Takes::Points(points) = &step.takes {
                lines.extend(points.iter().map(|point| format!("  {}.", self.as_settled(step, point))));
            }
        }
        lines
    }

    /// A safety point; of one that this machine has not, that too.
    fn as_settled(&self, step: &Step, point: &Point) -> String {
        match progress::settling(&self.inspection, step, &point.id).map(|entry| &entry.act) {
            Some(Act::NotApplicable { reason, .. }) => format!("{}: not here, {reason}", point.text),
            Some(_) | None => point.text.clone(),
        }
    }

    /// One question for each safety step, then the entry.
    fn ask_safe_again(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let name = self.name(&self.by);
        for step in self.safety() {
            answers.word(&format!("{}: still so, every point of it, {name}", step.title), &["yes"])?;
        }
        Ok(act(Act::Resume))
    }

    fn all_shut(&self, shut: &[(&Step, Vec<gate::Missing>)]) -> Vec<String> {
        let mut all = shut.iter().flat_map(|(_, missing)| missing);
        let left_out = all.any(|one| one.left_out(&self.inspection).is_some());
        let left_out = left_out.then(|| "  ! 1 strikes an entry, ! 4 leaves a step out.".to_owned());
        let wait = match shut {
            [_] => "This step is not open:",
            _ => "Nothing is open now, and these steps wait:",
        };
        let mut lines = vec![String::new(), format!("{}{wait} {}.", self.scene(), self.saved())];
        if let [(step, missing)] = shut {
            // one step has room for a line each
            lines.push(format!("  {}:", gate::step_name(&self.inspection, step)));
            lines.extend(
                missing.iter().take(NAMED).map(|one| format!("    {}", sentence(&one.words(&self.inspection)))),
            );
            lines.extend(and_more(missing.len()).map(|more| format!("    {more}.")));
            lines.extend(left_out);
            return lines;
        }
        // what holds many steps, such as the question of a call, is said once
        let mut told = BTreeSet::new();
        let mut is_new = |one: &gate::Missing| !matches!(one, gate::Missing::Held(..)) || told.insert(one.clone());
        lines.extend(shut.iter().take(9).map(|(step, missing)| {
            let new: Vec<_> = missing.iter().filter(|one| is_new(one)).collect();
            let mut words: Vec<_> = new.iter().take(NAMED).map(|one| one.words(&self.inspection)).collect();
            words.extend(and_more(new.len()));
            match missing.len().saturating_sub(new.len()) {
                0 => {}
                1 => words.push("1 hold as above".to_owned()),
                more => words.push(format!("{more} holds as above")),
            }
            format!("  {}: {}", gate::step_name(&self.inspection, step), sentence(&words.join("; ")))
        }));
        if shut.len() > 9 {
            lines.push(format!("  and {} more.", shut.len() - 9));
        }
        lines.extend(left_out);
        lines
    }

    /// The way to the first of the shut steps that has one; none where the lines say it all, and how all stands where no
    /// one step ends it.
    fn way_out(&self, shut: &[(&Step, Vec<gate::Missing>)], now: Stamp) -> Option<Way> {
        let at = self.at(now);
        let mut ways = shut.iter().map(|(step, _)| at.way_to(step));
        let here = |way: &Way| matches!((way, shut), (Way::Step(to), [(only, _)]) if *to == only.id);
        let way = ways.find(|way| *way != Way::Ends(Other::Stands)).unwrap_or(Way::Ends(Other::Stands));
        (!here(&way)).then_some(way)
    }

    fn finished(&self) -> Vec<String> {
        let holds = self.standing.holds_in_words();
        let mut lines =
            vec![String::new(), format!("Every step is settled, done or left out by name. {}.", self.saved())];
        lines.extend(holds.iter().map(|hold| format!("  held: {hold}")));
        let close = progress::steps(&self.inspection).find(|step| step.takes == Takes::Sign(Signing::Close));
        let again = close.filter(|_| signing::gone_on(&self.inspection));
        lines.extend(again.map(|step| format!("Entries came after it was signed: ! 6 {} signs it again.", step.id)));
        lines
    }

    /// Why, how, mistakes and caution of the step; `?` anywhere.
    pub(super) fn help(&self, now: Stamp) -> Vec<String> {
        if let Talk::Other(other) = &self.talk
            && let Err(Stop::Ask(question)) = self.at(now).ask(*other, &mut Answers::new(&self.answers))
        {
            return told::wanted(other.title(), &question);
        }
        let (Course::Step(step) | Course::SafeAgain(step)) = self.course(now) else {
            return vec!["! lists what else can be done; leave goes, and the record stays as it stands.".to_owned()];
        };
        let mut lines = told::why_and_how(step);
        if !step.mistakes.is_empty() {
            lines.push("Mistakes, and which way each errs:".to_owned());
            lines.extend(step.mistakes.iter().map(|line| format!("  {line}")));
        }
        lines.extend(step.caution.iter().map(|caution| format!("! {caution}")));
        lines.push(told::AGAIN.to_owned());
        lines
    }

    /// The name of somebody in the record.
    pub(super) fn name(&self, id: &crate::domain::id::Id) -> String {
        self.inspection.person(id).map_or_else(|| id.to_string(), |person| person.name.clone())
    }
}
