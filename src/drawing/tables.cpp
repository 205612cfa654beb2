#include <algorithm>
#include <cmath>
#include <numbers>

#include "blocks.h"
#include "groovewright/base/text.h"

namespace groovewright::drawing {
namespace {

using part::HolePattern;
using part::Part;
using plane::Ink;
using plane::table;
using plane::View;

bool is_uneven(const Subject& s, const HolePattern& p) { return find(s.rows, p.id + "_angle1") != nullptr; }

/// "36", or "36 - 1" where one is left out.
std::string teeth_of(const part::ToneRing& t) {
  return std::to_string(t.teeth) + (t.missing > 0 ? " - " + std::to_string(t.missing) : "");
}

std::string class_of_iso_2768(part::GeneralTolerance g) {
  switch (g) {
    case part::GeneralTolerance::iso_2768_f:
      return "f";
    case part::GeneralTolerance::iso_2768_c:
      return "c";
    default:
      return "m";
  }
}

}  // namespace

View groove_table(const Subject& s) {
  const Voice& v = s.voice;
  const bool several = s.part.rims.size() > 1;
  std::vector<std::vector<Piece>> rows(1);
  const auto head = [&](const std::string& key) { rows[0].push_back(v.text(v.word(key), kSmallLetters)); };
  if (several) head("table_rim");
  for (const char* key : {"table_section", "table_grooves", "table_ball", "table_least", "table_most"}) head(key);
  for (std::size_t i = 0; i < s.part.rims.size(); ++i) {
    const part::Rim& rim = s.part.rims[i];
    const std::string id = Part::prefix(i);
    const auto add = [&](const std::string& of, double ball, const Dimension& k) {
      std::vector<Piece> cells;
      if (several) cells.push_back(v.text(std::to_string(i + 1)));
      const ShownLimits limits = shown_limits(k, v.units());
      cells.push_back(v.text(rim.groove.id + of));
      cells.push_back(v.text(std::to_string(rim.grooves)));
      cells.push_back(v.text("⌀" + v.plain(ball)));
      cells.push_back(v.text(limits.lower));
      cells.push_back(v.text(limits.upper));
      rows.push_back(std::move(cells));
    };
    const Dimension& k = at(s.rows, id + "diameter_over_balls");
    add("", rim.groove.ball_diameter.value, k);
    if (const Dimension* second = find(s.rows, id + "diameter_over_second_balls")) {
      add("", at(s.rows, id + "second_ball_diameter").value, *second);
    }
    if (const Dimension* coated = find(s.rows, id + "diameter_over_balls_coated")) {
      add(" " + v.word("coated"), rim.groove.ball_diameter.value, *coated);
    }
  }
  return table("groove_table", v.word("groove_table"), rows, v.scribe());
}

View hole_table(const Subject& s) {
  const Voice& v = s.voice;
  std::vector<std::vector<Piece>> rows(1);
  for (const char* key : {"table_pattern", "table_number", "table_angle"})
    rows[0].push_back(v.text(v.word(key), kSmallLetters));
  for (const HolePattern& p : s.part.holes) {
    if (!is_uneven(s, p)) continue;
    for (std::size_t k = 0; k < p.angles.size(); ++k) {
      const std::string number = std::to_string(k + 1);
      const std::string hole = p.tapped && p.thread ? p.thread->id : "⌀" + v.plain(p.diameter.value);
      rows.push_back({v.text(hole + " " + v.filled("on", {v.plain(p.circle)})), v.text(number),
                      v.text(v.plain(at(s.rows, p.id + "_angle" + number).value, "deg"))});
    }
  }
  return rows.size() == 1 ? View{} : table("hole_table", v.word("hole_table"), rows, v.scribe());
}

View revision_table(const Subject& s, double width) {
  const Voice& v = s.voice;
  const auto& revisions = s.part.drawing.revisions;
  if (revisions.empty()) return {};
  std::vector<std::vector<Piece>> rows{
      {v.text(v.word("revision"), kSmallLetters), v.text(v.word("change"), kSmallLetters)}};
  for (const part::Revision& r : revisions)
    rows.push_back({v.text(r.revision), v.scribe().paragraph(r.text, width - 30)});
  return table("revision_table", v.word("revisions"), rows, v.scribe());
}

View notes(const Subject& s, double width) {
  const Voice& v = s.voice;
  std::vector<std::string> lines;
  const auto add = [&](std::string text) {
    if (!text.empty()) lines.push_back(std::move(text));
  };
  const Part& part = s.part;
  add(v.filled("note_units", {v.units() == Units::mm ? v.word("millimetres") : v.word("inches")}));
  const bool asme = v.system() == System::asme;
  const auto general = part.drawing.general_tolerance.value;
  add(general == part::GeneralTolerance::iso_22081
          ? v.filled(asme ? "note_general_asme" : "note_general",
                     {v.plain(part.limit("general_size").value), v.plain(part.limit("general_zone").value)})
          : v.filled("note_general_2768", {class_of_iso_2768(general)}));
  add(v.word(asme ? "note_system_asme" : "note_system"));
  add(v.word("note_controlled"));
  if (part.finish && part.finish->film > 0) {
    add(v.filled(part.finish->masked ? "note_coating_masked" : "note_coating",
                 {part.finish->name, v.length(part.finish->film)}));
  }
  if (const Dimension* fillet = find(s.rows, "web_fillet"); fillet != nullptr && fillet->value > 0) {
    add(v.filled("note_fillet", {v.length(fillet->value)}));
  }
  add(v.filled("note_edges", {v.length(at(s.rows, "edge_break").value)}));
  add(v.word("note_surfaces"));
  if (part.tone_ring) {
    const part::ToneRing& t = *part.tone_ring;
    add(v.filled("note_tone_ring", {v.word(t.side == part::Side::front ? "front" : "rear"), teeth_of(t),
                                    v.length(t.gap), v.length(t.tooth_height), v.length(t.thickness),
                                    v.plain(at(s.rows, "tone_ring_start").value, "deg")}));
  }
  for (std::size_t i = 0; i < part.marks.size(); ++i) {
    if (part.marks[i].on == part::MarkPlace::rear || part.marks[i].on == part::MarkPlace::rear_edge) {
      add(v.filled("note_rear_marks", {mark_words(s, i)}));
    }
  }
  if (part.hub.bore.taper) {
    const part::Taper& t = *part.hub.bore.taper;
    add(v.filled("note_taper",
                 {v.plain(t.included.deg(), "deg"), v.word(t.large_end == part::Side::front ? "front" : "rear"),
                  v.length(t.stand_off), v.length(t.stand_off_tolerance), v.length(t.draw_up)}));
  }
  if (part.balance_grade) {
    add(part.maximum_speed
            ? v.filled("note_balance_at", {trimmed(part.balance_grade->value, 1), trimmed(*part.maximum_speed, 0)})
            : v.filled("note_balance", {trimmed(part.balance_grade->value, 1)}));
  }
  add(v.word("note_angles"));
  for (const auto& own : part.drawing.notes) add(own.value);
  add(part.maximum_speed ? v.filled("caution_speed", {trimmed(*part.maximum_speed, 0)}) : v.word("caution_no_speed"));
  add(v.word("caution_strength"));
  add(v.word("caution_practice"));
  View view{"notes", v.word("notes"), {}, {}};
  std::vector<Piece> pieces{v.text(v.word("notes"), kViewTitle)};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    pieces.push_back(row({v.text(std::to_string(i + 1)), v.scribe().paragraph(lines[i], width - 8)}, i < 9 ? 4 : 2));
  }
  put(view, column(pieces, 1.2), {0, 0});
  return view;
}

