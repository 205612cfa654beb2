#include "manifest.h"

#include "groovewright/base/json.h"
#include "groovewright/base/sha256.h"

namespace groovewright::job {

std::string manifest(const Made& made, const TextFile& document) {
  JsonWriter json;
  json.begin_object().field("format", 1).field("program", program()).field("name", made.sheet.name);
  json.field("verdict", to_text(worst(made.sheet.rows.checks))).field("spec_sha256", sha256(document.text));
  json.key("files").begin_array();
  for (const Artifact& a : made.artifacts) {
    json.begin_object()
        .field("name", a.name)
        .field("size", static_cast<double>(a.bytes.size()))
        .field("sha256", sha256(a.bytes))
        .end_object();
  }
  json.end_array().end_object();
  return json.text();
}

}  // namespace groovewright::job
