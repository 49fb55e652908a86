//! Out of limit: said at once, in words, sign and colour, with what it leads to and what else it obliges. It must be
//! seen before going on.

use crate::domain::inspection::Inspection;
use crate::domain::telling;
use crate::domain::verdict::Consequence;
use crate::records::store::Unseen;

use super::super::action::Action;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, width, wrap};
use super::super::shown::{News, Shown};
use super::super::widget::scrolled;

/// What must be seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The entry that brought it about.
    pub entry: u32,
    /// `X OUT OF LIMIT: clearance`.
    pub title: String,
    /// What, by which level, what it leads to, what else it obliges.
    pub lines: Vec<String>,
    /// Lines that are scrolled away.
    pub scroll: usize,
}

impl Notice {
    /// As it is kept until it was seen.
    pub fn unseen(&self) -> Unseen {
        Unseen { entry: self.entry, title: self.title.clone(), lines: self.lines.clone() }
    }

    /// What was kept; none when its entry never came to the disk.
    pub fn again(job: &Job, kept: Unseen) -> Option<Self> {
        let Unseen { entry, title, lines } = kept;
        job.inspection.entry(entry).map(|_| Self { entry, title, lines, scroll: 0 })
    }

    /// Says what is new.
    pub fn of(job: &Job, news: &News) -> Option<Self> {
        let entry = job.inspection.entries().last()?.number;
        match news {
            News::Characteristic(characteristic, condition, _) => {
                let standing = job.standing.characteristic(*characteristic, *condition)?;
                let shown = Shown::of(standing);
                let part = part_name(&job.inspection, characteristic.part());
                let reached = &standing.judgement()?.reached;
                let mut lines = vec![
                    format!("{part}, {}: {}", characteristic.name(), shown.figure),
                    leads_to(reached.leads_to, &part),
                ];
                lines.extend(obliges(&job.inspection, standing.obliges(&job.inspection)));
                lines.extend(held(job, characteristic.part()));
                lines.push(format!("{}  Source: {}.", shown.level, reached.source));
                Some(Self { entry, title: format!("X OUT OF LIMIT: {}", characteristic.name()), lines, scroll: 0 })
            }
            News::Finding(number, consequence) => {
                let found = job.inspection.entry(*number)?;
                let words = telling::of_entry(&job.inspection, found);
                let crate::domain::entry::Act::Finding(finding) = &found.act else { return None };
                let part = part_name(&job.inspection, &finding.part);
                let kind = job.inspection.head().checklist.part(&finding.part)?.finding(&finding.kind)?;
                let mut lines = vec![format!("{part}: {words}")];
                lines.extend(kind.consequences(&finding.grade).into_iter().map(|one| leads_to(one, &part)));
                lines.extend(obliges(&job.inspection, &kind.obliges));
                Some(Self {
                    entry,
                    title: format!("X {}: {}", consequence.word().to_uppercase(), kind.kind),
                    lines,
                    scroll: 0,
                })
            }
        }
    }
}

fn part_name(inspection: &Inspection, part: &str) -> String {
    inspection.head().checklist.part(part).map_or_else(|| part.to_owned(), |part| part.name.clone())
}

fn obliges(inspection: &Inspection, steps: &[String]) -> Option<String> {
    telling::obliged(inspection, steps).map(|steps| format!("It also obliges: {steps}."))
}

/// What a consequence means for the part, in one sentence.
fn leads_to(consequence: Consequence, part: &str) -> String {
    match consequence {
        Consequence::Nothing => "Recorded, nothing more.".to_owned(),
        Consequence::Watch => format!("It leads to: watch {part}; say what, how and by when."),
        Consequence::Refer => format!("It leads to: refer. {part} is held until the maker or class has answered."),
        Consequence::Rework => format!("It leads to: rework {part}."),
        Consequence::Replace => format!("It leads to: replace {part}; a new part is to be checked before fitting."),
        Consequence::Call => format!("It leads to: stop and call. Work on {part} stops until somebody has answered."),
    }
}

/// Holds of the part besides the figure itself.
fn held(job: &Job, part: &str) -> Option<String> {
    let part = job.standing.part(part)?;
    let holds: Vec<_> = part.verdict.holds.iter().map(|hold| format!("{} {}", hold.sign(), hold.word())).collect();
    let mut distinct: Vec<String> = Vec::new();
    for hold in holds {
        if !distinct.contains(&hold) {
            distinct.push(hold);
        }
    }
    (!distinct.is_empty()).then(|| format!("The part is held: {}.", distinct.join(", ")))
}

/// Keys of a notice: Enter and Esc both say that it was seen.
pub fn act(model: &mut Model, mut notice: Box<Notice>, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Further {
        notice.scroll = super::scrolled(notice.scroll, key, 2);
    }
    if action != Action::Seen && action != Action::Back {
        model.overlays.push(Overlay::Notice(notice));
    }
    Vec::new()
}

/// ```text
/// XXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXX
///  X OUT OF LIMIT: clearance
///  Bush, turbine side, clearance: 0.2267 mm at inner 0
///  ...
///  Enter: seen, go on
/// ```
pub fn view(pen: &mut Pen<'_>, notice: &Notice) {
    pen.clear();
    // on a small screen what it leads to must still be in sight
    let small = pen.height() < 12;
    let (title, mut row) = if small { (0, 1) } else { (1, 4) };
    for y in 0..=title * 2 {
        pen.wash(y, Tone::Alarm);
    }
    let short = notice.title.split(": ").next().unwrap_or_default();
    let words = if width(&notice.title) + 3 > pen.width() { short } else { &notice.title };
    pen.put(2, title, words, Tone::Alarm);
    let columns = pen.width().saturating_sub(4);
    let tone = |number: usize| if number == 0 { Tone::Strong } else { Tone::Plain };
    let wrapped =
        |(number, line): (usize, &String)| wrap(line, columns).into_iter().map(move |line| (2, line, tone(number)));
    let lines: Vec<_> = notice.lines.iter().enumerate().flat_map(wrapped).collect();
    let room = pen.height().saturating_sub(if small { row } else { row + 2 });
    row += scrolled::draw(&mut pen.rows(row, room), &lines, notice.scroll);
    if !small {
        pen.put(2, row + 1, "Enter: seen, go on", Tone::Key);
    }
}
