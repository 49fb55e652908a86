//! Something seen, said, asked or answered.

use crate::domain::checklist::{Part, Signing, Step, Takes};
use crate::domain::decide::refers;
use crate::domain::edition;
use crate::domain::entry::{Act, Entry, Late, TimerMark};
use crate::domain::gate;
use crate::domain::inspection::Inspection;
use crate::domain::pattern::disagreeing;
use crate::domain::progress;
use crate::domain::review::{left_out_in_words, lists, not_judged_in_words};
use crate::domain::signing;
use crate::domain::stamp::{self, Stamp};
use crate::domain::standing::{PartStanding, Standing, hold_words, wants_picture};
use crate::domain::telling;
use crate::domain::verdict::{Disposition, Hold};

use super::super::inquiry::{Answers, Reply, Stop};
use super::strike::entry_in_words;
use super::{At, Deed, act, only_say, owned};

/// What a note can be.
const NOTES: [&str; 4] = [
    "a note on this step",
    "a note on the whole job",
    "from here on: figures late from paper",
    "no longer from paper: figures as they are taken",
];

impl At<'_> {
    /// A note, or figures copied from paper: they keep the time the paper says.
    pub(super) fn note(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let what = answers.choose("what", &owned(&NOTES))?;
        if what == 2 {
            let taken = self.on_paper("when it was written down", answers)?;
            return Ok(Deed::Late(Some(Late { taken, sheet: None })));
        }
        if what == 3 {
            return Ok(Deed::Late(None));
        }
        let step = if what == 0 { self.step_or_asked(answers)? } else { None };
        let text = answers.sentence("the note, in words")?;
        // at a step that takes words a note would be its answer
        let step = step.filter(|step| step.takes != Takes::Words);
        Ok(act(Act::Note { step: step.map(|step| step.id.clone()), text }))
    }

    /// The moment that the paper says: never one to come; one before the record was begun is asked about.
    fn on_paper(&self, asked: &str, answers: &mut Answers<'_>) -> Reply<String> {
        let asked = format!("{asked}, such as 2031-04-16 15:20; 15:20 alone is today");
        let taken = answers.with(&asked, |text| {
            let wrong = || format!("`{text}` is no time on paper. Type it as 2031-04-16 15:20.");
            let taken = stamp::on_paper(text, self.hand.at).ok_or_else(wrong)?;
            let to_come = || format!("`{text}` is still to come: it is {} now.", self.hand.at.clock());
            if taken <= self.hand.at { Ok(taken) } else { Err(to_come()) }
        })?;
        let said = |moment: Stamp| format!("{} {}", moment.date(), moment.clock());
        let begun = self.inspection.head().begun;
        // minutes are written on paper, and a record begins at a second
        if begun.seconds_since(taken) >= 60 {
            let asked = format!("{} lies before this inspection was begun, {}: is it so", said(taken), said(begun));
            if answers.word(&asked, &["no", "yes"])? == 0 {
                return Err(Stop::Again("Type the time of the paper again.".to_owned()));
            }
        }
        Ok(said(taken))
    }

    /// A clock started and stopped, each at its own time on the paper; stopped before its time, asked about.
    ///
    /// # Errors
    /// The next question, or what is wrong with an answer.
    pub fn soaked(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.step else { return Ok(only_say("No step is at hand.")) };
        let running = progress::soaking(self.inspection).into_iter().find(|one| one.step.id == step.id);
        if let Some(soak) = running.as_ref().filter(|_| self.hand.late.is_none()) {
            // Enter once too often must not cost the hours that it has waited
            let asked = format!("it waits for {} at least, and has not so long. Stop the clock now", soak.from);
            let is_over = answers.word(&asked, &["not yet", "stop"])? == 1;
            let out = Act::Timer { step: step.id.clone(), mark: TimerMark::Ended };
            return Ok(if is_over { act(out) } else { only_say("The clock runs on; Esc 6 goes to another step.") });
        }
        let (asked, mark) = if running.is_some() {
            ("when the clock was stopped", TimerMark::Ended)
        } else {
            ("when the clock was started", TimerMark::Started)
        };
        let taken = self.on_paper(asked, answers)?;
        Ok(Deed::AtPaper(taken, Box::new(Act::Timer { step: step.id.clone(), mark })))
    }

    /// The paper stays readable beside what was copied from it.
    pub(super) fn sheet_photo(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let path = answers.maybe_choose_or_say("photo of the paper: its file", "none for now", &owned(&[NEWEST]))?;
        Ok(path.map_or_else(
            || only_say("No photo of the paper so far: what is copied says so."),
            |path| Deed::Photo(self.step.map(|step| step.id.clone()), named(path)),
        ))
    }

    pub(super) fn photo(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let step = self.pictured(answers)?.map(|step| step.id.clone());
        let path = answers.maybe_choose_or_say("which picture: its file", NEWEST, &owned(&[NEWEST]))?;
        Ok(Deed::Photo(step, path.and_then(named)))
    }

    /// The step that a picture belongs to: the one at hand, or one that was done without the picture that it asks for.
    fn pictured(&self, answers: &mut Answers<'_>) -> Reply<Option<&Step>> {
        let lacks = |step: &&Step| wants_picture(self.inspection, step);
        let mut steps: Vec<&Step> = progress::steps(self.inspection).filter(lacks).collect();
        if steps.is_empty() || self.step.is_some_and(|step| wants_picture(self.inspection, step)) {
            return self.step_or_asked(answers);
        }
        steps.extend(self.step);
        let names: Vec<_> = steps.iter().map(|step| gate::step_name(self.inspection, step)).collect();
        Ok(steps.get(answers.choose("a picture of which step", &names)?).copied())
    }

    /// Work on a part stops until somebody answers; where a call on the part at hand is open, its answer.
    pub(super) fn call(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let here = self.step.and_then(|step| gate::open_call(self.inspection, &step.part));
        if let Some((call, question)) = here {
            let asked = format!("{question} Who answered, name and office");
            return answered(call, &asked, answers);
        }
        let part = self.which_of("stop work on which part", |_| true, None, answers)?;
        let question = answers.words("the question: who is called, and what is asked")?;
        Ok(act(Act::Call { part, question }))
    }

    /// An answer to a call or a finding; what was referred takes a concession.
    pub(super) fn answer(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let edition = edition::asked(self.inspection);
        let open = self.answerable();
        if open.is_empty() {
            return Ok(only_say(
                "No call, no finding and no edition waits for an answer. What is referred takes a concession.",
            ));
        }
        let words = |entry: &&Entry| {
            let edition = edition.as_ref().filter(|asked| asked.entry == entry.number);
            edition.map_or_else(|| entry_in_words(entry), |asked| asked.words.clone())
        };
        let words: Vec<_> = open.iter().map(words).collect();
        let index = answers.choose("answer to which", &words)?;
        let Some(entry) = open.get(index).map(|entry| entry.number) else { return Ok(Deed::Say(Vec::new())) };
        answered(entry, "who answered, name and office", answers)
    }

    /// The answer to this call or finding, as what it keeps shut leads there.
    pub(super) fn answer_to(&self, entry: u32, answers: &mut Answers<'_>) -> Reply<Deed> {
        let about = self.inspection.entry(entry).map(entry_in_words).unwrap_or_default();
        answered(entry, &format!("who answered, name and office; entry {about}"), answers)
    }

    /// Entries that wait for an answer.
    pub(super) fn answerable(&self) -> Vec<&Entry> {
        let edition = edition::asked(self.inspection);
        let asks = |entry: &&Entry| {
            matches!(entry.act, Act::Call { .. } | Act::Finding(_)) && !refers(self.inspection, entry)
                || edition.as_ref().is_some_and(|asked| asked.entry == entry.number)
        };
        let is_open = |entry: &&Entry| !self.inspection.is_answered(entry.number);
        self.inspection.standing_entries().filter(asks).filter(is_open).collect()
    }

    /// A remark of a record that was sent back; it stays in the record when it is answered.
    pub(super) fn remark(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let mut open = signing::open_remarks(self.inspection);
        open.sort_by_key(|(_, _, remark)| remark.step.as_deref() != self.step.map(|step| step.id.as_str()));
        if open.is_empty() {
            return Ok(only_say("No remark waits for an answer."));
        }
        let checklist = &self.inspection.head().checklist;
        let step = |id: &String| checklist.step(id).map(|step| gate::step_name(self.inspection, step));
        let words = open.iter().map(|(entry, number, remark)| {
            let at = remark.step.as_ref().and_then(step).map(|name| format!(" ({name})")).unwrap_or_default();
            format!("remark {number} of entry {entry}: {}{at}", remark.text)
        });
        let index = if open.len() == 1 { 0 } else { answers.choose("which remark", &words.collect::<Vec<_>>())? };
        let Some((entry, remark, asked)) = open.get(index).copied() else { return Ok(Deed::Say(Vec::new())) };
        // the list may have no room for all of it
        let text = answers.words(&format!("the answer to: {}", asked.text))?;
        Ok(act(Act::RemarkAnswered { entry, remark, text }))
    }

    /// What is signed already is signed with a key too; `ssh-keygen` asks for its passphrase, or for a touch.
    pub(super) fn key(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let sign = |entry: &Entry| entry.deed().takes_key() && entry.doer().same_as(&self.hand.by);
        let signed: Vec<_> = self.inspection.entries().iter().rev().filter(|entry| sign(entry)).collect();
        if signed.is_empty() {
            return Ok(only_say("Nothing is signed by this hand yet: sign first, then with a key."));
        }
        let wait: Vec<_> = signed.into_iter().filter(|entry| !self.files.keyed.contains(&entry.number)).collect();
        let told = |entry: &&Entry| format!("entry {}, {}", entry.number, telling::of_entry(self.inspection, entry));
        let index = match wait.len() {
            0 => return Ok(only_say("All that this hand has signed is signed by key already.")),
            1 => 0,
            _ => answers.choose("which entry", &wait.iter().map(told).collect::<Vec<_>>())?,
        };
        let Some(entry) = wait.get(index) else { return Ok(Deed::Say(Vec::new())) };
        let told = telling::of_entry(self.inspection, entry);
        let asked = format!("entry {}, {told}. The key's file, or its .pub where an agent holds the key", entry.number);
        Ok(Deed::Key(entry.number, answers.sentence(&asked)?))
    }

    /// One of the parts that fit, in the checklist's order wherever it is asked; the one at hand is offered.
    pub(super) fn which_of(
        &self,
        text: &str,
        fits: impl Fn(&Part) -> bool,
        offered: Option<&str>,
        answers: &mut Answers<'_>,
    ) -> Reply<String> {
        let parts: Vec<_> = self.inspection.head().checklist.parts.iter().filter(|part| fits(part)).collect();
        let offered = offered.or(self.step.map(|step| step.part.as_str()));
        let here = offered.and_then(|id| parts.iter().position(|part| part.id == id));
        let names: Vec<_> =
            parts.iter().map(|part| (self.number_of(&part.id), part.id.as_str(), part.name.clone())).collect();
        let index = answers.choose_some(text, &names, here)?;
        Ok(parts.get(index).map(|part| part.id.clone()).unwrap_or_default())
    }

    /// The number of a part: the same in every list, whichever parts are on offer there.
    pub(super) fn number_of(&self, part: &str) -> usize {
        let parts = &self.inspection.head().checklist.parts;
        parts.iter().position(|one| one.id == part).map_or(0, |at| at + 1)
    }

    /// The working of the step at hand, or of the one entered last where that has just been finished.
    pub(super) fn working(&self) -> Vec<String> {
        let touched = |step: &&Step| self.inspection.standing_entries_of(&step.id).next().is_some();
        let last = || {
            let entry = self.inspection.standing_entries().rev().find_map(|entry| entry.act.step())?;
            self.inspection.head().checklist.step(entry)
        };
        let step = self.step.filter(touched).or_else(last);
        step.map_or_else(Vec::new, |step| {
            let mut lines = vec![format!("-- working: {} --", step.id)];
            lines.extend(telling::working_of_step(self.inspection, self.standing, step));
            lines
        })
    }

    /// Every part with its verdict, what holds the job, and running waits.
    pub(super) fn stands(&self) -> Vec<String> {
        let lists = lists(self.inspection, self.standing).in_words().into_iter();
        let mut lines: Vec<_> = lists
            .flat_map(|(heading, list)| {
                let list = if list.is_empty() { vec!["nothing".to_owned()] } else { list };
                list.into_iter().map(move |line| format!("{heading}: {line}."))
            })
            .collect();
        lines.extend(standing_in_words(self.standing));
        let soaks = progress::soaking(self.inspection);
        lines.extend(soaks.iter().map(|one| {
            let to = one.to.map(|to| format!(" to {to}")).unwrap_or_default();
            let name = gate::step_name(self.inspection, one.step);
            format!("Waiting: {name}, since {}, for {}{to}.", one.since.clock(), one.from)
        }));
        lines
    }
}

