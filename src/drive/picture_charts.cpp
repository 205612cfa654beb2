#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/plane/chart.h"
#include "picture_page.h"

namespace groovewright::drive {
namespace {

using plane::Chart;
using plane::Ink;
using plane::Series;
using plane::View;

/// Curves of one kind are told apart by these before their names are needed.
constexpr Ink kLines[] = {Ink::visible, Ink::hidden, Ink::dimension, Ink::centre};
constexpr double kHead = 14;

/// A page with a title above, and the room below it down to the cautions.
struct Sheet {
  Sheet(const Paper& on, const Pen& with, const std::string& title, const std::string& description)
      : paper(on), pen(with), page(empty_page(on, title, description)), words{"notes", with.word("notes"), {}, {}} {
    Notes head(words, pen, {left(), top() + kHead - kInset}, width());
    const Typeface& typeface = pen.scribe().typeface();
    const double letters =
        plane::text_width(typeface, title, kTitleLetters) <= width() ? kTitleLetters : plane::kViewTitle;
    head.paragraph(plane::shortened(typeface, title, width(), letters), letters);
  }
  [[nodiscard]] static double left() { return kMargin + kInset; }
  [[nodiscard]] double width() const { return paper.width - 2 * left(); }
  [[nodiscard]] double top() const { return paper.height - kMargin - kHead; }

  /// At the foot; returns their upper edge.
  double cautions(const std::vector<std::string>& all) {
    const double edge = kMargin + kInset + cautions_height(pen, all, width());
    Notes(words, pen, {left(), edge}, width()).cautions(all);
    return edge + kInset;
  }
  void add(View view, Vec2 at) {
    plane::move(view, at);
    page.views.push_back(std::move(view));
  }
  void add(std::vector<View> views, Vec2 at) {
    for (View& v : views) add(std::move(v), at);
  }
  plane::Page done() {
    page.views.push_back(std::move(words));
    return std::move(page);
  }

