//! What is asked before something is done with a record under review, and what the answers come to.

use crate::domain::entry::{Act, Remark};
use crate::domain::gate::step_name;
use crate::domain::id::Id;
use crate::domain::review::Item;
use crate::domain::review::PartLine;
use crate::domain::telling::counted;
use crate::domain::verdict::Disposition;
use crate::records::store::{HalfForm, Unsent};

use super::super::super::field::Field;
use super::super::super::form::{Form, Line, Need, Strict};
use super::super::super::inquiry::refused;
use super::super::super::reviewing::{CONCESSION, Pending, Reading};
use super::Review;
use super::deeds::{Confirm, Over, What};

/// The questions.
pub(super) fn form(review: &Review, what: What) -> Form {
    match what {
        What::Countersign => Form::new("countersign", vec![who(&review.reading)]),
        What::Remark => {
            let (words, step) = under_cursor(review);
            let here = review.remarks.iter().find(|one| one.line == words && one.step == step);
            let on_all = if step.is_none() { "at no step: of all that is sent back" } else { "" };
            let (hint, need) =
                here.map_or((on_all, Need::Wanted), |_| ("left empty, the remark is taken back", Need::Free));
            let mut line = Line::text("what is asked there", hint, need);
            line.field = Field::holding(here.map_or("", |one| one.text.as_str()));
            Form::new(&format!("a remark: {}", in_short(&words)), vec![line])
        }
        What::SendBack => {
            let who = Line { hint: "a supervisor".to_owned(), ..who(&review.reading) };
            Form::new("send it back", vec![who])
        }
        What::Concession => concession(review),
        What::Overrule => overrule(review),
        What::Seen => seen(&review.reading),
        What::Key => key(&review.reading),
    }
}

/// The key of who reviews; where that was not said, whose it is.
fn key(reading: &Reading) -> Form {
    let hint = "a path; its .pub where an agent holds the key";
    let file = Line::text("the key's file", hint, Need::Wanted);
    if let Some(by) = &reading.by {
        let what = reading.keyless(by).map(|(_, words)| words).unwrap_or_default();
        return Form::new(&format!("a key for {what}"), vec![file]);
    }
    let names = reading.keyless_people().map(|person| person.name.clone()).collect();
    Form::new("a key for what one has signed oneself", vec![file, Line::one_of("who signs", names, Need::Wanted)])
}

/// The entry that the key of that form is for.
pub(super) fn to_key(reading: &Reading, what: What, form: &Form) -> Option<u32> {
    let by = reading.by.clone().or_else(|| reading.id_of(&form.answer(1)?));
    let (entry, _) = reading.keyless(&by.filter(|_| what == What::Key)?)?;
    Some(entry)
}

/// `clearance: 0.214 mm at inner 0`, of a line that goes on with its verdict.
fn in_short(words: &str) -> String {
    words.splitn(3, ": ").take(2).collect::<Vec<_>>().join(": ")
}

/// The line under the cursor in words, and the step where a remark on it starts.
fn under_cursor(review: &Review) -> (String, Option<String>) {
    if let Some(item) = review.item() {
        return of_item(review, item);
    }
    let line = review.reading.review.lines.get(review.marked).filter(|_| review.page == 0);
    line.map_or_else(|| ("the record as a whole".to_owned(), None), of_line)
}

/// A line of a further page, as a remark names it.
pub(super) fn of_item(review: &Review, item: &Item) -> (String, Option<String>) {
    (item.text.clone(), review.reading.step_of(item))
}

/// A part of the first page, as a remark names it.
pub(super) fn of_line(line: &PartLine) -> (String, Option<String>) {
    (format!("{}, {}", line.short, line.headline.1), line.step.clone())
}

/// Remarks on a line that were not sent yet.
pub(super) fn remarks_on<'a>(
    review: &'a Review,
    (words, step): &'a (String, Option<String>),
) -> impl Iterator<Item = &'a Unsent> {
    review.remarks.iter().filter(move |one| one.line == *words && one.step == *step)
}

/// How the form at hand is found again: what it is for, and the line that it was opened at.
fn way_to(review: &Review, what: What) -> Vec<String> {
    let (words, step) = under_cursor(review);
    vec![what.word().to_owned(), words, step.unwrap_or_default()]
}

/// A form as it is kept; none where nothing was answered that did not stand there, or no more than a supervisor's name, which
/// the next hand would take for the own one.
pub(super) fn half_of(review: &Review, what: What, form: &Form) -> Option<HalfForm> {
    let answers: Vec<_> = form.lines.iter().map(Line::kept).collect();
    let named = |answer: &str| {
        matches!(what, What::Countersign | What::SendBack)
            && review.reading.supervisors().any(|person| person.is_called(answer))
    };
    let fresh = self::form(review, what);
    let nothing = answers
        .iter()
        .zip(&fresh.lines)
        .all(|(answer, line)| answer.trim().is_empty() || *answer == line.kept() || named(answer));
    (!nothing).then(|| HalfForm { way: way_to(review, what), at: u32::try_from(form.at).unwrap_or(0), answers })
}

