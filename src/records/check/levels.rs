//! What is odd about a sheet without being wrong.

use crate::domain::capability::{NarrowAlert, narrow_alerts};
use crate::domain::characteristic::Characteristic;
use crate::domain::checklist::Checklist;
use crate::domain::exact::{Exact, Rounding};
use crate::domain::instrument::Instrument;
use crate::domain::sheet::{Sheet, far_twins, half_judged, mixed, new_past_alert, of_another_edition, one_sided};
use crate::records::checklist_file::{built_in, built_in_names};
use crate::records::sheet_file::lacks;

use super::endless;
use super::places::Places;

/// What a sheet lacks for the program's first checklist, alerts that no gauge can tell from their limit, and levels that lead
/// to what never ends.
pub(super) fn remarks_of_sheet(
    places: &Places<'_>,
    sheet: &Sheet,
    gauges: &[Instrument],
    checklists: &[Checklist],
) -> Vec<String> {
    let Some(Ok(checklist)) = built_in_names().next().and_then(built_in) else { return Vec::new() };
    let (lacks, given) = (lacks("", sheet, &checklist), places.key("given"));
    let lacks = lacks.iter().map(|lack| format!("{given}: {}, {}.", lack.found, lack.expected));
    let at = |one: Characteristic| places.item("levels", "characteristic", one.id());
    let narrow = narrow_alerts(sheet, &checklist, gauges).into_iter().map(|one| {
        let NarrowAlert { characteristic, room, guard, gauge } = one;
        let (id, name, at) = (characteristic.id(), characteristic.name(), at(characteristic));
        // in the sheet's own unit, where it has one of that kind
        let unit = sheet.unit_of(characteristic.unit());
        let in_its = |size: &Exact| characteristic.unit().convert(size, unit).unwrap_or_else(|| size.clone());
        let (room, guard) = (in_its(&room), in_its(&guard));
        let part = checklist.part(characteristic.part()).map_or("", |part| &part.name);
        let guard = guard.rounded(4, Rounding::Up);
        format!(
            "{at}: {part}, the alert of {name} ({id}) lies {room} {unit} before its limit, nearer than the guard of any gauge here that is fit for it: {guard} {unit} with {gauge}. Between the two nothing can be judged: a gauge with a guard below {room} {unit} would do, or an alert farther off."
        )
    });
    let named = |one: Characteristic| {
        let part = checklist.part(one.part()).map_or("", |part| &part.name);
        format!("{}: {part}, {} ({})", at(one), one.name(), one.id())
    };
    let mixed = mixed(sheet).map(|(one, units)| {
        format!(
            "{} has its levels in several units: {units}. Look whether each figure is in the unit of its source.",
            named(one)
        )
    });
    let one_sided = one_sided(sheet).map(|(one, side)| format!("{} has {}.", named(one), half_judged(side).1));
    let past = new_past_alert(sheet)
        .map(|one| format!("{} has a new range that goes past its alert: a new part may be one to watch.", named(one)));
    let twins = far_twins(sheet).map(|far| {
        let [at, _] = far.both.map(at);
        format!("{at}: the {far}. Look whether each figure is in the unit of its source.")
    });
    let old = Some(of_another_edition(sheet)).filter(|count| *count > 0).map(|count| {
        let sources = if count == 1 { "1 source names" } else { &format!("{count} sources name") };
        let (at, edition) = (places.key("manual"), &sheet.edition);
        format!("{at}: edition {edition}, and {sources} another edition of it. Look each up in this one.")
    });
    let lacks = lacks.chain(past).chain(old);
    lacks
        .chain(narrow)
        .chain(mixed)
        .chain(twins)
        .chain(one_sided)
        .chain(endless::told(places, sheet, checklists))
        .collect()
}
