#include "geometry/photo/thermal.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace tuft::photo {
namespace {

constexpr double kForeignColour = 30.0;  // farther from every colour of the bar is none of it; judgement
constexpr double kLeastLength = 16.0;    // of a bar [pixels]
constexpr double kLeastChange = 100.0;   // of the colours along a bar, summed; judgement
constexpr double kRepeatedColour = 8.0;  // nearer is one colour; a compressed picture's noise, judgement
constexpr double kFarApart = 0.2;        // on a bar, as a share of it
constexpr double kEnd = 0.01;            // of a bar, at either side, as a share of it

double distance(const Colour& a, const Colour& b) {
  return std::sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                   (a[2] - b[2]) * (a[2] - b[2]));
}

bool is_inside(const Vec2& place, int width, int height) {
  return place.x() >= 0.0 && place.y() >= 0.0 && place.x() <= width && place.y() <= height;
}

Colour colour_at(const std::uint8_t* rgba, int width, int height, const Vec2& place) {
  const int column = std::clamp(static_cast<int>(std::floor(place.x())), 0, width - 1);
  const int row = std::clamp(static_cast<int>(std::floor(place.y())), 0, height - 1);
  const std::uint8_t* at = rgba + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                                       static_cast<std::size_t>(column));
  return {static_cast<double>(at[0]), static_cast<double>(at[1]), static_cast<double>(at[2])};
}

// Places far apart on the bar that have one colour: then a colour says nothing certain.
bool repeats_colours(const std::vector<Colour>& colours) {
  const auto apart = static_cast<std::size_t>(std::ceil(kFarApart * static_cast<double>(colours.size())));
  for (std::size_t i = 0; i < colours.size(); ++i)
    for (std::size_t j = i + apart; j < colours.size(); ++j)
      if (distance(colours[i], colours[j]) < kRepeatedColour) return true;
  return false;
}

// Where on the way from one colour to the next another one lies, 0 to 1, and how far from it.
std::pair<double, double> on_the_way(const Colour& from, const Colour& to, const Colour& colour) {
  double along = 0.0, length = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    along += (to[i] - from[i]) * (colour[i] - from[i]);
    length += (to[i] - from[i]) * (to[i] - from[i]);
  }
  const double share = length > 0.0 ? std::clamp(along / length, 0.0, 1.0) : 0.5;
  Colour at;
  for (std::size_t i = 0; i < 3; ++i) at[i] = from[i] + share * (to[i] - from[i]);
  return {share, distance(at, colour)};
}

}  // namespace

ColourBar::ColourBar(const std::uint8_t* rgba, int width, int height, const BarMark& first,
                     const BarMark& second)
    : from_(first.temperature), to_(second.temperature) {
  const double length = (second.place - first.place).norm();
  if (!is_inside(first.place, width, height) || !is_inside(second.place, width, height)) {
    fault_ = BarFault::outside;
  } else if (from_ == to_) {
    fault_ = BarFault::same;
  } else if (length < kLeastLength) {
    fault_ = BarFault::too_short;
  }
  if (fault_ != BarFault::none) return;
  const int samples = static_cast<int>(length) + 1;
  double change = 0.0;
  for (int i = 0; i < samples; ++i) {
    const Vec2 place = first.place + (second.place - first.place) * (static_cast<double>(i) / (samples - 1));
    colours_.push_back(colour_at(rgba, width, height, place));
    if (i > 0) change += distance(colours_[colours_.size() - 2], colours_.back());
  }
  if (change < kLeastChange)
    fault_ = BarFault::too_few_colours;
  else if (repeats_colours(colours_))
    fault_ = BarFault::repeats;
}

ThermalPixel ColourBar::read(const Colour& colour) const {
  double nearest = 1e9, place = 0.0;
  std::size_t step = 0;
  for (std::size_t i = 0; i + 1 < colours_.size(); ++i) {
    const auto [share, away] = on_the_way(colours_[i], colours_[i + 1], colour);
    if (away >= nearest) continue;
    nearest = away;
    step = i;
    place = static_cast<double>(i) + share;
  }
  const double steps = static_cast<double>(colours_.size() - 1);
  ThermalPixel out;
  out.known = nearest <= kForeignColour;
  out.temperature = from_ + (to_ - from_) * place / steps;
  out.at_end = place <= kEnd * steps || place >= (1.0 - kEnd) * steps;
  // One pixel by which either mark may be off, and what the colour's distance means along the bar there: over
  // ten steps, so that steps of one colour count.
  const std::size_t low = step < 5 ? 0 : step - 5, high = std::min(colours_.size() - 1, step + 5);
  double speed = 0.0;
  for (std::size_t i = low; i < high; ++i) speed += distance(colours_[i], colours_[i + 1]);
  speed /= static_cast<double>(high - low);
  const double kelvins = std::abs(to_ - from_) / steps;
  out.sigma = kelvins * std::hypot(1.0, nearest / std::max(speed, 0.1));
  return out;
}

std::optional<ThermalReading> read_thermal(const ThermalPicture& picture, const PhotoMap& map,
                                           const Patch& patch, bool round) {
  const auto size = map.pixel_size(patch.centre);
  if (!size || !(size->x() > 0.0)) return std::nullopt;
  constexpr double kMostSamples = 400.0;  // a side
  const auto samples = [&](double length) {
    return static_cast<int>(std::clamp(std::ceil(2.0 * length / size->x()), 2.0, kMostSamples));
  };
  const int columns = samples(patch.width), rows = samples(patch.height);
  std::set<std::pair<int, int>> seen;
  ThermalReading out;
  out.across = std::min(patch.width, patch.height) / size->y();
  double sum = 0.0, sigma = 0.0;
  int known = 0, at_end = 0;
  for (int j = 0; j < rows; ++j) {
    for (int i = 0; i < columns; ++i) {
      const double along = (i + 0.5) / columns, across = (j + 0.5) / rows;
      if (round && std::hypot(2.0 * along - 1.0, 2.0 * across - 1.0) > 1.0) continue;
      const auto place = map.pixel(patch.place(along, across));
      if (!place || !is_inside(*place, picture.width, picture.height)) return std::nullopt;
      const int column = std::min(static_cast<int>(place->x()), picture.width - 1);
      const int row = std::min(static_cast<int>(place->y()), picture.height - 1);
      if (!seen.insert({column, row}).second) continue;
      const ThermalPixel pixel = picture.pixel(column, row);
      if (!pixel.known) continue;
      if (known == 0) out.lowest = out.highest = pixel.temperature;
      out.lowest = std::min(out.lowest, pixel.temperature);
      out.highest = std::max(out.highest, pixel.temperature);
      sum += pixel.temperature;
      sigma += pixel.sigma;
      ++known;
      if (pixel.at_end) ++at_end;
    }
  }
  out.pixels = static_cast<int>(seen.size());
  if (out.pixels == 0) return std::nullopt;
  out.unknown = 1.0 - static_cast<double>(known) / out.pixels;
  if (known == 0) return out;
  out.mean = sum / known;
  out.sigma = sigma / known;
  out.at_end = static_cast<double>(at_end) / known;
  return out;
}

}  // namespace tuft::photo
