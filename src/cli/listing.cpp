#include "listing.h"

#include <algorithm>
#include <iterator>
#include <string_view>
#include <vector>

#include "files.h"
#include "groovewright/base/text.h"
#include "groovewright/catalog.h"

namespace groovewright::cli {
namespace {

using catalog::Catalog;
using Table = std::vector<std::vector<std::string>>;

/// Bytes that start a character: columns line up with "µ" in them too.
std::size_t width_of(const std::string& s) {
  return static_cast<std::size_t>(
      std::count_if(s.begin(), s.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string aligned(const Table& table) {
  std::vector<std::size_t> widths;
  for (const auto& row : table) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  std::string out;
  for (const auto& row : table) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += row[i];
      if (i + 1 < row.size()) line += std::string(widths[i] - width_of(row[i]) + 2, ' ');
    }
    out += line + "\n";
  }
  return out;
}

std::string n(double v) { return trimmed(v, 4); }

Table grooves(const Catalog& c) {
  Table t{{"section", "pitch mm", "angle deg", "r_t min", "r_b max", "ball", "2N max", "f min", "d_e min", "b_e",
           "standard"}};
  for (const auto& [id, g] : c.grooves) {
    t.push_back({id, n(g.pitch.value), n(g.angle.deg()), n(g.crest_radius_min.value), n(g.root_radius_max.value),
                 n(g.ball_diameter.value), n(g.two_n_max.value), n(g.edge_distance_min.value),
                 n(g.effective_diameter_min.value), n(g.pitch_line_offset.value), g.standard + ":" + g.edition});
  }
  return t;
}

Table materials(const Catalog& c) {
  Table t{{"material", "name", "density g/cm3", "E GPa", "yield MPa", "source of the density"}};
  for (const auto& [id, m] : c.materials) {
    t.push_back({id, m.name, n(m.density.value * 1e6), n(m.modulus.value / 1000),
                 m.yield.value > 0 ? n(m.yield.value) : "-", m.density.source});
  }
  return t;
}

Table finishes(const Catalog& c) {
  Table t{{"coating", "name", "grows by", "usual film um", "source"}};
  for (const auto& [id, f] : c.finishes)
    t.push_back(
        {id, f.name, n(100 * f.growth_share) + " %", n(1000 * f.usual_min) + " to " + n(1000 * f.usual_max), f.source});
  return t;
}

Table fits(const Catalog& c) {
  Table t{{"class", "over mm", "to mm", "lower um", "upper um", "source"}};
  for (const auto& [id, table] : c.fits) {
    for (const auto& row : table.rows)
      t.push_back({id, n(row.over), n(row.up_to), n(1000 * row.lower), n(1000 * row.upper), table.source});
  }
  return t;
}

Table threads(const Catalog& c) {
  std::vector<const catalog::Thread*> order;
  for (const auto& [id, thread] : c.threads) order.push_back(&thread);
  std::sort(order.begin(), order.end(), [](auto* a, auto* b) { return a->diameter < b->diameter; });
  Table t{{"thread", "pitch mm", "tap drill", "ISO 273 fine", "medium", "coarse", "ISO 4762 head", "counterbore",
           "ISO 10642 head"}};
  for (const auto* h : order) {
    t.push_back({h->id, n(h->pitch), n(h->tap_drill), n(h->clearance_fine), n(h->clearance_medium),
                 n(h->clearance_coarse), n(h->head_diameter) + " x " + n(h->head_height),
                 n(h->counterbore_diameter) + " x " + n(h->counterbore_depth), n(h->countersunk_head_diameter)});
  }
  return t;
}

Table keys(const Catalog& c) {
  Table t{{"bore over mm", "to mm", "key b x h", "t1 shaft", "t2 hub", "source"}};
  for (const auto& k : c.keys)
    t.push_back({n(k.over), n(k.up_to), n(k.width) + " x " + n(k.height), n(k.shaft_depth), n(k.hub_depth), k.source});
  return t;
}

Table belts(const Catalog& c) {
  Table t{{"section", "rib pitch mm", "height", "rib height", "cord to back", "speed m/s", "source of the height"}};
  for (const auto& [id, b] : c.belts) {
    t.push_back({id, n(b.rib_pitch.value), n(b.height.value), n(b.rib_height.value), n(b.cord_to_back.value),
                 n(b.speed_max.value), b.height.source});
  }
  return t;
}

Table printers(const Catalog& c) {
  Table t{{"printer", "name", "bed mm", "height", "nozzle", "layers", "hole shrink", "joint gap", "source"}};
  for (const auto& [id, p] : c.printers) {
    std::vector<std::string> layers;
    for (const double layer : p.layers) layers.push_back(n(layer));
    t.push_back({id, p.name, n(p.bed_width) + " x " + n(p.bed_depth), n(p.height), n(p.nozzle), listed(layers),
                 n(p.hole_shrink), n(p.joint_gap), p.source});
  }
  return t;
}

Table plastics(const Catalog& c) {
  Table t{{"plastic", "name", "density g/cm3", "shrinks across %", "up %", "softens degC", "source"}};
  for (const auto& [id, p] : c.plastics) {
    t.push_back(
        {id, p.name, n(p.density * 1e6), n(100 * p.shrink_across), n(100 * p.shrink_up), n(p.softens), p.source});
  }
  return t;
}

std::string range(double from, double to) { return n(from) + " to " + n(to); }

Table machines(const Catalog& c) {
  Table t{
      {"machine", "name", "kind", "rpm", "power kW", "torque N m", "swing or travel mm", "tools", "dialect", "source"}};
  for (const auto& [id, m] : c.shop.machines) {
    const bool is_lathe = m.kind == catalog::Machine::Kind::lathe;
    const std::string size = is_lathe ? n(m.swing) : n(m.travel_x) + " x " + n(m.travel_y) + " x " + n(m.travel_z);
    t.push_back({id, m.name, is_lathe ? "lathe" : "mill", range(m.min_rpm, m.max_rpm), n(m.power / 1000),
                 n(m.torque_at(m.min_rpm)), size, n(m.tool_places), m.dialect, m.source});
  }
  return t;
}

Table chucks(const Catalog& c) {
  Table t{{"chuck", "name", "jaws", "grips mm", "step", "through", "rpm", "source"}};
  for (const auto& [id, k] : c.shop.chucks) {
    t.push_back({id, k.name, n(k.jaws), range(k.grip_min, k.grip_max), n(k.grip_length), n(k.through_bore),
                 n(k.max_rpm), k.source});
  }
  return t;
}

/// "35 deg, nose 0.2", "2 wide, nose 0.2", "16 in diameter": what a tool's cutting part looks like.
std::string shape_of(const catalog::TurningTool& t) {
  using Use = catalog::TurningTool::Use;
  if (t.use == Use::drilling || t.use == Use::centre) return n(t.width) + ", point " + n(t.point.deg()) + " deg";
  if (t.included == Angle{}) return n(t.width) + " wide, nose " + n(t.nose_radius);
  if (t.use == Use::full_form)
    return n(t.included.deg()) + " deg, " + n(t.teeth) + " x " + n(t.pitch) + ", tip " + n(t.nose_radius) + ", crest " +
           n(t.crest_radius);
  return n(t.included.deg()) + " deg at " + n(t.edge_angle.deg()) + " deg, nose " + n(t.nose_radius);
}

Table tools(const Catalog& c) {
  using Turning = catalog::TurningTool;
  using Milling = catalog::MillingTool;
  constexpr const char* kUses[] = {"turning", "profiling", "grooving", "face grooving",
                                   "boring",  "drilling",  "centre",   "full form"};
  constexpr const char* kHands[] = {"right", "left", "neutral"};
  constexpr const char* kMilling[] = {"centre", "drill", "tap", "end mill", "countersink", "reamer"};
  Table t{{"tool", "on", "for", "hand", "insert or name", "shape mm", "reach", "source"}};
  for (const auto& [id, tool] : c.shop.turning_tools) {
    const bool has_hand = tool.use != Turning::Use::drilling && tool.use != Turning::Use::centre;
    t.push_back({id, "lathe", kUses[static_cast<int>(tool.use)], has_hand ? kHands[static_cast<int>(tool.hand)] : "-",
                 tool.insert.empty() ? tool.name : tool.insert, shape_of(tool), tool.reach > 0 ? n(tool.reach) : "-",
                 tool.source});
  }
  for (const auto& [id, tool] : c.shop.milling_tools) {
    const std::string pitch = tool.use == Milling::Use::tap ? ", pitch " + n(tool.pitch) : "";
    t.push_back({id, "mill", kMilling[static_cast<int>(tool.use)], "-", tool.name, n(tool.diameter) + pitch,
                 n(tool.flute), tool.source});
  }
  return t;
}

Table cutting(const Catalog& c) {
  Table t{{"material", "work", "m/min", "feed mm or diameters", "depth mm or diameters", "source"}};
  for (const auto& [id, data] : c.shop.cutting) {
    for (const std::string_view name : catalog::kWorks) {
      const auto& work = data.works.at(std::string(name));
      t.push_back({id, std::string(name), n(work.speed), work.feed > 0 ? n(work.feed) : "-",
                   work.depth > 0 ? n(work.depth) : "-", work.source});
    }
  }
  return t;
}

Table rules(const Catalog& c) {
  Table t{{"rule", "limit (mm, rad or 1)", "source"}};
  for (const auto& [id, r] : c.rules) t.push_back({id, shortest(r.value), r.source});
  return t;
}

struct Topic {
  std::string_view name;
  Table (*table)(const Catalog& c);
};
constexpr Topic kTables[] = {{"grooves", grooves},   {"materials", materials}, {"finishes", finishes},
                             {"fits", fits},         {"threads", threads},     {"keys", keys},
                             {"belts", belts},       {"printers", printers},   {"plastics", plastics},
                             {"machines", machines}, {"chucks", chucks},       {"tools", tools},
                             {"cutting", cutting},   {"rules", rules}};

}  // namespace

std::string listing(const std::string& topic, const std::string& own_folder, Diagnostics& diagnostics) {
  // Only the files of the topic: parsing is most of the start-up time.
  const std::string part = topic == "fits" ? "iso286" : topic;
  std::vector<TextFile> files;
  for (const TextFile& f : catalog::built_in_files()) {
    if (f.name.starts_with(part + "/") || f.name == part + ".yaml") files.push_back(f);
  }
  for (auto& f : read_catalog_folder(own_folder, diagnostics)) files.push_back(std::move(f));
  const auto c = catalog::read_catalog(files, diagnostics);
  if (!c) return "";
  const auto listed_topic = std::ranges::find(kTables, topic, &Topic::name);
  return aligned((listed_topic == std::end(kTables) ? grooves : listed_topic->table)(*c));
}

}  // namespace groovewright::cli
