#include <cairo-pdf.h>

#include <memory>

#include "totebench/viz/pdf_module.hpp"

namespace totebench::viz {
namespace {

constexpr double kPointsPerMm = 72 / 25.4;

struct Gone {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};

void set_ink(cairo_t* to, Rgb rgb) {
  cairo_set_source_rgb(to, (rgb >> 16 & 0xff) / 255.0, (rgb >> 8 & 0xff) / 255.0,
                       (rgb & 0xff) / 255.0);
}

void paint(cairo_t* to, const FlatPath& path) {
  for (const std::vector<Mm>& run : path.runs) {
    for (std::size_t i = 0; i < run.size(); ++i) {
      (i == 0 ? cairo_move_to : cairo_line_to)(to, run[i].x, run[i].y);
    }
    if (path.closed) cairo_close_path(to);
  }
  if (path.fill) {
    set_ink(to, *path.fill);
    cairo_fill_preserve(to);
  }
  set_ink(to, path.ink);
  cairo_set_line_width(to, path.width_mm);
  cairo_set_dash(to, path.dash_mm.data(), static_cast<int>(path.dash_mm.size()), 0);
  cairo_stroke(to);
}

void paint(cairo_t* to, const FlatWords& words) {
  cairo_select_font_face(to, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         words.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(to, words.size_mm);
  set_ink(to, words.ink);
  cairo_text_extents_t size;
  cairo_text_extents(to, words.text.c_str(), &size);
  cairo_move_to(to, words.at.x - 0.5 * (words.anchor + 1) * size.x_advance, words.at.y);
  cairo_show_text(to, words.text.c_str());
}

void paint(cairo_t* to, const FlatDrawing& drawing) {
  for (const FlatPath& path : drawing.paths) paint(to, path);
  for (const FlatWords& words : drawing.words) paint(to, words);
}

std::string write_pdf(const FlatDrawing& drawing, const std::vector<PrintPage>& pages,
                      const std::string& path) {
  const std::unique_ptr<cairo_surface_t, Gone> surface(
      cairo_pdf_surface_create(path.c_str(), 1, 1));
  cairo_pdf_surface_restrict_to_version(surface.get(), CAIRO_PDF_VERSION_1_4);
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, drawing.title.c_str());
  for (const PrintPage& page : pages) {
    cairo_pdf_surface_set_size(surface.get(), kPointsPerMm * page.width_mm,
                               kPointsPerMm * page.height_mm);
    const std::unique_ptr<cairo_t, Gone> to(cairo_create(surface.get()));
    cairo_scale(to.get(), kPointsPerMm, kPointsPerMm);
    cairo_save(to.get());
    cairo_rectangle(to.get(), page.at.x, page.at.y, page.shown_width_mm, page.shown_height_mm);
    cairo_clip(to.get());
    const Mm origin = page.on_page({0, 0});
    cairo_translate(to.get(), origin.x, origin.y);
    cairo_scale(to.get(), page.scale, page.scale);
    paint(to.get(), drawing);
    cairo_restore(to.get());
    paint(to.get(), page.own);
    cairo_show_page(to.get());
    if (cairo_status(to.get()) != CAIRO_STATUS_SUCCESS) {
      return cairo_status_to_string(cairo_status(to.get()));
    }
  }
  cairo_surface_finish(surface.get());
  const cairo_status_t status = cairo_surface_status(surface.get());
  return status == CAIRO_STATUS_SUCCESS ? "" : cairo_status_to_string(status);
}

}  // namespace
}  // namespace totebench::viz

extern "C" totebench::viz::WritePdf totebench_pdf_module() { return totebench::viz::write_pdf; }
