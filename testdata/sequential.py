"""What the tool's own choice of tests costs, to its decision: beside other strategies where all is exact, and beside an earlier
program in a garage, where nothing is. Used by evaluate.py.
"""
import collections
import json
import multiprocessing
import time
from types import SimpleNamespace

import numpy as np

import cases
import garage
import strategies
from cases import REPAIRS
from goals import goal
from program import PROCESSES, exactly, request_of

CIRCUITS = {"high": (("high", "wire"), ("high", "case")), "low": (("low", "wire"),)}
CIRCUITS["mix"] = CIRCUITS["high"] + CIRCUITS["low"]
BASELINES = ("(a) cheapest first", "(b) best fixed order", "(c) bits per minute", "(d) two steps ahead")
COSTS = {"hour": 60, "wrong": {repair: int(strategies.WRONG) for repair in REPAIRS}}
MOST_TIMES = 1.25  # what the tool may cost, beside the earlier program


def words(vary):
    return ", varied" if vary else ""


# --- in the garage -----------------------------------------------------------------------------------------------------------

def in_garage(program, beside, count, seed, side, modes, show=0):
    """Follows both programs through the same cars, asked as a user asks: in a garage, and where what is typed happens to be exact."""
    began = time.time()
    rng = np.random.default_rng([seed, 4])
    cars = {"in a garage": [], "typed exactly": []}
    while len(cars["in a garage"]) < count:
        typed = cases.random_circuit(rng)
        if (typed.side, typed.back) == CIRCUITS[side][len(cars["in a garage"]) % len(CIRCUITS[side])]:
            cars["in a garage"].append(garage.random_car(rng, typed))
            cars["typed exactly"].append(garage.Car(rng, typed))
    for vary in modes:
        minutes = [garage.random_minutes(rng, vary) for _ in range(count)]
        for world, these in cars.items():
            doubts = ("supply typed up to 0.3 V and temperature up to 8 K off, healthy resistances from the contract's spreads"
                      if world == "in a garage" else "healthy resistances as the contract has them")
            print("sequential%s, %s: %d cars, seed %d; %s; one meter" % (words(vary), world, count, seed, doubts), flush=True)
            visits = {}
            for name, each in (("tool", program), ("before", beside)):
                if each:
                    visits[name] = [garage.Visit(car, own) for car, own in zip(these, minutes)]
                    garage.follow(each, visits[name], lambda v: request_of(v.car.typed, v.readings, minutes=v.minutes, costs=COSTS))
                    garage_line(name, visits[name])
                    tell_wrong(name, visits[name], show)
            can_be_followed("sequential%s, %s" % (words(vary), world), visits["tool"])
            if beside:
                beside_each_other(visits, "sequential%s, %s" % (words(vary), world), MOST_TIMES if world == "in a garage" else None)
    print("as a user asks took %.0f s\n" % (time.time() - began), flush=True)


def costs_of(visits):
    return np.array([v.spent + strategies.WRONG * (not v.right) for v in visits])


def beside_each_other(visits, name, most):
    """Prints what the two programs' visits to the same cars cost, as a whole and by what would be right."""
    mine, other = costs_of(visits["tool"]), costs_of(visits["before"])
    held_against(mine, other, name, most)
    ended = ~np.array([a.lost or b.lost for a, b in zip(visits["tool"], visits["before"])])
    if not ended.all():
        held_against(mine[ended], other[ended], "on the %d cars on which both came to a decision" % ended.sum(), None)
    for k, repair in enumerate(REPAIRS):
        here = np.array([cases.REPAIR_OF[v.car.fault] == k for v in visits["tool"]])
        if here.any():
            print("  where %s is right, %d cars: tool %.2f, before %.2f" % (repair, here.sum(), mine[here].mean(), other[here].mean()))


