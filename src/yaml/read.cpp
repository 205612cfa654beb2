#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <map>
#include <sstream>
#include <utility>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/yaml.h"

namespace groovewright::yaml {
namespace {

/// Thrown out of the parser where going on would be pointless or unbounded; the reason is in the diagnostics already.
struct Stop {};

constexpr std::size_t kShownBytes = 40;
constexpr const char* kNoAliases =
    "aliases (*) are not used here: write the value again, or put it in quotes if it starts with '*'";
constexpr std::string_view kByteOrderMark = "\uFEFF";

// ---- The text before the parser sees it: what yaml-cpp would mend silently or choke on.

bool is_allowed(std::string_view character) {
  return character == "\t" || character == "\n" || (!is_control(character) && character != kByteOrderMark);
}

/// The first byte of `text` that is not UTF-8 or starts a character that we refuse; npos where all is well.
std::size_t first_refused(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = utf8_length(text, at);
    if (length == 0 || !is_allowed(text.substr(at, length))) return at;
    at += length;
  }
  return std::string_view::npos;
}

std::string why_refused(std::string_view text, std::size_t at) {
  const std::string_view rest = text.substr(at);
  if (rest.starts_with("\xFF\xFE") || rest.starts_with("\xFE\xFF"))
    return "this looks like UTF-16: save the file as UTF-8";
  if (rest.front() == '\0') return "a NUL byte: this is no text, or it is UTF-16: save the file as UTF-8";
  if (rest.starts_with(kByteOrderMark)) return "a byte-order mark: save the file as UTF-8 without one";
  if (rest.front() == '\r') return "a carriage return alone: end the lines with LF or CR LF";
  const std::size_t length = utf8_length(text, at);
  const std::string bytes = one_line(rest.substr(0, std::max<std::size_t>(1, length)));
  if (length == 0) {
    return "the byte " + bytes + " is not UTF-8: save the file as UTF-8 (it may be Latin-1 or Windows-1252 now)";
  }
  return "the control character " + bytes + " has no place in a document: remove it";
}

/// Where the line's own text begins: behind blanks and the dashes of list items; its size where there is none.
std::size_t indentation(std::string_view line) {
  std::size_t at = 0;
  while (at < line.size()) {
    const bool blank = line[at] == ' ' || line[at] == '\t';
    const bool dash = line[at] == '-' && at + 1 < line.size() && (line[at + 1] == ' ' || line[at + 1] == '\t');
    if (!blank && !dash) break;
    ++at;
  }
  return at;
}

/// Looks at one line without its end. False where looking further would only repeat the same.
bool check_line(std::string_view line, const Place& start, Diagnostics& diagnostics) {
  const auto at_column = [&](std::size_t at) { return Place{start.file, start.line, static_cast<int>(at) + 1}; };
  const std::size_t refused = first_refused(line);
  if (refused != std::string_view::npos) {
    diagnostics.error(Code::bad_bytes, at_column(refused), std::string(line.substr(refused, 1)),
                      why_refused(line, refused));
    return line[refused] != '\0';
  }
  const std::size_t tab = line.find('\t');
  if (tab < indentation(line)) {
    diagnostics.error(Code::bad_yaml, at_column(tab), "\t", "a tab in the indentation: indent with spaces only");
  }
  return true;
}

/// Checks bytes and indentation line by line; at most as many complaints as are shown.
bool check_text(const std::string& text, const std::string& name, Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.all().size();
  const std::string_view all = text;
  Place place{name, 0, 0};
  for (std::size_t at = 0; at < all.size();) {
    const std::size_t end = std::min(all.find('\n', at), all.size());
    ++place.line;
    if (!check_line(all.substr(at, end - at), place, diagnostics)) break;
    if (diagnostics.all().size() - before >= kMaxShownDiagnostics) break;
    at = end + 1;
  }
  return diagnostics.all().size() == before;
}

/// LF at every line's end, also the last: without it the parser reports an unclosed quote where the file ends, not
/// where the quote stands.
std::string with_plain_line_ends(std::string_view text) {
  std::string out;
  out.reserve(text.size() + 1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!text.substr(i).starts_with("\r\n")) out += text[i];
  }
  if (!out.empty() && out.back() != '\n') out += '\n';
  return out;
}

