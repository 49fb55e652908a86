//! What is said: headings, what an entry has brought, refusals in the words of the line mode.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use crate::domain::beside;
use crate::domain::checklist::Step;
use crate::domain::entry::{Act, Entry, FindingMade};
use crate::domain::gate;
use crate::domain::inspection::{Doubted, Inspection, Scene};
use crate::domain::judge::{self, Reach};
use crate::domain::measured::PlaceValue;
use crate::domain::person::Role;
use crate::domain::progress;
use crate::domain::refusal::{Refusal, RefusalKind, Spot};
use crate::domain::signing;
use crate::domain::soak;
use crate::domain::stamp;
use crate::domain::standing::{CharacteristicStanding, Judgement, Outcome, Standing};
use crate::domain::telling;
use crate::domain::unit::Unit;
use crate::domain::verdict::{Consequence, Disposition};

use super::super::shown;
use super::Session;
use super::inquiry::{Question, Takes};

/// Why and how, for somebody who learns, or who asks.
pub(super) fn why_and_how(step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    for (title, section) in [("Why", &step.why), ("How", &step.how)] {
        if !section.is_empty() {
            lines.push(format!("{title}:"));
            lines.extend(section.iter().map(|line| format!("  {line}")));
        }
    }
    lines
}

/// A refusal, said to somebody who has no Esc key; where is said only when it is not the question itself.
pub(super) fn refusal(refusal: &Refusal) -> String {
    let kind = &refusal.kind;
    let mend = if let RefusalKind::Shut { .. } = kind {
        "The question goes on with what is open.".to_owned()
    } else {
        without_esc(&kind.mend())
    };
    match &refusal.spot {
        Spot::Entry(number) => format!("{} (entry {number}) {mend}", kind.what()),
        Spot::Field | Spot::Step(_) => format!("{} {mend}", kind.what()),
    }
}

/// The same words for somebody who has no Esc key.
pub(super) fn without_esc(words: &str) -> String {
    let bare = |word: &str| word.trim_matches(|letter: char| !letter.is_alphanumeric()) == "Esc";
    let one = |word: &str| if bare(word) { word.replace("Esc", "!") } else { word.to_owned() };
    words.replace("Esc, ", "! ").split(' ').map(one).collect::<Vec<_>>().join(" ")
}

/// A text of somebody's file, its control characters shown as escapes: what steers a terminal is not printed.
pub fn printable(text: &str) -> Cow<'_, str> {
    let steers = |letter: char| letter.is_control() && !matches!(letter, '\n' | '\t');
    if !text.contains(steers) {
        return Cow::Borrowed(text);
    }
    let shown = |letter: char| if steers(letter) { letter.escape_default().to_string() } else { letter.to_string() };
    Cow::Owned(text.chars().map(shown).collect())
}

/// What follows from a figure or a finding, with its sign.
pub(super) fn leads_to(consequence: Consequence) -> (char, &'static str) {
    match consequence {
        Consequence::Nothing => (Disposition::Reuse.sign(), ""),
        Consequence::Watch => (Disposition::Watch.sign(), " Leads to: watch."),
        Consequence::Refer => ('>', " Leads to: refer, and the part is held until the answer is in."),
        Consequence::Rework => (Disposition::Rework.sign(), " Leads to: rework."),
        Consequence::Replace => (Disposition::Replace.sign(), " Leads to: replace."),
        Consequence::Call => ('!', " Leads to: stop and call; work on the part waits for an answer."),
    }
}

/// A judgement's sign and what follows; one in doubt or too close to call never has the sign of what is well.
fn judged(judgement: &Judgement, consequence: Consequence) -> (char, &'static str) {
    let well = consequence == Consequence::Nothing;
    if consequence <= Consequence::Watch && judgement.reached.reach == Reach::Undecided {
        ('?', " Undecided: one more repeat of an averaged place (! 26), else a better gauge; else the limit counts.")
    } else if well && (judgement.provisional == Doubted::Yes || judgement.disputed.is_some()) {
        let open = " Open until it is taken again, or a supervisor accepts it (! 18).";
        let both = " Open until the wrong one is struck and taken again, or a supervisor accepts it (! 18).";
        let what = if judgement.disputed().is_some() { both } else { open };
        ('?', if judgement.accepted.is_none() { what } else { "" })
    } else {
        leads_to(consequence)
    }
}