def garage_line(name, visits):
    """Prints what a program's visits came to."""
    second = collections.Counter(test for v in visits for test in v.takes if test in garage.SECOND_MINUTES)
    print("  %-8s tests %.2f, minutes %.2f, asked again %d, wrong %d of %d (no decision %d), cost %.2f"
          % (name, np.mean([sum(v.takes.values()) for v in visits]), np.mean([v.spent for v in visits]), sum(v.rechecks for v in visits),
             sum(not v.right for v in visits), len(visits), sum(v.lost for v in visits), costs_of(visits).mean()))
    if second:
        print("           of the second table: " + ", ".join("%s %d" % pair for pair in second.most_common()))
    wrong = collections.Counter("%s for %s" % (v.repair, cases.NAMES[v.car.fault]) for v in visits if not v.right)
    print("           wrong: " + (", ".join("%s %d" % pair for pair in wrong.most_common(8)) or "none"))


def can_be_followed(name, visits):
    """A goal: what is decided can be done. A reading asked for again too often counts as wrong instead."""
    astray = collections.Counter(v.repair for v in visits if v.astray)
    for text, count in astray.most_common(5):
        print("  a decision that cannot be followed, %d times: %s" % (count, text))
    goal("%s: every decision can be followed" % name, not astray)


def tell_wrong(name, visits, show):
    for v in [v for v in visits if not v.right][:show]:
        print("    %s: %s, parameter %.3g: %s; %s" % (name, cases.NAMES[v.car.fault], v.car.value, v.repair, json.dumps(
            request_of(v.car.typed, v.readings))))


def held_against(mine, other, name, most):
    """Prints the ratio of two programs' costs; a goal where there is a most that it may be."""
    ratio = mine.mean() / other.mean()
    error = (mine - ratio * other).std() / np.sqrt(len(mine)) / other.mean()
    text = "%s: the tool's cost is %.2f, before %.2f: %.3f times (standard error %.3f)" % (name, mine.mean(), other.mean(), ratio, error)
    print("  " + text)
    if most:
        goal(text + "; at most %.2f" % most, ratio <= most)


# --- where all is exact ------------------------------------------------------------------------------------------------------

def drawn_for(circuit, rng, count, vary):
    """Cases to find orders and stopping points on, and the minutes of their tests."""
    drawn = [cases.random_case(rng, circuit, False) for _ in range(count)]
    return drawn, table_of(circuit, [garage.random_minutes(rng, vary) for _ in drawn])


def table_of(circuit, minutes):
    """Minutes of cases by the chain's tests."""
    return np.array([[own[test] for test in circuit.tests()] for own in minutes])


def followed(program, cars, minutes, circuit):
    """The visits of a program that is asked for the exact world."""
    visits = [garage.Visit(car, own) for car, own in zip(cars, minutes)]
    garage.follow(program, visits, lambda v: request_of(v.car.typed, v.readings, minutes=v.minutes, costs=COSTS, **exactly(circuit)))
    return visits


def strategy_costs(job):
    """All strategies on one circuit's cases: strategy -> minutes, wrong, tests, error of each case; and a line on what was found."""
    circuit, drawn, minutes, practice, practice_minutes, vary, visits, subset = job
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
    }
    out |= {name: visits_outcome(field, made) for name, made in visits.items()}
    return out, "%s/%s%s: (a) stops at %s; (b) is %s; stops at %s; (c) stops at %s" % (
        circuit.side, circuit.back, ", varied" if vary else "", point(stop_a), ", ".join(field.tests[t] for t in order[:stop_b[2]]),
        point(stop_b), point(stop_c))


def point(stopping):
    threshold, share, most = stopping
    text = "error %g" % threshold
    if share is not None:
        text += ", or where a test costs more than %g of the cost of stopping" % share
    return text + ("" if most is None else ", %d tests at most" % most)


