"""Other ways of choosing the next test, for comparison: cheapest first, the best fixed order, bits per minute, two steps ahead.

All use the contract's model (cases.py), with the posterior on one set of weighted hypotheses for a circuit: fine enough for
a table of costs, and quick enough for a search. Readings taken share their meter's error, but for 0.0 ohm, where contacts outweigh
it; what a reading not yet taken will share with them is not foreseen. Used by evaluate.py.
"""
import numpy as np

from scipy.special import ndtr

from cases import FAULTS, MINUTES, OVER, PARAMETRIC, REPAIR_OF, REPAIRS, UNIT, WEIGHTS
from cases import IMPOSSIBLE, by_unit, errors, likelihood, parameter, parameters, parts, predict, spread, step

WRONG = 300.0
THRESHOLDS = (0.005, 0.01, 0.02, 0.03, 0.045, 0.06, 0.08, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
SHARES = (1.0, 0.7, 0.5, 0.35, 0.25, 0.15)  # of the cost of stopping: a test that costs more is not made


def hypotheses(circuit, apart=1.5, windings=3):
    """Fault, parameter, winding and weight: neighbours about `apart` standard deviations from each other with every test made."""
    low, high = circuit.band()
    tests = circuit.tests()
    out = []
    for f in range(len(FAULTS)):
        if not PARAMETRIC[f]:
            w = (np.arange(12) + 0.5) / 12
            out.append((np.full(12, f), np.zeros(12), w, np.full(12, WEIGHTS[f] / 12)))
            continue
        u = np.linspace(0, 1, 4001)
        p = parts(circuit, np.full(len(u), f), parameter(f, u), np.full(len(u), (low + high) / 2))
        means = predict(circuit, p, tests)
        far = np.zeros(len(u) - 1)
        for test, m in zip(tests, means):
            if m[0] <= OVER:
                far += np.diff(m) ** 2 / spread(UNIT[test], m[1:]) ** 2
        length = np.concatenate([[0], np.cumsum(np.sqrt(far) / apart + np.diff(u) * 24)])
        count = int(np.ceil(length[-1]))
        edge = np.interp(np.linspace(0, length[-1], count + 1), length, u)
        i, j = np.meshgrid(np.arange(windings), np.arange(count))
        share = edge[j] + np.diff(edge)[j] * (i + 0.5) / windings
        w = (i + (j * 0.6180339887) % 1) / windings
        out.append((np.full(i.size, f), share.ravel(), w.ravel(), (WEIGHTS[f] * np.diff(edge)[j] / windings).ravel()))
    fault, share, w, weight = (np.concatenate(column) for column in zip(*out))
    return fault, parameters(fault, share), low + w * (high - low), weight / weight.sum()


def outcome_bins(unit, mean, sd, weight, fault, count):
    """Probability of each of `count` ranges of reading, for every hypothesis; the last is OL.

    The readings are cut finely first, half by frequency and half by distance; then neighbours that say nearly the same of
    the fault are joined. A third of the edges is kept by distance, for what a reading says beside an earlier one.
    """
    finite = mean <= OVER
    m, s, w = mean[finite], sd[finite], weight[finite]
    probability = np.zeros((len(mean), count), dtype=np.float32)
    probability[~finite, count - 1] = 1
    if not len(m):
        return probability
    marks = (m[:, None] + s[:, None] * np.array([-1.5, -0.5, 0.5, 1.5])).ravel()
    order = np.argsort(marks)
    share = np.cumsum(np.repeat(w, 4)[order])
    scale = s.min()
    left, right = np.arcsinh((m - 2 * s).min() / scale), np.arcsinh((m + 2 * s).max() / scale)

    def apart(number):
        return scale * np.sinh(np.linspace(left, right, number + 2)[1:-1])

    fine = np.sort(np.concatenate([np.interp(np.linspace(0, share[-1], 152)[1:-1], share, marks[order]), apart(150)]))
    keep = (count - 2) // 3
    edges = np.sort(np.concatenate([telling(m, s, w, fault[finite], fine, count - 2 - keep), apart(keep)]))
    probability[finite, :count - 1] = between(m, s, edges)
    return probability


def between(mean, sd, edges):
    below = ndtr((edges[None, :] - mean[:, None]) / sd[:, None])
    return np.diff(np.concatenate([np.zeros((len(mean), 1)), below, np.ones((len(mean), 1))], axis=1), axis=1)


def telling(mean, sd, weight, fault, edges, left):
    """The `left` edges that keep most of what a reading says of the fault."""
    likely = between(mean, sd, edges) * weight[:, None]
    joint = np.stack([likely[fault == f].sum(axis=0) for f in np.unique(fault)], axis=1)  # ranges by faults

    def bits(p):
        return (p * np.log2(np.maximum(p, 1e-300) / np.maximum(p.sum(axis=1, keepdims=True), 1e-300))).sum(axis=1)
    while len(edges) > left:
        lost = bits(joint[:-1]) + bits(joint[1:]) - bits(joint[:-1] + joint[1:])
        k = lost.argmin()
        joint[k] += joint[k + 1]
        joint, edges = np.delete(joint, k + 1, axis=0), np.delete(edges, k)
    return edges


class Field:
    """The hypotheses of one circuit, and what each test would show under them."""

    def __init__(self, circuit):
        self.circuit, self.tests = circuit, circuit.tests()
        fault, value, winding, weight = hypotheses(circuit)
        order = np.argsort(REPAIR_OF[fault] * 100 + fault, kind="stable")
        self.fault, value, winding, self.weight = fault[order], value[order], winding[order], weight[order]
        self.repair = REPAIR_OF[self.fault]
        self.means = predict(circuit, parts(circuit, self.fault, value, winding), self.tests)
        self.sd = [spread(UNIT[test], m) for test, m in zip(self.tests, self.means)]
        self.finite = np.where(self.means > OVER, 0.0, self.means).astype(np.float32)
        own, meter = (np.array(part) for part in zip(*(errors(UNIT[test], m) for test, m in zip(self.tests, self.means))))
        steps = np.array([step(m) if UNIT[test] == "ohm" else np.full(len(m), 0.01) for test, m in zip(self.tests, self.means)])
        self.own = own ** 2 + steps ** 2 / 12  # variance of a reading's own error
        meter = np.where(self.means > OVER, 0.0, meter)
        self.pull, self.share = (meter / self.own).astype(np.float32), (meter ** 2 / self.own).astype(np.float32)
        self.by_repair = (self.repair[:, None] == np.arange(len(REPAIRS))).astype(np.float32)
        self.fault_blocks = [np.flatnonzero(self.fault == f)[[0, -1]] + [0, 1] for f in range(len(FAULTS))]
        self.bins = {count: np.stack([outcome_bins(UNIT[test], m, s, self.weight, self.fault, count)
                                      for test, m, s in zip(self.tests, self.means, self.sd)], axis=1) for count in (32, 48)}
        self.minutes = np.array([MINUTES[test] for test in self.tests])


class Bench:
    """Cases of one circuit, with the posterior of each after any set of tests (a bit mask), worked out when asked for."""

    def __init__(self, field, cases, minutes):
        self.field, self.minutes = field, minutes  # minutes: cases by tests
        self.truth = np.array([REPAIR_OF[case.fault] for case in cases])
        self.logs = []  # of each test: the readings' own errors, cases by hypotheses
        readings = np.array([[case.readings[test] for test in field.tests] for case in cases])
        self.shares = np.isfinite(readings) & ((readings != 0) | (np.array([UNIT[t] for t in field.tests]) != "ohm"))
        self.values = np.where(self.shares, readings, 0.0)
        for t, test in enumerate(field.tests):
            rows = [self.alone(t, test, reading, shares) for reading, shares in zip(readings[:, t], self.shares[:, t])]
            self.logs.append(np.array(rows, dtype=np.float32))
        self.known = {}

    def alone(self, t, test, reading, shares):
        """Log-probability of one reading where the meter's error is known (its share is added by weights), or of OL or 0.0 ohm."""
        field = self.field
        if not shares:
            return likelihood(UNIT[test], field.means[t], field.sd[t], reading)
        off = (reading - field.means[t]) ** 2 / field.own[t] + np.log(field.own[t])
        return np.where(field.means[t] > OVER, IMPOSSIBLE, -0.5 * off)

    def weights(self, mask, rows):
        """Posterior weights of the hypotheses, rows by hypotheses."""
        field = self.field
        total = np.tile(np.log(field.weight).astype(np.float32), (len(rows), 1))
        for t in range(len(self.logs)):
            if mask >> t & 1:
                total += self.logs[t][rows]
        for _, places in by_unit(field.tests):
            made = [t for t in places if mask >> t & 1]
            if made:
                # Sherman and Morrison, as in cases.together.
                pull, share = field.pull[made], field.share[made]
                here = self.shares[np.ix_(rows, made)].astype(np.float32)
                b = self.values[np.ix_(rows, made)].astype(np.float32) @ pull - here @ (pull * field.finite[made])
                c = here @ share
                total += 0.5 * (b * b / (1 + c) - np.log1p(c))
        total -= total.max(axis=1, keepdims=True)
        np.exp(total, out=total)
        total /= total.sum(axis=1, keepdims=True)
        return total

    def judge(self, masks, rows):
        """Likeliest repair and the probability that it is wrong, for each of rows after its own tests."""
        top, error = np.zeros(len(rows), dtype=int), np.zeros(len(rows))
        for mask in np.unique(masks):
            here = np.flatnonzero(masks == mask)
            if mask not in self.known:
                self.known[mask] = (np.zeros(len(self.truth), dtype=int), np.full(len(self.truth), np.nan))
            tops, errors = self.known[mask]
            new = rows[here][np.isnan(errors[rows[here]])]
            for chunk in np.array_split(new, max(1, len(new) // 250)) if len(new) else []:
                p = self.weights(int(mask), chunk) @ self.field.by_repair
                tops[chunk], errors[chunk] = p.argmax(axis=1), np.maximum(0, 1 - p.max(axis=1))
            top[here], error[here] = tops[rows[here]], errors[rows[here]]
        return top, error


class Walk:
    """A way through the tests for each case: after d tests, the minutes so far, the repair that would be done, and its error."""

    def __init__(self, bench, choose, until):
        """choose(masks, rows, step, errors) names a test for each row, or -1 for none; a walk ends there, or where the error is `until`."""
        n = len(bench.truth)
        self.bench, self.minutes, self.top, self.error, self.coming = bench, [np.zeros(n)], [], [], []
        masks, rows = np.zeros(n, dtype=int), np.arange(n)
        for d in range(len(bench.field.tests) + 1):
            top, error, coming = np.zeros(n, dtype=int), np.zeros(n), np.full(n, np.inf)
            top[rows], error[rows] = bench.judge(masks[rows], rows)
            if d:  # the walk has ended for the others: they stay where they were
                ended = np.setdiff1d(np.arange(n), rows)
                top[ended], error[ended] = self.top[-1][ended], self.error[-1][ended]
            self.top.append(top)
            self.error.append(error)
            rows = rows[error[rows] > until]
            tests = choose(masks[rows], rows, d, error[rows]) if len(rows) else np.zeros(0, dtype=int)
            rows, tests = rows[tests >= 0], tests[tests >= 0]
            coming[rows] = bench.minutes[rows, tests]
            self.coming.append(coming)
            if not len(rows):
                break
            masks[rows] |= 1 << tests
            spent = self.minutes[-1].copy()
            spent[rows] += coming[rows]
            self.minutes.append(spent)
        self.minutes, self.top, self.error, self.coming = (np.array(x) for x in (self.minutes, self.top, self.error, self.coming))

    def stops(self, threshold, share=None, most=None):
        """After how many tests each case stops."""
        halt = (self.error <= threshold) | np.isinf(self.coming)
        if share is not None:
            halt |= self.coming >= share * WRONG * self.error
        if most is not None:
            halt[most:] = True
        return halt.argmax(axis=0)

    def expected(self, threshold, share=None, most=None):
        """Mean cost, a wrong repair counted by its probability: less noisy than by the event, for a search."""
        d, i = self.stops(threshold, share, most), np.arange(len(self.bench.truth))
        return float((self.minutes[d, i] + WRONG * self.error[d, i]).mean())

    def best(self, shares=(None,), lengths=(None,)):
        """The cheapest stopping point: expected cost and the arguments of stops."""
        return min(((self.expected(t, s, m), (t, s, m)) for t in THRESHOLDS for s in shares for m in lengths), key=lambda x: x[0])

    def outcome(self, stopping):
        """Minutes, whether wrong, and number of tests, for each case."""
        d, i = self.stops(*stopping), np.arange(len(self.bench.truth))
        return {"minutes": self.minutes[d, i], "wrong": self.top[d, i] != self.bench.truth, "tests": d, "error": self.error[d, i]}


def in_order(bench, order):
    """Chooser: the tests of an order, one for all or one for each case."""
    order = np.asarray(order)

    def choose(_masks, rows, step, _errors):
        if step >= order.shape[-1]:
            return np.full(len(rows), -1)
        return np.full(len(rows), order[step]) if order.ndim == 1 else order[rows, step]
    return choose


def cheapest_first(bench):
    return in_order(bench, np.argsort(bench.minutes, axis=1, kind="stable"))


def best_order(bench, shares):
    """A fixed order by greedy construction, then swaps until none helps; with its stopping point."""
    count = len(bench.field.tests)
    until = THRESHOLDS[0]
    seen = {}

    def cost(order, lengths):
        key = tuple(order), lengths
        if key not in seen:
            seen[key] = Walk(bench, in_order(bench, order), until).best(shares, lengths)
        return seen[key]

    order = []
    while len(order) < count:
        left = [t for t in range(count) if t not in order]
        order.append(min(left, key=lambda t: cost(order + [t], (None,))[0]))
    every = tuple(range(1, count + 1))
    best, stopping = cost(order, every)
    improved = True
    while improved:
        improved = False
        for i in range(count):
            for j in range(i + 1, count):
                if i >= stopping[2]:
                    continue  # neither is ever made
                trial = list(order)
                trial[i], trial[j] = trial[j], trial[i]
                found, point = cost(trial, every)
                if found < best - 1e-9:
                    best, stopping, order, improved = found, point, trial, True
    return order, stopping


def information(field, weights):
    """Expected bits about the fault from each test: rows by tests."""
    pmf = field.bins[48]
    count = len(field.tests)
    joint = np.stack([(weights[:, a:b] @ pmf[a:b].reshape(b - a, -1)).reshape(len(weights), count, -1)
                      for a, b in field.fault_blocks])  # faults, rows, tests, outcomes

    def entropy(p, axis):
        return -(p * np.log2(np.maximum(p, 1e-30))).sum(axis=axis)
    faults = joint.sum(axis=3)[:, :, 0]
    return entropy(faults, 0)[:, None] + entropy(joint.sum(axis=0), 2) - entropy(joint, (0, 3))


def bits_per_minute(bench):
    start = information(bench.field, bench.field.weight[None, :].astype(np.float32))[0]

    def choose(masks, rows, _step, _errors):
        out = np.full(len(rows), -1)
        for mask in np.unique(masks):
            here = np.flatnonzero(masks == mask)
            for chunk in np.array_split(here, 1 + len(here) // 100):
                bits = start[None, :] if mask == 0 else information(bench.field, bench.weights(int(mask), rows[chunk]))
                made = np.array([mask >> t & 1 for t in range(len(bench.field.tests))], dtype=bool)
                rate = np.where(made[None, :] | (bits < 1e-3), -1, bits / bench.minutes[rows[chunk]])
                out[chunk] = np.where(rate.max(axis=1) > 0, rate.argmax(axis=1), -1)
        return out
    return choose


def errors_ahead(field, weight, left, steps):
    """For tests, outcomes, second tests: what stopping then would cost, weighted with how likely the outcome is."""
    pmf = field.bins[32]
    k, n = pmf.shape[2], len(left)
    one, two, two_top = [], np.zeros((n * k, n * k), dtype=np.float32), None
    for r in range(len(REPAIRS)):
        here = np.flatnonzero((field.repair == r) & (weight > 1e-6))
        likely = pmf[here][:, left].reshape(len(here), n * k)
        joint = likely * weight[here, None]
        one.append(joint.sum(axis=0).reshape(n, k))
        if steps == 1:
            continue
        both = joint.T @ likely
        two += both
        two_top = both if two_top is None else np.maximum(two_top, both)
    one = np.array(one)
    chance = one.sum(axis=0)
    after_one = WRONG * (chance - one.max(axis=0))
    if steps == 1:
        return chance, after_one, None
    after_two = WRONG * (two - two_top).reshape(n, k, n, k).sum(axis=3)
    after_two[np.arange(n), :, np.arange(n)] = np.inf  # the same test again tells nothing new
    return chance, after_one, after_two


def look_ahead(bench, steps=2):
    """Chooser: the test with the least expected cost when the one after it is thought of too; -1 where stopping is as cheap."""
    start = {}

    def choose(masks, rows, _step, errors):
        out = np.full(len(rows), -1)
        for i, (mask, row) in enumerate(zip(masks, rows)):
            left = np.array([t for t in range(len(bench.field.tests)) if not mask >> t & 1])
            now, minutes = WRONG * errors[i], bench.minutes[row]
            if not len(left) or now <= minutes[left].min():
                continue
            if mask == 0 and "whole" not in start:
                start["whole"] = errors_ahead(bench.field, bench.field.weight.astype(np.float32), left, steps)
            if mask == 0:
                chance, one, two = start["whole"]
            else:
                chance, one, two = errors_ahead(bench.field, bench.weights(int(mask), rows[i:i + 1])[0], left, steps)
            best = one
            if steps > 1 and len(left) > 1:
                best = np.minimum(one, (two + chance[:, :, None] * minutes[left][None, None, :]).min(axis=2))
            cost = minutes[left] + best.sum(axis=1)
            if cost.min() < now:
                out[i] = left[cost.argmin()]
        return out
    return choose
