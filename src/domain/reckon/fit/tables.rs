//! The tables: bands of size, standard tolerances, fundamental deviations. In micrometres.
//!
//! A zone is its letter's fundamental deviation, the same in every grade held here, and the grade's tolerance; k keeps
//! its deviation in grades 4 to 7 only. Sources: ISO 286-1:2010 table 1 and ISO 286-2:2010, compared with a public copy.

use super::Kind;
use crate::domain::exact::Exact;

/// A band over `over` up to and including `up_to` mm: tolerances of grades 5 to 9, and deviations by letter.
struct Band {
    over: u32,
    up_to: u32,
    tolerances: [i32; 5],
    /// `f`, `g`: upper deviation. `k`, `m`, `n`, `p`: lower deviation. `None` where the table here holds none.
    deviations: [Option<i32>; 6],
}

const FIRST_GRADE: usize = 5;
const LETTERS: [&str; 6] = ["f", "g", "k", "m", "n", "p"];

const fn band(over: u32, up_to: u32, tolerances: [i32; 5], deviations: [Option<i32>; 6]) -> Band {
    Band { over, up_to, tolerances, deviations }
}

#[rustfmt::skip]
const BANDS: &[Band] = &[
    //             IT5 IT6 IT7 IT8 IT9          f          g        k        m         n         p
    band( 3,   6, [ 5,  8, 12, 18, 30], [Some(-10), Some(-4), Some(1), Some(4), Some(8), Some(12)]),
    band( 6,  10, [ 6,  9, 15, 22, 36], [Some(-13), Some(-5), Some(1), Some(6), Some(10), Some(15)]),
    band(10,  18, [ 8, 11, 18, 27, 43], [Some(-16), Some(-6), Some(1), Some(7), None, Some(18)]),
    band(18,  30, [ 9, 13, 21, 33, 52], [Some(-20), Some(-7), Some(2), Some(8), Some(15), Some(22)]),
    band(30,  50, [11, 16, 25, 39, 62], [Some(-25), Some(-9), Some(2), Some(9), Some(17), Some(26)]),
    band(50,  80, [13, 19, 30, 46, 74], [Some(-30), Some(-10), Some(2), Some(11), Some(20), Some(32)]),
    band(80, 120, [15, 22, 35, 54, 87], [None, Some(-12), None, Some(13), Some(23), Some(37)]),
];

/// Limit deviations, in micrometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Zone {
    pub(super) upper: i32,
    pub(super) lower: i32,
}

impl Zone {
    /// The zone called `word` at a nominal size in mm; else what is expected.
    pub(super) fn find(word: &str, kind: Kind, nominal: &Exact) -> Result<Self, String> {
        let split = word.find(|c: char| c.is_ascii_digit()).unwrap_or(word.len());
        let (letter, grade) = word.split_at(split);
        let letters = match kind {
            Kind::Hole => "a hole's zone: H5 to H9",
            Kind::Shaft => "a shaft's zone: f g h k m n p with 5 to 9",
        };
        let known = match kind {
            Kind::Hole => letter == "H",
            Kind::Shaft => letter == "h" || LETTERS.contains(&letter),
        };
        let grade: usize = grade.parse().ok().filter(|_| known).ok_or(letters)?;
        let band = BANDS.iter().find(|band| *nominal > Exact::from(band.over) && *nominal <= Exact::from(band.up_to));
        let band = band.ok_or("a size over 3 up to 120 mm")?;
        let tolerance = *grade.checked_sub(FIRST_GRADE).and_then(|at| band.tolerances.get(at)).ok_or(letters)?;
        band.zone(letter, grade, tolerance).ok_or_else(|| {
            format!("another zone: {word} over {} up to {} mm is not in the table held here", band.over, band.up_to)
        })
    }
}

impl Band {
    fn zone(&self, letter: &str, grade: usize, tolerance: i32) -> Option<Zone> {
        let deviation = |wanted: &str| {
            let at = LETTERS.iter().position(|known| *known == wanted)?;
            self.deviations.get(at).copied().flatten()
        };
        let under = |upper: i32| Zone { upper, lower: upper - tolerance };
        let above = |lower: i32| Zone { upper: lower + tolerance, lower };
        match letter {
            "H" => Some(above(0)),
            "h" => Some(under(0)),
            "f" | "g" => deviation(letter).map(under),
            "k" if grade > 7 => Some(above(0)),
            _ => deviation(letter).map(above),
        }
    }
}
