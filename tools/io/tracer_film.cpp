#include "tools/io/tracer_film.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/flow2d/track_flow.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using flow2d::Track;
using flow2d::TrackPoint;

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

using flow2d::TrackFlow;

constexpr double kSeen = 4.0;  // how long most air is to be seen [s]
constexpr int kPilots = 400;   // particles that find out how long the air stays
constexpr double kLongestLoop =
    8.0;  // particles are followed this many times as long as the air stays on average
constexpr double kTailFrames = 3.0;  // length of a tail, in frames
constexpr double kAcross = 80.0;     // points of one way across a section that are told from each other
constexpr int kFewest = 60, kMostParticles = 8000;  // particles a loop

/// How long particles are followed and to be seen.
struct Stay {
  double longest = 0.0, mean = 0.0, most = 0.0;  ///< [s]; most: nine of ten stay no longer
};

Stay stay_of(const TrackFlow& flow) {
  double mass = 0.0, in = 0.0;
  for (const flow2d::FlowGrid& grid : flow.grids)
    for (const double cell : grid.mass.values()) mass += cell;
  for (const flow2d::TrackSource& source : flow.sources) in += source.flow;
  if (!(in > 0.0)) throw NothingFlows("no air comes in by its vents");
  Stay stay;
  stay.longest = kLongestLoop * mass / in;
  std::vector<double> ages;
  for (const Track& track : follow_tracks(flow, kPilots, stay.longest))
    ages.push_back(track.points.back().age);
  std::sort(ages.begin(), ages.end());
  for (const double age : ages) stay.mean += age / static_cast<double>(ages.size());
  stay.most = ages[ages.size() * 9 / 10];
  return stay;
}

/// The least 1, 2 or 5 times a power of ten that is not below a value.
double round_up(double value) {
  const double power = std::pow(10.0, std::floor(std::log10(value)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (value <= factor * power * (1.0 + 1e-9)) return factor * power;
  return 10.0 * power;
}

/// A film: particles, and the clock they are shown by.
struct Film {
  FilmOptions options;
  double slowed = 1.0, period = 0.0;  // device time of a loop [s]
  std::vector<Track> tracks;

  double time(int frame) const { return period * frame / options.frames; }
};

Film film_of(const Stay& stay, const FilmOptions& options) {
  Film film;
  film.options = options;
  film.slowed = slowing(stay.mean);
  film.period = options.frames / (options.per_second * film.slowed);
  return film;
}

void add_tracks(const TrackFlow& flow, const Stay& stay, int points, Film& film) {
  const double count = points * film.period / std::max(stay.mean, 1e-9);
  const int wanted =
      static_cast<int>(std::clamp(count, static_cast<double>(kFewest), static_cast<double>(kMostParticles)));
  for (Track& track : follow_tracks(flow, wanted, stay.longest)) film.tracks.push_back(std::move(track));
}

// As many decimals as tell one frame from the next, so that the words keep their width.
std::string clock_words(const Film& film, int frame) {
  const double step = film.period / film.options.frames;
  const int decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(step))), 0, 6);
  return fmt::format("{:.{}f} s of {:.{}f} s, in a loop at {} frames a second. ", film.time(frame), decimals,
                     film.period, decimals, film.options.per_second);
}

/// The slowest air [m/s] whose points stand far enough apart to be told from each other.
double slowest_told(const Film& film, const figure::FieldMap& map) {
  const double width = std::max(map.x.back() - map.x.front(), map.y.back() - map.y.front());
  return width / kAcross / film.period;
}

