#include <algorithm>
#include <cmath>
#include <set>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/settle.h"

namespace groovewright::drive {
namespace {

constexpr std::size_t kKept = 20;
/// A turn that differs from none by rounding alone is none, rad.
constexpr double kNoTurn = 1e-12;

class SearchSettler {
 public:
  SearchSettler(const spec::Drive& document, const Drive& drive, Diagnostics& diagnostics)
      : document_(document), search_(*document.search), drive_(drive), diagnostics_(diagnostics) {
    for (const Pulley& p : drive.pulleys) names_.push_back(p.name);
    if (drive.tensioner) names_.push_back(drive.tensioner->name);
  }

  std::optional<SearchSpace> all() {
    SearchSpace s;
    s.lengths = lengths_on_offer(document_);
    s.lengths.erase(std::unique(s.lengths.begin(), s.lengths.end()), s.lengths.end());
    if (s.lengths.empty()) {
      error(Code::missing_key, search_.place, "search",
            "a search wants belts to choose from: give the belt 'lengths', a 'catalogue' or one 'length'");
    }
    if (search_.clock) s.turns = turns(*search_.clock);
    for (const spec::Vary& v : search_.vary) vary(v, s);
    s.merit = merit();
    s.keep = search_.keep ? static_cast<std::size_t>(search_.keep->value) : kKept;
    if (failed_) return std::nullopt;
    if (const std::uint64_t n = s.size(); n > kMaxCombinations) {
      error(Code::out_of_range, search_.place, std::to_string(n),
            "these are " + std::to_string(n) + " combinations, and " + std::to_string(kMaxCombinations) +
                " are the most: take larger steps or vary fewer things at once");
      return std::nullopt;
    }
    return s;
  }

 private:
  void error(Code code, const Place& place, const std::string& fragment, const std::string& message) {
    failed_ = true;
    diagnostics_.error(code, place, fragment, message);
  }

  std::vector<double> turns(const spec::ClockSweep& w) {
    if (!drive_.tensioner || drive_.tensioner->slides()) {
      error(Code::does_not_fit, w.place, "clock",
            drive_.tensioner ? "'" + drive_.tensioner->name + "' is a slide: it has no body to turn about a pivot"
                             : "'clock' turns a tensioner's body, and this drive has no tensioner");
      return {0};
    }
    const double from = w.from->value.rad(), to = w.to->value.rad(), step = w.step->value.rad();
    if (from > to) {
      error(Code::out_of_range, w.from->place, trimmed(w.from->value.deg(), 3),
            "'from' of the clock is greater than 'to': turn them round");
      return {0};
    }
    std::vector<double> all;
    const int last = static_cast<int>(std::floor((to - from) / step + 1e-9));
    for (int i = 0; i <= last; ++i) {
      const double turn = from + i * step;
      all.push_back(std::abs(turn) < kNoTurn ? 0 : turn);
    }
    return all;
  }

  void vary(const spec::Vary& w, SearchSpace& s) {
    const std::string& name = w.name->value;
    const auto found = std::find(names_.begin(), names_.end(), name);
    if (found == names_.end()) {
      error(Code::unknown_entry, w.name->place, name,
            "'" + name + "' names neither a pulley nor the tensioner; " + meant_or_known(name, names_));
      return;
    }
    if (!varied_.insert(name).second) {
      error(Code::same_name_twice, w.name->place, name, "'" + name + "' is varied above: write it once");
      return;
    }
    const auto index = static_cast<std::size_t>(found - names_.begin());
    Varied v{index < drive_.pulleys.size() ? index : kNone, {}, {}};
    const Pulley& p = v.pulley == kNone ? drive_.tensioner->idler : drive_.pulleys[index];
    const bool flat = p.side == Side::back;
    const auto& wrong = flat ? w.effective_diameters : w.back_diameters;
    if (!wrong.empty()) {
      error(Code::one_of_keys, wrong.front().place, name,
            "'" + name + (flat ? "' is flat: give 'back_diameters'" : "' is grooved: give 'effective_diameters'"));
      return;
    }
    for (const auto& d : flat ? w.back_diameters : w.effective_diameters) v.radii.push_back(d.value / 2);
    for (const auto& at : w.places) v.places.push_back({at.value.x, at.value.y});
    if (v.radii.empty() && v.places.empty()) {
      error(Code::missing_key, w.place, name,
            "nothing of '" + name + "' changes: give it '" + (flat ? "back_diameters" : "effective_diameters") +
                "' or 'places'");
      return;
    }
    if (v.radii.empty()) v.radii = {p.radius};
    if (v.places.empty()) v.places = {v.pulley == kNone ? drive_.tensioner->pivot : p.at};
    s.varied.push_back(std::move(v));
  }

  Merit merit() {
    if (!search_.merit) return drive_.tensioner ? Merit::travel : Merit::room;
    const Place& place = search_.merit->place;
    switch (search_.merit->value) {
      case spec::Merit::travel:
        if (!drive_.tensioner) {
          error(Code::does_not_fit, place, "travel",
                "without a tensioner there is no travel to rank by: choose grip or room");
        }
        return Merit::travel;
      case spec::Merit::grip:
        if (!drive_.tensioner && !(drive_.duty.still_tension > 0)) {
          error(Code::needs_more, place, "grip",
                "grip wants a tension: give the duty its 'still_tension', or choose another merit");
        }
        return Merit::grip;
      case spec::Merit::room:
        return Merit::room;
    }
    throw Broken("settle_search: a merit that is none");
  }

  const spec::Drive& document_;
  const spec::Search& search_;
  const Drive& drive_;
  Diagnostics& diagnostics_;
  std::vector<std::string> names_;  ///< of pulleys, then the tensioner
  std::set<std::string> varied_;
  bool failed_ = false;
};

}  // namespace

std::optional<SearchSpace> settle_search(const spec::Drive& document, const Drive& settled, Diagnostics& diagnostics) {
  require(document.search.has_value(), "settle_search: a document with a search");
  return SearchSettler(document, settled, diagnostics).all();
}

}  // namespace groovewright::drive
