"""Random inputs as decimal texts, so that both sides get the same figures to the last digit."""
from fractions import Fraction


def decimal(rng, low, high, places):
    """A decimal between two numbers with so many places, as text."""
    unit = 10**places
    whole = rng.randint(round(low * unit), round(high * unit))
    sign = "-" if whole < 0 else ""
    digits = str(abs(whole)).rjust(places + 1, "0")
    return sign + (digits[:-places] + "." + digits[-places:] if places else digits)


def decimals(rng, count, low, high, places):
    return [decimal(rng, low, high, places) for _ in range(count)]


def fractions(texts):
    return [Fraction(text) for text in texts]


def floats(texts):
    return [float(text) for text in texts]


def rising(rng, count, low, high, step):
    """Distinct whole numbers in rising order, as texts."""
    chosen = rng.sample(range(low, high, step), count)
    return [str(x) for x in sorted(chosen)]
