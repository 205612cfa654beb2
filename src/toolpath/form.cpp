#include "form.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Edge;
using plane::Path;
using plane::Vec2;

constexpr double kForm = 0.004;        // mm that a form may differ from what is wanted; the proof bears 0.005
constexpr double kBeyondEnd = 0.05;    // mm that a tooth's pieces reach into the next one's
constexpr double kFeedShare = 0.5;     // of a groove's feed: the whole form cuts (common practice, no source)
constexpr double kDwellTurns = 2;      // at the root: one whole turn at least cleans it, one to be sure
constexpr double kOtherSection = 0.5;  // mm: a pitch that is farther off is another section's
constexpr double kAbove = 0.6;         // mm over the metal where a plunge begins
constexpr double kSpringLift = 0.3;    // mm off the root before the plunge without a chip

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

/// Half of one tooth's border, on the right, about its tip's centre.
struct Tooth {
  explicit Tooth(const TurningTool& t)
      : h(t.included.half().rad()),
        tip(t.nose_radius),
        crest(t.crest_radius),
        half(t.pitch / 2),
        valley{half, (half * cos_of(h) - crest - tip) / sin_of(h)} {}

  /// The flank at this y.
  [[nodiscard]] double flank_x(double y) const { return (y + tip / sin_of(h)) * tan_of(h); }
  [[nodiscard]] double flank_y(double x) const { return x / tan_of(h) - tip / sin_of(h); }

  double h, tip, crest, half;
  Vec2 valley;  ///< centre of the rounding between this tooth and the next
};

/// The tip's round and both flanks led on straight, which stays inside: a valley bends away from its tangent.
Path middle_of(const Tooth& t, double left, double right, double top) {
  const double c = t.tip * cos_of(t.h), s = t.tip * sin_of(t.h);
  Path out{{{-c, -s}, {c, -s}, Edge::Turn::ccw, {0, 0}}};
  std::vector<Vec2> rest{{c, -s}};
  const double wide = t.flank_x(top);
  if (wide > right) rest.push_back({right, t.flank_y(right)});
  rest.push_back({std::min(wide, right), top});
  rest.push_back({-std::min(wide, left), top});
  if (wide > left) rest.push_back({-left, t.flank_y(left)});
  rest.push_back({-c, -s});
  for (std::size_t i = 0; i + 1 < rest.size(); ++i) out.push_back(plane::straight(rest[i], rest[i + 1]));
  return out;
}

/// All above the line through a and b on the right and its mirror image on the left, down to the tip's centre: farther
/// down the lines would leave the tip's round.
Path above(Vec2 a, Vec2 b, double left, double right, double top) {
  const double slope = (b.y - a.y) / (b.x - a.x), low = a.y - slope * a.x;
  const double wide = (top - low) / slope;
  std::vector<Vec2> out{{std::max(0.0, -low / slope), std::max(0.0, low)}};
  if (wide > right) out.push_back({right, low + slope * right});
  out.push_back({std::min(wide, right), top});
  out.push_back({-std::min(wide, left), top});
  if (wide > left) out.push_back({-left, low + slope * left});
  if (low < 0) out.push_back({low / slope, 0});
  return plane::run(out, true);
}

/// Where a ball lies in a form, seen from the ball's centre: how far below is the root, how far above the crest.
struct Seat {
  Seat(double pitch, double h, double root_radius, double crest_radius, double ball)
      : root((ball / 2 - root_radius) / sin_of(h) + root_radius),
        crest((pitch / 2 * cos_of(h) - crest_radius - ball / 2) / sin_of(h) + crest_radius) {}
  double root, crest;
};

double half_angle(const part::Rim& rim) { return rim.groove.angle.half().rad(); }

std::vector<Polygon> window(const std::vector<Polygon>& metal, double from, double to) {
  return plane::common(metal, {{{from, 0}, {to, 0}, {to, 1e4}, {from, 1e4}}});
}

/// Speed and feed for the whole width of the form; a feed below the tool's least where the machine can't.
Conditions form_conditions(const Plan& plan, const TurningTool& tool) {
  const auto& data = plan.cutting.works.find("groove")->second;  // the catalogue holds all works
  Conditions c;
  c.speed = data.speed;
  c.feed = std::clamp(kFeedShare * data.feed, tool.min_feed, tool.max_feed);
  c.depth = tool.teeth * tool.pitch;
  c.feed = std::min(c.feed, force_at(plan, c.speed) / (plan.cutting.specific_force * c.depth));
  return c;
}

