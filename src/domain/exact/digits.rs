//! Exact numbers and their digits: from text, to a whole number, to so many significant figures.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};

use super::{Exact, Rounding};

/// Longer texts are refused unread.
const LONGEST: usize = 400;
/// Larger powers of ten stand in no figure of this trade; doubles end here too.
const LARGEST_POWER: u32 = 330;

impl Exact {
    /// Reads a decimal as people and programs write it: `0,05`, `.05`, `1.15e-5`; `None` for anything else.
    ///
    /// All digits count, however many. What a field of the screen takes is narrower: see [`crate::domain::typed`].
    pub fn parse(text: &str) -> Option<Self> {
        if text.len() > LONGEST {
            return None;
        }
        let (digits, power) = match text.split_once(['e', 'E']) {
            Some((digits, power)) => (digits, power_of(power)?),
            None => (text, 0),
        };
        let (negative, digits) = match digits.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, digits.strip_prefix('+').unwrap_or(digits)),
        };
        let (whole, after) = match digits.split_once(['.', ',']) {
            Some((_, "")) => return None,
            Some((whole, after)) => (whole, after),
            None => (digits, ""),
        };
        let all = format!("{whole}{after}");
        if all.is_empty() || !all.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        let places = i32::try_from(after.len()).ok()?;
        let size = Self::of(BigRational::from_integer(all.parse().ok()?));
        let size = &size * &Self::power_of_ten(power.checked_sub(places)?);
        let written = u32::try_from(places - power).unwrap_or(0);
        Some(if negative { -&size } else { size }.written(written))
    }

    /// The whole number.
    pub fn whole(number: i64) -> Self {
        Self::of(BigRational::from_integer(number.into()))
    }

    /// Ten to the `power`.
    pub fn power_of_ten(power: i32) -> Self {
        let ten = BigRational::from_integer(BigInt::from(10).pow(power.unsigned_abs()));
        Self::of(if power < 0 { ten.recip() } else { ten })
    }

    /// The power of ten of the first digit: 2 for 120, -3 for 0.0015; zero has none.
    pub fn order(&self) -> Option<i32> {
        if self.is_zero() {
            return None;
        }
        let size = self.abs();
        let bits = |number: &BigInt| i64::try_from(number.bits()).unwrap_or(0);
        // the bits tell it to within one; the loops settle it
        let mut order = i32::try_from((bits(size.size.numer()) - bits(size.size.denom())) * 301 / 1000).ok()?;
        while Self::power_of_ten(order) > size {
            order -= 1;
        }
        while Self::power_of_ten(order + 1) <= size {
            order += 1;
        }
        Some(order)
    }

    /// The number cut to `figures` significant figures; zero stays.
    #[must_use]
    pub fn to_figures(&self, figures: u32, rounding: Rounding) -> Self {
        let (Some(order), Ok(figures)) = (self.order(), i32::try_from(figures)) else { return self.clone() };
        let unit = Self::power_of_ten(order - figures + 1);
        let Some(scaled) = self.over(&unit) else { return self.clone() };
        let whole = match rounding {
            Rounding::Nearest => scaled.size.round(),
            Rounding::Up => scaled.size.ceil(),
            Rounding::Down => scaled.size.floor(),
        };
        &Self::of(whole) * &unit
    }

    /// The whole number, when it is one that fits.
    pub fn as_whole(&self) -> Option<i64> {
        self.size.is_integer().then(|| self.size.to_integer().to_i64()).flatten()
    }

    /// The largest whole number not above it; `None` when it does not fit.
    pub fn floor(&self) -> Option<i64> {
        self.size.floor().to_integer().to_i64()
    }

    /// All its digits when they are at most `places` behind the point, else rounded to the nearest with so many.
    pub fn at_most(&self, places: u32) -> String {
        match self.places() {
            Some(own) if own <= places => self.rounded(own.max(self.written).min(places), Rounding::Nearest),
            Some(_) | None => self.rounded(places, Rounding::Nearest),
        }
    }

    /// How many digits its decimal has behind the point; `None` when it does not end.
    pub fn places(&self) -> Option<u32> {
        super::ending_places(self.size.denom())
    }
}

fn power_of(text: &str) -> Option<i32> {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let plain = !digits.is_empty() && digits.len() <= 4 && digits.bytes().all(|byte| byte.is_ascii_digit());
    let power: i32 = plain.then(|| text.parse().ok()).flatten()?;
    (power.unsigned_abs() <= LARGEST_POWER).then_some(power)
}

impl Default for Exact {
    fn default() -> Self {
        Self::of(BigRational::zero())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_read_whole_however_written() {
        for (text, fraction) in [
            ("0,05", "1/20"),
            (".05", "1/20"),
            ("-0.50", "-1/2"),
            ("1.15e-5", "23/2000000"),
            ("1E3", "1000"),
            ("12", "12"),
            ("0.012345678901234567", "12345678901234567/1000000000000000000"),
        ] {
            assert_eq!(Exact::parse(text).unwrap().as_fraction(), fraction, "{text}");
        }
        for text in ["", ".", "5.", "1.2.3", "nan", "inf", "1e", "1e999", "0x10", "1_000", "1e99999999999", "--1", "e5"]
        {
            assert_eq!(Exact::parse(text), None, "{text}");
        }
    }

    #[test]
    fn significant_figures_round_the_way_asked() {
        for (text, up, down) in [
            ("0.0144337", "0.015", "0.014"),
            ("0.004", "0.004", "0.004"),
            ("0.0991", "0.1", "0.099"),
            ("123", "130", "120"),
            ("9.99", "10", "9.9"),
            ("0", "0", "0"),
        ] {
            let exact = Exact::parse(text).unwrap();
            assert_eq!(exact.to_figures(2, Rounding::Up).to_string(), up, "{text}");
            assert_eq!(exact.to_figures(2, Rounding::Down).to_string(), down, "{text}");
        }
        assert_eq!(Exact::parse("1000").unwrap().order(), Some(3));
        assert_eq!(Exact::parse("999.9").unwrap().order(), Some(2));
        assert_eq!(Exact::parse("0.001").unwrap().order(), Some(-3));
    }
}
