//! The step screen. The same thing stands at the same spot on every step: where, what to do, what is wanted now, the
//! work, the verdict, who, keys.

mod top;

use crate::domain::checklist::Takes;
use crate::domain::gate;
use crate::domain::telling;

use super::super::action::{Action, Scope};
use super::super::acts::Other;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::{Job, Lower};
use super::super::look::Tone;
use super::super::model::{Model, Overlay, Said, Screen};
use super::super::pen::{Pen, tail, width, wrap};
pub use top::{HEADLINE, first_word, header, headline, name_in, place_line};

use super::{deed, elses, hands, look, lower, points, readings, scrolled, sign, small, soak, tick, way, words};

/// What the keys of the step mean.
pub fn scope(job: &Job) -> Scope {
    if !job.shut.is_empty() && !job.is_step_settled() {
        return Scope::Shut;
    }
    match job.step().map(|step| &step.takes) {
        Some(Takes::Readings(_)) => Scope::Figure,
        Some(Takes::Points(_)) => Scope::Points,
        Some(Takes::Look) => Scope::Look,
        Some(Takes::Soak { .. }) => Scope::Soak,
        Some(Takes::Words) => Scope::Words,
        Some(Takes::Sign(_)) => Scope::Sign,
        Some(Takes::Tick) | None => Scope::Tick,
    }
}

/// Whether printable keys go into a field here.
pub fn takes_text(job: &Job) -> bool {
    matches!(scope(job), Scope::Figure | Scope::Words | Scope::Sign)
}

/// Keys of a step.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let now = model.now.stamp;
    if action == Action::Else {
        elses::open(model);
        return Vec::new();
    }
    if action == Action::Far {
        model.overlays.push(Overlay::Far);
        return Vec::new();
    }
    if action == Action::Place {
        readings::go(model, key);
        return Vec::new();
    }
    let page = page(model);
    let Screen::Job(job) = &mut model.screen else { return Vec::new() };
    if action == Action::Lower {
        job.turn_lower(way(key));
        return Vec::new();
    }
    if action == Action::Line {
        job.go_by(way(key));
        return Vec::new();
    }
    if action == Action::Page {
        job.scroll = scrolled(job.scroll, key, page);
        return Vec::new();
    }
    if action == Action::GoThere {
        if job.shut.contains(&gate::Missing::SafetyAgain) {
            super::question::ask_safe(model);
            return Vec::new();
        }
        let at = job.at_hand(now);
        let Some(way) = job.step().map(|step| at.way_out(step, &job.shut)) else { return Vec::new() };
        return deed::perform(model, way.into(), None);
    }
    enter(model)
}

/// Rows that a page key scrolls by: what is to be signed by a page, less what a message took of it that goes with the key, so
/// that no row is passed over; a text by a part of what stands there.
fn page(model: &Model) -> usize {
    let (columns, rows) = (usize::from(model.size.0), usize::from(model.size.1));
    match model.job() {
        Some(job) if scope(job) == Scope::Sign && !small::is_reduced(model) => {
            let (_, top, split) = rows_of(model, job, (columns.min(80), rows));
            split.saturating_sub(top + 3 + SAID).max(1)
        }
        Some(job) if scope(job) == Scope::Sign => rows / 6 + 1,
        Some(_) | None => {
            if rows < 14 {
                1
            } else {
                3
            }
        }
    }
}

/// Rows that a message takes of what is to be signed, at most.
const SAID: usize = 2;

/// The rows in which the rule over the work stands, the work begins, and the lower half.
fn rows_of(model: &Model, job: &Job, (columns, height): (usize, usize)) -> (usize, usize, usize) {
    let split = height.saturating_sub(2 + lower_rows(model, job, (columns, height)));
    // what was said may need more lines: the heading of the work stands below them
    let rule = 7 + said_rows(model, columns).max(1);
    let before = beforehand(job, columns).len().clamp(1, BEFOREHAND);
    (rule, (rule + before).min(split), split)
}

