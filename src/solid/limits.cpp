#include "groovewright/solid/limits.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::solid {
namespace {

using plane::Vec2;

/// Beyond every part.
constexpr double kFar = 1e6;

bool same(double a, double b) { return std::abs(a - b) <= kLimitStep; }
std::string yes(bool v) { return v ? "yes" : "no"; }
std::string mm(double v) { return trimmed(v, 9) + " mm"; }

/// The first difference that is found, in words.
class Comparison {
 public:
  void of(std::string_view what, const std::string& meant, const std::string& read) {
    if (meant != read) say(std::string(what) + " " + meant + ", read " + read);
  }
  void of(std::string_view what, double meant, double read) {
    if (!same(meant, read)) say(std::string(what) + " " + mm(meant) + ", read " + mm(read));
  }
  void of(const On& meant, const On& read) {
    const auto on_one = [](const Wall& found, const std::vector<Wall>& walls) {
      return std::any_of(walls.begin(), walls.end(), [&](const Wall& w) { return lies_on(found, w); });
    };
    for (const Wall& w : meant.walls) {
      if (!std::any_of(read.walls.begin(), read.walls.end(), [&](const Wall& found) { return lies_on(found, w); })) {
        say("stands on no face of a wall that it is meant for");
      }
    }
    for (const Wall& found : read.walls) {
      if (!on_one(found, meant.walls)) say("stands on a face that it is not meant for");
    }
    if (read.left_out != 0) say("leaves out " + std::to_string(read.left_out) + " faces of its walls");
  }
  /// From here on of this requirement.
  void about(const std::string& id) { id_ = id; }
  [[nodiscard]] std::string first() const { return first_; }

 private:
  void say(const std::string& text) {
    if (first_.empty()) first_ = id_ + ": " + text;
  }
  std::string id_, first_;
};

std::string name(Size::Kind kind) { return kind == Size::Kind::diameter ? "diameter" : "diameter over balls"; }
std::string name(Zone::Kind kind) {
  switch (kind) {
    case Zone::Kind::flatness:
      return "flatness";
    case Zone::Kind::perpendicularity:
      return "perpendicularity";
    case Zone::Kind::position:
      return "position";
    case Zone::Kind::circular_runout:
      return "circular run-out";
  }
  throw Broken("a zone of no kind");
}

void compare(Comparison& c, const Size& meant, const Size& read) {
  c.about(meant.id);
  c.of("id", meant.id, read.id);
  c.of("label", meant.label, read.label);
  c.of("kind", name(meant.kind), name(read.kind));
  c.of("value", meant.value, read.value);
  c.of("lower limit", meant.lower, read.lower);
  c.of("upper limit", meant.upper, read.upper);
  c.of("ball", meant.ball, read.ball);
  c.of(meant.on, read.on);
}

void compare(Comparison& c, const Datum& meant, const Datum& read) {
  c.about("datum " + meant.letter);
  c.of("letter", meant.letter, read.letter);
  c.of(meant.on, read.on);
}

void compare(Comparison& c, const Zone& meant, const Zone& read) {
  const auto letters = [](const Zone& z) { return z.datums.empty() ? "none" : listed(z.datums, "then"); };
  c.about(meant.id);
  c.of("id", meant.id, read.id);
  c.of("label", meant.label, read.label);
  c.of("kind", name(meant.kind), name(read.kind));
  c.of("width", meant.width, read.width);
  c.of("zone of a cylinder", yes(meant.diametral), yes(read.diametral));
  c.of("common zone", yes(meant.common), yes(read.common));
  c.of("maximum material", yes(meant.maximum_material), yes(read.maximum_material));
  c.of("datums", letters(meant), letters(read));
  c.of(meant.on, read.on);
}

template <class T>
void compare(Comparison& c, std::string_view what, const std::vector<T>& meant, const std::vector<T>& read) {
  for (std::size_t i = 0; i < std::min(meant.size(), read.size()); ++i) compare(c, meant[i], read[i]);
  c.about("limits");
  c.of(what, std::to_string(meant.size()), std::to_string(read.size()));
}

}  // namespace

Wall turned(const plane::Generator& edge) { return {.line = edge}; }

Wall wall_of(const plane::RoundHole& hole) {
  std::optional<plane::Generator> narrowest;
  for (std::size_t i = 1; i < hole.profile.size(); ++i) {
    const Vec2 a = hole.profile[i - 1], b = hole.profile[i];
    if (a.y != b.y || a.y <= 0 || std::abs(b.x - a.x) <= plane::kCoincident) continue;
    if (!narrowest || a.y < narrowest->a.y) narrowest = {a, b};
  }
  if (!narrowest) throw Broken("no cylinder in the hole " + hole.id);
  return {.axis = hole.at, .line = *narrowest};
}

std::array<Wall, 2> sides_of(const plane::Slot& slot) {
  const Vec2 out = plane::polar(1, slot.angle), half = (slot.width / 2) * Vec2{-out.y, out.x};
  const Vec2 from = (slot.inward ? 0 : slot.floor) * out, to = (slot.inward ? slot.floor : kFar) * out;
  const auto side = [&](Vec2 off) { return Wall{.kind = Wall::Kind::side, .line = {from + off, to + off}}; };
  return {side(half), side(-1 * half)};
}

bool lies_on(const Wall& found, const Wall& meant) {
  if (found.kind != meant.kind || meant.kind == Wall::Kind::other) return false;
  if (plane::norm(found.axis - meant.axis) > kSamePlace) return false;
  const Vec2 a = meant.line.a, along = meant.line.b - a;
  const double length = plane::norm(along);
  if (length <= kSamePlace) return false;
  const Vec2 direction = (1 / length) * along;
  for (const Vec2 p : {found.line.a, found.line.b}) {
    if (std::abs(plane::cross(direction, p - a)) > kSamePlace) return false;
  }
  const double s = plane::dot(direction, found.line.a - a), t = plane::dot(direction, found.line.b - a);
  return std::min(length, std::max(s, t)) - std::max(0.0, std::min(s, t)) > kSamePlace;
}

std::string difference(const Limits& meant, const Limits& read) {
  Comparison c;
  compare(c, "sizes", meant.sizes, read.sizes);
  compare(c, "datums", meant.datums, read.datums);
  compare(c, "zones", meant.zones, read.zones);
  return c.first();
}

}  // namespace groovewright::solid
