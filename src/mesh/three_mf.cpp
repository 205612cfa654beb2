// 3MF core specification 1.2 (3MF Consortium): an XML model in a ZIP with two small parts that say what is what.
#include <zlib.h>

#include <charconv>
#include <cmath>

#include "bytes.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/mesh.h"

namespace groovewright::mesh {
namespace {

/// Coordinates are written to 1e-5 mm: finer than a float of STL at 100 mm.
constexpr double kPerMm = 1e5;
constexpr int kDecimals = 5;

/// White space becomes a space; XML 1.0 has no place for other control characters.
void put_escaped(std::string& out, std::string_view text) {
  for (const char c : text) {
    if (c == '\t' || c == '\n' || c == '\r') {
      out += ' ';
    } else if (static_cast<unsigned char>(c) >= 0x20) {
      put_xml(out, c);
    }
  }
}

char* put_integer(char* at, std::uint32_t v) { return std::to_chars(at, at + 10, v).ptr; }

/// A coordinate without trailing zeros. Through an integer: several times as fast as printing a double.
char* put_coordinate(char* at, double mm) {
  long long units = std::llround(mm * kPerMm);
  if (units < 0) {
    *at++ = '-';
    units = -units;
  }
  constexpr long long kUnits = 100000;
  at = std::to_chars(at, at + 20, units / kUnits).ptr;
  auto rest = static_cast<int>(units % kUnits);
  if (rest == 0) return at;
  *at++ = '.';
  char* const end = at + kDecimals;
  for (char* digit = end; digit != at; rest /= 10) *--digit = static_cast<char>('0' + rest % 10);
  at = end;
  while (at[-1] == '0') --at;
  return at;
}

template <std::size_t N>
char* put_text(char* at, const char (&text)[N]) {
  return std::copy(text, text + N - 1, at);
}

/// Text on its way into an archive: deflated as it comes, so that a large model is never held whole. Fresh memory costs
/// more than formatting does.
class Packer {
 public:
  Packer() {
    // Level 1: higher ones cost several times as much for a third of the size. One zlib gives one answer.
    constexpr int kLevel = 1, kRawDeflate = -15, kMemory = 9;
    require(deflateInit2(&stream_, kLevel, Z_DEFLATED, kRawDeflate, kMemory, Z_DEFAULT_STRATEGY) == Z_OK,
            "to_3mf: zlib did not start");
  }
  ~Packer() { deflateEnd(&stream_); }
  Packer(const Packer&) = delete;
  Packer& operator=(const Packer&) = delete;

  /// To be appended to; `flush` now and then.
  [[nodiscard]] std::string& text() { return text_; }
  void flush() {
    if (text_.size() >= kChunk) deflate_text(Z_NO_FLUSH);
  }
  void finish() { deflate_text(Z_FINISH); }

  [[nodiscard]] const std::string& packed() const { return packed_; }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::uint32_t checksum() const { return static_cast<std::uint32_t>(checksum_); }

 private:
  static constexpr std::size_t kChunk = 1 << 16;

  void deflate_text(int mode) {
    auto* bytes = reinterpret_cast<Bytef*>(text_.data());
    checksum_ = crc32(checksum_, bytes, static_cast<uInt>(text_.size()));
    size_ += text_.size();
    stream_.next_in = bytes;
    stream_.avail_in = static_cast<uInt>(text_.size());
    int result = Z_OK;
    do {
      Bytef out[kChunk / 4];
      stream_.next_out = out;
      stream_.avail_out = sizeof out;
      result = deflate(&stream_, mode);
      packed_.append(reinterpret_cast<const char*>(out), sizeof out - stream_.avail_out);
    } while (stream_.avail_out == 0);
    // Z_BUF_ERROR: the last round had filled its output exactly and nothing was left to do.
    const bool done = mode == Z_FINISH ? result == Z_STREAM_END : result == Z_OK || result == Z_BUF_ERROR;
    require(done, "to_3mf: zlib gave up");
    text_.clear();
  }

