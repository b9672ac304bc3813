"""The goals of an evaluation, as they are met or not. summary.py reads the lines."""

GOALS = []


def goal(text, met):
    GOALS.append((text, bool(met)))


def print_goals():
    """Prints the goals and returns whether all are met."""
    for text, met in GOALS:
        print("%-7s  %s" % ("met" if met else "NOT MET", text))
    return all(met for _, met in GOALS)