/// Before every heading: that no real machine is meant, and what is awaited ashore.
pub(super) fn scene(inspection: &Inspection, strange: &BTreeSet<u32>) -> String {
    let scene = match inspection.head().scene {
        Scene::Real => "",
        Scene::Invented => "INVENTED DEMONSTRATION. ",
        Scene::Practice => "PRACTICE, INVENTED ROTOR. ",
    };
    let pending = signing::pending_in_words(inspection, strange).map(|words| format!("{}. ", words.to_uppercase()));
    format!("{scene}{}", pending.unwrap_or_default())
}

impl Session {
    /// What stands before every heading of the record at hand.
    pub(super) fn scene(&self) -> String {
        scene(&self.inspection, &self.files.strange)
    }

    /// What stands above a step's questions; said once when the step changes.
    pub(super) fn title(&self, step: &Step) -> Vec<String> {
        let (at, of) = progress::position(&self.inspection, &step.id);
        let mut lines = vec![String::new()];
        lines.push(format!(
            "{}{}. {}, step {at} of {of}, {}.",
            self.scene(),
            gate::step_name(&self.inspection, step),
            step.phase.title(),
            self.saved()
        ));
        lines.extend(telling::beforehand(&self.inspection, step));
        lines.extend(step.doing.iter().cloned());
        lines.extend(step.caution.iter().map(|caution| format!("! {caution}")));
        lines.extend(step.seen.iter().map(|seen| format!("Seen {seen}.")));
        if self.inspection.person(&self.by).is_some_and(|person| person.is(Role::Trainee)) {
            lines.extend(why_and_how(step));
        }
        lines
    }

    /// What new entries have brought, when they are on the disk.
    pub(super) fn news(&mut self, entries: &[Entry]) -> Vec<String> {
        let mut said: Vec<_> = entries.iter().map(|entry| self.taken(entry)).collect();
        if let Some(before) = self.before.take() {
            said.extend(self.verdicts(&before));
        }
        for entry in entries {
            let lines = self.beside(entry);
            said.extend(lines.into_iter().filter(|line| self.told_beside.insert(line.clone())));
        }
        said
    }

    /// What stands beside a set of figures that is complete now, or a soak that ran outside its times.
    fn beside(&self, entry: &Entry) -> Vec<String> {
        let step = entry.act.step().and_then(|id| self.inspection.head().checklist.step(id));
        let Some(step) = step else { return Vec::new() };
        if let Act::Timer { .. } | Act::Looked { .. } = entry.act {
            return soak::told(&self.inspection, step).map(|words| format!("? {words}")).into_iter().collect();
        }
        if !matches!(entry.act, Act::Reading { .. } | Act::Note { .. } | Act::Finding(_)) {
            return Vec::new();
        }
        self.beside_of(step)
    }

    /// What stands beside the figures of a step, and what it reckons of them.
    pub(super) fn beside_of(&self, step: &Step) -> Vec<String> {
        beside::lines(&self.inspection, step).iter().map(|line| format!("{} {}", line.sign, line.words)).collect()
    }

    fn taken(&self, entry: &Entry) -> String {
        if let Act::Reading { taken, gauge, doubts, .. } = &entry.act {
            let with = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
            let provisional = if doubts.is_empty() { "" } else { ", insisted on" };
            return format!("{taken}{with}{provisional}, entry {}, {}.", entry.number, self.saved());
        }
        if let Act::Finding(finding) = &entry.act {
            return self.found(finding, entry.number);
        }
        if let Act::Strike { entry: struck, .. } = &entry.act {
            return format!("Entry {struck} is struck; it stays readable. Entry {}, {}.", entry.number, self.saved());
        }
        if let Act::Repeat { step, place } = &entry.act {
            let saved = self.saved();
            return format!(
                "{step}, {place}: one repeat more, open until it is taken. Entry {}, {saved}.",
                entry.number
            );
        }
        let (kind, saved) = (entry.act.kind(), format!("entry {}, {}", entry.number, self.saved()));
        if let Act::PartFitted { .. } = entry.act {
            return format!("{kind}: {}, {saved}.", telling::of_entry(&self.inspection, entry));
        }
        if let Some(part) = entry.act.part() {
            let name = self.inspection.head().checklist.part(part).map_or(part, |part| part.name.as_str());
            return format!("{kind}: {name}, {saved}.");
        }
        let which = if let Act::Photo { photo, .. } = &entry.act { format!(" {}", photo.name) } else { String::new() };
        format!("{kind}{which}: {saved}.")
    }

