//! What is half done and not in the record: the place, the half-typed fields, the gauges in hand. Kept beside the record
//! within a tenth of a second of a key, so that leaving in any way comes back to the same field.

use std::collections::BTreeMap;

/// The half-done.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Draft {
    /// The step.
    pub step: String,
    /// The place, the point or the line on it.
    pub place: String,
    /// Half-typed fields by step and place.
    pub fields: BTreeMap<(String, String), String>,
    /// The gauge in hand at this step.
    pub gauge: Option<String>,
    /// The gauge in hand by its kind.
    pub gauges: BTreeMap<String, String>,
    /// Who reads, and who writes.
    pub hands: (String, Option<String>),
}
