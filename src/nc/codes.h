// codes.h: which codes there are, and in which modal groups (NIST IR 6556, tables of modal groups).
#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "groovewright/nc.h"

namespace groovewright::nc {

/// G codes in tenths: G33.1 is 331.
using Tenths = int;
inline constexpr Tenths kNoMotion = 800;

enum class Group {
  none,  ///< not modal
  motion,
  plane,
  distance,
  centres,
  feed_mode,
  units,
  diameters,
  cutter,
  length,
  retract,
  system,
  path,
  spindle_mode,
  stop,
  change,
  spindle,
  coolant,
  overrides,
};

/// A block sorted: its codes by group, its other words by letter.
struct Sorted {
  int line = 0;
  std::vector<std::string> faults;  ///< with any, the block must not be run
  [[nodiscard]] bool has(char letter) const { return values_[index(letter)].has_value(); }
  /// The value of a letter that now counts as used.
  [[nodiscard]] std::optional<double> take(char letter);
  void put(char letter, double value) { values_[index(letter)] = value; }
  [[nodiscard]] std::optional<int> code(Group group) const;
  void put_code(Group group, int code);
  [[nodiscard]] bool dwells() const { return dwells_; }
  void set_dwells() { dwells_ = true; }
  [[nodiscard]] bool axes() const { return has('X') || has('Y') || has('Z'); }
  /// Letters whose value nothing took.
  [[nodiscard]] std::string unused() const;
  [[nodiscard]] bool empty() const { return words_ == 0; }
  void count() { ++words_; }

 private:
  static std::size_t index(char letter) { return static_cast<std::size_t>(letter - 'A'); }
  std::array<std::optional<double>, 26> values_;
  std::array<bool, 26> taken_{};
  std::vector<std::pair<Group, int>> codes_;
  bool dwells_ = false;
  int words_ = 0;
};

/// The codes that a dialect's patterns hold.
[[nodiscard]] std::set<Tenths> codes_of(const Dialect& dialect);
[[nodiscard]] Sorted sorted(const Block& block, const std::set<Tenths>& dialect_codes);
/// "G33.1"
[[nodiscard]] std::string g_name(Tenths code);

}  // namespace groovewright::nc
