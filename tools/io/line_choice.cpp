#include "tools/io/field_lines.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace tuft::io {
namespace {

using Place = std::pair<long, long>;

Place place_of(const FlowLine::Point& point, double apart) {
  return {std::lround(point.x / apart), std::lround(point.y / apart)};
}

std::vector<Place> places_of(const FlowLine& line, double apart) {
  std::vector<Place> places;
  for (const FlowLine::Point& point : line.points) {
    const Place place = place_of(point, apart);
    if (places.empty() || places.back() != place) places.push_back(place);
  }
  return places;
}

}  // namespace

FlowLine without_repeats(const FlowLine& line, double apart) {
  constexpr double kAway = 3.0;  // along its way, in `apart`: nearer is the line itself, not its next round
  constexpr double kFollows = 1.0;  // so far along its old way before it is cut, in `apart`
  std::map<Place, double> first;    // where along its way [m] the line came by a place
  double gone = 0.0, speed_control = 0.0;
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    const double step =
        k == 0 ? 0.0
               : std::hypot(line.points[k].x - line.points[k - 1].x, line.points[k].y - line.points[k - 1].y);
    gone += step;
    const double before = first.emplace(place_of(line.points[k], 0.5 * apart), gone).first->second;
    speed_control = gone - before > kAway * apart ? speed_control + step : 0.0;
    if (speed_control <= kFollows * apart) continue;
    FlowLine cut = line;
    cut.points.resize(k + 1);
    return cut;
  }
  return line;
}

std::vector<FlowLine> thinned(const std::vector<FlowLine>& lines, double apart) {
  constexpr std::size_t kShortest = 4;  // places: shorter lines are scraps
  constexpr double kFresh = 0.6;        // a line that repeats more than the rest makes it darker, not clearer
  std::vector<std::pair<std::vector<Place>, FlowLine>> long_first;
  for (const FlowLine& whole : lines) {
    FlowLine line = without_repeats(whole, apart);
    std::vector<Place> places = places_of(line, apart);
    if (places.size() >= kShortest) long_first.push_back({std::move(places), std::move(line)});
  }
  std::stable_sort(long_first.begin(), long_first.end(),
                   [](const auto& a, const auto& b) { return a.first.size() > b.first.size(); });
  std::map<int, std::set<Place>> taken;
  std::vector<FlowLine> kept;
  for (auto& [places, line] : long_first) {
    std::set<Place>& own = taken[line.layer];
    const auto fresh = std::count_if(places.begin(), places.end(),
                                     [&own = own](const Place& place) { return own.count(place) == 0; });
    if (static_cast<double>(fresh) < kFresh * static_cast<double>(places.size())) continue;
    own.insert(places.begin(), places.end());
    kept.push_back(std::move(line));
  }
  return kept;
}

}  // namespace tuft::io
