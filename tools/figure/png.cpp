#include "tools/figure/png.hpp"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <librsvg/rsvg.h>
#include <png.h>

#include <algorithm>
#include <cmath>
#include <memory>

#if defined(__SANITIZE_ADDRESS__)
// The font library keeps its caches until the process ends, which the leak finder of sanitizer builds takes
// for leaks. The name is the finder's own.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig"; }
#endif

namespace tuft::figure {
namespace {

constexpr int kLargest = 20000;  // [px] of one side; well within what the surface can hold

/// Something of a C library that is freed by a function.
template <typename Thing, auto free>
struct Freed {
  void operator()(Thing* thing) const { free(thing); }
  using Pointer = std::unique_ptr<Thing, Freed>;
};
using Surface = Freed<cairo_surface_t, cairo_surface_destroy>::Pointer;

std::string message(GError* raw) {
  const Freed<GError, g_error_free>::Pointer error(raw);
  return error ? error->message : "unknown error";
}

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

Surface make_surface(int width, int height, Ground ground) {
  const cairo_format_t format = ground == Ground::none ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24;
  Surface surface(cairo_image_surface_create(format, width, height));
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS)
    throw PngError(fmt::format("picture of {} x {}: {}", width, height, cairo_status_to_string(status)));
  return surface;
}

std::string bytes_of(cairo_surface_t* surface) {
  std::string bytes;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface, append_bytes, &bytes);
  if (status != CAIRO_STATUS_SUCCESS) throw PngError(cairo_status_to_string(status));
  return bytes;
}

using Handle = Freed<RsvgHandle, g_object_unref>::Pointer;

Handle handle_of(const std::string& document) {
  GError* error = nullptr;
  Handle handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(document.data()), document.size(), &error));
  if (!handle) throw PngError("document: " + message(error));
  return handle;
}

// Height over width of the document.
double proportion(RsvgHandle* handle) {
  gdouble width = 0.0, height = 0.0;
  if (!rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height) || !(width > 0.0 && height > 0.0))
    throw PngError("the document has no size");
  return height / width;
}

// libpng's calls back. It wants an error's function not to return, and is built to let exceptions pass.
void fail(png_structp, const char* words) { throw PngError(words); }
void ignore(png_structp, const char*) {}
void append_to_file(png_structp png, png_bytep data, std::size_t length) {
  static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(data), length);
}
void flush_nothing(png_structp) {}

/// A file being written by libpng.
struct PngWriter {
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, ignore);
  png_infop info = png_create_info_struct(png);
  PngWriter() = default;
  PngWriter(const PngWriter&) = delete;
  PngWriter& operator=(const PngWriter&) = delete;
  ~PngWriter() { png_destroy_write_struct(&png, &info); }
};

}  // namespace

std::string png_of_svg(const std::string& document, int width, Ground ground) {
  if (width < 1 || width > kLargest)
    throw std::invalid_argument(fmt::format("width of a picture {}: must be 1 .. {}", width, kLargest));
  GError* error = nullptr;
  const Handle handle = handle_of(document);
  const double exact = width * proportion(handle.get());
  if (exact > kLargest)
    throw PngError(fmt::format("height of a picture {:.0f}: must be <= {}", exact, kLargest));
  const int height = std::max(1, static_cast<int>(std::lround(exact)));

  const Surface surface = make_surface(width, height, ground);
  const Freed<cairo_t, cairo_destroy>::Pointer context(cairo_create(surface.get()));
  if (ground == Ground::white) {
    cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
    cairo_paint(context.get());
  }
  const RsvgRectangle viewport{0.0, 0.0, static_cast<double>(width), static_cast<double>(height)};
  if (!rsvg_handle_render_document(handle.get(), context.get(), &viewport, &error))
    throw PngError("drawing: " + message(error));
  return bytes_of(surface.get());
}

std::string pdf_of_svg(const std::string& document, double width, double height) {
  constexpr double kPoints = 72.0 / 25.4;  // in a millimetre
  const Handle handle = handle_of(document);
  std::string bytes;
  const Surface surface(
      cairo_pdf_surface_create_for_stream(append_bytes, &bytes, kPoints * width, kPoints * height));
  // No clock: the same document is the same file.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  {
    const Freed<cairo_t, cairo_destroy>::Pointer context(cairo_create(surface.get()));
    const RsvgRectangle viewport{0.0, 0.0, kPoints * width, kPoints * height};
    GError* error = nullptr;
    if (!rsvg_handle_render_document(handle.get(), context.get(), &viewport, &error))
      throw PngError("drawing: " + message(error));
  }
  cairo_surface_finish(surface.get());
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS) throw PngError(cairo_status_to_string(status));
  return bytes;
}

std::string png_of_indices(const std::vector<std::uint8_t>& pixels, int width, int height,
                           const std::vector<Rgb>& palette) {
  if (width < 1 || height < 1 ||
      pixels.size() != static_cast<std::size_t>(width) * static_cast<std::size_t>(height))
    throw std::invalid_argument(fmt::format("{} pixels for {} x {}", pixels.size(), width, height));
  if (palette.empty() || palette.size() > 256 ||
      *std::max_element(pixels.begin(), pixels.end()) >= palette.size())
    throw std::invalid_argument(fmt::format("a palette of {} colours lacks one", palette.size()));
  std::vector<png_color> colours;
  for (const Rgb& colour : palette)
    colours.push_back({static_cast<png_byte>(colour.red), static_cast<png_byte>(colour.green),
                       static_cast<png_byte>(colour.blue)});
  std::string file;
  const PngWriter writer;
  png_structp png = writer.png;
  png_set_write_fn(png, &file, append_to_file, flush_nothing);
  png_set_IHDR(png, writer.info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8,
               PNG_COLOR_TYPE_PALETTE, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
               PNG_FILTER_TYPE_DEFAULT);
  png_set_PLTE(png, writer.info, colours.data(), static_cast<int>(colours.size()));
  // Every row by the filter that leaves least, which libpng does not do for palettes unless asked.
  png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_ALL_FILTERS);
  png_set_compression_level(png, 9);  // zlib's best
  png_write_info(png, writer.info);
  for (std::size_t at = 0; at < pixels.size(); at += static_cast<std::size_t>(width))
    png_write_row(png, pixels.data() + at);
  png_write_end(png, writer.info);
  return file;
}

std::string base64(const std::string& bytes) {
  const Freed<char, g_free>::Pointer text(
      g_base64_encode(reinterpret_cast<const guchar*>(bytes.data()), bytes.size()));
  return text.get();
}

}  // namespace tuft::figure
