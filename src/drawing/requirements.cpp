#include <algorithm>
#include <cmath>

#include "edges_by_kind.h"
#include "openings.h"
#include "voice.h"

namespace groovewright::drawing {
namespace {

using part::HolePattern;
using part::Part;
using part::Register;
using part::Side;
using section::Kind;
using section::Section;

/// A bore engaged over this share of its diameter leads a part: common practice, no source.
constexpr double kLongBore = 0.8;

Feature of_flange(const Part& part, const Section& section, std::size_t rim, Side side, Kind kind) {
  const double middle = (part.groove_z(rim, 0) + part.groove_z(rim, part.rims[rim].grooves - 1)) / 2;
  return edges(section, [&](const section::Tag& t, const plane::Edge& e) {
    return t.kind == kind && t.rim == static_cast<int>(rim) && ((e.a.x + e.b.x) / 2 > middle) == (side == Side::front);
  });
}

class Demands {
 public:
  Demands(const Part& part, const Section& section, std::span<const Dimension> rows)
      : part_(part), section_(section), rows_(rows) {}

  Requirements all() {
    choose_datums();
    add_sizes();
    add_location();
    for (std::size_t i = 0; i < part_.rims.size(); ++i) add_rim(i);
    for (const HolePattern& p : part_.holes) add_pattern(p);
    return std::move(out_);
  }

 private:
  [[nodiscard]] const Register* located_by() const {
    const auto& registers = part_.hub.registers;
    const auto rear =
        std::find_if(registers.begin(), registers.end(), [](const Register& r) { return r.side == Side::rear; });
    if (rear != registers.end()) return &*rear;
    return registers.empty() ? nullptr : &registers.front();
  }

  /// Length over which the plain bore holds the shaft.
  [[nodiscard]] double engaged() const {
    double length = part_.hub.front_face - part_.hub.rear_face;
    for (const part::BoreStep& s : part_.hub.bore.steps) length -= s.depth;
    for (const Register& r : part_.hub.registers) length -= std::max(0.0, r.depth);
    return length;
  }
  [[nodiscard]] bool bore_leads() const {
    const part::Bore& bore = part_.hub.bore;
    return bore.taper || (located_by() == nullptr && engaged() >= kLongBore * bore.diameter.value);
  }

  void choose_datums() {
    const Register* r = located_by();
    const Datum seat{"", "seat", seat_at(section_, part_.hub.rear_face)};
    Datum axis{"", "bore_diameter", of_kind(section_, Kind::bore)};
    if (r != nullptr && !bore_leads()) {
      axis.what = r->id() + "_diameter";
      axis.on = of_register(section_, *r);
    }
    out_.datums = bore_leads() ? std::vector{axis, seat} : std::vector{seat, axis};
    if (const auto angle = angular_datum()) out_.datums.push_back(*angle);
    for (std::size_t i = 0; i < out_.datums.size(); ++i)
      out_.datums[i].letter = std::string(1, static_cast<char>('A' + i));
  }

  [[nodiscard]] std::vector<std::string> openings_of(const HolePattern& p) const {
    std::vector<std::string> ids;
    for (const plane::RoundHole& h : section_.body.holes) {
      if (pattern_of(part_, h) == &p) ids.push_back(h.id);
    }
    return ids;
  }
  /// What fixes the part's angle, where something does.
  [[nodiscard]] std::optional<Datum> angular_datum() const {
    if (part_.hub.keyway) return Datum{"", "keyway_width", {}};
    for (const HolePattern& p : part_.holes) {
      if (p.use == HolePattern::Use::dowel) return Datum{"", p.id + "_diameter", {{}, {openings_of(p).front()}}};
    }
    return std::nullopt;
  }
  [[nodiscard]] std::vector<std::string> letters(std::size_t most) const {
    std::vector<std::string> out;
    for (const Datum& d : out_.datums) {
      if (out.size() < most) out.push_back(d.letter);
    }
    return out;
  }

  void add_size(const std::string& id, Feature on) {
    const Dimension* row = find(rows_, id);
    if (row != nullptr && (row->lower || row->upper)) out_.sizes.push_back({*row, std::move(on)});
  }
  void add_sizes() {
    add_size("bore_diameter", of_kind(section_, Kind::bore));
    for (const Register& r : part_.hub.registers) add_size(r.id() + "_diameter", of_register(section_, r));
    for (std::size_t i = 0; i < part_.rims.size(); ++i) {
      add_size(Part::prefix(i) + "diameter_over_balls", of_rim(section_, Kind::flank, i));
    }
  }