def visits_outcome(field, visits):
    """What a program's visits cost; its errors judged by the posterior of strategies.py. No decision counts as a wrong repair."""
    tests = field.tests
    drawn = [SimpleNamespace(fault=v.car.fault, readings={t: v.readings.get(t, 0.0) for t in tests}) for v in visits]
    bench = strategies.Bench(field, drawn, None)
    masks = np.array([sum(1 << k for k, test in enumerate(tests) if test in v.readings) for v in visits])
    repairs = np.array([REPAIRS.index(v.repair) if v.repair in REPAIRS else -1 for v in visits])
    error = np.ones(len(masks))
    for mask in np.unique(masks):
        for rows in np.array_split(np.flatnonzero(masks == mask), 1 + (masks == mask).sum() // 250):
            p = bench.weights(int(mask), rows) @ field.by_repair
            error[rows] = np.where(repairs[rows] < 0, 1, 1 - p[np.arange(len(rows)), repairs[rows]])
    return {"minutes": np.array([v.spent for v in visits]), "wrong": repairs != bench.truth,
            "tests": np.array([sum(v.takes.values()) for v in visits]), "error": error}


def exact(program, beside, count, seed, side="mix", modes=(False,), training=1000, subset=None):
    """Follows the tool and the other strategies through the same cases of the model in which nothing is in doubt."""
    began = time.time()
    rng = np.random.default_rng([seed, 2])
    circuits = [cases.Circuit(s, back, 13.8, (5.0, 5.6), 20.0) for s, back in CIRCUITS[side]]
    each = -(-count // len(circuits))
    subset = min(each, -(-subset // len(circuits)) if subset else each)
    jobs = []
    for circuit in circuits:
        cars = [garage.Car(rng, circuit) for _ in range(each)]
        drawn = [SimpleNamespace(fault=car.fault, readings={t: car.reading(t) for t in circuit.tests()}) for car in cars]
        for vary in modes:
            minutes = [garage.random_minutes(rng, vary) for _ in cars]
            practice, practice_minutes = drawn_for(circuit, rng, training, vary)
            visits = {name: followed(one, cars, minutes, circuit) for name, one in (("tool", program), ("before", beside)) if one}
            jobs.append((circuit, drawn, table_of(circuit, minutes), practice, practice_minutes, vary, visits, subset))
    print("sequential, all exact: %d cases, %d each of %s; seed %d; stopping points and orders found on %d others of each"
          % (each * len(circuits), each, ", ".join("%s/%s" % pair for pair in CIRCUITS[side]), seed, training), flush=True)
    with multiprocessing.Pool(PROCESSES) as pool:
        done = pool.map(strategy_costs, jobs, chunksize=1)
    for vary in modes:
        mine = [(job[0], out) for job, (out, _) in zip(jobs, done) if job[5] == vary]
        summary({name: [out[name] for _, out in mine] for name in mine[0][1]}, subset, vary)
        can_be_followed("sequential%s, all exact" % words(vary), [v for job in jobs if job[5] == vary for v in job[6]["tool"]])
        for circuit, out in mine:
            print("  %s/%s, expected cost: %s" % (circuit.side, circuit.back, ", ".join(
                "%s %.2f" % (name, expected(costs).mean()) for name, costs in out.items())))
    for _, note in done:
        print("  " + note)
    print("where all is exact took %.0f s\n" % (time.time() - began), flush=True)


def realised(outcome):
    return outcome["minutes"] + strategies.WRONG * outcome["wrong"]


def expected(outcome):
    """The same with a wrong repair counted by its probability: the same mean, with less noise. The goals are judged by it."""
    return outcome["minutes"] + strategies.WRONG * outcome["error"]


def summary(joined, subset, vary):
    print("minutes %s:" % ("varied by up to a factor of four" if vary else "as the contract has them"))
    print("  %-34s %8s %8s %8s %8s %8s %8s" % ("", "cases", "tests", "minutes", "wrong", "cost", "expected"))

    def line(name, parts):
        whole = {key: np.concatenate([part[key] for part in parts]) for key in parts[0]}
        print("  %-34s %8d %8.2f %8.2f %8d %8.2f %8.2f" % (name, len(whole["tests"]), whole["tests"].mean(), whole["minutes"].mean(),
                                                        whole["wrong"].sum(), realised(whole).mean(), expected(whole).mean()))
        return whole
    tool = line("tool", joined["tool"])
    if "before" in joined:
        before = line("before", joined["before"])
    base = {name: line(name, joined[name]) for name in BASELINES[:3]}
    line("one step ahead", joined["one step ahead"])
    same = line("tool, on the cases of (d)", [{key: part[key][:subset] for key in part} for part in joined["tool"]])
    ahead = line(BASELINES[3], joined[BASELINES[3]])
    if "before" in joined:
        held_against(expected(tool), expected(before), "sequential%s, all exact" % words(vary), MOST_TIMES)
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
            goal("sequential%s, all exact: %s; at most %.2f" % (words(vary), text, limit), ratio <= limit)
