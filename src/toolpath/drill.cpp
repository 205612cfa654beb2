// Holes parallel to the axis, in the order of work: spot, drill, bore wider, ream or tap, counterbore, break edges.
#include "drill.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "feeds.h"
#include "groovewright/base/text.h"

namespace groovewright::toolpath {
namespace {

using catalog::MillingTool;
using part::HolePattern;
using Use = MillingTool::Use;

constexpr double kClear = 2;         // mm over a mouth
constexpr double kSafe = 15;         // mm over the highest point of the part, between holes
constexpr double kThrough = 1;       // mm that a drill's full diameter comes out behind
constexpr double kTapOut = 2;        // pitches that a tap comes out behind
constexpr double kHelix = 0.2;       // of the cutter's diameter, down for each turn
constexpr double kReamStock = 0.5;   // mm on diameter, at most, for a reamer
constexpr double kLeastFeed = 0.25;  // of the data's feed: less rubs (own estimate)
constexpr double kSame = 1e-6;

struct Hole {
  double x = 0, y = 0, mouth = 0;  ///< mm in the program
};
/// One pattern as the program sees it: z down from its face.
struct Job {
  const HolePattern* pattern = nullptr;
  std::vector<Hole> holes;
  double diameter = 0;  ///< as drilled or bored
  double bottom = 0;    ///< program z of the full diameter's end
  bool through = true;
  double sink = 0, sink_floor = 0;  ///< counterbore; 0: none
  double edge_break = 0;
};

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

class Driller {
 public:
  Driller(Plan& plan, const part::Part& part, const section::Section& section, const catalog::Shop& shop,
          Diagnostics& diagnostics)
      : plan_(plan), part_(part), section_(section), shop_(shop), diagnostics_(diagnostics) {}

  void add(bool rear_up, const std::string& id) {
    milling_ = {};
    milling_.id = id;
    milling_.rear_up = rear_up;
    milling_.face = rear_up ? part_.hub.rear_face : part_.hub.front_face;
    milling_.script.plane = nc::Plane::xy;
    for (const plane::Edge& e : section_.body.section) top_ = std::max(top_, down(e.a.x));
    milling_.script.safe = {0, 0, std::ceil(top_ + kSafe + 30)};
    std::vector<Job> jobs;
    for (const HolePattern& p : part_.holes) {
      if (needs_rear(p) == rear_up) jobs.push_back(job(p));
    }
    if (jobs.empty()) return;
    spot(jobs);
    for (const Job& j : jobs) make(j);
    for (const Job& j : jobs) finish(j);
    plan_.millings.push_back(std::move(milling_));
    plan_.order.push_back(id);
  }

  [[nodiscard]] bool refused() const { return refused_; }

 private:
  /// Part z as the program's: 0 on the face that is up, falling into the part.
  [[nodiscard]] double down(double z) const { return milling_.rear_up ? milling_.face - z : z - milling_.face; }

  static bool needs_rear(const HolePattern& p) {
    if (p.sink_diameter > 0) return p.sink_side == part::Side::rear;
    return p.depth > 0 && p.side == part::Side::rear;
  }

  Job job(const HolePattern& p) const {
    Job out;
    out.pattern = &p;
    out.edge_break = p.edge_break;
    for (const plane::RoundHole& h : section_.body.holes) {
      if (h.id.substr(0, h.id.find('[')) != p.id) continue;
      double mouth = down(h.profile.front().x), end = down(h.profile.back().x);
      if (mouth < end) std::swap(mouth, end);
      out.holes.push_back({milling_.rear_up ? -h.at.x : h.at.x, h.at.y, mouth});
      out.through = h.through;
      out.bottom = end;
      double narrow = 1e9;
      for (const plane::Vec2& q : h.profile)
        if (q.y > 0) narrow = std::min(narrow, q.y);
      out.diameter = 2 * narrow;
      if (!h.through) {  // the drill's point is not part of the full diameter
        for (const plane::Vec2& q : h.profile)
          if (std::abs(q.y - narrow) < kSame) out.bottom = std::min(mouth, down(q.x));
      }
      if (p.sink_diameter > 0 && p.sink_depth > 0) {
        out.sink = p.sink_diameter;
        out.sink_floor = mouth - p.sink_depth;
      }
    }
    return out;
  }

