//! A save that failed: said on every screen, typing goes on, and three ways out are offered.

use super::super::effect::{Effect, Fault};
use super::super::half;
use super::super::inquiry::{Answers, Reply};
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::update::to_home;
use super::asked::{self, Purpose};
use super::list::{self, List};

/// The writer says that a save failed.
pub fn failed(model: &mut Model, fault: Fault) {
    // why stands first, its long path last
    let words = format!("NOT SAVED, kept here: {}", why(&fault));
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
    let why = job.saving.fault().map(why).unwrap_or_default();
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

/// Why, what to do, and only then the way out and where: two lines hold no more than the beginning of a long path.
fn why(fault: &Fault) -> String {
    let Fault { what, mend } = fault;
    let words: Vec<&str> = what.split(' ').collect();
    let (paths, words): (Vec<&str>, Vec<&str>) = words.into_iter().partition(|word| word.contains('/'));
    format!("{} {mend} Ctrl-Q: three ways out. {}", words.join(" "), paths.join(" "))
}

/// A way was chosen.
pub fn chosen(model: &mut Model, line: usize) -> Vec<Effect> {
    match line {
        0 => {
            model.say(Tone::Plain, "trying again");
            vec![Effect::Retry]
        }
        1 => asked::open(model, Purpose::Move, "go on in another folder: what waits goes there too"),
        2 => asked::open(model, Purpose::Copy, "a copy elsewhere, with what waits"),
        _ => {
            let mut effects = half::keep(model);
            effects.extend(to_home(model).into_iter().take(1));
            effects.push(Effect::End(1));
            effects
        }
    }
}

/// Which folder.
///
/// # Errors
/// The question.
pub fn folder(text: &str, answers: &mut Answers<'_>) -> Reply<String> {
    answers.sentence(&format!("{text} (one that can be written to, such as a stick)"))
}
