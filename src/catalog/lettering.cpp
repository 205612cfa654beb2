#include "lettering.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::catalog {
namespace {

using Point = std::array<double, 2>;
using Stroke = std::vector<Point>;

/// The widest step of a rounding: its chord then stays within 0.4 % of its radius, a thousandth of a letter's height.
constexpr double kWidestStep = std::numbers::pi / 18;
/// In the file's units: what is nearer is one point, and a rounding may be this much too long for its side.
constexpr double kOnePoint = 1e-6;

Point operator+(Point a, Point b) { return {a[0] + b[0], a[1] + b[1]}; }
Point operator-(Point a, Point b) { return {a[0] - b[0], a[1] - b[1]}; }
Point operator*(double k, Point a) { return {k * a[0], k * a[1]}; }
double dot(Point a, Point b) { return a[0] * b[0] + a[1] * b[1]; }
double cross(Point a, Point b) { return a[0] * b[1] - a[1] * b[0]; }
double length(Point a) { return length_of(a[0], a[1]); }

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> pieces;
  while (true) {
    const std::size_t end = text.find(at);
    if (end != 0 && !text.empty()) pieces.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return pieces;
    text.remove_prefix(end + 1);
  }
}

struct Corner {
  Point at{};
  double radius = 0;
};

/// "x,y" or "x,y,r".
std::optional<Corner> read_corner(std::string_view text) {
  std::vector<double> numbers;
  for (const std::string_view piece : split(text, ',')) {
    const Quantity q = read_quantity(piece, Measure::plain);
    if (q.error != QuantityError::none) return std::nullopt;
    numbers.push_back(q.value);
  }
  const auto commas = static_cast<std::size_t>(std::count(text.begin(), text.end(), ','));
  if (numbers.size() != commas + 1 || numbers.size() < 2 || numbers.size() > 3) return std::nullopt;
  Corner corner{{numbers[0], numbers[1]}, 0};
  if (numbers.size() == 3) corner.radius = numbers[2];
  return corner.radius >= 0 ? std::optional(corner) : std::nullopt;
}

/// A corner with the directions of travel before and after it, and how far along both its rounding reaches.
struct Bend {
  Corner corner;
  Point before{}, after{};
  double reach = 0;
};

/// nullopt where two corners coincide or a rounding finds no room.
std::optional<std::vector<Bend>> bends(const std::vector<Corner>& corners) {
  std::vector<Bend> all;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    Bend bend{corners[i]};
    const bool inner = i > 0 && i + 1 < corners.size();
    if (bend.corner.radius > 0 && !inner) return std::nullopt;  // an end has nothing to be rounded
    if (inner && bend.corner.radius > 0) {
      const Point in = corners[i].at - corners[i - 1].at, out = corners[i + 1].at - corners[i].at;
      bend.before = 1 / length(in) * in;
      bend.after = 1 / length(out) * out;
      const double tangent = std::abs(cross(bend.before, bend.after)) / (1 + dot(bend.before, bend.after));
      bend.reach = bend.corner.radius * tangent;  // of half the angle turned
    }
    if (i > 0) {
      const double side = length(corners[i].at - corners[i - 1].at);
      if (side < kOnePoint || !(all.back().reach + bend.reach <= side + kOnePoint)) return std::nullopt;
    }
    all.push_back(bend);
  }
  return all;
}

void add(Stroke& stroke, Point p) {
  if (stroke.empty() || length(p - stroke.back()) > kOnePoint) stroke.push_back(p);
}

void add_rounding(Stroke& stroke, const Bend& bend) {
  const double turn = atan2_of(cross(bend.before, bend.after), dot(bend.before, bend.after));
  const double to_left = turn > 0 ? bend.corner.radius : -bend.corner.radius;
  const Point from = bend.corner.at - bend.reach * bend.before;
  const Point centre = from + to_left * Point{-bend.before[1], bend.before[0]};
  const Point arm = from - centre;
  const int steps = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / kWidestStep - kOnePoint)));
  for (int k = 0; k <= steps; ++k) {
    const double c = cos_of(turn * k / steps), s = sin_of(turn * k / steps);
    add(stroke, centre + Point{c * arm[0] - s * arm[1], s * arm[0] + c * arm[1]});
  }
}

Stroke flattened(const std::vector<Bend>& all) {
  Stroke stroke;
  for (const Bend& bend : all) {
    if (bend.reach > 0) {
      add_rounding(stroke, bend);
    } else {
      add(stroke, bend.corner.at);
    }
  }
  return stroke;
}

