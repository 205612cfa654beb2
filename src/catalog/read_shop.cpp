#include "read_shop.h"

#include <algorithm>
#include <numbers>

#include "choices.h"
#include "groovewright/base/text.h"

namespace groovewright::catalog {
namespace {

constexpr Unit kPower{Measure::power, {}};
constexpr Unit kTorque{Measure::torque, {}};
constexpr Unit kSeconds{Measure::plain, "s"};
constexpr double kMillimetresInMetre = 1000;
constexpr double kNewtonMillimetresInNewtonMetre = 1000;
/// How far printed curves of torque may lie above the power that is printed beside them.
constexpr double kCurveError = 1.02;

constexpr Choice<Machine::Kind> kKinds[] = {{"lathe", Machine::Kind::lathe}, {"mill", Machine::Kind::mill}};
constexpr Choice<bool> kTurrets[] = {{"rear", true}, {"front", false}};
constexpr Choice<bool> kPoints[] = {{"imaginary_tip", false}, {"nose_centre", true}};

struct Range {
  double from = 0, to = 0;
};
Range read_range(Fields& fields, std::string_view key, Unit unit) {
  Fields range = fields.map(key);
  const Range read{range.number("from", unit), range.number("to", unit)};
  range.finish();
  check(fields, fields.node(key, ""), read.from < read.to, "'from' must be less than 'to'");
  return read;
}

std::vector<Machine::Torque> read_torques(Fields& file, double power) {
  const yaml::Node& curve = file.node("torque", "[{at: 1000 rpm, value: 80 N m}]");
  std::vector<Machine::Torque> torques;
  for (const yaml::Node& item : file.list(curve)) {
    Fields point(item, file);
    torques.push_back({point.number("at", kSpeed), point.number("value", kTorque) / kNewtonMillimetresInNewtonMetre});
    point.finish();
    const Machine::Torque& t = torques.back();
    const double given = t.torque * t.rpm * std::numbers::pi / 30;
    check(file, item, given <= power * kCurveError,
          "at " + shortest(t.rpm) + " rpm this torque is " + trimmed(given / 1000, 2) +
              " kW, more than the 'power' of " + trimmed(power / 1000, 2) + " kW");
  }
  const auto falls = [](const auto& a, const auto& b) { return a.rpm >= b.rpm; };
  check(file, curve, !torques.empty(), "the curve of torque needs one point at least");
  check(file, curve, std::adjacent_find(torques.begin(), torques.end(), falls) == torques.end(),
        "the points' speeds must increase");
  return torques;
}

void read_lathe(Fields& file, Machine& m) {
  m.rear_turret = read_choice(file, "turret", kTurrets);
  m.steers_nose_centre = read_choice(file, "steers", kPoints);
  m.swing = file.number("swing", kLength);
  m.beyond_axis = file.number("beyond_axis", kLength, Sign::zero_too);
  m.tool_shank = file.number("tool_shank", kLength);
}

}  // namespace

Machine read_machine(Fields& file, const std::string& id) {
  Machine m;
  m.id = id;
  m.kind = read_choice(file, "kind", kKinds);
  if (!file.clean()) {
    (void)file.rest();  // what else is due depends on the kind
    return m;
  }
  m.name = file.word("name", "Bench lathe, 250 mm swing");
  m.source = file.source();
  m.dialect = file.word("dialect", "rs274-plain");
  m.rapid = file.number("rapid", kMetresPerMinute) * kMillimetresInMetre;
  const Range speed = read_range(file, "speed", kSpeed);
  m.min_rpm = speed.from, m.max_rpm = speed.to;
  m.power = file.number("power", kPower);
  m.torques = read_torques(file, m.power);
  const bool is_lathe = m.kind == Machine::Kind::lathe;
  if (is_lathe) read_lathe(file, m);
  Fields travel = file.map("travel");
  m.travel_x = travel.number("x", kLength);
  if (!is_lathe) m.travel_y = travel.number("y", kLength);
  m.travel_z = travel.number("z", kLength);
  travel.finish();
  m.tool_places = file.count("tool_places");
  m.tool_change_seconds = file.number("tool_change", kSeconds);
  check(file, file.node("travel", ""), m.travel_x > m.beyond_axis,
        "a lathe's travel in x, on radius, holds what it goes 'beyond_axis'");
  return m;
}

Chuck read_chuck(Fields& file, const std::string& id) {
  Chuck c;
  c.id = id;
  c.name = file.word("name", "Three-jaw power chuck, 200 mm, soft jaws");
  c.source = file.source();
  c.jaws = file.count("jaws");
  c.max_rpm = file.number("maximum_speed", kSpeed);
  const Range grip = read_range(file, "grip", kLength);
  c.grip_min = grip.from, c.grip_max = grip.to;
  Fields jaw = file.map("jaw");
  c.grip_length = jaw.number("step", kLength);
  c.seat_width = jaw.number("seat", kLength);
  c.jaw_height = jaw.number("height", kLength);
  c.jaw_thickness = jaw.number("thickness", kLength);
  jaw.finish();
  Fields body = file.map("body");
  c.body_diameter = body.number("diameter", kLength);
  c.body_to_jaw_face = body.number("to_jaw_face", kLength);
  body.finish();
  c.through_bore = file.number("through_bore", kLength);
  check(file, file.node("body", ""), c.body_to_jaw_face >= c.grip_length + c.jaw_thickness,
        "the jaws' 'step' and 'thickness' together don't fit before the body: 'to_jaw_face' is at least " +
            trimmed(c.grip_length + c.jaw_thickness, 3) + " mm");
  return c;
}

CuttingData read_cutting(Fields& file, const std::string& id) {
  CuttingData c;
  c.id = id;
  c.name = file.word("name", "Aluminium, wrought");
  c.source = file.source();
  c.specific_force = file.number("specific_force", kPressure);
  c.finish_rz = file.number("finish_rz", kLength);
  c.coolant = read_choice(file, "coolant", kYesNo);
  for (const std::string_view work : kWorks) {
    const auto is_one_of = [&](std::initializer_list<std::string_view> words) {
      return std::ranges::find(words, work) != words.end();
    };
    Fields fields = file.map(work);
    CuttingData::Work& w = c.works[std::string(work)];
    w.speed = fields.number("speed", kMetresPerMinute);
    const bool by_diameter = is_one_of({"drill", "centre", "countersink", "ream", "mill"});
    if (work != "tap") w.feed = fields.number("feed", by_diameter ? kPlain : kLength);
    const bool by_width = is_one_of({"groove", "face_groove", "drill", "mill"});
    if (by_width || !(by_diameter || work == "tap")) w.depth = fields.number("depth", by_width ? kPlain : kLength);
    w.source = fields.source();
    fields.finish();
  }
  return c;
}

}  // namespace groovewright::catalog
