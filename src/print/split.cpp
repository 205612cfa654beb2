#include "split.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "clearance.h"
#include "groovewright/base/trig.h"

namespace groovewright::print {
namespace {

using plane::Path;
using plane::Vec2;
using std::numbers::pi;

/// Metal that stays beside a joint or a dowel, and the least axial thickness that can carry a dovetail: common
/// practice, no source.
constexpr double kBeside = 1.5, kLeastThickness = 2.5;
/// Dovetails that are tried, by their greatest width, mm.
constexpr double kWidths[] = {16, 14, 12, 10, 8, 6, 5, 4};
/// Neck and depth of a dovetail, of its greatest width.
constexpr double kNeckShare = 0.65, kDepthShare = 0.5;
constexpr int kMostDowels = 2;
/// Spacing at which cuts are tried, rad, and middles of dovetails, mm.
constexpr double kTried = pi / 180, kMiddleStep = 0.5;

// ---- ways ----

/// The coarsest layer that steps no farther than the printer bridges, or its finest.
double layer_for(const catalog::Printer& printer, double tan_lean) {
  for (const double layer : printer.layers) {
    if (layer / tan_lean <= printer.greatest_step) return layer;
  }
  return printer.layers.back();
}

struct Extent {
  Vec2 low{1e9, 1e9}, high{-1e9, -1e9};
  void add(Vec2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  [[nodiscard]] Vec2 size() const { return high - low; }
};

/// Of a sector from `from` to `to`, between two radii.
Extent sector(double inner, double outer, double from, double to) {
  Extent e;
  const int steps = std::max(2, static_cast<int>(std::ceil((to - from) / kTried)));
  for (int i = 0; i <= steps; ++i) {
    const double angle = from + (to - from) * i / steps;
    e.add(plane::polar(inner, angle));
    e.add(plane::polar(outer, angle));
  }
  return e;
}

Way upright(const part::Part& part, const section::Section& section, const Choice& choice, int pieces) {
  Way way;
  way.pieces = pieces;
  double width = 0;
  for (const plane::Edge& e : section.body.section) width = std::max(width, e.a.x);
  double rear = width;
  for (const plane::Edge& e : section.body.section) rear = std::min(rear, e.a.x);
  // The under flank of a groove leans half the groove's angle above the bed.
  double lean = pi / 2;
  for (const part::Rim& rim : part.rims) {
    lean = std::min(lean, rim.groove.angle.rad() / 2);
    way.flank_reach = std::max(way.flank_reach, rim.groove_depth());
  }
  way.layer = layer_for(choice.printer, tan_of(lean));
  way.flank_step = way.layer / tan_of(lean);
  const double outer = outside(section);
  const Vec2 size = pieces == 1 ? Vec2{2 * outer, 2 * outer}
                                : sector(inside(section), outer, pi / 2 - pi / pieces, pi / 2 + pi / pieces).size();
  way.box = {size.x, size.y, width - rear};
  return way;
}

/// Standing on its first cut, the flanks are nearly upright.
Way standing(const section::Section& section, const Way& lying, const catalog::Printer& printer) {
  Way way = lying;
  way.standing = true;
  way.layer = printer.layers.front();
  way.flank_step = way.flank_reach = 0;
  const Vec2 size = sector(inside(section), outside(section), 0, 2 * pi / lying.pieces).size();
  way.box = {lying.box[2], size.x, size.y};
  return way;
}

bool fits(const Way& way, const Choice& choice) {
  const catalog::Printer& p = choice.printer;
  const double across = p.scale_across / (1 - choice.plastic.shrink_across),
               up = p.scale_up / (1 - choice.plastic.shrink_up);
  // Lettering stands out a little, and a dovetail reaches past its cut.
  constexpr double kAround = 2;
  const double tab = way.pieces > 1 ? kWidths[0] * kDepthShare : 0;
  const double width = p.bed_width - 2 * p.margin, depth = p.bed_depth - 2 * p.margin;
  const double w = across * (way.box[0] + kAround + (way.standing ? 0 : 2 * tab)), d = across * (way.box[1] + kAround),
               h = up * (way.box[2] + kAround + (way.standing ? tab : 0));
  return h <= p.height && ((w <= width && d <= depth) || (d <= width && w <= depth));
}

// ---- cuts ----

/// Where the section has metal along Z at one radius, as its total length.
double thickness_at(const std::vector<Vec2>& outline, double radius) {
  std::vector<double> crossings;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i], b = outline[(i + 1) % outline.size()];
    if ((a.y > radius) == (b.y > radius)) continue;
    crossings.push_back(a.x + (b.x - a.x) * (radius - a.y) / (b.y - a.y));
  }
  std::sort(crossings.begin(), crossings.end());
  double sum = 0;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) sum += crossings[i + 1] - crossings[i];
  return sum;
}

