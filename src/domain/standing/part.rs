//! The verdict on a part: the worst of its characteristics and findings, and the union of what holds it.

use super::super::beside;
use super::super::checklist::{Part, Step, StepAsk, Takes};
use super::super::entry::{Act, Entry, FindingMade};
use super::super::gate;
use super::super::inspection::{Doubted, Inspection};
use super::super::judge::{Condition, Reach};
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::soak;
use super::super::verdict::{Consequence, Disposition, Hold, Verdict};
use super::{CharacteristicStanding, Outcome, before_decision};

/// One part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartStanding {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its name in tables.
    pub short: String,
    /// As found, before anything was mended: what its own rebuild waits for.
    pub found: Verdict,
    /// As the rules have it.
    pub computed: Verdict,
    /// As it stands: overruled or conceded where somebody has.
    pub verdict: Verdict,
    /// What made it so, gravest first.
    pub reasons: Vec<String>,
    /// Characteristics judged, and how many there are.
    pub judged: (usize, usize),
    /// The entry that overruled the rules.
    pub overruled: Option<u32>,
}

impl PartStanding {
    /// Whether it is within: reuse, nothing holds it, and something of it was judged. No level, no green.
    pub fn is_within(&self) -> bool {
        self.verdict == Verdict::default() && self.judged.0 > 0
    }
}

/// A hold in words: `new part to check`, `open: no level on the limits sheet`.
pub fn hold_words(hold: &Hold) -> String {
    match hold {
        Hold::StopAndCall(what) | Hold::Referred(what) | Hold::Open(what) => format!("{}: {what}", hold.word()),
        Hold::NewPart | Hold::Balance => hold.word().to_owned(),
    }
}

pub(super) fn parts(inspection: &Inspection, all: &[CharacteristicStanding]) -> Vec<PartStanding> {
    let mut parts: Vec<_> = inspection.head().checklist.parts.iter().map(|part| one(inspection, part, all)).collect();
    super::balance::hold_for_balance(inspection, all, &mut parts);
    parts
}

/// Where one part stands, before what the whole rotor asks of it.
pub(super) fn one(inspection: &Inspection, part: &Part, all: &[CharacteristicStanding]) -> PartStanding {
    let mine: Vec<_> = all.iter().filter(|one| one.characteristic.part() == part.id).collect();
    let (mut ruling, condemned, found) = ruled((inspection, part), &mine, Concessions::Count);
    let conceded = inspection
        .standing_entries()
        .any(|entry| matches!(entry.deed(), Act::Concession { part: of, .. } if *of == part.id));
    // what the rules say stays beside what was conceded
    let computed = if conceded {
        ruled((inspection, part), &mine, Concessions::LeaveOut).0.verdict
    } else {
        ruling.verdict.clone()
    };
    let overruled = ruling.overruled();
    let judged = mine.iter().filter(|one| one.condition == Condition::AsFound);
    let settled = |one: &&&CharacteristicStanding| condemned || matches!(one.outcome, Outcome::Judged(_));
    PartStanding {
        id: part.id.clone(),
        name: part.name.clone(),
        short: part.short.clone(),
        judged: (judged.clone().filter(settled).count(), judged.count()),
        found,
        computed,
        verdict: ruling.verdict,
        reasons: ruling.reasons.into_iter().map(|(_, words)| words).collect(),
        overruled,
    }
}

/// The verdict before anybody overrules it; whether the part was condemned; the verdict as found.
fn ruled<'a>(
    (inspection, part): (&'a Inspection, &'a Part),
    mine: &[&CharacteristicStanding],
    concessions: Concessions,
) -> (Ruling<'a>, bool, Verdict) {
    let mut ruling = Ruling { inspection, part, concessions, verdict: Verdict::default(), reasons: Vec::new() };
    for characteristic in mine.iter().filter(|one| one.condition == Condition::AsFound) {
        ruling.as_found(characteristic);
    }
    ruling.findings();
    ruling.steps();
    ruling.calls();
    let condemned = ruling.condemned();
    let found = ruling.verdict.clone();
    ruling.after_repair(mine);
    ruling.counts_and_pictures();
    (ruling, condemned, found)
}

/// Whether concessions are heeded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Concessions {
    Count,
    LeaveOut,
}

/// A verdict in the making, with what made it so.
struct Ruling<'a> {
    inspection: &'a Inspection,
    part: &'a Part,
    concessions: Concessions,
    verdict: Verdict,
    reasons: Vec<(Consequence, String)>,
}

