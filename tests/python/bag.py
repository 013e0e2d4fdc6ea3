"""A small bag on a coarse mesh, a sheet, and what the commands say of them."""

import copy
import json
import os
import pathlib
import subprocess
import tempfile

PROGRAM = os.environ.get("TOTEBENCH", "totebench")

BAG = {
    "schema_version": 1,
    "kind": "tote",
    "name": "a bag for Python",
    "bag": {"shape": "boxed", "width": "30 cm", "height": "25 cm", "depth": "12 cm"},
    "layers": {
        "upper": [
            {"material": "cotton_duck_12oz"},
            {"material": "stabilizer_nonwoven_1mm", "join": "sewn at edges"},
        ]
    },
    "straps": {
        "style": "two handles",
        "material": "web_cotton_25",
        "width": "25 mm",
        "length": "50 cm",
        "spacing": "12 cm",
        "attachment": {"thread": "spun_polyester_tex24"},
    },
    "base": {"kind": "stitched in", "material": "hdpe_sheet", "thickness": "2 mm"},
    "contents": {"kind": "even", "mass": "15 kg"},
    "mesh": {"size": "100 mm"},
    "solve": {"load_steps": 1, "shapes": 0, "contact": False},
}

SHEET = {
    "schema_version": 1,
    "kind": "sheet",
    "name": "a sheet for Python",
    "sheet": {
        "shape": "strip",
        "length": "10 cm",
        "width": "2 cm",
        "plain": {"youngs_modulus": "2e9 Pa", "poisson_ratio": 0.3, "thickness": "0.5 mm"},
    },
    "supports": [{"where": "x0", "clamp": True}],
    "loads": [
        {"kind": "edge force", "where": "x1", "force_per_length": ["0 N/m", "0 N/m", "-5 N/m"]}
    ],
    "probes": [{"name": "tip", "point": ["10 cm", "1 cm", "0 cm"]}],
    "mesh": {"size": "1 cm"},
    "solve": {"load_steps": 3},
}


def changed(scene, **keys):
    """A copy with top-level keys replaced."""
    return {**copy.deepcopy(scene), **keys}


def command(name, *scenes, options=()):
    """What `totebench NAME SCENES --json` prints."""
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for i, scene in enumerate(scenes):
            files.append(str(pathlib.Path(folder, f"scene{i}.json")))
            pathlib.Path(files[-1]).write_text(json.dumps(scene), encoding="utf-8")
        said = subprocess.run(
            [PROGRAM, name, *files, "--json", "--quiet", "--out", folder + "/out", *options],
            capture_output=True,
            text=True,
            check=True,
        )
    return json.loads(said.stdout)


def without_times(findings):
    """Without what differs from run to run: how long it took."""
    if isinstance(findings, dict):
        return {
            key: without_times(value)
            for key, value in findings.items()
            if key not in ("seconds", "meshing_s", "stages")
        }
    if isinstance(findings, list):
        return [without_times(value) for value in findings]
    return findings
