//! A verdict in the making: what the rules say of a part's figures, findings, steps and calls.

use std::collections::BTreeSet;

use super::super::beside;
use super::super::characteristic::Characteristic;
use super::super::checklist::Part;
use super::super::entry::{Act, Entry, FindingMade};
use super::super::gate;
use super::super::inspection::Inspection;
use super::super::judge::{Condition, Reach};
use super::super::left_out;
use super::super::outlook;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::soak;
use super::super::until::End;
use super::super::verdict::{Consequence, Hold, Verdict};
use super::left::{not_taken, wants_picture, waved_off};
use super::overruled::{About, Conceded, Reason};
use super::{CharacteristicStanding, Outcome, before_decision};

/// The verdict before anybody overrules it, and what it was before anything was mended.
pub(super) struct Ruled<'a> {
    pub(super) ruling: Ruling<'a>,
    pub(super) condemned: bool,
    pub(super) before_repair: BTreeSet<Hold>,
}

pub(super) fn ruled<'a>(
    (inspection, part): (&'a Inspection, &'a Part),
    mine: &[&CharacteristicStanding],
    concessions: Concessions,
) -> Ruled<'a> {
    let mut ruling = Ruling::new(inspection, part, concessions);
    for characteristic in mine.iter().filter(|one| one.condition == Condition::AsFound) {
        ruling.as_found(characteristic);
    }
    ruling.findings();
    ruling.steps();
    ruling.calls();
    let condemned = ruling.condemned();
    let before_repair = ruling.verdict.holds.clone();
    ruling.after_repair(mine);
    Ruled { ruling, condemned, before_repair }
}

/// Whether concessions are heeded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Concessions {
    Count,
    LeaveOut,
}

/// A verdict in the making, with what made it so.
pub(super) struct Ruling<'a> {
    pub(super) inspection: &'a Inspection,
    pub(super) part: &'a Part,
    pub(super) concessions: Concessions,
    pub(super) verdict: Verdict,
    /// Holds that neither rebuild nor start waits for: of a part that has been replaced since, of what comes later.
    pub(super) unawaited: BTreeSet<Hold>,
    /// Holds that an as-left figure outside the new range has made.
    pub(super) outside: BTreeSet<Hold>,
    /// Whose as-left figure a concession lets go outside the new range.
    pub(super) let_go: BTreeSet<Characteristic>,
    /// Holds that the next figure makes good: a rework to be measured, a new mate.
    pub(super) to_come: BTreeSet<Hold>,
    /// Steps of other parts that what was found obliges: scrapping this part does not do them.
    pub(super) elsewhere: BTreeSet<Hold>,
    /// Steps of the rebuild that what was found obliges: none of them waits for the others.
    pub(super) rebuilding: BTreeSet<Hold>,
    pub(super) reasons: Vec<Reason>,
    /// The nearest end of the concessions that it rests on.
    pub(super) ends: End,
}

impl<'a> Ruling<'a> {
    fn new(inspection: &'a Inspection, part: &'a Part, concessions: Concessions) -> Self {
        Self {
            inspection,
            part,
            concessions,
            verdict: Verdict::default(),
            unawaited: BTreeSet::new(),
            outside: BTreeSet::new(),
            let_go: BTreeSet::new(),
            to_come: BTreeSet::new(),
            elsewhere: BTreeSet::new(),
            rebuilding: BTreeSet::new(),
            reasons: Vec::new(),
            ends: End::default(),
        }
    }

    pub(super) fn hold(&mut self, hold: Hold) {
        self.unawaited.remove(&hold);
        self.verdict.holds.insert(hold);
    }

    /// A hold known by this entry; what was asked of a part that has been replaced since is not asked of the new one.
    fn hold_since(&mut self, entry: u32, hold: Hold) {
        if self.is_gone_since(entry) { self.hold_unawaited(hold) } else { self.hold(hold) }
    }

    /// Whether another part has taken its place since this entry.
    fn is_gone_since(&self, entry: u32) -> bool {
        self.inspection.replaced_at(&self.part.id).is_some_and(|replaced| replaced > entry)
    }

    /// Somebody is asked about the part; of one that lies in the scrap there is nothing to ask.
    fn refer_since(&mut self, entry: u32, what: &str) {
        if !self.is_gone_since(entry) {
            self.hold(Hold::Referred(what.to_owned()));
        }
    }

    pub(super) fn hold_unawaited(&mut self, hold: Hold) {
        if self.verdict.holds.insert(hold.clone()) {
            self.unawaited.insert(hold);
        }
    }

    /// A hold of the part as it was found.
    fn hold_as_found(&mut self, hold: Hold) {
        self.hold_since(0, hold);
    }

