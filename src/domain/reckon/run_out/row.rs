//! The row of `run-out`.

use super::{RunOut, Turn, run_out};
use crate::domain::exact::Exact;
use crate::domain::reckon::quantity::{degrees, millimetres, shown};
use crate::domain::reckon::{Answer, Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working};
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

/// Angles and readings in pairs.
pub(in crate::domain::reckon) fn marks(
    given: &Given,
    angles: &str,
    readings: &str,
) -> Result<Vec<(Exact, Exact)>, Vec<Problem>> {
    let (at, read) = (given.figures(angles)?, given.figures(readings)?);
    if at.len() != read.len() {
        let found = format!("{} angles, {} readings.", at.len(), read.len());
        return Err(Problem::impossible(given.path_of(readings), found, "Give one reading for each angle.").into());
    }
    Ok(at.into_iter().zip(read).collect())
}

fn swept(given: &Given) -> Result<Option<(Exact, Exact)>, Vec<Problem>> {
    let Some(pair) = given.figures_if("swept") else { return Ok(None) };
    let [largest, smallest] = pair.as_slice() else {
        let found = format!("Found {} figures.", pair.len());
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
        working.say(format!("{} marks", turn.marks.len()));
        working.step("TIR by the marks", "largest - smallest", "", format!("{} mm", self.tir_marks));
        if let (Some(swept), Some((largest, smallest))) = (&self.tir_swept, &turn.swept) {
            working.step("TIR swept", "largest - smallest", format!("{largest} - ({smallest})"), format!("{swept} mm"));
        }
        if let Some(closure) = &self.closure {
            working.step("closure", "closing - first", "", format!("{closure} mm"));
        }
        working.say("reading = mean + e cos(angle - high spot), by least squares");
        let amount = shown(millimetres(self.amount()), 4);
        working.step("e", "", "", format!("{amount} mm"));
        let high = self.high_spot().map(|at| format!("{} deg", shown(degrees(at), 4)));
        working.step("high spot", "", "", high.clone().unwrap_or_else(|| "none, e is zero".to_owned()));
        let rest = shown(millimetres(self.residual), 4);
        working.step("residual", "largest - smallest after the harmonic", "", format!("{rest} mm"));
        working.step("rms residual", "", "", format!("{} mm", shown(millimetres(self.rms_residual), 4)));
        for warning in &self.warnings {
            working.say(warning.to_string());
        }
        let at = high.map_or_else(String::new, |high| format!(" at {high}"));
        working.resulting(format!("TIR {} mm, eccentricity {amount} mm{at}", self.tir))
    }
}
