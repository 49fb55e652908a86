//! Numbers without rounding: sums, means, ratios and converted figures as fractions of whole numbers.

mod digits;

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Signed, Zero};
use rust_decimal::Decimal;

/// An exact fraction of two whole numbers of any size.
///
/// Means, ratios and conversions live here so that a verdict never hangs on a rounding; only what is shown is rounded. A figure
/// remembers the places it was written with, through sums and differences, so that `45.00` is shown as the gauge showed it;
/// in size `45.00` and `45` are equal.
#[derive(Debug, Clone)]
pub struct Exact {
    size: BigRational,
    written: u32,
}

/// Which way a shown figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest, halves away from zero.
    Nearest,
    /// Toward larger values.
    Up,
    /// Toward smaller values.
    Down,
}

impl Exact {
    /// A size that nobody wrote.
    fn of(size: BigRational) -> Self {
        Self { size, written: 0 }
    }

    /// The same size, shown with at least so many places where its decimal ends.
    #[must_use]
    pub fn written(self, places: u32) -> Self {
        Self { written: places, ..self }
    }

    /// How many places its decimal is shown with: as many as it was written with, or has; `None` when it does not end.
    pub fn shown_places(&self) -> Option<u32> {
        self.places().map(|own| own.max(self.written))
    }

    /// The last place it was written to or ends at; `None` of a fraction that nobody wrote.
    pub fn last_place(&self) -> Option<u32> {
        self.shown_places().or((self.written > 0).then_some(self.written))
    }

    /// The fraction `numerator / denominator`; `None` when the denominator is zero.
    pub fn fraction(numerator: i128, denominator: i128) -> Option<Self> {
        (denominator != 0).then(|| Self::of(BigRational::new(numerator.into(), denominator.into())))
    }

    /// Zero.
    pub fn zero() -> Self {
        Self::of(BigRational::zero())
    }

    /// The quotient; `None` when `other` is zero.
    pub fn over(&self, other: &Self) -> Option<Self> {
        (!other.is_zero()).then(|| Self::of(&self.size / &other.size))
    }

    /// Whether it is zero.
    pub fn is_zero(&self) -> bool {
        self.size.is_zero()
    }

    /// Whether it is below zero.
    pub fn is_negative(&self) -> bool {
        self.size.is_negative()
    }

    /// The distance from zero.
    #[must_use]
    pub fn abs(&self) -> Self {
        Self { size: self.size.abs(), ..*self }
    }

    /// The fraction in lowest terms, `47/300`; a whole number without its denominator, `3`.
    pub fn as_fraction(&self) -> String {
        if self.size.is_integer() {
            self.size.numer().to_string()
        } else {
            format!("{}/{}", self.size.numer(), self.size.denom())
        }
    }

    /// All digits when the decimal ends, such as `0.022`; `None` for the likes of 1/3.
    pub fn as_decimal(&self) -> Option<String> {
        let places = ending_places(self.size.denom())?;
        Some(self.rounded(places, Rounding::Nearest))
    }

    /// The same as a figure that can be typed; `None` where the decimal does not end, or has more digits than one holds.
    pub fn decimal(&self) -> Option<Decimal> {
        self.as_decimal()?.parse().ok()
    }

    /// The decimal with exactly `places` digits after the point.
    pub fn rounded(&self, places: u32, rounding: Rounding) -> String {
        let scaled = &self.size * BigRational::from_integer(BigInt::from(10).pow(places));
        let whole = match rounding {
            Rounding::Nearest => scaled.round(),
            Rounding::Up => scaled.ceil(),
            Rounding::Down => scaled.floor(),
        }
        .to_integer();
        with_point(&whole, places)
    }

    /// The nearest binary floating number's text, enough digits to parse back; for `reckon`, which alone uses floats.
    pub fn as_long_decimal(&self) -> String {
        if self.is_zero() {
            return "0".to_owned();
        }
        // digits before the point, so that small figures keep twenty significant ones
        let size =
            i64::try_from(self.size.numer().bits()).unwrap_or(0) - i64::try_from(self.size.denom().bits()).unwrap_or(0);
        let places = u32::try_from(25 - size * 3 / 10).unwrap_or(0);
        self.rounded(places, Rounding::Nearest)
    }
}