    pub(super) fn lead_to(&mut self, reason: Reason) {
        let known_since = match reason.about {
            About::Found(_) => Some(0),
            About::Finding(entry) | About::Crack(entry) => Some(entry),
            About::Left(_) | About::Condemned(_) | About::Overruled(_) => None,
        };
        // what lies in the scrap is neither watched nor asked about; what it was scrapped for stays
        let mild = matches!(reason.leads_to, Consequence::Watch | Consequence::Refer);
        let is_history = mild && known_since.is_some_and(|entry| self.is_gone_since(entry));
        if !is_history {
            self.verdict.disposition = self.verdict.disposition.max(reason.leads_to.at_least());
        }
        if reason.leads_to != Consequence::Nothing {
            self.reasons.push(reason);
            self.reasons.sort_by_key(|reason| std::cmp::Reverse(reason.leads_to));
        }
    }

    /// Puts what something leads to, a concession that holds put in.
    pub(super) fn lead_to_unless(&mut self, mut reason: Reason, conceded: Conceded) {
        if let Conceded::To(.., end) = &conceded
            && reason.leads_to != Consequence::Nothing
        {
            self.ends = self.ends.or(end);
        }
        match conceded {
            Conceded::Over(why) => reason.words.extend(["; ", &why]),
            Conceded::To(allows, claimed, _) if allows < reason.leads_to => {
                reason.leads_to = allows.max(Consequence::Watch);
                reason.words.extend(["; by concession", claimed]);
            }
            Conceded::No | Conceded::To(..) => {}
        }
        self.lead_to(reason);
    }

    fn as_found(&mut self, one: &CharacteristicStanding) {
        let name = one.characteristic.name();
        match &one.outcome {
            Outcome::NotTaken | Outcome::Incomplete(_) => {
                let why = not_taken(self.inspection, one);
                self.hold_as_found(Hold::Open(format!("{name}: {why}")));
            }
            Outcome::LeftOut(why) | Outcome::Open(why) => self.hold_as_found(Hold::Open(format!("{name}: {why}"))),
            Outcome::Excused | Outcome::Unjudged { .. } => {}
            Outcome::Judged(judgement) | Outcome::Past(judgement, _) => {
                if let Outcome::Past(_, Some(why)) = &one.outcome {
                    self.hold_as_found(Hold::Open(format!("{name}: {why}")));
                }
                if judgement.is_provisional() {
                    let why = format!("{name}: provisional, a doubted figure was insisted on");
                    self.hold_as_found(Hold::Open(why));
                }
                if let Some(both) = judgement.disputed() {
                    self.hold_as_found(Hold::Open(format!("{name}: two ways disagree past a level: {both}")));
                }
                if let Some(why) = outlook::out_of_hours(self.inspection, one.characteristic) {
                    self.hold_as_found(Hold::Open(format!("no forecast: {why}")));
                }
                if judgement.reached.reach == Reach::Undecided {
                    let why = format!("{name}: {}", judgement.reached.why_undecided());
                    self.hold_as_found(Hold::Open(why));
                }
            }
        }
        let why = format!("{name}: {}", super::super::telling::of_characteristic(one));
        let reason = Reason::of(self.inspection, one, About::Found(one.characteristic), why);
        let consequence = reason.leads_to;
        let conceded = self.conceded(&one.named(), Some(&reason));
        match consequence {
            Consequence::Refer if !conceded.holds() => self.refer_since(0, name),
            Consequence::Call if !conceded.holds() => self.hold_as_found(Hold::StopAndCall(name.to_owned())),
            Consequence::Nothing
            | Consequence::Watch
            | Consequence::Refer
            | Consequence::Rework
            | Consequence::Replace
            | Consequence::Call => {}
        }
        self.lead_to_unless(reason, conceded);
        self.obliged(name, one.obliges(self.inspection));
        if consequence == Consequence::Watch && !self.is_gone_since(0) && self.inspection.opening().next_hours.is_none()
        {
            self.hold_unawaited(Hold::Open(format!("{name}: watch, until when is not planned")));
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
        let (number, inspection) = (entry.number, self.inspection);
        let Some(kind) = self.part.finding(&finding.kind) else {
            self.hold(Hold::Open(format!("{}: not among this part's findings", finding.kind)));
            return;
        };
        let consequences = kind.consequences(&finding.grade);
        let why = super::super::telling::of_finding(finding);
        let conceded = self.conceded(&number.to_string(), None);
        let answered = conceded.holds() || self.inspection.is_answered(number);
        for consequence in &consequences {
            match consequence {
                // what was referred is answered by a concession alone: who, document, conditions, until when
                Consequence::Refer if !conceded.holds() => self.refer_since(number, &why),
                Consequence::Call if !answered => self.hold(Hold::StopAndCall(why.clone())),
                Consequence::Rework if !answered => {
                    self.hold_since(number, Hold::Open(super::super::telling::rework_to_do(finding)));
                }
                Consequence::Nothing
                | Consequence::Watch
                | Consequence::Rework
                | Consequence::Replace
                | Consequence::Refer
                | Consequence::Call => {}
            }
        }
        let about = if kind.crack { About::Crack(number) } else { About::Finding(number) };
        // holds stand beside it: one reason, by what disposes of the part
        let leads_to = kind.consequence(&finding.grade);
        self.lead_to_unless(Reason::plain(about, leads_to, why), conceded);
        self.obliged(&kind.kind, inspection.obliged_by_finding(finding));
    }

    /// Steps that a finding or a figure past its limit obliges hold the part on which it was made until they are done;
    /// leaving one out with a reason does not do it, nor does a fitter's word that it does not apply.
    fn obliged(&mut self, by: &str, steps: &[String]) {
        for id in steps {
            let Some(step) = progress::steps(self.inspection).find(|step| step.id == *id) else { continue };
            let left = match progress::state(self.inspection, step) {
                StepState::Done => continue,
                StepState::NotApplicable => match waved_off(self.inspection, step) {
                    Some(who) => format!(", waved off by {who}"),
                    None => continue,
                },
                StepState::Skipped => ", skipped".to_owned(),
                StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. } | StepState::NotAsked => {
                    String::new()
                }
            };
            let name = gate::step_name(self.inspection, step);
            let hold = Hold::Open(format!("{by} obliges: {name}{left}"));
            if step.part != self.part.id {
                self.elsewhere.insert(hold.clone());
            }
            if step.phase == Phase::Rebuild {
                self.rebuilding.insert(hold.clone());
            }
            self.hold(hold);
        }
    }

