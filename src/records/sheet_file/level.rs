//! Levels: from where, whether touching counts, what it leads to, by which rule, from which source.

use rust_decimal::Decimal;

use crate::domain::characteristic::Characteristic;
use crate::domain::exact::Exact;
use crate::domain::judge::Side;
use crate::domain::sheet::{Amount, Band, Bound, Level, Levels, Rule, Touching, Which};
use crate::domain::unit::Unit;
use crate::domain::verdict::Consequence;
use crate::records::form::{Fields, Shape, ShapeRule, Slot, keys, shape_of};
use crate::records::words::{characteristic, consequence, decimal, figure, given, text};
use crate::records::yaml::{Layout, Node};

/// The factor of the guarded rule where none is given: 95 %, one-sided.
const USUAL_FACTOR: Decimal = Decimal::from_parts(165, 0, 0, false, 2);

keys! {
    fn band -> Band, Flow {
        over "over" need figure,
        up_to "up to" need figure,
        figure "figure" need figure,
    }
}

/// All levels of one characteristic.
pub fn levels(slot: &mut Slot<'_>, value: Option<&(Characteristic, Levels)>) -> Option<(Characteristic, Levels)> {
    slot.map(Layout::Block, |fields| {
        let one = fields.need("characteristic", characteristic, value.map(|(one, _)| one));
        let value = value.map(|(_, levels)| levels);
        let part_number = fields.may("part number", text, value.map(|levels| &levels.part_number));
        let new = fields.may("new", |slot, value| level(slot, value, Which::New), value.map(|levels| &levels.new));
        let alert =
            fields.may("alert", |slot, value| level(slot, value, Which::Alert), value.map(|levels| &levels.alert));
        let limit =
            fields.may("limit", |slot, value| level(slot, value, Which::Limit), value.map(|levels| &levels.limit));
        fields.rule(ShapeRule::AtLeastOne(vec!["new", "alert", "limit"]));
        let (new, alert, limit) = (new?, alert?, limit?);
        if new.is_none() && alert.is_none() && limit.is_none() && value.is_none() {
            fields.fault(
                "a characteristic without a level",
                "`new`, `alert` or `limit`",
                "Put a level, or take it out.",
            );
        }
        Some((one?, Levels { new, alert, limit, part_number: part_number? }))
    })
}

/// One word of a level: which side it bounds and whether a figure on it fails.
struct Word {
    key: &'static str,
    upper: Side,
    touching: Touching,
}

const fn word(key: &'static str, upper: Side, touching: Touching) -> Word {
    Word { key, upper, touching }
}

/// Its words: for `new` they say what is allowed, for the others where failing begins.
fn words(which: Which) -> &'static [Word] {
    const ALLOWED: &[Word] = &[
        word("at or above", Side::Lower, Touching::Passes),
        word("above", Side::Lower, Touching::Fails),
        word("at or below", Side::Upper, Touching::Passes),
        word("below", Side::Upper, Touching::Fails),
    ];
    const FAILING: &[Word] = &[
        word("above", Side::Upper, Touching::Passes),
        word("at or above", Side::Upper, Touching::Fails),
        word("below", Side::Lower, Touching::Passes),
        word("at or below", Side::Lower, Touching::Fails),
    ];
    match which {
        Which::New => ALLOWED,
        Which::Alert | Which::Limit => FAILING,
    }
}

/// What failing it leads to where the file does not say.
fn usually_leads_to(which: Which) -> Option<Consequence> {
    match which {
        Which::New => Some(Consequence::Rework),
        Which::Alert => Some(Consequence::Watch),
        Which::Limit => None,
    }
}

fn level(slot: &mut Slot<'_>, value: Option<&Level>, which: Which) -> Option<Level> {
    slot.map(Layout::Flow, |fields| {
        let (upper, lower) = bounds(fields, value, which);
        let leads_to = leads_to(fields, value, which);
        let rule = rule(fields, value);
        let source = value.map(|level| level.source().to_owned());
        let source = fields.need("source", text, source.as_ref());
        fields.rule(ShapeRule::AtLeastOne(words(which).iter().map(|word| word.key).collect()));
        let (upper, lower) = (upper?, lower?);
        match Level::new(upper, lower, leads_to?, rule?, &source?) {
            Ok(level) => Some(level),
            Err(refusal) => {
                fields.fault(&refusal.kind.what(), "a bound on one side at least", &refusal.kind.mend());
                None
            }
        }
    })
}

/// Both bounds; the outer option is a fault.
type Bounds = (Option<Option<Bound>>, Option<Option<Bound>>);

fn bounds(fields: &mut Fields<'_>, value: Option<&Level>, which: Which) -> Bounds {
    let mut found = (Some(None), Some(None));
    fields.rule(ShapeRule::NotBoth("above", "at or above"));
    fields.rule(ShapeRule::NotBoth("below", "at or below"));
    for word in words(which) {
        let written = value.map(|level| {
            let bound = if word.upper == Side::Upper { level.upper() } else { level.lower() };
            bound.filter(|bound| bound.touching == word.touching).map(|bound| bound.amount.clone())
        });
        let taken = fields.may(word.key, amount, written.as_ref());
        let side = if word.upper == Side::Upper { &mut found.0 } else { &mut found.1 };
        match taken {
            None => *side = None,
            Some(None) => {}
            Some(Some(amount)) => {
                if let Some(Some(_)) = side {
                    let mend = "Keep one of the two: `above` lets a figure on it pass, `at or above` does not.";
                    fields.fault_at(word.key, "one bound on each side", mend);
                }
                *side = Some(Some(Bound { amount, touching: word.touching }));
            }
        }
    }
    found
}