    /// What a finding leads to and what else it obliges, at once.
    fn found(&self, finding: &FindingMade, number: u32) -> String {
        let consequences = self.inspection.consequences_of(finding);
        let sign = consequences.first().map_or('>', |first| leads_to(*first).0);
        let leads: String = consequences.iter().map(|one| leads_to(*one).1).collect();
        let obliges = obliges(&self.inspection, self.inspection.obliged_by_finding(finding));
        format!("{sign} {}, {}: entry {number}.{leads}{obliges}", finding.kind, finding.grade)
    }

    /// Places complete now and characteristics judged now, and not before.
    fn verdicts(&self, before: &Standing) -> Vec<String> {
        let mut said = Vec::new();
        for one in &self.standing.characteristics {
            let was = before.characteristics.iter().find(|was| is_same(was, one));
            if was == Some(one) {
                continue;
            }
            said.extend(self.places(one, was));
            let told = |one: &CharacteristicStanding| {
                let speaks = matches!(
                    one.outcome,
                    Outcome::Judged(_)
                        | Outcome::Past(..)
                        | Outcome::Open(_)
                        | Outcome::Unjudged { .. }
                        | Outcome::Incomplete(Some(_))
                );
                speaks.then(|| format!("{}{}", verdict(one), obliges(&self.inspection, one.obliges(&self.inspection))))
            };
            let words = told(one);
            if words != was.and_then(told) {
                said.extend(words);
                said.extend(last_time(one));
                let retaken = |value: &PlaceValue| value.fault.as_ref().is_some_and(|fault| fault.word == "retake");
                let again = one.measured.is_complete() && one.measured.values.iter().any(retaken);
                said.extend(again.then(|| format!("  ! 6 {} goes there, then ! 1 strikes the set.", one.step)));
            }
        }
        said
    }

    /// Places whose repeats are complete, each by the levels; a place of one figure is said with the whole set.
    fn places(&self, one: &CharacteristicStanding, was: Option<&CharacteristicStanding>) -> Vec<String> {
        let known = |value: &PlaceValue| was.is_some_and(|was| was.measured.values.contains(value));
        let counts = |value: &&PlaceValue| shown::at_spot(&self.inspection, one, &value.spot) == Some(*value);
        let several = |value: &&PlaceValue| value.entries.len() > 1 && !known(value);
        let fresh = one.measured.values.iter().filter(several).filter(counts);
        let all = one.measured.values.len();
        fresh.filter(|_| all > 1 || !one.measured.is_complete()).map(|value| self.place_words(one, value)).collect()
    }

    fn place_words(&self, one: &CharacteristicStanding, value: &PlaceValue) -> String {
        let unit = one.measured.unit;
        if let Some(fault) = &value.fault {
            return format!("? {}.", fault.words);
        }
        let sheet = self.inspection.sheet();
        let levels = sheet.and_then(|sheet| Some((sheet.levels.get(&one.characteristic)?, sheet)));
        let reached = levels
            .ok_or(judge::NotJudged::NoLevel)
            .and_then(|(levels, sheet)| judge::judge(&value.judged(unit), levels, one.condition, sheet));
        match reached {
            Ok(reached) => {
                let leads_to = reached.leads_to;
                let (value, provisional, past) = (value.clone(), value.doubted, BTreeMap::new());
                let (disputed, accepted, unjudged) = (None, None, None);
                let judgement = Judgement { value, reached, provisional, disputed, accepted, past, unjudged };
                let (sign, leads) = judged(&judgement, leads_to);
                format!("{sign} {}.{leads}", telling::of_judgement(&judgement, unit))
            }
            Err(why) => {
                let value_is = telling::beside(&value.value, None, 4);
                let behind = unit.behind();
                format!("? {value_is}{behind} at {}: {}.", value.spot, why.words())
            }
        }
    }
}

