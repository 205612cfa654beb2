// Random scripts written in every dialect, read and traced: the moves are those that the script means.
#include <gtest/gtest.h>

#include "groovewright/base/text.h"
#include "nc_scripts.h"

namespace groovewright {
namespace {

using namespace nc;

/// The built-in dialects, and others that lack or have other functions.
std::map<std::string, Dialect> all_dialects() {
  auto all = nc_scripts::dialects();
  Dialect bare = all.at("rs274-plain");
  bare.words.clear();
  bare.decimals = 3;
  bare.lathe_diameters = true;  // a control that takes diameters without a word
  all["bare"] = bare;
  Dialect taps = all.at("rs274-lathe");
  taps.words.erase("rigid_tap");
  taps.words["tap"] = "G84 X{x} Y{y} Z{bottom} R{clear}";
  all["taps"] = taps;
  Dialect surface = all.at("rs274-lathe");
  surface.words.erase("feed_per_turn");
  all["surface only"] = surface;
  Dialect turn = all.at("rs274-lathe");
  turn.words.erase("surface_speed");
  turn.decimals = 6;
  all["feed per turn only"] = turn;
  return all;
}

Trace traced(const std::string& text, const Dialect& dialect) {
  Diagnostics diagnostics;
  const auto program = read("random.ngc", text, diagnostics);
  RC_ASSERT(program.has_value());
  return trace(*program, dialect);
}

TEST(NcRoundTrip, EveryScriptMovesAsItMeansInEveryDialect) {
  const auto dialects = all_dialects();
  expect_property([&] {
    const Script script = nc_scripts::any_script();
    for (const auto& [id, dialect] : dialects) {
      const std::string text = write(script, dialect);
      const Trace t = traced(text, dialect);
      if (!t.faults.empty())
        RC_FAIL(id + " line " + std::to_string(t.faults.front().line) + ": " + t.faults.front().says + "\n" + text);
      const double rounding = 1.1 * std::pow(10.0, -dialect.decimals);
      const std::string differs =
          nc_scripts::difference(nc_scripts::Meaning(script, dialect).moves(), t.moves, std::max(rounding, 1.1e-4));
      if (!differs.empty()) RC_FAIL(id + " " + differs + "\n" + text);
      RC_ASSERT(write(script, dialect) == text);
    }
  });
}

}  // namespace
}  // namespace groovewright
