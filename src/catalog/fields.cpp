#include "fields.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"

namespace groovewright::catalog {
namespace {

using yaml::Node;

/// Stands for what is missing, once that has been reported: a map without keys.
const Node& nothing() {
  static const Node node{Node::Kind::map, {}, {}, false, {}, {}};
  return node;
}

bool is_nothing(const Node& node) { return &node == &nothing(); }

std::string in_quotes(std::string_view text) { return "'" + std::string(text) + "'"; }

std::string as_written(const Node& node) { return node.kind == Node::Kind::scalar ? node.scalar : std::string(); }

std::string example_of(Unit unit) {
  return unit.own.empty() ? groovewright::example_of(unit.measure) : "2.5 " + std::string(unit.own);
}

std::string allowed_units(Unit unit) {
  return unit.own.empty() ? groovewright::allowed_units(unit.measure) : std::string(unit.own);
}

Quantity read(std::string_view text, Unit unit, std::string_view bare_length_unit) {
  if (unit.own.empty()) return read_quantity(text, unit.measure, bare_length_unit);
  const Quantity plain = read_quantity(text, Measure::plain);
  if (plain.error == QuantityError::none) return {0, QuantityError::missing_unit};
  if (!text.ends_with(unit.own)) return plain;
  text.remove_suffix(unit.own.size());
  return read_quantity(text, Measure::plain);
}

}  // namespace

Fields::Fields(const Node& file, Diagnostics& diagnostics)
    : map_(file), diagnostics_(diagnostics), problems_before_(diagnostics.all().size()) {
  if (has("source")) source_ = own_source();
  if (!has("units")) return;
  const Node& units = node("units", "mm");
  bare_length_unit_ = as_written(units);
  if (bare_length_unit_ == "mm" || bare_length_unit_ == "in") return;
  error(Code::unknown_choice, units, "'units' is mm or in");
  bare_length_unit_.clear();
}

Fields::Fields(const Node& map, const Fields& outer)
    : map_(map.kind == Node::Kind::map ? map : nothing()),
      diagnostics_(outer.diagnostics_),
      problems_before_(outer.problems_before_),
      source_(outer.source_),
      bare_length_unit_(outer.bare_length_unit_) {
  if (map.kind != Node::Kind::map) error(Code::wrong_kind, map, "a map of keys is due here, as {value: …, source: …}");
  if (has("source")) source_ = own_source();
}

const Node* Fields::find(std::string_view key) {
  if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.emplace_back(key);
  return map_.find(key);
}

bool Fields::has(std::string_view key) { return find(key) != nullptr; }

const Node& Fields::node(std::string_view key, std::string_view example) {
  if (const Node* found = find(key)) return *found;
  const bool told = std::any_of(missing_.begin(), missing_.end(), [&](const Missing& m) { return m.key == key; });
  if (!is_nothing(map_) && !told) missing_.push_back({std::string(key), std::string(example)});
  return nothing();
}

Fields Fields::map(std::string_view key) { return Fields(node(key, "{…}"), *this); }

std::string Fields::word(std::string_view key, std::string_view example) {
  const Node& value = node(key, example);
  if (is_nothing(value)) return {};
  if (value.kind != Node::Kind::scalar || value.scalar.empty()) {
    error(Code::wrong_kind, value, in_quotes(key) + " takes a text, as `" + std::string(example) + "`");
    return {};
  }
  return value.scalar;
}

std::string Fields::own_source() {
  const std::string source = word("source", "from memory");
  return source.empty() ? "?" : source;  // reported once, not again for each number inside
}

double Fields::number(std::string_view key, Unit unit, Sign sign) {
  return number(node(key, example_of(unit)), unit, sign);
}

double Fields::number(const Node& value, Unit unit, Sign sign) const {
  if (is_nothing(value)) return 0;
  if (value.kind != Node::Kind::scalar) {
    error(Code::wrong_kind, value, "a single value is due here, as " + example_of(unit));
    return 0;
  }
  const Quantity read_value = read(value.scalar, unit, bare_length_unit_);
  switch (read_value.error) {
    case QuantityError::not_a_number:
      error(Code::not_a_number, value, in_quotes(value.scalar) + " is not a number; write it as " + example_of(unit));
      return 0;
    case QuantityError::missing_unit:
      error(Code::missing_unit, value, in_quotes(value.scalar) + " lacks its unit; write it as " + example_of(unit));
      return 0;
    case QuantityError::wrong_unit:
      error(Code::wrong_unit, value,
            in_quotes(value.scalar) + " has a unit that does not fit here; allowed: " + allowed_units(unit));
      return 0;
    case QuantityError::none:
      break;
  }
  if (sign == Sign::positive && read_value.value <= 0) {
    error(Code::out_of_range, value, in_quotes(value.scalar) + " must be greater than zero");
  } else if (sign == Sign::zero_too && read_value.value < 0) {
    error(Code::out_of_range, value, in_quotes(value.scalar) + " must not be less than zero");
  }
  return read_value.value;
}

Sourced Fields::sourced(std::string_view key, Unit unit, Sign sign) {
  const Node& value = node(key, example_of(unit));
  if (is_nothing(value)) return {};
  if (value.kind == Node::Kind::scalar) {
    if (source_.empty()) {
      error(Code::missing_key, value,
            "this number has no source; write {value: " + value.scalar +
                ", source: …} or give a `source` for the whole file, as `source: from memory`");
    }
    return {number(value, unit, sign), source_};
  }
  Fields inner(value, *this);
  Sourced result{inner.number("value", unit, sign), inner.source()};
  inner.finish();
  return result;
}

int Fields::count(std::string_view key) {
  const Node& value = node(key, "6");
  const double read_value = number(value, kPlain, Sign::positive);
  if (read_value == std::floor(read_value) && read_value <= 1000) return static_cast<int>(read_value);
  error(Code::bad_count, value, in_quotes(key) + " takes a whole number up to 1000");
  return 0;
}

std::vector<double> Fields::numbers(std::string_view key) {
  const Node& value = node(key, "[1, 2, 3]");
  std::vector<double> result;
  for (const Node& item : list(value)) result.push_back(number(item, kPlain, Sign::any));
  return result;
}

const std::vector<Node>& Fields::list(const Node& value) const {
  if (value.kind != Node::Kind::list && !is_nothing(value))
    error(Code::wrong_kind, value, "a list is due here, as […]");
  return value.items;
}

std::vector<const yaml::Entry*> Fields::rest() {
  std::vector<const yaml::Entry*> result;
  for (const yaml::Entry& entry : map_.entries) {
    if (std::find(known_.begin(), known_.end(), entry.key) == known_.end()) result.push_back(&entry);
  }
  for (const yaml::Entry* entry : result) known_.push_back(entry->key);
  return result;
}

const std::string& Fields::source() const {
  if (source_.empty() && !is_nothing(map_)) {
    diagnostics_.error(Code::missing_key, map_.place, "source",
                       "'source' is missing: say where these numbers come from, as `source: from memory`");
  }
  return source_;
}

void Fields::error(Code code, const Node& at, std::string message) const {
  if (!is_nothing(at)) diagnostics_.error(code, at.place, as_written(at), std::move(message));
}

void Fields::finish() {
  const auto is_known = [&](const std::string& key) {
    return std::find(known_.begin(), known_.end(), key) != known_.end();
  };
  std::vector<Missing> missing = missing_;
  for (const yaml::Entry& entry : map_.entries) {
    if (is_known(entry.key)) continue;
    std::vector<std::string> absent;
    for (const Missing& m : missing) absent.push_back(m.key);
    const std::string meant = nearest(entry.key, absent);
    diagnostics_.error(Code::unknown_key, entry.key_place, entry.key,
                       in_quotes(entry.key) + " is not a key of this map; " +
                           meant_or_known(entry.key, meant.empty() ? known_ : absent));
    std::erase_if(missing, [&](const Missing& m) { return m.key == meant; });
  }
  for (const Missing& m : missing) {
    diagnostics_.error(Code::missing_key, map_.place, m.key,
                       in_quotes(m.key) + " is missing here; write it as `" + m.key + ": " + m.example + "`");
  }
}

}  // namespace groovewright::catalog
