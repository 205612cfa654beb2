// gw_picture: renders the README's pictures.
//   gw_picture shade PART.stl OUT.png [--size 900x700] [--azimuth DEG] [--elevation DEG]
//   gw_picture section SPEC.yaml OUT.svg
#include "picture.h"

#include <charconv>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace {

using namespace groovewright;

constexpr int kMaxSide = 4000;

std::string read(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("can't read " + path);
  return {std::istreambuf_iterator<char>(in), {}};
}

void write(const std::string& path, const std::string& bytes) {
  std::ofstream out(path, std::ios::binary);
  out << bytes;
  out.close();
  if (!out) throw std::runtime_error("can't write " + path);
}

template <class T>
T to_number(std::string_view text) {
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size())
    throw std::runtime_error("no number: " + std::string(text));
  return value;
}

picture::View view_of(const std::vector<std::string>& options) {
  picture::View view;
  if (options.size() % 2 != 0) throw std::runtime_error("an option without its value");
  for (std::size_t i = 0; i < options.size(); i += 2) {
    const std::string &name = options[i], &value = options[i + 1];
    if (name == "--azimuth") {
      view.azimuth = Angle::deg(to_number<double>(value));
    } else if (name == "--elevation") {
      view.elevation = Angle::deg(to_number<double>(value));
    } else if (const auto by = value.find('x'); name == "--size" && by != std::string::npos) {
      view.width = to_number<int>(std::string_view(value).substr(0, by));
      view.height = to_number<int>(std::string_view(value).substr(by + 1));
      if (view.width < 1 || view.height < 1 || view.width > kMaxSide || view.height > kMaxSide) {
        throw std::runtime_error("a size between 1x1 and 4000x4000, please");
      }
    } else {
      throw std::runtime_error("unknown option " + name);
    }
  }
  return view;
}

job::Prepared prepared(const std::string& path) {
  Diagnostics diagnostics;
  std::optional<job::Prepared> result;
  if (const auto pulley = spec::read_pulley({path, read(path)}, diagnostics)) {
    if (!spec::references(*pulley).empty())
      throw std::runtime_error(path + ": groove profiles of one's own are not drawn");
    result = job::prepare(*pulley, {}, {}, diagnostics);
  }
  if (!result) throw std::runtime_error(diagnostics.text());
  return std::move(*result);
}

int run(const std::vector<std::string>& words) {
  if (words.size() >= 3 && words[0] == "shade") {
    write(words[2], picture::shaded(read(words[1]), view_of({words.begin() + 3, words.end()})));
    return 0;
  }
  if (words.size() == 3 && words[0] == "section") {
    write(words[2], picture::section_svg(prepared(words[1])));
    return 0;
  }
  std::fputs(
      "usage: gw_picture shade PART.stl OUT.png [--size WxH] [--azimuth DEG] [--elevation DEG]\n"
      "       gw_picture section SPEC.yaml OUT.svg\n",
      stderr);
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run({argv + 1, argv + argc});
  } catch (const std::exception& e) {
    std::fprintf(stderr, "gw_picture: %s\n", e.what());
    return 1;
  }
}
