#!/usr/bin/env python3
"""Compares the tool `drive` with a numeric integration of the contract's model that uses nothing of the tool's code.

  drive.py PROGRAM [--cases N] [--seed S] [--show K]

Draws N requests with all fields, sends them to `PROGRAM run drive --ndjson` and compares every result. The exit status is 0 only if
each is within 1e-6 and every refusal is right. None of the tool's closed forms is used: the differential equation of each half of
the period is integrated in time by Gauss-Legendre collocation of four stages (order 8), which also integrates the current and its
square; Newton steps find where the current ends; shooting finds the steady state, and bracketing the duty for a wanted current and
the balance of heat. Debian: python3-numpy; use /usr/bin/python3 if another python3 comes first.
"""
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import collections
import json
import subprocess
import sys
import time

try:
    import numpy as np
except ImportError as missing:
    sys.exit("drive.py: %s: install it: apt-get install python3-numpy; then /usr/bin/python3 %s" % (missing, sys.argv[0]))

ALLOWED = 1e-6  # of the value
SMALL = 1e-7  # share of its scale: a smaller value is compared as if it were that large
BORDER = 1e-9  # share of the largest current: closer to the border between the modes, either is right
STEPS = 80  # of the half with the driver on, over at most LONG time constants
LONG = 40.0
ENDS = 64  # Newton steps towards the end of the current, each at most one time constant


# --- integration -----------------------------------------------------------------------------------------------------------

def collocation(stages):
    """The matrix and weights of Gauss-Legendre collocation on 0 to 1."""
    x, w = np.polynomial.legendre.leggauss(stages)
    x, w = (x + 1) / 2, w / 2
    powers = np.vander(x, stages, increasing=True)
    integrals = powers * x[:, None] / np.arange(1, stages + 1)
    return integrals @ np.linalg.inv(powers), w


STAGE, WEIGHT = collocation(4)


class March:
    """Integrates dy/dx = end - y, x in time constants, for many cases at once. It also sums the change of y, the integrals of y and of
    its square, and the same integrals of y above a base."""

    def __init__(self, y, end, base):
        self.y, self.end, self.base = y.copy(), end, base
        self.change, self.x, self.charge, self.square, self.above, self.above_square = (np.zeros_like(y) for _ in range(6))

    @staticmethod
    def rates(h):
        """The slopes at the stages as shares of the slope at the start: k = s - h A k for this equation."""
        matrix = np.eye(4) + h[:, None, None] * STAGE
        return np.linalg.solve(matrix, np.ones((h.size, 4, 1)))[:, :, 0]

    def step(self, h, rates=None):
        rates = self.rates(h) if rates is None else rates
        slope = self.end - self.y
        inner = self.y[:, None] + (h * slope)[:, None] * (rates @ STAGE.T)
        by = h * slope * (rates @ WEIGHT)
        self.charge += h * (inner @ WEIGHT)
        self.square += h * (inner * inner @ WEIGHT)
        inner = inner - self.base[:, None]
        self.above += h * (inner @ WEIGHT)
        self.above_square += h * (inner * inner @ WEIGHT)
        self.y += by
        self.change += by
        self.x += h


def over(period, start, c):
    """One period from a current: the integration while on, and while off until the current or the period ends."""
    on = March(start, c.full, start)
    h = np.minimum(c.x_on, LONG) / STEPS
    rates = March.rates(h)
    for _ in range(STEPS):
        on.step(h, rates)
    rest = c.x_on - np.minimum(c.x_on, LONG)
    on.charge += rest * on.y
    on.square += rest * on.y ** 2
    on.above += rest * (on.y - start)
    on.above_square += rest * (on.y - start) ** 2
    off = March(on.y, -c.reverse, start)
    for _ in range(ENDS):
        # to where a straight line would reach zero: the curve is above its tangent, so never beyond
        h = np.clip(np.divide(off.y, off.y + c.reverse, out=np.ones_like(h), where=off.y + c.reverse > 0), 0, 1)
        left = c.x_off - off.x
        last = h >= left
        h = np.where(last, left, h)
        if not h.any():
            break
        for _ in range(2):
            off.step(h / 2)
        off.x = np.where(last, c.x_off, off.x)
    return on, off


Case = collections.namedtuple("Case", "supply winding wiring driver inductance frequency duty reverse_volts clamp"
                              " full reverse tau_on tau_off x_on x_off")