  Paper paper;
  const Pen& pen;
  plane::Page page;
  View words;
};

Chart tension_chart(const TensionMap& map, const std::vector<TensionState>& states, const std::string& title,
                    const std::string& id, const Pen& pen) {
  Chart c{id, title, {pen.word("tension_way"), {}, {}}, {pen.word("tension_force"), {}, {}}, {}, {}, {}, {}};
  double along = 0;
  for (const TensionPart& p : map.parts) {
    c.limits.push_back({true, along + p.arc / 2, p.name, Ink::grid});
    along += p.arc + p.span;
  }
  c.x.grid = false;
  c.x.from = 0, c.x.to = std::max(along, 1.0);
  for (std::size_t k = 0; k < states.size(); ++k) {
    require(states[k].spans.size() == map.parts.size(), "tension_page: a tension for each span");
    Series s{states[k].name, {}, kLines[k % std::size(kLines)]};
    double x = 0;
    for (std::size_t i = 0; i < map.parts.size(); ++i) {
      const double before = states[k].spans[i == 0 ? map.parts.size() - 1 : i - 1], after = states[k].spans[i];
      s.points.push_back({x, before});
      s.points.push_back({x += map.parts[i].arc, after});
      s.points.push_back({x += map.parts[i].span, after});
    }
    c.series.push_back(std::move(s));
  }
  if (map.greatest > 0) c.limits.push_back({false, map.greatest, map.greatest_name, Ink::phantom});
  c.y.from = 0;
  return c;
}

}  // namespace

plane::Page tension_page(const TensionMap& map, const PictureStyle& style) {
  const Pen pen(style);
  Sheet sheet(kA4Lying, pen, pen.filled("tension_title", {map.drive}), pen.filled("tension_description", {map.drive}));
  const double foot = sheet.cautions({pen.word("drive_caution_belt"), pen.word("drive_caution_practice")});
  sheet.add(
      plane::stacked_charts({tension_chart(map, map.pulling, pen.word("tension_drive"), "tension_drive", pen),
                             tension_chart(map, map.overrun, pen.word("tension_overrun"), "tension_overrun", pen)},
                            sheet.width(), sheet.top() - foot, pen.scribe()),
      {Sheet::left(), foot});
  return sheet.done();
}

namespace {

/// On the frequency page: of the table, and of a span's name, which the table's other columns leave.
constexpr double kTable = 78, kSpanName = 42;

/// "crank to blower": of two long names something of both is kept.
std::string span_name(const FrequencyPicture::Ends& ends, const Pen& pen) {
  const Typeface& typeface = pen.scribe().typeface();
  const auto wide = [&](const std::string& words) { return plane::text_width(typeface, words, plane::kLetters); };
  const double room = kSpanName - wide(pen.filled("frequency_from_to", {"", ""})), half = room / 2;
  const auto cut = [&](const std::string& name, const std::string& other) {
    const double most = std::max(half, room - wide(other));
    return plane::shortened(typeface, name, most);
  };
  return pen.filled("frequency_from_to", {cut(ends.from, ends.to), cut(ends.to, ends.from)});
}

}  // namespace

plane::Page frequency_page(const FrequencyPicture& map, const PictureStyle& style) {
  require(map.from_rpm < map.to_rpm, "frequency_page: a range of speeds");
  const Pen pen(style);
  Sheet sheet(kA4Lying, pen, pen.filled("frequency_title", {map.drive}),
              pen.filled("frequency_description", {map.drive}));
  const double foot = sheet.cautions({pen.word("frequency_caution"), pen.word("drive_caution_belt")});
  Chart c{"frequencies",
          "",
          {pen.word("chart_speed"), map.from_rpm, map.to_rpm},
          {pen.word("frequency_hertz"), 0, {}},
          {},
          {},
          {},
          {}};
  double highest = 0;
  for (const FrequencyLine& line : map.map.lines) {
    Series s{span_name(map.spans.at(line.span), pen), {}, Ink::visible};
    for (const FrequencyPoint& p : line.points) {
      s.points.push_back({p.driver_rpm, p.frequency.mid});
      highest = std::max(highest, p.frequency.mid);
    }
    c.series.push_back(std::move(s));
  }
  for (const double order : map.orders) {
    c.series.push_back({pen.filled("frequency_order", {trimmed(order, 2)}),
                        {{map.from_rpm, order * map.from_rpm / 60}, {map.to_rpm, order * map.to_rpm / 60}},
                        Ink::hidden});
  }
  // High orders would squeeze the spans to the foot.
  c.y.to = std::max(1.0, 1.25 * highest);
  const std::vector<Meeting>& met = map.map.meetings;
  std::vector<std::vector<std::string>> rows{
      {pen.word("table_number"), pen.word("frequency_span"), pen.word("frequency_orders"), "rpm", "Hz"}};
  for (std::size_t i = 0; i < met.size(); ++i) {
    const Meeting& m = met[i];
    c.spots.push_back({{m.driver_rpm, m.frequency}, std::to_string(i + 1)});
    rows.push_back({std::to_string(i + 1), span_name(map.spans.at(m.span), pen), trimmed(m.order, 2),
                    number(m.driver_rpm, 0), number(m.frequency, 1)});
  }
  sheet.add(plane::chart(c, sheet.width() - kTable - kInset, sheet.top() - foot, pen.scribe()), {Sheet::left(), foot});
  Notes side(sheet.words, pen, {Sheet::left() + sheet.width() - kTable, sheet.top()}, kTable);
  side.paragraph(pen.word(met.empty() ? "frequency_none" : "frequency_crossings"));
  if (!met.empty()) side.table("crossings", rows, 1, foot + 6);
  return sheet.done();
}

plane::Page range_page(const RangeMap& map, const PictureStyle& style) {
  const Pen pen(style);
  Sheet sheet(kA4Upright, pen, pen.filled("range_title", {map.drive, map.driven}),
              pen.filled("range_description", {map.drive}));
  const double foot =
      sheet.cautions({pen.word("range_estimate"), pen.word("range_caution"), pen.word("drive_caution_practice")});
  Chart pressure{"pressure",
                 "",
                 {pen.word("range_overdrive"), {}, {}},
                 {pen.filled("range_pressure", {map.pressure_unit}), {}, {}},
                 {},
                 {},
                 {},
                 {}};
  Chart speed{"driven_speed",
              "",
              {pen.word("range_overdrive"), {}, {}},
              {pen.filled("range_rpm", {trimmed(map.at_rpm, 0)}), {}, {}},
              {},
              {},
              {},
              {}};
  Series free{pen.word("range_free"), {}, Ink::visible}, restricted{pen.word("range_restricted"), {}, Ink::hidden};
  Series driven{map.driven, {}, Ink::visible};
  for (const RangePoint& p : map.points) {
    const double x = 100 * p.overdrive;
    free.points.push_back({x, p.pressure_free});
    restricted.points.push_back({x, p.pressure_restricted});
    driven.points.push_back({x, p.driven_rpm});
  }
  pressure.bands.push_back({"", restricted.points, free.points});
  pressure.series = {std::move(free), std::move(restricted)};
  speed.series = {std::move(driven)};
  if (map.driven_limit > 0) speed.limits.push_back({false, map.driven_limit, pen.word("range_most"), Ink::phantom});
  sheet.add(plane::stacked_charts({pressure, speed}, sheet.width(), sheet.top() - foot, pen.scribe()),
            {Sheet::left(), foot});
  return sheet.done();
}

}  // namespace groovewright::drive