  z_stream stream_{};
  std::string text_, packed_;
  std::size_t size_ = 0;
  uLong checksum_ = crc32(0, nullptr, 0);
};

void put_mesh(Packer& packer, const Mesh& m) {
  std::string& out = packer.text();
  // The longest line: three coordinates of 22 characters at most, or three indices of 10, and the words between.
  char line[128];
  out += "<mesh><vertices>\n";
  for (const Vec3& v : m.vertices) {
    char* at = put_text(line, "<vertex x=\"");
    at = put_text(put_coordinate(at, v.x), "\" y=\"");
    at = put_text(put_coordinate(at, v.y), "\" z=\"");
    at = put_text(put_coordinate(at, v.z), "\"/>\n");
    out.append(line, at);
    packer.flush();
  }
  out += "</vertices><triangles>\n";
  for (const auto& t : m.triangles) {
    char* at = put_text(line, "<triangle v1=\"");
    at = put_text(put_integer(at, t[0]), "\" v2=\"");
    at = put_text(put_integer(at, t[1]), "\" v3=\"");
    at = put_text(put_integer(at, t[2]), "\"/>\n");
    out.append(line, at);
    packer.flush();
  }
  out += "</triangles></mesh>";
}

void put_colour(std::string& out, const Label& label) {
  out += '#';
  for (const double part : {label.red, label.green, label.blue}) {
    constexpr std::string_view kHex = "0123456789ABCDEF";
    const auto v = static_cast<std::size_t>(std::lround(255 * std::min(1.0, std::max(0.0, part))));
    out += kHex[v / 16];
    out += kHex[v % 16];
  }
}

void put_metadata(std::string& out, const char* name, std::string_view text) {
  out += "<metadata name=\"";
  out += name;
  out += "\">";
  put_escaped(out, text);
  out += "</metadata>\n";
}

void put_named(std::string& out, std::size_t id, const std::string& name) {
  out += "<object id=\"" + std::to_string(id) + "\" type=\"model\" name=\"";
  put_escaped(out, name);
  out += "\"";
}

/// Materials are resource 1, each body an object from 2 on; an assembly of several bodies follows them.
void put_model(Packer& packer, const std::vector<Assembly>& plate, const std::string& title,
               const std::string& description) {
  std::string& out = packer.text();
  out += "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out +=
      "<model unit=\"millimeter\" xml:lang=\"en-US\" "
      "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n";
  put_metadata(out, "Title", title);
  if (!description.empty()) put_metadata(out, "Description", description);
  put_metadata(out, "Application", "groovewright");
  out += "<resources>\n<basematerials id=\"1\">";
  for (const Assembly& assembly : plate) {
    for (const Body& body : assembly.bodies) {
      out += "<base name=\"";
      put_escaped(out, body.label.material);
      out += "\" displaycolor=\"";
      put_colour(out, body.label);
      out += "\"/>";
    }
  }
  out += "</basematerials>\n";
  std::size_t id = 2, material = 0;
  std::vector<std::size_t> items;
  for (const Assembly& assembly : plate) {
    const std::size_t first = id;
    for (const Body& body : assembly.bodies) {
      put_named(out, id++, body.label.name);
      out += " pid=\"1\" pindex=\"" + std::to_string(material++) + "\">";
      put_mesh(packer, *body.mesh);
      out += "</object>\n";
    }
    items.push_back(first);
    if (assembly.bodies.size() == 1) continue;
    items.back() = id;
    put_named(out, id, assembly.name);
    out += "><components>";
    for (std::size_t part = first; part < id; ++part) out += "<component objectid=\"" + std::to_string(part) + "\"/>";
    out += "</components></object>\n";
    ++id;
  }
  out += "</resources>\n<build>";
  for (const std::size_t item : items) out += "<item objectid=\"" + std::to_string(item) + "\"/>";
  out += "</build>\n</model>\n";
}

constexpr std::string_view kContentTypes =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">"
    "<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>"
    "<Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>"
    "</Types>\n";
constexpr std::string_view kRelationships =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
    "<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>"
    "</Relationships>\n";

/// A ZIP archive (PKWARE APPNOTE 6.3): no clock in it, so the same content gives the same bytes.
class Zip {
 public:
  /// A file whose text `write` puts into the packer that it is handed.
  template <class Write>
  void add(std::string_view name, const Write& write) {
    Packer packer;
    write(packer);
    packer.finish();
    const std::string& packed = packer.packed();
    require(packer.size() < kMostBytes && out_.size() + packed.size() < kMostBytes,
            "to_3mf: the model is too large for a plain ZIP");
    std::string fields;
    put_u16(fields, 20);  // version that can unpack: 2.0, for deflate
    put_u16(fields, 0);   // flags
    put_u16(fields, 8);   // deflate
    put_u16(fields, 0);   // 00:00:00
    put_u16(fields, 33);  // 1980-01-01, the first day of DOS
    put_u32(fields, packer.checksum());
    put_u32(fields, static_cast<std::uint32_t>(packed.size()));
    put_u32(fields, static_cast<std::uint32_t>(packer.size()));
    put_u16(fields, static_cast<std::uint32_t>(name.size()));
    put_u16(fields, 0);  // extra field

    put_u32(directory_, 0x02014B50);
    put_u16(directory_, 20);  // made by: 2.0, DOS
    directory_ += fields;
    put_u16(directory_, 0);  // comment
    put_u16(directory_, 0);  // disk
    put_u16(directory_, 0);  // internal attributes
    put_u32(directory_, 0);  // external attributes
    put_u32(directory_, static_cast<std::uint32_t>(out_.size()));
    directory_ += name;
    ++count_;

    put_u32(out_, 0x04034B50);
    out_ += fields;
    out_ += name;
    out_ += packed;
  }

  [[nodiscard]] std::string finish() && {
    const auto start = static_cast<std::uint32_t>(out_.size());
    out_ += directory_;
    put_u32(out_, 0x06054B50);
    put_u16(out_, 0);  // disk
    put_u16(out_, 0);  // disk of the directory
    put_u16(out_, count_);
    put_u16(out_, count_);
    put_u32(out_, static_cast<std::uint32_t>(directory_.size()));
    put_u32(out_, start);
    put_u16(out_, 0);  // comment
    return std::move(out_);
  }

 private:
  static constexpr std::size_t kMostBytes = 0x7FFFFFFF;
  std::string out_, directory_;
  std::uint32_t count_ = 0;
};

}  // namespace

std::string to_3mf(const std::vector<Assembly>& plate, const std::string& title, const std::string& description) {
  Zip zip;
  zip.add("[Content_Types].xml", [](Packer& packer) { packer.text() += kContentTypes; });
  zip.add("_rels/.rels", [](Packer& packer) { packer.text() += kRelationships; });
  zip.add("3D/3dmodel.model", [&](Packer& packer) { put_model(packer, plate, title, description); });
  return std::move(zip).finish();
}

std::string to_3mf(const Mesh& m, const Label& label) {
  return to_3mf({{label.name, {{&m, label}}}}, label.title.empty() ? label.name : label.title, "");
}

}  // namespace groovewright::mesh
