//! The verdict on a part: the worst of its characteristics and findings, and the union of what holds it.

use std::collections::BTreeSet;

use super::super::checklist::Part;
use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::judge::Condition;
use super::super::unit::Unit;
use super::super::until::End;
use super::super::verdict::{Disposition, Hold, Verdict};
use super::overruled::Conceded;
use super::ruling::{Concessions, Ruled, ruled};
use super::work::Work;
use super::{CharacteristicStanding, Outcome, watch};

/// One part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartStanding {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its name in tables.
    pub short: String,
    /// How far its own steps are.
    pub work: Work,
    /// What its rebuild waits for: its holds as found, before anything was mended, or those of the new part.
    pub waits: BTreeSet<Hold>,
    /// What besides keeps it from going in: not replaced or mended as it should be, or not as a new one.
    pub fitting: BTreeSet<Hold>,
    /// Those among them that its next figure makes good: a rework to be measured, a new mate.
    pub to_come: BTreeSet<Hold>,
    /// Steps of other parts that what was found on it obliges, and that are not done.
    pub elsewhere: BTreeSet<Hold>,
    /// Steps of the rebuild that what was found on it obliges: its own steps there do not wait for them.
    pub rebuilding: BTreeSet<Hold>,
    /// As the rules have it.
    pub computed: Verdict,
    /// As it stands: overruled or conceded where somebody has.
    pub verdict: Verdict,
    /// What made it so, gravest first.
    pub reasons: Vec<String>,
    /// Whether a new one is in its place, within the new range as far as it is measured, and nothing was found since that
    /// would replace that one too.
    pub renewed: bool,
    /// Characteristics judged, and how many there are; of one that was replaced those of the new one.
    pub judged: (usize, usize),
    /// Of those not judged, or by figures that were insisted on, what a supervisor has accepted so.
    pub unjudged: usize,
    /// The unit of all that is judged of it, where all have one: of some parts nothing but their hours is.
    pub only: Option<Unit>,
    /// The entry that overruled the rules.
    pub overruled: Option<u32>,
    /// What says that a signed verdict counts here and not the one that today's rules have.
    pub signed: Option<String>,
    /// What would speak against it without approvals that are only claimed.
    pub claimed: Vec<String>,
    /// The entry that only claims that no new part is needed.
    pub claimed_not_needed: Option<u32>,
    /// The entry of a sooner opening that is only claimed, where the part stands as before it.
    pub before_plan: Option<u32>,
    /// Entries that would overrule them toward the less safe side, and may not.
    pub not_overruled: Vec<u32>,
    /// The nearest end of the concessions that it rests on.
    pub ends: End,
}

/// Whose word has made a part milder than the rules have it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Milder {
    /// A supervisor's who overruled them.
    Overruled,
    /// Whoever signed it, by the rules of that day.
    Signed,
    /// A concession's.
    Conceded,
}

impl Milder {
    /// Where one word has to do.
    fn word(self) -> &'static str {
        match self {
            Self::Overruled => "overruled",
            Self::Signed => "by signer",
            Self::Conceded => "conceded",
        }
    }

    /// Behind the disposition.
    fn behind(self) -> &'static str {
        match self {
            Self::Overruled => ", overruled",
            Self::Signed => " by who signed it",
            Self::Conceded => ", conceded",
        }
    }
}

impl PartStanding {
    /// Whether it is within: reuse, nothing holds it, something of it was judged, and nobody had to decide so against the
    /// rules. No level, no green.
    pub fn is_within(&self) -> bool {
        self.verdict == Verdict::default() && self.computed == self.verdict && self.judged.0 > 0 && self.unjudged == 0
    }

    /// Sign and words for people: what is within says how much of it was judged, and no part is called good on which
    /// nothing was.
    pub fn told(&self) -> (char, String) {
        let (sign, word) = self.in_short();
        match self.judged {
            _ if self.milder().is_some() => (sign, self.beside_the_rules()),
            _ if self.verdict != Verdict::default() || self.work != Work::Judged => (sign, word.to_owned()),
            (judged, of) if self.unjudged > 0 => {
                (sign, format!("{word}, {} of {of}; {judged} of {of} judged{}", self.unjudged, self.by_life()))
            }
            (0, _) if self.reasons.is_empty() => ('.', "looked at, nothing found; nothing is judged".to_owned()),
            (0, _) => ('.', "looked at; nothing is judged".to_owned()),
            (judged, of) => (sign, format!("within, {judged} of {of} judged{}", self.by_life())),
        }
    }

