// reader.h: reads one map of a document by its description (describe.h …). Private to the room.
#pragma once

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "bounds.h"
#include "groovewright/base/quantity.h"
#include "groovewright/base/text.h"
#include "groovewright/spec.h"
#include "groovewright/yaml.h"

namespace groovewright::spec {

inline std::string kind_of(const yaml::Node& n) {
  switch (n.kind) {
    case yaml::Node::Kind::list:
      return "a list";
    case yaml::Node::Kind::map:
      return "a map of keys";
    case yaml::Node::Kind::scalar:
      break;
  }
  return n.scalar.empty() && !n.quoted ? "nothing" : "a single value";
}

inline std::string not_this(const yaml::Node& n) { return ", not " + yaml::shown(n.scalar); }

/// Reads one map of the document by its description. Keys nobody asked for are errors, told when it is destroyed.
class Reader {
  using Entry = yaml::Entry;
  using Node = yaml::Node;

 public:
  Reader(const Node& map, std::string where, std::string bare_length_unit, Diagnostics& diagnostics)
      : map_(map), where_(std::move(where)), bare_(std::move(bare_length_unit)), diagnostics_(diagnostics) {}

  void length(std::string_view key, Length& out, const char*, Bounds range = {}) {
    quantity(key, out, Measure::length, range, [](double v) { return v; });
  }
  void ratio(std::string_view key, Ratio& out, Bounds range, const char*) {
    quantity(key, out, Measure::ratio, range, [](double v) { return v; });
  }
  void speed(std::string_view key, Maybe<double>& out, Bounds range, const char*) {
    quantity(key, out, Measure::speed, range, [](double v) { return v; });
  }
  void angle(std::string_view key, Turn& out, Bounds range, const char*) {
    quantity(key, out, Measure::angle, range, [](double v) { return Angle::rad(v); });
  }

  /// Any other measure; the range in the unit that it is kept in.
  void measured(std::string_view key, Maybe<double>& out, Measure measure, Bounds range, const char*) {
    quantity(key, out, measure, range, [](double v) { return v; });
  }

  void angles(std::string_view key, std::vector<Written<Angle>>& out, int most, const char*, Bounds range = kTurn) {
    quantities(key, out, most, Measure::angle, range, [](double v) { return Angle::rad(v); });
  }
  void lengths(std::string_view key, std::vector<Written<double>>& out, int most, const char*, Bounds range = {}) {
    quantities(key, out, most, Measure::length, range, [](double v) { return v; });
  }
  void speeds(std::string_view key, std::vector<Written<double>>& out, int most, Bounds range, const char*) {
    quantities(key, out, most, Measure::speed, range, [](double v) { return v; });
  }
  void ratios(std::string_view key, std::vector<Written<double>>& out, int most, Bounds range, const char*) {
    quantities(key, out, most, Measure::ratio, range, [](double v) { return v; });
  }
  void numbers(std::string_view key, std::vector<Written<double>>& out, int most, Bounds range, const char*) {
    quantities(key, out, most, Measure::plain, range, [](double v) { return v; });
  }

  template <class P>
  void point(std::string_view key, std::optional<Written<P>>& out, const char*) {
    const Entry* e = take(key);
    if (e) out = read_point<P>(key, e->value);
  }
  template <class P>
  void points(std::string_view key, std::vector<Written<P>>& out, int least, int most, const char*) {
    const Entry* e = take(key);
    if (!e || !is_list(*e, least, most)) return;
    for (const Node& item : e->value.items) {
      if (const auto p = read_point<P>(key, item)) out.push_back(*p);
    }
  }

  void count(std::string_view key, Count& out, int least, int most, const char*) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    const Node& n = e->value;
    const Quantity q = read_quantity(n.scalar, Measure::plain);
    if (q.error != QuantityError::none || q.value != std::floor(q.value)) {
      error(Code::not_a_number, n, "'" + std::string(key) + "' takes a whole number, as 8" + not_this(n));
    } else if (q.value < least || q.value > most) {
      error(Code::bad_count, n,
            "'" + std::string(key) + "' goes from " + std::to_string(least) + " to " + std::to_string(most) +
                not_this(n));
    } else {
      out = {static_cast<int>(q.value), n.place};
    }
  }

