// The inspector of pages finds the faults that were drawn on purpose, and no others.
#include "groovewright/plane/faults.h"

#include <gtest/gtest.h>

#include "ink_page.h"

namespace groovewright::plane {
namespace {

TEST(Faults, AreFound) {
  Page page;
  page.width = 100, page.height = 100;
  View view{"view", "View", {}, {}};
  view.words = {{{10, 10}, "one"}, {{12, 10}, "two"}, {{50, 50}, "three"}};
  view.lines = {{Ink::visible, {{{45, 51}, {70, 51}, Edge::Turn::straight, {}}}},
                {Ink::visible, {{{90, 90}, {110, 90}, Edge::Turn::straight, {}}}}};
  page.views = {view};
  const Faults f = faults(page, testing::drawing_typeface());
  EXPECT_EQ(f.words_on_words, 1);
  EXPECT_EQ(f.words_on_lines, 1);
  EXPECT_EQ(f.off_sheet, 1);
  EXPECT_EQ(f.total(), 3);
}

Inked stroke(Ink ink, Vec2 a, Vec2 b) { return {ink, {{a, b, Edge::Turn::straight, {}}}}; }
Inked arrow(Vec2 tip) {
  const Vec2 back{tip.x - 3, tip.y + 0.5}, other{tip.x - 3, tip.y - 0.5};
  Inked head{Ink::dimension,
             {{tip, back, Edge::Turn::straight, {}},
              {back, other, Edge::Turn::straight, {}},
              {other, tip, Edge::Turn::straight, {}}}};
  head.filled = true;
  return head;
}

TEST(Faults, AreCrossedLeadersAndLostArrows) {
  Page page;
  page.width = 100, page.height = 100;
  View view{"view", "View", {}, {}};
  view.lines = {stroke(Ink::leader, {10, 10}, {30, 30}),
                stroke(Ink::leader, {10, 30}, {30, 10}),
                stroke(Ink::leader, {60, 10}, {80, 10}),
                stroke(Ink::visible, {50, 50}, {50, 70}),
                arrow({50, 60}),
                arrow({40, 60})};
  page.views = {view};
  const Faults f = faults(page, testing::drawing_typeface());
  EXPECT_EQ(f.leaders_crossed, 1);
  EXPECT_EQ(f.lost_arrows, 1);
  EXPECT_EQ(f.first, "two leaders cross");
  EXPECT_EQ(f.total(), 2);
}

}  // namespace
}  // namespace groovewright::plane
