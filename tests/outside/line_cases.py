"""line and forecast: with statsmodels, exact fractions and root finding."""
import math
from fractions import Fraction

import numpy as np
import statsmodels.api as sm
from scipy import optimize, stats

from draw import decimal, floats, fractions, rising


class Fit:
    """A line by statsmodels on x less its mean; `u` known (weights 1/u2, scale 1) or taken from the residuals."""

    def __init__(self, x, y, u=None, origin=False, least=0.0):
        x, y = np.array(x), np.array(y)
        w = np.ones(len(x)) if u is None else 1 / np.array(u) ** 2
        self.known, self.origin = u is not None, origin
        self.middle = 0.0 if origin else float(np.sum(w * x) / np.sum(w))
        along = x - self.middle
        base = along[:, None] if origin else sm.add_constant(along, has_constant="add")
        fit = sm.WLS(y, base, weights=w).fit(method="qr")
        self.height = 0.0 if origin else float(fit.params[0])
        self.slope = float(fit.params[-1])
        self.dof = len(x) - base.shape[1]
        self.squares = float(np.sum(w * (y - base @ fit.params) ** 2))
        scale = 1.0 if self.known else max(least, self.squares / self.dof) if self.dof else math.nan
        self.s = math.sqrt(scale)
        cov = fit.normalized_cov_params * scale
        self.var_slope = float(cov[-1, -1])
        self.var_height = 0.0 if origin else float(cov[0, 0])
        self.new = (u[-1] ** 2 if self.known else scale)

    def value(self, x):
        return self.height + self.slope * (x - self.middle)

    def u(self, x, extra=0.0):
        return math.sqrt(self.var_height + (x - self.middle) ** 2 * self.var_slope + extra)

    def k(self, one_sided):
        return stats.norm.ppf(one_sided) if self.known else stats.t.ppf(one_sided, self.dof)


def exact_line(x, y):
    """Intercept and slope by exact fractions, all points alike."""
    n, sx, sy = len(x), sum(x), sum(y)
    slope = (n * sum(a * b for a, b in zip(x, y)) - sx * sy) / (n * sum(a * a for a in x) - sx * sx)
    return (sy - slope * sx) / n, slope


def line(rng):
    n = rng.randint(2, 12)
    far = rng.random() < 0.25
    x = rising(rng, n, 100000, 100011 + 20 * n, 1) if far else rising(rng, n, 0, 30000, 10)
    slope = rng.uniform(-0.004, 0.004)
    y = [f"{20 + slope * float(v) + rng.gauss(0, 2):.3f}" for v in x]
    inputs = {"x": x, "y": y}
    known = rng.random() < 0.5
    if known:
        inputs["u"] = [decimal(rng, 0.5, 4, 1) for _ in x] if rng.random() < 0.7 else decimal(rng, 0.5, 4, 1)
    origin = not far and rng.random() < 0.25
    if origin:
        inputs["through_origin"] = True
    new = rng.random() < 0.6
    inputs["new_reading"] = new
    p = rng.choice(["0.9", "0.95", "0.99"])
    inputs["p"] = p
    inputs["at"] = decimal(rng, float(x[0]), float(x[-1]) * 1.4 + 10, 0)
    inputs["limit"] = decimal(rng, 10, 200, 1)

    def check(answer, meter):
        u = inputs.get("u")
        u = None if u is None else floats(u) if isinstance(u, list) else [float(u)] * n
        fit = Fit(floats(x), floats(y), u, origin)
        steep = abs(fit.slope)
        reach = float(x[-1]) - (0 if origin else float(x[0]))
        tall = max(map(abs, floats(y)))
        # a slope made of noise about zero is a difference: its scale is the rise that the figures could show
        meter.number("slope", answer["slope"], fit.slope, 0.01 * tall / reach)
        meter.number("intercept", answer["intercept"], fit.value(0.0), tall + steep * fit.middle)
        if not known and not origin:
            a, b = exact_line(fractions(x), fractions(y))
            meter.number("slope, exact", answer["slope"], float(b))
            meter.number("intercept, exact", answer["intercept"], float(a))
        meter.word("dof", answer["dof"], fit.dof)
        if not known and fit.dof == 0:
            for key in ("u_slope", "s"):
                meter.absent(key, answer, key)
            return
        noise = 1e-3 * tall
        meter.number("u_slope", answer["u_slope"], math.sqrt(fit.var_slope), noise / reach)
        meter.number("u_intercept", answer["u_intercept"], fit.u(0.0), noise)
        meter.number("covariance", answer["covariance"], -fit.middle * fit.var_slope, noise * noise / reach)
        if known:
            meter.number("chi2", answer["chi2"], fit.squares, 1e-3)
            meter.absent("s", answer, "s")
        else:
            meter.number("s", answer["s"], fit.s, noise)
            meter.absent("chi2", answer, "chi2")
        extra = fit.new if new else 0.0
        k = fit.k((1 + float(p)) / 2)
        at, limit = float(inputs["at"]), float(inputs["limit"])
        got = answer["at"]
        meter.number("at", got["value"], fit.value(at), tall)
        meter.number("at u", got["u"], fit.u(at, extra), noise)
        for key, sign in (("low", -1), ("high", 1)):
            meter.number("at " + key, got[key], fit.value(at) + sign * k * fit.u(at, extra), tall + k * fit.u(at, extra))
        # a crossing far outside hangs on the digits of the slope: only those are compared that the slope supports
        if steep < 0.05 * tall / reach:
            return
        cross = fit.middle + (limit - fit.height) / fit.slope
        got = answer["crossing"]
        meter.number("crossing", got["x"], cross, abs(fit.middle) + abs(cross - fit.middle))
        meter.number("crossing u", got["u"], fit.u(cross, extra) / steep)
        ratio = steep / (k * math.sqrt(fit.var_slope))
        if ratio < 0.999:
            meter.absent("crossing low", got, "low")
        elif ratio > 1.05:
            ends = sorted(root(fit, k, extra, limit, sign) for sign in (-1, 1))
            for key, want in zip(("low", "high"), ends):
                meter.number("crossing " + key, got[key], want, abs(fit.middle) + reach)

    return inputs, check


