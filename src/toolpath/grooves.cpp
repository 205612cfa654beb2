// The grooves: roughed with a narrow blade where one reaches, then each flank cut downwards, crest to root, with what
// is left taken off in layers; or by an insert that has their whole form, where the shop has one.
#include <algorithm>
#include <cmath>

#include "form.h"
#include "groovewright/plane/clip.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Edge;
using plane::Vec2;
using Use = TurningTool::Use;

constexpr double kFinishStock = 0.15;  // mm on a flank, at most (common practice, no source)
constexpr double kLayer = 0.5;         // mm on a flank, at most, of the layers before that; half of what the tool bears
constexpr double kBeyond = 0.1;        // mm past the crest's top and the root's middle
constexpr double kNothing = 0.02;      // mm²: a layer that takes less is left out
constexpr double kAbove = 0.6;         // mm over the crests between two passes
constexpr double kOver = 1;            // mm over the crests between two plunges of a blade
constexpr double kPlungeStep = 0.3;    // mm between two plunges
constexpr double kOff = 0.2;           // mm that the nose is fed off the root before it leaves at rapid

/// What the passes of one flank go along: half the crest or all of an outer one, the flank, half the root.
struct Flank {
  plane::Path chain;    ///< downwards; metal on the left where it falls to the left, on the right where it rises
  bool rising = false;  ///< as the outline runs: cut backwards
  double middle = 0;    ///< z of the groove's middle
};

double top_share(const Edge& crest, bool from_end) {
  // The fraction of the arc at which its outermost point lies, and a little beyond.
  const double beyond = kBeyond / crest.length();
  double best = 0, far = -1e9;
  for (int i = 0; i <= 200; ++i) {
    const double t = i / 200.0, y = crest.at(t).y;
    if (y > far) far = y, best = t;
  }
  return from_end ? std::min(1.0, best + beyond) : std::max(0.0, best - beyond);
}

Flank flank(const Outline& o, const GrooveEdges& g, bool rising, bool outer_crest) {
  const Edge& root = o.path[g.root];
  const double half = 0.5, beyond = kBeyond / root.length();
  Flank out;
  out.rising = rising;
  out.middle = root.at(half).x;
  const Edge& crest = o.path[rising ? g.left_crest : g.right_crest];
  if (rising) {
    out.chain = {part_of(root, half - beyond, 1), o.path[g.rising],
                 outer_crest ? crest : part_of(crest, 0, top_share(crest, true))};
  } else {
    out.chain = {outer_crest ? crest : part_of(crest, top_share(crest, false), 1), o.path[g.falling],
                 part_of(root, 0, half + beyond)};
  }
  return out;
}

/// The way cut off where it passes the groove's middle by more than `beyond`.
std::vector<Trail> up_to_middle(const std::vector<Trail>& way, double middle, bool rising, double beyond) {
  const double side = rising ? -1 : 1;  // cut downwards, a falling flank leads to smaller z
  std::vector<Trail> out;
  for (const Trail& t : way) {
    const auto past = [&](Vec2 p) { return side * (middle - p.x) > beyond; };
    if (past(t.edge.a)) break;
    if (!past(t.edge.b)) {
      out.push_back(t);
      continue;
    }
    double from = 0, to = 1;
    while ((to - from) * t.edge.length() > 1e-6) {
      const double mid = (from + to) / 2;
      (past(t.edge.at(mid)) ? to : from) = mid;
    }
    if (from * t.edge.length() > 1e-4) out.push_back({part_of(t.edge, 0, from), t.leaves});
    break;
  }
  return out;
}

/// The nose's way down the flank with `allowance` left on it.
std::vector<Trail> pass(const Flank& f, double nose, double allowance) {
  std::vector<Trail> way = offset(f.chain, nose + allowance);
  if (f.rising) way = reversed(std::move(way));
  return up_to_middle(way, f.middle, f.rising, allowance > 0 ? 0 : kBeyond);
}

double greatest_y(const std::vector<Trail>& way) {
  double y = -1e9;
  for (const Trail& t : way) y = std::max({y, t.edge.a.y, t.edge.b.y});
  return y;
}

