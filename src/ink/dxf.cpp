#include <numbers>
#include <vector>

#include "arcs.h"
#include "dxf_frame.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/ink.h"

namespace groovewright::ink {
namespace {

using plane::Edge;
using plane::Vec2;

constexpr double kDegree = std::numbers::pi / 180;

/// In [0, 360).
double degrees(double rad) {
  const double deg = rad / kDegree;
  return deg < 0 ? deg + 360 : deg;
}

class Drawer {
 public:
  Drawer(double scale, const Typeface& typeface) : scale_(scale), typeface_(typeface) {}

  void add(const plane::Inked& inked) {
    if (inked.path.empty()) return;
    if (inked.filled) {
      fill(inked);
      return;
    }
    for (const Edge& edge : inked.path) add(inked.ink, edge);
  }

  void add(const plane::Words& words) {
    if (words.text.empty()) return;
    begin("TEXT", plane::Ink::text, "AcDbText");
    tags_.point(10, placed(plane::start(typeface_, words)));
    tags_.real(40, words.height / scale_);
    tags_.text(1, dxf_text(plane::drawable(typeface_, words.text)));
    tags_.real(50, degrees(words.angle));
    tags_.text(7, dxf_text(typeface_.family));
    if (words.align != plane::Align::left) {
      tags_.integer(72, words.align == plane::Align::middle ? 1 : 2);
      tags_.point(11, placed(words.at));
    }
    tags_.text(100, "AcDbText");  // the format wants it twice
    tags_.integer(73, 0);         // on the base line
  }

  [[nodiscard]] const DxfTags& tags() const { return tags_; }
  [[nodiscard]] Handle next() const { return next_; }

 private:
  [[nodiscard]] Vec2 placed(Vec2 p) const { return {p.x / scale_, p.y / scale_}; }

  void begin(std::string_view kind, plane::Ink ink, std::string_view marker) {
    tags_.thing(kind, next_++, kModelSpace, {"AcDbEntity"});
    tags_.text(8, plane::to_text(ink));
    tags_.text(100, marker);
  }

  void add(plane::Ink ink, const Edge& edge) {
    if (!edge.is_arc()) {
      begin("LINE", ink, "AcDbLine");
      tags_.point(10, placed(edge.a));
      tags_.point(11, placed(edge.b));
      return;
    }
    const bool whole = edge.is_full_circle();
    begin(whole ? "CIRCLE" : "ARC", ink, "AcDbCircle");
    tags_.point(10, placed(edge.centre));
    tags_.real(40, edge.radius() / scale_);
    if (whole) return;
    const bool ccw = edge.turn == Edge::Turn::ccw;  // the only way that an ARC turns
    const Vec2 from = (ccw ? edge.a : edge.b) - edge.centre, to = (ccw ? edge.b : edge.a) - edge.centre;
    tags_.text(100, "AcDbArc");
    tags_.real(50, degrees(atan2_of(from.y, from.x)));
    tags_.real(51, degrees(atan2_of(to.y, to.x)));
  }

  void fill(const plane::Inked& inked) {
    const plane::Path border = in_half_turns(inked.path);
    begin("HATCH", inked.ink, "AcDbHatch");
    tags_.point(10, {});
    tags_.point(210, {}, 1);
    tags_.text(2, "SOLID");
    tags_.integer(70, 1);  // solid
    tags_.integer(71, 0);  // on its own
    tags_.integer(91, 1);  // one border
    tags_.integer(92, 3);  // outer one, of points
    tags_.integer(72, 1);  // with bulges
    tags_.integer(73, 1);  // closed
    tags_.integer(93, static_cast<int>(border.size()));
    for (const Edge& edge : border) {
      tags_.flat(10, placed(edge.a));
      tags_.real(42, tan_of(edge.sweep() / 4));
    }
    tags_.integer(97, 0);  // no things that it came from
    tags_.integer(75, 0);  // inside by odd crossings
    tags_.integer(76, 1);
    tags_.integer(98, 0);  // no seed points
  }

  double scale_;
  const Typeface& typeface_;
  DxfTags tags_;
  Handle next_ = kFirstDrawn;
};

}  // namespace

std::string to_dxf(const plane::Page& page, const Typeface& typeface) {
  require(page.width > 0 && page.height > 0 && page.scale > 0, "to_dxf: the page has a size and a scale");
  Drawer drawer(page.scale, typeface);
  for (const plane::View& view : page.views) {
    for (const plane::Inked& inked : view.lines) drawer.add(inked);
    for (const plane::Words& words : view.words) drawer.add(words);
  }
  return dxf_file(page, typeface, drawer.tags(), drawer.next());
}

}  // namespace groovewright::ink
