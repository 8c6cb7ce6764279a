// What cases/measured states as derived, derived again from the published data in tests/measured/data: the
// flows of doorways from their profiles, helium as an equivalent heat and temperature.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>

#include "geometry/casefile/case_file.hpp"
#include "solver/physics/air.hpp"
#include "tools/measured/values.hpp"

using namespace tuft;

namespace {

const std::string kSource = TUFT_SOURCE_DIR;

/// Rows of numbers of a file; the first cell as text before them where it is none.
std::vector<std::pair<std::string, std::vector<double>>> rows_of(const std::string& name, bool named) {
  std::ifstream in(kSource + "/tests/measured/data/" + name);
  REQUIRE(in);
  std::vector<std::pair<std::string, std::vector<double>>> rows;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    std::string cell;
    rows.emplace_back();
    if (named) std::getline(cells, rows.back().first, ',');
    while (std::getline(cells, cell, ',')) rows.back().second.push_back(std::stod(cell));
  }
  return rows;
}

double row_value(const std::string& file, const std::string& condition, const std::string& quantity) {
  for (const auto& value : measured::read_values(kSource + "/cases/measured/values.csv"))
    if (value.file == file && value.condition == condition && value.quantity == quantity)
      return value.measured;
  FAIL("no value " << file << " " << condition << " " << quantity);
  return 0.0;
}

struct Doorway {
  double out = 0.0, in = 0.0;                  ///< [kg/s]
  double out_celsius = 0.0, in_celsius = 0.0;  ///< means over the flow
  double neutral = 0.0;  ///< height where the mean velocity turns, over the doorway's [-]
};

/// Velocity times density over bands that reach half way to the next row; 1.83 m high.
Doorway doorway(const std::string& name, double width) {
  const auto rows = rows_of(name, false);
  const std::size_t places = (rows.front().second.size() - 1) / 2;
  Doorway sum;
  double last_height = 0.0, last_mean = 0.0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& row = rows[i].second;
    const double top = i == 0 ? 1.83 : 0.5 * (row[0] + rows[i - 1].second[0]);
    const double bottom = i + 1 == rows.size() ? 0.0 : 0.5 * (row[0] + rows[i + 1].second[0]);
    double mean = 0.0;
    for (std::size_t j = 0; j < places; ++j) {
      const double celsius = row[1 + j], velocity = row[1 + places + j];
      const double flow = physics::density({101325.0, 0.0}, celsius + 273.15) * velocity * (top - bottom) *
                          width / static_cast<double>(places);
      (flow > 0.0 ? sum.out : sum.in) += std::fabs(flow);
      (flow > 0.0 ? sum.out_celsius : sum.in_celsius) += std::fabs(flow) * celsius;
      mean += velocity / static_cast<double>(places);
    }
    if (i > 0 && last_mean > 0.0 && mean <= 0.0)
      sum.neutral = (row[0] + (last_height - row[0]) * -mean / (last_mean - mean)) / 1.83;
    last_height = row[0], last_mean = mean;
  }
  sum.out_celsius /= sum.out;
  sum.in_celsius /= sum.in;
  return sum;
}

constexpr double kMissing = 1.0 - 4.0026 / 28.964;  ///< of the density, where all is helium; molar masses
constexpr double kRoom = 294.15;                    ///< [K]
constexpr double kVolume = 1.5 * 1.5 * 0.75;        ///< [m3]

double equivalent_rise(double percent) { return kRoom / (1.0 - kMissing * percent / 100.0) - kRoom; }

/// Heat that stands for a flow of helium [m3/s].
double heat(double helium) { return kMissing * helium * 101325.0 / physics::gas_constant * 1006.0; }

struct Profile {
  double time = 0.0;
  std::vector<double> percent;

