#include "marking.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "clearance.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/lettering.h"

namespace groovewright::print {
namespace {

using plane::Strokes;
using plane::Vec2;
using std::numbers::pi;

/// Heights tried, mm, and how far a letter stands out: three layers of 0.2 mm.
constexpr double kHeights[] = {10, 8, 7, 6, 5, 4};
constexpr double kRaised = 0.6;
/// Kept free round the lettering.
constexpr double kBeside = 1;
/// A pen narrower than this the nozzle can't draw.
constexpr double kLeastPen = 1.2;
/// Steps in which places are tried.
constexpr double kRadiusStep = 1.5, kAngleStep = 5 * pi / 180;

struct Disc {
  Vec2 at;
  double radius;
};

/// A line of lettering, or the two bars with their figure, by its height.
struct Item {
  std::string text;
  bool bars = false;
};

class Marker {
 public:
  Marker(const Variant& variant, const Choice& choice, part::Side side, const Sector& sector)
      : choice_(choice), side_(side), sector_(sector), clearance_(variant.section) {
    for (const part::HolePattern& p : variant.part.holes) {
      const double head = p.thread ? p.thread->head_diameter : 0;
      for (const Angle& a : p.angles) {
        const double at = part::cross_angle(a);
        taken_.push_back(
            {p.circle / 2 * Vec2{cos_of(at), sin_of(at)}, std::max({head, p.sink_diameter, p.diameter.value}) / 2});
      }
    }
    for (const section::Wall& w : variant.section.walls()) {
      if (w.faces == side && variant.section.tags[w.edge].kind != section::Kind::seat) walls_.push_back(w);
    }
    // The widest first.
    std::stable_sort(walls_.begin(), walls_.end(), [](const section::Wall& a, const section::Wall& b) {
      return a.outer - a.inner > b.outer - b.inner;
    });
  }

  /// False where it finds no room.
  bool put(const Item& item) {
    for (const double height : kHeights) {
      for (const section::Wall& wall : walls_) {
        const double outermost = wall.outer - kBeside - height, room = outermost - wall.inner - kBeside;
        const int steps = static_cast<int>(std::floor(room / kRadiusStep));
        for (int i = 0; i <= steps; ++i) {
          if (try_round(item, height, wall, outermost - i * kRadiusStep)) return true;
        }
      }
    }
    return false;
  }

  [[nodiscard]] std::vector<mesh::Mesh> take() { return std::move(made_); }

 private:
  [[nodiscard]] double pen(double height) const {
    return std::max(choice_.lettering.line_width * height, kLeastPen * choice_.printer.nozzle);
  }

  [[nodiscard]] double width(const Item& item, double height, double r) const {
    const double text = plane::text_width(choice_.lettering.glyphs, item.text, height);
    if (!item.bars) return text;
    if (kBars > 1.8 * r || text + 4 * pen(height) > kBars) return 1e9;
    return 2 * r * asin_of(kBars / 2 / r) + pen(height);
  }

  bool try_round(const Item& item, double height, const section::Wall& wall, double r) {
    const double half = width(item, height, r) / 2 / r;
    // A line that goes more than most of the way round reads badly.
    if (half > 0.8 * pi) return false;
    const double room = (sector_.to - sector_.from) / 2 - half;
    const bool whole = sector_.to - sector_.from > 1.99 * pi;
    const double middle = whole ? pi / 2 : (sector_.from + sector_.to) / 2;
    const double most = whole ? pi : room - (kBeside + 2) / r;
    const int steps = static_cast<int>(std::floor(most / kAngleStep));
    for (int i = 0; i <= steps; ++i) {
      for (const double at : {middle - i * kAngleStep, middle + i * kAngleStep}) {
        if (!is_free(r, height, at, half)) continue;
        add(item, height, wall, r, at);
        taken_sectors_.push_back(
            {wall.z, r - kBeside, r + height + kBeside, at - half - kBeside / r, at + half + kBeside / r});
        return true;
      }
    }
    return false;
  }