/// How many places a decimal with this denominator has, when it ends at all.
fn ending_places(denominator: &BigInt) -> Option<u32> {
    let mut rest = denominator.clone();
    let mut count = |prime: u32| {
        let prime = BigInt::from(prime);
        let mut times = 0;
        while (&rest % &prime).is_zero() {
            rest /= &prime;
            times += 1;
        }
        times
    };
    let places = count(2).max(count(5));
    rest.is_one().then_some(places)
}

fn with_point(whole: &BigInt, places: u32) -> String {
    let sign = if whole.is_negative() { "-" } else { "" };
    let width = usize::try_from(places).unwrap_or(0);
    let digits = format!("{:0>1$}", whole.abs().to_string(), width + 1);
    let (before, after) = digits.split_at(digits.len() - width);
    if after.is_empty() { format!("{sign}{before}") } else { format!("{sign}{before}.{after}") }
}

impl From<Decimal> for Exact {
    fn from(decimal: Decimal) -> Self {
        let size = BigRational::new(decimal.mantissa().into(), BigInt::from(10).pow(decimal.scale()));
        Self { size, written: decimal.scale() }
    }
}

impl From<u32> for Exact {
    fn from(whole: u32) -> Self {
        Self::of(BigRational::from_integer(whole.into()))
    }
}

impl Add for &Exact {
    type Output = Exact;
    fn add(self, other: Self) -> Exact {
        Exact { size: &self.size + &other.size, written: self.written.max(other.written) }
    }
}

impl Sub for &Exact {
    type Output = Exact;
    fn sub(self, other: Self) -> Exact {
        Exact { size: &self.size - &other.size, written: self.written.max(other.written) }
    }
}

impl Mul for &Exact {
    type Output = Exact;
    fn mul(self, other: Self) -> Exact {
        Exact::of(&self.size * &other.size)
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact { size: -&self.size, ..*self }
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(terms: I) -> Self {
        terms.fold(Self::zero(), |total, term| &total + term)
    }
}

/// The decimal when it ends, with the places it was written with, else the fraction.
impl fmt::Display for Exact {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimal = self.shown_places().map(|places| self.rounded(places, Rounding::Nearest));
        out.write_str(&decimal.unwrap_or_else(|| self.as_fraction()))
    }
}

impl PartialEq for Exact {
    fn eq(&self, other: &Self) -> bool {
        self.size == other.size
    }
}

impl Eq for Exact {}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        self.size.cmp(&other.size)
    }
}

impl Hash for Exact {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.size.hash(state);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        Exact::from(text.parse::<Decimal>().unwrap())
    }

    #[test]
    fn a_difference_on_the_limit_is_the_limit() {
        // doubles say 0.02199...
        assert_eq!(&exact("59.931") - &exact("59.909"), exact("0.022"));
        assert!(&exact("44.97") - &exact("44.95") >= exact("0.02"));
    }

    #[test]
    fn a_figure_is_shown_with_the_places_it_was_written_with_and_equal_without_them() {
        let difference = &exact("45.00") - &exact("44.90");
        assert_eq!(difference.to_string(), "0.10");
        assert_eq!(difference, exact("0.1"));
        assert_eq!(difference.at_most(1), "0.1");
        assert_eq!((&difference * &Exact::from(2)).to_string(), "0.2", "a product is reckoned, nobody wrote it");
    }

    #[test]
    fn a_mean_of_three_keeps_its_fraction() {
        let sum: Exact = [exact("0.16"), exact("0.15"), exact("0.16")].iter().sum();
        let mean = sum.over(&Exact::from(3)).unwrap();
        assert_eq!(mean.as_fraction(), "47/300");
        assert_eq!(mean.as_decimal(), None);
        assert_eq!(mean.rounded(4, Rounding::Nearest), "0.1567");
        assert_eq!(mean.rounded(4, Rounding::Down), "0.1566");
    }

    #[test]
    fn small_and_negative_figures_keep_their_point() {
        assert_eq!(exact("-0.005").to_string(), "-0.005");
        assert_eq!(exact("-0.005").rounded(2, Rounding::Nearest), "-0.01");
        assert_eq!(exact("12").rounded(0, Rounding::Nearest), "12");
        assert_eq!(exact("0.020").to_string(), "0.020", "as it was written");
        assert_eq!(exact("0.020").as_decimal().unwrap(), "0.02");
        assert!(exact("0.000000012345678901234567").as_long_decimal().contains("12345678901234567"));
    }
}