  void word(std::string_view key, Word& out, const char*) {
    const Entry* e = take(key);
    if (e && is_text(key, e->value)) out = {e->value.scalar, e->value.place};
  }

  void words(std::string_view key, std::vector<Written<std::string>>& out, int least, int most, const char*) {
    const Entry* e = take(key);
    if (!e || !is_list(*e, least, most)) return;
    for (const Node& item : e->value.items) {
      if (is_text(key, item)) out.push_back({item.scalar, item.place});
    }
  }

  /// Whether the catalogue has it is for room `part` to judge.
  void named(std::string_view key, Word& out, std::vector<std::string> Names::*, const char* help) {
    word(key, out, help);
  }

  void name(std::string_view key, Word& out, const char*) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    out = {e->value.scalar, e->value.place};
    if (!is_name(out->value)) {
      error(Code::bad_name, e->value,
            yaml::shown(out->value) +
                " can't be a name, which becomes a folder: 1 to 64 of a-z, 0-9, '.', '_' and '-', first a letter or "
                "digit, as crank-24");
    }
  }

  void flag(std::string_view key, Flag& out, const char*) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    // YAML's core schema has three spellings each.
    const std::string& s = e->value.scalar;
    const bool yes = s == "true" || s == "True" || s == "TRUE", no = s == "false" || s == "False" || s == "FALSE";
    if (e->value.quoted || !(yes || no)) {
      error(Code::unknown_choice, e->value, "'" + std::string(key) + "' is true or false" + not_this(e->value));
      return;
    }
    out = {yes, e->value.place};
  }

  template <class E, std::size_t N>
  void choice(std::string_view key, Maybe<E>& out, const std::array<Choice<E>, N>& choices, const char*) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    std::vector<std::string> names;
    for (const auto& c : choices) {
      if (e->value.scalar == c.name) {
        out = {c.value, e->value.place};
        return;
      }
      names.emplace_back(c.name);
    }
    error(Code::unknown_choice, e->value,
          "'" + std::string(key) + "' is " + listed(names, "or") + not_this(e->value) +
              suggestion(e->value.scalar, names));
  }

  /// As a number or behind a G: 6.3, G6.3.
  template <std::size_t N>
  void grade(std::string_view key, Maybe<double>& out, const std::array<double, N>& grades, const char*) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    const std::string& text = e->value.scalar;
    const Quantity q = read_quantity(text, Measure::plain);
    const bool is_number = !e->value.quoted && q.error == QuantityError::none;
    std::vector<std::string> names;
    for (const double grade : grades) {
      names.push_back(shortest(grade));
      if ((is_number && q.value == grade) || text == names.back() || text == "G" + names.back())
        out = {grade, e->value.place};
    }
    if (!out) {
      error(Code::unknown_choice, e->value,
            "'" + std::string(key) + "' is " + listed(names, "or") + not_this(e->value));
    }
  }

  void units(std::string_view key, const char*) {
    Maybe<std::string> unit;
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    if (e->value.scalar != "mm" && e->value.scalar != "in")
      error(Code::unknown_choice, e->value, "'units' is mm or in" + not_this(e->value));
  }

  void section(std::string_view key, std::optional<SectionName>& out, const char*) {
    const Entry* e = take(key);
    if (!e) return;
    const Node& n = e->value;
    if (n.kind == Node::Kind::scalar && is_scalar(*e)) {
      out = SectionName{n.place, n.scalar, ""};
    } else if (n.kind == Node::Kind::map) {
      Word file;
      Reader inner = inside(n, key);
      inner.word("file", file, "");
      inner.required({"file"});
      inner.finish();
      if (file) out = SectionName{file->place, "", file->value};
    } else if (n.kind == Node::Kind::list) {
      error(Code::wrong_kind, n.place, std::string(key),
            "'section' is PH, PJ, PK, PL or PM, or {file: own-profile.yaml}");
    }
  }

  void keyway(std::string_view key, std::optional<Keyway>& out, const char* help) {
    const Entry* e = find(key);
    if (e && e->value.kind == Node::Kind::scalar && e->value.scalar == "auto") {
      take(key);
      out = Keyway{};
      out->place = e->value.place;
      return;
    }
    if (e && e->value.kind == Node::Kind::scalar) {
      if (is_scalar(*take(key)))
        error(Code::wrong_kind, e->value, "'keyway' is auto, or {width: 8 mm, depth: 3.3 mm}" + not_this(e->value));
      return;
    }
    object(key, out, help);
  }

  template <class S>
  void object(std::string_view key, std::optional<S>& out, const char*) {
    const Entry* e = take(key);
    if (!e || !is_map(key, e->value)) return;
    out = read_map<S>(e->value, key);
  }

  template <class S>
  void list(std::string_view key, std::vector<S>& out, int least, int most, const char*) {
    const Entry* e = take(key);
    if (!e || !is_list(*e, least, most)) return;
    read_items(key, e->value, out);
  }

  template <class S>
  void one_or_list(std::string_view key, std::vector<S>& out, int most, const char*) {
    const Entry* e = take(key);
    if (!e) return;
    if (e->value.kind == Node::Kind::list) {
      if (is_list(*e, 1, most)) read_items(key, e->value, out);
    } else if (is_map(key, e->value)) {
      out.push_back(read_map<S>(e->value, key));
    }
  }

  void required(std::initializer_list<std::string_view> keys) {
    for (const auto key : keys) {
      if (find(key)) continue;
      error(Code::missing_key, map_.place, std::string(key), where_ + " needs '" + std::string(key) + "'");
    }
  }

  void exactly_one(std::initializer_list<std::string_view> keys) {
    if (at_most_one(keys) == 0) {
      error(Code::one_of_keys, map_.place, where_, where_ + " needs one of " + quoted_list(keys));
    }
  }

  int at_most_one(std::initializer_list<std::string_view> keys) {
    const Entry* first = nullptr;
    int found = 0;
    for (const Entry& e : map_.entries) {
      bool among = false;
      for (const auto key : keys) among = among || e.key == key;
      if (!among) continue;
      ++found;
      if (!first) {
        first = &e;
        continue;
      }
      error(where_ == "size" || where_ == "of" ? Code::two_sizes : Code::one_of_keys, e.key_place, e.key,
            where_ + " takes one of " + quoted_list(keys) + "; line " + std::to_string(first->key_place.line) +
                " gives '" + first->key + "' already: remove either");
    }
    return found;
  }

  void together(std::string_view a, std::string_view b) {
    const Entry* ea = find(a);
    const Entry* eb = find(b);
    if (!ea == !eb) return;
    const Entry& there = ea ? *ea : *eb;
    error(Code::missing_key, there.key_place, there.key,
          "'" + there.key + "' needs '" + std::string(ea ? b : a) + "' beside it");
  }

  /// Reports keys that no description asked for.
  void finish() {
    std::vector<std::string> known(asked_.begin(), asked_.end());
    for (const Entry& e : map_.entries) {
      if (asked_.contains(e.key)) continue;
      error(Code::unknown_key, e.key_place, e.key,
            where_ + " has no key '" + e.key + "'; " + meant_or_known(e.key, known));
    }
  }

 private:
  Reader inside(const Node& map, std::string_view key) { return {map, std::string(key), bare_, diagnostics_}; }

  template <class S>
  S read_map(const Node& map, std::string_view key) {
    S out;
    out.place = map.place;
    Reader inner = inside(map, key);
    describe(inner, out);
    inner.finish();
    return out;
  }

  template <class S>
  void read_items(std::string_view key, const Node& list_node, std::vector<S>& out) {
    for (const Node& item : list_node.items) {
      if (is_map(key, item)) out.push_back(read_map<S>(item, key));
    }
  }

  [[nodiscard]] const Entry* find(std::string_view key) const {
    for (const Entry& e : map_.entries) {
      if (e.key == key) return &e;
    }
    return nullptr;
  }

  const Entry* take(std::string_view key) {
    asked_.insert(std::string(key));
    return find(key);
  }

  bool is_scalar(const Entry& e) {
    if (e.value.kind == Node::Kind::scalar && (!e.value.scalar.empty() || e.value.quoted)) return true;
    error(Code::wrong_kind, e.value.place, e.key, "'" + e.key + "' takes a single value, not " + kind_of(e.value));
    return false;
  }

  /// A person's own words, which go to one line of paper.
  bool is_text(std::string_view key, const Node& n) {
    const std::string label = "'" + std::string(key) + "'";
    if (n.kind != Node::Kind::scalar || n.scalar.find_first_not_of(' ') == std::string::npos) {
      const bool is_blank = n.kind == Node::Kind::scalar && n.quoted;
      error(Code::wrong_kind, n.place, std::string(key),
            label + " takes a text, not " + (is_blank ? "an empty one" : kind_of(n)));
    } else if (n.scalar.size() > std::size_t{kMaxWord}) {
      error(Code::out_of_range, n.place, n.scalar.substr(0, 20) + "…",
            label + " takes a text of at most " + std::to_string(kMaxWord) + " bytes, here are " +
                std::to_string(n.scalar.size()));
    } else if (one_line(n.scalar) != n.scalar) {
      error(Code::wrong_kind, n, label + " takes a text of one line, without tabs");
    } else {
      return true;
    }
    return false;
  }

  bool is_map(std::string_view key, const Node& n) {
    if (n.kind == Node::Kind::map) return true;
    error(Code::wrong_kind, n.place, std::string(key),
          "'" + std::string(key) + "' takes keys below it, not " + kind_of(n));
    return false;
  }

  bool is_list(const Entry& e, int least, int most) {
    if (e.value.kind != Node::Kind::list) {
      error(Code::wrong_kind, e.value.place, e.key,
            "'" + e.key + "' takes a list, each item behind '- ' or within [ ], not " + kind_of(e.value));
      return false;
    }
    const auto n = static_cast<int>(e.value.items.size());
    if (n >= least && n <= most) return true;
    error(Code::bad_count, e.value.place, e.key,
          "'" + e.key + "' holds " + std::to_string(least) + " to " + std::to_string(most) + " items, here are " +
              std::to_string(n));
    return false;
  }

  template <class T, class Make>
  void quantity(std::string_view key, Maybe<T>& out, Measure measure, Bounds range, Make make) {
    const Entry* e = take(key);
    if (!e || !is_scalar(*e)) return;
    if (const auto v = read_number(e->value, key, measure, range)) out = {make(*v), e->value.place};
  }

  template <class T, class Make>
  void quantities(std::string_view key, std::vector<Written<T>>& out, int most, Measure measure, Bounds range,
                  Make make) {
    const Entry* e = take(key);
    if (!e || !is_list(*e, 1, most)) return;
    for (const Node& item : e->value.items) {
      if (const auto v = read_number(item, key, measure, range)) out.push_back({make(*v), item.place});
    }
  }

  template <class P>
  std::optional<Written<P>> read_point(std::string_view key, const Node& n) {
    if (n.kind != Node::Kind::list || n.items.size() != 2) {
      error(Code::wrong_kind, n.place, std::string(key),
            "'" + std::string(key) + "' takes a place, [x, y], as [40 mm, 330 mm]");
      return std::nullopt;
    }
    const Bounds range{-kMaxLength, kMaxLength};
    const auto x = read_number(n.items[0], key, Measure::length, range),
               y = read_number(n.items[1], key, Measure::length, range);
    if (!x || !y) return std::nullopt;
    return Written<P>{{*x, *y}, n.place};
  }

  std::optional<double> read_number(const Node& n, std::string_view key, Measure measure, Bounds range) {
    const std::string label = "'" + std::string(key) + "'";
    if (n.kind != Node::Kind::scalar) {
      error(Code::wrong_kind, n.place, std::string(key), label + " takes a single value, not " + kind_of(n));
      return std::nullopt;
    }
    const Quantity q = read_quantity(n.scalar, measure, bare_);
    const std::string example = ", as " + example_of(measure);
    switch (q.error) {
      case QuantityError::not_a_number:
        error(Code::not_a_number, n, label + " takes a number in " + allowed_units(measure) + example + not_this(n));
        return std::nullopt;
      case QuantityError::missing_unit:
        error(Code::missing_unit, n,
              label + " needs a unit: " + allowed_units(measure) + example + not_this(n) +
                  (measure == Measure::length ? " (or say 'units: mm' once at the top)" : ""));
        return std::nullopt;
      case QuantityError::wrong_unit:
        error(Code::wrong_unit, n, label + " takes " + allowed_units(measure) + example + not_this(n));
        return std::nullopt;
      case QuantityError::none:
        break;
    }
    const double shown = measure == Measure::angle ? Angle::rad(q.value).deg() : q.value;
    const double slack = 1e-9 * std::max(std::abs(range.least), std::abs(range.most));
    if (!std::isfinite(shown) || shown < range.least - (measure == Measure::angle ? slack : 0) ||
        shown > range.most + (measure == Measure::angle ? slack : 0)) {
      error(Code::out_of_range, n, label + " goes from " + limits_of(range, measure) + not_this(n));
      return std::nullopt;
    }
    return q.value;
  }

  /// "0 to 45 deg": in the unit that people write.
  static std::string limits_of(Bounds range, Measure measure) {
    if (measure == Measure::angle) return shortest(range.least) + " to " + shortest(range.most) + " deg";
    const auto [least, unit] = in_first_unit(range.least, measure);
    const std::string most = shortest(in_first_unit(range.most, measure).first);
    return shortest(least) + " to " + most + (unit.empty() ? "" : " " + unit);
  }

  static std::string quoted_list(std::initializer_list<std::string_view> keys) {
    std::vector<std::string> words;
    for (const auto key : keys) words.push_back("'" + std::string(key) + "'");
    return listed(words, "or");
  }

  static std::string suggestion(const std::string& word, const std::vector<std::string>& names) {
    const std::string near = nearest(word, names);
    return near.empty() ? "" : "; did you mean '" + near + "'?";
  }

  void error(Code code, const Node& n, std::string message) { error(code, n.place, n.scalar, std::move(message)); }
  void error(Code code, const Place& place, std::string fragment, std::string message) {
    diagnostics_.error(code, place, std::move(fragment), std::move(message));
  }

  const Node& map_;
  std::string where_;
  std::string bare_;
  Diagnostics& diagnostics_;
  std::set<std::string> asked_;
};

