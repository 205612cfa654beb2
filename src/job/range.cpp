#include "groovewright/job/range.h"

#include <algorithm>
#include <cmath>

#include "catalogue.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::job {
namespace {

using drive::Breathing;
using spec::Written;

constexpr double kPercent = 100, kPerMPa = 1000, kIceK = 273.15;

/// "24", "24.5", "m5": a per cent for a folder's name.
std::string percent_name(double share) { return (share < 0 ? "m" : "") + trimmed(std::abs(share) * kPercent, 1); }

class Ranger {
 public:
  Ranger(const spec::Range& range, const RangeFiles& files, std::span<const TextFile> own, Diagnostics& diagnostics)
      : w_(range), files_(files), own_(own), diagnostics_(diagnostics) {}

  std::optional<PreparedRange> all() {
    if (!read_base() || !read_drive()) return std::nullopt;
    PreparedRange out;
    out.name = w_.name->value;
    out.title = w_.title ? w_.title->value : "";
    out.pulley = w_.pulley->value, out.driven = w_.driven->value;
    out.redline = drive_->duty.rpm.back();
    out.typeface = numbers_->typeface.value();
    out.texts = numbers_->drive_texts.at("en");
    if (w_.charge) settle_charge(out);
    out.written_loads = spec_->pulleys[*driven_].load.size();
    std::vector<double> sizes = wanted_sizes();
    if (diagnostics_.has_errors()) return std::nullopt;
    for (const double size : sizes) {
      if (auto o = option(size)) out.options.push_back(std::move(*o));
    }
    if (diagnostics_.has_errors()) return std::nullopt;
    return out;
  }

 private:
  void error(Code code, const Place& place, const std::string& fragment, const std::string& message) {
    diagnostics_.error(code, place, fragment, message);
  }

  // ---- the base pulley and its drive ----

  bool read_base() {
    base_ = spec::read_pulley(files_.base.document, diagnostics_);
    if (!base_) return false;
    const auto prepared = prepare(*base_, files_.base.own_grooves, own_, diagnostics_);
    if (!prepared) return false;
    const part::Rim& rim = prepared->part.rims.front();
    reference_ = rim.overdrive ? rim.overdrive->reference_effective : rim.effective_diameter.value;
    return true;
  }

  bool read_drive() {
    spec_ = spec::read_drive(files_.drive, diagnostics_);
    if (!spec_) return false;
    varied_ = named(*w_.pulley), driven_ = named(*w_.driven);
    if (!varied_ || !driven_) return false;
    const spec::DrivePulley& varied = spec_->pulleys[*varied_];
    if (!varied.spec) {
      error(Code::needs_more, w_.pulley->place, w_.pulley->value,
            "'" + w_.pulley->value + "' of the drive names no pulley document: give it 'spec: " + w_.base->value + "'");
      return false;
    }
    key_ = drive::key_of(varied);
    const auto prepared = prepare_drive(*spec_, files_.pulleys, own_, diagnostics_);
    if (!prepared) return false;
    drive_ = prepared->drive;
    made_ = prepared->made;
    std::vector<part::NamedFile> names{{"drive_texts/en.yaml", {}}, {"typeface.yaml", {}}};
    for (const std::string& name : drive::files_named(*spec_)) names.push_back({name, {}});
    numbers_ = catalogue(names, own_, diagnostics_);
    return numbers_.has_value();
  }
  std::optional<std::size_t> named(const Written<std::string>& name) {
    std::vector<std::string> known;
    for (std::size_t i = 0; i < spec_->pulleys.size(); ++i) {
      known.push_back(spec_->pulleys[i].name->value);
      if (known.back() == name.value) return i;
    }
    error(Code::unknown_entry, name.place, name.value,
          "the drive has no pulley '" + name.value + "'; " + meant_or_known(name.value, known));
    return std::nullopt;
  }
  [[nodiscard]] bool varies_driver() const { return drive_->pulleys[*varied_].drives; }
  [[nodiscard]] double pitch_line() const { return drive_->belt.line_to_cord.value; }

  // ---- sizes ----

  /// A larger driver speeds the others up; a larger driven pulley slows itself down.
  [[nodiscard]] double size_of_overdrive(double overdrive) const {
    const double pitch = reference_ + 2 * pitch_line();
    return (varies_driver() ? pitch * (1 + overdrive) : pitch / (1 + overdrive)) - 2 * pitch_line();
  }
  [[nodiscard]] double overdrive_of(double size) const {
    const double share = (size + 2 * pitch_line()) / (reference_ + 2 * pitch_line());
    return varies_driver() ? share - 1 : 1 / share - 1;
  }
  [[nodiscard]] double ratio_with(const drive::Drive& d) const {
    return drive::speed_ratio(d, drive::course(d), place_of(d, *driven_));
  }
  [[nodiscard]] static std::size_t place_of(const drive::Drive& d, std::size_t pulley) {
    const drive::Course c = drive::course(d);
    return static_cast<std::size_t>(std::ranges::find(c.pulley, pulley) - c.pulley.begin());
  }

