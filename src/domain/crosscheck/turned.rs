//! The shaft turned past a dial: how the eccentricity at a station changed since the last opening, and the bow that the
//! run-outs of all stations make together.

use chrono::NaiveDate;

use super::super::characteristic::{Characteristic, Given};
use super::super::checklist::Step;
use super::super::exact::{Exact, Rounding};
use super::super::inspection::Inspection;
use super::super::judge::Condition;
use super::super::measured;
use super::super::progress;
use super::super::reckon::bow::{self, Station};
use super::super::reckon::guard::two_figures_up;
use super::super::reckon::run_out::{Turn, run_out};
use super::super::reckon::vector::{Polar, Vector};
use super::super::stamp::long_day;
use super::{CrossCheck, plain};

/// Stations with the figure of the machine that says where they are; the compressor side journal is at zero.
const STATIONS: [(&str, &str); 6] = [
    ("nose", "station.nose"),
    ("collar", "station.collar"),
    ("cs", ""),
    ("mid", "station.mid"),
    ("ts", "station.ts"),
    ("hub", "station.hub"),
];

fn run_out_of(station: &str) -> Option<Characteristic> {
    Characteristic::parse(&format!("shaft.runout.{station}"))
}

/// The station whose run-out a step judges as found.
fn station_of(step: &Step) -> Option<Characteristic> {
    let all = step.judges.iter().map(|one| one.characteristic);
    all.filter(|_| step.condition() == Condition::AsFound).find(|one| one.id().starts_with("shaft.runout."))
}

/// The eccentricity that the last opening kept.
fn last_turned(inspection: &Inspection, station: Characteristic) -> Option<(NaiveDate, Vector)> {
    let past = inspection.history_of(station).next_back()?;
    Some((past.date, Vector::kept(past.vector.as_ref()?)))
}

/// How the eccentricity at a station changed since the last opening. Source: geometry.
pub(super) fn moved(inspection: &Inspection, step: &Step) -> Option<CrossCheck> {
    let (date, then) = last_turned(inspection, station_of(step)?)?;
    let now = measured::eccentricity_of(inspection, step)?;
    let mut working = plain("crosscheck", "eccentricity against the last opening, both seen from the same mark");
    working.source = "geometry";
    bow::change(&mut working, &format!("since {}", long_day(date)), (now, then));
    let [now, then, change] = [now, then, now - then].map(in_micrometres);
    let words = format!("eccentricity {now}, before {then}, change {change} deg");
    Some(CrossCheck { agrees: None, working: working.resulting(words.clone()), words, other_way: None })
}

/// `12.1 um at 209`, the degrees left to whoever writes them; a direction means nothing where nothing is left.
fn in_micrometres(vector: Vector) -> String {
    let kept = vector.keep();
    let um = |polar: &Polar| (&polar.eccentricity * &Exact::from(1000)).rounded(1, Rounding::Nearest);
    match &kept {
        Some(polar) if polar.eccentricity.is_zero() => "0.0 um".to_owned(),
        Some(polar) => format!("{} um at {}", um(polar), polar.high_spot.rounded(0, Rounding::Nearest)),
        None => "unknown".to_owned(),
    }
}

/// The bow at all stations turned so far, once both journals and one station more are.
pub(super) fn bow_at(inspection: &Inspection, step: &Step) -> Option<CrossCheck> {
    station_of(step)?;
    let stations: Vec<_> = STATIONS.iter().filter_map(|(name, given)| station(inspection, name, given)).collect();
    let then = |station: &Station| last_turned(inspection, run_out_of(&station.name)?).map(|(_, vector)| vector);
    let before: Vec<_> = stations.iter().map(then).collect();
    let named = |name: &str| stations.iter().any(|station| station.name == name);
    if stations.len() < 3 || !(named("cs") && named("ts")) {
        return None;
    }
    let (justified, bows) = bow::bow(&stations, ["cs", "ts"]).ok()?;
    let working = bow::working(&stations, (justified, &bows), &before);
    Some(CrossCheck { agrees: None, words: format!("run-outs together: {}", working.result), working, other_way: None })
}

fn station(inspection: &Inspection, name: &str, given: &str) -> Option<Station> {
    let characteristic = run_out_of(name)?;
    let step = progress::steps(inspection).find(|step| station_of(step) == Some(characteristic))?;
    let at = if given.is_empty() { Exact::zero() } else { inspection.sheet()?.given(Given::parse(given)?)? };
    let turn = measured::turn_of(inspection, step)?;
    let vector = run_out(&turn).ok()?.eccentricity.unwrap_or_else(Vector::nothing);
    Some(Station { name: name.to_owned(), at, vector, u: u_of(inspection, step, &turn) })
}

/// Each part of a harmonic over `n` marks has the variance of a reading times `2 / n`, as far as the readings err each for
/// itself; what the certificate leaves unknown is common to all marks and is not made smaller by them.
/// Source: least squares; JCGM 100:2008 5.2.
fn u_of(inspection: &Inspection, step: &Step, turn: &Turn) -> Option<Exact> {
    let marks = u32::try_from(turn.marks.len()).ok()?;
    let common = measured::common_variance(inspection, step)?;
    let own = &measured::variance_of_one(inspection, step)? - &common;
    let own = (&own * &Exact::from(2)).over(&Exact::from(marks))?;
    two_figures_up(&(&common + &own)).filter(|u| !u.is_zero())
}
