#!/usr/bin/env python3
"""Runs all evaluations, one after another, and sums up their goals.

    summary.py PROGRAM BEFORE

BEFORE is an earlier program that the circuit question's cost is held against. Exit status 0: every evaluation ran and met its goals.
"""
import pathlib
import subprocess
import sys
import time

HERE = pathlib.Path(__file__).parent


def run(name, arguments):
    """Prints what an evaluation prints; returns its goals' lines, its exit status and how long it took."""
    began, goals = time.time(), []
    print(f"--- {name} {' '.join(arguments)}", flush=True)
    command = [sys.executable, "-B", str(HERE / name)] if name.endswith(".py") else ["node", str(HERE.parent / "site" / "test" / name)]
    with subprocess.Popen([*command, *arguments], stdout=subprocess.PIPE, text=True) as running:
        for line in running.stdout:
            print(line, end="", flush=True)
            if line.startswith(("met ", "NOT MET ")):
                goals.append(line.rstrip())
    return goals, running.returncode, time.time() - began


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    program, before = sys.argv[1:]
    runs = [("evaluate.py", [program, "all", "--beside", before]), ("previews.py", [program]), ("troubles.py", [program]),
            ("drive.py", [program]), ("torque.py", [program]), ("classes.py", [program]), ("agree.mjs", [])]
    done = [(name, *run(name, arguments)) for name, arguments in runs]
    print("\n--- summary")
    for name, goals, status, seconds in done:
        missed = [line for line in goals if line.startswith("NOT MET")]
        word = "holds" if status == 0 else "GOALS MISSED" if missed else f"FAILED, exit status {status}"
        met = f", {len(goals) - len(missed)} of {len(goals)} goals met" if goals else ""
        print(f"{name:14} {seconds:5.0f} s  {word}{met}")
        for line in missed:
            print(f"               {line}")
    sys.exit(0 if all(status == 0 for _, _, status, _ in done) else 1)


if __name__ == "__main__":
    main()
