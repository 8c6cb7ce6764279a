// Blevins R.D., "Applied Fluid Dynamics Handbook", Van Nostrand Reinhold 1984: losses of perforated plates,
// grilles and screens. Confirmed in the tables and worked examples of python3-fluids 1.0.22, which
// transcribes it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/cover.hpp"

using namespace tuft::physics;

TEST_CASE("Blevins: thin perforated plate, every entry of the table (confirmed)", "[echo:17]") {
  const double table[][2] = {{0.10, 250}, {0.15, 85},  {0.20, 52},  {0.25, 30},  {0.30, 17},  {0.35, 11},
                             {0.40, 7.7}, {0.45, 5.5}, {0.50, 3.8}, {0.55, 2.8}, {0.60, 2.0}, {0.65, 1.5},
                             {0.70, 1.1}, {0.75, .78}, {0.80, .53}, {0.85, .35}, {0.90, .08}};
  for (const auto& row : table) {
    INFO("open ratio " << row[0]);
    CHECK(thin_plate_loss(row[0]) == Approx(row[1]).epsilon(1e-12));
    CHECK(2.0 * perforated_sheet(row[0], 1e-3, 0.0).inertial == Approx(row[1]).epsilon(1e-12));
  }
}

TEST_CASE("Blevins: between entries the curve keeps to the two neighbours (confirmed entries)",
          "[derived:17]") {
  for (double f = 0.1; f < 0.895; f += 0.05) {
    const double middle = thin_plate_loss(f + 0.025);
    CHECK(middle < thin_plate_loss(f));
    CHECK(middle > thin_plate_loss(f + 0.05));
  }
}

TEST_CASE("Blevins: thick grille, open ratio 0.45: 5.296 (confirmed)", "[outside:1]") {
  CHECK(thick_plate_loss(0.45) == Approx(5.296296296).epsilon(1e-9));
  // Through the whole law: a sheet five holes thick.
  CHECK(2.0 * perforated_sheet(0.45, 1e-3, 5e-3).inertial == Approx(5.296).epsilon(1e-3));
}

TEST_CASE("Blevins: thick grille at 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8 (confirmed)", "[echo:7]") {
  const double table[][2] = {{0.2, 34.0},  {0.3, 14.0},  {0.4, 7.125}, {0.5, 4.0},
                             {0.6, 2.333}, {0.7, 1.347}, {0.8, 0.719}};
  for (const auto& row : table) CHECK(thick_plate_loss(row[0]) == Approx(row[1]).margin(5e-4));
}

namespace {

/// Loss coefficient of our mesh law at a Reynolds number on approach velocity and gap.
double mesh_loss(double open_ratio, double reynolds) {
  const double gap = 1.3e-3;
  const FaceLaw law = mesh_screen(open_ratio, gap);
  return 2.0 * (law.inertial + law.viscous * gap / reynolds);
}

}  // namespace

TEST_CASE("Blevins: round-wire screen, K = beta(Re) (1 - f^2)/f^2, every entry within 5 % (confirmed)",
          "[echo:24]") {
  const double table[][2] = {{20, 1.3}, {30, 1.1},  {40, .95},  {60, .83},
                             {80, .75}, {100, .70}, {200, .60}, {400, .52}};
  double worst = 0.0;
  for (const auto& row : table) {
    for (const double f : {0.2, 0.5, 0.8}) {
      const double k = row[1] * (1.0 - f * f) / (f * f);
      INFO("Re " << row[0] << " open ratio " << f);
      CHECK(mesh_loss(f, row[0]) == Approx(k).epsilon(0.05));
      worst = std::max(worst, std::fabs(mesh_loss(f, row[0]) / k - 1.0));
    }
  }
  CHECK(worst > 0.045);  // the header states 5 %: it is not less
}
