#include "totebench/viz/report.hpp"

#include <fmt/format.h>

#include <iterator>

#include "totebench/viz/svg_chart.hpp"
#include "viz/report/page_assets.hpp"

namespace totebench::viz {
namespace {

constexpr std::size_t kShortTable = 14;  // rows

// JSON inside a script element must not hold "</script" or "<!--".
std::string for_script(const std::string& json) {
  std::string out;
  out.reserve(json.size());
  for (const char c : json) {
    if (c == '<') {
      out += "\\u003c";
    } else if (c == '&') {  // a browser would not mind, an XML reader would
      out += "\\u0026";
    } else {
      out += c;
    }
  }
  return out;
}

std::string paragraph(const std::string& text, const char* kind = "") {
  if (text.empty()) return "";
  const std::string attribute = *kind == '\0' ? "" : fmt::format(" class=\"{}\"", kind);
  return fmt::format("<p{}>{}</p>\n", attribute, escaped(text));
}

std::string table_html(const PageTable& table) {
  const auto kind = [&](std::size_t column) {
    const bool words = column < table.words.size() && table.words[column];
    return words ? " class=\"words\"" : "";
  };
  // On paper a short table is not torn apart.
  const bool keep = table.rows.size() <= kShortTable;
  std::string html = fmt::format("<div class=\"wide{}\"><table>\n", keep ? " keep" : "");
  if (!table.caption.empty()) {
    html += fmt::format("<caption>{}</caption>\n", escaped(table.caption));
  }
  if (!table.head.empty()) {
    html += "<thead><tr>";
    for (std::size_t c = 0; c < table.head.size(); ++c) {
      html += fmt::format("<th scope=\"col\"{}>{}</th>", kind(c), escaped(table.head[c]));
    }
    html += "</tr></thead>\n";
  }
  html += "<tbody>\n";
  for (const auto& row : table.rows) {
    html += "<tr>";
    for (std::size_t c = 0; c < row.size(); ++c) {
      html += c == 0 ? fmt::format("<th scope=\"row\">{}</th>", escaped(row[c]))
                     : fmt::format("<td{}>{}</td>", kind(c), escaped(row[c]));
    }
    html += "</tr>\n";
  }
  return html + "</tbody></table></div>\n";
}

// Where the picture has parts a narrow screen shows them one below the other, drawn from the one
// image that is in the page.
std::string picture_html(const std::string& png, const std::string& text,
                         const std::vector<std::array<double, 2>>& parts = {}) {
  if (png.empty()) return "";
  std::string html = fmt::format(
      "<figure class=\"{}\"><img alt=\"{}\" src=\"data:image/png;base64,{}\"/>\n",
      parts.empty() ? "whole" : "in-parts", escaped(text), base64(png.data(), png.size()));
  for (std::size_t i = 0; i < parts.size(); ++i) {
    html += fmt::format(
        "<canvas class=\"part\" role=\"img\" aria-label=\"part {} of {} of the picture\" "
        "data-from=\"{:.4f}\" data-to=\"{:.4f}\"></canvas>\n",
        i + 1, parts.size(), parts[i][0], parts[i][1]);
  }
  if (!parts.empty()) {
    html +=
        "<script>\n//<![CDATA[\n"
        "for (const figure of document.querySelectorAll('.in-parts')) {\n"
        "  const image = figure.querySelector('img');\n"
        "  image.decode().then(() => {\n"
        "    for (const part of figure.querySelectorAll('canvas')) {\n"
        "      const pen = part.getContext('2d');\n"
        "      if (!pen) { figure.className = 'whole'; return; }\n"
        "      const from = part.dataset.from * image.naturalWidth;\n"
        "      part.width = part.dataset.to * image.naturalWidth - from;\n"
        "      part.height = image.naturalHeight;\n"
        "      pen.drawImage(image, -from, 0);\n"
        "    }\n  });\n}\n//]]>\n</script>\n";
  }
  return html + "</figure>\n";
}

std::string figures_html(const PageSection& section) {
  constexpr std::size_t kPairsAtMost = 5;  // more are small, and stand in rows
  const std::string kind = section.figures.size() > kPairsAtMost ? "pair many" : "pair";
  std::string html =
      section.side_by_side && !section.figures.empty() ? "<div class=\"" + kind + "\">\n" : "";
  for (const PageFigure& figure : section.figures) {
    html += "<figure>\n" + figure.svg;
    if (!figure.caption.empty()) {
      html += fmt::format("<figcaption>{}</figcaption>\n", escaped(figure.caption));
    }
    html += "</figure>\n";
  }
  return html + (section.side_by_side && !section.figures.empty() ? "</div>\n" : "");
}

std::string section_html(const PageSection& section) {
  std::string html =
      fmt::format("<section{}>\n<h2>{}</h2>\n", section.new_page ? " class=\"new-page\"" : "",
                  escaped(section.title));
  std::string tables;
  for (const PageTable& table : section.tables) tables += table_html(table);
  if (section.first) html += figures_html(section) + tables;
  for (const std::string& text : section.paragraphs) html += paragraph(text);
  html += picture_html(section.picture_png, section.picture_text);
  if (!section.first) html += figures_html(section) + tables;
  if (!section.folded.empty()) {
    html += fmt::format("<details class=\"screen\"><summary>{}</summary><pre>{}</pre></details>\n",
                        escaped(section.folded_title), escaped(section.folded));
  }
  return html + "</section>\n";
}

std::string view_html(const std::vector<PageModel>& models) {
  std::string data = "[";
  for (std::size_t i = 0; i < models.size(); ++i) {
    data += (i == 0 ? "" : ",") + page_model_json(models[i]);
  }
  data += "]";
  return "<section class=\"screen\">\n<h2>Turn it round</h2>\n<div id=\"view-box\">\n<div>\n"
         "<canvas id=\"view\" role=\"img\" tabindex=\"0\" aria-label=\"the bag in 3-D\" "
         "aria-describedby=\"view-keys\"></canvas>\n"
         "<p id=\"view-status\" role=\"status\"></p>\n"
         "<div id=\"view-bar\"><div id=\"view-bar-title\"></div><div id=\"view-bar-strip\"></div>"
         "<div class=\"ticks\"><span id=\"view-bar-low\"></span><span id=\"view-bar-mid\"></span>"
         "<span id=\"view-bar-high\"></span></div></div>\n"
         "<p id=\"view-keys\" class=\"keys\">Drag to turn, wheel or pinch to come nearer, Shift or "
         "two fingers and drag to move. Keys: arrows turn, + and - zoom, Home goes back, n and p "
         "go from "
         "stitch to stitch.</p>\n</div>\n"
         "<form autocomplete=\"off\" onsubmit=\"return false\">\n"
         "<label>Bag<select id=\"choose-bag\"></select></label>\n"
         "<label>Load, empty to full<input id=\"choose-load\" type=\"range\" min=\"0\" "
         "max=\"100\" step=\"1\" value=\"100\"/></label>\n"
         "<output id=\"view-load\" for=\"choose-load\" aria-live=\"polite\"></output>\n"
         "<label>Colour<select id=\"choose-field\"></select></label>\n"
         "<label>Cut away<select id=\"choose-cut\"><option value=\"none\">nothing</option>"
         "<option value=\"width\">the front</option><option value=\"depth\">one side</option>"
         "<option value=\"level\">the top</option></select></label>\n"
         "<label>Where to cut<input id=\"choose-cut-at\" type=\"range\" min=\"0\" max=\"100\" "
         "step=\"1\" value=\"50\" disabled=\"disabled\"/></label>\n"
         "<label>Stitch<select id=\"choose-stitch\"></select></label>\n"
         "<div id=\"view-stitch\" role=\"status\" aria-live=\"polite\"></div>\n"
         "<div class=\"looks\"><button type=\"button\" data-look=\"corner\">First view</button>"
         "<button type=\"button\" data-look=\"front\">Front</button>"
         "<button type=\"button\" data-look=\"side\">Side</button>"
         "<button type=\"button\" data-look=\"below\">From below</button></div>\n"
         "<output id=\"view-angle\"></output>\n</form>\n</div>\n</section>\n"
         "<script type=\"application/json\" id=\"models\">" +
         for_script(data) + "</script>\n";
}

}  // namespace

std::string page_html(const Page& page) {
  std::string html =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<link rel=\"icon\" href=\"data:,\"/>\n";
  html += fmt::format("<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
                      escaped(page.title), kPageStyle);
  html += "<header>\n";
  html += fmt::format("<h1>{}</h1>\n", escaped(page.title));
  html += paragraph(page.sentence, "sentence") + paragraph(page.under, "under");
  html += paragraph(page.alarm, "alarm");
  html += "</header>\n<main>\n";
  html += picture_html(page.picture_png, page.picture_text, page.picture_parts);
  for (const PageSection& section : page.sections) {
    if (section.first) html += section_html(section);
  }
  if (!page.cautions.empty()) {
    html += "<section class=\"keep\">\n<h2>Cautions</h2>\n<ul class=\"cautions\">\n";
    for (const std::string& text : page.cautions) html += "<li>" + escaped(text) + "</li>\n";
    html += "</ul>\n</section>\n";
  }
  if (!page.models.empty()) html += view_html(page.models);
  for (const PageSection& section : page.sections) {
    if (!section.first) html += section_html(section);
  }
  html += "</main>\n";
  html += fmt::format("<script type=\"application/json\" id=\"{}\">{}</script>\n",
                      escaped(page.data_id), for_script(page.data_json));
  if (!page.models.empty()) {
    html += fmt::format("<script>\n//<![CDATA[\n{}//]]>\n</script>\n", kPageViewer);
  }
  return html + "</body>\n</html>\n";
}

}  // namespace totebench::viz
