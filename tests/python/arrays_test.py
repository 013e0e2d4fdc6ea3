"""Meshes and fields: views of what a result holds, read-only, which keep it alive."""

import gc
import os
import pathlib
import tempfile
import unittest

import numpy
import totebench
from bag import BAG, SHEET


def address(array):
    return array.__array_interface__["data"][0]


class Arrays(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.hung = totebench.hang(BAG, ranges=False)

    def test_are_what_the_findings_say(self):
        hung, found = self.hung, self.hung.findings
        empty, loaded = hung.empty, hung.loaded
        self.assertEqual(loaded.triangles.shape, (found["mesh"]["triangles"], 6))
        nodes = len(hung.placed)
        self.assertEqual(loaded.points.shape, (nodes, 3))
        self.assertEqual(int(loaded.triangles.max()), nodes - 1)
        self.assertEqual((empty.load_factor, loaded.load_factor), (0, 1))
        moved = loaded.node_fields["displacement_m"]
        numpy.testing.assert_allclose(moved, loaded.points - empty.points, atol=1e-15)
        numpy.testing.assert_allclose(
            empty.node_fields["displacement_m"], empty.points - hung.placed, atol=1e-15
        )
        names = loaded.labels["part_names"]
        base = loaded.triangle_fields["part"] == names.index("base")
        sag = -moved[loaded.triangles[base].ravel(), 2].min()
        self.assertGreater(sag, 0.5 * found["bottom_sag_m"])
        total = numpy.abs(hung.stitches.fields["force_size_N"]).max()
        self.assertAlmostEqual(
            total, max(seam["peak_stitch_N"] for seam in found["strap_seams"]), delta=0.5 * total
        )

    def test_flat_is_the_cut_cloth(self):
        corners = self.hung.loaded.flat[:, :3]
        cross = numpy.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        area = 0.5 * numpy.linalg.norm(cross, axis=1)
        parts = self.hung.loaded.labels["part_names"]
        front = area[self.hung.loaded.triangle_fields["part"] == parts.index("front")].sum()
        self.assertAlmostEqual(front, 0.30 * 0.25, delta=0.01)

    def test_share_memory_and_cannot_be_written(self):
        loaded = self.hung.loaded
        for array in (loaded.points, loaded.flat, loaded.triangles, self.hung.placed):
            self.assertFalse(array.flags.owndata)
            self.assertFalse(array.flags.writeable)
            with self.assertRaises(ValueError):
                array[0] = 0
        self.assertEqual(address(loaded.points), address(self.hung.loaded.points))
        self.assertEqual(address(loaded.triangles), address(self.hung.empty.triangles))
        fields = loaded.triangle_fields
        self.assertEqual(
            address(fields["thickness_m"]), address(loaded.triangle_fields["thickness_m"])
        )

    def test_outlive_the_result(self):
        hung = totebench.hang(SHEET)
        points, strain = hung.loaded.points, hung.loaded.triangle_fields["membrane_strain"]
        before = points.copy(), strain.copy()
        del hung
        gc.collect()
        totebench.hang(SHEET)
        numpy.testing.assert_array_equal(points, before[0])
        numpy.testing.assert_array_equal(strain, before[1])

    def test_steps_rise_to_the_load(self):
        hung = totebench.hang(SHEET)
        factors = [step.load_factor for step in hung.steps]
        self.assertEqual(factors, sorted(factors))
        self.assertEqual((factors[0], factors[-1]), (0, 1))
        self.assertLess(hung.loaded.points[:, 2].min(), -1e-3)


class Files(unittest.TestCase):
    def test_are_those_of_the_command_and_can_be_read(self):
        hung = totebench.hang(SHEET)
        with tempfile.TemporaryDirectory() as folder:
            try:
                names = hung.write(folder, picture=False)
            except OSError as error:
                if "nothing to look at was written" in str(error):
                    self.skipTest("built without VTK")
                raise
            self.assertIn("sheet.vtu", names)
            self.assertNotIn("sheet.png", names)
            for name in names:
                self.assertTrue(os.path.getsize(pathlib.Path(folder, name)))
            self.read_with_meshio(pathlib.Path(folder, "sheet.vtu"), hung.loaded)

    def read_with_meshio(self, file, shape):
        try:
            import meshio
        except ImportError:
            self.skipTest("meshio is not installed")
        mesh = meshio.read(file)
        numpy.testing.assert_array_equal(mesh.points, shape.points)
        numpy.testing.assert_array_equal(mesh.cells[0].data, shape.triangles)

    def test_a_folder_that_cannot_be(self):
        hung = totebench.hang(SHEET)
        with tempfile.NamedTemporaryFile() as file, self.assertRaises(OSError):
            hung.write(file.name + "/below a file")


if __name__ == "__main__":
    unittest.main()
