#!/usr/bin/env python3
"""Compares the tool `circuit` with an exact evaluation of the contract's model that uses nothing of the tool's code.

  evaluate.py PROGRAM posterior  [--cases N] [--seed S] [--show K]     hit rates, log-loss and reliability, and the exact posterior's
  evaluate.py PROGRAM sequential [--cases N] [--seed S] [--side high|low|mix] [--vary] [--beside OLD]
                                                                       what the tool's own choice of tests costs
  evaluate.py PROGRAM robust     [--cases N] [--seed S]                wrong nominals, wrong priors, one wrong reading
  evaluate.py PROGRAM all        [--seed S] [--beside OLD]             the three, and the goals; exit status 0 only if all are met

PROGRAM answers `PROGRAM run circuit --ndjson`; OLD is an earlier one that it is held against. cases.py holds the model, its cases and
the exact posterior; strategies.py other ways of choosing a test; garage.py the same faults where nothing is exact; sequential.py what
the ways cost. Debian: python3-numpy, python3-scipy; use /usr/bin/python3 if another python3 comes first.
"""
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # two processes share the cores instead

import argparse
import dataclasses
import json
import multiprocessing
import sys
import time

try:
    import numpy as np
    import scipy.special  # noqa: F401  wanted by the modules beside this one
except ImportError as missing:
    sys.exit("evaluate.py: %s: install it: apt-get install python3-numpy python3-scipy; then /usr/bin/python3 %s" % (missing, sys.argv[0]))

sys.dont_write_bytecode = True
import cases
import garage
import sequential
from cases import ALL_FAULTS, ALL_REPAIR_OF, ALL_REPAIRS, NAMES, OVER, REPAIR_OF, UNIT, WEIGHTS
from goals import goal, print_goals
from program import PROCESSES, Program, exactly, request_of, vector

FLOOR = 1e-12  # of a probability, in a log-loss


# --- posterior -------------------------------------------------------------------------------------------------------------

def integrated(job):
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
    print("posterior: %d cases, seed %d; the tool is asked for the exact world: nothing in doubt, the chain's faults alone" % (count, seed))
    faults = np.array([case.fault for case in drawn])
    with multiprocessing.Pool(PROCESSES) as pool:
        for name, given in jobs.items():
            exact = np.array(pool.map(integrated, [job + (1.0,) for job in given], chunksize=8))
            finer = np.array(pool.map(integrated, [job + (2.0,) for job in given], chunksize=8))
            requests = [request_of(*job, **exactly(job[0])) for job in given]
            told, tool, tool_repairs = ask(program, name, requests)
            loss = [np.mean(-np.log(np.maximum(FLOOR, p[np.arange(count), faults]))) for p in (exact, finer)]
            unsettled = "" if abs(loss[1] - loss[0]) < 0.001 else " NOT CONVERGED"
            print("  exact integration: log-loss %.6f, with cells half as wide %.6f, change %.6f%s;"
                  " no probability changes by more than %.5f"
                  % (loss[0], loss[1], loss[1] - loss[0], unsettled, abs(exact - finer).max()))
            goal("%s: the exact integration has converged (log-loss changes by less than 0.001)" % name, not unsettled)
            goal("%s: no request refused" % name, len(told) == count)
            if not len(told):
                continue
            exact = np.pad(exact, ((0, 0), (0, len(ALL_FAULTS) - len(NAMES))))
            exact_repairs = np.array([by_repair(p) for p in exact])
            compare(name, tool, tool_repairs, exact[told], exact_repairs[told], faults[told])
            apart = abs(tool - exact[told]).max(axis=1)
            print("  largest difference of a fault's probability from the exact: median %.5f, 90 %% %.5f, 99 %% %.5f, most %.5f"
                  % tuple(np.percentile(apart, [50, 90, 99, 100])))
            print("  repairs' probabilities and the sum of their faults' differ by at most %.2g"
                  % max(abs(by_repair(p) - r).max() for p, r in zip(tool, tool_repairs)))
            coded = np.array([drawn[k].kind >= 0 for k in told])
            for words, here in (("with a code (thresholds are hard in the exact model)", coded), ("without a code", ~coded)):
                table("repair, " + words, tool_repairs[here], exact_repairs[told][here], REPAIR_OF[faults[told]][here])
            for k in np.argsort(-apart)[:show]:
                f = abs(tool[k] - exact[told[k]]).argmax()
                print("    %s: tool %.4f, exact %.4f, true fault %s: %s"
                      % (ALL_FAULTS[f], tool[k, f], exact[told[k], f], NAMES[faults[told[k]]], json.dumps(requests[told[k]])))
            by_default(program, name, drawn, given, exact, exact_repairs, faults)
    print("posterior took %.0f s\n" % (time.time() - began), flush=True)


def ask(program, name, requests):
    """Which requests were answered, and of each the probabilities of the faults and of the repairs."""
    answers = program.ask(requests)
    told = np.array([k for k, answer in enumerate(answers) if answer is not None], dtype=int)
    print("%s: %d answered, %d refused" % (name, len(told), len(requests) - len(told)))
    return (told, np.array([vector(answers[k]["faults"], "fault", ALL_FAULTS) for k in told]),
            np.array([vector(answers[k]["repairs"], "repair", ALL_REPAIRS) for k in told]))


