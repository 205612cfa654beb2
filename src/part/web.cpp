#include "settle.h"

namespace groovewright::part {
namespace {

/// Diameters between which the web lies.
struct Ring {
  double inner = 0, outer = 0;
};

void refuse_in_solid_disc(const spec::Body& written, const Settler& settler) {
  if (written.solid && !written.solid->value) {
    settler.error(Code::needs_more, written.solid->place, "solid",
                  "'solid: false' says nothing of what is there instead: give 'web'");
  }
  for (const auto& [key, name] : {std::pair{&written.rim_thickness, "rim_thickness"}, {&written.fillet, "fillet"}}) {
    if (!*key) continue;
    settler.error(Code::does_not_fit, (*key)->place, name,
                  "a solid disc has no web to which '" + std::string(name) + "' belongs: drop it, or give 'web'");
  }
}

Windows settle_windows(const spec::Windows& written, const Ring& ring, const Settler& settler) {
  Windows w;
  w.place = written.place;
  w.count = written.count->value;
  w.diameter = from_spec(*written.diameter);
  w.circle = written.circle ? from_spec(*written.circle)
                            : Settled{(ring.inner + ring.outer) / 2, defaulted("midway between hub and rim")};
  w.edge_break = settler.or_rule(written.edge_break, "default_edge_break");
  w.start = or_zero(written.start);
  return w;
}

Spokes settle_spokes(const spec::Spokes& written, const Ring& ring, double web_fillet, const Settler& settler) {
  Spokes s;
  s.place = written.place;
  s.count = written.count->value;
  s.width = from_spec(*written.width);
  s.edge_break = settler.or_rule(written.edge_break, "default_edge_break");
  s.fillet = settler.or_rule(written.fillet, "default_web_fillet");
  const double room = 2 * (web_fillet + s.edge_break.value + settler.rule("default_edge_break").value);
  s.inner_diameter = written.inner_diameter ? from_spec(*written.inner_diameter)
                                            : Settled{ring.inner + room, defaulted("clear of the hub's fillet")};
  s.outer_diameter = written.outer_diameter ? from_spec(*written.outer_diameter)
                                            : Settled{ring.outer - room, defaulted("clear of the rim's fillet")};
  s.start = or_zero(written.start);
  return s;
}

}  // namespace

std::optional<Web> settle_web(const spec::Body& body, const std::vector<Rim>& rims, const Hub& hub,
                              const Settler& settler) {
  if (!body.web) {
    refuse_in_solid_disc(body, settler);
    return std::nullopt;
  }
  const spec::Web& written = *body.web;
  const int rim = value_or(written.rim, 1);
  if (rim > static_cast<int>(rims.size())) {
    settler.error(Code::out_of_range, written.rim->place, "rim",
                  "there is no rim " + std::to_string(rim) + ": they count from 1 to " + std::to_string(rims.size()));
    return std::nullopt;
  }
  Web web;
  web.place = written.place;
  web.rim = rim - 1;
  web.thickness = from_spec(*written.thickness);
  web.offset = written.offset ? from_spec(*written.offset) : Settled{0, defaulted("in the middle of the grooves")};
  web.fillet = settler.or_rule(body.fillet, "default_web_fillet");
  web.rim_thickness = body.rim_thickness ? from_spec(*body.rim_thickness)
                                         : Settled{2 * settler.rule("minimum_wall_under_groove").value,
                                                   defaulted("twice the least wall under a groove")};
  const Ring ring{hub.diameter.value,
                  rims[static_cast<std::size_t>(web.rim)].root_diameter() - 2 * web.rim_thickness.value};
  if (written.windows) web.windows = settle_windows(*written.windows, ring, settler);
  if (written.spokes) web.spokes = settle_spokes(*written.spokes, ring, web.fillet.value, settler);
  return web;
}

}  // namespace groovewright::part
