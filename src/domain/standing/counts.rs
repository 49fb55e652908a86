//! What a supervisor looks at first: how sure it all is, what is missing or unusual.

use chrono::NaiveDate;

use super::super::decide;
use super::super::entitled::decides;
use super::super::entry::{Act, Entry};
use super::super::gate;
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::instrument::Instrument;
use super::super::judge::{Condition, Reach};
use super::super::left_out;
use super::super::person::Role;
use super::super::progress;
use super::super::signing;
use super::{CharacteristicStanding, Judgement, Outcome};

/// Numbers of the first page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Characteristics judged; of those too close to call none is.
    pub judged: usize,
    /// Characteristics there are.
    pub characteristics: usize,
    /// Steps and places skipped.
    pub skipped: usize,
    /// Entries struck.
    pub struck: usize,
    /// Places with a struck reading and a later one.
    pub retaken: usize,
    /// Readings, levels and hours on which somebody insisted.
    pub insisted: usize,
    /// Verdicts that rest on one of them.
    pub provisional: usize,
    /// Verdicts too close to call.
    pub undecided: usize,
    /// Approvals typed on a supervisor's behalf and not signed by that person; concessions that no supervisor signed for.
    pub claimed: usize,
    /// Characteristics accepted without a judgement.
    pub unjudged: usize,
    /// Parts condemned unmeasured.
    pub condemned: usize,
    /// Dispositions overruled.
    pub overruled: usize,
    /// Gauges used past their date.
    pub past_date: usize,
    /// Entries late from paper.
    pub late: usize,
}

impl Counts {
    pub(super) fn of(inspection: &Inspection, all: &[CharacteristicStanding]) -> Self {
        let acts = || inspection.standing_entries().map(|entry| &entry.act);
        let count = |fits: &dyn Fn(&Act) -> bool| acts().filter(|act| fits(act)).count();
        let judged = |fits: &dyn Fn(&Judgement) -> bool| {
            all.iter().filter(|one| matches!(&one.outcome, Outcome::Judged(judgement) if fits(judgement))).count()
        };
        Self {
            judged: all.iter().filter(|one| one.is_judged()).count(),
            characteristics: all.iter().filter(|one| is_wanted(one)).count(),
            skipped: count(&|act| matches!(act, Act::Skip { .. })),
            struck: inspection.struck_count(),
            retaken: retaken(inspection),
            insisted: count(&|act| !act.doubts().is_empty()) + usize::from(!inspection.head().opened.doubts.is_empty()),
            provisional: judged(&Judgement::is_provisional)
                + progress::steps(inspection).filter(|step| left_out::provisional(inspection, step)).count(),
            undecided: judged(&|judgement| judgement.reached.reach == Reach::Undecided),
            claimed: claimed_things(inspection).len(),
            unjudged: count(&|act| matches!(act, Act::Unjudged { .. }))
                + all.iter().filter(|one| one.is_marked_away(inspection)).count(),
            condemned: count(&|act| matches!(act, Act::Condemned { .. })),
            overruled: count(&|act| matches!(act, Act::Overrule { .. })),
            past_date: used_past_date(inspection).len(),
            late: inspection.standing_entries().filter(|entry| entry.late.is_some()).count(),
        }
    }
}

/// What is to be judged: as found everything that is not excused, as left what somebody has begun to take.
fn is_wanted(one: &CharacteristicStanding) -> bool {
    let untouched = one.condition == Condition::AsLeft && one.outcome == Outcome::NotTaken;
    one.outcome != Outcome::Excused && !untouched
}

fn retaken(inspection: &Inspection) -> usize {
    let struck = inspection.entries().iter().filter(|entry| inspection.struck_by(entry.number).is_some());
    let places: std::collections::BTreeSet<_> = struck
        .filter_map(|entry| {
            let Act::Reading { step, place, .. } = &entry.act else { return None };
            Some((step, place))
        })
        .collect();
    places.into_iter().filter(|(step, place)| inspection.reading(step, place).is_some()).count()
}

/// Approvals in a supervisor's name by somebody else's hand, until that supervisor signs or countersigns; levels looser than
/// those they replace, which a hand at the bench called a supervisor's, alike; concessions, and answers to calls, entered by
/// anybody else, until a supervisor does.
pub fn claims(inspection: &Inspection) -> Vec<&Entry> {
    let unstruck = inspection.entries().iter().filter(|entry| inspection.struck_by(entry.number).is_none());
    unstruck.filter(|entry| is_claimed(inspection, entry) && !is_replaced(inspection, entry)).collect()
}

