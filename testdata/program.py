"""The program that is evaluated: requests to its tool `circuit`, and its answers. Used by evaluate.py and previews.py."""
import collections
import json
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np

import cases
from cases import KINDS, UNIT

PROCESSES = 2


class Program:
    def __init__(self, path):
        self.path, self.refusals, self.asked, self.seconds = path, collections.Counter(), 0, 0.0
        described = subprocess.run([path, "describe", "circuit"], capture_output=True, text=True)
        if described.returncode:
            sys.exit("%s describe circuit: exit status %d: %s" % (path, described.returncode, described.stderr[:500]))
        self.fields = json.loads(described.stdout)["request"]["properties"]
        # A program of before the wider world has only the chain's faults and tests.
        self.wide = "voltage_unit_feed" in self.fields["minutes"]["properties"]

    def knows(self, request):
        """The request without what the program has no field for."""
        if self.wide:
            return request
        kept = {key: value for key, value in request.items() if key in self.fields}
        for key in ("minutes", "priors"):
            if key in kept:
                kept[key] = {name: value for name, value in kept[key].items() if name in self.fields[key]["properties"]}
        return kept

    def ask(self, requests):
        """The `result` of each request, with its `warnings`; None where it was refused, which is counted."""
        began = time.time()
        each = max(1, -(-len(requests) // PROCESSES))
        with ThreadPoolExecutor(PROCESSES) as pool:
            parts = list(pool.map(self.lines, [requests[i:i + each] for i in range(0, len(requests), each)]))
        self.asked += len(requests)
        self.seconds += time.time() - began
        return [self.result(line) for part in parts for line in part]

    def lines(self, requests):
        asked = "".join(json.dumps(self.knows(request)) + "\n" for request in requests)
        run = subprocess.run([self.path, "run", "circuit", "--ndjson"], input=asked, capture_output=True, text=True)
        answers = run.stdout.splitlines()
        if len(answers) != len(requests):
            sys.exit("%s: %d requests, %d answers, exit status %d: %s"
                     % (self.path, len(requests), len(answers), run.returncode, run.stderr[:500]))
        return answers

    def result(self, line):
        answer = json.loads(line)
        if answer.get("ok"):
            return dict(answer["result"], warnings=answer.get("warnings", []))
        for error in answer.get("errors", [{}]):
            self.refusals["%s %s: %s" % (error.get("field"), error.get("code"), error.get("message"))] += 1
        return None

    def report(self):
        print("%s: %d requests in %.1f s, %.2f ms each; refused: %d errors"
              % (self.path, self.asked, self.seconds, 1e3 * self.seconds / max(1, self.asked), sum(self.refusals.values())))
        for text, count in self.refusals.most_common(10):
            print("  %5d  %s" % (count, text))


def written(test, reading):
    """A reading as a user types it."""
    if isinstance(reading, str):
        return reading
    if np.isinf(reading):
        return "OL"
    if UNIT[test] == "ohm":
        return ("%.1f ohm" if reading < 400 else "%.0f ohm") % reading
    return "%.2f %s" % (reading, UNIT[test])


def request_of(circuit, readings, kind=-1, **more):
    """What a user types: the default request, with all doubts left at their defaults, and `more` fields."""
    request = {
        "side": circuit.side, "return": circuit.back, "supply": "%.1f V" % circuit.supply,
        "spec": {"min": "%.1f ohm" % circuit.spec[0], "max": "%.1f ohm" % circuit.spec[1], "at": "20 degC"},
        "winding_temperature": "%.0f degC" % circuit.temperature,
        "readings": [{"test": test, "value": written(test, reading)} for test, reading in readings.items()],
    }
    if kind >= 0:
        request["code_kind"] = KINDS[kind]
    return request | more


def exactly(circuit):
    """The fields that ask for the world of cases.py: nothing in doubt, and only the chain's faults."""
    n = cases.Nominals()
    back = n.to_feed if circuit.side == "low" else n.to_ground
    return {
        "supply_within": "0 V", "winding_temperature_within": "0 K", "driver": {"kind": "plain"}, "fault_present": "unknown",
        "nominal": {"driver": "%g ohm" % n.driver, "harness": "%g ohm" % n.harness, "inner_lead": "%g ohm" % n.inner,
                    "return_path": "%g ohm" % back},
        "priors": {fault: 0 for fault in cases.SECOND_FAULTS},
    }


def vector(rows, key, names):
    """Probabilities in our own order, of the tool's list of them."""
    given = {row[key]: float(row["probability"]) for row in rows}
    unknown = set(given) - set(names)
    if unknown or abs(sum(given.values()) - 1) > 1e-6:
        raise ValueError("%s: unknown %s, sum %r" % (key, sorted(unknown), sum(given.values())))
    return np.array([given.get(name, 0.0) for name in names])