  const MillingTool* tool(Use use, const std::function<bool(const MillingTool&)>& fits) const {
    const MillingTool* best = nullptr;
    for (const auto& [id, t] : shop_.milling_tools) {
      if (t.use == use && fits(t) && (best == nullptr || t.diameter > best->diameter)) best = &t;
    }
    return best;
  }

  void command(nc::Command c) { milling_.script.commands.push_back(std::move(c)); }

  int station(const MillingTool& t) {
    for (const MillStation& s : plan_.mill_stations)
      if (s.tool.id == t.id) return s.number;
    plan_.mill_stations.push_back({static_cast<int>(plan_.mill_stations.size()) + 1, t});
    return plan_.mill_stations.back().number;
  }

  /// For each mm of feed a turn, N m: of end mills down their helix, of the others from the hole as it is, `core`, to
  /// the diameter that they leave, `wide`.
  [[nodiscard]] double torque_a_feed(const MillingTool& t, double wide, double core) const {
    const double kc = plan_.cutting.specific_force;
    if (t.use == Use::tap) return tapping_torque(t.pitch, t.diameter, kc) / t.pitch;
    // 1 mm a turn at 1 rpm, over that turn's pi / 30 rad/s; its whole width is in metal.
    if (t.use == Use::end_mill) return milling_power(1, kHelix * t.diameter, t.diameter, kc) * 30 / std::numbers::pi;
    return drilling_torque(1, wide, core, kc);
  }

  /// Feeds of the data are shares of the diameter. False where the mill can't turn the tool.
  bool begin(const std::string& name, const MillingTool& t, const std::string& work, const HolePattern& p,
             double wide = 0, double core = 0) {
    const auto& data = plan_.cutting.works.find(work)->second;  // the catalogue holds all works
    const double rpm = spindle_speed(data.speed, t.diameter, plan_.mill.max_rpm);
    const double share = t.use == Use::end_mill ? t.teeth : 1;
    const double a_turn = t.use == Use::tap ? t.pitch : data.feed * t.diameter * share;
    const double least = t.use == Use::tap ? t.pitch : kLeastFeed * a_turn;
    const Driven can = driven(plan_.mill, {rpm, a_turn, torque_a_feed(t, wide, core), least});
    if (!can.lacks.empty()) {
      refused_ = true;
      diagnostics_.error(Code::machine_too_small, p.place, "", "to " + name + ": '" + t.name + "' " + can.lacks);
      return false;
    }
    const int number = station(t);
    command(nc::Comment{name});
    if (number != tool_) command(nc::ToolChange{number, t.name});
    tool_ = number;
    rpm_ = std::floor(can.rpm);
    command(nc::SpindleSpeed{rpm_, nc::Turn::cw});
    command(nc::FeedPerMinute{rpm_ * can.feed});
    if (plan_.cutting.coolant) command(nc::Coolant{true});
    const bool held = can.rpm < rpm || can.feed < a_turn;
    milling_.operations.push_back({name, number, std::numbers::pi * t.diameter * rpm_ / 1000, can.feed, 0,
                                   held ? "held to the mill's torque" : ""});
    return true;
  }

  void over(const Hole& h) {
    command(nc::Rapid{{h.x, h.y, top_ + kSafe}});
    command(nc::Rapid{{h.x, h.y, h.mouth + kClear}});
  }
  void up(const Hole& h) { command(nc::Rapid{{h.x, h.y, top_ + kSafe}}); }

  void cycle(const Hole& h, double bottom, double peck = 0, double pitch = 0) {
    command(nc::Rapid{{h.x, h.y, top_ + kSafe}});
    nc::Cycle c;
    c.at = {h.x, h.y, 0};
    c.clear = h.mouth + kClear, c.bottom = bottom, c.peck = peck, c.pitch = pitch;
    command(c);
    up(h);
  }

