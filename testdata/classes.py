#!/usr/bin/env python3
"""What ways of working on a worksheet earn, over 400 sheets that hide a fault, and over 400 that ask for a figure.

    classes.py PROGRAM [SHEETS]

A guesser names any repair without a reading, another always the one that is commonest; one asks for everything; one makes five sensible
tests; one follows the tool `circuit` test by test. What is likeliest after the readings is asked of `circuit`, in the world of a sheet:
nothing in doubt, the faults of the chain alone. The marks come from `worksheet`; they are worked out again here, and the support that they
rest on is held against what `circuit` says. Of figures: what is right, and what known slips lead to, is worked out here from the facts of
the sheet.
"""
import collections
import json
import math
import random
import subprocess
import sys

from cases import SECOND_FAULTS
from goals import goal, print_goals

MINUTES = {
    "resistance_winding": 45, "resistance_component": 10, "resistance_unit": 12, "continuity_harness": 15, "insulation_harness": 12,
    "insulation_component": 10, "voltage_harness_open": 8, "voltage_pin_on": 10, "voltage_pin_off": 8, "current_on": 8,
    "voltage_drop_return": 12, "voltage_feed": 8, "voltage_unit_test_load": 15,
}
REPAIRS = ("component", "harness", "return_path", "control_unit", "nothing")
SENSIBLE = ("current_on", "voltage_pin_on", "resistance_component", "insulation_harness", "voltage_drop_return")
NOMINAL = {"high": "0.05 ohm", "low": "0.15 ohm"}  # of the return path


def answers(program, tool, requests):
    """The result of each request; all have to be answered."""
    text = "".join(json.dumps(request) + "\n" for request in requests)
    run = subprocess.run([program, "run", tool, "--ndjson"], input=text, capture_output=True, text=True)
    out = [json.loads(line) for line in run.stdout.splitlines()]
    for request, answer in zip(requests, out):
        if not answer.get("ok"):
            sys.exit("%s refused %s: %s" % (tool, request, answer))
    if len(out) != len(requests):
        sys.exit("%s: %d requests, %d answers: %s" % (tool, len(requests), len(out), run.stderr[:500]))
    return [answer["result"] for answer in out]


