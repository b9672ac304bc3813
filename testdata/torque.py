#!/usr/bin/env python3
"""Compares the tool `torque` with a computation written from the contract's model and the standards.

  torque.py PROGRAM [--cases N] [--seed S] [--show K]

Draws N requests (torque, range or tolerance; adapter at any angle; wrench with scale, marks and deviation; thread, class, friction,
material and engagement), sends them to `PROGRAM run torque --ndjson` and compares every figure of the result. The exit status is 0
only if each is within 1e-9 and every word and refusal is right. Nothing of the tool's code is used. It needs only Python's library.

  conversion     NIST SP 811: pound 0.45359237 kg, inch 0.0254 m, standard gravity 9.80665 m/s2; in fractions
  adapter        T L/(L + E cos a): one pull, two levers, as moments about the bolt and about the drive
  wrench         ISO 6789: deviation = (set - reached)/reached; 4 % for a click or electronic one above 10 N.m, else 6 %
  thread         ISO 68-1, ISO 724, ISO 898-1; head ISO 4014, hole ISO 273; preload and torque VDI 2230
  strip          Alexander's shear areas; worst of 6g and 6H (ISO 965-1's formulas) for the least load, basic sizes for the most;
                 the hole's threads bend, 0.897 of the least (Alexander's C3 at its least); 0.8 P carries nothing, nor does what is
                 beyond 2.5 d, so no engagement bears some loads; shear strengths as documented in core/fastener/strip.go
"""
import argparse
import collections
import json
import math
import random
import subprocess
import sys
from fractions import Fraction

ALLOWED = 1e-9
BORDER = 1e-9  # closer to a limit than that, either word is right

INCH_POUND = Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.0254")
UNITS = {"N.m": Fraction(1), "cN.m": Fraction(1, 100), "daN.m": Fraction(10), "lbf.in": INCH_POUND, "lbf.ft": 12 * INCH_POUND,
         "ozf.in": INCH_POUND / 16, "kgf.cm": Fraction("0.0980665"), "kgf.m": Fraction("9.80665")}
MILLIMETRES = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction("25.4"), "ft": Fraction("304.8")}

# d: pitches, the coarse one first; least diameter of a hexagon head's face (ISO 4014, grade A); medium hole (ISO 273)
THREADS = {
    1.6: ([0.35, 0.2], 2.27, 1.8), 2: ([0.4, 0.25], 3.07, 2.4), 2.5: ([0.45, 0.35], 4.07, 2.9), 3: ([0.5, 0.35], 4.57, 3.4),
    3.5: ([0.6, 0.35], 5.07, 3.9), 4: ([0.7, 0.5], 5.88, 4.5), 5: ([0.8, 0.5], 6.88, 5.5), 6: ([1, 0.75], 8.88, 6.6),
    7: ([1, 0.75], 9.63, 7.6), 8: ([1.25, 1, 0.75], 11.63, 9), 10: ([1.5, 1.25, 1, 0.75], 14.63, 11),
    12: ([1.75, 1.5, 1.25, 1], 16.63, 13.5), 14: ([2, 1.5, 1.25, 1], 19.64, 15.5), 16: ([2, 1.5, 1], 22.49, 17.5),
    18: ([2.5, 2, 1.5, 1], 25.34, 20), 20: ([2.5, 2, 1.5, 1], 28.19, 22), 22: ([2.5, 2, 1.5, 1], 31.71, 24),
    24: ([3, 2, 1.5, 1], 33.61, 26)}
# ISO 898-1: proof stress, yield, tensile strength; from 16 mm on in the second triple
CLASSES = {"4.8": (310, 340, 420), "5.8": (380, 420, 520), "8.8": (580, 640, 800), "9.8": (650, 720, 900),
           "10.9": (830, 940, 1040), "12.9": (970, 1100, 1220)}
THICK = {"8.8": (600, 660, 830)}
# shear strength of weak and usual metal
SHEAR = {"aluminium": (0.6 * 180, 190), "magnesium": (0.6 * 160, 140), "cast_iron": (170, 290), "steel": (0.6 * 360, 0.6 * 500)}
DIAMETERS = [(0.99, 1.4), (1.4, 2.8), (2.8, 5.6), (5.6, 11.2), (11.2, 22.4), (22.4, 45)]