/// Whether Enter answers a remark: the step was done once and sent back, and nothing is typed there.
fn answers_remark(job: &Job) -> bool {
    // a look and words go on taking what is seen and said; there the remark is answered under Esc
    let takes_more = matches!(job.step().map(|step| &step.takes), Some(Takes::Look | Takes::Words));
    job.is_sent_back() && !takes_more && job.field().is_empty()
}

/// Enter, by what the step takes.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    if answers_remark(job) {
        return super::asked::open(model, super::asked::Purpose::Other(Other::Remark), Other::Remark.title());
    }
    match job.step().map(|step| &step.takes) {
        Some(Takes::Readings(_)) => readings::enter(model),
        Some(Takes::Points(_)) => points::enter(model),
        Some(Takes::Look) => look::enter(model),
        Some(Takes::Soak { .. }) => soak::enter(model),
        Some(Takes::Words) => words::enter(model),
        Some(Takes::Sign(_)) => sign::enter(model),
        Some(Takes::Tick) | None => tick::enter(model),
    }
}

/// On to the next step that waits.
pub fn next_step(model: &mut Model) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    if job.is_safety_asked(now) {
        // every safety point is seen before it is said that they hold
        match job.next_safety_step() {
            Some(step) => job.go_to(&step, now),
            None => super::question::ask_safe(model),
        }
        return;
    }
    match job.go_to_next_step(now) {
        Some(step) => {
            let name = job.inspection.head().checklist.step(&step).map(|step| gate::step_name(&job.inspection, step));
            model.say(Tone::Plain, format!("next: {}", name.unwrap_or(step)));
        }
        None => model.say(Tone::Good, "No other step waits. Esc 6 shows all steps, Ctrl-Q leaves."),
    }
}

/// Rows that what must be known before may take.
const BEFOREHAND: usize = 3;

/// Columns of `+2 more: Tab` and the blank before it.
const MORE: usize = 13;

/// What must be known before, in the place of the rule and over rows of the work below it.
fn beforehand(job: &Job, columns: usize) -> Vec<String> {
    let lines = job.step().map(|step| telling::beforehand(&job.inspection, step)).unwrap_or_default();
    let wrapped = |room: usize| lines.iter().flat_map(|line| wrap(line, room)).collect::<Vec<_>>();
    let room = columns.saturating_sub(3);
    let all = wrapped(room);
    // how many more there are stands at the end of the last row
    if all.len() > BEFOREHAND { wrapped(room.saturating_sub(MORE)) } else { all }
}

fn beforehand_lines(pen: &mut Pen<'_>, y: usize, lines: &[String]) {
    for (row, line) in lines.iter().take(BEFOREHAND).enumerate() {
        pen.wash(y + row, Tone::Plain);
        let more = lines.len().saturating_sub(BEFOREHAND);
        let more = if more > 0 && row + 1 == BEFOREHAND { format!("+{more} more: Tab") } else { String::new() };
        let end = pen.right(1, y + row, &more, Tone::Watch);
        pen.cut_in((1, y + row), line, end.saturating_sub(1), Tone::Watch);
    }
}

/// The caution, whole, and how many rows it takes: one, where the window is as wide as it should be. Where a name is to be
/// typed without one, what is half answered.
pub fn caution(pen: &mut Pen<'_>, y: usize, job: &Job) -> usize {
    let Some(step) = job.step() else { return 0 };
    let columns = pen.width().saturating_sub(1);
    let Some(caution) = &step.caution else {
        let left = if matches!(step.takes, Takes::Sign(_)) { sign::half_answered(job) } else { None };
        if let Some(left) = &left {
            pen.cut_in((1, y), left, columns, Tone::Caution);
        }
        return usize::from(left.is_some());
    };
    let lines = wrap(&format!("! {caution}"), columns);
    for (row, line) in lines.iter().enumerate() {
        pen.put(1, y + row, line, Tone::Caution);
    }
    lines.len()
}

