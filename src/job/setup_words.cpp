#include <algorithm>
#include <cmath>
#include <set>

#include "groovewright/base/shown.h"
#include "groovewright/base/text.h"
#include "setup_words.h"

namespace groovewright::job {
namespace {

using toolpath::Milling;
using toolpath::Operation;
using toolpath::Plan;
using toolpath::Turning;

/// Each but once, in order.
std::vector<std::string> once(const std::vector<std::string>& all) {
  std::vector<std::string> out;
  for (const std::string& a : all)
    if (std::find(out.begin(), out.end(), a) == out.end()) out.push_back(a);
  return out;
}

class Writer {
 public:
  Writer(const Prepared& p, const std::vector<ProgramText>& texts, report::Units units)
      : p_(p), plan_(p.programs->plan), texts_(texts), units_(units) {}

  SetupWords make() {
    SetupWords out;
    const auto line = [&](const char* what, const std::string& says) { out.facts.emplace_back(what, says); };
    line("Part", p_.part.designation() + ", " + p_.part.material.name);
    line("Stock", plan_.stock_words);
    line("Machines", plan_.lathe.name + "; " + plan_.mill.name);
    line("Chuck", plan_.chuck.name);
    line("Order of work", listed(plan_.order, "then"));
    double total = 0;
    for (const ProgramText& t : texts_) total += seconds(t.trace, machine_for(plan_, t.id));
    line("Time of the moves", clock(total) + " min:s, without setting up, changing tools or measuring");
    out.cautions = {"Guard the spindle and the swarf; long chips cut. Never measure, wipe or reach in while it turns.",
                    "Jaws throw a part that is gripped too lightly and crush a thin one that is gripped too hard.",
                    "Run each program without a part first, then with feeds turned down and a hand on the stop.",
                    "Local codes, the machine's own manual and qualified practice go before this sheet."};
    for (const std::string& id : plan_.order) {
      for (const Turning& t : plan_.turnings)
        if (t.id == id) out.clampings.push_back(turning(t));
      for (const Milling& m : plan_.millings)
        if (m.id == id) out.clampings.push_back(milling(m));
    }
    out.left_out = not_programmed();
    return out;
  }

 private:
  [[nodiscard]] std::string size(double mm) const {
    const Shown s = shown(mm, "mm", units_);
    return s.value + " " + s.unit;
  }
  [[nodiscard]] std::string time_of(const std::string& id, int station) const {
    return clock(seconds(text_of(texts_, id).trace, machine_for(plan_, id), station));
  }
  [[nodiscard]] std::string time_of(const std::string& id) const {
    return "Time of the moves: " + clock(seconds(text_of(texts_, id).trace, machine_for(plan_, id))) + " min:s.";
  }

  [[nodiscard]] std::string coolant() const {
    return plan_.cutting.coolant ? "on" : "none, cut dry: draw the dust off, don't breathe it";
  }

  static WordTable sequence(const std::vector<Operation>& all) {
    const bool finishes = std::ranges::any_of(all, [](const Operation& o) { return o.rz > 0; });
    WordTable out{{"", "Operation", "Tool", "m/min", "mm/turn"}};
    if (finishes) out.front().emplace_back("Rz, um");
    out.front().emplace_back("Why");
    for (const Operation& o : all) {
      out.push_back({std::to_string(out.size()), o.name, "T" + std::to_string(o.station), trimmed(o.speed, 0),
                     number(o.feed, 3)});
      if (finishes) out.back().push_back(o.rz > 0 ? trimmed(1000 * o.rz, 1) : "");
      out.back().push_back(o.why);
    }
    return out;
  }

  [[nodiscard]] ClampingWords turning(const Turning& t) const {
    ClampingWords out{
        t.id,          "lathe", {}, "Tools: X and Z are set to points of the nose", {}, sequence(t.operations),
        time_of(t.id), {},      {}};
    const auto line = [&](const char* what, const std::string& says) { out.facts.emplace_back(what, says); };
    line("Program", p_.part.name + "." + t.id + ".ngc");
    line("Coolant", coolant());
    line("Set first", t.held == toolpath::Held::chuck
                          ? "grip on D " + size(t.grip_diameter) + ", " + size(t.grip_length) + " deep, " +
                                size(t.standing_out) + " standing out of the jaws"
                          : t.how);
    line("Held", t.how + ": " + t.why);
    line("Faces you", t.turned ? "the rear (seat) side" : "the front side");
    line("Zero", "X on the axis; Z on the finished face of the free side");
    if (t.sawn) line("Before", "saw the grip off, leaving " + size(2) + " to face");
    line("Spindle", "at most " + trimmed(t.max_rpm, 0) + " rpm: " + t.max_rpm_why);
    for (const std::string& w : once(t.warnings)) line("Mind", w);
    out.tools = {{"Station", "Tool", "Insert", "Nose", "Standing out", "Set X to", "Set Z to", "min:s"}};
    const std::set<int> stations = stations_used(t.operations);
    for (const toolpath::Station& s : plan_.stations) {
      if (!stations.contains(s.number)) continue;
      const auto at = set_to(s.tool);
      out.tools.push_back({"T" + std::to_string(s.number), s.tool.name, s.tool.insert,
                           s.tool.nose_radius > 0 ? size(s.tool.nose_radius) : "", size(s.tool.overhang), at.first,
                           at.second, time_of(t.id, s.number)});
    }
    if (cuts_grooves(t)) first_part(out);
    return out;
  }

