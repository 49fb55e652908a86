//! Settings of one machine's user.

use super::file::{self, Format};
use super::form::Slot;
use super::words::{count, text};
use super::yaml::{Layout, Problems};

/// The settings file.
pub const SETTINGS: Format<Settings> = Format { remark: "asfound settings", body: settings };

/// What decimals look like on papers; fields take both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DecimalMark {
    /// `0.232`.
    Point,
    /// `0,232`.
    Comma,
}

/// The size of printed papers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 in.
    Letter,
}

/// All settings; what a file leaves out is as usual.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// On papers.
    pub decimal_mark: DecimalMark,
    /// A break longer than this many hours has the safety points asked again.
    pub break_hours: u32,
    /// The folder in which new photos appear.
    pub photos: Option<String>,
    /// Of papers.
    pub paper: Paper,
}

/// No break of two days leaves a machine as it was locked off and tagged: other hands have been there. Common practice, no
/// source.
const LONGEST_BREAK: u32 = 48;

impl Default for Settings {
    fn default() -> Self {
        Self { decimal_mark: DecimalMark::Point, break_hours: 4, photos: None, paper: Paper::A4 }
    }
}

fn settings(slot: &mut Slot<'_>, value: Option<&Settings>) -> Option<Settings> {
    slot.map(Layout::Block, |fields| {
        let usual = Settings::default();
        let mark = fields.may("decimal mark", decimal_mark, value.map(|all| Some(all.decimal_mark)).as_ref());
        let hours = fields.may("break hours", count, value.map(|all| Some(all.break_hours)).as_ref());
        if hours.flatten().is_some_and(|hours| hours > LONGEST_BREAK) {
            let mend = "Write a smaller number: whether the machine is still safe would never be asked again.";
            fields.fault_at("break hours", "48 at most", mend);
        }
        let photos = fields.may("photos", text, value.map(|all| &all.photos));
        let paper = fields.may("paper", paper, value.map(|all| Some(all.paper)).as_ref());
        Some(Settings {
            decimal_mark: mark?.unwrap_or(usual.decimal_mark),
            break_hours: hours?.unwrap_or(usual.break_hours),
            photos: photos?,
            paper: paper?.unwrap_or(usual.paper),
        })
    })
}

fn decimal_mark(slot: &mut Slot<'_>, value: Option<&DecimalMark>) -> Option<DecimalMark> {
    slot.word(&[("point", DecimalMark::Point), ("comma", DecimalMark::Comma)], value)
}

fn paper(slot: &mut Slot<'_>, value: Option<&Paper>) -> Option<Paper> {
    slot.word(&[("A4", Paper::A4), ("Letter", Paper::Letter)], value)
}

/// Reads the settings.
///
/// # Errors
/// Every fault.
pub fn read_settings(file: &str, bytes: &[u8]) -> Result<Settings, Problems> {
    file::read(&SETTINGS, file, bytes)
}
