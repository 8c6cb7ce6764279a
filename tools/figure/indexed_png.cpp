#include "tools/figure/indexed_png.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <stdexcept>

#include "tools/figure/png.hpp"

namespace tuft::figure {
namespace {

// Chunks, filters and their numbers as in the PNG standard, ISO/IEC 15948 (from memory; the tests read the
// files back with another library).
constexpr char kSignature[] = "\x89PNG\r\n\x1a\n";
constexpr std::uint8_t kPaletteColour = 3;
constexpr int kFilters = 5;

using Bytes = std::vector<std::uint8_t>;

void put_number(std::uint32_t value, std::string& bytes) {
  for (const int shift : {24, 16, 8, 0}) bytes += static_cast<char>((value >> shift) & 0xFFU);
}

void put_chunk(const std::string& name, const std::string& content, std::string& file) {
  put_number(static_cast<std::uint32_t>(content.size()), file);
  const std::string checked = name + content;
  file += checked;
  const auto* data = reinterpret_cast<const Bytef*>(checked.data());
  put_number(static_cast<std::uint32_t>(crc32(0, data, static_cast<uInt>(checked.size()))), file);
}

// Of the three pixels left, above and left above: the one nearest to left + above - left above.
int paeth(int left, int above, int corner) {
  const int guess = left + above - corner;
  const int to_left = std::abs(guess - left), to_above = std::abs(guess - above),
            to_corner = std::abs(guess - corner);
  if (to_left <= to_above && to_left <= to_corner) return left;
  return to_above <= to_corner ? above : corner;
}

std::uint8_t filtered(int filter, std::uint8_t pixel, int left, int above, int corner) {
  const std::array<int, kFilters> expected = {0, left, above, (left + above) / 2, paeth(left, above, corner)};
  return static_cast<std::uint8_t>(pixel - expected[static_cast<std::size_t>(filter)]);
}

// Every row by the filter that leaves least, counted as signed bytes: the standard's own advice.
Bytes filtered_rows(const Bytes& pixels, std::size_t width, std::size_t height) {
  Bytes rows;
  rows.reserve((width + 1) * height);
  for (std::size_t y = 0; y < height; ++y) {
    Bytes best;
    long least = -1;
    for (int filter = 0; filter < kFilters; ++filter) {
      Bytes row{static_cast<std::uint8_t>(filter)};
      long sum = 0;
      for (std::size_t x = 0; x < width; ++x) {
        const std::size_t at = y * width + x;
        const int left = x > 0 ? pixels[at - 1] : 0, above = y > 0 ? pixels[at - width] : 0,
                  corner = x > 0 && y > 0 ? pixels[at - width - 1] : 0;
        row.push_back(filtered(filter, pixels[at], left, above, corner));
        sum += std::abs(static_cast<int>(static_cast<std::int8_t>(row.back())));
      }
      if (least >= 0 && sum >= least) continue;
      least = sum;
      best = std::move(row);
    }
    rows.insert(rows.end(), best.begin(), best.end());
  }
  return rows;
}

std::string compressed(const Bytes& bytes) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string result(size, '\0');
  const int state = compress2(reinterpret_cast<Bytef*>(&result[0]), &size, bytes.data(),
                              static_cast<uLong>(bytes.size()), Z_BEST_COMPRESSION);
  if (state != Z_OK) throw PngError(fmt::format("picture: compression failed ({})", state));
  result.resize(size);
  return result;
}

}  // namespace

std::string png_of_indices(const std::vector<std::uint8_t>& pixels, int width, int height,
                           const std::vector<Rgb>& palette) {
  if (width < 1 || height < 1 ||
      pixels.size() != static_cast<std::size_t>(width) * static_cast<std::size_t>(height))
    throw std::invalid_argument(fmt::format("{} pixels for {} x {}", pixels.size(), width, height));
  if (palette.empty() || palette.size() > 256 ||
      *std::max_element(pixels.begin(), pixels.end()) >= palette.size())
    throw std::invalid_argument(fmt::format("a palette of {} colours lacks one", palette.size()));
  std::string header, colours;
  put_number(static_cast<std::uint32_t>(width), header);
  put_number(static_cast<std::uint32_t>(height), header);
  header += {8, static_cast<char>(kPaletteColour), 0, 0, 0};  // bits, colour, compression, filter, interlace
  for (const Rgb& colour : palette)
    colours +=
        {static_cast<char>(colour.red), static_cast<char>(colour.green), static_cast<char>(colour.blue)};
  const Bytes rows = filtered_rows(pixels, static_cast<std::size_t>(width), static_cast<std::size_t>(height));
  std::string file(kSignature, 8);
  put_chunk("IHDR", header, file);
  put_chunk("PLTE", colours, file);
  put_chunk("IDAT", compressed(rows), file);
  put_chunk("IEND", "", file);
  return file;
}

}  // namespace tuft::figure
