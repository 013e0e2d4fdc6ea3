"""The notebook for designers runs as it is checked in, without outputs. Usage: ... NOTEBOOK"""

import sys
import tempfile
import unittest

NOTEBOOK = sys.argv[1]
try:
    import ipykernel  # noqa: F401, what runs it
    import nbformat
    from nbconvert.preprocessors import ExecutePreprocessor
except ImportError as missing:
    print(f"skipped: {missing.name} is not installed")
    sys.exit(77)


class Notebook(unittest.TestCase):
    def test_runs(self):
        notebook = nbformat.read(NOTEBOOK, as_version=4)
        self.assertEqual(len(notebook.cells), 10)
        for cell in notebook.cells:
            self.assertFalse(cell.get("outputs"), "checked in with outputs")
        with tempfile.TemporaryDirectory() as folder:
            ExecutePreprocessor(timeout=240, kernel_name="python3").preprocess(
                notebook, {"metadata": {"path": folder}}
            )
        said = "".join(
            output.get("text", "")
            for cell in notebook.cells
            for output in cell.get("outputs", [])
        )
        for words in ("bottom sag", "Cautions", "base 3 mm", "strap 38 mm", "tote_loaded.vtu"):
            self.assertIn(words, said)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
