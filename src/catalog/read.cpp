#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <limits>
#include <span>
#include <string_view>
#include <utility>

#include "fields.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/catalog.h"
#include "groovewright/yaml.h"
#include "lettering.h"
#include "read_dialect.h"
#include "read_print.h"
#include "read_shop.h"
#include "texts.h"
#include "typeface.h"

namespace groovewright::catalog {
namespace {

using yaml::Entry;
using yaml::Node;

constexpr double kOpenEnd = std::numeric_limits<double>::infinity();
constexpr double kMicrometresInMillimetre = 1000;  // a divisor: 0.001 itself is not exact

/// What every data file begins with.
struct Heading {
  std::string id;  ///< the value of the first key
  std::string edition;
};

Step read_step(Fields& row) {
  Step step;
  step.up_to = row.has("up_to") ? row.number("up_to", kLength) : kOpenEnd;
  step.base = row.number("value", kLength, Sign::zero_too);
  if (row.has("grooves") || row.has("per_extra_groove")) {
    step.grooves = row.count("grooves");
    step.per_extra = row.number("per_extra_groove", kLength);
  }
  if (row.has("over") || row.has("per_mm")) {
    step.over = row.has("over") ? row.number("over", kLength) : 0;
    step.per_mm = row.number("per_mm", kPlain);
  }
  row.finish();
  return step;
}

void check_steps(const Fields& fields, const Node& value, const std::vector<Step>& steps) {
  if (!fields.clean()) return;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const bool last = i + 1 == steps.size();
    if (last != std::isinf(steps[i].up_to)) {
      fields.error(Code::bad_catalog, value, "every row but the last has an 'up_to', the last has none");
      return;
    }
    if (i > 0 && steps[i].up_to <= steps[i - 1].up_to) {
      fields.error(Code::bad_catalog, value, "the rows' 'up_to' must increase");
      return;
    }
    if (steps[i].base == 0 && steps[i].per_mm == 0) {
      fields.error(Code::out_of_range, value, "a limit must be greater than zero: give a 'value' or a 'per_mm'");
      return;
    }
  }
  if (steps.empty()) fields.error(Code::bad_count, value, "at least one row is due here");
}

/// One value for all diameters, one row, or `rows` of them.
SteppedLimit read_stepped(Fields& fields, std::string_view key) {
  const Node& value = fields.node(key, "0.25 mm");
  SteppedLimit limit;
  if (value.kind == Node::Kind::scalar) {
    const Sourced single = fields.sourced(key, kLength);
    return {{{.up_to = kOpenEnd, .base = single.value}}, single.source};
  }
  Fields inner(value, fields);
  limit.source = inner.source();
  if (inner.has("rows")) {
    const Node& rows = inner.node("rows", "[{up_to: 75 mm, value: 0.3 mm}, {value: 0.6 mm}]");
    for (const Node& item : inner.list(rows)) {
      Fields row(item, inner);
      limit.steps.push_back(read_step(row));
    }
    inner.finish();
    check_steps(fields, rows, limit.steps);
  } else {
    limit.steps.push_back(read_step(inner));
    check_steps(fields, value, limit.steps);
  }
  return limit;
}

std::optional<Sourced> read_optional(Fields& fields, std::string_view key, Unit unit) {
  return fields.has(key) ? std::optional(fields.sourced(key, unit)) : std::nullopt;
}

/// A ball must rest on straight flank, above the root's rounding and below the crest's; else nothing can be measured.
/// Along the flank a circle of radius r tangent to both flanks touches r cos²h / sin h away (radially) from the sharp
/// point.
bool ball_meets_straight_flanks(const Groove& g) {
  const double h = g.angle.half().rad();
  const double touch_per_radius = cos_of(h) * cos_of(h) / sin_of(h);
  const double sharp_height = g.pitch.value / (2 * tan_of(h));
  const double ball_radius = g.ball_diameter.value / 2;
  return ball_radius > g.root_radius_max.value &&
         (g.crest_radius_min.value + ball_radius) * touch_per_radius < sharp_height;
}

void check_groove(Fields& file, const Groove& g) {
  if (g.angle >= Angle::deg(180)) {
    file.error(Code::out_of_range, file.node("angle", ""), "a groove angle is less than 180 deg");
  } else if (!ball_meets_straight_flanks(g)) {
    file.error(Code::bad_catalog, file.node("ball_diameter", ""),
               "this ball does not rest on straight flanks of a groove with this pitch, angle, crest and root radius");
  }
}

void read_groove(Fields& file, const Heading& heading, Catalog& catalog) {
  Groove g;
  g.id = heading.id;
  g.file = file.place().file;
  g.standard = file.word("standard", "ISO 9981");
  g.edition = heading.edition;

  Fields pitch = file.map("pitch");
  g.pitch = pitch.sourced("value", kLength);
  g.pitch_tolerance = pitch.sourced("tolerance", kLength);
  g.cumulative_pitch_tolerance = pitch.sourced("cumulative_tolerance", kLength);
  pitch.finish();

  Fields angle = file.map("angle");
  g.angle = Angle::rad(angle.number("value", kAngle));
  g.angle_tolerance = Angle::rad(angle.number("tolerance", kAngle));
  g.angle_source = angle.source();
  angle.finish();

  g.crest_radius_min = file.sourced("crest_radius_min", kLength);
  g.root_radius_max = file.sourced("root_radius_max", kLength);

  Fields ball = file.map("ball_diameter");
  g.ball_diameter = ball.sourced("value", kLength);
  g.second_ball_diameter = read_optional(file, "second_ball_diameter", kLength);
  g.ball_tolerance = ball.sourced("tolerance", kLength);
  ball.finish();

  g.two_x = file.sourced("two_x", kLength, Sign::any);
  g.two_n_max = file.sourced("two_n_max", kLength, Sign::any);
  g.edge_distance_min = file.sourced("edge_distance_min", kLength);
  g.effective_diameter_min = file.sourced("effective_diameter_min", kLength);
  g.pitch_line_offset = file.sourced("pitch_line_offset", kLength, Sign::zero_too);
  g.crest_radius_elsewhere = read_optional(file, "crest_radius_elsewhere", kLength);
  g.pitch_line_offset_elsewhere = read_optional(file, "pitch_line_offset_elsewhere", kLength);
  g.roughness_max = file.sourced("roughness_max", kMicrometres);
  g.over_balls_tolerance = read_stepped(file, "over_balls_tolerance");
  g.groove_to_groove = read_stepped(file, "groove_to_groove");
  g.radial_runout = read_stepped(file, "radial_runout");
  g.axial_runout = read_stepped(file, "axial_runout");
  if (file.clean()) check_groove(file, g);
  catalog.grooves[g.id] = g;
}

void read_belt(Fields& file, const Heading& heading, Catalog& catalog) {
  Belt b;
  b.section = heading.id;
  if (file.has("standard")) (void)file.word("standard", "ISO 9981");
  b.rib_pitch = file.sourced("rib_pitch", kLength);
  const Sourced angle = file.sourced("rib_angle", kAngle);
  b.rib_angle = Angle::rad(angle.value);
  b.rib_angle_source = angle.source;
  b.rib_width = file.sourced("rib_width", kLength);
  b.rib_height = file.sourced("rib_height", kLength);
  b.tip_radius = file.sourced("tip_radius", kLength);
  b.valley_radius = file.sourced("valley_radius", kLength);
  b.height = file.sourced("height", kLength);
  if (file.has("measured_height")) b.measured_height = file.sourced("measured_height", kLength);
  b.cord_to_back = file.sourced("cord_to_back", kLength);
  b.speed_max = file.sourced("speed_max", kMetresPerSecond);
  b.speed_max_agreed = read_optional(file, "speed_max_agreed", kMetresPerSecond);
  b.mass_per_rib = file.sourced("mass_per_rib", kKilogramsPerMetre);
  b.stiffness_per_rib = read_optional(file, "stiffness_per_rib", kForce);
  b.measured_under_per_rib = read_optional(file, "measured_under_per_rib", kForce);
  b.stretch = read_optional(file, "stretch", kPlain);
  if (file.has("length_shorter")) b.length_shorter = read_stepped(file, "length_shorter");
  if (file.has("length_longer")) b.length_longer = read_stepped(file, "length_longer");
  catalog.belts[b.section] = b;
}

/// Red, green and blue from 0 to 1; optional.
template <class Coloured>
void read_colour(Fields& file, Coloured& out) {
  if (!file.has("colour")) return;
  const std::vector<double> parts = file.numbers("colour");
  const bool right =
      parts.size() == 3 && std::all_of(parts.begin(), parts.end(), [](double p) { return p >= 0 && p <= 1; });
  if (!right) {
    file.error(Code::out_of_range, file.node("colour", ""),
               "'colour' takes red, green and blue from 0 to 1, as [0.7, 0.7, 0.72]");
    return;
  }
  out.red = parts[0];
  out.green = parts[1];
  out.blue = parts[2];
}

void read_material(Fields& file, const Heading& heading, Catalog& catalog) {
  Material m;
  m.id = heading.id;
  m.name = file.word("name", "Steel 1045");
  m.density = file.sourced("density", kDensity);
  m.modulus = file.sourced("modulus", kPressure);
  m.poisson = file.sourced("poisson", kPlain);
  if (m.poisson.value >= 0.5) {
    file.error(Code::out_of_range, file.node("poisson", ""), "Poisson's ratio is less than 0.5");
  }
  const Sourced unknown{0, "not given"};
  m.yield = file.has("yield") ? file.sourced("yield", kPressure) : unknown;
  m.tensile = file.has("tensile") ? file.sourced("tensile", kPressure) : unknown;
  m.expansion = file.sourced("expansion", kExpansion);
  read_colour(file, m);
  catalog.materials[m.id] = m;
}

void read_finish(Fields& file, const Heading& heading, Catalog& catalog) {
  Finish f;
  f.id = heading.id;
  f.name = file.word("name", "Hard anodise, type III");
  f.source = file.source();
  // A finish without a film changes no size, so it needs neither.
  if (file.has("parts") || file.has("film")) {
    Fields parts = file.map("parts");
    const double in = parts.number("in", kPlain, Sign::zero_too);
    const double out = parts.number("out", kPlain, Sign::zero_too);
    parts.finish();
    if (in + out > 0) {
      f.growth_share = out / (in + out);
    } else {
      file.error(Code::out_of_range, file.node("parts", ""), "'parts' says how the film divides, as {in: 1, out: 1}");
    }
    Fields film = file.map("film");
    f.usual_min = film.number("from", kLength);
    f.usual_max = film.number("to", kLength);
    film.finish();
    if (f.usual_max < f.usual_min) {
      file.error(Code::out_of_range, file.node("film", ""), "'from' must not exceed 'to'");
    }
  }
  read_colour(file, f);
  if (file.has("for")) f.for_metal = file.word("for", "aluminium");
  catalog.finishes[f.id] = f;
}

/// The ends of the ranges of nominal sizes, increasing; `inherited` where the map gives none of its own.
std::vector<double> read_ranges(Fields& fields, const std::vector<double>& inherited) {
  if (!fields.has("ranges_mm")) return inherited;
  std::vector<double> ends = fields.numbers("ranges_mm");
  const bool increasing = std::adjacent_find(ends.begin(), ends.end(), std::greater_equal<>()) == ends.end();
  if (ends.size() >= 2 && ends.front() >= 0 && increasing) return ends;
  fields.error(Code::bad_catalog, fields.node("ranges_mm", ""),
               "'ranges_mm' lists the ends of the ranges, increasing from 0 or more, as [0, 3, 6]");
  return {};
}

/// One limit for each range, in mm; a single number stands for all.
std::vector<double> read_limits(Fields& fields, std::string_view key, std::size_t ranges) {
  const Node& value = fields.node(key, "[10, 12, 15]");
  if (value.kind == Node::Kind::scalar) {
    return std::vector<double>(ranges, fields.number(value, kPlain, Sign::any) / kMicrometresInMillimetre);
  }
  std::vector<double> limits;
  for (const Node& item : fields.list(value)) {
    limits.push_back(fields.number(item, kPlain, Sign::any) / kMicrometresInMillimetre);
  }
  if (limits.size() != ranges) {
    fields.error(
        Code::bad_count, value,
        "one limit for each range is due: " + std::to_string(ranges) + ", not " + std::to_string(limits.size()));
    limits.resize(ranges);
  }
  return limits;
}

Catalog::FitTable read_fit(Fields& fields, const Node& at, const std::vector<double>& inherited_ranges) {
  const std::vector<double> ends = read_ranges(fields, inherited_ranges);
  if (ends.empty()) {
    if (fields.clean()) fields.error(Code::missing_key, at, "'ranges_mm' is missing, here or for the whole file");
    (void)fields.rest();  // nothing can be said about the limits
    return {};
  }
  const std::size_t ranges = ends.size() - 1;
  std::vector<double> lower, upper;
  if (fields.has("plus_minus_um")) {
    upper = read_limits(fields, "plus_minus_um", ranges);
    for (const double limit : upper) lower.push_back(-limit);
  } else {
    upper = read_limits(fields, "upper_um", ranges);
    lower = read_limits(fields, "lower_um", ranges);
  }
  Catalog::FitTable table{fields.source(), {}};
  for (std::size_t i = 0; i < ranges; ++i) {
    if (fields.clean() && upper[i] < lower[i]) {
      fields.error(Code::out_of_range, at,
                   "the upper limit lies below the lower one over " + shortest(ends[i]) + " up to " +
                       shortest(ends[i + 1]) + " mm");
    }
    table.rows.push_back({ends[i], ends[i + 1], lower[i], upper[i]});
  }
  return table;
}

void read_limit_tables(Fields& file, std::map<std::string, Catalog::FitTable>& tables) {
  const std::vector<double> ranges = read_ranges(file, {});
  for (const Entry* entry : file.rest()) {
    Fields fields(entry->value, file);
    tables[entry->key] = read_fit(fields, entry->value, ranges);
    fields.finish();
  }
}

void read_fits(Fields& file, const Heading&, Catalog& catalog) { read_limit_tables(file, catalog.fits); }
void read_tolerances(Fields& file, const Heading&, Catalog& catalog) { read_limit_tables(file, catalog.tolerances); }

/// One source for each standard that a thread's figures come from.
struct ThreadSources {
  std::string drill, clearance, head, counterbore, countersunk;
};

/// `sources` names them one by one, a plain `source` stands for all; what neither names comes from `inherited`.
ThreadSources read_thread_sources(Fields& fields, ThreadSources inherited) {
  ThreadSources sources = std::move(inherited);
  if (fields.has("source")) {
    const std::string& all = fields.source();
    sources = {all, all, all, all, all};
  }
  if (!fields.has("sources")) return sources;
  Fields map = fields.map("sources");
  const auto take = [&map](std::string_view key, std::string& out) {
    if (map.has(key)) out = map.word(key, "ISO 273");
  };
  take("drill", sources.drill);
  take("clearance", sources.clearance);
  take("head", sources.head);
  take("counterbore", sources.counterbore);
  take("countersunk", sources.countersunk);
  map.finish();
  return sources;
}

void check_thread(const Fields& fields, const Node& at, const Thread& t) {
  const auto must = [&](bool holds, const char* what) {
    if (!holds) fields.error(Code::bad_catalog, at, what);
  };
  must(t.tap_drill < t.diameter, "the tap drill must be smaller than the thread");
  must(t.minor_min <= t.minor_max && t.minor_max < t.diameter, "'minor' goes from 'min' to 'max', below the thread");
  must(t.diameter < t.clearance_fine && t.clearance_fine <= t.clearance_medium &&
           t.clearance_medium <= t.clearance_coarse,
       "clearance holes grow from the thread's diameter: fine, medium, coarse");
  must(t.head_diameter < t.counterbore_diameter, "the counterbore must be larger than the head");
  must(t.diameter < t.countersunk_head_diameter, "a countersunk head must be larger than the thread");
}

Thread read_thread(Fields& fields, const Entry& entry, const ThreadSources& inherited) {
  Thread t;
  t.id = entry.key;
  t.diameter = fields.number("diameter", kLength);
  t.pitch = fields.number("pitch", kLength);
  t.tap_drill = fields.number("tap_drill", kLength);
  Fields minor = fields.map("minor");
  t.minor_min = minor.number("min", kLength);
  t.minor_max = minor.number("max", kLength);
  minor.finish();
  Fields clearance = fields.map("clearance");
  t.clearance_fine = clearance.number("fine", kLength);
  t.clearance_medium = clearance.number("medium", kLength);
  t.clearance_coarse = clearance.number("coarse", kLength);
  clearance.finish();
  Fields head = fields.map("head");
  t.head_diameter = head.number("diameter", kLength);
  t.head_height = head.number("height", kLength);
  head.finish();
  Fields counterbore = fields.map("counterbore");
  t.counterbore_diameter = counterbore.number("diameter", kLength);
  t.counterbore_depth = counterbore.number("depth", kLength);
  counterbore.finish();
  t.countersunk_head_diameter = fields.number("countersunk", kLength);

  const ThreadSources sources = read_thread_sources(fields, inherited);
  const bool all_named = !sources.drill.empty() && !sources.clearance.empty() && !sources.head.empty() &&
                         !sources.counterbore.empty() && !sources.countersunk.empty();
  if (!all_named && fields.clean()) {
    fields.error(
        Code::missing_key, entry.value,
        "a source is missing: give `source`, or `sources` with drill, clearance, head, counterbore and countersunk");
  }
  t.drill_source = sources.drill;
  t.clearance_source = sources.clearance;
  t.head_source = sources.head;
  t.counterbore_source = sources.counterbore;
  t.countersunk_source = sources.countersunk;
  return t;
}

void read_threads(Fields& file, const Heading&, Catalog& catalog) {
  const ThreadSources common = read_thread_sources(file, {});
  for (const Entry* entry : file.rest()) {
    Fields fields(entry->value, file);
    const Thread thread = read_thread(fields, *entry, common);
    fields.finish();
    if (fields.clean()) check_thread(fields, entry->value, thread);
    catalog.threads[thread.id] = thread;
  }
}

Key read_key(Fields& row) {
  Key key;
  key.over = row.number("over", kLength, Sign::zero_too);
  key.up_to = row.number("up_to", kLength);
  key.width = row.number("width", kLength);
  key.height = row.number("height", kLength);
  key.shaft_depth = row.number("shaft_depth", kLength);
  key.hub_depth = row.number("hub_depth", kLength);
  key.depth_tolerance = row.number("depth_tolerance", kLength);
  key.source = row.source();
  row.finish();
  return key;
}

void read_keys(Fields& file, const Heading&, Catalog& catalog) {
  std::vector<Key> keys;
  const Node& rows = file.node("rows", "[{over: 22 mm, up_to: 30 mm, width: 8 mm, …}]");
  for (const Node& item : file.list(rows)) {
    Fields row(item, file);
    keys.push_back(read_key(row));
    if (!file.clean()) continue;
    const Key& key = keys.back();
    if (key.up_to <= key.over) file.error(Code::bad_catalog, item, "'up_to' must exceed 'over'");
    if (key.height >= key.shaft_depth + key.hub_depth) {
      file.error(Code::bad_catalog, item, "the key is higher than its two slots together");
    }
  }
  // The rows found first win, so that a person's own come before ours.
  catalog.keys.insert(catalog.keys.begin(), keys.begin(), keys.end());
}

/// What a rule measures, by the unit it was written with.
Measure measure_of(const Node& value) {
  const Node* inner = value.find("value");
  const std::string& text = inner != nullptr ? inner->scalar : value.scalar;
  for (const Measure measure : {Measure::plain, Measure::angle}) {
    if (read_quantity(text, measure).error == QuantityError::none) return measure;
  }
  return Measure::length;
}

/// The first file of rules says which there are and what each measures; later ones may only change them.
void read_rules(Fields& file, const Heading&, Catalog& catalog) {
  const auto read = [&](const std::string& id, Measure measure) {
    Sourced limit = file.sourced(id, Unit{measure, {}});
    if (measure == Measure::angle) limit.value = Angle::rad(limit.value).deg();
    catalog.rules[id] = limit;
  };
  for (const auto& [id, measure] : catalog.rule_measures) {
    if (file.has(id)) read(id, measure);
  }
  if (!catalog.rule_measures.empty()) return;
  for (const Entry* entry : file.rest()) {
    catalog.rule_measures[entry->key] = measure_of(entry->value);
    read(entry->key, catalog.rule_measures[entry->key]);
  }
}

void read_lettering_file(Fields& file, const Heading&, Catalog& catalog) { catalog.lettering = read_lettering(file); }

struct FileKind {
  std::string_view first_key;
  std::string_view example;
  void (*read)(Fields& file, const Heading& heading, Catalog& catalog);
};
constexpr FileKind kFileKinds[] = {
    {"groove", "PK", read_groove},
    {"belt", "PK", read_belt},
    {"material", "steel-1045", read_material},
    {"finish", "hard-anodise", read_finish},
    {"fits", "ISO 286-2", read_fits},
    {"tolerances", "ISO 2768-1", read_tolerances},
    {"threads", "ISO metric, coarse pitch", read_threads},
    {"keys", "DIN 6885-1", read_keys},
    {"printer", "bench-220", [](Fields& f, const Heading& h, Catalog& c) { c.printers[h.id] = read_printer(f, h.id); }},
    {"plastic", "pla", [](Fields& f, const Heading& h, Catalog& c) { c.plastics[h.id] = read_plastic(f, h.id); }},
    {"dialect", "lathe", [](Fields& f, const Heading& h, Catalog& c) { c.dialects[h.id] = read_dialect(f, h.id); }},
    {"machine", "mill-400",
     [](Fields& f, const Heading& h, Catalog& c) { c.shop.machines[h.id] = read_machine(f, h.id); }},
    {"chuck", "power-200", [](Fields& f, const Heading& h, Catalog& c) { c.shop.chucks[h.id] = read_chuck(f, h.id); }},
    {"cutting", "steel", [](Fields& f, const Heading& h, Catalog& c) { c.shop.cutting[h.id] = read_cutting(f, h.id); }},
    {"turning_tools", "outside",
     [](Fields& f, const Heading&, Catalog& c) { read_turning_tools(f, c.shop.turning_tools); }},
    {"milling_tools", "drills",
     [](Fields& f, const Heading&, Catalog& c) { read_milling_tools(f, c.shop.milling_tools); }},
    {"texts", "en", [](Fields& f, const Heading& h, Catalog& c) { read_texts(f, h.id, kDrawingTexts, c); }},
    {"drive_text", "en", [](Fields& f, const Heading& h, Catalog& c) { read_texts(f, h.id, kDriveTexts, c); }},
    {"rules", "shop", read_rules},
    {"lettering", "ISO 3098-1 type B", read_lettering_file},
    {"typeface", "osifont", [](Fields& f, const Heading&, Catalog& c) { c.typeface = read_typeface(f); }},
};

void report_unknown_kind(const Node& file, Diagnostics& diagnostics) {
  std::vector<std::string> kinds;
  for (const FileKind& kind : kFileKinds) kinds.emplace_back(kind.first_key);
  if (file.entries.empty()) {
    diagnostics.error(Code::wrong_kind, file.place, file.scalar,
                      "this is no map of keys; the first key of a data file says its kind: " + listed(kinds, "or"));
    return;
  }
  const Entry& first = file.entries.front();
  diagnostics.error(Code::unknown_key, first.key_place, first.key,
                    "the first key of a data file says its kind, and '" + first.key + "' is none; " +
                        meant_or_known(first.key, kinds));
}

void read_file(const Node& root, Catalog& catalog, Diagnostics& diagnostics) {
  const auto kind = std::find_if(std::begin(kFileKinds), std::end(kFileKinds), [&root](const FileKind& k) {
    return !root.entries.empty() && root.entries.front().key == k.first_key;
  });
  if (kind == std::end(kFileKinds)) {
    report_unknown_kind(root, diagnostics);
    return;
  }
  Fields file(root, diagnostics);
  const Heading heading{file.word(kind->first_key, kind->example), file.word("edition", "own 1")};
  kind->read(file, heading, catalog);
  file.finish();
}

}  // namespace

std::optional<Catalog> read_catalog(std::span<const TextFile> files, Diagnostics& diagnostics) {
  const std::size_t problems_before = diagnostics.all().size();
  Catalog catalog;
  for (const TextFile& file : files) {
    if (const auto root = yaml::read(file, diagnostics)) read_file(*root, catalog, diagnostics);
  }
  if (diagnostics.all().size() != problems_before) return std::nullopt;
  return catalog;
}

}  // namespace groovewright::catalog