/// "" where the tool stands free at every place and the machine drives it.
std::string obstacle(const Bench& bench, const TurningTool& tool, const std::vector<Vec2>& places) {
  const Conditions c = form_conditions(bench.plan(), tool);
  if (c.feed < tool.min_feed - 1e-9)
    return "lathe '" + bench.plan().lathe.id + "' drives " + mm(c.depth) + " of edge with a feed of " + mm(c.feed) +
           " only, and the tool wants " + mm(tool.min_feed);
  TurningTool slim = tool;
  slim.nose_radius -= kForm, slim.crest_radius += kForm;
  const Bit body = finisher(slim).slim;
  const Metal stock(bench.scene().stock);
  for (const Vec2 at : places) {
    const auto is_in = [&](const Polygon& p) { return bench.metal().holds(moved(p, at)); };
    const auto touches = [&](const Polygon& p) { return stock.holds(moved(p, at)); };
    if (std::any_of(body.cutting.begin(), body.cutting.end(), is_in)) return "its teeth run into the wall beside them";
    if (std::any_of(body.holder.begin(), body.holder.end(), is_in) ||
        std::any_of(body.holder.begin(), body.holder.end(), touches))
      return "its holder runs into what stands beside the grooves";
  }
  return "";
}

}  // namespace

std::vector<Path> form_pieces(const TurningTool& tool) {
  require(tool.use == TurningTool::Use::full_form && tool.teeth > 0, "form_pieces: no form");
  const Tooth tooth(tool);
  const double top = tool.edge_length - tool.nose_radius;
  const double first = std::numbers::pi - tooth.h, turn = first - std::numbers::pi / 2;
  const int steps = plane::arc_steps(tooth.crest, turn, kFormChord);
  std::vector<Vec2> valley;
  for (int i = 0; i <= steps; ++i)
    valley.push_back(i == steps ? tooth.valley + Vec2{0, tooth.crest}
                                : tooth.valley + plane::polar(tooth.crest, first - turn * i / steps));
  std::vector<Path> out;
  for (int k = 0; k < tool.teeth; ++k) {
    const Vec2 at{k * tool.pitch, 0};
    const double left = tooth.half + (k > 0 ? kBeyondEnd : 0);
    const double right = tooth.half + (k + 1 < tool.teeth ? kBeyondEnd : 0);
    out.push_back(plane::mapped(middle_of(tooth, left, right, top), 1, false, at));
    for (std::size_t i = 0; i + 1 < valley.size(); ++i)
      out.push_back(plane::mapped(above(valley[i], valley[i + 1], left, right, top), 1, false, at));
  }
  return out;
}

std::string misfit(const TurningTool& t, const part::Rim& rim) {
  const catalog::Groove& g = rim.groove;
  const double h = t.included.half().rad(), ball = g.ball_diameter.value;
  if (std::abs(t.included.deg() - g.angle.deg()) > g.angle_tolerance.deg() + 1e-9)
    return "its form angle of " + trimmed(t.included.deg(), 2) + " deg is not the groove's " +
           trimmed(g.angle.deg(), 2) + " deg within " + trimmed(g.angle_tolerance.deg(), 2) + " deg";
  if (t.teeth > rim.grooves)
    return "it has " + std::to_string(t.teeth) + " teeth and the rim " + std::to_string(rim.grooves) + " grooves";
  const double steps = std::max(1, t.teeth - 1);
  if (std::abs(t.pitch - g.pitch.value) * steps / 2 > kForm / 2)
    return "its pitch of " + mm(t.pitch) + " is not the grooves' " + mm(g.pitch.value);
  if (t.nose_radius + t.nose_tolerance > g.root_radius_max.value + 1e-9)
    return "its tips of " + mm(t.nose_radius + t.nose_tolerance) + ", tolerance included, are more than r_b max of " +
           mm(g.root_radius_max.value);
  if (t.crest_radius - t.crest_tolerance < g.crest_radius_min.value - 1e-9)
    return "its crest radius of " + mm(t.crest_radius - t.crest_tolerance) +
           ", tolerance taken off, is less than r_t min of " + mm(g.crest_radius_min.value);
  const Seat made(t.pitch, h, t.nose_radius, t.crest_radius, ball);
  const Seat due(g.pitch.value, half_angle(rim), rim.root_radius.value, rim.crest_radius.value, ball);
  if (std::abs(made.root - due.root) > kForm)
    return "its tips of " + mm(t.nose_radius) + " leave the root " + mm(std::abs(made.root - due.root)) +
           " from where it is wanted: the rim's root_radius is " + mm(rim.root_radius.value);
  if (std::abs(made.crest - due.crest) > kForm)
    return "its crest radius of " + mm(t.crest_radius) + " leaves the crests " + mm(std::abs(made.crest - due.crest)) +
           " from where they are wanted: the rim's crest_radius is " + mm(rim.crest_radius.value);
  // Flanks of another angle, tangent to the same ball, are farthest off at their ends.
  const double touch = ball / 2 / tan_of(h), low = t.nose_radius / tan_of(h);
  const double high = (t.pitch / 2 - t.crest_radius * cos_of(h)) / sin_of(h);
  const double off = std::max(std::abs(high - touch), std::abs(touch - low)) * std::abs(h - half_angle(rim));
  if (off > kForm)
    return "its form angle of " + trimmed(t.included.deg(), 2) + " deg leaves the flanks' ends " + mm(off) +
           " from where they are wanted";
  return "";
}

