//! What speaks against a part, and who has decided against the rules: a supervisor's overruling and a maker's
//! concession cover what stood in the record when they were made, and nothing that came after.

use std::collections::BTreeMap;

use super::super::apply;
use super::super::characteristic::Characteristic;
use super::super::checklist::Step;
use super::super::entry::Act;
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::inspection::Inspection;
use super::super::judge::Side;
use super::super::telling::name_of;
use super::super::unit::Unit;
use super::super::until::{self, End};
use super::super::verdict::{Consequence, Disposition, Hold};
use super::repaired::REWORK;
use super::ruling::{Concessions, Ruling, ruled};
use super::{CharacteristicStanding, Standing, claimed_words};

/// What speaks against a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Reason {
    pub(super) about: About,
    pub(super) leads_to: Consequence,
    /// From the figure to its level, negative when past it; none of a finding.
    pub(super) room: Option<Exact>,
    /// The same on each side that a place is past.
    pub(super) past: BTreeMap<Side, Exact>,
    /// The hours of the next opening, where a forecast to it speaks against the part.
    pub(super) ahead: Option<Exact>,
    pub(super) words: String,
}

/// What it comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum About {
    Found(Characteristic),
    Left(Characteristic),
    /// The finding's entry.
    Finding(u32),
    /// The entry of a finding that is a crack.
    Crack(u32),
    /// The entry that condemned the part.
    Condemned(u32),
    /// The entry that overruled the rules.
    Overruled(u32),
}

impl Reason {
    /// What no figure is behind.
    pub(super) fn plain(about: About, leads_to: Consequence, words: String) -> Self {
        Self { about, leads_to, room: None, past: BTreeMap::new(), ahead: None, words }
    }

    pub(super) fn of(inspection: &Inspection, one: &CharacteristicStanding, about: About, words: String) -> Self {
        let reached = one.judgement().map(|judgement| (judgement.reached.room.clone(), judgement.past.clone()));
        let (room, past) = reached.unwrap_or_default();
        let next = inspection.opening().next_hours.and_then(|hours| hours.to(Unit::Hour));
        let ahead = next.filter(|_| one.leads_to_ahead() > Consequence::Nothing);
        Self { leads_to: one.leads_to(), room, past, ahead, ..Self::plain(about, Consequence::Nothing, words) }
    }

    /// Whether it was known then, at least as bad: on the same side, as far past it, to an opening as late.
    fn is_known(&self, then: &[Self]) -> bool {
        then.iter().any(|known| {
            let nearer = self.room.as_ref().zip(known.room.as_ref()).is_some_and(|(now, then)| now < then);
            let further = self.past.iter().any(|(side, now)| known.past.get(side).is_none_or(|then| now < then));
            let later = self.ahead.as_ref().zip(known.ahead.as_ref()).is_some_and(|(now, then)| now > then);
            known.about == self.about && known.leads_to >= self.leads_to && !nearer && !further && !later
        })
    }
}

/// How a concession about something stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Conceded {
    No,
    /// There was one, and it counts no more: why.
    Over(String),
    /// What it allows, what stands behind its words while it is only claimed, and when it ends.
    To(Consequence, &'static str, End),
}

impl Conceded {
    pub(super) fn holds(&self) -> bool {
        matches!(self, Self::To(..))
    }
}