def root(fit, k, extra, limit, sign):
    """Where value + sign k u meets the limit, by root finding both ways from the middle."""
    def gap(x):
        return fit.value(x) + sign * k * fit.u(x, extra) - limit
    span = 1.0
    while gap(fit.middle - span) * gap(fit.middle + span) > 0:
        span *= 2
        assert span < 1e18
    low, high = fit.middle - span, fit.middle + span
    return optimize.brentq(gap, low, high, xtol=1e-12 * max(1.0, abs(fit.middle)), rtol=1e-14, maxiter=2000)


def forecast(rng):
    n = rng.randint(1, 7)
    hours = rising(rng, n, 0, 50000, 10)
    side = rng.choice(["largest", "smallest"])
    toward = 1 if side == "largest" else -1
    known = n == 2 or rng.random() < 0.6
    scatter = rng.choice([1.0, 1.0, 4.0])
    rate = toward * rng.uniform(-0.0005, 0.004)
    inspections = []
    for h in hours:
        one = {"hours": h, "value": f"{200 + rate * float(h) + rng.gauss(0, scatter):.2f}"}
        if known:
            one["u"] = decimal(rng, 0.5, 3, 1)
        inspections.append(one)
    start = 0
    if n > 3 and rng.random() < 0.3:
        start = rng.randint(1, n - 3)
        inspections[start]["replaced"] = True
    last = float(hours[-1])
    p = rng.choice(["0.95", "0.9", "0.99"])
    inputs = {
        "inspections": inspections, "limit": f"{200 + toward * rng.uniform(5, 250):.1f}", "side": side,
        "next_hours": decimal(rng, last + 100, last + 20000, 0), "p": p,
    }
    new = rng.random() < 0.7
    if not new:
        inputs["new_reading"] = False

    def check(answer, meter):
        part = inspections[start:]
        x, y = floats([i["hours"] for i in part]), floats([i["value"] for i in part])
        u = floats([i["u"] for i in part]) if known else None
        limit, at = float(inputs["limit"]), float(inputs["next_hours"])
        over = toward * (Fraction(part[-1]["value"]) - Fraction(inputs["limit"])) >= 0
        meter.word("now", answer["now"], "past" if over else "within")
        if len(part) == 1:
            meter.word("no forecast", isinstance(answer.get("no_forecast"), str), True)
            return
        # what is written to a hundredth spreads by its rounding at least
        fit, basis = Fit(x, y, u, least=0.01**2 / 12), "line"
        if known and fit.dof > 0:
            meter.number("chi2", answer["chi2"], fit.squares, 1e-3) if "chi2" in answer else None
            quantile = stats.chi2.ppf(0.95, fit.dof)
            if abs(fit.squares - quantile) < 1e-6:
                return
            rate = Fit(x[-2:], y[-2:], u[-2:])
            if fit.squares > quantile and toward * (rate.value(at) - fit.value(at)) > 0:
                fit, basis = rate, "last rate"
        if toward * fit.slope <= 0:
            meter.word("no forecast", isinstance(answer.get("no_forecast"), str) and "next" not in answer, True)
            return
        meter.word("basis", answer["basis"], basis)
        k, extra = fit.k(float(p)), fit.new if new else 0.0
        value, there = fit.value(at), fit.u(at, extra)
        bound = value + toward * k * there
        meter.number("slope", answer["slope"], fit.slope, 1e-5)
        meter.number("intercept", answer["intercept"], fit.value(0.0), 200.0)
        meter.number("next", answer["next"]["value"], value)
        meter.number("next u", answer["next"]["u"], there, 1e-3)
        meter.number("bound", answer["next"]["bound"], bound, value + k * there)
        verdict = "past" if over or toward * (value - limit) >= 0 else "watch" if toward * (bound - limit) >= 0 else "within"
        meter.word("at next", answer["at_next"], verdict)
        end = x[-1]
        for key, far in (("line", 0.0), ("bound", k)):
            def gap(h):
                return toward * (fit.value(h) - limit) + far * fit.u(h, extra)
            if over or gap(end) >= 0:
                meter.number("left by " + key, answer["hours_left"][key], 0.0)
                continue
            reach = 1.0
            while gap(end + reach) < 0:
                reach *= 2
            want = optimize.brentq(gap, end, end + reach, xtol=1e-9, rtol=1e-14, maxiter=1000) - end
            # the slope may be a thousandth of what its scatter could make it: the crossing has so many digits less
            meter.number("left by " + key, answer["hours_left"][key], want, end * max(1.0, 1e-3 / abs(fit.slope) / 10))

    return inputs, check


CASES = {"line": line, "forecast": forecast}
