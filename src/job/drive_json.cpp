#include "drive_json.h"

#include <numbers>

#include "groovewright/base/json.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::job {
namespace {

/// Version of the drive's JSON.
constexpr int kFormat = 1;

double degrees(double rad) { return rad * 180 / std::numbers::pi; }

class Writer {
 public:
  Writer(const drive::Drive& drive, const drive::Analysis& a) : d_(drive), a_(a) {}

  std::string all(const report::Sheet& sheet) {
    json_.begin_object().field("format", kFormat).field("name", sheet.name).field("title", sheet.title);
    json_.field("units", "mm").field("program", sheet.program);
    belt();
    const bool is_laid = a_.complaints.empty();
    json_.key("pulleys").begin_array();
    for (std::size_t i = 0; is_laid && i < a_.course.size(); ++i) pulley(i);
    json_.end_array().key("spans").begin_array();
    for (std::size_t i = 0; is_laid && i < a_.course.size(); ++i) span(i);
    json_.end_array().key("tensioner");
    tensioner();
    json_.key("bending_loss");
    bending();
    json_.key("complaints").begin_array();
    for (const auto* list : {&a_.complaints, &a_.troubles}) {
      for (const drive::Complaint& c : *list) json_.value(c.says);
    }
    json_.end_array();
    report::write_rows(json_, sheet.rows);
    json_.end_object();
    return json_.text();
  }

 private:
  void number(const char* key, double v) { json_.field(key, report::cut(v)); }

  void belt() {
    json_.key("belt").begin_object().field("designation", drive::designation(d_.belt));
    const double length = d_.belt.effective_length.value;
    number("effective_length", length);
    number("pitch_length", length > 0 ? length + 2 * std::numbers::pi * d_.belt.line_to_cord.value : 0);
    number("path_effective_length", a_.effective_length);
    number("path_pitch_length", a_.pitch_length);
    json_.end_object();
  }
  [[nodiscard]] const std::string& name(std::size_t i) const { return drive::pulley_at(d_, a_.course, i).name; }

  void pulley(std::size_t i) {
    const drive::Pulley& p = drive::pulley_at(d_, a_.course, i);
    json_.begin_object().field("name", p.name).field("side", p.side == drive::Side::ribs ? "ribs" : "back");
    number("wrap_deg", degrees(drive::signed_wrap(a_.course, a_.route, i)));
    number("speed_ratio", drive::speed_ratio(d_, a_.course, i));
    number("overdrive", drive::overdrive(d_, a_.course, i));
    json_.field("turns_with_driver", drive::turns_with_driver(a_.course, i)).end_object();
  }
  void span(std::size_t i) {
    json_.begin_object().field("from", name(i)).field("to", name(a_.course.next(i)));
    number("length", a_.route.spans[i].length);
    json_.end_object();
  }
  void tensioner() {
    if (!d_.tensioner || !a_.seat) {
      json_.null();
      return;
    }
    const drive::Seat& s = *a_.seat;
    const bool slides = d_.tensioner->slides();
    const auto way = [&](double v) { return slides ? v : degrees(v); };
    json_.begin_object().field("name", d_.tensioner->name);
    json_.field("seated", s.state == drive::Seat::State::seated);
    number(slides ? "position" : "angle_deg", way(s.position));
    number(slides ? "to_near_stop" : "to_near_stop_deg", way(s.to_near));
    number(slides ? "to_far_stop" : "to_far_stop_deg", way(s.to_far));
    number(slides ? "take_up_per_mm" : "take_up_mm_per_deg", slides ? s.take_up : s.take_up * std::numbers::pi / 180);
    json_.key("tension").begin_object();
    number("low", s.tension.low), number("middle", s.tension.mid), number("high", s.tension.high);
    json_.end_object();
    json_.key("curve").begin_array();
    for (const drive::CurvePoint& p : a_.curve) {
      json_.begin_object();
      number(slides ? "position" : "angle_deg", way(p.position));
      number("length", p.length);
      number("tension", p.tension.mid);
      json_.end_object();
    }
    json_.end_array().end_object();
  }

  /// W, in all and on each pulley in belt order, at each speed; null where the belt's loss is not known.
  void bending() {
    if (a_.bending.empty()) {
      json_.null();
      return;
    }
    json_.begin_array();
    for (const drive::BendingLoss& loss : a_.bending) {
      json_.begin_object();
      number("driver_rpm", loss.driver_rpm);
      number("total", loss.total);
      json_.key("pulleys").begin_array();
      for (const double watts : loss.rounds) json_.value(report::cut(watts));
      json_.end_array().end_object();
    }
    json_.end_array();
  }

  const drive::Drive& d_;
  const drive::Analysis& a_;
  JsonWriter json_;
};

}  // namespace

std::string drive_json(const report::Sheet& sheet, const drive::Drive& drive, const drive::Analysis& a) {
  return Writer(drive, a).all(sheet);
}

}  // namespace groovewright::job
