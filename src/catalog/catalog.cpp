#include "groovewright/catalog.h"

#include <algorithm>

#include "groovewright/base/broken.h"

namespace groovewright::catalog {
namespace {

/// The row whose range holds `size`: over the lower end, up to and including the upper.
template <class Row>
const Row* row_for(const std::vector<Row>& rows, double size) {
  const auto found =
      std::find_if(rows.begin(), rows.end(), [size](const Row& r) { return r.over < size && size <= r.up_to; });
  return found == rows.end() ? nullptr : &*found;
}

/// The id of the row that `line` is; "" where it is none.
std::string_view row_id(std::string_view line) {
  const std::size_t colon = line.find(": {");
  const bool is_row = colon != std::string_view::npos && line.ends_with('}') &&
                      line.substr(0, colon).find_first_of(" #") == std::string_view::npos;
  return is_row ? line.substr(0, colon) : std::string_view();
}

}  // namespace

TextFile only_rows(const TextFile& table, std::span<const std::string> ids) {
  TextFile narrowed{table.name, {}};
  std::size_t found = 0;
  for (std::string_view rest = table.text; !rest.empty();) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    const std::string_view id = row_id(line);
    const bool is_named = std::ranges::find(ids, id) != ids.end();
    if (is_named) ++found;
    if (id.empty() || is_named) narrowed.text += line;
    narrowed.text += '\n';
    rest.remove_prefix(std::min(line.size() + 1, rest.size()));
  }
  return ids.empty() || found < ids.size() ? table : narrowed;
}

double SteppedLimit::at(double effective_diameter, int grooves) const {
  require(effective_diameter > 0 && grooves >= 1, "SteppedLimit::at: diameter > 0 and at least one groove");
  const auto step =
      std::find_if(steps.begin(), steps.end(), [&](const Step& s) { return effective_diameter <= s.up_to; });
  require(step != steps.end(), "SteppedLimit::at: the last row must be open");
  const int extra = step->grooves > 0 ? std::max(0, grooves - step->grooves) : 0;
  return step->base + extra * step->per_extra + std::max(0.0, effective_diameter - step->over) * step->per_mm;
}

const Sourced& Catalog::rule(std::string_view id) const {
  const auto found = rules.find(std::string(id));
  if (found == rules.end()) throw Broken("Catalog::rule: no rule " + std::string(id));
  return found->second;
}

std::optional<Fit> Catalog::fit(std::string_view id, double nominal) const {
  const auto table = fits.find(std::string(id));
  if (table == fits.end()) return std::nullopt;
  const FitRow* row = row_for(table->second.rows, nominal);
  if (row == nullptr) return std::nullopt;
  return Fit{table->first, row->lower, row->upper, table->second.source};
}

std::vector<std::string> built_in_ids(std::string_view folder) {
  constexpr std::string_view kExtension = ".yaml";
  const std::string start = std::string(folder) + "/";
  std::vector<std::string> ids;
  for (const TextFile& f : built_in_files()) {
    if (!f.name.starts_with(start)) continue;
    ids.push_back(f.name.substr(start.size(), f.name.size() - start.size() - kExtension.size()));
  }
  return ids;
}

std::vector<std::string> Catalog::fit_names() const {
  std::vector<std::string> names;
  for (const auto& [name, table] : fits) names.push_back(name);
  return names;
}

std::optional<Key> Catalog::key_for(double bore) const {
  const Key* row = row_for(keys, bore);
  return row == nullptr ? std::nullopt : std::optional<Key>(*row);
}

std::optional<Key> Catalog::key_of_depth(double hub_depth) const {
  constexpr double kSame = 1e-9;
  const Key* best = nullptr;
  for (const Key& key : keys) {
    const bool holds = key.hub_depth >= hub_depth - kSame;
    const bool best_holds = best != nullptr && best->hub_depth >= hub_depth - kSame;
    const bool closer = best == nullptr || (holds ? !best_holds || key.hub_depth < best->hub_depth
                                                  : !best_holds && key.hub_depth > best->hub_depth);
    if (closer) best = &key;
  }
  return best == nullptr ? std::nullopt : std::optional<Key>(*best);
}

}  // namespace groovewright::catalog