/// Lays a form aside; one with nothing in it takes nothing of another one away.
pub(super) fn lay_aside(review: &mut Review, what: What, form: &Form) {
    review.aside = half_of(review, what, form).or(review.aside.take());
}

/// Drops what was half answered of what is done now. Once all is sent, or nothing waits, nothing can be sent back any more.
pub(super) fn done(review: &mut Review) {
    let asked = review.asked.take().map(|(what, _)| what);
    let sent = asked == Some(What::SendBack) || review.reading.pending().is_empty();
    if sent {
        review.remarks.clear();
    }
    let stays = |what: What| Some(what) != asked && (!sent || matches!(what, What::Concession | What::Overrule));
    drop(review.aside.take_if(|left| !what_of(left).is_some_and(stays)));
}

fn what_of(left: &HalfForm) -> Option<What> {
    What::ALL.into_iter().find(|what| left.way.first().is_some_and(|word| word == what.word()))
}

/// The form for something, with what was answered when it was left.
pub(super) fn opened(review: &mut Review, what: What) -> Form {
    let mut form = form(review, what);
    let way = way_to(review, what);
    if let Some(left) = review.aside.take_if(|left| left.way == way) {
        for (line, text) in form.lines.iter_mut().zip(&left.answers) {
            line.field = Field::holding(text);
        }
        form.at = usize::try_from(left.at).unwrap_or(0).min(form.lines.len().saturating_sub(1));
    }
    form
}

/// Opens a form again where it was left; where its line is not there any more, its answers wait for the next such form.
pub(super) fn reopen(review: &mut Review, left: &HalfForm) {
    let what = what_of(left);
    let pages = review.reading.review.pages.iter().map(|page| page.items.len());
    let places: Vec<(usize, usize)> = std::iter::once(review.lines())
        .chain(pages)
        .enumerate()
        .flat_map(|(page, lines)| (0..lines).map(move |line| (page, line)))
        .collect();
    review.aside = Some(left.clone());
    if what == Some(What::Countersign) {
        // whoever opens it next reads the first page first: its one answer, a name, waits until it is chosen again
        return;
    }
    for place in places {
        (review.page, review.marked) = place;
        if let Some(what) = what.filter(|what| way_to(review, *what) == left.way) {
            let form = opened(review, what);
            review.over = Some(Over::Form(what, form));
            return;
        }
    }
    (review.page, review.marked) = (0, 0);
}

/// Who does it: a supervisor, the only one who did not sign on offer.
fn who(reading: &Reading) -> Line {
    let names: Vec<_> = reading.supervisors().map(|person| person.name.clone()).collect();
    let said = reading.by.as_ref().and_then(|by| reading.people.iter().find(|person| person.id.same_as(by)));
    let name = said.or_else(|| reading.only_supervisor()).map(|person| person.name.clone());
    let mut line = Line::offered("who does it", "a supervisor who did not sign", names, Need::Wanted);
    line.field = Field::offering(&name.unwrap_or_default());
    line
}

fn concession(review: &Review) -> Form {
    let here = review.item().filter(|item| item.about.is_some());
    let all: Vec<_> = review.reading.review.referred().map(|item| of_part(review, item)).collect();
    let mut about = Line::one_of("about", all, Need::Wanted);
    if let Some(item) = here {
        about.field = Field::offering(&of_part(review, item));
    }
    let allows = Disposition::ALL.iter().map(|one| one.word().to_owned()).collect();
    let mut lines = vec![about];
    let (last, texts) = CONCESSION.split_last().unwrap_or((&"", &[]));
    lines.extend(texts.iter().map(|label| {
        let (label, hint) = label.split_once(": ").unwrap_or((label, ""));
        Line::text(label, hint, Need::Wanted)
    }));
    lines.push(Line::one_of(last, allows, Need::Wanted));
    lines.push(Line { label: "who enters it".to_owned(), hint: String::new(), ..anybody(&review.reading) });
    Form::new("a concession; what the rules say stays beside it", lines)
}

/// `shaft: step wear, turbine side ...`, as it is chosen from.
fn of_part(review: &Review, item: &Item) -> String {
    let part = item.part.as_ref().and_then(|part| review.reading.standing.part(part));
    let short = part.map(|part| format!("{}, ", part.short)).unwrap_or_default();
    let mut pieces = item.text.splitn(2, ": ");
    let (head, said) = (pieces.next().unwrap_or_default(), pieces.next().unwrap_or_default());
    // a finding is named by what it is: its step may hold several
    match item.about.as_deref().and_then(|about| about.parse::<u32>().ok()) {
        Some(entry) => {
            let said = said.split(": ").next().unwrap_or_default();
            format!("{short}{said}, entry {entry}")
        }
        None => format!("{short}{head}"),
    }
}

