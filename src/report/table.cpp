#include "groovewright/report/table.h"

#include "cells.h"
#include "groovewright/report.h"

namespace groovewright::report {
namespace {

/// The column's unit as it is shown.
std::string unit_of(const Column& c, Units units) { return c.unit.empty() ? "" : shown(0, c.unit, units).unit; }

std::string text_of(const Cell& cell, const Column& c, Units units) {
  if (const auto* number = std::get_if<double>(&cell)) return shown(*number, c.unit, units).value;
  if (const auto* words = std::get_if<std::string>(&cell)) return remark(*words, units);
  return "";
}

std::vector<std::string> texts_of(const Table& t, const std::vector<Cell>& row, Units units) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < t.columns.size(); ++i) out.push_back(text_of(row[i], t.columns[i], units));
  return out;
}

std::string with_unit(const std::string& name, const std::string& unit) {
  return unit.empty() ? name : name + " (" + unit + ")";
}

}  // namespace

std::string to_markdown(const Table& t, Units units) {
  std::string out = "## " + t.title + "\n\n", line = "|";
  std::vector<std::string> heads;
  for (const Column& c : t.columns) {
    heads.push_back(with_unit(c.label, unit_of(c, units)));
    line += c.unit.empty() ? "---|" : "--:|";
  }
  out += markdown_row(heads) + line + "\n";
  for (const auto& row : t.rows) out += markdown_row(texts_of(t, row, units));
  return out;
}

std::string to_csv(const Table& t, Units units) {
  std::vector<std::string> heads;
  for (const Column& c : t.columns) heads.push_back(with_unit(c.id, unit_of(c, units)));
  std::string out = csv_row(heads);
  for (const auto& row : t.rows) out += csv_row(texts_of(t, row, units));
  return out;
}

void write_table(JsonWriter& json, const Table& t) {
  json.key(t.id).begin_array();
  for (const auto& row : t.rows) {
    json.begin_object();
    for (std::size_t i = 0; i < t.columns.size(); ++i) {
      json.key(t.columns[i].id);
      if (const auto* number = std::get_if<double>(&row[i])) {
        json.value(cut(*number));
      } else if (const auto* words = std::get_if<std::string>(&row[i])) {
        json.value(*words);
      } else {
        json.null();
      }
    }
    json.end_object();
  }
  json.end_array();
}

}  // namespace groovewright::report