def strengths(name, d):
    return THICK.get(name, CLASSES[name]) if d > 16 else CLASSES[name]


class Bolt:
    """A bolt's thread, its strength, and what it does at a friction."""

    def __init__(self, d, p, name):
        self.d, self.p = d, p
        self.h = p * math.cos(math.radians(30))  # of the 60 degree triangle
        self.d2, self.d3, self.d1 = d - 3 * self.h / 4, d - 17 * self.h / 12, d - 5 * self.h / 4
        self.d0 = (self.d2 + self.d3) / 2
        self.area = math.pi * self.d0 ** 2 / 4
        self.proof, self.yields, self.breaks = strengths(name, d)
        self.face, self.hole = THREADS[d][1:]

    def equivalent(self, mu):
        """Stress by tension and torsion together, for each N of tension."""
        tension = 1 / self.area
        moment = self.d2 / 2 * (self.p / (math.pi * self.d2) + 1.155 * mu)  # in the thread, for each N
        torsion = moment / (math.pi * self.d0 ** 3 / 12)  # plastic all over
        return math.sqrt(tension ** 2 + 3 * torsion ** 2)

    def arm(self, mu):
        """N.m for each N of tension."""
        return (0.16 * self.p + 0.58 * mu * self.d2 + mu / 2 * (self.face + self.hole) / 2) / 1000

    def preload(self, mu, use):
        return use * self.yields / self.equivalent(mu)

    def torque(self, mu, use):
        return self.preload(mu, use) * self.arm(mu)

    def stressed(self, torque, mu):
        return torque / self.arm(mu) * self.equivalent(mu) / self.yields

    def strip(self, into):
        """N for each mm of bearing engagement: weak metal, usual metal, the bolt's own thread."""
        lo, hi = next((a, b) for a, b in DIAMETERS if a < self.d <= b)
        mean, p = math.sqrt(lo * hi), self.p
        allowance = (15 + 11 * p) / 1e3
        td = (180 * p ** (2 / 3) - 3.15 * p ** -0.5) / 1e3
        td2 = 90 * p ** 0.4 * mean ** 0.1 / 1e3
        td1 = (433 * p - 190 * p ** 1.22 if p <= 0.8 else 230 * p ** 0.7) / 1e3
        tan = math.tan(math.radians(30))
        in_hole = lambda d, hole2: math.pi * d / p * (p / 2 + (d - hole2) * tan)
        hole1 = self.d1 + td1
        own = math.pi * hole1 / p * (p / 2 + (self.d2 - allowance - td2 - hole1) * tan) * 0.6 * self.breaks
        weak, usual = SHEAR[into]
        return weak * in_hole(self.d - allowance - td, self.d2 + 1.32 * td2), usual * in_hole(self.d, self.d2), own


# --- requests --------------------------------------------------------------------------------------------------------------

def digits(rng, lo, hi, figures):
    return "%.*g" % (figures, lo * (hi / lo) ** rng.random())


def plain(text):
    return format(float(text), "f").rstrip("0").rstrip(".") if "e" in text else text


def figure(rng, lo, hi, units):
    """A text and its value: lo and hi in the first unit of the table."""
    unit = rng.choice(list(units))
    by = units[unit]
    number = plain(digits(rng, lo / float(by), hi / float(by), rng.randint(2, 9)))
    return "%s %s" % (number, unit), Fraction(number) * by


class Border(Exception):
    """A request so close to a limit that either answer is right; another one is drawn instead."""


