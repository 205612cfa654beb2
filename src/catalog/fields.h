// fields.h: one map of a data file, read key by key: units, signs, inherited sources, and the place of whatever is
// wrong.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/diagnostics.h"
#include "groovewright/base/quantity.h"
#include "groovewright/catalog.h"
#include "groovewright/yaml.h"

namespace groovewright::catalog {

/// What a value is measured in: one of base's measures, or a unit of our own that is kept as written.
struct Unit {
  Measure measure = Measure::plain;
  std::string_view own;
};
inline constexpr Unit kLength{Measure::length, {}};
inline constexpr Unit kAngle{Measure::angle, {}};
inline constexpr Unit kPressure{Measure::pressure, {}};
inline constexpr Unit kDensity{Measure::density, {}};
inline constexpr Unit kExpansion{Measure::expansion, {}};
inline constexpr Unit kPlain{Measure::plain, {}};
inline constexpr Unit kMicrometres{Measure::plain, "um"};
inline constexpr Unit kMetresPerSecond{Measure::velocity, {}};
inline constexpr Unit kKilogramsPerMetre{Measure::linear_mass, {}};
inline constexpr Unit kForce{Measure::force, {}};

enum class Sign { positive, zero_too, any };

/// Every key asked for counts as known; `finish` must be called last and reports the others. After an error the reading
/// goes on with zeros and empty texts, so that one run shows all mistakes: the caller must not use the values unless no
/// error was added.
class Fields {
 public:
  /// A file's outermost map.
  Fields(const yaml::Node& file, Diagnostics& diagnostics);
  /// A map inside `outer`, whose source and length unit it inherits.
  Fields(const yaml::Node& map, const Fields& outer);

  [[nodiscard]] bool has(std::string_view key);
  /// The value under `key`; an empty node for a missing one, which `finish` reports.
  [[nodiscard]] const yaml::Node& node(std::string_view key, std::string_view example);
  [[nodiscard]] Fields map(std::string_view key);
  [[nodiscard]] std::string word(std::string_view key, std::string_view example);
  [[nodiscard]] double number(std::string_view key, Unit unit, Sign sign = Sign::positive);
  [[nodiscard]] double number(const yaml::Node& value, Unit unit, Sign sign) const;
  /// A plain value, or a map of `value` and `source`.
  [[nodiscard]] Sourced sourced(std::string_view key, Unit unit, Sign sign = Sign::positive);
  [[nodiscard]] int count(std::string_view key);
  [[nodiscard]] std::vector<double> numbers(std::string_view key);
  [[nodiscard]] const std::vector<yaml::Node>& list(const yaml::Node& value) const;
  /// The entries nobody has asked for yet; from now on they count as known.
  [[nodiscard]] std::vector<const yaml::Entry*> rest();

  /// The source that values here inherit; reports where there is none.
  [[nodiscard]] const std::string& source() const;
  [[nodiscard]] const Place& place() const { return map_.place; }
  /// Nothing wrong so far in this file: only then do values mean anything to a check of several.
  [[nodiscard]] bool clean() const { return missing_.empty() && diagnostics_.all().size() == problems_before_; }
  void error(Code code, const yaml::Node& at, std::string message) const;
  /// Reports each key that was never asked for, and each that is missing: a misspelt one only once.
  void finish();

 private:
  struct Missing {
    std::string key, example;
  };
  [[nodiscard]] const yaml::Node* find(std::string_view key);
  [[nodiscard]] std::string own_source();

  const yaml::Node& map_;
  Diagnostics& diagnostics_;
  std::size_t problems_before_;
  std::string source_;
  std::string bare_length_unit_;
  std::vector<std::string> known_;
  std::vector<Missing> missing_;
};

}  // namespace groovewright::catalog
