//! The row of `budget`, and the budget as a table in workings.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Budget, Kind, Term, budget};
use crate::domain::exact::Exact;
use crate::domain::reckon::impossible::idle;
use crate::domain::reckon::one_unit::{Carried, OneUnit};
use crate::domain::reckon::quantity::{float, pencilled, root, shown};
use crate::domain::reckon::working::{joined, of_freedom};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working};
use crate::domain::unit::{Dimension, Unit};

const KINDS: &[&str] = &["standard", "uniform", "triangular", "arcsine", "expanded", "resolution"];

const TERM: &[Key] = &[
    Key::required("name", Shape::Text, "what it stands for"),
    Key::optional("kind", Shape::Word(KINDS), "how to read the figure; half widths for uniform, triangular, arcsine"),
    Key::optional("value", Shape::AnyFigure(Range::NotNegative), "the figure"),
    Key::optional("u", Shape::AnyFigure(Range::NotNegative), "standard uncertainty, in place of kind and value"),
    Key::optional("k", Shape::Figure(Unit::One, Range::Positive), "coverage factor of an expanded uncertainty"),
    Key::optional("dof", Shape::Dof, "degrees of freedom"),
    Key::default(
        "sensitivity",
        Shape::AnyFigure(Range::Any),
        "1",
        "what one unit of it changes in the result; with the result's unit where the figure has another: value 1 K, \
         sensitivity 0.5 um",
    ),
];

