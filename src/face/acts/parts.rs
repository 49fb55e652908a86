//! Parts fitted, identified late, or condemned.

use crate::domain::checklist::{Part, Step};
use crate::domain::entry::{Act, Replaces};
use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::identity;
use crate::domain::inspection::Doubted;
use crate::domain::phase::Phase;
use crate::domain::progress;
use crate::domain::refusal::RefusalKind;
use crate::domain::request::Request;
use crate::domain::rotor::Fitted;
use crate::domain::standing::PartStanding;
use crate::domain::verdict::Hold;

use super::super::inquiry::{Answers, Reply, Stop, named, refused};
use super::opening::hours_of;
use super::{At, Deed, act};

/// Why the checks of a new part are struck that were another piece's.
const ON_ANOTHER: &str = "taken on another new part";

/// Whose checks stand from before a new part is entered.
enum Checked {
    /// None stand.
    Nothing,
    /// Those of this very piece.
    This,
    /// Another's, these entries: it was not the one that goes in.
    Another(Vec<u32>),
}

impl At<'_> {
    pub(super) fn part_fitted(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.piece("which part", self.awaited(), answers)?;
        let replaces = answers.word("a new part in its place, or the one found, identified late", &["new", "found"])?;
        let serial = answers.maybe_with("its serial number, typed from the part, empty for none", |text| {
            named(text).map(str::to_owned)
        })?;
        // read off the old part, which lies beside the new one
        let new = serial.as_ref().filter(|_| replaces == 0);
        answers.sure_of(new.and_then(|number| hours::odd_new(self.inspection, &part, number)))?;
        let checked = if replaces == 0 { self.whose_checks(&part, answers)? } else { Checked::Nothing };
        let run = "hours it had run when it was fitted, h";
        let hours = match replaces {
            // a wheel's life is counted: its hours are said, also when they are none
            0 if !hours::counts_life(self.inspection, &part) => {
                answers.maybe_with(&format!("{run}, empty for 0"), hours_of)?
            }
            _ => Some(answers.with(run, hours_of)?),
        };
        let zero = || "0 h".parse::<Figure>().ok();
        let machine = match (replaces, self.inspection.opening().machine_hours) {
            (0, Some(machine)) => machine,
            _ => answers.with("hours of the machine when it was fitted, h", hours_of)?,
        };
        let Some(hours) = hours.or_else(zero) else { return Ok(Deed::Say(Vec::new())) };
        let mut fitted = Fitted { serial, hours, machine, doubts: Vec::new() };
        let replaces = if replaces == 0 { Replaces::Yes } else { Replaces::No };
        let odd = || hours::odd_found(self.inspection, &part, &fitted);
        if replaces == Replaces::No && answers.sure_of(odd())? == Doubted::Yes {
            fitted.doubts.push(Fitted::HOURS.to_owned());
        }
        let first = match checked {
            Checked::Nothing => Vec::new(),
            Checked::This => {
                fitted.doubts.push(Fitted::CHECKS.to_owned());
                Vec::new()
            }
            Checked::Another(entries) => entries,
        };
        let strike = |entry| Act::Strike { entry, reason: ON_ANOTHER.to_owned() };
        let acts = first.into_iter().map(strike).chain([Act::PartFitted { part, fitted, replaces }]);
        Ok(Deed::Ask(acts.map(Request::Do).collect()))
    }

    /// Of which piece it is that stands of the checks of a new one, where none was entered before.
    fn whose_checks(&self, part: &str, answers: &mut Answers<'_>) -> Reply<Checked> {
        let Some(entries) = identity::before_number_in_words(self.inspection, part) else {
            return Ok(Checked::Nothing);
        };
        let text = format!("a new one was checked before its number was known, {entries}: is it this very piece");
        let numbers = || identity::before_number(self.inspection, part).into_iter().map(|entry| entry.number).collect();
        Ok(if answers.word(&text, &["this", "another"])? == 0 { Checked::This } else { Checked::Another(numbers()) })
    }

    /// A part that is a thing in the hand, no stretch of the job.
    fn piece(&self, text: &str, offered: Option<&str>, answers: &mut Answers<'_>) -> Reply<String> {
        if let Some(why) = answers.unread().and_then(|typed| self.no_piece(typed)) {
            return Err(Stop::Wrong(why));
        }
        let checklist = &self.inspection.head().checklist;
        self.which_of(text, |part| part.stretch().is_none() && !checklist.is_of_the_job(&part.id), offered, answers)
    }

    /// The first part that waits for a new one, where the work is at no piece: that is what somebody comes for.
    fn awaited(&self) -> Option<&str> {
        let here = self.step.and_then(|step| self.inspection.head().checklist.part(&step.part));
        if here.is_some_and(|part| part.stretch().is_none()) {
            return None;
        }
        let waits = |part: &&PartStanding| {
            part.verdict.holds.contains(&Hold::NewPart) && !self.inspection.is_replaced(&part.id)
        };
        self.standing.parts.iter().find(waits).map(|part| part.id.as_str())
    }

    /// Why words mean no piece: a stretch of the machine is called so, and perhaps a piece too.
    fn no_piece(&self, typed: &str) -> Option<String> {
        let typed = typed.trim().to_lowercase();
        let (stretches, pieces): (Vec<&Part>, Vec<&Part>) =
            self.inspection.head().checklist.parts.iter().partition(|part| part.stretch().is_some());
        let is = |part: &&&Part| [&part.id, &part.name].iter().any(|name| name.to_lowercase() == typed);
        let begins = |part: &&&Part| is(part) || part.name.to_lowercase().starts_with(&typed);
        let stretch =
            stretches.iter().find(is).or_else(|| stretches.iter().find(begins)).filter(|_| !typed.is_empty())?;
        if pieces.iter().any(|piece| is(&piece)) {
            return None;
        }
        let of = stretch.stretch().unwrap_or_default().to_owned();
        let refusal = RefusalKind::NoPiece { name: stretch.name.clone(), of };
        let like: Vec<_> = pieces.iter().filter(begins).map(|piece| piece.name.as_str()).collect();
        if like.is_empty() {
            return Some(refused(&refusal.into()));
        }
        Some(format!("{} `{typed}` may be {}: type its number, or all its words.", refusal.what(), like.join(" or ")))
    }

    /// Where a new one is in its place, that one is condemned; the one taken out is scrapped already, and its open steps are
    /// left out.
    pub(super) fn condemn(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.piece("condemn which part", None, answers)?;
        if !self.inspection.is_replaced(&part) {
            let reason = answers.reason("why")?;
            return Ok(act(Act::Condemned { part, reason }));
        }
        let number = self.inspection.fitted(&part).and_then(|fitted| fitted.serial.as_deref()).unwrap_or("no number");
        let open = self.open_on_the_old(&part);
        let ask = format!("the new one in its place, {number}, or the old one that was taken out");
        if !open.is_empty() && answers.word(&ask, &["new", "old"])? == 1 {
            let reason = answers.reason("why does the old one go unmeasured")?;
            let skip = |step: String| Request::Do(Act::Skip { step, place: None, reason: reason.clone() });
            return Ok(Deed::Ask(open.into_iter().map(skip).collect()));
        }
        let reason = answers.reason(&format!("why is the new one, {number}, condemned"))?;
        Ok(act(Act::Condemned { part, reason }))
    }

    /// Steps that wait for the piece that was found in its place.
    fn open_on_the_old(&self, part: &str) -> Vec<String> {
        let of_old = |step: &&Step| step.part == part && step.phase > Phase::Safe && step.phase <= Phase::Measure;
        let waits = |step: &&Step| !progress::state(self.inspection, step).is_settled();
        progress::steps(self.inspection).filter(of_old).filter(waits).map(|step| step.id.clone()).collect()
    }
}
