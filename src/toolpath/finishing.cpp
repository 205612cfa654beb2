#include "finishing.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <set>
#include <tuple>

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Vec2;

constexpr double kClear = 1;         // mm off the metal where a run begins
constexpr double kSharp = 1e-6;      // sine of an angle that is none
constexpr double kLeastShare = 0.2;  // of an edge: less is not worth a run

/// Runs of consecutive edges out of the chain that still stand.
std::vector<Chain> still_standing(const Chain& chain, const std::vector<Left>& left) {
  std::vector<Chain> out;
  bool open = false;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    if (left[i] != Left::standing) {
      open = false;
      continue;
    }
    if (!open || chain[i] != chain[i - 1] + 1) out.emplace_back();
    out.back().push_back(chain[i]);
    open = true;
  }
  return out;
}

/// The piece and an edge more of the chain at both ends.
Chain with_neighbours(const Chain& piece, const Chain& chain) {
  const auto first = std::find(chain.begin(), chain.end(), piece.front());
  const auto last = std::find(chain.begin(), chain.end(), piece.back());
  Chain out = piece;
  if (first != chain.begin() && *(first - 1) + 1 == *first) out.insert(out.begin(), *(first - 1));
  if (last + 1 != chain.end() && *(last + 1) == *last + 1) out.push_back(*(last + 1));
  return out;
}

/// A way on which the tool can come to, or leave, the place without touching metal.
std::optional<Vec2> lead(Bench& bench, const Finisher& with, const Bit& body, Vec2 at, const Finishing& what) {
  static constexpr double kSlant = 0.7071, kOff = 0.995, kAside = 0.1;
  // Straight off first, then a little aside, so that a wall along the way is left, too.
  static const std::vector<Vec2> outside{{0, 1},           {kAside, kOff},    {-kAside, kOff},
                                         {kSlant, kSlant}, {-kSlant, kSlant}, {1, 0}};
  static const std::vector<Vec2> face{{1, 0},           {kOff, kAside},    {kOff, -kAside},
                                      {kSlant, kSlant}, {kSlant, -kSlant}, {0, 1}};
  static const std::vector<Vec2> bore{{1, 0}, {kOff, -kAside}, {kSlant, -kSlant}, {0, -1}};
  const Metal stock(bench.scene().stock);
  const Vec2 home = bench.home_for(with.tool);
  for (const Vec2& d : what.in_bore ? bore : what.way == Way::outside ? outside : face) {
    const Vec2 by = (kClear + kAllowance) * d, off = at + by;
    const Vec2 corner = what.way == Way::outside ? Vec2{off.x, home.y} : Vec2{home.x, off.y};
    const auto touches = [&](const Polygon& piece) { return bench.metal().holds(swept(piece, at, off)); };
    const auto hits = [&](const Polygon& piece) { return stock.holds(swept(piece, off, corner)); };
    if (std::none_of(with.slim.cutting.begin(), with.slim.cutting.end(), touches) &&
        std::none_of(body.cutting.begin(), body.cutting.end(), hits) &&
        std::none_of(body.holder.begin(), body.holder.end(), hits))
      return by;
  }
  return std::nullopt;
}

bool has_way(const std::vector<Run>& all, int edge) {
  return std::any_of(all.begin(), all.end(), [&](const Run& run) {
    return std::any_of(run.way.begin(), run.way.end(), [&](const Trail& t) { return t.leaves == edge; });
  });
}

class Cutter {
 public:
  Cutter(Bench& bench, const TurningTool& tool, const Finishing& what)
      : bench_(bench), tool_(tool), what_(what), with_(finisher(tool)), body_(bit(shape(tool, true), 0.002)) {}

  [[nodiscard]] std::vector<Run> runs_on(const plane::Path& path, std::vector<bool>& covered) const {
    std::vector<bool> hoped(covered.size(), false);
    std::vector<Run> all = runs(path, with_, 0, bench_.metal(), Metal({}), hoped);
    if (std::find(hoped.begin(), hoped.end(), true) == hoped.end() && covered.size() > 1) return {};
    // The holder must clear what stands once the edge has been there.
    std::vector<Polygon> after = bench_.scene().stock;
    for (const Run& run : all) take_off(after, body_, run.way.front().edge.a, motions(run.way));
    return runs(path, with_, 0, bench_.metal(), Metal(after), covered);
  }

  /// Cuts the runs that leave one of the `wanted` edges. What the tool could come to comes back.
  std::set<int> cut(const std::vector<Run>& all, const std::set<int>& wanted) {
    std::set<int> out, missed;
    for (const Run& run : all) {
      std::set<int> here;
      for (const Trail& t : run.way) {
        if (wanted.contains(t.leaves)) here.insert(t.leaves);
        // Between two that it leaves, the nose itself is the rounding.
        const bool stands_still = !has_way(all, t.leaves + 1) && &t != &run.way.back();
        if (wanted.contains(t.leaves + 1) && stands_still) here.insert(t.leaves + 1);
      }
      if (here.empty()) continue;
      // A tool that cuts both ways may come from the other end, where less stands beside its neck.
      const bool both_ways = tool_.included.rad() == 0;
      const bool done = follow(run) || (both_ways && follow({reversed(run.way)}));
      (done ? out : missed).merge(here);
    }
    for (const int edge : missed) out.erase(edge);  // another run may have left a part of it
    return out;
  }

 private:
  /// Cuts along the run where the tool can come to it, and its holder clears.
  bool follow(const Run& run) {
    const auto in = lead(bench_, with_, body_, run.way.front().edge.a, what_);
    const auto off = lead(bench_, with_, body_, run.way.back().edge.b, what_);
    if (!in || !off || !holder_clears(run, *in, *off)) return false;
    if (!begun_) bench_.begin(what_.name, tool_, conditions(bench_.plan(), what_.work, tool_));
    begun_ = true;
    bench_.follow(run, what_.way, *in, *off, body_);
    return true;
  }