// ---- The parser's events.

/// Where the quote opened at `at` closes; npos where it never does.
std::size_t closing_quote(std::string_view text, std::size_t at) {
  const char quote = text[at];
  for (std::size_t i = at + 1; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == quote) {
      const bool doubled = quote == '\'' && i + 1 < text.size() && text[i + 1] == quote;
      if (!doubled) return i;
      ++i;
    }
  }
  return std::string_view::npos;
}

std::string_view without_comment(std::string_view line) {
  return line.starts_with('#') ? std::string_view() : line.substr(0, line.find(" #"));
}

/// Builds our nodes, counts them, and collects what is refused.
class Builder : public YAML::EventHandler {
 public:
  Builder(const std::string& text, const std::string& name, Diagnostics& diagnostics)
      : text_(text), name_(name), diagnostics_(diagnostics) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override;
  void OnAnchor(const YAML::Mark& mark, const std::string& anchor) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t, const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value style) override {
    open(Node::Kind::list, mark, tag);
    open_.back().dashed = style == YAML::EmitterStyle::Block;
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t, YAML::EmitterStyle::value) override {
    open(Node::Kind::map, mark, tag);
  }
  void OnMapEnd() override { close(); }

  /// The finished tree, once: nothing where the document was empty.
  [[nodiscard]] std::optional<Node> take_root() { return std::move(root_); }
  [[nodiscard]] Place place(const YAML::Mark& mark) const {
    if (mark.is_null()) return {name_, 0, 0};
    return {name_, mark.line + 1, mark.column + 1};
  }
  /// The quoted text over several lines that was read last, where one was: the first suspect when the rest is broken.
  [[nodiscard]] const std::optional<Place>& long_quote() const { return long_quote_; }

 private:
  /// A list or map not yet closed.
  struct Open {
    Node node;
    bool dashed = false;  ///< a list with a dash for each item
    std::map<std::string, int> key_lines;
    std::optional<Entry> entry;  ///< maps: a key that waits for its value
    bool usable = true;          ///< maps: false where that entry was refused and its value is dropped
  };

  void open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag);
  void close();
  void add(Node node);
  void add_key(Open& map, Node key);
  void count(const Place& at);
  void check_tag(const YAML::Mark& mark, const std::string& tag);
  void check_scalar(const YAML::Mark& mark, const std::string& value);
  [[nodiscard]] Place place_of_null(const YAML::Mark& mark) const;
  [[nodiscard]] Place place_of_item(const YAML::Mark& mark) const;
  [[nodiscard]] char char_at(const YAML::Mark& mark) const;

  const std::string& text_;
  const std::string& name_;
  Diagnostics& diagnostics_;
  std::vector<Open> open_;
  std::optional<Node> root_;
  std::size_t nodes_ = 0;
  std::optional<Place> long_quote_;
};

char Builder::char_at(const YAML::Mark& mark) const {
  const auto at = static_cast<std::size_t>(mark.pos);
  return mark.is_null() || at >= text_.size() ? '\0' : text_[at];
}

void Builder::count(const Place& at) {
  if (++nodes_ <= kMaxNodes) return;
  diagnostics_.error(Code::too_many_nodes, at, "",
                     "more than " + std::to_string(kMaxNodes) + " keys and values in one file: split it");
  throw Stop{};
}

void Builder::check_tag(const YAML::Mark& mark, const std::string& tag) {
  if (char_at(mark) != '!' && (tag == "?" || tag == "!")) return;  // what the parser says where no tag is written
  diagnostics_.error(Code::not_a_plain_document, place(mark), tag,
                     "tags (!) are not used here: remove it, or put the value in quotes if it starts with '!'");
}

