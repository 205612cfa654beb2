// printers.h: printers and plastics of the catalogue, and a part printed, for the tests of prints.
#pragma once

#include "groovewright/print.h"
#include "parts.h"

namespace groovewright::testing {

inline const catalog::Catalog& whole_catalogue() {
  static const catalog::Catalog catalog = [] {
    Diagnostics d;
    return catalog::read_catalog(catalog::built_in_files(), d).value();
  }();
  return catalog;
}

inline print::Choice choice(const std::string& printer, const std::string& plastic = "pla") {
  const catalog::Catalog& c = whole_catalogue();
  return {c.printers.at(printer), c.plastics.at(plastic), c.lettering.value()};
}

inline constexpr const char* kPrinters[] = {"desk-180", "bench-220", "large-300"};

inline std::string demo(const std::string& name) {
  return file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/" + name + ".yaml");
}
inline constexpr const char* kDemos[] = {"larkspur-crank-24", "marlow-step-2", "sorrel-disc", "thistle-pump-pl",
                                         "fennel-spindle-pj"};

struct Extent {
  mesh::Vec3 low{1e9, 1e9, 1e9}, high{-1e9, -1e9, -1e9};
  void add(const mesh::Mesh& m) {
    for (const mesh::Vec3& v : m.vertices) {
      low = {std::min(low.x, v.x), std::min(low.y, v.y), std::min(low.z, v.z)};
      high = {std::max(high.x, v.x), std::max(high.y, v.y), std::max(high.z, v.z)};
    }
  }
};
inline Extent extent(const print::Object& o) {
  Extent e;
  e.add(o.body);
  for (const mesh::Mesh& m : o.lettering) e.add(m);
  return e;
}

/// What must hold of any print: closed meshes, on the bed, apart from each other by the printer's margin.
inline void expect_printable(const print::Print& print, const catalog::Printer& printer, const std::string& what) {
  constexpr double kRounding = 1e-6;
  for (std::size_t p = 0; p < print.plates.size(); ++p) {
    std::vector<Extent> boxes;
    for (const print::Object& o : print.plates[p].objects) {
      const std::string named = what + ", plate " + std::to_string(p + 1) + ", " + o.name;
      std::vector<const mesh::Mesh*> meshes{&o.body};
      for (const mesh::Mesh& m : o.lettering) meshes.push_back(&m);
      for (const mesh::Mesh* m : meshes) {
        const mesh::Closure c = mesh::closure(*m);
        EXPECT_TRUE(c.closed()) << named << ": " << c.open_edges << " open, " << c.wrong_edges << " wrong edges, "
                                << c.degenerate << " degenerate";
        EXPECT_GT(mesh::volume(*m), 0) << named;
      }
      const Extent e = extent(o);
      EXPECT_NEAR(e.low.z, 0, kRounding) << named << " does not stand on the bed";
      EXPECT_LE(e.high.z, printer.height + kRounding) << named << " is too high for " << printer.id;
      EXPECT_GE(std::min(e.low.x, e.low.y), printer.margin - kRounding) << named << " overhangs the bed";
      EXPECT_LE(e.high.x, printer.bed_width - printer.margin + kRounding) << named << " overhangs the bed";
      EXPECT_LE(e.high.y, printer.bed_depth - printer.margin + kRounding) << named << " overhangs the bed";
      for (const Extent& other : boxes) {
        const bool apart = e.low.x >= other.high.x + printer.margin - kRounding ||
                           other.low.x >= e.high.x + printer.margin - kRounding ||
                           e.low.y >= other.high.y + printer.margin - kRounding ||
                           other.low.y >= e.high.y + printer.margin - kRounding;
        EXPECT_TRUE(apart) << named << " stands less than the margin of " << printer.margin << " mm from another";
      }
      boxes.push_back(e);
    }
  }
}

}  // namespace groovewright::testing