class Draw:
    """A request and what has to come out: path -> value, word, or (words that will do); or the fault that is due."""

    def __init__(self, rng):
        self.rng, self.request, self.want, self.due = rng, {}, {}, None
        self.target = self.limits = None
        self.setting, self.gain = None, 1.0  # at the wrench; torque at the bolt for each at the wrench

    def fault(self, field, code):
        self.due = self.due or (field, code)

    def torque(self, kind):
        rng, r, want = self.rng, self.request, self.want
        if kind < 3:
            r["torque"], self.target = figure(rng, 0.05, 500, UNITS)
            if kind == 1:
                part = Fraction(plain(digits(rng, 0.5, 90, 3)))
                r["tolerance"] = "%s %%" % plain(str(float(part)))
                self.limits = self.target * (1 - part / 100), self.target * (1 + part / 100)
            elif kind == 2:
                r["tolerance"], by = figure(rng, float(self.target) * 0.01, float(self.target) * 0.9, UNITS)
                self.limits = self.target - by, self.target + by
        elif kind == 3:
            r["min"], lo = figure(rng, 0.05, 500, UNITS)
            r["max"], hi = figure(rng, float(lo) * 1.01, float(lo) * 3, UNITS)
            if hi < lo:
                self.fault("max", "conflict")
            self.target, self.limits = (lo + hi) / 2, (lo, hi)
        self.setting = self.target
        if self.target is None:
            return
        want["torque",] = self.target
        for u, by in UNITS.items():
            want["units", u] = self.target / by
        for end, v in zip(("min", "max"), self.limits or ()):
            want["range", end] = v
            for u, by in UNITS.items():
                want["range", "units_" + end, u] = v / by

    def adapter(self):
        rng, want, a = self.rng, self.want, {}
        a["wrench"], length = figure(rng, 100, 800, MILLIMETRES)
        a["extension"], arm = figure(rng, float(length) * 0.02, float(length) * 1.1, MILLIMETRES)
        turn = rng.choice(["0", "90", "180", "%.5g" % rng.uniform(0, 180), "%.3g" % rng.uniform(0, 180)])
        a["angle"] = turn + " deg"
        self.request["adapter"] = a
        cos = {"0": 1.0, "90": 0.0, "180": -1.0}.get(turn, math.sin(math.radians(90 - float(turn))))
        lever = float(length) + float(arm) * cos
        if arm >= length:
            self.fault("adapter.extension", "conflict")
        elif abs(lever - float(length) / 5) < 1e-9 * float(length):
            raise Border
        elif lever < float(length) / 5:
            self.fault("adapter.angle", "conflict")
        elif self.target is not None:
            self.gain = lever / float(length)
            self.setting = float(self.target) / self.gain
            want["reach",], want["setting",] = lever, self.setting
            for u, by in UNITS.items():
                want["setting_units", u] = self.setting / float(by)

    def wrench(self):
        rng, w = self.rng, {}
        w["kind"] = rng.choice(["click", "beam", "electronic"])
        scale = float(self.setting or 10) * 20 ** rng.uniform(-0.1, 1)
        least = mark = own = None
        w["max"], most = figure(rng, scale, scale * 1.2, UNITS)
        if rng.random() < 0.4:
            w["min"], least = figure(rng, scale * 0.01, scale * 0.4, UNITS)
        if rng.random() < 0.6:
            w["graduation"], mark = figure(rng, scale / 200, scale / 10, UNITS)
        if rng.random() < 0.3:
            own = plain(digits(rng, 0.5, 20, 3))
            w["deviation"] = own + " %"
        self.request["wrench"] = w
        if self.target is not None and self.due is None:
            wrench(self.want, w["kind"], most, least, mark, own, self.setting, self.gain, self.limits)

    def fastener(self):
        rng = self.rng
        d = rng.choice(list(THREADS))
        p = rng.choice(THREADS[d][0])
        name = rng.choice(list(CLASSES))
        mu, within = "%.3f" % rng.uniform(0.05, 0.4), "%.3f" % rng.uniform(0, 0.06)
        use = plain(digits(rng, 20, 99, 3))
        coarse = p == THREADS[d][0][0]
        f = {"thread": "M%g" % d if coarse and rng.random() < 0.5 else "M%gx%g" % (d, p), "class": name, "friction": float(mu),
             "friction_within": float(within), "utilisation": use + " %"}
        self.request["fastener"] = f
        into = deep = None
        if rng.random() < 0.7:
            into = rng.choice(list(SHEAR))
            f["into"] = into
            f["engagement"], deep = figure(rng, 0.3 * d, 3.2 * d, MILLIMETRES)
        least = round((float(mu) - float(within)) * 1000)
        if name == "9.8" and d > 16:
            self.fault("fastener.class", "conflict")
        elif least < 20:
            self.fault("fastener.friction_within", "conflict")
        elif least == 20:
            raise Border
        else:
            bolt, use = Bolt(d, p, name), float(use) / 100
            fastener(self.want, bolt, float(mu), float(within), use, self.target, self.limits, into, float(deep) if into else None)
            self.want["fastener", "thread"] = "M%g" % d if coarse else "M%gx%g" % (d, p)


