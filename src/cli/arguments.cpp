#include "arguments.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <thread>

#include "groovewright/base/quantity.h"
#include "groovewright/base/text.h"

namespace groovewright::cli {
namespace {

constexpr double kLeastDeflection = 1e-3, kMostDeflection = 1.0;
constexpr int kMostJobs = 256;

/// What the options say before it is understood.
struct Raw {
  Arguments a;
  std::string only, units, deflection;
};

struct Bad {
  std::string what;
};

void declare_specs(CLI::App& app, Raw& raw, const char* documents = "pulley documents") {
  app.add_option("specs", raw.a.specs, documents)->required();
  app.add_option("--catalog", raw.a.catalog, "folder with data files of your own");
  app.add_option("--units", raw.units, "mm or in, for what people read");
  app.add_flag("--json", raw.a.json, "one JSON document on stdout");
  app.add_flag("--quiet", raw.a.quiet, "nothing on stdout but with --json");
}

void declare_jobs(CLI::App& app, Raw& raw) {
  app.add_option(
         "--jobs", raw.a.jobs,
         "documents worked on at the same time, and threads of one that searches; all cores where none is given")
      ->check(CLI::Range(1, kMostJobs));
}

CLI::App* declare_build(CLI::App& app, Raw& raw) {
  CLI::App* build =
      app.add_subcommand("build", "make solid, meshes and sheet, judge them, write a folder for each spec");
  declare_specs(*build, raw);
  build->add_option("--out", raw.a.out, "folder that receives a folder for each part")->capture_default_str();
  build->add_option("--only", raw.only, "kinds to write: " + listed(job::kind_names()) + ", parted by commas");
  declare_jobs(*build, raw);
  build->add_option("--deflection", raw.deflection, "chord error of the triangles, as 0.01 mm");
  build->add_option("--printer", raw.a.want.printer, "for --only print: see 'list printers'")->capture_default_str();
  build->add_option("--plastic", raw.a.want.plastic, "for --only print: see 'list plastics'")->capture_default_str();
  return build;
}

CLI::App* declare_check(CLI::App& app, Raw& raw) {
  CLI::App* check = app.add_subcommand("check", "verdicts only; writes nothing and needs no kernel");
  declare_specs(*check, raw);
  return check;
}

CLI::App* declare_drive(CLI::App& app, Raw& raw) {
  CLI::App* drive =
      app.add_subcommand("drive", "work out the belt drive round a pulley, write a folder for each drive");
  declare_specs(*drive, raw, "drive documents");
  drive->add_option("--out", raw.a.out, "folder that receives a folder for each drive")->capture_default_str();
  declare_jobs(*drive, raw);
  return drive;
}

CLI::App* declare_range(CLI::App& app, Raw& raw) {
  CLI::App* range = app.add_subcommand("range", "chart several sizes of one pulley in one drive");
  declare_specs(*range, raw, "range documents");
  range->add_option("--out", raw.a.out, "folder that receives a folder for each range")->capture_default_str();
  declare_jobs(*range, raw);
  range->add_flag("--build", raw.a.build_options, "also build the pulley of each option");
  return range;
}

template <std::size_t N>
void must_be_topic(const std::string& word, const char* const (&topics)[N]) {
  const std::vector<std::string> known(std::begin(topics), std::end(topics));
  if (std::find(known.begin(), known.end(), word) != known.end()) return;
  throw Bad{"no topic '" + word + "'; " + meant_or_known(word, known)};
}

void understand_kinds(const std::string& only, job::Want& want) {
  want.kinds.clear();
  want.kinds_named = true;
  for (std::size_t from = 0; from <= only.size();) {
    const std::size_t comma = std::min(only.find(',', from), only.size());
    const std::string word = only.substr(from, comma - from);
    const auto kind = job::kind_named(word);
    if (!kind) throw Bad{"--only has no kind '" + word + "'; " + meant_or_known(word, job::kind_names())};
    want.kinds.insert(*kind);
    from = comma + 1;
  }
}

void understand(Raw& raw) {
  Arguments& a = raw.a;
  if (!raw.only.empty()) understand_kinds(raw.only, a.want);
  if (!raw.units.empty()) {
    if (raw.units != "mm" && raw.units != "in") throw Bad{"--units is mm or in, not '" + raw.units + "'"};
    a.want.units = raw.units == "in" ? report::Units::inch : report::Units::mm;
  }
  if (!raw.deflection.empty()) {
    const Quantity q = read_quantity(raw.deflection, Measure::length, "mm");
    if (q.error != QuantityError::none || !(q.value >= kLeastDeflection && q.value <= kMostDeflection)) {
      throw Bad{"--deflection goes from " + trimmed(kLeastDeflection, 4) + " to " + trimmed(kMostDeflection, 4) +
                " mm, as 0.01 mm"};
    }
    a.want.deflection = q.value;
  }
  if (a.command == Command::list) must_be_topic(a.topic, kListTopics);
  if (a.command == Command::schema) must_be_topic(a.topic, kSchemaTopics);
}

/// The library says only that arguments are left over; a mistyped command deserves the nearest name.
std::string mistyped(int argc, const char* const* argv, const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* sub : app.get_subcommands({})) names.push_back(sub->get_name());
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word.starts_with("-")) continue;
    if (std::find(names.begin(), names.end(), word) != names.end()) return "";
    return "no command '" + word + "'; " + meant_or_known(word, names);
  }
  return "a command is due: " + listed(names, "or");
}

}  // namespace

