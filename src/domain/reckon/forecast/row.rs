//! The row of `forecast`.

use super::{
    AtNext, Basis, ChiSquared, FIRST, Fit, Forecast, Inspection, NewReading, NoForecast, Outlook, Question, Rule,
    by_rule, last_place,
};
use crate::domain::exact::Exact;
use crate::domain::reckon::judge::Side;
use crate::domain::reckon::line::{Line, Reached};
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::{apart, float, shown, shown_apart};
use crate::domain::reckon::working::of_freedom;
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working};
use crate::domain::unit::Unit;

const HOURS: Shape = Shape::Figure(Unit::Hour, Range::NotNegative);

const INSPECTION: &[Key] = &[
    Key::required("hours", HOURS, "of the part"),
    Key::required("value", Shape::AnyFigure(Range::Any), "what was read; as left, where the part was replaced then"),
    Key::optional(
        "u",
        Shape::AnyFigure(Range::Positive),
        "standard uncertainty; may be left out from three readings up",
    ),
    Key::default("replaced", Shape::Flag, "false", "true where the part was new then: earlier ones are left out"),
];

/// `forecast/2`.
pub const FORMULA: Formula = Formula {
    name: "forecast",
    number: 2,
    purpose: "wear at the next inspection, its bound, and hours left",
    keys: &[
        Key::required("inspections", Shape::List(&Shape::Map(INSPECTION)), "in their order"),
        Key::required("limit", Shape::AnyFigure(Range::Any), "the limit"),
        Key::default("side", Shape::Word(&["largest", "smallest"]), "largest", "what the limit is of what is allowed"),
        Key::required("next_hours", HOURS, "of the part, at the next inspection"),
        Key::default(
            "p",
            Shape::Figure(Unit::One, Range::Between("0", "1")),
            "0.95",
            "share of the bound, one-sided, above 0.5",
        ),
        Key::default("new_reading", Shape::Flag, "true", "bound of a new reading, u as the last one's, or s"),
    ],
    outputs: &[
        Output::new("intercept, slope", "as given", "of the line the forecast leans on"),
        Output::new("basis", "", "line, or last rate where the line fits poorly and the rate is worse"),
        Output::new("why", "", "what speaks for the basis"),
        Output::new("next: value, u, bound", "as given", "at the next inspection"),
        Output::new(
            "hours_left: line, bound",
            "h",
            "from the last inspection until each meets the limit; 0: already, or the last reading has",
        ),
        Output::new("now", "", "within or past, the last reading; on the limit is past"),
        Output::new("at_next", "", "within, watch (the bound alone reaches the limit) or past (the line does)"),
        Output::new("chi2", "", "of the line through all readings, where they have a u"),
        Output::new("no_forecast", "", "why there is none; it changes no verdict"),
        Output::new("unit", "", "of these figures: mm for lengths, else the first given; left out where none was"),
    ],
    source: "ISO/TS 28037:2010 6.3; JCGM 100:2008 H.3; last rate and no forecast: common practice, no source",
    example: &[
        "inspections=[{hours: 0, value: 1.60 mm, u: 0.02}, {hours: 12130, value: 1.42, u: 0.02}, {hours: 24370, value: 1.22, u: 0.02}]",
        "limit=1.00",
        "side=smallest",
        "next_hours=36400",
    ],
    expected: &[("basis", "line"), ("now", "within"), ("at_next", "watch")],
    impossible,
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    reckon_by(Rule::Second, given)
}

