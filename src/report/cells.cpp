#include "cells.h"

namespace groovewright::report {
namespace {

/// A table cell: bars would end it, line breaks the row.
std::string cell(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '|')
      out += "\\|";
    else if (c == '\n')
      out += ' ';
    else
      out += c;
  }
  return out;
}

std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

}  // namespace

std::string markdown_row(const std::vector<std::string>& cells) {
  std::string out = "|";
  for (const auto& c : cells) out += " " + cell(c) + " |";
  return out + "\n";
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::string out;
  for (const auto& c : cells) out += (out.empty() ? "" : ",") + csv_cell(c);
  return out + "\r\n";
}

}  // namespace groovewright::report
