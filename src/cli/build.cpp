#include "build.h"

#include <unistd.h>

#include <algorithm>
#include <set>

#include "files.h"
#include "folder.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/json.h"
#include "kernel_loader.h"
#include "pdf_loader.h"
#include "terminal.h"

namespace groovewright::cli {
namespace {

int status_of(const Rows& rows) {
  const Verdict v = worst(rows.checks);
  return v == Verdict::fail || v == Verdict::doubt ? 1 : 0;
}

struct Result {
  std::optional<report::Sheet> sheet;
  std::string folder;
  std::vector<std::string> files;
};

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

Result written(const job::Made& made, const Arguments& a) {
  stop_if_interrupted();
  put_folder(a.out, made.sheet.name, made.artifacts, job::kManifest);
  Result r{made.sheet, a.out + "/" + made.sheet.name, {}};
  for (const Artifact& f : made.artifacts) r.files.push_back(f.name);
  return r;
}

job::Tools tools() {
  return {[]() -> const solid::Kernel& { return load_kernel(); }, write_pdf};
}

/// nullopt where the draft's diagnostics say why.
std::optional<Result> pulley_one(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  auto prepared = job::prepare(*d.pulley, d.own_grooves, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  if (a.command == Command::check) return Result{job::check(*prepared), "", {}};
  if (!job::plan_print(*prepared, a.want, own_catalog, d.diagnostics) ||
      !job::plan_drawing(*prepared, a.want, own_catalog, d.diagnostics)) {
    return std::nullopt;
  }
  return written(job::make(*prepared, d.document, a.want, tools()), a);
}

std::optional<Result> drive_one(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  const auto prepared = job::prepare_drive(*d.drive, d.pulleys, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  job::SearchWork work;
  std::optional<Progress> shown;
  if (prepared->search) {
    // Several documents share the cores, and would garble each other's progress.
    work.threads = std::max(1, a.jobs / static_cast<int>(a.specs.size()));
    if (a.specs.size() == 1) shown.emplace(prepared->search->size(), " combinations");
    work.progress = [&](std::uint64_t done, std::uint64_t) {
      stop_if_interrupted();
      if (shown) shown->step(done);
    };
  }
  return written(job::make_drive(*prepared, d.document, a.want.units, write_pdf, work), a);
}

/// The pulleys that a document names, each with the profiles that it names itself.
std::vector<job::PulleyDocument> named_pulleys(const std::string& file,
                                               const std::vector<spec::Written<std::string>>& references,
                                               Diagnostics& diagnostics) {
  std::vector<job::PulleyDocument> pulleys;
  std::set<std::string> seen;
  for (const auto& reference : references) {
    if (!seen.insert(reference.value).second) continue;
    for (TextFile& text : read_references(file, {reference}, diagnostics)) {
      job::PulleyDocument named{reference.value, std::move(text), {}};
      Diagnostics told_later;  // by whoever settles the pulley
      if (const auto pulley = spec::read_pulley(named.document, told_later)) {
        named.own_grooves = read_references(pulley->file, spec::references(*pulley), diagnostics);
      }
      pulleys.push_back(std::move(named));
    }
  }
  return pulleys;
}

void draft_drive(Draft& d) {
  d.drive = spec::read_drive(d.document, d.diagnostics);
  if (!d.drive) return;
  d.name = d.drive->name;
  d.pulleys = named_pulleys(d.drive->file, spec::references(*d.drive), d.diagnostics);
}

/// The range, its base pulley, its drive, and the pulleys that the drive names.
void draft_range(Draft& d) {
  d.range = spec::read_range(d.document, d.diagnostics);
  if (!d.range) return;
  d.name = d.range->name;
  job::RangeFiles& f = d.range_files;
  for (auto& base : named_pulleys(d.range->file, {*d.range->base}, d.diagnostics)) f.base = std::move(base);
  for (TextFile& text : read_references(d.range->file, {*d.range->drive}, d.diagnostics)) {
    f.drive = std::move(text);
    Diagnostics told_later;  // by whoever settles the drive
    if (const auto drive = spec::read_drive(f.drive, told_later)) {
      f.pulleys = named_pulleys(drive->file, spec::references(*drive), d.diagnostics);
    }
  }
}

std::optional<Result> range_one(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  auto prepared = job::prepare_range(*d.range, d.range_files, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  if (a.build_options) {
    for (job::Option& o : prepared->options) {
      if (!job::plan_drawing(o.pulley, a.want, own_catalog, d.diagnostics)) return std::nullopt;
      static_cast<void>(written(job::make(o.pulley, d.range_files.base.document, a.want, tools()), a));
    }
  }
  return written(job::make_range(*prepared, d.document, a.want.units, write_pdf), a);
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
  } else if (auto pulley = spec::read_pulley(d.document, d.diagnostics)) {
    d.own_grooves = read_references(pulley->file, spec::references(*pulley), d.diagnostics);
    d.name = pulley->name;
    d.pulley = std::move(pulley);
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
      done = a.command == Command::drive   ? drive_one(d, own_catalog, a)
             : a.command == Command::range ? range_one(d, own_catalog, a)
                                           : pulley_one(d, own_catalog, a);
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
