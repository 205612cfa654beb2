#include "part21.h"

#include <cctype>
#include <charconv>
#include <functional>
#include <stdexcept>

namespace groovewright::readers {
namespace {

class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  Part21File file() {
    Part21File f;
    word("ISO-10303-21;");
    word("HEADER;");
    while (!take("ENDSEC;")) {
      f.header.push_back(entity());
      word(";");
    }
    word("DATA;");
    while (!take("ENDSEC;")) {
      word("#");
      const int id = integer();
      word("=");
      std::vector<Entity> types;
      if (take("(")) {
        while (!take(")")) types.push_back(entity());
      } else {
        types.push_back(entity());
      }
      word(";");
      if (!f.data.emplace(id, std::move(types)).second) fail("the id is used twice");
    }
    word("END-ISO-10303-21;");
    skip();
    if (at_ != text_.size()) fail("text after the end");
    return f;
  }

 private:
  [[noreturn]] void fail(const std::string& what) const {
    throw std::runtime_error("Part 21, byte " + std::to_string(at_) + ": " + what);
  }

  void skip() {
    while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\n')) ++at_;
  }

  bool take(std::string_view w) {
    skip();
    if (text_.substr(at_, w.size()) != w) return false;
    at_ += w.size();
    return true;
  }

  void word(std::string_view w) {
    if (!take(w)) fail("\"" + std::string(w) + "\" is due");
  }

  [[nodiscard]] char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }

  int integer() {
    int v = 0;
    const auto [end, error] = std::from_chars(text_.data() + at_, text_.data() + text_.size(), v);
    if (error != std::errc() || v <= 0) fail("a positive whole number is due");
    at_ = static_cast<std::size_t>(end - text_.data());
    return v;
  }

  std::string keyword() {
    skip();
    std::string k;
    while (std::isupper(static_cast<unsigned char>(peek())) || std::isdigit(static_cast<unsigned char>(peek())) ||
           peek() == '_') {
      k += text_[at_++];
    }
    if (k.empty()) fail("a keyword is due");
    return k;
  }

  Entity entity() {
    Entity e{keyword(), {}};
    e.values = list();
    return e;
  }

  std::vector<Value> list() {
    word("(");
    std::vector<Value> items;
    if (take(")")) return items;
    do items.push_back(value());
    while (take(","));
    word(")");
    return items;
  }

  Value value() {
    skip();
    const char c = peek();
    Value v;
    if (take("$")) return v;
    if (take("*")) {
      v.kind = Value::Kind::derived;
    } else if (take("#")) {
      v.kind = Value::Kind::reference;
      v.number = integer();
    } else if (take("'")) {
      v.kind = Value::Kind::text;
      v.text = string();
    } else if (c == '(') {
      v.kind = Value::Kind::list;
      v.items = list();
    } else if (take(".")) {
      v.kind = Value::Kind::enumeration;
      v.text = keyword();
      word(".");
    } else if (std::isupper(static_cast<unsigned char>(c))) {
      v.kind = Value::Kind::typed;
      v.text = keyword();
      v.items = list();
    } else {
      v.kind = Value::Kind::number;
      v.number = number();
    }
    return v;
  }

  /// INTEGER = [sign] digits. REAL = [sign] digits "." [digits] ["E" [sign] digits].
  double number() {
    const std::size_t from = at_;
    const auto digits = [&] {
      const std::size_t start = at_;
      while (std::isdigit(static_cast<unsigned char>(peek()))) ++at_;
      return at_ > start;
    };
    if (peek() == '-' || peek() == '+') ++at_;
    if (!digits()) fail("a value is due");
    if (peek() == '.') {
      ++at_;
      digits();
      if (peek() == 'E') {
        ++at_;
        if (peek() == '-' || peek() == '+') ++at_;
        if (!digits()) fail("an exponent is due");
      }
    }
    double v = 0;
    std::from_chars(text_.data() + from, text_.data() + at_, v);
    return v;
  }

  unsigned hexadecimal(int digits) {
    unsigned v = 0;
    const auto [end, error] = std::from_chars(text_.data() + at_, text_.data() + at_ + digits, v, 16);
    if (error != std::errc() || end != text_.data() + at_ + digits) fail("hexadecimal digits are due");
    at_ += static_cast<std::size_t>(digits);
    return v;
  }

  static void append_utf8(std::string& out, unsigned code) {
    const auto byte = [&](unsigned b) { out += static_cast<char>(b); };
    if (code < 0x80) {
      byte(code);
    } else if (code < 0x800) {
      byte(0xC0u | code >> 6), byte(0x80u | (code & 0x3Fu));
    } else if (code < 0x10000) {
      byte(0xE0u | code >> 12), byte(0x80u | (code >> 6 & 0x3Fu)), byte(0x80u | (code & 0x3Fu));
    } else {
      byte(0xF0u | code >> 18), byte(0x80u | (code >> 12 & 0x3Fu)), byte(0x80u | (code >> 6 & 0x3Fu)),
          byte(0x80u | (code & 0x3Fu));
    }
  }

  /// The rest of a string whose first apostrophe is read.
  std::string string() {
    std::string out;
    for (;;) {
      const std::string_view rest = text_.substr(at_);
      if (rest.empty()) fail("a string without end");
      if (rest.starts_with("''") || rest.starts_with("\\\\")) {
        out += rest.front();
        at_ += 2;
      } else if (rest.front() == '\'') {
        ++at_;
        return out;
      } else if (rest.starts_with("\\X2\\") || rest.starts_with("\\X4\\")) {
        const int digits = rest[2] == '2' ? 4 : 8;
        at_ += 4;
        while (!text_.substr(at_).starts_with("\\X0\\")) append_utf8(out, hexadecimal(digits));
        at_ += 4;
      } else if (rest.front() == '\\' || rest.front() < 0x20 || rest.front() > 0x7E) {
        fail("a character that a string may not hold");
      } else {
        out += rest.front();
        ++at_;
      }
    }
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

const Entity& first_of(const std::vector<Entity>& entities, std::string_view type) {
  for (const Entity& e : entities) {
    if (e.type == type) return e;
  }
  throw std::runtime_error("no " + std::string(type));
}

}  // namespace

std::vector<const Entity*> Part21File::all(std::string_view type) const {
  std::vector<const Entity*> found;
  for (const auto& [id, types] : data) {
    for (const Entity& e : types) {
      if (e.type == type) found.push_back(&e);
    }
  }
  return found;
}

const Entity& Part21File::only(std::string_view type) const {
  const auto found = all(type);
  if (found.size() != 1) throw std::runtime_error(std::to_string(found.size()) + " of " + std::string(type));
  return *found.front();
}

const std::vector<Entity>& Part21File::at(const Value& reference) const {
  if (reference.kind != Value::Kind::reference) throw std::runtime_error("not a reference");
  return data.at(static_cast<int>(reference.number));
}

const Entity& Part21File::header_entity(std::string_view type) const { return first_of(header, type); }

std::vector<int> Part21File::dangling() const {
  std::vector<int> missing;
  const std::function<void(const Value&)> visit = [&](const Value& v) {
    const int id = static_cast<int>(v.number);
    if (v.kind == Value::Kind::reference && !data.contains(id)) missing.push_back(id);
    for (const Value& item : v.items) visit(item);
  };
  for (const auto& [id, types] : data) {
    for (const Entity& e : types) {
      for (const Value& v : e.values) visit(v);
    }
  }
  return missing;
}

Part21File read_part21(std::string_view text) { return Reader(text).file(); }

}  // namespace groovewright::readers
