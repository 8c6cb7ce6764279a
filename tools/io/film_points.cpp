// Which particles are to be seen at a moment of a loop.
#include <algorithm>
#include <cmath>
#include <optional>

#include "tools/io/tracer_film.hpp"

namespace tuft::output {
namespace {

using field::Track;
using field::TrackPoint;

constexpr double kGolden = 0.61803398874989485;  // its multiples fill a period evenly, however many there are

// The last point not older than an age.
std::size_t before(const Track& track, double age) {
  const auto next = std::upper_bound(track.points.begin(), track.points.end(), age,
                                     [](double value, const TrackPoint& point) { return value < point.age; });
  return static_cast<std::size_t>(next - track.points.begin()) - 1;
}

figure::Place place_at(const Track& track, std::size_t k, double age) {
  const TrackPoint& a = track.points[k];
  if (k + 1 >= track.points.size() || track.points[k + 1].jumped) return {a.x, a.y};
  const TrackPoint& b = track.points[k + 1];
  const double share = b.age > a.age ? (age - a.age) / (b.age - a.age) : 0.0;
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

SeenPoint seen_at(const Track& track, std::size_t k, double age, double tail) {
  const figure::Place at = place_at(track, k, age);
  SeenPoint seen{at.x, at.y, age, {at}};
  for (std::size_t n = k;; --n) {
    if (track.points[n].age < age - tail) {
      seen.tail.push_back(place_at(track, n, age - tail));
      break;
    }
    seen.tail.push_back({track.points[n].x, track.points[n].y});
    if (n == 0 || track.points[n].jumped) break;
  }
  std::reverse(seen.tail.begin(), seen.tail.end());
  return seen;
}

}  // namespace

std::vector<SeenPoint> seen_points(const std::vector<Track>& tracks, int grid, double period, double time,
                                   double tail) {
  std::vector<SeenPoint> seen;
  for (std::size_t n = 0; n < tracks.size(); ++n) {
    const Track& track = tracks[n];
    const double start = std::fmod(kGolden * static_cast<double>(n), 1.0) * period;
    // One of its kind sets out in every round of the loop.
    double age = std::fmod(time - start, period);
    if (age < 0.0) age += period;
    for (; age < track.points.back().age; age += period) {
      const std::size_t k = before(track, age);
      if (track.points[k].grid == grid) seen.push_back(seen_at(track, k, age, tail));
    }
  }
  return seen;
}

void leave_out_slow(std::vector<SeenPoint>& points, double slowest, double tail) {
  const auto slow = [&](const SeenPoint& point) {
    double way = 0.0;
    for (std::size_t k = 1; k < point.tail.size(); ++k)
      way += std::hypot(point.tail[k].x - point.tail[k - 1].x, point.tail[k].y - point.tail[k - 1].y);
    return way < slowest * std::min(tail, point.age);
  };
  points.erase(std::remove_if(points.begin(), points.end(), slow), points.end());
}

}  // namespace tuft::output
