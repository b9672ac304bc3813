"""Troubles outside the chain's own faults, each followed to the decision of the circuit question.

    troubles.py PROGRAM [--cases 60] [--seed 1] [--kind NAME ...] [--show N] [--fields old]

Each case is a vehicle of vehicle.py with a trouble of trouble_kinds.py. It starts with what a technician knows, takes the test that the
answer asks for, and asks again, until a repair is decided or no test is left. Exit status 0: the goals of issue 12 hold.
"""
import argparse
import json
import multiprocessing
import random
import subprocess
import sys
from collections import Counter

sys.dont_write_bytecode = True
from goals import goal, print_goals
from trouble_kinds import KINDS
from vehicle import MINUTES, NEW_MINUTES

ALL_MINUTES = MINUTES | NEW_MINUTES
PROCESSES = 2
MOST_TESTS, MOST_RECHECKS = 15, 2
GOALS = {"right": 0.80, "certain": 0.03, "component": 0.005, "control_unit": 0.01}


class Case:
    """One vehicle, what was asked and answered, and how it ended."""

    def __init__(self, kind, number, options):
        self.rng = random.Random(f"{options.seed}/{kind.name}/{number}")
        self.kind, self.number, self.old = kind, number, options.fields == "old"
        self.vehicle = kind.vehicle(self.rng)
        self.readings, self.story, self.answer = {}, [], None
        self.minutes = self.tests = self.rechecks = 0
        self.end, self.probability = None, 0.0
        self.facts = self.known()
        first = self.first()
        if first:
            self.take(first)

    def known(self):
        """What is typed before any reading."""
        v, rng = self.vehicle, self.rng
        facts = {"side": v.side, "return": v.ret, "supply": f"{v.typed_supply:.1f} V", "code_kind": v.code,
                 "spec": {"min": f"{v.spec[0]} ohm", "max": f"{v.spec[1]} ohm"}}
        if v.typed_heat is not None:
            facts["winding_temperature"] = f"{v.typed_heat:.0f} degC"
        present = self.present()
        kind = {"kind": v.driver} if rng.random() < 0.3 else None
        if kind and v.driver == "regulated" and rng.random() < 0.5:
            kind["at"] = f"{v.set_current:.2f} A"
        if not self.old:
            facts.update({k: f for k, f in (("fault_present", present), ("driver", kind)) if f})
        return facts

    def present(self):
        """What the mechanic says of "does it show now?": yes, no or nothing."""
        shares = {"steady": (0.55, 0), "away": (0, 0.55), "flickers": (0.3, 0.2), "sound": (0, 0.5), "elsewhere": (0.4, 0.1)}
        yes, no = shares[self.vehicle.shows]
        draw = self.rng.random()
        return "yes" if draw < yes else "no" if draw < yes + no else None

    def first(self):
        """Half of them begin with a reading of their own, mostly ohms."""
        if self.vehicle.slips:
            return self.vehicle.first
        return self.rng.choices((None, "resistance_component", "resistance_unit", "voltage_pin_on"), (50, 20, 15, 15))[0]

    def take(self, test, again=False):
        value = self.vehicle.reading(test, again)
        self.readings[test] = value
        self.tests += not again
        self.rechecks += again
        self.minutes += ALL_MINUTES[test]
        self.story.append(f"{'again ' if again else ''}{test} = {value}")

    def request(self):
        return self.facts | {"readings": [{"test": t, "value": x} for t, x in self.readings.items()]}

    def hear(self, answer):
        """Takes the answer in: the next reading is taken, or the case ends."""
        if not answer.get("ok"):
            raise ValueError(f"refused: {json.dumps(self.request())}\n{json.dumps(answer)[:2000]}")
        self.answer = answer["result"]
        decision = self.answer["decision"]
        top = ", ".join(f"{f['fault']} {f['probability']:.3f}" for f in self.answer["faults"][:4])
        self.story.append(f"    -> {json.dumps(decision)}  [{top}]  surprise {self.answer.get('surprise', 0)}")
        if decision["do"] == "repair":
            self.end, self.probability = decision["repair"], decision["probability"]
            return
        test = self.possible(decision["test"])
        again = test in self.readings
        if test is None or again and self.rechecks >= MOST_RECHECKS or not again and self.tests >= MOST_TESTS:
            self.end = "no decision"
            return
        self.take(test, again)

    def possible(self, test):
        """The test asked for; where only old fields are sent, a new test is not there and the next best stands in."""
        if not self.old or test in MINUTES:
            return test
        return next((n["test"] for n in self.answer["next"] if n["test"] in MINUTES), None)

    def verdict(self):
        if self.end in self.vehicle.right:
            return "right"
        if self.end in ("unexplained", "no decision"):
            return "surprised"
        return "certain" if self.probability >= 0.9 else "below"

    def condemned(self):
        """What of component and control unit was condemned while fine."""
        return self.end if self.end in ("component", "control_unit") and self.end not in self.vehicle.broken else None

    def tell(self):
        v = self.vehicle
        print(f"\n{self.kind.name} {self.number}: {self.kind.what}\n  right: {' or '.join(sorted(v.right))}; driver {v.driver}; winding "
              f"{v.winding:.2f} ohm at 20 degC, now {v.temperature():.0f} degC; supply driven {v.driven_supply:.2f} V")
        ohms = {k: ("open" if o > 1e9 else round(o, 3)) for k, o in v.ohms.items()}
        print(f"  ohms {ohms}\n  shunts {[(a, b, round(o, 2), w) for a, b, o, w in v.shunts]}\n  request {json.dumps(self.facts)}")
        for line in self.story:
            print("  " + line)
        print(f"  ended: {self.end} {self.probability:.4f}: {self.verdict()}")


