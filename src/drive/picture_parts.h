// picture_parts.h: inside room `drive`: the parts of a drive as lines on paper.
#pragma once

#include <vector>

#include "groovewright/drive/pictures.h"
#include "groovewright/plane/pieces.h"
#include "picture_belt.h"

namespace groovewright::drive {

/// From the drive's plane to the paper.
struct OnPaper {
  double scale = 1;
  Vec2 origin;
  [[nodiscard]] Vec2 at(Vec2 p) const { return origin + scale * p; }
};

[[nodiscard]] Vec2 peg_at(const Tensioner& tensioner);
/// The idler's way from stop to stop. Requires: an arm or an eccentric.
[[nodiscard]] plane::Edge swing(const Tensioner& tensioner);
/// Free, far stop and those of marks, each once and none where the tensioner stands now. `apart`: what tells two
/// middles of the idler from each other, mm.
[[nodiscard]] std::vector<double> other_positions(const Tensioner& tensioner, double now,
                                                  const std::vector<ClearanceMark>& marks, double apart);
/// Radius of round i within which nothing of belt and rim is drawn: up to the tips of the ribs in its grooves. mm.
[[nodiscard]] double free_radius(const Drive& drive, const Course& course, std::size_t i);

/// Draws into a view.
class Parts {
 public:
  Parts(plane::View& view, const Drive& drive, const OnPaper& paper) : view_(view), drive_(drive), paper_(paper) {}

  /// Outside, effective circle, flange, middle, and which way it turns.
  void pulley(const Course& course, std::size_t i);
  /// Here now and at other positions, with its swing, pivot and peg. Its idler now is a pulley of the course.
  void tensioner(const Tensioner& t, double now, const std::vector<double>& others);
  void obstacle(const Obstacle& o);
  /// Back and rib tips, with arrows of travel between them.
  void belt(const LaidBelt& belt);
  void mark(const ClearanceMark& m);

 private:
  [[nodiscard]] Vec2 at(Vec2 p) const { return paper_.at(p); }
  void draw(plane::Ink ink, const plane::Path& path);
  void ring(plane::Ink ink, Vec2 centre, double radius) { draw(ink, plane::circle(centre, radius)); }
  void cross(Vec2 centre, double half);
  void sense(Vec2 centre, double radius, int turn);
  void arm(const Tensioner& t, double position, plane::Ink ink);
  void tips(const LaidBelt& belt);

  plane::View& view_;
  const Drive& drive_;
  OnPaper paper_;
};

}  // namespace groovewright::drive