  void refuse(const HolePattern& p, const std::string& what) {
    refused_ = true;
    diagnostics_.error(Code::no_tool, p.place, "", "no tool of the shop " + what);
  }

  void spot(const std::vector<Job>& jobs) {
    const MillingTool* t = tool(Use::centre, [](const MillingTool&) { return true; });
    if (t == nullptr) return refuse(*jobs.front().pattern, "spots holes: a spot drill of 90 deg would do");
    // Wide enough to break the edge of a plain hole, narrow enough to vanish in a counterbore.
    const auto wide = [&](const Job& j) {
      return std::min({t->diameter, j.diameter + 2 * j.edge_break, j.sink > 0 ? j.diameter : 1e9});
    };
    double widest = 0;
    for (const Job& j : jobs) widest = std::max(widest, wide(j));
    if (!begin("spot every hole", *t, "centre", *jobs.front().pattern, widest)) return;
    for (const Job& j : jobs)
      for (const Hole& h : j.holes) cycle(h, h.mouth - catalog::cone_length(wide(j), t->point));
  }

  /// Drills or mills the hole's own diameter.
  void make(const Job& j) {
    const HolePattern& p = *j.pattern;
    double wanted = j.diameter;
    const bool reamed = p.fit.has_value() && p.use == HolePattern::Use::dowel;
    const MillingTool* drill = nullptr;
    if (p.use == HolePattern::Use::magnet) {
      drill = nullptr;  // its floor is flat
    } else if (reamed) {
      drill = tool(Use::drill, [&](const MillingTool& t) {
        return t.diameter < wanted - 0.05 && t.diameter >= wanted - kReamStock;
      });
    } else {
      drill = tool(Use::drill, [&](const MillingTool& t) { return std::abs(t.diameter - wanted) < 0.011; });
    }
    if (drill != nullptr) {
      const double behind = p.tapped && p.thread ? std::max(kThrough, kTapOut * p.thread->pitch + 0.5) : kThrough;
      const double end = j.through ? j.bottom - behind - drill->point_length() : j.bottom - drill->point_length();
      const double deep = j.holes.front().mouth - end;
      if (deep > drill->flute)
        return refuse(p, "is long enough to drill " + p.label + ": " + mm(deep) + " of flute would do");
      if (!begin("drill " + p.id + ", D " + mm(drill->diameter), *drill, "drill", p, drill->diameter)) return;
      for (const Hole& h : j.holes) cycle(h, end, deep > 3 * drill->diameter ? drill->diameter : 0);
      return;
    }
    const double end = j.through ? j.bottom - kThrough : j.bottom;
    const MillingTool* mill = tool(Use::end_mill, [&](const MillingTool& t) {
      return t.diameter <= 0.8 * wanted && t.flute >= j.holes.front().mouth - end;
    });
    if (mill == nullptr || reamed)
      return refuse(p, "makes " + p.label + ": a drill of " + mm(reamed ? wanted - 0.2 : wanted) + " would do");
    if (!begin("mill " + p.id + ", D " + mm(wanted), *mill, "mill", p)) return;
    for (const Hole& h : j.holes) helix(h, *mill, wanted, end);
  }

