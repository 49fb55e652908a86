//! What follows from a record for others: what is referred, with its evidence, and what to order.

use serde_json::{Value, json};

use crate::domain::inspection::Inspection;
use crate::domain::review::{Kept, Review, job_held, warnings};
use crate::domain::signing;
use crate::domain::standing::{Asked, Standing, ToOrder};

use super::countersign::{entered, mark};

/// A letter with everything that is referred and the evidence behind it, to be read and sent by a person.
pub fn referral(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Vec<String> {
    let head = inspection.head();
    let referred: Vec<_> = standing.to_refer().collect();
    let mut lines: Vec<String> = mark(inspection).map(str::to_owned).into_iter().collect();
    lines.extend(warned(inspection, kept));
    if referred.is_empty() {
        lines.push(format!("Nothing is referred in {}.", head.id));
        return lines;
    }
    let hours = inspection.opening().machine_hours.map_or_else(|| "not given".to_owned(), |hours| hours.to_string());
    lines.extend([
        format!("Record {}", head.id),
        format!("Machine {}, rotor {}, serial {}, hours {hours}", head.rotor.machine, head.rotor.id, head.rotor.serial),
        entered(inspection),
        String::new(),
        "We ask for your decision, in writing, on:".to_owned(),
    ]);
    lines.extend(referred.iter().zip(1..).map(|((part, what), number)| format!("{number}. {}: {what}", part.name)));
    let review = Review::of(inspection, standing, kept);
    lines.extend(unsettled(standing));
    let about = |part: &str| referred.iter().any(|(referred, _)| referred.id == part);
    for page in review.pages.iter().filter(|page| page.part.as_deref().is_some_and(about)) {
        lines.extend([String::new(), page.title.clone()]);
        for item in &page.items {
            lines.push(format!("  {} {}", item.sign, item.said()));
            lines.extend(item.evidence.iter().map(|line| format!("      {line}")));
        }
    }
    lines.extend([String::new(), "Until the answer is entered in the record these parts are held.".to_owned()]);
    lines
}

/// What must be known before the record is believed: whoever reads the paper alone must know it too.
fn warned(inspection: &Inspection, kept: &Kept) -> impl Iterator<Item = String> {
    warnings(inspection, kept).into_iter().map(|warning| format!("! {warning}"))
}

/// What holds the job as a whole: whoever reads the paper must know by which book it was judged.
fn unsettled(standing: &Standing) -> Option<String> {
    job_held(standing).map(|held| format!("! Not settled for the job as a whole: {held}"))
}

/// Parts that were signed otherwise than today's rules have them: whoever orders must know of both.
fn signed_otherwise(standing: &Standing) -> impl Iterator<Item = String> {
    standing.parts.iter().filter_map(|part| Some(format!("! {}: {}", part.name, part.signed.as_ref()?)))
}

/// What is referred, for programs.
pub fn referral_json(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Value {
    let one = |(part, what): Asked<'_>| json!({"part": part.id, "name": part.name, "what": what});
    json!({
        "inspection": inspection.head().id,
        "invented": mark(inspection).is_some(),
        "changed_outside": signing::is_changed_outside(inspection),
        "warnings": warnings(inspection, kept),
        "referred": standing.to_refer().map(one).collect::<Vec<_>>(),
    })
}

/// What to order.
pub fn spares(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Vec<String> {
    let head = inspection.head();
    let mut lines: Vec<String> = mark(inspection).map(str::to_owned).into_iter().collect();
    lines.extend(warned(inspection, kept));
    let wanted = standing.to_order(inspection).map(|one| format!("  1 x {}, {}", one.part.name, one.words()));
    let wanted: Vec<_> = wanted.collect();
    if wanted.is_empty() {
        lines.push(format!("Nothing is to be ordered for {}.", head.id));
        lines.extend(signed_otherwise(standing));
        lines.extend(unsettled(standing));
        return lines;
    }
    lines.push(format!("To order for {}, {}, serial {}:", head.id, head.rotor.machine, head.rotor.serial));
    lines.extend(wanted);
    lines.extend(signed_otherwise(standing));
    lines.extend(unsettled(standing));
    lines.push(
        "Order by the variant and serial number stamped on the part; measure the new part before it is fitted."
            .to_owned(),
    );
    lines
}

/// What to order, for programs.
pub fn spares_json(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Value {
    let one = |one: ToOrder<'_>| {
        let (part, number, claimed) = (one.part, one.number, one.part.claimed_not_needed);
        json!({"part": part.id, "name": part.name, "part_number": number, "claimed_not_needed_in_entry": claimed})
    };
    json!({
        "inspection": inspection.head().id,
        "invented": mark(inspection).is_some(),
        "changed_outside": signing::is_changed_outside(inspection),
        "warnings": warnings(inspection, kept),
        "order": standing.to_order(inspection).map(one).collect::<Vec<_>>(),
    })
}