def case(supply, winding, wiring, driver, inductance, frequency, duty, reverse_volts, clamp):
    full, reverse = supply / (winding + wiring + driver), reverse_volts / (winding + wiring)
    tau_on, tau_off = inductance / (winding + wiring + driver), inductance / (winding + wiring)
    none = inductance == 0
    x = lambda time, tau: np.where(none, 0, time / np.where(none, 1, tau))
    return Case(supply, winding, wiring, driver, inductance, frequency, duty, reverse_volts, clamp, full, reverse, tau_on, tau_off,
                x(duty / frequency, tau_on), x((1 - duty) / frequency, tau_off))


def steady(*values):
    """The periodic steady state of many cases: a dictionary of arrays, with the contract's names."""
    c = case(*[np.asarray(v, float) for v in values])
    zero = np.zeros_like(c.full)
    on, off = over(c, zero, c)
    first = on.change + off.change  # from zero; and from the most there can be
    stops = (off.x < c.x_off) & (c.reverse > 0)  # against no reverse voltage it fades and never stops
    on, off = over(c, c.full, c)
    from_full = on.change + off.change
    with np.errstate(divide="ignore", invalid="ignore"):
        low = np.where(first > 0, c.full * first / (first - from_full), 0)  # what a period adds is linear in its start
    low = np.where(stops, 0, low)
    on, off = over(c, low, c)
    still, never, pure = c.duty == 1, c.duty == 0, (c.inductance == 0) & (c.duty < 1)
    period = 1 / c.frequency
    choose = lambda value, at_one, at_none, without: np.where(still, at_one, np.where(never, at_none, np.where(pure, without, value)))
    on_average = choose(on.charge * c.tau_on / period, c.full, 0, c.duty * c.full)
    off_average = choose(off.charge * c.tau_off / period, 0, 0, 0)
    on_square = choose(on.square * c.tau_on / period, c.full ** 2, 0, c.duty * c.full ** 2)
    off_square = choose(off.square * c.tau_off / period, 0, 0, 0)
    most = choose(on.y, c.full, 0, c.full)
    least = choose(low, c.full, 0, 0)
    flows = choose(off.x * c.tau_off, 0, 0, 0)  # seconds after switch-off
    square = on_square + off_square
    above = (on.above * c.tau_on + off.above * c.tau_off) / period
    ac = (on.above_square * c.tau_on + off.above_square * c.tau_off) / period - above ** 2
    spread = c.duty * (1 - c.duty)
    ac = choose(ac, 0, 0, spread * c.full ** 2)
    rest = flows / period
    high_square = c.supply * (c.duty * c.supply - 2 * on_average * c.driver) + on_square * c.driver ** 2 + c.reverse_volts ** 2 * rest
    low_square = on_square * c.driver ** 2 + (1 - c.duty - rest) * c.supply ** 2 + (c.supply + c.reverse_volts) ** 2 * rest
    across = ~np.isnan(c.clamp)
    margin = np.where(stops, -(c.x_off - off.x), low / np.maximum(most, 1e-300))
    return {
        "case": c, "flows": flows, "margin": np.where(still | (c.reverse == 0), 1, np.where(never | pure, -1, margin)),
        "continuous": still | ~(never | pure | stops) & ((low > 0) | (c.reverse == 0)),
        "high_square": high_square, "low_square": low_square, "current_ac": np.sqrt(np.maximum(ac, 0)),
        "current_average": on_average + off_average, "current_rms": np.sqrt(square), "current_max": most, "current_min": least,
        "ripple": choose(on.change, 0, 0, c.full),
        "power_winding": square * c.winding, "power_wiring": square * c.wiring, "power_driver": on_square * c.driver,
        "power_supply": c.supply * (on_average + np.where(across, off_average, 0)),
        "power_off_path": np.where(across, c.clamp, c.reverse_volts) * off_average,
        "energy_off_path": np.where(across, c.clamp, c.reverse_volts) * off_average * period,
        "high": c.duty * c.supply - on_average * c.driver - c.reverse_volts * flows / period,
        "low": on_average * c.driver + (1 - c.duty) * c.supply + c.reverse_volts * flows / period,
    }


def bracketed(f, low, high, at_low, at_high, rounds=40):
    """The zero of f between low and high, for many cases, by the Illinois rule, every third time by halving."""
    for i in range(rounds):
        with np.errstate(divide="ignore", invalid="ignore"):
            x = high - at_high * (high - low) / (at_high - at_low)
        x = np.where(np.isfinite(x) & (i % 3 < 2), x, (low + high) / 2)
        x = np.clip(x, np.minimum(low, high), np.maximum(low, high))
        y = f(x)
        same = np.sign(y) == np.sign(at_high)
        low, at_low = np.where(same, low, high), np.where(same, at_low / 2, at_high)
        high, at_high = x, y
        if np.all((np.abs(high - low) <= 1e-13 * np.abs(high)) | (np.abs(y) <= 1e-11)):
            break
    return high


