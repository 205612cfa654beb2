#include "groovewright/print.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "gauges.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "make.h"
#include "marking.h"
#include "plates.h"
#include "pose.h"

namespace groovewright::print {
namespace {

using mesh::Mesh;
using mesh::Vec3;
using part::Side;
using std::numbers::pi;

/// Windows of a web that has none: as many as cuts go between.
int windows_for(int pieces) { return pieces == 4 ? 8 : pieces == 5 ? 5 : 6; }

std::string mm(double v) { return trimmed(v, 1) + " mm"; }

Box box_of(const Object& o) {
  Box box;
  add(box, o.body);
  for (const Mesh& m : o.lettering) add(box, m);
  return box;
}

template <class Move>
void pose_all(Object& o, const Move& move) {
  pose(o.body, move);
  for (Mesh& m : o.lettering) pose(m, move);
}

class Maker {
 public:
  Maker(const part::Part& metal, const Choice& choice, Diagnostics& diagnostics)
      : metal_(metal), choice_(choice), diagnostics_(diagnostics) {
    facts_.deflection = std::max(mesh::kLeastDeflection, kChordShare * choice.printer.resolution);
  }

  std::optional<Print> make() {
    if (!settle()) return std::nullopt;
    std::vector<Object> objects = pieces();
    const std::size_t own = objects.size();
    for (Object& o : gauges(metal_, choice_.printer, facts_.deflection)) objects.push_back(std::move(o));
    for (std::size_t i = 0; i < objects.size(); ++i) measure(objects[i], i < own);
    if (!lay_out(std::move(objects), own)) return std::nullopt;
    print_.rows = rows(metal_, choice_, print_, facts_);
    print_.page = page(metal_, choice_, print_, facts_);
    return std::move(print_);
  }

 private:
  /// The variant and the way it is printed; how many windows there are depends on the pieces, and the other way round.
  bool settle() {
    int windows = windows_for(1);
    for (int round = 0; round < 2; ++round) {
      auto variant = plastic_variant(metal_, choice_.printer, windows, diagnostics_);
      if (!variant) return false;
      facts_.variant = std::move(*variant);
      print_.ways = ways(facts_.variant.part, facts_.variant.section, choice_);
      print_.chosen = print_.ways.front();
      if (!print_.chosen.fits) return refuse();
      if (!facts_.variant.windowed || windows_for(print_.chosen.pieces) == windows) break;
      windows = windows_for(print_.chosen.pieces);
    }
    facts_.least_lean = atan2_of(print_.chosen.layer, choice_.printer.greatest_step);
    facts_.cuts = cuts(facts_.variant.section, print_.chosen.pieces, choice_.printer);
    return true;
  }

  bool refuse() {
    const auto needs = [](const Way& w) { return std::max({w.box[0], w.box[1], w.box[2]}); };
    const Way& least = *std::min_element(print_.ways.begin(), print_.ways.end(),
                                         [&](const Way& a, const Way& b) { return needs(a) < needs(b); });
    const catalog::Printer& p = choice_.printer;
    diagnostics_.error(Code::does_not_fit, metal_.rims.front().place, p.id,
                       "no split fits printer '" + p.id + "', " + mm(p.bed_width) + " x " + mm(p.bed_depth) + " and " +
                           mm(p.height) + " high: the handiest, " + std::to_string(least.pieces) + " pieces" +
                           (least.standing ? " standing on a cut" : "") + ", needs a bed of " +
                           mm(least.box[0] + 2 * p.margin + 4) + " x " + mm(least.box[1] + 2 * p.margin + 4) +
                           " and a height of " + mm(least.box[2] + 12) + "; choose another with --printer");
    return false;
  }

  // ---- the part itself ----

  std::vector<Object> pieces() {
    const Mesh whole = mesh::tessellate(facts_.variant.section.body, facts_.deflection);
    if (!print_.chosen.standing) choose_side(whole);
    if (facts_.cuts.empty()) return {piece(whole, {-pi, pi}, "fit-check pulley", 0)};
    std::vector<Object> made;
    const std::size_t n = facts_.cuts.size();
    for (std::size_t k = 0; k < n; ++k) {
      const Cut &before = facts_.cuts[k], &after = facts_.cuts[(k + 1) % n];
      const PieceOutline shape = outline(facts_.variant.section, before, after, choice_.printer);
      made.push_back(piece(mesh::cut_out(whole, shape.points, shape.holes, facts_.deflection),
                           {before.angle, before.angle + 2 * pi / static_cast<double>(n)},
                           "segment " + std::to_string(k + 1) + " of " + std::to_string(n), before.angle));
    }
    return made;
  }