class Student:
    """One student on one sheet with a hidden fault."""

    def __init__(self, number):
        self.kind, self.level = ("fault_high", "fault_low")[number % 2], str(number // 2 % 3 + 1)
        self.side = self.kind.removeprefix("fault_")
        self.name, self.asked, self.readings, self.chances, self.next = "student %d" % number, [], {}, None, []

    def tests(self):
        return [test for test in MINUTES if test != "voltage_feed" or self.side == "low"]

    def request(self, repair=None):
        request = {"role": "student", "name": self.name, "questions": [{"kind": self.kind, "level": self.level}],
                   "asked": [{"test": test} for test in self.asked]}
        if repair:
            request["decisions"] = [{"repair": repair}]
        return request

    def take(self, question):
        """Takes over facts and readings of the sheet."""
        self.facts = {fact["name"]: fact["given"] for fact in question["facts"]}
        self.code = question["code_kind"] or "none"
        for reading in question["readings"]:
            value = reading.get("value")
            self.readings[reading["test"]] = "OL" if reading["over"] else "%r %s" % (value["value"], value["unit"])

    def circuit(self):
        """The request to `circuit` in the world of the sheet."""
        return {
            "side": self.side, "return": "wire", "supply": self.facts["supply"], "winding_temperature": self.facts["winding_temperature"],
            "spec": {"min": self.facts["spec.min"], "max": self.facts["spec.max"]}, "code_kind": self.code,
            "supply_within": "0 V", "winding_temperature_within": "0 K", "driver": {"kind": "plain"},
            "nominal": {"driver": "0.15 ohm", "harness": "0.15 ohm", "inner_lead": "0.1 ohm", "return_path": NOMINAL[self.side]},
            "priors": {fault: 0 for fault in SECOND_FAULTS},
            "readings": [{"test": test, "value": self.readings[test]} for test in self.asked],
        }

    def weigh(self, result):
        """Takes over what `circuit` says."""
        self.chances = {row["repair"]: row["probability"] for row in result["repairs"]}
        self.next = [n["test"] for n in result["next"] if n["value"] > 0 and n["test"] in MINUTES]

    def likeliest(self):
        return max(REPAIRS, key=lambda repair: self.chances.get(repair, 0))


def look(program, students):
    """Asks the sheet for the readings, and `circuit` for what they say."""
    for student, result in zip(students, answers(program, "worksheet", [s.request() for s in students])):
        student.take(result["questions"][0])
    for student, result in zip(students, answers(program, "circuit", [s.circuit() for s in students])):
        student.weigh(result)


def advised(program, students):
    """Follows the tool's own advice: its best next test as long as one pays."""
    look(program, students)
    going = list(students)
    while going:
        going = [s for s in going if s.next and len(s.asked) < len(s.tests())]
        for student in going:
            student.asked.append(student.next[0])
        if going:
            look(program, going)


def marked(student, question):
    """The marks of a decision worked out again: right, supported, minutes beside the best way and all there are."""
    decision = question["decision"]
    p = decision["supported"]
    s = min(1, max(0, (p - 0.5) / 0.45)) if student.asked else 0
    worth = 1 / 3 + 2 / 3 * s if decision["right"] else s / 4
    all_minutes, best = sum(MINUTES[t] for t in student.tests()), decision["best_minutes"]
    late = min(1, max(0, (sum(MINUTES[t] for t in student.asked) - best) / (all_minutes - best)))
    return 100 * worth * (1 - 0.45 * late)


def earned(program, students, name):
    """Decides for all students and returns their marks; holds them against what is worked out here."""
    requests = [s.request(name(s)) for s in students]
    marks, right, off, apart = [], 0, 0.0, 0.0
    for student, request, result in zip(students, requests, answers(program, "worksheet", requests)):
        question = result["questions"][0]
        decision = question["decision"]
        marks.append(decision["marks"])
        right += decision["right"]
        off = max(off, abs(decision["marks"] - marked(student, question)))
        if student.chances and student.asked:
            apart = max(apart, abs(decision["supported"] - student.chances.get(request["decisions"][0]["repair"], 0)))
    return marks, right / len(students), off, apart


def commonest(program, number):
    """The repair that most of other students' faults need: what one would hear from another class."""
    requests = []
    for i in range(number):
        student = Student(i)
        student.name = "last year %d" % i
        requests.append(student.request("nothing"))
    count = collections.Counter(r["questions"][0]["solution"]["repair"] for r in answers(program, "worksheet", requests))
    return count.most_common(1)[0][0]


def hidden(program, number):
    rng, usual = random.Random(7), commonest(program, number)
    ways = {"guess": [], "commonest (%s)" % usual: [], "everything": None, "five sensible": None, "advice": None}
    means = {}
    print("hidden fault: %d sheets, both sides, three levels" % number)
    print("%-24s %6s %6s %7s %6s   %s" % ("way", "mean", "right", "minutes", "tests", "marks: least, quarters, most"))
    for way in ways:
        students = [Student(i) for i in range(number)]
        if way == "everything":
            for student in students:
                student.asked = student.tests()
        elif way == "five sensible":
            for student in students:
                student.asked = list(SENSIBLE)
        if way == "advice":
            advised(program, students)
        else:
            look(program, students)
        name = {"guess": lambda s: rng.choice(REPAIRS)}.get(way, Student.likeliest if ways[way] is None else lambda s: usual)
        marks, right, off, apart = earned(program, students, name)
        means[way.split(" (")[0]] = sum(marks) / number
        order = sorted(marks)
        minutes = sum(sum(MINUTES[t] for t in s.asked) for s in students) / number
        tests = sum(len(s.asked) for s in students) / number
        print("%-24s %6.1f %6.3f %7.1f %6.2f   %s" % (way, sum(marks) / number, right, minutes, tests,
              " ".join("%.0f" % order[min(number - 1, number * q // 4)] for q in range(5))))
        goal("%s: marks worked out again agree to 0.05 (largest difference %.3f)" % (way, off), off <= 0.0501)
        goal("%s: support is what circuit says to 0.0005 (largest difference %.5f)" % (way, apart), apart <= 0.000501)
    goal("the tool's own advice earns 85 or more: %.1f" % means["advice"], means["advice"] >= 85)
    goal("five sensible tests earn 70 or more: %.1f" % means["five sensible"], means["five sensible"] >= 70)
    goal("asking everything earns 45 to 65: %.1f" % means["everything"], 45 <= means["everything"] <= 65)
    goal("always the commonest earns 30 at most: %.1f" % means["commonest"], means["commonest"] <= 30)
    goal("a guess earns 20 at most: %.1f" % means["guess"], means["guess"] <= 20)
    goal("in that order", means["advice"] > means["five sensible"] > means["everything"] > means["commonest"] > means["guess"])


def copper(net, at, to):
    return net * (to + 234.5) / (at + 234.5)


def right_value(kind, level, facts):
    """What is right, worked out from the facts of the sheet: value, and its unit."""
    import math
    f = {name: float(text.split()[0]) for name, text in facts.items()}
    net = f.get("reading", 0) - f.get("leads", 0) - f.get("loom", 0)
    if kind == "hot_winding":
        return copper(net, f["winding_temperature"], f["at"]), "ohm"
    if kind == "rows":
        return copper(net, f["winding_temperature"], 20), "ohm"
    if kind == "known_good":
        return copper(net, f["winding_temperature"], f["known_good.at"]), "ohm"
    if kind == "adapter":
        torque = f["torque"] * (1 if facts["torque"].endswith("N.m") else 0.45359237 * 9.80665 * 0.0254)
        reach = f["adapter.wrench"] + f["adapter.extension"] * math.cos(math.radians(f["adapter.angle"]))
        return torque * f["adapter.wrench"] / reach, "N.m"
    on, u, drop = f["duty"] / 100, f["supply"], f.get("driver_drop", 0)
    if level == "1":
        return on * u, "V"
    if level == "2":
        return (1 - on) * u + on * drop, "V"
    return on * (u - drop) / copper(f["resistance"], f["at"], f["winding_temperature"]), "A"


KINDS = ("hot_winding", "rows", "known_good", "adapter", "pulsed")


def slip_value(slip, level, facts):
    """What a known slip leads to, worked out from the facts of the sheet."""
    f = {name: float(text.split()[0]) for name, text in facts.items()}
    net = f.get("reading", 0) - f.get("leads", 0) - f.get("loom", 0)
    if slip == "coefficient_at_0" and "known_good.at" in f:
        warmer = f["known_good.at"] - f["winding_temperature"]
        return (net * (1 + 0.00427 * warmer) if warmer > 0 else net / (1 - 0.00427 * warmer)), "ohm"
    if slip == "coefficient_at_0":
        return net / (1 + 0.00427 * (f["winding_temperature"] - f["at"])), "ohm"
    if slip == "leads_kept":
        return copper(net + f["leads"], f["winding_temperature"], f["at"]), "ohm"
    if slip == "angle_forgotten":
        torque = f["torque"] * (1 if facts["torque"].endswith("N.m") else 0.45359237 * 9.80665 * 0.0254)
        return torque * f["adapter.wrench"] / (f["adapter.wrench"] + f["adapter.extension"]), "N.m"
    if level == "2":
        return (1 - f["duty"] / 100) * f["supply"], "V"
    return f["duty"] / 100 * f["supply"] / copper(f["resistance"], f["at"], f["winding_temperature"]), "A"


SLIPS = (("coefficient_at_0", "hot_winding"), ("coefficient_at_0", "known_good"), ("leads_kept", "hot_winding"),
         ("angle_forgotten", "adapter"), ("drop_forgotten", "pulsed"))


def slips(program, number):
    """Who makes the same slip earns the same, whatever the figures and the tolerance: the value's marks, and what it is called."""
    print("\nslips: %d students for each slip, level and tolerance, figures to hundredths" % number)
    for slip, kind in SLIPS:
        for level in ("2", "3"):
            sheets = [{"role": "student", "name": "student %d" % i, "questions": [{"kind": kind, "level": level}]} for i in range(number)]
            told = answers(program, "worksheet", sheets)
            seen = collections.Counter()
            for tolerance in ("0.5 %", "1 %", "2 %", "5 %", "10 %"):
                requests = []
                for sheet, result in zip(sheets, told):
                    value, unit = slip_value(slip, level, {f["name"]: f["given"] for f in result["questions"][0]["facts"]})
                    written = "%.2f" % value if value >= 2 else "%.4g" % value
                    if kind == "known_good":  # two slips may lie within a hundredth there, and the nearest is named
                        written = "%.7g" % value
                    requests.append(sheet | {"tolerance": tolerance, "decisions": [{"value": written, "unit": unit}]})
                for result in answers(program, "worksheet", requests):
                    decision = result["questions"][0]["decision"]
                    seen[decision["slip"], decision["parts"][0]["earned"], decision["marks"]] += 1
            goal("slip %s of %s, level %s: all the same (%s)" % (slip, kind, level, dict(seen)), list(seen) == [(slip, 10, 20)])


# What can be copied off a sheet as it stands there: kind, level, the fact, and what that slip is called.
COPIES = (
    ("hot_winding", "1", "reading", "not_corrected"), ("rows", "1", "reading", "not_corrected"),
    ("known_good", "1", "reading", "not_corrected"), ("adapter", "1", "torque", "adapter_forgotten"),
    ("adapter", "2", "torque", "adapter_forgotten"), ("adapter", "3", "torque", "adapter_forgotten"),
    ("pulsed", "1", "supply", "supply_itself"), ("pulsed", "2", "supply", "as_if_never_on"),
)


def worked(program, kind, level, number, figure):
    """What students earn whose choices are all right, as a neighbour's may be, with the figure that figure(facts) returns."""
    sheets = [{"role": "student", "name": "student %d" % i, "questions": [{"kind": kind, "level": level}]} for i in range(number)]
    told = answers(program, "worksheet", [sheet | {"decisions": [{}]} for sheet in sheets])
    requests = []
    for sheet, result in zip(sheets, told):
        question = result["questions"][0]
        value, unit = figure({f["name"]: f["given"] for f in question["facts"]})
        solution = {field: question["solution"][field] for field in ("condition", "decision", "reason")}
        requests.append(sheet | {"decisions": [solution | {"value": value, "unit": unit}]})
    return collections.Counter((d["slip"], d["parts"][1]["right"], d["marks"])
                               for d in (r["questions"][0]["decision"] for r in answers(program, "worksheet", requests)))


def copies(program, number):
    """Who copies a figure off the sheet and a neighbour's choices has a guess's marks; who leaves it in the manual's unit is told so."""
    print("\ncopied figures: %d students for each kind and level, with all that can be chosen right" % number)
    for kind, level, fact, slip in COPIES:
        seen = worked(program, kind, level, number, lambda facts: facts[fact].split())
        goal("%s, level %s: %s as it stands there (%s)" % (kind, level, fact, dict(seen)),
             {(of, marks) for of, _, marks in seen} == {(slip, 16.7)})
    inch = 0.45359237 * 9.80665 * 0.0254

    def unconverted(facts):
        return right_value("adapter", "3", facts)[0] / inch, "lbf.in"
    seen = worked(program, "adapter", "3", number, unconverted)
    goal("adapter, level 3: in the manual's unit (%s)" % dict(seen), list(seen) == [("not_converted", False, 90)])


def codes(program, number):
    """Under each stored code, and none, more than one repair is left."""
    print("\ncodes: %d students for each side and level" % number)
    for kind in ("fault_high", "fault_low"):
        for level in ("1", "2", "3"):
            requests = [{"role": "student", "name": "code %d" % i, "questions": [{"kind": kind, "level": level}],
                         "decisions": [{"repair": "nothing"}]} for i in range(number)]
            under = collections.defaultdict(collections.Counter)
            for result in answers(program, "worksheet", requests):
                under[result["questions"][0]["code_kind"]][result["questions"][0]["solution"]["repair"]] += 1
            for code, repairs in sorted(under.items()):
                share = max(repairs.values()) / sum(repairs.values())
                goal("%s, level %s, code %s: %s" % (kind, level, code or "none", dict(repairs)), len(repairs) > 1 and share <= 0.7)


def figures(program, number):
    """Of sheets that ask for a figure: words without a figure, the figure alone, all of it right as worked out here."""
    rng = random.Random(11)
    sheets = [{"role": "student", "name": "student %d" % i, "series": str(i // 15),
               "questions": [{"kind": KINDS[i % 5], "level": str(i // 5 % 3 + 1)}]} for i in range(number)]
    choices = {field: described(program)[field]["enum"] for field in ("condition", "decision", "reason")}
    told = answers(program, "worksheet", [s | {"decisions": [{"condition": "at_20"}]} for s in sheets])
    own = collections.defaultdict(collections.Counter)  # the words that were right on sheets of a kind
    for sheet, result in zip(sheets, told):
        for field in choices:
            own[sheet["questions"][0]["kind"], field][result["questions"][0]["solution"][field]] += 1

    def decide(sheet, result, way):
        kind, level = sheet["questions"][0]["kind"], sheet["questions"][0]["level"]
        words = {field: own[kind, field].most_common(1)[0][0] for field in choices}
        if way == "guess":
            words = {field: rng.choice(sorted(own[kind, field])) for field in choices}
        if way in ("figure alone", "all of it"):
            facts = {fact["name"]: fact["given"] for fact in result["questions"][0]["facts"]}
            value, unit = right_value(kind, level, facts)
            words = {} if way == "figure alone" else {field: result["questions"][0]["solution"][field] for field in choices}
            words |= {"value": float("%.4g" % value), "unit": unit}
        return sheet | {"decisions": [words]}

    print("\nfigures: %d sheets of five kinds, three levels" % number)
    for way, least, most in (("guess", 0, 20), ("commonest words", 0, 30), ("figure alone", 50, 50), ("all of it", 100, 100)):
        marks = [r["questions"][0]["decision"]["marks"]
                 for r in answers(program, "worksheet", [decide(s, t, way) for s, t in zip(sheets, told)])]
        mean = sum(marks) / number
        print("%-24s %6.1f   from %.1f to %.1f" % (way, mean, min(marks), max(marks)))
        goal("figures, %s: mean %.1f, wanted %d to %d" % (way, mean, least, most), least <= mean <= most)


def described(program):
    run = subprocess.run([program, "describe", "worksheet"], capture_output=True, text=True, check=True)
    return json.loads(run.stdout)["request"]["properties"]


def main():
    if len(sys.argv) not in (2, 3):
        sys.exit(__doc__)
    number = int(sys.argv[2]) if len(sys.argv) == 3 else 400
    hidden(sys.argv[1], number)
    figures(sys.argv[1], number)
    slips(sys.argv[1], max(1, number // 10))
    copies(sys.argv[1], max(1, number // 10))
    codes(sys.argv[1], number)
    print()
    sys.exit(0 if print_goals() else 1)


if __name__ == "__main__":
    main()
