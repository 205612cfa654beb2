#include "groovewright/base/json.h"

#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright {
namespace {

constexpr std::size_t kIndent = 2;

std::string control_escape(char c) {
  switch (c) {
    case '\n':
      return "\\n";
    case '\r':
      return "\\r";
    case '\t':
      return "\\t";
    default:
      constexpr std::string_view kHex = "0123456789abcdef";
      return std::string("\\u00") + kHex[static_cast<unsigned char>(c) >> 4] +
             kHex[static_cast<unsigned char>(c) & 0xF];
  }
}

}  // namespace

std::string json_quoted(std::string_view text) {
  std::string out = "\"";
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    const std::size_t length = utf8_length(text, at);
    if (length == 0) {
      out += "\\ufffd";  // JSON must be UTF-8; a file name need not be
    } else if (c == '"' || c == '\\') {
      out.append("\\").append(1, c);
    } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) {
      out += control_escape(c);
    } else {
      out += text.substr(at, length);
    }
    at += length == 0 ? 1 : length;
  }
  return out += '"';
}

void JsonWriter::line_break() {
  if (!compact_) out_.append("\n").append(kIndent * open_.size(), ' ');
}

void JsonWriter::before_value() {
  if (open_.empty()) {
    require(out_.empty(), "JSON: one value a document");
  } else if (open_.back() == '{') {
    require(after_key_, "JSON: a key before every value of an object");
  } else {
    if (!first_) out_ += ',';
    line_break();
  }
  after_key_ = false;
  first_ = false;
}

JsonWriter& JsonWriter::key(std::string_view k) {
  require(!open_.empty() && open_.back() == '{' && !after_key_, "JSON: a key stands in an object, after a value");
  if (!first_) out_ += ',';
  line_break();
  out_.append(json_quoted(k)).append(compact_ ? ":" : ": ");
  after_key_ = true;
  return *this;
}

JsonWriter& JsonWriter::begin(char bracket) {
  before_value();
  out_ += bracket;
  open_.push_back(bracket);
  first_ = true;
  return *this;
}

JsonWriter& JsonWriter::end(char opening, char closing) {
  require(!open_.empty() && open_.back() == opening && !after_key_, "JSON: brackets close in order, after a value");
  open_.pop_back();
  if (!first_) line_break();
  out_ += closing;
  first_ = false;
  return *this;
}

JsonWriter& JsonWriter::begin_object() { return begin('{'); }
JsonWriter& JsonWriter::end_object() { return end('{', '}'); }
JsonWriter& JsonWriter::begin_array() { return begin('['); }
JsonWriter& JsonWriter::end_array() { return end('[', ']'); }

JsonWriter& JsonWriter::write(std::string_view json) {
  before_value();
  out_ += json;
  return *this;
}

JsonWriter& JsonWriter::value(std::string_view v) { return write(json_quoted(v)); }
JsonWriter& JsonWriter::value(int v) { return write(std::to_string(v)); }
JsonWriter& JsonWriter::value(bool v) { return write(v ? "true" : "false"); }
JsonWriter& JsonWriter::null() { return write("null"); }

JsonWriter& JsonWriter::raw(std::string_view json) {
  while (json.ends_with('\n')) json.remove_suffix(1);
  return write(json);
}

JsonWriter& JsonWriter::value(double v) {
  require(std::isfinite(v), "JSON: numbers are finite");
  return write(shortest(v));
}

std::string JsonWriter::text() const {
  require(open_.empty() && !out_.empty(), "JSON: the text is asked for when everything is closed");
  return compact_ ? out_ : out_ + '\n';
}

}  // namespace groovewright
