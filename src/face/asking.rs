//! Every wish of the screen goes through `decide`: what it takes is applied and sent to the disk, what it asks becomes a
//! question, what it refuses is said beside the field.

use crate::domain::apply::apply;
use crate::domain::checklist::{Cell, Takes};
use crate::domain::decide::decide;
use crate::domain::entry::{Act, Entry};
use crate::domain::gate::Missing;
use crate::domain::refusal::{Refusal, RefusalKind};
use crate::domain::request::{Decision, Request};
use crate::domain::signing;
use crate::domain::stamp::Stamp;
use crate::domain::telling;
use crate::records::store::HalfForm;

use super::acts::Other;
use super::effect::{Effect, Opened};
use super::half::{self, Half};
use super::job::{Job, LastTaken, Lower};
use super::look::Tone;
use super::model::{Model, Overlay, Screen};
use super::screen::elses;
use super::screen::notice::Notice;
use super::screen::question::Question;
use super::screen::saving;
use super::shown;

/// Asks for something; what is taken goes to the disk.
pub(super) fn ask(model: &mut Model, request: Request) -> Vec<Effect> {
    ask_all(model, vec![request])
}

fn ask_one(model: &mut Model, request: Request) -> Vec<Effect> {
    let now = model.now.stamp;
    let Some(job) = model.job() else { return Vec::new() };
    let outside = job.outside.is_some() && !matches!(request, Request::Do(Act::SeenOutside { .. }));
    if outside && !seen_outside(model) {
        return Vec::new();
    }
    let Some(job) = model.job() else { return Vec::new() };
    if job.saving.is_full() {
        saving::ways_out(model);
        return Vec::new();
    }
    match decide(&job.inspection, &request, &job.hand(now)) {
        Decision::Take(entry) => take(model, *entry),
        Decision::Ask { typed, doubts } => {
            let question = Question::doubted(job, request, &typed, &doubts);
            model.open(Overlay::Question(Box::new(question)));
            Vec::new()
        }
        Decision::Refuse(refusal) => {
            refused(model, request, &refusal);
            Vec::new()
        }
    }
}

/// Asks for several things in turn; the first that is not taken ends it. What they have come to is looked at behind the last
/// of them: a set half struck is none.
pub(super) fn ask_all(model: &mut Model, requests: Vec<Request>) -> Vec<Effect> {
    let past = |model: &Model| model.job().map(|job| shown::out_of_limit(&job.inspection, &job.standing));
    let before = past(model).unwrap_or_default();
    let mut effects = Vec::new();
    for request in requests {
        let done = ask_one(model, request);
        if done.is_empty() {
            break;
        }
        effects.extend(done);
    }
    let news = past(model).and_then(|after| after.into_iter().find(|one| !before.contains(one)));
    let notice = news.and_then(|news| Notice::of(model.job()?, &news)).filter(|_| !effects.is_empty());
    if let Some(notice) = notice {
        model.open(Overlay::Notice(Box::new(notice)));
    }
    effects
}

fn refused(model: &mut Model, request: Request, refusal: &Refusal) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    job.look_at_gate(now);
    if matches!(refusal.kind, RefusalKind::LiftReversed(_)) {
        let question = Question::reversed(job, request, refusal);
        model.open(Overlay::Question(Box::new(question)));
    } else if matches!(refusal.kind, RefusalKind::NoGauge { .. } | RefusalKind::UnknownGauge { .. }) {
        super::screen::gauge::open(model);
        model.say(Tone::Watch, "Which gauge is in your hand? The figure stays in the field.");
    } else if job.shut.contains(&Missing::SafetyAgain) {
        super::screen::question::ask_safe(model);
    } else {
        // the place is on the screen already
        model.say(Tone::Bad, format!("{} {}", refusal.kind.what(), refusal.kind.mend()));
    }
}

/// An entry was made: it changes the inspection at once and is on its way to the disk.
fn take(model: &mut Model, entry: Entry) -> Vec<Effect> {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return Vec::new() };
    if matches!(entry.act, Act::SeenOutside { .. }) {
        job.outside = None;
    }
    // what the hours or the plan make of figures taken long ago is on no screen
    let before = matches!(entry.act, Act::Opening(_) | Act::Plan { .. }).then(|| job.standing.clone());
    let change = apply(&mut job.inspection, entry.clone());
    job.standing = job.standing.after(&job.inspection, &change);
    job.saving.wait_for(entry.clone());
    job.scroll = 0;
    let (tone, words) = after(job, &entry, now);
    let (tone, words) = match before.and_then(|before| job.standing.graver_than(&before)) {
        Some(graver) => (Tone::Bad, format!("{words}. By that: {graver}.")),
        None => (tone, words),
    };
    if matches!(entry.act, Act::Reading { .. }) && job.is_step_settled() {
        // the verdict is there: it is what is read now
        job.lower = Lower::Judged;
    }
    job.look_at_gate(now);
    model.say(tone, words);
    vec![Effect::Save(vec![entry])]
}

