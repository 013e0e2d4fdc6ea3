// totebench cutlist SCENE: the sizes to cut for the bag a scene describes. Nothing is solved.
#include "totebench/scenes/cutlist.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "app/commands/common.hpp"
#include "app/commands/scene_job.hpp"
#include "app/present/cutlist_json.hpp"
#include "app/present/paper_pattern.hpp"
#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/cutlist_drawing.hpp"
#include "totebench/viz/pdf_module.hpp"

namespace totebench::app {
namespace {

std::string cutlist_text(const scenes::Scene& scene, const std::vector<scenes::CutPiece>& pieces,
                         const materials::MaterialLibrary& library, const std::string& units) {
  std::string text = fmt::format(
      "{}: {} kinds of pieces, with seam allowances of {} and a hem of {}.\n\n",
      scene.name.empty() ? "The tote" : scene.name, pieces.size(),
      viz::ruler_text(scene.bag.seam_allowance_m, units), viz::ruler_text(scene.bag.hem_m, units));
  text += table_text(cutlist_table(pieces, library, units));
  for (const scenes::CutPiece& piece : pieces) {
    if (!piece.note.empty()) text += fmt::format("  {}: {}\n", piece.name, piece.note);
  }
  text += "\n" + table_text(to_buy_table(pieces, library, units));
  return text +
         "  Laid out by rows of rectangles; a layout by hand can take less.\n"
         "\nWidth and height are of the smallest rectangle around a piece. The allowances follow "
         "common practice; nothing is added for shrinking, nap or matching a print.\n";
}

// Where no PDF can be made at all that is a note.
void write_pdf(const SceneJob& job, const PaperPattern& pattern, viz::Written& written) {
  std::string problem;
  const viz::WritePdf write = viz::pdf_module(problem);
  if (write == nullptr) {
    written.problems.push_back("cutlist.pdf is missing: " + problem);
    return;
  }
  problem =
      viz::write_atomically(job.folder / "cutlist.pdf", [&](const std::filesystem::path& path) {
        return write(pattern.drawing, pattern.pages, path.string());
      });
  if (problem.empty()) {
    written.files.emplace_back("cutlist.pdf");
  } else {
    written.failures.push_back("cutlist.pdf is missing: " + problem);
  }
}

int cutlist(const std::string& file, const Common& common, const std::string& paper_wanted,
            bool all_pieces) {
  const std::optional<SceneJob> job = open_scene(file, common);
  if (!job) return kExitBadInput;
  if (job->scene.kind != scenes::SceneKind::kTote) {
    complain(file + ": error: only a tote has pieces to cut; this is a sheet.");
    return kExitBadInput;
  }
  const std::vector<scenes::CutPiece> pieces = scenes::cut_pieces(job->scene, job->library);
  const std::string json = cutlist_json(job->scene, pieces, job->library);
  std::string told = cutlist_text(job->scene, pieces, job->library, job->units);
  const viz::FlatDrawing drawing = viz::cutlist_drawing(pieces, job->library, job->units);
  const PaperPattern pattern =
      paper_pattern(job->scene, all_pieces ? pieces : pieces_for_paper(pieces), job->library,
                    job->units, paper_wanted);
  viz::Written written =
      write_texts(job->folder, {{"cutlist.json", json}, {"cutlist.svg", viz::svg_text(drawing)}});
  std::error_code ignored;
  std::filesystem::remove(job->folder / "cutlist.pdf", ignored);  // of an earlier run
  if (!pattern.pages.empty()) write_pdf(*job, pattern, written);
  if (written.problems.empty() && written.failures.empty()) {
    const std::string folder = job->folder.string();
    told += fmt::format(
        "{0}/cutlist.svg draws them true to scale, with the length of every edge and a square to "
        "check it; {0}/cutlist.json holds every outline.\n",
        folder);
    told +=
        pattern.pages.empty()
            ? "All pieces have straight edges and square corners: a ruler draws them, so no "
              "paper pattern was made (--all-pieces makes one).\n"
            : fmt::format(
                  "{}/cutlist.pdf is a pattern in pages of {} paper to print and glue, of {}.\n",
                  folder, pattern.paper.name,
                  all_pieces ? "all pieces" : "the pieces that a ruler does not draw");
  } else {
    told += written_text(written, job->folder);
  }
  tell(common, json, told);
  return exit_code(written, job->folder, kExitDone);
}

}  // namespace

void add_cutlist_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command =
      app.add_subcommand("cutlist", "The sizes to cut for this bag, and a drawing true to scale");
  const auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file")->required();
  const auto paper = std::make_shared<std::string>();
  command
      ->add_option("--paper", *paper,
                   "Paper of cutlist.pdf: a4 or letter (default: letter for scenes in inches)")
      ->check(CLI::IsMember({"a4", "letter"}));
  add_common_options(*command, common);
  const auto all_pieces = std::make_shared<bool>(false);
  command->add_flag("--all-pieces", *all_pieces,
                    "A paper pattern of every piece, also of those that a ruler draws");
  command->callback([&common, &exit_code, scene, paper, all_pieces] {
    exit_code = cutlist(*scene, common, *paper, *all_pieces);
  });
}

}  // namespace totebench::app
