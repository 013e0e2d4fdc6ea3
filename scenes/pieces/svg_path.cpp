#include "scenes/pieces/svg_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <locale>
#include <sstream>
#include <stdexcept>
#include <string>

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kOffCurve = 2e-5;            // of its length, chords of a curve
constexpr int kMostChords = 400;              // of one curve
constexpr double kArcChord_rad = M_PI / 360;  // chords of an arc: off by 1e-5 of the radius

// Reads numbers and flags off the front of a text.
class Numbers {
 public:
  explicit Numbers(std::string_view text) : whole_(text), rest_(text) {}

  [[nodiscard]] bool at_end() {
    skip();
    return rest_.empty();
  }
  [[nodiscard]] char front() const { return rest_.front(); }
  char take() {
    const char c = rest_.front();
    rest_.remove_prefix(1);
    return c;
  }
  [[nodiscard]] bool number_follows() {
    skip();
    if (rest_.empty()) return false;
    const char c = rest_.front();
    return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '+' || c == '.';
  }
  double number() {
    skip();
    std::size_t end = digits_from(sign_from(0));
    bool any = end > sign_from(0);
    if (at(end) == '.') {
      const std::size_t fraction = digits_from(end + 1);
      any = any || fraction > end + 1;
      end = fraction;
    }
    if (!any) fail("a number");
    if (at(end) == 'e' || at(end) == 'E') {
      const std::size_t exponent = sign_from(end + 1);
      if (digits_from(exponent) > exponent) end = digits_from(exponent);
    }
    std::istringstream text{std::string(rest_.substr(0, end))};
    text.imbue(std::locale::classic());
    double value = 0;
    if (!(text >> value) || !std::isfinite(value)) fail("a number");
    rest_.remove_prefix(end);
    return value;
  }
  bool flag() {
    skip();
    if (rest_.empty() || (rest_.front() != '0' && rest_.front() != '1')) fail("0 or 1");
    return take() == '1';
  }
  Vector2d point() {
    const double x = number();
    return {x, number()};
  }
  [[noreturn]] void fail(const char* wanted) const {
    throw std::invalid_argument(fmt::format("{} is missing at \"{}\" (character {})", wanted,
                                            std::string(rest_.substr(0, 12)),
                                            whole_.size() - rest_.size() + 1));
  }

 private:
  [[nodiscard]] char at(std::size_t i) const { return i < rest_.size() ? rest_[i] : '\0'; }
  // Behind a sign at `i`, or `i`; behind the digits from `i` on.
  [[nodiscard]] std::size_t sign_from(std::size_t i) const {
    return at(i) == '-' || at(i) == '+' ? i + 1 : i;
  }
  [[nodiscard]] std::size_t digits_from(std::size_t i) const {
    while (std::isdigit(static_cast<unsigned char>(at(i))) != 0) ++i;
    return i;
  }
  void skip() {
    while (!rest_.empty() &&
           (std::isspace(static_cast<unsigned char>(rest_.front())) != 0 || rest_.front() == ',')) {
      rest_.remove_prefix(1);
    }
  }
  std::string_view whole_, rest_;
};

void append_cubic(const std::array<Vector2d, 4>& p, std::vector<Vector2d>& points) {
  const double length = (p[1] - p[0]).norm() + (p[2] - p[1]).norm() + (p[3] - p[2]).norm();
  if (!(length > 0)) return;
  // A chord over a step h of the parameter is off by |second derivative| h^2 / 8 at most.
  const double second =
      6 * std::max((p[0] - 2 * p[1] + p[2]).norm(), (p[1] - 2 * p[2] + p[3]).norm());
  const int n = std::clamp(
      static_cast<int>(std::ceil(std::sqrt(second / (8 * kOffCurve * length)))), 1, kMostChords);
  for (int i = 1; i <= n; ++i) {
    const double t = static_cast<double>(i) / n, s = 1 - t;
    points.emplace_back(s * s * s * p[0] + 3 * s * s * t * p[1] + 3 * s * t * t * p[2] +
                        t * t * t * p[3]);
  }
}

