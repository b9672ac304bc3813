#!/usr/bin/env python3
"""Compares the tool `circuit` with an exact evaluation of the contract's model that uses nothing of the tool's code.

  evaluate.py PROGRAM posterior  [--cases N] [--seed S] [--show K]     hit rates, log-loss and reliability, and the exact posterior's
  evaluate.py PROGRAM sequential [--cases N] [--seed S] [--side high|low|mix] [--vary]    what the tool's own choice of tests costs
  evaluate.py PROGRAM robust     [--cases N] [--seed S]                wrong nominals, wrong priors, one wrong reading
  evaluate.py PROGRAM all        [--seed S]                            the three, and the goals; exit status 0 only if all are met

PROGRAM answers `PROGRAM run circuit --ndjson`. cases.py holds the model, its cases and the exact posterior; strategies.py
other ways of choosing a test. Debian: python3-numpy, python3-scipy; use /usr/bin/python3 if another python3 comes first.
"""
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # two processes share the cores instead

import argparse
import collections
import dataclasses
import json
import multiprocessing
import subprocess
import sys
import time

try:
    import numpy as np
    import scipy.special  # noqa: F401  wanted by the modules beside this one
except ImportError as missing:
    sys.exit("evaluate.py: %s: install it: apt-get install python3-numpy python3-scipy; then /usr/bin/python3 %s" % (missing, sys.argv[0]))

sys.dont_write_bytecode = True
import cases
import strategies
from cases import FAULTS, KINDS, NAMES, OVER, REPAIR_OF, REPAIRS, TESTS, UNIT, WEIGHTS

PROCESSES = 2
FLOOR = 1e-12  # of a probability, in a log-loss
GOALS = []


# --- the program ---------------------------------------------------------------------------------------------------------

class Program:
    def __init__(self, path):
        self.path, self.refusals, self.asked, self.seconds = path, collections.Counter(), 0, 0.0

    def ask(self, requests):
        """The `result` of each request, with its `warnings`; None where it was refused, which is counted."""
        if not requests:
            return []
        began = time.time()
        lines = "".join(json.dumps(request) + "\n" for request in requests)
        run = subprocess.run([self.path, "run", "circuit", "--ndjson"], input=lines, capture_output=True, text=True)
        answers = run.stdout.splitlines()
        if len(answers) != len(requests):
            sys.exit("evaluate.py: %d requests, %d answers, exit status %d: %s"
                     % (len(requests), len(answers), run.returncode, run.stderr[:500]))
        self.asked += len(requests)
        self.seconds += time.time() - began
        out = []
        for request, line in zip(requests, answers):
            answer = json.loads(line)
            if answer.get("ok"):
                out.append(dict(answer["result"], warnings=answer.get("warnings", [])))
                continue
            for error in answer.get("errors", [{}]):
                self.refusals["%s %s: %s" % (error.get("field"), error.get("code"), error.get("message"))] += 1
            out.append(None)
        return out

    def report(self):
        print("program: %d requests in %.1f s, %.2f ms each" % (self.asked, self.seconds, 1e3 * self.seconds / max(1, self.asked)))
        print("refused: %d errors" % sum(self.refusals.values()))
        for text, count in self.refusals.most_common(10):
            print("  %5d  %s" % (count, text))


def written(test, reading):
    if np.isinf(reading):
        return "OL"
    if UNIT[test] == "ohm":
        return ("%.1f ohm" if reading < 400 else "%.0f ohm") % reading
    return "%.2f %s" % (reading, UNIT[test])


def request_of(circuit, readings, kind=-1, minutes=None, priors=None, costs=False):
    request = {
        "side": circuit.side, "return": circuit.back, "supply": "%.1f V" % circuit.supply,
        "spec": {"min": "%.1f ohm" % circuit.spec[0], "max": "%.1f ohm" % circuit.spec[1], "at": "20 degC"},
        "winding_temperature": "%.0f degC" % circuit.temperature,
        "readings": [{"test": test, "value": written(test, reading)} for test, reading in readings.items()],
    }
    if kind >= 0:
        request["code_kind"] = KINDS[kind]
    if costs:
        request["costs"] = {"hour": 60, "wrong": {repair: int(strategies.WRONG) for repair in REPAIRS}}
    if minutes is not None:
        request["minutes"] = minutes
    if priors is not None:
        request["priors"] = priors
    return request


