#include <algorithm>
#include <array>
#include <cmath>

#include "expression.h"
#include "groovewright/base/text.h"
#include "groovewright/nc.h"

namespace groovewright::nc {
namespace {

constexpr std::size_t kMostMistakes = 100;
constexpr double kMostLineNumber = 99999;                       // NIST IR 6556
constexpr std::string_view kLetters = "ABCDFGHIJKLMNPQRSTXYZ";  // NIST IR 6556, table of words
constexpr char kCommentMark = '(';                              // in a squeezed line: here stood a comment

/// A line without blanks and comments, in capitals, with the column of each character.
struct Squeezed {
  std::string text;
  std::vector<int> columns;
  std::string comment;
};

class Reader {
 public:
  Reader(std::string_view name, Diagnostics& diagnostics) : diagnostics_(diagnostics) { program_.name = name; }

  /// False where reading shall stop.
  bool line(std::string_view text);
  [[nodiscard]] bool clean() const { return mistakes_ == 0; }
  [[nodiscard]] Program program() && { return std::move(program_); }
  void error(Code code, int column, std::string_view fragment, std::string says);

 private:
  bool squeeze(std::string_view raw, Squeezed& out);
  bool comment(std::string_view raw, std::size_t& at, Squeezed& out);
  void block(const Squeezed& line);
  bool segment(Values& values, const Squeezed& line, std::size_t first);
  bool word(Values& values, const Squeezed& line, std::size_t first);
  bool setting(Values& values, const Squeezed& line);
  bool fail(const Squeezed& line, const Mistake& mistake);
  [[nodiscard]] int column(const Squeezed& line, std::size_t at) const;

