// From the part's datums to clampings. Grooves, flange walls, bore and seat are cut in one clamping where the stock is
// long enough to be held beyond the part; the other face follows on the finished bore and seat.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include "drill.h"
#include "form.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/clip.h"

namespace groovewright::toolpath {
namespace {

using plane::Path;
using plane::Vec2;
using section::Kind;

constexpr double kFaceStock = 1.5;      // mm on a raw face
constexpr double kSkin = 1.5;           // mm under a bar's skin, on radius
constexpr double kBarStep = 5;          // mm: bars come in such steps of diameter (common practice, no source)
constexpr double kRunOut = 3;           // mm that the outside is turned beyond the far rim face
constexpr double kJawGap = 3;           // mm from there to the jaws
constexpr double kThick = 10;           // mm over the part's diameter: a thick blank
constexpr double kSawn = 2;             // mm left by the saw
constexpr double kRimSpeed = 60;        // m/s: no rim turns faster while it is cut (own estimate)
constexpr double kLeastMandrel = 8;     // mm of plain bore that a mandrel needs (common practice, no source)
constexpr double kMandrelFree = 1;      // mm of bore at its free mouth that the mandrel leaves
constexpr double kMetalChord = 0.0005;  // mm: arcs of the finished part, against which tools are held
constexpr double kKeepAway = 0.5;       // mm between any tool and what holds the part

Path rectangle(double x0, double y0, double x1, double y1) {
  return plane::run({{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true);
}
Polygon corners(const Path& p) { return plane::polyline(p, 1); }

struct Extent {
  double left = 1e9, right = -1e9, top = 0;
};
Extent extent(const Path& p) {
  Extent e;
  for (const plane::Edge& edge : p)
    e = {std::min(e.left, edge.a.x), std::max(e.right, edge.a.x), std::max(e.top, edge.a.y)};
  return e;
}

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

class Planner {
 public:
  Planner(const part::Part& part, const section::Section& section, const Choice& choice, Diagnostics& diagnostics)
      : part_(part),
        section_(section),
        choice_(choice),
        diagnostics_(diagnostics),
        size_(extent(section.body.section)) {
    plan_.lathe = choice.lathe, plan_.mill = choice.mill, plan_.chuck = choice.chuck, plan_.cutting = choice.cutting;
  }

  std::optional<Plan> make() {
    if (!choose_stock()) return std::nullopt;
    first_clamping();
    second_clamping();
    failed_ = !add_drilling(plan_, part_, section_, choice_.shop, diagnostics_);
    for (Turning& t : plan_.turnings) settle_safe(t);
    if (failed_) return std::nullopt;
    if (!out_of_reach_.empty()) return refuse();
    return std::move(plan_);
  }

 private:
  void error(Code code, const Place& place, const std::string& fragment, const std::string& message) {
    diagnostics_.error(code, place, fragment, message);
    failed_ = true;
  }

  /// The datum side comes out first: where the register is, else the seat.
  [[nodiscard]] bool rear_first() const {
    return part_.hub.registers.empty() || part_.hub.registers.front().side == part::Side::rear;
  }

  /// From the run-out to the jaws: the holder that finishes the last groove must pass them.
  [[nodiscard]] double jaw_gap() const {
    double gap = kJawGap;
    const Tools profiling = tools_of(choice_.shop, catalog::TurningTool::Use::profiling);
    const part::Rim& far = rear_first() ? part_.rims.back() : part_.rims.front();
    Tools finishers = tools_of(choice_.shop, catalog::TurningTool::Use::full_form);
    std::erase_if(finishers, [&](const catalog::TurningTool& t) { return !misfit(t, far).empty(); });
    if (const catalog::TurningTool* tool = groove_finisher(profiling, far)) finishers.push_back(*tool);
    if (finishers.empty()) return gap;
    double left = 0;
    for (const catalog::TurningTool& tool : finishers)
      left = std::max(left, -box_of(bit(shape(tool, true), 0.01).holder).low.x);
    const double beside = rear_first()
                              ? far.width() - far.behind_first_groove() - (far.grooves - 1) * far.groove.pitch.value
                              : far.behind_first_groove();
    return std::max(gap, left + far.groove.pitch.value + 1 - kRunOut - beside);
  }

  bool choose_stock() {
    const double wide = 2 * size_.top, width = size_.right - size_.left;
    const double grip = std::min(choice_.chuck.grip_length, 15.0);
    gap_ = jaw_gap();
    if (choice_.stock.diameter.value_or(0) > wide + kThick) {  // the holder must pass the blank behind the run-out, too
      run_out_ = kRunOut + gap_ - kJawGap;
      gap_ = kJawGap;
    }
    const double least_diameter = wide + 2 * kSkin, least_length = width + kFaceStock + run_out_ + gap_ + grip;
    const auto& wish = choice_.stock;
    const double diameter = wish.diameter.value_or(kBarStep * std::ceil(least_diameter / kBarStep));
    const double length = wish.length.value_or(std::ceil(least_length));
    if (diameter < wide + 0.5)
      error(Code::stock_too_small, wish.place, "",
            "bar of " + mm(diameter) + " is too thin: the part is " + mm(wide) + " over its flanges; take " +
                mm(least_diameter) + " or more");
    if (length < least_length - 1e-9)
      error(Code::stock_too_small, wish.place, "",
            "bar of " + mm(length) + " is too short: the part is " + mm(width) + " wide and " + mm(least_length) +
                " leave room to face, saw and grip it");
    double bore_radius = 1e9;
    for (std::size_t i = 0; i < section_.tags.size(); ++i)
      if (section_.tags[i].kind == Kind::bore)
        bore_radius = std::min({bore_radius, section_.body.section[i].a.y, section_.body.section[i].b.y});
    if (wish.bore.value_or(0) > 2 * bore_radius - 1)
      error(Code::stock_too_small, wish.place, "",
            "the stock's bore of " + mm(*wish.bore) + " leaves nothing to bore: the part's is " + mm(2 * bore_radius) +
                "; take stock bored to " + mm(2 * bore_radius - 1) + " or less");
    if (diameter > choice_.lathe.swing)
      error(Code::machine_too_small, part_.rims.front().place, "",
            "a blank of " + mm(diameter) + " does not swing in lathe '" + choice_.lathe.id + "', which takes " +
                mm(choice_.lathe.swing) + "; choose a lathe with more swing");
    if (length > choice_.lathe.travel_z)
      error(Code::machine_too_small, part_.rims.front().place, "",
            "a blank of " + mm(length) + " is longer than the travel of lathe '" + choice_.lathe.id + "', " +
                mm(choice_.lathe.travel_z));
    if (diameter < choice_.chuck.grip_min || diameter > choice_.chuck.grip_max)
      error(Code::machine_too_small, part_.rims.front().place, "",
            "chuck '" + choice_.chuck.id + "' grips " + mm(choice_.chuck.grip_min) + " to " +
                mm(choice_.chuck.grip_max) + ", not a blank of " + mm(diameter) + "; choose a chuck that does");
    if (failed_) return false;
    plan_.stock_diameter = diameter, plan_.stock_length = length;
    // The free face of the first clamping carries the stock to be faced; the rest stands behind the far face.
    const double bore = wish.bore.value_or(0) / 2;
    const double near = rear_first() ? size_.left - kFaceStock : size_.right + kFaceStock;
    const double far = rear_first() ? near + length : near - length;
    plan_.stock = rectangle(std::min(near, far), bore, std::max(near, far), diameter / 2);
    plan_.stock_words = (bore > 0 ? "blank, bored " + mm(2 * bore) + ", diameter " : "bar, diameter ") + mm(diameter) +
                        ", length " + mm(length);
    return true;
  }

  void limit_speed(Turning& t, bool in_jaws) const {
    const double rim = kRimSpeed * 60000 / (std::numbers::pi * plan_.stock_diameter);
    t.max_rpm = std::floor(std::min({choice_.lathe.max_rpm, rim, in_jaws ? choice_.chuck.max_rpm : 1e9}) / 10) * 10;
    t.max_rpm_why = t.max_rpm + 10 > rim                                ? "60 m/s at the blank's outside, own estimate"
                    : in_jaws && t.max_rpm + 10 > choice_.chuck.max_rpm ? "the chuck's limit"
                                                                        : "the lathe's limit";
  }

  [[nodiscard]] std::vector<Polygon> placed_stock(const Turning& t) const {
    return {corners(placed(plan_.stock, t.turned, t.shift))};
  }

  void first_clamping() {
    Turning t;
    t.id = "op10";
    t.turned = rear_first();
    t.shift = t.turned ? size_.left : -size_.right;
    const Outline o = outline(section_, t.turned, t.shift);
    const Groups g = groups(o);
    const double far_rim = o.path[g.far_face.front()].b.x;
    const double width = size_.right - size_.left;
    const double jaws = -(width + run_out_ + gap_), radius = plan_.stock_diameter / 2;
    const double left = kFaceStock - plan_.stock_length;
    t.held = Held::chuck;
    t.how = "in the chuck on the raw bar, " + mm(jaws - left) + " deep";
    t.why = "grooves, flange walls, bore and seat are cut in one clamping, so that they run true to each other";
    t.grip_diameter = plan_.stock_diameter, t.grip_length = jaws - left;
    const auto& c = choice_.chuck;
    t.keep_out = {rectangle(jaws - c.grip_length, radius, jaws, radius + c.jaw_height),
                  rectangle(jaws - c.body_to_jaw_face - 60, 0, jaws - c.body_to_jaw_face, c.body_diameter / 2)};
    limit_speed(t, true);
    if (plan_.stock.front().a.y > 0 && plan_.stock_diameter / 2 - plan_.stock.front().a.y < plan_.stock_diameter / 10)
      t.warnings.push_back(
          "The blank's wall is thinner than a tenth of its diameter: jaws would crush it. Use a ring "
          "or pie jaws, and grip lightly.");
    if (t.grip_length < 10)
      t.warnings.push_back("Only " + mm(t.grip_length) + " are gripped: take light cuts or a longer bar.");
    plan_.turnings.push_back(std::move(t));
    plan_.order.push_back("op10");

    // Behind the run-out the blank stays as it is.
    std::vector<Polygon> metal{plane::polyline(o.path, kMetalChord)};
    const double run_out = far_rim - run_out_;
    const double hole = std::max(o.path[g.bore.front()].a.y, o.path[g.bore.front()].b.y) + 1;
    metal.push_back(corners(rectangle(left, hole, run_out, radius)));
    run_task(plan_.turnings.back(), o, placed_stock(plan_.turnings.back()), plane::united(metal),
             {true, true, far_rim - kRunOut / 2, -width, {}});
  }

  void second_clamping() {
    const Turning& first = plan_.turnings.front();
    Turning t;
    t.id = "op20";
    t.turned = !first.turned;
    t.shift = t.turned ? size_.left : -size_.right;
    const Outline o = outline(section_, t.turned, t.shift);
    const Groups g = groups(o);
    const double width = size_.right - size_.left;
    const plane::Edge& bore = o.path[g.bore.front()];
    t.held = Held::mandrel;
    const double reach = std::min(bore.a.y, bore.b.y);
    t.how = "on a mandrel in the finished bore, D " + mm(2 * reach) + ", the finished seat against its shoulder";
    t.why = "what was cut first, bore and seat, carries the part; nothing grips the grooves";
    if (std::abs(bore.b.x - bore.a.x) < kLeastMandrel)
      t.warnings.push_back("The bore is only " + mm(std::abs(bore.b.x - bore.a.x)) +
                           " long: let a plug with a screw through the part's own holes hold it instead.");
    const double seat = -width;
    double shoulder = reach + 4;
    for (std::size_t i = 0; i < o.tags.size(); ++i) {
      const bool is_far = o.path[i].a.x < seat + 1e-6 && o.path[i].b.x < seat + 1e-6;
      const bool is_seat = o.tags[i].kind == Kind::seat || o.tags[i].kind == Kind::hub_face;
      if (is_far && is_seat) shoulder = std::max({shoulder, o.path[i].a.y - 0.5, o.path[i].b.y - 0.5});
    }
    t.keep_out = {rectangle(seat - 60, 0, seat, shoulder),
                  rectangle(seat, 0, std::max(bore.a.x, bore.b.x) - kMandrelFree, reach - 0.05)};
    const double sawn = kSawn;  // program: the finished face is at 0
    t.sawn = t.turned ? t.shift - sawn : sawn - t.shift;
    limit_speed(t, false);
    plan_.turnings.push_back(std::move(t));
    plan_.order.push_back("op20");

    std::vector<Polygon> stock;
    const auto to_here = [&](std::vector<Polygon> loops) {  // from the first clamping's half plane to this one's
      for (Polygon& loop : loops) {
        for (Vec2& p : loop) p.x = -p.x - width;
        std::reverse(loop.begin(), loop.end());
      }
      return loops;
    };
    stock = plane::common(to_here(left_), {corners(rectangle(-width - 1, 0, sawn, 1e3))});
    run_task(plan_.turnings.back(), o, std::move(stock), {plane::polyline(o.path, kMetalChord)},
             {false, false, 0, -width, std::exchange(for_later_, {})});
  }

  /// The grooves of each rim as boxes up to the crests: roughing goes over them.
  [[nodiscard]] std::vector<Polygon> filled_grooves(const Outline& o) const {
    std::vector<Polygon> out;
    const std::vector<GrooveEdges> all = grooves(o);
    for (std::size_t r = 0; r < part_.rims.size(); ++r) {
      double left = 1e9, right = -1e9;
      for (const GrooveEdges& g : all) {
        if (g.rim != static_cast<int>(r)) continue;
        left = std::min(left, o.path[g.left_crest].at(0.5).x);
        right = std::max(right, o.path[g.right_crest].at(0.5).x);
      }
      const double low = part_.rims[r].root_diameter() / 2 - 1, high = part_.rims[r].outside_diameter() / 2;
      if (left < right) out.push_back(corners(rectangle(left, low, right, high)));
    }
    return out;
  }

  void run_task(Turning& t, const Outline& o, std::vector<Polygon> stock, std::vector<Polygon> metal,
                const Task& task) {
    Scene scene{std::move(stock), {}};
    for (const Path& p : t.keep_out) scene.keep_out.push_back(corners(p));
    if (!scene.keep_out.empty()) scene.keep_out = plane::grown(scene.keep_out, kKeepAway, 0.01);
    std::vector<Polygon> roughed = metal;
    for (Polygon& p : filled_grooves(o)) roughed.push_back(std::move(p));
    roughed = plane::united(roughed);
    Bench bench(plan_, t, std::move(scene), std::move(metal), roughed);
    const bool is_last = plan_.turnings.size() > 1;
    for (const OutOfReach& r : turn(bench, part_, choice_.shop, o, task)) {
      const std::size_t in_section = t.turned ? o.path.size() - 1 - r.edge : r.edge;
      if (!is_last && r.work == "outside") {  // the other side may reach it
        for_later_.push_back(o.path.size() - 1 - r.edge);
        if (r.partly) begun_.insert(in_section);
        continue;
      }
      if (!r.partly && !begun_.contains(in_section)) {
        out_of_reach_.push_back({t.id, o, r});
        continue;
      }
      plan_.partly.push_back(in_section);
      t.warnings.push_back("No tool of the shop reaches all of the " +
                           std::string(section::to_text(o.tags[r.edge].kind)) + " at D " +
                           mm(2 * o.path[r.edge].at(0.5).y) + ": a little metal stays there.");
    }
    left_ = bench.scene().stock;
  }

  /// Where tools are changed: beyond every point that the programs of this clamping go to.
  void settle_safe(Turning& t) {
    nc::Point safe{0, 0, 0};
    for (const nc::Command& c : t.script.commands) {
      if (const auto* r = std::get_if<nc::Rapid>(&c))
        safe.x = std::max(safe.x, r->to.x), safe.z = std::max(safe.z, r->to.z);
    }
    t.script.safe = {std::ceil(safe.x) + 5, 0, std::ceil(safe.z) + 5};
    double least = 0;
    for (const nc::Command& c : t.script.commands)
      if (const auto* line = std::get_if<nc::Line>(&c)) least = std::min(least, line->to.z);
    const catalog::Machine& lathe = plan_.lathe;
    t.high = {t.script.safe.z, lathe.travel_x - lathe.beyond_axis};
    t.low = {t.high.x - lathe.travel_z, -lathe.beyond_axis};
    if (t.script.safe.x > t.high.y)
      error(Code::machine_too_small, part_.rims.front().place, "",
            t.id + " needs " + mm(t.script.safe.x) + " of way from the axis to change tools, and lathe '" + lathe.id +
                "' has " + mm(t.high.y) + ": choose one with more travel along X");
    if (least < t.low.x)
      error(Code::machine_too_small, part_.rims.front().place, "",
            t.id + " needs " + mm(t.high.x - least) + " of way along Z, and lathe '" + lathe.id + "' has " +
                mm(lathe.travel_z) + ": choose one with more travel along Z");
  }

  std::optional<Plan> refuse() {
    std::set<std::string> told;
    for (const Missed& m : out_of_reach_) {
      const section::Tag& tag = m.outline.tags[m.what.edge];
      const Vec2 at = m.outline.path[m.what.edge].at(0.5);
      const std::string what = std::string(section::to_text(tag.kind)) + " at D " + mm(2 * at.y);
      if (!told.insert(m.what.work + what).second) continue;
      error(Code::no_tool, tag.rim >= 0 ? part_.rims[static_cast<std::size_t>(tag.rim)].place : part_.hub.place, "",
            "no tool of the shop reaches the " + what + " in " + m.clamping + " (" + m.what.work + "): " + would_do(m));
    }
    return std::nullopt;
  }

  struct Missed {
    std::string clamping;
    Outline outline;
    OutOfReach what;
  };

  [[nodiscard]] std::string would_do(const Missed& m) const {
    const section::Tag& tag = m.outline.tags[m.what.edge];
    const plane::Edge& e = m.outline.path[m.what.edge];
    if (m.what.work == "grooves") {
      const part::Rim& rim = part_.rims[static_cast<std::size_t>(std::max(0, tag.rim))];
      return "a neutral profiling tool would do with a nose of at most " + mm(rim.root_radius.value) +
             ", tolerance included, and an included angle under " + trimmed(rim.groove.angle.deg(), 1) + " deg" +
             (m.what.why.empty() ? "" : "; " + m.what.why);
    }
    if (e.is_arc()) return "a nose of at most " + mm(e.radius()) + " and enough reach would do";
    if (m.what.work == "bore") return "a boring bar for " + mm(2 * std::min(e.a.y, e.b.y)) + " or less would do";
    const double lean = atan2_of(std::abs(e.b.x - e.a.x), std::abs(e.b.y - e.a.y)) * 180 / std::numbers::pi;
    return "the wall leans " + trimmed(lean, 1) +
           " deg from square to the axis: a tool whose edge clears that, for the "
           "hand that faces it, with more reach, would do";
  }

  const part::Part& part_;
  const section::Section& section_;
  const Choice& choice_;
  Diagnostics& diagnostics_;
  Extent size_;
  Plan plan_;
  double gap_ = kJawGap, run_out_ = kRunOut;
  bool failed_ = false;
  std::vector<Polygon> left_;
  std::vector<Missed> out_of_reach_;
  std::set<std::size_t> begun_;  // edges of the section that the first clamping leaves in part
  Chain for_later_;              // edges of the second clamping's outline
};

}  // namespace

std::optional<Plan> plan(const part::Part& part, const section::Section& section, const Choice& choice,
                         Diagnostics& diagnostics) {
  return Planner(part, section, choice, diagnostics).make();
}

}  // namespace groovewright::toolpath
