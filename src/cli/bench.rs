//! An open record in the line mode, from the first question to the end of the input.

use std::io;
use std::path::Path;

use crate::domain::gate::step_name;
use crate::domain::id::Id;
use crate::domain::signing;
use crate::domain::telling::name_of;
use crate::exit::Exit;
use crate::face::effect::Query;
use crate::face::half;
use crate::face::job::hands;
use crate::face::plain::{Echo, Ended, Session, converse};
use crate::face::shelf::files_of;
use crate::records::clock::{Clock, RealClock};
use crate::records::inspection_file::Trust;
use crate::records::store::{Draft, HalfForm, Held, Store, Watched};

use super::desk::RecordDesk;
use super::folder;
use super::out::Out;
use super::raw::Plain;
use super::screen;
use super::surroundings::Surroundings;

/// How typed lines are shown.
pub(super) fn echo(surroundings: &Surroundings) -> Echo {
    if surroundings.typed { Echo::Typed } else { Echo::Printed }
}

/// How a record is worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Line by line.
    Lines,
    /// On a whole screen.
    Screen,
}

impl Surroundings {
    /// A screen where one can be drawn, unless lines were asked for.
    pub(super) fn way(&self, asked: Plain) -> Way {
        if asked.plain || !self.typed || !screen::can_be_drawn() { Way::Lines } else { Way::Screen }
    }
}

/// Goes on with a record, `by` standing for what is entered: as said, else whoever worked on it last; who that is, is said.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn go_on(
    (store, path): (&Store, &Path),
    by: Option<&Id>,
    way: Way,
    surroundings: &Surroundings,
    out: &mut Out,
) -> io::Result<Exit> {
    if way == Way::Screen {
        let file = path.display().to_string();
        let first = match by {
            Some(by) => Query::OpenAs(file, by.clone()),
            None => Query::Open(file),
        };
        return screen::run(store.clone(), first, out);
    }
    let desk = open(store, path, by);
    let (mut session, mut desk, remarks) = match desk {
        Ok(opened) => opened,
        Err(why) => {
            out.complain(&format!("asfound: {why}"))?;
            return Ok(Exit::NotDone);
        }
    };
    let id = session.inspection().head().id.clone();
    out.say(&format!("{id}, in {}", path.display()))?;
    let inspection = session.inspection();
    for remark in signing::came_back(inspection).iter().chain(&remarks) {
        out.say(&format!("! {remark}"))?;
    }
    for (_, _, remark) in signing::open_remarks(inspection) {
        let step = remark.step.as_ref().and_then(|id| inspection.head().checklist.step(id));
        let at = step.map(|step| format!("{}: ", step_name(inspection, step))).unwrap_or_default();
        out.say(&format!("!   {at}{}", remark.text))?;
    }
    let ended = converse(&mut session, &mut io::stdin().lock(), out.page(), &mut desk, echo(surroundings))?;
    out.say(&format!("Go on with: asfound resume {}", named(&id, desk.file.path(), surroundings)))?;
    drop(desk.lock);
    match ended {
        Ended::Kept => Ok(Exit::Done),
        Ended::NotSaved => {
            out.complain("asfound: entries are not on the disk; see above for the reason.")?;
            Ok(Exit::NotDone)
        }
    }
}

/// What a record is called in a command that is typed next: by its id alone it is looked for in the usual folder.
pub(super) fn named(id: &str, file: &Path, surroundings: &Surroundings) -> String {
    let usual = folder::store(None, surroundings).ok();
    let found = usual.and_then(|usual| folder::record_named(&usual, id).ok()).map(|(_, found)| found);
    if found.as_deref() == Some(file) { id.to_owned() } else { in_a_shell(&file.display().to_string()) }
}