/// The document's own unit for bare lengths must be known before any length is read, wherever `units:` stands.
inline std::string bare_length_unit(const yaml::Node& document) {
  const yaml::Node* units = document.find("units");
  if (!units || units->kind != yaml::Node::Kind::scalar) return {};
  return units->scalar == "mm" || units->scalar == "in" ? units->scalar : std::string{};
}

/// A document whose first key is `kind`: "pulley". nullopt, with every mistake found in `diagnostics`, where any is.
template <class Document>
std::optional<Document> read_document(const TextFile& file, const std::string& kind, Diagnostics& diagnostics) {
  const auto tree = yaml::read(file, diagnostics);
  if (!tree) return std::nullopt;
  const std::string begins = "a " + kind + " document begins with '" + kind + ": name'";
  if (tree->kind != yaml::Node::Kind::map || tree->entries.empty()) {
    diagnostics.error(Code::wrong_kind, tree->place, "", begins + " and goes on with keys");
    return std::nullopt;
  }
  const yaml::Entry& first = tree->entries.front();
  if (first.key != kind) {
    diagnostics.error(Code::missing_key, first.key_place, first.key,
                      "the first key says what a document is; " + begins + ", here stands '" + first.key + "'");
    return std::nullopt;
  }
  Diagnostics found;
  Document document;
  document.file = file.name;
  Reader reader(*tree, kind, bare_length_unit(*tree), found);
  describe(reader, document);
  reader.finish();
  for (const Diagnostic& d : found.all()) diagnostics.add(d);
  if (found.has_errors()) return std::nullopt;
  return document;
}

}  // namespace groovewright::spec