def vector(rows, key, names):
    """Probabilities in our own order, of the tool's list of them."""
    given = {row[key]: float(row["probability"]) for row in rows}
    unknown = set(given) - set(names)
    if unknown or abs(sum(given.values()) - 1) > 1e-6:
        raise ValueError("%s: unknown %s, sum %r" % (key, sorted(unknown), sum(given.values())))
    return np.array([given.get(name, 0.0) for name in names])


def goal(text, met):
    GOALS.append((text, bool(met)))


# --- posterior -------------------------------------------------------------------------------------------------------------

def exactly(job):
    circuit, readings, kind, fineness = job
    return cases.posterior(circuit, readings, kind, fineness)


def credit(p, truth):
    """1 where the likeliest is the true one; where several tie, its share of them."""
    tied = p >= p.max() * (1 - 1e-6)
    return tied[truth] / tied.sum()


def table(name, tool, exact, truth):
    """One line of the tool's beside the exact posterior's; arrays of cases by faults or repairs."""
    hits = [np.mean([credit(p, t) for p, t in zip(side, truth)]) for side in (tool, exact)]
    losses = [np.mean([-np.log(max(FLOOR, p[t])) for p, t in zip(side, truth)]) for side in (tool, exact)]
    worst = int(sum(p[t] < 1e-6 for p, t in zip(tool, truth)))
    print("  %-22s hit rate %.4f, exact %.4f, ratio %.4f   log-loss %.4f, exact %.4f, difference %+.4f   truth under 1e-6: %d"
          % (name, hits[0], hits[1], hits[0] / hits[1], losses[0], losses[1], losses[0] - losses[1], worst))
    return hits[0] / hits[1], losses[0] - losses[1]


def reliability(name, tool, exact, truth):
    print("  %s: stated probability of the likeliest, and how often it was right" % name)
    print("    %-9s %8s %8s %8s   %8s %8s %8s" % ("", "tool: n", "stated", "right", "exact: n", "stated", "right"))
    for low, high in ((0.5, 0.6), (0.6, 0.7), (0.7, 0.8), (0.8, 0.9), (0.9, 0.95), (0.95, 1.01)):
        cells = []
        for side in (tool, exact):
            top = side.max(axis=1)
            here = (top >= low) & (top < high)
            right = [credit(p, t) for p, t in zip(side[here], truth[here])]
            cells += [here.sum(), top[here].mean() if here.any() else np.nan, np.mean(right) if here.any() else np.nan]
        print("    %3.0f-%-3.0f %% %8d %8.3f %8.3f   %8d %8.3f %8.3f" % ((100 * low, min(100, 100 * high)) + tuple(cells)))


def posterior(program, count, seed, show=0):
    began = time.time()
    rng = np.random.default_rng([seed, 1])
    drawn, jobs = [], {"every test": [], "four at random": []}
    for k in range(count):
        case = cases.random_case(rng, cases.random_circuit(rng), k % 2 == 0)
        four = rng.choice(list(case.readings), 4, replace=False)
        drawn.append(case)
        jobs["every test"].append((case.circuit, case.readings, case.kind))
        jobs["four at random"].append((case.circuit, {str(t): case.readings[t] for t in four}, case.kind))
    print("posterior: %d cases, seed %d" % (count, seed))
    with multiprocessing.Pool(PROCESSES) as pool:
        for name, given in jobs.items():
            requests = [request_of(*job) for job in given]
            answers = program.ask(requests)
            exact = np.array(pool.map(exactly, [job + (1.0,) for job in given], chunksize=8))
            finer = np.array(pool.map(exactly, [job + (2.0,) for job in given], chunksize=8))
            told = [k for k, answer in enumerate(answers) if answer is not None]
            print("%s: %d answered, %d refused" % (name, len(told), count - len(told)))
            faults = np.array([case.fault for case in drawn])
            loss = [np.mean(-np.log(np.maximum(FLOOR, p[np.arange(count), faults]))) for p in (exact, finer)]
            unsettled = "" if abs(loss[1] - loss[0]) < 0.001 else " NOT CONVERGED"
            print("  exact integration: log-loss %.6f, with cells half as wide %.6f, change %.6f%s;"
                  " no probability changes by more than %.5f"
                  % (loss[0], loss[1], loss[1] - loss[0], unsettled, abs(exact - finer).max()))
            goal("%s: the exact integration has converged (log-loss changes by less than 0.001)" % name, not unsettled)
            goal("%s: no request refused" % name, len(told) == count)
            if not told:
                continue
            tool = np.array([vector(answers[k]["faults"], "fault", NAMES) for k in told])
            tool_repairs = np.array([vector(answers[k]["repairs"], "repair", REPAIRS) for k in told])
            exact, faults = exact[told], faults[told]
            exact_repairs = np.array([cases.by_repair(p) for p in exact])
            compare(name, tool, tool_repairs, exact, exact_repairs, faults)
            apart = abs(tool - exact).max(axis=1)
            print("  largest difference of a fault's probability from the exact: median %.5f, 90 %% %.5f, 99 %% %.5f, most %.5f"
                  % tuple(np.percentile(apart, [50, 90, 99, 100])))
            print("  repairs' probabilities and the sum of their faults' differ by at most %.2g"
                  % max(abs(cases.by_repair(p) - r).max() for p, r in zip(tool, tool_repairs)))
            for k in np.argsort(-apart)[:show]:
                f = abs(tool[k] - exact[k]).argmax()
                print("    %s: tool %.4f, exact %.4f, true fault %s: %s"
                      % (NAMES[f], tool[k, f], exact[k, f], NAMES[faults[k]], json.dumps(requests[told[k]])))
    print("posterior took %.0f s\n" % (time.time() - began), flush=True)


