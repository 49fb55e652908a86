//! Scalars of the trade as they stand in files: how each is read, written and asked for.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::checklist::{Ask, Order, Signing, StepAsk, Worse};
use crate::domain::entry::{Replaces, TimerMark};
use crate::domain::exact::Exact;
use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::inspection::{Arrives, OwnHours};
use crate::domain::instrument::GaugeKind;
use crate::domain::judge::Side;
use crate::domain::person::Role;
use crate::domain::phase::Phase;
use crate::domain::refusal::RefusalKind;
use crate::domain::sheet::Origin;
use crate::domain::stamp::{Stamp, day as parse_day};
use crate::domain::unit::Unit;
use crate::domain::verdict::{Consequence, Disposition};

use super::form::{Scalar, Shape, Slot};
use super::yaml::{Node, Quoting, nearest};

/// Words of a closed list.
macro_rules! closed {
    ($($(#[$doc:meta])* $name:ident $type:ident [$($all:tt)*];)*) => {$(
        $(#[$doc])*
        pub fn $name(slot: &mut Slot<'_>, value: Option<&$type>) -> Option<$type> {
            let words: Vec<_> = ($($all)*).into_iter().map(|one: $type| (one.word(), one)).collect();
            slot.word(&words, value)
        }
    )*};
}

closed! {
    /// `measure`.
    phase Phase [Phase::ALL];
    /// `replace`.
    consequence Consequence [Consequence::ALL];
    /// `rework`.
    disposition Disposition [Disposition::ALL];
    /// `dial gauge`.
    gauge_kind GaugeKind [GaugeKind::ALL];
    /// `fitter`.
    role Role [Role::ALL];
    /// `maker`.
    origin Origin [[Origin::Maker, Origin::Owner, Origin::Interim]];
    /// `in place`.
    arrives Arrives [Arrives::ALL];
    /// `later`, `as known`.
    own_hours OwnHours [OwnHours::ALL];
    /// `place`, `length`.
    ask Ask [Ask::ALL];
    /// `picture`.
    step_ask StepAsk [StepAsk::ALL];
    /// `decisions`, `close`.
    signing Signing [[Signing::Decisions, Signing::Close]];
}

/// What a concession lets be done at worst: `reuse`, once written `nothing`; the others as what they lead to.
pub fn allowed(slot: &mut Slot<'_>, value: Option<&Consequence>) -> Option<Consequence> {
    let reuse = (Disposition::Reuse.word(), Consequence::Nothing);
    let words: Vec<_> = [reuse].into_iter().chain(Consequence::ALL.map(|one| (one.word(), one))).collect();
    slot.word(&words, value)
}

/// `yes`, `no`.
pub fn yes_no(slot: &mut Slot<'_>, value: Option<&bool>) -> Option<bool> {
    slot.word(&[("yes", true), ("no", false)], value)
}

/// `largest`, `smallest`.
pub fn side(slot: &mut Slot<'_>, value: Option<&Side>) -> Option<Side> {
    slot.word(&[("largest", Side::Upper), ("smallest", Side::Lower)], value)
}

/// `by place`, `by repeat`.
pub fn order(slot: &mut Slot<'_>, value: Option<&Order>) -> Option<Order> {
    slot.word(&[("by place", Order::ByPlace), ("by repeat", Order::ByRepeat)], value)
}

/// `more`, `less`: which way a figure is worse than before.
pub fn worse(slot: &mut Slot<'_>, value: Option<&Worse>) -> Option<Worse> {
    slot.word(&[("more", Worse::More), ("less", Worse::Less)], value)
}

/// `started`, `ended`.
pub fn timer_mark(slot: &mut Slot<'_>, value: Option<&TimerMark>) -> Option<TimerMark> {
    slot.word(&[("started", TimerMark::Started), ("ended", TimerMark::Ended)], value)
}

/// `yes`, `no`: whether a part takes the place of the one found.
pub fn replaces(slot: &mut Slot<'_>, value: Option<&Replaces>) -> Option<Replaces> {
    slot.word(&[("yes", Replaces::Yes), ("no", Replaces::No)], value)
}

/// Any text, an empty one too: what people typed.
pub fn words(slot: &mut Slot<'_>, value: Option<&String>) -> Option<String> {
    slot.scalar(
        &Scalar {
            expected: "any text",
            quoting: Quoting::Fitting,
            parse: |text| Ok(text.to_owned()),
            show: String::clone,
        },
        value,
    )
}

/// Text kept in quotes whatever it is: figures as typed, hashes, moments.
pub fn verbatim(slot: &mut Slot<'_>, value: Option<&String>) -> Option<String> {
    slot.scalar(
        &Scalar {
            expected: "any text",
            quoting: Quoting::Always,
            parse: |text| Ok(text.to_owned()),
            show: String::clone,
        },
        value,
    )
}

/// A text that says something.
pub fn text(slot: &mut Slot<'_>, value: Option<&String>) -> Option<String> {
    let parse = |text: &str| {
        if text.trim().is_empty() {
            return Err("Write it, or leave the key out where it may be left out.".to_owned());
        }
        Ok(text.to_owned())
    };
    slot.scalar(&Scalar { expected: "text", quoting: Quoting::Fitting, parse, show: String::clone }, value)
}

/// The dotted name of a part, point or step in a checklist: no blanks, so that it can be named anywhere.
pub fn name(slot: &mut Slot<'_>, value: Option<&String>) -> Option<String> {
    let parse = |text: &str| {
        let plain = |letter: char| letter.is_ascii_alphanumeric() || "._-/".contains(letter);
        if (1..=60).contains(&text.len()) && text.chars().all(plain) {
            return Ok(text.to_owned());
        }
        Err("Use 1 to 60 of the letters A to Z, digits, point, dash, underscore and `/`.".to_owned())
    };
    let expected = "a name without blanks, such as bush.ts/clearance";
    slot.scalar(&Scalar { expected, quoting: Quoting::Fitting, parse, show: String::clone }, value)
}

/// An id.
pub fn id(slot: &mut Slot<'_>, value: Option<&Id>) -> Option<Id> {
    let parse = |text: &str| text.parse::<Id>().map_err(|refusal| refusal.kind.mend());
    let show = |id: &Id| id.as_str().to_owned();
    slot.scalar(&Scalar { expected: "an id, such as D2", quoting: Quoting::Fitting, parse, show }, value)
}

/// A figure with its unit.
pub fn figure(slot: &mut Slot<'_>, value: Option<&Figure>) -> Option<Figure> {
    let parse = |text: &str| {
        text.parse::<Figure>().map_err(|refusal| format!("{} {}", refusal.kind.what(), mend_of(&refusal.kind)))
    };
    let show = |figure: &Figure| figure.to_string();
    let expected = "a figure with its unit, such as 0.232 mm";
    slot.scalar(&Scalar { expected, quoting: Quoting::Bare, parse, show }, value)
}

/// The mend in words of a file, where the field's would send the reader to a key.
fn mend_of(kind: &RefusalKind) -> String {
    if let RefusalKind::Empty = kind { "Write the figure.".to_owned() } else { kind.mend() }
}

/// A decimal without a unit.
pub fn decimal(slot: &mut Slot<'_>, value: Option<&Decimal>) -> Option<Decimal> {
    let parse = |text: &str| {
        let figure = text.parse::<Figure>().map_err(|refusal| refusal.kind.mend())?;
        if figure.unit() == Unit::One { Ok(figure.decimal()) } else { Err("Write the number alone.".to_owned()) }
    };
    slot.scalar(
        &Scalar { expected: "a number without a unit", quoting: Quoting::Bare, parse, show: Decimal::to_string },
        value,
    )
}

/// A whole number from 0.
pub fn count(slot: &mut Slot<'_>, value: Option<&u32>) -> Option<u32> {
    let expected = "a whole number";
    slot.scalar(&Scalar { expected, quoting: Quoting::Bare, parse: whole::<u32>, show: u32::to_string }, value)
}

/// A length in bytes.
pub fn bytes(slot: &mut Slot<'_>, value: Option<&u64>) -> Option<u64> {
    let expected = "a whole number of bytes";
    slot.scalar(&Scalar { expected, quoting: Quoting::Bare, parse: whole::<u64>, show: u64::to_string }, value)
}

fn whole<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let number = digits.then(|| text.parse().ok()).flatten();
    number.ok_or_else(|| "Write it in digits alone.".to_owned())
}

/// A day.
pub fn day(slot: &mut Slot<'_>, value: Option<&NaiveDate>) -> Option<NaiveDate> {
    let parse = |text: &str| {
        parse_day(text).map_err(|refusal| {
            let mend = refusal.kind.mend();
            // the last day of the month that was meant
            if let RefusalKind::NoAnswer { why, .. } = refusal.kind { format!("{mend} {why}") } else { mend }
        })
    };
    let expected = "a day, such as 2031-04-17";
    slot.scalar(&Scalar { expected, quoting: Quoting::Bare, parse, show: NaiveDate::to_string }, value)
}

/// A moment with its offset from UTC.
pub fn stamp(slot: &mut Slot<'_>, value: Option<&Stamp>) -> Option<Stamp> {
    let parse = |text: &str| text.parse::<Stamp>().map_err(|refusal| refusal.kind.mend());
    let expected = "a moment with its offset from UTC, such as 2031-04-17T14:05:31+02:00";
    slot.scalar(&Scalar { expected, quoting: Quoting::Always, parse, show: Stamp::to_string }, value)
}

/// A unit.
pub fn unit(slot: &mut Slot<'_>, value: Option<&Unit>) -> Option<Unit> {
    let parse = |text: &str| {
        Unit::parse(text).ok_or_else(|| "Use mm, um, in, thou, h, bar, mT, g mm, or `1` for none.".to_owned())
    };
    slot.scalar(&Scalar { expected: "a unit", quoting: Quoting::Fitting, parse, show: Unit::to_string }, value)
}

/// A characteristic by its dotted id.
pub fn characteristic(slot: &mut Slot<'_>, value: Option<&Characteristic>) -> Option<Characteristic> {
    // a fault names the nearest only, a schema all
    if slot.tells(|| Shape::Words(Characteristic::all().map(Characteristic::id).map(str::to_owned).collect())) {
        return None;
    }
    let parse = |text: &str| {
        let near = || nearest(text, Characteristic::all().map(Characteristic::id));
        Characteristic::parse(text)
            .ok_or_else(|| did_you_mean(near(), "Look in docs/files.md for those that are known."))
    };
    let show = |one: &Characteristic| one.id().to_owned();
    let expected = "a characteristic, such as bush.ts.clearance";
    slot.scalar(&Scalar { expected, quoting: Quoting::Fitting, parse, show }, value)
}

/// A figure of the machine by its dotted name.
pub fn given(slot: &mut Slot<'_>, value: Option<&Given>) -> Option<Given> {
    // a fault names the nearest only, a schema all
    if slot.tells(|| Shape::Words(Given::all().map(Given::name).map(str::to_owned).collect())) {
        return None;
    }
    let parse = |text: &str| {
        let near = || nearest(text, Given::all().map(Given::name));
        Given::parse(text).ok_or_else(|| did_you_mean(near(), "Look in docs/files.md for those that are known."))
    };
    let show = |one: &Given| one.name().to_owned();
    let expected = "a figure of the machine, such as thrust.lands";
    slot.scalar(&Scalar { expected, quoting: Quoting::Fitting, parse, show }, value)
}

/// What has figures on a sheet, by its dotted id: a characteristic or a figure of the machine.
pub fn judged_or_given(slot: &mut Slot<'_>, value: Option<&String>) -> Option<String> {
    fn all() -> impl Iterator<Item = &'static str> {
        Characteristic::all().map(Characteristic::id).chain(Given::all().map(Given::name))
    }
    let parse = |text: &str| {
        let known = all().find(|known| *known == text).map(str::to_owned);
        known.ok_or_else(|| did_you_mean(nearest(text, all()), "Look in docs/files.md for those that are known."))
    };
    let expected = "a characteristic or a figure of the machine";
    slot.scalar(&Scalar { expected, quoting: Quoting::Fitting, parse, show: String::clone }, value)
}

fn did_you_mean(near: Option<&str>, otherwise: &str) -> String {
    near.map_or_else(|| otherwise.to_owned(), |near| format!("Did you mean `{near}`?"))
}

/// An exact number in `unit`: a decimal, or a fraction such as `313/1500 mm` where no decimal ends.
pub fn exact(unit: Unit) -> impl Fn(&mut Slot<'_>, Option<&Exact>) -> Option<Exact> {
    move |slot, value| {
        let symbol = unit.behind();
        let written = value.map(|value| Node::text(format!("{value}{symbol}"), Quoting::Bare));
        let parse = |text: &str| {
            let number = text.strip_suffix(symbol.as_str()).and_then(fraction);
            number.ok_or_else(|| format!("Write it in {unit}, as a decimal or a fraction of two whole numbers."))
        };
        slot.text(&format!("a number in {unit}, such as 0.2087{symbol} or 313/1500{symbol}"), parse, written)
    }
}

fn fraction(text: &str) -> Option<Exact> {
    match text.split_once('/') {
        Some((above, below)) => Exact::parse(above)?.over(&Exact::parse(below)?),
        None => Exact::parse(text),
    }
}
