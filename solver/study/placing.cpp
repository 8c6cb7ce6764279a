#include "solver/study/placing.hpp"

#include <algorithm>

#include "geometry/device/condition.hpp"

namespace tuft::ensemble {
namespace {

double sum_of(const geometry::Source& source) {
  double sum = 0.0;
  for (const geometry::HeatShare& share : source.shares) sum += *share.share;
  return sum;
}

bool has_uncertain_share(const geometry::Source& source) {
  return std::any_of(source.shares.begin(), source.shares.end(),
                     [](const geometry::HeatShare& share) { return share.share.input >= 0; });
}

}  // namespace

PlacedCase::PlacedCase(const geometry::Case& content) : content_(content) {
  geometry::for_each_value(content_, [&](geometry::Value& value) {
    if (value.input >= 0) places_.push_back({&value, value.scale, value.input, value.times});
  });
  for (geometry::Source& source : content_.device.sources)
    if (has_uncertain_share(source)) shares_.push_back({&source, sum_of(source)});
  for (const geometry::Input& input : content_.inputs) nominal_.push_back(*input.prior);
}

void PlacedCase::put(const double* values) {
  for (const Place& place : places_) {
    double value = place.scale * values[place.input];
    if (place.times >= 0 && nominal_[static_cast<std::size_t>(place.times)] != 0.0)
      value *= values[place.times] / nominal_[static_cast<std::size_t>(place.times)];
    place.value->nominal = value;
  }
  keep_power_whole();
}

void PlacedCase::keep_power_whole() {
  for (const Shares& entry : shares_) {
    const double sum = sum_of(*entry.source);
    if (sum <= 0.0) continue;
    const double factor = entry.sum / sum;
    for (geometry::HeatShare& share : entry.source->shares) share.share.nominal *= factor;
  }
}

}  // namespace tuft::ensemble
