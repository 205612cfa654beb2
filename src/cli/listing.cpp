#include "listing.h"

#include <algorithm>
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

Table rules(const Catalog& c) {
  Table t{{"rule", "limit (mm, rad or 1)", "source"}};
  for (const auto& [id, r] : c.rules) t.push_back({id, shortest(r.value), r.source});
  return t;
}

}  // namespace

std::string listing(const std::string& topic, const std::string& own_folder, Diagnostics& diagnostics) {
  // Only the files of the topic: parsing is most of the start-up time.
  const std::string part = topic == "fits" ? "iso286" : topic;
  std::vector<TextFile> files;
  for (const TextFile& f : catalog::built_in_files()) {
    if (f.name.starts_with(part)) files.push_back(f);
  }
  for (auto& f : read_catalog_folder(own_folder, diagnostics)) files.push_back(std::move(f));
  const auto c = catalog::read_catalog(files, diagnostics);
  if (!c) return "";
  if (topic == "materials") return aligned(materials(*c));
  if (topic == "finishes") return aligned(finishes(*c));
  if (topic == "fits") return aligned(fits(*c));
  if (topic == "threads") return aligned(threads(*c));
  if (topic == "keys") return aligned(keys(*c));
  if (topic == "belts") return aligned(belts(*c));
  if (topic == "printers") return aligned(printers(*c));
  if (topic == "plastics") return aligned(plastics(*c));
  if (topic == "rules") return aligned(rules(*c));
  return aligned(grooves(*c));
}

}  // namespace groovewright::cli
