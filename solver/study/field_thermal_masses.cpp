#include <algorithm>
#include <cmath>

#include "solver/study/field_boundary_data.hpp"

namespace tuft::study {
namespace {

using geometry::Device;
using geometry::Place;
using geometry::PlaceKind;
using study::ConditionResult;

constexpr double kWarmer = 0.05;          // [K]; a lump no warmer than its air has no conductance to state
constexpr double kLeastFlow = 1e-9;       // [kg/s]
constexpr double kSpecificHeat = 1006.0;  // of air, as the layers have it [J/(kg K)]
constexpr int kDeepest = 16;              // parts one behind the other

/// Where each body's heat goes, in one solved network.
class Ways {
 public:
  Ways(const Device& device, const ConditionResult& network) : device_(device), network_(network) {}

  int n_places() const { return static_cast<int>(device_.zones.size() + device_.fin_stacks.size()); }
  int place_of_fins(int f) const { return static_cast<int>(device_.zones.size()) + f; }

  /// Mean temperature of the air of a place [K]. Within fins that is not the air that leaves: evenly heated
  /// air is halfway there.
  double air(int place) const {
    const int zones = static_cast<int>(device_.zones.size());
    if (place < zones) return network_.zones[place].temperature;
    const auto f = static_cast<std::size_t>(place - zones);
    const study::FinResult& fins = network_.fins[f];
    if (device_.fin_stacks[f].exit_zone >= 0) return fins.temperature;  // mixed with a space's air
    const double room = network_.ambient_temperature;
    const double mass = std::abs(fins.volume_flow) * network_.ambient_density * room / fins.temperature;
    const double gain = network_.air_heat.fins[f] / (std::max(mass, kLeastFlow) * kSpecificHeat);
    return std::max(fins.temperature - 0.5 * gain, std::min(room, fins.temperature));
  }

  /// Temperature of the metal of a fin stack, the room's where it has none of its own.
  double metal(int f, bool* known) const {
    const std::string& name = device_.fin_stacks[f].name;
    for (std::size_t p = device_.parts.size(); p < network_.parts.size(); ++p)
      if (network_.parts[p].name == name) {
        *known = true;
        return network_.parts[p].temperature;
      }
    *known = false;
    return network_.ambient_temperature;
  }

  double part(int p) const { return network_.parts[p].temperature; }

  /// Adds to `shares` what of a body's heat reaches each place, the body being as warm as `temperature`.
  void follow(const std::vector<geometry::Joint>& joints, double temperature, double weight, int depth,
              std::vector<double>* shares) const {
    if (depth > kDeepest) return;
    double whole = 0.0;
    for (const geometry::Joint& joint : joints) whole += passes(joint, temperature);
    if (!(whole > 0.0)) return;
    for (const geometry::Joint& joint : joints) {
      const double share = weight * passes(joint, temperature) / whole;
      if (!(share > 0.0)) continue;
      if (joint.to.kind == PlaceKind::zone) (*shares)[joint.to.index] += share;
      if (joint.to.kind == PlaceKind::fins) (*shares)[place_of_fins(joint.to.index)] += share;
      if (joint.to.kind == PlaceKind::part)
        follow(device_.parts[joint.to.index].joints, part(joint.to.index), share, depth + 1, shares);
    }
  }

 private:
  /// Heat through a joint away from the body, 0 where it comes in [W].
  double passes(const geometry::Joint& joint, double temperature) const {
    double beyond = temperature;
    bool known = true;
    if (joint.to.kind == PlaceKind::zone) beyond = air(joint.to.index);
    if (joint.to.kind == PlaceKind::part) beyond = part(joint.to.index);
    if (joint.to.kind == PlaceKind::fins) beyond = metal(joint.to.index, &known);
    if (joint.to.kind == PlaceKind::skin) beyond = network_.skins[joint.to.index].temperature;
    return std::max(temperature - beyond, 0.0) / *joint.resistance;
  }

