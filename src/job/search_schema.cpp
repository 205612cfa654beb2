#include "groovewright/base/json.h"
#include "groovewright/base/text.h"
#include "groovewright/job/drive.h"
#include "search.h"

namespace groovewright::job {
namespace {

using Names = std::initializer_list<const char*>;

/// Writes one schema, piece by piece.
class Schema {
 public:
  std::string all() {
    json_.begin_object().field("$schema", "https://json-schema.org/draft/2020-12/schema");
    json_.field("title", "groovewright search").field("type", "object");
    json_.key("properties").begin_object();
    json_.key("format").begin_object().field("const", kSearchFormat).end_object();
    for (const char* key : {"name", "title", "program"}) typed(key, "string");
    json_.key("units").begin_object().field("const", "mm").end_object();
    json_.key("merit").begin_object().key("enum").begin_array().value("travel").value("grip").value("room").end_array();
    json_.end_object();
    for (const char* key : {"combinations", "solved", "fits"}) whole(key, 0);
    table("kept", [&] { fits(); });
    table("nearest", [&] { near_misses(); });
    table("thrown_out", [&] { counts(); });
    json_.end_object();
    closed({"format", "name", "title", "units", "program", "merit", "combinations", "solved", "fits", "kept", "nearest",
            "thrown_out"});
    json_.end_object();
    return json_.text();
  }

 private:
  void typed(const char* key, const char* type) { json_.key(key).begin_object().field("type", type).end_object(); }
  void whole(const char* key, int least) {
    json_.key(key).begin_object().field("type", "integer").field("minimum", least).end_object();
  }
  /// A figure, or null where it has none.
  void figure(const char* key) {
    json_.key(key).begin_object().key("type").begin_array().value("number").value("null").end_array().end_object();
  }
  void required(Names keys) {
    json_.key("required").begin_array();
    for (const char* key : keys) json_.value(key);
    json_.end_array();
  }
  void closed(Names keys) {
    json_.field("additionalProperties", false);
    required(keys);
  }

  /// A list of objects, whose properties and rules `of_one` writes.
  template <class F>
  void table(const char* key, const F& of_one) {
    json_.key(key).begin_object().field("type", "array").key("items").begin_object().field("type", "object");
    of_one();
    json_.end_object().end_object();
  }
  /// What both lists begin with; columns of what the document varies are named after the pulley.
  void choices() {
    whole("rank", 1);
    typed("belt", "string");
    typed("turn", "number");
  }
  void varied() {
    json_.key("patternProperties").begin_object().key("^(diameter|x|y)_[a-z0-9_]+$").begin_object();
    json_.field("type", "number").end_object().end_object();
  }
  void fits() {
    json_.key("properties").begin_object();
    choices();
    for (const char* key : {"to_near_stop", "to_far_stop", "tension_low", "tension_middle", "tension_high",
                            "slip_margin", "belt_room", "merit"}) {
      figure(key);
    }
    json_.end_object();
    varied();
    closed({"rank", "belt", "slip_margin", "belt_room", "merit"});
  }
  void near_misses() {
    json_.key("properties").begin_object();
    choices();
    json_.key("lacks").begin_object().field("type", "number").field("exclusiveMinimum", 0).end_object();
    json_.key("reasons").begin_object().field("type", "string").field("minLength", 1).end_object();
    json_.end_object();
    varied();
    closed({"rank", "belt", "lacks", "reasons"});
  }
  void counts() {
    json_.key("properties").begin_object().key("trial").begin_object().key("enum").begin_array();
    for (std::size_t i = 0; i < drive::kTrials; ++i) json_.value(to_text(static_cast<drive::Trial>(i)));
    json_.end_array().end_object();
    whole("combinations", 0);
    json_.end_object();
    closed({"trial", "combinations"});
  }

  JsonWriter json_;
};

}  // namespace

std::string search_schema() { return Schema().all(); }

}  // namespace groovewright::job
