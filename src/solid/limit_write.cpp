// Requirements as AP242 edition 1 entities (ISO 10303-242:2014) in the forms of the CAx-IF's "Recommended Practices for
// the Representation and Presentation of PMI (AP242)": from memory, and held against a second reader by the tests.
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "limit_faces.h"

namespace groovewright::solid {
namespace {

void demand(bool holds, const std::string& id, const char* what) {
  if (!holds) throw Broken(id + ": " + what);
}

const char* type_of(Zone::Kind kind) {
  switch (kind) {
    case Zone::Kind::flatness:
      return "FLATNESS_TOLERANCE";
    case Zone::Kind::perpendicularity:
      return "PERPENDICULARITY_TOLERANCE";
    case Zone::Kind::position:
      return "POSITION_TOLERANCE";
    case Zone::Kind::circular_runout:
      return "CIRCULAR_RUNOUT_TOLERANCE";
  }
  throw Broken("a zone of no kind");
}

void check(const Size& s) {
  demand(std::isfinite(s.value) && s.lower < s.upper, s.id, "no limits of size");
  demand(s.kind == Size::Kind::diameter || s.ball > 0, s.id, "over balls of no diameter");
}

void check(const Zone& z) {
  demand(std::isfinite(z.width) && z.width > 0, z.id, "a zone without width");
  if (z.kind == Zone::Kind::flatness) demand(z.datums.empty(), z.id, "flatness knows no datum");
  if (z.kind == Zone::Kind::perpendicularity || z.kind == Zone::Kind::circular_runout) {
    demand(!z.datums.empty(), z.id, "stands on no datum");
  }
}

class LimitWriter {
 public:
  LimitWriter(Part21& out, const Anchors& anchors) : out_(out), anchors_(anchors) {}

  void size(const Size& s) {
    check(s);
    const bool over_balls = s.kind == Size::Kind::over_balls;
    const Ref aspect = feature(s.id, s.label, s.on, false);
    const Ref dimension = out_.add("DIMENSIONAL_SIZE", Fields().ref(aspect).text(over_balls ? kOverBalls : kDiameter));
    // Both limits on one side of the nominal size are written as limits: a common reader (XCAF, 7.6) drops the sign of
    // a lower deviation and takes a negative upper one for no tolerance at all.
    const double down = deviation(s.lower, s.value), up = deviation(s.upper, s.value);
    const bool astride = down <= 0 && up >= 0;
    std::vector<Ref> items;
    if (astride) {
      items.push_back(item("nominal value", s.value));
    } else {
      items = {item("lower limit", s.lower), item("upper limit", s.upper), note(kNominalNote, s.value)};
    }
    if (over_balls) items.push_back(note(kBallNote, s.ball));
    const Ref value = out_.add("SHAPE_DIMENSION_REPRESENTATION", Fields().text("").refs(items).ref(anchors_.context));
    out_.add("DIMENSIONAL_CHARACTERISTIC_REPRESENTATION", Fields().ref(dimension).ref(value));
    if (!astride) return;
    const Ref lower = measure(down), upper = measure(up);
    const Ref range = out_.add("TOLERANCE_VALUE", Fields().ref(lower).ref(upper));
    out_.add("PLUS_MINUS_TOLERANCE", Fields().ref(range).ref(dimension));
  }

  void datum(const Datum& d) {
    demand(!d.letter.empty() && !datums_.contains(d.letter), "datum " + d.letter, "no letter of its own");
    const Ref on = feature("datum " + d.letter, "", d.on, true);
    const Ref datum = out_.add("DATUM", aspect("", "", false).text(d.letter));
    out_.add("SHAPE_ASPECT_RELATIONSHIP", Fields().text("").text("").ref(on).ref(datum));
    datums_.emplace(d.letter, datum);
  }

  void zone(const Zone& z) {
    check(z);
    const Ref on = feature(z.id, z.label, z.on, false);
    const Ref width = measure(z.width);
    const Ref tolerance = geometric_tolerance(z, Fields().text(z.id).text(z.label).ref(width).ref(on));
    if (!z.diametral) return;
    if (!cylindrical_) cylindrical_ = out_.add("TOLERANCE_ZONE_FORM", Fields().text(kCylindricalZone));
    out_.add("TOLERANCE_ZONE", aspect("", "", false).refs({tolerance}).ref(*cylindrical_));
  }

 private:
  [[nodiscard]] Fields length(double v) const {
    return Fields().raw("LENGTH_MEASURE(" + part21_real(v) + ")").ref(anchors_.millimetre);
  }
  Ref measure(double v) { return out_.add("LENGTH_MEASURE_WITH_UNIT", length(v)); }

  Ref item(const std::string& name, double v) {
    return out_.add_complex("LENGTH_MEASURE_WITH_UNIT()MEASURE_REPRESENTATION_ITEM()MEASURE_WITH_UNIT" +
                            length(v).in_parentheses() + "REPRESENTATION_ITEM('" + name + "')");
  }
  Ref note(const std::string& what, double v) {
    return out_.add("DESCRIPTIVE_REPRESENTATION_ITEM",
                    Fields().text("dimensional note").text(what + shortest(v) + " mm"));
  }

