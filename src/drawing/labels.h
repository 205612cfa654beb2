// labels.h: inside room `drawing`: words in a column beside a view, each with a leader to what it speaks of.
#pragma once

#include <vector>

#include "pieces.h"

namespace groovewright::drawing {

enum class Tip { arrow, dot, none };

struct Label {
  Piece piece;
  /// Where the leader may end: any one of them. An arrow ends on a line, a dot within a surface (ISO 128-2).
  std::vector<plane::Vec2> anchors;
  Tip tip = Tip::arrow;
};

/// Draws the labels in a column that begins at x = `left`, about `middle` in height, with straight leaders that neither
/// cross each other nor pass over the view's words. Anchors and order are chosen by search; the same labels always give
/// the same column.
void label_column(plane::View& view, const std::vector<Label>& labels, double left, double middle,
                  const Scribe& scribe);

}  // namespace groovewright::drawing
