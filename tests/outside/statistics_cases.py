"""repeats, budget, conformity, capable: with scipy, GTC and exact fractions."""
import math
from fractions import Fraction

import GTC
from scipy import stats

from draw import decimal, decimals, fractions


def spread(values):
    mean = sum(values) / len(values)
    return mean, sum((x - mean) ** 2 for x in values)


def repeats(rng):
    n = rng.choice([1, 2, 3, 4, 5, 6, 8, 12, 30])
    base = rng.choice([0, 45, 100000])
    values = [decimal(rng, base + 0.1, base + 0.2, rng.choice([3, 3, 4])) for _ in range(n)]
    if rng.random() < 0.1:
        values = [values[0]] * n
    inputs, sides = {"values": values}, rng.choice([1, 2])
    if rng.random() < 0.4:
        inputs["alpha"] = decimal(rng, 0.01, 0.2, 2)
    if rng.random() < 0.5:
        inputs["pooled"] = {"s": decimal(rng, 0.001, 0.06, 4)}
        if rng.random() < 0.5:
            inputs["pooled"]["dof"] = rng.randint(1, 90)

    if n >= 5 or "alpha" in inputs:  # below, no test is made, and its side would count for nothing
        inputs["sides"] = sides

    def check(answer, meter):
        x = fractions(values)
        mean, squares = spread(x)
        meter.word("n", answer["n"], n)
        meter.exact("mean", answer, "mean", mean)
        meter.exact("range", answer, "range", max(x) - min(x))
        s = math.sqrt(squares / (n - 1)) if n > 1 else None
        for key, want in (("s", s), ("s_mean", s and s / math.sqrt(n))):
            meter.absent(key, answer, key) if s is None else meter.number(key, answer[key], want or 0.0)
        pooled = inputs.get("pooled")
        larger = pooled and (s is None or s <= float(pooled["s"]))
        if not s and not pooled:  # one reading, or equal ones: the gauge's step hides their scatter
            meter.absent("u", answer, "u")
        else:
            meter.number("u", answer["u"], (float(pooled["s"]) if larger else s) / math.sqrt(n))
            dof = pooled.get("dof") if larger else n - 1
            meter.absent("dof", answer, "dof") if dof is None else meter.word("dof", answer["dof"], dof)
        if n < 5 and "alpha" not in inputs:
            meter.word("grubbs left out", "grubbs" in answer, False)
        elif n < 3 or s == 0:
            meter.absent("grubbs", answer, "grubbs")
        else:
            suspect = max(x) if sides == 1 else max(x, key=lambda v: abs(v - mean))
            alpha = float(inputs.get("alpha", 0.05))
            t = stats.t.isf(alpha / (sides * n), n - 2)
            critical = (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))
            g = float(abs(suspect - mean)) / s
            if sum(abs(v - mean) == abs(suspect - mean) for v in x) == 1 or sides == 1:
                meter.exact("suspect", answer, "suspect", suspect)
            meter.number("grubbs", answer["grubbs"], g)
            meter.number("critical", answer["grubbs_critical"], critical)
            meter.word("outlier", answer["outlier"], g > critical)

    return inputs, check


# what one of the unit is in mm, or in K, whose sensitivity is in um
SIZE = {"": 1.0, " mm": 1.0, " um": 1e-3, " in": 25.4, " K": 1.0}

DIVISOR = {"standard": 1.0, "uniform": math.sqrt(3), "triangular": math.sqrt(6), "arcsine": math.sqrt(2),
           "resolution": math.sqrt(12)}


def budget(rng):
    terms, sizes = [], []
    lengths = rng.random() < 0.5
    for number in range(rng.randint(1, 7)):
        term = {"name": f"t{number}"}
        kind = rng.choice([None, "expanded", *DIVISOR])
        figure = decimal(rng, 0.1, 30, rng.choice([1, 2, 3]))
        term.update({"u": figure} if kind is None else {"kind": kind, "value": figure})
        if kind == "expanded":
            term["k"] = decimal(rng, 1, 3, 2)
        if rng.random() < 0.6:
            term["dof"] = rng.choice([rng.randint(1, 60), decimal(rng, 1, 40, 1), "none"])
        unit = rng.choice([" mm", " um", " in", " K"]) if lengths else ""
        if unit == " K" or rng.random() < 0.4:
            term["sensitivity"] = decimal(rng, -3, 3, 3) + (" um" if unit == " K" else "")
        key = "u" if kind is None else "value"
        term[key] += unit
        sizes.append(float(figure) * SIZE[unit])
        terms.append(term)
    inputs = {"terms": terms}
    if rng.random() < 0.5:
        inputs["p"] = rng.choice(["0.9", "0.95", "0.9545", "0.99"])

    def check(answer, meter):
        total = 0.0
        for term, size, got in zip(terms, sizes, answer["terms"]):
            divisor = float(term["k"]) if term.get("kind") == "expanded" else DIVISOR[term.get("kind", "standard")]
            u = size / divisor
            dof = term.get("dof", "none")
            c, _, micrometres = str(term.get("sensitivity", 1)).partition(" ")
            c = float(c) * (1e-3 if micrometres else 1.0)
            total = total + c * GTC.ureal(0.0, u, math.inf if dof == "none" else float(dof))
            meter.number("contribution", got["contribution"], abs(c) * u)
            meter.word("name", got["name"], term["name"])
        if total.u == 0:
            return
        meter.number("u", answer["u"], total.u)
        half = (1 + float(inputs.get("p", 0.95))) / 2
        if math.isinf(total.df):
            meter.absent("dof", answer, "dof")
            k = stats.norm.ppf(half)
        else:
            meter.number("dof", answer["dof"], total.df)
            # where the figure is whole but for rounding, the program's exact sum decides
            near = round(total.df)
            whole = near if abs(total.df - near) < 1e-9 * near else math.floor(total.df)
            # so many that a double no longer has them all
            if whole < 1e9:
                meter.word("dof_whole", answer["dof_whole"], whole)
            k = stats.t.ppf(half, float(whole))
        meter.number("k", answer["k"], k)
        meter.number("U", answer["U"], k * total.u)

    return inputs, check


