//! Draws the model and changes nothing. Four sizes: the whole, the wide, the reduced one below 80x24, and below 40x10 the
//! words that say which size it needs.

use ratatui::Frame;

use crate::domain::signing::PENDING;

use super::look::Tone;
use super::model::{Model, Overlay, Screen};
use super::pen::{Pen, width};
use super::screen::{
    asked, begin, bench, far, help, home, list, notice, question, registers, review, small, steps, wide,
};
use super::widget::keybar;

/// Draws the model.
pub fn view(model: &Model, frame: &mut Frame<'_>) {
    let area = frame.area();
    let mut pen = Pen::new(frame.buffer_mut(), area, model.look);
    let (columns, rows) = (pen.width(), pen.height());
    if columns < 40 || rows < 10 {
        too_small(&mut pen);
    } else if columns < 80 || rows < 24 {
        reduced(&mut pen, model);
    } else {
        whole(&mut pen, model);
    }
}

fn too_small(pen: &mut Pen<'_>) {
    let (columns, rows) = (pen.width(), pen.height());
    pen.put(0, 0, "asfound needs 40x10,", Tone::Plain);
    pen.put(0, 1, &format!("this is {columns}x{rows}"), Tone::Plain);
}

fn whole(pen: &mut Pen<'_>, model: &Model) {
    let below = pen.height().saturating_sub(1);
    match &model.screen {
        Screen::Wait(words) => wait(pen, model, words),
        Screen::Home(home) => home::view(pen, model, home),
        Screen::Begin(begin) => begin::view(pen, model, begin),
        Screen::Review(review) => review::view(pen, model, review),
        Screen::Registers(registers) => registers::view(pen, model, registers),
        Screen::Job(job) => {
            let is_wide = pen.width() >= 120 && pen.height() >= 40;
            let columns = if is_wide { 80 } else { pen.width() };
            if is_wide {
                let right = pen.width().saturating_sub(columns);
                wide::view(&mut pen.part(columns, 0, right, below), job);
            }
            bench::view(&mut pen.part(0, 0, columns, pen.height()), model, job);
            keybar::draw(pen, below, model.scope());
        }
    }
    if let Some(overlay) = model.overlays.last() {
        let top = match (&model.screen, overlay) {
            // pages that are read take all of it
            (Screen::Job(_), Overlay::Far | Overlay::Help(_)) => 2,
            // a long list takes the room it needs
            (Screen::Job(_), Overlay::List(list)) if list.lines.len() + 10 > below => {
                below.saturating_sub(list.lines.len() + 1)
            }
            (Screen::Job(_), _) => 8.max(7 + bench::said_rows(model, pen.width().min(80))),
            (_, _) => 3,
        };
        let columns = if pen.width() >= 120 { 80 } else { pen.width() };
        lay_over(&mut pen.part(0, top, columns, below.saturating_sub(top)), model, overlay);
        pen.rows(below, 1).clear();
        keybar::draw(pen, below, model.scope());
    }
}

fn lay_over(pen: &mut Pen<'_>, model: &Model, overlay: &Overlay) {
    match (overlay, model.job()) {
        (Overlay::List(list), _) => list::view(pen, list),
        (Overlay::Form(asked), _) => asked::view(pen, &asked.talk, model.said.as_ref()),
        (Overlay::Question(question), _) => question::view(pen, question),
        (Overlay::Notice(notice), _) => notice::view(pen, notice),
        (Overlay::Help(help), _) => help::view(pen, help),
        (Overlay::Steps(steps), Some(job)) => steps::view(pen, job, steps),
        (Overlay::Far, Some(job)) => far::view(pen, model, job),
        (Overlay::Steps(_) | Overlay::Far, None) => {}
    }
}

fn wait(pen: &mut Pen<'_>, model: &Model, words: &str) {
    begin::head(pen, "asfound", model.scene, model.now.stamp);
    for (row, line) in words.lines().enumerate() {
        pen.put(3, 3 + row, line, Tone::Plain);
    }
    let below = pen.height().saturating_sub(1);
    keybar::draw(pen, below, model.scope());
}

/// Rows from which on a dialogue leaves the caution in sight.
const ROOM: usize = 18;

/// Below 80x24: place, caution, field, message and keys; an overlay takes what is left.
fn reduced(pen: &mut Pen<'_>, model: &Model) {
    let below = pen.height().saturating_sub(1);
    let (mut top, mut marks) = (2, 2);
    match &model.screen {
        Screen::Job(job) => {
            let pending = job.pending();
            // more words than a pending countersignature has want more columns
            let wide = |words: &&str| pen.width() >= bench::HEADLINE + width(words).saturating_sub(width(PENDING));
            let beside = pending.filter(wide);
            bench::headline(pen, job, (1, beside));
            top = 1 + bench::place_line(pen, 1, job);
            if let Some(pending) = pending.filter(|_| beside.is_none()) {
                pen.put(1, top, pending, Tone::Watch);
                top += 1;
            }
            marks = top;
            top += bench::caution(pen, top, job);
            let here = top.max(3);
            small::view(&mut pen.rows(here, below.saturating_sub(here)), model, job);
        }
        Screen::Wait(words) => wait(pen, model, words),
        Screen::Home(home) => home::view(pen, model, home),
        Screen::Begin(begin) => begin::view(pen, model, begin),
        Screen::Review(review) => review::view(pen, model, review),
        Screen::Registers(registers) => registers::view(pen, model, registers),
    }
    if let Some(overlay) = model.overlays.last() {
        let reads = matches!(overlay, Overlay::Far | Overlay::Help(_));
        let top = if reads || pen.height() < ROOM { marks } else { top };
        lay_over(&mut pen.rows(top, below.saturating_sub(top)), model, overlay);
    }
    pen.rows(below, 1).clear();
    keybar::draw(pen, below, model.scope());
}
