//! Parts fitted, identified late, or condemned.

use crate::domain::entry::{Act, Replaces};
use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::rotor::Fitted;
use crate::domain::unit::Unit;

use super::super::inquiry::{Answers, Reply, figure};
use super::{At, Deed, act};

impl At<'_> {
    pub(super) fn part_fitted(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.which_part("which part", answers)?;
        let replaces = answers.word("a new part in its place, or the one found, identified late", &["new", "found"])?;
        let serial = answers.maybe("its serial number, typed from the part")?;
        let run = "hours it had run when it was fitted, h";
        let hours = match replaces {
            // a wheel's life is counted: its hours are said, also when they are none
            0 if !hours::counts_life(self.inspection, &part) => {
                answers.maybe_with(&format!("{run}, empty for 0"), figure(Unit::Hour))?
            }
            _ => Some(answers.with(run, figure(Unit::Hour))?),
        };
        let zero = || "0 h".parse::<Figure>().ok();
        let machine = match (replaces, self.inspection.opening().machine_hours) {
            (0, Some(machine)) => machine,
            _ => answers.with("hours of the machine when it was fitted, h", figure(Unit::Hour))?,
        };
        let Some(hours) = hours.or_else(zero) else { return Ok(Deed::Say(Vec::new())) };
        let replaces = if replaces == 0 { Replaces::Yes } else { Replaces::No };
        Ok(act(Act::PartFitted { part, fitted: Fitted { serial, hours, machine }, replaces }))
    }

    pub(super) fn condemn(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.which_of("condemn which part", |part| part.stretch_of.is_none(), answers)?;
        let reason = answers.sentence("why")?;
        Ok(act(Act::Condemned { part, reason }))
    }
}