/// Whether a later decision on the same thing, which is no claim, counts in its place: nothing hangs on the claim any more.
/// What counts toward the safer side alone takes nobody's place, and where more than the last word counts none does.
fn is_replaced(inspection: &Inspection, claim: &Entry) -> bool {
    let last_counts = matches!(claim.deed(), Act::Concession { .. } | Act::Overrule { .. } | Act::Answer { .. });
    let replaces = |later: &Entry| {
        later.number > claim.number
            && thing(later.deed()) == thing(claim.deed())
            && !inspection.passed().only_safer.contains_key(&later.number)
            && !is_claimed(inspection, later)
    };
    last_counts && inspection.standing_entries().any(replaces)
}

/// What stands behind the hours of the next opening, and behind its day, where a plan says them that nobody has signed for.
pub fn plan_claimed(inspection: &Inspection) -> [&'static str; 2] {
    let claimed = |sets: &dyn Fn(&Act) -> bool| {
        let last = inspection.standing_entries().rev().find(|entry| sets(&entry.act));
        let plan = last.filter(|entry| matches!(entry.act, Act::Plan { .. }) && is_claimed(inspection, entry));
        plan.map_or("", |_| ", only claimed")
    };
    let day = |act: &Act| {
        matches!(act, Act::Plan { date: Some(_), .. })
            || matches!(act, Act::Opening(opening) if opening.next_date.is_some())
    };
    [claimed(&Act::plans_hours), claimed(&day)]
}

/// Signatures behind a claim: whoever is claimed to have decided signs for it by countersigning one of them, whoever else has.
pub fn behind_claims(inspection: &Inspection) -> Vec<&Entry> {
    let Some(first) = claims(inspection).into_iter().map(|claim| claim.number).min() else { return Vec::new() };
    signing::standing_signatures(inspection).filter(|sign| sign.number > first).collect()
}

/// The last claim on each thing: what was claimed of it before is said by none.
pub fn claimed_things(inspection: &Inspection) -> Vec<&Entry> {
    let mut last: Vec<&Entry> = Vec::new();
    for claim in claims(inspection) {
        last.retain(|before| thing(before.deed()) != thing(claim.deed()));
        last.push(claim);
    }
    last
}

/// What a claim is about, its kind before it.
fn thing(act: &Act) -> (&'static str, String) {
    let mut about = act.part().or(act.step()).unwrap_or_default().to_owned();
    if let Act::Unjudged { characteristic, as_left, .. } = act {
        about = format!("{} {as_left}", characteristic.id());
    }
    if let Act::Level { characteristic, .. } = act {
        characteristic.id().clone_into(&mut about);
    }
    if let Act::Given { given, .. } = act {
        given.name().clone_into(&mut about);
    }
    if let Act::Concession { about: of, .. } | Act::NotApplicable { point: Some(of), .. } = act {
        about.extend([" ", of]);
    }
    if let Act::Answer { entry, .. } = act {
        about = entry.to_string();
    }
    (act.kind(), about)
}

/// What stands behind the words of an approval that is only claimed; nothing behind any other.
pub fn claimed_words(inspection: &Inspection, entry: &Entry) -> &'static str {
    if is_claimed(inspection, entry) { " (claimed, not signed)" } else { "" }
}

/// Whether it answers what somebody was called for.
fn answers_a_call(inspection: &Inspection, entry: &Entry) -> bool {
    let Act::Answer { entry: about, .. } = entry.deed() else { return false };
    inspection.entry(*about).is_some_and(|asked| gate::calls(inspection, asked))
}

/// The only person whose signature makes a claim good; none where any supervisor's does.
pub(in crate::domain) fn whose<'a>(inspection: &Inspection, claim: &'a Entry) -> Option<&'a Id> {
    match wanted(inspection, claim) {
        Wants::Of(of) if decides(inspection, of) => Some(of),
        Wants::Of(_) | Wants::Any | Wants::Nobody => None,
    }
}

fn is_claimed(inspection: &Inspection, entry: &Entry) -> bool {
    wanted(inspection, entry) != Wants::Nobody && signed_for(inspection, entry).is_none()
}

