#include "tools/figure/picture_file.hpp"

#include <fmt/format.h>
#include <png.h>
// After <cstdio>: libjpeg's header needs FILE.
#include <jpeglib.h>
#include <cstdio>

#include <algorithm>
#include <array>
#include <csetjmp>
#include <cstring>

#include "geometry/photo/orientation.hpp"

namespace tuft::figure {
namespace {

constexpr int kSmallestSide = 16, kLargestSide = 30000;  // [pixels]

void check_sides(double width, double height) {
  if (width < kSmallestSide || height < kSmallestSide)
    throw PictureError(
        fmt::format("the picture has {} x {} pixels; {} on each side are the least that can show a device",
                    width, height, kSmallestSide));
  if (width > kLargestSide || height > kLargestSide)
    throw PictureError(fmt::format("the picture has {} x {} pixels; at most {} on a side can be read", width,
                                   height, kLargestSide));
}

bool begins(const std::string& bytes, const char* start, std::size_t length) {
  return bytes.size() >= length && std::memcmp(bytes.data(), start, length) == 0;
}

// What a file is that is no picture of ours, for the message.
std::string kind_of(const std::string& bytes) {
  if (bytes.empty()) return "the file is empty";
  if (begins(bytes, "%PDF", 4)) return "this is a PDF document; save its page or its picture as PNG or JPEG";
  if (begins(bytes, "GIF8", 4)) return "this is a GIF picture; save it as PNG";
  if (begins(bytes, "RIFF", 4) && bytes.size() > 12 && bytes.compare(8, 4, "WEBP") == 0)
    return "this is a WebP picture; save it as JPEG or PNG";
  if (bytes.size() > 12 && bytes.compare(4, 4, "ftyp") == 0)
    return "this is a HEIC, AVIF or video file; save the picture as JPEG";
  if (begins(bytes, "II*\0", 4) || begins(bytes, "MM\0*", 4))
    return "this is a TIFF or raw picture; save it as JPEG or PNG";
  if (begins(bytes, "<svg", 4) || begins(bytes, "<?xml", 5))
    return "this is a drawing (SVG or XML), not a photo";
  const std::size_t n = std::min<std::size_t>(bytes.size(), 512);
  const bool text = std::all_of(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(n), [](char c) {
    const auto u = static_cast<unsigned char>(c);
    return u >= 0x20 || u == '\n' || u == '\r' || u == '\t';
  });
  return text ? "this is a text file, not a picture" : "this is neither a PNG nor a JPEG picture";
}

// --- made smaller, turned ------------------------------------------------------------------------

// Mean over the pixels that fall into each one of the smaller picture, by whole pixels.
ColourPicture shrunk(const ColourPicture& from, int longest) {
  const double scale = static_cast<double>(longest) / std::max(from.width, from.height);
  if (scale >= 1.0) return from;
  ColourPicture to{std::max(1, static_cast<int>(from.width * scale + 0.5)),
                   std::max(1, static_cast<int>(from.height * scale + 0.5)),
                   from.full_width,
                   from.full_height,
                   {}};
  to.rgb.resize(3U * static_cast<std::size_t>(to.width) * static_cast<std::size_t>(to.height));
  const auto edge = [](int i, int n_from, int n_to) {
    return static_cast<int>(static_cast<long long>(i) * n_from / n_to);
  };
  for (int y = 0; y < to.height; ++y) {
    const int top = edge(y, from.height, to.height),
              bottom = std::max(top + 1, edge(y + 1, from.height, to.height));
    for (int x = 0; x < to.width; ++x) {
      const int left = edge(x, from.width, to.width),
                right = std::max(left + 1, edge(x + 1, from.width, to.width));
      std::array<unsigned, 3> sum{};
      for (int v = top; v < bottom; ++v)
        for (int u = left; u < right; ++u)
          for (std::size_t c = 0; c < 3; ++c)
            sum[c] += from.rgb[3U * (static_cast<std::size_t>(v) * from.width + u) + c];
      const unsigned n = static_cast<unsigned>((right - left) * (bottom - top));
      for (std::size_t c = 0; c < 3; ++c)
        to.rgb[3U * (static_cast<std::size_t>(y) * to.width + x) + c] =
            static_cast<std::uint8_t>((sum[c] + n / 2) / n);
    }
  }
  return to;
}

ColourPicture turned(const ColourPicture& from, photo::Orientation how) {
  if (how.tag < 2 || how.tag > 8) return from;
  const photo::PixelSize size{from.width, from.height}, upright = photo::upright_size(how, size);
  ColourPicture to{upright.width, upright.height, from.full_width, from.full_height,
                   std::vector<std::uint8_t>(from.rgb.size())};
  if (how.swaps()) std::swap(to.full_width, to.full_height);
  for (int y = 0; y < from.height; ++y) {
    for (int x = 0; x < from.width; ++x) {
      const photo::PixelIndex at = photo::upright_pixel(how, size, {x, y});
      std::memcpy(&to.rgb[3U * (static_cast<std::size_t>(at.row) * to.width + at.column)],
                  &from.rgb[3U * (static_cast<std::size_t>(y) * from.width + x)], 3);
    }
  }
  return to;
}

// --- which way up --------------------------------------------------------------------------------

// The tag Orientation in the first directory of what EXIF holds (TIFF 6.0 layout, from memory); 1 where there
// is none.
int orientation_of_tiff(const unsigned char* tiff, std::size_t n) {
  if (n < 8) return 1;
  const bool little = tiff[0] == 'I';
  const auto two = [&](std::size_t at) -> unsigned {
    if (at + 2 > n) return 0;
    return little ? tiff[at] | tiff[at + 1] << 8 : tiff[at] << 8 | tiff[at + 1];
  };
  const auto four = [&](std::size_t at) -> std::size_t {
    return little ? two(at) | static_cast<std::size_t>(two(at + 2)) << 16
                  : static_cast<std::size_t>(two(at)) << 16 | two(at + 2);
  };
  const std::size_t directory = four(4);
  if (directory + 2 > n) return 1;
  const unsigned entries = two(directory);
  for (unsigned i = 0; i < entries; ++i) {
    const std::size_t entry = directory + 2 + 12U * i;
    if (entry + 12 > n) return 1;
    if (two(entry) == 0x0112) return static_cast<int>(two(entry + 8));
  }
  return 1;
}

// The same of a PNG: its chunk eXIf holds the TIFF block alone (PNG specification, third edition; from
// memory). Chunks are length, name, data and a checksum, behind a signature of eight bytes.
int orientation_of_png(const std::string& bytes) {
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  for (std::size_t at = 8; at + 12 <= bytes.size();) {
    const std::size_t length =
        static_cast<std::size_t>(data[at]) << 24 | data[at + 1] << 16 | data[at + 2] << 8 | data[at + 3];
    if (length > bytes.size() - at - 12) return 1;
    if (bytes.compare(at + 4, 4, "eXIf") == 0) return orientation_of_tiff(data + at + 8, length);
    at += length + 12;
  }
  return 1;
}

// --- PNG -----------------------------------------------------------------------------------------

/// A picture being read by libpng's simple interface.
struct PngImage {
  png_image image{};
  PngImage() { image.version = PNG_IMAGE_VERSION; }
  PngImage(const PngImage&) = delete;
  PngImage& operator=(const PngImage&) = delete;
  ~PngImage() { png_image_free(&image); }
};

ColourPicture read_png(const std::string& bytes) {
  PngImage png;
  if (png_image_begin_read_from_memory(&png.image, bytes.data(), bytes.size()) == 0)
    throw PictureError(std::string("the PNG picture is broken: ") + png.image.message);
  check_sides(png.image.width, png.image.height);
  png.image.format = PNG_FORMAT_RGB;
  const int width = static_cast<int>(png.image.width), height = static_cast<int>(png.image.height);
  ColourPicture out{width, height, width, height, {}};
  out.rgb.resize(PNG_IMAGE_SIZE(png.image));
  const png_color white{255, 255, 255};
  if (png_image_finish_read(&png.image, &white, out.rgb.data(), 0, nullptr) == 0)
    throw PictureError(std::string("the PNG picture is broken: ") + png.image.message);
  return out;
}

// --- JPEG ----------------------------------------------------------------------------------------

/// libjpeg's error handler: its function must not return, so it leaves by longjmp. Nothing between the call
/// and the jump has a destructor.
struct JpegErrors {
  jpeg_error_mgr base;
  std::jmp_buf leave;
  char words[JMSG_LENGTH_MAX];
};

void leave(j_common_ptr jpeg) {
  auto* errors = reinterpret_cast<JpegErrors*>(jpeg->err);
  errors->base.format_message(jpeg, errors->words);
  std::longjmp(errors->leave, 1);
}

// Damage that the decoder can paint over is damage all the same: half of a photo must not be taken for a
// device.
void refuse_damage(j_common_ptr jpeg, int level) {
  if (level < 0) leave(jpeg);
}

struct JpegReader {
  jpeg_decompress_struct jpeg{};
  JpegErrors errors{};
  JpegReader() {
    jpeg.err = jpeg_std_error(&errors.base);
    errors.base.error_exit = leave;
    errors.base.emit_message = refuse_damage;
    jpeg_create_decompress(&jpeg);
  }
  JpegReader(const JpegReader&) = delete;
  JpegReader& operator=(const JpegReader&) = delete;
  ~JpegReader() { jpeg_destroy_decompress(&jpeg); }