/// What holds the job as a whole; every part with its disposition, its holds, and what made it so.
pub fn standing_in_words(standing: &Standing) -> Vec<String> {
    told(standing).map(|(_, words)| words).collect()
}

/// The same without what is within, the worst first; what is equally bad keeps the order of the machine.
pub fn worst_in_words(standing: &Standing) -> Vec<String> {
    let mut told: Vec<_> = told(standing).filter(|(_, words)| !words.starts_with(Disposition::Reuse.sign())).collect();
    told.sort_by_key(|(bad, _)| *bad);
    told.into_iter().map(|(_, words)| words).collect()
}

/// Each with how bad it is: a part by the worst of its disposition and its holds.
fn told(standing: &Standing) -> impl Iterator<Item = (usize, String)> {
    let bad = |signs: &mut dyn Iterator<Item = char>| {
        signs.filter_map(|sign| "X/!>?~".find(sign)).min().unwrap_or(usize::MAX)
    };
    let job = standing
        .job
        .iter()
        .map(move |hold| (bad(&mut std::iter::once('?')), format!("? The job: {}", sentence(&hold_words(hold)))));
    let parts = standing.parts.iter().filter(|part| part.judged.1 > 0 || !is_quiet(part));
    let parts = parts.map(move |part| {
        let holds = part.verdict.holds.iter().map(Hold::sign);
        (bad(&mut std::iter::once(part.told().0).chain(holds)), part_in_words(part))
    });
    job.chain(parts)
}

