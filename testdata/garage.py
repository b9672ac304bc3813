"""The chain's faults in a garage: what is typed is not exact, and the second table's tests can be made too. Used by evaluate.py.

The network is that of cases.py, with healthy resistances drawn from the contract's spreads, a supply typed up to 0.3 V and a
temperature up to 8 K off, and one meter's error in all its readings. The driver is plain. How the spreads are shared out, what the
unit draws and how often a bad contact jumps when moved is common practice.
"""
import collections
import dataclasses

import numpy as np

import cases
from cases import METERS, TESTS, UNIT

SECOND_MINUTES = {"voltage_unit_feed": 8.0, "voltage_unit_ground": 8.0, "wiggle_harness": 10.0, "row_applies": 5.0,
                  "winding_temperature": 3.0, "supply_driven": 4.0, "heat_component": 20.0}
MINUTES = cases.MINUTES | SECOND_MINUTES
VOLTS = ("voltage_unit_feed", "voltage_unit_ground", "supply_driven")
PLACE = {test: k for k, test in enumerate(MINUTES)}
SPREADS = {"driver": (0.1, 0.8), "harness": (0.05, 0.9), "inner": (0.05, 0.3), "to_ground": (0.02, 0.3), "to_feed": (0.02, 0.3)}
JUMPS = ("harness.open", "harness.high_resistance")  # a bad contact: moving it shows in half of the cases
MOST_RECHECKS = 3


class Car:
    """One fault of the chain on a circuit, and the meter that it is looked for with."""

    def __init__(self, rng, typed, real=None, case=None):
        """What is typed, and what is real: the same where nothing else is said. A case gives the fault and the meter's error."""
        self.typed, self.circuit = typed, real or typed
        self.fault, self.value, self.winding = (case.fault, case.value, case.winding) if case else cases.random_fault(rng, self.circuit)
        self.common = dict(zip(METERS, case.draws[len(TESTS):] if case else rng.standard_normal(len(METERS))))
        self.feed, self.ground, self.load = rng.uniform(0.02, 0.08), rng.uniform(0.02, 0.05), rng.uniform(0.3, 2)
        self.moved = "jumps" if cases.NAMES[self.fault] in JUMPS and rng.random() < 0.5 else "steady"
        self.seed = int(rng.integers(2 ** 31))

    def tests(self):
        return self.typed.tests() + list(SECOND_MINUTES)

    def reading(self, test, take=0):
        """What a test shows the first time (0) or later; the same for whoever makes it, whatever was made before."""
        rng = np.random.default_rng([self.seed, PLACE[test], take])
        words = {"wiggle_harness": self.moved, "row_applies": "yes", "heat_component": "steady"}
        if test in words:
            return words[test]
        if test == "winding_temperature":
            return "%.0f degC" % (self.circuit.temperature + rng.uniform(-2, 2))
        unit = "V" if test in VOLTS else UNIT[test]
        shown = cases.shown(unit, self.mean(test), rng.standard_normal(), self.common[unit])
        return "%.2f V" % shown if test in VOLTS else shown

    def mean(self, test):
        p = cases.parts(self.circuit, np.array([self.fault]), np.array([self.value]), np.array([self.winding]))
        if test not in VOLTS:
            return cases.predict(self.circuit, p, [test])[0, 0]
        _, _, battery, driven = (float(x[0]) for x in cases.powered(self.circuit, p, p["on"], None))
        high = self.circuit.side == "high"
        if test == "voltage_unit_feed":
            return battery - self.feed * (self.load + (driven if high else 0.0))
        return self.ground if test == "voltage_unit_ground" else battery


def random_car(rng, typed):
    """A car of which the typed circuit is what its owner knows."""
    nominals = {part: float(np.exp(rng.uniform(*np.log(limits)))) for part, limits in SPREADS.items()}
    return Car(rng, typed, dataclasses.replace(
        typed, supply=typed.supply + rng.uniform(-0.3, 0.3), temperature=typed.temperature + rng.uniform(-8, 8),
        nominals=dataclasses.replace(typed.nominals, **nominals)))


AGAIN = "none, asked again too often"


class Visit:
    """A car followed through the tests that a program asks for, to its decision."""

    def __init__(self, car, minutes):
        self.car, self.minutes = car, minutes
        self.readings, self.takes, self.spent, self.rechecks, self.repair = {}, collections.Counter(), 0.0, 0, None

    def take(self, test):
        self.readings[test] = self.car.reading(test, self.takes[test])
        self.takes[test] += 1
        self.spent += self.minutes[test]

    def hear(self, answer):
        """Does what the answer decides; returns whether it goes on."""
        decision = answer["decision"] if answer else {"do": "refused"}
        if decision["do"] == "repair":
            self.repair = decision["repair"]
            return False
        test = decision.get("test")
        if decision["do"] == "recheck" and test in self.readings:
            self.rechecks += 1
            if self.rechecks > MOST_RECHECKS:
                self.repair = AGAIN
                return False
        elif decision["do"] != "test" or test not in self.car.tests() or test in self.readings:
            self.repair = "none, %s" % decision
            return False
        self.take(test)
        return True

    @property
    def right(self):
        return self.repair == cases.REPAIRS[cases.REPAIR_OF[self.car.fault]]

    @property
    def lost(self):
        """Whether it ended without a decision."""
        return self.repair.startswith("none,")

    @property
    def astray(self):
        """Whether what was decided could not be done: a test that the circuit has not, or one made before, or a refusal."""
        return self.lost and self.repair != AGAIN


def follow(program, visits, request):
    """Lets a program lead each visit to its end. request makes one from a visit."""
    running = visits
    while running:
        answers = program.ask([request(visit) for visit in running])
        running = [visit for visit, answer in zip(running, answers) if visit.hear(answer)]


def random_minutes(rng, vary):
    """Each test's minutes, off by up to a factor of four where vary is."""
    off = np.exp(rng.uniform(-np.log(4), np.log(4), len(MINUTES))) if vary else np.ones(len(MINUTES))
    return {test: round(float(minutes * f), 2) for (test, minutes), f in zip(MINUTES.items(), off)}
