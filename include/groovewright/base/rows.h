// rows.h: a judgement or a size as a row: value, limits, verdict and source. Every analysis returns rows.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace groovewright {

/// pass · fail · doubt (cannot tell within the uncertainty) · note (no limit applies) · unchecked (needs the kernel).
enum class Verdict { pass, fail, doubt, note, unchecked };
[[nodiscard]] std::string_view to_text(Verdict v);

/// A size of the part, for the sheet. Lengths mm, angles deg, masses kg; `unit` says which.
struct Dimension {
  std::string id;  ///< lower_snake_case, stable
  std::string label;
  std::string symbol;
  double value = 0;
  std::string unit;
  std::optional<double> lower = {}, upper = {};  ///< limits of size, same unit
  std::string source;
  bool fit = false;  ///< limits of a fit: sheets show them as deviations too
};

/// A requirement held against the part.
struct Check {
  std::string id;
  std::string label;
  Verdict verdict = Verdict::note;
  double value = 0;
  std::string unit;
  std::optional<double> lower = {}, upper = {};
  std::string source;
  std::string says;  ///< one plain sentence for the bench; lengths as "3.5 mm", so that sheets can add inches
};

struct Rows {
  std::vector<Dimension> dimensions;
  std::vector<Check> checks;
  std::vector<std::string> cautions;  ///< safety first, in order
  void append(Rows more);
};

/// The worst verdict in the order pass = note = unchecked < doubt < fail; pass for an empty list.
[[nodiscard]] Verdict worst(const std::vector<Check>& checks);

/// Sets the verdict from value and limits: outside them is fail, inside is pass; within `uncertainty` of a limit doubt.
/// What differs from a limit by rounding alone, 1e-9 of it (of 1 where that is less), is at it and passes.
[[nodiscard]] Check judged(Check row, double uncertainty = 0);

}  // namespace groovewright