  struct Taken {
    double z, inner, outer, from, to;
  };

  [[nodiscard]] bool is_free(double r, double height, double middle, double half) const {
    const double inner = r - kBeside, outer = r + height + kBeside, wide = half + kBeside / r;
    for (const Taken& t : taken_sectors_) {
      const double apart = std::abs(std::remainder(middle - (t.from + t.to) / 2, 2 * pi));
      if (outer > t.inner && inner < t.outer && apart < wide + (t.to - t.from) / 2) return false;
    }
    const auto is_clear = [&](Vec2 p) {
      for (const Disc& d : taken_) {
        if (plane::norm(p - d.at) < d.radius + kBeside) return false;
      }
      return clearance_.of_point(p) >= kBeside;
    };
    // Every 1.5 mm along three arcs.
    const int steps = std::max(2, static_cast<int>(std::ceil(2 * wide * outer / 1.5)));
    for (int i = 0; i <= steps; ++i) {
      const double angle = middle - wide + 2 * wide * i / steps;
      for (const double radius : {inner, (inner + outer) / 2, outer}) {
        if (!is_clear(radius * Vec2{cos_of(angle), sin_of(angle)})) return false;
      }
    }
    return true;
  }

  [[nodiscard]] Strokes strokes(const Item& item, double height, double r) const {
    const double text = plane::text_width(choice_.lettering.glyphs, item.text, height);
    Strokes lines = plane::write_line(choice_.lettering.glyphs, item.text, height);
    if (!item.bars) return lines;
    // Along the arc, so that the chord between the bars' feet is right.
    const double apart = 2 * r * asin_of(kBars / 2 / r);
    for (auto& line : lines) {
      for (Vec2& p : line) p.x += (apart - text) / 2;
    }
    lines.push_back({{0, 0}, {0, height}});
    lines.push_back({{apart, 0}, {apart, height}});
    return lines;
  }

  void add(const Item& item, double height, const section::Wall& wall, double r, double middle) {
    Strokes lines = strokes(item, height, r);
    // Seen from behind, the cross plane is mirrored: written for a reader there, then mirrored back.
    const bool behind = side_ == part::Side::rear;
    lines = plane::bend(lines, r, behind ? pi - middle : middle, plane::Tops::outward);
    std::vector<std::vector<Vec2>> loops = plane::outlines(lines, pen(height), 0.05 * pen(height));
    if (behind) {
      for (auto& loop : loops) {
        for (Vec2& p : loop) p.x = -p.x;
        std::reverse(loop.begin(), loop.end());
      }
    }
    made_.push_back(behind ? mesh::extruded(loops, wall.z - kRaised, wall.z)
                           : mesh::extruded(loops, wall.z, wall.z + kRaised));
  }

  const Choice& choice_;
  part::Side side_;
  Sector sector_;
  Clearance clearance_;
  std::vector<Disc> taken_;
  std::vector<Taken> taken_sectors_;
  std::vector<section::Wall> walls_;
  std::vector<mesh::Mesh> made_;
};

/// Capitals, as lettering on a part is.
std::string capitals(std::string text) {
  for (char& c : text) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return text;
}

}  // namespace

std::vector<mesh::Mesh> marking(const Variant& variant, const Choice& choice, part::Side side, const Sector& sector,
                                const std::string& name, int& left_out) {
  Marker marker(variant, choice, side, sector);
  // In one line, else in two; it comes before everything else.
  if (!marker.put({"FIT CHECK – DO NOT RUN"}) && (!marker.put({"FIT CHECK"}) || !marker.put({"DO NOT RUN"})))
    ++left_out;
  if (!marker.put({capitals(name)})) ++left_out;
  if (!marker.put({trimmed(kBars, 0), true})) ++left_out;
  return marker.take();
}

}  // namespace groovewright::print
