// How values of C++ stand in a JSON file, and what its JSON Schema says of them.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <concepts>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace totebench::app {

using Json = nlohmann::ordered_json;

// JsonValue<X>::of(x) writes, JsonValue<X>::schema() describes; kNumber: it holds quantities, whose
// unit ends the key.
template <class X>
struct JsonValue;

// A number that is not finite is null, here and nowhere else.
template <>
struct JsonValue<double> {
  static constexpr bool kNumber = true;
  static Json of(double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); }
  static Json schema() { return {{"type", "number"}}; }
};

template <>
struct JsonValue<bool> {
  static constexpr bool kNumber = false;
  static Json of(bool x) { return x; }
  static Json schema() { return {{"type", "boolean"}}; }
};

template <std::integral X>
struct JsonValue<X> {
  static constexpr bool kNumber = false;
  static Json of(X x) { return x; }
  static Json schema() { return {{"type", "integer"}}; }
};

template <>
struct JsonValue<std::string> {
  static constexpr bool kNumber = false;
  static Json of(const std::string& x) { return x; }
  static Json schema() { return {{"type", "string"}}; }
};
template <>
struct JsonValue<const char*> : JsonValue<std::string> {};

template <class X>
struct JsonValue<std::optional<X>> {
  static constexpr bool kNumber = JsonValue<X>::kNumber;
  static Json of(const std::optional<X>& x) { return x ? JsonValue<X>::of(*x) : Json(nullptr); }
  static Json schema() { return JsonValue<X>::schema(); }
};

template <class X>
[[nodiscard]] Json json_list(const X& items) {
  Json list = Json::array();
  for (const auto& item : items) {
    list.push_back(JsonValue<std::remove_cvref_t<decltype(item)>>::of(item));
  }
  return list;
}

template <class X>
struct JsonValue<std::vector<X>> {
  static constexpr bool kNumber = JsonValue<X>::kNumber;
  static Json of(const std::vector<X>& x) { return json_list(x); }
  static Json schema() { return {{"type", "array"}, {"items", JsonValue<X>::schema()}}; }
};

template <class X, std::size_t kSize>
struct JsonValue<std::array<X, kSize>> {
  static constexpr bool kNumber = JsonValue<X>::kNumber;
  static Json of(const std::array<X, kSize>& x) { return json_list(x); }
  static Json schema() {
    return {{"type", "array"},
            {"items", JsonValue<X>::schema()},
            {"minItems", kSize},
            {"maxItems", kSize}};
  }
};

template <int kSize>
struct JsonValue<Eigen::Matrix<double, kSize, 1>> {
  using Array = std::array<double, static_cast<std::size_t>(kSize)>;
  static constexpr bool kNumber = true;
  static Json of(const Eigen::Matrix<double, kSize, 1>& x) { return json_list(x); }
  static Json schema() { return JsonValue<Array>::schema(); }
};

// Keys that are not known beforehand, each with its value.
template <class X>
using NamedValues = std::vector<std::pair<std::string, X>>;

template <class X>
struct JsonValue<NamedValues<X>> {
  static constexpr bool kNumber = false;
  static Json of(const NamedValues<X>& x) {
    Json object = Json::object();
    for (const auto& [name, value] : x) object[name] = JsonValue<X>::of(value);
    return object;
  }
  static Json schema() {
    return {{"type", "object"}, {"additionalProperties", JsonValue<X>::schema()}};
  }
};

}  // namespace totebench::app
