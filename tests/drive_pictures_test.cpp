// The drive's pages: true to scale against the model and against closed forms, legible whatever the drive, the same
// each time.
#include "groovewright/drive/pictures.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "drive_pictures.h"
#include "groovewright/ink.h"
#include "groovewright/plane/faults.h"
#include "property.h"

namespace groovewright::drive {
namespace {

using plane::Edge;
using plane::Ink;
using plane::Inked;
using plane::Page;
using plane::View;
using std::numbers::pi;
using testing::kDegree;
using testing::picture_style;

constexpr double kOnPaper = 1e-9;

std::string words_of(const Page& page) {
  std::string all;
  for (const View& v : page.views) {
    for (const plane::Words& w : v.words) all += w.text + " ";
  }
  return all;
}
bool says(const Page& page, const std::string& what) { return words_of(page).find(what) != std::string::npos; }

const View& view_of(const Page& page, const std::string& id) {
  return *std::find_if(page.views.begin(), page.views.end(), [&](const View& v) { return v.id == id; });
}

void expect_no_faults(const Page& page, const std::string& what) {
  const plane::Faults f = plane::faults(page, picture_style().typeface);
  EXPECT_EQ(f.total(), 0) << what << ": " << f.first;
}

bool has_circle(const View& view, Ink ink, Vec2 centre, double radius) {
  return std::any_of(view.lines.begin(), view.lines.end(), [&](const Inked& l) {
    return l.ink == ink && l.path.size() == 1 && l.path[0].is_full_circle() &&
           plane::norm(l.path[0].centre - centre) < kOnPaper && std::abs(l.path[0].radius() - radius) < kOnPaper;
  });
}

struct Laid {
  const char* name;
  Drive drive;
  LayoutOptions options;
};
std::vector<Laid> laid_drives() {
  return {{"demo",
           testing::demo_drive(),
           {"", 278.4 * kDegree, {{{-30, 190}, {-2, 190}, "28.0"}, {{20, 312}, {20, 314}, "2.0"}}}},
          {"larkspur", testing::larkspur(), {"The other Larkspur", 80 * kDegree, {}}},
          {"larkspur, free", testing::larkspur(), {}},
          {"larkspur, at its far stop", testing::larkspur(), {"", 105 * kDegree, {}}},
          {"tansy", testing::tansy(), {"", 9.0, {}}},
          {"orchis", testing::orchis(), {"", 140 * kDegree, {}}}};
}

/// Where the drive's (0, 0) is on paper: some circle of the first pulley's size, from which all others stand right.
std::optional<Vec2> origin_of(const View& view, const Drive& d, double scale) {
  for (const Inked& l : view.lines) {
    if (l.ink != Ink::visible || l.path.size() != 1 || !l.path[0].is_full_circle()) continue;
    const Vec2 origin = l.path[0].centre - scale * d.pulleys[0].at;
    if (std::all_of(d.pulleys.begin(), d.pulleys.end(), [&](const Pulley& p) {
          return has_circle(view, Ink::visible, origin + scale * p.at, scale * p.outside);
        })) {
      return origin;
    }
  }
  return std::nullopt;
}

TEST(LayoutPage, IsTrueToItsScale) {
  for (const Laid& l : laid_drives()) {
    const Page page = layout_page(l.drive, l.options, picture_style());
    const double s = page.scale;
    // ISO 5455: 1, 2 or 5 times a power of ten.
    const std::string name = s >= 1 ? trimmed(s, 0) + ":1" : "1:" + trimmed(1 / s, 0);
    EXPECT_TRUE(says(page, "Scale " + name)) << l.name;
    EXPECT_NE(std::string("125").find(name[s >= 1 ? 0 : 2]), std::string::npos) << name;
    const View& view = view_of(page, "layout");
    const auto origin = origin_of(view, l.drive, s);
    ASSERT_TRUE(origin) << l.name;
    for (const Pulley& p : l.drive.pulleys) {
      const Vec2 c = *origin + s * p.at;
      if (p.side == Side::ribs) {
        EXPECT_TRUE(has_circle(view, Ink::centre, c, s * p.radius)) << l.name << ", " << p.name;
      }
      if (p.flange_height > 0) {
        EXPECT_TRUE(has_circle(view, Ink::hidden, c, s * (p.outside + p.flange_height))) << l.name << ", " << p.name;
      }
    }
    const Tensioner& t = *l.drive.tensioner;
    const double now = l.options.installed.value_or(t.free);
    for (const auto& [position, ink] :
         {std::pair{now, Ink::visible}, {t.free, Ink::phantom}, {t.far_stop(), Ink::phantom}}) {
      if (ink == Ink::phantom && position == now) continue;
      // An arm turns about its pivot, a slide runs along its direction.
      const Vec2 way = t.slides() ? position * Vec2{std::cos(t.direction), std::sin(t.direction)}
                                  : t.arm_length * Vec2{std::cos(position), std::sin(position)};
      const Vec2 c = *origin + s * (t.pivot + way);
      EXPECT_TRUE(std::any_of(view.lines.begin(), view.lines.end(),
                              [&, i = ink](const Inked& line) {
                                return line.ink == i && line.path.size() == 1 && line.path[0].is_full_circle() &&
                                       plane::norm(line.path[0].centre - c) < kOnPaper &&
                                       std::abs(line.path[0].radius() - s * t.idler.outside) < kOnPaper;
                              }))
          << l.name << " at " << position;
    }
    if (t.peg) {
      const Vec2 at = t.pivot + t.peg->radius * Vec2{std::cos(t.peg->angle), std::sin(t.peg->angle)};
      EXPECT_TRUE(has_circle(view, Ink::visible, *origin + s * at, s * t.peg->diameter / 2)) << l.name;
    }
  }
}

/// The longest closed line with straight and round edges: the belt's back.
plane::Path back_of(const View& view) {
  plane::Path longest;
  for (const Inked& l : view.lines) {
    if (l.ink == Ink::visible && l.path.size() > longest.size() && plane::is_closed(l.path)) longest = l.path;
  }
  return longest;
}
double length_of_all(const plane::Path& path) {
  double sum = 0;
  for (const Edge& e : path) sum += e.length();
  return sum;
}

TEST(LayoutPage, DrawsTheBeltInItsLengthAndThickness) {
  for (const Laid& l : laid_drives()) {
    const Page page = layout_page(l.drive, l.options, picture_style());
    const View& view = view_of(page, "layout");
    const plane::Path back = back_of(view);
    ASSERT_GT(back.size(), 4U) << l.name;
    // Nose to tail without a kink.
    for (std::size_t i = 0; i < back.size(); ++i) {
      const Edge &e = back[i], &next = back[(i + 1) % back.size()];
      EXPECT_LT(plane::norm(e.b - next.a), 1e-7) << l.name;
      EXPECT_LT(plane::norm(e.tangent_at(1) - next.tangent_at(0)), 1e-6) << l.name;
    }
    // Steiner: a line beside a closed curve that turns once is longer by 2 pi times the distance.
    Course c = course(l.drive);
    c.rounds[c.idler].centre = idler_centre(*l.drive.tensioner, l.options.installed.value_or(l.drive.tensioner->free));
    Route route = testing::laid(c);
    if (*std::min_element(route.wraps.begin(), route.wraps.end()) <= 0) {
      c.rounds.erase(c.rounds.begin() + static_cast<std::ptrdiff_t>(c.idler));
      route = testing::laid(c);
      EXPECT_TRUE(says(page, "runs past")) << l.name;
    }
    const Belt& b = l.drive.belt;
    EXPECT_NEAR(length_of_all(back) / page.scale, route.length + 2 * pi * b.back(), 1e-6) << l.name;
    EXPECT_TRUE(says(page, number(route.length, 1) + " mm")) << l.name;
    // The tips' line, dashed and not, is as much shorter; all of it runs beside the back at the belt's height.
    double tips = 0;
    for (const Inked& line : view.lines) {
      if (line.ink != Ink::visible && line.ink != Ink::hidden) continue;
      const auto beside = [&](const Edge& e) {
        return std::any_of(back.begin(), back.end(), [&](const Edge& f) {
          if (e.is_arc() != f.is_arc() || e.is_full_circle()) return false;
          if (e.is_arc()) {
            return plane::norm(e.centre - f.centre) < 1e-6 &&
                   std::abs(std::abs(e.radius() - f.radius()) - page.scale * b.height.value) < 1e-6;
          }
          const Vec2 d = plane::unit(f.b - f.a);
          return std::abs(std::abs(plane::cross(d, e.a - f.a)) - page.scale * b.height.value) < 1e-6 &&
                 std::abs(plane::cross(d, e.b - e.a)) < 1e-6 && plane::dot(d, e.a - f.a) > -1e-6 &&
                 plane::dot(d, e.b - f.a) < f.length() + 1e-6;
        });
      };
      for (const Edge& e : line.path) tips += beside(e) ? e.length() : 0;
    }
    EXPECT_NEAR(tips / page.scale, route.length - 2 * pi * b.depth(), 1e-5) << l.name;
  }
}

TEST(LayoutPage, NamesAllAndWarns) {
  for (const Laid& l : laid_drives()) {
    const Page page = layout_page(l.drive, l.options, picture_style());
    expect_no_faults(page, l.name);
    for (const Pulley& p : l.drive.pulleys) EXPECT_TRUE(says(page, p.name.substr(0, 20))) << l.name << ", " << p.name;
    for (const Obstacle& o : l.drive.obstacles) EXPECT_TRUE(says(page, o.name)) << l.name << ", " << o.name;
    for (const ClearanceMark& m : l.options.clearances) EXPECT_TRUE(says(page, m.text)) << l.name;
    EXPECT_TRUE(says(page, "takes fingers")) << l.name;
    EXPECT_TRUE(says(page, "100 mm on paper")) << l.name;
    EXPECT_FALSE(says(page, "No room")) << l.name;
    EXPECT_EQ(says(page, "far stop"), true) << l.name;
    EXPECT_EQ(says(page, "no installed position"), !l.options.installed) << l.name;
  }
}

TEST(ClearanceMarks, AreTheTightestGapsAtTheirWorst) {
  // By hand: a at (0, 0) and b at (400, 0), both of radius 50, the belt's back 3.5 thick; limits 5 and, at long
  // spans, 10.
  Drive d = testing::drive_of(testing::pk_belt(6, 0), Sense::counter_clockwise,
                              {testing::ribbed("a", {0, 0}, 50), testing::ribbed("b", {400, 0}, 50)});
  d.obstacles = {{"post", {-67.5, 0}, 10, {}, {}},        // 4 from a's belt, 1 short of 5
                 {"boss", {200, 75}, 10, {}, {}},         // 11.5 from the upper span: 1.5 beyond 10
                 {"lug", {475, 0}, 11.4, {}, {}},         // 10.1 from b's belt: over 2 × 5
                 {"cover", {0, 0}, 20, {}, {100, 120}}};  // in front of all
  d.pulleys[0].axial = d.pulleys[1].axial = {0, 30};
  std::vector<Gap> gaps;
  ASSERT_TRUE(Clearances(d, course(d)).over_swing(gaps));
  const auto marks = clearance_marks(d, course(d), gaps, {}, picture_style());
  ASSERT_EQ(marks.size(), 2U);
  EXPECT_EQ(marks[0].text, "a 4.0");
  EXPECT_LT(plane::norm(marks[0].a - Vec2{-53.5, 0}), 1e-9);
  EXPECT_LT(plane::norm(marks[0].b - Vec2{-57.5, 0}), 1e-9);
  EXPECT_EQ(marks[0].says, "a: 4.0 mm between a and post; 5 mm asked.");
  EXPECT_EQ(marks[1].text, "b 11.5");
  EXPECT_LT(plane::norm(marks[1].a - Vec2{200, 53.5}), 1e-9);
  EXPECT_FALSE(marks[0].position || marks[1].position);
  const Page page = layout_page(d, {"", {}, marks}, picture_style());
  for (const char* must : {"a 4.0", "b 11.5", "between a and post"}) EXPECT_TRUE(says(page, must)) << must;
  EXPECT_FALSE(says(page, "lug;") || says(page, "cover;"));
}

TEST(ClearanceMarks, TellWhereTheTensionerStandsThen) {
  Drive d = testing::larkspur();
  d.obstacles = {{"boss", {-140, 200}, 15, {}, {}}};
  std::vector<Gap> gaps;
  ASSERT_TRUE(Clearances(d, course(d)).over_swing(gaps));
  const auto marks = clearance_marks(d, course(d), gaps, 80 * kDegree, picture_style());
  ASSERT_FALSE(marks.empty());
  ASSERT_LE(marks.size(), kMostMarks);
  bool found = false;
  for (const ClearanceMark& m : marks) {
    if (m.says.find("between arm and boss") == std::string::npos) continue;
    found = true;
    // The idler passes by the boss: nearest where the arm points at it, or at the stop before.
    const double towards = std::atan2(200 - 90, -140 + 98);
    EXPECT_NEAR(*m.position, std::min(towards, 105 * kDegree), 1e-4);
    const Vec2 idler = Vec2{-98, 90} + 82 * Vec2{std::cos(*m.position), std::sin(*m.position)};
    EXPECT_NEAR(plane::norm(m.b - m.a), std::abs(plane::norm(idler - Vec2{-140, 200}) - 15 - 32.5), 0.01);
    EXPECT_TRUE(says(layout_page(d, {"", 80 * kDegree, marks}, picture_style()), "far stop"));
  }
  EXPECT_TRUE(found);
  expect_no_faults(layout_page(d, {"", 80 * kDegree, marks}, picture_style()), "marks");
}

TEST(LayoutPage, SaysWhereTheBeltCannotLie) {
  Drive d = testing::larkspur();
  d.pulleys[1].at = {10, 5};  // within the crank
  const Page page = layout_page(d, {}, picture_style());
  EXPECT_TRUE(says(page, "The belt is not drawn"));
  expect_no_faults(page, "no belt");
}

TEST(LayoutPage, TakesTheSheetWithTheLargerDrawing) {
  // 467 mm go on A4 at 1:5 and on A3 at 1:2; 1967 mm at 1:20 and 1:10; 137 mm at 1:1 on both.
  struct Case {
    double apart;
    double width, scale;
  };
  for (const Case& c : {Case{400, 420, 0.5}, Case{70, 297, 1.0}, Case{1900, 420, 0.1}}) {
    const Drive d = testing::drive_of(testing::pk_belt(6, 0), Sense::clockwise,
                                      {testing::ribbed("a", {0, 0}, 30), testing::ribbed("b", {c.apart, 0}, 30)});
    const Page page = layout_page(d, {}, picture_style());
    EXPECT_EQ(page.width, c.width) << c.apart;
    EXPECT_DOUBLE_EQ(page.scale, c.scale) << c.apart;
    expect_no_faults(page, "two pulleys");
  }
}

// ---- any drive ----

int any_int(int from, int to) { return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(from, to + 1)); }

/// Pulleys about a ring in order of their angle, some pressing from outside, some with long names; sound or not.
Drive any_drive() {
  const int n = any_int(2, 12), loop = *rc::gen::arbitrary<bool>() ? 1 : -1;
  const double size = std::pow(10, any(-0.7, 0.7));
  std::vector<Pulley> pulleys;
  for (int i = 0; i < n; ++i) {
    const bool back = i > 0 && n > 3 && any_int(0, 3) == 0;
    const double angle = loop * 2 * pi * (i + any(-0.2, 0.2)) / n, far = size * any(200, 400),
                 radius = size * any(20, 110);
    const std::string name =
        any_int(0, 4) == 0 ? "a pulley with a long name " + std::to_string(i) : "p" + std::to_string(i);
    const Vec2 at = far * Vec2{std::cos(angle), std::sin(angle)};
    pulleys.push_back(back ? testing::flat(name, at, radius) : testing::ribbed(name, at, radius));
    if (any_int(0, 2) == 0) pulleys.back().flange_height = 3.5;
  }
  Drive d = testing::drive_of(testing::pk_belt(6, 0), loop > 0 ? Sense::counter_clockwise : Sense::clockwise, pulleys);
  if (*rc::gen::arbitrary<bool>()) {
    Tensioner t;
    t.name = "arm";
    t.after = static_cast<std::size_t>(any_int(0, n - 1));
    t.kind = any_int(0, 3) == 0 ? Tensioner::Kind::slide : Tensioner::Kind::arm;
    t.pivot = size * Vec2{any(-400, 400), any(-400, 400)};
    t.arm_length = size * any(20, 120);
    t.arm_half_width = any_int(0, 1) * size * 8;
    t.direction = any(0, 6);
    t.idler = testing::flat("arm", {}, size * any(15, 50));
    t.free = t.stop_a = any(0, 6);
    t.stop_b = t.free + (t.slides() ? size * any(5, 60) : any(-1.5, 1.5));
    if (any_int(0, 1) == 1) t.peg = Peg{size * any(10, 50), any(0, 6), 8, "M8", 14};
    d.tensioner = t;
  }
  for (int k = any_int(0, 3); k > 0; --k) {
    const Vec2 at = size * Vec2{any(-400, 400), any(-400, 400)};
    const std::string name = "obstacle " + std::to_string(k);
    if (k == 2)
      d.obstacles.push_back({name, {}, 0, {at, at + size * Vec2{80, 10}, at + size * Vec2{20, 70}}, {}});
    else
      d.obstacles.push_back({name, at, size * any(5, 60), {}, {}});
  }
  return d;
}

LayoutOptions any_options(const Drive& d) {
  LayoutOptions o;
  if (d.tensioner && any_int(0, 3) > 0) o.installed = any(d.tensioner->free, d.tensioner->far_stop());
  if (any_int(0, 1) == 1) {
    std::vector<Gap> gaps;
    if (Clearances(d, course(d)).over_swing(gaps))
      o.clearances = clearance_marks(d, course(d), gaps, o.installed, picture_style());
    return o;
  }
  for (int k = any_int(0, 3); k > 0; --k) {
    const Vec2 a{any(-300, 300), any(-300, 300)};
    o.clearances.push_back({a, a + Vec2{any(-60, 60), any(-60, 60)}, "gap " + std::to_string(k)});
  }
  return o;
}

TEST(LayoutPage, IsLegibleWhateverTheDrive) {
  int laid = 0, with_tensioner = 0, full = 0;
  expect_property([&] {
    const Drive d = any_drive();
    const Page page = layout_page(d, any_options(d), picture_style());
    const plane::Faults f = plane::faults(page, picture_style().typeface);
    RC_LOG() << f.first << "\n";
    RC_ASSERT(f.total() == 0);
    laid += !says(page, "not drawn");
    with_tensioner += d.tensioner.has_value();
    full += says(page, "No room");
  });
  EXPECT_GT(laid, cases() / 4);
  EXPECT_GT(with_tensioner, cases() / 4);
  EXPECT_LT(full, cases() / 5) << "too many names without room";
}

TEST(LayoutPage, HoldsTheLargestDrive) {
  // 64 rounds, names as long as a document allows, in the worst place: round a ring.
  std::vector<Pulley> pulleys;
  for (int i = 0; i < 64; ++i) {
    const std::string name = "pulley " + std::to_string(i) + std::string(52, 'w');
    pulleys.push_back(testing::ribbed(name, plane::polar(2000, -2 * pi * i / 64), 40));
  }
  Drive d = testing::drive_of(testing::pk_belt(6, 0), Sense::clockwise, pulleys);
  LayoutOptions options{std::string(500, 'W'), {}, {}};
  for (int i = 0; i < 5; ++i) {
    const Vec2 at = plane::polar(1900, i);
    options.clearances.push_back({at, 0.99 * at, "a 19.0", "a: " + std::string(300, 'w') + " " + std::string(90, 'w')});
  }
  const Page page = layout_page(d, options, picture_style());
  expect_no_faults(page, "64 pulleys");
  EXPECT_FALSE(says(page, "not drawn"));
  EXPECT_TRUE(says(page, "64"));
}

Drive mirrored(Drive d) {
  const auto flip = [](Vec2 p) { return Vec2{-p.x, p.y}; };
  d.turns = d.turns == Sense::clockwise ? Sense::counter_clockwise : Sense::clockwise;
  for (Pulley& p : d.pulleys) p.at = flip(p.at);
  return d;
}

/// The cells of the table of wraps and spans, in order.
std::vector<std::string> table_of(const Page& page) {
  std::vector<std::string> cells;
  for (const plane::Words& w : view_of(page, "notes").words) cells.push_back(w.text);
  return cells;
}

TEST(LayoutPage, OfTheMirroredDriveSaysTheSame) {
  expect_property([] {
    Drive d = any_drive();
    d.tensioner.reset(), d.obstacles.clear();
    RC_ASSERT(table_of(layout_page(d, {}, picture_style())) == table_of(layout_page(mirrored(d), {}, picture_style())));
  });
}

TEST(LayoutPage, IsTheSameEachTime) {
  const Laid l = laid_drives().front();
  const PictureStyle style = picture_style();
  EXPECT_EQ(ink::to_svg(layout_page(l.drive, l.options, style), style.typeface),
            ink::to_svg(layout_page(l.drive, l.options, style), style.typeface));
}

// ---- drill template ----

std::vector<Edge> long_lines(const Page& page, double length) {
  std::vector<Edge> found;
  for (const View& v : page.views) {
    for (const Inked& l : v.lines) {
      if (l.path.size() == 1 && !l.path[0].is_arc() && std::abs(l.path[0].length() - length) < 1e-9)
        found.push_back(l.path[0]);
    }
  }
  return found;
}

TEST(DrillTemplatePage, IsAtFullSize) {
  const DrillTemplate t = testing::larkspur_template();
  const auto page = drill_template_page(t, picture_style());
  ASSERT_TRUE(page);
  EXPECT_EQ(page->scale, 1);
  // ISO 216: A4.
  EXPECT_EQ(page->width, 210);
  EXPECT_EQ(page->height, 297);
  // Both rulers, along both axes, with their hundred and one ticks.
  const std::vector<Edge> rulers = long_lines(*page, 100);
  ASSERT_EQ(rulers.size(), 2U);
  EXPECT_TRUE(rulers[0].a.x == rulers[0].b.x && rulers[1].a.y == rulers[1].b.y);
  for (const Edge& r : rulers) {
    int ticks = 0;
    for (const Inked& l : view_of(*page, "rulers").lines) {
      if (l.path.size() != 1) continue;
      const Edge& e = l.path[0];
      const Vec2 from_zero = e.a - r.a, way = plane::unit(r.b - r.a);
      if (std::abs(plane::cross(way, from_zero)) > 1e-9 || std::abs(plane::dot(way, e.b - e.a)) > 1e-9) continue;
      EXPECT_NEAR(plane::dot(way, from_zero), ticks, 1e-9);
      ++ticks;
    }
    EXPECT_EQ(ticks, 101);
  }
  // M8 coarse: tap drill 6.8 (ISO 2306); the holes stand from the pivot as they do on the engine.
  const View& view = view_of(*page, "template");
  std::optional<Vec2> pivot;
  for (const Inked& l : view.lines) {
    if (l.ink == Ink::centre && l.path[0].is_full_circle() && std::abs(l.path[0].radius() - 28) < kOnPaper)
      pivot = l.path[0].centre;
  }
  ASSERT_TRUE(pivot);
  EXPECT_TRUE(has_circle(view, Ink::visible, *pivot + (t.new_hole - t.pivot), 3.4));
  EXPECT_TRUE(has_circle(view, Ink::dimension, *pivot + (t.old_hole - t.pivot), 4));
  for (const char* must :
       {"35.00°", "⌀6.8", "M8", "14 mm deep", "Print at 100 %", "chips", "cover", "guard", "qualified person"}) {
    EXPECT_TRUE(says(*page, must)) << must;
  }
  // The chord of 35° at 28 mm is 2 × 28 × sin 17.5° = 16.84 mm.
  EXPECT_TRUE(says(*page, "16.84"));
  expect_no_faults(*page, "template");
}

TEST(DrillTemplatePage, ForbidsWhereMetalIsShort) {
  DrillTemplate t = testing::larkspur_template();
  t.ligament = 5.99;
  const auto thin = drill_template_page(t, picture_style());
  t.ligament = 6;
  const auto enough = drill_template_page(t, picture_style());
  ASSERT_TRUE(thin && enough);
  EXPECT_TRUE(says(*thin, "Do not drill"));
  EXPECT_TRUE(says(*thin, "adapter plate"));
  EXPECT_FALSE(says(*thin, "Tap drill"));
  EXPECT_FALSE(says(*enough, "Do not drill"));
  EXPECT_TRUE(says(*enough, "Tap drill"));
}

TEST(DrillTemplatePage, TakesALargerSheetOrNone) {
  DrillTemplate t = testing::larkspur_template();
  const auto at = [&](double radius, double deg) { return t.pivot + plane::polar(radius, deg * kDegree); };
  t.old_hole = at(180, 5), t.new_hole = at(180, 65);
  const auto larger = drill_template_page(t, picture_style());
  ASSERT_TRUE(larger);
  EXPECT_EQ(larger->width, 297);
  EXPECT_EQ(larger->height, 420);
  EXPECT_EQ(long_lines(*larger, 100).size(), 2U);
  expect_no_faults(*larger, "A3");
  t.old_hole = at(400, 5), t.new_hole = at(400, 65);
  EXPECT_FALSE(drill_template_page(t, picture_style()));
}

TEST(DrillTemplatePage, IsLegibleWhateverTheHoles) {
  int none = 0;
  expect_property([&] {
    DrillTemplate t = testing::larkspur_template();
    const double radius = any(8, 160), from = any(-pi, pi);
    t.pivot = {any(-500, 500), any(-500, 500)};
    t.old_hole = t.pivot + plane::polar(radius, from), t.new_hole = t.pivot + plane::polar(radius, from + any(-3, 3));
    t.old_diameter = any(3, 14), t.diameter = any(4, 14), t.tap_drill = 0.85 * t.diameter;
    if (*rc::gen::arbitrary<bool>()) t.thread.clear();
    t.ligament = plane::norm(t.new_hole - t.old_hole) - t.diameter;
    const auto page = drill_template_page(t, picture_style());
    if (!page) return void(++none);
    const plane::Faults f = plane::faults(*page, picture_style().typeface);
    RC_LOG() << f.first << "\n";
    RC_ASSERT(f.total() == 0);
    RC_ASSERT(long_lines(*page, 100).size() == 2U);
  });
  EXPECT_LT(none, cases() / 2);
}

// ---- charts ----

TEST(ChartPages, AreLegible) {
  const PictureStyle style = picture_style();
  expect_no_faults(tension_page(testing::larkspur_tensions(), style), "tension");
  expect_no_faults(frequency_page(testing::larkspur_frequencies(), style), "frequency");
  expect_no_faults(range_page(testing::larkspur_range(), style), "range");
  for (const char* name : {"crank", "blower", "5600 rpm", "greatest", "In drive", "On overrun"}) {
    EXPECT_TRUE(says(tension_page(testing::larkspur_tensions(), style), name)) << name;
  }
  const Page range = range_page(testing::larkspur_range(), style);
  for (const char* name :
       {"speed of the blower", "breathing freely", "restricted", "most allowed", "estimate", "detonation", "kPa"}) {
    EXPECT_TRUE(says(range, name)) << name;
  }
}

TEST(ChartPages, HoldTheLargestDrive) {
  // 64 rounds is what a drive may have.
  TensionMap m;
  FrequencyPicture f;
  f.from_rpm = 800, f.to_rpm = 6000, f.orders = {0.5, 1, 2, 4, 8};
  for (int k = 0; k < 64; ++k) m.parts.push_back({"pulley " + std::to_string(k), 100, 150});
  for (int k = 0; k < 14; ++k) {
    m.pulling.push_back({std::to_string(400 * k) + " rpm", std::vector<double>(64, 300.0 + k)});
    for (double& t : m.pulling.back().spans) t += 20 * std::fmod(7 * k + t, 13);
  }
  for (std::size_t k = 0; k < 64; ++k) {
    const double from = 20.0 + 3.0 * static_cast<double>(k), to = 40.0 + 4.0 * static_cast<double>(k);
    f.spans.push_back({"pulley " + std::to_string(k), "pulley " + std::to_string((k + 1) % 64)});
    f.map.lines.push_back({k, {{800, {from, from, from}}, {6000, {to, to, to}}}});
    // The straight line from 800 to 6000 rpm meets order 2 where it is as high as that.
    const double rise = (to - from) / 5200, rpm = (from - 800 * rise) / (2.0 / 60 - rise);
    if (rpm > 800 && rpm < 6000) f.map.meetings.push_back({k, 2, rpm, rpm / 30});
  }
  expect_no_faults(tension_page(m, picture_style()), "tension");
  expect_no_faults(frequency_page(f, picture_style()), "frequency");
}

TEST(FrequencyPage, ListsTheMeetingsOfTheMap) {
  const Drive d = testing::larkspur();
  const Course c = course(d);
  FrequencyPicture f{d.name, {}, frequency_map(d, c, testing::laid(c), {350, 500, 650}, 53), d.duty.orders, 800, 6000};
  for (std::size_t i = 0; i < c.size(); ++i)
    f.spans.push_back({pulley_at(d, c, i).name, pulley_at(d, c, c.next(i)).name});
  ASSERT_GT(f.map.meetings.size(), 2U);
  const Page page = frequency_page(f, picture_style());
  for (const Meeting& m : f.map.meetings) {
    EXPECT_TRUE(says(page, f.spans[m.span].from + " to " + f.spans[m.span].to + " " + trimmed(m.order, 2) + " " +
                               number(m.driver_rpm, 0) + " " + number(m.frequency, 1)));
  }
  expect_no_faults(page, "meetings");
  // Of two long names both are told, cut; of a long and a short one the short one whole.
  f.spans[f.map.meetings.front().span] = {"Kühlwasserpumpe für das große Gebläse", "Umlenkrolle rückseitig"};
  ASSERT_NE(f.map.meetings.front().span, f.map.meetings.back().span);
  f.spans[f.map.meetings.back().span] = {"Kühlwasserpumpe für das große Gebläse", "arm"};
  const Page cut = frequency_page(f, picture_style());
  EXPECT_TRUE(says(cut, "to Umlenk") && says(cut, "to arm"));
  expect_no_faults(cut, "long names");
  f.map.meetings.clear();
  EXPECT_TRUE(says(frequency_page(f, picture_style()), "No span meets"));
}

}  // namespace
}  // namespace groovewright::drive