/// What is wanted now, and the line below it with what was said last.
pub fn now_lines(pen: &mut Pen<'_>, (y, rows): (usize, usize), model: &Model, job: &Job) {
    let here = pen.glyphs().here.to_string();
    pen.put(1, y, &here, Tone::Key);
    if scope(job) == Scope::Shut {
        shut_line(pen, y, job);
    } else {
        wanted(pen, y, model, job);
    }
    said_line(pen, (y + 1, rows), model);
}

/// What keeps a step shut: the first, where Enter leads, and how many more there are.
fn shut_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    let (first, more) = shut_words(job);
    let whole = format!("{first}{more}");
    let ways = [&whole, "not open yet: what comes first stands below", "not open yet: what comes first below"];
    pen.put_fitting((3, y), &ways, Tone::Watch);
}

fn shut_words(job: &Job) -> (String, String) {
    let first = job.shut.first().map(|missing| missing.words(&job.inspection)).unwrap_or_default();
    let more = job.shut.len().saturating_sub(1);
    (format!("not open yet: {first}"), if more == 0 { String::new() } else { format!(", and {more} more") })
}

/// What of it the lower half has to say: not the first again, where it stands whole above.
pub fn shut_below(job: &Job, columns: usize) -> impl Iterator<Item = String> {
    let (first, more) = shut_words(job);
    let whole = width(&first) + width(&more) + 4 <= columns;
    job.shut.iter().skip(usize::from(whole)).map(|missing| format!("- {}", missing.words(&job.inspection)))
}

/// What was said last; beside the field of a dialogue it stands there alone, and a call just made keeps the step shut: that
/// says it.
fn said_above(model: &Model) -> Option<&Said> {
    let shut = model.job().filter(|job| scope(job) == Scope::Shut).map(shut_words);
    let repeats = |said: &&Said| shut.as_ref().is_some_and(|(first, _)| first.ends_with(&said.text));
    model
        .said
        .as_ref()
        .filter(|_| !matches!(model.overlays.last(), Some(Overlay::Form(_))))
        .filter(|said| !repeats(said))
}

/// What was said last, in at most so many rows.
pub fn said_line(pen: &mut Pen<'_>, (y, rows): (usize, usize), model: &Model) {
    let Some(said) = said_above(model) else {
        if let Some((words, tone)) = unasked(model, pen.width()) {
            pen.cut_in((3, y), &words, pen.width().saturating_sub(1), tone);
        }
        return;
    };
    if said.tone == Tone::Alarm {
        pen.wash(y, Tone::Alarm);
    }
    small::shortened(pen, (y, rows), &said.text, said.tone);
}

/// What stands there where nothing was said.
fn unasked(model: &Model, columns: usize) -> Option<(String, Tone)> {
    let job = model.job()?;
    let warning = readings::warning(model, job).filter(|_| scope(job) == Scope::Figure);
    let soaking = soak::elsewhere(model, job, columns.saturating_sub(4));
    // a wait whose time is over waits for nobody; one that runs on gives way
    let left = sign::half_answered_here(job).or(warning).map(|words| (words, Tone::Watch));
    let soaking = soaking.filter(|(_, tone)| left.is_none() || *tone != Tone::Quiet);
    soaking.or(left)
}

fn wanted(pen: &mut Pen<'_>, y: usize, model: &Model, job: &Job) {
    if answers_remark(job) {
        pen.put(3, y, "sent back. Enter: answer the remark", Tone::Watch);
        return;
    }
    match job.step().map(|step| &step.takes) {
        Some(Takes::Readings(_)) => readings::now_line(pen, y, job),
        Some(Takes::Points(_)) => points::now_line(pen, y, job),
        Some(Takes::Look) => look::now_line(pen, y, job),
        Some(Takes::Soak { .. }) => soak::now_line(pen, y, model, job),
        Some(Takes::Words) => words::now_line(pen, y, job),
        Some(Takes::Sign(_)) => sign::now_line(pen, y, job),
        Some(Takes::Tick) | None => tick::now_line(pen, y, job),
    }
}

