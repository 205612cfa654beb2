// each_combination.h: a search that knows no short cut: every combination is analysed in full and judged by its rows.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "groovewright/drive/analysis.h"
#include "groovewright/drive/search.h"

namespace groovewright::drive::witness {

struct Judged {
  std::uint64_t index = 0;
  bool fits = false;
  double merit = 0;
  double lacks = 0;  ///< of its worst limit; 1 and more where that can't be told from rows
};

/// What a failing row lacks, as part of its limit; lengths that may be 0 of 10 mm.
inline double lack_of(const Check& c) {
  const double by = c.lower && c.value < *c.lower ? *c.lower - c.value : c.value - *c.upper;
  const double limit = c.lower && c.value < *c.lower ? *c.lower : *c.upper;
  return by / (limit > 0 ? limit : 10);
}

inline Judged judge(const Drive& base, const SearchSpace& space, std::uint64_t index) {
  const Drive d = with_combination(base, space, index);
  const Analysis a = analyse(d);
  Judged j{index, true};
  double slip = kUnlimited, room = 0, travel = kUnlimited;
  for (const Check& c : rows(d, a).checks) {
    if (c.id.starts_with("slip_") && c.lower) slip = std::min(slip, c.value);
    if (c.id == "belt_room_length") room = c.value;
    if (c.id.starts_with("tensioner_travel_")) travel = std::min(travel, c.value);
    if (c.verdict != Verdict::fail && c.verdict != Verdict::doubt) continue;
    if (c.id == "ligament") continue;  // of a turn that is advised, not of this one
    j.fits = false;
    // Of rows that say one thing twice, one counts: see `Trial::grip`.
    if (c.id != "tension_needed" && c.id != "belt_taut") j.lacks = std::max(j.lacks, lack_of(c));
    const bool runs = c.id != "layout" && c.id != "belt_fits" && c.id != "belt_length" && c.id != "loads_known";
    if (!runs) j.lacks = std::max(j.lacks, 1.0);
  }
  if (a.travel && !a.travel->all_seated) j.lacks = std::max(j.lacks, 1.0);
  if (base.tensioner && base.tensioner->peg) {
    const auto& was = *base.tensioner;
    const auto& is = *d.tensioner;
    const Vec2 way = is.pivot + plane::polar(is.peg->radius, is.peg->angle) -
                     (was.pivot + plane::polar(was.peg->radius, was.peg->angle));
    const double apart = std::hypot(way.x, way.y), needed = (base.limits.ligament.value + 1) * was.peg->diameter;
    if (apart > 1e-9 && apart < needed - 1e-9) {
      j.fits = false;
      j.lacks = std::max(j.lacks, (needed - apart) / (base.limits.ligament.value * was.peg->diameter));
    }
  }
  j.merit = space.merit == Merit::travel ? travel : space.merit == Merit::grip ? slip : room;
  return j;
}

/// In the order of a result: the fits by merit, then the others by what they lack.
struct All {
  std::vector<Judged> fits, others;
};
inline All judge_each(const Drive& base, const SearchSpace& space) {
  All all;
  for (std::uint64_t i = 0; i < space.size(); ++i) {
    Judged j = judge(base, space, i);
    (j.fits ? all.fits : all.others).push_back(j);
  }
  const auto rounded = [](double v, double step) { return std::round(v / step) * step; };
  std::stable_sort(all.fits.begin(), all.fits.end(), [&](const Judged& a, const Judged& b) {
    return rounded(a.merit, kMeritStep) > rounded(b.merit, kMeritStep);
  });
  std::stable_sort(all.others.begin(), all.others.end(),
                   [&](const Judged& a, const Judged& b) { return rounded(a.lacks, 1e-9) < rounded(b.lacks, 1e-9); });
  return all;
}

}  // namespace groovewright::drive::witness
