//! Page 1: will it last, is it closed, what must I decide; each part that is not within; how sure it is.

use crate::domain::review::{Count, PartLine, Review as Page1, Said, Tenor};
use crate::domain::standing::plan_claimed;
use crate::domain::telling::counted as number_of;

use super::super::super::look::Tone;
use super::super::super::pen::{Pen, width, wrap};
use super::super::super::widget::listing;
use super::{Review, asks, tone_of};

/// Left columns: the answers, every row of them as wide as the first; what is done with a part; what holds it and made it so.
const SAID: usize = 16;
const DO: usize = 20;
const WHY: usize = 32;

/// Below so many columns what holds a part stands below its name, from this column on.
const NARROW: (usize, usize) = (60, 5);

/// Rows of a low window that the marked part keeps: its name and verdict, the first of what holds it, how many there are.
const MARKED: usize = 3;

/// Rows that the parts have at least, their heading and what says how many more there are among them.
const PARTS: usize = 8;

/// Rows of a sentence where all of them have not room.
const LINES: usize = 2;

/// Over what waits for a decision.
const DECIDE: &str = "TO DECIDE";

/// A row of the page: pieces by column, and the line of the cursor that it belongs to.
struct Row {
    line: Option<usize>,
    pieces: Vec<(usize, String, Tone)>,
}

/// ```text
///  INVENTED DEMONSTRATION   INV-420, overhaul, 48480 h, next opening at 60510 h
///  WILL IT LAST?  X Not as it lies: 3 parts to replace, 1 to rework, 2 referred.
///  IS IT CLOSED?  X No: 5 holds. 41 of 41 characteristics judged, 1 provisional.
///  TO DECIDE      ! answer or concession to what was referred: shaft; impeller
///                    do         held by, and what made it so
///  1 bush, turbine   X replace  ? new part. clearance 0.214, alert 0.21 (inner 0);
///                               0.242 at next, limit 0.22
///  ...
///    within           + 13 parts: bush compressor side, casing, ...
///  HOW SURE           insisted on 1, provisional 1, undecided 0, gauge past date 1
///  UNUSUAL            skipped 1, struck 2, odd patterns 1
/// ```
pub(super) fn view(pen: &mut Pen<'_>, review: &Review) {
    let columns = pen.width().saturating_sub(1);
    head(pen, review);
    // the answers leave the parts this much: a part that is not within is never hidden behind what is to be decided
    let least = rows(review, columns, Some(2)).len().min(PARTS);
    let answers = Answers::of(&review.reading.review).within(columns, pen.height().saturating_sub(1 + least));
    let most = pen.height().saturating_sub(1 + MARKED);
    let top = 1 + answers.len().min(most);
    for (row, answer) in answers.iter().take(most).enumerate() {
        draw(pen, 1 + row, answer, None);
    }
    // as much of every part as there is room for, and two rows at least
    let room = pen.height().saturating_sub(top);
    let most = if columns < NARROW.0 { Some(1) } else { Some(2) };
    let all = [None, Some(4), Some(3), most].map(|most| rows(review, columns, most));
    let rows = all.into_iter().min_by_key(|rows| rows.len().saturating_sub(room)).unwrap_or_default();
    // air where there is room for it
    let top = if rows.len() + top < pen.height() { top + 1 } else { top };
    let mut body = pen.rows(top, pen.height().saturating_sub(top));
    scrolled(&mut body, &rows, review.marked);
}

/// Machine, checklist, hours, plan.
fn head(pen: &mut Pen<'_>, review: &Review) {
    let inspection = &review.reading.inspection;
    let (head, opening) = (inspection.head(), inspection.opening());
    let hours = opening.machine_hours.map(|hours| format!(", {hours}")).unwrap_or_default();
    // the hours must not be cut: what they are worth stands in the place of a word
    let [claimed, _] = plan_claimed(inspection);
    let what = if claimed.is_empty() { "next opening" } else { "next, claimed," };
    let next =
        opening.next_hours.map_or(", next opening not planned".to_owned(), |hours| format!(", {what} at {hours}"));
    let x = head.scene.mark().map_or(1, |words| pen.put(1, 0, words, Tone::Invented) + 2);
    let (words, end) = (format!("{}, {}{hours}{next}", head.rotor.machine, head.checklist.id), pen.width());
    pen.cut_in((x, 0), &words, end.saturating_sub(1), Tone::Plain);
}