class Joiner {
 public:
  Joiner(const section::Section& section, const catalog::Printer& printer)
      : section_(section),
        printer_(printer),
        clearance_(section),
        outline_(plane::polyline(section.body.section, 0.02)) {
    least_root_ = outside(section);
    for (std::size_t i = 0; i < section.tags.size(); ++i) {
      if (section.tags[i].kind == section::Kind::root) {
        least_root_ = std::min({least_root_, section.body.section[i].a.y, section.body.section[i].b.y});
      }
    }
  }

  [[nodiscard]] Cut join(double angle) const {
    Cut cut;
    cut.angle = angle;
    cut.dovetail = dovetail(angle);
    for (int i = 0; i < kMostDowels; ++i) add_dowel(cut);
    return cut;
  }

 private:
  /// The widest that has metal all round, the nearer to the middle of the wall the better.
  [[nodiscard]] std::optional<Dovetail> dovetail(double angle) const {
    const double low = inside(section_) + kBeside, high = least_root_ - kBeside, middle = (low + high) / 2;
    for (const double width : kWidths) {
      std::optional<Dovetail> best;
      const double reach = width / 2 + kBeside;
      const int steps = static_cast<int>(std::floor((high - low - 2 * reach) / kMiddleStep));
      for (int i = 0; i <= steps; ++i) {
        const double at = low + reach + i * kMiddleStep;
        const Dovetail d{at, kNeckShare * width / 2, width / 2, kDepthShare * width};
        if (best && std::abs(best->middle - middle) <= std::abs(at - middle)) continue;
        if (has_metal(d, angle)) best = d;
      }
      if (best) return best;
    }
    return std::nullopt;
  }

  [[nodiscard]] bool has_metal(const Dovetail& d, double angle) const {
    const Vec2 ray = plane::polar(1, angle), across{-ray.y, ray.x};
    constexpr int kSteps = 4;
    for (int i = -kSteps; i <= kSteps; ++i) {
      const double r = d.middle + (d.head + kBeside) * i / kSteps;
      if (thickness_at(outline_, r) < kLeastThickness) return false;
      for (const double t : {0.0, d.depth / 2, d.depth}) {
        if (thickness_at(outline_, length_of(r, t)) < kLeastThickness) return false;
        if (clearance_.of_point(r * ray + t * across) < kBeside) return false;
      }
    }
    return true;
  }

  /// Where the most metal is round it, on both sides of the cut.
  void add_dowel(Cut& cut) const {
    const double depth = printer_.dowel_length / 2, radius = printer_.dowel_diameter / 2 + printer_.hole_shrink / 2;
    const Vec2 ray = plane::polar(1, cut.angle), across{-ray.y, ray.x};
    double best = radius + kBeside / 2;
    std::optional<DowelHole> found;
    double low_z = 1e9, high_z = -1e9;
    for (const Vec2& v : outline_) low_z = std::min(low_z, v.x), high_z = std::max(high_z, v.x);
    const int rows = 24, columns = 48;
    const double low = inside(section_), high = outside(section_);
    for (int i = 1; i < columns; ++i) {
      const double r = low + (high - low) * i / columns;
      if (cut.dovetail && std::abs(r - cut.dovetail->middle) < cut.dovetail->head + radius + 1) continue;
      double open = 1e9;
      for (const double t : {-depth, -depth / 2, 0.0, depth / 2, depth}) {
        open = std::min(open, clearance_.of_point(r * ray + t * across));
      }
      if (open <= best) continue;
      for (int k = 1; k < rows; ++k) {
        const double z = low_z + (high_z - low_z) * k / rows;
        double room = open;
        for (const DowelHole& d : cut.dowels) {
          room = std::min(room, length_of(d.radius - r, d.z - z) / 2 - 2 * radius);
        }
        for (const double at : {r, length_of(r, depth)}) {
          const Vec2 p{z, at};
          room = std::min(room,
                          plane::contains(section_.body.section, p) ? plane::distance(p, section_.body.section) : -1.0);
        }
        if (room <= best) continue;
        best = room;
        found = DowelHole{r, z};
      }
    }
    if (found) cut.dowels.push_back(*found);
  }