void Builder::check_scalar(const YAML::Mark& mark, const std::string& value) {
  const char first = char_at(mark);
  if (first != '"' && first != '\'') return;
  const auto from = static_cast<std::size_t>(mark.pos);
  const std::size_t to = closing_quote(text_, from);
  if (to == std::string::npos) {
    diagnostics_.error(Code::bad_yaml, place(mark), std::string(1, first),
                       std::string("a quote is opened here and never closed: add the second ") + first);
    throw Stop{};  // the text up to the end of the file went into this value
  }
  if (std::string_view(text_).substr(from, to - from).find('\n') != std::string_view::npos) long_quote_ = place(mark);
  if (first_refused(value) != std::string::npos) {
    diagnostics_.error(Code::bad_bytes, place(mark), value,
                       "an escape (\\) in this text stands for a control character: only \\n and \\t are allowed");
  }
}

/// The dash of a list item whose value is missing or on a line below: in the last line before `mark` with any content.
Place Builder::place_of_item(const YAML::Mark& mark) const {
  Place at = place(mark);
  std::string_view before = std::string_view(text_).substr(0, static_cast<std::size_t>(mark.pos));
  while (true) {
    const std::size_t start = before.rfind('\n') + 1;  // npos + 1 is 0
    const std::string_view line = without_comment(before.substr(start));
    const bool is_blank = line.find_first_not_of(' ') == std::string_view::npos;
    if (!is_blank && at.line == mark.line + 1) return at;  // the value itself, behind its dash
    if (const std::size_t dash = line.rfind('-'); dash != std::string_view::npos) {
      at.column = static_cast<int>(dash) + 1;
      return at;
    }
    if (start == 0 || !is_blank) return place(mark);
    before = before.substr(0, start - 1);
    --at.line;
  }
}

/// The parser gives a missing value the place of whatever comes next; we give it that of its key or dash.
Place Builder::place_of_null(const YAML::Mark& mark) const {
  Place at = place(mark);
  if (open_.empty() || mark.is_null()) return at;
  const Open& within = open_.back();
  if (within.entry) return at.line == within.entry->key_place.line ? at : within.entry->key_place;
  return within.dashed ? place_of_item(mark) : at;
}

void Builder::OnNull(const YAML::Mark& mark, YAML::anchor_t) {
  Node node;
  node.place = place_of_null(mark);
  count(node.place);
  add(std::move(node));
}

void Builder::OnAlias(const YAML::Mark& mark, YAML::anchor_t) {
  diagnostics_.error(Code::not_a_plain_document, place(mark), "*", kNoAliases);
  OnNull(mark, {});
}

void Builder::OnAnchor(const YAML::Mark& mark, const std::string& anchor) {
  diagnostics_.error(Code::not_a_plain_document, place(mark), '&' + anchor,
                     "anchors (&) are not used here: remove " + shown('&' + anchor) +
                         ", or put the value in quotes if it starts with '&'");
}

void Builder::OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t, const std::string& value) {
  count(place(mark));
  check_tag(mark, tag);
  check_scalar(mark, value);
  Node node;
  node.place = place(mark);
  node.scalar = value;
  node.quoted = tag == "!";
  add(std::move(node));
}

void Builder::open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag) {
  count(place(mark));
  check_tag(mark, tag);
  if (open_.size() == static_cast<std::size_t>(kMaxDepth)) {
    diagnostics_.error(Code::too_deep, place(mark), "",
                       "lists and maps nested more than " + std::to_string(kMaxDepth) + " deep: flatten them");
    throw Stop{};
  }
  Open opened;
  opened.node.kind = kind;
  opened.node.place = place(mark);
  open_.push_back(std::move(opened));
}

void Builder::close() {
  require(!open_.empty(), "yaml: what closes was opened");
  Node node = std::move(open_.back().node);
  open_.pop_back();
  add(std::move(node));
}