/// What stands on top and is never scrolled away: each kind under its label, in whole sentences.
struct Answers {
    kinds: Vec<(&'static str, Vec<(String, Tone)>)>,
}

impl Answers {
    fn of(review: &Page1) -> Self {
        let said = |said: &Said| {
            let (sign, tone) = match said.tenor {
                Tenor::Good => ('+', Tone::Good),
                Tenor::Watch => ('~', Tone::Watch),
                Tenor::Bad => ('X', Tone::Bad),
            };
            vec![(format!("{sign} {}", said.text), tone)]
        };
        let marked = |all: &[String], tone: Tone| all.iter().map(|one| (format!("! {one}"), tone)).collect::<Vec<_>>();
        let nothing = |words: &str| vec![(format!("+ {words}"), Tone::Good)];
        let odd = review.sure.iter().chain(&review.unusual).filter(|count| count.number > 0);
        let odd: Vec<_> = odd.map(|count| format!("{} {}", count.name, count.number)).collect();
        let kinds = vec![
            ("THE FILE", marked(&review.warnings, Tone::Bad)),
            ("WILL IT LAST?", said(&review.lasts)),
            ("IS IT CLOSED?", said(&review.closed)),
            (DECIDE, if review.decide.is_empty() { nothing("nothing") } else { marked(&review.decide, Tone::Watch) }),
            (
                "UNUSUAL",
                match odd.as_slice() {
                    [] => nothing("nothing insisted on, skipped, struck, claimed or odd"),
                    odd => vec![(format!("~ {}", odd.join(", ")), Tone::Watch)],
                },
            ),
        ];
        Self { kinds }
    }

    /// All of it in at most `most` rows where that can be had: what is too much of a kind is counted, from the last on, and
    /// stands whole on the page behind; the first of each kind, and both questions, always stay.
    fn within(&self, columns: usize, most: usize) -> Vec<Row> {
        let mut kept: Vec<_> = self.kinds.iter().map(|(_, all)| all.len()).collect();
        let all = self.rows(columns, &kept, usize::MAX);
        if all.len() <= most {
            return all;
        }
        // in a low window each says its first row
        let least = self.rows(columns, &kept.iter().map(|all| *all.min(&1)).collect::<Vec<_>>(), LINES).len();
        let lines = if least > most { 1 } else { LINES };
        loop {
            let rows = self.rows(columns, &kept, lines);
            let last = |label: &str| self.kinds.iter().position(|(one, _)| *one == label);
            // the counts stand below once more; of the rest the first says what is most pressing
            let least = [("UNUSUAL", 0), (DECIDE, 1), ("THE FILE", 1)];
            let less = least.into_iter().filter_map(|(label, least)| Some((last(label)?, least)));
            let mut less = less.filter(|(at, least)| kept.get(*at).is_some_and(|kept| kept > least));
            match less.next().and_then(|(at, _)| kept.get_mut(at)).filter(|_| rows.len() > most) {
                Some(kept) => *kept -= 1,
                None => return rows,
            }
        }
    }

