#include "settle.h"

namespace groovewright::part {
namespace {

/// The order matters: each subject's defaults are measured by those before it.
Part settled(const spec::Pulley& pulley, const catalog::Catalog& catalog, Diagnostics& diagnostics) {
  const Settler settler(catalog, diagnostics);
  Part part;
  part.file = pulley.file;
  part.name = pulley.name->value;
  part.title = value_or(pulley.title, part.name);
  part.limits = catalog.rules;
  part.tolerances = catalog.tolerances;

  Metal metal = settle_metal(pulley, settler);
  part.material = std::move(metal.material);
  part.material_place = pulley.material->place;
  part.finish = std::move(metal.finish);
  part.red = metal.red, part.green = metal.green, part.blue = metal.blue;

  part.rims = settle_rims(pulley.rims, settler);
  if (diagnostics.has_errors()) return part;
  part.holes = settle_holes(pulley, settler);
  PlacedHub placed = settle_hub(pulley, part.rims, part.holes, settler);
  part.hub = std::move(placed.hub);
  part.rims_rear = placed.rims_rear;
  part.web = settle_web(*pulley.body, part.rims, part.hub, settler);

  part.timing_zero = settle_timing_zero(pulley, part.hub, part.holes, settler);
  part.marks = settle_marks(pulley.marks, part.rims, part.timing_zero, settler);
  part.tone_ring = settle_tone_ring(pulley.tone_ring, part.timing_zero, settler);
  if (pulley.speed) {
    part.maximum_speed = pulley.speed->maximum->value;
    part.speed_reason = value_or(pulley.speed->reason, std::string());
  }
  if (pulley.damper) part.damper = pulley.damper->value;

  part.drawing = settle_drawing(pulley.drawing, part.holes, settler);
  part.machining = settle_machining(pulley.machining, settler);
  part.revision = settle_revision(pulley.revision, part.drawing.revisions, settler);
  if (pulley.step) part.pmi = value_or(pulley.step->pmi, false);
  if (pulley.balance) part.balance_grade = from_spec(*pulley.balance->grade);
  return part;
}

}  // namespace

std::string own_groove_key(const std::string& reference) { return "file:" + reference; }

std::optional<Part> resolve(const spec::Pulley& pulley, const catalog::Catalog& catalog, Diagnostics& diagnostics) {
  Diagnostics found;
  Part part = settled(pulley, catalog, found);
  for (const Diagnostic& d : found.all()) diagnostics.add(d);
  if (found.has_errors()) return std::nullopt;
  return part;
}

}  // namespace groovewright::part
