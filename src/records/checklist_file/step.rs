//! Steps and what they take.

use crate::domain::checklist::{Judged, Point, Signing, Soon, Step, Takes, Works};
use crate::domain::figure::Figure;
use crate::records::form::{Fields, Row, ShapeRule, Slot, keys};
use crate::records::words::{characteristic, figure, name, phase, step_ask, text, timer_mark, yes_no};
use crate::records::yaml::Layout;

use super::grid::grid;

keys! {
    fn judged -> Judged, Flow {
        characteristic "characteristic" need characteristic,
        reckoning "reckoning" need text,
        result "result" may text,
        obliges "obliges" row name,
    }

    fn works -> Works, Flow {
        reckoning "reckoning" need text,
        with "with" pairs text,
    }

    fn soon -> Soon, Flow {
        after "after" need name,
        since "since" need timer_mark,
        to "to" need figure,
    }

    fn point -> Point, Flow {
        id "point" need name,
        text "text" need text,
        optional "optional" flag yes_no,
    }
}

/// A step.
pub fn step(slot: &mut Slot<'_>, value: Option<&Step>) -> Option<Step> {
    slot.map(Layout::Block, |fields| {
        let id = fields.need("step", name, value.map(|step| &step.id));
        let part = fields.need("part", name, value.map(|step| &step.part));
        let phase = fields.need("phase", phase, value.map(|step| &step.phase));
        let title = fields.need("title", text, value.map(|step| &step.title));
        let doing = fields.list("do", text, value.map(|step| &step.doing));
        let caution = fields.may("caution", text, value.map(|step| &step.caution));
        let seen = fields.may("seen", text, value.map(|step| &step.seen));
        let why = fields.list("why", text, value.map(|step| &step.why));
        let how = fields.list("how", text, value.map(|step| &step.how));
        let mistakes = fields.list("mistakes", text, value.map(|step| &step.mistakes));
        let needs = fields.row("needs", name, value.map(|step| &step.needs));
        let soon = fields.may("soon", soon, value.map(|step| &step.soon));
        let on_demand = fields.flag("on demand", yes_no, value.map(|step| &step.on_demand));
        let asks = fields.row("asks", step_ask, value.map(|step| &step.asks));
        let takes = fields.choice("takes", TAKES, value.map(|step| (word(&step.takes), &step.takes)));
        let looks_for = fields.row("looks for", text, value.map(|step| &step.looks_for));
        let offers = fields.row("offers", text, value.map(|step| &step.offers));
        let judges = fields.list("judges", judged, value.map(|step| &step.judges));
        let works = fields.list("works", works, value.map(|step| &step.works));
        Some(Step {
            id: id?,
            part: part?,
            phase: phase?,
            title: title?,
            doing: doing?,
            why: why?,
            how: how?,
            mistakes: mistakes?,
            caution: caution?,
            seen: seen?,
            needs: needs?,
            soon: soon?,
            on_demand: on_demand?,
            asks: asks?,
            takes: takes?,
            looks_for: looks_for?,
            offers: offers?,
            judges: judges?,
            works: works?,
        })
    })
}

const TAKES: &[Row<Takes>] = &[
    ("points", points),
    ("tick", |_, _| Some(Takes::Tick)),
    ("look", |_, _| Some(Takes::Look)),
    ("readings", readings),
    ("soak", soak),
    ("words", |_, _| Some(Takes::Words)),
    ("decisions", |_, _| Some(Takes::Sign(Signing::Decisions))),
    ("close", |_, _| Some(Takes::Sign(Signing::Close))),
];

fn word(takes: &Takes) -> &'static str {
    match takes {
        Takes::Points(_) => "points",
        Takes::Tick => "tick",
        Takes::Look => "look",
        Takes::Readings(_) => "readings",
        Takes::Soak { .. } => "soak",
        Takes::Words => "words",
        Takes::Sign(Signing::Decisions) => "decisions",
        Takes::Sign(Signing::Close) => "close",
    }
}

fn points(fields: &mut Fields<'_>, value: Option<&Takes>) -> Option<Takes> {
    let points = if let Some(Takes::Points(points)) = value { Some(points) } else { None };
    fields.rule(ShapeRule::AtLeastOne(vec!["points"]));
    let points = fields.list("points", point, points)?;
    if points.is_empty() {
        fields.fault(
            "a step that takes points and has none",
            "`points:` with a line each",
            "Put the points to confirm.",
        );
    }
    Some(Takes::Points(points))
}

fn readings(fields: &mut Fields<'_>, value: Option<&Takes>) -> Option<Takes> {
    let value = if let Some(Takes::Readings(grid)) = value { Some(grid) } else { None };
    fields.need("grid", grid, value).map(Takes::Readings)
}

fn soak(fields: &mut Fields<'_>, value: Option<&Takes>) -> Option<Takes> {
    let times = if let Some(Takes::Soak { from, to }) = value { Some((*from, *to)) } else { None };
    let (from, to) = fields.need("soak", soak_times, times.as_ref())?;
    Some(Takes::Soak { from, to })
}

/// `{from: 2 h, to: 3 h}`.
fn soak_times(slot: &mut Slot<'_>, value: Option<&(Figure, Option<Figure>)>) -> Option<(Figure, Option<Figure>)> {
    slot.map(Layout::Flow, |fields| {
        let from = fields.need("from", figure, value.map(|(from, _)| from));
        let to = fields.may("to", figure, value.map(|(_, to)| to));
        Some((from?, to?))
    })
}
