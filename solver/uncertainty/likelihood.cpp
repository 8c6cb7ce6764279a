#include "solver/uncertainty/likelihood.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <sstream>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {
namespace {

constexpr double kLogRootTwoPi = 0.91893853320467274178;

double deviation(const GaussianError& e, double shown) { return std::hypot(e.absolute, e.relative * shown); }

void check_lapse(double lapse) {
  if (lapse >= 0.0 && lapse < 1.0) return;
  refuse("lapse rate = ", lapse, ": must be >= 0 and < 1");
}

/// Probability of each outcome, in the order of outcomes().
std::array<double, 3> chances(const LeanError& e, double shown) {
  const double up = normal_cumulative((shown - e.threshold) / e.width);
  const double down = normal_cumulative((-shown - e.threshold) / e.width);
  // On the side the signal points away from, both terms are small and exact.
  const double still = shown > 0.0 ? normal_cumulative((e.threshold - shown) / e.width) - down
                                   : normal_cumulative((e.threshold + shown) / e.width) - up;
  const double keep = 1.0 - e.lapse;
  const double toss = e.lapse / 3.0;
  return {keep * down + toss, keep * std::max(still, 0.0) + toss, keep * up + toss};
}

// Number of an outcome among outcomes(), and back.
std::size_t slot(double reading) { return reading > 0.5 ? 2 : reading < -0.5 ? 0 : 1; }
double reading_of(std::size_t slot) { return static_cast<double>(slot) - 1.0; }

struct Check {
  void operator()(const GaussianError& e) const {
    numerics::require_positive(e.absolute, "absolute error");
    numerics::require_not_negative(e.relative, "relative error");
  }
  void operator()(const LeanError& e) const {
    numerics::require_positive(e.threshold, "threshold");
    numerics::require_positive(e.width, "width of the threshold");
    check_lapse(e.lapse);
  }
};

struct LogLikelihood {
  double reading;
  double shown;

  double operator()(const GaussianError& e) const {
    const double sd = deviation(e, shown);
    const double z = (reading - shown) / sd;
    return -0.5 * z * z - std::log(sd) - kLogRootTwoPi;
  }
  double operator()(const LeanError& e) const {
    const std::size_t s = slot(reading);
    if (e.lapse > 0.0 || s == 1) return std::log(chances(e, shown)[s]);
    return log_normal_cumulative(((s == 2 ? shown : -shown) - e.threshold) / e.width);
  }
};

struct Simulate {
  double shown;
  double u;

  double operator()(const GaussianError& e) const { return shown + deviation(e, shown) * normal_quantile(u); }
  double operator()(const LeanError& e) const {
    const auto chance = chances(e, shown);
    double sum = 0.0;
    for (std::size_t s = 0; s + 1 < chance.size(); ++s) {
      sum += chance[s];
      if (u < sum) return reading_of(s);
    }
    return reading_of(chance.size() - 1);
  }
};

struct Place {
  double reading;
  double shown;

  ReadingPlace operator()(const GaussianError& e) const {
    return {normal_cumulative((reading - shown) / deviation(e, shown)), 0.0};
  }
  ReadingPlace operator()(const LeanError& e) const {
    const auto chance = chances(e, shown);
    ReadingPlace place;
    for (std::size_t s = 0; s < slot(reading); ++s) place.below += chance[s];
    place.equal = chance[slot(reading)];
    return place;
  }
};

}  // namespace

void require_valid(const ErrorModel& model) { std::visit(Check{}, model); }

std::vector<double> outcomes(const ErrorModel& model) {
  if (std::holds_alternative<LeanError>(model)) return {-1.0, 0.0, 1.0};
  return {};
}

double lapse_of(const ErrorModel& model) {
  if (const auto* lean = std::get_if<LeanError>(&model)) return lean->lapse;
  return 0.0;
}

ErrorModel without_lapse(ErrorModel model) {
  if (auto* lean = std::get_if<LeanError>(&model)) lean->lapse = 0.0;
  return model;
}

void require_possible(const ErrorModel& model, double reading) {
  numerics::require_finite(reading, "reading");
  const std::vector<double> known = outcomes(model);
  if (known.empty() || std::find(known.begin(), known.end(), reading) != known.end()) return;
  std::ostringstream text;
  text << "reading = " << reading << ": must be one of";
  for (const double each : known) text << ' ' << each;
  refuse(text.str());
}

std::vector<double> log_likelihood(const ErrorModel& model, double reading,
                                   const std::vector<double>& shown) {
  require_valid(model);
  require_possible(model, reading);
  if (!numerics::all_finite(shown.data(), shown.size()))
    refuse("values shown to an instrument: every one must be finite");
  std::vector<double> out(shown.size());
  // The kind of instrument is asked for once, not for every value.
  std::visit(
      [&](const auto& error) {
        for (std::size_t i = 0; i < shown.size(); ++i) out[i] = LogLikelihood{reading, shown[i]}(error);
      },
      model);
  return out;
}

double simulated_reading(const ErrorModel& model, double shown, double u) {
  constexpr double kMost = std::numeric_limits<double>::max();
  return std::clamp(std::visit(Simulate{shown, u}, model), -kMost, kMost);
}

ReadingPlace place_of_reading(const ErrorModel& model, double reading, double shown) {
  return std::visit(Place{reading, shown}, model);
}

}  // namespace tuft::uncertainty