pub(super) fn reckon_by(rule: Rule, given: &Given) -> Result<Outcome, Vec<Problem>> {
    let maps = given.maps("inspections")?;
    let carried = maps.iter().flat_map(|map| [map.with_unit_if("value"), map.with_unit_if("u")]).flatten();
    let unit = OneUnit::of(&carried.chain(given.with_unit_if("limit")).collect::<Vec<_>>());
    let mut problems = Vec::new();
    let mut inspections = Vec::new();
    for map in &maps {
        match inspection(map, unit) {
            Ok(inspection) => inspections.push(inspection),
            Err(more) => problems.extend(more),
        }
    }
    if problems.is_empty() {
        problems = without_u(&maps, &inspections);
    }
    let p = given.figure("p")?;
    if Exact::fraction(1, 2).is_some_and(|half| p <= half) {
        problems.push(Problem::new("p", Trouble::OutOfRange, format!("`{p}`"), "a share above 0.5 and below 1"));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let asked = Question {
        limit: unit.take_required(given, "limit")?,
        side: if given.text("side")? == "smallest" { Side::Smallest } else { Side::Largest },
        next_hours: given.figure("next_hours")?,
        p,
        new_reading: if given.is("new_reading") { NewReading::Counted } else { NewReading::LeftOut },
    };
    let got = by_rule(rule, &inspections, &asked)?;
    Ok(Outcome { answers: unit.said(got.answers(), "unit"), working: got.steps(&inspections, &asked, unit) })
}

fn inspection(map: &Given, unit: OneUnit) -> Result<Inspection, Vec<Problem>> {
    let written = map.with_unit_if("value").and_then(|(value, typed)| Some((last_place(&value)?, typed)));
    Ok(Inspection {
        hours: map.figure("hours")?,
        step: written.and_then(|step| unit.take("", &step).ok()),
        value: unit.take_required(map, "value")?,
        u: unit.take_if(map, "u")?,
        replaced: map.is("replaced"),
    })
}

/// Hours that do not rise while the part is the same, and a next inspection that is not after the last.
fn impossible(given: &Given) -> Vec<Problem> {
    let maps = given.maps("inspections").unwrap_or_default();
    let hours = |map: &Given| map.figure_if("hours");
    let falls = maps.iter().zip(maps.iter().skip(1)).filter_map(|(before, map)| {
        let (then, now) = (hours(before)?, hours(map)?);
        let expected = format!("more than {then} h before it, or `replaced: true`");
        let problem = || Problem::new(map.path_of("hours"), Trouble::OutOfRange, format!("`{now}`"), expected);
        (now <= then && !map.is("replaced")).then(problem)
    });
    let next = given.figure_if("next_hours").zip(maps.last().and_then(|last| hours(last)));
    let early = next.filter(|(next, last)| next <= last).map(|(next, last)| {
        let expected = format!("more than {last} h, the last inspection's");
        Problem::new("next_hours", Trouble::OutOfRange, format!("`{next}`"), expected)
    });
    falls.chain(early).collect()
}

/// The readings of the part that lack the uncertainty they need: all of two, and any where others have one.
fn without_u(maps: &[&Given], inspections: &[Inspection]) -> Vec<Problem> {
    let start = inspections.iter().rposition(|inspection| inspection.replaced).unwrap_or(0);
    let part = || maps.iter().zip(inspections).skip(start);
    let wanted = part().count() == 2 || part().any(|(_, inspection)| inspection.u.is_some());
    let missing = |map: &Given| {
        let expected = "it for every reading: two need their own, and all have one or none";
        Problem::new(map.path_of("u"), Trouble::Missing, "nothing", expected)
    };
    part().filter(|(_, inspection)| wanted && inspection.u.is_none()).map(|(map, _)| missing(map)).collect()
}

impl Basis {
    /// The word for programs and people.
    pub fn word(self) -> &'static str {
        match self {
            Self::Line => "line",
            Self::LastRate => "last rate",
        }
    }
}

impl AtNext {
    /// The word for programs and people.
    pub fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Watch => "watch",
            Self::Past => "past",
        }
    }
}

impl NoForecast {
    /// Why there is none, one sentence.
    pub fn why(&self) -> &'static str {
        match self {
            Self::OneReading => "one reading since the part was new gives no line",
            Self::NotWorsening(_) => "the value does not move toward its limit",
        }
    }
}

impl Forecast {
    /// What speaks for the basis, one sentence.
    pub fn why(&self) -> String {
        let beside = |chi: &ChiSquared| Exact::parse(&shown(chi.quantile, 3)).unwrap_or_default();
        let chi =
            |chi: &ChiSquared| format!("chi-squared {} on {}", shown_apart(chi.value, &[&beside(chi)], 2), chi.dof);
        match (&self.fit, self.basis) {
            (Fit::Unchecked, _) => "two readings, straightness unchecked".to_owned(),
            (Fit::FromResiduals, _) => "spread taken from the readings themselves".to_owned(),
            (Fit::Good(fit), _) => format!("{}, below {}: the line fits", chi(fit), shown(fit.quantile, 3)),
            (Fit::Poor(fit), Basis::LastRate) => {
                format!("{}, above {}: the line fits poorly, the last rate is worse", chi(fit), shown(fit.quantile, 3))
            }
            (Fit::Poor(fit), Basis::Line) => {
                format!(
                    "{}, above {}: the line fits poorly, the last rate is no worse",
                    chi(fit),
                    shown(fit.quantile, 3)
                )
            }
        }
    }
}

