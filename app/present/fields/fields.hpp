// Tables of what is written of a struct: one line a key, with its value, unit and meaning. The JSON
// file, its JSON Schema and the table that people read all follow from it.
//
//   static const auto fields = Fields<Seam>("strap_seam", "One strap end.")
//       .value("name", &Seam::name, "Which strap end.")
//       .value("force_N", &Seam::force_N, "Of the strap on the panel.")
//       .list("stitches", &Seam::stitches, stitch_fields(), "From the first row down.");
//   fields.json(seam)                     {"name": "front left", "force_N": [0, 0, 12], ...}
//   shown_table(fields, seams, "in")      a row a seam, a column for each key that is shown()
//
// A getter is a member or a function of the struct. Where it gives an optional (of an object also a
// pointer) that is empty, the key is left out, unless or_null() says that it is null then.
// A quantity's key ends in its SI unit ("peak_N_per_m"), which the schema repeats.
#pragma once

#include <functional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "app/present/fields/columns.hpp"
#include "app/present/fields/json_value.hpp"
#include "app/present/text_table.hpp"

namespace totebench::app {

// What the schema of a field says, apart from how it is read.
struct FieldMeaning {
  std::string key;
  std::string doc;
  bool required = true;
  bool may_be_null = false;
  std::function<Json(Json& definitions)> type;  // adds what it refers to
  std::string comes_with = {};                  // a key that is there where this one is

  [[nodiscard]] bool absent_if_null() const { return !required && !may_be_null; }
};

// "doc In N/m." for the key "peak_N_per_m"; doc where no unit ends the key.
[[nodiscard]] std::string doc_with_unit(const std::string& doc, const std::string& key);

// A reference to the definition `name`, which is made of the fields unless it is there already.
[[nodiscard]] Json defined(const std::string& name, const std::string& doc,
                           const std::vector<FieldMeaning>& fields, Json& definitions);

template <class X>
inline constexpr bool kIsOptional = false;
template <class X>
inline constexpr bool kIsOptional<std::optional<X>> = true;
template <class X>
inline constexpr bool kIsOptional<X*> = !std::is_same_v<X, const char>;

template <class T>
class Fields {
 public:
  Fields(std::string name, std::string doc) : name_(std::move(name)), doc_(std::move(doc)) {}

  template <class Getter>
  Fields& value(const std::string& key, Getter getter, const std::string& doc) {
    using X = Got<Getter>;
    const bool quantity = JsonValue<X>::kNumber;
    return add({key, quantity ? doc_with_unit(doc, key) : doc, !kIsOptional<X>, false,
                [](Json&) { return JsonValue<X>::schema(); }},
               [getter](const T& object) { return JsonValue<X>::of(std::invoke(getter, object)); });
  }

  // A word of a list.
  template <class Getter>
  Fields& choice(const std::string& key, std::vector<std::string> words, Getter getter,
                 const std::string& doc) {
    using X = Got<Getter>;
    return add({key, doc, !kIsOptional<X>, false,
                [words = std::move(words)](Json&) {
                  return Json{{"enum", words}};
                }},
               [getter](const T& object) { return JsonValue<X>::of(std::invoke(getter, object)); });
  }

  Fields& constant(const std::string& key, const Json& always, const std::string& doc) {
    return add({key, doc, true, false,
                [always](Json&) {
                  return Json{{"const", always}};
                }},
               [always](const T&) { return always; });
  }

  template <class Getter, class U>
  Fields& object(const std::string& key, Getter getter, const Fields<U>& fields,
                 const std::string& doc) {
    using X = Got<Getter>;
    return add({key, doc, !kIsOptional<X>, false,
                [&fields](Json& definitions) { return fields.schema(definitions); }},
               [getter, &fields](const T& object) {
                 const auto& got = std::invoke(getter, object);
                 if constexpr (kIsOptional<X>) {
                   return got ? fields.json(*got) : Json(nullptr);
                 } else {
                   return fields.json(got);
                 }
               });
  }

  template <class Getter, class U>
  Fields& list(const std::string& key, Getter getter, const Fields<U>& fields,
               const std::string& doc) {
    const auto type = [&fields](Json& definitions) {
      return Json{{"type", "array"}, {"items", fields.schema(definitions)}};
    };
    return add({key, doc, true, false, type}, [getter, &fields](const T& object) {
      Json list = Json::array();
      for (const U& item : std::invoke(getter, object)) list.push_back(fields.json(item));
      return list;
    });
  }

  // All fields of another table with their columns, read from what the getter gives: all together
  // or, where that is an empty optional or pointer, none.
  template <class Getter, class U>
  Fields& with(const Fields<U>& fields, Getter getter) {
    for (std::size_t k = 0; k < fields.meanings().size(); ++k) {
      FieldMeaning meaning = fields.meanings()[k];
      if (kIsOptional<Got<Getter>> && meaning.required) {
        meaning.required = false;
        meaning.comes_with = fields.meanings().front().key;
      }
      add(std::move(meaning), [&fields, k, getter](const T& object) {
        const auto& got = std::invoke(getter, object);
        if constexpr (kIsOptional<Got<Getter>>) {
          return got ? fields.one(k, *got) : std::optional<Json>();
        } else {
          return fields.one(k, got);
        }
      });
    }
    return shown_of(fields, getter);
  }

  // These change the field before.
  Fields& or_null(const std::string& when) {
    FieldMeaning& last = meanings_.back();
    last.required = last.may_be_null = true;
    last.doc += " Null " + when + ".";
    return *this;
  }
  template <class Predicate>
  Fields& only_if(Predicate there, const std::string& when) {
    meanings_.back().required = false;
    meanings_.back().doc += " Only " + when + ".";
    readers_.back() = [there, read = std::move(readers_.back())](const T& object) {
      if (!std::invoke(there, object)) return std::optional<Json>();
      return read(object);
    };
    return *this;
  }

