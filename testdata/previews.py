#!/usr/bin/env python3
"""Previewed ranges of the circuit question: every value inside a range that a test's outcomes name leads to the repair that they name.

    previews.py PROGRAM [--states 50] [--points 2000] [--seed 1] [--show 10]

A state is a vehicle of vehicle.py with a fault of the chain or a trouble of trouble_kinds.py, after up to five readings, some that the
answer asked for, some not, and still with a test to make. The points are values of the test on the card, which comes first, and of the
others where they name outcomes: the ranges' ends, just inside them, what a meter would show there, and anything between; OL and words
where an outcome is one. Each is asked as one
reading more. The repair named must then be the likeliest, and the one decided where a repair is decided. Exit status 0: no
contradiction in all points.
"""
import argparse
import json
import math
import random
import sys
from collections import Counter
from types import SimpleNamespace

sys.dont_write_bytecode = True
import cases
import garage
from goals import goal, print_goals
from program import Program
from trouble_kinds import KINDS, Kind, spread
from troubles import Case
from vehicle import OPEN

MOST_READINGS = 5
OL_FROM = 40e6
OHM_STEPS = ((400, 0.1), (4e3, 1), (40e3, 10), (math.inf, 1e3))


# The faults of the chain, as changes of a healthy vehicle.

def shunt(v, a, b, ohm, when="always"):
    v.shunts.append((a, b, ohm, when))


CHAIN = {
    "none": lambda v, rng: None,
    "winding.open": lambda v, rng: setattr(v, "winding", OPEN),
    "winding.shorted_turns": lambda v, rng: setattr(v, "winding", v.winding * rng.uniform(0.02, 0.9)),
    "winding.high_resistance": lambda v, rng: setattr(v, "winding", v.winding + spread(rng, 3, 1000)),
    "winding.to_case": lambda v, rng: shunt(v, "wm", "case", spread(rng, 0.1, 10e3)),
    "inner_lead.open": lambda v, rng: v.ohms.update(inner=OPEN),
    "inner_lead.high_resistance": lambda v, rng: v.ohms.update(inner=spread(rng, 1, 1000)),
    "inner_lead.to_ground": lambda v, rng: shunt(v, "lead", "case", spread(rng, 0.05, 1000)),
    "harness.open": lambda v, rng: v.ohms.update(harness=OPEN),
    "harness.high_resistance": lambda v, rng: v.ohms.update(harness=spread(rng, 1, 1000)),
    "harness.to_ground": lambda v, rng: shunt(v, "plug", "body", spread(rng, 0.05, 1000)),
    "harness.to_battery": lambda v, rng: shunt(v, "plug", "bat", spread(rng, 0.05, 100), "battery"),
    "return_path.open": lambda v, rng: v.ohms.update({"return": OPEN}),
    "return_path.high_resistance": lambda v, rng: v.ohms.update({"return": spread(rng, 0.5, 1000)}),
    "driver.never_on": lambda v, rng: setattr(v, "dead", True),
    "driver.always_on": lambda v, rng: shunt(v, "pin", "vout" if v.side == "high" else "ugnd", rng.uniform(0.1, 0.8), "unit"),
    "driver.weak": lambda v, rng: setattr(v, "on_ohms", spread(rng, 1, 100)),
}


def chain_kind(name):
    def make(v, rng):
        """A fault of the chain."""
        v.shows = "steady"
        CHAIN[name](v, rng)
    made = Kind(make, "", "", {})
    made.name = name
    return made


class State(Case):
    """A vehicle and what was read of it so far; the answer leads to the next reading or to previews."""

    def __init__(self, number, options):
        rng = random.Random(f"{options.seed}/{number}")
        kind = rng.choice(list(KINDS.values())) if number % 2 else chain_kind(rng.choice(list(CHAIN)))
        super().__init__(kind, number, options)
        self.more = number // 2 % (MOST_READINGS + 1) - len(self.readings)

    def first(self):
        return None

    def step(self, answer):
        """Takes one more reading: in half of the cases what the answer puts first, else any test."""
        self.more -= 1
        left = [n["test"] for n in answer["next"]]
        if left:
            test = left[0] if self.rng.random() < 0.5 else self.rng.choice(left)
            self.readings[test] = self.vehicle.reading(test)


def drawn(program, options):
    """The states, each with its answer."""
    states = [State(number, options) for number in range(options.states)]
    running = states
    while running:
        for state, answer in zip(running, program.ask([s.request() for s in running])):
            state.answer = answer
            if answer is None:
                sys.exit(f"previews.py: refused: {json.dumps(state.request())}: {program.refusals}")
        running = [s for s in running if s.more > 0 and s.answer["next"]]
        for state in running:
            state.step(state.answer)
    return states


# --- points ----------------------------------------------------------------------------------------------------------------

UNITS = cases.UNIT | {test: "V" for test in garage.VOLTS} | {"winding_temperature": "degC"}


def limits(state, test, outcome):
    """The ends of an outcome's range; where it has none, as far as a reading may lie there."""
    supply, least = float(state.facts["supply"].split()[0]), float(state.facts["spec"]["min"].split()[0])
    unit = UNITS[test]
    low, high = ((outcome.get(end) or {}).get("value") for end in ("from", "to"))
    if low is None:
        low = high - 60 if unit == "degC" and high is not None else 0.0 if unit != "degC" else -20.0
    if high is None:
        most = {"ohm": OL_FROM * 0.99, "V": supply + 1, "A": 2 * supply / least, "degC": 130.0}[unit]
        high = most if most > low else low + abs(low) / 10 + 1
    return min(low, high), high


