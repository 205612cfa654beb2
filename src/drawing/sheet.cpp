#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "blocks.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using plane::Ink;
using plane::Page;
using plane::Vec2;
using plane::View;

/// Space between blocks, and between blocks and the frame.
constexpr double kGap = 5;

/// A sheet of ISO 5457 or of the ANSI series (ASME Y14.1), lying.
struct Format {
  spec::Sheet sheet;
  const char* name;
  double width, height;
  double left, margin;  ///< from the trimmed edge to the frame: on the left, and elsewhere
  bool ansi;
  double title_width;
  double least_drawn;  ///< a part drawn smaller than this wants a larger sheet
};
constexpr double kIn = 25.4;
constexpr std::array kFormats{
    Format{spec::Sheet::a4, "A4", 297, 210, 20, 10, false, 150, 40},
    Format{spec::Sheet::a3, "A3", 420, 297, 20, 10, false, 180, 50},
    Format{spec::Sheet::a2, "A2", 594, 420, 20, 10, false, 180, 70},
    Format{spec::Sheet::a1, "A1", 841, 594, 20, 10, false, 180, 0},
    Format{spec::Sheet::ansi_a, "ANSI A", 11 * kIn, 8.5 * kIn, 0.5 * kIn, 0.5 * kIn, true, 150, 40},
    Format{spec::Sheet::ansi_b, "ANSI B", 17 * kIn, 11 * kIn, 0.5 * kIn, 0.5 * kIn, true, 180, 50},
    Format{spec::Sheet::ansi_c, "ANSI C", 22 * kIn, 17 * kIn, 0.5 * kIn, 0.5 * kIn, true, 180, 70},
    Format{spec::Sheet::ansi_d, "ANSI D", 34 * kIn, 22 * kIn, 0.5 * kIn, 0.5 * kIn, true, 180, 0}};
/// Larger drawings of small parts gain nothing.
constexpr double kMostDrawn = 170;

/// Frame, zones and centring marks.
View border(const Format& f, const Scribe& scribe) {
  View view{"border", "Border", {}, {}};
  const Box frame{{f.left, f.margin}, {f.width - f.margin, f.height - f.margin}};
  const auto rectangle = [&](Ink ink, const Box& b) {
    polygon(view, ink, {b.low, {b.high.x, b.low.y}, b.high, {b.low.x, b.high.y}}, false);
  };
  rectangle(Ink::frame, frame);
  constexpr double kGrid = 5, kZone = 50;
  const Box grid{frame.low - Vec2{kGrid, kGrid}, frame.high + Vec2{kGrid, kGrid}};
  rectangle(Ink::table, grid);
  // ISO 5457: fields of 50 mm counted from the centring marks; letters downwards, numbers to the right.
  const auto fields = [&](double low, double high, bool level) {
    const double middle = (level ? f.width : f.height) / 2;
    const int half = static_cast<int>(std::ceil((high - middle) / kZone - 1e-9));
    const int before = static_cast<int>(std::ceil((middle - low) / kZone - 1e-9));
    const int count = half + before;
    for (int k = 0; k < count; ++k) {
      const double a = std::max(low, middle + (k - before) * kZone),
                   b = std::min(high, middle + (k - before + 1) * kZone);
      const std::string name =
          level ? std::to_string(k + 1) : std::string(1, "ABCDEFGHJKLMNPQR"[static_cast<std::size_t>(count - 1 - k)]);
      const Piece p = scribe.text(name, kLetters);
      for (const double strip : {level ? grid.low.y : grid.low.x, level ? frame.high.y : frame.high.x}) {
        const double along = (a + b) / 2, across = strip + kGrid / 2;
        const Vec2 at = level ? Vec2{along, across} : Vec2{across, along};
        if (b - a > p.width + 2) put(view, p, at - Vec2{p.width / 2, kMiddle});
        if (k > 0 && k != before) {
          line(view, Ink::table, level ? Vec2{a, strip} : Vec2{strip, a},
               level ? Vec2{a, strip + kGrid} : Vec2{strip + kGrid, a});
        }
      }
    }
  };
  fields(frame.low.x, frame.high.x, true);
  fields(frame.low.y, frame.high.y, false);
  const double mx = f.width / 2, my = f.height / 2;
  line(view, Ink::frame, {mx, frame.high.y + kGrid}, {mx, frame.high.y - 5});
  line(view, Ink::frame, {mx, frame.low.y - kGrid}, {mx, frame.low.y + 5});
  line(view, Ink::frame, {frame.low.x - kGrid, my}, {frame.low.x + 5, my});
  line(view, Ink::frame, {frame.high.x + kGrid, my}, {frame.high.x - 5, my});
  return view;
}

/// Places blocks within the frame, none over another.
class Layout {
 public:
  Layout(const Box& area, const Scribe& scribe) : area_(area), scribe_(scribe) {}