  std::vector<double> wanted_sizes() {
    std::vector<double> sizes;
    const spec::RangeSteps& s = *w_.steps;
    for (const auto& o : s.overdrives) sizes.push_back(size_of_overdrive(o.value));
    for (const auto& d : s.effective_diameters) sizes.push_back(d.value);
    if (!s.speed_ratios.empty()) {
      const double now = ratio_with(*drive_), pitch = 2 * (drive_->pulleys[*varied_].radius + pitch_line());
      if (!varies_driver() && *varied_ != *driven_) {
        error(Code::one_of_keys, s.speed_ratios.front().place, w_.pulley->value,
              "'" + w_.pulley->value + "' neither drives nor is the driven one: its size changes no ratio");
      }
      for (const auto& r : s.speed_ratios) {
        const double wanted = varies_driver() ? pitch * r.value / now : pitch * now / r.value;
        sizes.push_back(wanted - 2 * pitch_line());
      }
    }
    std::sort(sizes.begin(), sizes.end());
    return sizes;
  }

  // ---- an option ----

  std::optional<Option> option(double size) {
    spec::Pulley pulley = *base_;
    spec::Size written;
    written.place = w_.steps->place;
    written.effective_diameter = Written<double>{size, w_.steps->place};
    pulley.rims.front().size = written;
    const double overdrive = overdrive_of(size);
    pulley.name->value = w_.name->value + "-" + percent_name(overdrive);
    pulley.title = Written<std::string>{
        (base_->title ? base_->title->value + "; " : "") + trimmed(overdrive * kPercent, 1) + " % overdrive",
        w_.steps->place};
    auto prepared = prepare(pulley, files_.base.own_grooves, own_, diagnostics_);
    if (!prepared) return std::nullopt;
    auto made = made_;
    made[key_] = made_pulley(*prepared, 0);
    made[key_].reference_radius = reference_ / 2;
    auto settled = drive::settle(*spec_, *numbers_, made, diagnostics_);
    if (!settled) return std::nullopt;
    Option o{pulley.name->value, size, overdrive, 0, 0, 0, std::move(*prepared), {}, {}, {}, {}, {}, {}};
    o.part_checks = check(o.pulley).rows.checks;
    o.speed_ratio = ratio_with(*settled);
    if (free_) put_charge(o, *settled);
    o.drive = drive::with_best_belt(*settled, drive::lengths_on_offer(*spec_));
    o.analysis = drive::analyse(o.drive);
    o.rows = drive::rows(o.drive, o.analysis);
    o.driven_speed = o.drive.duty.rpm.back() * o.speed_ratio;
    const double limit = o.drive.pulleys[*driven_].speed_max;
    o.driven_limit = limit < drive::kUnlimited ? limit : 0;
    put_supports(o);
    return o;
  }

  // ---- charge ----

  [[nodiscard]] double rule(const spec::Maybe<double>& written, const char* id, PreparedRange& out) const {
    if (written) return written->value;
    const catalog::Sourced& r = numbers_->rule(id);
    std::string words = id;
    std::replace(words.begin(), words.end(), '_', ' ');
    out.assumptions.push_back(words + ": " + shortest(r.value) + " (" + r.source + ")");
    return r.value;
  }

