#include "tools/cli/thermal_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"
#include "geometry/casefile/units.hpp"
#include "geometry/device/lists.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/figure/picture_file.hpp"
#include "tools/io/thermal_grid.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

using casefile::Dimension;
using photo::Vec2;

// --- the file ------------------------------------------------------------------------------------

std::string bytes_of_picture(const std::string& path) {
  constexpr std::uintmax_t kMostBytes = 200u << 20;
  const std::filesystem::path file(path);
  std::error_code error;
  if (!std::filesystem::is_regular_file(file, error))
    refuse(path + (std::filesystem::exists(file, error) ? ": is no plain file" : ": there is no such file"));
  if (std::filesystem::file_size(file, error) > kMostBytes)
    refuse(path + ": is larger than 200 MB; a thermal picture is much smaller");
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream bytes;
  bytes << stream.rdbuf();
  if (!stream) refuse(path + ": cannot be read");
  return bytes.str();
}

bool begins_with(const std::string& bytes, const std::string& mark) { return bytes.rfind(mark, 0) == 0; }

// --- places --------------------------------------------------------------------------------------

// "12,40" or "12.5;40"; no value for anything else.
std::optional<Vec2> place_in(const std::string& text) {
  std::istringstream stream(text);
  stream.imbue(std::locale::classic());
  double x = 0.0, y = 0.0;
  char between = 0, more = 0;
  const bool two = static_cast<bool>(stream >> x >> between >> y) && (between == ',' || between == ';');
  if (!two || (stream >> more) || !std::isfinite(x) || !std::isfinite(y)) return std::nullopt;
  return Vec2(x, y);
}

std::vector<geometry::PixelPlace> read_corners(const std::string& text) {
  std::vector<geometry::PixelPlace> corners;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const auto place = place_in(word);
    if (!place) refuse("--corners: '" + word + "' is no place in a picture; write X,Y such as 31,20");
    corners.push_back({place->x(), place->y()});
  }
  if (corners.size() != 4)
    refuse(fmt::format("--corners: four places are needed, as in '31,20 604,22 600,447 33,441'; found {}",
                       corners.size()));
  return corners;
}

const geometry::Photo& photo_called(const geometry::Case& content, const std::string& name) {
  const std::vector<std::string> known = names_of(content.photos);
  if (known.empty()) refuse("--photo: the case has no `photos`; give --face and --corners");
  return content.photos[static_cast<std::size_t>(find_name("photo", name, known))];
}

// Where the face lies in the picture, as the case or the command line says it.
geometry::Photo stated_photo(const geometry::Case& content, const ThermalSource& source) {
  if (!source.photo.empty()) {
    if (!source.face.empty() || !source.corners.empty())
      refuse("--photo says face and corners already; take --face and --corners out");
    const geometry::Photo& photo = photo_called(content, source.photo);
    if (photo.view == geometry::PhotoView::inside)
      refuse("--photo: '" + source.photo + "' shows the inside, and patches of skin lie outside");
    return photo;
  }
  if (source.face.empty()) refuse("thermal needs --face: the face that the picture shows");
  if (source.corners.empty()) refuse("thermal needs --corners: where the face's corners lie in the picture");
  geometry::Photo photo;
  std::vector<std::string> faces = geometry::all_words<geometry::PhotoView>();
  faces.pop_back();  // the inside
  const std::string ours = casefile::our_word_for(source.face, faces);
  const auto view = geometry::kind_called<geometry::PhotoView>(ours.empty() ? source.face : ours);
  if (!view || *view == geometry::PhotoView::inside) {
    const std::string hint = casefile::hint_for(source.face, faces);
    refuse("--face: '" + source.face + "' is none of " + casefile::listed(faces) +
           (hint.empty() ? "" : "; " + hint));
  }
  photo.view = *view;
  photo.corners = read_corners(source.corners);
  return photo;
}

photo::PhotoMap map_in(const geometry::Case& content, const geometry::Photo& photo, int width, int height) {
  switch (photo::fault_of(photo)) {
    case photo::PlaceFault::not_convex:
      refuse("--corners: these four places, in their order, form no four-sided figure without a crossing");
    case photo::PlaceFault::wrong_way:
      refuse(
          "--corners: they run the other way round than this face's do, seen from outside; tuft thermal "
          "--help "
          "says their order");
    case photo::PlaceFault::no_places:
    case photo::PlaceFault::points_coincide:
      refuse("the places of the face in the picture say nothing; give four corners");
    case photo::PlaceFault::none:
      break;
  }
  const auto map = photo::map_of(photo, content.device.size, width, height);
  if (!map) refuse("--corners: these places show no face");
  return *map;
}

// --- temperatures --------------------------------------------------------------------------------