/// Moves the hand on, empties what is done with, and says what was taken.
fn after(job: &mut Job, entry: &Entry, now: Stamp) -> (Tone, String) {
    if let Act::Reading { step, place, taken, .. } = &entry.act {
        let cell = job.cells().into_iter().find(|cell| cell.place() == *place);
        let spoken = cell.as_ref().map_or_else(|| place.clone(), Cell::spoken);
        job.field_mut().0.take();
        let figure = taken.to_string();
        let words = format!("{spoken}: {figure} taken");
        let said = match cell.and_then(|cell| shown::at_once(job, (step, &cell.spot()), *taken)) {
            Some((verdict, tone)) => (tone, format!("{words}; {verdict}")),
            None => (Tone::Good, words),
        };
        job.last = Some(LastTaken { entry: entry.number, step: step.clone(), place: spoken, figure });
        job.go_on();
        return said;
    }
    if matches!(entry.act, Act::Note { .. }) && matches!(job.step().map(|step| &step.takes), Some(Takes::Words)) {
        job.field_mut().0.take();
    }
    if matches!(entry.act, Act::Strike { .. }) {
        job.last = None;
    }
    if matches!(entry.act, Act::RemarkAnswered { .. }) && to_remark(job, now).is_some() {
        return (Tone::Watch, format!("{}; the next remark is here", telling::of_entry(&job.inspection, entry)));
    }
    if let Act::Repeat { step, .. } = &entry.act {
        return (Tone::Good, once_more(job, step, entry, now));
    }
    if matches!(entry.act, Act::Confirm { .. } | Act::NotApplicable { .. } | Act::Skip { .. } | Act::Sign(_)) {
        job.go_on();
    }
    (Tone::Good, telling::of_entry(&job.inspection, entry))
}

/// A repeat asked for is taken next, wherever the hand was: until then its step is open again.
fn once_more(job: &mut Job, step: &str, entry: &Entry, now: Stamp) -> String {
    let words = telling::of_entry(&job.inspection, entry);
    if job.step().is_some_and(|here| here.id == step) {
        job.go_to_first_open();
        return words;
    }
    job.go_to(step, now);
    format!("{words}, to be taken here; Esc {} leads back", Other::Steps.number())
}

/// Whether nobody else's program changed the record, or somebody has said that it was seen; else that is asked.
fn seen_outside(model: &mut Model) -> bool {
    let Some(entry) = model.job().and_then(|job| job.outside) else { return true };
    let other = Other::Outside(entry);
    drop(super::screen::asked::open(model, super::screen::asked::Purpose::Other(other), other.title()));
    false
}

/// Leads to the first remark without an answer; who sent what back. None where every remark has its answer.
fn to_remark(job: &mut Job, now: Stamp) -> Option<String> {
    let open = signing::open_remarks(&job.inspection);
    let back = open.first().and_then(|(entry, ..)| job.inspection.entry(*entry))?;
    let said: Vec<_> = open.iter().map(|(_, _, remark)| remark.text.as_str()).collect();
    let who = telling::name_of(&job.inspection, back.doer());
    let step = signing::remarked_step(&job.inspection).map(str::to_owned);
    let words = match (&step, said.len()) {
        (Some(_), 1) => format!("Sent back by {who}: 1 remark, here (Esc, more, remark)."),
        (Some(_), count) => format!("Sent back by {who}: {count} remarks, one here (Esc, more, remark)."),
        (None, _) => format!("Sent back by {who}: {} (Esc, more, remark)", said.join("; ")),
    };
    if let Some(step) = step.or_else(|| signing::returned_step(&job.inspection).map(str::to_owned)) {
        job.go_to(&step, now);
    }
    Some(words)
}

/// A record that was sent back opens where its first remark without an answer stands, whatever was at hand before. A form
/// that was left open waits at its step, unless it is the answer: that is gone on with.
fn came_back(model: &mut Model, form: Option<&HalfForm>) {
    let now = model.now.stamp;
    let answer = elses::way_to(Other::Remark);
    let Some(job) = model.job_mut() else { return };
    let returned = !signing::open_remarks(&job.inspection).is_empty();
    match form {
        Some(form) if !returned || form.way == answer => return half::reopen(model, form),
        Some(form) => drop(half::title_of(form).map(|title| job.lay_aside(&title, form.clone()))),
        None => {}
    }
    if let Some(words) = to_remark(job, now) {
        model.say(Tone::Watch, words);
    }
}

/// A record was opened or begun: the bench is laid out where somebody left it.
pub(super) fn opened(model: &mut Model, opened: Opened) -> Vec<Effect> {
    let now = model.now.stamp;
    let form = opened.draft.as_ref().and_then(|draft| draft.form.clone());
    let unseen = opened.draft.as_ref().and_then(|draft| draft.notice.clone());
    let remark = opened.remark.clone();
    model.overlays.clear();
    let job = Job::new(opened, now);
    let begun = matches!(model.screen, Screen::Begin(_));
    let fresh = job.inspection.entries().is_empty();
    let again = job.shut.contains(&Missing::SafetyAgain);
    model.screen = Screen::Job(Box::new(job));
    let mut effects = if fresh { ask(model, Request::Do(Act::Begin)) } else { Vec::new() };
    if begun {
        effects.push(Effect::Keep(Half::Begin(None)));
        // the hand stays on the first step; before `begin` was entered none may have been open
        if let Some(job) = model.job_mut().filter(|job| job.step().is_none()) {
            job.go_to_next_step(now);
        }
        model.say(Tone::Good, "Begun. Every figure is saved when it is taken; Ctrl-Q leaves at any moment.");
    }
    // what was half answered lies under whatever is asked first
    came_back(model, form.as_ref());
    if let Some(remark) = remark {
        model.say(Tone::Watch, remark);
    }
    if !seen_outside(model) {
        return effects;
    }
    if again {
        super::screen::question::ask_safe(model);
    }
    let notice = unseen.zip(model.job()).and_then(|(unseen, job)| Notice::again(job, unseen));
    if let Some(notice) = notice {
        model.open(Overlay::Notice(Box::new(notice)));
    }
    effects
}
