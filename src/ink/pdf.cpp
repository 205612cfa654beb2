#include <memory>
#include <new>
#include <stdexcept>
#include <vector>

#include <cairo/cairo-ft.h>
#include <cairo/cairo-pdf.h>
#include <freetype/freetype.h>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/ink.h"

namespace groovewright::ink {
namespace {

using plane::Edge;

constexpr double kPointsPerMm = 72 / 25.4;
/// Any date will do, as long as it is always the same.
constexpr const char* kCreated = "2000-01-01T00:00:00Z";

/// A font opened from memory. Cairo's cache of fonts may outlive the page, so Cairo's handle owns all that it needs.
class Font {
 public:
  explicit Font(std::string_view bytes) : bytes_(bytes) {
    if (FT_Init_FreeType(&library_) != 0) throw std::runtime_error("the font reader can't be started");
    const auto* data = reinterpret_cast<const FT_Byte*>(bytes_.data());
    if (FT_New_Memory_Face(library_, data, static_cast<FT_Long>(bytes_.size()), 0, &face_) != 0) {
      FT_Done_FreeType(library_);
      throw std::runtime_error("the drawing font can't be read: no font that FreeType knows");
    }
  }
  ~Font() {
    FT_Done_Face(face_);
    FT_Done_FreeType(library_);
  }
  Font(const Font&) = delete;
  Font& operator=(const Font&) = delete;

  [[nodiscard]] FT_Face face() const { return face_; }

 private:
  std::string bytes_;
  FT_Library library_ = nullptr;
  FT_Face face_ = nullptr;
};

template <auto kDestroy>
struct Destroyer {
  template <class T>
  void operator()(T* thing) const {
    kDestroy(thing);
  }
};
using Face = std::unique_ptr<cairo_font_face_t, Destroyer<cairo_font_face_destroy>>;
using Surface = std::unique_ptr<cairo_surface_t, Destroyer<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Destroyer<cairo_destroy>>;

void check(cairo_status_t status) {
  if (status == CAIRO_STATUS_NO_MEMORY) throw std::bad_alloc();
  if (status != CAIRO_STATUS_SUCCESS) throw Broken(std::string("to_pdf: ") + cairo_status_to_string(status));
}

Face face_of(std::unique_ptr<Font> font) {
  static const cairo_user_data_key_t kFont{};
  Face face(cairo_ft_font_face_create_for_ft_face(font->face(), FT_LOAD_NO_HINTING));
  check(cairo_font_face_status(face.get()));
  check(cairo_font_face_set_user_data(face.get(), &kFont, font.get(), [](void* f) { delete static_cast<Font*>(f); }));
  static_cast<void>(font.release());
  return face;
}

cairo_status_t append(void* out, const unsigned char* bytes, unsigned size) {
  static_cast<std::string*>(out)->append(reinterpret_cast<const char*>(bytes), size);
  return CAIRO_STATUS_SUCCESS;
}

void put_metadata(cairo_surface_t* surface, const plane::Page& page) {
  const auto put = [surface](cairo_pdf_metadata_t key, const std::string& value) {
    if (!value.empty()) cairo_pdf_surface_set_metadata(surface, key, one_line(value).c_str());
  };
  put(CAIRO_PDF_METADATA_TITLE, page.title);
  put(CAIRO_PDF_METADATA_AUTHOR, page.author);
  put(CAIRO_PDF_METADATA_SUBJECT, page.description);
  put(CAIRO_PDF_METADATA_CREATOR, "groovewright");
  put(CAIRO_PDF_METADATA_CREATE_DATE, kCreated);
}

class Painter {
 public:
  Painter(cairo_surface_t* surface, const plane::Page& page, const Typeface& typeface, FT_Face font,
          cairo_font_face_t* face)
      : context_(cairo_create(surface)), cairo_(context_.get()), typeface_(typeface), font_(font) {
    cairo_scale(cairo_, kPointsPerMm, -kPointsPerMm);  // mm, y up
    cairo_translate(cairo_, 0, -page.height);
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
    cairo_set_font_face(cairo_, face);
  }

