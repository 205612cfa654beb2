#include <algorithm>

#include "catalogue.h"
#include "groovewright/base/text.h"
#include "groovewright/job.h"

namespace groovewright::job {
namespace {

/// Chosen where the document names none; the first that takes the part.
constexpr const char* kLathe = "turret-400";
constexpr const char* kMill = "mill-400";
constexpr const char* kChucks[] = {"power-200", "power-250", "power-160"};

/// The longest of the built-in ids that the material's begins with.
std::string family_of(const std::string& material) {
  std::string best;
  for (const std::string& id : catalog::built_in_ids("cutting"))
    if (material.starts_with(id) && id.size() > best.size()) best = id;
  return best;
}

double middle(const catalog::Fit& fit) { return (fit.lower + fit.upper) / 2; }

/// The part with every fit that is turned in the middle of its limits.
part::Part aimed_at(part::Part part) {
  part::Hub& hub = part.hub;
  if (hub.bore.fit) hub.bore.diameter.value += middle(*hub.bore.fit);
  for (part::BoreStep& step : hub.bore.steps)
    if (step.fit) step.diameter += middle(*step.fit);
  for (part::Register& r : hub.registers) r.diameter += middle(r.fit);
  return part;
}

class Chooser {
 public:
  Chooser(const part::Part& part, std::span<const TextFile> own, Diagnostics& diagnostics)
      : part_(part), wish_(part.machining), own_(own), diagnostics_(diagnostics) {}

  std::optional<Programs> make() {
    if (!read() || !choose()) return std::nullopt;
    const part::Part aim = aimed_at(part_);
    auto made = section::half_section(aim, diagnostics_);
    if (!made) return std::nullopt;
    auto plan = toolpath::plan(aim, *made, choice_, diagnostics_);
    if (!plan) return std::nullopt;
    return Programs{std::move(*plan), *lathe_words_, *mill_words_, std::move(*made), false};
  }
  /// Of the set-up sheet's pages. Requires: `make` gave programs.
  [[nodiscard]] const Typeface& typeface() const { return numbers_->typeface.value(); }

 private:
  [[nodiscard]] Place place() const { return wish_.place.line > 0 ? wish_.place : Place{part_.file, 0, 0}; }

  bool read() {
    std::vector<part::NamedFile> files;
    const auto add = [&](const std::string& folder, const std::string& id) {
      files.push_back({folder + "/" + id + ".yaml", {}});
    };
    add("machines", lathe());
    add("machines", mill());
    if (wish_.chuck) {
      add("chucks", wish_.chuck->value);
    } else {
      for (const char* id : kChucks) add("chucks", id);
    }
    add("cutting", family_of(part_.material.id));
    for (const char* folder : {"tools", "dialects"})
      for (const std::string& id : catalog::built_in_ids(folder)) add(folder, id);
    files.push_back({"typeface.yaml", {}});
    std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
    numbers_ = catalogue(files, own_, diagnostics_);
    return numbers_.has_value();
  }

  [[nodiscard]] std::string lathe() const { return wish_.lathe ? wish_.lathe->value : kLathe; }
  [[nodiscard]] std::string mill() const { return wish_.mill ? wish_.mill->value : kMill; }