  bool head(const std::string& bytes) {
    if (setjmp(errors.leave) != 0) return false;
    jpeg_save_markers(&jpeg, JPEG_APP0 + 1, 0xFFFF);
    jpeg_mem_src(&jpeg, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    return jpeg_read_header(&jpeg, TRUE) == JPEG_HEADER_OK;
  }
  bool start(unsigned denominator) {
    if (setjmp(errors.leave) != 0) return false;
    jpeg.out_color_space = JCS_RGB;
    jpeg.scale_num = 1;
    jpeg.scale_denom = denominator;
    return jpeg_start_decompress(&jpeg) != FALSE;
  }
  bool rows(std::uint8_t* pixels) {
    if (setjmp(errors.leave) != 0) return false;
    while (jpeg.output_scanline < jpeg.output_height) {
      JSAMPROW row = pixels + 3U * static_cast<std::size_t>(jpeg.output_scanline) * jpeg.output_width;
      jpeg_read_scanlines(&jpeg, &row, 1);
    }
    return jpeg_finish_decompress(&jpeg) != FALSE;
  }
};

int orientation_in(const unsigned char* data, std::size_t length) {
  constexpr std::size_t kHead = 6;
  if (length < kHead || std::memcmp(data, "Exif\0\0", kHead) != 0) return 1;
  return orientation_of_tiff(data + kHead, length - kHead);
}

int orientation_of(const jpeg_decompress_struct& jpeg) {
  for (const jpeg_marker_struct* marker = jpeg.marker_list; marker != nullptr; marker = marker->next) {
    const int tag = orientation_in(marker->data, marker->data_length);
    if (tag != 1) return tag;
  }
  return 1;
}

ColourPicture read_jpeg(const std::string& bytes, int longest) {
  JpegReader reader;
  const auto broken = [&] {
    return PictureError(std::string("the JPEG picture is broken: ") + reader.errors.words);
  };
  if (!reader.head(bytes)) throw broken();
  const jpeg_decompress_struct& jpeg = reader.jpeg;
  check_sides(jpeg.image_width, jpeg.image_height);
  if (jpeg.num_components == 4)
    throw PictureError(
        "the JPEG picture is in the colours of a print (CMYK); save it in those of a screen (RGB)");
  const int tag = orientation_of(jpeg);
  // A half, quarter or eighth is decoded at once: a picture of 50 megapixels is never whole in memory.
  unsigned denominator = 1;
  while (denominator < 8 &&
         std::max(jpeg.image_width, jpeg.image_height) / (2 * denominator) >= static_cast<unsigned>(longest))
    denominator *= 2;
  if (!reader.start(denominator)) throw broken();
  ColourPicture out{static_cast<int>(jpeg.output_width),
                    static_cast<int>(jpeg.output_height),
                    static_cast<int>(jpeg.image_width),
                    static_cast<int>(jpeg.image_height),
                    {}};
  out.rgb.resize(3U * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
  if (!reader.rows(out.rgb.data())) throw broken();
  return turned(shrunk(out, longest), {tag});
}

struct JpegWriter {
  jpeg_compress_struct jpeg{};
  JpegErrors errors{};
  unsigned char* bytes = nullptr;
  unsigned long length = 0;
  JpegWriter() {
    jpeg.err = jpeg_std_error(&errors.base);
    errors.base.error_exit = leave;
    jpeg_create_compress(&jpeg);
  }
  JpegWriter(const JpegWriter&) = delete;
  JpegWriter& operator=(const JpegWriter&) = delete;
  ~JpegWriter() {
    jpeg_destroy_compress(&jpeg);
    std::free(bytes);  // libjpeg's memory destination uses malloc
  }

  bool write(const ColourPicture& picture, int quality) {
    if (setjmp(errors.leave) != 0) return false;
    jpeg_mem_dest(&jpeg, &bytes, &length);
    jpeg.image_width = static_cast<JDIMENSION>(picture.width);
    jpeg.image_height = static_cast<JDIMENSION>(picture.height);
    jpeg.input_components = 3;
    jpeg.in_color_space = JCS_RGB;
    jpeg_set_defaults(&jpeg);
    jpeg_set_quality(&jpeg, quality, TRUE);
    jpeg.optimize_coding = TRUE;
    jpeg_start_compress(&jpeg, TRUE);
    while (jpeg.next_scanline < jpeg.image_height) {
      auto* row = const_cast<JSAMPROW>(picture.rgb.data() +
                                       3U * static_cast<std::size_t>(jpeg.next_scanline) * picture.width);
      jpeg_write_scanlines(&jpeg, &row, 1);
    }
    jpeg_finish_compress(&jpeg);
    return true;
  }
};

}  // namespace

ColourPicture read_picture(const std::string& bytes, int longest) {
  if (begins(bytes, "\x89PNG\r\n\x1a\n", 8))
    return turned(shrunk(read_png(bytes), longest), {orientation_of_png(bytes)});
  if (begins(bytes, "\xFF\xD8\xFF", 3)) return read_jpeg(bytes, longest);
  throw PictureError(kind_of(bytes));
}

photo::Picture luminance_of(const ColourPicture& picture) {
  std::vector<std::uint8_t> rgba(picture.rgb.size() / 3 * 4, 255);
  for (std::size_t i = 0; 3 * i < picture.rgb.size(); ++i) std::memcpy(&rgba[4 * i], &picture.rgb[3 * i], 3);
  return photo::picture_of_rgba(rgba.data(), picture.width, picture.height);
}

std::string jpeg_of(const ColourPicture& picture, int quality) {
  JpegWriter writer;
  if (!writer.write(picture, std::clamp(quality, 1, 100)))
    throw PictureError(std::string("the picture could not be written: ") + writer.errors.words);
  return {reinterpret_cast<const char*>(writer.bytes), writer.length};
}

}  // namespace tuft::figure
