//! The head of a record: everything needed to read it in twenty years without any other file.

use crate::domain::carried::Carried;
use crate::domain::characteristic::Characteristic;
use crate::domain::inspection::{Head, Past, Previous, Scene};
use crate::domain::reckon::vector::Polar;
use crate::domain::taken_out::TakenOut;
use crate::domain::unit::Unit;

use super::checklist_file::checklist;
use super::entry_file::opening_answers;
use super::form::{Fields, Slot, keys};
use super::instrument_file::instrument;
use super::people_file::person;
use super::rotor_file::{hours, parts, rotor};
use super::sheet_file::sheet;
use super::words::{characteristic, count, day, exact, id, name, stamp, text, verbatim, words, yes_no};
use super::yaml::Layout;

keys! {
    fn previous -> Previous, Flow {
        inspection "inspection" need text,
        entry "entry" need count,
        chain "chain" need verbatim,
    }

    fn carried -> Carried, Flow {
        inspection "inspection" need text,
        part "part" need name,
        about "about" need words,
        who "who" need words,
        document "document" need words,
        conditions "conditions" need words,
        until "until" need words,
    }

    fn taken_out -> TakenOut, Flow {
        inspection "inspection" need text,
        part "part" need name,
        serial "serial" need text,
        hours "hours" may hours,
    }

    fn vector -> Polar, Flow {
        eccentricity "eccentricity" need exact(Unit::Millimetre),
        high_spot "high spot" need exact(Unit::Degree),
    }
}

/// The head alone.
pub fn head(slot: &mut Slot<'_>, value: Option<&Head>) -> Option<Head> {
    slot.map(Layout::Block, |fields| head_keys(fields, value))
}

/// All keys before `entries`.
pub(super) fn head_keys(fields: &mut Fields<'_>, value: Option<&Head>) -> Option<Head> {
    let inspection = fields.need("inspection", text, value.map(|head| &head.id));
    let begun = fields.need("begun", stamp, value.map(|head| &head.begun));
    let by = fields.need("by", id, value.map(|head| &head.by));
    let scene = scene(fields, value.map(|head| head.scene));
    let previous = fields.may("previous", previous, value.map(|head| &head.previous));
    let rotor = fields.need("rotor", rotor, value.map(|head| &head.rotor));
    let opened = fields.need("opened", opening_answers, value.map(|head| &head.opened));
    let parts = parts(fields, value.map(|head| &head.parts));
    let checklist = fields.need("checklist", checklist, value.map(|head| &head.checklist));
    let sheet = fields.may("sheet", sheet, value.map(|head| &head.sheet));
    let instruments = fields.list("instruments", instrument, value.map(|head| &head.instruments));
    let people = fields.list("people", person, value.map(|head| &head.people));
    let history = fields.list("history", past, value.map(|head| &head.history));
    let carried = fields.list("concessions", carried, value.map(|head| &head.carried));
    let taken_out = fields.list("taken out", taken_out, value.map(|head| &head.taken_out));
    Some(Head {
        id: inspection?,
        begun: begun?,
        by: by?,
        scene: scene?,
        previous: previous?,
        rotor: rotor?,
        opened: opened?,
        checklist: checklist?,
        sheet: sheet?,
        instruments: instruments?,
        people: people?,
        history: history?,
        carried: carried?,
        taken_out: taken_out?,
        parts: parts?,
    })
}

/// `invented: yes` or `practice: yes`; neither for a machine that exists.
fn scene(fields: &mut Fields<'_>, value: Option<Scene>) -> Option<Scene> {
    let is = |scene: Scene| value.map(|value| value == scene);
    let invented = fields.flag("invented", yes_no, is(Scene::Invented).as_ref());
    let practice = fields.flag("practice", yes_no, is(Scene::Practice).as_ref());
    match (invented?, practice?) {
        (false, false) => Some(Scene::Real),
        (true, false) => Some(Scene::Invented),
        (false, true) => Some(Scene::Practice),
        (true, true) => {
            fields.fault_at("practice", "`invented` or `practice`, not both", "Take one of the two out.");
            None
        }
    }
}

/// One characteristic at an earlier opening.
fn past(slot: &mut Slot<'_>, value: Option<&Past>) -> Option<Past> {
    slot.map(Layout::Flow, |fields| {
        let inspection = fields.need("inspection", text, value.map(|past| &past.inspection));
        let date = fields.need("date", day, value.map(|past| &past.date));
        let one = fields.need("characteristic", characteristic, value.map(|past| &past.characteristic));
        let hours = fields.need("hours", hours, value.map(|past| &past.hours));
        // without it the unit is not known; the fault of the key itself is listed already
        let unit = one.or(value.map(|past| past.characteristic)).map_or(Unit::One, Characteristic::unit);
        let figure = fields.need("value", exact(unit), value.map(|past| &past.value));
        let u = fields.may("u", exact(unit), value.map(|past| &past.u));
        let place = fields.may("place", text, value.map(|past| &past.place));
        let side = fields.may("side", crate::records::words::side, value.map(|past| &past.side));
        let as_left = fields.flag("as left", yes_no, value.map(|past| &past.as_left));
        let vector = fields.may("vector", vector, value.map(|past| &past.vector));
        Some(Past {
            inspection: inspection?,
            date: date?,
            characteristic: one?,
            hours: hours?,
            value: figure?,
            u: u?,
            place: place?,
            side: side?,
            as_left: as_left?,
            vector: vector?,
        })
    })
}