  void settle_charge(PreparedRange& out) {
    const spec::RangeCharge& c = *w_.charge;
    const spec::RangeBlower& b = *c.blower;
    const spec::RangeReference& m = *c.reference;
    Breathing g;
    g.engine = {c.engine->displacement->value, value_or(c.engine->strokes, 4)};
    if (g.engine.strokes == 3) {
      error(Code::bad_count, c.engine->strokes->place, "3", "'strokes' is 2 or 4");
      return;
    }
    g.blower.displacement = b.displacement->value;
    g.blower.compression = b.compression->value == spec::AirCompression::internal ? drive::Compression::internal
                                                                                  : drive::Compression::external;
    g.blower.filling = rule(b.filling, "charge_filling", out);
    g.blower.leak = rule(b.leak, "charge_leak", out);
    g.blower.speed_loss = rule(b.speed_loss, "charge_speed_loss", out);
    g.blower.isentropic = rule(b.isentropic, "charge_isentropic", out);
    g.blower.mechanical = rule(b.mechanical, "charge_mechanical", out);
    put_ambient(g);
    if (c.cooler) {
      g.around.cooler_effectiveness = c.cooler->effectiveness->value;
      g.around.coolant_temperature = c.cooler->coolant->value + kIceK;
    }
    if (c.bypass) g.around.bypass_gauge = c.bypass->value * kPerMPa;
    g.measured = {m.at->value, m.pressure->value * kPerMPa, reference_ratio(m.effective_diameter->value),
                  value_or(m.crank_power, 0.0)};
    const spec::RangeInlet none;
    const spec::RangeInlet& inlet = c.inlet ? *c.inlet : none;
    const auto loss = [&](const spec::Maybe<double>& written, const char* id) {
      return written ? written->value * kPerMPa : rule({}, id, out);
    };
    free_ = calibrated(g, loss(inlet.free_loss, "charge_free_loss"), m.pressure->place);
    restricted_ = calibrated(g, loss(inlet.restricted_loss, "charge_restricted_loss"), m.pressure->place);
    out.measured_at = m.at->value;
    out.has_power = m.crank_power.has_value();
    out.driveline = rule(c.driveline, "driveline", out);
  }
  /// What the range says of the air around goes before what its drive says.
  void put_ambient(Breathing& g) const {
    for (const auto* from : {&spec_->ambient, &w_.charge->ambient}) {
      if (!*from) continue;
      if (const auto& p = (*from)->pressure) g.around.pressure = p->value * kPerMPa;
      if (const auto& t = (*from)->temperature) g.around.temperature = t->value + kIceK;
    }
  }
  /// Driven over driver with the pulley of the measurement.
  [[nodiscard]] double reference_ratio(double effective_diameter) const {
    const double share =
        (effective_diameter + 2 * pitch_line()) / (2 * (drive_->pulleys[*varied_].radius + pitch_line()));
    const double now = ratio_with(*drive_);
    return varies_driver() ? now * share : now / share;
  }
  std::optional<drive::Calibrated> calibrated(Breathing given, double loss, const Place& place) {
    given.inlet_loss = loss;
    auto c = drive::calibrated(given);
    if (c && c->filling >= drive::kLeastFilling && c->filling <= drive::kMostFilling) return c;
    error(Code::needs_more, place, "",
          "the measured pressure does not go with engine and blower: the engine would have to fill to " +
              (c ? trimmed(c->filling * kPercent, 0) + " %" : std::string("nothing")) + " with " + trimmed(loss, 1) +
              " kPa lost in the inlet; " + trimmed(drive::kLeastFilling * kPercent, 0) + " to " +
              trimmed(drive::kMostFilling * kPercent, 0) +
              " % can be: look over displacements, pressure and the pulley that it was measured with");
    return std::nullopt;
  }

  /// The estimate at the measurement's speed; the blower's full load goes onto the belt.
  void put_charge(Option& o, drive::Drive& d) const {
    o.charge = {drive::at(*free_, o.speed_ratio, free_->given.measured.rpm),
                drive::at(*restricted_, o.speed_ratio, free_->given.measured.rpm)};
    std::vector<drive::LoadPoint>& load = d.pulleys[*driven_].load;
    load.clear();
    for (const double rpm : d.duty.rpm)
      load.push_back({rpm, false, drive::at(*free_, o.speed_ratio, rpm).shaft_power, true});
  }

  // ---- parts that go with it ----

  void put_supports(Option& o) const {
    const auto offered = drive::lengths_on_offer(*spec_);
    if (offered.size() != 1) o.supports.push_back({"belt " + drive::designation(o.drive.belt), "its length", false});
    if (o.analysis.reclock) {
      o.supports.push_back({"tensioner turned by " + trimmed(Angle::rad(o.analysis.reclock->turn).deg(), 1) + " deg",
                            "travel left to a stop is too little", true});
    }
    for (const spec::RangeSupport& s : w_.supports) {
      std::string why;
      if (s.overdrive_over && o.overdrive > s.overdrive_over->value)
        why = "over " + trimmed(s.overdrive_over->value * kPercent, 1) + " % overdrive";
      if (s.speed_over && o.driven_speed > s.speed_over->value)
        why = "over " + trimmed(s.speed_over->value, 0) + " rpm of " + w_.driven->value;
      if (s.pressure_over && o.charge && o.charge->free.gauge > s.pressure_over->value * kPerMPa)
        why = "over " + trimmed(s.pressure_over->value * kPerMPa, 1) + " kPa of charge";
      if (!why.empty()) o.supports.push_back({s.part->value, why, value_or(s.modification, false)});
    }
  }

  const spec::Range& w_;
  const RangeFiles& files_;
  std::span<const TextFile> own_;
  Diagnostics& diagnostics_;
  std::optional<spec::Pulley> base_;
  std::optional<spec::Drive> spec_;
  std::optional<drive::Drive> drive_;
  std::map<std::string, drive::MadePulley> made_;
  std::optional<catalog::Catalog> numbers_;
  std::optional<std::size_t> varied_, driven_;
  std::string key_;
  double reference_ = 0;
  std::optional<drive::Calibrated> free_, restricted_;
};

}  // namespace

bool Option::bolts_on() const {
  return std::none_of(supports.begin(), supports.end(), [](const Support& s) { return s.modification; });
}

std::optional<PreparedRange> prepare_range(const spec::Range& range, const RangeFiles& files,
                                           std::span<const TextFile> own_catalog, Diagnostics& diagnostics) {
  return Ranger(range, files, own_catalog, diagnostics).all();
}

}  // namespace groovewright::job
