#include "describe.h"
#include "groovewright/base/json.h"
#include "groovewright/base/quantity.h"

namespace groovewright::spec {
namespace {

/// Writes the JSON Schema of one map by its description: properties as they are named, constraints at the end.
class SchemaWriter {
 public:
  explicit SchemaWriter(JsonWriter& json) : json_(json) {
    json_.field("type", "object").field("additionalProperties", false).key("properties").begin_object();
  }

  void length(std::string_view key, const Length&, const char* help, Range = {}) { quantity(key, kLength, help, true); }
  void ratio(std::string_view key, const Ratio&, Range, const char* help) { quantity(key, kRatio, help, true); }
  void speed(std::string_view key, const Maybe<double>&, Range, const char* help) {
    quantity(key, kSpeed, help, false);
  }
  void angle(std::string_view key, const Turn&, Range, const char* help) { quantity(key, kAngle, help, false); }

  void angles(std::string_view key, const std::vector<Written<Angle>>&, int most, const char* help) {
    begin(key, help).field("type", "array").field("minItems", 1).field("maxItems", most).key("items").begin_object();
    json_.field("type", "string").field("pattern", kAngle).end_object().end_object();
  }
  void count(std::string_view key, const Count&, int least, int most, const char* help) {
    begin(key, help).field("type", "integer").field("minimum", least).field("maximum", most).end_object();
  }
  void word(std::string_view key, const Word&, const char* help) {
    // A word such as a revision may look like a number to YAML.
    begin(key, help)
        .key("type")
        .begin_array()
        .value("string")
        .value("number")
        .end_array()
        .field("maxLength", 512)
        .end_object();
  }
  void name(std::string_view key, const Word&, const char* help) {
    begin(key, help).field("type", "string").field("pattern", "^[a-z0-9][a-z0-9._-]{0,63}$").end_object();
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
  void units(std::string_view key, const char* help) {
    begin(key, help).key("enum").begin_array().value("mm").value("in").end_array().end_object();
  }
  void section(std::string_view key, const std::optional<SectionName>&, const char* help) {
    begin(key, help).key("anyOf").begin_array();
    json_.begin_object().field("type", "string").end_object();
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
    if (!required_.empty()) words("required", required_);
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
        words("required", {key});
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

  // What `read_quantity` accepts, as far as a pattern can say it.
  static constexpr std::string_view kNumber =
      R"([-+]?([0-9]+([ -][0-9]+/[0-9]+|/[0-9]+)?|[0-9]+\.|[0-9]*\.?[0-9]+([eE][-+]?[0-9]+)?))";
  static inline const std::string kLength = "^" + std::string(kNumber) + R"( *(mm|cm|m|um|µm|μm|in|")?$)";
  static inline const std::string kAngle = "^" + std::string(kNumber) + " *(deg|°|rad)$";
  static inline const std::string kRatio = "^(" + std::string(kNumber) + " *%?|[0-9]+[/:][0-9]+)$";
  static inline const std::string kSpeed = "^" + std::string(kNumber) + " *(rpm|1/min)$";

  JsonWriter& begin(std::string_view key, const char* help) {
    return json_.key(key).begin_object().field("description", std::string_view(help));
  }

  void quantity(std::string_view key, const std::string& pattern, const char* help, bool bare_number) {
    begin(key, help).key("type");
    if (bare_number) {
      json_.begin_array().value("string").value("number").end_array();
    } else {
      json_.value("string");
    }
    json_.field("pattern", pattern).end_object();
  }

  template <class S>
  void map(const char* help = nullptr) {
    json_.begin_object();
    if (help) json_.field("description", std::string_view(help));
    SchemaWriter inner(json_);
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

  void words(std::string_view key, const std::vector<std::string_view>& list_of) {
    json_.key(key).begin_array();
    for (const auto w : list_of) json_.value(w);
    json_.end_array();
  }

  void none_of(const std::vector<std::string_view>& keys) {
    json_.begin_object().key("not").begin_object().key("anyOf").begin_array();
    for (const auto key : keys) {
      json_.begin_object();
      words("required", {key});
      json_.end_object();
    }
    json_.end_array().end_object().end_object();
  }

  JsonWriter& json_;
  std::vector<std::string_view> required_;
  std::vector<Group> groups_;
  std::vector<std::pair<std::string_view, std::string_view>> pairs_;
};

}  // namespace

std::string pulley_schema() {
  JsonWriter json;
  json.begin_object();
  json.field("$schema", "https://json-schema.org/draft/2020-12/schema");
  json.field("title", "groovewright pulley document");
  Pulley empty;
  SchemaWriter writer(json);
  describe(writer, empty);
  writer.finish();
  json.end_object();
  return json.text();
}

}  // namespace groovewright::spec
