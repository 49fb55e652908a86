//! The table of what was judged.

use crate::domain::hours;
use crate::domain::inspection::Doubted;
use crate::domain::outlook::Outlook;
use crate::domain::reckon::told::u_shown;
use crate::domain::review::graver;
use crate::domain::signing;
use crate::domain::standing::{CharacteristicStanding, hold_words};
use crate::domain::verdict::{Disposition, Verdict};

use super::super::json::{condition_word, outcome_word};
use super::{Cell, Column, Exported, Kind, LAYOUT, Table, column, decimal, maybe, text};

/// One row for each characteristic that a record judges, as found and as left.
pub(super) const CHARACTERISTICS: Table = Table {
    name: "characteristics",
    doc: "a characteristic as found or as left, by the signature that counts",
    columns: &CHARACTERISTIC,
    key: &["file", "characteristic", "condition", "step"],
    rows: characteristics,
};

const CHARACTERISTIC: [Column; 26] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("characteristic", Kind::Text, "what is judged: bush.ts.clearance"),
    column("condition", Kind::Text, "as found or as left"),
    column("step", Kind::Text, "step it is measured at"),
    column("part", Kind::Text, "part"),
    column("signed", Kind::Text, "the signature that counts: close, decisions or unsigned"),
    column("signed_entry", Kind::Whole, "its entry; nothing behind it is in this row"),
    column("outcome", Kind::Text, "judged, open, not taken, incomplete, left out, not asked for, accepted unjudged"),
    column("value", Kind::Decimal, "figure of the place that counts, in the unit beside it"),
    column("value_exact", Kind::Text, "the same with all digits, or as a fraction where they never end"),
    column("unit", Kind::Text, "unit of value, u, bound and forecast"),
    column("u", Kind::Decimal, "its standard uncertainty, rounded up to two figures"),
    column("place", Kind::Text, "place that counts"),
    column("reached", Kind::Text, "level reached"),
    column("bound", Kind::Decimal, "bound that decided, or the nearest"),
    column("source", Kind::Text, "where that level stands"),
    column("leads_to", Kind::Text, "what it leads to, forecast included"),
    column("provisional", Kind::Flag, "whether a doubt was insisted on in a reading it rests on"),
    column("part_hours", Kind::Decimal, "hours of the part then, h"),
    column("next_value", Kind::Decimal, "forecast at the next opening; of a land its flat, of a life hours"),
    column("next_bound", Kind::Decimal, "its bound, one-sided 95 %"),
    column("next_unit", Kind::Text, "unit of the forecast"),
    column("disposition", Kind::Text, "of the whole part: as signed, else as it stands"),
    column("holds", Kind::Text, "holds of the whole part, semicolons between them"),
];

fn characteristics(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    record.standing.characteristics.iter().map(|one| row(record, one).into()).collect()
}

fn row(record: &Exported<'_>, one: &CharacteristicStanding) -> [Cell; 26] {
    let judgement = one.judgement();
    let value = judgement.map(|judgement| &judgement.value);
    let reached = judgement.map(|judgement| &judgement.reached);
    let variance = value.and_then(|value| u_shown(&value.variance.as_ref()?.variance));
    let exact = |exact: Option<&_>| exact.map_or(Cell::Nothing, decimal);
    let next = match &one.outlook {
        Some(Outlook::Told { told, unit, .. }) => [decimal(&told.next), decimal(&told.bound), text(unit.to_string())],
        Some(Outlook::None(_) | Outlook::Still(_)) | None => [Cell::Nothing, Cell::Nothing, Cell::Nothing],
    };
    let [next_value, next_bound, next_unit] = next;
    let part = one.characteristic.part();
    let (disposition, holds) = verdict(record, part);
    [
        Cell::Whole(LAYOUT),
        record.id(),
        text(record.file),
        text(one.characteristic.id()),
        text(condition_word(one.condition)),
        text(&one.step),
        text(part),
        text(record.signed_word()),
        record.sign_entry(),
        text(outcome_word(&one.outcome)),
        exact(value.map(|value| &value.value)),
        maybe(value.map(|value| &value.value)),
        text(one.measured.unit.to_string()),
        exact(variance.as_ref()),
        maybe(value.map(|value| &value.spot)),
        maybe(reached.map(|reached| reached.reach.word())),
        exact(reached.and_then(|reached| reached.bound.as_ref())),
        maybe(reached.map(|reached| &reached.source)),
        text(one.leads_to().word()),
        judgement.map_or(Cell::Nothing, |judgement| Cell::Flag(judgement.provisional == Doubted::Yes)),
        exact(hours::of_part(&record.judged, part).as_ref()),
        next_value,
        next_bound,
        next_unit,
        disposition,
        holds,
    ]
}

/// The verdict on a part: the words of the signature, else today's; of a record changed outside since it was signed the graver.
fn verdict(record: &Exported<'_>, part: &str) -> (Cell, Cell) {
    let told = |word: &str, holds: &[String]| (text(word), maybe(Some(holds.join("; ")).filter(|all| !all.is_empty())));
    let stands = record.standing.part(part);
    if let Some((_, sign, signed)) = &record.signed {
        let changed = stands.filter(|_| signing::is_shaken(record.inspection, *sign));
        let signed = signed.iter().find(|signed| signed.part == part);
        return signed.map_or((Cell::Nothing, Cell::Nothing), |one| {
            let Some(now) = changed else {
                return told(one.disposition.map_or("not judged", Disposition::word), &one.holds);
            };
            let counts = graver(&now.verdict, one);
            told(counts.disposition.word(), &counts.holds.iter().map(hold_words).collect::<Vec<_>>())
        });
    }
    stands.map_or((Cell::Nothing, Cell::Nothing), |one| {
        let nothing = one.verdict == Verdict::default() && one.judged.0 == 0;
        let word = if nothing { "not judged" } else { one.verdict.disposition.word() };
        told(word, &one.verdict.holds.iter().map(hold_words).collect::<Vec<_>>())
    })
}