    /// So many of each kind, each in at most so many rows.
    fn rows(&self, columns: usize, kept: &[usize], lines: usize) -> Vec<Row> {
        let mut rows = Vec::new();
        for ((label, all), kept) in self.kinds.iter().zip(kept) {
            let more = all.len().saturating_sub(*kept);
            let counted = match (more, kept) {
                (0, _) => None,
                (_, 0) if lines == 1 => None,
                (_, 0) => Some(("~ counted below, and on page 2".to_owned(), Tone::Watch)),
                (more, _) => Some((format!("! and {more} more: Tab, page 2"), Tone::Bad)),
            };
            for (number, (text, tone)) in all.iter().take(*kept).chain(&counted).enumerate() {
                let room = columns.saturating_sub(SAID);
                for (row, line) in shortened(text, room, lines).into_iter().enumerate() {
                    let label = if (number, row) == (0, 0) { *label } else { "" };
                    rows.push(Row {
                        line: None,
                        pieces: vec![(1, label.to_owned(), Tone::Strong), (SAID, line, *tone)],
                    });
                }
            }
        }
        rows
    }
}

/// A sentence in at most so many rows; one that is longer says that it goes on.
fn shortened(text: &str, columns: usize, lines: usize) -> Vec<String> {
    const ON: &str = " ... page 2";
    let whole = wrap(text, columns);
    if whole.len() <= lines {
        return whole;
    }
    let mut kept: Vec<_> = whole.into_iter().take(lines).collect();
    if let Some(last) = kept.last_mut() {
        let room = wrap(last, columns.saturating_sub(ON.len())).into_iter().next().unwrap_or_default();
        *last = format!("{room}{ON}");
    }
    kept
}

/// The parts in at most `most` rows each, the counts.
fn rows(review: &Review, columns: usize, most: Option<usize>) -> Vec<Row> {
    let page = &review.reading.review;
    let mut rows = Vec::new();
    if !page.lines.is_empty() && columns >= NARROW.0 {
        rows.push(Row {
            line: None,
            pieces: vec![
                (DO, "do".to_owned(), Tone::Quiet),
                (WHY, "held by, and what made it so".to_owned(), Tone::Quiet),
            ],
        });
    }
    for (number, line) in page.lines.iter().enumerate() {
        rows.extend(part(review, (number, line), columns, most));
    }
    let within = page.lines.len();
    let names = if page.within.is_empty() { String::new() } else { format!(": {}", page.within.join("; ")) };
    let text = format!("+ {} within{names}", page.within.len());
    for (number, line) in wrap(&text, columns.saturating_sub(DO)).into_iter().enumerate() {
        let label = if number == 0 { numbered(within, "all pages") } else { Vec::new() };
        let pieces = label.into_iter().chain([(DO, line, Tone::Good)]).collect();
        rows.push(Row { line: Some(within), pieces });
    }
    for (label, counts) in [("how sure", &page.sure), ("unusual", &page.unusual)] {
        let first =
            if label == "how sure" { numbered(within + 1, label) } else { vec![(3, label.to_owned(), Tone::Strong)] };
        rows.extend(counted(within + 1, first, counts, columns));
    }
    rows
}

fn numbered(line: usize, words: &str) -> Vec<(usize, String, Tone)> {
    let digit = listing::digit(line).map_or(" ".to_owned(), |digit| digit.to_string());
    vec![(1, digit, Tone::Key), (3, words.to_owned(), Tone::Strong)]
}

/// A part: what to do, what holds it, what made it so, in as many rows as it needs.
fn part(review: &Review, (number, line): (usize, &PartLine), columns: usize, most: Option<usize>) -> Vec<Row> {
    let holds: Vec<_> = line.holds.iter().map(|(sign, word)| format!("{sign} {word}")).collect();
    let holds = holds.join(", ");
    let narrow = columns < NARROW.0;
    let at = if narrow { NARROW.1 } else { WHY };
    let columns = columns.saturating_sub(at);
    let wrapped = |kept: usize| {
        let why = line.made_so.iter().take(kept).cloned().collect::<Vec<_>>().join("; ");
        let more = line.made_so.len().saturating_sub(kept);
        let more = if more == 0 { String::new() } else { format!("; {more} more") };
        wrap(&if holds.is_empty() { format!("{why}{more}") } else { format!("{holds}: {why}{more}") }, columns)
    };
    // reasons are said whole or counted, never cut
    let all = line.made_so.len().max(1);
    let fitting = (1..=all).rev().find(|kept| most.is_none_or(|most| wrapped(*kept).len() <= most)).unwrap_or(1);
    // what somebody has decided, and what holds it, takes the rows that it needs
    let kept = if narrow { fitting } else { fitting.max(line.foremost) };
    let (sign, word) = line.headline;
    let tone = tone_of(sign);
    let unsent = asks::remarks_on(review, &asks::of_line(line)).next().is_some();
    let remark = match (unsent, line.sent_back) {
        (true, _) => "* remark",
        (false, 0) => "",
        (false, _) => "* sent back",
    };
    let mut rows = Vec::new();
    let mut name: Vec<_> = numbered(number, &line.short);
    name.push((DO.max(4 + width(&line.short)), format!("{sign} {word}"), tone));
    if narrow {
        let end = name.last().map_or(0, |(x, words, _)| x + width(words) + 2);
        name.push((end, remark.to_owned(), Tone::Watch));
        rows.push(Row { line: Some(number), pieces: std::mem::take(&mut name) });
    }
    let lines = if narrow { most.map_or(usize::MAX, |most| most.max(1)) } else { usize::MAX };
    let mut wrapped = wrapped(kept);
    // the second row says it below the name
    wrapped.resize(wrapped.len().max(if remark.is_empty() || narrow { 0 } else { 2 }), String::new());
    for (row, words) in wrapped.into_iter().take(lines).enumerate() {
        let mut pieces = std::mem::take(&mut name);
        if row == 1 && !narrow {
            pieces.push((3, remark.to_owned(), Tone::Watch));
        }
        let held = words.strip_prefix(&holds).filter(|_| row == 0 && !holds.is_empty()).map(str::to_owned);
        match held {
            Some(rest) => {
                pieces.push((at, holds.clone(), Tone::Watch));
                pieces.push((at + width(&holds), rest, Tone::Plain));
            }
            None => pieces.push((at, words, Tone::Plain)),
        }
        rows.push(Row { line: Some(number), pieces });
    }
    rows
}

/// Names with their numbers one behind the other; what is not nothing stands out.
fn counted(line: usize, first: Vec<(usize, String, Tone)>, counts: &[Count], columns: usize) -> Vec<Row> {
    let mut rows = vec![Row { line: Some(line), pieces: first }];
    let mut x = DO;
    for (number, count) in counts.iter().enumerate() {
        let text = format!("{} {}", count.name, count.number);
        if x + width(&text) + 1 > columns {
            rows.push(Row { line: Some(line), pieces: Vec::new() });
            x = DO;
        }
        let tone = if count.number > 0 { Tone::Watch } else { Tone::Plain };
        let comma = if number + 1 < counts.len() { "," } else { "" };
        if let Some(row) = rows.last_mut() {
            row.pieces.push((x, text.clone(), tone));
            row.pieces.push((x + width(&text), comma.to_owned(), Tone::Plain));
        }
        x += width(&text) + 2;
    }
    rows
}

/// Draws the rows so that all of the marked line are in sight.
fn scrolled(pen: &mut Pen<'_>, rows: &[Row], marked: usize) {
    let all = pen.height();
    // where not all fit, the last row says so
    let room = if rows.len() > all { all.saturating_sub(1) } else { all };
    let first = rows.iter().position(|row| row.line == Some(marked)).unwrap_or(0);
    let last = rows.iter().rposition(|row| row.line == Some(marked)).unwrap_or(0);
    // what has no room whole keeps its beginning, which names it
    let skipped = (last + 1).saturating_sub(room).min(first);
    for (y, row) in rows.iter().skip(skipped).take(room).enumerate() {
        draw(pen, y, row, Some(marked));
    }
    if rows.len() > all {
        let below = rows.len().saturating_sub(skipped + room);
        let words = match (skipped, below) {
            (0, below) => format!("{} below: arrows", number_of(below, "row")),
            (above, 0) => format!("{} above: arrows", number_of(above, "row")),
            (above, below) => format!("{} above, {below} below: arrows", number_of(above, "row")),
        };
        pen.right(1, room, &words, Tone::Quiet);
    }
}

fn draw(pen: &mut Pen<'_>, y: usize, row: &Row, marked: Option<usize>) {
    let here = marked.is_some() && row.line == marked;
    if here {
        pen.wash(y, Tone::Here);
    }
    for (x, text, tone) in &row.pieces {
        pen.put(*x, y, text, if here { Tone::Here } else { *tone });
    }
}