/// `budget/1`.
pub const FORMULA: Formula = Formula {
    name: "budget",
    number: 1,
    purpose: "uncertainty budget: combined and expanded uncertainty",
    keys: &[
        Key::required("terms", Shape::List(&Shape::Map(TERM)), "the terms"),
        Key::default("p", Shape::Figure(Unit::One, Range::Between("0", "1")), "0.95", "coverage, two-sided"),
    ],
    outputs: &[
        Output::new("u", "as given", "combined standard uncertainty"),
        Output::new("dof", "", "effective degrees of freedom, Welch-Satterthwaite"),
        Output::new("dof_whole", "", "the same cut to a whole number; k and U go by it"),
        Output::new("k", "", "coverage factor"),
        Output::new("U", "as given", "expanded uncertainty"),
        Output::new("terms: name, contribution", "as given", "what each term adds, |sensitivity| x u"),
        Output::new("unit", "", "of these figures: mm for lengths, else the first given; left out where none was"),
    ],
    source: "JCGM 100:2008 4.3, 5.1, G.4 (degrees of freedom cut down, the cautious side)",
    example: &["terms=[{name: repeats, u: 0.88 um, dof: 2}, {name: resolution high, kind: resolution, value: 2 um}, \
                {name: resolution low, kind: resolution, value: 2 um}, \
                {name: gauge, kind: expanded, value: 3 um, k: 2}]"],
    expected: &[("dof_whole", "45"), ("terms.3.name", "gauge"), ("terms.3.contribution", "0.0015")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let other = |map: &&Given| map.text_if("kind") != Some("expanded");
    let maps = given.maps("terms").unwrap_or_default();
    maps.into_iter().filter(other).filter_map(|map| idle(map, "k", "the kind is not expanded")).collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let maps = given.maps("terms")?;
    let unit = OneUnit::of(&maps.iter().flat_map(|map| of_the_result(map)).collect::<Vec<_>>());
    let mut problems = Vec::new();
    let mut terms = Vec::new();
    for map in maps {
        match term(map, unit) {
            Ok(term) => terms.push(term),
            Err(more) => problems.extend(more),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let p = float(&given.figure("p")?);
    let got = budget(terms)?;
    let mut working = Working::of(&FORMULA);
    got.steps(&mut working, unit);
    let working = got.expanded(working, unit, p);
    Ok(Outcome { answers: unit.said(got.answers(got.k(p)), "unit"), working })
}

/// Whether a term's sensitivity turns its figure into the result's unit, so that the figure may be in any other.
fn turns(map: &Given) -> bool {
    matches!(map.with_unit_if("sensitivity"), Some((_, Some(unit))) if unit.dimension() != Dimension::Ratio)
}

/// The figures of a term that are in the result's unit.
fn of_the_result(map: &Given) -> Vec<Carried> {
    let keys: &[&str] = if turns(map) { &["sensitivity"] } else { &["value", "u"] };
    keys.iter().filter_map(|key| map.with_unit_if(key)).collect()
}

/// The sensitivity in the result's unit, and what the figure itself is in where that is another unit.
fn sensitivity(map: &Given, unit: OneUnit) -> Result<(Exact, Option<Unit>), Vec<Problem>> {
    let path = map.path_of("sensitivity");
    let Some((size, Some(carried))) = map.with_unit_if("sensitivity") else {
        return Ok((map.figure("sensitivity")?, None));
    };
    if !turns(map) {
        // a share, such as 50 %
        return Ok((carried.convert(&size, Unit::One).unwrap_or(size), None));
    }
    let own = [map.with_unit_if("value"), map.with_unit_if("u")].into_iter().flatten().find_map(|(_, unit)| unit);
    if own.is_some_and(|own| own.dimension() == carried.dimension()) {
        let found = format!("`{size} {carried}`");
        let expected = "a plain figure, as the figure is of the same kind";
        return Err(Problem::new(path, Trouble::WrongUnit, found, expected).into());
    }
    Ok((unit.take(&path, &(size, Some(carried)))?, Some(own.unwrap_or(Unit::One))))
}

fn term(map: &Given, unit: OneUnit) -> Result<Term, Vec<Problem>> {
    let wrong = |key: &str, found: &str, expected: &str| -> Vec<Problem> {
        Problem::impossible(map.path_of(key), found, expected).into()
    };
    let missing = |key: &str, expected: &str| -> Vec<Problem> {
        Problem::new(map.path_of(key), Trouble::Missing, "nothing", expected).into()
    };
    let (sensitivity, own_unit) = sensitivity(map, unit)?;
    let unit = if own_unit.is_some() { OneUnit::of(&[]) } else { unit };
    let (value, kind) = match (unit.take_if(map, "u")?, unit.take_if(map, "value")?, map.text_if("kind")) {
        (Some(u), None, None) => (u, Kind::Standard),
        (Some(_), _, _) => return Err(wrong("u", "Given beside kind or value.", "Give `u`, or `kind` and `value`.")),
        (None, None, _) => return Err(missing("value", "`value` with its `kind`, or `u`")),
        (None, Some(_), None) => return Err(missing("kind", &KINDS.join(", "))),
        (None, Some(value), Some(kind)) => (
            value,
            match kind {
                "standard" => Kind::Standard,
                "uniform" => Kind::Uniform,
                "triangular" => Kind::Triangular,
                "arcsine" => Kind::Arcsine,
                "resolution" => Kind::Resolution,
                // the table of keys lets no other word in
                _ => Kind::Expanded { k: map.figure_if("k").ok_or_else(|| missing("k", "the coverage factor"))? },
            },
        ),
    };
    let name = map.text("name")?;
    Ok(Term { sensitivity, own_unit, ..Term::new(name, kind, value, map.figure_if("dof")) })
}

impl Budget {
    /// The degrees of freedom cut to a whole number, or `endless`.
    pub fn dof_words(&self) -> String {
        self.dof_whole().map_or_else(|| "endless".to_owned(), |dof| dof.to_string())
    }

    fn answers(&self, k: f64) -> Answers {
        let answers = Answers::new().number("u", self.u());
        let answers = answers.dof("dof", self.dof.as_ref()).dof("dof_whole", self.dof_whole().as_ref());
        let terms = self
            .terms
            .iter()
            .map(|(term, variance)| Answers::new().text("name", &term.name).number("contribution", root(variance)));
        answers.number("k", k).number("U", k * self.u()).maps("terms", terms)
    }

    /// Coverage factor and expanded uncertainty for the share `p`, the last steps of a working, and its result.
    pub(in crate::domain::reckon) fn expanded(&self, mut working: Working, unit: OneUnit, p: f64) -> Working {
        let (k, u) = (self.k(p), self.u());
        let share = format!("t for {} % and {}", shown(100.0 * p, 6), of_freedom(self.dof_words()));
        working.step("k", share, "", shown(k, 4));
        let expanded = unit.behind(shown(k * u, 3));
        let put_in = format!("{} x {}", shown(k, 4), unit.behind(shown(u, 4)));
        working.step("U", "k u", put_in, expanded.clone());
        working.resulting(format!("U {expanded}, k {}", shown(k, 3)))
    }

    /// The budget's table, combined uncertainty and degrees of freedom, as steps of a working.
    pub(in crate::domain::reckon) fn steps(&self, working: &mut Working, unit: OneUnit) {
        for (term, variance) in &self.terms {
            let own = term.own_unit.map(OneUnit::fixed);
            // a square handed on from another reckoning has no figure of its own to show
            let of =
                term.kind.divisor().map(|divisor| format!("{} / {divisor}", own.unwrap_or(unit).behind(&term.value)));
            let of = of.unwrap_or_default();
            let sensitivity = pencilled(&term.sensitivity);
            let scaled = match own {
                Some(_) => format!("|{}| x {of}", unit.behind(sensitivity)),
                None if term.sensitivity == Exact::from(1) => of,
                None => format!("|{sensitivity}| x {of}"),
            };
            let dof = term.dof.as_ref().map_or_else(String::new, |dof| format!(", {}", of_freedom(dof)));
            working.step(&term.name, scaled, "", format!("{}{dof}", unit.behind(shown(root(variance), 4))));
        }
        let each = |suffix: &dyn Fn(&Term) -> Option<String>| {
            let told = self
                .terms
                .iter()
                .filter_map(|(term, variance)| Some(format!("{}{}", shown(root(variance), 4), suffix(term)?)));
            joined(told.collect(), " + ")
        };
        let squares = each(&|_| Some("^2".to_owned()));
        working.step("u", "sqrt(sum of u_i^2)", format!("sqrt({squares})"), unit.behind(shown(self.u(), 4)));
        match &self.dof {
            Some(dof) => {
                let shares = each(&|term| term.dof.as_ref().map(|dof| format!("^4 / {dof}")));
                let cut = format!("{}, cut to {}", shown(float(dof), 5), self.dof_words());
                let put_in = format!("{}^4 / ({shares})", shown(self.u(), 4));
                working.step("degrees of freedom", "u^4 / sum(u_i^4 / dof_i)", put_in, cut);
            }
            None => working.say("degrees of freedom: endless, no term has any"),
        }
    }
}