def compare(name, tool, tool_repairs, exact, exact_repairs, faults):
    ratio, difference = table("fault", tool, exact, faults)
    goal("%s: the likeliest fault is right at least 98 %% as often as the exact one's (%.2f %%)" % (name, 100 * ratio), ratio >= 0.98)
    goal("%s: log-loss of the fault within 0.03 of the exact (%+.4f)" % (name, difference), abs(difference) <= 0.03)
    ratio, difference = table("repair", tool_repairs, exact_repairs, REPAIR_OF[faults])
    goal("%s: the likeliest repair is right at least 98 %% as often as the exact one's (%.2f %%)" % (name, 100 * ratio), ratio >= 0.98)
    goal("%s: log-loss of the repair within 0.03 of the exact (%+.4f)" % (name, difference), abs(difference) <= 0.03)
    reliability("fault", tool, exact, faults)
    reliability("repair", tool_repairs, exact_repairs, REPAIR_OF[faults])


# --- sequential ------------------------------------------------------------------------------------------------------------

CIRCUITS = {"high": (("high", "wire"), ("high", "case")), "low": (("low", "wire"),)}
CIRCUITS["mix"] = CIRCUITS["high"] + CIRCUITS["low"]
BASELINES = ("(a) cheapest first", "(b) best fixed order", "(c) bits per minute", "(d) two steps ahead")


def varied(rng, count, tests):
    """Minutes of cases by tests, each off by up to a factor of four."""
    return np.round(np.array([cases.MINUTES[t] for t in tests]) * np.exp(rng.uniform(-np.log(4), np.log(4), (count, len(tests)))), 2)


def drawn_for(circuit, rng, count):
    drawn = [cases.random_case(rng, circuit, False) for _ in range(count)]
    plain = np.tile([cases.MINUTES[t] for t in circuit.tests()], (count, 1))
    return drawn, {False: plain, True: varied(rng, count, circuit.tests())}


def follow(program, circuit, drawn, minutes, vary):
    """Lets the tool decide until it would repair. For each case: the tests that it made (bits), its repair or -1, and what failed."""
    tests, count = circuit.tests(), len(drawn)
    masks, repairs, trouble = np.zeros(count, dtype=int), np.full(count, -1), collections.Counter()
    running = list(range(count))
    while running:
        requests = []
        for k in running:
            readings = {t: drawn[k].readings[t] for i, t in enumerate(tests) if masks[k] >> i & 1}
            own = dict(zip(tests, map(float, minutes[k]))) if vary else None
            requests.append(request_of(circuit, readings, minutes=own, costs=True))
        still = []
        for k, answer in zip(running, program.ask(requests)):
            decision = answer["decision"] if answer else {"do": "refused"}
            if decision["do"] == "repair":
                repairs[k] = REPAIRS.index(decision["repair"])
            elif decision["do"] == "test" and decision["test"] in tests and not masks[k] >> tests.index(decision["test"]) & 1:
                masks[k] |= 1 << tests.index(decision["test"])
                still.append(k)
            else:
                trouble[json.dumps(decision)] += 1
        running = still
    return masks, repairs, trouble


