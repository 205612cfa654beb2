#include <algorithm>

#include "settle.h"

namespace groovewright::part {

DrawingWish settle_drawing(const std::optional<spec::Drawing>& drawing, const std::vector<HolePattern>& holes,
                           const Settler& settler) {
  const spec::Drawing written = drawing.value_or(spec::Drawing{});
  DrawingWish wish;
  wish.place = written.place;
  wish.sheet = written.sheet;
  wish.scale = written.scale;
  wish.projection = written.projection;
  wish.general_tolerance =
      written.general_tolerance.value_or(spec::Written<GeneralTolerance>{GeneralTolerance::iso_22081, {}});
  wish.dual_units = value_or(written.dual_units, false);
  wish.language = written.language.value_or(spec::Written<std::string>{"en", {}});
  wish.number = value_or(written.number, std::string());
  wish.author = value_or(written.author, std::string());
  wish.maximum_material = value_or(written.maximum_material, false);
  for (const spec::Revision& r : written.revisions) {
    wish.revisions.push_back({r.place, r.revision->value, r.text->value});
  }
  wish.notes = written.notes;
  const bool has_bolts =
      std::any_of(holes.begin(), holes.end(), [](const auto& p) { return p.use == HolePattern::Use::bolt; });
  if (wish.maximum_material && !has_bolts) {
    settler.error(Code::needs_more, written.maximum_material->place, "maximum_material",
                  "'maximum_material' goes with the position of bolt holes, but the hub has none");
  }
  return wish;
}

std::string settle_revision(const spec::Word& written, const std::vector<Revision>& table, const Settler& settler) {
  if (table.empty()) return value_or(written, std::string());
  const std::string& last = table.back().revision;
  if (written && written->value != last) {
    settler.error(Code::does_not_fit, written->place, written->value,
                  "this is revision " + written->value + ", but the drawing's table of revisions ends with " + last +
                      " in line " + std::to_string(table.back().place.line) + ": the last row is the revision now");
  }
  return last;
}

Projection DrawingWish::projection_on(Sheet chosen) const {
  const bool is_ansi = chosen >= Sheet::ansi_a;
  return value_or(projection, is_ansi ? Projection::third : Projection::first);
}

}  // namespace groovewright::part
