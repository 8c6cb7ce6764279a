#include "solver/flow2d/layer_heat_store.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

namespace tuft::plan {

HeatStores::HeatStores(const std::vector<HeatStore>& stores, const Given& given, Model* model)
    : model_(model), room_(model->layers.front().problem.fluid.temperature) {
  const int n_zones = static_cast<int>(model->raster.zone_storey.size());
  for (const HeatStore& store : stores) {
    if (!(store.capacity > 0.0) || !(store.conductance > 0.0) || !std::isfinite(store.start) ||
        !std::isfinite(store.at_once))
      throw std::invalid_argument("a heat store of part " + std::to_string(store.part) +
                                  " needs a capacity and a conductance above 0 and a temperature");
    Lump lump;
    lump.store = store;
    lump.now = lump.before = lump.next = store.start;
    for (std::size_t l = 0; l < model->layers.size(); ++l) {
      const Layer& layer = model->layers[l];
      if (layer.kind != LayerKind::inside) continue;
      for (std::size_t k = 0; k < layer.part.size(); ++k)
        if (layer.part[k] == store.part) {
          lump.layer = l;
          lump.cells.push_back(k);
        }
    }
    if (store.part < 0 || lump.cells.empty())
      throw std::invalid_argument("there is no part " + std::to_string(store.part) + " to store heat in");
    lump.area = static_cast<double>(lump.cells.size()) * model->raster.dx * model->raster.dy;
    const std::vector<double>& list = store.part < n_zones ? given.zones : given.fin_stacks;
    const int index = store.part < n_zones ? store.part : store.part - n_zones;
    lump.power = (list.empty() ? 0.0 : list[static_cast<std::size_t>(index)]) - store.at_once;
    lump.heat = lump.power;  // what the model's layers are given so far
    lumps_.push_back(std::move(lump));
  }
}

void HeatStores::give(Lump* lump, double heat) {
  field::Problem& p = model_->layers[lump->layer].problem;
  for (const std::size_t k : lump->cells) p.heat_source[k] += (heat - lump->heat) / (lump->area * p.depth[k]);
  lump->heat = heat;
}

void HeatStores::advance(const TimeWeights& w, const std::vector<double>& air) {
  for (std::size_t n = 0; n < lumps_.size(); ++n) {
    Lump& lump = lumps_[n];
    const double rate = lump.store.capacity / w.step, g = lump.store.conductance;
    lump.next = (lump.power + g * air[n] - rate * (w.c1 * lump.now + w.c2 * lump.before)) / (rate * w.c0 + g);
    give(&lump, g * (lump.next - air[n]));
  }
}

std::vector<double> HeatStores::air_of(const Fields& fields) const {
  std::vector<double> out;
  for (const Lump& lump : lumps_) {
    double sum = 0.0;
    for (const std::size_t k : lump.cells) sum += fields.layers[lump.layer].temperature[k];
    out.push_back(sum / static_cast<double>(lump.cells.size()));
  }
  return out;
}

double HeatStores::fault(const std::vector<double>& air, const std::vector<double>& true_air) const {
  double worst = 0.0;
  for (std::size_t n = 0; n < lumps_.size(); ++n)
    worst = std::max(worst, lumps_[n].store.conductance * std::abs(air[n] - true_air[n]));
  return worst;
}

void HeatStores::accept() {
  for (Lump& lump : lumps_) {
    lump.before = lump.now;
    lump.now = lump.next;
  }
}

void HeatStores::go_back() {
  for (Lump& lump : lumps_) lump.next = lump.now = lump.before;
}

double HeatStores::power() const {
  double sum = 0.0;
  for (const Lump& lump : lumps_) sum += lump.power;
  return sum;
}

double HeatStores::swing() const {
  double sum = 0.0;
  for (const Lump& lump : lumps_) sum += lump.store.conductance * std::abs(lump.store.start - room_);
  return sum;
}

double HeatStores::passing() const {
  double sum = 0.0;
  for (const Lump& lump : lumps_) sum += lump.heat;
  return sum;
}

std::vector<double> HeatStores::temperatures() const {
  std::vector<double> out;
  for (const Lump& lump : lumps_) out.push_back(lump.now);
  return out;
}

}  // namespace tuft::plan