impl Outlook {
    fn now(&self) -> &'static str {
        if self.past_now { "past" } else { "within" }
    }

    /// Whether no hours are left because the last reading says so.
    fn is_over(&self) -> bool {
        self.past_now && self.rule == Rule::Second
    }

    fn answers(&self) -> Answers {
        let line = |line: &Line| {
            Answers::new().number("intercept", float(&line.intercept())).number("slope", float(line.slope()))
        };
        let got = match &self.forecast {
            Ok(got) => got,
            Err(none) => {
                let answers = match none {
                    NoForecast::OneReading => Answers::new(),
                    NoForecast::NotWorsening(flat) => line(flat),
                };
                return answers.text("now", self.now()).text("no_forecast", none.why());
            }
        };
        let next = Answers::new().number("value", got.next.value).number("u", got.next.u).number("bound", got.bound);
        let left = |answers: Answers, key: &str, reached: Reached| match reached {
            Reached::Already => answers.number(key, 0.0),
            Reached::After(hours) => answers.number(key, hours),
            Reached::Never => answers.absent(key, "it never meets the limit"),
        };
        let left = left(left(Answers::new(), "line", got.left_by_line), "bound", got.left_by_bound);
        let answers = line(&got.line)
            .text("basis", got.basis.word())
            .text("why", got.why())
            .map("next", next)
            .map("hours_left", left)
            .text("now", self.now())
            .text("at_next", got.at_next.word());
        match &got.fit {
            Fit::Good(chi) | Fit::Poor(chi) => answers.number("chi2", chi.value),
            Fit::Unchecked => answers.absent("chi2", "two readings always lie on a line"),
            Fit::FromResiduals => answers.absent("chi2", "the readings have no u"),
        }
    }

    /// The working, figures in `unit`; for the steps of an inspection.
    pub fn working(&self, inspections: &[Inspection], asked: &Question, unit: Unit) -> Working {
        self.steps(inspections, asked, OneUnit::fixed(unit))
    }

    fn steps(&self, inspections: &[Inspection], asked: &Question, unit: OneUnit) -> Working {
        let mut working = Working::of(match self.rule {
            Rule::First => &FIRST,
            Rule::Second => &FORMULA,
        });
        let skipped = inspections.len() - self.counted;
        if skipped > 0 {
            let words = if skipped == 1 { "reading belongs" } else { "readings belong" };
            working.say(format!("{skipped} earlier {words} to a replaced part"));
        }
        let part = inspections.get(skipped..).unwrap_or_default();
        for Inspection { hours, value, u, .. } in part {
            let u = u.as_ref().map_or_else(String::new, |u| format!(", u {}", unit.behind(u.at_most(6))));
            working.step(format!("at {hours} h"), "", "", format!("{}{u}", unit.behind(value.at_most(6))));
        }
        let got = match &self.forecast {
            Ok(got) => got,
            Err(none) => {
                if let NoForecast::NotWorsening(line) = none {
                    let slope = unit.over(OneUnit::fixed(Unit::Hour), shown(float(line.slope()), 5));
                    working.step("b", "slope of the line", "", slope);
                }
                return working.resulting(format!("{} now; no forecast: {}", self.now(), none.why()));
            }
        };
        working.say(got.why());
        let (next, bound) = got.ahead_steps(&mut working, part, (asked, self), unit);
        let verdict = got.at_next.word();
        working.resulting(format!("{} now; {next}, bound {bound}, at {} h: {verdict}", self.now(), asked.next_hours))
    }
}

impl Forecast {
    /// The line, the value at the next inspection, its bound, and the hours left; value and bound as shown.
    fn ahead_steps(
        &self,
        working: &mut Working,
        part: &[Inspection],
        (asked, outlook): (&Question, &Outlook),
        unit: OneUnit,
    ) -> (String, String) {
        let hours = OneUnit::fixed(Unit::Hour);
        let from = match self.basis {
            Basis::Line => 0,
            Basis::LastRate => part.len().saturating_sub(2),
        };
        working.say(format!("by the {}, x in hours:", self.basis.word()));
        self.line.steps(working, part.len() - from.min(part.len()), (hours, unit));
        let extra = match asked.new_reading {
            NewReading::Counted => self.line.new_reading().unwrap_or_default(),
            NewReading::LeftOut => Exact::zero(),
        };
        self.line.value_steps(working, &asked.next_hours, &extra, (hours, unit));
        let dof = of_freedom(self.line.certainty_words());
        let share = shown(100.0 * float(&asked.p), 6);
        working.step("k", format!("t for {share} %, one-sided, and {dof}"), "", shown(self.k, 5));
        let sign = match asked.side {
            Side::Largest => "+",
            Side::Smallest => "-",
        };
        let limit = [&asked.limit];
        let value = apart(&self.line.value(&asked.next_hours), &limit, 4);
        let bound = unit.behind(shown_apart(self.bound, &limit, 4));
        let put_in =
            format!("{} {sign} {} x {}", unit.behind(&value), shown(self.k, 5), unit.behind(shown(self.next.u, 4)));
        working.step("bound", format!("y {sign} k u"), put_in, bound.clone());
        self.line.meeting_steps(working, &asked.limit, (hours, unit));
        let over = outlook.is_over();
        if over {
            working.say("the last reading has reached its limit: no hours are left");
        }
        let left = |reached: Reached| match reached {
            Reached::Already => "met already".to_owned(),
            Reached::After(hours) => format!("{} h", shown(hours.floor(), 8)),
            Reached::Never => "never".to_owned(),
        };
        let told = format!("line {}, bound {}", left(self.left_by_line), left(self.left_by_bound));
        let last = part.last().map(|last| format!("x at the limit - {} h", last.hours)).unwrap_or_default();
        working.step("hours left", last, "", told);
        let why = match self.at_next {
            AtNext::Past if over => "reached now, and wear does not heal",
            AtNext::Past => "the line reaches the limit",
            AtNext::Watch => "the bound alone reaches the limit",
            AtNext::Within => "line and bound stay short of the limit",
        };
        let when = if over { "" } else { " by then" };
        working.say(format!("limit {}: {why}{when}", unit.behind(&asked.limit)));
        (unit.behind(value), bound)
    }
}