  void add(const plane::View& view) {
    for (const plane::Inked& inked : view.lines) add(inked);
    for (const plane::Words& words : view.words) add(words);
  }

  void finish() {
    cairo_show_page(cairo_);
    check(cairo_status(cairo_));
  }

 private:
  void step(const Edge& edge) {
    if (!edge.is_arc()) {
      cairo_line_to(cairo_, edge.b.x, edge.b.y);
      return;
    }
    const auto draw = edge.turn == Edge::Turn::ccw ? cairo_arc : cairo_arc_negative;
    const plane::Vec2 from = edge.a - edge.centre;
    const double begin = atan2_of(from.y, from.x);
    draw(cairo_, edge.centre.x, edge.centre.y, edge.radius(), begin, begin + edge.sweep());
  }

  void add(const plane::Inked& inked) {
    if (inked.path.empty()) return;
    cairo_new_path(cairo_);
    cairo_move_to(cairo_, inked.path.front().a.x, inked.path.front().a.y);
    for (const Edge& edge : inked.path) step(edge);
    if (plane::is_closed(inked.path)) cairo_close_path(cairo_);
    if (inked.filled) {
      cairo_fill(cairo_);
      return;
    }
    const plane::Pen pen = plane::pen(inked.ink);
    cairo_set_line_width(cairo_, pen.width);
    cairo_set_line_cap(cairo_, pen.dashes.empty() ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_dash(cairo_, pen.dashes.data(), static_cast<int>(pen.dashes.size()), 0);
    cairo_stroke(cairo_);
  }

  /// One glyph a character, told to Cairo as such: that is what makes the text one that can be copied.
  void add(const plane::Words& words) {
    const std::string text = plane::drawable(typeface_, words.text);
    std::vector<cairo_glyph_t> glyphs;
    std::vector<cairo_text_cluster_t> clusters;
    double x = 0;
    for (const std::string_view one : cut_into_characters(text)) {
      const char32_t c = characters(one).front();
      glyphs.push_back({FT_Get_Char_Index(font_, c), x, 0});
      clusters.push_back({static_cast<int>(one.size()), 1});
      x += typeface_.wide.at(c) * words.height;
    }
    if (glyphs.empty()) return;
    const plane::Vec2 from = plane::start(typeface_, words);
    cairo_save(cairo_);
    cairo_translate(cairo_, from.x, from.y);
    cairo_rotate(cairo_, words.angle);
    const double size = words.height * typeface_.em;
    const cairo_matrix_t upright{size, 0, 0, -size, 0, 0};  // glyphs are drawn with y down
    cairo_set_font_matrix(cairo_, &upright);
    cairo_show_text_glyphs(cairo_, text.data(), static_cast<int>(text.size()), glyphs.data(),
                           static_cast<int>(glyphs.size()), clusters.data(), static_cast<int>(clusters.size()), {});
    cairo_restore(cairo_);
  }

  Context context_;
  cairo_t* cairo_;
  const Typeface& typeface_;
  FT_Face font_;
};

}  // namespace

std::string to_pdf(const plane::Page& page, const Typeface& typeface, std::string_view font) {
  require(page.width > 0 && page.height > 0, "to_pdf: the page has a size");
  auto opened = std::make_unique<Font>(font);
  const FT_Face face = opened->face();
  const Face cairo_face = face_of(std::move(opened));
  std::string pdf;
  const Surface surface(
      cairo_pdf_surface_create_for_stream(append, &pdf, page.width * kPointsPerMm, page.height * kPointsPerMm));
  check(cairo_surface_status(surface.get()));
  put_metadata(surface.get(), page);
  Painter painter(surface.get(), page, typeface, face, cairo_face.get());
  for (const plane::View& view : page.views) painter.add(view);
  painter.finish();
  cairo_surface_finish(surface.get());
  check(cairo_surface_status(surface.get()));
  return pdf;
}

}  // namespace groovewright::ink