def strategy_costs(job):
    """All strategies on one circuit's cases: strategy -> minutes, wrong, tests, error of each case; and a line on what was found."""
    circuit, drawn, minutes, practice, practice_minutes, vary, tool, subset = job
    field = strategies.Field(circuit)
    bench, trained = strategies.Bench(field, drawn, minutes), strategies.Bench(field, practice, practice_minutes)
    some = strategies.Bench(field, drawn[:subset], minutes[:subset])
    until, lengths = strategies.THRESHOLDS[0], tuple(range(1, len(field.tests) + 1))

    def stop(chooser):
        return strategies.Walk(trained, chooser, until).best((None,), lengths)[1]

    def outcome(on, chooser, stopping, until=until):
        return strategies.Walk(on, chooser, until).outcome(stopping)
    stop_a, stop_c = stop(strategies.cheapest_first(trained)), stop(strategies.bits_per_minute(trained))
    order, stop_b = strategies.best_order(trained, strategies.SHARES if vary else (None,))
    out = {
        BASELINES[0]: outcome(bench, strategies.cheapest_first(bench), stop_a),
        BASELINES[1]: outcome(bench, strategies.in_order(bench, order), stop_b),
        BASELINES[2]: outcome(bench, strategies.bits_per_minute(bench), stop_c),
        BASELINES[3]: outcome(some, strategies.look_ahead(some), (0.0, None, None), 0.0),
        "one step ahead": outcome(bench, strategies.look_ahead(bench, 1), (0.0, None, None), 0.0),
        "tool": tool_outcome(bench, *tool),
    }
    return out, "%s/%s%s: (a) stops at %s; (b) is %s; stops at %s; (c) stops at %s" % (
        circuit.side, circuit.back, ", varied" if vary else "", point(stop_a), ", ".join(field.tests[t] for t in order[:stop_b[2]]),
        point(stop_b), point(stop_c))


def point(stopping):
    threshold, share, most = stopping
    text = "error %g" % threshold
    if share is not None:
        text += ", or where a test costs more than %g of the cost of stopping" % share
    return text + ("" if most is None else ", %d tests at most" % most)