def by_default(program, name, drawn, given, exact, exact_repairs, faults):
    """The same cases as a user asks, with every doubt and fault that the tool has; then with the second table's tests read too."""
    requests = [request_of(*job) for job in given]
    cars = [garage.Car(np.random.default_rng([7, k]), case.circuit, case=case) for k, case in enumerate(drawn)]
    also = [request_of(circuit, readings | {test: car.reading(test) for test in garage.SECOND_MINUTES}, kind)
            for car, (circuit, readings, kind) in zip(cars, given)]
    if not program.wide:
        return
    for how, these in (("as a user asks", requests), ("and the second table's tests read", also)):
        told, tool, tool_repairs = ask(program, "%s, %s (no goal)" % (name, how), these)
        if len(told):
            table("fault", tool, exact[told], faults[told])
            table("repair", tool_repairs, exact_repairs[told], REPAIR_OF[faults[told]])
            reliability("repair", tool_repairs, exact_repairs[told], REPAIR_OF[faults[told]])
        goal("%s, %s: no request refused" % (name, how), len(told) == len(these))


def by_repair(p):
    return np.bincount(ALL_REPAIR_OF, weights=p, minlength=len(ALL_REPAIRS))


def compare(name, tool, tool_repairs, exact, exact_repairs, faults):
    ratio, difference = table("fault", tool, exact, faults)
    goal("%s: the likeliest fault is right at least 98 %% as often as the exact one's (%.2f %%)" % (name, 100 * ratio), ratio >= 0.98)
    goal("%s: log-loss of the fault within 0.03 of the exact (%+.4f)" % (name, difference), abs(difference) <= 0.03)
    ratio, difference = table("repair", tool_repairs, exact_repairs, REPAIR_OF[faults])
    goal("%s: the likeliest repair is right at least 99 %% as often as the exact one's (%.2f %%)" % (name, 100 * ratio), ratio >= 0.99)
    goal("%s: log-loss of the repair within 0.03 of the exact (%+.4f)" % (name, difference), abs(difference) <= 0.03)
    reliability("fault", tool, exact, faults)
    reliability("repair", tool_repairs, exact_repairs, REPAIR_OF[faults])


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
    return cases.readings_of(case.circuit, other, value, winding, cases.draw_errors(rng))[test]


def tells(case, test, reading):
    """Whether a wrong reading is more than four standard deviations from what the true fault would show."""
    p = cases.parts(case.circuit, np.array([case.fault]), np.array([case.value]), np.array([case.winding]))
    mean = float(cases.predict(case.circuit, p, [test])[0, 0])
    if np.isinf(reading) or mean > OVER:
        return np.isinf(reading) != (mean > OVER)
    return abs(reading - mean) > 4 * float(cases.spread(UNIT[test], mean))


def robust(program, count, seed):
    """The same faults and the same six tests throughout, with the model right, or wrong in one way or in all; asked as a user asks.

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
        draws = cases.draw_errors(rng)
        kind = cases.random_kind(rng, circuit, fault, value, winding) if k % 2 == 0 else -1
        six = [str(t) for t in rng.choice(circuit.tests(), 6, replace=False)]
        other = dataclasses.replace(circuit, nominals=off(rng, circuit.nominals))
        right = cases.readings_of(circuit, fault, value, winding, draws)
        moved = cases.readings_of(other, fault, value, winding, draws)
        case = cases.Case(circuit, fault, value, winding, right, draws, kind)
        test = str(rng.choice(six))
        wrong = {test: spoilt(rng, case, test)}
        telling.append(tells(case, test, wrong[test]))
        priors = {name: float(w) for name, w in zip(NAMES, WEIGHTS * np.exp(rng.uniform(-np.log(3), np.log(3), len(WEIGHTS))))}
        faults.append(fault)
        read = (right, moved, right, {**right, **wrong}, {**moved, **wrong})
        for name, readings, given in zip(variants, read, (None, None, priors, None, priors)):
            variants[name].append(request_of(circuit, {t: readings[t] for t in six}, kind, **({"priors": given} if given else {})))
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
        by_fault = np.array([vector(answers[k]["faults"], "fault", ALL_FAULTS) for k in told])
        by_repair = np.array([vector(answers[k]["repairs"], "repair", ALL_REPAIRS) for k in told])
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
    parser.add_argument("--cases", type=int, help="how many; default 1000, sequential 1002 and 480 cars")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--beside", metavar="OLD", help="sequential: an earlier program, followed through the same cases")
    parser.add_argument("--side", choices=sorted(sequential.CIRCUITS), default="mix")
    parser.add_argument("--vary", action="store_true", help="minutes off by up to a factor of four from case to case")
    parser.add_argument("--training", type=int, default=1000, help="cases of each circuit on which orders and stopping points are found")
    parser.add_argument("--subset", type=int, help="how many cases for looking ahead; default all")
    parser.add_argument("--garage", action="store_true", help="sequential: only the garage, without the exact world")
    parser.add_argument("--show", type=int, default=0, help="posterior: print the answers that differ most; sequential: wrong visits")
    given = parser.parse_args()
    program = Program(given.program)
    beside = Program(given.beside) if given.beside else None
    if not program.wide:
        print("%s has only the chain's faults and tests: it is asked without the fields of the wider world" % program.path)
    if given.part in ("posterior", "all"):
        posterior(program, given.cases or 1000, given.seed, given.show)
    if given.part in ("sequential", "all"):
        modes = (False, True) if given.part == "all" else (given.vary,)
        sequential.in_garage(program, beside, given.cases or 480, given.seed, given.side, modes, given.show)
        if not given.garage:
            sequential.exact(program, beside, given.cases or 1002, given.seed, given.side, modes, given.training, given.subset)
    if given.part in ("robust", "all"):
        robust(program, given.cases or 1000, given.seed)
    for each in filter(None, (program, beside)):
        each.report()
        goal("%s: no request refused" % each.path, not each.refusals)
    sys.exit(0 if print_goals() else 1)


if __name__ == "__main__":
    main()
