#include "facets.h"

#include <algorithm>
#include <cmath>

#include "rings.h"

namespace groovewright::drawing {
namespace {

using plane::Edge;
using plane::Ink;
using plane::Vec2;
using section::Kind;

/// Sides in place of an arc that is not fine.
constexpr int kArcSides = 3;

bool is_groove_round(Kind kind) { return kind == Kind::crest || kind == Kind::root; }

/// The point of a crest or root that is farthest out or in.
Vec2 tip(const Edge& e, bool outermost) {
  Vec2 best = e.a;
  const auto see = [&](Vec2 p) {
    if (outermost ? p.y > best.y : p.y < best.y) best = p;
  };
  for (const Edge& piece : monotone(e, &Vec2::y)) see(piece.b);
  return best;
}

/// Where a short break between two sides along the axes has its sharp corner.
std::optional<Vec2> sharp_corner(const Edge& before, const Edge& edge_break, const Edge& after) {
  if (before.is_arc() || after.is_arc()) return std::nullopt;
  if (before.a.x == before.b.x && after.a.y == after.b.y) return Vec2{edge_break.a.x, edge_break.b.y};
  if (before.a.y == before.b.y && after.a.x == after.b.x) return Vec2{edge_break.b.x, edge_break.a.y};
  return std::nullopt;
}

}  // namespace

std::vector<Knee> facets(const section::Section& section, double fine) {
  const plane::Path& outline = section.body.section;
  const std::size_t n = outline.size();
  std::vector<Knee> knees;
  const auto is_short_break = [&](std::size_t i) {
    return section.tags[i].kind == Kind::edge_break && outline[i].length() < fine;
  };
  const auto ends_drawn = [&](std::size_t i) { return is_groove_round(section.tags[i].kind) || is_short_break(i); };
  for (std::size_t i = 0; i < n; ++i) {
    const Edge &before = outline[(i + n - 1) % n], &e = outline[i], &after = outline[(i + 1) % n];
    const Kind kind = section.tags[i].kind;
    const bool is_sharp = std::abs(cross(before.tangent_at(1), e.tangent_at(0))) > kSmooth;
    const std::optional<Ink> ink = is_sharp ? std::optional(Ink::visible) : std::nullopt;
    if (is_groove_round(kind)) {
      knees.push_back({tip(e, kind == Kind::crest), Ink::dimension});
    } else if (is_short_break(i)) {
      const std::optional<Vec2> corner = sharp_corner(before, e, after);
      knees.push_back({corner ? *corner : e.a, Ink::visible});
      if (!corner) knees.push_back({e.b, std::nullopt});
    } else {
      if (!ends_drawn((i + n - 1) % n)) knees.push_back({e.a, ink});
      const int sides = e.is_arc() && e.length() > fine ? kArcSides : 1;
      for (int k = 1; k < sides; ++k) knees.push_back({e.at(static_cast<double>(k) / sides), std::nullopt});
    }
  }
  return knees;
}

}  // namespace groovewright::drawing
