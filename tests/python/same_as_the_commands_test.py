"""Findings are those that the commands print, digit by digit."""

import unittest

import totebench
from bag import BAG, SHEET, changed, command, without_times


class SameAsTheCommands(unittest.TestCase):
    maxDiff = 2000

    def same(self, result, expected):
        self.assertEqual(without_times(result.findings), without_times(expected))

    def test_hang_and_compare(self):
        thick = changed(
            BAG,
            name="thick",
            base={"kind": "stitched in", "material": "hdpe_sheet", "thickness": "4 mm"},
        )
        compared = totebench.compare([BAG, thick], ranges=False)
        hung = compared.bags[0]  # as hang() has it
        self.same(hung, command("hang", BAG, options=["--no-ranges"]))
        self.assertIn("bottom sag", str(hung))
        self.assertIn("Cautions", str(hung))
        sags = [bag["findings"]["bottom_sag_m"] for bag in compared.findings["bags"]]
        self.assertEqual(sags[0], hung.findings["bottom_sag_m"])
        self.assertLess(sags[1], sags[0])

    def test_a_sheet(self):
        self.same(totebench.hang(SHEET), command("hang", SHEET))

    def test_stand(self):
        stood = totebench.stand(BAG)
        self.assertEqual(stood.findings["kind"], "stand")
        self.assertIn("stands by itself", str(stood))
        height = stood.loaded.points[:, 2].max() - stood.loaded.points[:, 2].min()
        self.assertAlmostEqual(height, 0.25, delta=0.02)

    def test_choose(self):
        scene = changed(
            BAG,
            choose={
                "aim": "lightest",
                "options": [
                    {
                        "name": "base",
                        "alternatives": [
                            {"name": "2 mm", "change": {}},
                            {"name": "4 mm", "change": {"base": {"thickness": "4 mm"}}},
                        ],
                    }
                ],
                "limits": {"bottom_sag": "50 mm"},
            },
        )
        chosen = totebench.choose(scene)
        self.assertEqual(chosen.findings["status"], "chosen")
        self.assertIn("Cautions", str(chosen))
        self.assertEqual(chosen.hung.scene["base"]["thickness"], "0.002 m")

    def test_what_is_not_solved(self):
        (told,) = command("check", BAG)
        mine = totebench.check(BAG)
        self.assertEqual(mine["resolved"], told["resolved"])
        self.assertEqual(mine["summary"], told["summary"])
        self.assertTrue(mine["good"])


if __name__ == "__main__":
    unittest.main()
