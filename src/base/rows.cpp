#include "groovewright/base/rows.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "groovewright/base/broken.h"

namespace groovewright {
namespace {

template <class T>
void move_to_end(std::vector<T>& to, std::vector<T>& from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

/// Sums of written values round differently: what lies this near to its limit, relatively, is at it.
constexpr double kRounding = 1e-9;

Verdict verdict_of(const Check& row, double uncertainty) {
  if (!row.lower && !row.upper) return Verdict::note;
  if (std::isnan(row.value)) return Verdict::fail;
  const auto near = [&](const std::optional<double>& limit) {
    return limit && std::fabs(row.value - *limit) < uncertainty;
  };
  if (near(row.lower) || near(row.upper)) return Verdict::doubt;
  const auto slack = [](double limit) { return kRounding * std::max(1.0, std::fabs(limit)); };
  const bool inside = !(row.lower && row.value < *row.lower - slack(*row.lower)) &&
                      !(row.upper && row.value > *row.upper + slack(*row.upper));
  return inside ? Verdict::pass : Verdict::fail;
}

}  // namespace

std::string_view to_text(Verdict v) {
  switch (v) {
    case Verdict::pass:
      return "pass";
    case Verdict::fail:
      return "fail";
    case Verdict::doubt:
      return "doubt";
    case Verdict::note:
      return "note";
    case Verdict::unchecked:
      return "unchecked";
  }
  throw Broken("to_text: a verdict that is none");
}

void Rows::append(Rows more) {
  move_to_end(dimensions, more.dimensions);
  move_to_end(checks, more.checks);
  move_to_end(cautions, more.cautions);
}

Verdict worst(const std::vector<Check>& checks) {
  const auto has = [&](Verdict v) {
    return std::any_of(checks.begin(), checks.end(), [v](const Check& c) { return c.verdict == v; });
  };
  if (has(Verdict::fail)) return Verdict::fail;
  return has(Verdict::doubt) ? Verdict::doubt : Verdict::pass;
}

Check judged(Check row, double uncertainty) {
  require(uncertainty >= 0, "judged: the uncertainty is not negative");
  row.verdict = verdict_of(row, uncertainty);
  return row;
}

}  // namespace groovewright
