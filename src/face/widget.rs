//! Things that several screens share.

pub mod digits;
pub mod form;
pub mod keybar;
pub mod listing;
pub mod question;
pub mod scale;
pub mod scrolled;
pub mod table;
