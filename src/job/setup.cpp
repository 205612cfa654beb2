#include <algorithm>
#include <map>
#include <set>

#include "groovewright/base/shown.h"
#include "groovewright/base/text.h"
#include "program.h"

namespace groovewright::job {
namespace {

using toolpath::Milling;
using toolpath::Operation;
using toolpath::Plan;
using toolpath::Turning;

std::string clock(double s) {
  const auto whole = static_cast<int>(s + 0.5);
  const int rest = whole % 60;
  return std::to_string(whole / 60) + ":" + (rest < 10 ? "0" : "") + std::to_string(rest);
}

class Writer {
 public:
  Writer(const Prepared& p, const std::vector<ProgramText>& texts, report::Units units)
      : p_(p), plan_(p.programs->plan), texts_(texts), units_(units) {}

  std::string make() {
    out_ = "# Set-up sheet: " + p_.part.name + "\n\n";
    if (!p_.part.title.empty()) out_ += p_.part.title + "\n\n";
    line("Part", p_.part.designation() + ", " + p_.part.material.name);
    line("Stock", plan_.stock_words);
    line("Machines", plan_.lathe.name + "; " + plan_.mill.name);
    line("Chuck", plan_.chuck.name);
    line("Order of work", listed(plan_.order, "then"));
    double total = 0;
    for (const ProgramText& t : texts_) total += seconds(t.trace, machine(t.id));
    line("Time of the moves", clock(total) + " min:s, without setting up, changing tools or measuring");
    cautions();
    for (const std::string& id : plan_.order) {
      for (const Turning& t : plan_.turnings)
        if (t.id == id) turning(t);
      for (const Milling& m : plan_.millings)
        if (m.id == id) milling(m);
    }
    not_programmed();
    return std::move(out_);
  }

 private:
  [[nodiscard]] std::string size(double mm) const {
    const Shown s = shown(mm, "mm", units_);
    return s.value + " " + s.unit;
  }
  [[nodiscard]] const catalog::Machine& machine(const std::string& id) const {
    const bool turned =
        std::any_of(plan_.turnings.begin(), plan_.turnings.end(), [&](const Turning& t) { return t.id == id; });
    return turned ? plan_.lathe : plan_.mill;
  }
  [[nodiscard]] const ProgramText& text(const std::string& id) const {
    return *std::find_if(texts_.begin(), texts_.end(), [&](const ProgramText& t) { return t.id == id; });
  }
  void line(const std::string& what, const std::string& says) { out_ += "- **" + what + ":** " + says + "\n"; }
  void row(const std::vector<std::string>& cells) {
    for (const std::string& c : cells) out_ += "| " + c + " ";
    out_ += "|\n";
  }
  void heading(const std::vector<std::string>& cells) {
    row(cells);
    for (std::size_t i = 0; i < cells.size(); ++i) out_ += "|---";
    out_ += "|\n";
  }

  void cautions() {
    out_ += "\n**Cautions**\n\n";
    out_ += "- Guard the spindle and the swarf; long chips cut. Never measure, wipe or reach in while it turns.\n";
    out_ += "- Jaws throw a part that is gripped too lightly and crush a thin one that is gripped too hard.\n";
    out_ += "- Run each program without a part first, then with feeds turned down and a hand on the stop.\n";
    out_ += "- Local codes, the machine's own manual and qualified practice go before this sheet.\n";
  }

  void operations(const std::string& id, const std::vector<Operation>& all) {
    out_ += "\n**Sequence**\n\n";
    heading({"", "Operation", "Tool", "m/min", "mm/turn", "Why"});
    int n = 0;
    for (const Operation& o : all)
      row({std::to_string(++n), o.name, "T" + std::to_string(o.station), trimmed(o.speed, 0), number(o.feed, 3),
           o.why});
    out_ += "\nTime of the moves: " + clock(seconds(text(id).trace, machine(id))) + " min:s.\n";
  }

  void turning(const Turning& t) {
    out_ += "\n## " + t.id + ": lathe\n\n";
    line("Program", p_.part.name + "." + t.id + ".ngc");
    line("Set first", t.held == toolpath::Held::chuck
                          ? "grip on D " + size(t.grip_diameter) + ", " + size(t.grip_length) + " deep, " +
                                size(plan_.stock_length - t.grip_length) + " standing out of the jaws"
                          : t.how);
    line("Held", t.how + ": " + t.why);
    line("Faces you", t.turned ? "the rear (seat) side" : "the front side");
    line("Zero", "X on the axis; Z on the finished face of the free side");
    if (t.sawn) line("Before", "saw the grip off, leaving " + size(2) + " to face");
    line("Spindle", "at most " + trimmed(t.max_rpm, 0) + " rpm: " + t.max_rpm_why);
    for (const std::string& w : t.warnings) line("Mind", w);
    out_ += "\n**Tools**\n\n";
    heading({"Station", "Tool", "Insert", "Nose", "Standing out", "Set to"});
    std::set<int> used;
    for (const Operation& o : t.operations) used.insert(o.station);
    for (const toolpath::Station& s : plan_.stations) {
      if (!used.contains(s.number)) continue;
      row({"T" + std::to_string(s.number), s.tool.name, s.tool.insert,
           s.tool.nose_radius > 0 ? size(s.tool.nose_radius) : "", size(s.tool.overhang), set_to(s.tool)});
    }
    operations(t.id, t.operations);
    if (cuts_grooves(t)) first_part();
  }

