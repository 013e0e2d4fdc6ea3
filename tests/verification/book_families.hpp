// The chapters of the verification book.
#pragma once

namespace totebench::verification {

struct Family {
  const char* id;
  const char* title;
  const char* text;
  bool picture = true;
};

// In the order of the page.
inline constexpr Family kFamilies[] = {
    {"patch", "Patch tests", "Constant strain and constant curvature on distorted meshes."},
    {"laminates", "Laminates", "Section stiffness A, B, D of layered sheets; no mesh.", false},
    {"plates-small", "Plates, small deflection",
     "Deflection a thousandth of the thickness, through the nonlinear solver. "
     "The picture is exaggerated."},
    {"plates-orthotropic", "Orthotropic plate", "One stiff direction, simply supported."},
    {"plates-large", "Plates, large deflection", "From bending to stretching, under uniform load."},
    {"plates-long", "Long plates", "Cylindrical bending between edges that cannot come nearer."},
    {"strips", "Strips", "Bending through large angles without stretching."},
    {"heart", "Heart loop", "A strip held by both ends, which point up, under its own weight."},
    {"buckling", "Buckling", "A column beyond the Euler load leaves the straight shape by itself."},
    {"annulus", "Slit ring", "One edge of the slit clamped, the other lifted."},
    {"shells", "Curved shells", "The shell obstacle course and its nonlinear sequels."},
    {"pinched", "Pinched cylinder, mesh by mesh",
     "How deep the dent of Sze, Liu and Lo, section 3.6, is under its force (-W at A), and how "
     "far the side bulges (U at B). Beyond a tenth of the force the dent folds, and first-order "
     "elements on a coarse mesh are too stiff at a fold: solids of first order in CalculiX "
     "follow the published curve on a mesh of its size. Solids of second order, which know the "
     "same mechanics and have settled, do not; they agree with us (*Another program*). So the "
     "published curve is that of its mesh. From the last run of `tests/verification/book.sh "
     "--slow`.",
     false},
    {"films", "Films",
     "Sheets that wrinkle more finely than a mesh shows: they carry no compression."},
    {"cables", "Straps and cables", "Sheets that hang and stretch."},
    {"hammock", "Liquid-filled hammock", "The nearest exact model of a sagging bag bottom."},
    {"contents", "Loose contents",
     "Contents in a rigid box. The model's contents do not rub on the walls: it is held to "
     "Janssen's "
     "theory without friction. Rows marked *shown* put Janssen's theory with friction beside it: "
     "there the walls would take 29 to 44 % of the weight off the base. So our base is loaded too "
     "heavily, never too lightly."},
    {"friction", "Friction", "Bodies that lie on sheets and sheets that lie on bodies.", false},
    {"stitches", "Rows of stitches", "How rows share a pull between two overlapping plies."},
    {"bag", "Whole bags", "What must hold for any bag: balance on cuts, scale, symmetry."},
    {"vibrations", "Vibrations",
     "Frequencies of small vibrations. The picture is a mode, exaggerated."},
    {"motion", "Motion in time",
     "A mass on a strap, a plate on a floor, a cloth that swings; the sizes refined are time "
     "steps."},
    {"swatch", "Tests of a cloth, read back",
     "What a ruler would read on a strip of known stiffness, given to the fit: it must find the "
     "stiffness."},
    {"ageing", "Time and repeated loading", "Fatigue lines and creep; no mesh."},
    {"drape", "Drape of a disc of cloth",
     "A disc of cloth over a smaller disc, under its own weight. From the last run of "
     "`tests/verification/book.sh --slow`."},
    {"sensitivity", "Choices of ours",
     "How far the headline findings move when mesh, load steps, the residual at which the search "
     "stops, numerical stiffnesses or the start are chosen otherwise. From the last run of "
     "`tests/verification/book.sh --slow`. Both bags are held to the table: no choice may take a "
     "finding out of the range `hang` prints beside it. That range is where nine in ten bags lie "
     "by "
     "the scatter of the material data, each number of the library taken to its ends in turn, with "
     "what a mesh of longer edges changes on top; of the hardest stitch, what it carries with "
     "stitches half and twice as stiff. Beside it the scatter of bags drawn at random. The base of "
     "the quilted bag lies loose in a pocket; it has several shapes, and `hang` says so.",
     false},
    {"coverage", "Do the ranges cover",
     "Bags drawn at random and hung whole: the share of them whose headlines lie in the likely "
     "range "
     "that `hang` prints for the scene. It speaks of the scatter of the material data (nine in "
     "ten) "
     "with what the mesh changes on top; the second line of each bag adds, one a bag, what it does "
     "not speak of and `hang` tells apart: where the load lies, what it is, how layers are joined, "
     "what the bag hangs on and for how long. From the last run of "
     "`tests/verification/book.sh --slow`.",
     false},
    {"calculix", "Another program",
     "The same meshes, or the same shape in solids, solved by a general-purpose program; "
     "*held to* are its values. From the last run of the book where it was installed."},
};

}  // namespace totebench::verification
