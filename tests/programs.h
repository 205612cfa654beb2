// programs.h: from a document to planned programs, their texts and what they leave, for tests of the lathe's and mill's
// programs.
#pragma once

#include <gtest/gtest.h>

#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "../src/job/program.h"
#include "parts.h"

namespace groovewright::programs {

inline std::string demo(const std::string& name) {
  return testing::file_text(GW_SOURCE_DIR "/profiles/demo/" + name + ".yaml");
}

/// A flanged ring whose bore of 6 mm is too short for a mandrel, and six screws; `holes` may leave them out.
inline std::string ring_on_a_plug(bool holes) {
  return std::string("pulley: ring\nmaterial: aluminium-6061-T6\nrims:\n  - section: PK\n    ribs: 6\n") +
         "    size: {outside_diameter: 130 mm}\n" + "    front_flange: {height: 3 mm, thickness: 2.5 mm}\n" +
         "    rear_flange: {height: 3 mm, thickness: 2.5 mm}\n" +
         "body:\n  web: {thickness: 6 mm}\n  rim_thickness: 6 mm\n  fillet: 2 mm\n" +
         "hub:\n  diameter: 90 mm\n  length: 22 mm\n" +
         "  bore: {diameter: 40 mm, fit: H7, steps: [{side: front, diameter: 50 mm, depth: 16 mm}]}\n" +
         (holes ? "  bolts: {count: 6, size: M6, circle: 64 mm}\n" : "");
}

struct Made {
  Diagnostics diagnostics;
  std::optional<job::Prepared> prepared;  ///< nullopt where the document or its programs are refused
};

/// The document with these lines behind it, and its programs planned.
inline Made made(const std::string& document, const std::string& more = "", const std::vector<TextFile>& own = {}) {
  Made m;
  const auto pulley = spec::read_pulley({"spec.yaml", document + more}, m.diagnostics);
  if (pulley) m.prepared = job::prepare(*pulley, {}, own, m.diagnostics);
  job::Want want;
  want.kinds_named = true;
  if (m.prepared && !job::plan_programs(*m.prepared, want, own, m.diagnostics)) m.prepared.reset();
  return m;
}

/// A lathe tool about the point that programs steer, from the shop's data.
inline removal::LatheTool steered(const toolpath::Station& s, bool steers_nose_centre) {
  toolpath::Shape shape = toolpath::shape(s.tool, steers_nose_centre);
  for (auto* paths : {&shape.cutting, &shape.holder})
    for (plane::Path& path : *paths)
      for (plane::Edge& e : path)
        e.a = e.a - shape.steered, e.b = e.b - shape.steered, e.centre = e.centre - shape.steered;
  return {s.number, shape.cutting, shape.holder};
}

/// Reads and traces a text as a program of these words. nullopt where it is none.
inline std::optional<nc::Trace> traced(const std::string& text, const nc::Dialect& dialect) {
  Diagnostics d;
  const auto read = nc::read("program", text, d);
  return read ? std::optional(nc::trace(*read, dialect)) : std::nullopt;
}

/// What the proof says against these texts, "" where it says nothing: the first row that fails.
inline std::string complaint(const job::Prepared& p, const std::vector<job::ProgramText>& texts) {
  for (const Check& c : job::prove(p, texts).rows.checks)
    if (c.verdict == Verdict::fail || c.verdict == Verdict::doubt) return c.id + ": " + c.says;
  return "";
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}
inline std::string text_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

}  // namespace groovewright::programs