fn anybody(reading: &Reading) -> Line {
    let names = reading.people.iter().map(|person| person.name.clone()).collect();
    let mut line = Line::one_of("who enters it", names, Need::Wanted);
    let said = reading.by.as_ref().and_then(|by| reading.people.iter().find(|person| person.id.same_as(by)));
    line.field = Field::offering(&said.map(|person| person.name.clone()).unwrap_or_default());
    line
}

fn seen(reading: &Reading) -> Form {
    let who = Line { label: "who has seen it".to_owned(), ..anybody(reading) };
    let hint = "the own name; somebody new is entered as a fitter".to_owned();
    Form::new(
        "it was changed outside, and somebody has seen that",
        vec![
            Line::text("what was seen, and what became of it", "", Need::Wanted),
            Line { hint, strict: Strict::No, ..who },
        ],
    )
}

fn overrule(review: &Review) -> Form {
    let parts = review.reading.parts();
    let lines = &review.reading.review.lines;
    let here = review.item().and_then(|item| item.part.clone());
    let here = here.or_else(|| lines.get(review.marked).filter(|_| review.page == 0).map(|line| line.part.clone()));
    let short = here.and_then(|id| review.reading.part(&id)).map(|part| part.short.clone());
    let can = |line: &&PartLine| review.reading.part(&line.part).is_some();
    let mut choices: Vec<_> = lines.iter().filter(can).map(|line| line.short.clone()).collect();
    choices.extend(parts.map(|part| part.short.clone()).filter(|short| !lines.iter().any(|line| line.short == *short)));
    let mut part = Line { hint: "its name in tables".to_owned(), ..Line::one_of("which part", choices, Need::Wanted) };
    part.field = Field::offering(&short.unwrap_or_default());
    let to = Disposition::ALL.iter().map(|one| one.word().to_owned()).collect();
    let supervisors = review.reading.supervisors().map(|person| person.name.clone()).collect();
    Form::new(
        "overrule; what the rules say stays beside it, and a crack is never overruled",
        vec![
            part,
            Line::one_of("what is done with it", to, Need::Wanted),
            Line {
                hint: "toward the safer side nobody need be named".to_owned(),
                ..Line::one_of("which supervisor decides", supervisors, Need::Free)
            },
            Line::text("why", "written down, and read by whoever opens it next", Need::Wanted),
            anybody(&review.reading),
        ],
    )
}

/// The answers are there: a remark is kept, everything else becomes the last question.
pub(super) fn finish(review: &mut Review, what: What, form: &Form) -> Result<(), String> {
    let answers: Vec<String> = (0..form.lines.len()).map(|line| form.answer(line).unwrap_or_default()).collect();
    let last = answers.last().cloned().unwrap_or_default();
    if what == What::Remark {
        let (line, step) = under_cursor(review);
        review.remarks.retain(|one| one.line != line || one.step != step);
        review.remarks.extend((!last.is_empty()).then_some(Unsent { line, step, text: last }));
        return Ok(());
    }
    let seen =
        if what == What::Seen { review.reading.seen(&last, answers.first().map_or("", String::as_str)) } else { None };
    let by = review.reading.id_of(&last).or_else(|| seen.as_ref().map(|(by, _)| by.clone()));
    let by = by.ok_or_else(|| {
        format!(
            "Nobody here is known as `{last}`: not in the record, not here. Enter that person: first screen, people."
        )
    })?;
    let (word, acts, lines) = match what {
        What::Countersign | What::Remark | What::Key => countersigned(review, &by)?,
        What::SendBack => sent_back(review)?,
        What::Concession => conceded(review, &answers, &by)?,
        What::Overrule => overruled(review, &answers, &by)?,
        What::Seen => was_seen(review, (&answers, &last), seen)?,
    };
    let name = review.reading.people.iter().find(|person| person.id.same_as(&by)).map(|person| person.name.clone());
    let mut confirm = Confirm::new(word, (by, &name.unwrap_or(last)), acts, lines);
    // over what page 1 warns of nobody signs by pressing Enter once more
    confirm.marked = usize::from(what == What::Countersign && review.reading.warned().next().is_some());
    // a refusal finds the answers again
    lay_aside(review, what, form);
    review.asked = Some((what, form.clone()));
    review.over = Some(Over::Confirm(Box::new(confirm)));
    Ok(())
}

