// ink_page.h: a page with every ink, every kind of arc, filled shapes and words at all angles, for the tests of
// writers.
#pragma once

#include <numbers>
#include <string>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/catalog.h"
#include "groovewright/plane/page.h"

namespace groovewright::testing {

inline const Typeface& drawing_typeface() {
  static const Typeface typeface = [] {
    for (const TextFile& file : catalog::built_in_files()) {
      if (file.name != "typeface.yaml") continue;
      Diagnostics diagnostics;
      const auto read = catalog::read_catalog({&file, 1}, diagnostics);
      if (read) return read->typeface.value();
    }
    throw Broken("the program carries no typeface");
  }();
  return typeface;
}

inline plane::Edge arc(plane::Vec2 centre, double radius, double from_deg, double to_deg, plane::Edge::Turn turn) {
  const auto at = [&](double deg) {
    const double rad = deg * std::numbers::pi / 180;
    return centre + radius * plane::Vec2{cos_of(rad), sin_of(rad)};
  };
  return {at(from_deg), at(to_deg), turn, centre};
}

inline plane::Edge line(plane::Vec2 a, plane::Vec2 b) { return {a, b, plane::Edge::Turn::straight, {}}; }

/// A line of each ink, 80 mm long.
inline plane::View every_ink() {
  plane::View view{"every_ink", "A line of each ink", {}, {}};
  double y = 200;
  for (const plane::Ink ink : plane::kInks) {
    y -= 6;
    view.lines.push_back({ink, {line({15, y}, {95, y})}, false});
  }
  return view;
}

/// Arcs both ways: a quarter, a half, more than a half, nearly and quite a whole turn.
inline plane::View every_arc() {
  using enum plane::Edge::Turn;
  plane::View view{"every_arc", "Arcs & circles", {}, {}};
  const auto put = [&](plane::Path path) { view.lines.push_back({plane::Ink::visible, std::move(path), false}); };
  double x = 20;
  for (const double end : {90.0, 180.0, 250.0, 359.0}) {
    put({arc({x, 110}, 7, 20, 20 + end, ccw)});
    put({arc({x, 92}, 7, 20, 20 - end, cw)});
    x += 18;
  }
  put(plane::circle({x, 110}, 7));
  put({plane::circle({x, 92}, 7).front().reversed()});
  return view;
}

/// An arrow head, a disc, and a disc with a wedge cut out, run round both ways.
inline plane::View filled_shapes() {
  using enum plane::Edge::Turn;
  plane::View view{"filled_shapes", "Filled <shapes>", {}, {}};
  const auto put = [&](plane::Path path) { view.lines.push_back({plane::Ink::dimension, std::move(path), true}); };
  put({line({20, 70}, {35, 66}), line({35, 66}, {35, 74}), line({35, 74}, {20, 70})});
  put(plane::circle({50, 70}, 6));
  const plane::Edge most = arc({68, 70}, 7, 30, 330, ccw);
  put({line({68, 70}, most.a), most, line(most.b, {68, 70})});
  const plane::Edge back = arc({88, 70}, 7, 330, 30, cw);
  put({line({88, 70}, back.a), back, line(back.b, {88, 70})});
  return view;
}

inline plane::View every_word() {
  using enum plane::Align;
  plane::View view{"every_word", "Words", {}, {}};
  const double turn = 2 * std::numbers::pi;
  view.words = {
      {{120, 195}, "⌀124.50 ±0.05 at 20 °C, 8×45°", 3.5, 0, left},
      {{200, 183}, "⌖ ⌀0.2 Ⓜ A, Ra 1.6 µm α 40°", 5, 0, middle},
      {{285, 171}, "⌴ ⌵ ↧ ↗ ⏥ 100% & <AV> fi \"q\"", 3.5, 0, right},
      {{120, 155}, "Mind the gap (x²)", 2.5, turn / 12, left},
      {{170, 150}, "⌀38 H7", 3.5, turn / 4, middle},
      {{158, 112}, "Käse, größe, Съж", 3.5, -turn / 4, right},
      {{230, 140}, "upside down", 5, turn / 2, left},
      {{270, 140}, "lean", 7, -turn / 9, middle},
      {{120, 100}, "The quick brown fox jumps over the lazy dog 0123456789", 3.5, 0, left},
      {{120, 90}, "AVAVAVA To Te LT P, illilli", 3.5, 0, left},
      {{285, 90}, "back\\slash ^A %d 50%", 3.5, 0, right},
  };
  return view;
}

inline plane::Page test_page() {
  plane::Page page{297, 210, 0.5, "Pulley <8 ribs> & co", "", "A page with a bit of everything", {}};
  page.views = {every_ink(), every_arc(), filled_shapes(), every_word()};
  return page;
}

}  // namespace groovewright::testing