  /// Asked move by move, each against what stands once the edge has made it.
  [[nodiscard]] bool holder_clears(const Run& run, Vec2 in, Vec2 off) const {
    Motions all{feed(run.way.front().edge.a)};
    for (const Motion& m : motions(run.way)) all.push_back(m);
    all.push_back(feed(run.way.back().edge.b + off));
    const Vec2 start = run.way.front().edge.a + in;
    if (clears(Metal(bench_.scene().stock), start, all)) return true;  // the usual case
    std::vector<Polygon> stock = bench_.scene().stock;
    Vec2 at = start;
    for (const Motion& m : all) {
      take_off(stock, body_, at, {m});
      if (!clears(Metal(stock), at, {m})) return false;
      at = m.to;
    }
    return true;
  }

  [[nodiscard]] bool clears(const Metal& stock, Vec2 at, const Motions& all) const {
    for (const Motion& m : all) {
      std::vector<Vec2> stops{at, m.to};
      if (m.kind == Motion::Kind::ccw || m.kind == Motion::Kind::cw) {
        const auto turn = m.kind == Motion::Kind::ccw ? plane::Edge::Turn::ccw : plane::Edge::Turn::cw;
        stops = plane::polyline({{at, m.to, turn, m.centre}}, 0.01);
      }
      for (std::size_t i = 0; i + 1 < stops.size(); ++i)
        for (const Polygon& piece : body_.holder)
          if (stock.holds(swept(piece, stops[i], stops[i + 1]))) return false;
      at = m.to;
    }
    return true;
  }

  Bench& bench_;
  const TurningTool& tool_;
  const Finishing& what_;
  Finisher with_;
  Bit body_;
  bool begun_ = false;
};

double length(const std::vector<Run>& all) {
  double sum = 0;
  for (const Run& run : all)
    for (const Trail& t : run.way) sum += t.edge.length();
  return sum;
}

/// Leaves as much of one edge as any tool can.
bool cut_in_part(Bench& bench, const plane::Edge& edge, const Tools& tools, const Finishing& what) {
  const TurningTool* best = nullptr;
  std::vector<Run> way;
  double most = kLeastShare * edge.length();
  for (const TurningTool& tool : tools) {
    std::vector<bool> covered(1, false);
    std::vector<Run> all = Cutter(bench, tool, what).runs_on({edge}, covered);
    if (length(all) <= most) continue;
    most = length(all), best = &tool, way = std::move(all);
  }
  return best != nullptr && !Cutter(bench, *best, what).cut(way, {0}).empty();
}

/// The largest nose that leaves an edge whole up to its ends: beside a rounding no larger one than that, beside a sharp
/// inner corner none larger than `corner`.
double largest_nose(const Outline& outline, std::size_t edge, double corner) {
  const std::size_t n = outline.path.size(), before = (edge + n - 1) % n, after = (edge + 1) % n;
  double most = std::numeric_limits<double>::infinity();
  for (const auto& [a, b, beside] : {std::tuple{before, edge, before}, std::tuple{edge, after, after}}) {
    const plane::Edge& next = outline.path[beside];
    if (plane::cross(outline.path[a].tangent_at(1), outline.path[b].tangent_at(0)) < -kSharp)
      most = std::min(most, corner);
    if (next.turn == plane::Edge::Turn::cw) most = std::min(most, std::max(corner, next.radius()));
  }
  return most;
}

}  // namespace

std::vector<Left> finish(Bench& bench, const Outline& outline, const Chain& chain, const Tools& tools,
                         const Finishing& what) {
  std::vector<Left> left(chain.size(), Left::standing);
  const auto state = [&](std::size_t edge) -> Left& {
    return left[static_cast<std::size_t>(std::find(chain.begin(), chain.end(), edge) - chain.begin())];
  };
  const auto stands = [&](std::size_t edge) { return state(edge) == Left::standing; };
  const auto take = [&](Cutter& cutter, double nose, const Chain& piece, const Chain& due) {
    std::vector<bool> covered(piece.size(), false);
    const std::vector<Run> all = cutter.runs_on(path_of(outline, piece), covered);
    std::set<int> wanted;
    for (std::size_t k = 0; k < piece.size(); ++k) {
      const bool is_due = std::find(due.begin(), due.end(), piece[k]) != due.end();
      const bool too_round = nose > largest_nose(outline, piece[k], what.corner) + kSharp;
      if (covered[k] && is_due && stands(piece[k]) && !too_round) wanted.insert(static_cast<int>(k));
    }
    for (const int k : cutter.cut(all, wanted)) state(piece[static_cast<std::size_t>(k)]) = Left::whole;
  };
  for (const TurningTool& tool : tools) {
    Cutter cutter(bench, tool, what);
    for (const Chain& piece : still_standing(chain, left)) {
      take(cutter, tool.nose_radius, piece, piece);
      // What has been left by another tool may lead in and out: a rounding of the nose's own size needs both
      // neighbours.
      const Chain longer = with_neighbours(piece, chain);
      if (std::any_of(piece.begin(), piece.end(), stands)) take(cutter, tool.nose_radius, longer, piece);
    }
  }
  for (std::size_t i = 0; i < chain.size(); ++i) {
    if (left[i] == Left::standing && cut_in_part(bench, outline.path[chain[i]], tools, what)) left[i] = Left::partly;
  }
  return left;
}

}  // namespace groovewright::toolpath