impl Ruling<'_> {
    /// Puts the last overruling in; its entry, when it counts.
    pub(super) fn overruled(&mut self) -> Option<u32> {
        let (number, to, words) = self.overruling()?;
        // of the piece that was in its place then nobody has said it of the next one
        let piece = self.inspection.replaced_at(&self.part.id).filter(|at| *at > number && to < Disposition::Replace);
        let later = self.outlived(number, to).or(piece);
        let words = later
            .map_or_else(|| words.clone(), |later| format!("{words}; overruled before entry {later}, counts no more"));
        let (about, leads_to) = (About::Overruled(number), Consequence::Call);
        self.reasons.insert(0, Reason::plain(about, leads_to, words));
        if later.is_some() {
            return None;
        }
        self.verdict.disposition = to;
        if to == Disposition::Replace && !self.is_renewed() {
            self.hold(Hold::NewPart);
        }
        if to < Disposition::Replace {
            self.verdict.holds.remove(&Hold::NewPart);
        }
        if to < Disposition::Rework {
            // a named supervisor lets it go as it is
            self.verdict.holds.remove(&Hold::Open(REWORK.to_owned()));
            for hold in std::mem::take(&mut self.outside) {
                self.verdict.holds.remove(&hold);
            }
        }
        Some(number)
    }

    /// The last overruling that counts: its entry, the disposition, in words.
    pub(super) fn overruling(&self) -> Option<(u32, Disposition, String)> {
        self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Overrule { part, to, supervisor, reason } = &entry.act else { return None };
            let (by, claimed) = (name_of(self.inspection, supervisor), claimed_words(self.inspection, entry));
            let words = || format!("overruled to {} by {by}{claimed}: {reason}", to.word());
            let mine = *part == self.part.id && !self.is_less_safe(entry.number, *to);
            mine.then(|| (entry.number, *to, words()))
        })
    }

    /// Overrulings toward the less safe side that may go toward the safer one alone.
    pub(super) fn not_overruled(&self) -> Vec<u32> {
        let mine = self.inspection.standing_entries().filter_map(|entry| {
            let Act::Overrule { part, to, .. } = &entry.act else { return None };
            (*part == self.part.id && self.is_less_safe(entry.number, *to)).then_some(entry.number)
        });
        mine.collect()
    }

    fn is_less_safe(&self, number: u32, to: Disposition) -> bool {
        to < self.verdict.disposition && self.inspection.passed().only_safer.contains_key(&number)
    }

    /// The later entry that makes the part worse than it was overruled to; none while everything graver was known.
    fn outlived(&self, number: u32, to: Disposition) -> Option<u32> {
        let graver = |reason: &&Reason| {
            let cracked = matches!(reason.about, About::Crack(_)) && self.verdict.disposition > to;
            reason.leads_to.at_least() > to || cracked
        };
        let graver: Vec<_> = self.reasons.iter().filter(graver).collect();
        if graver.is_empty() {
            return None;
        }
        let then = self.known_at(number, Concessions::Count, None);
        graver.into_iter().find(|reason| !reason.is_known(&then)).map(|reason| self.newest(reason).max(number))
    }

    /// What spoke against the part before this entry; with the hours of the next opening, as far ahead as that.
    fn known_at(&self, number: u32, concessions: Concessions, next: Option<Figure>) -> Vec<Reason> {
        let mut then = apply::before(self.inspection, number);
        if let Some(next) = next {
            apply::planned_at(&mut then, next);
        }
        let mine = Standing::characteristics_of(&then, &self.part.id);
        ruled((&then, self.part), &mine.iter().collect::<Vec<_>>(), concessions).ruling.reasons
    }

    /// The last entry that a reason rests on: a figure, a level, of a forecast the plan that it looks ahead to.
    fn newest(&self, reason: &Reason) -> u32 {
        match &reason.about {
            About::Finding(entry) | About::Crack(entry) | About::Condemned(entry) | About::Overruled(entry) => *entry,
            About::Found(one) | About::Left(one) => {
                let judges = |step: &Step| step.judges.iter().any(|judged| judged.characteristic == *one);
                let steps = self.inspection.head().checklist.steps.iter().filter(|step| judges(step));
                let ids: Vec<&str> = steps.map(|step| step.id.as_str()).collect();
                let rests_on = |act: &Act| {
                    let level = matches!(act, Act::Level { characteristic, .. } if characteristic == one);
                    let plan = act.plans_hours() && reason.ahead.is_some();
                    level || plan || act.step().is_some_and(|step| ids.contains(&step))
                };
                let mut entries = self.inspection.standing_entries().rev();
                entries.find(|entry| rests_on(&entry.act)).map_or(0, |entry| entry.number)
            }
        }
    }

    /// How a concession about this stands; `now` is what speaks against it now, where that can grow worse.
    pub(super) fn conceded(&self, about: &str, now: Option<&Reason>) -> Conceded {
        if self.concessions == Concessions::LeaveOut {
            return Conceded::No;
        }
        let last = self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Concession { part, about: of, allows, until, .. } = entry.deed() else { return None };
            (*part == self.part.id && of == about).then_some((entry, *allows, until))
        });
        let Some((entry, allows, until)) = last else { return Conceded::No };
        if let Some(over) = until::passed(self.inspection, until) {
            return Conceded::Over(format!("the concession was until {over}"));
        }
        if let Some(later) = self.inspection.replaced_at(&self.part.id).filter(|at| *at > entry.number) {
            return Conceded::Over(format!("the concession was before entry {later}"));
        }
        let end = End::of(until);
        // an end of its own covers each opening up to it; without one it is for the opening that was planned, or a sooner one
        let opening = self.inspection.opening();
        let next = opening.next_hours.filter(|_| end.covers(opening));
        let then = || self.known_at(entry.unseen(), Concessions::LeaveOut, next);
        let worse = now.filter(|now| !now.is_known(&then()));
        match worse.map(|now| self.newest(now).max(entry.number)) {
            Some(later) => Conceded::Over(format!("the concession was before entry {later}")),
            None => Conceded::To(allows, claimed_words(self.inspection, entry), end),
        }
    }
}
