#include <cmath>
#include <set>

#include "gauges.h"
#include "groovewright/base/text.h"
#include "make.h"

namespace groovewright::print {
namespace {

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

Check flank_step(const Choice& choice, const Print& print) {
  const Way& way = print.chosen;
  Check row = judged({"print_flank_step",
                      "Print: sideways step of a layer under a groove's flank",
                      Verdict::pass,
                      way.flank_step,
                      "mm",
                      {},
                      choice.printer.greatest_step,
                      "printer " + choice.printer.id + ": " + choice.printer.source,
                      ""});
  row.says = way.standing ? "standing on a cut, the flanks are nearly upright and need no support"
                          : "axis upright at layers of " + mm(way.layer) +
                                ": the under flank leans half the groove's angle "
                                "above the bed and reaches out " +
                                mm(way.flank_reach);
  if (row.verdict == Verdict::fail) {
    row.verdict = Verdict::doubt;
    row.says += "; it will droop: support it, or print on a machine with finer layers or a larger bed";
  }
  return row;
}

Check joints(const Print& print, const Facts& facts) {
  Check row{"print_joints",
            "Print: joints between segments",
            Verdict::pass,
            static_cast<double>(facts.cuts.size()),
            "",
            {},
            {},
            "own rule",
            ""};
  std::size_t tails = 0, dowels = 0;
  for (const Cut& cut : facts.cuts) {
    tails += cut.dovetail ? 1 : 0;
    dowels += cut.dowels.size();
  }
  row.says = std::to_string(tails) + " dovetails and " + std::to_string(dowels) + " dowel holes in " +
             std::to_string(facts.cuts.size()) + " cuts";
  if (print.chosen.pieces == 1) {
    row.says = "printed in one piece";
  } else if (tails < facts.cuts.size()) {
    row.verdict = dowels > 0 ? Verdict::note : Verdict::doubt;
    row.says += "; glue the cuts without a dovetail, on a flat plate";
  }
  return row;
}

}  // namespace

Rows rows(const part::Part& metal, const Choice& choice, const Print& print, const Facts& facts) {
  const catalog::Printer& p = choice.printer;
  const std::string by_printer = "printer " + p.id + ": " + p.source;
  Rows r;
  const auto size = [&](const std::string& id, const std::string& label, const std::string& symbol, double value) {
    r.dimensions.push_back(
        {"print_" + id, label, symbol, value, "mm", value - p.accuracy, value + p.accuracy, by_printer});
  };
  for (std::size_t i = 0; i < metal.rims.size(); ++i) {
    const part::Rim& rim = metal.rims[i];
    const std::string id = part::Part::prefix(i),
                      at = metal.rims.size() > 1 ? "Rim " + std::to_string(i + 1) + ": " : "";
    size(id + "outside_diameter", at + "Outside diameter over the crests", "d_o", rim.outside_diameter());
    for (const auto* flange : {&rim.rear, &rim.front}) {
      if (!*flange) continue;
      const std::string which = flange == &rim.rear ? "rear" : "front";
      size(id + which + "_flange_diameter", at + "Flange diameter, " + which, "", (*flange)->diameter.value);
    }
    size(id + "face_width", at + "Width of the rim", "", rim.width());
  }
  size("hub_length", "Hub, seat to front face", "", metal.hub.front_face);
  // One row a size: every hole of a pattern is alike.
  std::set<std::string> seen;
  for (const Change& c : facts.variant.changes) {
    if (!seen.insert(c.what).second) continue;
    std::string id;
    for (const char ch : c.what) id += (ch >= 'a' && ch <= 'z') || (ch >= '0' && ch <= '9') || ch == '_' ? ch : '_';
    size(id, c.what + " (metal: " + mm(c.metal) + ")", "", c.plastic);
  }

  r.checks.push_back(flank_step(choice, print));
  r.checks.push_back(joints(print, facts));
  r.checks.push_back({"print_meshes",
                      "Print: every object is closed",
                      facts.open_meshes == 0 ? Verdict::pass : Verdict::fail,
                      static_cast<double>(facts.open_meshes),
                      "",
                      {},
                      0.0,
                      "own promise",
                      "chord error " + trimmed(facts.deflection, 4) + " mm, " + trimmed(100 * kChordShare, 0) +
                          " % of the printer's resolution"});
  r.checks.push_back({"print_support",
                      "Print: hangs over farther than the printer bridges, seen from above",
                      Verdict::note,
                      facts.support,
                      "mm2",
                      {},
                      {},
                      by_printer,
                      facts.support > 0 ? "let the slicer put supports there, but none into grooves or holes"
                                        : "no support is needed"});
  r.checks.push_back({"print_over_balls",
                      "Print: diameter over balls",
                      Verdict::note,
                      0,
                      "",
                      {},
                      {},
                      "own rule",
                      "no verdict is given: a print's flanks are stepped; use the comb, and measure the metal"});
  if (!facts.too_large.empty()) {
    r.checks.push_back({"print_gauges",
                        "Print: gauges left out",
                        Verdict::note,
                        static_cast<double>(facts.too_large.size()),
                        "",
                        {},
                        {},
                        by_printer,
                        "larger than the bed: " + listed(facts.too_large)});
  }
  if (facts.left_out > 0) {
    r.checks.push_back({"print_lettering",
                        "Print: raised lettering",
                        Verdict::note,
                        static_cast<double>(facts.left_out),
                        "",
                        {},
                        {},
                        "own rule",
                        "no flat face has room for some of it: write FIT CHECK - DO NOT RUN on by hand"});
  }
  return r;
}

}  // namespace groovewright::print
