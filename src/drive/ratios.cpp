#include "groovewright/drive/ratios.h"

#include <numbers>

namespace groovewright::drive {
namespace {

double cord_of(const Drive& drive, const Course& course, std::size_t i) {
  return cord_radius(drive.belt, pulley_at(drive, course, i));
}

double reference_cord_of(const Drive& drive, const Course& course, std::size_t i) {
  Pulley reference = pulley_at(drive, course, i);
  if (reference.reference_radius > 0) reference.radius = reference.reference_radius;
  return cord_radius(drive.belt, reference);
}

}  // namespace

double speed_ratio(const Drive& drive, const Course& course, std::size_t i) {
  return cord_of(drive, course, course.driver) / cord_of(drive, course, i);
}

double speed_ratio_at(const Drive& drive, const Course& course, std::size_t i, double line_to_cord) {
  Belt other = drive.belt;
  other.line_to_cord.value = line_to_cord;
  return cord_radius(other, pulley_at(drive, course, course.driver)) / cord_radius(other, pulley_at(drive, course, i));
}

bool turns_with_driver(const Course& course, std::size_t i) {
  return course.rounds[i].turn == course.rounds[course.driver].turn;
}

double overdrive(const Drive& drive, const Course& course, std::size_t i) {
  const double reference = reference_cord_of(drive, course, course.driver) / reference_cord_of(drive, course, i);
  return speed_ratio(drive, course, i) / reference - 1;
}

double belt_speed(const Drive& drive, const Course& course, double driver_rpm) {
  return driver_rpm * 2 * std::numbers::pi / 60 * cord_of(drive, course, course.driver) / 1000;
}

double bends_per_second(const Drive& drive, const Course& course, double pitch_length, double driver_rpm) {
  return static_cast<double>(course.size()) * belt_speed(drive, course, driver_rpm) * 1000 / pitch_length;
}

}  // namespace groovewright::drive
