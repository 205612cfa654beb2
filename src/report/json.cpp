#include "groovewright/base/json.h"

#include <cmath>

#include "groovewright/report.h"

namespace groovewright::report {
double cut(double v) {
  // 164.64 would read 164.64000000000001.
  const double scaled = v * 1e9;
  return std::abs(scaled) < 9e15 ? std::round(scaled) / 1e9 : v;
}

namespace {

void limit(JsonWriter& json, const char* key, const std::optional<double>& v) {
  if (v) {
    json.field(key, cut(*v));
  } else {
    json.key(key).null();
  }
}

}  // namespace

void write_rows(JsonWriter& json, const Rows& rows) {
  json.field("verdict", to_text(worst(rows.checks)));
  json.key("cautions").begin_array();
  for (const auto& c : rows.cautions) json.value(c);
  json.end_array();
  json.key("dimensions").begin_array();
  for (const Dimension& d : rows.dimensions) {
    json.begin_object()
        .field("id", d.id)
        .field("label", d.label)
        .field("symbol", d.symbol)
        .field("value", cut(d.value))
        .field("unit", d.unit);
    limit(json, "lower", d.lower);
    limit(json, "upper", d.upper);
    json.field("source", d.source).end_object();
  }
  json.end_array().key("checks").begin_array();
  for (const Check& c : rows.checks) {
    json.begin_object()
        .field("id", c.id)
        .field("label", c.label)
        .field("verdict", to_text(c.verdict))
        .field("value", cut(c.value))
        .field("unit", c.unit);
    limit(json, "lower", c.lower);
    limit(json, "upper", c.upper);
    json.field("source", c.source).field("says", c.says).end_object();
  }
  json.end_array();
}

std::string to_json(const Sheet& sheet) {
  JsonWriter json;
  json.begin_object()
      .field("format", kSheetFormat)
      .field("name", sheet.name)
      .field("title", sheet.title)
      .field("units", "mm");
  json.field("material", sheet.material)
      .field("revision", sheet.revision)
      .field("designation", sheet.designation)
      .field("program", sheet.program);
  write_rows(json, sheet.rows);
  json.end_object();
  return json.text();
}

std::string sheet_schema() {
  JsonWriter json;
  const auto typed = [&](const char* key, const char* type) {
    json.key(key).begin_object().field("type", type).end_object();
  };
  const auto optional_number = [&](const char* key) {
    json.key(key).begin_object().key("type").begin_array().value("number").value("null").end_array().end_object();
  };
  const auto required = [&](std::initializer_list<const char*> keys) {
    json.field("additionalProperties", false).key("required").begin_array();
    for (const char* k : keys) json.value(k);
    json.end_array();
  };
  const auto id = [&] {
    json.key("id").begin_object().field("type", "string").field("pattern", "^[a-z][a-z0-9_]*$").end_object();
  };
  json.begin_object()
      .field("$schema", "https://json-schema.org/draft/2020-12/schema")
      .field("title", "groovewright sheet")
      .field("type", "object");
  json.key("properties").begin_object();
  json.key("format").begin_object().field("const", kSheetFormat).end_object();
  for (const char* k : {"name", "title", "material", "revision", "designation", "program"}) typed(k, "string");
  json.key("units").begin_object().field("const", "mm").end_object();
  json.key("verdict")
      .begin_object()
      .key("enum")
      .begin_array()
      .value("pass")
      .value("fail")
      .value("doubt")
      .end_array()
      .end_object();
  json.key("cautions")
      .begin_object()
      .field("type", "array")
      .key("items")
      .begin_object()
      .field("type", "string")
      .end_object()
      .end_object();
  json.key("dimensions")
      .begin_object()
      .field("type", "array")
      .key("items")
      .begin_object()
      .field("type", "object")
      .key("properties")
      .begin_object();
  id();
  for (const char* k : {"label", "symbol", "unit", "source"}) typed(k, "string");
  typed("value", "number");
  optional_number("lower");
  optional_number("upper");
  json.end_object();
  required({"id", "label", "symbol", "value", "unit", "lower", "upper", "source"});
  json.end_object().end_object();
  json.key("checks")
      .begin_object()
      .field("type", "array")
      .key("items")
      .begin_object()
      .field("type", "object")
      .key("properties")
      .begin_object();
  id();
  for (const char* k : {"label", "unit", "source", "says"}) typed(k, "string");
  json.key("verdict").begin_object().key("enum").begin_array();
  for (const char* v : {"pass", "fail", "doubt", "note", "unchecked"}) json.value(v);
  json.end_array().end_object();
  typed("value", "number");
  optional_number("lower");
  optional_number("upper");
  json.end_object();
  required({"id", "label", "verdict", "value", "unit", "lower", "upper", "source", "says"});
  json.end_object().end_object();
  json.end_object();
  required({"format", "name", "title", "units", "material", "revision", "designation", "program", "verdict", "cautions",
            "dimensions", "checks"});
  json.end_object();
  return json.text();
}

}  // namespace groovewright::report