// An arc as the path language gives it: by its ends (SVG 2, appendix B.2.4).
void append_end_arc(const Vector2d& from, Vector2d radii, double tilt, bool large, bool sweep,
                    const Vector2d& to, std::vector<Vector2d>& points) {
  radii = radii.cwiseAbs();
  if (!(radii.minCoeff() > 0) || from == to) {
    points.push_back(to);
    return;
  }
  const Eigen::Rotation2Dd turn(tilt);
  const Vector2d half = turn.inverse() * Vector2d(0.5 * (from - to));
  const double reach = half.cwiseQuotient(radii).squaredNorm();
  if (reach > 1) radii *= std::sqrt(reach);  // too small to reach: scaled up
  const double rx2 = radii.x() * radii.x(), ry2 = radii.y() * radii.y();
  const double d = rx2 * half.y() * half.y() + ry2 * half.x() * half.x();
  const double off = (large == sweep ? -1 : 1) * std::sqrt(std::max(0.0, rx2 * ry2 / d - 1));
  const Vector2d inner =
      off * Vector2d(radii.x() * half.y() / radii.y(), -radii.y() * half.x() / radii.x());
  const Vector2d centre = turn * inner + 0.5 * (from + to);
  const auto angle = [&](const Vector2d& v) {
    return std::atan2((v.y() - inner.y()) / radii.y(), (v.x() - inner.x()) / radii.x());
  };
  const double begin = angle(half);
  double end = angle(-half);
  if (sweep && end < begin) end += 2 * M_PI;
  if (!sweep && end > begin) end -= 2 * M_PI;
  append_arc(centre, radii, tilt, begin, end, points);
  points.back() = to;
}

// One "d" attribute, command by command.
class PathReader {
 public:
  explicit PathReader(std::string_view d) : in_(d) {}

  std::vector<SubPath> run() {
    while (!in_.at_end()) {
      if (std::isalpha(static_cast<unsigned char>(in_.front())) == 0) in_.fail("a command");
      char command = in_.take();
      relative_ = std::islower(static_cast<unsigned char>(command)) != 0;
      command = static_cast<char>(std::toupper(static_cast<unsigned char>(command)));
      if (paths_.empty() && command != 'M') in_.fail("a move (M) at the beginning");
      if (command == 'Z') {
        paths_.back().closed = true;
        here_ = paths_.back().points.front();
        before_ = 'Z';
        continue;
      }
      do {
        one(command);
        before_ = command;
        if (command == 'M') command = 'L';  // further pairs are lines
      } while (in_.number_follows());
    }
    return std::move(paths_);
  }

 private:
  [[nodiscard]] Vector2d point() {
    const Vector2d p = in_.point();
    return relative_ ? Vector2d(here_ + p) : p;
  }
  // The control point before, mirrored, where a curve of the same kind came before.
  [[nodiscard]] Vector2d mirrored(char kind, char smooth) const {
    return before_ == kind || before_ == smooth ? Vector2d(2 * here_ - control_) : here_;
  }
  std::vector<Vector2d>& points() {
    // After a close without a move the next subpath begins where the last one did.
    if (paths_.back().closed) paths_.push_back({{here_}, false});
    return paths_.back().points;
  }
  void line_to(const Vector2d& p) {
    points().push_back(p);
    here_ = p;
  }
  void cubic_to(const Vector2d& a, const Vector2d& b, const Vector2d& end) {
    append_cubic({here_, a, b, end}, points());
    here_ = end;
  }
  void quadratic_to(const Vector2d& a, const Vector2d& end) {
    cubic_to(here_ + 2.0 / 3 * (a - here_), end + 2.0 / 3 * (a - end), end);
    control_ = a;
  }

