// callouts.h: words beside what they speak of, wherever a picture has room for them. Lengths mm on paper.
#pragma once

#include <string>
#include <vector>

#include "groovewright/plane/labels.h"

namespace groovewright::plane {

/// Sets words into a view so that they stand clear of every line and of each other, and that no leader crosses another
/// or runs through words. What is set first has the best places; the same calls always give the same picture.
class Callouts {
 public:
  /// Words stand within `area`. What the view holds by now is kept clear; lines added to it later are not seen. The
  /// view outlives this.
  Callouts(View& view, const Scribe& scribe, const Box& area);

  /// Without a leader, its middle at the first of `middles` where there is room.
  [[nodiscard]] bool inside(const Piece& piece, const std::vector<Vec2>& middles);
  /// With a straight leader from one of `anchors`, near and over few lines. False where there is no room at all.
  [[nodiscard]] bool beside(const Piece& piece, const std::vector<Vec2>& anchors, Tip tip);

 private:
  struct Stroke {
    Vec2 a, b, low, high;
    Ink ink = Ink::visible;
  };
  struct Place {
    Vec2 tip, knee, at;  ///< `at`: left end of the base line
  };
  [[nodiscard]] Box taken(const Piece& piece, Vec2 at) const;
  [[nodiscard]] bool has_room(const Box& box) const;
  [[nodiscard]] bool may_lead(const Place& place) const;
  [[nodiscard]] double lines_crossed(const Place& place) const;
  void see(const Inked& inked);
  void see(const Words& words);
  void set(const Piece& piece, Vec2 at);

  View& view_;
  const Scribe& scribe_;
  Box area_;
  std::vector<Stroke> strokes_;
  std::vector<std::array<Vec2, 4>> words_;
};

}  // namespace groovewright::plane