  /// At the first free corner: the highest, then the leftmost. False where there is none.
  [[nodiscard]] bool add(View view) {
    if (view.lines.empty() && view.words.empty()) return true;
    const Box box = extents(view, scribe_.typeface());
    std::vector<double> xs{area_.low.x}, tops{area_.high.y};
    for (const Box& b : taken_)
      xs.push_back(b.high.x), tops.push_back(b.low.y), tops.push_back(b.high.y + kGap + box.height() + kGap);
    std::sort(xs.begin(), xs.end());
    std::sort(tops.rbegin(), tops.rend());
    for (const double top : tops) {
      for (const double x : xs) {
        const Vec2 low{x + kGap, top - kGap - box.height()};
        if (!is_free({low, low + Vec2{box.width(), box.height()}})) continue;
        place(std::move(view), box, low);
        return true;
      }
    }
    return false;
  }
  /// With its lower right corner at a point.
  void add_at_right(View view, Vec2 corner) {
    const Box box = extents(view, scribe_.typeface());
    place(std::move(view), box, {corner.x - box.width(), corner.y});
  }
  /// Two views in a row from the upper left corner, their axes level. False where they don't fit.
  [[nodiscard]] bool add_level(View left, View right) {
    const Box a = extents(left, scribe_.typeface()), b = extents(right, scribe_.typeface());
    const double axis = area_.high.y - kGap - std::max(a.high.y, b.high.y);
    const Vec2 at_a{area_.low.x + kGap, axis + a.low.y}, at_b{at_a.x + a.width() + 2 * kGap, axis + b.low.y};
    if (!is_free({at_a, at_a + Vec2{a.width(), a.height()}}) || !is_free({at_b, at_b + Vec2{b.width(), b.height()}}))
      return false;
    place(std::move(left), a, at_a);
    place(std::move(right), b, at_b);
    return true;
  }
  [[nodiscard]] std::vector<View> views() && { return std::move(views_); }

 private:
  [[nodiscard]] bool is_free(const Box& b) const {
    if (b.low.x < area_.low.x + kGap - 1e-6 || b.high.x > area_.high.x - kGap + 1e-6 ||
        b.low.y < area_.low.y + kGap - 1e-6 || b.high.y > area_.high.y - kGap + 1e-6) {
      return false;
    }
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& t) {
      return b.low.x < t.high.x + kGap - 1e-6 && t.low.x < b.high.x + kGap - 1e-6 && b.low.y < t.high.y + kGap - 1e-6 &&
             t.low.y < b.high.y + kGap - 1e-6;
    });
  }
  void place(View view, const Box& box, Vec2 low) {
    move(view, low - box.low);
    taken_.push_back({low, low + Vec2{box.width(), box.height()}});
    views_.push_back(std::move(view));
  }

  Box area_;
  const Scribe& scribe_;
  std::vector<Box> taken_;
  std::vector<View> views_;
};

/// Tries sheets and scales. All of a series are drawn in one projection, so only the main views depend on the scale,
/// and those of one scale are made once.
class Planner {
 public:
  Planner(const Part& part, const section::Section& section, std::span<const Dimension> rows, const Style& style)
      : part_(part),
        section_(section),
        style_(style),
        formats_(wished_formats()),
        voice_(style, formats_.front().ansi ? System::asme : System::iso, part.drawing.dual_units),
        requirements_(requirements(part, section, rows)),
        looks_{cut(part, section), face(part, section), isometric(section)},
        subject_{part,          section, rows,
                 requirements_, voice_,  part.drawing.projection_on(formats_.front().sheet) == spec::Projection::first},
        details_(details(subject_)),
        groove_table_(groove_table(subject_)),
        hole_table_(hole_table(subject_)) {}
  Planner(const Planner&) = delete;
  Planner& operator=(const Planner&) = delete;

  [[nodiscard]] std::optional<Sheet> best() {
    std::optional<Sheet> flawed;
    for (const Format& f : formats_) {
      for (const auto& c : spec::kScales) {
        if (!is_wished(f, c.value)) continue;
        auto sheet = on(f, c.value);
        if (!sheet) continue;
        if (sheet->faults.total() == 0) return sheet;
        if (!flawed || sheet->faults.total() < flawed->faults.total()) flawed = std::move(sheet);
      }
    }
    return flawed;
  }

 private:
  /// The one asked for, or all of the series that goes with the units.
  [[nodiscard]] std::vector<Format> wished_formats() const {
    std::vector<Format> formats;
    const auto& wish = part_.drawing.sheet;
    for (const Format& f : kFormats) {
      if (wish ? f.sheet == wish->value : f.ansi == (style_.units == Units::inch)) formats.push_back(f);
    }
    return formats;
  }
  [[nodiscard]] bool is_wished(const Format& f, double scale) const {
    if (part_.drawing.scale) return std::abs(scale - part_.drawing.scale->value) < 1e-9;
    const double drawn = 2 * plane::outermost(section_.body.section) * scale;
    return drawn <= std::max(kMostDrawn, 0.5 * f.height) && (part_.drawing.sheet || drawn >= f.least_drawn);
  }