/// Allowances of the layers that still take metal off, largest first, the last 0.
std::vector<double> layers(const std::vector<Polygon>& window, const Flank& right, const Flank& left, double nose,
                           double widest, double layer, const Bit& body) {
  std::vector<Polygon> stock = window;
  std::vector<double> all;
  const int count = static_cast<int>(std::ceil((widest - kFinishStock) / layer));
  for (int k = 0; k < count; ++k) all.push_back(kFinishStock + k * layer);
  std::reverse(all.begin(), all.end());
  all.push_back(0);
  std::vector<double> out;
  for (const double a : all) {
    const double before = plane::area(stock);
    for (const Flank* f : {&right, &left}) {
      const std::vector<Trail> way = pass(*f, nose, a);
      if (!way.empty()) take_off(stock, body, way.front().edge.a, motions(way));
    }
    if (a == 0 || before - plane::area(stock) > kNothing) out.push_back(a);
  }
  return out;
}

std::vector<Polygon> window_of(const std::vector<Polygon>& stock, double z, double half, double low, double high) {
  return plane::common(stock, {{{z - half, low}, {z + half, low}, {z + half, high}, {z - half, high}}});
}

/// Places on both sides of the middle, as far as `reach`, the nearer the earlier.
std::vector<double> from_the_middle(double middle, double reach) {
  std::vector<double> out{middle};
  for (int k = 1; k * kPlungeStep < reach; ++k) {
    out.push_back(middle + k * kPlungeStep);
    out.push_back(middle - k * kPlungeStep);
  }
  return out;
}

/// With the widest blade that gets half the depth down.
void rough(Bench& bench, const Tools& blades, const part::Rim& rim, const Outline& outline,
           const std::vector<GrooveEdges>& mine) {
  const double crest = rim.outside_diameter() / 2, root = rim.root_diameter() / 2, depth = rim.groove_depth();
  const double half_pitch = rim.groove.pitch.value / 2;
  const std::vector<Polygon> keep = plane::grown(bench.final_metal(), kFinishStock, 0.01);
  const Metal kept(keep);
  for (const TurningTool& blade : blades) {
    const Bit body = bit(shape(blade, true), 0.01);
    const double wide = blade.width / 2 - blade.nose_radius;  // the steered corner stands left of the blade's middle
    const Vec2 half_down{outline.path[mine.front().root].at(0.5).x - wide, crest - depth / 2 + blade.nose_radius};
    const auto touches = [&](const Polygon& piece) { return kept.holds(moved(piece, half_down)); };
    if (std::any_of(body.cutting.begin(), body.cutting.end(), touches) ||
        std::any_of(body.holder.begin(), body.holder.end(), touches))
      continue;
    const Blocked closed = blocked_columns(keep, bench.scene().keep_out, body);
    bench.begin("rough the grooves", blade, conditions(bench.plan(), "groove", blade), "plunges from the middle out");
    std::vector<Polygon> stock = bench.scene().stock;
    for (const GrooveEdges& g : mine) {
      const double z = outline.path[g.root].at(0.5).x;
      Scene local = bench.scene();
      local.stock = window_of(local.stock, z, half_pitch * 2, root - 2, crest + 20);
      const Motions cuts = plunges(local, closed, body, from_the_middle(z - wide, half_pitch / 2),
                                   {kNothing, blade.width, crest + blade.nose_radius + kOver});
      if (!cuts.empty()) take_off(stock, body, cuts.front().to, cuts);
      bench.take_from_above(cuts);
    }
    bench.go_home();
    bench.scene().stock = std::move(stock);
    break;
  }
}

