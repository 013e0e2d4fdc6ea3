#include "scenes/pieces/svg_outlines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

#include "scenes/pieces/svg_path.hpp"
#include "totebench/scenes/units.hpp"
#ifdef TOTEBENCH_HAS_EXPAT
#include <expat.h>

#include <memory>
#endif

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Attributes = std::map<std::string, std::string>;

constexpr std::size_t kMostPoints = 200000;
constexpr double kSquarePixels = 0.01;  // width and height may disagree on a unit by this share

std::string text_of(const Attributes& attributes, const char* name) {
  const auto found = attributes.find(name);
  return found == attributes.end() ? "" : found->second;
}

double number_of(const Attributes& attributes, const char* name) {
  const std::string text = text_of(attributes, name);
  if (text.empty()) return 0;
  const std::vector<double> numbers = svg_numbers(text.substr(0, text.find("px")));
  if (numbers.size() != 1) throw std::invalid_argument(fmt::format("{}=\"{}\"", name, text));
  return numbers[0];
}

void append_ellipse(const Vector2d& centre, const Vector2d& radii, SubPath& path) {
  append_arc(centre, radii, 0, 0, 2 * M_PI, path.points);
  path.closed = true;
}

SubPath rect(const Attributes& a) {
  const Vector2d low(number_of(a, "x"), number_of(a, "y"));
  const Vector2d size(number_of(a, "width"), number_of(a, "height"));
  double rx = number_of(a, "rx"), ry = number_of(a, "ry");
  if (rx == 0) rx = ry;
  if (ry == 0) ry = rx;
  const Vector2d r = Vector2d(rx, ry).cwiseMin(0.5 * size);
  SubPath path;
  path.closed = true;
  const Vector2d corner[4] = {low + Vector2d(size.x(), 0), low + size, low + Vector2d(0, size.y()),
                              low};
  const Vector2d inwards[4] = {{-1, 1}, {-1, -1}, {1, -1}, {1, 1}};
  for (int k = 0; k < 4; ++k) {
    if (!(r.minCoeff() > 0)) {
      path.points.push_back(corner[k]);
      continue;
    }
    const double from = M_PI / 2 * (k - 1);
    const Vector2d centre = corner[k] + inwards[k].cwiseProduct(r);
    path.points.push_back(centre + Vector2d(r.x() * std::cos(from), r.y() * std::sin(from)));
    append_arc(centre, r, 0, from, from + M_PI / 2, path.points);
  }
  return path;
}

std::vector<SubPath> subpaths_of(const std::string& element, const Attributes& a) {
  if (element == "path") return path_points(text_of(a, "d"));
  SubPath path;
  if (element == "rect") {
    path = rect(a);
  } else if (element == "circle" || element == "ellipse") {
    const Vector2d radii = element == "circle" ? Vector2d::Constant(number_of(a, "r"))
                                               : Vector2d(number_of(a, "rx"), number_of(a, "ry"));
    append_ellipse({number_of(a, "cx"), number_of(a, "cy")}, radii, path);
  } else if (element == "line") {
    path.points = {{number_of(a, "x1"), number_of(a, "y1")},
                   {number_of(a, "x2"), number_of(a, "y2")}};
  } else {
    const std::vector<double> numbers = svg_numbers(text_of(a, "points"));
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
      path.points.emplace_back(numbers[i], numbers[i + 1]);
    }
    path.closed = element == "polygon";
  }
  return {path};
}

// Metres of a length with a unit of the world.
std::optional<double> metres(const std::string& text) {
  const QuantityResult read = parse_quantity(text, Dimension::kLength);
  if (!read.quantity) return std::nullopt;
  const std::string& unit = read.quantity->unit;
  if (unit != "mm" && unit != "cm" && unit != "in") return std::nullopt;
  return read.quantity->si;
}

std::optional<double> unit_of(const Attributes& root) {
  const std::optional<double> width = metres(text_of(root, "width"));
  const std::optional<double> height = metres(text_of(root, "height"));
  const std::vector<double> box = svg_numbers(text_of(root, "viewBox"));
  if (!width || box.size() != 4 || !(box[2] > 0) || !(box[3] > 0) || !(*width > 0)) {
    return std::nullopt;
  }
  const double unit = *width / box[2];
  // By its rule the smaller scale holds for both ways (preserveAspectRatio, "meet").
  if (height && *height > 0 && std::abs(*height / box[3] - unit) > kSquarePixels * unit) {
    return std::min(unit, *height / box[3]);
  }
  return unit;
}

