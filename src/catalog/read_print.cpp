#include "read_print.h"

#include <algorithm>
#include <functional>

namespace groovewright::catalog {
namespace {

constexpr Unit kTemperature{Measure::temperature, {}};
constexpr Unit kShare{Measure::ratio, {}};
/// More than this a plastic does not shrink, nor does a machine need correcting by more.
constexpr double kMostShrink = 0.05;

void check(const Fields& file, const yaml::Node& at, bool holds, const char* what) {
  if (file.clean() && !holds) file.error(Code::bad_catalog, at, what);
}

}  // namespace

Printer read_printer(Fields& file, const std::string& id) {
  Printer p;
  p.id = id;
  p.name = file.word("name", "Bench printer, 220 mm bed");
  p.source = file.source();
  Fields bed = file.map("bed");
  p.bed_width = bed.number("width", kLength);
  p.bed_depth = bed.number("depth", kLength);
  p.height = bed.number("height", kLength);
  p.margin = bed.number("margin", kLength);
  bed.finish();
  p.nozzle = file.number("nozzle", kLength);
  p.resolution = file.number("resolution", kLength);
  const yaml::Node& layers = file.node("layers", "[0.2 mm, 0.12 mm]");
  for (const yaml::Node& layer : file.list(layers)) p.layers.push_back(file.number(layer, kLength, Sign::positive));
  p.greatest_step = file.number("greatest_step", kLength);
  p.accuracy = file.number("accuracy", kLength);
  Fields scale = file.map("scale");
  p.scale_across = scale.number("across", kPlain);
  p.scale_up = scale.number("up", kPlain);
  scale.finish();
  p.hole_shrink = file.number("hole_shrink", kLength, Sign::zero_too);
  p.elephant_foot = file.number("elephant_foot", kLength, Sign::zero_too);
  Fields slip = file.map("slip");
  p.bore_slip = slip.number("bore", kLength, Sign::zero_too);
  p.hole_slip = slip.number("hole", kLength, Sign::zero_too);
  slip.finish();
  p.joint_gap = file.number("joint_gap", kLength);
  Fields dowel = file.map("dowel");
  p.dowel_diameter = dowel.number("diameter", kLength);
  p.dowel_length = dowel.number("length", kLength);
  dowel.finish();

  const auto near_one = [](double scale_factor) { return std::abs(scale_factor - 1) <= kMostShrink; };
  check(file, layers, !p.layers.empty() && std::is_sorted(p.layers.begin(), p.layers.end(), std::greater<>()),
        "the layers that it prints well: one at least, coarse ones first");
  check(file, layers, !p.layers.empty() && p.layers.front() <= p.nozzle,
        "a layer is no higher than the nozzle is wide");
  check(file, file.node("bed", ""), 4 * p.margin < std::min(p.bed_width, p.bed_depth),
        "the margins leave nothing of the bed");
  check(file, file.node("scale", ""), near_one(p.scale_across) && near_one(p.scale_up),
        "a machine's scale is corrected by 5 % at most");
  return p;
}

Plastic read_plastic(Fields& file, const std::string& id) {
  Plastic p;
  p.id = id;
  p.name = file.word("name", "PLA");
  p.source = file.source();
  p.density = file.number("density", kDensity);
  Fields shrink = file.map("shrink");
  p.shrink_across = shrink.number("across", kShare, Sign::zero_too);
  p.shrink_up = shrink.number("up", kShare, Sign::zero_too);
  shrink.finish();
  p.softens = file.number("softens", kTemperature);
  p.note = file.word("note", "goes soft in the sun");
  check(file, file.node("shrink", ""), std::max(p.shrink_across, p.shrink_up) <= kMostShrink,
        "a plastic shrinks by 5 % at most");
  return p;
}

}  // namespace groovewright::catalog