def tool_outcome(bench, masks, repairs):
    """What the tool's runs cost; its errors judged by the posterior of strategies.py. No repair counts as a wrong one."""
    made = (masks[:, None] >> np.arange(len(bench.field.tests)) & 1).astype(bool)
    error = np.ones(len(masks))
    for mask in np.unique(masks):
        for rows in np.array_split(np.flatnonzero(masks == mask), 1 + (masks == mask).sum() // 250):
            p = bench.weights(int(mask), rows) @ bench.field.by_repair
            error[rows] = np.where(repairs[rows] < 0, 1, 1 - p[np.arange(len(rows)), repairs[rows]])
    return {"minutes": (made * bench.minutes).sum(axis=1), "wrong": repairs != bench.truth, "tests": made.sum(axis=1), "error": error}


def sequential(program, count, seed, side="mix", modes=(False,), training=1000, subset=None):
    began = time.time()
    rng = np.random.default_rng([seed, 2])
    circuits = [cases.Circuit(s, back, 13.8, (5.0, 5.6), 20.0) for s, back in CIRCUITS[side]]
    each = -(-count // len(circuits))
    subset = min(each, -(-subset // len(circuits)) if subset else each)
    jobs, trouble = [], {vary: collections.Counter() for vary in modes}
    for circuit in circuits:
        drawn, minutes = drawn_for(circuit, rng, each)
        practice, practice_minutes = drawn_for(circuit, rng, training)
        for vary in modes:
            masks, repairs, wrong = follow(program, circuit, drawn, minutes[vary], vary)
            trouble[vary] += wrong
            jobs.append((circuit, drawn, minutes[vary], practice, practice_minutes[vary], vary, (masks, repairs), subset))
    print("sequential: %d cases, %d each of %s; seed %d; stopping points and orders found on %d others of each"
          % (each * len(circuits), each, ", ".join("%s/%s" % pair for pair in CIRCUITS[side]), seed, training), flush=True)
    with multiprocessing.Pool(PROCESSES) as pool:
        done = pool.map(strategy_costs, jobs, chunksize=1)
    for vary in modes:
        mine = [(job[0], out) for job, (out, _) in zip(jobs, done) if job[5] == vary]
        summary({name: [out[name] for _, out in mine] for name in mine[0][1]}, subset, vary, trouble[vary])
        for circuit, out in mine:
            print("  %s/%s, expected cost: %s" % (circuit.side, circuit.back, ", ".join(
                "%s %.2f" % (name, expected(costs).mean()) for name, costs in out.items())))
    for _, note in done:
        print("  " + note)
    print("sequential took %.0f s\n" % (time.time() - began), flush=True)


def realised(outcome):
    return outcome["minutes"] + strategies.WRONG * outcome["wrong"]


def expected(outcome):
    """The same with a wrong repair counted by its probability: the same mean, with less noise. The goals are judged by it."""
    return outcome["minutes"] + strategies.WRONG * outcome["error"]


def summary(joined, subset, vary, trouble):
    print("minutes %s:" % ("varied by up to a factor of four" if vary else "as the contract has them"))
    print("  %-34s %8s %8s %8s %8s %8s %8s" % ("", "cases", "tests", "minutes", "wrong", "cost", "expected"))

    def line(name, parts):
        whole = {key: np.concatenate([part[key] for part in parts]) for key in parts[0]}
        print("  %-34s %8d %8.2f %8.2f %8d %8.2f %8.2f" % (name, len(whole["tests"]), whole["tests"].mean(), whole["minutes"].mean(),
                                                        whole["wrong"].sum(), realised(whole).mean(), expected(whole).mean()))
        return whole
    tool = line("tool", joined["tool"])
    base = {name: line(name, joined[name]) for name in BASELINES[:3]}
    line("one step ahead", joined["one step ahead"])
    same = line("tool, on the cases of (d)", [{key: part[key][:subset] for key in part} for part in joined["tool"]])
    ahead = line(BASELINES[3], joined[BASELINES[3]])
    for text, count in trouble.most_common(5):
        print("  no decision that can be followed, %d times: %s" % (count, text))
    goal("sequential%s: every decision can be followed" % (", varied" if vary else ""), not trouble)
    limits = {(BASELINES[0], False): 0.65, (BASELINES[1], False): 1.0, (BASELINES[1], True): 0.75,
              (BASELINES[3], False): 1.03, (BASELINES[3], True): 1.03}
    for name in (BASELINES[0], BASELINES[1], BASELINES[2], BASELINES[3]):
        mine, other = (same, ahead) if name == BASELINES[3] else (tool, base[name])
        ratio = expected(mine).mean() / expected(other).mean()
        paired = expected(mine) - ratio * expected(other)
        text = "tool's cost is %.3f of that of %s (standard error %.3f); by the repairs that were wrong, %.3f" % (
            ratio, name, paired.std() / np.sqrt(len(paired)) / expected(other).mean(), realised(mine).mean() / realised(other).mean())
        limit = limits.get((name, vary))
        print("  " + text)
        if limit is not None:
            goal("sequential%s: %s; at most %.2f" % (", varied" if vary else "", text, limit), ratio <= limit)


# --- robust ----------------------------------------------------------------------------------------------------------------

def off(rng, nominals):
    return cases.Nominals(**{f.name: getattr(nominals, f.name) * rng.uniform(0.7, 1.3) for f in dataclasses.fields(nominals)})


def spoilt(rng, case, test):
    """A wrong reading for a test: another fault's, or OL or 0."""
    if rng.random() < 0.5:
        return np.inf if UNIT[test] == "ohm" and rng.random() < 0.5 else 0.0
    other = case.fault
    while other == case.fault:
        other, value, winding = cases.random_fault(rng, case.circuit)
    return cases.readings_of(case.circuit, other, value, winding, rng.standard_normal(len(TESTS)))[test]


def tells(case, test, reading):
    """Whether a wrong reading is more than four standard deviations from what the true fault would show."""
    p = cases.parts(case.circuit, np.array([case.fault]), np.array([case.value]), np.array([case.winding]))
    mean = float(cases.predict(case.circuit, p, [test])[0, 0])
    if np.isinf(reading) or mean > OVER:
        return np.isinf(reading) != (mean > OVER)
    return abs(reading - mean) > 4 * float(cases.spread(UNIT[test], mean))


def robust(program, count, seed):
    """The same faults and the same six tests throughout, with the model right, or wrong in one way or in all.

    Wrong priors are given to the tool, while the faults are drawn by the contract's weights. The other way round, the errors would
    cancel over the cases, and nothing would be tested.
    """
    began = time.time()
    rng = np.random.default_rng([seed, 3])
    names = ("as the model has it", "nominals off by 30 %", "priors off by three", "one wrong reading", "all three")
    variants = {name: [] for name in names}
    faults, telling = [], []
    for k in range(count):
        circuit = cases.random_circuit(rng)
        fault, value, winding = cases.random_fault(rng, circuit)
        draws = rng.standard_normal(len(TESTS))
        kind = cases.random_kind(rng, circuit, fault, value, winding) if k % 2 == 0 else -1
        six = [str(t) for t in rng.choice(circuit.tests(), 6, replace=False)]
        other = dataclasses.replace(circuit, nominals=off(rng, circuit.nominals))
        right = cases.readings_of(circuit, fault, value, winding, draws)
        moved = cases.readings_of(other, fault, value, winding, draws)
        case = cases.Case(circuit, fault, value, winding, right, kind)
        test = str(rng.choice(six))
        wrong = {test: spoilt(rng, case, test)}
        telling.append(tells(case, test, wrong[test]))
        priors = {name: float(w) for name, w in zip(NAMES, WEIGHTS * np.exp(rng.uniform(-np.log(3), np.log(3), len(WEIGHTS))))}
        faults.append(fault)
        read = (right, moved, right, {**right, **wrong}, {**moved, **wrong})
        for name, readings, given in zip(variants, read, (None, None, priors, None, priors)):
            variants[name].append(request_of(circuit, {t: readings[t] for t in six}, kind, priors=given))
    faults, telling = np.array(faults), np.array(telling)
    print("robust: %d cases, seed %d; six tests each; %d of the wrong readings are over 4 standard deviations from the right one"
          % (count, seed, telling.sum()))
    print("  %-22s %8s %8s %8s" % ("", "answered", "fault", "repair"))
    confident = []
    for name, requests in variants.items():
        answers = program.ask(requests)
        told = np.array([k for k, answer in enumerate(answers) if answer is not None], dtype=int)
        if not len(told):
            print("  %-22s every request was refused" % name)
            continue
        by_fault = np.array([vector(answers[k]["faults"], "fault", NAMES) for k in told])
        by_repair = np.array([vector(answers[k]["repairs"], "repair", REPAIRS) for k in told])
        print("  %-22s %8d %8.4f %8.4f" % (name, len(told), np.mean([credit(p, t) for p, t in zip(by_fault, faults[told])]),
                                           np.mean([credit(p, t) for p, t in zip(by_repair, REPAIR_OF[faults[told]])])))
        surprise = np.array([float(answers[k]["surprise"]) for k in told])
        codes = [{w.get("code") for w in answers[k]["warnings"]} for k in told]
        # A reading that fits another fault is no surprise: where an answer rests on one reading alone, only that can be said.
        warned = np.array(["surprise" if "surprise" in c else "rests on one" if "rests_on" in c else "silent" for c in codes])
        sure = by_repair.max(axis=1) >= 0.95
        right = by_repair.argmax(axis=1) == REPAIR_OF[faults[told]]
        for label, here in (("confident and wrong", sure & ~right), ("confident and right", sure & right), ("not confident", ~sure)):
            for flag in ("silent", "rests on one", "surprise"):
                of = surprise[here & (warned == flag)]
                quarters = "surprise %.2f / %.2f / %.2f" % tuple(np.percentile(of, [0, 50, 100])) if len(of) else ""
                confident.append("  %-22s %-20s %-13s %6d  %s" % (name, label, flag, len(of), quarters))
    print("repair at 95 % or more (confident), by the warning beside it: none, that all rests on one reading, or `surprise`;"
          " surprise: least / middle / most")
    print("\n".join(confident))
    print("robust took %.0f s\n" % (time.time() - began), flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("part", choices=("posterior", "sequential", "robust", "all"))
    parser.add_argument("--cases", type=int, help="how many; default 1000, sequential 1002")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--side", choices=sorted(CIRCUITS), default="mix")
    parser.add_argument("--vary", action="store_true", help="minutes off by up to a factor of four from case to case")
    parser.add_argument("--training", type=int, default=1000, help="cases of each circuit on which orders and stopping points are found")
    parser.add_argument("--subset", type=int, help="how many cases for looking ahead; default all")
    parser.add_argument("--show", type=int, default=0, help="posterior: print the answers that differ most")
    given = parser.parse_args()
    program = Program(given.program)
    if given.part in ("posterior", "all"):
        posterior(program, given.cases or 1000, given.seed, given.show)
    if given.part in ("sequential", "all"):
        modes = (False, True) if given.part == "all" else (given.vary,)
        sequential(program, given.cases or 1002, given.seed, given.side, modes, given.training, given.subset)
    if given.part in ("robust", "all"):
        robust(program, given.cases or 1000, given.seed)
    program.report()
    for text, met in GOALS:
        print("%-7s  %s" % ("met" if met else "NOT MET", text))
    sys.exit(0 if all(met for _, met in GOALS) and not program.refusals else 1)


if __name__ == "__main__":
    main()