def on_display(unit, value):
    """The nearest value that a meter shows."""
    step = {"V": 0.01, "A": 0.01, "degC": 1.0}.get(unit) or next(s for most, s in OHM_STEPS if abs(value) < most)
    return round(value / step) * step


def between(rng, unit, low, high):
    if unit == "ohm" and high > 20 * max(low, 0.1):
        return math.exp(rng.uniform(math.log(max(low, 0.1)), math.log(high)))
    return rng.uniform(low, high)


def values(rng, state, test, outcome, count):
    """How a value inside the outcome is found, and the text that is typed."""
    if outcome.get("word"):
        return [("word", outcome["word"])]
    if outcome["over"]:
        return [("OL", "OL")]
    unit, (low, high) = UNITS[test], limits(state, test, outcome)
    inside = (high - low) / 1000
    out = [("just inside an end", low + inside), ("just inside an end", high - inside)]
    out += [("between", between(rng, unit, low, high)) for _ in range(count)]
    shown = [on_display(unit, value) for value in (low + inside, high - inside, between(rng, unit, low, high))]
    out += [("as a meter shows", value) for value in shown if low < value < high]
    return [(how, f"{value:.9g} {unit}") for how, value in out]


def points_of(state, rng, many):
    """Points of a state: of the test that comes first, and half of them of the others if those name outcomes."""
    of_first, of_others = [], []
    for n in state.answer["next"]:
        kept = of_others if of_first else of_first
        for outcome in n["outcomes"]:
            for how, text in values(rng, state, n["test"], outcome, many if kept is of_first else 2):
                kept.append(SimpleNamespace(state=state, test=n["test"], outcome=outcome, how=how, text=text, card=kept is of_first))
    half = rng.sample(of_first, min(len(of_first), many // 2 if of_others else many))
    return half + rng.sample(of_others, min(len(of_others), many - len(half)))


def asked_with(point):
    """The state's request with the point as one reading more."""
    request = point.state.request()
    return request | {"readings": request["readings"] + [{"test": point.test, "value": point.text}]}


def against(point, answer):
    """What contradicts the preview, or None."""
    named, repairs = point.outcome["repair"], answer["repairs"]
    chance = {row["repair"]: row["probability"] for row in repairs}
    if chance.get(named, 0) < repairs[0]["probability"] * (1 - 1e-9):
        return f"{repairs[0]['repair']} {repairs[0]['probability']:.3f} is likelier than {named} {chance.get(named, 0):.3f}"
    decision = answer["decision"]
    if decision["do"] == "repair" and decision["repair"] != named:
        return f"{decision['repair']} is decided"
    return None


def report(points, answers, states, show):
    wrong = [(p, why) for p, a in zip(points, answers) if (why := against(p, a))]
    many, bad = Counter(), Counter()
    for key in ("test that comes first", "other tests", "just inside an end", "between", "as a meter shows", "word", "OL"):
        def mine(p):
            return p.how == key or key == ("test that comes first" if p.card else "other tests")
        many[key], bad[key] = sum(mine(p) for p in points), sum(mine(p) for p, _ in wrong)
        print(f"  {key:24}{many[key]:6} points{bad[key]:6} contradictions")
    cards = [s.answer["next"][0] for s in states if s.answer["next"]]
    named = [sum(o["probability"] for o in card["outcomes"]) for card in cards]
    each = sum(len(card["outcomes"]) for card in cards) / len(cards)
    print(f"  the outcomes of the test that comes first name {sum(named) / len(named):.1%} of what it may show, least {min(named):.1%}; "
          f"{each:.1f} outcomes each")
    for point, why in wrong[::max(1, len(wrong) // show)][:show] if show else []:
        o = point.outcome
        ends = "..".join(f"{o[e]['value']:.4g}" if o.get(e) else "" for e in ("from", "to"))
        print(f"  {point.state.kind.name}: {point.test} = {point.text}, {point.how} of {ends or o.get('word') or 'OL'}: "
              f"{o['repair']} is named; {why}; {json.dumps(point.state.request())}")
    return len(wrong)


def main():
    parse = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parse.add_argument("program")
    parse.add_argument("--states", type=int, default=50)
    parse.add_argument("--points", type=int, default=2000)
    parse.add_argument("--seed", type=int, default=1)
    parse.add_argument("--show", type=int, default=10, help="print so many contradictions")
    options = parse.parse_args()
    program = Program(options.program)
    options.fields = "new" if program.wide else "old"
    wanted, options.states = options.states, 2 * options.states
    states = [s for s in drawn(program, options) if s.answer["next"] and s.answer["next"][0]["outcomes"]][:wanted]
    options.states = len(states)
    rng = random.Random(options.seed)
    points = [p for state in states for p in points_of(state, rng, 6 * options.points // (5 * options.states))]
    answers = program.ask([asked_with(p) for p in points])
    if None in answers:
        sys.exit(f"previews.py: refused: {program.refusals.most_common(3)}")
    readings = sorted(Counter(len(s.readings) for s in states).items())
    print(f"Previewed ranges: {len(points)} points over {len(states)} states, seed {options.seed}, {options.fields} fields; "
          f"readings of a state: {', '.join(f'{n} in {k}' for n, k in readings)}")
    contradictions = report(points, answers, states, options.show)
    program.report()
    goal(f"previews: no contradiction in {len(points)} points over {len(states)} states ({contradictions})", contradictions == 0)
    goal(f"previews: {options.points} points over {options.states} states were asked ({len(points)})", len(points) >= 0.95 * options.points)
    sys.exit(0 if print_goals() else 1)


if __name__ == "__main__":
    main()
