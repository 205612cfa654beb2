#include "groovewright/plane/lettering.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::plane {
namespace {

const Glyph& glyph_of(const Glyphs& glyphs, char32_t character) {
  auto found = glyphs.find(character);
  if (found == glyphs.end()) found = glyphs.find(U'?');
  require(found != glyphs.end(), "write_line: the lettering has no '?'");
  return found->second;
}

struct Extent {
  double least = std::numeric_limits<double>::infinity();
  double most = -std::numeric_limits<double>::infinity();
};

Extent extent(const Strokes& strokes, double Vec2::*coordinate) {
  Extent e;
  for (const Stroke& stroke : strokes) {
    for (const Vec2& p : stroke) {
      e.least = std::min(e.least, p.*coordinate);
      e.most = std::max(e.most, p.*coordinate);
    }
  }
  return e;
}

/// The plane in which text is written, rolled round a circle.
class Circle {
 public:
  Circle(double radius, double middle_x, double middle_angle, Tops tops)
      : radius_(radius), middle_x_(middle_x), middle_angle_(middle_angle), up_(tops == Tops::outward ? 1 : -1) {}

  [[nodiscard]] double radius_at(double y) const { return radius_ + up_ * y; }
  [[nodiscard]] Vec2 at(Vec2 p) const {
    const double angle = middle_angle_ - up_ * (p.x - middle_x_) / radius_;
    return radius_at(p.y) * Vec2{cos_of(angle), sin_of(angle)};
  }
  /// Pieces into which a -> b must be cut. A chord strays by at most an eighth of the greatest second derivative of the
  /// bent line, r' and the angle's a' being constant along it: |2 r' a'| + r a'².
  [[nodiscard]] int pieces(Vec2 a, Vec2 b) const {
    const double turned = std::abs(b.x - a.x) / radius_, risen = std::abs(b.y - a.y);
    const double widest = std::max(radius_at(a.y), radius_at(b.y));
    const double strays = (2 * risen + widest * turned) * turned / 8;
    return std::max(1, static_cast<int>(std::ceil(std::sqrt(strays / kBendError))));
  }

 private:
  double radius_, middle_x_, middle_angle_, up_;
};

}  // namespace

Strokes write_line(const Glyphs& glyphs, std::string_view utf8, double height) {
  require(height > 0, "write_line: letters have a height");
  Strokes strokes;
  double x = 0;
  for (const char32_t character : characters(utf8)) {
    const Glyph& glyph = glyph_of(glyphs, character);
    for (const auto& drawn : glyph.strokes) {
      Stroke& stroke = strokes.emplace_back();
      for (const auto& p : drawn) stroke.push_back(height * Vec2{x + p[0], p[1]});
    }
    x += glyph.advance;
  }
  return strokes;
}

double text_width(const Glyphs& glyphs, std::string_view utf8, double height) {
  require(height > 0, "text_width: letters have a height");
  double width = 0;
  for (const char32_t character : characters(utf8)) width += glyph_of(glyphs, character).advance;
  return height * width;
}

Strokes bend(const Strokes& line, double radius, double middle_angle, Tops tops) {
  require(radius > 0, "bend: the circle has a radius");
  if (line.empty()) return {};
  const Extent x = extent(line, &Vec2::x), y = extent(line, &Vec2::y);
  const Circle circle(radius, (x.least + x.most) / 2, middle_angle, tops);
  require(circle.radius_at(y.least) > 0 && circle.radius_at(y.most) > 0, "bend: letters reach the circle's centre");
  Strokes bent;
  for (const Stroke& stroke : line) {
    Stroke& out = bent.emplace_back();
    for (std::size_t i = 0; i < stroke.size(); ++i) {
      if (i > 0) {
        const Vec2 a = stroke[i - 1], b = stroke[i];
        const int pieces = circle.pieces(a, b);
        for (int k = 1; k < pieces; ++k) out.push_back(circle.at(a + static_cast<double>(k) / pieces * (b - a)));
      }
      out.push_back(circle.at(stroke[i]));
    }
  }
  return bent;
}

}  // namespace groovewright::plane