def draw(rng):
    """A request, what has to come out, and the fault that is due."""
    while True:
        one = Draw(rng)
        try:
            kind = rng.randrange(5)
            one.torque(kind)
            if rng.random() < 0.6:
                one.adapter()
            if rng.random() < 0.6:
                one.wrench()
            if kind == 4 or rng.random() < 0.6:
                one.fastener()
            if one.want:
                one.want["overall",] = tuple(heads(one))
            return one.request, one.want, one.due
        except Border:
            continue


def heads(one):
    """The verdicts that the answer may have at its head: the gravest that stops a tightening, else what to do."""
    def words(*path):
        return set(one.want.get(path, ("usable",)))
    for use in words("wrench_check", "verdict"):
        for loading in words("fastener", "verdict"):
            for holding in words("fastener", "strip_check", "verdict"):
                stops = [v for v in ("breaks", "above_scale", "below_scale", "below_20_percent", "stretches", "strips")
                         if v in (use, loading, holding)]
                yield from stops[:1] or ahead(one)


def ahead(one):
    """What to do if nothing stops it: the wrench is set to another figure than the torque with an adapter, or at the nearest mark."""
    if one.target is None:
        return ["no_figure"]
    if "adapter" in one.request:
        return ["set"]
    if "graduation" not in one.request.get("wrench", {}):
        return ["torque"]
    nearest = one.want.get(("wrench_check", "marks", "nearest"))
    if nearest is None:
        return ["set", "torque"]  # no mark, or one on a border
    off = abs(nearest / float(one.setting) - 1)
    # Figures are compared as they are shown, to four places.
    return ["torque"] if off < 1e-11 else ["set"] if off > 1e-3 else ["set", "torque"]


def wrench(want, kind, most, least, mark, own, setting, gain, limits):
    set_to, top = float(setting), float(most)
    if least is not None and least >= most:
        raise ValueError("the scale is drawn upside down")
    if own is not None:
        d = float(own) / 100
    elif kind == "beam" or most <= 10:
        d = 0.06
    else:
        d = 0.04
    want["wrench_check", "deviation"] = d
    want["wrench_check", "fifth"] = top / 5
    reach = lambda s: (s / (1 + d) * gain, s / (1 - d) * gain)
    low = float(least or 0)
    from_here = low if kind == "electronic" and low else max(low, top / 5)
    words = []
    for s in (set_to * (1 - 2 * BORDER), set_to, set_to * (1 + 2 * BORDER)):
        words.append("above_scale" if s > top else "below_scale" if s < low else "below_20_percent" if s < from_here else "usable")
    want["wrench_check", "verdict"] = tuple(words)
    if len(set(words)) > 1:
        return  # on the border of the scale
    usable = words[0] == "usable"
    ends = reach(set_to)
    if usable:
        want["wrench_check", "reached", "min"], want["wrench_check", "reached", "max"] = ends
    if mark is not None and usable:
        step = float(mark)
        first = 0.0
        if least is not None:
            turns = float(least / mark)
            if 1e-11 < abs(turns - round(turns)) < 1e-7:
                return  # on the border of beginning on a mark
            if abs(turns - round(turns)) >= 1e-7:
                first = low
        n = (set_to - first) / step
        if 1e-11 < abs(n - round(n)) < 1e-7:
            ends = None  # on the border of being on the mark
        else:
            at = (round(n), round(n)) if abs(n - round(n)) <= 1e-11 else (math.floor(n), math.ceil(n))
            below, above = (first + k * step for k in at)
            if any(abs(v - end) < 1e-7 * step for v in (below, above) for end in (low, top)):
                return  # on the border of the scale's ends
            has = [v if v > 0 and low <= v <= top else None for v in (below, above)]
            if has == [None, None]:
                pass
            elif None not in has and abs((set_to - below) - (above - set_to)) < 1e-9 * step:
                ends = None  # either will do
            else:
                nearest = has[0] if has[1] is None or has[0] is not None and set_to - below <= above - set_to else has[1]
                for name, v in zip(("below", "above"), has):
                    if v is not None:
                        want["wrench_check", "marks", name] = v
                want["wrench_check", "marks", "nearest"] = nearest
                want["wrench_check", "marks", "reached", "min"], want["wrench_check", "marks", "reached", "max"] = ends = reach(nearest)
    if limits and not usable:
        want["wrench_check", "in_range"] = "unknown"
    elif limits and ends:
        lo, hi = float(limits[0]), float(limits[1])
        words = tuple("crosses" if ends[0] < lo * (1 + e) or ends[1] > hi * (1 - e) else "yes" for e in (-1e-11, 1e-11))
        want["wrench_check", "in_range"] = words