photo::ThermalPicture from_grid(const std::string& text, const ThermalSource& source) {
  if (!source.bar.empty()) refuse("--bar goes with a picture; the file holds numbers");
  const auto grid = std::make_shared<const io::NumberGrid>(io::read_grid(text));
  if (!grid->fault.empty())
    refuse(source.picture + ": is neither a picture nor a grid of numbers: " + grid->fault);
  const std::string unit_text = source.unit.empty() ? "°C" : source.unit;
  const casefile::Unit unit = casefile::find_unit(unit_text);
  if (!unit.known || unit.dimension != Dimension::temperature)
    refuse("--unit: '" + unit_text + "' is no unit of temperatures (°C, K, °F)");
  double sum = 0.0;
  std::size_t count = 0;
  for (const double value : grid->values) {
    if (!std::isfinite(value)) continue;
    sum += unit.factor * value + unit.offset;
    ++count;
  }
  const double mean = sum / static_cast<double>(std::max<std::size_t>(1, count));
  constexpr double kColdest = 213.15, kHottest = 473.15;  // -60 to 200 °C: no device is so all over
  if (mean < kColdest || mean > kHottest)
    refuse(fmt::format("{}: its mean would be {:.0f} °C; say by --unit what the numbers are in (°C, K, °F)",
                       source.picture, mean - 273.15));
  return {grid->width, grid->height, [grid, unit](int column, int row) {
            const double value = grid->at(column, row);
            photo::ThermalPixel pixel;
            pixel.known = std::isfinite(value);
            pixel.temperature = pixel.known ? unit.factor * value + unit.offset : 0.0;
            return pixel;
          }};
}

photo::BarMark read_mark(const std::string& text) {
  const std::size_t sign = text.find('=');
  const auto place = sign == std::string::npos ? std::nullopt : place_in(text.substr(0, sign));
  if (!place) refuse("--bar: '" + text + "' is no place with its temperature; write X,Y=58 °C");
  const casefile::Quantity read = casefile::read_quantity(text.substr(sign + 1), Dimension::temperature);
  if (!read.ok()) refuse("--bar: " + read.fault + (read.hint.empty() ? "" : "; " + read.hint));
  return {*place, *read.value};
}

const char* words_for(photo::BarFault fault) {
  switch (fault) {
    case photo::BarFault::outside:
      return "a mark lies outside the picture";
    case photo::BarFault::too_short:
      return "the marks lie less than 16 pixels apart; mark the ends of the bar";
    case photo::BarFault::same:
      return "both marks have the same temperature";
    case photo::BarFault::too_few_colours:
      return "the colours between the marks hardly differ, so there is no colour bar";
    case photo::BarFault::repeats:
      return "places far apart on the bar have the same colour, so a colour does not tell a temperature; use "
             "another palette, such as greys, or a grid of numbers";
    case photo::BarFault::none:
      break;
  }
  return "";
}

// Pixels of four bytes each, as the colour bar is read from.
struct Pixels {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;

  const std::uint8_t* at(int column, int row) const {
    return rgba.data() + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                              static_cast<std::size_t>(column));
  }
};

Pixels pixels_of(const figure::ColourPicture& picture) {
  Pixels out{picture.width, picture.height, {}};
  out.rgba.reserve(picture.rgb.size() / 3 * 4);
  for (std::size_t i = 0; i < picture.rgb.size(); i += 3)
    out.rgba.insert(out.rgba.end(), {picture.rgb[i], picture.rgb[i + 1], picture.rgb[i + 2], 255});
  return out;
}

photo::ThermalPicture from_colours(const figure::ColourPicture& picture, const ThermalSource& source) {
  if (!source.unit.empty()) refuse("--unit goes with a grid of numbers; the marks of --bar have their own");
  if (source.bar.size() != 2)
    refuse(fmt::format("a picture needs two marks on its colour bar, --bar 'X,Y=58 °C' twice; found {}",
                       source.bar.size()));
  const auto pixels = std::make_shared<const Pixels>(pixels_of(picture));
  const photo::ColourBar bar(pixels->rgba.data(), pixels->width, pixels->height, read_mark(source.bar[0]),
                             read_mark(source.bar[1]));
  if (bar.fault() != photo::BarFault::none) refuse(std::string("--bar: ") + words_for(bar.fault()));
  return {
      pixels->width, pixels->height, [pixels, bar](int column, int row) {
        const std::uint8_t* at = pixels->at(column, row);
        return bar.read({static_cast<double>(at[0]), static_cast<double>(at[1]), static_cast<double>(at[2])});
      }};
}

// A text holds no bytes below a space but line ends and tabs.
bool is_text(const std::string& bytes) {
  constexpr std::size_t kLook = 4096;
  for (std::size_t i = 0; i < std::min(kLook, bytes.size()); ++i) {
    const auto c = static_cast<unsigned char>(bytes[i]);
    if (c < 0x20 && c != '\n' && c != '\r' && c != '\t') return false;
  }
  return !begins_with(bytes, "%PDF");
}

photo::ThermalPicture read_thermal_file(const ThermalSource& source) {
  constexpr int kAsItIs = 30000;  // places count in the pixels of the file: it is not made smaller
  const std::string bytes = bytes_of_picture(source.picture);
  if (is_text(bytes)) return from_grid(bytes, source);
  try {
    return from_colours(figure::read_picture(bytes, kAsItIs), source);
  } catch (const figure::PictureError& error) {
    refuse(source.picture + ": cannot be read: " + error.what());
  }
}

}  // namespace

PlacedPicture placed_picture(const geometry::Case& content, const ThermalSource& source) {
  const geometry::Photo photo = stated_photo(content, source);
  photo::ThermalPicture thermal = read_thermal_file(source);
  photo::PhotoMap map = map_in(content, photo, thermal.width, thermal.height);
  return {std::move(thermal), geometry::face_of(photo), map};
}

}  // namespace tuft::cli
