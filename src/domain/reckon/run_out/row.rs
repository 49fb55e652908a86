//! The row of `run-out`.

use super::{RunOut, Turn, Warning, run_out};
use crate::domain::exact::Exact;
use crate::domain::reckon::impossible::uneven;
use crate::domain::reckon::quantity::{degrees, length, millimetres, shown, without_noise};
use crate::domain::reckon::vector::Vector;
use crate::domain::reckon::working::{added, counted, joined};
use crate::domain::reckon::{
    Answer, Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working, behind_sign,
};
use crate::domain::unit::Unit;

const LENGTH: Shape = Shape::Figure(Unit::Millimetre, Range::Any);

/// `run-out/1`.
pub const FORMULA: Formula = Formula {
    name: "run-out",
    number: 1,
    purpose: "TIR of a turned shaft, eccentricity, what is left",
    keys: &[
        Key::required("angles", Shape::List(&Shape::Figure(Unit::Degree, Range::Any)), "of the marks, any spacing"),
        Key::required("readings", Shape::List(&LENGTH), "at the marks, plunger pushed in positive"),
        Key::optional("closing", LENGTH, "dial back at the first mark"),
        Key::optional(
            "division",
            Shape::Figure(Unit::Millimetre, Range::Positive),
            "of the dial; a set that closes worse is void",
        ),
        Key::optional("swept", Shape::List(&LENGTH), "largest and smallest of one slow full turn"),
    ],
    outputs: &[
        Output::new("tir", "mm", "largest less smallest, swept or by the marks, whichever is more; exact"),
        Output::new("tir_marks, tir_swept", "mm", "each of the two"),
        Output::new("eccentricity", "mm", "of the first harmonic; half the TIR is another thing"),
        Output::new("high_spot", "deg", "where the first harmonic is highest"),
        Output::new("residual", "mm", "largest less smallest after the first harmonic; not roundness"),
        Output::new("rms_residual", "mm", "root mean square of the same"),
        Output::new("closure", "mm", "closing reading less the first"),
        Output::new("warnings", "", "lobes the marks cannot tell apart, gaps, uneven spacing"),
    ],
    source: "least squares of mean and first harmonic (Fourier); the voided set: common practice, no source",
    example: &[
        "angles=0; 45; 90; 135; 180; 225; 270; 315",
        "readings=0; -0.001; 0.003; 0.013; 0.021; 0.022; 0.015; 0.006",
        "closing=0",
        "division=0.001",
        "swept=0.0225; -0.0015",
    ],
    expected: &[
        ("tir", "0.024"),
        ("tir_marks", "0.023"),
        ("closure", "0"),
        ("warnings.0", "8 marks cannot tell 7 or 9 lobes from an eccentricity."),
    ],
    impossible: |given| uneven(given, "angles", &["readings"]),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let turn = Turn {
        marks: marks(given, "angles", "readings")?,
        closing: given.figure_if("closing"),
        division: given.figure_if("division"),
        swept: swept(given)?,
    };
    let got = run_out(&turn)?;
    Ok(Outcome { answers: got.answers(), working: got.working(&turn) })
}

/// Angles and readings in pairs; that there are as many of each is known before.
pub(in crate::domain::reckon) fn marks(
    given: &Given,
    angles: &str,
    readings: &str,
) -> Result<Vec<(Exact, Exact)>, Vec<Problem>> {
    Ok(given.figures(angles)?.into_iter().zip(given.figures(readings)?).collect())
}

fn swept(given: &Given) -> Result<Option<(Exact, Exact)>, Vec<Problem>> {
    let Some(pair) = given.figures_if("swept") else { return Ok(None) };
    let [largest, smallest] = pair.as_slice() else {
        let found = format!("Found {}.", counted(pair.len(), "figure"));
        return Err(Problem::impossible("swept", found, "Give the largest, then the smallest.").into());
    };
    Ok(Some((largest.clone(), smallest.clone())))
}

impl RunOut {
    fn answers(&self) -> Answers {
        const NONE: &str = "the first harmonic is zero and points nowhere";
        let answers = Answers::new().exact("tir", &self.tir).exact("tir_marks", &self.tir_marks);
        let answers = match &self.tir_swept {
            Some(swept) => answers.exact("tir_swept", swept),
            None => answers.absent("tir_swept", "no full turn was swept"),
        };
        let answers = answers.number("eccentricity", millimetres(self.amount()));
        let answers = match self.high_spot() {
            Some(at) => answers.angle("high_spot", degrees(at)),
            None => answers.absent("high_spot", NONE),
        };
        let answers = answers
            .number("residual", millimetres(self.residual))
            .number("rms_residual", millimetres(self.rms_residual));
        let answers = match &self.closure {
            Some(closure) => answers.exact("closure", closure),
            None => answers.absent("closure", "no closing reading"),
        };
        answers.list("warnings", self.warnings.iter().map(|warning| Answer::Text(warning.to_string())))
    }