  void finish(const Job& j) {
    const HolePattern& p = *j.pattern;
    if (j.sink > 0) {
      const MillingTool* mill = tool(
          Use::end_mill, [&](const MillingTool& t) { return t.diameter <= 0.8 * j.sink && t.flute >= p.sink_depth; });
      if (mill == nullptr)
        return refuse(p,
                      "counterbores to " + mm(j.sink) + ": an end mill of " + mm(0.8 * j.sink) + " or less would do");
      const std::string name = "counterbore " + p.id + ", D " + mm(j.sink) + ", " + mm(p.sink_depth) + " deep";
      if (!begin(name, *mill, "mill", p)) return;
      for (const Hole& h : j.holes) helix(h, *mill, j.sink, j.sink_floor);
    } else if (p.sink_diameter > 0) {
      const MillingTool* sink = tool(Use::countersink, [&](const MillingTool& t) {
        return t.diameter >= p.sink_diameter && std::abs(t.point.rad() - p.sink_angle.rad()) < 1e-6;
      });
      if (sink == nullptr) return refuse(p, "countersinks to " + mm(p.sink_diameter));
      const std::string name = "countersink " + p.id + ", D " + mm(p.sink_diameter);
      if (!begin(name, *sink, "countersink", p, p.sink_diameter, j.diameter)) return;
      for (const Hole& h : j.holes) cycle(h, h.mouth - catalog::cone_length(p.sink_diameter, sink->point));
    }
    if (p.fit.has_value() && p.use == HolePattern::Use::dowel) {
      const MillingTool* reamer =
          tool(Use::reamer, [&](const MillingTool& t) { return std::abs(t.diameter - j.diameter) < 0.02; });
      if (reamer == nullptr) return refuse(p, "reams " + p.label + ": a reamer of " + mm(j.diameter) + " would do");
      const std::string name = "ream " + p.id + ", D " + mm(j.diameter) + " " + p.fit->id;
      if (!begin(name, *reamer, "ream", p, reamer->diameter, reamer->diameter - kReamStock)) return;
      for (const Hole& h : j.holes) {
        over(h);
        command(nc::Line{{h.x, h.y, j.through ? j.bottom - kThrough : j.bottom}});
        command(nc::Line{{h.x, h.y, h.mouth + kClear}});
        up(h);
      }
    }
    if (p.tapped && p.thread.has_value()) {
      const MillingTool* tap = tool(Use::tap, [&](const MillingTool& t) {
        return std::abs(t.diameter - p.thread->diameter) < kSame && std::abs(t.pitch - p.thread->pitch) < kSame;
      });
      if (tap == nullptr)
        return refuse(p, "taps " + p.thread->id + ": a tap of pitch " + mm(p.thread->pitch) + " would do");
      if (!begin("tap " + p.id + ", " + p.thread->id, *tap, "tap", p)) return;
      const double full = p.depth > 0 ? p.depth : 0;
      for (const Hole& h : j.holes)
        cycle(h, j.through ? j.bottom - kTapOut * tap->pitch : h.mouth - full - tap->pitch, 0, tap->pitch);
    }
  }

  /// A round pocket: down along a helix, once round on the floor, out through the middle.
  void helix(const Hole& h, const MillingTool& t, double diameter, double floor) {
    const double r = (diameter - t.diameter) / 2;
    over(h);
    command(nc::Rapid{{h.x + r, h.y, h.mouth + kClear}});
    command(nc::Line{{h.x + r, h.y, h.mouth + 0.2}});
    const double fall = h.mouth + 0.2 - floor;
    const int turns = std::max(1, static_cast<int>(std::ceil(fall / (kHelix * t.diameter))));
    const nc::Point centre{h.x, h.y, 0};
    for (int half = 1; half <= 2 * turns + 2; ++half) {
      const double z = std::max(floor, h.mouth + 0.2 - fall * half / (2 * turns));
      command(nc::Arc{{h.x + (half % 2 == 1 ? -r : r), h.y, half >= 2 * turns ? floor : z}, centre, nc::Turn::ccw});
    }
    command(nc::Line{{h.x, h.y, floor + 0.1}});
    up(h);
  }

  Plan& plan_;
  const part::Part& part_;
  const section::Section& section_;
  const catalog::Shop& shop_;
  Diagnostics& diagnostics_;
  Milling milling_;
  double top_ = -1e9, rpm_ = 0;
  int tool_ = 0;
  bool refused_ = false;
};

}  // namespace

bool add_drilling(Plan& plan, const part::Part& part, const section::Section& section, const catalog::Shop& shop,
                  Diagnostics& diagnostics) {
  const auto next = [&] { return "op" + std::to_string(10 * (plan.order.size() + 1)); };
  bool all = true;
  for (const bool rear_up : {false, true}) {
    Driller driller(plan, part, section, shop, diagnostics);
    driller.add(rear_up, next());
    all = all && !driller.refused();
  }
  return all;
}

}  // namespace groovewright::toolpath