  bool choose() {
    catalog::Shop& shop = numbers_->shop;
    const auto* lathe_found =
        chosen(shop.machines, "'lathe'", "machines", lathe(), wish_.lathe ? wish_.lathe->place : place(), diagnostics_);
    const auto* mill_found =
        chosen(shop.machines, "'mill'", "machines", mill(), wish_.mill ? wish_.mill->place : place(), diagnostics_);
    const catalog::Chuck* chuck = choose_chuck();
    const catalog::CuttingData* cutting = shop.cutting_for(part_.material.id);
    if (cutting == nullptr) {
      diagnostics_.error(
          Code::unknown_entry, wish_.place.line > 0 ? wish_.place : part_.material_place, part_.material.id,
          "no cutting data for '" + part_.material.id + "'; there are data for " +
              listed(catalog::built_in_ids("cutting")) + ", and your own may stand in a file of kind 'cutting'");
    }
    if (!lathe_found || !mill_found || !chuck || !cutting) return false;
    if (lathe_found->kind != catalog::Machine::Kind::lathe || mill_found->kind != catalog::Machine::Kind::mill) {
      diagnostics_.error(Code::unknown_choice, place(), "",
                         "'lathe' names a lathe and 'mill' a mill: '" + lathe() + "' and '" + mill() + "' are not");
      return false;
    }
    lathe_words_ = chosen(numbers_->dialects, "machine '" + lathe() + "'", "dialects", lathe_found->dialect, place(),
                          diagnostics_);
    mill_words_ =
        chosen(numbers_->dialects, "machine '" + mill() + "'", "dialects", mill_found->dialect, place(), diagnostics_);
    if (!lathe_words_ || !mill_words_ || !only_named_tools(shop)) return false;
    choice_ = {*lathe_found, *mill_found, *chuck, *cutting, shop, {}};
    choice_.stock.place = place();
    const auto given = [](const spec::Length& l) { return l ? std::optional<double>(l->value) : std::nullopt; };
    if (wish_.form) choice_.stock.form = wish_.form->value;
    choice_.stock.diameter = given(wish_.diameter);
    choice_.stock.length = given(wish_.length);
    choice_.stock.bore = given(wish_.bore);
    return true;
  }

  const catalog::Chuck* choose_chuck() {
    const auto& chucks = numbers_->shop.chucks;
    if (wish_.chuck) return chosen(chucks, "'chuck'", "chucks", wish_.chuck->value, wish_.chuck->place, diagnostics_);
    double wide = wish_.diameter ? wish_.diameter->value : 0;
    for (const part::Rim& r : part_.rims)
      for (const part::Side side : {part::Side::front, part::Side::rear})
        wide = std::max(wide, r.end_diameter(side) + 8);
    const catalog::Chuck* first = nullptr;
    for (const char* id : kChucks) {
      const auto found = chucks.find(id);
      if (found == chucks.end()) continue;
      if (first == nullptr) first = &found->second;
      if (wide >= found->second.grip_min && wide <= found->second.grip_max) return &found->second;
    }
    return first;
  }

  bool only_named_tools(catalog::Shop& shop) {
    if (wish_.tools.empty()) return true;
    std::set<std::string> named;
    bool all_known = true;
    for (const auto& tool : wish_.tools) {
      const bool known = shop.turning_tools.contains(tool.value) || shop.milling_tools.contains(tool.value);
      std::vector<std::string> ids;
      for (const auto& [id, t] : shop.turning_tools) ids.push_back(id);
      for (const auto& [id, t] : shop.milling_tools) ids.push_back(id);
      if (!known)
        diagnostics_.error(Code::unknown_entry, tool.place, tool.value,
                           "no tool '" + tool.value + "'; " + meant_or_known(tool.value, ids));
      all_known = all_known && known;
      named.insert(tool.value);
    }
    std::erase_if(shop.turning_tools, [&](const auto& t) { return !named.contains(t.first); });
    std::erase_if(shop.milling_tools, [&](const auto& t) { return !named.contains(t.first); });
    return all_known;
  }

  const part::Part& part_;
  const part::Machining& wish_;
  std::span<const TextFile> own_;
  Diagnostics& diagnostics_;
  std::optional<catalog::Catalog> numbers_;
  const nc::Dialect *lathe_words_ = nullptr, *mill_words_ = nullptr;
  toolpath::Choice choice_;
};

}  // namespace

bool plan_programs(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog,
                   Diagnostics& diagnostics) {
  if (!want.kinds.contains(Kind::program)) return true;
  const bool due = want.kinds_named || prepared.part.machining.place.line > 0;
  Diagnostics quiet;
  Diagnostics& told = due ? diagnostics : quiet;
  Chooser chooser(prepared.part, own_catalog, told);
  prepared.programs = chooser.make();
  if (prepared.programs) {
    prepared.typeface = chooser.typeface();
    prepared.programs->due = due;
  }
  if (prepared.programs || due) return prepared.programs.has_value();
  for (const Diagnostic& d : quiet.all()) {
    if (d.severity == Severity::error && prepared.no_programs.empty()) prepared.no_programs = d.message;
  }
  return true;
}

}  // namespace groovewright::job
