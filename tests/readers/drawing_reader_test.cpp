// Real sheets read back by programs that no one here wrote: the text of the PDF (poppler) against the sheet's JSON,
// its lines (qpdf) against the stated scale, the DXF (ezdxf) against the section, and every renderer's picture.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "../parts.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/drawing.h"
#include "groovewright/job.h"
#include "pages.h"

namespace groovewright {
namespace {

using nlohmann::json;
using plane::Edge;
using plane::Vec2;
using readers::File;

/// A demo, with more lines to its document where wanted.
struct Demo {
  const char* name;
  const char* more = "";
  Units units = Units::mm;
};
void PrintTo(const Demo& demo, std::ostream* out) { *out << demo.name << " " << demo.more; }

struct Drawn {
  job::Prepared prepared;
  json sheet;
  [[nodiscard]] const plane::Page& page() const { return prepared.drawing->page; }
  [[nodiscard]] const Typeface& typeface() const { return prepared.typeface; }
};

Drawn drawn(const Demo& demo) {
  Diagnostics diagnostics;
  const std::string file = std::string(GW_SOURCE_DIR "/profiles/demo/") + demo.name + ".yaml";
  const auto pulley = spec::read_pulley({file, testing::file_text(file) + demo.more}, diagnostics);
  require(pulley.has_value(), "the demo is a pulley");
  auto prepared = job::prepare(*pulley, {}, {}, diagnostics);
  require(prepared.has_value(), "the demo is a part");
  job::Want want;
  want.units = demo.units;
  require(job::plan_drawing(*prepared, want, {}, diagnostics), "the demo has a sheet");
  json sheet = json::parse(report::to_json(job::check(*prepared)));
  return {std::move(*prepared), std::move(sheet)};
}

class Sheets : public ::testing::TestWithParam<Demo> {
 protected:
  /// Drawn once; each test is a process of its own under ctest, but not by hand.
  const Drawn& sheet() {
    static std::map<std::string, Drawn> all;
    const std::string key = std::string(GetParam().name) + GetParam().more;
    const auto found = all.find(key);
    return found != all.end() ? found->second : all.emplace(key, drawn(GetParam())).first->second;
  }
  [[nodiscard]] bool is_in_inches() const { return GetParam().units == Units::inch; }
};

INSTANTIATE_TEST_SUITE_P(Demos, Sheets,
                         ::testing::Values(Demo{"larkspur-crank-24"}, Demo{"marlow-step-2"}, Demo{"fennel-spindle-pj"},
                                           Demo{"thistle-pump-pl"}, Demo{"sorrel-disc"},
                                           Demo{"larkspur-crank-24", "drawing: {sheet: ansi-c, dual_units: true}\n",
                                                Units::inch},
                                           Demo{"thistle-pump-pl", "drawing: {projection: third, sheet: A2}\n"}));

// ---- the text ----

/// All numbers of a text with three decimals or more: those are measures.
std::vector<double> measures(const std::string& text) {
  static const std::regex number("[0-9]+\\.[0-9]{3,5}");
  std::vector<double> found;
  for (std::sregex_iterator i(text.begin(), text.end(), number), end; i != end; ++i)
    found.push_back(std::stod(i->str()));
  return found;
}

/// Every length and mass that the JSON states: values, limits, and half of a band that is stated as ±.
std::vector<double> measures_of(const json& sheet) {
  std::vector<double> all;
  for (const json& d : sheet.at("dimensions")) {
    if (d.at("unit") != "mm" && d.at("unit") != "kg") continue;
    const double value = d.at("value");
    all.push_back(value);
    if (d.at("unit") == "kg") all.push_back(value / 0.45359237);  // the pound, 1959
    for (const char* limit : {"lower", "upper"}) {
      if (d.at(limit).is_null()) continue;
      all.push_back(d.at(limit));
      all.push_back(std::abs(d.at(limit).get<double>() - value));
    }
  }
  return all;
}

TEST_P(Sheets, StateNoMeasureThatTheJsonDoesNotHave) {
  const File pdf(readers::pdf_bytes(sheet().page(), sheet().typeface()), "pdf");
  const std::string text = readers::text_of(pdf);
  const std::vector<double> known = measures_of(sheet().sheet), found = measures(text);
  // Limits of size are rounded inwards, so a whole last place may be missing.
  const auto is_known = [&](double v, double unit) {
    const double last = unit == 1 ? 0.001 : 0.0001 * unit;
    return std::any_of(known.begin(), known.end(), [&](double k) { return std::abs(k - v * unit) <= last; });
  };
  EXPECT_GE(found.size(), 5U);
  for (const double v : found) {
    EXPECT_TRUE(is_known(v, 1) || (is_in_inches() && is_known(v, 25.4)))
        << v << " stands in the PDF's text and in no row of the sheet's JSON";
  }
}

std::string shown_as(double value, Units units) { return without_zeros(shown(value, "mm", units).value); }

/// What the order is checked by: these rows of the JSON stand in the PDF with their limits.
TEST_P(Sheets, StateWhatThePartIsAcceptedBy) {
  const File pdf(readers::pdf_bytes(sheet().page(), sheet().typeface()), "pdf");
  const std::string text = readers::text_of(pdf);
  const auto demands =
      drawing::requirements(sheet().prepared.part, sheet().prepared.section, sheet().prepared.sizes.dimensions);
  ASSERT_FALSE(demands.sizes.empty());
  for (const drawing::Size& s : demands.sizes) {
    const auto in_json = std::find_if(sheet().sheet.at("dimensions").begin(), sheet().sheet.at("dimensions").end(),
                                      [&](const json& d) { return d.at("id") == s.row.id; });
    ASSERT_NE(in_json, sheet().sheet.at("dimensions").end()) << s.row.id;
    for (const char* limit : {"lower", "upper"}) {
      const double value = in_json->at(limit), step = is_in_inches() ? 25.4 : 1;
      const std::vector<double> found = measures(text);
      // The limit itself, or the value with a deviation.
      EXPECT_TRUE(
          std::any_of(found.begin(), found.end(), [&](double v) { return std::abs(v * step - value) <= 0.001 * step; }))
          << s.row.id << " " << limit << " " << value << " mm is not in the PDF's text";
    }
  }
  // ISO 1101: the zone's width, then the datums in their order.
  for (const drawing::Zone& z : demands.zones) {
    std::string frame = (z.diametral ? " ⌀" : " ") + shown_as(*z.row.upper, GetParam().units);
    if (sheet().prepared.part.drawing.dual_units) continue;  // the second unit stands between
    if (z.common && !sheet().prepared.drawing->format.starts_with("ANSI")) frame += " CZ";
    for (const std::string& letter : z.datums) frame += " " + letter;
    EXPECT_NE(text.find(frame + " "), std::string::npos) << z.row.id << ": no '" << frame << "' in the PDF's text";
  }
  // ISO 7200: what a title block must name.
  const std::string number = sheet().prepared.part.name, scale = sheet().prepared.drawing->scale;
  for (const std::string& must :
       {number, sheet().prepared.part.material.name, scale, sheet().prepared.drawing->format}) {
    EXPECT_NE(text.find(" " + must), std::string::npos) << must;
  }
  EXPECT_NE(text.find(sheet().prepared.drawing->format.starts_with("ANSI") ? " ASME Y14.5" : " ISO 8015"),
            std::string::npos);
}

// ---- the lines of the PDF ----

/// Lengths of all straight lines that a PDF strokes, in points, from its own page description.
std::vector<double> line_measures_of(const File& pdf) {
  const std::string text = readers::said_by("qpdf --qdf --object-streams=disable " + pdf.quoted() + " -");
  const std::regex stroke(R"((-?[0-9.]+) (-?[0-9.]+) m (-?[0-9.]+) (-?[0-9.]+) l\s+S)");
  std::vector<double> found;
  for (std::sregex_iterator i(text.begin(), text.end(), stroke), end; i != end; ++i) {
    const auto number = [&](std::size_t k) { return std::stod((*i)[k].str()); };
    found.push_back(std::hypot(number(3) - number(1), number(4) - number(2)));
  }
  return found;
}

double stated_scale(const std::string& text) {
  const std::size_t colon = text.find(':');
  return std::stod(text.substr(0, colon)) / std::stod(text.substr(colon + 1));
}

TEST_P(Sheets, AreDrawnAtTheStatedScale) {
  const File pdf(readers::pdf_bytes(sheet().page(), sheet().typeface()), "pdf");
  const std::vector<double> lines = line_measures_of(pdf);
  ASSERT_GT(lines.size(), 50U);
  const double scale = stated_scale(sheet().prepared.drawing->scale);
  EXPECT_EQ(scale, sheet().page().scale);
  // The dimension line over balls, tip to tip; a point is 25.4/72 mm, the file keeps 0.001 point.
  for (const part::Rim& rim : sheet().prepared.part.rims) {
    const double points = rim.over_balls() * scale * 72 / 25.4;
    EXPECT_TRUE(std::any_of(lines.begin(), lines.end(), [&](double l) { return std::abs(l - points) < 0.004; }))
        << "no line of " << points << " points for " << rim.over_balls() << " mm at " << scale;
  }
  for (const auto& [name, size] : {std::pair{"A4", std::pair{297, 210}},
                                   {"A3", {420, 297}},
                                   {"A2", {594, 420}},
                                   {"A1", {841, 594}}}) {  // ISO 5457
    if (sheet().prepared.drawing->format != name) continue;
    EXPECT_EQ(sheet().page().width, size.first);
    EXPECT_EQ(sheet().page().height, size.second);
  }
}

// ---- the DXF ----

bool is_near(Vec2 a, Vec2 b, double within) { return plane::norm(a - b) <= within; }

/// The outline's edge as the section view has it: the axis level, `shift` away, mirrored in first angle.
Edge placed(const Edge& e, Vec2 shift, bool mirrored, bool below) {
  const auto at = [&](Vec2 p) { return shift + Vec2{mirrored ? -p.x : p.x, below ? -p.y : p.y}; };
  return {at(e.a), at(e.b), e.turn, at(e.centre)};
}

bool is_drawn(const json& entities, const Edge& e, double within) {
  return std::any_of(entities.begin(), entities.end(), [&](const json& d) {
    if (d.at("layer") != "visible" || d.at("kind") != (e.is_arc() ? "ARC" : "LINE")) return false;
    if (e.is_arc() && !is_near(readers::point(d.at("centre")), e.centre, within)) return false;
    const Vec2 a = readers::point(d.at("a")), b = readers::point(d.at("b"));
    return (is_near(a, e.a, within) && is_near(b, e.b, within)) || (is_near(a, e.b, within) && is_near(b, e.a, within));
  });
}

/// Where the section view's axis meets Z = 0: where the outline's first root, laid on an arc of the file, finds the
/// last.
std::optional<Vec2> axis_of(const json& entities, const std::vector<Edge>& roots, bool mirrored) {
  for (const json& d : entities) {
    if (d.at("layer") != "visible" || d.at("kind") != "ARC") continue;
    if (std::abs(d.at("radius").get<double>() - roots.front().radius()) > 1e-4) continue;
    const Vec2 shift = readers::point(d.at("centre")) - placed(roots.front(), {}, mirrored, false).centre;
    if (is_drawn(entities, placed(roots.front(), shift, mirrored, false), 1e-4) &&
        is_drawn(entities, placed(roots.back(), shift, mirrored, true), 1e-4)) {
      return shift;
    }
  }
  return std::nullopt;
}

TEST_P(Sheets, RebuildTheGroovesFromTheDxf) {
  const json found = readers::audited(sheet().page(), sheet().typeface());
  ASSERT_TRUE(found.is_object());
  EXPECT_EQ(found.at("errors"), json::array());
  EXPECT_EQ(found.at("fixes"), json::array());
  const section::Section& section = sheet().prepared.section;
  std::vector<Edge> grooves, roots;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const section::Kind kind = section.tags[i].kind;
    const Edge& e = section.body.section[i];
    if (kind == section::Kind::root && e.is_arc()) roots.push_back(e);
    if (kind == section::Kind::root || kind == section::Kind::flank || kind == section::Kind::crest)
      grooves.push_back(e);
  }
  ASSERT_GE(roots.size(), 4U);
  const bool mirrored = std::string(GetParam().more).find("third") == std::string::npos &&
                        !sheet().prepared.drawing->format.starts_with("ANSI");
  const auto shift = axis_of(found.at("entities"), roots, mirrored);
  ASSERT_TRUE(shift) << "the section view is not in the DXF";
  for (const bool below : {false, true}) {
    for (const Edge& e : grooves) {
      EXPECT_TRUE(is_drawn(found.at("entities"), placed(e, *shift, mirrored, below), 1e-4))
          << "an edge from " << e.a.x << ", " << e.a.y << " to " << e.b.x << ", " << e.b.y << " mm is not in the DXF";
    }
  }
}

// ---- pictures ----

TEST_P(Sheets, AreWellFormedAndSeenByEveryRenderer) {
  const plane::Page& page = sheet().page();
  const File pdf(readers::pdf_bytes(page, sheet().typeface()), "pdf");
  EXPECT_NE(readers::said_by("qpdf --check " + pdf.quoted()).find("No syntax or stream encoding errors"),
            std::string::npos);
  for (const auto& draw : {readers::drawn_by_poppler, readers::drawn_by_librsvg, readers::drawn_by_chromium}) {
    const readers::Bitmap map = draw(page, sheet().typeface());
    ASSERT_NEAR(map.width, page.width * readers::kPixelsPerMm, 5);
    ASSERT_NEAR(map.height, page.height * readers::kPixelsPerMm, 5);
    const auto is_ink = [&](Vec2 p) {
      const int x = static_cast<int>(p.x * readers::kPixelsPerMm),
                y = static_cast<int>((page.height - p.y) * readers::kPixelsPerMm);
      for (int dx = -2; dx <= 2; ++dx) {
        for (int dy = -2; dy <= 2; ++dy) {
          if (map.at(x + dx, y + dy) < 160) return true;
        }
      }
      return false;
    };
    // Wide lines are seen wherever they run.
    int seen = 0, asked = 0;
    for (const plane::View& view : page.views) {
      for (const plane::Inked& inked : view.lines) {
        if (inked.ink != plane::Ink::visible || inked.filled) continue;
        for (const Edge& e : inked.path) ++asked, seen += is_ink(e.at(0.5)) ? 1 : 0;
      }
    }
    EXPECT_GT(asked, 50);
    EXPECT_EQ(seen, asked) << "edges of the part are missing in the picture";
  }
}

}  // namespace
}  // namespace groovewright