  double mean() const {
    const double z[] = {.093, .185, .276, .372, .466, .559, .650};
    double sum = 0.0;
    for (int i = 0; i < 7; ++i) {
      const double bottom = i == 0 ? 0.0 : 0.5 * (z[i - 1] + z[i]);
      const double top = i == 6 ? 0.75 : 0.5 * (z[i] + z[i + 1]);
      sum += (top - bottom) / 0.75 * percent[i];
    }
    return sum;
  }
};

Profile profile(const std::string& series, double time) {
  for (const auto& [name, numbers] : rows_of("helium.csv", true))
    if (name == series && numbers[0] == time) return {time, {numbers.begin() + 1, numbers.end()}};
  FAIL("no profile " << series << " at " << time);
  return {};
}

/// Flow out of a box through its vents, but for a constant, at a density r inside over that outside: while it
/// empties itself (as much volume in as out), and where heat keeps it warm (as much mass).
double emptying(bool one_vent, double r) {
  return std::sqrt(1.0 - r) *
         (one_vent ? std::pow(1.0 + std::cbrt(1.0 / r), -1.5) / std::sqrt(r) : 1.0 / std::sqrt(1.0 + r));
}
double heated(bool one_vent, double r) {
  return std::sqrt(1.0 - r) *
         (one_vent ? std::pow(1.0 + std::cbrt(r), -1.5) / std::sqrt(r) : 1.0 / std::sqrt(r + r * r));
}

/// What happened between two profiles, and what heat would do through the same vents with the same loss of
/// buoyancy.
struct Loss {
  double helium = 0.0;     ///< [m3/s]
  double rise = 0.0;       ///< of the mean, heated [K]
  double mass_flow = 0.0;  ///< out, heated [g/s]
};

Loss loss(const std::string& series, double from, double to, int sensor) {
  const Profile a = profile(series, from), b = profile(series, to);
  const bool one_vent = sensor == 3;
  Loss loss;
  loss.helium = kVolume * (a.mean() - b.mean()) / 100.0 / (to - from);
  const double leaving = 0.5 * (a.percent[sensor] + b.percent[sensor]);
  const double missing = kMissing * leaving / 100.0;
  double low = 1e-6, high = 0.9;  // density that is missing where heat passes as much buoyancy
  while (high - low > 1e-12) {
    const double middle = 0.5 * (low + high);
    const bool more = middle * heated(one_vent, 1.0 - middle) > missing * emptying(one_vent, 1.0 - missing);
    (more ? high : low) = middle;
  }
  const double volume_flow = loss.helium / (leaving / 100.0) * missing / low;
  loss.mass_flow = 1e3 * volume_flow * physics::density({101325.0, 0.0}, kRoom) * (1.0 - low);
  loss.rise = equivalent_rise(0.5 * (a.mean() + b.mean()) * low / missing);
  return loss;
}

double power(const std::string& file, const std::string& load) {
  const auto read = casefile::read_case(kSource + "/cases/measured/" + file + ".yaml");
  REQUIRE(read.errors.empty());
  for (const auto& each : read.file.content.loads)
    if (each.name == load) return each.powers.front().power.nominal;
  FAIL("no load " << load);
  return 0.0;
}

}  // namespace

TEST_CASE("Steckler test 16: printed flows are 12 to 15 % below what its profile integrates to (derived)") {
  const Doorway test = doorway("doorway-16.csv", 0.86);
  CHECK(test.out / 0.637 == Approx(1.15).margin(0.01));
  CHECK(test.in / 0.594 == Approx(1.125).margin(0.01));
  CHECK(test.neutral == Approx(0.573).margin(0.003));  // printed
  CHECK(test.out_celsius - 26.0 ==
        Approx(row_value("room-and-doorway", "burning", "temperature-out")).margin(0.3));
  CHECK(0.616 * 1006.0 * (test.out_celsius - test.in_celsius) / 32.0 ==
        Approx(power("room-and-doorway", "burning")).epsilon(0.005));
}

