//! A save that failed: said on every screen, typing goes on, and three ways out are offered.

use super::super::effect::{Effect, Fault, Query};
use super::super::form::{Form, Line, Need};
use super::super::half;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::update::to_home;
use super::asked::{self, Finish, Purpose};
use super::list::{self, List};

/// The writer says that a save failed.
pub fn failed(model: &mut Model, fault: Fault) {
    let words = format!("NOT SAVED: {fault}");
    let Some(job) = model.job_mut() else { return };
    job.saving.failed(fault);
    let full = job.saving.is_full();
    model.say(Tone::Alarm, words);
    if full {
        ways_out(model);
    }
}

/// Opens the ways out.
pub fn ways_out(model: &mut Model) {
    let Some(job) = model.job() else { return };
    if model
        .overlays
        .iter()
        .any(|overlay| matches!(overlay, Overlay::List(list) if list.purpose == list::Purpose::Saving))
    {
        return;
    }
    let waiting = job.saving.waiting().len();
    let why = job.saving.fault().map(ToString::to_string).unwrap_or_default();
    let lines = vec![
        ("try again".to_owned(), Tone::Plain),
        ("go on in another folder: the record and all that waits go there".to_owned(), Tone::Plain),
        ("write a copy elsewhere, such as a stick".to_owned(), Tone::Plain),
        (format!("end here: {waiting} NOT on the disk, and lost"), Tone::Bad),
    ];
    let entries = if waiting == 1 { "entry" } else { "entries" };
    let title = format!("{waiting} {entries} NOT saved: three ways out");
    model.open(Overlay::List(List::new(title, lines, list::Purpose::Saving)));
    model.say(Tone::Alarm, format!("NOT SAVED: {why}"));
}

/// A way was chosen.
pub fn chosen(model: &mut Model, line: usize) -> Vec<Effect> {
    let folder = |label: &str| vec![Line::text(label, "a folder that can be written to", Need::Wanted)];
    match line {
        0 => {
            model.say(Tone::Plain, "trying again");
            return vec![Effect::Retry];
        }
        1 => asked::open(model, Purpose::Move, Form::new("go on in another folder", folder("which folder"))),
        2 => asked::open(model, Purpose::Copy, Form::new("a copy elsewhere", folder("into which folder"))),
        _ => {
            let mut effects = half::keep(model);
            effects.extend(to_home(model).into_iter().take(1));
            effects.push(Effect::End(1));
            return effects;
        }
    }
    Vec::new()
}

/// The folder was named.
pub fn finish(purpose: &Purpose, form: &Form) -> Finish {
    let Some(folder) = form.answer(0) else { return Finish::Wrong(0, "Which folder?".to_owned()) };
    Finish::Query(if *purpose == Purpose::Move { Query::Move(folder) } else { Query::Copy(folder) })
}