  // A column of the field before, its unit in the heading or in every cell.
  Fields& shown(const std::string& heading) {
    const std::string unit = last_unit();
    return column(heading, unit, [read = last(), unit](const T& object, const std::string& units) {
      return cell_text(read(object), unit, units);
    });
  }
  Fields& shown_with_unit(const std::string& heading) {
    return column(heading, "",
                  [read = last(), unit = last_unit()](const T& object, const std::string& units) {
                    return cell_with_unit(read(object), unit, units);
                  });
  }
  // A column with cells of its own: a text, or a number in the unit of the key before; from
  // cell(object) or from cell(object, units).
  template <class Cell>
  Fields& shown(const std::string& heading, Cell cell) {
    if constexpr (std::is_invocable_v<Cell, const T&>) {
      const std::string unit = JsonValue<Got<Cell>>::kNumber ? last_unit() : "";
      return column(heading, unit, [cell, unit](const T& object, const std::string& units) {
        return cell_text(JsonValue<Got<Cell>>::of(std::invoke(cell, object)), unit, units);
      });
    } else {
      return column(heading, "", cell);
    }
  }
  // The columns of another table, with empty cells where the getter gives nothing.
  template <class Getter, class U>
  Fields& shown_of(const Fields<U>& fields, Getter getter) {
    for (const Column<U>& part : fields.columns()) {
      column(part.heading, part.unit,
             [cell = part.cell, getter](const T& object, const std::string& units) {
               const auto& got = std::invoke(getter, object);
               if constexpr (kIsOptional<Got<Getter>>) {
                 return got ? cell(*got, units) : std::string();
               } else {
                 return cell(got, units);
               }
             });
    }
    return *this;
  }
  // Changes the column before.
  template <class Predicate>
  Fields& shown_if(Predicate there, const std::string& otherwise = "") {
    auto& cell = columns_.back().cell;
    cell = [there, otherwise, shown = std::move(cell)](const T& object, const std::string& units) {
      return std::invoke(there, object) ? shown(object, units) : otherwise;
    };
    return *this;
  }

  [[nodiscard]] Json json(const T& object) const {
    Json out = Json::object();
    for (std::size_t k = 0; k < meanings_.size(); ++k) {
      if (std::optional<Json> value = one(k, object)) out[meanings_[k].key] = std::move(*value);
    }
    return out;
  }
  [[nodiscard]] Json schema(Json& definitions) const {
    return defined(name_, doc_, meanings_, definitions);
  }

  [[nodiscard]] const std::vector<FieldMeaning>& meanings() const { return meanings_; }
  [[nodiscard]] const std::vector<Column<T>>& columns() const { return columns_; }
  // Empty where the key is left out.
  [[nodiscard]] std::optional<Json> one(std::size_t field, const T& object) const {
    return read(readers_[field], meanings_[field].absent_if_null(), object);
  }

 private:
  template <class Getter>
  using Got = std::remove_cvref_t<std::invoke_result_t<Getter, const T&>>;
  using Reader = std::function<std::optional<Json>(const T&)>;

  static std::optional<Json> read(const Reader& reader, bool absent_if_null, const T& object) {
    std::optional<Json> value = reader(object);
    if (value && value->is_null() && absent_if_null) value.reset();
    return value;
  }

  Fields& add(FieldMeaning meaning, Reader reader) {
    meanings_.push_back(std::move(meaning));
    readers_.push_back(std::move(reader));
    return *this;
  }

  template <class Cell>
  Fields& column(const std::string& heading, const std::string& unit, Cell cell) {
    columns_.push_back({heading, unit, std::move(cell)});
    return *this;
  }
  // Of the field before; a column may also stand before the first.
  [[nodiscard]] std::string last_unit() const {
    return meanings_.empty() ? "" : unit_of_key(meanings_.back().key);
  }
  [[nodiscard]] Reader last() const {
    return [reader = readers_.back(), absent_if_null = meanings_.back().absent_if_null()](
               const T& object) { return read(reader, absent_if_null, object); };
  }

  std::string name_, doc_;
  std::vector<FieldMeaning> meanings_;
  std::vector<Reader> readers_;  // one a meaning
  std::vector<Column<T>> columns_;
};

template <class T>
[[nodiscard]] std::vector<std::string> shown_row(const Fields<T>& fields, const T& object,
                                                 const std::string& units) {
  std::vector<std::string> row;
  for (const Column<T>& column : fields.columns()) row.push_back(column.cell(object, units));
  return row;
}
// A heading, then a row an object.
template <class T>
[[nodiscard]] TextTable shown_table(const Fields<T>& fields, const std::vector<T>& objects,
                                    const std::string& units) {
  TextTable table(1);
  for (const Column<T>& column : fields.columns()) {
    table.front().push_back(heading_text(column.heading, column.unit, units));
  }
  for (const T& object : objects) table.push_back(shown_row(fields, object, units));
  return table;
}

// A file: the text of it, and of its schema. Bytes that are no UTF-8 are replaced.
[[nodiscard]] std::string file_text(const Json& json);
[[nodiscard]] std::string schema_text(const std::string& title, Json root, const Json& definitions);

template <class T>
[[nodiscard]] std::string file_of(const Fields<T>& fields, const T& object) {
  return file_text(fields.json(object));
}
template <class T>
[[nodiscard]] std::string schema_of(const std::string& title, const Fields<T>& fields) {
  Json definitions = Json::object();
  Json root = fields.schema(definitions);
  return schema_text(title, std::move(root), definitions);
}

}  // namespace totebench::app