  static double deviation(double limit, double value) {
    return std::round((limit - value) / kLimitStep) / (1 / kLimitStep);
  }

  /// The attributes of a SHAPE_ASPECT; `in_the_boundary` where faces are it.
  [[nodiscard]] Fields aspect(const std::string& name, const std::string& description, bool in_the_boundary) const {
    return Fields().text(name).text(description).ref(anchors_.product_shape).flag(in_the_boundary);
  }
  void bind(Ref aspect, std::size_t face) {
    out_.add("GEOMETRIC_ITEM_SPECIFIC_USAGE",
             Fields().text("").text("").ref(aspect).ref(anchors_.representation).ref(anchors_.faces[face].ref));
  }

  [[nodiscard]] std::vector<std::size_t> faces_of(const std::string& id, const On& on) const {
    demand(!on.walls.empty(), id, "stands on no wall");
    std::vector<std::size_t> found;
    for (const Wall& wall : on.walls) {
      const std::size_t before = found.size();
      for (std::size_t i = 0; i < anchors_.faces.size(); ++i) {
        if (lies_on(anchors_.faces[i].wall, wall)) found.push_back(i);
      }
      demand(found.size() > before, id, "the solid has no face on one of its walls");
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
  }

  /// One face, or a group of them, under one name.
  Ref feature(const std::string& id, const std::string& label, const On& on, bool is_datum) {
    const std::vector<std::size_t> faces = faces_of(id, on);
    if (faces.size() == 1) {
      const Ref one = out_.add(is_datum ? "DATUM_FEATURE" : "SHAPE_ASPECT", aspect(id, label, true));
      bind(one, faces.front());
      return one;
    }
    const Ref group =
        is_datum
            ? out_.add_complex("COMPOSITE_GROUP_SHAPE_ASPECT()COMPOSITE_SHAPE_ASPECT()DATUM_FEATURE()SHAPE_ASPECT" +
                               aspect(id, label, true).in_parentheses())
            : out_.add("COMPOSITE_GROUP_SHAPE_ASPECT", aspect(id, label, true));
    for (const std::size_t face : faces) {
      out_.add("SHAPE_ASPECT_RELATIONSHIP", Fields().text("").text("").ref(group).ref(member(face)));
    }
    return group;
  }
  Ref member(std::size_t face) {
    const auto [at, is_new] = members_.try_emplace(face);
    if (is_new) {
      at->second = out_.add("SHAPE_ASPECT", aspect("", "", true));
      bind(at->second, face);
    }
    return at->second;
  }

  Ref datum_system(const Zone& z) {
    const auto [at, is_new] = systems_.try_emplace(z.datums);
    if (!is_new) return at->second;
    std::vector<Ref> places;
    for (const std::string& letter : z.datums) {
      const auto datum = datums_.find(letter);
      demand(datum != datums_.end(), z.id, "refers to a datum that is not there");
      places.push_back(out_.add("DATUM_REFERENCE_COMPARTMENT", aspect("", "", false).ref(datum->second).raw("$")));
    }
    at->second = out_.add("DATUM_SYSTEM", aspect("", "", false).refs(places));
    return at->second;
  }

  /// In one type where the kind's own type has all attributes; else in as many as it takes, in alphabetical order.
  Ref geometric_tolerance(const Zone& z, Fields common) {
    Fields modifiers;
    if (z.common) modifiers.raw(".COMMON_ZONE.");
    if (z.maximum_material) modifiers.raw(".MAXIMUM_MATERIAL_REQUIREMENT.");
    const bool modified = z.common || z.maximum_material;
    const std::string type = type_of(z.kind);
    std::optional<Ref> system;
    if (!z.datums.empty()) system = datum_system(z);
    if (!modified && !(z.kind == Zone::Kind::position && system)) {
      if (system) common.refs({*system});
      return out_.add(type, common);
    }
    std::map<std::string, std::string> parts{{type, "()"}, {"GEOMETRIC_TOLERANCE", common.in_parentheses()}};
    if (system) parts["GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE"] = Fields().refs({*system}).in_parentheses();
    if (modified) parts["GEOMETRIC_TOLERANCE_WITH_MODIFIERS"] = Fields().nested(modifiers).in_parentheses();
    std::string inner;
    for (const auto& [name, attributes] : parts) inner.append(name).append(attributes);
    return out_.add_complex(inner);
  }

  Part21& out_;
  const Anchors& anchors_;
  std::map<std::size_t, Ref> members_;
  std::map<std::string, Ref> datums_;
  std::map<std::vector<std::string>, Ref> systems_;
  std::optional<Ref> cylindrical_;
};

}  // namespace

void write_limits(Part21& out, const Limits& limits, const Anchors& anchors) {
  LimitWriter writer(out, anchors);
  for (const Size& s : limits.sizes) writer.size(s);
  for (const Datum& d : limits.datums) writer.datum(d);
  for (const Zone& z : limits.zones) writer.zone(z);
}

}  // namespace groovewright::solid
