// The bench for a page in a browser: what the commands do, called function by function. Scenes come
// as the text of a scene file, answers go as JSON; what is told of results is what the commands
// tell.
//
// Every function returns UTF-8 text that holds until the next call. Where something failed it is
//   {"error": "a sentence"}
// Nothing throws. One thread at a time.
#pragma once

extern "C" {

// The host's: called during long work, returns 0 to stop it. `stage` says what is being solved.
int bench_progress(const char* stage, double load_factor, double residual_relative);

// Before any other: the material library as [{"name": "fabrics.json", "text": ...}], or "" for the
// one that the program would find. Returns {"materials": [...], "threads": [...], "stitches":
// [...], "keys": what `explain --json` tells}.
const char* bench_open(const char* library);

// What `check --json` tells of one scene, and of a good tote what is drawn of it before it hangs:
// {"good", "summary", "units": those of it, "diagnostics", "pieces_svg", "pieces": rows of a table,
// "for_paper": names of those that a ruler does not draw, "front": sizes of the finished front with
// its stitches, "layers": [{"region", "svg"}]}. `units` is in, cm, si, or "" for the scene's own;
// so below.
const char* bench_check(const char* scene, const char* units);

// The pattern: {"svg": true to scale, "pages": [an SVG each, a page of `paper`], "paper",
// "width_mm", "height_mm", "json": what cutlist.json holds}. The pages are of the pieces that a
// ruler does not draw, or of all; the rest is of all. `paper` is "a4", "letter", or "" for the
// units' own.
const char* bench_pattern(const char* scene, const char* units, const char* paper, int all_pieces);

// {"model": a bag for the 3-D view} of a tote as it is put together, not hung yet.
const char* bench_assemble(const char* scene, const char* units);

// Hangs a scene, and keeps it for bench_refine() and bench_report(). Coarse: a first look on the
// coarse mesh, the load put on at once, which tells nothing of single stitches: that mesh
// doubles the force on the demo's hardest pulled one. Else as `hang --no-ranges` does. Returns
// {"at_rest", "stopped", "coarse", "sentence", "told": all that `hang` prints ("" of a first look
//  that is at rest), "headlines": [{"key", "name", "meaning", "found": "" where it is not told,
//  "likely", "hangs_on", "mesh"}], "known": [sentences], "moved_most": a
//  sentence or "", "moved_by": rows of a table, "cautions", "seconds", "findings": what
//  findings.json holds, "model": a bag for the 3-D view}.
const char* bench_hang(const char* scene, const char* units, int coarse);

// The same for the bag that was hung last, with more known of it: "mesh" (what a mesh of longer
// edges says), "stitches" or "materials" (likely ranges), "circumstances" (what else would move
// it). Sheets have none: returned as they are.
const char* bench_refine(const char* what);

// {"html": the report page of what was hung last, "findings", "resolved": the scene with every
// default written out}.
const char* bench_report();

// `compare`: scenes as a JSON array of texts, each with its variants. Kept for bench_lesson().
// Returns {"all_at_rest", "sentence", "names", "rows": [{"what", "cells"}], "differences":
// [a sentence or ""], "cautions", "models": [one a bag], "html": the report page,
// "comparison": what comparison.json holds}.
const char* bench_compare(const char* scenes, const char* units);

// {"html": the page for a classroom} of what was compared last.
const char* bench_lesson();

// `rate` with so many sampled bags and without trying changes: {"rated", "sentence", "cautions",
// "told": all that `rate` prints, "html": the page of it, "rating": what rating.json holds}.
const char* bench_rate(const char* scene, const char* units, int samples);
}