void Builder::add(Node node) {
  if (open_.empty()) {
    root_ = std::move(node);
    return;
  }
  Open& into = open_.back();
  if (into.node.kind == Node::Kind::list) {
    into.node.items.push_back(std::move(node));
  } else if (!into.entry) {
    add_key(into, std::move(node));
  } else {
    into.entry->value = std::move(node);
    if (into.usable) into.node.entries.push_back(std::move(*into.entry));
    into.entry.reset();
  }
}

void Builder::add_key(Open& map, Node key) {
  const bool is_word = key.kind == Node::Kind::scalar && (key.quoted || !key.scalar.empty());
  map.entry = Entry{key.scalar, key.place, {}};
  map.usable = is_word;
  if (!is_word) {
    diagnostics_.error(Code::not_a_plain_document, key.place, "",
                       "a key must be one word or text, not empty, a list or a map: write 'key: value'");
    return;
  }
  const auto [first, is_new] = map.key_lines.try_emplace(key.scalar, key.place.line);
  if (is_new) return;
  map.usable = false;
  diagnostics_.error(Code::duplicate_key, key.place, key.scalar,
                     "the key " + shown(key.scalar) + " stands here a second time, first on line " +
                         std::to_string(first->second) + ": a map takes each key once; remove or rename one");
}

/// Only says where a further document starts.
class NextDocument : public YAML::EventHandler {
 public:
  void OnDocumentStart(const YAML::Mark& mark) override {
    mark_ = mark;
    throw Stop{};
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t, const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {}
  void OnMapEnd() override {}
  [[nodiscard]] const YAML::Mark& mark() const { return mark_; }

 private:
  YAML::Mark mark_ = YAML::Mark::null_mark();
};

// ---- Wording of what the parser refuses.

struct Advice {
  const char* parser_says;
  const char* we_say;
};

constexpr const char* kQuoteIt = "a value can't start with this character: put it in quotes";

const Advice kAdvice[] = {
    {YAML::ErrorMsg::END_OF_SEQ_FLOW, "a list in brackets goes wrong here: separate with ',' and close with ']'"},
    {YAML::ErrorMsg::END_OF_MAP_FLOW, "a map in braces goes wrong here: separate with ',' and close with '}'"},
    {YAML::ErrorMsg::END_OF_MAP,
     "this does not fit the map above it: write 'key: value' with a space after the colon, and indent the keys of one "
     "map alike"},
    {YAML::ErrorMsg::END_OF_SEQ,
     "this does not fit the list above it: start each item with '- ' and indent the items of one list alike"},
    {YAML::ErrorMsg::MAP_VALUE,
     "a ':' where no value can start: one 'key: value' a line; put a text with ': ' in quotes"},
    {YAML::ErrorMsg::MAP_KEY, "a key where none can stand: check the indentation"},
    {YAML::ErrorMsg::BLOCK_ENTRY, "a '- ' where no list item can stand: put list items on lines of their own"},
    {YAML::ErrorMsg::FLOW_END, "a ']' or '}' that nothing opened: remove it, or put the text in quotes"},
    {YAML::ErrorMsg::UNKNOWN_TOKEN, kQuoteIt},
    {YAML::ErrorMsg::ALIAS_NOT_FOUND, kQuoteIt},
    {YAML::ErrorMsg::CHAR_IN_ALIAS, kQuoteIt},
    {YAML::ErrorMsg::ANCHOR_NOT_FOUND, kQuoteIt},
    {YAML::ErrorMsg::CHAR_IN_ANCHOR, kQuoteIt},
    {YAML::ErrorMsg::DOC_IN_SCALAR, "'---' or '...' inside a quoted text: close the quote before it"},
    {YAML::ErrorMsg::INVALID_ESCAPE,
     "an unknown escape after '\\': write '\\\\' for a backslash, or use single quotes"},
};
constexpr const char* kOtherAdvice = "this is not YAML as we can read it: check indentation, colons and quotes";

std::string advice_for(const std::string& parser_says) {
  for (const Advice& advice : kAdvice) {
    if (parser_says.starts_with(advice.parser_says)) return advice.we_say;
  }
  return kOtherAdvice;
}

void report_broken(const YAML::Exception& e, const Builder& builder, Diagnostics& diagnostics) {
  if (e.msg.starts_with(YAML::ErrorMsg::UNKNOWN_ANCHOR)) {
    diagnostics.error(Code::not_a_plain_document, builder.place(e.mark), "*", kNoAliases);
    return;
  }
  std::string message = advice_for(e.msg) + " (the parser: " + e.msg + ')';
  if (const auto& quote = builder.long_quote()) {
    message +=
        "; the quote opened on line " + std::to_string(quote->line) + " closes only on a later line: is that meant?";
  }
  diagnostics.error(Code::bad_yaml, builder.place(e.mark), "", std::move(message));
}

/// True where a line before `at` ends a document: "..." in the first column does, whatever it stands in.
bool follows_document_end(std::string_view text, std::size_t at) {
  return text.starts_with("...") || text.substr(0, at).find("\n...") != std::string_view::npos;
}

void report_further_text(YAML::Parser& parser, const std::string& text, const Builder& builder,
                         Diagnostics& diagnostics) {
  NextDocument next;
  try {
    parser.HandleNextDocument(next);
  } catch (const Stop&) {
    // it told its place
  }
  const Place place = builder.place(next.mark());
  const std::string_view rest = std::string_view(text).substr(
      next.mark().is_null() ? text.size() : std::min(static_cast<std::size_t>(next.mark().pos), text.size()));
  const std::string fragment(rest.substr(0, rest.find('\n')));
  if (rest.starts_with("---") || follows_document_end(text, text.size() - rest.size())) {
    diagnostics.error(Code::not_a_plain_document, place, fragment,
                      "a second document starts here: a file holds one; put the other into a file of its own");
  } else {
    diagnostics.error(Code::bad_yaml, place, fragment,
                      "the document is complete before this: check the indentation, or put the text in quotes");
  }
}

void parse(const std::string& text, Builder& builder, Diagnostics& diagnostics) {
  try {
    std::istringstream in(text);
    YAML::Parser parser(in);
    parser.HandleNextDocument(builder);
    if (parser) report_further_text(parser, text, builder, diagnostics);
  } catch (const Stop&) {
    // reported where it was thrown
  } catch (const YAML::Exception& e) {
    report_broken(e, builder, diagnostics);
  }
}

bool is_null(const Node& node) { return node.kind == Node::Kind::scalar && !node.quoted && node.scalar.empty(); }

}  // namespace

