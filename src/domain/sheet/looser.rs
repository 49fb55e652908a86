//! Whether levels let pass what others would not: typed at the bench in the place of the sheet's, such ones are a
//! supervisor's to enter.

use super::super::judge::{self, Side};
use super::super::unit::Unit;
use super::{Bound, Level, Levels, Rule, Sheet, Touching, Which};

/// The first level that is looser than the sheet's: left out, its bound farther off, of less consequence, or without its
/// guard. What cannot be compared is looser.
pub fn looser(sheet: &Sheet, unit: Unit, (was, now): (&Levels, &Levels)) -> Option<Which> {
    Which::ALL.into_iter().find(|which| match (was.of(*which), now.of(*which)) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(was), Some(now)) => is_looser(sheet, unit, was, now),
    })
}

fn is_looser(sheet: &Sheet, unit: Unit, was: &Level, now: &Level) -> bool {
    let unguarded = match (was.rule(), now.rule()) {
        (Rule::Simple, _) => false,
        (Rule::Guarded(_), Rule::Simple) => true,
        (Rule::Guarded(was), Rule::Guarded(now)) => now < was,
    };
    let farther = [(was.upper(), now.upper(), Side::Upper), (was.lower(), now.lower(), Side::Lower)];
    let farther = farther.into_iter().any(|(was, now, side)| match (was, now) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(was), Some(now)) => is_farther(sheet, unit, (was, now), side),
    });
    unguarded || farther || now.leads_to() < was.leads_to()
}

fn is_farther(sheet: &Sheet, unit: Unit, (was, now): (&Bound, &Bound), side: Side) -> bool {
    if was == now {
        return false;
    }
    let (Some(from), Some(to)) = (judge::size_of(was, unit, sheet), judge::size_of(now, unit, sheet)) else {
        return true;
    };
    let touches = was.touching == Touching::Fails && now.touching == Touching::Passes;
    match side {
        Side::Upper => to > from || (to == from && touches),
        Side::Lower => to < from || (to == from && touches),
    }
}
