// diagnostics.h: the person's mistakes: collected, so that one run shows them all.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace groovewright {

/// Where a value stands in a text. Lines and columns count from 1 (columns in bytes); 0 means the whole file.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
};

/// Stable numbers: tests and editors may rely on them; never renumbered. A hundred a room.
enum class Code : int {
  // 0xx: the text itself (yaml)
  not_readable = 1,
  too_large = 2,
  bad_bytes = 3,
  bad_yaml = 4,
  not_a_plain_document = 5,  // alias, anchor, tag, second document
  duplicate_key = 6,
  too_many_nodes = 7,
  too_deep = 8,
  // 1xx: words (spec, catalog)
  unknown_key = 101,
  missing_key = 102,
  wrong_kind = 103,
  not_a_number = 104,
  missing_unit = 105,
  wrong_unit = 106,
  out_of_range = 107,
  unknown_choice = 108,
  one_of_keys = 109,  // two given where one is due, or none
  bad_name = 110,
  bad_count = 111,
  reference_escapes = 112,
  reference_missing = 113,
  unknown_entry = 114,  // no such section, material, thread … in the catalogue
  bad_catalog = 115,
  // 2xx: meaning (part)
  two_sizes = 201,
  does_not_fit = 202,    // features collide or leave the part
  outside_limits = 203,  // a radius or distance outside the standard's limits
  needs_more = 204,      // a feature that needs another value to be settled
  not_drawable = 205,    // characters that the drawing's typeface lacks
  // 3xx: command line and disk (cli)
  usage = 301,
  same_name_twice = 302,
  // 4xx: programs of machine tools (nc)
  nc_not_a_text = 401,  // control characters, too large
  nc_word = 402,        // no letter, a letter that is none, a word twice
  nc_number = 403,
  nc_expression = 404,
  nc_parameter = 405,
  nc_comment = 406,
  // 5xx: the shop (toolpath)
  no_tool = 501,          // none of the shop's tools reaches or fits
  stock_too_small = 502,  // bar or blank
  machine_too_small = 503,
};

enum class Severity { error, warning };

struct Diagnostic {
  Code code{};
  Place place;
  std::string fragment;  ///< the offending piece of the input, as written ("" where there is none)
  std::string message;   ///< what is wrong, what is allowed, how to mend it
  Severity severity = Severity::error;
};

/// `file:line:column: error: message [E0203]`, the way compilers write it. One line, no line break at the end.
[[nodiscard]] std::string to_text(const Diagnostic& d);

/// How many are shown before "and N more".
inline constexpr std::size_t kMaxShownDiagnostics = 50;

/// The collector that every reading function takes last.
class Diagnostics {
 public:
  void add(Diagnostic d);
  void error(Code code, Place place, std::string fragment, std::string message);
  [[nodiscard]] bool has_errors() const { return errors_ > 0; }
  [[nodiscard]] const std::vector<Diagnostic>& all() const { return all_; }
  /// All of them, a line each, in the order found, at most `kMaxShownDiagnostics` and then a count.
  [[nodiscard]] std::string text() const;

 private:
  std::vector<Diagnostic> all_;
  std::size_t errors_ = 0;
};

/// The nearest of `allowed` to `word` by edit distance, or "" where none is near enough to be meant.
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string>& allowed);

/// The end of a message about a word that is none of `allowed`: "did you mean 'bolts'?" where one or two are nearest,
/// else "there are PH, PJ and PK": M7 is as near to M3 as to M8.
[[nodiscard]] std::string meant_or_known(std::string_view word, const std::vector<std::string>& allowed);

}  // namespace groovewright
