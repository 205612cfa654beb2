#include "pictures.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"
#include "groovewright/drive/belts.h"
#include "groovewright/ink.h"

namespace groovewright::job {
namespace {

using drive::Analysis;
using drive::Drive;

/// Speeds of which the tensions are drawn.
constexpr std::size_t kShownSpeeds = 3;

void add(Artifacts& out, const std::string& name, const plane::Page& page, const drive::PictureStyle& style,
         const PdfPress& press) {
  out.push_back({name + ".pdf", press(page, style.typeface)});
  out.push_back({name + ".svg", ink::to_svg(page, style.typeface)});
}

/// Rounds from the driver on.
std::vector<std::size_t> from_driver(const Analysis& a) {
  std::vector<std::size_t> order;
  for (std::size_t i = a.course.driver, k = 0; k < a.course.size(); ++k, i = a.course.next(i)) order.push_back(i);
  return order;
}

drive::TensionMap tensions(const Drive& d, const Analysis& a) {
  drive::TensionMap map;
  map.drive = d.name;
  const std::vector<std::size_t> order = from_driver(a);
  for (const std::size_t i : order) {
    map.parts.push_back({drive::pulley_at(d, a.course, i).name, a.course.rounds[i].radius * std::abs(a.route.wraps[i]),
                         a.route.spans[i].length});
  }
  const std::vector<double>& rpm = d.duty.rpm;
  std::vector<double> shown;
  for (std::size_t k = 0; k < kShownSpeeds; ++k) shown.push_back(rpm[k * (rpm.size() - 1) / (kShownSpeeds - 1)]);
  for (const drive::Loaded& l : a.loaded) {
    // The belt is strained most where the tensioner's friction adds to its spring.
    if (l.set != a.set.high || std::ranges::find(shown, l.load.driver_rpm) == shown.end()) continue;
    drive::TensionState state{trimmed(l.load.driver_rpm, 0) + " rpm", {}};
    for (const std::size_t i : order) state.spans.push_back(l.load.tension[i] + l.load.centrifugal);
    (l.load.way == drive::Way::drive ? map.pulling : map.overrun).push_back(std::move(state));
  }
  return map;
}

drive::FrequencyPicture frequencies(const Drive& d, const Analysis& a) {
  drive::FrequencyPicture picture{d.name, {}, a.frequencies, d.duty.orders, d.duty.rpm.front(), d.duty.rpm.back()};
  for (std::size_t i = 0; i < a.course.size(); ++i) {
    picture.spans.push_back(
        {drive::pulley_at(d, a.course, i).name, drive::pulley_at(d, a.course, a.course.next(i)).name});
  }
  return picture;
}

drive::Vec2 hole_of(const drive::Tensioner& t) { return t.pivot + plane::polar(t.peg->radius, t.peg->angle); }

/// Requires: a tensioner with a peg.
drive::DrillTemplate drill_template(const Drive& d, drive::Vec2 new_hole, std::string belongs_to) {
  const drive::Peg& peg = *d.tensioner->peg;
  drive::DrillTemplate t;
  t.drive = d.name;
  t.belongs_to = std::move(belongs_to);
  t.pivot = d.tensioner->pivot, t.old_hole = hole_of(*d.tensioner), t.new_hole = new_hole;
  t.old_name = peg.thread.empty() ? "⌀" + trimmed(peg.diameter, 2) : peg.thread;
  t.old_diameter = t.diameter = peg.diameter;
  t.thread = peg.thread;
  t.tap_drill = peg.tap_drill;
  t.depth = peg.depth;
  t.ligament = plane::norm(t.new_hole - t.old_hole) - peg.diameter;
  t.ligament_least = d.limits.ligament.value * peg.diameter;
  return t;
}

}  // namespace

Artifacts drive_pictures(const Drive& d, const Analysis& a, const drive::PictureStyle& style, const PdfPress& press) {
  Artifacts out;
  drive::LayoutOptions options;
  if (a.seat) options.installed = a.seat->position;
  options.clearances = drive::clearance_marks(d, a.course, a.gaps, options.installed, style);
  add(out, d.name + ".layout", drive::layout_page(d, options, style), style, press);
  if (!a.loaded.empty()) add(out, d.name + ".tension", drive::tension_page(tensions(d, a), style), style, press);
  if (!a.frequencies.lines.empty())
    add(out, d.name + ".frequency", drive::frequency_page(frequencies(d, a), style), style, press);
  if (a.reclock && d.tensioner->peg) {
    const std::string belongs_to = filled(style.texts.at("template_drive"), {drive::designation(d.belt)});
    if (const auto page = drive::drill_template_page(drill_template(d, a.reclock->new_hole, belongs_to), style))
      add(out, d.name + ".template", *page, style, press);
  }
  return out;
}

Artifacts search_pictures(const Drive& d, const drive::SearchSpace& space, const drive::SearchResult& found,
                          const drive::PictureStyle& style, const PdfPress& press) {
  Artifacts out;
  if (!d.tensioner || !d.tensioner->peg) return out;
  for (std::size_t rank = 0; rank < found.kept.size(); ++rank) {
    const Drive chosen = drive::with_combination(d, space, found.kept[rank].index);
    const drive::Vec2 hole = hole_of(*chosen.tensioner);
    if (chosen.tensioner->pivot != d.tensioner->pivot) continue;
    if (plane::norm(hole - hole_of(*d.tensioner)) < plane::kCoincident) continue;
    const std::string belongs_to =
        filled(style.texts.at("template_search"), {std::to_string(rank + 1), d.name, drive::designation(chosen.belt)});
    if (const auto page = drive::drill_template_page(drill_template(d, hole, belongs_to), style))
      add(out, d.name + ".search.template", *page, style, press);
    return out;
  }
  return out;
}

Artifacts range_pictures(const PreparedRange& r, const drive::PictureStyle& style, const PdfPress& press) {
  Artifacts out;
  if (r.measured_at <= 0 || r.options.size() < 2) return out;
  drive::RangeMap map;
  map.drive = r.name, map.driven = r.driven, map.pressure_unit = "kPa", map.at_rpm = r.redline;
  for (const Option& o : r.options) {
    map.points.push_back({o.overdrive, o.charge->free.gauge, o.charge->restricted.gauge, o.driven_speed});
    map.driven_limit = o.driven_limit;
  }
  std::sort(map.points.begin(), map.points.end(),
            [](const auto& p, const auto& q) { return p.overdrive < q.overdrive; });
  add(out, r.name + ".range", drive::range_page(map, style), style, press);
  return out;
}

}  // namespace groovewright::job
