//! What a supervisor, a maker or an owner decides against or beside the rules.

use crate::domain::entry::{Act, Entry};
use crate::domain::judge::Condition;
use crate::domain::standing::{CharacteristicStanding, Outcome, PartStanding};
use crate::domain::until;
use crate::domain::verdict::{Consequence, Disposition};

use super::super::reviewing::CONCESSION;

use super::super::inquiry::{Answers, Reply, Stop};
use super::{At, Deed, act, only_say, owned};

/// Whether a supervisor may accept it without a judgement, or by figures that were insisted on or another way disputes.
fn is_to_accept(outcome: &Outcome) -> bool {
    match outcome {
        Outcome::Judged(judgement) => judgement.is_open(),
        Outcome::Past(_, open) => open.is_some(),
        Outcome::NotTaken | Outcome::Incomplete(_) | Outcome::LeftOut(_) | Outcome::Open(_) => true,
        Outcome::Unjudged { .. } | Outcome::Excused => false,
    }
}

impl At<'_> {
    /// A characteristic that is open, accepted all the same.
    pub(super) fn unjudged(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let open: Vec<_> = self.standing.characteristics.iter().filter(|one| is_to_accept(&one.outcome)).collect();
        if open.is_empty() {
            return Ok(only_say("Every characteristic is judged."));
        }
        let names: Vec<_> = open.iter().map(|one| self.characteristic_in_words(one)).collect();
        let index = answers.choose("which is accepted without a judgement", &names)?;
        let Some(one) = open.get(index) else { return Ok(Deed::Say(Vec::new())) };
        let (characteristic, as_left) = (one.characteristic, one.condition == Condition::AsLeft);
        let supervisor = self.supervisor(answers)?;
        let reason = answers.reason("why")?;
        Ok(act(Act::Unjudged { characteristic, as_left, supervisor, reason }))
    }

    /// `bush, turbine: clearance, as found`.
    fn characteristic_in_words(&self, one: &CharacteristicStanding) -> String {
        let part = self.standing.part(one.characteristic.part()).map_or("", |part| part.short.as_str());
        let condition = if one.condition == Condition::AsLeft { "as left" } else { "as found" };
        format!("{part}: {}, {condition}", one.characteristic.name())
    }

    pub(super) fn overrule(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let parts: Vec<_> = self.standing.parts.iter().filter(|part| part.can_be_overruled()).collect();
        let words = |part: &PartStanding| format!("{}, {}", part.name, part.told().1);
        let names: Vec<_> =
            parts.iter().map(|part| (self.number_of(&part.id), part.id.as_str(), words(part))).collect();
        let index = answers.choose_some("overrule which part", &names, None)?;
        let Some(part) = parts.get(index) else { return Ok(Deed::Say(Vec::new())) };
        let index = answers.choose("what is done with it", &owned(&Disposition::ALL.map(Disposition::word)))?;
        let to = Disposition::ALL.get(index).copied().unwrap_or(Disposition::Replace);
        // toward the safer side anybody decides, under the own name
        let supervisor = if part.is_safer(to) { self.hand.by.clone() } else { self.supervisor(answers)? };
        let reason = answers.reason("why")?;
        Ok(act(Act::Overrule { part: part.id.clone(), to, supervisor, reason }))
    }

    /// The answer of maker, owner or class to a referral.
    pub(super) fn concede(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let about = self.referred();
        if about.is_empty() {
            return Ok(only_say("Nothing is past a level, and nothing is found."));
        }
        let words: Vec<_> = about.iter().map(|(_, _, words)| words.clone()).collect();
        let index = answers.choose("a concession about which", &words)?;
        let Some((part, about, _)) = about.into_iter().nth(index) else { return Ok(Deed::Say(Vec::new())) };
        let asked = |place: usize| CONCESSION.get(place).copied().unwrap_or_default();
        let (who, document) = (answers.words(asked(0))?, answers.sentence(asked(1))?);
        let (conditions, until) = (answers.words(asked(2))?, answers.sentence(asked(3))?);
        let ends = until::checked(self.inspection, &until, self.hand.at.date());
        ends.map_err(|refusal| Stop::Wrong(refusal.to_string()))?;
        let before = vec![format!("until {until}: {}", until::understood(&until))];
        let index = answers.choose_after(before, CONCESSION[4], &owned(&Disposition::ALL.map(Disposition::word)))?;
        let allows = Disposition::ALL.get(index).copied().unwrap_or(Disposition::Replace).into();
        Ok(act(Act::Concession { part, about, who, document, conditions, until, allows }))
    }

    /// Characteristics and findings that lead to something: part, what a concession names, words.
    fn referred(&self) -> Vec<(String, String, String)> {
        let judged = self.standing.characteristics.iter().filter(|one| one.leads_to() > Consequence::Watch);
        let judged = judged.map(|one| {
            let words = format!("{}, {}", self.characteristic_in_words(one), one.leads_to().word());
            (one.characteristic.part().to_owned(), one.named(), words)
        });
        let found = self.inspection.standing_entries().filter_map(|entry: &Entry| {
            let Act::Finding(finding) = &entry.act else { return None };
            let words = format!("entry {}, {}, {}", entry.number, finding.kind, finding.grade);
            Some((finding.part.clone(), entry.number.to_string(), words))
        });
        judged.chain(found).collect()
    }
}