TEST_CASE("Steckler tests 10, 19, 21: flows, neutral level and heat of the cases (derived)") {
  struct Row {
    const char *data, *file, *condition, *load;
    double width, flow;  // [m], [kg/s] that the case states
  };
  const Row rows[] = {{"doorway-10.csv", "room-and-narrow-doorway", "burning", "burning", 0.24, 0.325},
                      {"doorway-19.csv", "room-at-two-powers", "low", "low", 0.74, 0.467},
                      {"doorway-21.csv", "room-at-two-powers", "high", "high", 0.74, 0.73}};
  for (const Row& row : rows) {
    INFO(row.data);
    const Doorway test = doorway(row.data, row.width);
    CHECK(100.0 * test.neutral == Approx(row_value(row.file, row.condition, "neutral-level")).margin(0.15));
    CHECK(row.flow * 1006.0 * (test.out_celsius - test.in_celsius) / 32.0 ==
          Approx(power(row.file, row.load)).epsilon(0.006));
    // The stated flow lies between the integral, and the integral less what test 16 is over its printed
    // flows.
    const double integral = 0.5 * (test.out + test.in);
    CHECK(row.flow < integral);
    CHECK(row.flow > integral / 1.15);
  }
}

TEST_CASE("helium: 1 L/min stands for 5.10 W, and shares stand for temperatures (derived)") {
  CHECK(heat(1e-3 / 60.0) == Approx(5.10).margin(0.005));
  CHECK(heat(3.54e-3 / 60.0) == Approx(power("helium-two-vents", "steady")).epsilon(0.002));
  const Profile steady = profile("two-vents", 14400.0);
  CHECK(equivalent_rise(steady.mean()) ==
        Approx(row_value("helium-two-vents", "steady", "air")).margin(0.15));
  CHECK(equivalent_rise(17.1) ==
        Approx(row_value("helium-two-vents", "steady", "temperature-out")).margin(0.15));
  CHECK(heat(3.54e-3 / 60.0) == Approx(power("helium-from-above", "steady")).epsilon(0.002));
  CHECK(equivalent_rise(profile("from-above", 14400.0).mean()) ==
        Approx(row_value("helium-from-above", "steady", "air")).margin(0.15));
  CHECK(equivalent_rise(18.5) ==
        Approx(row_value("helium-from-above", "steady", "temperature-out")).margin(0.15));
  for (const double time : {601.0, 1801.0, 3601.0, 7200.0})
    CHECK(equivalent_rise(profile("two-vents", time).mean()) ==
          Approx(row_value("helium-filling", "filling", "air-at-" + std::to_string(int(time)) + "s"))
              .margin(0.15));
}

TEST_CASE("helium leaving the box: powers, flows and rises of the cases (derived)") {
  struct Row {
    const char *series, *file, *load;
    double from, to;
    int sensor;
  };
  const Row rows[] = {{"two-vents", "helium-two-vents", "emptying-1", 15000, 16200, 6},
                      {"two-vents", "helium-two-vents", "emptying-2", 16200, 18000, 6},
                      {"two-vents", "helium-two-vents", "emptying-3", 18000, 21000, 6},
                      {"two-vents", "helium-two-vents", "emptying-4", 21000, 25200, 6},
                      {"one-vent", "helium-one-vent", "early", 7200, 9000, 3},
                      {"one-vent", "helium-one-vent", "late", 9000, 12600, 3},
                      {"small-vent", "helium-small-vent", "early", 10800, 18001, 3},
                      {"small-vent", "helium-small-vent", "late", 18001, 22800, 3}};
  for (const Row& row : rows) {
    INFO(row.file << " " << row.load);
    const Loss left = loss(row.series, row.from, row.to, row.sensor);
    CHECK(heat(left.helium) == Approx(power(row.file, row.load)).epsilon(0.01));
    CHECK(left.mass_flow == Approx(row_value(row.file, row.load, "flow-out")).epsilon(0.01));
    if (row.sensor == 3) CHECK(left.rise == Approx(row_value(row.file, row.load, "air")).margin(0.3));
  }
}
