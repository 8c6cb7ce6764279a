#include <algorithm>
#include <cmath>

#include "geometry/device/lists.hpp"
#include "solver/experiment/measure.hpp"

namespace tuft::experiment {
namespace {

using geometry::PlaceKind;

// Net speeds through a vent at which the bench is asked [m/s], both ways.
constexpr double kSpeeds[] = {0.0, 0.01, 0.02, 0.04, 0.08, 0.15, 0.3, 0.6, 1.2, 2.5, 5.0, 10.0};
// Temperatures [K] and fan speeds [rev/s] between which its answer is a straight line.
constexpr double kTemperatures[] = {290.0, 320.0, 370.0};
constexpr double kRotations[] = {0.0, 40.0, 120.0};
constexpr double kHalf = 0.5;          // chance at the threshold
constexpr double kBelowHalf = 0.1587;  // chance one width below it: a standard normal's tail

bool looks_at_vent(const Probe& probe) { return probe.vent >= 0; }
bool looks_at_air(const Probe& probe) {
  return probe.instrument == Instrument::thermocouple && looks_at_vent(probe);
}

// Net speed out of a vent over its face.
double net_speed(double inflow, double outflow, double face_velocity) {
  const double larger = std::max(inflow, outflow);
  return larger > 0.0 ? face_velocity * (outflow - inflow) / larger : 0.0;
}

std::vector<double> asked_at(const Probe& probe) {
  std::vector<double> out;
  if (looks_at_vent(probe)) {
    for (const double speed : kSpeeds) {
      out.push_back(speed);
      if (speed > 0.0) out.push_back(-speed);
    }
    std::sort(out.begin(), out.end());
  } else if (probe.instrument == Instrument::fan_speed) {
    out.assign(std::begin(kRotations), std::end(kRotations));
  } else {
    out.assign(std::begin(kTemperatures), std::end(kTemperatures));
  }
  return out;
}

void put_speed(study::VentResult& vent, double mass_per_speed, double speed) {
  vent.inflow = std::max(0.0, -speed) * mass_per_speed;
  vent.outflow = std::max(0.0, speed) * mass_per_speed;
  vent.exchange = 0.0;
  vent.face_velocity = std::abs(speed);
}

// The nominal result with the quantity the probe looks at set to x.
study::ConditionResult with_quantity(const geometry::Case& content, const study::ConditionResult& nominal,
                                     const Probe& probe, double x) {
  study::ConditionResult result = nominal;
  if (looks_at_vent(probe)) {
    const geometry::Vent& vent = content.device.vents[probe.vent];
    const study::VentResult& flows = nominal.vents[probe.vent];
    const double larger = std::max(flows.inflow, flows.outflow);
    const double area = vent.width * vent.height * (1.0 - *vent.blocked) * (1.0 - flows.hidden);
    const double per_speed = flows.face_velocity > 0.0 && larger > 0.0 ? larger / flows.face_velocity
                                                                       : nominal.ambient_density * area;
    put_speed(result.vents[probe.vent], per_speed, x);
    return result;
  }
  if (probe.instrument == Instrument::fan_speed) {
    result.fans[probe.place.index].speed = x;
  } else if (probe.place.kind == PlaceKind::source) {
    result.sources[probe.place.index].temperature = x;
  } else if (probe.place.kind == PlaceKind::part) {
    result.parts[probe.place.index].temperature = x;
  } else {
    result.skins[probe.place.index].temperature = x;
  }
  return result;
}

// Place between two entries of a rising list: the upper one, at least 1, and the share of the way to it.
std::pair<std::size_t, double> place_in(const std::vector<double>& x, double at) {
  const auto above = static_cast<std::size_t>(std::upper_bound(x.begin(), x.end(), at) - x.begin());
  const std::size_t i = std::clamp<std::size_t>(above, 1, x.size() - 1);
  return {i, (at - x[i - 1]) / (x[i] - x[i - 1])};
}

// Of the row that begins at `from`.
double read_off(const std::vector<double>& x, const std::vector<double>& y, double at, std::size_t from = 0) {
  const auto [i, share] = place_in(x, at);
  return y[from + i - 1] + (y[from + i] - y[from + i - 1]) * share;
}

// Where a rising list of chances first reaches `level`, by straight lines; negative if it never does.
double reaches(const std::vector<double>& speed, const std::vector<double>& chance, double level) {
  for (std::size_t i = 0; i < speed.size(); ++i) {
    if (chance[i] < level) continue;
    if (i == 0) return speed[0];
    return speed[i - 1] + (level - chance[i - 1]) / (chance[i] - chance[i - 1]) * (speed[i] - speed[i - 1]);
  }
  return -1.0;
}

}  // namespace

Observable::Observable(const geometry::Case& content, const study::ConditionResult& nominal,
                       const Measurement& measurement)
    : measurement_(measurement) {
  geometry::Place& place = measurement_.probe.place;
  if (place.kind == PlaceKind::fins && measurement.input < 0) {
    // Number of the stack among the parts that have a temperature, after all parts; -1: it has none.
    const std::string& name = content.device.fin_stacks[place.index].name;
    const int metal =
        geometry::find_index(nominal.parts, [&](const auto& part) { return part.name == name; });
    if (metal < 0) reason_ = "the case gives the fins no temperature of their own";
    place = {PlaceKind::part, metal};
  }
  if (!possible()) return;
  if (measurement.input >= 0) {
    error_ = uncertainty::GaussianError{measurement.error, 0.0};
    return;
  }
  if (!nominal.report.converged) {
    reason_ = "the condition has no solution: " + nominal.report.reason;
    return;
  }
  tabulate(content, nominal);
  if (measurement.error > 0.0 && possible() && std::holds_alternative<uncertainty::GaussianError>(error_))
    error_ = uncertainty::GaussianError{measurement.error, 0.0};
}

void Observable::tabulate(const geometry::Case& content, const study::ConditionResult& nominal) {
  const Probe& probe = measurement_.probe;
  const ReadingModel model(content, measurement_.condition, probe);
  std::vector<double> sigma, outward, inward;
  x_ = asked_at(probe);
  t_ = {0.0};  // nothing depends on it
  if (looks_at_air(probe)) t_.assign(std::begin(kTemperatures), std::end(kTemperatures));
  for (const double t : t_) {
    for (const double x : x_) {
      study::ConditionResult asked = with_quantity(content, nominal, probe, x);
      if (looks_at_air(probe)) asked.vents[probe.vent].temperature_out = t;
      const auto reading = model.expect(content, asked);
      if (!reading.possible) {
        reason_ = reading.reason;
        return;
      }
      y_.push_back(reading.leans ? reading.signal : reading.value);
      sigma.push_back(reading.sigma);
      outward.push_back(reading.out);
      inward.push_back(reading.in);
    }
  }
  if (probe.instrument == Instrument::tell_tale)
    fit_lean(outward, inward);
  else
    fit_number(sigma);
}

// A threshold and a width in the speed it answers to, the mean of both ways where it answers to both.
void Observable::fit_lean(const std::vector<double>& outward, const std::vector<double>& inward) {
  double threshold = 0.0, width = 0.0;
  int ways = 0;
  const auto add = [&](double sign, const std::vector<double>& chances) {
    std::vector<std::pair<double, double>> pairs;
    for (std::size_t i = 0; i < y_.size(); ++i)
      if (sign * x_[i] >= 0.0) pairs.push_back({sign * y_[i], chances[i]});
    std::sort(pairs.begin(), pairs.end());
    std::vector<double> speed, chance;
    double most = 0.0;
    for (const auto& [s, c] : pairs) {
      most = std::max(most, c);
      speed.push_back(s);
      chance.push_back(most);
    }
    const double half = reaches(speed, chance, kHalf), low = reaches(speed, chance, kBelowHalf);
    if (half <= 0.0) return;
    threshold += half;
    width += std::max(half - low, 0.05 * half);
    ++ways;
  };
  add(1.0, outward);
  add(-1.0, inward);
  if (ways == 0) {
    reason_ = "it would lean at no speed that a vent reaches";
    return;
  }
  error_ = uncertainty::LeanError{threshold / ways, width / ways, kWrongNotes};
}

// Standard deviation sqrt(absolute^2 + (relative y)^2) through the smallest and the largest reading.
void Observable::fit_number(const std::vector<double>& sigma) {
  const auto at = [&](std::size_t i) { return std::abs(y_[i]); };
  std::size_t least = 0, most = 0;
  for (std::size_t i = 0; i < y_.size(); ++i) {
    if (at(i) < at(least)) least = i;
    if (at(i) > at(most)) most = i;
  }
  const double between = at(most) * at(most) - at(least) * at(least);
  const double rise = sigma[most] * sigma[most] - sigma[least] * sigma[least];
  const double relative = between > 0.0 && rise > 0.0 ? std::sqrt(rise / between) : 0.0;
  const double rest = sigma[least] * sigma[least] - relative * relative * at(least) * at(least);
  error_ =
      uncertainty::GaussianError{std::sqrt(std::max(rest, 1e-6 * sigma[least] * sigma[least])), relative};
}

double Observable::quantity(const study::StateSummary& view) const {
  const Probe& probe = measurement_.probe;
  if (looks_at_vent(probe)) {
    const study::VentSummary& vent = view.vents[probe.vent];
    return net_speed(vent.inflow, vent.outflow, vent.face_velocity);
  }
  if (probe.instrument == Instrument::fan_speed) return view.fan_speed[probe.place.index];
  if (probe.place.kind == PlaceKind::source) return view.source_temperature[probe.place.index];
  if (probe.place.kind == PlaceKind::part) return view.part_temperature[probe.place.index];
  return view.skin_temperature[probe.place.index];
}

double Observable::shown_by(const study::StateSummary& view) const {
  const double x = quantity(view);
  if (t_.size() == 1) return read_off(x_, y_, x);
  const auto [row, share] = place_in(t_, view.vents[measurement_.probe.vent].temperature_out);
  const double below = read_off(x_, y_, x, (row - 1) * x_.size());
  return below + (read_off(x_, y_, x, row * x_.size()) - below) * share;
}

std::vector<double> Observable::shown(const Questions& questions,
                                      const std::vector<std::vector<study::StateSummary>>& views,
                                      const uncertainty::SampleMatrix& values) const {
  std::vector<double> out(views.size(), 0.0);
  const int place = place_of(questions, measurement_.condition);
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (measurement_.input >= 0) {
      out[i] = values(static_cast<Eigen::Index>(i), measurement_.input);
      continue;
    }
    const study::StateSummary& view = views[i][place];
    if (view.solved) out[i] = shown_by(view);
  }
  return out;
}

}  // namespace tuft::experiment