fn leads_to(fields: &mut Fields<'_>, value: Option<&Level>, which: Which) -> Option<Consequence> {
    let written = value.map(Level::leads_to);
    match usually_leads_to(which) {
        None => fields.need("leads to", consequence, written.as_ref()),
        Some(usual) => {
            let written = written.map(|one| Some(one).filter(|one| *one != usual));
            Some(fields.may("leads to", consequence, written.as_ref())?.unwrap_or(usual))
        }
    }
}

fn rule(fields: &mut Fields<'_>, value: Option<&Level>) -> Option<Rule> {
    let written = value.map(|level| match level.rule() {
        Rule::Simple => (None, None),
        Rule::Guarded(factor) => (Some(Kind::Guarded), Some(factor)),
    });
    let kind = fields.may("rule", kind, written.as_ref().map(|(kind, _)| kind));
    let factor = fields.may("factor", decimal, written.as_ref().map(|(_, factor)| factor));
    fields.rule(ShapeRule::OnlyWith("factor", "rule", "guarded"));
    match (kind?.unwrap_or(Kind::Simple), factor?) {
        (Kind::Simple, None) => Some(Rule::Simple),
        (Kind::Guarded, factor) => {
            let factor = factor.unwrap_or(USUAL_FACTOR);
            if factor.is_sign_negative() || factor.is_zero() {
                fields.fault_at("factor", "a number above 0", "Write it, usually 1.65, or leave it out.");
            }
            Some(Rule::Guarded(factor))
        }
        (Kind::Simple, Some(_)) => {
            fields.fault_at("factor", "no `factor` without `rule: guarded`", "Put `rule: guarded`, or take it out.");
            None
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Simple,
    Guarded,
}

fn kind(slot: &mut Slot<'_>, value: Option<&Kind>) -> Option<Kind> {
    slot.word(&[("simple", Kind::Simple), ("guarded", Kind::Guarded)], value)
}

/// A figure, or a table of figures by a size of the machine.
fn amount(slot: &mut Slot<'_>, value: Option<&Amount>) -> Option<Amount> {
    if slot.tells(|| Shape::Either(vec![shape_of(|slot| figure(slot, None)), shape_of(|slot| by_size(slot, None))])) {
        return None;
    }
    if slot.is_map() || matches!(value, Some(Amount::BySize { .. })) {
        return by_size(slot, value);
    }
    let expected = "a figure with its unit, such as 0.232 mm, or `{size: ..., bands: [...]}`";
    let written = if let Some(Amount::Fixed(one)) = value { Some(one) } else { None };
    let node = written.map(|one| Node::text(one.to_string(), crate::records::yaml::Quoting::Bare));
    slot.text(
        expected,
        |text| {
            text.parse().map(Amount::Fixed).map_err(|refusal: crate::domain::refusal::Refusal| {
                format!("{} {}", refusal.kind.what(), refusal.kind.mend())
            })
        },
        node,
    )
}

fn by_size(slot: &mut Slot<'_>, value: Option<&Amount>) -> Option<Amount> {
    slot.map(Layout::Flow, |fields| {
        let written = if let Some(Amount::BySize { size, bands }) = value { Some((size, bands)) } else { None };
        let size = fields.need("size", given, written.map(|(size, _)| size));
        let bands = fields.row("bands", band, written.map(|(_, bands)| bands));
        fields.rule(ShapeRule::AtLeastOne(vec!["bands"]));
        let (size, bands) = (size?, bands?);
        if value.is_none() {
            check_bands(fields, size.unit(), &bands);
        }
        Some(Amount::BySize { size, bands })
    })
}

/// Whether bands join without gap or overlap, smallest first: said whatever else the sheet still lacks.
fn check_bands(fields: &mut Fields<'_>, unit: Unit, bands: &[Band]) {
    let mend = "Write them smallest first, each over the figure that the one before goes up to.";
    if bands.is_empty() {
        fields.fault("a table without bands", "at least one band", mend);
    }
    let mut end: Option<Exact> = None;
    for (place, band) in bands.iter().enumerate() {
        let Some((over, up_to)) = band.over.to(unit).zip(band.up_to.to(unit)) else {
            let wrong = if band.over.dimension() == unit.dimension() { band.up_to } else { band.over };
            let found = format!("`{wrong}`, {}", wrong.dimension().one());
            let expected = unit.dimension().one();
            fields.fault_at_item(("bands", place), &found, &expected, "Put the unit behind the figure.");
            return;
        };
        let fault = match &end {
            _ if over >= up_to => Some("ends before it begins"),
            Some(end) if over > *end => Some("leaves a gap behind the one before"),
            Some(end) if over < *end => Some("overlaps the one before"),
            Some(_) | None => None,
        };
        if let Some(fault) = fault {
            let found = format!("a band over {} up to {}, which {fault}", band.over, band.up_to);
            fields.fault_at_item(("bands", place), &found, "bands that join", mend);
            return;
        }
        end = Some(up_to);
    }
}