fn open(store: &Store, path: &Path, by: Option<&Id>) -> Result<(Session, RecordDesk, Vec<String>), String> {
    let settings = store.settings().map_err(|problems| problems.to_string())?;
    let clock = RealClock::default();
    let Held { lock, opened, mut remarks } = store.hold(path, by, clock.now()).map_err(|fault| fault.to_string())?;
    remarks.extend(store.set_unreadable_aside(path));
    let kept = store.draft(path);
    let named = by.is_some();
    let (reads, writes) = hands(&kept.clone().unwrap_or_default(), &opened.inspection);
    let (by, writer) = by.cloned().map_or((reads, writes), |by| (by, None));
    if opened.inspection.person(&by).is_none() {
        let known: Vec<_> = opened.inspection.people().iter().map(|person| person.id.to_string()).collect();
        let entered = store.people().is_ok_and(|people| people.iter().any(|person| person.id.same_as(&by)));
        let mend = if entered {
            " It is in people.yaml: go on as one of them, and ! 9, who is here, takes it in."
        } else {
            ""
        };
        return Err(format!("nobody in this record is known as `{by}`. Known are: {}.{mend}", known.join(", ")));
    }
    let watched = Watched::new(settings.photos, &opened.inspection);
    if !named {
        let name = |id| name_of(&opened.inspection, id);
        let writes = writer.as_ref().map(|writer| format!(", {} writes", name(writer))).unwrap_or_default();
        let hands = format!("{}{writes}", name(&by));
        remarks.push(format!("What is typed is entered as {hands}. Somebody else? --by ID, or ! 9, who is here."));
    }
    let (files, out) = files_of(store, path, &opened);
    remarks.extend(out);
    let mut session = Session::new(opened.inspection, by, settings.break_hours).over(files);
    if let Some(late) = kept.as_ref().and_then(|draft| draft.late.clone()) {
        remarks.push(format!("LATE FROM PAPER, {}. {}", late.taken, crate::face::acts::FROM_PAPER));
        session.late_from(Some(late));
    }
    let found = go_on_by_lines(&mut session, kept.clone().unwrap_or_default(), &mut remarks);
    session.beside_screen(writer, half::left_in_words(&found));
    // what came back is answered before the work goes on where somebody left it
    let back = signing::remarked_step(session.inspection()).or_else(|| signing::returned_step(session.inspection()));
    let back = back.map(str::to_owned);
    if let Some(step) = back.or_else(|| kept.as_ref().map(|draft| draft.step.clone())) {
        session.begin_at(&step);
    }
    match opened.trust {
        Trust::Whole | Trust::Seen { .. } => {}
        Trust::Changed { entry } => session.changed_outside(entry),
        Trust::Cut { entry } => {
            return Err(format!("{} cannot be read from entry {entry} on. Fetch a whole copy.", path.display()));
        }
        Trust::Newer { format } => {
            return Err(format!(
                "{} has format {format}, newer than this program writes. Go on with the newer program, or read it with `asfound show`.",
                path.display()
            ));
        }
    }
    let file = opened.file;
    let desk = RecordDesk { store: store.clone(), file, lock, clock, watched, found, kept, seen: None };
    Ok((session, desk, remarks))
}

/// What was left half answered goes on line by line where it can; the draft without that comes back.
fn go_on_by_lines(session: &mut Session, mut found: Draft, remarks: &mut Vec<String>) -> Draft {
    let mut left = |step: &str, form: HalfForm| {
        let title = half::title_of(&form);
        let of_screen = session.left_half(step, form);
        let there = if of_screen.is_some() { "It is found again there, on the screen." } else { "It goes on there." };
        remarks.extend(title.map(|title| format!("Half answered at {step}: {title}. {there}")));
        of_screen
    };
    // of two at one step the last is gone on with first: the one that was open
    found.aside.retain(|aside| left(&aside.step, aside.form.clone()).is_some());
    found.form = found.form.and_then(|form| left(&found.step, form));
    found
}

/// A path as a shell takes it for one word.
fn in_a_shell(path: &str) -> String {
    let plain = |letter: char| letter.is_alphanumeric() || "/._-~:\\".contains(letter);
    if path.chars().all(plain) { path.to_owned() } else { format!("'{}'", path.replace('\'', r"'\''")) }
}

#[cfg(test)]
mod tests {
    use super::in_a_shell;

    #[test]
    fn a_path_with_a_blank_or_a_quote_is_one_word() {
        assert_eq!(in_a_shell("/media/stick/2031-04-17-overhaul.yaml"), "/media/stick/2031-04-17-overhaul.yaml");
        assert_eq!(in_a_shell("/a b/c.yaml"), "'/a b/c.yaml'");
        assert_eq!(in_a_shell("/it's/c.yaml"), r"'/it'\''s/c.yaml'");
    }
}