    /// Steps of the part that wait, and looks that were left out: reuse is said only of what was looked at in full.
    fn steps(&mut self) {
        let inspection = self.inspection;
        for step in progress::steps(inspection).filter(|step| step.part == self.part.id && before_decision(step.phase))
        {
            let state = progress::state(inspection, step);
            let judged = !step.judges.is_empty();
            if let Some(strayed) = soak::strayed(inspection, step) {
                self.hold_as_found(Hold::Open(format!("{}: {strayed}", step.title)));
            } else if !state.is_settled() && !judged && step.phase != Phase::Open {
                self.hold_as_found(Hold::Open(format!("not done: {}", step.title)));
            }
            for words in left_out::holds(inspection, step) {
                self.hold_as_found(Hold::Open(words));
            }
        }
    }

    /// Counts unlike the first, pictures wanted, a new part without a number, what the rebuild has left out: none of it
    /// keeps the rebuild waiting.
    pub(super) fn counts_and_pictures(&self) -> BTreeSet<Hold> {
        let inspection = self.inspection;
        let mut holds = BTreeSet::new();
        let fitted = inspection.fitted(&self.part.id);
        if inspection.is_replaced(&self.part.id) && fitted.is_some_and(|fitted| !fitted.is_numbered()) {
            holds.insert(Hold::Open("new part not identified: no serial or batch number".to_owned()));
        }
        for step in progress::steps(inspection).filter(|step| step.part == self.part.id) {
            if !before_decision(step.phase) {
                holds.extend(left_out::holds(inspection, step).map(Hold::Open));
            }
            let unlike = beside::unlike(inspection, step);
            holds.extend(unlike.into_iter().map(|words| Hold::Open(format!("{}: {words}", step.title))));
            if wants_picture(inspection, step) {
                holds.insert(Hold::Open(format!("no picture: {}", step.title)));
            }
        }
        holds
    }

    fn calls(&mut self) {
        if let Some((_, question)) = gate::open_call(self.inspection, &self.part.id) {
            self.hold(Hold::StopAndCall(question.to_owned()));
        }
    }

    /// "Condemned, not measured" empties what was open and replaces the part; let back by a supervisor, it is open again.
    fn condemned(&mut self) -> bool {
        // the last one: whoever condemns it again has not heard that it was let back
        let condemned = self.inspection.standing_entries().rev().find_map(|entry| {
            let Act::Condemned { part, reason } = &entry.act else { return None };
            (*part == self.part.id).then(|| (entry.number, format!("condemned: {reason}")))
        });
        let Some((number, words)) = condemned else { return false };
        let unmeasured = progress::goes_unmeasured(self.inspection, &self.part.id);
        if unmeasured {
            self.verdict.holds.retain(|hold| !matches!(hold, Hold::Open(_)) || self.elsewhere.contains(hold));
        }
        let leads_to = Consequence::Replace;
        self.lead_to(Reason::plain(About::Condemned(number), leads_to, words));
        unmeasured
    }
}