/// A map with the dots of one frame instead of a field; those of air slower than `slowest` [m/s] are not
/// there.
template <typename Turned>
std::vector<figure::FieldMap> maps_of(const Film& film, figure::FieldMap base, const Stay& stay,
                                      double slowest, Turned turned) {
  base.values.clear();
  base.streamlines.clear();
  base.kind = figure::MapKind::cool;
  base.low = 0.0;
  base.high = round_up(stay.most);
  base.note += fmt::format(" Older than {:.3g} s: the darkest colour.", *base.high);
  const double tail = kTailFrames / (film.options.per_second * film.slowed);
  base.dot_words = fmt::format("tracer particle, and its path in the last {} s", significant(tail, 2, 4));
  const std::string subtitle = base.subtitle;
  base.title += ", " + slowing_words(film.slowed);
  std::vector<figure::FieldMap> maps;
  for (int frame = 0; frame < film.options.frames; ++frame) {
    figure::FieldMap map = base;
    map.subtitle = clock_words(film, frame) + subtitle;
    std::vector<SeenPoint> points = seen_points(film.tracks, 0, film.period, film.time(frame), tail);
    leave_out_slow(points, slowest, tail);
    for (const SeenPoint& seen : points) {
      figure::MapDot dot{turned({seen.x, seen.y}), seen.age, {}};
      for (const figure::Place& place : seen.tail) dot.tail.push_back(turned(place));
      map.dots.push_back(std::move(dot));
    }
    maps.push_back(std::move(map));
  }
  return maps;
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

double slowing(double stay) {
  const double exact = kSeen / stay, power = std::pow(10.0, std::floor(std::log10(exact)));
  double best = power;
  for (const double factor : {2.0, 5.0, 10.0})
    if (std::abs(std::log(exact / (factor * power))) < std::abs(std::log(exact / best)))
      best = factor * power;
  return best;
}

std::string slowing_words(double slowed) {
  if (slowed > 1.0) return fmt::format("slowed {:.6g} times", slowed);
  return slowed < 1.0 ? fmt::format("{:.6g} times as fast as in reality", 1.0 / slowed) : "in real time";
}

std::vector<figure::FieldMap> tracer_maps(const FieldRun& field, const FilmOptions& options) {
  const TrackFlow flow = flow2d::track_flow(field.run.content.device, field.plan, field.cell);
  const Stay stay = stay_of(flow);
  Film film = film_of(stay, options);
  add_tracks(flow, stay, options.points, film);
  figure::FieldMap base = layer_map(field, 0, MapQuantity::speed, {});
  base.quantity = "Since the air came in";
  base.unit = "s";
  base.note = fmt::format(
      "tuft {}, {}: tracer particles enter with the air, in proportion to it, and follow the mean over the "
      "depth of the layer; cells of {}. A prediction, no safety assessment.",
      field.run.version, field.run.case_file, length_text(field.cell, field.run.content.units, 3));
  return maps_of(film, std::move(base), stay, 0.0, [](const figure::Place& place) { return place; });
}

std::vector<figure::FieldMap> section_tracer_maps(const FieldRun& field, const FilmOptions& options) {
  const flow2d::SectionResult& result = field.section->result;
  const TrackFlow warm = flow2d::track_flow(result, flow2d::TrackOrigin::vents);
  const TrackFlow room = flow2d::track_flow(result, flow2d::TrackOrigin::room);
  const Stay warm_stay = stay_of(warm), room_stay = stay_of(room);
  Film film = film_of(warm_stay, options);
  add_tracks(warm, warm_stay, options.points / 2, film);
  add_tracks(room, room_stay, options.points / 2, film);
  figure::FieldMap base = section_map(field, MapQuantity::speed, {});
  const double slowest = slowest_told(film, base);
  base.quantity = "Since it left the device, or came near";
  base.unit = "s";
  base.note = fmt::format(
      "tuft {}, {}: a cross-section, as if everything continued unchanged across it; half of the particles "
      "leave the device, half come with the room's air; none are shown where the air is slower than {}. "
      "A prediction, no safety "
      "assessment.",
      field.run.version, field.run.case_file, speed_text(slowest, field.run.content.units, 2));
  const QuarterTurn turn(result);
  return maps_of(film, std::move(base), warm_stay, slowest,
                 [&turn](const figure::Place& place) { return turn.place(place); });
}

}  // namespace tuft::io
