// read_shop.h: data files about a shop: machines, chucks, cutting tools, cutting data.
#pragma once

#include <map>
#include <string>

#include "fields.h"

namespace groovewright::catalog {

inline constexpr Unit kMetresPerMinute{Measure::plain, "m/min"};
inline constexpr Unit kSpeed{Measure::speed, {}};

[[nodiscard]] Machine read_machine(Fields& file, const std::string& id);
[[nodiscard]] Chuck read_chuck(Fields& file, const std::string& id);
[[nodiscard]] CuttingData read_cutting(Fields& file, const std::string& id);
/// Tools by id, a row each; what the file says beside its rows goes for every row that does not say it itself.
void read_turning_tools(Fields& file, std::map<std::string, TurningTool>& tools);
void read_milling_tools(Fields& file, std::map<std::string, MillingTool>& tools);

}  // namespace groovewright::catalog
