//! The first rule, for records signed with it.

use super::Rule;
use crate::domain::reckon::Formula;

/// `forecast/1`.
pub const FORMULA: Formula = Formula {
    number: 1,
    purpose: "the same by its first rule: hours left past the limit, too",
    reckon: |given| super::row::reckon_by(Rule::First, given),
    ..super::FORMULA
};