/// The signature or countersignature by which somebody stands for what another hand has entered on that person's behalf;
/// none where nothing is claimed, or nobody has signed for it.
pub(in crate::domain) fn signed_for<'a>(inspection: &'a Inspection, entry: &Entry) -> Option<&'a Entry> {
    let mut later = inspection.counted_entries().filter(|later| covers(later, entry.number));
    later.find(|later| makes_good(inspection, entry, later.doer()))
}

/// Whether a signature of this hand makes a claim good.
fn makes_good(inspection: &Inspection, claim: &Entry, by: &Id) -> bool {
    let wanted = match wanted(inspection, claim) {
        Wants::Nobody => false,
        Wants::Any => true,
        // that person, or any who may where that person may not
        Wants::Of(of) => by.same_as(of) || !decides(inspection, of),
    };
    wanted && decides(inspection, by)
}

/// What this hand approves besides by countersigning a signature: the claims before it that become more than claimed.
pub fn approved_with<'a>(inspection: &'a Inspection, sign: u32, by: &Id) -> Vec<&'a Entry> {
    let claims = claimed_things(inspection).into_iter();
    claims.filter(|claim| claim.number < sign && makes_good(inspection, claim, by)).collect()
}

/// A countersignature covers what stood when that was signed, and nothing since.
pub(in crate::domain) fn covers(later: &Entry, number: u32) -> bool {
    let of = if let Act::Countersign { sign, .. } = later.deed() { *sign } else { later.number };
    matches!(later.deed(), Act::Sign(_) | Act::Countersign { .. }) && of > number
}

/// Whose signature an entry wants so that it is more than claimed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wants<'a> {
    /// Nobody's: it claims nothing.
    Nobody,
    /// Any supervisor's.
    Any,
    /// That person's.
    Of(&'a Id),
}

fn wanted<'a>(inspection: &Inspection, entry: &'a Entry) -> Wants<'a> {
    let of = |is_wanted: bool, whose: &'a Id| if is_wanted { Wants::Of(whose) } else { Wants::Nobody };
    let supervises = |id: &Id| inspection.person(id).is_some_and(|person| person.is(Role::Supervisor));
    // anybody can enter a supervisor here; who is one was known before the job began, where anybody was
    let was_known = |id: &Id| decides(inspection, id);
    if answers_a_call(inspection, entry) || matches!(entry.deed(), Act::Concession { .. }) {
        let own = supervises(entry.doer()) && was_known(entry.doer());
        return if own { Wants::Nobody } else { Wants::Any };
    }
    let typed = (entry.number, entry.doer());
    if let Act::Level { characteristic, levels, .. } = entry.deed() {
        let looser = decide::looser(inspection, (*characteristic, levels), typed).is_some();
        return of(looser, entry.doer());
    }
    if let Act::Given { given, figure } = entry.deed() {
        return of(decide::is_other(inspection, (*given, figure), typed), entry.doer());
    }
    if decide::is_waived(inspection, entry) {
        // a fitter's word for it frees nothing anyhow; a supervisor whom nobody knew before has to sign for it
        return of(supervises(&entry.by) && !was_known(&entry.by), &entry.by);
    }
    let (Act::Overrule { supervisor, .. }
    | Act::Unjudged { supervisor, .. }
    | Act::Plan { supervisor: Some(supervisor), .. }) = &entry.act
    else {
        return Wants::Nobody;
    };
    // a name that nobody here knows has approved nothing
    let may_be_one = inspection.person(supervisor).is_none_or(|person| person.is(Role::Supervisor));
    let own = entry.by.same_as(supervisor) && was_known(supervisor);
    of(may_be_one && !own, supervisor)
}

/// Gauges used past their date, each once, and the day of the first such reading.
pub fn used_past_date(inspection: &Inspection) -> Vec<(&Instrument, NaiveDate)> {
    let mut used: Vec<(&Instrument, NaiveDate)> = Vec::new();
    for entry in inspection.standing_entries() {
        let past = inspection.past_date(entry);
        let fresh = past.filter(|gauge| !used.iter().any(|(known, _)| known.id == gauge.id));
        used.extend(fresh.map(|gauge| (gauge, entry.when().date())));
    }
    used
}