  /// The face that leaves less hanging over goes up.
  void choose_side(const Mesh& whole) {
    Mesh turned = whole;
    pose(turned, front_down);
    const auto hanging = [&](const Mesh& m) {
      Box box;
      add(box, m);
      return overhang(m, facts_.least_lean, box.low.z);
    };
    const double rear_down = hanging(whole), other = hanging(turned);
    print_.front_down = other < rear_down;
    facts_.other_side = std::max(rear_down, other);
  }

  Object piece(Mesh body, const Sector& sector, std::string name, double cut) {
    const Side up = print_.front_down ? Side::rear : Side::front;
    Object o{std::move(name), "the part itself, opened to a slip fit", std::move(body), {}};
    o.lettering = marking(facts_.variant, choice_, up, sector,
                          metal_.name + (metal_.revision.empty() ? "" : " REV " + metal_.revision), facts_.left_out);
    if (print_.chosen.standing) {
      pose_all(o, standing(cut));
    } else {
      if (print_.front_down) pose_all(o, front_down);
      // The middle of a segment lies along Y.
      const double middle = (sector.from + sector.to) / 2;
      if (print_.chosen.pieces > 1) pose_all(o, turned(pi / 2 - (print_.front_down ? -middle : middle)));
    }
    return o;
  }

  void measure(Object& o, bool is_own) {
    if (!mesh::closure(o.body).closed()) ++facts_.open_meshes;
    facts_.volume += mesh::volume(o.body);
    for (const Mesh& m : o.lettering) {
      if (!mesh::closure(m).closed()) ++facts_.open_meshes;
      facts_.volume += mesh::volume(m);
    }
    if (is_own) facts_.support += overhang(o.body, facts_.least_lean, box_of(o).low.z);
  }

  // ---- onto the beds ----

  /// Each as it will be printed: larger by what it shrinks. A gauge that the bed does not hold is left out.
  bool lay_out(std::vector<Object> objects, std::size_t own) {
    const double across = choice_.printer.scale_across / (1 - choice_.plastic.shrink_across),
                 up = choice_.printer.scale_up / (1 - choice_.plastic.shrink_up);
    std::vector<Object> kept;
    std::vector<Footprint> footprints;
    for (std::size_t i = 0; i < objects.size(); ++i) {
      Object& o = objects[i];
      pose_all(o, [&](const Vec3& v) { return Vec3{across * v.x, across * v.y, up * v.z}; });
      const Box box = box_of(o);
      const Footprint f{box.width(), box.depth(), box.height()};
      if (fits(f, choice_.printer)) {
        kept.push_back(std::move(o));
        footprints.push_back(f);
      } else if (i < own) {
        return refuse(o.name, f);
      } else {
        facts_.too_large.push_back(o.name);
      }
    }
    const std::vector<Spot> spots = laid_out(footprints, choice_.printer);
    for (std::size_t i = 0; i < kept.size(); ++i) put(std::move(kept[i]), spots[i]);
    return true;
  }

  bool refuse(const std::string& name, const Footprint& f) {
    diagnostics_.error(Code::does_not_fit, metal_.rims.front().place, choice_.printer.id,
                       "the " + name + " does not fit printer '" + choice_.printer.id + "': it needs a bed of " +
                           mm(f.width + 2 * choice_.printer.margin) + " x " + mm(f.depth + 2 * choice_.printer.margin) +
                           " and a height of " + mm(f.height) + "; choose another with --printer");
    return false;
  }

  void put(Object o, const Spot& spot) {
    if (spot.quarter_turn) pose_all(o, [](const Vec3& v) { return Vec3{-v.y, v.x, v.z}; });
    const Box box = box_of(o);
    pose_all(o, [&](const Vec3& v) {
      return Vec3{v.x - box.low.x + spot.x, v.y - box.low.y + spot.y, v.z - box.low.z};
    });
    if (print_.plates.size() <= spot.plate) print_.plates.resize(spot.plate + 1);
    print_.plates[spot.plate].objects.push_back(std::move(o));
  }

  const part::Part& metal_;
  const Choice& choice_;
  Diagnostics& diagnostics_;
  Facts facts_;
  Print print_;
};

}  // namespace

std::optional<Print> make(const part::Part& part, const Choice& choice, Diagnostics& diagnostics) {
  return Maker(part, choice, diagnostics).make();
}

}  // namespace groovewright::print
