#include "solver/flow2d/march.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tuft::flow2d {

ThermalMasses::ThermalMasses(std::vector<HeatLump> lumps, double given) {
  double swing = 0.0;
  for (HeatLump& lump : lumps) {
    swing += lump.conductance * std::abs(lump.start - lump.problem->fluid.temperature);
    Lump stored{std::move(lump), 0.0, 0.0, 0.0, 0.0};
    stored.next = stored.now = stored.before = stored.start;
    stored.heat = stored.power;
    lumps_.push_back(std::move(stored));
  }
  given_ = std::max({given, swing, 1e-3});
}

void ThermalMasses::advance(const TimeWeights& w, const std::vector<double>& air) {
  for (std::size_t n = 0; n < lumps_.size(); ++n) {
    Lump& lump = lumps_[n];
    const double rate = lump.capacity / w.step, g = lump.conductance;
    lump.next = (lump.power + g * air[n] - rate * (w.c1 * lump.now + w.c2 * lump.before)) / (rate * w.c0 + g);
    const double heat = g * (lump.next - air[n]);
    for (const std::size_t k : lump.cells)
      lump.problem->heat_source[k] += (heat - lump.heat) / (lump.area * lump.problem->depth[k]);
    lump.heat = heat;
  }
}

std::vector<double> ThermalMasses::air_of(const Fields& fields) const {
  std::vector<double> out;
  for (const Lump& lump : lumps_) {
    double sum = 0.0;
    for (const std::size_t k : lump.cells) sum += fields.layers[lump.layer].temperature[k];
    out.push_back(sum / static_cast<double>(lump.cells.size()));
  }
  return out;
}

double ThermalMasses::fault(const std::vector<double>& air, const std::vector<double>& true_air) const {
  double worst = 0.0;
  for (std::size_t n = 0; n < lumps_.size(); ++n)
    worst = std::max(worst, lumps_[n].conductance * std::abs(air[n] - true_air[n]));
  return worst;
}

void ThermalMasses::accept() {
  for (Lump& lump : lumps_) {
    lump.before = lump.now;
    lump.now = lump.next;
  }
}

void ThermalMasses::go_back() {
  for (Lump& lump : lumps_) lump.next = lump.now = lump.before;
}

double ThermalMasses::power() const {
  double sum = 0.0;
  for (const Lump& lump : lumps_) sum += lump.power;
  return sum;
}

double ThermalMasses::passing() const {
  double sum = 0.0;
  for (const Lump& lump : lumps_) sum += lump.heat;
  return sum;
}

std::vector<double> ThermalMasses::temperatures() const {
  std::vector<double> out;
  for (const Lump& lump : lumps_) out.push_back(lump.now);
  return out;
}

}  // namespace tuft::flow2d