namespace {

/// A field of the title block: a small name over its content.
struct Field {
  double x = 0, y = 0, width = 0, height = 0;  ///< lower left corner
  std::string name, content;
};

void draw_field(View& view, const Field& f, const Voice& v) {
  polygon(view, Ink::table, {{f.x, f.y}, {f.x + f.width, f.y}, {f.x + f.width, f.y + f.height}, {f.x, f.y + f.height}},
          false);
  const Piece name = v.text(f.name, kSmallLetters);
  const double top = f.y + f.height - 0.6 - name.above;
  put(view, name, {f.x + 1, top});
  if (f.content.empty()) return;
  // As large as it fits; a long one in lines.
  const double room = top - name.below - 0.4 - f.y;
  for (const double height : {kViewTitle, kLetters, kSmallLetters}) {
    const Piece p = v.scribe().paragraph(f.content, f.width - 2, height);
    if (p.above + p.below > room && height > kSmallLetters) continue;
    put(view, p, {f.x + 1, f.y + room - p.above});
    return;
  }
}

/// Height that the title's cell needs for all its words.
double title_height(const Voice& v, const std::string& title, double width) {
  const Piece p = v.scribe().paragraph(title, width - 2, title.size() > 120 ? kSmallLetters : kViewTitle);
  return std::max(14.0, p.above + p.below + 5);
}

}  // namespace

