#include "bench.h"

#include <algorithm>
#include <cmath>

namespace groovewright::toolpath {
namespace {

using plane::Vec2;

/// Sentences one behind the other, those left out that say nothing.
std::string joined(const std::string& a, const std::string& b) { return a + (a.empty() || b.empty() ? "" : "; ") + b; }

std::vector<Polygon> with(std::vector<Polygon> metal, const std::vector<Polygon>& more) {
  metal.insert(metal.end(), more.begin(), more.end());
  return metal;
}

}  // namespace

Bench::Bench(Plan& plan, Turning& turning, Scene scene, std::vector<Polygon> final_metal,
             const std::vector<Polygon>& roughed)
    : plan_(plan),
      turning_(turning),
      scene_(std::move(scene)),
      final_(std::move(final_metal)),
      metal_(with(final_, scene_.keep_out)),
      kept_(plane::grown(roughed, kAllowance, kRoughChord)) {
  turning_.script.plane = nc::Plane::zx;
}

nc::Point Bench::point(Vec2 nose) const { return {nose.y + steered_.y, 0, nose.x + steered_.x}; }

Vec2 Bench::home_for(const catalog::TurningTool& tool) const {
  const Vec2 low = box_of(bit(shape(tool, true), 0.01).all()).low, edge = box_of(scene_.stock).high;
  return {edge.x + 5 - low.x, edge.y + 5 - low.y};
}

int Bench::station(const catalog::TurningTool& tool) {
  for (const Station& s : plan_.stations) {
    if (s.tool.id == tool.id) return s.number;
  }
  plan_.stations.push_back({static_cast<int>(plan_.stations.size()) + 1, tool});
  return plan_.stations.back().number;
}

void Bench::begin(const std::string& name, const catalog::TurningTool& tool, const Conditions& c,
                  const std::string& why) {
  const int number = station(tool);
  turning_.operations.push_back({name, number, c.speed, c.feed, c.depth, joined(why, c.why), c.rz});
  if (!c.warning.empty()) turning_.warnings.push_back("To " + name + ": " + c.warning);
  add(nc::Comment{name});
  if (number != tool_) {
    add(nc::ToolChange{number, tool.name});
    tool_ = number;
    steered_ = shape(tool, plan_.lathe.steers_nose_centre).steered;
    home_ = home_for(tool);
  }
  constexpr nc::Turn turn = nc::Turn::cw;  // every tool lies so, whatever its hand and the turret's side
  if (tool.use == catalog::TurningTool::Use::drilling) {
    add(nc::SpindleSpeed{spindle_speed(c.speed, tool.width, turning_.max_rpm), turn});
  } else {
    add(nc::SurfaceSpeed{c.speed, turning_.max_rpm, turn});
  }
  add(nc::FeedPerTurn{c.feed});
  if (plan_.cutting.coolant) add(nc::Coolant{true});
  add(nc::Rapid{point(home_)});
  feed_ = c.feed, share_ = 1;
  at_ = home_;
}

void Bench::take(const Motions& all) {
  for (const Motion& m : all) {
    if (plane::norm(m.to - at_) < 1e-6) continue;
    if (m.kind != Motion::Kind::rapid && m.feed_share != share_) {
      share_ = m.feed_share;
      add(nc::FeedPerTurn{feed_ * share_});
    }
    switch (m.kind) {
      case Motion::Kind::rapid:
        add(nc::Rapid{point(m.to)});
        break;
      case Motion::Kind::feed:
        add(nc::Line{point(m.to)});
        break;
      case Motion::Kind::ccw:
        add(nc::Arc{point(m.to), point(m.centre), nc::Turn::ccw});
        break;
      case Motion::Kind::cw:
        add(nc::Arc{point(m.to), point(m.centre), nc::Turn::cw});
        break;
    }
    at_ = m.to;
  }
}

void Bench::take_from_above(const Motions& all) {
  if (at_ == home_ && !all.empty()) take({rapid({all.front().to.x, home_.y})});
  take(all);
}

void Bench::go_home() { take({rapid({at_.x, home_.y}), rapid(home_)}); }

void Bench::follow(const Run& run, Way way, Vec2 lead_in, Vec2 lead_out, const Bit& bit) {
  const Vec2 first = run.way.front().edge.a, last = run.way.back().edge.b;
  const Vec2 before = first + lead_in, after = last + lead_out;
  Motions all;
  all.push_back(rapid(way == Way::outside ? Vec2{before.x, home_.y} : Vec2{home_.x, before.y}));
  all.push_back(rapid(before));
  all.push_back(feed(first));
  for (const Motion& m : motions(run.way)) all.push_back(m);
  all.push_back(feed(after));
  all.push_back(rapid(way == Way::outside ? Vec2{after.x, home_.y} : Vec2{home_.x, after.y}));
  all.push_back(rapid(home_));
  take_off(scene_.stock, bit, at_, all);
  take(all);
}

void Bench::dwell(double turns) {
  const double rpm = spindle_speed(turning_.operations.back().speed, 2 * (at_.y + steered_.y), turning_.max_rpm);
  add(nc::Dwell{60 * turns / rpm});
}

void Bench::correct(int x, int z) {
  if (x > 0 && !correctable_) {
    add(nc::Parameter{x, 0, "grooves, on X: minus cuts deeper, see the set-up sheet"});
    add(nc::Parameter{z, 0, "grooves, along Z"});
    correctable_ = true;
  }
  add(nc::Correction{x, z});
}

}  // namespace groovewright::toolpath
