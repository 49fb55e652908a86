//! The closed list of kinds. A kind never changes its meaning; a new need is a new kind.

use crate::domain::entry::Act;
use crate::records::form::{Fields, Row};
use crate::records::words::{
    allowed, bytes, characteristic, count, day, disposition, figure, id, name, replaces, text, timer_mark, verbatim,
    words, yes_no,
};

use super::super::rotor_file::{fitted, hours};
use super::{finding_keys, later, photo, signing};

/// Every kind, by its word in files.
pub(super) const KINDS: &[Row<Act>] = &[
    ("begin", |_, _| Some(Act::Begin)),
    ("confirm", confirm),
    ("not-applicable", not_applicable),
    ("tick", tick),
    ("reading", reading),
    ("repeat", repeat),
    ("finding", finding),
    ("looked", looked),
    ("photo", photo_kept),
    ("note", note),
    ("timer", timer),
    ("gauge-check", gauge_check),
    ("skip", skip),
    ("strike", strike),
    ("call", call),
    ("answer", answer),
    ("unjudged", unjudged),
    ("condemned", condemned),
    ("overrule", overrule),
    ("concession", concession),
    ("mentor", mentor),
    ("resume", |_, _| Some(Act::Resume)),
    ("sign", signing::sign),
    ("return", signing::returned),
    ("remark-answered", remark_answered),
    ("countersign", signing::countersign),
    ("seen-outside", seen_outside),
    ("brought", brought),
    ("opening", later::opening),
    ("gauge", later::gauge),
    ("person", later::person),
    ("given", later::given),
    ("level", later::level),
    ("part", part_fitted),
    ("plan", plan),
];

/// The keys of kinds whose fields each stand under one key.
macro_rules! kinds {
    ($($function:ident $variant:ident { $($field:ident $key:literal $how:ident $form:expr),* $(,)? })*) => {$(
        fn $function(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
            $(let $field = fields.$how($key, $form, match act {
                Some(Act::$variant { $field, .. }) => Some($field),
                _ => None,
            });)*
            Some(Act::$variant { $($field: $field?),* })
        }
    )*};
}

kinds! {
    confirm Confirm { step "step" need name, point "point" need name }
    not_applicable NotApplicable { step "step" need name, point "point" may name, reason "reason" need words }
    tick Tick { step "step" need name }
    reading Reading {
        step "step" need name,
        place "place" need text,
        typed "typed" need verbatim,
        taken "taken" need figure,
        gauge "gauge" may id,
        doubts "doubts" row text,
    }
    repeat Repeat { step "step" need name, place "place" need text }
    looked Looked { step "step" need name }
    photo_kept Photo { step "step" may name, photo "photo" need photo }
    note Note { step "step" may name, text "text" need words }
    timer Timer { step "step" need name, mark "mark" need timer_mark }
    gauge_check GaugeCheck { gauge "gauge" need id, piece "piece" need figure, shows "shows" need figure }
    skip Skip { step "step" need name, place "place" may text, reason "reason" need words }
    strike Strike { entry "strikes" need count, reason "reason" need words }
    call Call { part "part" need name, question "question" need words }
    answer Answer { entry "answers" need count, who "who" need words, text "text" need words }
    unjudged Unjudged {
        characteristic "characteristic" need characteristic,
        as_left "as left" flag yes_no,
        supervisor "supervisor" need id,
        reason "reason" need words,
    }
    condemned Condemned { part "part" need name, reason "reason" need words }
    overrule Overrule {
        part "part" need name,
        to "to" need disposition,
        supervisor "supervisor" need id,
        reason "reason" need words,
    }
    concession Concession {
        part "part" need name,
        about "about" need words,
        who "who" need words,
        document "document" need words,
        conditions "conditions" need words,
        until "until" need words,
        allows "allows" need allowed,
    }
    mentor Mentor { mentor "mentor" need id }
    remark_answered RemarkAnswered { entry "return" need count, remark "remark" need count, text "text" need words }
    seen_outside SeenOutside {
        from "from" may count,
        note "note" need words,
        length "length" may bytes,
        sha256 "sha256" may verbatim,
    }
    part_fitted PartFitted { part "part" need name, fitted "fitted" need fitted, replaces "replaces" need replaces }
    plan Plan { hours "hours" may hours, date "date" may day, supervisor "supervisor" may id, reason "reason" need words }
}

fn finding(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let value = if let Some(Act::Finding(finding)) = act { Some(finding) } else { None };
    finding_keys(fields, value).map(Act::Finding)
}

/// The original's bytes, and what they say; bytes that say nothing count for nothing, and the record is read all the same.
fn brought(fields: &mut Fields<'_>, act: Option<&Act>) -> Option<Act> {
    let (bytes, chain, after) = match act {
        Some(Act::Brought { bytes, chain, after, .. }) => (Some(bytes), Some(chain), Some(after)),
        _ => (None, None, None),
    };
    let bytes = fields.need("original", words, bytes);
    let chain = fields.need("original chain", verbatim, chain);
    let after = fields.may("after", count, after)?;
    let bytes = bytes?;
    let entry = super::entry_of(&bytes).map(Box::new);
    Some(Act::Brought { bytes, chain: chain?, after, entry })
}