Parsed parse(int argc, const char* const* argv) {
  Raw raw;
  raw.a.jobs = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  CLI::App app{"groovewright: a short spec of a multi-rib drive pulley in; solid, meshes, sheet and proofs out.",
               "groovewright"};
  app.set_version_flag("--version", job::program());
  app.require_subcommand(1);
  const CLI::App* build = declare_build(app, raw);
  const CLI::App* check = declare_check(app, raw);
  const CLI::App* drive = declare_drive(app, raw);
  const CLI::App* range = declare_range(app, raw);
  CLI::App* schema = app.add_subcommand("schema", "JSON Schema of a document, for editors, or of an output");
  schema->add_option("topic", raw.a.topic, "pulley, drive or range; sheet or search for the output")
      ->default_str("pulley");
  CLI::App* list = app.add_subcommand("list", "what the catalogue holds");
  list->add_option("topic", raw.a.topic,
                   "grooves, materials, finishes, fits, threads, keys, belts, printers, plastics, machines, chucks, "
                   "tools, cutting or rules")
      ->default_str("grooves");
  list->add_option("--catalog", raw.a.catalog, "folder with data files of your own");
  app.footer(
      "Exit status: 0 every verdict passes, 1 a verdict fails or is in doubt, 2 the input or usage is wrong, 3 disk, "
      "kernel or program failed.");
  try {
    app.parse(argc, argv);
    raw.a.command = build->parsed()    ? Command::build
                    : check->parsed()  ? Command::check
                    : drive->parsed()  ? Command::drive
                    : range->parsed()  ? Command::range
                    : schema->parsed() ? Command::schema
                                       : Command::list;
    if (raw.a.topic.empty()) raw.a.topic = raw.a.command == Command::schema ? "pulley" : "grooves";
    understand(raw);
  } catch (const CLI::CallForHelp&) {
    return {{}, app.help(), 0};
  } catch (const CLI::CallForAllHelp&) {
    return {{}, app.help("", CLI::AppFormatMode::All), 0};
  } catch (const CLI::CallForVersion&) {
    return {{}, job::program() + "\n", 0};
  } catch (const CLI::ParseError& e) {
    const std::string better = mistyped(argc, argv, app);
    return {{},
            "groovewright: error: " + (better.empty() ? std::string(e.what()) : better) + " (--help shows the usage)\n",
            2};
  } catch (const Bad& bad) {
    return {{}, "groovewright: error: " + bad.what + "\n", 2};
  }
  return {raw.a, "", 0};
}

}  // namespace groovewright::cli