  Diagnostics& diagnostics_;
  Program program_;
  Parameters parameters_;
  std::vector<std::pair<int, double>> settings_;  ///< of this line: they hold from the next on
  Block block_;
  int line_ = 0;
  int percents_ = 0;
  std::size_t mistakes_ = 0;
};

void Reader::error(Code code, int column, std::string_view fragment, std::string says) {
  ++mistakes_;
  diagnostics_.error(code, {program_.name, line_, column}, one_line(fragment), std::move(says));
}

int Reader::column(const Squeezed& line, std::size_t at) const {
  if (at < line.columns.size()) return line.columns[at];
  return line.columns.empty() ? 1 : line.columns.back() + 1;
}

bool Reader::fail(const Squeezed& line, const Mistake& m) {
  error(m.code, column(line, m.at), line.text.substr(std::min(m.at, line.text.size()), m.length), m.says);
  return false;
}

bool Reader::comment(std::string_view raw, std::size_t& at, Squeezed& out) {
  const int from = static_cast<int>(at) + 1;
  const std::size_t end = raw.find_first_of("()", at + 1);
  if (end == std::string_view::npos || raw[end] == '(') {
    error(Code::nc_comment, from, raw.substr(at, 20),
          end == std::string_view::npos ? "this comment has no end; write ')' on the same line"
                                        : "a comment can't hold another; write its brackets as [ ]");
    return false;
  }
  if (!out.comment.empty()) out.comment += ' ';
  out.comment += raw.substr(at + 1, end - at - 1);
  out.text += kCommentMark;
  out.columns.push_back(from);
  at = end;
  return true;
}

/// NIST IR 6556: blanks and tabs mean nothing, even within numbers; case does not count.
bool Reader::squeeze(std::string_view raw, Squeezed& out) {
  for (std::size_t at = 0; at < raw.size(); ++at) {
    const char c = raw[at];
    if (c == '(') {
      if (!comment(raw, at, out)) return false;
    } else if (c == ';') {
      if (!out.comment.empty()) out.comment += ' ';
      out.comment += raw.substr(at + 1);
      return true;
    } else if (c == ')') {
      error(Code::nc_comment, static_cast<int>(at) + 1, ")", "no comment is open here; '(' begins one");
      return false;
    } else if (c != ' ' && c != '\t') {
      out.text += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
      out.columns.push_back(static_cast<int>(at) + 1);
    }
  }
  return true;
}

bool Reader::line(std::string_view raw) {
  ++line_;
  if (raw.ends_with('\r')) raw.remove_suffix(1);
  const auto bad = std::ranges::find_if(raw, [](char c) { return (c >= 0 && c < ' ' && c != '\t') || c == 127; });
  if (bad != raw.end()) {
    error(Code::nc_not_a_text, static_cast<int>(bad - raw.begin()) + 1, {&*bad, 1},
          "a control character; a program is plain text");
    return mistakes_ < kMostMistakes;
  }
  Squeezed line;
  if (squeeze(raw, line)) {
    if (line.text == "%") return ++percents_ < 2;  // NIST IR 6556: nothing behind the second counts
    block(line);
  }
  return mistakes_ < kMostMistakes;
}

void Reader::block(const Squeezed& line) {
  block_ = {line_, {}, line.comment};
  settings_.clear();
  Values values(line.text, parameters_);
  const std::size_t first = line.text.starts_with('/') ? 1 : 0;
  values.at = first;
  while (values.at < line.text.size()) {
    if (!segment(values, line, first)) return;
  }
  for (const auto& [number, value] : settings_) parameters_[number] = value;
  if (!block_.words.empty() || !block_.comment.empty()) program_.blocks.push_back(block_);
}

bool Reader::segment(Values& values, const Squeezed& line, std::size_t first) {
  const char c = line.text[values.at];
  if (c == kCommentMark) {
    ++values.at;
    return true;
  }
  if (c == '#') return setting(values, line);
  if (kLetters.find(c) != std::string_view::npos) return word(values, line, first);
  const bool letter = c >= 'A' && c <= 'Z';
  return fail(line,
              {Code::nc_word, values.at, 1,
               letter ? std::string(1, c) + " begins no word here; there are A B C D F G H I J K L M N P Q R S T X Y Z"
                      : "a word is due here: a letter and a number, as X12.5"});
}

bool Reader::word(Values& values, const Squeezed& line, std::size_t first) {
  const std::size_t from = values.at;
  const char letter = line.text[values.at++];
  const auto value = values.value();
  if (!value) return fail(line, *values.mistake);
  const std::size_t length = values.at - from;
  if (letter == 'N') {
    const bool fits = from == first && *value >= 0 && *value <= kMostLineNumber && *value == std::round(*value);
    return fits || fail(line, {Code::nc_word, from, length, "a line's number stands first and is 0 to 99999"});
  }
  const bool twice = letter != 'G' && letter != 'M' && std::ranges::count(block_.words, letter, &Word::letter) > 0;
  if (twice) return fail(line, {Code::nc_word, from, length, std::string(1, letter) + " stands twice in this block"});
  block_.words.push_back({letter, *value});
  return true;
}

bool Reader::setting(Values& values, const Squeezed& line) {
  const std::size_t from = values.at;
  const auto number = values.parameter_number();
  if (!number) return fail(line, *values.mistake);
  if (values.at >= line.text.size() || line.text[values.at] != '=') {
    return fail(line, {Code::nc_parameter, from, values.at - from,
                       "a parameter is set as `#1 = 0.5`, or stands behind a letter"});
  }
  ++values.at;
  const auto value = values.value();
  if (!value) return fail(line, *values.mistake);
  settings_.emplace_back(*number, *value);
  return true;
}

}  // namespace

std::optional<Program> read(std::string_view name, std::string_view text, Diagnostics& diagnostics) {
  Reader reader(name, diagnostics);
  if (text.size() > kMaxProgramBytes) {
    reader.error(Code::nc_not_a_text, 0, "", "a program has at most 16 MiB");
    return std::nullopt;
  }
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    if (!reader.line(text.substr(0, end))) break;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  if (!reader.clean()) return std::nullopt;
  return std::move(reader).program();
}

}  // namespace groovewright::nc