// Takes elements as a parser comes to them.
class DrawingReader {
 public:
  void begin(const std::string& element, const Attributes& attributes) {
    static const std::set<std::string> kGroups = {"svg", "g", "a", "switch"};
    static const std::set<std::string> kShapes = {"path",    "rect",     "circle", "ellipse",
                                                  "polygon", "polyline", "line"};
    if (frames_.empty() && element != "svg") {
      throw std::invalid_argument("this is no SVG drawing");
    }
    if (skipped_ > 0 || (kGroups.count(element) == 0 && kShapes.count(element) == 0)) {
      ++skipped_;
      return;
    }
    if (frames_.empty()) {
      drawing_.unit_m = unit_of(attributes);
      frames_.push_back(Eigen::Affine2d::Identity());
      return;
    }
    const std::string id = text_of(attributes, "id");
    try {
      frames_.push_back(frames_.back() * svg_transform(text_of(attributes, "transform")));
      if (kShapes.count(element) > 0) add(id, subpaths_of(element, attributes));
    } catch (const std::invalid_argument& error) {
      throw std::invalid_argument(
          fmt::format("<{}{}>: {}", element, id.empty() ? "" : " id=\"" + id + "\"", error.what()));
    }
  }
  void end() {
    if (skipped_ > 0) {
      --skipped_;
    } else {
      frames_.pop_back();
    }
  }
  SvgDrawing take() { return std::move(drawing_); }

 private:
  void add(const std::string& id, std::vector<SubPath> paths) {
    for (SubPath& path : paths) {
      n_points_ += path.points.size();
      if (n_points_ > kMostPoints) throw std::invalid_argument("there is more drawn than fits");
      for (Vector2d& p : path.points) {
        p = frames_.back() * p;
        if (!p.allFinite()) throw std::invalid_argument("a coordinate is not a number");
      }
      drawing_.shapes.push_back({id, std::move(path.points), path.closed});
    }
  }

  SvgDrawing drawing_;
  std::vector<Eigen::Affine2d> frames_;
  int skipped_ = 0;
  std::size_t n_points_ = 0;
};

#ifdef TOTEBENCH_HAS_EXPAT
// Exceptions must not cross the parser: it is stopped, and they go on behind it.
struct Parse {
  XML_Parser parser = nullptr;
  DrawingReader reader;
  std::string problem;

  template <class Take>
  void guarded(const Take& take) {
    if (!problem.empty()) return;
    try {
      take();
    } catch (const std::invalid_argument& error) {
      problem = fmt::format("line {}: {}", XML_GetCurrentLineNumber(parser), error.what());
      XML_StopParser(parser, XML_FALSE);
    }
  }
};

void on_begin(void* user, const XML_Char* name, const XML_Char** list) {
  auto* parse = static_cast<Parse*>(user);
  parse->guarded([&] {
    Attributes attributes;
    for (; *list != nullptr; list += 2) attributes[list[0]] = list[1];
    const std::string element = name;
    const std::size_t colon = element.find(':');  // <svg:path>
    parse->reader.begin(colon == std::string::npos ? element : element.substr(colon + 1),
                        attributes);
  });
}

void on_end(void* user, const XML_Char* /*name*/) {
  auto* parse = static_cast<Parse*>(user);
  parse->guarded([&] { parse->reader.end(); });
}
#endif

}  // namespace

#ifdef TOTEBENCH_HAS_EXPAT
bool reads_drawings() { return true; }

SvgDrawing read_svg(std::string_view text) {
  const std::unique_ptr<XML_ParserStruct, decltype(&XML_ParserFree)> parser(
      XML_ParserCreate(nullptr), &XML_ParserFree);
  if (!parser) throw std::bad_alloc();
  Parse parse;
  parse.parser = parser.get();
  XML_SetUserData(parser.get(), &parse);
  XML_SetElementHandler(parser.get(), on_begin, on_end);
  if (XML_Parse(parser.get(), text.data(), static_cast<int>(text.size()), 1) == XML_STATUS_ERROR) {
    if (!parse.problem.empty()) throw std::invalid_argument(parse.problem);
    throw std::invalid_argument(fmt::format("line {}: {}", XML_GetCurrentLineNumber(parser.get()),
                                            XML_ErrorString(XML_GetErrorCode(parser.get()))));
  }
  return parse.reader.take();
}
#else
bool reads_drawings() { return false; }

SvgDrawing read_svg(std::string_view /*text*/) {
  throw std::invalid_argument("this build reads no drawings");
}
#endif

}  // namespace totebench::scenes
