//! Parts fitted, identified late, or condemned.

use crate::domain::entry::{Act, Replaces};
use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::inspection::Doubted;
use crate::domain::rotor::Fitted;

use super::super::inquiry::{Answers, Reply};
use super::opening::hours_of;
use super::{At, Deed, act};

impl At<'_> {
    pub(super) fn part_fitted(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.piece("which part", answers)?;
        let replaces = answers.word("a new part in its place, or the one found, identified late", &["new", "found"])?;
        let serial = answers.maybe("its serial number, typed from the part")?;
        // read off the old part, which lies beside the new one
        let new = serial.as_ref().filter(|_| replaces == 0);
        answers.sure_of(new.and_then(|number| hours::odd_new(self.inspection, &part, number)))?;
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
            fitted.doubts.push("hours".to_owned());
        }
        Ok(act(Act::PartFitted { part, fitted, replaces }))
    }

    /// A part that is a thing in the hand, no stretch of the job.
    fn piece(&self, text: &str, answers: &mut Answers<'_>) -> Reply<String> {
        self.which_of(text, |part| part.stretch_of.is_none(), answers)
    }

    pub(super) fn condemn(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.piece("condemn which part", answers)?;
        let reason = answers.sentence("why")?;
        Ok(act(Act::Condemned { part, reason }))
    }
}