def fastener(want, b, mu, within, use, target, limits, into, deep):
    low, high = mu - within, mu + within
    f = lambda *path: ("fastener",) + path
    want[f("stress_area")] = b.area
    want[f("proof_load")] = b.area * b.proof
    want[f("preload")] = b.preload(mu, use)
    want[f("torque")] = b.torque(mu, use)
    want[f("torque_band", "min")], want[f("torque_band", "max")] = b.torque(low, use), b.torque(high, use)
    at = float(target) if target is not None else b.torque(low, use)
    least, most = (float(v) for v in limits) if limits else (at, at)
    want[f("preload_at")] = at / b.arm(mu)
    want[f("preload_band", "min")], want[f("preload_band", "max")] = least / b.arm(high), most / b.arm(low)
    want[f("stressed")], want[f("stressed_max")] = b.stressed(most, mu), b.stressed(most, low)
    words = []
    for e in (1 - BORDER, 1 + BORDER):
        usual, worst = b.stressed(most, mu) * e, b.stressed(most, low) * e
        if b.stressed(most, mu) * b.yields / b.breaks * e > 1:
            words.append("breaks")
        else:
            words.append("stretches" if usual > 1 else "may_stretch" if worst > 1 else "plausible")
    want[f("verdict")] = tuple(words)
    if b.d == 6 and b.p == THREADS[b.d][0][0]:
        t = float(90 * INCH_POUND)
        ends = b.torque(0.10, 0.9), b.torque(0.14, 0.9)
        want[f("practice", "torque")] = t
        want[f("practice", "band", "min")], want[f("practice", "band", "max")] = ends
        want[f("practice", "stressed", "min")], want[f("practice", "stressed", "max")] = b.stressed(t, 0.14), b.stressed(t, 0.10)
        want[f("practice", "lies")] = "below" if t < ends[0] else "above" if t > ends[1] else "within"
    if into:
        weak, usual, own = b.strip(into)
        weak *= 0.897
        bears = max(0.0, min(deep, 2.5 * b.d) - 0.8 * b.p)
        load = min(most / b.arm(low), b.area * b.breaks)  # no bolt pulls more than it breaks at
        least, most = min(weak, own) * bears, min(usual, own) * bears
        want[f("strip_check", "load", "min")], want[f("strip_check", "load", "max")] = least, most
        want[f("strip_check", "preload")] = load
        needed = load / min(weak, own) + 0.8 * b.p
        if needed <= 2.5 * b.d:  # else none helps
            want[f("strip_check", "engagement_needed")] = needed
        want[f("strip_check", "verdict")] = tuple("holds" if load * e <= least else "strips" if load * e > most else "undecided"
                                                  for e in (1 - BORDER, 1 + BORDER))


