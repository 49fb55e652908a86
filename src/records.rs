//! Files on the disk and the clock: the only layer that touches either. Hands out domain types.

pub mod figures;
pub mod form;
pub mod yaml;