    /// The working; the bench shows it too.
    pub fn working(&self, turn: &Turn) -> Working {
        let mut working = Working::of(&FORMULA);
        self.tir_steps(turn, &mut working);
        self.harmonic_steps(turn, &mut working);
        self.rest_steps(turn, &mut working);
        for warning in &self.warnings {
            working.say(warning.to_string());
        }
        let amount = shown(millimetres(self.amount()), 4);
        let at = self.high_spot().map_or_else(String::new, |high| format!(" at {} deg", shown(degrees(high), 4)));
        working.resulting(format!("TIR {} mm, eccentricity {amount} mm{at}", self.tir))
    }

    fn tir_steps(&self, turn: &Turn, working: &mut Working) {
        let less =
            |largest: &Exact, smallest: &Exact| format!("{largest} mm - {}", behind_sign(&format!("{smallest} mm")));
        let readings = || turn.marks.iter().map(|(_, reading)| reading);
        if let (Some(largest), Some(smallest)) = (readings().max(), readings().min()) {
            let tir = format!("{} mm", self.tir_marks);
            working.step("TIR by the marks", "largest - smallest", less(largest, smallest), tir);
        }
        if let (Some(swept), Some((largest, smallest))) = (&self.tir_swept, &turn.swept) {
            working.step("TIR swept", "largest - smallest", less(largest, smallest), format!("{swept} mm"));
        }
        if let (Some(closure), Some(closing), Some((_, first))) = (&self.closure, &turn.closing, turn.marks.first()) {
            working.step("closure", "closing - first", less(closing, first), format!("{closure} mm"));
            working.say(match &turn.division {
                Some(division) => format!("not more than a division, {division} mm: the set stands"),
                None => "the dial's division is not given: whether the set is void is not judged".to_owned(),
            });
        }
    }

    /// Mean and first harmonic: by sums where the marks are even, else by least squares.
    fn harmonic_steps(&self, turn: &Turn, working: &mut Working) {
        working.say("reading r = mean + x cos(angle) + y sin(angle), by least squares");
        let n = turn.marks.len();
        let even = !self.warnings.contains(&Warning::Uneven);
        let vector = self.eccentricity.unwrap_or_else(Vector::nothing);
        let tir = millimetres(length(&self.tir_marks));
        let [x, y] = [vector.x, vector.y].map(|part| shown(without_noise(millimetres(part), tir), 4));
        let mean = format!("{} mm", shown(without_noise(millimetres(self.mean), tir), 5));
        if even {
            let readings: Vec<_> = turn.marks.iter().map(|(_, reading)| reading.clone()).collect();
            let sum: Exact = readings.iter().sum();
            working.step("sum of r", "", added(&readings, " mm"), format!("{sum} mm"));
            working.step("mean", "sum of r / n", format!("{sum} mm / {n}"), mean);
            let waves = |wave: &str| {
                let term =
                    |(angle, reading): &(Exact, Exact)| format!("{} {wave} {angle}", behind_sign(&reading.to_string()));
                format!("2 / {n} x ({}) mm", joined(turn.marks.iter().map(term).collect(), " + "))
            };
            working.step("x", "2 / n x sum of r cos(angle)", waves("cos"), format!("{x} mm"));
            working.step("y", "2 / n x sum of r sin(angle)", waves("sin"), format!("{y} mm"));
        } else {
            working.step("mean", "", "", mean);
            working.step("x", "", "", format!("{x} mm"));
            working.step("y", "", "", format!("{y} mm"));
            working.say("check: what is left below, its cos(angle) and its sin(angle) parts each add up to 0");
        }
        let amount = format!("{} mm", shown(millimetres(self.amount()), 4));
        working.step("e", "sqrt(x^2 + y^2)", format!("sqrt(({x} mm)^2 + ({y} mm)^2)"), amount);
        match self.high_spot() {
            Some(at) => {
                let high = format!("{} deg", shown(degrees(at), 4));
                working.step("high spot", "direction of (x, y)", format!("direction of ({x}, {y})"), high);
            }
            None => working.say("high spot: none, e is zero"),
        }
    }

    /// What the harmonic leaves, mark by mark.
    fn rest_steps(&self, turn: &Turn, working: &mut Working) {
        let tir = millimetres(length(&self.tir_marks));
        let rest: Vec<_> = self.rest.iter().map(|left| without_noise(millimetres(*left), tir)).collect();
        let told = turn.marks.iter().zip(&rest).map(|((angle, _), left)| format!("{} at {angle}", shown(*left, 3)));
        working.step("left", "r - mean - e cos(angle - high spot)", "", format!("{} mm", joined(told.collect(), ", ")));
        let ends = rest.iter().fold((0.0_f64, 0.0_f64), |(high, low), left| (high.max(*left), low.min(*left)));
        let put_in = format!("{} mm - {}", shown(ends.0, 4), behind_sign(&format!("{} mm", shown(ends.1, 4))));
        let [residual, rms] =
            [self.residual, self.rms_residual].map(|one| shown(without_noise(millimetres(one), tir), 4));
        working.step("residual", "largest left - smallest left", put_in, format!("{residual} mm"));
        let squares = shown(rest.iter().map(|left| left * left).sum(), 4);
        let put_in = format!("sqrt({squares} mm^2 / {})", rest.len());
        working.step("rms residual", "sqrt(sum of left^2 / n)", put_in, format!("{rms} mm"));
    }
}