# --- requests --------------------------------------------------------------------------------------------------------------

ZERO = {"copper": -234.5, "aluminium": -228.0}


class Draw:
    """One request as texts, and its numbers by name."""

    def __init__(self, r):
        self.r, self.request, self.numbers = r, {}, {}

    def put(self, name, value, unit, digits=9, scale=1.0, into=None, key=None):
        text = "%.*g" % (digits, value)
        if "e" in text:
            text = np.format_float_positional(float(text), trim="-")
        (self.request if into is None else into)[key or name] = text + " " + unit if unit else text
        self.numbers[name] = float(text) * scale

    def wide(self, low, high):
        return float(np.exp(self.r.uniform(np.log(low), np.log(high))))

    def circuit(self):
        r, n, put = self.r, self.numbers, self.put
        put("supply", r.uniform(6, 32), "V", 6)
        put("resistance", self.wide(0.5, 400), "ohm", 6)
        n["at"], n["material"] = 20.0, "copper"
        if r.random() < 0.5:
            put("at", r.uniform(-30, 60), "degC", 5)
        if r.random() < 0.4:
            self.request["material"] = n["material"] = ("aluminium", "copper")[r.random() < 0.4]
        n["temperature"] = n["at"]
        put("frequency", self.wide(5, 20e3), "Hz", 6)
        if r.random() < 0.04:
            put("inductance", 0, "mH")
        else:  # four decades of the time constant relative to the period, and now and then two more
            ratio = self.wide(*((1e-2, 1e2), (1e-3, 1e3))[r.random() < 0.2])
            millihenry = float(np.clip(1e3 * ratio / n["frequency"] * n["resistance"], 1e-3, 1e5))
            put("inductance", millihenry, "mH", 7, 1e-3)
        if r.random() < 0.6:
            put("wiring", r.uniform(0, 3), "ohm", 5)
        if r.random() < 0.6:
            put("driver", r.uniform(0, 1), "ohm", 5)

    def off_path(self):
        r, n, put, request = self.r, self.numbers, self.put, self.request
        n["clamp"] = float("nan")
        kind = r.random()
        if kind < 0.1:
            n["reverse"] = 0.7
        elif kind < 0.5:
            request["off_path"] = off = {"kind": "diode"}
            n["reverse"] = 0.7
            if r.random() < 0.7:
                put("reverse", (r.uniform(0.2, 1.5), 0.0)[r.random() < 0.15], "V", 5, into=off, key="drop")
        elif kind < 0.75:
            request["off_path"] = off = {"kind": "clamp"}
            if r.random() < 0.5:
                off["across"] = "winding"
            put("reverse", self.wide(1, 120), "V", 6, into=off, key="voltage")
        else:
            request["off_path"] = off = {"kind": "clamp", "across": "switch"}
            put("clamp", n["supply"] + self.wide(0.71, 80), "V", 7, into=off, key="voltage")
            n["reverse"] = n["clamp"] - n["supply"]
        n["side"] = "high"
        if r.random() < 0.6:
            request["side"] = n["side"] = ("low", "high")[r.random() < 0.4]

    def warmth(self):
        r, n, put, request = self.r, self.numbers, self.put, self.request
        if r.random() < 0.4:
            request["thermal"] = {}
            put("ambient", r.uniform(-20, 90), "degC", 5, into=request["thermal"])
            put("heat", self.wide(0.5, 60), "K/W", 5, into=request["thermal"], key="resistance")
            # most windings on a bench stay below 300 °C
            most = n["supply"] ** 2 / n["resistance"]
            if n["heat"] * most > 600:
                put("heat", r.uniform(20, 600) / most, "K/W", 5, into=request["thermal"], key="resistance")
        elif r.random() < 0.6:
            put("winding_temperature", r.uniform(-30, 180), "degC", 5)
            n["temperature"] = n["winding_temperature"]

    def drive(self):
        r, n = self.r, self.numbers
        if r.random() < 0.35:
            full = n["supply"] / (n["resistance"] + n.get("wiring", 0) + n.get("driver", 0))
            self.put("target_current", r.uniform(0.02, 1.05) * full, "A", 6)
            return
        sense = ("on", "on", "pin_high", "pin_low")[r.integers(4)]
        if sense != "on" or r.random() < 0.2:
            self.request["duty_sense"] = sense
        self.put("duty", (r.uniform(1, 99), 0.0, 100.0)[0 if r.random() < 0.96 else r.integers(1, 3)], "%", 5, 0.01)
        off_share = sense == ("pin_low" if n["side"] == "high" else "pin_high")
        n["duty"] = 1 - n["duty"] if off_share else n["duty"]