impl Ruling<'_> {
    fn hold(&mut self, hold: Hold) {
        self.verdict.holds.insert(hold);
    }

    fn lead_to(&mut self, consequence: Consequence, why: String) {
        self.verdict.disposition = self.verdict.disposition.max(consequence.at_least());
        if consequence != Consequence::Nothing {
            self.reasons.push((consequence, why));
            self.reasons.sort_by_key(|(consequence, _)| std::cmp::Reverse(*consequence));
        }
    }

    fn as_found(&mut self, one: &CharacteristicStanding) {
        let name = one.characteristic.name();
        match &one.outcome {
            Outcome::NotTaken | Outcome::Incomplete(_) => self.hold(Hold::Open(format!("{name}: not taken"))),
            Outcome::LeftOut(why) | Outcome::Open(why) => self.hold(Hold::Open(format!("{name}: {why}"))),
            Outcome::Excused | Outcome::Unjudged { .. } => {}
            Outcome::Judged(judgement) => {
                if judgement.provisional == Doubted::Yes {
                    self.hold(Hold::Open(format!("{name}: provisional, a doubted figure was insisted on")));
                }
                if judgement.reached.reach == Reach::Undecided {
                    self.hold(Hold::Open(format!("{name}: undecided, too close to the limit for this gauge")));
                }
            }
        }
        let why = format!("{name}: {}", super::super::telling::of_characteristic(one));
        let consequence = one.leads_to();
        if consequence == Consequence::Refer && self.conceded(one.characteristic.id()).is_none() {
            self.hold(Hold::Referred(name.to_owned()));
        }
        match self.conceded(one.characteristic.id()) {
            Some(allows) if allows < consequence => {
                self.lead_to(allows.max(Consequence::Watch), format!("{why}; by concession"));
            }
            Some(_) | None => self.lead_to(consequence, why),
        }
        self.obliged(name, one.obliges(self.inspection));
        if consequence == Consequence::Watch && self.inspection.opening().next_hours.is_none() {
            self.hold(Hold::Open(format!("{name}: watch, until when is not planned")));
        }
    }

    fn findings(&mut self) {
        let inspection = self.inspection;
        for entry in inspection.standing_entries() {
            let Act::Finding(finding) = &entry.act else { continue };
            if finding.part == self.part.id {
                self.finding(entry, finding);
            }
        }
    }

    fn finding(&mut self, entry: &Entry, finding: &FindingMade) {
        let Some(kind) = self.part.finding(&finding.kind) else {
            self.hold(Hold::Open(format!("{}: not among this part's findings", finding.kind)));
            return;
        };
        let grade = kind.grades.iter().find(|grade| grade.grade == finding.grade);
        let consequence = grade.map_or(Consequence::Refer, |grade| grade.leads_to);
        let why = super::super::telling::of_finding(finding);
        let conceded = self.conceded(&entry.number.to_string());
        let answered = conceded.is_some() || self.answered(entry.number);
        match consequence {
            Consequence::Refer if !answered => self.hold(Hold::Referred(why.clone())),
            Consequence::Call if !answered => self.hold(Hold::StopAndCall(why.clone())),
            Consequence::Rework if !answered => {
                self.hold(Hold::Open(format!("{}: rework to do, then say what was done", finding.kind)));
            }
            Consequence::Nothing
            | Consequence::Watch
            | Consequence::Rework
            | Consequence::Replace
            | Consequence::Refer
            | Consequence::Call => {}
        }
        match conceded {
            Some(allows) if allows < consequence => {
                self.lead_to(allows.max(Consequence::Watch), format!("{why}; by concession"));
            }
            Some(_) | None => self.lead_to(consequence, why),
        }
        if consequence != Consequence::Nothing {
            self.obliged(&kind.kind, &kind.obliges);
        }
    }

    /// Steps that a finding or a figure past its limit obliges hold the part on which it was made until they are done;
    /// leaving one out with a reason does not do it.
    fn obliged(&mut self, by: &str, steps: &[String]) {
        for id in steps {
            let Some(step) = progress::steps(self.inspection).find(|step| step.id == *id) else { continue };
            let skipped = match progress::state(self.inspection, step) {
                StepState::Done | StepState::NotApplicable => continue,
                StepState::Skipped => ", skipped",
                StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. } | StepState::NotAsked => "",
            };
            let name = gate::step_name(self.inspection, step);
            self.hold(Hold::Open(format!("{by} obliges: {name}{skipped}")));
        }
    }

    /// Steps of the part that wait, and looks that were left out: reuse is said only of what was looked at in full.
    fn steps(&mut self) {
        let inspection = self.inspection;
        for step in progress::steps(inspection).filter(|step| step.part == self.part.id && before_decision(step.phase))
        {
            let state = progress::state(inspection, step);
            let judged = !step.judges.is_empty();
            if !state.is_settled() && !judged && step.phase != Phase::Open {
                self.hold(Hold::Open(format!("not done: {}", step.title)));
            }
            if state == StepState::Skipped && step.takes == Takes::Look {
                self.hold(Hold::Open(format!("not looked at: {}", step.title)));
            }
            if let Some(strayed) = soak::strayed(inspection, step) {
                self.hold(Hold::Open(format!("{}: {strayed}", step.title)));
            }
        }
    }

    /// Counts that are not as they were first, and pictures that are wanted; neither keeps the rebuild from going on.
    fn counts_and_pictures(&mut self) {
        let inspection = self.inspection;
        for step in progress::steps(inspection).filter(|step| step.part == self.part.id) {
            for words in beside::unequal(inspection, step) {
                self.hold(Hold::Open(format!("{}: {words}", step.title)));
            }
            let wanted = step.asks.contains(&StepAsk::Picture);
            if wanted && progress::state(inspection, step) == StepState::Done && !has_picture(inspection, step) {
                self.hold(Hold::Open(format!("no picture: {}", step.title)));
            }
        }
    }

    fn calls(&mut self) {
        if let Some(question) = gate::open_call(self.inspection, &self.part.id) {
            self.hold(Hold::StopAndCall(question));
        }
    }

    /// "Condemned, not measured" empties what was open and replaces the part.
    fn condemned(&mut self) -> bool {
        let reason = self.inspection.standing_entries().find_map(|entry| {
            let Act::Condemned { part, reason } = &entry.act else { return None };
            (*part == self.part.id).then(|| reason.clone())
        });
        let Some(reason) = reason else { return false };
        self.verdict.holds.retain(|hold| !matches!(hold, Hold::Open(_)));
        self.lead_to(Consequence::Replace, format!("condemned: {reason}"));
        true
    }

    /// What is to be replaced or reworked holds the part until the new or mended one is measured and within the new range.
    fn after_repair(&mut self, mine: &[&CharacteristicStanding]) {
        let as_left: Vec<_> = mine.iter().filter(|one| one.condition == Condition::AsLeft).collect();
        for one in &as_left {
            let name = one.characteristic.name();
            match &one.outcome {
                Outcome::Judged(judgement) if judgement.reached.reach > Reach::Within => {
                    self.lead_to(Consequence::Rework, format!("{name} as left: outside the new range"));
                    self.hold(Hold::Open(format!("{name} as left: outside the new range")));
                }
                Outcome::Open(why) => self.hold(Hold::Open(format!("{name} as left: {why}"))),
                Outcome::Judged(_)
                | Outcome::NotTaken
                | Outcome::Incomplete(_)
                | Outcome::LeftOut(_)
                | Outcome::Excused
                | Outcome::Unjudged { .. } => {}
            }
        }
        let sound = |one: &&CharacteristicStanding| matches!(&one.outcome, Outcome::Judged(judgement) if judgement.reached.reach == Reach::Within);
        let asked = || as_left.iter().filter(|one| one.outcome != Outcome::Excused);
        let checked = asked().count() > 0 && asked().all(|one| sound(one));
        match self.verdict.disposition {
            Disposition::Replace => {
                let fitted = self.inspection.is_replaced(&self.part.id);
                let new_checks = self.new_checks_done();
                if !(fitted && (checked || as_left.is_empty()) && new_checks) {
                    self.hold(Hold::NewPart);
                }
            }
            Disposition::Rework if self.must_be_measured_again(mine) && !checked => {
                self.hold(Hold::Open("rework to do, then measured again".to_owned()));
            }
            Disposition::Rework | Disposition::Watch | Disposition::Reuse => {}
        }
    }

    /// Whether a measured figure, or somebody's word, asks for the rework; a finding's own is settled by its answer.
    fn must_be_measured_again(&self, mine: &[&CharacteristicStanding]) -> bool {
        let measured = mine.iter().any(|one| one.leads_to() >= Consequence::Rework);
        measured || !mine.is_empty() && self.overruling().is_some()
    }

    fn new_checks_done(&self) -> bool {
        let mut steps =
            progress::steps(self.inspection).filter(|step| step.part == self.part.id && step.phase == Phase::New);
        steps.all(|step| progress::state(self.inspection, step).is_settled())
    }

    fn overruled(&mut self) -> Option<u32> {
        let part = &self.part.id;
        let (number, to, why) = self.overruling()?;
        self.verdict.disposition = to;
        if to == Disposition::Replace && !self.inspection.is_replaced(part) {
            self.hold(Hold::NewPart);
        }
        if to < Disposition::Replace {
            self.verdict.holds.remove(&Hold::NewPart);
        }
        self.reasons.insert(0, (Consequence::Call, why));
        Some(number)
    }

    /// The last overruling: its entry, the disposition, in words.
    fn overruling(&self) -> Option<(u32, Disposition, String)> {
        self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Overrule { part, to, supervisor, reason } = &entry.act else { return None };
            let words = || format!("overruled to {} by {supervisor}: {reason}", to.word());
            (*part == self.part.id).then(|| (entry.number, *to, words()))
        })
    }

    /// What a concession about this allows.
    fn conceded(&self, about: &str) -> Option<Consequence> {
        if self.concessions == Concessions::LeaveOut {
            return None;
        }
        self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Concession { part, about: of, allows, .. } = entry.deed() else { return None };
            (*part == self.part.id && of == about).then_some(*allows)
        })
    }

    fn answered(&self, finding: u32) -> bool {
        self.inspection
            .standing_entries()
            .any(|entry| matches!(entry.deed(), Act::Answer { entry: of, .. } if *of == finding))
    }
}

/// Whether a picture stands at the step, or a note instead of one.
fn has_picture(inspection: &Inspection, step: &Step) -> bool {
    inspection.standing_entries_of(&step.id).any(|entry| {
        let pictured = matches!(&entry.act, Act::Finding(finding) if !finding.photos.is_empty());
        pictured || matches!(entry.act, Act::Photo { .. } | Act::Note { .. })
    })
}
