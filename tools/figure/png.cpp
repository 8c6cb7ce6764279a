#include "tools/figure/png.hpp"

#include <cairo.h>
#include <fmt/format.h>
#include <librsvg/rsvg.h>

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

struct FreeSurface {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct FreeContext {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};
struct FreeHandle {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
};
struct FreeError {
  void operator()(GError* error) const { g_error_free(error); }
};

using Surface = std::unique_ptr<cairo_surface_t, FreeSurface>;

std::string message(GError* raw) {
  const std::unique_ptr<GError, FreeError> error(raw);
  return error ? error->message : "unknown error";
}

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

Surface make_surface(int width, int height) {
  Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    throw PngError(fmt::format("picture of {} x {}: {}", width, height, cairo_status_to_string(status)));
  }
  return surface;
}

std::string bytes_of(cairo_surface_t* surface) {
  std::string bytes;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface, append_bytes, &bytes);
  if (status != CAIRO_STATUS_SUCCESS) throw PngError(cairo_status_to_string(status));
  return bytes;
}

// Height over width of the document.
double proportion(RsvgHandle* handle) {
  gdouble width = 0.0, height = 0.0;
  if (!rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height) || !(width > 0.0 && height > 0.0)) {
    throw PngError("the document has no size");
  }
  return height / width;
}

}  // namespace

std::string png_of_svg(const std::string& document, int width) {
  if (width < 1 || width > kLargest) {
    throw std::invalid_argument(fmt::format("width of a picture {}: must be 1 .. {}", width, kLargest));
  }
  GError* error = nullptr;
  const std::unique_ptr<RsvgHandle, FreeHandle> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(document.data()), document.size(), &error));
  if (!handle) throw PngError("document: " + message(error));
  const double exact = width * proportion(handle.get());
  if (exact > kLargest)
    throw PngError(fmt::format("height of a picture {:.0f}: must be <= {}", exact, kLargest));
  const int height = std::max(1, static_cast<int>(std::lround(exact)));

  const Surface surface = make_surface(width, height);
  const std::unique_ptr<cairo_t, FreeContext> context(cairo_create(surface.get()));
  cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
  cairo_paint(context.get());
  const RsvgRectangle viewport{0.0, 0.0, static_cast<double>(width), static_cast<double>(height)};
  if (!rsvg_handle_render_document(handle.get(), context.get(), &viewport, &error)) {
    throw PngError("drawing: " + message(error));
  }
  return bytes_of(surface.get());
}

}  // namespace tuft::figure