def up_to_two_figures(squared):
    """The smallest decimal of two figures whose square is not below the fraction."""
    power = math.floor(math.log10(math.sqrt(squared))) - 2
    while True:
        unit = Fraction(10) ** power
        for whole in range(10, 100):
            if (whole * unit) ** 2 >= squared:
                return whole * unit
        power += 1


def factor_in_force(given, dof):
    if dof is None:
        return given
    quantile = stats.t.ppf(0.95, math.floor(dof))
    return max(given, Fraction(math.ceil(quantile * 100), 100))


def conformity(rng):
    centre = 0.12
    value = decimal(rng, centre - 0.02, centre + 0.02, 4)
    inputs = {"value": value, "u": decimal(rng, 0.0002, 0.02, rng.choice([4, 5]))}
    which = rng.choice(["lower", "upper", "both"])
    if which != "upper":
        inputs["lower"] = decimal(rng, centre - 0.02, centre - 0.001, 3)
    if which != "lower":
        inputs["upper"] = decimal(rng, centre + 0.001, centre + 0.02, 3)
    if rng.random() < 0.3:
        inputs["factor"] = rng.choice(["0", "1.65", "2", "1.2"])
    if rng.random() < 0.4:
        inputs["dof"] = rng.choice([rng.randint(1, 60), rng.randint(1, 60), 20000])

    def check(answer, meter):
        y, u, dof = Fraction(value), Fraction(inputs["u"]), inputs.get("dof")
        d = stats.norm() if dof is None else stats.t(dof)
        low = Fraction(inputs["lower"]) if "lower" in inputs else None
        high = Fraction(inputs["upper"]) if "upper" in inputs else None
        below = d.cdf(float((low - y) / u)) if low is not None else 0.0
        above = d.sf(float((high - y) / u)) if high is not None else 0.0
        meter.number("p_not_conform", answer["p_not_conform"], below + above)
        if high is None:
            inside = d.sf(float((low - y) / u))
        elif low is None:
            inside = d.cdf(float((high - y) / u))
        else:
            inside = 1 - below - above
        # between two limits both sides take it from one: its rounding is the scale
        meter.number("p_conform", answer["p_conform"], inside, 1e-6 if which == "both" else 0.0)
        guard = factor_in_force(Fraction(inputs.get("factor", "1.65")), dof) * up_to_two_figures(u * u)
        meter.exact("guard", answer, "guard", guard)

        def by(inward):
            return (low is None or y >= low + inward) and (high is None or y <= high - inward)

        meter.word("simple", answer["standard"]["simple"], "conforms" if by(0) else "fails")
        guarded = "conforms" if by(guard) else "undecided" if by(-guard) else "fails"
        meter.word("guarded", answer["standard"]["guarded"], guarded)
        meter.word("bench", answer["bench"], "past" if not by(0) else "within" if by(guard) else "undecided")

    return inputs, check


def capable(rng):
    inputs = {
        "resolution": rng.choice(["0.001", "0.002", "0.01"]), "U": decimal(rng, 0.001, 0.009, 4),
        "k": rng.choice(["2", "1.96", "3"]), "repeatability": decimal(rng, 0, 0.006, 4), "repeats": rng.randint(1, 6),
        "difference": rng.random() < 0.5,
    }
    both = rng.random() < 0.5
    if both:
        inputs.update(lower=decimal(rng, 0.1, 0.13, 3), upper=decimal(rng, 0.14, 0.24, 3))
    else:
        inputs.update(new="0.15", limit=rng.choice([decimal(rng, 0.16, 0.24, 3), decimal(rng, 0.05, 0.14, 3)]))
    if rng.random() < 0.5:
        inputs["dof"] = rng.randint(1, 50)

    def check(answer, meter):
        F = Fraction
        readings = 2 if inputs["difference"] else 1
        repeat = F(inputs["repeatability"]) ** 2 / inputs["repeats"]
        squared = repeat + readings * F(inputs["resolution"]) ** 2 / 12 + (F(inputs["U"]) / F(inputs["k"])) ** 2
        dof = inputs.get("dof")
        effective = None if dof is None or repeat == 0 else squared**2 / (repeat**2 / dof)
        guard = factor_in_force(F("1.65"), effective) * up_to_two_figures(squared)
        meter.number("u", answer["u"], math.sqrt(squared))
        if both:
            low, high = F(inputs["lower"]), F(inputs["upper"])
            way, over = high - low, 2 * F(inputs["U"])
        else:
            new, limit = F(inputs["new"]), F(inputs["limit"])
            low, high = (None, limit) if limit > new else (limit, None)
            way, over = abs(limit - new), F(inputs["U"])
        meter.exact("resolution ratio", answer, "resolution_ratio", way / F(inputs["resolution"]))
        meter.exact("uncertainty ratio", answer, "uncertainty_ratio", way / over)
        nothing = both and high - guard < low + guard
        for key, edge in (("passes_up_to", high and high - guard), ("passes_down_to", low and low + guard)):
            if edge is None or nothing:
                meter.absent(key, answer, key)
            else:
                meter.exact(key, answer, key, edge)

    return inputs, check


CASES = {"repeats": repeats, "budget": budget, "conformity": conformity, "capable": capable}