  struct Views {
    View section, face, isometric;
  };
  const Views& views(double scale) {
    const auto found = views_.find(scale);
    if (found != views_.end()) return found->second;
    Views v{section_view(subject_, looks_.cut, scale, details_), face_view(subject_, looks_, scale),
            isometric_view(subject_, looks_, scale * 0.6)};
    return views_.emplace(scale, std::move(v)).first->second;
  }

  [[nodiscard]] std::optional<Sheet> on(const Format& f, double scale) {
    const Views& v = views(scale);
    const Box area{{f.left, f.margin}, {f.width - f.margin, f.height - f.margin}};
    Sheet sheet;
    sheet.format = f.name, sheet.scale = scale_text(scale);
    const View title = title_block(subject_, {sheet.format, sheet.scale}, f.title_width),
               revisions = revision_table(subject_, f.title_width);
    const double top = extents(title, style_.typeface).high.y;
    for (const double notes_width : {f.title_width - 6, 110.0, 220.0, 300.0}) {
      Layout layout(area, voice_.scribe());
      layout.add_at_right(title, {area.high.x, area.low.y});
      if (!revisions.lines.empty()) layout.add_at_right(revisions, {area.high.x, area.low.y + top + 2});
      if (!layout.add_level(v.section, v.face)) return std::nullopt;
      bool all = layout.add(notes(subject_, notes_width)) && layout.add(groove_table_) && layout.add(hole_table_);
      for (const Detail& d : details_) all = all && layout.add(d.view);
      if (!all || !layout.add(v.isometric)) continue;
      sheet.page = page(f, scale, std::move(layout).views());
      sheet.faults = faults(sheet.page, style_.typeface);
      return sheet;
    }
    return std::nullopt;
  }

  [[nodiscard]] Page page(const Format& f, double scale, std::vector<View> views) const {
    Page p;
    p.width = f.width, p.height = f.height, p.scale = scale;
    p.title = part_.title.empty() ? part_.name : part_.title;
    p.author = part_.drawing.author;
    p.description = voice_.filled("description", {p.title, f.name, scale_text(scale)});
    p.views.push_back(border(f, voice_.scribe()));
    std::move(views.begin(), views.end(), std::back_inserter(p.views));
    return p;
  }

  const Part& part_;
  const section::Section& section_;
  Style style_;
  std::vector<Format> formats_;
  Voice voice_;
  Requirements requirements_;
  Looks looks_;
  Subject subject_;
  std::vector<Detail> details_;
  View groove_table_, hole_table_;
  std::map<double, Views> views_;
};

/// Characters of the person's words that the typeface lacks, once each.
std::string lacking(const std::string& words, const Typeface& typeface) {
  std::string out;
  for (const std::string_view one : cut_into_characters(words)) {
    if (typeface.wide.contains(characters(one).front()) || out.find(one) != std::string::npos) continue;
    if (!out.empty()) out += ' ';
    out += one;
  }
  return out;
}

void warn(const Part& part, const Style& style, Diagnostics& diagnostics) {
  const auto look = [&](const std::string& words, const Place& place, const std::string& what) {
    const std::string missing = lacking(words, style.typeface);
    if (missing.empty()) return;
    diagnostics.add(
        {Code::not_drawable, place, missing,
         what + " holds characters that the drawing's typeface lacks: " + missing + "; the drawing shows '?'",
         Severity::warning});
  };
  look(part.title, {part.file, 0, 0}, "'title'");
  for (const auto& n : part.drawing.notes) look(n.value, n.place, "a note");
  for (const auto& r : part.drawing.revisions) look(r.revision + r.text, r.place, "a revision");
  look(part.drawing.number, part.drawing.place, "'number'");
}

}  // namespace

std::optional<Sheet> plan(const Part& part, const section::Section& section, std::span<const Dimension> rows,
                          const Style& style, Diagnostics& diagnostics) {
  warn(part, style, diagnostics);
  auto sheet = Planner(part, section, rows, style).best();
  if (sheet) return sheet;
  const auto& wish = part.drawing;
  if (wish.sheet) {
    diagnostics.error(
        Code::does_not_fit, wish.sheet->place, std::string(spec::name_of(spec::kSheets, wish.sheet->value)),
        "the drawing does not fit on this sheet" + std::string(wish.scale ? " at this scale" : " at any scale") +
            "; take a larger one, or leave 'sheet' out and the smallest that holds it is chosen");
  } else if (wish.scale) {
    diagnostics.error(Code::does_not_fit, wish.scale->place, scale_text(wish.scale->value),
                      "the drawing fits on no sheet at this scale; leave 'scale' out and one is chosen");
  } else {
    diagnostics.error(Code::does_not_fit, {part.file, 0, 0}, "",
                      "the drawing of this part fits on no sheet up to A1 or ANSI D: leave notes or patterns out, or "
                      "build without 'drawing'");
  }
  return std::nullopt;
}

}  // namespace groovewright::drawing
