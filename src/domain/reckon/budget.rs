//! An uncertainty budget: terms, combined uncertainty, effective degrees of freedom, expanded uncertainty.
//!
//! All kinds have rational variances, so the squares, the Welch-Satterthwaite sum and the cut to a whole number are exact;
//! only roots and the coverage factor are floats. Source: JCGM 100:2008 4.3, 5.1, G.4.
#![expect(clippy::disallowed_types, reason = "roots and coverage factors; the sums before them are exact")]

use super::distribution::t_quantile;
use super::line::square;
use super::quantity::{float, root, whole_below};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

mod row;

pub use row::FORMULA;

/// How a term's figure is to be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// A standard uncertainty.
    Standard,
    /// The half width of an interval, each value in it as likely.
    Uniform,
    /// The half width, the middle most likely.
    Triangular,
    /// The half width, the ends most likely: a temperature that swings to and fro.
    Arcsine,
    /// An expanded uncertainty with its coverage factor.
    Expanded {
        /// The factor.
        k: Exact,
    },
    /// A squared standard uncertainty, from another reckoning whose root is no decimal.
    Squared,
    /// The step of a display or scale: half of it to both sides, uniform.
    Resolution,
}

impl Kind {
    /// The squared standard uncertainty of a figure of this kind.
    pub fn variance(&self, value: &Exact) -> Option<Exact> {
        let squared = square(value);
        let over = |divisor: u32| squared.over(&Exact::from(divisor));
        match self {
            Self::Squared => Some(value.clone()),
            Self::Standard => Some(squared),
            Self::Uniform => over(3),
            Self::Triangular => over(6),
            Self::Arcsine => over(2),
            Self::Expanded { k } => squared.over(&square(k)),
            Self::Resolution => over(12),
        }
    }

    /// What the figure is divided by, as the budget's table writes it; a square is not divided.
    pub fn divisor(&self) -> Option<String> {
        let divisor = match self {
            Self::Squared => return None,
            Self::Standard => "1".to_owned(),
            Self::Uniform => "sqrt 3".to_owned(),
            Self::Triangular => "sqrt 6".to_owned(),
            Self::Arcsine => "sqrt 2".to_owned(),
            Self::Expanded { k } => k.to_string(),
            Self::Resolution => "(2 sqrt 3)".to_owned(),
        };
        Some(divisor)
    }
}

/// One line of the budget.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// What it stands for.
    pub name: String,
    /// How to read the figure.
    pub kind: Kind,
    /// The figure, not below zero.
    pub value: Exact,
    /// Degrees of freedom, at least one; `None`: endless.
    pub dof: Option<Exact>,
    /// What a unit of it changes in the result.
    pub sensitivity: Exact,
    /// What the figure is in, where that is not the unit of the result.
    pub own_unit: Option<Unit>,
}

impl Term {
    /// A term that counts as it is.
    pub fn new(name: &str, kind: Kind, value: Exact, dof: Option<Exact>) -> Self {
        Self { name: name.to_owned(), kind, value, dof, sensitivity: Exact::from(1), own_unit: None }
    }

    /// The square of what it adds.
    fn variance(&self) -> Option<Exact> {
        Some(&self.kind.variance(&self.value)? * &square(&self.sensitivity))
    }
}

/// A budget reckoned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Budget {
    /// The terms, in their order, with the squares of what they add.
    pub terms: Vec<(Term, Exact)>,
    /// The squared combined standard uncertainty.
    pub variance: Exact,
    /// Effective degrees of freedom; `None`: endless.
    pub dof: Option<Exact>,
}

/// Adds up the budget.
///
/// # Errors
/// `TooFew` without terms; `NoAnswer`, by its name, of a term below zero, with a factor of zero or less than one degree of
/// freedom.
pub fn budget(terms: Vec<Term>) -> Result<Budget, RefusalKind> {
    if terms.is_empty() {
        return Err(RefusalKind::TooFew { what: "terms", given: 0, needed: 1 });
    }
    let mut reckoned = Vec::with_capacity(terms.len());
    for term in terms {
        let sound = !term.value.is_negative() && term.dof.as_ref().is_none_or(|dof| dof >= &Exact::from(1));
        let Some(variance) = term.variance().filter(|_| sound) else {
            return Err(RefusalKind::NoAnswer {
                why: format!("`{}` is below zero, or its factor or degrees of freedom are.", term.name),
                mend: "Give a figure not below zero, a factor above zero, degrees of freedom of one or more.",
            });
        };
        reckoned.push((term, variance));
    }
    let variance = reckoned.iter().map(|(_, variance)| variance).sum();
    let dof = effective_dof(&reckoned, &variance);
    Ok(Budget { terms: reckoned, variance, dof })
}

/// Welch and Satterthwaite: `u^4 / sum(u_i^4 / dof_i)`, JCGM 100:2008 G.2b.
fn effective_dof(terms: &[(Term, Exact)], variance: &Exact) -> Option<Exact> {
    let shares: Exact = terms
        .iter()
        .filter_map(|(term, variance)| square(variance).over(term.dof.as_ref()?))
        .fold(Exact::zero(), |a, b| &a + &b);
    square(variance).over(&shares)
}

impl Budget {
    /// Combined standard uncertainty.
    pub fn u(&self) -> f64 {
        root(&self.variance)
    }

    /// The degrees of freedom cut to a whole number, as the GUM does: the cautious side.
    pub fn dof_whole(&self) -> Option<Exact> {
        self.dof.as_ref().map(whole_below)
    }

    /// The coverage factor for a two-sided share `p`, by the whole number.
    pub fn k(&self, p: f64) -> f64 {
        t_quantile(p.midpoint(1.0), self.dof_whole().as_ref().map_or(f64::INFINITY, float))
    }
}