  void add_zone(Zone zone, const std::string& id, const std::string& label, double width, const std::string& source) {
    zone.row = {id, label, "", width, "mm", {}, width, source};
    out_.zones.push_back(std::move(zone));
  }
  void add_zone(Zone zone, const std::string& id, const std::string& label, const std::string& rule) {
    const catalog::Sourced& limit = part_.limit(rule);
    add_zone(std::move(zone), id, label, limit.value, limit.source);
  }

  /// The seat and the cylinder that locate the part, to each other; the bore to both where it is neither.
  void add_location() {
    const Datum &first = out_.datums[0], &second = out_.datums[1];
    if (bore_leads()) {
      add_zone({.kind = Zone::Kind::perpendicularity, .datums = {first.letter}, .on = second.on}, "seat_squareness",
               "Seat square to the bore", "seat_squareness");
      return;
    }
    add_zone({.kind = Zone::Kind::flatness, .on = first.on}, "seat_flatness", "Seat flat", "seat_flatness");
    add_zone({.kind = Zone::Kind::perpendicularity, .diametral = true, .datums = {first.letter}, .on = second.on},
             "location_squareness", "Axis of the locating diameter square to the seat", "seat_squareness");
    if (second.what != "bore_diameter") {
      add_zone({.kind = Zone::Kind::circular_runout, .datums = letters(2), .on = of_kind(section_, Kind::bore)},
               "bore_runout", "Bore, circular run-out", "bore_runout");
    }
  }

  void add_rim(std::size_t i) {
    const std::string id = Part::prefix(i);
    const Feature flanks = of_rim(section_, Kind::flank, i);
    for (const auto& [kind, key] : {std::pair{Zone::Kind::circular_runout, "radial_runout_limit"},
                                    std::pair{Zone::Kind::axial_runout, "axial_runout_limit"}}) {
      if (const Dimension* row = find(rows_, id + key)) {
        out_.zones.push_back({.row = *row, .kind = kind, .datums = letters(2), .on = flanks});
      }
    }
    for (const Side side : {Side::front, Side::rear}) {
      if (!part_.rims[i].flange(side)) continue;
      const std::string name = side == Side::front ? "front_flange" : "rear_flange";
      // Roundings may leave nothing of a low flange's wall.
      Feature wall = of_flange(part_, section_, i, side, Kind::lead_in);
      if (wall.edges.empty()) continue;
      add_zone({.kind = Zone::Kind::axial_runout, .datums = letters(2), .on = std::move(wall)}, id + name + "_runout",
               "Inner wall of the flange, axial run-out", "flange_runout");
    }
  }

  void add_pattern(const HolePattern& p) {
    Zone zone{.kind = Zone::Kind::position,
              .diametral = true,
              .common = p.angles.size() > 1,
              .maximum_material = part_.drawing.maximum_material && p.use == HolePattern::Use::bolt,
              .datums = letters(angular(p) ? 3 : 2),
              .on = {{}, openings_of(p)}};
    const std::string label = "Position of " + p.id;
    if (p.use == HolePattern::Use::bolt && !p.tapped && p.thread) {
      add_zone(std::move(zone), p.id + "_position", label, (p.diameter.value - p.thread->diameter) / 2,
               "half the play of the screw in its hole (its thread takes the other half), common practice, no source");
      return;
    }
    const bool dowel = p.use == HolePattern::Use::dowel;
    add_zone(std::move(zone), p.id + "_position", label,
             dowel      ? "dowel_position"
             : p.tapped ? "tapped_position"
                        : "pocket_position");
  }
  /// The pattern's angle matters where another feature than itself fixes the part's angle.
  [[nodiscard]] bool angular(const HolePattern& p) const {
    return out_.datums.size() > 2 && out_.datums[2].what != p.id + "_diameter";
  }

  const Part& part_;
  const Section& section_;
  std::span<const Dimension> rows_;
  Requirements out_;
};

}  // namespace

Requirements requirements(const Part& part, const Section& section, std::span<const Dimension> rows) {
  return Demands(part, section, rows).all();
}

Rows tolerances(const Part& part, const Section& section, std::span<const Dimension> rows) {
  Rows out;
  for (Zone& zone : requirements(part, section, rows).zones) {
    if (find(rows, zone.row.id) == nullptr) out.dimensions.push_back(std::move(zone.row));
  }
  return out;
}

}  // namespace groovewright::drawing