  void one(char command) {
    switch (command) {
      case 'M':
        here_ = point();
        paths_.push_back({{here_}, false});
        return;
      case 'L':
        return line_to(point());
      case 'H':
        return line_to({in_.number() + (relative_ ? here_.x() : 0), here_.y()});
      case 'V':
        return line_to({here_.x(), in_.number() + (relative_ ? here_.y() : 0)});
      case 'C':
      case 'S': {
        const Vector2d a = command == 'C' ? point() : mirrored('C', 'S');
        const Vector2d b = point();
        cubic_to(a, b, point());
        control_ = b;
        return;
      }
      case 'Q': {
        const Vector2d a = point();
        return quadratic_to(a, point());
      }
      case 'T': {
        const Vector2d a = mirrored('Q', 'T');
        return quadratic_to(a, point());
      }
      case 'A': {
        const Vector2d radii = in_.point();
        const double tilt = in_.number() * M_PI / 180;
        const bool large = in_.flag();
        const bool sweep = in_.flag();
        const Vector2d end = point();
        append_end_arc(here_, radii, tilt, large, sweep, end, points());
        here_ = end;
        return;
      }
      default:
        in_.fail("one of M L H V C S Q T A Z");
    }
  }

  Numbers in_;
  std::vector<SubPath> paths_;
  Vector2d here_ = Vector2d::Zero();
  Vector2d control_ = Vector2d::Zero();
  char before_ = 0;
  bool relative_ = false;
};

Eigen::Affine2d one_transform(std::string_view name, const std::vector<double>& v) {
  const auto has = [&](std::size_t low, std::size_t high) {
    if (v.size() < low || v.size() > high) {
      throw std::invalid_argument(fmt::format("{} numbers are no {}", v.size(), name));
    }
  };
  Eigen::Affine2d t = Eigen::Affine2d::Identity();
  if (name == "matrix") {
    has(6, 6);
    t.matrix() << v[0], v[2], v[4], v[1], v[3], v[5], 0, 0, 1;
  } else if (name == "translate") {
    has(1, 2);
    t.translate(Vector2d(v[0], v.size() > 1 ? v[1] : 0));
  } else if (name == "scale") {
    has(1, 2);
    t.scale(Vector2d(v[0], v.size() > 1 ? v[1] : v[0]));
  } else if (name == "rotate") {
    has(1, 3);
    if (v.size() == 2) has(3, 3);
    const Vector2d about = v.size() == 3 ? Vector2d(v[1], v[2]) : Vector2d(0, 0);
    t.translate(about).rotate(v[0] * M_PI / 180).translate(-about);
  } else if (name == "skewX") {
    has(1, 1);
    t.matrix()(0, 1) = std::tan(v[0] * M_PI / 180);
  } else if (name == "skewY") {
    has(1, 1);
    t.matrix()(1, 0) = std::tan(v[0] * M_PI / 180);
  } else {
    throw std::invalid_argument(fmt::format("there is no transform \"{}\"", name));
  }
  return t;
}

}  // namespace

std::vector<SubPath> path_points(std::string_view d) { return PathReader(d).run(); }

std::vector<double> svg_numbers(std::string_view text) {
  Numbers in(text);
  std::vector<double> numbers;
  while (!in.at_end()) numbers.push_back(in.number());
  return numbers;
}

Eigen::Affine2d svg_transform(std::string_view text) {
  Eigen::Affine2d all = Eigen::Affine2d::Identity();
  for (;;) {
    const std::size_t begin = text.find_first_not_of(" \t\r\n,");
    if (begin == std::string_view::npos) return all;
    const std::size_t open = text.find('(', begin), close = text.find(')', begin);
    if (open == std::string_view::npos || close == std::string_view::npos || close < open) {
      throw std::invalid_argument(
          fmt::format("\"{}\" is no transform", std::string(text.substr(0, 40))));
    }
    std::string_view name = text.substr(begin, open - begin);
    name = name.substr(0, name.find_last_not_of(" \t\r\n") + 1);
    all = all * one_transform(name, svg_numbers(text.substr(open + 1, close - open - 1)));
    text.remove_prefix(close + 1);
  }
}

void append_arc(const Vector2d& centre, const Vector2d& radii, double tilt, double from, double to,
                std::vector<Vector2d>& points) {
  const Eigen::Rotation2Dd turn(tilt);
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(to - from) / kArcChord_rad)));
  for (int i = 1; i <= n; ++i) {
    const double a = from + (to - from) * i / n;
    points.emplace_back(centre + turn * Vector2d(radii.x() * std::cos(a), radii.y() * std::sin(a)));
  }
}

}  // namespace totebench::scenes
