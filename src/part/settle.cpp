#include "settle.h"

#include <algorithm>

#include "groovewright/base/text.h"

namespace groovewright::part {

using catalog::Fit;
using catalog::Thread;

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

std::string defaulted(const std::string& why) { return "default, " + why; }

Settled from_spec(const spec::Written<double>& written) { return {written.value, kFromSpec, written.place}; }

std::vector<std::string> with_built_in(std::vector<std::string> read, const std::string& folder) {
  const auto built_in = catalog::built_in_ids(folder);
  read.insert(read.end(), built_in.begin(), built_in.end());
  std::sort(read.begin(), read.end());
  read.erase(std::unique(read.begin(), read.end()), read.end());
  return read;
}

Settled Settler::or_rule(const spec::Length& written, const char* id) const {
  if (written) return from_spec(*written);
  return {rule(id).value, defaulted(rule(id).source)};
}

std::optional<Fit> Settler::fit(const spec::Word& written, const char* otherwise, double nominal,
                                const Place& place) const {
  const std::string id = value_or(written, std::string(otherwise));
  const Place& at = written ? written->place : place;
  const auto names = catalog_.fit_names();
  if (std::find(names.begin(), names.end(), id) == names.end()) {
    unknown(at, "fit class", id, names);
    return std::nullopt;
  }
  auto fit = catalog_.fit(id, nominal);
  if (!fit) error(Code::unknown_entry, at, id, "the ISO 286 tables here hold no " + id + " for " + mm(nominal));
  return fit;
}

const Thread* Settler::thread(const spec::Written<std::string>& size) const {
  const auto& threads = catalog_.threads;
  if (const auto it = threads.find(size.value); it != threads.end()) return &it->second;
  std::vector<std::string> known = ids_of(threads);
  std::sort(known.begin(), known.end(),
            [&](const auto& a, const auto& b) { return threads.at(a).diameter < threads.at(b).diameter; });
  unknown(size.place, "thread", size.value, known);
  return nullptr;
}

void Settler::error(Code code, const Place& place, std::string fragment, std::string message) const {
  diagnostics_.error(code, place, std::move(fragment), std::move(message));
}

void Settler::unknown(const Place& place, const std::string& kind, const std::string& id,
                      const std::vector<std::string>& known) const {
  error(Code::unknown_entry, place, id, "no " + kind + " '" + id + "'; " + meant_or_known(id, known));
}

}  // namespace groovewright::part