  [[nodiscard]] std::string set_to(const catalog::TurningTool& t) const {
    using Use = catalog::TurningTool::Use;
    if (t.use == Use::drilling || t.use == Use::centre) return "its point";
    if (plan_.lathe.steers_nose_centre) return "the nose's centre";
    const plane::Vec2 s = toolpath::shape(t, false).steered;
    const auto side = [](double v, const char* low, const char* high) {
      return v < -1e-9 ? std::string(low) : v > 1e-9 ? std::string(high) : std::string("the middle");
    };
    return "X: " + side(s.y, "innermost point", "outermost point") +
           ", Z: " + side(s.x, "leftmost point", "rightmost point") + " of the nose";
  }

  [[nodiscard]] static bool cuts_grooves(const Turning& t) {
    return std::any_of(t.script.commands.begin(), t.script.commands.end(),
                       [](const nc::Command& c) { return std::holds_alternative<nc::Correction>(c); });
  }

  void first_part() {
    out_ += "\n**First part: measure before it leaves the machine**\n\n";
    heading({"What", "With", "Target", "Limits"});
    for (const Dimension& d : p_.sizes.dimensions) {
      if (!d.id.ends_with("diameter_over_balls") || !d.lower || !d.upper) continue;
      const std::string prefix = d.id.substr(0, d.id.size() - std::string("diameter_over_balls").size());
      std::string ball;
      for (const Dimension& b : p_.sizes.dimensions)
        if (b.id == prefix + "ball_diameter") ball = "two balls, D " + size(b.value);
      row({d.label, ball, size(d.value), size(*d.lower) + " to " + size(*d.upper)});
    }
    for (const Dimension& d : p_.sizes.dimensions) {
      const bool fit = d.fit && d.lower && d.upper &&
                       (d.id.find("bore_diameter") != std::string::npos || d.id.starts_with("register"));
      if (fit)
        row({d.label, "bore gauge or micrometer", size((*d.lower + *d.upper) / 2),
             size(*d.lower) + " to " + size(*d.upper)});
    }
    out_ +=
        "\nOffsets stand at the top of the program: `#1` changes the diameter of every groove, `#2` moves the grooves "
        "along Z. Where the diameter over balls reads too large by d, set `#1` to -d and run the finishing of the "
        "grooves again; what is too small can't be mended.\n";
  }

  void milling(const Milling& m) {
    out_ += "\n## " + m.id + ": mill\n\n";
    line("Program", p_.part.name + "." + m.id + ".ngc");
    line("Held",
         std::string("on the finished bore, ") + (m.rear_up ? "rear" : "front") + " face up, clear of through holes");
    line("Zero", "X, Y on the axis; Z on the hub's face that is up; Y to 12 o'clock as that face is seen");
    for (const std::string& w : m.warnings) line("Mind", w);
    out_ += "\n**Tools**\n\n";
    heading({"Station", "Tool", "Diameter", "Flutes reach"});
    std::set<int> used;
    for (const Operation& o : m.operations) used.insert(o.station);
    for (const toolpath::MillStation& s : plan_.mill_stations) {
      if (used.contains(s.number))
        row({"T" + std::to_string(s.number), s.tool.name, size(s.tool.diameter), size(s.tool.flute)});
    }
    operations(m.id, m.operations);
  }

  /// What the programs leave to others.
  void not_programmed() {
    std::vector<std::string> all;
    if (p_.part.hub.keyway)
      all.emplace_back("keyway: broach or slot it after turning, before the part leaves its datum");
    if (!p_.section.body.pockets.empty()) all.emplace_back("windows and spokes: mill them from the STEP model");
    if (p_.part.tone_ring) all.emplace_back("teeth of the tone ring: mill or hob them; the ring is turned");
    if (!p_.part.marks.empty()) all.emplace_back("timing marks: scribe or mill them");
    if (all.empty()) return;
    out_ += "\n## Not in these programs\n\n";
    for (const std::string& a : all) out_ += "- " + a + "\n";
  }

  const Prepared& p_;
  const Plan& plan_;
  const std::vector<ProgramText>& texts_;
  report::Units units_;
  std::string out_;
};

}  // namespace

std::string setup_sheet(const Prepared& prepared, const std::vector<ProgramText>& texts, report::Units units) {
  return Writer(prepared, texts, units).make();
}

}  // namespace groovewright::job
