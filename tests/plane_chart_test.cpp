// Charts: ticks against their definition, curves where the axes say, and no words over anything, whatever the data.
#include "groovewright/plane/chart.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "groovewright/base/broken.h"
#include "groovewright/plane/callouts.h"
#include "groovewright/plane/faults.h"
#include "ink_page.h"
#include "property.h"

namespace groovewright::plane {
namespace {

int any_int(int from, int to) { return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(from, to + 1)); }

Page page_of(std::vector<View> views, double width, double height) {
  Page page;
  page.width = width, page.height = height;
  page.views = std::move(views);
  return page;
}
Faults faults_of(const View& view, double width, double height) {
  return faults(page_of({view}, width, height), testing::drawing_typeface());
}

TEST(Ticks, AreTheFinestRoundOnes) {
  struct Case {
    double from, to, most;
    double step;
    int decimals;
    double first, last;
  };
  // By the definition: 1, 2 or 5 times a power of ten, at most so many steps.
  constexpr Case kCases[] = {{0, 100, 10, 10, 0, 0, 100},    {0, 100, 9.9, 20, 0, 0, 100},
                             {0.3, 9.7, 10, 1, 0, 0, 10},    {-1, 1, 4, 0.5, 1, -1, 1},
                             {0, 0.07, 7, 0.01, 2, 0, 0.07}, {1499, 1501, 5, 0.5, 1, 1499, 1501},
                             {0, 1e9, 5, 2e8, 0, 0, 1e9}};
  for (const Case& c : kCases) {
    const Ticks t = round_ticks(c.from, c.to, c.most, true);
    EXPECT_DOUBLE_EQ(t.step, c.step) << c.from << " " << c.to;
    EXPECT_EQ(t.decimals, c.decimals) << c.from << " " << c.to;
    EXPECT_NEAR(t.at(t.first), c.first, 1e-12) << c.from << " " << c.to;
    EXPECT_NEAR(t.at(t.last), c.last, 1e-12 * std::max(1.0, c.last)) << c.from << " " << c.to;
  }
  const Ticks within = round_ticks(0.3, 9.7, 10, false);
  EXPECT_EQ(within.first, 1);
  EXPECT_EQ(within.last, 9);
  EXPECT_THROW((void)round_ticks(1, 1, 10, true), Broken);
  EXPECT_THROW((void)round_ticks(1e9, 1e9 + 1, 10, true), Broken);
  EXPECT_THROW((void)round_ticks(0, 1, 0.5, true), Broken);
}

TEST(Ticks, HoldTheRange) {
  expect_property([] {
    const double from = any(-1, 1) * std::pow(10, any_int(-3, 8)),
                 to = from + any(0.001, 1) * std::pow(10, any_int(-3, 8)), most = any(2, 30);
    RC_PRE(to - from >= kLeastRange * std::max(std::abs(from), std::abs(to)));
    const Ticks t = round_ticks(from, to, most, true);
    const double slack = 1e-8 * t.step;
    RC_ASSERT(t.at(t.first) <= from + slack);
    RC_ASSERT(t.at(t.last) >= to - slack);
    RC_ASSERT(static_cast<double>(t.last - t.first) <= most + slack);
  });
}

Chart sample() {
  Chart c;
  c.id = "chart", c.title = "A chart";
  c.x = {"speed, rpm", {}, {}}, c.y = {"force, N", {}, {}};
  c.series = {{"one", {{0, 0}, {500, 80}, {1000, 20}}, Ink::visible}, {"two", {{0, 20}, {1000, 21}}, Ink::hidden}};
  c.limits = {
      {false, 70, "limit", Ink::phantom}, {true, 400, "forty", Ink::centre}, {true, 410, "forty-one", Ink::centre}};
  c.bands = {{"band", {{0, 30}, {1000, 35}}, {{0, 50}, {1000, 60}}}};
  c.spots = {{{500, 80}, "top"}};
  return c;
}

std::optional<Vec2> word_at(const View& view, const std::string& text) {
  for (const Words& w : view.words) {
    if (w.text == text) return box(testing::drawing_typeface(), w)[0];
  }
  return std::nullopt;
}

TEST(Chart, PutsPointsWhereTheAxesSay) {
  const View v = chart(sample(), 160, 90, Scribe(testing::drawing_typeface()));
  const auto curve = std::find_if(v.lines.begin(), v.lines.end(),
                                  [](const Inked& l) { return l.ink == Ink::visible && l.path.size() == 2; });
  ASSERT_NE(curve, v.lines.end());
  // Ticks are the short lines below the frame and left of it: their ends give the scale, read as a person would.
  const auto tick = [&](bool x, const std::string& figure) {
    const auto words = word_at(v, figure);
    double best = 1e9, at = 0;
    for (const Inked& l : v.lines) {
      if (l.ink != Ink::table || l.path.size() != 1) continue;
      const Vec2 p = l.path[0].b;
      const double far = x ? std::abs(p.x - words->x) : std::abs(p.y - words->y);
      const bool upright = l.path[0].a.x == l.path[0].b.x;
      if (upright == x && far < best) best = far, at = x ? p.x : p.y;
    }
    return at;
  };
  ASSERT_TRUE(word_at(v, "80") && word_at(v, "20") && word_at(v, "1000"));
  const double x1000 = tick(true, "1000"), y80 = tick(false, "80"), y20 = tick(false, "20");
  EXPECT_NEAR(curve->path[0].b.y, y80, 1e-9);
  EXPECT_NEAR(curve->path[1].b.x, x1000, 1e-9);
  EXPECT_NEAR(curve->path[1].b.y, y20, 1e-9);
  EXPECT_NEAR(curve->path[0].b.x, (curve->path[0].a.x + x1000) / 2, 1e-9);
}

TEST(Chart, NamesEverything) {
  const View v = chart(sample(), 160, 90, Scribe(testing::drawing_typeface()));
  for (const char* text :
       {"A chart", "speed, rpm", "force, N", "one", "two", "band", "limit", "forty", "forty-one", "top"}) {
    EXPECT_TRUE(word_at(v, text)) << text;
  }
  const Faults f = faults_of(v, 160, 90);
  EXPECT_EQ(f.total(), 0) << f.first;
}

TEST(Chart, CutsWhatIsBeyondItsLimits) {
  Chart c = sample();
  c.x.from = 200, c.x.to = 600, c.y.from = 10, c.y.to = 40;
  const View v = chart(c, 160, 90, Scribe(testing::drawing_typeface()));
  const auto frame = std::find_if(v.lines.begin(), v.lines.end(),
                                  [](const Inked& l) { return l.ink == Ink::table && l.path.size() == 4; });
  ASSERT_NE(frame, v.lines.end());
  const Box plot = extents(frame->path);
  for (const Inked& l : v.lines) {
    if (l.ink != Ink::visible && l.ink != Ink::hidden && l.ink != Ink::hatch) continue;
    const Box b = extents(l.path);
    EXPECT_TRUE(b.low.x >= plot.low.x - 1e-6 && b.high.x <= plot.high.x + 1e-6 && b.low.y >= plot.low.y - 1e-6 &&
                b.high.y <= plot.high.y + 1e-6);
  }
  EXPECT_FALSE(word_at(v, "limit")) << "a limit that is off the plot has no label";
}

TEST(Chart, CountsNamesThatFindNoRoom) {
  Chart c = sample();
  for (int k = 0; k < 60; ++k)
    c.series.push_back({"curve " + std::to_string(k), {{0, 1.0 * k}, {1000, 1.0 * k}}, Ink::visible});
  const View v = chart(c, 160, 90, Scribe(testing::drawing_typeface()));
  int named = 0, more = 0;
  for (const Words& w : v.words) {
    named +=
        w.text == "one" || w.text == "two" || w.text == "band" || w.text == "limit" || w.text.starts_with("curve ");
    if (w.text.starts_with("+")) more = std::stoi(w.text);
  }
  EXPECT_GT(named, 10);
  EXPECT_EQ(named + more, 64);
  EXPECT_EQ(faults_of(v, 160, 90).total(), 0) << faults_of(v, 160, 90).first;
}

std::string any_name(int k) {
  static const std::string letters = "The quick brown fox jumps over a lazy dog, twice";
  return std::to_string(k) + letters.substr(0, static_cast<std::size_t>(any_int(1, 40)));
}

Chart any_chart() {
  Chart c;
  c.id = "chart", c.title = *rc::gen::arbitrary<bool>() ? any_name(0) : "";
  c.x.title = any_name(1), c.y.title = any_name(2);
  const double wide = std::pow(10, any_int(-2, 6)), high = std::pow(10, any_int(-2, 6)), low = any(-2, 2) * high;
  if (*rc::gen::arbitrary<bool>()) c.x.from = 0.1 * wide;
  if (*rc::gen::arbitrary<bool>()) c.y.to = low + 0.7 * high;
  const auto point = [&](double t) { return Vec2{t * wide, low + any(0, 1) * high}; };
  const int count = any_int(0, 14);
  for (int k = 0; k < count; ++k) {
    Series s{any_name(k), {}, kInks[static_cast<std::size_t>(any_int(0, 4))]};
    const int n = any_int(0, 8);
    for (int i = 0; i < n; ++i) s.points.push_back(point(any(0, 1)));
    std::sort(s.points.begin(), s.points.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
    c.series.push_back(s);
  }
  const int limits = any_int(0, 14);
  for (int k = 0; k < limits; ++k) {
    const bool upright = *rc::gen::arbitrary<bool>();
    c.limits.push_back({upright, upright ? any(0, 1) * wide : low + any(0, 1) * high, any_name(k), Ink::phantom});
  }
  if (*rc::gen::arbitrary<bool>())
    c.bands.push_back({any_name(7), {point(0), point(1)}, {point(0), point(0.5), point(1)}});
  const int spots = any_int(0, 12);
  for (int k = 0; k < spots; ++k) c.spots.push_back({point(any(0, 1)), std::to_string(k)});
  return c;
}

TEST(Chart, HasNoFaultsWhateverTheData) {
  expect_property([] {
    const Chart c = any_chart();
    const double width = any(80, 300), height = any(60, 200);
    const View v = chart(c, width, height, Scribe(testing::drawing_typeface()));
    const Faults f = faults_of(v, width, height);
    RC_LOG() << f.first << "\n";
    RC_ASSERT(f.total() == 0);
  });
}

TEST(Chart, StackedPlotsLineUp) {
  Chart a = sample(), b = sample();
  b.id = "second";
  b.series[0].points = {{0, 0}, {500, 123456}, {1000, 3}};
  b.limits[0].label = "a limit with a long name";
  const std::vector<View> views = stacked_charts({a, b}, 160, 180, Scribe(testing::drawing_typeface()));
  ASSERT_EQ(views.size(), 2U);
  std::vector<Box> plots;
  for (const View& v : views) {
    for (const Inked& l : v.lines) {
      if (l.ink == Ink::table && l.path.size() == 4) plots.push_back(extents(l.path));
    }
  }
  ASSERT_EQ(plots.size(), 2U);
  EXPECT_EQ(plots[0].low.x, plots[1].low.x);
  EXPECT_EQ(plots[0].high.x, plots[1].high.x);
  EXPECT_GT(plots[0].low.y, plots[1].high.y);
  const Faults f = faults(page_of(views, 160, 180), testing::drawing_typeface());
  EXPECT_EQ(f.total(), 0) << f.first;
}

TEST(Callouts, SayWhereThereIsNoRoom) {
  View v{"view", "View", {}, {}};
  const Scribe scribe(testing::drawing_typeface());
  polygon(v, Ink::visible, {{0, 0}, {30, 0}, {30, 30}, {0, 30}}, false);
  Callouts callouts(v, scribe, {{0, 0}, {30, 30}});
  EXPECT_FALSE(callouts.inside(scribe.text("much too long for this"), {{15, 15}}));
  EXPECT_TRUE(callouts.inside(scribe.text("one"), {{15, 15}}));
  EXPECT_FALSE(callouts.inside(scribe.text("two"), {{15, 15}}));
  EXPECT_FALSE(callouts.beside(scribe.text("much too long for this"), {{15, 10}}, Tip::dot));
  EXPECT_TRUE(callouts.beside(scribe.text("two"), {{15, 10}}, Tip::dot));
  Page page;
  page.width = page.height = 30;
  page.views = {v};
  EXPECT_EQ(faults(page, testing::drawing_typeface()).total(), 0) << faults(page, testing::drawing_typeface()).first;
}

}  // namespace
}  // namespace groovewright::plane