std::string shown(std::string_view text) {
  std::size_t end = text.size() <= kShownBytes ? text.size() : 0;
  while (end < text.size() && end < kShownBytes) end += std::max<std::size_t>(1, utf8_length(text, end));
  return std::string("'").append(text.substr(0, end)).append(end < text.size() ? "…'" : "'");
}

const Node* Node::find(std::string_view key) const {
  const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
  return found == entries.end() ? nullptr : &found->value;
}

std::optional<Node> read(const TextFile& file, Diagnostics& diagnostics) {
  const Place whole{file.name, 0, 0};
  if (file.text.size() > kMaxBytes) {
    diagnostics.error(Code::too_large, whole, "",
                      "the file has " + std::to_string(file.text.size()) + " bytes, more than the " +
                          std::to_string(kMaxBytes) + " allowed: is it the right file?");
    return std::nullopt;
  }
  const std::string text = with_plain_line_ends(file.text);
  if (!check_text(text, file.name, diagnostics)) return std::nullopt;

  const std::size_t before = diagnostics.all().size();
  Builder builder(text, file.name, diagnostics);
  parse(text, builder, diagnostics);
  if (diagnostics.all().size() > before) return std::nullopt;
  std::optional<Node> root = builder.take_root();
  if (!root || is_null(*root)) {
    diagnostics.error(Code::bad_yaml, whole, "", "the file is empty, or has comments only: write 'key: value' lines");
    return std::nullopt;
  }
  return root;
}

}  // namespace groovewright::yaml
