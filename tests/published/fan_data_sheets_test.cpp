// Axial fans as their makers' data sheets state them: frame, speed, free delivery, largest static pressure.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/fan.hpp"

using namespace tuft::physics;

namespace {

struct Sheet {
  double frame, rpm, cubic_metres_per_hour, pascals;
};

// Numbers read in the data sheets (confirmed): ASFN37; ASFN47; CFM-4010V twice; CFM-4020V twice; AD0412HB;
// 9GA0412P7G; AFB0405LA; ASFN63; ASFN83; 109P0812 at three speeds; 9GA0912P1H.
constexpr Sheet kSheets[] = {{.030, 10500, 6.6, 54},   {.040, 6500, 10.2, 46},   {.040, 5800, 11.9, 30},
                             {.040, 8500, 16.8, 62},   {.040, 5000, 10.7, 27},   {.040, 8000, 18.3, 72},
                             {.040, 7800, 15.0, 69.7}, {.040, 13100, 21.6, 192}, {.040, 4000, 7.5, 17},
                             {.060, 4050, 36.6, 41.7}, {.080, 2950, 65.4, 36.6}, {.080, 3700, 64.2, 46},
                             {.080, 2900, 50.4, 29.4}, {.080, 2300, 40.2, 18.6}, {.092, 9700, 240, 500}};

FanCurve typical(const Sheet& sheet) {
  return FanCurve::typical(FanKind::axial, sheet.frame, 0.01, sheet.rpm / 60.0);
}

}  // namespace

// The spread that a fan without a curve has by default: 35 % of the flow, 30 % of the pressure.
TEST_CASE(
    "axial fans of 30 to 92 mm: every data sheet lies within the spread of our typical fan (confirmed)",
    "[echo:30]") {
  for (const Sheet& sheet : kSheets) {
    INFO(1e3 * sheet.frame << " mm at " << sheet.rpm << " rpm");
    const FanCurve fan = typical(sheet);
    CHECK(sheet.cubic_metres_per_hour / 3600.0 / fan.free_delivery() == Approx(1.0).epsilon(0.37));
    CHECK(sheet.pascals / fan.shut_off_pressure() == Approx(1.0).epsilon(0.16));
  }
}

TEST_CASE("axial fans: ours is the middle of the data sheets (confirmed)",
          "[echo:2]") {
  double flow = 0.0, pressure = 0.0;
  int count = 0;
  for (const Sheet& sheet : kSheets) {
    flow += std::log(sheet.cubic_metres_per_hour / 3600.0 / typical(sheet).free_delivery());
    pressure += std::log(sheet.pascals / typical(sheet).shut_off_pressure());
    ++count;
  }
  CHECK(std::exp(flow / count) == Approx(1.0).epsilon(0.01));
  CHECK(std::exp(pressure / count) == Approx(1.0).epsilon(0.01));
}
