"""What is wrong is told all at once, with place and cure, and nothing is solved."""

import pathlib
import pickle
import tempfile
import unittest

import numpy
import totebench
from bag import BAG, SHEET, changed


class BadScenes(unittest.TestCase):
    def faults(self, scene):
        with self.assertRaises(totebench.SceneError) as caught:
            totebench.hang(scene)
        self.assertIsInstance(caught.exception, ValueError)
        return {fault["pointer"]: fault for fault in caught.exception.faults}

    def test_all_faults_with_place_and_cure(self):
        scene = changed(BAG, bag={**BAG["bag"], "hight": "25 cm"})
        scene["contents"]["mass"] = "ten"
        scene["layers"]["upper"][0]["material"] = "cotton_duk_12oz"
        with self.assertRaises(totebench.SceneError) as caught:
            totebench.hang(scene)
        error = caught.exception
        places = [fault["pointer"] for fault in error.faults]
        for place in ("/bag/hight", "/contents/mass", "/layers/upper/0/material"):
            self.assertIn(place, places)
            self.assertIn(place, str(error))
        hight = error.faults[places.index("/bag/hight")]
        self.assertIn("height", hight["hint"])
        self.assertEqual(hight["line"], 0)
        again = pickle.loads(pickle.dumps(error))
        self.assertEqual((str(again), again.faults), (str(error), error.faults))

    def test_what_no_scene_can_hold(self):
        scene = changed(SHEET, note={1, 2}, name=None)
        scene["sheet"]["plain"]["poisson_ratio"] = float("nan")
        scene["solve"] = {"load_steps": float("inf"), 3: 4}
        scene["mesh"] = {"size": "half a letter \ud800"}
        faults = self.faults(scene)
        self.assertIn("a set has no place", faults["/note"]["message"])
        self.assertIn("nan is no number", faults["/sheet/plain/poisson_ratio"]["message"])
        self.assertIn("inf is no number", faults["/solve/load_steps"]["message"])
        self.assertIn("3 is no key", faults["/solve"]["message"])
        self.assertIn("half a letter", faults["/mesh/size"]["message"])
        self.assertIn("/name", faults)  # of the reader

    def test_wrong_types(self):
        faults = self.faults(changed(BAG, bag=[1, 2], layers="thick", straps=7))
        for place in ("/bag", "/layers", "/straps"):
            self.assertIn(place, faults)
        for wrong in (None, 3, ["a.json"], b"a.json"):
            with self.assertRaises(TypeError):
                totebench.hang(wrong)

    def test_a_scene_that_holds_itself(self):
        scene = changed(SHEET)
        scene["sheet"]["plain"] = scene
        self.assertTrue(self.faults(scene))

    def test_numbers_of_numpy(self):
        scene = changed(SHEET)
        scene["sheet"]["plain"]["poisson_ratio"] = numpy.float32(0.25)
        scene["solve"]["load_steps"] = numpy.int64(3)
        scene["supports"][0]["clamp"] = numpy.bool_(True)
        self.assertTrue(totebench.check(scene)["good"])

    def test_files(self):
        (fault,) = self.faults("no such scene.json").values()
        self.assertIn("no such scene.json", fault["file"])
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder, "cut short.json")
            file.write_text('{\n  "kind": ', encoding="utf-8")
            (fault,) = self.faults(file).values()
            self.assertEqual(fault["line"], 2)
            with self.assertRaises(totebench.SceneError):
                totebench.load(file)
            file.write_text('{ "kind": "tote", // not yet a bag\n "name": "a" }', encoding="utf-8")
            self.assertEqual(totebench.load(file), {"kind": "tote", "name": "a"})
            self.assertFalse(totebench.check(file)["good"])

    def test_a_sheet_is_no_bag(self):
        for study in (totebench.rate, totebench.carry, totebench.stand, totebench.choose):
            with self.assertRaisesRegex(ValueError, "sheet"):
                study(SHEET)

    def test_other_arguments(self):
        for call in (
            lambda: totebench.hang(SHEET, units="feet"),
            lambda: totebench.carry(BAG, cadence=10),
            lambda: totebench.carry(BAG, damping=float("nan")),
            lambda: totebench.compare([]),
            lambda: totebench.compare([BAG]),
            lambda: totebench.choose(BAG),
        ):
            with self.assertRaises(ValueError):
                call()


class NoEquilibrium(unittest.TestCase):
    def test_has_advice_and_the_last_good_state(self):
        crossing = changed(BAG, contents={"kind": "even", "mass": "20 kg"})
        crossing["straps"].update(width="38 mm", material="web_cotton_38", spacing="14 cm")
        with self.assertRaises(totebench.NoEquilibriumError) as caught:
            totebench.hang(crossing, ranges=False)
        error = caught.exception
        self.assertIn("pass through each other", str(error))
        self.assertIn("solve.contact", error.advice)
        self.assertEqual(error.result.loaded.points.shape[1], 3)


class LookingUp(unittest.TestCase):
    def test_materials(self):
        everything = totebench.materials()
        self.assertGreater(len(everything), 50)
        (duck,) = totebench.materials("cotton_duck_12oz")
        self.assertEqual(duck["properties"]["thickness"]["unit"], "m")
        self.assertTrue(duck["properties"]["thickness"]["grade"])
        self.assertGreater(len(totebench.materials("canvas")), 1)
        with self.assertRaisesRegex(ValueError, "Did you mean"):
            totebench.materials("cotton_duk_12oz")

    def test_keys_and_schemas(self):
        (width,) = totebench.explain("bag.width")
        self.assertEqual(width["key"], "bag.width")
        self.assertGreater(len(totebench.explain()), 100)
        with self.assertRaises(ValueError):
            totebench.explain("bag.hight")
        self.assertIn("properties", totebench.schema())
        self.assertIn("definitions", totebench.schema("findings"))
        with self.assertRaisesRegex(ValueError, "findings"):
            totebench.schema("nothing")


if __name__ == "__main__":
    unittest.main()
