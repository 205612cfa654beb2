#include <algorithm>
#include <map>
#include <set>

#include "groovewright/part.h"

namespace groovewright::part {
namespace {

using Rows = std::set<std::string>;

/// The fit classes that resolve() will look up; the defaults are its own.
Rows fits(const spec::Pulley& pulley) {
  Rows rows;
  const auto add = [&](const spec::Word& written, const char* otherwise) {
    rows.insert(written ? written->value : otherwise);
  };
  const spec::Hub& hub = *pulley.hub;
  add(hub.bore->fit, "H7");
  for (const auto& step : hub.bore->steps) add(step.fit, "H7");
  for (const auto& r : hub.registers) add(r.fit, r.depth ? "H7" : "h6");
  for (const auto& pins : hub.dowels) add(pins.fit, "H7");
  for (const auto& pins : pulley.magnets) add(pins.fit, "H7");
  if (hub.keyway) add(hub.keyway->fit, "JS9");
  // Clearance holes by series, and counterbores.
  if (!hub.bolts.empty() || !hub.jack_screws.empty()) rows.insert({"H12", "H13", "H14"});
  return rows;
}

Rows threads(const spec::Hub& hub) {
  Rows rows;
  for (const auto* patterns : {&hub.bolts, &hub.jack_screws}) {
    for (const auto& bolts : *patterns) rows.insert(bolts.size->value);
  }
  return rows;
}

}  // namespace

std::vector<NamedFile> files_named(const spec::Pulley& pulley) {
  std::map<std::string, Rows> files{{"iso286.yaml", fits(pulley)},
                                    {"iso2768.yaml", {}},
                                    {"rules.yaml", {}},
                                    {"materials/" + pulley.material->value + ".yaml", {}}};
  for (const spec::Rim& rim : pulley.rims) {
    if (rim.section->id.empty()) continue;
    files["grooves/" + rim.section->id + ".yaml"];
    files["belts/" + rim.section->id + ".yaml"];
  }
  if (pulley.finish) files["finishes/" + pulley.finish->coating->value + ".yaml"];
  if (const Rows rows = threads(*pulley.hub); !rows.empty()) files["threads.yaml"] = rows;
  if (pulley.hub->keyway) files["keys.yaml"];
  std::vector<NamedFile> named;
  for (const auto& [name, rows] : files) named.push_back({name, {rows.begin(), rows.end()}});
  return named;
}

}  // namespace groovewright::part