  const Device& device_;
  const ConditionResult& network_;
};

struct Lumps {
  std::vector<double> capacity;  ///< [J/K]
  std::vector<double> heat;      ///< held over the room's temperature [J]
};

/// `shares`: of each body, sources then parts then fins, over the places.
Lumps lumps_of(const Device& device, const ConditionResult& network,
               const std::vector<std::vector<double>>& shares, int n_places) {
  Lumps out{std::vector<double>(static_cast<std::size_t>(n_places), 0.0),
            std::vector<double>(static_cast<std::size_t>(n_places), 0.0)};
  const Ways ways(device, network);
  std::size_t body = 0;
  const auto add = [&](double capacity, double temperature) {
    const std::vector<double>& share = shares[body++];
    for (std::size_t k = 0; k < share.size(); ++k) {
      out.capacity[k] += share[k] * capacity;
      out.heat[k] += share[k] * capacity * (temperature - network.ambient_temperature);
    }
  };
  for (std::size_t s = 0; s < device.sources.size(); ++s)
    add(*device.sources[s].capacity,
        network.sources[s].has_temperature ? network.sources[s].temperature : network.ambient_temperature);
  for (std::size_t p = 0; p < device.parts.size(); ++p)
    add(*device.parts[p].capacity, network.parts[p].temperature);
  for (std::size_t f = 0; f < device.fin_stacks.size(); ++f) {
    bool known = false;
    const double t = ways.metal(static_cast<int>(f), &known);
    add(*device.fin_stacks[f].capacity, t);
  }
  return out;
}

std::vector<std::vector<double>> shares_of(const Device& device, const ConditionResult& network) {
  const Ways ways(device, network);
  const auto none = std::vector<double>(static_cast<std::size_t>(ways.n_places()), 0.0);
  std::vector<std::vector<double>> out;
  for (std::size_t s = 0; s < device.sources.size(); ++s) {
    out.push_back(none);
    if (network.sources[s].has_temperature)
      ways.follow(device.sources[s].joints, network.sources[s].temperature, 1.0, 0, &out.back());
  }
  for (std::size_t p = 0; p < device.parts.size(); ++p) {
    out.push_back(none);
    ways.follow(device.parts[p].joints, network.parts[p].temperature, 1.0, 0, &out.back());
  }
  for (std::size_t f = 0; f < device.fin_stacks.size(); ++f) {
    out.push_back(none);
    bool known = false;
    ways.metal(static_cast<int>(f), &known);
    if (known) out.back()[ways.place_of_fins(static_cast<int>(f))] = 1.0;
  }
  return out;
}

/// Heat that sources without temperatures put into the air of each place in fixed shares [W].
std::vector<double> at_once(const Device& device, const ConditionResult& network) {
  const Ways ways(device, network);
  std::vector<double> out(static_cast<std::size_t>(ways.n_places()), 0.0);
  for (std::size_t s = 0; s < device.sources.size(); ++s)
    for (const geometry::HeatShare& share : device.sources[s].shares) {
      int place = share.into.index;
      if (share.into.kind == PlaceKind::fins) {
        // Air that leaves the fins into a space is that space's.
        const int beyond = device.fin_stacks[share.into.index].exit_zone;
        place = beyond < 0 ? ways.place_of_fins(share.into.index) : beyond;
      }
      out[place] += network.sources[s].power * *share.share;
    }
  return out;
}

/// Of that, what has a place in a zone: the layers are given it there.
double placed_in(const ConditionResult& network, std::size_t place) {
  double sum = 0.0;
  for (const network::PlacedHeat& heat : network.air_heat.placed)
    if (static_cast<std::size_t>(heat.zone) == place) sum += heat.power;
  return sum;
}

/// What the lumps hold and pass on in one steady state.
struct Steady {
  std::vector<double> capacity;     ///< [J/K]
  std::vector<double> temperature;  ///< [K]
  std::vector<double> fixed;        ///< of the air's heat, what passes no lump [W]
  std::vector<double> conductance;  ///< to the air [W/K]; 0 where it is undecided
};

Steady steady_of(const Device& device, const ConditionResult& network,
                 const std::vector<std::vector<double>>& shares) {
  const Ways ways(device, network);
  const Lumps lumps = lumps_of(device, network, shares, ways.n_places());
  Steady out{lumps.capacity, {}, at_once(device, network), {}};
  const std::size_t zones = device.zones.size();
  for (std::size_t k = 0; k < lumps.capacity.size(); ++k) {
    const double given = k < zones ? network.air_heat.zones[k] : network.air_heat.fins[k - zones];
    const double held = lumps.capacity[k] > 0.0 ? lumps.heat[k] / lumps.capacity[k] : 0.0;
    out.temperature.push_back(network.ambient_temperature + held);
    const double warmer = out.temperature.back() - ways.air(static_cast<int>(k));
    const double passes = given - out.fixed[k];
    out.conductance.push_back(warmer >= kWarmer && passes > 0.0 ? passes / warmer : 0.0);
  }
  return out;
}

/// Bodies that are not warm at the end, and so show no way for heat, are shared out as at the start.
std::vector<std::vector<double>> shares_of(const Device& device, const ConditionResult& network,
                                           const ConditionResult* start) {
  std::vector<std::vector<double>> out = shares_of(device, network);
  if (start == nullptr) return out;
  const std::vector<std::vector<double>> before = shares_of(device, *start);
  for (std::size_t body = 0; body < out.size(); ++body)
    if (std::all_of(out[body].begin(), out[body].end(), [](double share) { return share == 0.0; }))
      out[body] = before[body];
  return out;
}

}  // namespace

std::vector<flow2d::ThermalMass> thermal_masses_of(const geometry::Case& content,
                                                   const ConditionResult& network,
                                                   const ConditionResult* start) {
  require_solved(network);
  if (start != nullptr) require_solved(*start);
  const Device& device = content.device;
  const std::vector<std::vector<double>> shares = shares_of(device, network, start);
  const Steady end = steady_of(device, network, shares);
  const Steady begin = start != nullptr ? steady_of(device, *start, shares) : end;
  std::vector<flow2d::ThermalMass> out;
  for (std::size_t k = 0; k < end.capacity.size(); ++k) {
    // What is switched off shows no conductance; then it is what it was while it was warm.
    const double conductance = end.conductance[k] > 0.0 ? end.conductance[k] : begin.conductance[k];
    if (!(end.capacity[k] > 0.0) || !(conductance > 0.0)) continue;
    flow2d::ThermalMass store;
    store.part = static_cast<int>(k);
    store.capacity = end.capacity[k];
    store.conductance = conductance;
    store.start = start != nullptr ? begin.temperature[k] : network.ambient_temperature;
    store.at_once = end.fixed[k] - placed_in(network, k);
    out.push_back(store);
  }
  return out;
}

}  // namespace tuft::study
