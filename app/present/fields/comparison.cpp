// comparison.json.
#include "app/present/compare_report.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"

namespace totebench::app {
namespace {

const Fields<studies::BagDifference>& difference_fields() {
  using D = studies::BagDifference;
  static const auto fields =
      Fields<D>("difference", "What a bag has that the first has not, in words.")
          .value("added", &D::added, "What it has more.")
          .value("removed", &D::removed, "What it lacks.")
          .value("changed", &D::changed, "What is otherwise.");
  return fields;
}

struct ToldBag {
  const studies::ComparedBag& bag;
  const studies::ComparedBag& first;
};

const scenes::Findings* found_at_rest(const studies::ComparedBag& bag) {
  const scenes::Findings& found = bag.result.findings;
  return found.converged() ? &found : nullptr;
}

const Fields<ToldBag>& against_first_fields() {
  static const auto fields = [] {
    Fields<ToldBag> made("against_first", "Headlines less those of the first bag.");
    for (const scenes::Figure& figure : scenes::kFigures) {
      if (!figure.headline()) continue;
      made.value(
              figure.key,
              [&figure](const ToldBag& b) -> std::optional<double> {
                const scenes::Findings* its = found_at_rest(b.bag);
                const scenes::Findings* first = found_at_rest(b.first);
                if (its == nullptr || first == nullptr) return std::nullopt;
                return figure.value(*its) - figure.value(*first);
              },
              std::string("Difference of: ") + figure.name + ".")
          .or_null("where one of the two has no equilibrium");
    }
    return made;
  }();
  return fields;
}

struct LikelyDifference {
  const scenes::Figure& figure;
  studies::Range range;
};

const Fields<LikelyDifference>& likely_difference_fields() {
  using L = LikelyDifference;
  static const auto fields =
      Fields<L>("likely_difference", "Where nine in ten differences from the first bag lie.")
          .value(
              "headline", [](const L& l) { return std::string(l.figure.key); }, "Its key.")
          .value(
              "low", [](const L& l) { return l.range.low; }, "In SI.")
          .value(
              "high", [](const L& l) { return l.range.high; }, "In SI.");
  return fields;
}

std::vector<LikelyDifference> likely_differences(const ToldBag& b) {
  std::vector<LikelyDifference> list;
  if (&b.bag == &b.first || !b.bag.result.data_scatter || !b.first.result.data_scatter) return list;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline() || figure.likely_from != scenes::LikelyFrom::kMaterials) continue;
    list.push_back({figure, studies::difference_range(b.first.result, b.bag.result, figure)});
  }
  return list;
}

std::vector<std::string> not_told_apart(const ToldBag& b) {
  std::vector<std::string> keys;
  if (&b.bag == &b.first || !found_at_rest(b.bag) || !found_at_rest(b.first)) return keys;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline()) continue;
    if (!studies::can_be_told_apart(b.bag.result, b.first.result, figure)) {
      keys.emplace_back(figure.key);
    }
  }
  return keys;
}

const Fields<ToldBag>& bag_fields() {
  static const auto fields =
      Fields<ToldBag>("bag", "One of the bags.")
          .value(
              "name", [](const ToldBag& b) { return b.bag.scene.name; }, "Name of the scene.")
          .value(
              "note", [](const ToldBag& b) { return b.bag.scene.note; }, "Note of the scene.")
          .object(
              "different_from_first", [](const ToldBag& b) { return b.bag.from_first; },
              difference_fields(), "What makes it another bag than the first.")
          .object(
              "findings",
              [](const ToldBag& b) {
                return ToteFindings{b.bag.scene, b.bag.result};
              },
              tote_fields(), "As in findings.json.")
          .object(
              "against_first", [](const ToldBag& b) -> const ToldBag& { return b; },
              against_first_fields(), "Headlines less those of the first bag.")
          .list("likely_differences", likely_differences, likely_difference_fields(),
                "Of the lengths, with the same materials in both bags where both have them. Empty "
                "for the first bag and without ranges.")
          .value("not_told_apart", not_told_apart,
                 "Headlines whose difference is no larger than what the meshes, a second shape or "
                 "the scatter of the material data make of it.");
  return fields;
}

std::vector<ToldBag> told_bags(const studies::Comparison& comparison) {
  std::vector<ToldBag> list;
  for (const studies::ComparedBag& bag : comparison.bags) {
    list.push_back({bag, comparison.bags.front()});
  }
  return list;
}

const Fields<studies::Comparison>& comparison_fields() {
  using C = studies::Comparison;
  static const auto fields =
      Fields<C>("comparison", "Several bags side by side.")
          .constant("schema_version", 1, "Version of this format.")
          .constant("kind", "comparison", "What this file tells of.")
          .choice(
              "status", {"converged", "not_converged"},
              [](const C& c) { return c.all_converged() ? "converged" : "not_converged"; },
              "converged: every bag is at equilibrium.")
          .list("bags", told_bags, bag_fields(), "The first is what the others are compared with.");
  return fields;
}

}  // namespace

std::string comparison_json(const studies::Comparison& comparison) {
  return file_of(comparison_fields(), comparison);
}

std::string comparison_schema() {
  return schema_of("What `totebench compare` found (comparison.json)", comparison_fields());
}

}  // namespace totebench::app
