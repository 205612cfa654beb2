#include <algorithm>
#include <cmath>

#include "complaint.h"
#include "groovewright/base/json.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/belts.h"
#include "groovewright/job/range.h"
#include "groovewright/report/table.h"
#include "manifest.h"
#include "pictures.h"

namespace groovewright::job {
namespace {

constexpr int kFormat = 1;
constexpr double kPercent = 100;
constexpr double kKilowatt = 1000;
constexpr double kPsi = 6.894757293168361;  // kPa; a pound-force over a square inch

using report::Cell;

const Check* check_of(const Rows& rows, const std::string& id) {
  const auto found = std::ranges::find(rows.checks, id, &Check::id);
  return found == rows.checks.end() ? nullptr : &*found;
}
Cell value_of(const Rows& rows, const std::string& id) {
  const Check* c = check_of(rows, id);
  return c == nullptr ? Cell{} : Cell{c->value};
}
/// The least value of the judged rows whose ids begin like this.
Cell least_of(const Rows& rows, const std::string& begins) {
  Cell out;
  for (const Check& c : rows.checks) {
    if (!c.id.starts_with(begins) || c.verdict == Verdict::note) continue;
    const auto* so_far = std::get_if<double>(&out);
    if (so_far == nullptr || c.value < *so_far) out = c.value;
  }
  return out;
}

std::string parts_of(const Option& o) {
  std::vector<std::string> parts;
  for (const Support& s : o.supports) parts.push_back(s.part + " (" + s.why + ")");
  return parts.empty() ? "none" : listed(parts);
}

/// Verdict of the drive and of the pulley together, the driven speed's limit among them.
Verdict verdict_of(const Option& o) {
  std::vector<Check> all = o.rows.checks;
  all.insert(all.end(), o.part_checks.begin(), o.part_checks.end());
  return worst(all);
}
struct ColumnOf {
  report::Column column;
  std::function<Cell(const Option&)> value;
};

std::vector<ColumnOf> columns(const PreparedRange& r) {
  const std::string driven = r.driven;
  std::vector<ColumnOf> c{
      {{"option", "Option", ""}, [](const Option& o) { return o.name; }},
      {{"effective_diameter", "Effective diameter", "mm"}, [](const Option& o) { return o.effective_diameter; }},
      {{"overdrive", "Overdrive", "%"}, [](const Option& o) { return o.overdrive * kPercent; }},
      {{"mass", "Mass", "kg"},
       [](const Option& o) { return o.pulley.section.mass.volume * o.pulley.part.material.density.value; }},
      {{"polar_inertia", "Inertia", "kg mm2"},
       [](const Option& o) { return o.pulley.section.mass.polar_inertia * o.pulley.part.material.density.value; }},
      {{"speed_ratio", "Ratio of " + driven, "1"}, [](const Option& o) { return o.speed_ratio; }},
      {{"driven_speed", "Speed of " + driven + " at " + trimmed(r.redline, 0) + " rpm", "rpm"},
       [](const Option& o) { return o.driven_speed; }},
      {{"driven_limit", "Its limit", "rpm"},
       [](const Option& o) { return o.driven_limit > 0 ? Cell{o.driven_limit} : Cell{}; }},
      {{"belt", "Belt to buy", ""}, [](const Option& o) { return drive::designation(o.drive.belt); }},
      {{"tensioner_travel", "Tensioner travel left", "deg"},
       [](const Option& o) { return least_of(o.rows, "tensioner_travel_"); }},
      {{"belt_room", "Belt room, length left", "mm"},
       [](const Option& o) { return value_of(o.rows, "belt_room_length"); }},
      {{"slip_margin", "Least slip margin", "1"}, [](const Option& o) { return least_of(o.rows, "slip_"); }},
      {{"hub_load", "Hub load", "N"}, [](const Option& o) { return value_of(o.rows, "hub_load"); }}};
  if (r.measured_at > 0) {
    c.push_back({{"pressure_free", "Charge pressure, free inlet (estimate)", "kPa"},
                 [](const Option& o) { return o.charge->free.gauge; }});
    c.push_back({{"pressure_restricted", "restricted inlet (estimate)", "kPa"},
                 [](const Option& o) { return o.charge->restricted.gauge; }});
    c.push_back({{"blower_power", "Power that the blower takes (estimate)", "kW"},
                 [](const Option& o) { return o.charge->free.shaft_power / kKilowatt; }});
  }
  if (r.has_power) {
    c.push_back({{"crank_power_free", "Power at the crank, free (estimate)", "kW"},
                 [](const Option& o) { return o.charge->free.crank_power / kKilowatt; }});
    c.push_back({{"crank_power_restricted", "restricted (estimate)", "kW"},
                 [](const Option& o) { return o.charge->restricted.crank_power / kKilowatt; }});
    c.push_back({{"wheel_power_free", "Power at the wheels, free (estimate)", "kW"},
                 [&r](const Option& o) { return o.charge->free.crank_power / kKilowatt * r.driveline; }});
  }
  c.push_back(
      {{"fit", "Fit", ""}, [](const Option& o) { return std::string(o.bolts_on() ? "bolt-on" : "modification"); }});
  c.push_back({{"parts", "Parts needed, and why", ""}, [](const Option& o) { return parts_of(o); }});
  c.push_back({{"verdict", "Verdict", ""}, [](const Option& o) { return std::string(to_text(verdict_of(o))); }});
  return c;
}

report::Table chart(const PreparedRange& r) {
  report::Table t{"options", "Options", {}, {}};
  const std::vector<ColumnOf> all = columns(r);
  for (const ColumnOf& c : all) t.columns.push_back(c.column);
  for (const Option& o : r.options) {
    std::vector<Cell> row;
    for (const ColumnOf& c : all) row.push_back(c.value(o));
    t.rows.push_back(std::move(row));
  }
  return t;
}

/// Whose figures load the belt: a note where a charge is estimated.
void load_row(const PreparedRange& r, Rows& rows) {
  if (!(r.measured_at > 0) || r.options.empty()) return;
  const auto [least, most] =
      std::ranges::minmax(r.options, {}, [](const Option& o) { return o.charge ? o.charge->free.shaft_power : 0; });
  const auto kilowatt = [](const Option& o) { return trimmed(o.charge->free.shaft_power / kKilowatt, 1) + " kW"; };
  Check c;
  c.id = "load_of_" + drive::as_id(r.driven);
  c.label = "Loads of " + r.driven + " in the drive's document that the estimate replaces";
  c.verdict = Verdict::note, c.value = static_cast<double>(r.written_loads);
  c.source = "estimate: balance of air, free inlet, at each speed";
  c.says = "every option's belt carries " + r.driven + " at full throttle, " + kilowatt(least) + " to " +
           kilowatt(most) + " at " + trimmed(r.measured_at, 0) + " rpm; " +
           (r.written_loads == 0
                ? "its document writes no load"
                : "the load that its document writes, at " + std::to_string(r.written_loads) +
                      (r.written_loads == 1 ? " speed" : " speeds") + ", stands in no figure of this sheet");
  rows.checks.push_back(std::move(c));
}

Rows rows_of(const PreparedRange& r) {
  Rows rows;
  for (const Option& o : r.options) {
    std::string why;
    for (const std::vector<Check>* list : {&o.rows.checks, &o.part_checks}) {
      const std::string told = complaints(*list);
      why += (why.empty() || told.empty() ? "" : "; ") + told;
    }
    Check c;
    c.id = "option_" + drive::as_id(o.name), c.label = "Option " + o.name;
    c.verdict = verdict_of(o), c.value = o.effective_diameter, c.unit = "mm";
    c.source = "rows of its pulley and of the drive with it";
    c.says = (why.empty() ? "" : why + "; ") + (o.bolts_on() ? "bolts on" : "needs a modification") +
             "; parts: " + parts_of(o);
    rows.checks.push_back(std::move(c));
    if (!o.charge) continue;
    const auto& [free, restricted] = *o.charge;
    rows.checks.push_back({"charge_" + drive::as_id(o.name),
                           "Charge pressure with " + o.name + ", free inlet",
                           Verdict::note,
                           free.gauge,
                           "kPa",
                           {},
                           {},
                           "estimate: balance of air, see the assumptions",
                           trimmed(restricted.gauge / kPsi, 1) + " to " + trimmed(free.gauge / kPsi, 1) + " psi at " +
                               trimmed(r.measured_at, 0) + " rpm" + (free.bypasses ? "; the bypass opens" : "")});
  }
  load_row(r, rows);
  rows.cautions = {
      "More charge wants more fuel and less spark advance: detonation breaks pistons. Whoever tunes the engine "
      "decides.",
      "A blower over its maker's speed bursts; so does a pulley. Keep both limits at the highest engine speed.",
      "A running belt drive takes fingers and hair: work with the engine off, guards back on before it starts.",
      "Charge pressure and power are estimates from the stated inputs; measure before you trust them. Local codes and "
      "qualified practice go before this sheet."};
  return rows;
}

std::string json_of(const PreparedRange& r, const report::Sheet& sheet) {
  JsonWriter json;
  json.begin_object().field("format", kFormat).field("name", r.name).field("title", r.title);
  json.field("units", "mm").field("program", program()).field("redline_rpm", r.redline);
  json.key("assumptions").begin_array();
  for (const std::string& a : r.assumptions) json.value(a);
  json.end_array();
  report::write_table(json, chart(r));
  report::write_rows(json, sheet.rows);
  json.end_object();
  return json.text();
}

}  // namespace

Made make_range(const PreparedRange& r, const TextFile& document, report::Units units, const PdfPress& press) {
  Made made{{r.name, r.title, "", "", "", program(), rows_of(r), "",
             "the drive is seen from the front of the engine; sizes are those of '" + r.pulley + "'."},
            {}};
  const report::Table table = chart(r);
  std::string page = report::to_markdown(made.sheet, units) + "\n" + report::to_markdown(table, units);
  if (!r.assumptions.empty()) {
    page += "\n## Assumptions of the estimate\n\n";
    for (const std::string& a : r.assumptions) page += "- " + a + "\n";
    page += "- the air that the engine swallows equals what the blower delivers; full throttle at " +
            trimmed(r.measured_at, 0) + " rpm\n";
  }
  made.artifacts = {{r.name + ".range.md", page},
                    {r.name + ".range.csv", report::to_csv(table, units)},
                    {r.name + ".range.json", json_of(r, made.sheet)}};
  for (Artifact& picture : range_pictures(r, {r.texts, r.typeface}, press))
    made.artifacts.push_back(std::move(picture));
  made.artifacts.push_back({kManifest, manifest(made, document)});
  return made;
}

}  // namespace groovewright::job
