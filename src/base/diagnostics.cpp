#include "groovewright/base/diagnostics.h"

#include <algorithm>
#include <utility>

#include "groovewright/base/text.h"

namespace groovewright {
namespace {

std::string place_text(const Place& place) {
  std::string out = place.file;
  if (place.line > 0) {
    out += ':' + std::to_string(place.line);
    if (place.column > 0) out += ':' + std::to_string(place.column);
  }
  return out;
}

std::string code_text(Code code) {
  const std::string digits = std::to_string(static_cast<int>(code));
  return 'E' + std::string(digits.size() < 4 ? 4 - digits.size() : 0, '0') + digits;
}

std::string lower_case(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

/// Damerau-Levenshtein, restricted: insertions, deletions, changes and swaps of neighbours, each costing one.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before_last.swap(last);
    last.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row.back();
}

/// Those of `allowed` that are nearest to `word` and near enough to be meant. Case counts only between equals.
std::vector<std::string> all_nearest(std::string_view word, const std::vector<std::string>& allowed) {
  const std::string wanted = lower_case(word);
  std::vector<std::string> best;
  std::pair<std::size_t, std::size_t> best_distance;
  for (const std::string& candidate : allowed) {
    const auto [shorter, longer] = std::minmax({wanted.size(), candidate.size()});
    const std::size_t limit = std::max<std::size_t>(1, longer / 3);
    if (longer - shorter > limit) continue;  // also keeps a huge word from costing a huge table
    const std::pair distance{edit_distance(wanted, lower_case(candidate)), edit_distance(word, candidate)};
    // A lone letter resembles every other one.
    const bool meant = distance.first <= limit && distance.first < longer;
    if (!meant || (!best.empty() && distance > best_distance)) continue;
    if (best.empty() || distance < best_distance) best.clear();
    best.push_back(candidate);
    best_distance = distance;
  }
  return best;
}

}  // namespace

std::string to_text(const Diagnostic& d) {
  std::string out = place_text(d.place);
  if (!out.empty()) out += ": ";
  out += d.severity == Severity::error ? "error: " : "warning: ";
  return one_line(out + d.message + " [" + code_text(d.code) + ']');
}

void Diagnostics::add(Diagnostic d) {
  if (d.severity == Severity::error) ++errors_;
  all_.push_back(std::move(d));
}

void Diagnostics::error(Code code, Place place, std::string fragment, std::string message) {
  add({code, std::move(place), std::move(fragment), std::move(message), Severity::error});
}

std::string Diagnostics::text() const {
  const std::size_t shown = std::min(all_.size(), kMaxShownDiagnostics);
  std::string out;
  for (std::size_t i = 0; i < shown; ++i) out += to_text(all_[i]) + '\n';
  if (all_.size() > shown) out += "and " + std::to_string(all_.size() - shown) + " more\n";
  return out;
}

std::string nearest(std::string_view word, const std::vector<std::string>& allowed) {
  const std::vector<std::string> near = all_nearest(word, allowed);
  return near.empty() ? std::string() : near.front();
}

std::string meant_or_known(std::string_view word, const std::vector<std::string>& allowed) {
  constexpr std::size_t kMostGuesses = 2;
  std::vector<std::string> near = all_nearest(word, allowed);
  if (near.empty() || near.size() > kMostGuesses) return "there are " + listed(allowed);
  for (std::string& n : near) n = "'" + n + "'";
  return "did you mean " + listed(near, "or") + "?";
}

}  // namespace groovewright