std::vector<Vec2> form_places(const TurningTool& tool, const part::Rim& rim, const Outline& outline,
                              const std::vector<GrooveEdges>& grooves) {
  const double ball = rim.groove.ball_diameter.value, h = tool.included.half().rad();
  const double apex = rim.apex_diameter() / 2 - part::sharp_height(rim.form());
  const double ball_y = apex + ball / 2 / sin_of(half_angle(rim));
  const double y = ball_y - (ball / 2 - tool.nose_radius) / sin_of(h);
  const auto middle = [&](std::size_t k) { return outline.path[grooves[k].root].at(0.5).x; };
  const std::size_t teeth = static_cast<std::size_t>(tool.teeth), count = grooves.size();
  std::vector<Vec2> out;
  for (std::size_t k = 0; k < count; k += teeth) {
    const std::size_t first = std::min(k, count - teeth);
    const double centre = (middle(first) + middle(first + teeth - 1)) / 2;
    out.push_back({centre - (tool.teeth - 1) * tool.pitch / 2, y});
  }
  return out;
}

FormChoice choose_form(const Bench& bench, const Tools& forms, const part::Rim& rim, const Outline& outline,
                       const std::vector<GrooveEdges>& grooves) {
  FormChoice out;
  bool for_section = false;  // what is told is of a tool for these grooves, not of one for others
  for (const TurningTool& tool : forms) {
    std::string why = misfit(tool, rim);
    if (why.empty()) why = obstacle(bench, tool, form_places(tool, rim, outline, grooves));
    if (why.empty()) return {&tool, ""};
    const bool meant = std::abs(tool.pitch - rim.groove.pitch.value) <= kOtherSection;
    if (out.why_not.empty() || (meant && !for_section)) out.why_not = "form tool '" + tool.id + "' does not do: " + why;
    for_section = for_section || meant;
  }
  return out;
}

void finish_by_form(Bench& bench, const TurningTool& tool, const part::Rim& rim, const Outline& outline,
                    const std::vector<GrooveEdges>& grooves) {
  const Conditions c = form_conditions(bench.plan(), tool);
  bench.begin("finish the grooves", tool, c, "the whole form plunged to the root, crests included");
  bench.correct(1, 2);
  const std::vector<Vec2> places = form_places(tool, rim, outline, grooves);
  double top = 0;
  for (const Vec2 at : places) {
    const double from = at.x - tool.pitch / 2;
    top = std::max(top, box_of(window(bench.scene().stock, from, from + tool.width)).high.y);
  }
  const double over = top + kAbove + tool.nose_radius;
  for (const Vec2 at : places) {
    bench.take_from_above({rapid({at.x, over}), feed(at)});
    bench.dwell(kDwellTurns);
    bench.take({feed(at + Vec2{0, kSpringLift}), feed(at)});
    bench.dwell(kDwellTurns);
    bench.take({feed(at + Vec2{0, kSpringLift}), rapid({at.x, over})});
  }
  bench.go_home();
  bench.correct(0, 0);
}

}  // namespace groovewright::toolpath
