// schema_writer.h: the JSON Schema of one map by its description (describe.h …). Private to the room.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "bounds.h"
#include "groovewright/base/json.h"
#include "groovewright/base/quantity.h"
#include "groovewright/base/text.h"
#include "groovewright/spec.h"

namespace groovewright::spec {

// What `read_quantity` accepts, as far as a pattern can say it. Plain regular expressions without look-around, which
// not every validator has.
inline const std::string kDecimal = R"(([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?)";
inline const std::string kFraction = R"(([0-9]+( +|-))?[0-9]+/0*[1-9][0-9]*)";  // of an inch, perhaps mixed
inline const std::string kLength =
    "^ *[-+]?(" + kDecimal + R"( *(mm|cm|m|um|µm|μm|in|")?|)" + kFraction + R"( *(in|")?) *$)";
inline const std::string kAngle = "^ *[-+]?" + kDecimal + " *(deg|°|rad) *$";
inline const std::string kRatio = "^ *[-+]?(" + kDecimal + " *%?|[0-9]+[/:]0*[1-9][0-9]*) *$";
inline const std::string kSpeed = "^ *[-+]?" + kDecimal + " *(rpm|1/min) *$";
// A minus and a digit other than zero; no digit other than zero before exponent, fraction bar or unit.
inline const std::string kNegative = "^ *-[-. 0]*[1-9]";
inline const std::string kZero = "^[-+. 0]+([eE/].*)?([^0-9]*|1/min *)$";
// One line that is not blank.
inline const std::string kControls = R"(\u0000-\u001f\u007f-\u009f\u2028\u2029)";
inline const std::string kWord = "^[^" + kControls + "]*[^ " + kControls + "][^" + kControls + "]*$";

/// Patterns can't compare, so people are told: "lean of the inner wall (0 to 45 deg)".
inline std::string with_range(const char* help, Bounds range, const char* unit) {
  return std::string(help) + " (" + shortest(range.least) + " to " + shortest(range.most) + unit + ")";
}

/// The whole numbers from `least` to `most` as text, in quotes: the reader takes "8" as well as 8.
inline std::string pattern_of_counts(int least, int most) {
  std::string numbers;
  for (int i = least; i <= most; ++i) numbers += (i > least ? "|" : "") + std::to_string(i);
  return "^ *[+]?0*(" + numbers + R"()(\.0*)? *$)";
}

inline JsonWriter& types(JsonWriter& json, std::initializer_list<std::string_view> names) {
  json.key("type").begin_array();
  for (const auto n : names) json.value(n);
  return json.end_array();
}

/// Writes the JSON Schema of one map by its description: properties as they are named, constraints at the end.
class SchemaWriter {
 public:
  SchemaWriter(JsonWriter& json, const Names& known) : json_(json), known_(known) {
    json_.field("type", "object").field("additionalProperties", false).key("properties").begin_object();
  }

  void length(std::string_view key, const Length&, const char* help, Bounds range = {}) {
    // What any length of a part may be goes without saying.
    const bool usual = range.least == Bounds{}.least && range.most == Bounds{}.most;
    begin(key, usual ? help : with_range(help, range, " mm")).field("$ref", "#/$defs/length");
    // A bare number may be inches, of which fewer fit: the limits in mm are the wider ones.
    json_.field("maximum", range.most);
    if (range.least < 0) json_.field("minimum", range.least);
    sign(range).end_object();
  }
  void ratio(std::string_view key, const Ratio&, Bounds range, const char* help) {
    begin(key, with_range(help, {100 * range.least, 100 * range.most}, " %")).field("$ref", "#/$defs/ratio");
    json_.field("minimum", range.least).field("maximum", range.most);
    sign(range).end_object();
  }
  void speed(std::string_view key, const Maybe<double>&, Bounds range, const char* help) {
    begin(key, with_range(help, range, " rpm")).field("$ref", "#/$defs/speed");
    sign(range).end_object();
  }
  void angle(std::string_view key, const Turn&, Bounds range, const char* help) {
    begin(key, with_range(help, range, " deg")).field("$ref", "#/$defs/angle");
    sign(range).end_object();
  }

  void measured(std::string_view key, const Maybe<double>&, Measure measure, Bounds range, const char* help) {
    const auto [least, unit] = in_first_unit(range.least, measure);
    const double most = in_first_unit(range.most, measure).first;
    std::string units;
    for (const std::string& u : unit_names(measure)) units += (units.empty() ? "" : "|") + u;
    begin(key, with_range(help, {least, most}, unit.empty() ? "" : (" " + unit).c_str()));
    if (units.empty()) {
      types(json_, {"string", "number"}).field("pattern", "^ *[-+]?" + kDecimal + " *$");
      json_.field("minimum", range.least).field("maximum", range.most);
    } else {
      json_.field("type", "string").field("pattern", "^ *[-+]?" + kDecimal + " *(" + units + ") *$");
    }
    sign(range).end_object();
  }

  void angles(std::string_view key, const std::vector<Written<Angle>>&, int most, const char* help,
              Bounds range = kTurn) {
    array(key, with_range(help, range, " deg"), 1, most).begin_object().field("$ref", "#/$defs/angle");
    json_.end_object().end_object();
  }
  void lengths(std::string_view key, const std::vector<Written<double>>&, int most, const char* help,
               Bounds range = {}) {
    array(key, help, 1, most).begin_object().field("$ref", "#/$defs/length");
    sign(range).end_object().end_object();
  }
  void speeds(std::string_view key, const std::vector<Written<double>>&, int most, Bounds range, const char* help) {
    array(key, with_range(help, range, " rpm"), 1, most).begin_object().field("$ref", "#/$defs/speed");
    sign(range).end_object().end_object();
  }
  void ratios(std::string_view key, const std::vector<Written<double>>&, int most, Bounds range, const char* help) {
    array(key, with_range(help, {100 * range.least, 100 * range.most}, " %"), 1, most).begin_object();
    json_.field("$ref", "#/$defs/ratio").field("minimum", range.least).field("maximum", range.most);
    sign(range).end_object().end_object();
  }
  void numbers(std::string_view key, const std::vector<Written<double>>&, int most, Bounds range, const char* help) {
    types(array(key, with_range(help, range, ""), 1, most).begin_object(), {"string", "number"});
    json_.field("pattern", "^ *[-+]?" + kDecimal + " *$").field("minimum", range.least).field("maximum", range.most);
    json_.end_object().end_object();
  }
  template <class P>
  void point(std::string_view key, const std::optional<Written<P>>&, const char* help) {
    array(key, help, 2, 2).begin_object().field("$ref", "#/$defs/length").end_object().end_object();
  }
  template <class P>
  void points(std::string_view key, const std::vector<Written<P>>&, int least, int most, const char* help) {
    array(key, help, least, most).begin_object().field("type", "array").field("minItems", 2).field("maxItems", 2);
    json_.key("items").begin_object().field("$ref", "#/$defs/length").end_object().end_object().end_object();
  }
  void count(std::string_view key, const Count&, int least, int most, const char* help) {
    begin(key, help).key("anyOf").begin_array();
    json_.begin_object().field("type", "integer").field("minimum", least).field("maximum", most).end_object();
    json_.begin_object().field("type", "string").field("pattern", pattern_of_counts(least, most)).end_object();
    json_.end_array().end_object();
  }
  void word(std::string_view key, const Word&, const char* help) {
    begin(key, help).field("$ref", "#/$defs/word").end_object();
  }
  void words(std::string_view key, const std::vector<Written<std::string>>&, int least, int most, const char* help) {
    array(key, help, least, most).begin_object().field("$ref", "#/$defs/word").end_object().end_object();
  }
  void named(std::string_view key, const Word&, std::vector<std::string> Names::*kind, const char* help) {
    begin(key, help).field("$ref", "#/$defs/word");
    examples(known_.*kind);
    json_.end_object();
  }
  void name(std::string_view key, const Word&, const char* help) {
    begin(key, help);
    types(json_, {"string", "number"}).field("pattern", "^[a-z0-9][a-z0-9._-]{0,63}$").field("minimum", 0).end_object();
  }
  void flag(std::string_view key, const Flag&, const char* help) {
    begin(key, help).field("type", "boolean").end_object();
  }
  template <class E, std::size_t N>
  void choice(std::string_view key, const Maybe<E>&, const std::array<Choice<E>, N>& choices, const char* help) {
    begin(key, help).key("enum").begin_array();
    for (const auto& c : choices) json_.value(c.name);
    json_.end_array().end_object();
  }
  template <std::size_t N>
  void grade(std::string_view key, const Maybe<double>&, const std::array<double, N>& grades, const char* help) {
    begin(key, help).key("enum").begin_array();
    for (const double grade : grades) {
      const std::string name = shortest(grade);
      json_.value(grade).value(name).value("G" + name);
    }
    json_.end_array().end_object();
  }
  void units(std::string_view key, const char* help) {
    begin(key, help).key("enum").begin_array().value("mm").value("in").end_array().end_object();
  }
  void section(std::string_view key, const std::optional<SectionName>&, const char* help) {
    begin(key, help).key("anyOf").begin_array();
    json_.begin_object().field("type", "string");
    examples(known_.sections);
    json_.end_object();
    json_.begin_object().field("type", "object").field("additionalProperties", false);
    json_.key("properties").begin_object().key("file").begin_object().field("type", "string").end_object().end_object();
    json_.key("required").begin_array().value("file").end_array().end_object();
    json_.end_array().end_object();
  }
  void keyway(std::string_view key, const std::optional<Keyway>&, const char* help) {
    begin(key, help).key("anyOf").begin_array();
    json_.begin_object().field("const", "auto").end_object();
    map<Keyway>();
    json_.end_array().end_object();
  }
  template <class S>
  void object(std::string_view key, const std::optional<S>&, const char* help) {
    json_.key(key);
    map<S>(help);
  }
  template <class S>
  void list(std::string_view key, const std::vector<S>&, int least, int most, const char* help) {
    begin(key, help);
    items<S>(least, most);
    json_.end_object();
  }
  template <class S>
  void one_or_list(std::string_view key, const std::vector<S>&, int most, const char* help) {
    begin(key, help).key("anyOf").begin_array();
    map<S>();
    json_.begin_object();
    items<S>(1, most);
    json_.end_object();
    json_.end_array().end_object();
  }

  void required(std::initializer_list<std::string_view> keys) { required_.assign(keys.begin(), keys.end()); }
  void exactly_one(std::initializer_list<std::string_view> keys) {
    groups_.push_back({{keys.begin(), keys.end()}, true});
  }
  void at_most_one(std::initializer_list<std::string_view> keys) {
    groups_.push_back({{keys.begin(), keys.end()}, false});
  }
  void together(std::string_view a, std::string_view b) { pairs_.emplace_back(a, b); }

  void finish() {
    json_.end_object();
    if (!required_.empty()) key_list("required", required_);
    if (!pairs_.empty()) {
      json_.key("dependentRequired").begin_object();
      for (const auto& [a, b] : pairs_) {
        json_.key(a).begin_array().value(b).end_array();
        json_.key(b).begin_array().value(a).end_array();
      }
      json_.end_object();
    }
    if (groups_.empty()) return;
    json_.key("allOf").begin_array();
    for (const auto& [keys, one_needed] : groups_) {
      json_.begin_object().key("oneOf").begin_array();
      for (const auto& key : keys) {
        json_.begin_object();
        key_list("required", {key});
        json_.end_object();
      }
      if (!one_needed) none_of(keys);
      json_.end_array().end_object();
    }
    json_.end_array();
  }

 private:
  struct Group {
    std::vector<std::string_view> keys;
    bool one_needed;
  };

  JsonWriter& begin(std::string_view key, std::string_view help) {
    return json_.key(key).begin_object().field("description", help);
  }

  /// A list up to the schema of its items.
  JsonWriter& array(std::string_view key, std::string_view help, int least, int most) {
    return begin(key, help).field("type", "array").field("minItems", least).field("maxItems", most).key("items");
  }

  /// Says which signs are refused, for text and for numbers.
  JsonWriter& sign(Bounds range) {
    if (range.least < 0) return json_;
    const auto* refused = range.least > 0 ? "#/$defs/zero_or_negative" : "#/$defs/negative";
    return json_.key("not").begin_object().field("$ref", refused).end_object();
  }

  void examples(const std::vector<std::string>& names) {
    if (names.empty()) return;
    json_.key("examples").begin_array();
    for (const auto& n : names) json_.value(n);
    json_.end_array();
  }

  template <class S>
  void map(const char* help = nullptr) {
    json_.begin_object();
    if (help) json_.field("description", std::string_view(help));
    SchemaWriter inner(json_, known_);
    S empty;
    describe(inner, empty);
    inner.finish();
    json_.end_object();
  }

  template <class S>
  void items(int least, int most) {
    json_.field("type", "array").field("minItems", least).field("maxItems", most).key("items");
    map<S>();
  }

  void key_list(std::string_view key, const std::vector<std::string_view>& list_of) {
    json_.key(key).begin_array();
    for (const auto w : list_of) json_.value(w);
    json_.end_array();
  }

  void none_of(const std::vector<std::string_view>& keys) {
    json_.begin_object().key("not").begin_object().key("anyOf").begin_array();
    for (const auto key : keys) {
      json_.begin_object();
      key_list("required", {key});
      json_.end_object();
    }
    json_.end_array().end_object().end_object();
  }

  JsonWriter& json_;
  const Names& known_;
  std::vector<std::string_view> required_;
  std::vector<Group> groups_;
  std::vector<std::pair<std::string_view, std::string_view>> pairs_;
};

inline void write_definitions(JsonWriter& json) {
  json.key("$defs").begin_object();
  // A word such as a revision may look like a number or a truth to YAML.
  types(json.key("word").begin_object(), {"string", "number", "boolean"}).field("maxLength", kMaxWord);
  json.field("pattern", kWord).end_object();
  types(json.key("length").begin_object(), {"string", "number"}).field("pattern", kLength).end_object();
  types(json.key("ratio").begin_object(), {"string", "number"}).field("pattern", kRatio).end_object();
  types(json.key("angle").begin_object(), {"string"}).field("pattern", kAngle).end_object();
  types(json.key("speed").begin_object(), {"string"}).field("pattern", kSpeed).end_object();
  types(json.key("negative").begin_object(), {"string", "number"}).field("pattern", kNegative);
  json.field("exclusiveMaximum", 0).end_object();
  types(json.key("zero_or_negative").begin_object(), {"string", "number"}).field("pattern", kNegative + "|" + kZero);
  json.field("maximum", 0).end_object();
  json.end_object();
}

/// The whole schema of a document.
template <class Document>
std::string schema_of(const std::string& kind, const Names& known) {
  JsonWriter json;
  json.begin_object();
  json.field("$schema", "https://json-schema.org/draft/2020-12/schema");
  json.field("title", "groovewright " + kind + " document");
  write_definitions(json);
  Document empty;
  SchemaWriter writer(json, known);
  describe(writer, empty);
  writer.finish();
  json.end_object();
  return json.text();
}

}  // namespace groovewright::spec