View title_block(const Subject& s, const SheetNames& names, double width) {
  const Voice& v = s.voice;
  const Part& part = s.part;
  const bool asme = v.system() == System::asme;
  View view{"title_block", v.word("title_block"), {}, {}};
  constexpr double kRow = 10;
  const double title_cell = width * 0.62,
               tall = title_height(v, part.title.empty() ? part.name : part.title, title_cell);
  const double y2 = kRow, y3 = 2 * kRow, y4 = 3 * kRow;
  const auto mass = shown(at(s.rows, "mass").value, "kg", v.units());
  const auto general = part.drawing.general_tolerance.value;
  const std::string tolerance = general != part::GeneralTolerance::iso_22081
                                    ? "ISO 2768-1 " + class_of_iso_2768(general)
                                : asme ? v.word("see_notes")
                                       : "ISO 22081";
  const std::vector<Field> fields{
      {0, y4, title_cell, tall, v.word("part_name"), part.title.empty() ? part.name : part.title},
      {title_cell, y4, width - title_cell, tall, v.word("number"),
       part.drawing.number.empty() ? part.name : part.drawing.number},
      {0, y3, width * 0.34, kRow, v.word("material"), part.material.name},
      {width * 0.34, y3, width * 0.28, kRow, v.word("finish"), part.finish ? part.finish->name : v.word("no_finish")},
      {width * 0.62, y3, width * 0.2, kRow, v.word("mass"), mass.value + " " + mass.unit},
      {width * 0.82, y3, width * 0.18, kRow, v.word("revision"), part.revision},
      {0, y2, width * 0.34, kRow, v.word("tolerances"), tolerance},
      {width * 0.34, y2, width * 0.28, kRow, v.word("system"), asme ? "ASME Y14.5-2018" : "ISO 8015"},
      {width * 0.62, y2, width * 0.2, kRow, v.word("scale"), names.scale},
      {width * 0.82, y2, width * 0.18, kRow, v.word("sheet"), v.filled("sheet_of", {"1", "1"}) + ", " + names.format},
      {0, 0, width * 0.34, kRow, v.word("drawn_by"), ""},
      {width * 0.34, 0, width * 0.28, kRow, v.word("approved_by"), ""},
      {width * 0.62, 0, width * 0.38, kRow, v.word("projection"), ""}};
  for (const Field& f : fields) draw_field(view, f, v);
  const Piece sign = v.scribe().projection(s.first_angle);
  put(view, sign, {width - sign.width - 2, kRow / 2});
  const double top = y4 + tall;
  polygon(view, Ink::frame, {{0, 0}, {width, 0}, {width, top}, {0, top}}, false);
  return view;
}

View isometric_view(const Subject& s, const Looks& looks, double scale) {
  View view{"isometric", s.voice.word("isometric_view"), {}, {}};
  draw(view, looks.isometric, scale, false);
  return view;
}

std::string scale_text(double scale) {
  for (const auto& c : spec::kScales) {
    if (std::abs(c.value - scale) < 1e-9) return std::string(c.name);
  }
  return trimmed(scale, 3);
}

double series_scale(double most) {
  for (const auto& c : spec::kScales) {
    if (c.value <= most) return c.value;
  }
  return spec::kScales.back().value;
}

const Zone* find_zone(const Requirements& requirements, std::string_view id) {
  const auto& zones = requirements.zones;
  const auto found = std::find_if(zones.begin(), zones.end(), [&](const Zone& z) { return z.row.id == id; });
  return found == zones.end() ? nullptr : &*found;
}

std::string datum_of(const Requirements& requirements, std::string_view what) {
  for (const Datum& d : requirements.datums) {
    if (d.what == what) return d.letter;
  }
  return "";
}

void add_title(View& view, const std::string& words, const Scribe& scribe) {
  const Box box = extents(view, scribe.typeface());
  const Piece title = scribe.text(words, kViewTitle);
  put(view, title, {(box.low.x + box.high.x - title.width) / 2, box.high.y + 3});
}

}  // namespace groovewright::drawing