    /// Behind the word for a part of which nothing but its hours is judged: that says little of it.
    pub fn by_life(&self) -> &'static str {
        if self.only == Some(Unit::Hour) { " (life hours)" } else { "" }
    }

    /// Whether it has a disposition to overrule: a stretch of the job has none, unless something was found on it.
    pub fn can_be_overruled(&self) -> bool {
        matches!(self.work, Work::Judged | Work::NotJudged) || self.verdict.disposition > Disposition::Reuse
    }

    /// Whether overruling it to this is toward the safer side: of the rules, and of what somebody has decided since.
    pub fn is_safer(&self, to: Disposition) -> bool {
        to >= self.computed.disposition.max(self.verdict.disposition)
    }

    /// What has made it milder than the rules have it: its word stands under their sign, and is not called good.
    pub fn milder(&self) -> Option<Milder> {
        let (now, rules) = (&self.verdict, &self.computed);
        let green = *now == Verdict::default() && now != rules;
        let whose = match (self.overruled, &self.signed) {
            (Some(_), _) => Milder::Overruled,
            (None, Some(_)) => Milder::Signed,
            (None, None) => Milder::Conceded,
        };
        (green || now.disposition < rules.disposition).then_some(whose)
    }

    /// `reuse, overruled; replace by the rules`.
    pub fn beside_the_rules(&self) -> String {
        let by = self.milder().map_or("", Milder::behind);
        format!("{}{by}; {} by the rules", self.verdict.disposition.word(), self.by_the_rules())
    }

    /// The word for what the rules make of it: what is held open, or was never judged, is not called reuse.
    pub fn by_the_rules(&self) -> &'static str {
        let nothing = self.computed == Verdict::default();
        match (nothing, self.judged.0) {
            (false, _) => self.computed.in_short().1,
            (true, 0) if self.work == Work::Judged => "looked at",
            (true, _) => self.work.in_short().1,
        }
    }

    /// Sign and word: what is held open, or was never judged, is not called reuse.
    pub fn in_short(&self) -> (char, &'static str) {
        if let Some(whose) = self.milder() {
            return (self.computed.in_short().0, whose.word());
        }
        if self.verdict != Verdict::default() {
            return self.verdict.in_short();
        }
        // somebody answers for it, and nobody knows it
        if self.unjudged > 0 {
            return ('?', "accepted unjudged");
        }
        // no level, no green: it was looked at, and that is all
        if self.work == Work::Judged && self.judged.0 == 0 { ('.', "looked at") } else { self.work.in_short() }
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
    super::claimed::keep(inspection, &mut parts);
    parts
}

/// Where one part stands, before what the whole rotor asks of it.
pub(super) fn one(inspection: &Inspection, part: &Part, all: &[CharacteristicStanding]) -> PartStanding {
    let mine: Vec<_> = all.iter().filter(|one| one.characteristic.part() == part.id).collect();
    let Ruled { mut ruling, condemned, before_repair } = ruled((inspection, part), &mine, Concessions::Count);
    let conceded = inspection
        .standing_entries()
        .any(|entry| matches!(entry.deed(), Act::Concession { part: of, .. } if *of == part.id));
    // what the rules say stays beside what was conceded
    let mut computed = if conceded {
        ruled((inspection, part), &mine, Concessions::LeaveOut).ruling.verdict
    } else {
        ruling.verdict.clone()
    };
    let not_overruled = ruling.not_overruled();
    let overruled = ruling.overruled();
    let waits = before_repair.difference(&ruling.unawaited).cloned().collect();
    let mended = ruling.verdict.holds.difference(&before_repair);
    let fitting: BTreeSet<_> = mended.filter(|hold| !ruling.unawaited.contains(*hold)).cloned().collect();
    let to_come = fitting.intersection(&ruling.to_come).cloned().collect();
    let beside = ruling.counts_and_pictures();
    computed.holds.extend(beside.clone());
    ruling.verdict.holds.extend(beside);
    let renewed = ruling.is_renewed() && ruling.outside.is_empty();
    // what was found on a part that is gone judges nothing of the one in its place
    let replaced = inspection.is_replaced(&part.id);
    let counts = |one: &&&CharacteristicStanding| match one.condition {
        Condition::AsFound => !replaced,
        Condition::AsLeft => replaced && one.outcome != Outcome::Excused,
    };
    let judged = mine.iter().filter(counts);
    let mut units = judged.clone().map(|one| one.characteristic.unit());
    let only = units.next().filter(|first| units.all(|unit| unit == *first));
    let settled = |one: &&&CharacteristicStanding| condemned || one.is_judged();
    // what is only claimed lets nothing run
    let lets = |about: &str| matches!(ruling.conceded(about, None), Conceded::To(_, "", _));
    let watched = ruling.verdict.disposition == Disposition::Watch;
    let watch = watched.then(|| watch::told((inspection, part), &mine, (&ruling.ends, &lets)));
    let reasons = ruling.reasons.iter().map(|reason| reason.words.clone()).chain(watch).collect();
    // what goes out rests on nothing
    let goes_out = replaced || ruling.verdict.disposition == Disposition::Replace;
    PartStanding {
        id: part.id.clone(),
        name: part.name.clone(),
        short: part.short.clone(),
        renewed,
        judged: (judged.clone().filter(settled).count(), judged.clone().count()),
        unjudged: judged.filter(|one| one.is_accepted()).count(),
        only,
        work: Work::of(inspection, part),
        waits,
        fitting,
        to_come,
        elsewhere: ruling.elsewhere,
        rebuilding: ruling.rebuilding,
        computed,
        verdict: ruling.verdict,
        reasons,
        overruled,
        signed: None,
        claimed: Vec::new(),
        claimed_not_needed: None,
        before_plan: None,
        not_overruled,
        ends: if goes_out { End::default() } else { ruling.ends },
    }
}