def draw(r):
    """One request as texts, and the numbers that it holds."""
    one = Draw(r)
    one.circuit()
    one.off_path()
    one.warmth()
    one.drive()
    return one.request, one.numbers


class Solver:
    """Works out many requests at once. `reach`: by how much the target can be exceeded, as a share of it; below 0 it cannot be reached."""

    def __init__(self, numbers):
        self.numbers = numbers
        get = self.get
        self.zero = np.array([ZERO[n["material"]] for n in numbers])
        self.thermal, self.aimed = ~np.isnan(get("heat", np.nan)), ~np.isnan(get("target_current", np.nan))
        self.target = np.where(self.aimed, get("target_current", 1), 1)
        self.at, self.ambient, self.heat = get("at"), get("ambient"), get("heat")
        self.fields = [get(k) for k in ("supply", "resistance", "wiring", "driver", "inductance", "frequency", "reverse", "clamp")]
        self.temperature, self.duty, self.reach = get("temperature"), get("duty"), np.ones(len(numbers))

    def get(self, name, default=0.0):
        return np.array([n.get(name, default) for n in self.numbers], float)

    def run(self, k, temperature, duty):
        supply, cold, wiring, driver, inductance, frequency, reverse, clamp = (f[k] for f in self.fields)
        hot = cold * (temperature - self.zero[k]) / (self.at[k] - self.zero[k])
        state = steady(supply, hot, wiring, driver, inductance, frequency, duty, reverse, clamp)
        return dict(state, winding_resistance=hot, winding_temperature=temperature, duty=duty)

    def duty_at(self, k, temperature):
        """The duty for the target at a temperature: 1 where even that is too little."""
        some = lambda d: self.run(k, temperature, d)["current_average"] / self.target[k] - 1
        most = some(np.ones(k.size))
        d = bracketed(some, np.zeros(k.size), np.ones(k.size), -np.ones(k.size), most)
        return np.where(most <= 0, 1, d), most

    def balance(self, k, aim):
        """The temperature at which windings that heat themselves settle, with the duty for a target if they aim at one."""
        fixed = self.duty[k]

        def surplus(t):
            d = self.duty_at(k, t)[0] if aim else fixed
            return self.ambient[k] + self.heat[k] * self.run(k, t, d)["power_winding"] - t

        low = self.ambient[k].copy()
        at_low = surplus(low)
        cold = self.run(k, low, np.ones(k.size))["winding_resistance"]
        top = low + self.heat[k] * self.fields[0][k] ** 2 / cold + 1e-6
        high, at_high = low.copy(), at_low.copy()
        found = at_low <= 0
        for i in range(1, 25):  # warming up from ambient: the first change of sign
            t = self.ambient[k] + (top - self.ambient[k]) * (i / 24) ** 2
            s = surplus(t)
            here = ~found & (s <= 0)
            high, at_high = np.where(here, t, high), np.where(here, s, at_high)
            on = ~found & (s > 0)
            low, at_low = np.where(on, t, low), np.where(on, s, at_low)
            found |= here
        assert found.all(), "no balance below the bound"
        return np.where(high == self.ambient[k], self.ambient[k], bracketed(surplus, low, high, at_low, at_high))

    def solve(self):
        k = np.flatnonzero(self.aimed & ~self.thermal)
        self.duty[k], self.reach[k] = self.duty_at(k, self.temperature[k])
        for k, aim in ((np.flatnonzero(self.thermal & ~self.aimed), False), (np.flatnonzero(self.thermal & self.aimed), True)):
            if not k.size:
                continue
            self.temperature[k] = self.balance(k, aim)
            if aim:
                self.duty[k], self.reach[k] = self.duty_at(k, self.temperature[k])
        return dict(self.run(np.arange(len(self.numbers)), self.temperature, self.duty), reach=self.reach)


