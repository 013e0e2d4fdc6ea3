"""A rating: the numbers of the command, never without its cautions."""

import unittest

import totebench
from bag import BAG, command, without_times


class Rating(unittest.TestCase):
    def test_is_that_of_the_command_and_has_its_cautions(self):
        rated = totebench.rate(BAG, samples=1, changes=False)
        expected = command("rate", BAG, options=["--samples", "1", "--no-changes"])
        self.assertEqual(without_times(rated.findings), without_times(expected))
        self.assertGreater(rated.findings["rated_mass_kg"], 0)
        self.assertGreaterEqual(len(rated.findings["cautions"]), 4)
        for caution in rated.findings["cautions"]:
            self.assertIn(caution, str(rated))
        self.assertEqual(rated.hung.loaded.points.shape[1], 3)

    def test_arguments_out_of_range(self):
        for wrong in ({"samples": -1}, {"factor": 0.5}, {"factor": float("nan")}):
            with self.assertRaisesRegex(ValueError, "must be a number from"):
                totebench.rate(BAG, **wrong)


if __name__ == "__main__":
    unittest.main()