/// The strokes in the file's units; empty, and reported, where the notation is wrong.
std::vector<Stroke> read_strokes(const Fields& file, const yaml::Node& value) {
  std::vector<Stroke> strokes;
  for (const std::string_view line : split(value.scalar, '|')) {
    std::vector<Corner> corners;
    for (const std::string_view text : split(line, ' ')) {
      const auto corner = read_corner(text);
      if (!corner) {
        file.error(Code::bad_catalog, value,
                   "'" + std::string(text) + "' is no point: write x,y or x,y,radius, as '0,0 3,9 6,0 | 1,3 5,3'");
        return {};
      }
      corners.push_back(*corner);
    }
    const auto bent = bends(corners);
    if (corners.empty() || !bent) {
      file.error(Code::bad_catalog, value,
                 corners.empty()
                     ? "between two '|' a point is due"
                     : "in '" + std::string(line) + "' two points coincide, or a radius finds no room on its sides");
      return {};
    }
    strokes.push_back(flattened(*bent));
  }
  if (strokes.empty()) file.error(Code::wrong_kind, value, "a glyph is written as '0,0 3,9 6,0 | 1,3 5,3'");
  return strokes;
}

/// The file's own units and spaces.
struct Grid {
  double height = 0, line_width = 0, descender = 0, letter_space = 0, word_space = 0;

  [[nodiscard]] double advance(double width) const { return (width + line_width + letter_space) / height; }
};

Glyph placed(const std::vector<Stroke>& strokes, const Grid& grid) {
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const Stroke& stroke : strokes) {
    for (const Point& p : stroke) {
      least = std::min(least, p[0]);
      most = std::max(most, p[0]);
    }
  }
  const Point shift{(grid.line_width + grid.letter_space) / 2 - least, grid.line_width / 2};
  Glyph glyph{grid.advance(most - least), strokes};
  for (Stroke& stroke : glyph.strokes) {
    for (Point& p : stroke) p = {(p[0] + shift[0]) / grid.height, (p[1] + shift[1]) / grid.height};
  }
  return glyph;
}

bool is_within_box(const std::vector<Stroke>& strokes, const Grid& grid) {
  const double highest = grid.height - grid.line_width, lowest = -grid.descender;
  return std::all_of(strokes.begin(), strokes.end(), [&](const Stroke& stroke) {
    return std::all_of(stroke.begin(), stroke.end(),
                       [&](const Point& p) { return p[1] >= lowest - kOnePoint && p[1] <= highest + kOnePoint; });
  });
}

Grid read_grid(Fields& file) {
  Grid grid;
  grid.height = file.number("height", kPlain);
  grid.line_width = file.number("line_width", kPlain);
  grid.descender = file.number("descender", kPlain, Sign::zero_too);
  grid.letter_space = file.number("letter_space", kPlain, Sign::zero_too);
  grid.word_space = file.number("word_space", kPlain);
  if (file.clean() && grid.word_space <= grid.letter_space) {
    file.error(Code::bad_catalog, file.node("word_space", ""), "'word_space' must exceed 'letter_space'");
  }
  return grid;
}

}  // namespace

Lettering read_lettering(Fields& file) {
  const Grid grid = read_grid(file);
  Lettering lettering;
  lettering.source = file.source();
  Fields glyphs = file.map("glyphs");
  for (const yaml::Entry* entry : glyphs.rest()) {
    const std::u32string key = characters(entry->key);
    if (key.size() != 1) file.error(Code::bad_name, entry->value, "the key of a glyph is one character, in quotes");
    const std::vector<Stroke> strokes = read_strokes(file, entry->value);
    if (!file.clean()) continue;
    if (!is_within_box(strokes, grid)) {
      file.error(Code::out_of_range, entry->value,
                 "the strokes leave the space from 'descender' below to 'height' less 'line_width' above the foot");
      continue;
    }
    lettering.glyphs[key.front()] = placed(strokes, grid);
  }
  if (!file.clean()) return {};
  if (!lettering.glyphs.contains(U'?')) {
    file.error(Code::missing_key, file.node("glyphs", ""), "'?' is missing: it stands for characters without a glyph");
  }
  lettering.glyphs[U' '] = {(grid.word_space - grid.letter_space) / grid.height, {}};
  lettering.line_width = grid.line_width / grid.height;
  lettering.descender = grid.descender / grid.height;
  return lettering;
}

}  // namespace groovewright::catalog