/// Steps that are obliged besides, in one sentence.
fn obliges(inspection: &Inspection, steps: &[String]) -> String {
    telling::obliged(inspection, steps).map(|steps| format!(" Obliges: {steps}.")).unwrap_or_default()
}

/// The last opening's figure, shown only beside a complete set.
fn last_time(one: &CharacteristicStanding) -> Option<String> {
    let last = one.last.as_ref()?;
    // the history of a land is its flat, which the trend runs on
    let flat = one.measured.values.iter().any(|value| value.trend.is_some());
    let unit = if flat { Unit::Millimetre } else { one.characteristic.unit() };
    let what = if flat { "flat " } else { "" };
    let behind = unit.behind();
    let place = last.place.as_ref().map(|place| format!(" at {place}")).unwrap_or_default();
    let value = telling::beside(&last.value, None, 4);
    Some(format!("  last time {what}{value}{behind}{place}, {}, at {}", stamp::long_day(last.date), last.hours))
}

fn is_same(a: &CharacteristicStanding, b: &CharacteristicStanding) -> bool {
    (a.characteristic, a.condition, &a.step) == (b.characteristic, b.condition, &b.step)
}

/// One characteristic in a line, with its sign and what it leads to.
pub(super) fn verdict(one: &CharacteristicStanding) -> String {
    let (sign, leads) = match &one.outcome {
        Outcome::Open(_) if one.leads_to() == Consequence::Nothing => ('?', " Open."),
        Outcome::Open(_) => leads_to(one.leads_to()),
        Outcome::Judged(judgement) | Outcome::Incomplete(Some(judgement)) | Outcome::Past(judgement, _) => {
            judged(judgement, one.leads_to())
        }
        Outcome::NotTaken | Outcome::Incomplete(None) | Outcome::LeftOut(_) | Outcome::Unjudged { .. } => ('?', ""),
        Outcome::Excused => ('-', ""),
    };
    let open = match &one.outcome {
        Outcome::Past(_, Some(why)) => format!(" Open besides: {why}."),
        Outcome::Open(_) if one.leads_to() > Consequence::Nothing => " Open besides.".to_owned(),
        Outcome::Past(_, None)
        | Outcome::Open(_)
        | Outcome::NotTaken
        | Outcome::Incomplete(_)
        | Outcome::LeftOut(_)
        | Outcome::Excused
        | Outcome::Unjudged { .. }
        | Outcome::Judged(_) => String::new(),
    };
    format!("{sign} {}: {}.{leads}{open}", one.characteristic.name(), telling::of_characteristic(one))
}

/// The end of every help.
pub(super) const AGAIN: &str = "? says this again, ! lists what else can be done.";

/// What is wanted in a field of what else.
pub(super) fn wanted(title: &str, question: &Question) -> Vec<String> {
    let takes = match question.takes {
        Takes::Choice => "one of the lines, by its number or its words",
        Takes::ChoiceOrWords => "one of the lines, by its number, or words of your own",
        Takes::Words | Takes::MayBeEmpty => "words, a figure with its unit or a day, as it is asked",
    };
    let empty = match (&question.offered, question.takes) {
        (Some(offered), _) => format!("an empty line stands for {offered}"),
        (None, Takes::MayBeEmpty) => "an empty line leaves it out".to_owned(),
        (None, Takes::Choice | Takes::ChoiceOrWords | Takes::Words) => "an empty line is no answer".to_owned(),
    };
    vec![format!("{title}: {}", question.asked()), format!("Wanted: {takes}; {empty}."), AGAIN.to_owned()]
}

#[cfg(test)]
mod tests {
    use super::printable;

    #[test]
    fn what_steers_a_terminal_is_shown_and_not_done() {
        assert_eq!(printable("a\u{1b}[31m\tb\u{9b}\nc"), "a\\u{1b}[31m\tb\\u{9b}\nc");
        assert_eq!(printable("0.05 mm, 20 \u{b0}C"), "0.05 mm, 20 \u{b0}C");
    }
}
