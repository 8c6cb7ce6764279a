// Heat transfer in rectangular channels against a computation of the temperature field, and its derivatives.
#include "solver/physics/fin_heat.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/physics/openings.hpp"
#include "tests/physics/difference.hpp"

using namespace tuft::physics;
using tuft::test::central_difference;

namespace {

/// Air of a fully developed profile in a duct of sides `aspect` and 1 whose walls change from 0 to 1: a
/// quarter of the cross-section in n x n cells, marched implicitly along the duct with growing steps.
/// Independent of the law under test.
class Graetz {
 public:
  explicit Graetz(double aspect)
      : hy_(0.5 * aspect / n), hz_(0.5 / n), velocity_(n * n, 0.0), warmth_(n * n, 1.0) {
    diameter_ = hydraulic_diameter(aspect, 1.0);
    relax(velocity_, std::vector<double>(n * n, 0.0), 1.0, std::vector<double>(n * n, 1.0), 4000);
    double mean = 0.0;
    for (const double u : velocity_) mean += u / (n * n);
    friction_ = diameter_ * diameter_ / (2.0 * mean);
    for (double& u : velocity_) u /= mean;
  }

  /// f Re of the computed profile.
  double friction() const { return friction_; }

  /// Mean Nusselt number from the entry to the reduced length, which must grow from call to call.
  double mean_nusselt(double reduced_length) {
    while (here_ < reduced_length) {
      const double step = std::min({std::max(0.02 * here_, 1e-6), 5e-4, reduced_length - here_});
      std::vector<double> storage(n * n), source(n * n);
      for (int i = 0; i < n * n; ++i) {
        storage[i] = velocity_[i] / step;
        source[i] = storage[i] * warmth_[i];
      }
      relax(warmth_, storage, diameter_ * diameter_, source, 400);
      here_ += step;
    }
    double bulk = 0.0;
    for (int i = 0; i < n * n; ++i) bulk += velocity_[i] * warmth_[i] / (n * n);
    return -std::log(bulk) / (4.0 * here_);
  }

 private:
  static constexpr int n = 24;

  /// Solves storage x - diffusion laplace(x) = source with x = 0 at the walls, by successive over-relaxation.
  void relax(std::vector<double>& x, const std::vector<double>& storage, double diffusion,
             const std::vector<double>& source, int sweeps) const {
    const double ay = diffusion / (hy_ * hy_), az = diffusion / (hz_ * hz_);
    for (int sweep = 0; sweep < sweeps; ++sweep) {
      double change = 0.0;
      for (int j = 0; j < n; ++j) {
        for (int i = 0; i < n; ++i) {
          const int at = j * n + i;
          double diagonal = storage[at], sum = source[at];
          const auto side = [&](bool inside, bool wall, int other, double a) {
            diagonal += inside ? a : wall ? 2.0 * a : 0.0;
            if (inside) sum += a * x[other];
          };
          side(i > 0, false, at - 1, ay);
          side(i < n - 1, true, at + 1, ay);
          side(j > 0, false, at - n, az);
          side(j < n - 1, true, at + n, az);
          const double delta = 1.6 * (sum / diagonal - x[at]);
          x[at] += delta;
          change = std::max(change, std::abs(delta) / (1e-12 + std::abs(x[at])));
        }
      }
      if (change < 1e-9) return;
    }
  }

  double hy_, hz_, diameter_ = 0.0, friction_ = 0.0, here_ = 0.0;
  std::vector<double> velocity_, warmth_;
};

}  // namespace

TEST_CASE("channel Nusselt number: within 3.5 % of the computed temperature field, for all aspects") {
  for (const double aspect : {1.0, 0.5, 0.25, 0.125}) {
    Graetz field(aspect);
    CHECK(field.friction() == Approx(friction_constant(aspect)).epsilon(5e-3));
    for (const double length : {0.005, 0.01, 0.02, 0.05, 0.1}) {
      INFO("aspect " << aspect << ", x* " << length);
      CHECK(channel_nusselt(aspect, 1.0 / length, 0.7, Entry::developed).value ==
            Approx(field.mean_nusselt(length)).epsilon(0.035));
    }
  }
}

TEST_CASE("channel Nusselt number: derivative by the inverse length") {
  for (const double aspect : {0.0, 0.15, 1.0}) {
    for (const double z : {0.1, 10.0, 300.0}) {
      for (const Entry entry : {Entry::developed, Entry::flat}) {
        const auto value = [&](double x) { return channel_nusselt(aspect, x, 0.7, entry).value; };
        CHECK(channel_nusselt(aspect, {z, 1.0, 0.0}, 0.7, entry).slope[0] ==
              Approx(central_difference(value, z, 1e-4 * z)).epsilon(1e-6));
      }
    }
  }
}

TEST_CASE("channel Nusselt number: long channels are developed, a flat entry never transfers less") {
  for (const double aspect : {0.0, 0.3, 1.0}) {
    CHECK(channel_nusselt(aspect, 0.0, 0.7, Entry::flat).value == Approx(developed_nusselt(aspect)));
    CHECK(std::isfinite(channel_nusselt(aspect, {0.0, 1.0, 0.0}, 0.7, Entry::flat).slope[0]));
    double last = 0.0;
    for (double z = 0.01; z < 1e4; z *= 1.5) {
      const double flat = channel_nusselt(aspect, z, 0.7, Entry::flat).value;
      CHECK(flat > last);
      CHECK(flat >= channel_nusselt(aspect, z, 0.7, Entry::developed).value);
      last = flat;
    }
  }
}

TEST_CASE("channel Nusselt number: a very short channel is a plate in a stream (0.664 law)") {
  const double z = 1e7, prandtl = 0.7;
  const double plate = 0.664 * std::pow(prandtl, -1.0 / 6.0) * std::sqrt(z);
  CHECK(channel_nusselt(0.0, z, prandtl, Entry::flat).value == Approx(plate).epsilon(0.02));
}