def ask(program, cases):
    lines = "".join(json.dumps(c.request()) + "\n" for c in cases)
    done = subprocess.run([program, "run", "circuit", "--ndjson"], input=lines, capture_output=True, text=True)
    answers = done.stdout.splitlines()
    if len(answers) != len(cases):
        raise ValueError(f"{len(answers)} answers to {len(cases)} requests: {done.stderr[:2000]}")
    for case, line in zip(cases, answers):
        case.hear(json.loads(line))


def followed(job):
    """A share of the cases of all kinds, each at its end."""
    program, names, numbers, options = job
    cases = [Case(KINDS[name], number, options) for name in names for number in numbers]
    while open_cases := [c for c in cases if c.end is None]:
        ask(program, open_cases)
    return cases


def counts(cases):
    n = Counter(c.verdict() for c in cases)
    fine = {part: [c for c in cases if part not in c.vehicle.broken] for part in ("component", "control_unit")}
    for part, those in fine.items():
        n[part] = sum(c.condemned() == part for c in those)
        n["fine " + part] = len(those)
    return n


def row(name, cases):
    n, many = counts(cases), len(cases)
    wrong = Counter(c.end for c in cases if c.verdict() in ("certain", "below"))
    shares = "".join(f"{n[v] / many:10.1%}" for v in ("right", "surprised", "certain", "below"))
    print(f"{name:24}{shares}{sum(c.tests + c.rechecks for c in cases) / many:7.1f}{sum(c.minutes for c in cases) / many:9.0f}"
          f"{n['component']:11}{n['control_unit']:10}   {', '.join(f'{e} {k}' for e, k in wrong.most_common(4))}")


def report(cases, names):
    print(f"{'kind':24}{'right':>10}{'surprised':>10}{'wrong .9+':>10}{'wrong <.9':>10}{'tests':>7}{'minutes':>9}"
          f"{'component':>11}{'unit':>10}   wrong repairs\n{'':80}(condemned while fine)")
    for name in names:
        row(name, [c for c in cases if c.kind.name == name])
    row("all", cases)
    n = counts(cases)
    shares = {"right": n["right"] / len(cases), "certain": n["certain"] / len(cases)}
    for part in ("component", "control_unit"):
        shares[part] = n[part] / max(1, n["fine " + part])
        print(f"{part} condemned while fine: {n[part]} of {n['fine ' + part]}, {shares[part]:.2%}")
    names = {"right": "right", "certain": "wrong at 0.9 or more", "component": "component condemned while fine",
             "control_unit": "control unit condemned while fine"}
    for name, limit in GOALS.items():
        most = name != "right"
        goal(f"troubles: {names[name]} {shares[name]:.2%}; at {'most' if most else 'least'} {limit:.1%}",
             shares[name] <= limit if most else shares[name] >= limit)


def main():
    parse = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parse.add_argument("program")
    parse.add_argument("--cases", type=int, default=60, help="of each kind")
    parse.add_argument("--seed", type=int, default=1)
    parse.add_argument("--kind", nargs="*", choices=sorted(KINDS), help="only these")
    parse.add_argument("--show", type=int, default=0, help="tell so many wrong cases as a whole")
    parse.add_argument("--fields", choices=("new", "old"), default="new", help="old: only fields and tests of the first table")
    options = parse.parse_args()
    names = options.kind or list(KINDS)
    try:
        with multiprocessing.Pool(PROCESSES) as pool:
            shares = [range(first, options.cases, PROCESSES) for first in range(PROCESSES)]
            cases = sum(pool.map(followed, [(options.program, names, share, options) for share in shares], chunksize=1), [])
    except ValueError as why:
        sys.exit(f"troubles.py: {why}")
    print(f"Troubles outside the chain: {len(names)} kinds, {options.cases} cases each, seed {options.seed}, {options.fields} fields")
    report(cases, names)
    wrong = [c for c in cases if c.verdict() in ("certain", "below")]
    for case in wrong[::max(1, len(wrong) // options.show)][:options.show] if options.show else []:
        case.tell()
    sys.exit(0 if print_goals() else 1)


if __name__ == "__main__":
    main()
