#include <algorithm>
#include <cmath>

#include "groovewright/base/trig.h"
#include "settle.h"

namespace groovewright::part {
namespace {

// ---- bore ----

Taper settle_taper(const spec::Taper& written) {
  Taper t;
  t.place = written.place;
  t.included = written.angle ? written.angle->value : Angle::rad(2 * atan2_of(written.ratio->value / 2, 1));
  t.large_end = value_or(written.large_end, Side::rear);
  t.gauge_face = value_or(written.gauge_face, t.large_end);
  t.gauge_depth = or_zero(written.gauge_depth);
  t.stand_off = or_zero(written.stand_off);
  t.stand_off_tolerance = or_zero(written.stand_off_tolerance);
  t.draw_up = or_zero(written.draw_up);
  return t;
}

Bore settle_bore(const spec::Bore& written, const Settler& settler) {
  Bore bore;
  bore.place = written.place;
  bore.diameter = from_spec(*written.diameter);
  bore.edge_break = settler.or_rule(written.edge_break, "default_edge_break");
  if (written.taper) {
    bore.taper = settle_taper(*written.taper);
    if (written.fit) {
      settler.error(Code::does_not_fit, written.fit->place, written.fit->value,
                    "a tapered bore is held by its gauge plane and stand-off, not by a fit class: drop 'fit'");
    }
  } else {
    bore.fit = settler.fit(written.fit, "H7", bore.diameter.value, written.place);
    bore.fit_source = written.fit ? kFromSpec : defaulted("H7, common practice, no source");
  }
  for (const spec::BoreStep& s : written.steps) {
    BoreStep step{s.place, s.diameter->place, s.diameter->value, s.depth->value, s.side->value, {}};
    if (s.fit) step.fit = settler.fit(s.fit, "", step.diameter, s.place);
    bore.steps.push_back(step);
  }
  return bore;
}

// ---- registers ----

std::optional<Register> settle_register(const spec::Register& written, const Settler& settler) {
  const bool recess = written.depth.has_value();
  const auto fit = settler.fit(written.fit, recess ? "H7" : "h6", written.diameter->value, written.place);
  if (!fit) return std::nullopt;
  Register r;
  r.place = written.place;
  r.diameter_place = written.diameter->place;
  r.diameter = written.diameter->value;
  r.depth = recess ? written.depth->value : -written.height->value;
  r.side = value_or(written.side, Side::rear);
  r.fit = *fit;
  r.fit_source = written.fit ? kFromSpec : defaulted(recess ? "H7 for a recess" : "h6 for a spigot");
  return r;
}

std::vector<Register> settle_registers(const std::vector<spec::Register>& written, const Settler& settler) {
  std::vector<Register> registers;
  for (const spec::Register& w : written) {
    const auto fresh = settle_register(w, settler);
    if (!fresh) continue;
    for (const Register& other : registers) {
      if (other.side != fresh->side) continue;
      settler.error(Code::one_of_keys, w.place, "register",
                    "one register a side: line " + std::to_string(other.place.line) + " gives one already");
    }
    registers.push_back(*fresh);
  }
  return registers;
}

// ---- keyway ----

std::optional<Keyway> settle_keyway(const std::optional<spec::Keyway>& written, double bore, const Settler& settler) {
  if (!written) return std::nullopt;
  Keyway k;
  k.place = written->place;
  k.angle = or_zero(written->angle);
  if (written->width) {
    k.width = from_spec(*written->width);
    k.depth = from_spec(*written->depth);
    if (const auto key = settler.catalog().key_of_depth(k.depth.value)) {
      k.depth_tolerance = key->depth_tolerance;
      k.depth_tolerance_source = key->source + ", for slots of this depth";
    }
  } else if (const auto key = settler.catalog().key_for(bore)) {
    k.width = {key->width, key->source};
    k.depth = {key->hub_depth, key->source};
    k.depth_tolerance = key->depth_tolerance;
    k.depth_tolerance_source = key->source;
  } else {
    settler.error(
        Code::needs_more, written->place, "keyway",
        "the parallel-key table has no key for a bore of " + mm(bore) + ": give 'keyway: {width: …, depth: …}'");
    return std::nullopt;
  }
  if (const auto fit = settler.fit(written->fit, "JS9", k.width.value, written->place)) k.fit = *fit;
  k.fit_source = written->fit ? kFromSpec : defaulted("JS9, the normal fit of DIN 6885-1, from memory");
  return k;
}

// ---- where the hub stands ----

/// How far a face of the hub stands out past the rims'.
double stand(const std::optional<spec::Stand>& s) {
  if (!s) return 0;
  return s->proud ? s->proud->value : -s->recessed->value;
}

double length_of_rims(const std::vector<Rim>& rims) {
  double length = rims.back().width();
  for (std::size_t i = 0; i + 1 < rims.size(); ++i) length += rims[i].width() + rims[i + 1].space;
  return length;
}

/// Two of length, front and rear settle where hub and rims stand; what is missing is flush.
void settle_length(const spec::Hub& written, double rims, PlacedHub& placed, const Settler& settler) {
  Hub& hub = placed.hub;
  const double front = stand(written.front), rear = stand(written.rear);
  if (written.length && written.front && written.rear) {
    settler.error(Code::two_sizes, written.length->place, "length",
                  "the hub's length follows from 'front' and 'rear': give two of the three");
  }
  if (written.length) {
    hub.front_face = written.length->value;
    placed.rims_rear = written.front ? written.length->value - front - rims : rear;
    hub.length_source = kFromSpec;
  } else {
    hub.front_face = rear + rims + front;
    placed.rims_rear = rear;
    hub.length_source = written.front || written.rear ? "spec (front and rear)" : defaulted("flush with the rims");
  }
  if (hub.front_face < spec::kMinLength) {
    settler.error(Code::does_not_fit, written.place, "hub",
                  "the hub has no length left, its front face lies behind its seat: recess 'front' or 'rear' less");
  }
}

/// Diameter that holds all that the hub carries.
double contents(const Hub& hub, const std::vector<HolePattern>& holes) {
  double d = hub.bore.diameter.value;
  for (const BoreStep& s : hub.bore.steps) d = std::max(d, s.diameter);
  for (const Register& r : hub.registers) d = std::max(d, r.diameter);
  for (const HolePattern& p : holes) {
    if (p.use == HolePattern::Use::magnet) continue;
    d = std::max(d, p.circle + std::max(p.sink_diameter, p.diameter.value + 2 * p.edge_break));
  }
  return d;
}

}  // namespace

PlacedHub settle_hub(const spec::Pulley& pulley, const std::vector<Rim>& rims, const std::vector<HolePattern>& holes,
                     const Settler& settler) {
  const spec::Hub& written = *pulley.hub;
  PlacedHub placed;
  Hub& hub = placed.hub;
  hub.place = written.place;
  hub.bore = settle_bore(*written.bore, settler);
  hub.registers = settle_registers(written.registers, settler);
  hub.keyway = settle_keyway(written.keyway, hub.bore.diameter.value, settler);

  const double rims_length = length_of_rims(rims);
  settle_length(written, rims_length, placed, settler);
  hub.edge_break = settler.or_rule(written.edge_break, "default_edge_break");
  hub.boss = written.diameter.has_value();
  hub.diameter = hub.boss ? from_spec(*written.diameter)
                          : Settled{contents(hub, holes) + 2 * settler.rule("minimum_hub_wall").value,
                                    defaulted("bore, register and bolt heads + the least hub wall")};
  const bool flush =
      placed.rims_rear == 0 && stand(written.front) == 0 && std::abs(hub.front_face - rims_length) < kSame;
  if (!pulley.body->web && !hub.boss && !flush) {
    settler.error(Code::needs_more, written.place, "hub",
                  "a hub that does not stand flush with a solid disc needs 'diameter'");
  }
  return placed;
}

}  // namespace groovewright::part