/// Grooves of which the tool can't leave the flanks come into `out`.
void finish_by_profile(Bench& bench, const TurningTool& tool, const part::Rim& rim, const Outline& outline,
                       const std::vector<GrooveEdges>& mine, const std::string& why, std::vector<OutOfReach>& out) {
  const double crest = rim.outside_diameter() / 2, root = rim.root_diameter() / 2;
  const double half_pitch = rim.groove.pitch.value / 2;
  const Bit body = bit(shape(tool, true), 0.002);
  const Conditions c = conditions(bench.plan(), "profile", tool, rz_of_ra(rim.groove.roughness_max.value / 1000));
  const auto flanks_of = [&](std::size_t k) {
    return std::pair{flank(outline, mine[k], false, k == 0), flank(outline, mine[k], true, k + 1 == mine.size())};
  };
  const std::size_t typical = mine.size() / 2;
  const auto [right, left] = flanks_of(typical);
  const std::vector<Polygon> window =
      window_of(bench.scene().stock, right.middle, half_pitch * 1.5, root - 1, crest + 5);
  std::vector<double> cuts =
      layers(window, right, left, tool.nose_radius, half_pitch, std::min(kLayer, tool.max_depth_of_cut / 2), body);
  cuts.push_back(0);                                             // a spring pass
  const double quicker = std::max(1.0, tool.max_feed / c.feed);  // layers may be rougher than what is left at last
  const Finisher with = finisher(tool);
  bench.begin("finish the grooves", tool, c, "each flank downwards, crest to root" + (why.empty() ? "" : "; " + why));
  bench.correct(1, 2);
  for (std::size_t k = 0; k < mine.size(); ++k) {
    const auto [falls, rises] = flanks_of(k);
    for (const double a : cuts) {
      for (const Flank* f : {&falls, &rises}) {
        std::vector<Trail> way = pass(*f, tool.nose_radius, a);
        if (way.empty()) continue;
        const double above = std::max(greatest_y(way), crest + tool.nose_radius) + kAbove;
        const double share = a > 0 ? quicker : 1;
        Motions m{rapid({way.front().edge.a.x, above}), feed(way.front().edge.a, share)};
        for (Motion step : motions(way)) {
          step.feed_share = share;
          m.push_back(step);
        }
        // The wedge opens upwards: straight off, it leaves every wall.
        m.push_back(feed(way.back().edge.b + Vec2{0, kOff}, share));
        m.push_back(rapid({way.back().edge.b.x, above}));
        bench.take_from_above(m);
      }
    }
  }
  bench.go_home();
  bench.correct(0, 0);
  for (std::size_t k = 0; k < mine.size(); ++k) {
    const auto [falls, rises] = flanks_of(k);
    for (const Flank* f : {&falls, &rises}) {
      for (const Trail& t : pass(*f, tool.nose_radius, 0)) {
        for (const double share : {0.0, 0.5, 1.0}) {
          const auto is_in = [&](const Polygon& p) { return bench.metal().holds(moved(p, t.edge.at(share))); };
          if (std::any_of(with.slim.cutting.begin(), with.slim.cutting.end(), is_in) ||
              std::any_of(with.slim.holder.begin(), with.slim.holder.end(), is_in))
            out.push_back({mine[k].root, "grooves", false, ""});
        }
      }
    }
  }
}

}  // namespace

const TurningTool* groove_finisher(const Tools& profiling, const part::Rim& rim) {
  const TurningTool* best = nullptr;
  for (const TurningTool& t : profiling) {
    const double half = rim.groove.angle.rad() / 2;
    const bool clears = t.hand == TurningTool::Hand::neutral && t.included.rad() > 0 && t.included.rad() / 2 < half;
    if (!clears || t.nose_radius + t.nose_tolerance > rim.root_radius.value) continue;
    if (best == nullptr || t.nose_radius > best->nose_radius) best = &t;
  }
  return best;
}

std::vector<OutOfReach> cut_grooves(Bench& bench, const part::Part& part, const catalog::Shop& shop,
                                    const Outline& outline) {
  std::vector<OutOfReach> out;
  const std::vector<GrooveEdges> all = grooves(outline);
  const Tools profiling = tools_of(shop, Use::profiling), blades = tools_of(shop, Use::grooving);
  const Tools forms = tools_of(shop, Use::full_form);
  for (std::size_t r = 0; r < part.rims.size(); ++r) {
    const part::Rim& rim = part.rims[r];
    std::vector<GrooveEdges> mine;
    std::copy_if(all.begin(), all.end(), std::back_inserter(mine),
                 [&](const GrooveEdges& g) { return g.rim == static_cast<int>(r); });
    if (mine.empty()) continue;
    rough(bench, blades, rim, outline, mine);
    const FormChoice form = choose_form(bench, forms, rim, outline, mine);
    const TurningTool* profile = form.tool == nullptr ? groove_finisher(profiling, rim) : nullptr;
    if (form.tool != nullptr) {
      finish_by_form(bench, *form.tool, rim, outline, mine);
    } else if (profile != nullptr) {
      finish_by_profile(bench, *profile, rim, outline, mine, form.why_not, out);
    } else {
      out.push_back({mine.front().root, "grooves", false, form.why_not});
    }
  }
  return out;
}

}  // namespace groovewright::toolpath