/// A word for what is done, the acts, what they say.
type Deed = (&'static str, Vec<Act>, Vec<String>);

fn countersigned(review: &Review, by: &Id) -> Result<Deed, String> {
    let which = review.reading.to_countersign(by);
    if which.is_empty() {
        return Err(format!("No signature waits that `{by}` may countersign."));
    }
    let mut lines: Vec<_> = which.iter().map(|one| one.words.clone()).collect();
    lines.extend(review.reading.approves(&which, by));
    if !review.remarks.is_empty() && which.len() == review.reading.pending().len() {
        let unsent = counted(review.remarks.len(), "remark");
        lines.push(format!("! {unsent} not sent: dropped with this. Esc 3 sends the record back instead."));
    }
    lines.extend(review.reading.warned());
    Ok(("countersign", which.into_iter().map(Pending::countersign).collect(), lines))
}

fn sent_back(review: &Review) -> Result<Deed, String> {
    let remark = |one: &Unsent| Remark { step: one.step.clone(), text: one.text.clone() };
    let remarks: Vec<_> = review.remarks.iter().map(remark).collect();
    let checklist = &review.reading.inspection.head().checklist;
    let said = |remark: &Remark| {
        let step = remark.step.as_ref().and_then(|step| checklist.step(step));
        let at = step.map(|step| format!("{}: ", step_name(&review.reading.inspection, step))).unwrap_or_default();
        format!("* {at}{}", remark.text)
    };
    let back = format!("what is sent back: {}", review.reading.sent_back());
    let lines = std::iter::once(back).chain(remarks.iter().map(said)).collect();
    let act = review.reading.send_back(remarks).ok_or("No signature waits any more.")?;
    Ok(("send back", vec![act], lines))
}

/// Whether who reviews may concede what was chosen, or, where that was not said, anybody who is known.
pub(super) fn may_concede(review: &Review, form: &Form) -> Result<(), String> {
    let about = form.answer(0).unwrap_or_default();
    let item = named(review, &about)?;
    let (by, people) = (review.reading.by.as_ref(), review.reading.people.iter().map(|person| &person.id));
    let may = |id| review.reading.may_concede(id, item);
    let may: Vec<_> = by.map_or_else(|| people.map(may).collect(), |by| vec![may(by)]);
    let refusal = if may.iter().any(Result::is_ok) { None } else { may.into_iter().find_map(Result::err) };
    refusal.map_or(Ok(()), |refusal| Err(refused(&refusal)))
}

/// The line that a concession is about, as it was chosen.
fn named<'a>(review: &'a Review, about: &str) -> Result<&'a Item, String> {
    let item = review.reading.review.referred().find(|item| of_part(review, item) == about);
    item.ok_or_else(|| "That was not referred.".to_owned())
}

fn conceded(review: &Review, answers: &[String], by: &Id) -> Result<Deed, String> {
    let [about, said @ .., _] = answers else { return Err("Answers are missing.".to_owned()) };
    let item = named(review, about)?;
    review.reading.may_concede(by, item).map_err(|refusal| refused(&refusal))?;
    let act = Reading::concession(item, said).ok_or("Answers are missing.")?;
    let [who, document, conditions, _, allows] = said else { return Err("Answers are missing.".to_owned()) };
    let mut lines =
        vec![format!("{about}: {allows} at worst, by {who}, {document}"), format!("conditions: {conditions}")];
    lines.extend(review.reading.outcome(by, &act));
    Ok(("enter the concession", vec![act], lines))
}

fn was_seen(review: &Review, (answers, name): (&[String], &str), seen: Option<(Id, Vec<Act>)>) -> Result<Deed, String> {
    let (_, acts) = seen.ok_or("Nothing was changed outside any more.")?;
    let mut lines: Vec<_> = review.reading.outside_words().into_iter().chain(answers.first().cloned()).collect();
    if matches!(acts.first(), Some(Act::Person(_))) {
        lines.push(format!("{name} is not known here and is entered as a fitter."));
    }
    Ok(("seen", acts, lines))
}

fn overruled(review: &Review, answers: &[String], by: &Id) -> Result<Deed, String> {
    let [part, to, supervisor, reason, enters] = answers else { return Err("Answers are missing.".to_owned()) };
    let supervisor = if supervisor.is_empty() && review.reading.is_safer(part, to) { enters } else { supervisor };
    if supervisor.is_empty() {
        return Err(format!("`{to}` is less safe than the rules say: name the supervisor who decides."));
    }
    let said = [part, to, supervisor, reason].map(String::clone);
    let act = review.reading.overrule(&said).ok_or_else(|| format!("No part is called `{part}`."))?;
    let mut lines = vec![format!("{part}: {to}, by {supervisor}"), reason.clone()];
    lines.extend(review.reading.outcome(by, &act));
    if review.reading.id_of(supervisor).is_some_and(|id| !id.same_as(by)) {
        lines.push(format!(
            "Typed on {supervisor}'s behalf: claimed until {supervisor} countersigns what is signed after it."
        ));
    }
    Ok(("overrule", vec![act], lines))
}
