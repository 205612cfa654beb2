#include "spans.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright::drawing {
namespace {

using plane::Edge;
using plane::kCoincident;
using plane::Path;
using plane::Vec2;

Coordinate other_than(Coordinate c) { return c == &Vec2::x ? &Vec2::y : &Vec2::x; }

Vec2 point(Coordinate held, double at, double other) { return held == &Vec2::x ? Vec2{at, other} : Vec2{other, at}; }

/// Where on its arc `p` lies: 0 at the start, 1 at the end, more beyond.
double fraction(const Edge& arc, Vec2 p) { return Edge{arc.a, p, arc.turn, arc.centre}.sweep() / arc.sweep(); }

bool crosses(const Edge& piece, Coordinate held, double at) { return (piece.a.*held <= at) != (piece.b.*held <= at); }

/// Requires: the monotone piece crosses.
Vec2 crossing(const Edge& piece, Coordinate held, double at) {
  const Coordinate other = other_than(held);
  if (!piece.is_arc()) {
    const double t = (at - piece.a.*held) / (piece.b.*held - piece.a.*held);
    return point(held, at, piece.a.*other + t * (piece.b.*other - piece.a.*other));
  }
  const double r = piece.radius(), off = at - piece.centre.*held;
  const double reach = std::sqrt(std::max(0.0, (r - off) * (r + off)));
  const bool less = piece.at(0.5).*other < piece.centre.*other;
  return point(held, at, piece.centre.*other + (less ? -reach : reach));
}

bool is_within(double v, const Limit& limit) { return limit.at_least ? v > limit.at : v <= limit.at; }

/// The path in edges that lie on one side of the limit each.
Path parted(const Path& closed, const Limit& limit) {
  Path parts;
  for (const Edge& e : closed) {
    for (const Edge& piece : monotone(e, limit.held)) {
      if (!crosses(piece, limit.held, limit.at)) {
        parts.push_back(piece);
        continue;
      }
      const Vec2 p = crossing(piece, limit.held, limit.at);
      for (const Edge& half : {Edge{piece.a, p, e.turn, e.centre}, Edge{p, piece.b, e.turn, e.centre}}) {
        if (norm(half.b - half.a) > kCoincident) parts.push_back(half);
      }
    }
  }
  return parts;
}

bool is_within(const Edge& part, const Limit& limit) { return is_within(part.at(0.5).*limit.held, limit); }

/// Runs of parts within the limit, each from the limit to the limit. Requires: some part is not within.
std::vector<Path> runs_within(const Path& parts, const Limit& limit) {
  const std::size_t n = parts.size();
  std::size_t first = 0;
  while (is_within(parts[first], limit)) ++first;
  std::vector<Path> runs;
  bool goes_on = false;
  for (std::size_t i = 1; i <= n; ++i) {
    const Edge& part = parts[(first + i) % n];
    if (!is_within(part, limit)) {
      goes_on = false;
      continue;
    }
    if (!goes_on) runs.emplace_back();
    runs.back().push_back(part);
    goes_on = true;
  }
  return runs;
}

/// Along the limit, ends of runs come in pairs between which the inside lies: joins each end to its partner's run.
std::vector<Path> joined(const std::vector<Path>& runs, const Limit& limit) {
  struct End {
    double where;
    std::size_t run;
    bool is_start;
  };
  const Coordinate other = other_than(limit.held);
  std::vector<End> ends;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    ends.push_back({runs[i].front().a.*other, i, true});
    ends.push_back({runs[i].back().b.*other, i, false});
  }
  std::sort(ends.begin(), ends.end(), [](const End& e, const End& f) { return e.where < f.where; });
  std::vector<std::size_t> next(runs.size());
  for (std::size_t i = 0; i < ends.size(); i += 2) {
    require(ends[i].is_start != ends[i + 1].is_start, "clipped: the path crosses itself on the limit");
    next[ends[i].is_start ? ends[i + 1].run : ends[i].run] = ends[i].is_start ? ends[i].run : ends[i + 1].run;
  }
  std::vector<Path> closed;
  std::vector<bool> used(runs.size());
  for (std::size_t i = 0; i < runs.size(); ++i) {
    if (used[i]) continue;
    Path& loop = closed.emplace_back();
    for (std::size_t k = i; !used[k]; k = next[k]) {
      used[k] = true;
      loop.insert(loop.end(), runs[k].begin(), runs[k].end());
      const Vec2 to = runs[next[k]].front().a;
      if (norm(to - loop.back().b) > kCoincident) loop.push_back({loop.back().b, to, Edge::Turn::straight, {}});
    }
  }
  return closed;
}