/// What no part is held for, and whoever signs must know all the same: two ways to one figure that disagree; for the close what
/// is on the sheet and not judged; what the sheet leaves out, and why.
pub fn besides_in_words(inspection: &Inspection, standing: &Standing, what: Signing) -> Vec<String> {
    let mut lines: Vec<_> = disagreeing(inspection)
        .into_iter()
        .map(|one| format!("? Two ways disagree: {}", sentence(&one.what)))
        .collect();
    let mut list = |sign: char, heading: &str, all: Vec<String>| {
        lines.extend((!all.is_empty()).then(|| format!("{sign} {heading}: {}.", all.join("; "))));
    };
    if what == Signing::Close {
        list('?', "On the sheet, not judged", not_judged_in_words(inspection, standing));
    }
    list('-', "Left out by the sheet", left_out_in_words(inspection));
    lines
}

fn is_quiet(part: &PartStanding) -> bool {
    part.reasons.is_empty() && part.verdict.holds.is_empty()
}

/// `X Bush, turbine side: replace; new part to check. clearance: 0.214 mm ...`; what is open is never called reuse.
fn part_in_words(part: &PartStanding) -> String {
    let disposition = part.verdict.disposition;
    let held = part.verdict.holds.first().filter(|_| disposition == Disposition::Reuse);
    let (sign, word) = part.told();
    let sign = held.map_or(sign, Hold::sign);
    let words = held.is_none().then_some(word);
    let words: Vec<_> = words.into_iter().chain(part.verdict.holds.iter().map(hold_words)).collect();
    let why = if part.reasons.is_empty() { String::new() } else { format!(" {}.", part.reasons.join(". ")) };
    format!("{sign} {}: {}{why}", part.name, sentence(&words.join("; ")))
}

/// With its full stop; a question has its own mark.
pub fn sentence(words: &str) -> String {
    if words.ends_with('?') { words.to_owned() } else { format!("{words}.") }
}

fn answered(entry: u32, asked: &str, answers: &mut Answers<'_>) -> Reply<Deed> {
    let who = answers.words(asked)?;
    let text = answers.words("the answer")?;
    Ok(act(Act::Answer { entry, who, text }))
}

/// Stands for a picture in place of its file.
pub(super) const NEWEST: &str = "the newest in the watched folder";

/// The file of a picture; none where the newest one is meant, however that is said.
pub(super) fn named(path: String) -> Option<String> {
    let newest = [NEWEST, "newest", "the newest"].iter().any(|words| path.eq_ignore_ascii_case(words));
    (!newest).then_some(path)
}