def solve(numbers):
    """The expected results, from the numbers of the requests."""
    out = Solver(numbers).solve()
    duty = out["duty"]
    side = np.array([n["side"] == "low" for n in numbers])
    out["pin_voltage_average"] = np.where(side, out["low"], out["high"])
    square = np.where(side, out["low_square"], out["high_square"])
    out["pin_voltage_rms"] = np.sqrt(square)
    steady_pin = (duty == 0) | (duty == 1)
    out["pin_voltage_ac"] = np.where(steady_pin, 0, np.sqrt(np.maximum(square - out["pin_voltage_average"] ** 2, 0)))
    out["pin_high"] = np.where(side, 1 - duty, duty)
    out["time_constant"] = out["case"].tau_on  # while on
    return out


# --- comparison ------------------------------------------------------------------------------------------------------------

PLAIN = ["current_average", "current_rms", "current_max", "current_min", "ripple", "time_constant", "power_winding", "power_wiring",
         "power_driver", "power_supply", "power_off_path", "energy_off_path", "pin_voltage_average", "pin_voltage_rms",
         "pin_voltage_ac", "pin_high", "winding_temperature", "winding_resistance", "duty", "current_ac"]


def scales(e, i):
    c = e["case"]
    amperes = float(c.full[i])
    watts = float(c.supply[i]) * amperes
    s = {k: amperes for k in ("current_average", "current_rms", "current_max", "current_min", "ripple", "current_ac")}
    s.update({k: watts for k in PLAIN if k.startswith("power")})
    s.update({k: float(c.supply[i]) for k in PLAIN if k.startswith("pin_v")})
    return dict(s, energy_off_path=watts / float(c.frequency[i]), winding_temperature=100.0, duty=1.0, pin_high=1.0)


def current_at(e, i, t, low):
    """The current of case i at a time of a period that begins with `low`, integrated again; both values at a jump."""
    c = e["case"]
    pick = lambda v: np.array([float(v[i])])
    period, on_time = 1 / float(c.frequency[i]), float(c.duty[i] / c.frequency[i])
    if float(c.inductance[i]) == 0 or on_time == 0 or float(c.duty[i]) == 1:
        full = float(c.full[i])
        steps = [full] if t < on_time else [0.0]
        if abs(t - on_time) <= 1e-9 * period or min(t, period - t) <= 1e-9 * period:
            steps = [0.0, full]
        if on_time == 0:
            steps = [0.0]
        if float(c.duty[i]) == 1:
            steps = None
        if steps:
            return steps
        if float(c.inductance[i]) == 0:
            return [full, low]
        on_time = t
    m = March(np.array([low]), pick(c.full), np.zeros(1))
    x = min(t, on_time) / float(c.tau_on[i])
    n = max(2, int(np.ceil(min(x, LONG) / 0.5)))
    for _ in range(n):
        m.step(np.array([min(x, LONG) / n]))
    if t <= on_time:
        return [float(m.y[0])]
    off = March(m.y, -pick(c.reverse), np.zeros(1))
    left = (t - on_time) / float(c.tau_off[i])
    for _ in range(ENDS):
        y = float(off.y[0])
        if y <= 0 or left <= 0:
            break
        h = min(y / (y + float(c.reverse[i])), 1.0, left)
        off.step(np.array([h / 2]))
        off.step(np.array([h / 2]))
        left -= h
    return [max(float(off.y[0]), 0.0)]