# --- comparison ------------------------------------------------------------------------------------------------------------

def figures(at, path=()):
    """Every figure and word of a part of a result, by its path."""
    if isinstance(at, dict):
        if "value" in at and "unit" in at:
            yield path, at["value"]
        else:
            for name, inner in at.items():
                yield from figures(inner, path + (name,))
    elif not isinstance(at, list):
        yield path, at


class Comparison:
    """Counts what is compared and what is wrong, and prints the first `show` that are."""

    def __init__(self, show):
        self.show, self.wrong, self.compared, self.words, self.refused, self.worst = show, 0, 0, 0, 0, (0.0, None)
        self.parts, self.said = collections.Counter(), collections.Counter()

    def bad(self, r, *what):
        self.wrong += 1
        if self.wrong <= self.show:
            print("%s\n  %s" % (json.dumps(r), " ".join(str(w) for w in what)))

    def answer(self, r, want, due, line):
        got = json.loads(line)
        if due:
            self.refused += 1
            if got["ok"] or due not in [(e["field"], e["code"]) for e in got["errors"]]:
                self.bad(r, "refusal that is due:", due, "got", line[:300])
            return
        if not got["ok"]:
            self.bad(r, "refused:", line[:300])
            return
        have = dict(figures(got["result"]))
        for path in have.keys() - want.keys():
            if not ("marks" in path or "in_range" in path) or ("wrench_check", "marks", "below") in want:
                self.bad(r, ".".join(path), "is", have[path], "and was not expected")
        for path, w in want.items():
            self.figure(r, path, have.get(path), w)

    def figure(self, r, path, g, w):
        if isinstance(w, (str, bool, tuple)):
            self.words += 1
            self.said[path[-1], g] += path[0] != "fastener" or path[-1] == "verdict"
            if g != w and not (isinstance(w, tuple) and g in w):
                self.bad(r, ".".join(path), "is", g, "want", w)
            return
        self.compared += 1
        self.parts[path[0]] += 1
        w = float(w)
        if not isinstance(g, (int, float)) or isinstance(g, bool):
            self.bad(r, ".".join(path), "is", g, "want", w)
            return
        off = abs(g - w) / max(abs(w), 1e-300) if w else abs(g)
        if off > self.worst[0]:
            self.worst = off, ".".join(path)
        if not off <= ALLOWED:
            self.bad(r, ".".join(path), "is", g, "want", w, "off by %.3g" % off)


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("program")
    options.add_argument("--cases", type=int, default=2000)
    options.add_argument("--seed", type=int, default=5)
    options.add_argument("--show", type=int, default=10)
    o = options.parse_args()
    rng = random.Random(o.seed)
    cases = []
    while len(cases) < o.cases:
        r, want, due = draw(rng)
        if want or due:
            cases.append((r, want, due))
    asked = "".join(json.dumps(r) + "\n" for r, _, _ in cases)
    ran = subprocess.run([o.program, "run", "torque", "--ndjson"], input=asked, capture_output=True, text=True)
    lines = ran.stdout.splitlines()
    if len(lines) != len(cases):
        sys.exit("torque.py: %d answers to %d requests: %s" % (len(lines), len(cases), ran.stderr[:400]))
    c = Comparison(o.show)
    for (r, want, due), line in zip(cases, lines):
        c.answer(r, want, due, line)
    print("torque.py: %d requests, seed %d: %d figures and %d words compared, %d refusals due"
          % (len(cases), o.seed, c.compared, c.words, c.refused))
    print("figures: " + ", ".join("%s %d" % kv for kv in sorted(c.parts.items())))
    print("words: " + ", ".join("%s %d" % (kv[0][1], kv[1]) for kv in sorted(c.said.items(), key=str) if kv[1]))
    print("worst difference %.2g (%s), %d wrong; allowed %.0e" % (c.worst[0], c.worst[1], c.wrong, ALLOWED))
    if c.wrong or c.compared < 10 * o.cases:
        sys.exit(1)


if __name__ == "__main__":
    main()
