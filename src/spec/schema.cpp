#include "describe.h"
#include "schema_writer.h"

namespace groovewright::spec {

std::string pulley_schema(const Names& known) {
  JsonWriter json;
  json.begin_object();
  json.field("$schema", "https://json-schema.org/draft/2020-12/schema");
  json.field("title", "groovewright pulley document");
  write_definitions(json);
  Pulley empty;
  SchemaWriter writer(json, known);
  describe(writer, empty);
  writer.finish();
  json.end_object();
  return json.text();
}

}  // namespace groovewright::spec
