//! What people see and type: the line mode.

pub mod plain;
