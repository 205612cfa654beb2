// From the part's datums to clampings. Grooves, flange walls, bore and seat are cut in one clamping where the stock is
// long enough to be held beyond the part; the other face follows on the finished bore and seat. Else the datum side is
// cut first, and the grooves on a mandrel or plug that locates on it.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include "blank.h"
#include "drill.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/clip.h"
#include "turn.h"

namespace groovewright::toolpath {
namespace {

using plane::Path;
using plane::Vec2;
using section::Kind;

constexpr double kSawn = 2;             // mm left by the saw
constexpr double kRimSpeed = 60;        // m/s: no rim turns faster while it is cut (own estimate)
constexpr double kMandrelFree = 1;      // mm of bore at its free mouth that the mandrel leaves
constexpr double kFixture = 60;         // mm that mandrels and plugs stand out of what holds them
constexpr double kSlim = 0.05;          // mm on radius that what fills a bore is thinner
constexpr double kMetalChord = 0.0005;  // mm: arcs of the finished part, against which tools are held
constexpr double kKeepAway = 0.5;       // mm between any tool and what holds the part
constexpr double kRoomBehind = 3;       // mm on radius that a shoulder stays below the grooves
constexpr double kClearOfFace = 2;      // mm from the jaws to a face that is cut
constexpr double kLeastGrip = 4;        // mm (own estimate)
constexpr double kHair = 1e-6;
constexpr double kBehind = 1.5;  // mm that outside and bore are cut beyond the metal's end

Path rectangle(double x0, double y0, double x1, double y1) {
  return plane::run({{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true);
}
Polygon corners(const Path& p) { return plane::polyline(p, 1); }

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

class Planner {
 public:
  Planner(const part::Part& part, const section::Section& section, const Choice& choice, Diagnostics& diagnostics)
      : part_(part), section_(section), choice_(choice), diagnostics_(diagnostics), size_(extent(section)) {
    plan_.lathe = choice.lathe, plan_.mill = choice.mill, plan_.chuck = choice.chuck, plan_.cutting = choice.cutting;
  }

  std::optional<Plan> make() {
    const auto blank = choose_blank(part_, section_, choice_, diagnostics_);
    if (!blank) return std::nullopt;
    blank_ = *blank;
    lay_stock();
    datum_side();
    if (blank_.method == Method::plug) {
      other_face();
      drill();
      outside_on_plug();
    } else {
      on_mandrel();
      drill();
    }
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

  void lay_stock() {
    plan_.stock_diameter = blank_.diameter, plan_.stock_length = blank_.length;
    // The free face of the first clamping carries the stock to be faced; the rest stands behind the far face.
    const double near = rear_first(part_) ? size_.left - kFaceStock : size_.right + kFaceStock;
    const double far = rear_first(part_) ? near + blank_.length : near - blank_.length;
    plan_.stock = rectangle(std::min(near, far), blank_.bore / 2, std::max(near, far), blank_.diameter / 2);
    left_ = {corners(plan_.stock)};
    plan_.stock_words = std::string(blank_.method == Method::bar ? "bar" : "blank") +
                        (blank_.bore > 0 ? ", bored " + mm(blank_.bore) : "") + ", diameter " + mm(blank_.diameter) +
                        ", length " + mm(blank_.length);
  }

  void drill() { failed_ = !add_drilling(plan_, part_, section_, choice_.shop, diagnostics_) || failed_; }

  void limit_speed(Turning& t, bool in_jaws) const {
    const double rim = kRimSpeed * 60000 / (std::numbers::pi * plan_.stock_diameter);
    t.max_rpm = std::floor(std::min({choice_.lathe.max_rpm, rim, in_jaws ? choice_.chuck.max_rpm : 1e9}) / 10) * 10;
    t.max_rpm_why = t.max_rpm + 10 > rim                                ? "60 m/s at the blank's outside, own estimate"
                    : in_jaws && t.max_rpm + 10 > choice_.chuck.max_rpm ? "the chuck's limit"
                                                                        : "the lathe's limit";
  }

  /// A clamping with this side free, not held yet.
  [[nodiscard]] Turning clamping(bool rear_free) const {
    Turning t;
    t.id = "op" + std::to_string(10 * (plan_.order.size() + 1));
    t.turned = rear_free;
    t.shift = rear_free ? size_.left : -size_.right;
    return t;
  }
  void add(Turning t) {
    plan_.order.push_back(t.id);
    plan_.turnings.push_back(std::move(t));
  }

  /// What is left of the stock, in the clamping's half plane.
  [[nodiscard]] std::vector<Polygon> left_in(const Turning& t) const {
    std::vector<Polygon> out;
    for (const Polygon& loop : left_) out.push_back(corners(placed(plane::run(loop, true), t.turned, t.shift)));
    return out;
  }
  void keep_left(const Turning& t, const std::vector<Polygon>& stock) {
    left_.clear();
    for (const Polygon& loop : stock) {
      Polygon p = loop;
      for (Vec2& q : p) q.x = (t.turned ? -1 : 1) * (q.x - t.shift);
      if (t.turned) std::reverse(p.begin(), p.end());
      left_.push_back(std::move(p));
    }
  }

  /// In jaws on the stock's raw outside, `grip` deep; `jaws`: program z of their front.
  void grip(Turning& t, const std::vector<Polygon>& stock, double jaws, double grip) const {
    const auto& c = choice_.chuck;
    const double radius = plan_.stock_diameter / 2, end = jaws - grip, back = end - c.jaw_thickness;
    t.held = Held::chuck;
    t.grip_diameter = plan_.stock_diameter, t.grip_length = grip;
    t.standing_out = box_of(stock).high.x - jaws;
    // Stock that ends there lies on the step of the jaws; further in, bars and drills run out.
    std::vector<Vec2> jaw{{jaws, radius}, {jaws, radius + c.jaw_height}, {back, radius + c.jaw_height}};
    const double step = radius - c.seat_width;
    const bool rests = box_of(stock).low.x > end - kHair;
    for (const Vec2 p :
         rests ? std::vector<Vec2>{{back, step}, {end, step}, {end, radius}} : std::vector<Vec2>{{back, radius}})
      jaw.push_back(p);
    const double body = jaws - c.body_to_jaw_face;
    t.keep_out = {plane::run(jaw, true), rectangle(body - kFixture, 0, body, c.body_diameter / 2)};
    limit_speed(t, true);
    const double wall = wall_at(stock, end + grip / 2);
    if (wall < plan_.stock_diameter / 10)
      t.warnings.push_back("The wall under the jaws is " + mm(wall) +
                           ", less than a tenth of the diameter: jaws would crush it. Use a ring or pie jaws, and grip "
                           "lightly.");
    if (grip < 10) t.warnings.push_back("Only " + mm(grip) + " are gripped: take light cuts or a longer piece.");
  }

  /// How deep jaws may grip a blank whose raw outside begins at `end`: no farther than clear of the rim's free face,
  /// which is faced past them.
  double depth_for(const Outline& o, double end, double wish) {
    const double rim = o.path[groups(o).free_face.back()].b.x, room = rim - kClearOfFace - end;
    if (room < kLeastGrip)
      error(Code::stock_too_small, choice_.stock.place.line > 0 ? choice_.stock.place : part_.rims.front().place, "",
            "a blank of " + mm(blank_.length) + " is too short to be gripped beside the rim's face: take " +
                mm(std::ceil(blank_.length + kLeastGrip - room)) + " or more, or a bar");
    return std::min(wish, std::max(room, kLeastGrip));
  }

  /// How thick the outermost metal is at z, on radius.
  static double wall_at(const std::vector<Polygon>& stock, double z) {
    constexpr double kThin = 0.05;
    plane::Box outermost{{0, 0}, {0, 0}};
    for (const Polygon& p : plane::common(stock, {corners(rectangle(z - kThin, 0, z + kThin, 1e3))})) {
      const plane::Box box = box_of({p});
      if (box.high.y > outermost.high.y) outermost = box;
    }
    return outermost.high.y - outermost.low.y;
  }

  void datum_side() {
    Turning t = clamping(rear_first(part_));
    const Outline o = outline(section_, t.turned, t.shift);
    const bool is_bar = blank_.method == Method::bar;
    const double end = kFaceStock - plan_.stock_length;
    const double deep = is_bar ? blank_.grip : depth_for(o, end, blank_.grip);
    t.how = "in the chuck on the raw " + std::string(is_bar ? "bar" : "blank") + ", " + mm(deep) + " deep";
    t.why = is_bar ? "grooves, flange walls, bore and seat are cut in one clamping, so that they run true to each other"
                   : "the datum side comes first: bore and seat carry the part later, because " + blank_.why;
    const std::vector<Polygon> stock = left_in(t);
    grip(t, stock, is_bar ? -(size_.width() + blank_.run_out + blank_.gap) : end + deep, deep);
    add(std::move(t));

    const Groups g = groups(o);
    Task task;
    task.bore = task.face = true;
    if (!is_bar) {
      task.bore_end = end;
      run_task(o, stock, {}, task, false);
      return;
    }
    // Behind the run-out the blank stays as it is.
    const double far_rim = o.path[g.far_face.front()].b.x;
    const double hole = std::max(o.path[g.bore.front()].a.y, o.path[g.bore.front()].b.y) + 1;
    task.outside = true;
    task.far_end = far_rim - kRunOut / 2;
    task.bore_end = -size_.width();
    run_task(o, stock, {corners(rectangle(end, hole, far_rim - blank_.run_out, plan_.stock_diameter / 2))}, task, true);
  }

  /// Radius of a fixture's shoulder, which lies against the seat, or what is finished beside the bore.
  [[nodiscard]] double shoulder(const Outline& o, double bore) const {
    double radius = bore + 4;
    for (std::size_t i = 0; i < o.tags.size(); ++i) {
      const plane::Edge& e = o.path[i];
      const bool is_far = e.a.x < -size_.width() + 1e-6 && e.b.x < -size_.width() + 1e-6;
      const bool is_seat = o.tags[i].kind == Kind::seat || o.tags[i].kind == Kind::hub_face;
      if (is_far && is_seat) radius = std::max({radius, e.a.y - 0.5, e.b.y - 0.5});
    }
    // Tools run out behind the rim.
    for (const part::Rim& rim : part_.rims)
      radius = std::max(bore + 1, std::min(radius, rim.root_diameter() / 2 - kRoomBehind));
    return radius;
  }

  /// On what was finished first: a shoulder against the seat, and a body that fills the bore.
  void put_on_fixture(Turning& t, const Outline& o) const {
    const plane::Edge& bore = o.path[groups(o).bore.front()];
    const double reach = std::min(bore.a.y, bore.b.y), seat = -size_.width();
    t.keep_out = {rectangle(seat - kFixture, 0, seat, shoulder(o, reach)),
                  rectangle(seat, 0, std::max(bore.a.x, bore.b.x) - kMandrelFree, reach - kSlim)};
  }

  void on_mandrel() {
    const bool is_bar = blank_.method == Method::bar;
    Turning t = clamping(!plan_.turnings.front().turned);
    const Outline o = outline(section_, t.turned, t.shift);
    const plane::Edge& bore = o.path[groups(o).bore.front()];
    t.held = Held::mandrel;
    t.how = "on a mandrel in the finished bore, D " + mm(2 * std::min(bore.a.y, bore.b.y)) +
            ", the finished seat against its shoulder";
    t.why = is_bar ? "what was cut first, bore and seat, carries the part; nothing grips the grooves"
                   : "what was cut first, bore and seat, carries the part: the grooves run true to them";
    if (is_bar && bore_length(section_) < kLeastMandrel)
      t.warnings.push_back("The bore is only " + mm(bore_length(section_)) +
                           " long: draw the part against the shoulder with a screw and a washer through the bore.");
    put_on_fixture(t, o);
    limit_speed(t, false);
    std::vector<Polygon> stock = left_in(t);
    Task task;
    task.face = true;
    if (is_bar) {
      t.sawn = t.turned ? t.shift - kSawn : kSawn - t.shift;  // program: the finished face is at 0
      stock = plane::common(stock, {corners(rectangle(-size_.width() - 1, 0, kSawn, 1e3))});
      task.corner = true;
      task.left_over = std::exchange(for_later_, {});
    } else {
      task.outside = task.far_corner = true;
      task.far_end = -size_.width() - kBehind;
    }
    add(std::move(t));
    run_task(o, std::move(stock), {}, task, false);
  }

  void other_face() {
    Turning t = clamping(!plan_.turnings.front().turned);
    const Outline o = outline(section_, t.turned, t.shift);
    const std::vector<Polygon> stock = left_in(t);
    // The raw outside begins where the rim's finished face lies.
    double end = 1e9, high = -1e9;
    for (const Polygon& p : stock)
      for (const Vec2& q : p)
        if (q.y > plan_.stock_diameter / 2 - 1e-3) end = std::min(end, q.x), high = std::max(high, q.x);
    t.how = "in the chuck on the raw outside, the finished face of the rim against the jaws' step";
    t.why = "the other face is cut before the holes, so that screws can hold the part by its own holes later";
    const double deep = depth_for(o, end, std::min(blank_.grip, (high - end) / 2));
    grip(t, stock, end + deep, deep);
    Task task;
    task.face = true;
    add(std::move(t));
    run_task(o, stock, {}, task, false);
  }

  void outside_on_plug() {
    Turning t = clamping(!plan_.turnings.front().turned);
    const Outline o = outline(section_, t.turned, t.shift);
    const part::HolePattern& holes = *screw_holes(part_);
    t.held = Held::plug;
    const std::string in =
        part_.hub.registers.empty() ? "bore" : "register, D " + mm(part_.hub.registers.front().diameter);
    t.how = "on a plug in the finished " + in + ", the finished seat against its plate, with screws " +
            holes.thread->id + " through the part's own holes on D " + mm(holes.circle);
    t.why = "grooves and flanges run true to bore and seat, which were cut first; nothing grips the rim";
    put_on_fixture(t, o);
    // Heads of the screws on the free face (ISO 4762: as high as the thread is wide, 1.5 times as wide; from memory).
    const double face = t.turned ? t.shift - part_.hub.rear_face : part_.hub.front_face + t.shift;
    const double d = holes.thread->diameter, middle = holes.circle / 2;
    t.keep_out.push_back(rectangle(face, middle - 0.75 * d, face + d, middle + 0.75 * d));
    limit_speed(t, true);
    t.warnings.push_back("The plug itself is turned in place before it carries the first part: it must run true.");
    const std::vector<Polygon> stock = left_in(t);
    Task task;
    task.outside = task.far_corner = true;
    task.far_end = -size_.width() - kBehind;
    add(std::move(t));
    run_task(o, stock, {}, task, false);
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

  /// In the clamping added last. `beside`: metal that stays beside the part; `can_wait`: what is missed of the outside
  /// may be left to the next clamping.
  void run_task(const Outline& o, std::vector<Polygon> stock, const std::vector<Polygon>& beside, const Task& task,
                bool can_wait) {
    Turning& t = plan_.turnings.back();
    Scene scene{std::move(stock), {}};
    for (const Path& p : t.keep_out) scene.keep_out.push_back(corners(p));
    if (!scene.keep_out.empty()) scene.keep_out = plane::grown(scene.keep_out, kKeepAway, 0.01);
    const auto metal = [&](double chord_error, std::vector<Polygon> more) {
      more.push_back(plane::polyline(o.path, chord_error));
      more.insert(more.end(), beside.begin(), beside.end());
      return plane::united(more);
    };
    Bench bench(plan_, t, std::move(scene), metal(kMetalChord, {}), metal(kRoughChord, filled_grooves(o)));
    for (const OutOfReach& r : turn(bench, part_, choice_.shop, o, task)) {
      const std::size_t in_section = t.turned ? o.path.size() - 1 - r.edge : r.edge;
      if (can_wait && r.work == "outside") {  // the other side may reach it
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
    keep_left(t, bench.scene().stock);
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
      const Place& place = tag.rim >= 0 ? part_.rims[static_cast<std::size_t>(tag.rim)].place : part_.hub.place;
      if (!m.what.lacks.empty()) {
        error(Code::machine_too_small, place, "", "to make the " + what + " in " + m.clamping + ", " + m.what.lacks);
        continue;
      }
      error(Code::no_tool, place, "",
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
  Blank blank_;
  bool failed_ = false;
  std::vector<Polygon> left_;  // of the stock, part
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
