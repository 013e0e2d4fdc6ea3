#!/usr/bin/env python3
"""Compares what two builds of totebench find on the same scenes, number by number.

Usage: compare_builds.py PROGRAM_A PROGRAM_B [--tolerance 1e-9] [--command hang] [SCENE...]

Without scenes: every example. Each command is run with --json; every number of both outputs is
compared relative to the larger of the two, every text and list as it is. Times are left out. Prints
the largest difference of each scene and all keys beyond the tolerance; exits 1 if there are any.
"""
import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "scenes" / "examples"
LEFT_OUT = {"seconds", "version", "meshing_s", "stages"}


def run(program, command, scene):
    with tempfile.TemporaryDirectory() as folder:
        words = [program, *command.split(), str(scene), "--json", "--quiet", "--out", folder]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        text = done.stdout.replace(folder, "OUT")
    try:
        found = json.loads(text)
    except json.JSONDecodeError:
        found = {"not_json": text, "said": done.stderr.replace(folder, "OUT")}
    return {"exit_code": done.returncode, "found": found}


def differences(a, b, path=""):
    """Yields (key, relative difference); infinity where the two are of different kinds."""
    number = (int, float)
    if isinstance(a, dict) and isinstance(b, dict):
        for key in sorted(set(a) | set(b)):
            if key in LEFT_OUT:
                continue
            if key not in a or key not in b:
                yield f"{path}/{key}", float("inf")
            else:
                yield from differences(a[key], b[key], f"{path}/{key}")
    elif isinstance(a, list) and isinstance(b, list):
        if len(a) != len(b):
            yield path, float("inf")
        else:
            for i, (one, other) in enumerate(zip(a, b)):
                yield from differences(one, other, f"{path}/{i}")
    elif isinstance(a, number) and isinstance(b, number) and not isinstance(a, bool):
        size = max(abs(a), abs(b))
        yield path, abs(a - b) / size if size > 0 else 0.0
    else:
        yield path, 0.0 if a == b else float("inf")


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("program", nargs=2)
    parser.add_argument("scenes", nargs="*", type=pathlib.Path)
    parser.add_argument("--tolerance", type=float, default=1e-9)
    parser.add_argument("--command", default="hang", help='with its options, such as "rate --samples 8"')
    asked = parser.parse_intermixed_args()
    apart = 0
    for scene in asked.scenes or sorted(EXAMPLES.glob("*.json")):
        found = [run(program, asked.command, scene) for program in asked.program]
        by_key = sorted(differences(*found), key=lambda pair: -pair[1])
        beyond = [pair for pair in by_key if pair[1] > asked.tolerance]
        apart += len(beyond)
        worst = by_key[0][1] if by_key else 0.0
        print(f"{scene.name}: exit {found[0]['exit_code']} and {found[1]['exit_code']}, "
              f"{len(by_key)} values, largest difference {worst:.2g}", flush=True)
        for key, difference in beyond[:20]:
            print(f"    {key}: {difference:.3g}", flush=True)
    return 1 if apart else 0


if __name__ == "__main__":
    sys.exit(main())