def curves(e, i, answer, worst):
    """The points of one period, and those from switch-on."""
    c = e["case"]
    period, full = 1 / float(c.frequency[i]), float(c.full[i])
    low = float(e["current_min"][i])

    def put(name, t, got, low):
        off = min(abs(got - want) for want in current_at(e, i, t, low)) / full
        worst.append((off, name, "t %.9g s: %.12g A" % (t, got)))

    points = [(p["t"]["value"], p["i"]["value"]) for p in answer["waveform"]]
    whole = points and points[0][0] == 0 and not abs(points[-1][0] - period) > 1e-9 * period
    if not whole or any(a[0] > b[0] for a, b in zip(points, points[1:])):
        worst.append((np.inf, "waveform", "does not span the period in order"))
    for t, got in points[:: max(1, len(points) // 12)] + points[-1:]:
        put("waveform", min(t, period), got, low)
    points = [(p["t"]["value"], p["i"]["value"]) for p in answer["start"]]
    if not points or points[0] != (0, 0) and not (float(c.inductance[i]) == 0 and points[0][0] == 0):
        worst.append((np.inf, "start", "does not begin with nothing"))
        return
    # if the current never stops, n whole periods leave exp(-n x) of what is missing; else each period begins with no current
    x = float(c.x_on[i] + c.x_off[i])
    for t, got in points[1 :: max(1, len(points) // 12)] + points[-1:]:
        if float(c.duty[i]) == 1:
            if float(c.inductance[i]) > 0:
                put("start", t, got, 0.0)
            elif t > 0:
                put("start", t, got, full)
            continue
        n = np.floor(t / period * (1 + 1e-13) + 1e-9)
        put("start", max(0.0, t - n * period), got, low * -np.expm1(-n * x))


def ask(program, requests):
    """The answers to the requests, in order."""
    asked = "".join(json.dumps(q) + "\n" for q in requests)
    run = subprocess.run([program, "run", "drive", "--ndjson"], input=asked, capture_output=True, text=True)
    answers = run.stdout.splitlines()
    if len(answers) != len(requests):
        sys.exit("drive.py: %d requests, %d answers, exit status %d: %s" % (len(requests), len(answers), run.returncode, run.stderr[:500]))
    return [json.loads(line) for line in answers]


def refusal(e, i, answer, wrong, counts):
    """Compares a refusal: it is right only if the target cannot be reached."""
    faults = {(f["field"], f["code"]) for f in answer["errors"]}
    counts["refused, as it has to be"] += e["reach"][i] < 0 and faults == {("target_current", "range")}
    if not (faults == {("target_current", "range")} and e["reach"][i] < ALLOWED):
        wrong.append((np.inf, "refused", str(answer["errors"])[:300]))


def result(e, i, n, result, wrong, counts):
    """Compares a result, and returns how many figures were compared."""
    scale, compared = scales(e, i), 0
    for name in PLAIN:
        want, got = float(e[name][i]), result.get(name, {}).get("value")
        if got is None:
            wrong.append((np.inf, name, "is not there"))
            continue
        off = abs(got - want) / max(abs(want), SMALL * scale.get(name, 0), 1e-300)
        wrong.append((off, name, "%.12g; integrated %.12g" % (got, want)))
        compared += 1
    if abs(e["margin"][i]) > BORDER and result["mode"] != ("continuous" if e["continuous"][i] else "discontinuous"):
        wrong.append((np.inf, "mode", "%s; margin %.3g" % (result["mode"], e["margin"][i])))
    before = len(wrong)
    curves(e, i, result, wrong)
    counts[result["mode"]] += 1
    counts["thermal"] += "heat" in n
    counts["target"] += "target_current" in n
    counts["thermal with target"] += "heat" in n and "target_current" in n
    counts["clamp across the switch"] += not np.isnan(n["clamp"])
    counts["no inductance"] += n["inductance"] == 0
    return compared + len(wrong) - before


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("--cases", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=4)
    parser.add_argument("--show", type=int, default=5)
    args = parser.parse_args()
    r = np.random.default_rng(args.seed)
    drawn = [draw(r) for _ in range(args.cases)]
    began = time.time()
    e = solve([n for _, n in drawn])
    print("integrated %d cases in %.1f s" % (len(drawn), time.time() - began))
    began = time.time()
    answers = ask(args.program, [q for q, _ in drawn])
    print("answered in %.1f s" % (time.time() - began))

    found, counts, compared = [], collections.Counter(), 0
    for i, ((_, n), answer) in enumerate(zip(drawn, answers)):
        wrong = []
        if not answer.get("ok"):
            refusal(e, i, answer, wrong, counts)
        elif e["reach"][i] < -ALLOWED:
            wrong.append((np.inf, "answered", "the most is %.3g of the target beyond" % e["reach"][i]))
        elif e["reach"][i] > ALLOWED:
            compared += result(e, i, n, answer["result"], wrong, counts)
        found.append((max(wrong, default=(0.0, "", "")), i))

    print("; ".join("%d %s" % (v, k) for k, v in sorted(counts.items())))
    found.sort(key=lambda f: -f[0][0])
    for (off, name, text), i in found[: args.show]:
        print("%-9.2g %-20s %s\n          %s" % (off, name, text, json.dumps(drawn[i][0])))
    over_limit = sum(1 for (off, _, _), _ in found if not off <= ALLOWED)
    print("%d figures of %d cases: %d cases beyond %g; worst %.2g" % (compared, len(drawn), over_limit, ALLOWED, found[0][0][0]))
    sys.exit(1 if over_limit or not compared else 0)


if __name__ == "__main__":
    main()
