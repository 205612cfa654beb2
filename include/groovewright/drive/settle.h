// settle.h: from the drive document to the settled drive: the one place where its defaults are decided.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>

#include "groovewright/drive/model.h"
#include "groovewright/drive/search.h"
#include "groovewright/spec/drive.h"

namespace groovewright::drive {

/// What a pulley document came to, for a pulley of the drive that names it by `spec`. Lengths mm.
struct MadePulley {
  std::string section;
  double effective_radius = 0, outside_radius = 0, flange_height = 0;
  int grooves = 0;
  double rear_to_front = 0;         ///< rim with flanges
  double rear_to_first_groove = 0;  ///< its rear face to the middle of the rearmost groove
  double inertia = 0;               ///< kg mm²
  double reference_radius = 0;      ///< effective, of the overdrive's reference; 0: none
  std::optional<double> speed_max;  ///< rpm
};

/// Names the rim that a pulley takes from a document: the document's path as written, and the rim where it isn't 1.
[[nodiscard]] std::string key_of(const spec::DrivePulley& pulley);

/// The data files below `profiles/` that a drive needs, sorted.
[[nodiscard]] std::vector<std::string> files_named(const spec::Drive& drive);

/// Settles a drive. `made` holds the rims that its pulleys take from documents, by `key_of`. nullopt, with every
/// mistake in `diagnostics` at its place, where numbers are missing or contradict each other.
[[nodiscard]] std::optional<Drive> settle(const spec::Drive& drive, const catalog::Catalog& catalog,
                                          const std::map<std::string, MadePulley>& made, Diagnostics& diagnostics);

/// The belts that the document offers: effective lengths, rising; the belt in hand alone where it names one; empty
/// where it says nothing.
[[nodiscard]] std::vector<double> lengths_on_offer(const spec::Drive& drive);

/// More than this many combinations are refused: some hours' work.
inline constexpr std::uint64_t kMaxCombinations = 1'000'000'000;

/// Settles what a drive document wants searched. nullopt, with every mistake in `diagnostics` at its place, where it
/// names what is not there or cannot be changed. Requires: `document.search`; `settled` is the same document's drive.
[[nodiscard]] std::optional<SearchSpace> settle_search(const spec::Drive& document, const Drive& settled,
                                                       Diagnostics& diagnostics);

}  // namespace groovewright::drive
