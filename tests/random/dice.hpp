// Random numbers that are the same with every standard library.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>

namespace tuft::test {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed * 0x9E3779B97F4A7C15u + 1u) {}

  /// From `low` to below `high`.
  double real(double low, double high) {
    return low + (high - low) * std::ldexp(static_cast<double>(engine_() >> 11), -53);
  }
  /// Equally likely on a logarithmic scale, to three digits.
  double scale(double low, double high) {
    const double value = std::exp(real(std::log(low), std::log(high)));
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 2.0);
    return std::round(value / unit) * unit;
  }
  /// From `low` to `high`, both possible.
  int whole(int low, int high) {
    return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }
  bool chance(double share) { return real(0.0, 1.0) < share; }
  /// To a hundredth: a length in mm that stays what it is when it is taken from another.
  double hundredths(double low, double high) { return std::round(real(low, high) * 100.0) / 100.0; }

 private:
  std::mt19937_64 engine_;
};

}  // namespace tuft::test