/// Draws the field from column `x`: brackets, the text, its end in sight.
pub fn field(pen: &mut Pen<'_>, (x, y): (usize, usize), columns: usize, text: &str) -> usize {
    pen.put(x, y, "[ ", Tone::Key);
    let shown = tail(text, columns.saturating_sub(1));
    pen.put(x + 2, y, &format!("{shown}_"), Tone::Field);
    pen.put(x + 2 + columns, y, " ]", Tone::Key)
}

/// ```text
///  DEMO-1 overhaul          INVENTED DEMONSTRATION           118 saved       14:05
/// #Bush, turbine side / clearance by lift                 measure, step 31 of 62 #
///  Dry and clean. Hold the shaft down. Let the bush down, type DOWN; press it up,
///  type UP, with the small turn hand. Three times at each place, off the grooves.
///
///  ! The dial stands on the plate. Its magnet never touches the rotor.
///  > inner 0, third up    [ 0.23_            ] mm       D2  0.002 mm  turn 0.200 mm
///    inner 0, third down: 0.018 mm taken
///  -- seen from the turbine end, 0 = pin slot, clockwise ------------------------
///           1 down  1 up    2 down  2 up    3 down  3 up
///  outer 0   0.020   0.228   0.020   0.230   0.022   0.230   0.2087 + within
///  ...
///  -- judged: clearance ---------------------------------------------------------
///  (four rows: scale, working, why, how, mistakes, last time)
///  fitter A reads, fitter C writes
///  Enter take   arrows other place   Tab working, why   Esc what else
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    header(pen, model, job);
    place_line(pen, 1, job);
    let Some(step) = job.step() else { return };
    for (row, line) in step.doing.iter().take(3).enumerate() {
        pen.put(1, 2 + row, line, Tone::Plain);
    }
    caution(pen, 5, job);
    now_lines(pen, (6, usize::MAX), model, job);
    let below = pen.height().saturating_sub(2);
    let (rule, top, split) = rows_of(model, job, (pen.width(), pen.height()));
    if rule < split {
        pen.rule(rule, step.seen.as_deref().unwrap_or(""));
        beforehand_lines(pen, rule, &beforehand(job, pen.width()));
    }
    work(&mut pen.rows(top, split.saturating_sub(top)), model, job);
    lower::view(&mut pen.rows(split, below.saturating_sub(split)), model, job);
    let x = pen.put(1, below, &hands::hands(job), Tone::Plain);
    readings::fitness_line(pen, (x, below), model, job);
}

/// Rows that what was said takes.
pub fn said_rows(model: &Model, columns: usize) -> usize {
    let unasked = || usize::from(unasked(model, columns).is_some());
    said_above(model).map_or_else(unasked, |said| wrap(&said.text, columns.saturating_sub(4)).len())
}

/// Rows of the lower half: a scale needs five, a text as many as there are.
fn lower_rows(model: &Model, job: &Job, (columns, height): (usize, usize)) -> usize {
    if job.lower == Lower::Judged && scope(job) != Scope::Shut {
        return lower::judged_rows(job, columns);
    }
    // no more than the text needs: the grid stays in sight
    let most = height.saturating_sub(14).max(8);
    lower::text_rows(model, job, columns).clamp(3, most)
}

/// The work itself.
pub fn work(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    match job.step().map(|step| &step.takes) {
        Some(Takes::Readings(grid)) => readings::view(pen, job, grid),
        Some(Takes::Points(points)) => points::view(pen, job, points),
        Some(Takes::Look) => look::view(pen, job),
        Some(Takes::Soak { from, to }) => soak::view(pen, model, job, (*from, *to)),
        Some(Takes::Words) => words::view(pen, job),
        Some(Takes::Sign(what)) => sign::view(pen, job, *what),
        Some(Takes::Tick) => tick::view(pen, model, job),
        None => {}
    }
}
