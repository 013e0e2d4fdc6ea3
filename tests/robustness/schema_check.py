#!/usr/bin/env python3
"""Holds results against their JSON Schema with a validator that is not ours (python3-jsonschema).

Usage: schema_check.py SCHEMA FILE...            prints every fault; exits 1 if there are any
       schema_check.py --rejects SCHEMA FILE     exits 1 if FILE would pass with a fault put in: a
                                                 key nobody knows, a value of another kind, or no
                                                 schema_version
"""
import copy
import json
import pathlib
import sys

import jsonschema


def loaded(path):
    return json.loads(pathlib.Path(path).read_text(encoding="utf-8"))


def places(value, path=()):
    """Every place of a file, objects and lists before what is in them."""
    yield path
    below = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in below:
        yield from places(one, (*path, key))


def with_fault(value, path):
    """A copy with a fault at a place: an unknown key in an object, an object in place of all else."""
    out = copy.deepcopy(value)
    parent, at = None, out
    for key in path:
        parent, at = at, at[key]
    if isinstance(at, dict):
        at["nobody knows this key"] = None
    else:
        parent[path[-1]] = {"nobody": "expects an object"}
    return out


def main():
    words = sys.argv[1:]
    rejects = words[0] == "--rejects"
    if rejects:
        words = words[1:]
    schema = loaded(words[0])
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    faults = 0
    for file in words[1:]:
        value = loaded(file)
        if rejects:
            passed = ["/" + "/".join(map(str, p)) for p in places(value) if validator.is_valid(with_fault(value, p))]
            value.pop("schema_version")
            passed += ["no schema_version"] if validator.is_valid(value) else []
            for place in passed:
                print(f"{words[0]}: {file} passes with a fault at {place}")
            faults += len(passed)
            continue
        for error in validator.iter_errors(value):
            print(f"{file}: /{'/'.join(map(str, error.absolute_path))}: {error.message[:300]}")
            faults += 1
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
