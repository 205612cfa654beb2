#include "build.h"

#include <unistd.h>

#include "build_documents.h"
#include "files.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/json.h"
#include "terminal.h"

namespace groovewright::cli {
namespace {

int status_of(const Rows& rows) {
  const Verdict v = worst(rows.checks);
  return v == Verdict::fail || v == Verdict::doubt ? 1 : 0;
}

void put(JsonWriter& json, const Diagnostics& diagnostics) {
  json.key("diagnostics").begin_array();
  for (const Diagnostic& g : diagnostics.all()) {
    json.begin_object().field("file", g.place.file).field("line", g.place.line).field("column", g.place.column);
    json.field("code", static_cast<int>(g.code)).field("fragment", g.fragment).field("message", g.message).end_object();
  }
  json.end_array();
}

std::string entry(const Draft& d, const Result& r, int status, const std::string& failure) {
  JsonWriter json(true);
  json.begin_object().field("file", d.path).field("status", status);
  put(json, d.diagnostics);
  json.field("failure", failure).field("folder", r.folder);
  json.key("files").begin_array();
  for (const auto& f : r.files) json.value(f);
  json.end_array().key("sheet");
  if (r.sheet) {
    json.raw(report::to_json(*r.sheet));
  } else {
    json.null();
  }
  json.end_object();
  return json.text();
}

std::string said(const Result& r, const Arguments& a) {
  std::string text = report::to_text(*r.sheet, a.want.units, wants_colour(STDOUT_FILENO));
  if (!r.folder.empty()) {
    text += "  wrote " + r.folder + "/:";
    for (const auto& f : r.files) text += " " + f;
    text += "\n";
  }
  return text;
}

}  // namespace

std::string program_error(const std::string& what) { return "groovewright: error: " + what + "\n"; }

std::string refused_json(const Diagnostics& diagnostics) {
  JsonWriter json(true);
  json.begin_object().field("format", 1).key("results").begin_array().end_array();
  put(json, diagnostics);
  json.field("status", 2).end_object();
  return json.text() + "\n";
}

Draft draft(const std::string& path, Command command) {
  Draft d;
  d.path = path;
  const auto text = read_text(path, {path, 0, 0}, d.diagnostics);
  if (!text) return d;
  d.document = *text;
  if (command == Command::drive) {
    draft_drive(d);
  } else if (command == Command::range) {
    draft_range(d);
  } else {
    draft_pulley(d);
  }
  if (d.diagnostics.has_errors()) d.name.reset();
  return d;
}

Outcome run(Draft d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  Outcome o;
  Result r;
  std::string failure;
  try {
    std::optional<Result> done;
    if (d.name) {
      done = a.command == Command::drive   ? run_drive(d, own_catalog, a)
             : a.command == Command::range ? run_range(d, own_catalog, a)
                                           : run_pulley(d, own_catalog, a);
    }
    if (done) r = std::move(*done);
    o.status = done ? status_of(r.sheet->rows) : 2;
  } catch (const Broken& e) {
    failure = d.path + ": a promise of this program did not hold: " + e.what();
  } catch (const std::bad_alloc&) {
    failure = d.path + ": out of memory";
  } catch (const std::exception& e) {
    failure = d.path + ": " + e.what();
  }
  o.err = d.diagnostics.text();
  if (!failure.empty()) {
    o.status = 3;
    o.err += program_error(failure);
  }
  if (a.json) {
    o.out = entry(d, r, o.status, failure);
  } else if (r.sheet && !a.quiet) {
    o.out = said(r, a);
  }
  return o;
}

}  // namespace groovewright::cli