/// An arc that the limit did not cut is one edge again.
Path rejoined(const Path& loop) {
  const auto is_one = [](const Edge& e, const Edge& f) {
    return e.is_arc() && e.turn == f.turn && e.centre.x == f.centre.x && e.centre.y == f.centre.y;
  };
  Path out;
  for (const Edge& e : loop) {
    if (!out.empty() && is_one(out.back(), e)) {
      out.back().b = e.b;
    } else {
      out.push_back(e);
    }
  }
  if (out.size() > 2 && is_one(out.back(), out.front())) {
    out.front().a = out.back().a;
    out.pop_back();
  }
  return out;
}

std::vector<Span> united(std::vector<Span> all) {
  std::sort(all.begin(), all.end(), [](const Span& s, const Span& t) { return s.from < t.from; });
  std::vector<Span> out;
  for (const Span& s : all) {
    if (out.empty() || s.from > out.back().to + kCoincident) {
      out.push_back(s);
    } else {
      out.back().to = std::max(out.back().to, s.to);
    }
  }
  return out;
}

}  // namespace

std::vector<Edge> monotone(const Edge& e, Coordinate held) {
  if (!e.is_arc()) return {e};
  std::vector<std::pair<double, Vec2>> cuts;
  for (const double side : {-1.0, 1.0}) {
    Vec2 p = e.centre;
    p.*held += side * e.radius();
    const double at = fraction(e, p);
    if (at < 1 && norm(p - e.a) > kCoincident && norm(p - e.b) > kCoincident) cuts.emplace_back(at, p);
  }
  std::sort(cuts.begin(), cuts.end(), [](const auto& c, const auto& d) { return c.first < d.first; });
  std::vector<Edge> pieces;
  Vec2 from = e.a;
  for (const auto& [at, p] : cuts) {
    pieces.push_back({from, p, e.turn, e.centre});
    from = p;
  }
  pieces.push_back({from, e.b, e.turn, e.centre});
  return pieces;
}

std::vector<Span> spans(const Path& closed, Coordinate held, double at) {
  const Coordinate other = other_than(held);
  std::vector<double> met;
  for (const Edge& e : closed) {
    if (e.is_arc() && std::abs(at - e.centre.*held) > e.radius() + kCoincident) continue;
    for (const Edge& piece : monotone(e, held)) {
      if (crosses(piece, held, at)) met.push_back(crossing(piece, held, at).*other);
    }
  }
  std::sort(met.begin(), met.end());
  require(met.size() % 2 == 0, "spans: the path is open");
  std::vector<Span> out;
  for (std::size_t i = 0; i < met.size(); i += 2) {
    if (met[i + 1] - met[i] > kCoincident) out.push_back({met[i], met[i + 1]});
  }
  return out;
}

std::vector<Span> without(std::vector<Span> all, std::vector<Span> less) {
  const std::vector<Span> gone = united(std::move(less));
  std::vector<Span> out;
  const auto keep = [&](double from, double to) {
    if (to - from > kCoincident) out.push_back({from, to});
  };
  for (const Span& s : united(std::move(all))) {
    double from = s.from;
    for (const Span& g : gone) {
      if (g.to <= from || g.from >= s.to) continue;
      keep(from, g.from);
      from = g.to;
    }
    keep(from, s.to);
  }
  return out;
}

std::vector<Path> clipped(const Path& closed, const Limit& limit) {
  const Path parts = parted(closed, limit);
  const auto is_in = [&](const Edge& e) { return is_within(e, limit); };
  if (std::all_of(parts.begin(), parts.end(), is_in)) return {closed};
  std::vector<Path> loops = joined(runs_within(parts, limit), limit);
  for (Path& loop : loops) loop = rejoined(loop);
  return loops;
}

bool lies_on(const Edge& edge, const Limit& limit) {
  return !edge.is_arc() && edge.a.*limit.held == limit.at && edge.b.*limit.held == limit.at;
}

}  // namespace groovewright::drawing
