// labels.h: words in a column beside a view, each with a leader to what it speaks of.
#pragma once

#include <vector>

#include "groovewright/plane/pieces.h"

namespace groovewright::plane {

enum class Tip { arrow, dot, none };

struct Label {
  Piece piece;
  /// Where the leader may end: any one of them. An arrow ends on a line, a dot within a surface (ISO 128-2).
  std::vector<Vec2> anchors;
  Tip tip = Tip::arrow;
};

/// Draws the labels in a column that begins at x = `left`, about `middle` in height, with straight leaders that neither
/// cross each other nor pass over the view's words. Anchors and order are chosen by search; the same labels always give
/// the same column.
void label_column(View& view, const std::vector<Label>& labels, double left, double middle, const Scribe& scribe);

}  // namespace groovewright::plane