  const section::Section& section_;
  const catalog::Printer& printer_;
  Clearance clearance_;
  std::vector<Vec2> outline_;
  double least_root_ = 0;
};

/// The joint in the cut's frame, from the axis outwards. The socket is wider than the tab by the gap all round.
std::vector<Vec2> joint_line(const std::optional<Dovetail>& d, double inner, double outer, double gap, bool is_socket) {
  const double at = is_socket ? gap / 2 : -gap / 2;
  if (!d) return {{inner, at}, {outer, at}};
  const double slope = (d->head - d->neck) / (d->depth + gap / 2);
  const double wider = is_socket ? gap * length_of(1, slope) : 0, end = d->depth + (is_socket ? gap : 0);
  const double neck = d->neck + slope * (at + gap / 2) + wider, head = d->neck + slope * (end + gap / 2) + wider;
  return {{inner, at}, {d->middle - neck, at}, {d->middle - head, end}, {d->middle + head, end}, {d->middle + neck, at},
          {outer, at}};
}

}  // namespace

std::vector<Way> ways(const part::Part& part, const section::Section& section, const Choice& choice) {
  std::vector<Way> found;
  for (int n = 1; n <= kMostPieces; ++n) {
    const Way lying = upright(part, section, choice, n);
    found.push_back(lying);
    if (n > 1) found.push_back(standing(section, lying, choice.printer));
  }
  for (Way& way : found) {
    way.fits = fits(way, choice);
    way.good = way.flank_step <= choice.printer.greatest_step;
  }
  std::stable_sort(found.begin(), found.end(), [](const Way& a, const Way& b) {
    return std::tuple(!a.fits, !a.good, a.pieces, a.standing) < std::tuple(!b.fits, !b.good, b.pieces, b.standing);
  });
  return found;
}

std::vector<Cut> cuts(const section::Section& section, int pieces, const catalog::Printer& printer) {
  if (pieces < 2) return {};
  const Clearance clearance(section);
  const double spacing = 2 * pi / pieces;
  double start = 0, best = -1e9;
  const int tries = static_cast<int>(std::round(spacing / kTried));
  for (int i = 0; i < tries; ++i) {
    const double tried = (i + 0.5) * kTried;
    double least = 1e9;
    for (int k = 0; k < pieces; ++k) least = std::min(least, clearance.of_ray(tried + k * spacing));
    if (least > best + 1e-6) best = least, start = tried;
  }
  const Joiner joiner(section, printer);
  std::vector<Cut> made;
  for (int k = 0; k < pieces; ++k) made.push_back(joiner.join(start + k * spacing));
  return made;
}

PieceOutline outline(const section::Section& section, const Cut& before, const Cut& after,
                     const catalog::Printer& printer) {
  const double inner = inside(section) / 2, outer = 1.3 * outside(section), gap = printer.joint_gap;
  PieceOutline piece;
  const auto place = [](const Cut& cut, Vec2 at) {
    const Vec2 ray = plane::polar(1, cut.angle);
    return at.x * ray + at.y * Vec2{-ray.y, ray.x};
  };
  const auto add_holes = [&](const Cut& cut, const std::vector<Vec2>& line, std::size_t first, bool inwards) {
    for (const DowelHole& d : cut.dowels) {
      const std::size_t sides = line.size() - 1;
      const bool beyond = cut.dovetail && d.radius > cut.dovetail->middle;
      const std::size_t side = inwards == beyond || !cut.dovetail ? 0 : sides - 1;
      piece.holes.push_back({first + side, std::abs(d.radius - line[side].x), d.z,
                             (printer.dowel_diameter + printer.hole_shrink) / 2, printer.dowel_length / 2});
    }
  };
  const std::vector<Vec2> socket = joint_line(before.dovetail, inner, outer, gap, true);
  add_holes(before, socket, 0, false);
  for (const Vec2& at : socket) piece.points.push_back(place(before, at));
  double sweep = after.angle - before.angle;
  if (sweep <= 0) sweep += 2 * pi;
  constexpr int kSteps = 12;
  for (int i = 1; i < kSteps; ++i) piece.points.push_back(plane::polar(outer, before.angle + sweep * i / kSteps));
  std::vector<Vec2> tab = joint_line(after.dovetail, inner, outer, gap, false);
  std::reverse(tab.begin(), tab.end());
  add_holes(after, tab, piece.points.size(), true);
  for (const Vec2& at : tab) piece.points.push_back(place(after, at));
  return piece;
}

}  // namespace groovewright::print