  /// What of the tool stands at X and at Z once it is set.
  [[nodiscard]] std::pair<std::string, std::string> set_to(const catalog::TurningTool& t) const {
    using Use = catalog::TurningTool::Use;
    if (t.use == Use::drilling || t.use == Use::centre) return {"its axis", "its point"};
    const bool form = t.use == Use::full_form;
    if (form && plan_.lathe.steers_nose_centre) return {"leftmost tip's centre", "leftmost tip's centre"};
    if (form) return {"innermost point", "leftmost tip's middle"};
    if (plan_.lathe.steers_nose_centre) return {"the nose's centre", "the nose's centre"};
    const plane::Vec2 s = toolpath::shape(t, false).steered;
    const auto side = [](double v, const char* low, const char* high) {
      return v < -1e-9 ? std::string(low) : v > 1e-9 ? std::string(high) : std::string("middle");
    };
    return {side(s.y, "innermost point", "outermost point"), side(s.x, "leftmost point", "rightmost point")};
  }

  [[nodiscard]] static bool cuts_grooves(const Turning& t) {
    return std::any_of(t.script.commands.begin(), t.script.commands.end(),
                       [](const nc::Command& c) { return std::holds_alternative<nc::Correction>(c); });
  }

  [[nodiscard]] std::string limits(const Dimension& d) const {
    const ShownLimits l = shown_limits(d, units_);
    const std::string unit = " " + shown(0, "mm", units_).unit;
    return l.lower + unit + " to " + l.upper + unit;
  }

  void first_part(ClampingWords& out) const {
    out.first_part = {{"What", "With", "Target", "Limits"}};
    const std::string suffix = "diameter_over_balls";
    for (const Dimension& d : p_.sizes.dimensions) {
      if (!d.id.ends_with(suffix) || !d.lower || !d.upper) continue;
      const std::string prefix = d.id.substr(0, d.id.size() - suffix.size());
      std::string ball;
      for (const Dimension& b : p_.sizes.dimensions)
        if (b.id == prefix + "ball_diameter") ball = "two balls, D " + size(b.value);
      out.first_part.push_back({d.label, ball, size(d.value), limits(d)});
    }
    for (const Dimension& d : p_.sizes.dimensions) {
      const bool fit = d.fit && d.lower && d.upper &&
                       (d.id.find("bore_diameter") != std::string::npos || d.id.starts_with("register"));
      if (fit)
        out.first_part.push_back({d.label, "bore gauge or micrometer", size((*d.lower + *d.upper) / 2), limits(d)});
    }
    out.offsets =
        "Offsets stand at the top of the program: #1 changes the diameter of every groove, #2 moves the grooves along "
        "Z. Where the diameter over balls reads too large by d, set #1 to -d and run the finishing of the grooves "
        "again; what is too small can't be mended.";
  }

  [[nodiscard]] ClampingWords milling(const Milling& m) const {
    ClampingWords out{m.id,          "mill", {}, "Tools: Z is set to the tip", {}, sequence(m.operations),
                      time_of(m.id), {},     {}};
    const auto line = [&](const char* what, const std::string& says) { out.facts.emplace_back(what, says); };
    line("Program", p_.part.name + "." + m.id + ".ngc");
    line("Coolant", coolant());
    line("Held",
         std::string("on the finished bore, ") + (m.rear_up ? "rear" : "front") + " face up, clear of through holes");
    line("Zero", "X, Y on the axis; Z on the hub's face that is up; Y to 12 o'clock as that face is seen");
    out.tools = {{"Station", "Tool", "Diameter", "Flutes reach", "min:s"}};
    const std::set<int> stations = stations_used(m.operations);
    for (const toolpath::MillStation& s : plan_.mill_stations) {
      if (stations.contains(s.number))
        out.tools.push_back({"T" + std::to_string(s.number), s.tool.name, size(s.tool.diameter), size(s.tool.flute),
                             time_of(m.id, s.number)});
    }
    return out;
  }

  [[nodiscard]] bool windows_are_round() const {
    const auto& holes = p_.section.body.holes;
    return std::any_of(holes.begin(), holes.end(), [](const auto& h) { return h.id.starts_with("window"); });
  }

  /// What the programs leave to others.
  [[nodiscard]] std::vector<std::string> not_programmed() const {
    std::vector<std::string> all;
    if (p_.part.hub.keyway)
      all.emplace_back("keyway: broach or slot it after turning, before the part leaves its datum");
    if (!p_.section.body.pockets.empty() || windows_are_round())
      all.emplace_back("windows and spokes: mill them from the STEP model");
    if (p_.part.tone_ring) all.emplace_back("teeth of the tone ring: mill or hob them; the ring is turned");
    if (!p_.part.marks.empty()) all.emplace_back("timing marks: scribe or mill them");
    return all;
  }

  const Prepared& p_;
  const Plan& plan_;
  const std::vector<ProgramText>& texts_;
  report::Units units_;
};

}  // namespace

std::string clock(double s) {
  const long whole = std::lround(s), rest = whole % 60;
  return std::to_string(whole / 60) + ":" + (rest < 10 ? "0" : "") + std::to_string(rest);
}

SetupWords setup_words(const Prepared& prepared, const std::vector<ProgramText>& texts, const Proof& proof,
                       report::Units units) {
  SetupWords out = Writer(prepared, texts, units).make();
  std::vector<std::string> failed;
  for (const Check& c : proof.rows.checks)
    if (c.verdict == Verdict::fail) failed.push_back("'" + c.label + "'");
  if (!failed.empty())
    out.stop = "Do not run these programs: " + listed(failed) + (failed.size() > 1 ? " fail." : " fails.");
  return out;
}

}  // namespace groovewright::job
