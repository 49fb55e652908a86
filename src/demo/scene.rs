//! The files of the demonstration, with all days moved.

use chrono::{NaiveDate, TimeDelta, Utc};

use crate::domain::instrument::Instrument;
use crate::domain::person::Person;
use crate::domain::rotor::Rotor;
use crate::domain::sheet::Sheet;
use crate::domain::stamp::Stamp;
use crate::records::instrument_file::read_instrument;
use crate::records::people_file::read_people;
use crate::records::rotor_file::read_rotor;
use crate::records::sheet_file::read_sheet;
use crate::records::yaml::Problems;

use super::days::moved;

/// The day of the present inspection as the files have it.
const PRESENT: &str = "2024-07-12";

/// The answers of the three inspections, oldest first.
pub const ANSWERS: [&str; 3] = [
    include_str!("../../assets/demo/1-2020-05-12.answers"),
    include_str!("../../assets/demo/2-2022-06-08.answers"),
    include_str!("../../assets/demo/3-2024-07-12.answers"),
];

const SHEET: &str = include_str!("../../assets/demo/INV-420.yaml");
const ROTOR: &str = include_str!("../../assets/demo/DEMO-1.yaml");
const PEOPLE: &str = include_str!("../../assets/demo/people.yaml");

macro_rules! gauges {
    ($($id:literal)*) => {
        const GAUGES: &[(&str, &str)] =
            &[$((concat!($id, ".yaml"), include_str!(concat!("../../assets/demo/instruments/", $id, ".yaml")))),*];
    };
}

gauges!("B1" "C1" "C2" "D1" "D2" "D3" "F1" "G1" "M1" "M2" "M3" "T1" "W1" "X1");

/// Everything that lies ready before the first inspection.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scenery {
    /// The rotor.
    pub rotor: Rotor,
    /// Its limits.
    pub sheet: Sheet,
    /// The gauges.
    pub instruments: Vec<Instrument>,
    /// The people.
    pub people: Vec<Person>,
    /// The answers of the three inspections, oldest first.
    pub answers: [String; 3],
    /// The files as they go into a folder: name below it, text.
    pub files: Vec<(String, String)>,
}

/// The hour of its day, UTC, by which all of the present inspection is played.
const OVER: i64 = 15;

/// The last day on which the present inspection can have been played to its end by `now`: today, or yesterday. What is
/// entered then comes after it.
pub fn over_by(now: Stamp) -> NaiveDate {
    let moment = now.moment().with_timezone(&Utc);
    TimeDelta::try_hours(OVER).and_then(|hours| moment.checked_sub_signed(hours)).unwrap_or(moment).date_naive()
}

/// The demonstration with the present inspection on `today`.
///
/// # Errors
/// Every fault of a file; a test holds that there is none.
pub fn scenery(today: NaiveDate) -> Result<Scenery, Problems> {
    let present = NaiveDate::parse_from_str(PRESENT, "%Y-%m-%d").unwrap_or(today);
    let days = today.signed_duration_since(present).num_days();
    let moved = |text: &str| moved(text, days);
    let read = |(name, text): &(&str, &str)| read_instrument(name, moved(text).as_bytes());
    let rotor = read_rotor("DEMO-1.yaml", moved(ROTOR).as_bytes())?;
    let sheet = read_sheet("INV-420.yaml", moved(SHEET).as_bytes())?;
    let mut files = vec![
        ("people.yaml".to_owned(), moved(PEOPLE)),
        (format!("sheets/{}.yaml", sheet.id), moved(SHEET)),
        (format!("rotors/{}/rotor.yaml", rotor.id), moved(ROTOR)),
    ];
    files.extend(GAUGES.iter().map(|(name, text)| (format!("instruments/{name}"), moved(text))));
    Ok(Scenery {
        rotor,
        sheet,
        instruments: GAUGES.iter().map(read).collect::<Result<_, _>>()?,
        people: read_people("people.yaml", moved(PEOPLE).as_bytes())?,
        answers: ANSWERS.map(moved),
        files,
    })
}
