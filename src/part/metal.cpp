#include "settle.h"

namespace groovewright::part {
namespace {

Finish finish_of(const catalog::Finish& known, const spec::Finish& written) {
  const double film = value_or(written.thickness, (known.usual_min + known.usual_max) / 2);
  return {known.name, film, film * known.growth_share, value_or(written.masked, true), known.source};
}

}  // namespace

Metal settle_metal(const spec::Pulley& pulley, const Settler& settler) {
  Metal metal;
  const auto& materials = settler.catalog().materials;
  if (const auto it = materials.find(pulley.material->value); it != materials.end()) {
    metal.material = it->second;
  } else {
    settler.unknown(pulley.material->place, "material", pulley.material->value,
                    with_built_in(ids_of(materials), "materials"));
  }
  metal.red = metal.material.red, metal.green = metal.material.green, metal.blue = metal.material.blue;
  if (!pulley.finish) return metal;

  const auto& coating = *pulley.finish->coating;
  const auto& finishes = settler.catalog().finishes;
  const auto it = finishes.find(coating.value);
  if (it == finishes.end()) {
    settler.unknown(coating.place, "coating", coating.value, with_built_in(ids_of(finishes), "finishes"));
    return metal;
  }
  const catalog::Finish& known = it->second;
  // An unknown material is told already, and may well be the right metal.
  const bool metal_known = !metal.material.id.empty();
  if (metal_known && !metal.material.id.starts_with(known.for_metal)) {
    settler.error(Code::does_not_fit, coating.place, coating.value,
                  "'" + coating.value + "' is made on " + known.for_metal + " only, and the material is " +
                      metal.material.name + ": choose another coating or material");
  }
  metal.finish = finish_of(known, *pulley.finish);
  metal.red = known.red, metal.green = known.green, metal.blue = known.blue;
  return metal;
}

}  // namespace groovewright::part
